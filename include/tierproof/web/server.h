#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/session.h"

namespace tierproof {

/// How the kitchen's pages are opened.
struct Serving {
  std::string kitchen_file;
  std::string address = "127.0.0.1";  ///< of this machine to listen on; other devices reach it only at one that is not loopback
  std::uint16_t port = 8321;          ///< 0: a free one
  std::vector<std::string> names;     ///< by which other devices may call this machine besides `address`, `kitchen.local`
  std::string certificate;            ///< PEM files; both or none
  std::string certificate_key;
  bool plain_network = false;  ///< off loopback without TLS, because somebody said so: every page shows it
  std::optional<Instant> now;  ///< of a demo kitchen: the clock goes on from here
};

/// The pages, while they are open.
class OpenPages {
 public:
  /// Opens the port and answers until it goes out of scope. @throws Fault 64 for an address off loopback without TLS and without
  /// `plain_network`, or half of the TLS files; 66, 78 of the kitchen's data, 78 of a certificate or key that cannot be used; 73 where the port is taken
  OpenPages(const Serving& serving, const DataRoot& data, std::shared_ptr<const RulePacks> packs);
  ~OpenPages();
  OpenPages(const OpenPages&) = delete;
  OpenPages& operator=(const OpenPages&) = delete;

  const std::string& url() const;  ///< `http://127.0.0.1:8321/`
  /// What whoever starts it has to be told: the risk of a plain network, and the code for the first device where none was let in yet.
  const std::vector<std::string>& to_tell() const;
  bool of_a_demo() const;  ///< false too where no kitchen was begun yet

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace tierproof
