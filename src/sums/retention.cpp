#include "tierproof/sums/retention.h"

#include "tierproof/sums/date_mark.h"

namespace tierproof {

std::optional<KeepUntil> keep_until(std::span<const RetentionTerm> rows, std::string_view what, std::span<const KeptFrom> known) {
  std::optional<KeepUntil> longest;
  for (const auto& row : rows) {
    if (row.what != what) continue;
    for (const auto& from : known) {
      if (from.event != row.counts_from) continue;
      const Date last = add_days(add_months(from.day, row.months), row.days);
      if (!longest || last > longest->last) longest = KeepUntil{last, from, row.cited};
    }
  }
  return longest;
}

}  // namespace tierproof
