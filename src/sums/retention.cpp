#include "tierproof/sums/retention.h"

#include "tierproof/sums/date_mark.h"

namespace tierproof {

const std::vector<std::string>& kinds_kept() {
  static const std::vector<std::string> kinds{"record",          "personal data",     "temperature readings",
                                              "regular records", "supplier evidence", "people who work here"};
  return kinds;
}

const std::vector<std::string>& kept_from(const std::string& what) {
  static const std::vector<std::string> of_a_cake{"use by", "best before", "hand over"}, of_a_note{"recorded"},
      of_a_supplier{"last delivery"}, of_a_person{"left"}, none;
  if (what == "record" || what == "personal data") return of_a_cake;
  if (what == "temperature readings" || what == "regular records") return of_a_note;
  if (what == "supplier evidence") return of_a_supplier;
  return what == "people who work here" ? of_a_person : none;
}

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
