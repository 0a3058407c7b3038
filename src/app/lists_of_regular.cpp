#include "list_rows.h"
#include "regular_rules.h"

namespace tierproof {
namespace {

std::string answers_of(const RegularDone& done) {
  std::string all;
  for (const auto& value : done.values)
    all += fmt::format("{}{} = {}", all.empty() ? "" : "; ", value.field,
                       value.words.given() ? value.words.text.value_or("(erased)") : value.value);
  return all;
}

std::string fields_of(const RegularSort& sort) {
  std::string all;
  for (const auto& field : sort.fields) all += fmt::format("{}{} ({})", all.empty() ? "" : "; ", field.id, field.words);
  return all;
}

}  // namespace

std::vector<KitchenList> lists_of_regular() {
  return {
      list_of<RegularSort>("regular-sorts", "sorts of regular records: what is looked at, how often, by whom",
                           &State::regular_sort_versions,
                           {"sort", "name", "what", "due", "from", "until", "who", "plan_row", "counts", "fields", "source", "part_of_day"},
                           [](const Session&, const Recorded<RegularSort>& r) {
                             const RegularSort& s = r.value;
                             return cells(r.subject, s.name, s.what, words_of(due_rule_of(s)), s.from, s.until, s.who, s.plan, s.counts,
                                          fields_of(s), s.source, s.part_of_day);
                           }),
      list_of<RegularDone>("regular-records", "regular records that were made", &State::regular_done,
                           {"sort", "for_day", "answers", "remark"},
                           [](const Session&, const Recorded<RegularDone>& r) {
                             return cells(r.value.sort, r.value.due, answers_of(r.value), r.value.note);
                           }),
      list_of<DayOff>(
          "days-off", "days on which nobody works", &State::days_off, {"from", "until", "weekly", "weekdays"},
          [](const Session&, const Recorded<DayOff>& r) { return cells(r.value.from, r.value.until, r.value.weekly, r.value.weekdays); }),
  };
}

}  // namespace tierproof
