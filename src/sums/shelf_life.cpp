#include "tierproof/sums/shelf_life.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {
namespace {

struct Day {
  Date date{};
  std::string why;
  Date at_latest{};
  bool by_firm_rule = true;
};

bool knows_place(const PartLife& part) { return part.storage == "room" || part.storage == "fridge" || part.storage == "freezer"; }

std::string lot_words(const LotLife& lot) { return lot.code.empty() ? lot.name : fmt::format("{} {}", lot.name, lot.code); }

std::string days_words(int days) { return fmt::format("{} day{}", days, days == 1 ? "" : "s"); }

/// The last day of a part that was never frozen.
std::optional<Date> unfrozen_end(const PartLife& part) {
  if (!part.made || !part.life_days) return std::nullopt;
  return add_days(*part.made, *part.life_days);
}

bool way_counts(const PartLife& part, const std::vector<FrozenDays>& way) {
  const auto end = unfrozen_end(part);
  if (!end || !part.frozen_days || !part.thawed_days || way.size() != 1) return false;
  const FrozenDays& once = way.front();
  return once.frozen >= *part.made && once.frozen <= *end && (!once.thawed || *once.thawed > once.frozen);
}

std::string frozen_words(const FrozenDays& once) {
  return fmt::format("frozen {}{}", format_date_long(once.frozen),
                     once.thawed ? fmt::format(", thawed {}", format_date_long(*once.thawed)) : "");
}

struct PartEnd {
  Date last{};
  Date at_latest{};
  std::string why;
  bool by_firm_rule = true;
};

/// `end` of `part` that went in by `way`, or the last day that the rules let it be kept cold where that is earlier.
PartEnd within_cold_days(const PartLife& part, const std::vector<FrozenDays>& way, PartEnd end) {
  if (!part.cold_days) return end;
  const auto day = [](Date date) { return std::chrono::sys_days{date}; };
  Date last = add_days(*part.made, part.cold_days->days - 1);
  Date at_latest = last;
  if (way.size() == 1 && way.front().frozen >= *part.made && way.front().frozen <= last) {
    const FrozenDays& once = way.front();
    const int left = static_cast<int>((day(last) - day(once.frozen)).count());
    last = add_days(once.thawed.value_or(std::max(part.judged, once.frozen)), left);
    at_latest = once.thawed ? last : std::max(end.at_latest, last);
  }
  end.at_latest = std::min(end.at_latest, at_latest);
  if (last >= end.last) return end;
  end.last = last;
  end.by_firm_rule = part.cold_days->cited.firm();
  end.why = fmt::format("{}, made {}{}, kept cold for at most {} by the rules, counting the day it was made {}", part.name,
                        format_date_long(*part.made), way.size() == 1 ? ", " + frozen_words(way.front()) : "",
                        days_words(part.cold_days->days), cite(part.cold_days->cited));
  return end;
}

/// When `part` ends that went in by `way`. @pre the part has a day made and a life
PartEnd own_end_of(const PartLife& part, const std::vector<FrozenDays>& way) {
  const std::string reason = part.reason.empty() ? "" : fmt::format(" ({})", part.reason);
  const Date plain = *unfrozen_end(part);
  std::string why = fmt::format("{}, made {}", part.name, format_date_long(*part.made));
  if (!way_counts(part, way)) {
    why += fmt::format(", keeps {}{}", days_words(*part.life_days), reason);
    if (!way.empty()) {
      why += fmt::format(", {}, which gives it no time", frozen_words(way.front()));
      if (!part.frozen_days || !part.thawed_days) why += ": how long it keeps frozen and once thawed is not recorded";
    }
    return {plain, plain, std::move(why)};
  }
  const FrozenDays& once = way.front();
  const Date stored = add_days(once.frozen, *part.frozen_days);
  const int after = std::min(*part.thawed_days - 1, *part.life_days);
  why += ", " + frozen_words(once);
  if (once.thawed && *once.thawed > stored)
    return {stored, stored, why + fmt::format(", keeps {} frozen{}", days_words(*part.frozen_days), reason)};
  if (once.thawed) {
    const Date last = add_days(*once.thawed, after);
    return {last, last, why + fmt::format(", keeps {} once thawed{}", days_words(after + 1), reason)};
  }
  const Date last = std::min(stored, add_days(part.judged, after));
  return {last, stored,
          why + fmt::format(" and still frozen, keeps {} frozen and {} once thawed{}", days_words(*part.frozen_days), days_words(after + 1),
                            reason)};
}

PartEnd end_of(const PartLife& part, const std::vector<FrozenDays>& way) { return within_cold_days(part, way, own_end_of(part, way)); }

/// The earliest end of `part` over the ways that it went in.
PartEnd end_of(const PartLife& part) {
  if (part.ways.empty()) return end_of(part, {});
  PartEnd earliest = end_of(part, part.ways.front());
  for (const auto& way : part.ways) {
    PartEnd end = end_of(part, way);
    earliest.at_latest = std::min(earliest.at_latest, end.at_latest);
    if (end.last < earliest.last) {
      end.at_latest = earliest.at_latest;
      earliest = std::move(end);
    }
  }
  return earliest;
}

bool still_frozen(const PartLife& part) {
  return std::any_of(part.ways.begin(), part.ways.end(), [&](const auto& way) { return way_counts(part, way) && !way.front().thawed; });
}

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
    life.storage_for = frozen;
  } else if (!chilled.empty() || !unknown.empty() || parts.empty()) {
    life.storage = "fridge";
    life.storage_why = needs(chilled, "fridge");
    life.storage_for = chilled;
  } else {
    life.storage = "cool dry place";
    life.storage_why = "by their recipes all parts keep at room temperature";
  }
  if (parts.empty()) life.storage_why = "no part is recorded, so it counts as needing the fridge";
  if (unknown.empty()) return;
  life.storage_why += fmt::format("{}where {} must be kept is not recorded, so it counts as needing the fridge",
                                  life.storage_why.empty() ? "" : "; ", fmt::join(unknown, ", "));
}

}  // namespace

