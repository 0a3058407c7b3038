#include "tierproof/kitchen/tubs.h"

#include <algorithm>

namespace tierproof {

Tubs::Tubs(const State& state) {
  for (const auto& top_up : state.top_ups) pourings_.push_back({top_up.value.tub, top_up.value.lot, {top_up.happened, top_up.place}});
  for (const auto& emptied : state.emptied) emptyings_.push_back({emptied.value.tub, {emptied.happened, emptied.place}});
}

Tubs::Tubs(std::span<const Note> in_force) {
  for (const Note& note : in_force) {
    if (note.body.is_null()) continue;
    const NoteMoment when{note.happened, note.place};
    if (note.kind == KindOf<TopUp>::kind) {
      if (const auto top_up = read_body<TopUp>(note.body, note.kind)) pourings_.push_back({top_up->tub, top_up->lot, when});
    } else if (note.kind == KindOf<Emptied>::kind) {
      if (const auto emptied = read_body<Emptied>(note.body, note.kind)) emptyings_.push_back({emptied->tub, when});
    }
  }
}

Tubs::NoteMoment Tubs::last_emptied(const TubId& tub, Instant at) const {
  NoteMoment last{Instant::min(), 0};
  for (const auto& emptying : emptyings_) {
    if (emptying.tub == tub && emptying.when.first <= at) last = std::max(last, emptying.when);
  }
  return last;
}

std::vector<LotId> Tubs::packs_in(const TubId& tub, Instant at) const {
  const NoteMoment since = last_emptied(tub, at);
  std::vector<const Pouring*> in_it;
  for (const auto& pouring : pourings_) {
    if (pouring.tub == tub && pouring.when > since && pouring.when.first <= at) in_it.push_back(&pouring);
  }
  std::stable_sort(in_it.begin(), in_it.end(), [](const auto* a, const auto* b) { return a->when.first < b->when.first; });
  std::vector<LotId> lots;
  for (const auto* pouring : in_it) lots.push_back(pouring->lot);
  return lots;
}

std::optional<Poured> Tubs::poured(const LotId& lot, Instant at) const {
  const Pouring* last = nullptr;
  bool gone = true;
  for (const auto& pouring : pourings_) {
    if (pouring.lot != lot || pouring.when.first > at) continue;
    const bool its_gone = last_emptied(pouring.tub, at) > pouring.when;
    if (last != nullptr && std::pair{!its_gone, pouring.when} < std::pair{!gone, last->when}) continue;
    last = &pouring;
    gone = its_gone;
  }
  return last == nullptr ? std::nullopt : std::optional{Poured{last->tub, last->when.first, gone}};
}

std::vector<TubId> Tubs::tubs_with(const LotId& lot, Instant at) const {
  std::vector<TubId> tubs;
  for (const auto& pouring : pourings_) {
    if (pouring.lot != lot || pouring.when.first > at || last_emptied(pouring.tub, at) > pouring.when) continue;
    if (std::find(tubs.begin(), tubs.end(), pouring.tub) == tubs.end()) tubs.push_back(pouring.tub);
  }
  return tubs;
}

std::vector<PossibleUse> Tubs::possible_in(std::span<const BatchUse> uses, Instant at) const {
  std::vector<PossibleUse> possible;
  const auto add = [&](const TubId& tub) {
    for (const auto& lot : packs_in(tub, at)) {
      const auto used = [&](const BatchUse& use) { return use.of == lot.text(); };
      const auto told = [&](const PossibleUse& other) { return other.lot == lot; };
      if (std::any_of(uses.begin(), uses.end(), used) || std::any_of(possible.begin(), possible.end(), told)) continue;
      possible.push_back({lot, tub});
    }
  };
  for (const auto& use : uses) {
    if (use.batch) continue;
    if (!use.tub.empty()) {
      add(use.tub);
    } else {
      for (const auto& tub : tubs_with(LotId{use.of}, at)) add(tub);
    }
  }
  return possible;
}

}  // namespace tierproof
