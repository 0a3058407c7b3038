#include "tierproof/sums/hand_over.h"

#include <fmt/format.h>

namespace tierproof {

Finding judge_hand_over(const std::string& cake, Temperature measured, const TemperatureTerms& terms) {
  const ChillTerm* strictest = nullptr;
  for (const auto& row : terms.chill) {
    if (row.advice || row.measured_in != "food") continue;
    if (strictest == nullptr || row.limit < strictest->limit) strictest = &row;
  }
  Finding finding;
  finding.control = "cold-hold";
  finding.subject = fmt::format("{}, handed over", cake);
  finding.result = fmt::format("{:.1f} °C in the food", measured.to_celsius());
  if (strictest == nullptr) {
    finding.message =
        fmt::format("{} read {:.1f} °C when it was handed over; the rules in force give no limit", cake, measured.to_celsius());
    finding.remedy = "a named person must answer for it";
    return finding;
  }
  finding.limit = fmt::format("{:.1f} °C or below in the food", strictest->limit.to_celsius());
  finding.source = cite(strictest->cited);
  const bool within = measured <= strictest->limit;
  finding.verdict = within ? Verdict::shown : Verdict::not_met;
  finding.stop = within ? Stop::none : Stop::no_override;
  finding.message = fmt::format("{} read {:.1f} °C when it was handed over; the limit is {:.1f} °C", cake, measured.to_celsius(),
                                strictest->limit.to_celsius());
  if (!within) finding.remedy = "do not hand over; find out how long it was warm, and remake it or refuse the order";
  return finding;
}

}  // namespace tierproof
