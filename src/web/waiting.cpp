#include "waiting.h"

#include <utility>

namespace tierproof::web {

std::vector<std::uint64_t> WaitingRoom::comes(std::uint64_t connection, std::string address, Instant now) {
  here_[connection] = {std::move(address), false, now, false, false, limits_.longest_wait};
  const std::string& own = here_[connection].address;
  std::vector<std::uint64_t> leaving;
  const auto make_room = [&](std::size_t most, bool same_address) {
    std::size_t waiting = 0;
    std::pair<const std::uint64_t, Here>* oldest = nullptr;
    for (auto& one : here_) {
      if (one.second.working || one.second.told_to_go || (same_address && one.second.address != own)) continue;
      ++waiting;
      if (one.first != connection && (oldest == nullptr || one.second.since < oldest->second.since)) oldest = &one;
    }
    if (waiting <= most || oldest == nullptr) return;
    oldest->second.told_to_go = true;
    leaving.push_back(oldest->first);
  };
  make_room(limits_.of_one_address, true);
  make_room(limits_.in_all, false);
  return leaving;
}

bool WaitingRoom::reads_file(std::uint64_t connection, std::size_t bytes, Instant now) {
  const auto found = here_.find(connection);
  std::size_t held = 0;
  for (const auto& one : here_) held += one.second.holds_file ? 1 : 0;
  if (found == here_.end() || held >= limits_.files_at_once) return false;
  found->second.holds_file = true;
  found->second.working = true;
  found->second.since = now;
  found->second.longest = limits_.longest_wait + std::chrono::milliseconds{static_cast<std::int64_t>(bytes) * 1000 / limits_.slowest_file};
  return true;
}

void WaitingRoom::works(std::uint64_t connection, Instant now) {
  const auto found = here_.find(connection);
  if (found == here_.end()) return;
  found->second.working = true;
  found->second.since = now;
  found->second.longest = limits_.longest_work;
}

void WaitingRoom::waits(std::uint64_t connection, Instant now) {
  const auto found = here_.find(connection);
  if (found == here_.end()) return;
  found->second.working = false;
  found->second.holds_file = false;
  found->second.since = now;
  found->second.longest = limits_.longest_wait;
}

std::vector<std::uint64_t> WaitingRoom::overdue(Instant now) {
  std::vector<std::uint64_t> leaving;
  for (auto& [connection, one] : here_) {
    if (one.told_to_go || now - one.since <= one.longest) continue;
    one.told_to_go = true;
    leaving.push_back(connection);
  }
  return leaving;
}

}  // namespace tierproof::web
