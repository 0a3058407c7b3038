#pragma once

#include <atomic>
#include <condition_variable>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "message.h"
#include "tierproof/app/access.h"
#include "tierproof/app/session.h"

namespace tierproof::web {

struct SiteSettings {
  std::string kitchen_file;
  DataRoot data;
  std::shared_ptr<const RulePacks> packs;
  bool tls = false;
  bool plain_network = false;         ///< off loopback without TLS: every page says so
  std::vector<std::string> origins;   ///< hosts that a form may have been shown by
  std::optional<Instant> clock_from;  ///< of a demo: its clock goes on from here
};

/// What every page shows of now, made anew whenever a note comes in and at least twice a minute.
struct News {
  std::string head;  ///< `41:5dc9da79…`, of which it was made
  Instant made{};
  std::vector<std::string> troubles;  ///< a place above its limit, a fridge with food in it that nobody reads: a sentence each
};

/// The kitchen's pages without a socket: a request comes in, an answer goes out. Several threads ask at once.
class Site {
 public:
  /// @throws Fault 66, 73, 74, 78
  explicit Site(SiteSettings settings);
  ~Site();
  Site(const Site&) = delete;
  Site& operator=(const Site&) = delete;

  /// Never throws: a failure of the machine is a page that says so and tells a stranger nothing.
  WebAnswer answer(WebRequest request);

  /// Why the body of a form with a file is not read, by its head alone; nothing where somebody sends it who may record. Never throws.
  std::optional<WebAnswer> refuse_to_read(const WebRequest& head);

  /// The code for the first device; nothing where one was let in already.
  std::optional<std::string> code_for_first_device();

  Instant now() const;
  const SiteSettings& settings() const { return settings_; }
  Access& access() { return *access_; }
  bool kitchen_begun() const;
  bool of_a_demo();  ///< false too where no kitchen was begun yet
  std::shared_ptr<const News> news() const;
  /// Wakes what makes the news, after something was booked here.
  void something_booked();
  /// The text of a file under `reports/pages`, read when the site was opened, with the digest that its address carries.
  struct Look {
    std::string type;
    std::string bytes;
    std::string digest;
  };
  const Look* look(const std::string& name) const;

  /// A session that reads the records as they are now. Only its holder uses it until it is given back.
  std::unique_ptr<Session> borrow();
  void give_back(std::unique_ptr<Session> session);
  /// What stands in an entry about who wrote it here.
  Entrance entrance(const std::string& person, const std::string& device) const;

 private:
  void keep_news();
  News make_news(Session& session) const;

  SiteSettings settings_;
  std::unique_ptr<Access> access_;
  Instant opened_{};
  std::map<std::string, Look> looks_;
  std::mutex idle_mutex_;
  std::vector<std::unique_ptr<Session>> idle_;
  mutable std::mutex news_mutex_;
  std::shared_ptr<const News> news_;
  std::condition_variable news_wanted_;
  bool ending_ = false;
  bool wanted_ = false;
  std::thread news_maker_;
};

/// The headers of every answer: what a browser may load and show of us, and that nothing is kept where others could look at it.
std::vector<std::pair<std::string, std::string>> guarded(const WebAnswer& answer, bool tls);

}  // namespace tierproof::web
