#include "tierproof/sums/time_out.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {

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
  finding.remedy = "measure the food when it comes out and goes back, or record where it really was";
  return finding;
}

}  // namespace tierproof
