#include "tierproof/kitchen/regular.h"

#include <fmt/format.h>

#include "members.h"

namespace tierproof {

const std::vector<std::string>& regular_field_types() {
  static const std::vector<std::string> types{"text", "number", "yes or no", "one of", "date", "person", "kit", "supplier"};
  return types;
}
const std::vector<std::string>& regular_due_words() {
  static const std::vector<std::string> words{"working day", "working days", "week", "month", "months", "years", "when it happens"};
  return words;
}
const std::vector<std::string>& weekday_words() {
  static const std::vector<std::string> words{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"};
  return words;
}
const std::vector<std::string>& parts_of_day() {
  static const std::vector<std::string> parts{"start of work", "end of work"};
  return parts;
}

// clang-format off
template <class V, Describes<RegularField> T> void describe_members(V& v, T& f) {
  v.needed("id", f.id); v.needed("words", f.words); v.one_of("type", f.type, regular_field_types()); v.text("unit", f.unit);
  v.texts("choices", f.choices); v.flag("needed", f.needed); v.flag("sealed", f.sealed); v.text("fine", f.fine);
}
template <class V, Describes<RegularDue> T> void describe_members(V& v, T& d) {
  v.one_of("every", d.every, regular_due_words()); v.integer("count", d.count, 1, 1000); v.maybe_one_of("on", d.on, weekday_words());
  v.integer("day", d.day, 1, 31); v.date("counted_from", d.counted_from);
  v.maybe_one_of("closed", d.closed, {"next working day", "working day before", "falls away"}); v.integer("early_days", d.early_days, 0, 366);
}
template <class V, Describes<RegularSort> T> void describe_members(V& v, T& s) {
  v.needed("name", s.name); v.text("what", s.what); v.each("fields", s.fields); v.one("due", s.due); v.text("who", s.who); v.text("plan", s.plan);
  v.texts("counts", s.counts); v.maybe_one_of("each", s.each, {"thermometer"}); v.text("source", s.source); v.date("from", s.from); v.date("until", s.until);
  v.maybe_one_of("part_of_day", s.part_of_day, parts_of_day());
}
template <class V, Describes<RegularValue> T> void describe_members(V& v, T& r) {
  v.needed("field", r.field); v.text("value", r.value); v.words("words", r.words);
}
template <class V, Describes<RegularDone> T> void describe_members(V& v, T& d) {
  v.id("sort", d.sort); v.date("due", d.due); v.each("values", d.values); v.words("note", d.note);
}
template <class V, Describes<DayOff> T> void describe_members(V& v, T& d) {
  v.date("from", d.from); v.date("until", d.until); v.flag("weekly", d.weekly); v.texts("weekdays", d.weekdays);
}
// clang-format on

TIERPROOF_BODY(RegularSort);
TIERPROOF_BODY(RegularDone);
TIERPROOF_BODY(DayOff);

}  // namespace tierproof
