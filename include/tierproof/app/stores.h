#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/kitchen/tubs.h"

namespace tierproof {

Result<Booked> open_pack(Session& session, const std::string& lot, const std::string& at);

Result<Booked> add_tub(Session& session, const std::string& id, const Tub& tub);
/// Books that a pack was poured into a tub.
Result<Booked> top_up(Session& session, const std::string& tub, const std::string& lot, const std::string& at);
Result<Booked> empty_tub(Session& session, const std::string& tub, const std::string& at);

/// As `Tubs` tells it of the records so far.
std::vector<LotId> packs_in_tub(const State& state, const TubId& tub, Instant at);
std::optional<Poured> poured(const State& state, const LotId& lot, Instant at);
std::vector<PossibleUse> possible_in(const State& state, const Recorded<Batch>& batch);

struct KeepingLeftOver {
  std::string batch;
  std::optional<Mass> mass;  ///< nothing: all that is left of it, not weighed
  bool off_cuts = false;
  std::vector<std::string> kit;  ///< what it was kept in or worked with; empty: it lay by itself
  std::string at;
};
/// Books what is kept of a batch as a batch of its own, which carries on what the first one met and how old it is.
Result<Booked> keep_left_over(Session& session, const KeepingLeftOver& keeping);

}  // namespace tierproof
