// Regular records that are not as they should be, and what answers for them.
#include <fmt/format.h>

#include <algorithm>

#include "regular_rules.h"
#include "tierproof/app/regular.h"

namespace tierproof {
namespace {

const RegularValue* value_of(const RegularDone& record, const std::string& field) {
  const auto found = std::find_if(record.values.begin(), record.values.end(), [&](const auto& one) { return one.field == field; });
  return found == record.values.end() ? nullptr : &*found;
}

const RegularField* field_of(const RegularSort& sort, const std::string& id) {
  const auto found = std::find_if(sort.fields.begin(), sort.fields.end(), [&](const auto& one) { return one.id == id; });
  return found == sort.fields.end() ? nullptr : &*found;
}

/// Whether both tell of the same kit, supplier and person, in all that `sort` asks about these. What was erased is the same as nothing.
bool of_the_same_thing(const RegularSort& sort, const RegularDone& one, const RegularDone& other) {
  return std::all_of(sort.fields.begin(), sort.fields.end(), [&](const RegularField& field) {
    if (field.type != "kit" && field.type != "supplier" && field.type != "person") return true;
    const auto *a = value_of(one, field.id), *b = value_of(other, field.id);
    if (a == nullptr || b == nullptr) return a == b;
    if (a->words.given() || b->words.given()) return a->words.text.has_value() && a->words.text == b->words.text;
    return a->value == b->value;
  });
}

/// Whether `later`, by its sort, says of all that `record` found wanting by its own that it is as it should be.
bool says_fine_again(const RegularSort& sort, const RegularDone& record, const RegularSort& later_sort, const RegularDone& later) {
  if (!wanting_of(later_sort, later).empty()) return false;
  for (const auto& value : record.values) {
    const auto* field = field_of(sort, value.field);
    if (field == nullptr || !not_fine(*field, value)) continue;
    const auto* asked = field_of(later_sort, value.field);
    if (asked == nullptr || asked->fine.empty() || value_of(later, value.field) == nullptr) return false;
  }
  return of_the_same_thing(sort, record, later);
}

std::string answered_by(const State& state, const RegularSort& sort, const Recorded<RegularDone>& record) {
  const std::string& name = record.value.sort.text();
  for (const auto& later : state.regular_done) {
    const bool after = later.happened > record.happened || (later.happened == record.happened && later.sequence > record.sequence);
    if (!after || later.value.sort != record.value.sort) continue;
    const auto* then = version_on(state, name, day_of(later));
    if (then != nullptr && says_fine_again(sort, record.value, then->value, later.value))
      return fmt::format("note {} of {}", later.sequence, format_date_long(day_of(later)));
  }
  if (names_a_thing(state, name)) return "";  // a trouble about that thing says nothing of this
  for (const auto& [id, trouble] : state.deviations) {
    if (std::find(trouble.value.about.begin(), trouble.value.about.end(), name) == trouble.value.about.end()) continue;
    const auto* closed = state.closed(id);
    if (closed == nullptr || (closed->happened >= record.happened && closed->sequence > record.sequence)) return id.text();
  }
  return "";
}

/// Whether an answer that can still be read is not the fine one.
bool says_not_fine(const RegularSort& sort, const RegularDone& record) {
  return std::any_of(record.values.begin(), record.values.end(), [&](const RegularValue& value) {
    const auto* field = field_of(sort, value.field);
    return field != nullptr && not_fine(*field, value) && !(value.words.given() && !value.words.text);
  });
}

/// Whether what a record kept apart was erased, all of it. Only what was answered for is: see `erase_old_words`.
bool words_erased(const RegularDone& record) {
  const auto gone = [](const Words& words) { return words.given() && !words.text; };
  bool some = gone(record.note);
  for (const auto& value : record.values) {
    if (value.words.given() && value.words.text) return false;
    some = some || gone(value.words);
  }
  return some && (!record.note.given() || gone(record.note));
}

std::string erased_by(const State& state, const Recorded<RegularDone>& record) {
  for (const auto& erasure : state.erasures) {
    if (erasure.value.what == "regular records" && erasure.subject == record.value.sort.text() && erasure.sequence > record.sequence)
      return fmt::format("nothing more, since its words were erased on {}, note {}",
                         format_date_long(day_of(erasure.happened, erasure.offset)), erasure.sequence);
  }
  return "";
}

}  // namespace

std::vector<NotFine> records_not_fine(const Session& session) {
  const State& state = session.state();
  std::vector<NotFine> all;
  for (const auto& record : state.regular_done) {
    const auto* sort = version_on(state, record.value.sort.text(), day_of(record));
    if (sort == nullptr) continue;
    auto wanting = wanting_of(sort->value, record.value);
    if (wanting.empty()) continue;
    std::string answered = answered_by(state, sort->value, record);
    if (answered.empty() && words_erased(record.value)) answered = erased_by(state, record);
    all.push_back({record.value.sort.text(), sort->value.name, record.sequence, day_of(record), std::move(wanting), std::move(answered),
                   !says_not_fine(sort->value, record.value)});
  }
  return all;
}

}  // namespace tierproof
