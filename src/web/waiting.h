#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "tierproof/units/time.h"

namespace tierproof::web {

/// Which connections wait with an unfinished request, or none at all, and which of them have to go. A connection holds a thread for as long
/// as it is open, so those that only wait must never take them all: the one that waited longest makes room, first of the same address, then
/// of all. A request that was read to its end is working and is not counted; neither is one of which a file is read, of which there are
/// few, from people who signed in. Pure: it says who has to go, the server closes them.
class WaitingRoom {
 public:
  struct Limits {
    std::size_t of_one_address = 24;
    std::size_t in_all = 40;
    Span longest_wait = std::chrono::seconds{6};   ///< from a connection's beginning, or its last answer, to a request that was read whole
    Span longest_work = std::chrono::seconds{90};  ///< from there to its answer's last byte
    std::int64_t slowest_file = 100'000;           ///< bytes a second: a file that comes slower is over
    std::size_t files_at_once = 3;                 ///< that are held while they are read and booked
  };
  explicit WaitingRoom(Limits limits) : limits_{limits} {}

  /// A connection came in. @return those that have to go
  std::vector<std::uint64_t> comes(std::uint64_t connection, std::string address, Instant now);
  /// A request with a file, of so many bytes, is read from now on. Refused where as many are held already as may be.
  bool reads_file(std::uint64_t connection, std::size_t bytes, Instant now);
  void works(std::uint64_t connection, Instant now);
  /// Its answer is out, and it may ask again.
  void waits(std::uint64_t connection, Instant now);
  void goes(std::uint64_t connection) { here_.erase(connection); }
  /// Those that were too slow, each told once.
  std::vector<std::uint64_t> overdue(Instant now);

 private:
  struct Here {
    std::string address;
    bool working = false;
    Instant since{};
    bool told_to_go = false;
    bool holds_file = false;
    Span longest{};  ///< from `since` on
  };
  Limits limits_;
  std::map<std::uint64_t, Here> here_;
};

}  // namespace tierproof::web
