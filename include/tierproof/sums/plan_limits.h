#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/sums/temperature_terms.h"
#include "tierproof/units/temperature.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// How far something is heated by a plan: at or above `at`, unbroken for at least `hold`.
struct OwnHeat {
  std::string what;  ///< name of the limit
  std::string row;   ///< of the heat table that it is stricter than; empty for a reheating
  Temperature at;
  std::string words;  ///< `at` as it was written
  Span hold{};        ///< 0: it need only be reached
};

/// The numbers of a kitchen's hazard plan that the temperature sums take.
struct PlanNumbers {
  std::string version;                      ///< whose they are, in words: `plan of 3 May 2026, note 41`
  std::optional<Temperature> chilled{};     ///< chilled food at or below
  std::string chilled_words{};              ///< the same as it was written, `5.0 °C`
  std::optional<Span> out{};                ///< out of the fridge less than
  std::optional<std::int64_t> cold_days{};  ///< kept cold for at most, the day of making is the first
  std::vector<OwnHeat> heat{};              ///< each of another row, or of another control
  std::optional<Span> cooled_within{};      ///< from where the rule begins to its end, at most
  std::optional<Temperature> cooled_to{};   ///< the end of the rule
  std::string cooled_to_words{};
  std::optional<OwnHeat> reheated{};
};

/// Brings the numbers into `terms`, where they are stricter; a laxer one changes nothing. Each is cited as the plan's, beside the row of
/// the rules that it is stricter than. A chilled limit needs a row beside it; days in the cold need none, since they only end a life
/// earlier. Where the plan names rows of the heat table, these alone vouch for their food: no other row of that food does, nor the equal
/// of one, since somebody who chose a limit is held to it. A validation on file, and a reference that is adopted for a recipe, stand as
/// they are. A heating, cooling or reheating that the rules have no row for gets none.
void tighten(TemperatureTerms& terms, const PlanNumbers& own);

/// A number of the plan that is laxer than the rules, or that they have nothing beside.
struct NotStricter {
  enum class Number { chilled, out, cold_days, heat, cooled, reheated };
  Number number = Number::chilled;
  std::string rules;  ///< what they have, with its unit; empty: nothing
  Cited cited{};
  std::string what{};  ///< of a heating: name of the limit, and the row that it names
  std::string heat_row{};
  std::vector<std::string> heat_rows{};  ///< those that there are, where that one is none
};
/// In the order of `Number`.
std::vector<NotStricter> not_stricter(const TemperatureTerms& terms, const PlanNumbers& own);

}  // namespace tierproof
