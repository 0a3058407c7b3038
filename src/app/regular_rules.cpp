#include "regular_rules.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {
namespace {

/// The place of a word in a list of words; their number where it is none of them.
std::size_t place_of(const std::vector<std::string>& words, const std::string& word) {
  return static_cast<std::size_t>(std::find(words.begin(), words.end(), word) - words.begin());
}

}  // namespace

DueRule due_rule_of(const RegularSort& sort) {
  constexpr std::array<DueEvery, 7> every{DueEvery::working_day, DueEvery::working_days, DueEvery::week,           DueEvery::month,
                                          DueEvery::months,      DueEvery::years,        DueEvery::when_it_happens};
  DueRule rule;
  rule.every = every.at(place_of(regular_due_words(), sort.due.every));
  rule.count = static_cast<int>(sort.due.count.value_or(1));
  if (!sort.due.on.empty()) rule.on = std::chrono::weekday{static_cast<unsigned>(place_of(weekday_words(), sort.due.on) + 1)};  // 7: Sunday
  rule.on_day = static_cast<int>(sort.due.day.value_or(1));
  rule.counted_from = sort.due.counted_from.value_or(sort.from);
  rule.closed = sort.due.closed == "falls away"           ? OnClosedDay::falls_away
                : sort.due.closed == "working day before" ? OnClosedDay::previous
                                                          : OnClosedDay::next;
  rule.early_days = static_cast<int>(sort.due.early_days.value_or(0));
  return rule;
}

ClosingDays closing_days_of(const State& state) {
  ClosingDays closing;
  for (const auto& off : state.days_off) {
    const Date from = std::max(off.value.from, day_of(off.written, off.offset));
    if (off.value.weekly) {
      std::array<bool, 7> closed{};
      for (const auto& day : off.value.weekdays) {
        const std::size_t place = place_of(weekday_words(), day);
        if (place < closed.size()) closed[(place + 1) % closed.size()] = true;
      }
      closing.each_week(from, closed);
    } else if (const Date until = off.value.until.value_or(off.value.from); from <= until) {
      closing.range(from, until);
    }
  }
  for (const auto& [id, batch] : state.batches) closing.worked(day_of(batch));
  for (const auto& tier : state.tiers) closing.worked(day_of(tier));
  return closing;
}

const Recorded<DayOff>* told_afterwards(const State& state, Date day) {
  const auto found = std::find_if(state.days_off.begin(), state.days_off.end(), [&](const auto& off) {
    return !off.value.weekly && off.value.from <= day && day <= off.value.until.value_or(off.value.from) &&
           day < day_of(off.written, off.offset);
  });
  return found == state.days_off.end() ? nullptr : &*found;
}

const Recorded<RegularSort>* version_on(const State& state, const std::string& sort, Date day) {
  const Recorded<RegularSort>* found = nullptr;
  const Recorded<RegularSort>* newest = nullptr;
  for (const auto& [place, version] : state.regular_sort_versions) {
    if (version.subject != sort) continue;
    newest = &version;
    if (version.value.from <= day) found = &version;
  }
  return found != nullptr ? found : newest;
}

bool names_a_thing(const State& state, const std::string& id) {
  return state.places.contains(PlaceId{id}) || state.probes.contains(ProbeId{id}) || state.batches.contains(BatchId{id}) ||
         state.lots.contains(LotId{id}) || state.cakes.contains(CakeId{id}) || state.equipment.contains(EquipmentId{id}) ||
         state.tubs.contains(TubId{id});
}

std::string answer_words(const RegularField& field, const RegularValue& value) {
  if (value.words.given()) return value.words.text.value_or("(erased)");
  return field.unit.empty() ? value.value : fmt::format("{} {}", value.value, field.unit);
}

bool not_fine(const RegularField& field, const RegularValue& value) {
  if (field.fine.empty()) return false;
  return value.words.given() ? value.words.text != field.fine : value.value != field.fine;
}

std::vector<std::string> wanting_of(const RegularSort& sort, const RegularDone& record) {
  std::vector<std::string> wanting;
  for (const auto& value : record.values) {
    const auto field = std::find_if(sort.fields.begin(), sort.fields.end(), [&](const auto& one) { return one.id == value.field; });
    if (field != sort.fields.end() && not_fine(*field, value))
      wanting.push_back(fmt::format("{}: {}", field->words, answer_words(*field, value)));
  }
  return wanting;
}

}  // namespace tierproof
