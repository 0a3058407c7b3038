#pragma once

#include <string>
#include <vector>

#include "tierproof/sums/cited.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// How long records are kept after a cake was handed over or its date passed.
struct RetentionTerm {
  Cited cited;
  std::string counts_from;  ///< `use by`, `best before`, `hand over`
  int months = 0;           ///< or `days`: one of the two is 0
  int days = 0;
  std::string what = "record";  ///< `record`: of the food; `personal data`: of the customer, who must be reachable that long
};

struct RetentionTerms {
  std::string jurisdiction;
  Date on{};
  std::vector<RetentionTerm> rows;
};

}  // namespace tierproof
