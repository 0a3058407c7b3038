#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/session.h"

namespace tierproof {

Result<Booked> open_pack(Session& session, const std::string& lot, const std::string& at);

Result<Booked> add_tub(Session& session, const std::string& id, const Tub& tub);
/// Books that a pack was poured into a tub.
Result<Booked> top_up(Session& session, const std::string& tub, const std::string& lot, const std::string& at);
Result<Booked> empty_tub(Session& session, const std::string& tub, const std::string& at);

/// The packs that may be in `tub` at `at`, first in first: all that were poured in since it was last emptied.
std::vector<LotId> packs_in_tub(const State& state, const TubId& tub, Instant at);
/// That a pack was poured into a tub.
struct Poured {
  TubId tub;
  Instant when{};
  bool gone = false;  ///< the tub was emptied since
};
/// Whether `lot` was poured into a tub by `at`.
std::optional<Poured> poured(const State& state, const LotId& lot, Instant at);

/// A pack that may be in a batch by way of a tub.
struct PossibleUse {
  LotId lot;
  TubId tub;
};
/// Packs that a batch does not name and that may be in it: those that were in the tubs it took from, or that a pack it used had been
/// poured into. Worked out from what the records say by now, whenever it was written down.
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
