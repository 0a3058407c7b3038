#pragma once

#include <string>

namespace tierproof {

/// Where a term comes from: the row of the rule pack, the source and clause, and whether the law was read or remembered.
struct Cited {
  std::string row;     ///< id of the row
  std::string clause;  ///< `assimilated Reg (EU) 1169/2011 art. 21(1)`
  bool from_memory = false;
  std::string confirmed{};  ///< of a row from memory: who of the kitchen confirmed it, when, and who told them; empty: nobody
  /// Whether it may be said as law. A row from memory that nobody confirmed is a caution.
  bool firm() const { return !from_memory || !confirmed.empty(); }
  friend bool operator==(const Cited&, const Cited&) = default;
};
/// `[row: clause]`, `[row: clause (from memory)]` or `[row: clause (from memory, confirmed: ...)]`: what a finding prints as its source.
std::string cite(const Cited& cited);

}  // namespace tierproof
