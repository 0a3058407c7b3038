#include "tierproof/sums/shelf_life.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {
namespace {

struct Day {
  Date date{};
  std::string why;
};

bool knows_place(const PartLife& part) { return part.storage == "room" || part.storage == "fridge" || part.storage == "freezer"; }

std::string lot_words(const LotLife& lot) { return lot.code.empty() ? lot.name : fmt::format("{} {}", lot.name, lot.code); }

std::string days_words(int days) { return fmt::format("{} day{}", days, days == 1 ? "" : "s"); }

void set_storage(ShelfLife& life, std::span<const PartLife> parts) {
  std::vector<std::string> frozen, chilled, unknown;
  for (const PartLife& part : parts) {
    if (!knows_place(part)) unknown.push_back(part.name);
    if (part.storage == "freezer") frozen.push_back(part.name);
    if (part.storage == "fridge") chilled.push_back(part.name);
  }
  const auto needs = [](const std::vector<std::string>& names, const char* place) {
    return names.empty() ? std::string{} : fmt::format("{} {} the {}", fmt::join(names, ", "), names.size() == 1 ? "needs" : "need", place);
  };
  if (!frozen.empty()) {
    life.storage = "freezer";
    life.storage_why = needs(frozen, "freezer");
  } else if (!chilled.empty() || !unknown.empty() || parts.empty()) {
    life.storage = "fridge";
    life.storage_why = needs(chilled, "fridge");
  } else {
    life.storage = "cool dry place";
    life.storage_why = "every part keeps at room temperature";
  }
  if (parts.empty()) life.storage_why = "no part is recorded, so it counts as needing the fridge";
  if (unknown.empty()) return;
  life.storage_why += fmt::format("{}where {} must be kept is not recorded, so it counts as needing the fridge",
                                  life.storage_why.empty() ? "" : "; ", fmt::join(unknown, ", "));
}

}  // namespace

ShelfLife shelf_life(std::span<const PartLife> parts, std::span<const LotLife> lots) {
  ShelfLife life;
  set_storage(life, parts);
  std::vector<Day> days;
  for (const PartLife& part : parts) {
    if (!part.made) life.not_known.push_back(fmt::format("when {} was made", part.name));
    if (!part.life_days) life.not_known.push_back(fmt::format("how long {} keeps", part.name));
    if (!part.made || !part.life_days) continue;
    const int after = *part.life_days - (part.made_day_is_day_one ? 1 : 0);
    days.push_back({add_days(*part.made, after),
                    fmt::format("{}, made {}, keeps {}{}{}", part.name, format_date_long(*part.made), days_words(*part.life_days),
                                part.made_day_is_day_one ? " counting the day it was made" : "",
                                part.reason.empty() ? "" : fmt::format(" ({})", part.reason))});
  }
  bool dated_lot = false;
  for (const LotLife& lot : lots) {
    if (lot.use_by) {
      dated_lot = true;
      days.push_back({*lot.use_by, fmt::format("{} has to be used by {}", lot_words(lot), format_date_long(*lot.use_by))});
    }
    if (!lot.use_within_days) continue;
    dated_lot = true;
    if (!lot.opened_on) {
      life.not_known.push_back(fmt::format("when {} was opened", lot_words(lot)));
      continue;
    }
    days.push_back(
        {add_days(*lot.opened_on, *lot.use_within_days), fmt::format("{}, opened {}, has to be used within {}", lot_words(lot),
                                                                     format_date_long(*lot.opened_on), days_words(*lot.use_within_days))});
  }
  const bool any_cold = parts.empty() || std::any_of(parts.begin(), parts.end(),
                                                     [](const PartLife& p) { return p.storage != "room" && p.storage != "freezer"; });
  life.kind = any_cold || dated_lot ? "use by" : "best before";
  if (life.kind == "best before") {
    for (const LotLife& lot : lots) {
      if (lot.best_before)
        days.push_back({*lot.best_before, fmt::format("{} is best before {}", lot_words(lot), format_date_long(*lot.best_before))});
    }
  }
  if (days.empty()) {
    life.why = "nothing recorded gives a date";
    return life;
  }
  life.date = std::min_element(days.begin(), days.end(), [](const Day& a, const Day& b) { return a.date < b.date; })->date;
  for (const Day& day : days) {
    if (day.date == *life.date) life.why += (life.why.empty() ? "" : "; ") + day.why;
  }
  return life;
}

Finding judge_use_by(const std::string& subject, const ShelfLife& life, Date on) {
  Finding f;
  f.control = "use-by";
  f.subject = subject;
  if (life.date) {
    f.limit = fmt::format("{} {}", life.kind, format_date_long(*life.date));
    f.result = fmt::format("judged on {}", format_date_long(on));
  }
  f.evidence = life.why;
  if (life.date && *life.date < on) {
    const bool use_by = life.kind == "use by";
    f.verdict = Verdict::not_met;
    f.stop = use_by ? Stop::no_override : Stop::needs_person;
    f.message = fmt::format("its {} date, {}, is past: {}", use_by ? "use-by" : "best-before", format_date_long(*life.date), life.why);
    f.remedy = use_by ? "do not hand over; remake it or refuse the order" : "taste and look at it; a named person must answer for it";
    return f;
  }
  if (!life.date || !life.not_known.empty()) {
    f.message = fmt::format("{}; not recorded: {}",
                            life.date ? fmt::format("{} {} by what is recorded", life.kind, format_date_long(*life.date)) : life.why,
                            life.not_known.empty() ? "any date or life" : fmt::to_string(fmt::join(life.not_known, ", ")));
    f.remedy = "record what is missing; until then a named person must answer for the date";
    return f;
  }
  f.verdict = Verdict::shown;
  f.stop = Stop::none;
  f.message = fmt::format("{} {}: {}", life.kind, format_date_long(*life.date), life.why);
  return f;
}

}  // namespace tierproof
