#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "tierproof/kitchen/state.h"
#include "tierproof/sums/freezing.h"

namespace tierproof {

/// The freezings of every batch in `thing` (a batch, itself included, or a cake), one entry for each way that it went in: first by
/// itself, then within what it went into, up to `until`. What is taken to be used is taken out: it counts as thawed then.
/// A batch that was never in a freezer has one entry, which is empty.
std::map<BatchId, std::set<std::vector<FrozenTime>>> freezings_of(const State& state, const std::string& thing, Instant until);

/// The same in words, for the sum: the ways with something frozen.
std::vector<FrozenWay> frozen_ways(const State& state, const std::string& thing, Instant until);

/// The moment up to which a cake is followed: `at`, or when it was handed over.
Instant followed_until(const State& state, const CakeId& cake, Instant at);

}  // namespace tierproof
