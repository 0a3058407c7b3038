#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/sums/activity_terms.h"
#include "tierproof/sums/cited.h"
#include "tierproof/units/share.h"
#include "tierproof/units/temperature.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// One row of a time-temperature table: a row is a row, never interpolated.
struct HeatRow {
  Cited cited;
  std::string food;     ///< which foods: `core of a cooked food`, `egg white with sugar`
  Temperature at;       ///< at or above; where the law prints two columns, the higher of the two
  Span hold;            ///< unbroken, at least
  std::string words{};  ///< `at` as it is told where the law has Fahrenheit, `155 °F (68.33 °C)`; empty: in Celsius
  std::string own{};    ///< of a kitchen's stricter plan, told after the limit: `the plan's own limit; the rules have 70 °C for 2 min`
};

/// A row that grants an equivalent by integral, with a cited z.
struct HeatEquivalence {
  Cited cited;
  std::string food;
  Temperature reference;
  TemperatureSpan z;
  Span required;        ///< at `reference`
  Temperature floor;    ///< nothing is counted below
  Temperature ceiling;  ///< counts as the ceiling above
  Span longest_step;    ///< nothing is counted across a longer step between readings
};

/// A published reference for heating that is not law: so much time at `reference` was worth `worth` in mixes like those of `range`. It
/// vouches for a step only where the kitchen's plan adopts it for the recipe.
struct HeatReference {
  Cited cited;
  Temperature reference;
  TemperatureSpan z;
  Span required;        ///< at `reference`
  Temperature floor;    ///< nothing is counted below
  Temperature ceiling;  ///< counts as the ceiling above
  Span longest_step;    ///< nothing is counted across a longer step between readings
  Share activity_from;  ///< water activity of the mix, measured: both ends count
  Share activity_to;
  Share sugar_from;  ///< sugar's share by mass of a mix of nothing but egg white and sugar, where its activity was not measured
  Share sugar_to;
  std::string worth;  ///< `3 log of Salmonella Typhimurium DT104`
};

/// What the sums need for one lethality integral.
struct HeatTerms {
  Temperature reference;
  TemperatureSpan z;
  Temperature floor;
  Temperature ceiling;
  Span longest_step;
  TemperatureSpan error;  ///< of the probe, added for the upper and taken off for the lower bound
};

struct ChillTerm {
  Cited cited;
  Temperature limit;        ///< food at or below is within it; where the law prints two columns, the lower of the two
  std::string measured_in;  ///< `food`, `air`
  bool advice = false;      ///< advice, not law
  std::string words{};      ///< `limit` as it is told where the law has Fahrenheit, `5 °C (41 °F)`; empty: in Celsius
};

/// Food kept hot is kept at or above this.
struct HotHoldTerm {
  Cited cited;
  Temperature limit;  ///< where the law prints two columns, the higher of the two
};

/// Food kept hot may fall below `HotHoldTerm` for a time.
struct HotAllowance {
  Cited cited;
  Span less_than;  ///< strictly less than
  bool once = true;
};

/// How far a food that was heated and got cold is heated again, to be served or used hot.
struct ReheatTerm {
  Cited cited;
  Temperature at;                       ///< at or above; where the law prints two columns, the higher of the two
  Span hold{};                          ///< unbroken, at least; 0: it need only be reached
  std::optional<Span> within{};         ///< from leaving `out_of` to reaching `at`, at most; given together with it
  std::optional<Temperature> out_of{};  ///< the lower of the two columns
  /// The two temperatures as they are told where the law has Fahrenheit, `74 °C (165.2 °F)`; empty: in Celsius.
  std::string words{}, out_of_words{};
  std::string own{};  ///< of a kitchen's stricter plan, told after the limit
};

/// How soon a hot food goes into the cold by advice that is no law.
struct CoolingAdvice {
  Cited cited;
  Span within;
};

/// How many days a ready food that is kept cold may be kept by the rules; time in the freezer stops the count.
struct ColdDays {
  Cited cited;
  int days = 0;  ///< the day it was made is the first
};

/// What the law here gives no number for, and what it asks instead.
struct NoNumberTerm {
  Cited cited;
  std::string about;  ///< `heating`, `time out of the cold`, `cooling`
  std::string words;
};

/// Where the law asks for a kind of place and gives no number: `in a refrigerator or a cool ventilated place`.
struct ColdPlaceTerm {
  Cited cited;
  std::string words;
};

