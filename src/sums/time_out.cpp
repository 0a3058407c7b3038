#include "tierproof/sums/time_out.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <vector>

namespace tierproof {
namespace {

std::string at_degrees(Temperature t) {
  std::string digits = fmt::format("{:.2f}", t.to_celsius());
  digits.erase(digits.find_last_not_of('0') + 1);
  if (digits.back() == '.') digits.pop_back();
  return digits + " °C";
}

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

}  // namespace

std::optional<Finding> judge_time_out(const std::string& subject, std::span<const TimeOut> stretches, const TemperatureTerms& terms,
                                      Offset offset) {
  if (stretches.empty()) return std::nullopt;
  const auto row = std::find_if(terms.allowances.begin(), terms.allowances.end(),
                                [](const WarmAllowance& allowance) { return allowance.use == "handling"; });
  Span longest{};
  for (const auto& stretch : stretches) {
    longest = std::max(longest, stretch.to - stretch.from);
  }
  Finding finding;
  finding.control = "cold-hold";
  finding.subject = subject + ", out of the fridge";
  finding.result = fmt::format("out {} time{}, at most {}", stretches.size(), stretches.size() == 1 ? "" : "s", format_span(longest));
  finding.evidence = "times as recorded when it was put somewhere; no reading of the food";
  for (const auto& stretch : stretches) {
    finding.paths.push_back(
        fmt::format("{} to {}: {}", format_moment(stretch.from, offset), format_clock(stretch.to, offset), stretch.where));
  }
  if (row != terms.allowances.end()) {
    finding.limit = fmt::format("less than {} at a time while it is being worked on", format_span(row->less_than));
    finding.source = cite(row->cited);
    if (longest < row->less_than) {
      finding.verdict = Verdict::shown;
      finding.stop = Stop::none;
      finding.message =
          fmt::format("{} was out of the fridge for at most {} at a time while it was worked on", subject, format_span(longest));
      return finding;
    }
  }
  finding.verdict = Verdict::not_shown;
  finding.stop = Stop::needs_person;
  finding.message = fmt::format("{} was out of the fridge for {} and no reading says how warm it became", subject, format_span(longest));
  if (const auto allowed = allowed_by(terms); finding.limit.empty() && !allowed.empty()) {
    for (const auto& [words, cited] : allowed) {
      finding.limit += (finding.limit.empty() ? "" : ", or ") + words;
      finding.source += (finding.source.empty() ? "" : " ") + cite(cited);
    }
    finding.message += "; what the law here allows is not worked out from these times, so a person has to";
  }
  if (const NoNumberTerm* none = terms.no_number("time out of the cold")) {
    finding.message += fmt::format("; the law here gives no number for it: {}", none->words);
    finding.source = cite(none->cited);
  }
  finding.remedy = "measure the food when it comes out and goes back, or record where it really was";
  return finding;
}

}  // namespace tierproof
