#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/sums/temperature_terms.h"
#include "tierproof/units/temperature.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// The numbers of a kitchen's hazard plan that the temperature sums take.
struct PlanNumbers {
  std::string version;                      ///< whose they are, in words: `plan of 3 May 2026, note 41`
  std::optional<Temperature> chilled{};     ///< chilled food at or below
  std::string chilled_words{};              ///< the same as it was written, `5.0 °C`
  std::optional<Span> out{};                ///< out of the fridge less than
  std::optional<std::int64_t> cold_days{};  ///< kept cold for at most, the day of making is the first
};

/// Brings the numbers into `terms`, where they are stricter; a laxer one changes nothing. Each is cited as the plan's, beside the row of
/// the rules that it is stricter than. A chilled limit needs a row beside it; days in the cold need none, since they only end a life
/// earlier.
void tighten(TemperatureTerms& terms, const PlanNumbers& own);

/// A number of the plan that is laxer than the rules, or that they have nothing beside.
struct NotStricter {
  enum class Number { chilled, out, cold_days };
  Number number = Number::chilled;
  std::string rules;  ///< what they have, with its unit; empty: nothing
  Cited cited{};
};
/// In the order of `Number`.
std::vector<NotStricter> not_stricter(const TemperatureTerms& terms, const PlanNumbers& own);

}  // namespace tierproof