struct WarmAllowance {
  Cited cited;
  std::string use;  ///< `service or display`
  Span less_than;   ///< strictly less than
  bool once = true;
};

/// An allowance for all the time that a food was warm, added up over its whole life and wherever it was.
struct WarmTotal {
  Cited cited;
  Temperature above;  ///< time above this and ...
  Temperature below;  ///< ... below this counts
  Span back_before;   ///< strictly less in all: it may go back into the cold
  Span discard_from;  ///< as much or more in all: it is thrown away; between the two it is eaten at once
};

/// Time alone as the control of a food that was taken out of the cold, and that is used or thrown away then.
struct TimeControl {
  Cited cited;
  std::string use;                       ///< what a stay was for: `time as the control`
  Temperature start_up_to;               ///< the food when it is taken out, at or under
  std::optional<Temperature> ceiling{};  ///< and never above this while it is out
  Span within{};                         ///< from taking it out to its use, at most
};

/// How fast a heated food has to get cold: two stages with `via`, else one from `from` to `to`.
struct CoolingTerm {
  Cited cited;
  Temperature from;                  ///< where the law prints two columns, the higher of the two
  std::optional<Temperature> via{};  ///< the lower of the two
  Temperature to;                    ///< the lower of the two
  std::optional<Span> first{};       ///< from `from` to `via`, at most
  std::optional<Span> second{};      ///< from `via` to `to`, at most; or `total`: one of the two
  std::optional<Span> total{};       ///< from `from` to `to`, at most
  bool strictly = false;             ///< each time is less than its limit, and the end lies below `to`
  /// The three temperatures as they are told where the law has Fahrenheit, `57 °C (135 °F)`; empty: in Celsius.
  std::string from_words{}, via_words{}, to_words{};
  std::optional<Span> whole{};  ///< with `second`, where a kitchen's plan has less than both stages together: from `from` to `to`, at most
  std::string own{};            ///< of a kitchen's stricter plan, told after the limit
};

/// Which mixes a heat table may be used on: raw egg white with more sugar than this is outside the model.
struct EggMixTerm {
  Cited cited;
  Share sugar_up_to;  ///< sugar's share of the mix, at or under
};

struct ProbeTerm {
  Cited cited;
  TemperatureSpan band;  ///< a check is good within ± this of what it should read
  int days_between;      ///< a check is due at least this often
};

struct GapTerm {
  Cited cited;
  std::string use;  ///< `heat step`, `chilled hold`
  Span longest;     ///< between readings
};

/// How fast some bacteria grow by a published square root model, `sqrt(r) = b (T - t_min)`: a screening estimate. It may add a warning and
/// lifts no limit.
struct GrowthTerm {
  Cited cited;
  std::string of;        ///< `Salmonella in shell egg`
  double b = 0;          ///< of r in log10 an hour, T in °C
  double t_min_c = 0;    ///< °C; no growth at or below it
  double warn_from = 0;  ///< log10 in one stay, from which a person is warned
};

/// The temperature set of one place in force on one day.
struct TemperatureTerms {
  std::string jurisdiction;
  std::string title;
  Date on{};
  std::vector<HeatRow> heat_rows;
  std::vector<HeatEquivalence> equivalences;
  std::vector<HeatReference> references;
  std::vector<ChillTerm> chill;  ///< law before advice
  std::vector<WarmAllowance> allowances;
  std::vector<EggMixTerm> egg_mix;
  std::optional<ProbeTerm> probe;
  std::vector<GapTerm> gaps;
  std::vector<ColdPlaceTerm> cold_places = {};  ///< a place may have these and no limit on food in `chill`
  std::optional<HotHoldTerm> hot_hold{};
  std::vector<NoNumberTerm> no_numbers{};
  std::optional<WarmTotal> warm_total{};
  std::vector<TimeControl> time_controls{};
  std::optional<CoolingTerm> cooling{};
  std::optional<HotAllowance> hot_allowance{};
  std::optional<ReheatTerm> reheat{};
  std::optional<CoolingAdvice> cooling_advice{};
  std::optional<ColdDays> cold_days{};
  std::vector<GrowthTerm> growth{};
  std::vector<ActivityTable> activity_tables{};
  /// The row that says there is no number about something, or nothing.
  const NoNumberTerm* no_number(std::string_view about) const;
  /// The longest step between two readings that counts for `use` (`heat step`, `chilled hold`): the shortest of its rows; 0 without one, so
  /// that nothing is bridged.
  Span longest_step(std::string_view use) const;
};

}  // namespace tierproof
