#pragma once

#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "tierproof/kitchen/note.h"
#include "tierproof/kitchen/state.h"
#include "tierproof/units/ids.h"

namespace tierproof {

/// That a pack was poured into a tub.
struct Poured {
  TubId tub;
  Instant when{};
  bool gone = false;  ///< the tub was emptied since
};

/// A pack that may be in a batch by way of a tub.
struct PossibleUse {
  LotId lot;
  TubId tub;
};

/// What was poured into the tubs of a kitchen, and when they were emptied, by the notes in force.
class Tubs {
 public:
  Tubs() = default;
  explicit Tubs(const State& state);
  /// By `top-up/1` and `emptied/1` among the notes in force; others, void ones, and ones that cannot be read are passed over.
  explicit Tubs(std::span<const Note> in_force);

  /// The packs that may be in `tub` at `at`, first in first: all that were poured in since it was last emptied.
  std::vector<LotId> packs_in(const TubId& tub, Instant at) const;
  /// The last pouring of `lot` by `at` into a tub that was not emptied since; else the last into one that was.
  std::optional<Poured> poured(const LotId& lot, Instant at) const;
  /// Every tub that `lot` was poured into by `at` and that was not emptied since: what is left of a pack may go into another.
  std::vector<TubId> tubs_with(const LotId& lot, Instant at) const;
  /// Packs that something made at `at` does not name and that may be in it: those that were in the tubs it took from, or that a pack it
  /// used had been poured into. Worked out from what the records say by now, whenever it was written down.
  std::vector<PossibleUse> possible_in(std::span<const BatchUse> uses, Instant at) const;

 private:
  /// When something happened, and which of two notes of one moment came first.
  using NoteMoment = std::pair<Instant, std::uint64_t>;
  struct Pouring {
    TubId tub;
    LotId lot;
    NoteMoment when;
  };
  struct Emptying {
    TubId tub;
    NoteMoment when;
  };
  /// When `tub` was last emptied by `at`, or the earliest moment there is.
  NoteMoment last_emptied(const TubId& tub, Instant at) const;

  std::vector<Pouring> pourings_;
  std::vector<Emptying> emptyings_;
};

}  // namespace tierproof
