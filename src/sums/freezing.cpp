#include "tierproof/sums/freezing.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {

std::vector<FrozenTime> frozen_times(std::span<const FreezerMove> moves, Instant from, Instant to, bool taken_out) {
  std::vector<FreezerMove> in_order(moves.begin(), moves.end());
  std::erase_if(in_order, [&](const FreezerMove& move) { return move.at >= to; });
  std::stable_sort(in_order.begin(), in_order.end(), [](const FreezerMove& a, const FreezerMove& b) { return a.at < b.at; });
  std::vector<FrozenTime> times;
  bool frozen = false;
  for (std::size_t i = 0; i < in_order.size(); ++i) {
    const Instant begins = std::max(in_order[i].at, from);
    const Instant ends = i + 1 < in_order.size() ? std::max(in_order[i + 1].at, from) : to;
    if (ends <= begins || in_order[i].freezer == frozen) continue;
    frozen = in_order[i].freezer;
    if (frozen) {
      times.push_back({begins, std::nullopt});
    } else {
      times.back().thawed = begins;
    }
  }
  if (frozen && taken_out) times.back().thawed = to;
  return times;
}

std::string frozen_in_words(std::span<const FrozenTime> times, Offset offset) {
  std::string words;
  for (const FrozenTime& time : times) {
    words += fmt::format("{}frozen {}", words.empty() ? "" : "; ", format_date_long(day_of(time.frozen, offset)));
    if (time.thawed) words += fmt::format(", thawed {}", format_date_long(day_of(*time.thawed, offset)));
  }
  return words;
}

std::optional<Finding> judge_frozen_once(const std::string& subject, std::span<const FrozenWay> ways) {
  Finding f;
  f.control = "frozen-once";
  f.subject = subject;
  f.limit = "frozen once at most, also within something else";
  f.evidence = "by where it was recorded as put";
  std::vector<std::string> again;
  for (const FrozenWay& way : ways) {
    if (way.times.empty()) continue;
    f.paths.push_back(fmt::format("{}: {}", way.part, frozen_in_words(way.times, way.offset)));
    if (way.times.size() > 1 && std::find(again.begin(), again.end(), way.part) == again.end()) again.push_back(way.part);
  }
  if (f.paths.empty()) return std::nullopt;
  if (!again.empty()) {
    f.verdict = Verdict::not_met;
    f.stop = Stop::no_override;
    f.message = fmt::format("{} {} thawed and frozen again", fmt::join(again, ", "), again.size() == 1 ? "was" : "were");
    f.remedy = "do not hand over; remake it, or correct the note if it never was in the freezer then";
    return f;
  }
  f.verdict = Verdict::shown;
  f.stop = Stop::none;
  f.message = fmt::format("{}; nothing was frozen a second time, as recorded", fmt::join(f.paths, "; "));
  return f;
}

Finding judge_freezer_stay(const ChilledStay& stay, std::span<const Reading> readings, Finding by_chill) {
  if (by_chill.verdict == Verdict::not_met) return by_chill;
  std::optional<Temperature> coldest, warmest;
  for (const Reading& reading : readings) {
    if (!reading.temperature || reading.at < stay.from || reading.at > stay.to) continue;
    coldest = std::min(coldest.value_or(*reading.temperature), *reading.temperature);
    warmest = std::max(warmest.value_or(*reading.temperature), *reading.temperature);
  }
  Finding f = std::move(by_chill);
  const std::string recorded =
      warmest ? fmt::format("{} was {}{:.1f} °C by its readings", stay.measured_food ? "the food" : "the air, not the food,",
                            *coldest == *warmest ? "" : fmt::format("{:.1f} to ", coldest->to_celsius()), warmest->to_celsius())
              : "no temperature is recorded in that time";
  if (f.verdict != Verdict::shown && !f.message.empty()) f.paths.push_back("by the limit for chilled food: " + f.message);
  f.verdict = Verdict::not_shown;
  f.stop = Stop::needs_person;
  f.message = fmt::format("{} from {} to {}: {}; no rule in force sets a limit for a freezer", stay.where,
                          format_moment(stay.from, stay.offset), format_moment(stay.to, stay.offset), recorded);
  f.remedy = "look at the readings and at the food; a named person must answer for it";
  f.limit.clear();
  f.source.clear();
  f.result = warmest ? fmt::format("warmest {:.1f} °C", warmest->to_celsius()) : "";
  return f;
}

}  // namespace tierproof