bool freezing_counts(const PartLife& part) {
  return !part.ways.empty() && std::all_of(part.ways.begin(), part.ways.end(), [&](const auto& way) { return way_counts(part, way); });
}

LotLife lot_within(LotLife pack, const PartLife& part) {
  if (!freezing_counts(part)) return pack;
  const Date frozen = std::max_element(part.ways.begin(), part.ways.end())->front().frozen;  // the latest of the ways
  if (pack.use_by && frozen <= *pack.use_by) pack.use_by.reset();
  if (pack.use_within_days && pack.opened_on && frozen <= add_days(*pack.opened_on, *pack.use_within_days)) pack.use_within_days.reset();
  return pack;
}

void add_lot(std::vector<LotLife>& packs, LotLife pack) {
  const auto there = std::find_if(packs.begin(), packs.end(), [&](const LotLife& other) { return other.name == pack.name; });
  if (there == packs.end()) return packs.push_back(std::move(pack));
  if (pack.use_by) there->use_by = pack.use_by;
  if (pack.use_within_days) there->use_within_days = pack.use_within_days;
}

ShelfLife shelf_life(std::span<const PartLife> parts, std::span<const LotLife> lots) {
  ShelfLife life;
  set_storage(life, parts);
  std::vector<Day> days;
  for (const PartLife& part : parts) {
    if (!part.made) life.not_known.push_back(fmt::format("when {} was made", part.name));
    if (!part.life_days) life.not_known.push_back(fmt::format("how long {} keeps", part.name));
    if (!part.made || !part.life_days) continue;
    PartEnd end = end_of(part);
    days.push_back({end.last, std::move(end.why), end.at_latest, end.by_firm_rule});
    if (still_frozen(part)) life.not_known.push_back(fmt::format("when {}, still frozen, is thawed", part.name));
  }
  bool dated_lot = false;
  for (const LotLife& lot : lots) {
    if (lot.use_by) {
      dated_lot = true;
      days.push_back({*lot.use_by, fmt::format("{} has to be used by {}", lot_words(lot), format_date_long(*lot.use_by)), *lot.use_by});
    }
    if (!lot.use_within_days) continue;
    dated_lot = true;
    if (!lot.opened_on) {
      life.not_known.push_back(fmt::format("when {} was opened", lot_words(lot)));
      continue;
    }
    const Date last = add_days(*lot.opened_on, *lot.use_within_days);
    days.push_back({last,
                    fmt::format("{}, opened {}, has to be used within {}", lot_words(lot), format_date_long(*lot.opened_on),
                                days_words(*lot.use_within_days)),
                    last});
  }
  const bool any_cold = parts.empty() || std::any_of(parts.begin(), parts.end(),
                                                     [](const PartLife& p) { return p.storage != "room" && p.storage != "freezer"; });
  const bool by_frost = std::any_of(parts.begin(), parts.end(), [](const PartLife& part) { return freezing_counts(part); });
  life.kind = any_cold || dated_lot || by_frost ? "use by" : "best before";
  if (life.kind == "best before") {
    for (const LotLife& lot : lots) {
      if (lot.best_before)
        days.push_back(
            {*lot.best_before, fmt::format("{} is best before {}", lot_words(lot), format_date_long(*lot.best_before)), *lot.best_before});
    }
  }
  if (days.empty()) {
    life.why = "nothing recorded gives a date";
    return life;
  }
  life.date = std::min_element(days.begin(), days.end(), [](const Day& a, const Day& b) { return a.date < b.date; })->date;
  life.at_latest =
      std::min_element(days.begin(), days.end(), [](const Day& a, const Day& b) { return a.at_latest < b.at_latest; })->at_latest;
  life.by_firm_rule = false;
  for (const Day& day : days) {
    if (day.date != *life.date) continue;
    life.why += (life.why.empty() ? "" : "; ") + day.why;
    life.by_firm_rule = life.by_firm_rule || day.by_firm_rule;
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
  if (life.date && life.at_latest.value_or(*life.date) < on) {
    const bool use_by = life.kind == "use by";
    f.verdict = Verdict::not_met;
    f.stop = use_by && life.by_firm_rule ? Stop::no_override : Stop::needs_person;
    f.message = fmt::format("its {} date, {}, is past: {}", use_by ? "use-by" : "best-before", format_date_long(*life.date), life.why);
    f.remedy = !use_by             ? "taste and look at it; a named person must answer for it"
               : life.by_firm_rule ? "do not hand over; remake it or refuse the order"
                                   : "remake it, or have a named person answer for it: the rule rests on memory";
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
