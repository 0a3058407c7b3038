#include "waiting.h"

#include <utility>

namespace tierproof::web {

std::vector<std::uint64_t> WaitingRoom::comes(std::uint64_t connection, std::string address, Instant now) {
  here_[connection] = {std::move(address), false, now, false};
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

void WaitingRoom::works(std::uint64_t connection, Instant now) {
  const auto found = here_.find(connection);
  if (found != here_.end()) found->second.working = true, found->second.since = now;
}

void WaitingRoom::waits(std::uint64_t connection, Instant now) {
  const auto found = here_.find(connection);
  if (found != here_.end()) found->second.working = false, found->second.since = now;
}

std::vector<std::uint64_t> WaitingRoom::overdue(Instant now) {
  std::vector<std::uint64_t> leaving;
  for (auto& [connection, one] : here_) {
    if (one.told_to_go || now - one.since <= (one.working ? limits_.longest_work : limits_.longest_wait)) continue;
    one.told_to_go = true;
    leaving.push_back(connection);
  }
  return leaving;
}

}  // namespace tierproof::web
