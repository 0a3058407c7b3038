#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "html.h"
#include "message.h"
#include "site.h"
#include "tierproof/app/permissions.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/retrying.h"

namespace tierproof::web {

/// One request on its way through the pages: who asks, what was typed, and the records as they are.
class Visit {
 public:
  Visit(Site& in, const WebRequest& asked) : site{in}, request{asked}, now{in.now()} {}
  ~Visit();
  Visit(const Visit&) = delete;
  Visit& operator=(const Visit&) = delete;

  Site& site;
  const WebRequest& request;
  Instant now;
  std::optional<Device> device;
  std::optional<SignedIn> who;
  std::string token;        ///< of the sign-in, as the device showed it
  std::string part;         ///< what stood in the place of `*` of the route: `cake-1`
  Refusals wrong;           ///< with a form that was posted and could not be used
  bool wrong_told = false;  ///< the form that it belongs to tells it; else the page does

  /// The records, read once. @throws Fault
  const Session& records();
  ZonedInstant at() { return {now, records().offset_at(now)}; }
  Date today() { return records().today(); }
  bool may_record() const { return who && (who->authority == Authority::owner || who->authority == Authority::helper); }
  bool is_owner() const { return who && who->authority == Authority::owner; }

  const std::string& typed(std::string_view name) const { return request.form[name]; }

  /// Books what `act` does, once for the key that the form carries, again on fresh records where somebody else recorded in between.
  /// What is refused stands in `wrong` afterwards.
  template <class Done>
  std::optional<Done> write(const std::function<Result<Done>(Session&)>& act) {
    return write_as<Done>([&] { return open_for_writing(); }, act);
  }
  /// The same of what books notes; a form that was booked before is told as it was.
  std::optional<Booked> record(const std::function<Result<Booked>(Session&)>& act);
  /// The same of a sensor, which is nobody: under the key that it sent, if any.
  std::optional<Booked> record_of_sensor(const Sensor& sensor, const std::string& key, const std::function<Result<Booked>(Session&)>& act);
  void refuse(std::string field, std::string message, std::string remedy) {
    wrong.push_back({"", 0, std::move(field), std::move(message), std::move(remedy)});
  }

  /// Something that was found out while it was booked, for where to go then.
  void remember(std::string name, std::string value) { remembered_.add(std::move(name), std::move(value)); }
  const std::string& remembered(std::string_view name) const { return remembered_[name]; }

  // What was typed into a field of a form, read; what cannot be read stands in `wrong` afterwards.
  std::optional<Mass> mass(std::string_view name, bool needed);
  std::optional<Date> day(std::string_view name, bool needed);
  /// @param scale  of the thermometer that it was read from
  std::optional<Degrees> degrees(std::string_view name, Scale scale, bool needed);
  std::optional<std::int64_t> count(std::string_view name, std::int64_t least, std::int64_t most, bool needed);

 private:
  template <class Done, class Open>
  std::optional<Done> write_as(const Open& open, const std::function<Result<Done>(Session&)>& act) {
    site.give_back(std::move(records_));
    try {
      const auto found = on_fresh_records(open, act, [](Session&, const Result<Done>& done) { return done; });
      site.something_booked();
      if (found) return *found;
      wrong.insert(wrong.end(), found.error().begin(), found.error().end());
    } catch (const NotPermitted& refused) {
      wrong.push_back(refused.why());
    }
    return std::nullopt;
  }
  Session open_for_writing() const;
  std::unique_ptr<Session> records_;
  Pairs remembered_;
};

/// A page in its frame.
WebAnswer page(Visit& visit, const std::string& title, const char* place, const Html& main);
/// The same for somebody who did not sign in yet: without places.
WebAnswer bare_page(Visit& visit, const std::string& title, const Html& main);
/// After something was booked: back to a page, which says so.
WebAnswer booked_then(const Booked& booked, const std::string& to);
/// A page that was asked for and is not there.
WebAnswer not_there(Visit& visit, const std::string& what);

/// A key for one form, so that it is booked once however often it is sent.
std::string fresh_key();

}  // namespace tierproof::web
