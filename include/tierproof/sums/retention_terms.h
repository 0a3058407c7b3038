#pragma once

#include <string>
#include <vector>

#include "tierproof/sums/cited.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// How long something is kept, counted from a day that the records know.
struct RetentionTerm {
  Cited cited;
  std::string counts_from;  ///< of `kept_from(what)`
  int months = 0;           ///< or `days`: one of the two is 0
  int days = 0;
  std::string what = "record";  ///< of `kinds_kept()`
};

/// `record`: of the food, for each cake; `personal data`: of its customer, who must be reachable that long; `temperature readings`;
/// `regular records`; `supplier evidence`: who delivered what, and what their packs say; `people who work here`.
const std::vector<std::string>& kinds_kept();
/// What the time of a kind may be counted from: `use by`, `best before`, `hand over` of a cake; `recorded`; `last delivery`; `left`. Empty
/// for what is no kind.
const std::vector<std::string>& kept_from(const std::string& what);

struct RetentionTerms {
  std::string jurisdiction;
  Date on{};
  std::vector<RetentionTerm> rows;
};

}  // namespace tierproof
