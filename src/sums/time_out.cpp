#include "tierproof/sums/time_out.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "tierproof/units/share.h"

namespace tierproof {
namespace {

std::string at_degrees(Temperature t) { return short_decimal(fmt::format("{:.2f}", t.to_celsius())) + " °C"; }

/// Allowances for which the times of one place are not enough: of the whole life of a food, and of one that was set out on purpose.
std::vector<std::pair<std::string, Cited>> allowed_by(const TemperatureTerms& terms) {
  std::vector<std::pair<std::string, Cited>> all;
  if (const auto& total = terms.warm_total) {
    all.emplace_back(
        fmt::format("between {} and {}: under {} in all to go back into the cold, under {} in all to be eaten", at_degrees(total->above),
                    at_degrees(total->below), format_span(total->back_before), format_span(total->discard_from)),
        total->cited);
  }
  for (const auto& control : terms.time_controls) {
    all.emplace_back(
        fmt::format("with {}: used or thrown away within {} of taking it out at {} or below{}", control.use, format_span(control.within),
                    at_degrees(control.start_up_to), control.ceiling ? ", never above " + at_degrees(*control.ceiling) : ""),
        control.cited);
  }
  return all;
}

/// The same in one line, with what is allowed once for service.
std::string allowed_in_words(const TemperatureTerms& terms) {
  std::string words;
  for (const auto& row : terms.allowances) {
    if (row.use == "handling") continue;
    words +=
        fmt::format("{}less than {}{} for {}", words.empty() ? "" : ", or ", format_span(row.less_than), row.once ? " once" : "", row.use);
  }
  for (const auto& [allowed, cited] : allowed_by(terms)) words += (words.empty() ? "" : ", or ") + allowed;
  return words;
}

/// What one allowance says of the times: that they keep it, in words, or what is missing.
struct Allowed {
  std::string words;                 ///< that it is kept; empty: it is not
  std::vector<std::string> missing;  ///< what has to be recorded for it, or what is too long
  Cited cited;
};

Span time_of(const TimeOut& stretch) { return stretch.to - stretch.from; }

Allowed by_handling(const WarmAllowance& row, std::span<const TimeOut> stretches, Span longest) {
  Allowed allowed{{}, {}, row.cited};
  const bool all = std::all_of(stretches.begin(), stretches.end(),
                               [](const TimeOut& stretch) { return stretch.use.empty() || stretch.use == "handling"; });
  if (all && longest < row.less_than) allowed.words = fmt::format("for at most {} at a time while it was worked on", format_span(longest));
  return allowed;
}

Allowed by_service(const WarmAllowance& row, std::span<const TimeOut> stretches, const FoodLife& life) {
  Allowed allowed{{}, {}, row.cited};
  const bool of_it = std::any_of(stretches.begin(), stretches.end(), [&](const TimeOut& stretch) { return stretch.use == row.use; });
  if (!of_it) return allowed;
  if (stretches.size() > 1) allowed.missing.emplace_back("it was out more than once");
  if (row.once && life.served_before) allowed.missing.push_back(fmt::format("it was kept for {} before", row.use));
  if (row.once && !life.served_before && life.perhaps_served_before)
    allowed.missing.emplace_back("nobody recorded what it, or something in it, was out for before");
  if (time_of(stretches.front()) >= row.less_than)
    allowed.missing.push_back(fmt::format("{} is not less than {}", format_span(time_of(stretches.front())), format_span(row.less_than)));
  if (allowed.missing.empty())
    allowed.words =
        fmt::format("once, for {}, for {}: less than {}", row.use, format_span(time_of(stretches.front())), format_span(row.less_than));
  return allowed;
}

Allowed by_total(const WarmTotal& row, std::span<const TimeOut> stretches, const FoodLife& life) {
  Allowed allowed{{}, {}, row.cited};
  Span total = life.warm_before + life.warm_in_cold;
  for (const auto& stretch : stretches) total += time_of(stretch);
  std::vector<std::string> of_it;
  if (life.warm_before > Span{}) of_it.push_back(fmt::format("{} of it before, of what went into it", format_span(life.warm_before)));
  if (life.warm_in_cold > Span{})
    of_it.push_back(fmt::format("at most {} of it in the cold itself, by readings with the error added", format_span(life.warm_in_cold)));
  const std::string of = fmt::format("for {} in all, counted over its whole life{}", format_span(total),
                                     of_it.empty() ? "" : fmt::format(" ({})", fmt::join(of_it, "; ")));
  if (total < row.back_before && total + life.unread >= row.back_before) {
    allowed.missing.push_back(
        fmt::format("{}, but no reading shows that it was cold for {} more, which would count too", of, format_span(life.unread)));
  } else if (total < row.back_before) {
    allowed.words = fmt::format("{}: less than {}", of, format_span(row.back_before));
  } else if (total < row.discard_from) {
    allowed.missing.push_back(fmt::format("{}: not less than {}, so it may not go back into the cold, and has to be eaten before {} in all",
                                          of, format_span(row.back_before), format_span(row.discard_from)));
  } else {
    allowed.missing.push_back(
        fmt::format("{}: not less than {}, so it has to be thrown away unless it is shown to have been at {} or below", of,
                    format_span(row.discard_from), at_degrees(row.above)));
  }
  return allowed;
}

/// Whether readings of the food leave no gap while it was out and stay at or below `ceiling` with the error added.
bool stayed_below(Temperature ceiling, const TimeOut& stretch, const FoodLife& life, Span longest_step) {
  if (!life.reliable || !gaps_in(life.food, stretch.from, stretch.to, longest_step).empty()) return false;
  return std::none_of(life.food.begin(), life.food.end(), [&](const Reading& reading) {
    return reading.at >= stretch.from && reading.at <= stretch.to && (!reading.temperature || *reading.temperature + life.error > ceiling);
  });
}

Allowed by_time(const TimeControl& row, std::span<const TimeOut> stretches, const FoodLife& life, Span longest_step, Offset offset) {
  Allowed allowed{{}, {}, row.cited};
  const bool of_it = std::any_of(stretches.begin(), stretches.end(), [&](const TimeOut& stretch) { return stretch.use == row.use; });
  if (!of_it) return allowed;
  auto& missing = allowed.missing;
  const TimeOut& out = stretches.front();
  if (stretches.size() > 1) missing.emplace_back("it was out more than once");
  if (life.cold_at_removal.empty())
    missing.push_back(fmt::format("nothing shows that it was at {} or below when it was taken out", at_degrees(row.start_up_to)));
  if (!out.marked) {
    missing.emplace_back("no time is recorded that was marked on it");
  } else if (*out.marked - out.from > row.within || *out.marked < out.from) {
    missing.push_back(
        fmt::format("the time marked, {}, is not within {} of taking it out", format_clock(*out.marked, offset), format_span(row.within)));
  } else if (out.to > *out.marked) {
    missing.push_back(fmt::format("it was out longer than the time marked, {}", format_clock(*out.marked, offset)));
  }
  if (out.procedure.empty()) missing.emplace_back("the written procedure is not named");
  if (life.cold_after) missing.emplace_back("it was put back into the cold");
  if (time_of(out) > row.within) missing.push_back(fmt::format("{} is more than {}", format_span(time_of(out)), format_span(row.within)));
  if (row.ceiling && !stayed_below(*row.ceiling, out, life, longest_step))
    missing.push_back(fmt::format("for {} readings of the food have to show that it stayed at or below {}", format_span(row.within),
                                  at_degrees(*row.ceiling)));
  if (missing.empty()) {
    allowed.words =
        fmt::format("with {}, cold when it was taken out ({}), by the procedure in {}; it is used or thrown away by {}, as marked", row.use,
                    life.cold_at_removal, out.procedure, format_clock(*out.marked, offset));
  }
  return allowed;
}

}  // namespace

std::optional<Finding> judge_time_out(const std::string& subject, std::span<const TimeOut> stretches, const TemperatureTerms& terms,
                                      Offset offset, const FoodLife* life) {
  if (stretches.empty()) return std::nullopt;
  Span longest{};
  for (const auto& stretch : stretches) longest = std::max(longest, time_of(stretch));
  Finding finding;
  finding.control = "cold-hold";
  finding.subject = subject + ", out of the fridge";
  finding.result = fmt::format("out {} time{}, at most {}", stretches.size(), stretches.size() == 1 ? "" : "s", format_span(longest));
  const bool read = life != nullptr && !life->food.empty();
  finding.evidence = fmt::format("times as recorded when it was put somewhere; {} of the food", read ? "readings" : "no reading");
  for (const auto& stretch : stretches) {
    finding.paths.push_back(fmt::format("{} to {}: {}{}", format_moment(stretch.from, offset), format_clock(stretch.to, offset),
                                        stretch.where, stretch.use.empty() ? "" : ", for " + stretch.use));
  }
  std::vector<Allowed> all;
  for (const auto& row : terms.allowances) {
    if (row.use == "handling") {
      finding.limit = fmt::format("less than {} at a time while it is being worked on", format_span(row.less_than));
      finding.source = cite(row.cited);
      all.push_back(by_handling(row, stretches, longest));
    } else if (life != nullptr) {
      all.push_back(by_service(row, stretches, *life));
    }
  }
  if (life != nullptr && terms.warm_total) all.push_back(by_total(*terms.warm_total, stretches, *life));
  if (life != nullptr) {
    Span longest_step{};
    for (const auto& gap : terms.gaps) {
      if (gap.use == "chilled hold") longest_step = gap.longest;
    }
    for (const auto& row : terms.time_controls) all.push_back(by_time(row, stretches, *life, longest_step, offset));
  }
  for (const auto& allowed : all) {
    if (allowed.words.empty()) continue;
    finding.verdict = Verdict::shown;
    finding.stop = Stop::none;
    finding.message = fmt::format("{} was out of the fridge {}", subject, allowed.words);
    finding.source = cite(allowed.cited);
    if (finding.limit.empty()) finding.limit = allowed_in_words(terms);
    return finding;
  }
  finding.verdict = Verdict::not_shown;
  finding.stop = Stop::needs_person;
  finding.message = fmt::format("{} was out of the fridge for {} and {}", subject, format_span(longest),
                                read ? "its readings do not show that it stayed cold" : "no reading says how warm it became");
  std::vector<std::string> missing;  // what two rows miss alike is told once
  for (const auto& allowed : all) {
    for (const auto& what : allowed.missing) {
      if (std::find(missing.begin(), missing.end(), what) == missing.end()) missing.push_back(what);
    }
  }
  if (!missing.empty()) finding.message += fmt::format("; {}", fmt::join(missing, ", "));
  if (const auto allowed = allowed_by(terms); finding.limit.empty() && (!allowed.empty() || !missing.empty())) {
    finding.limit = allowed_in_words(terms);
    for (const auto& [words, cited] : allowed) finding.source += (finding.source.empty() ? "" : " ") + cite(cited);
    if (allowed.empty()) finding.source = cite(all.front().cited);
    if (missing.empty()) finding.message += "; what the law here allows is not shown by these times";
  }
  if (const NoNumberTerm* none = terms.no_number("time out of the cold")) {
    finding.message += fmt::format("; the law here gives no number for it: {}", none->words);
    finding.source = cite(none->cited);
  }
  finding.remedy = "measure the food when it comes out and goes back, or record where it really was";
  const bool by_use = !terms.time_controls.empty() || std::any_of(terms.allowances.begin(), terms.allowances.end(),
                                                                  [](const WarmAllowance& row) { return row.use != "handling"; });
  const bool unsaid = std::any_of(stretches.begin(), stretches.end(), [](const TimeOut& stretch) { return stretch.use.empty(); });
  if (by_use && unsaid) finding.remedy += "; say what it was out for, where it was for something that the law allows";
  return finding;
}

}  // namespace tierproof
