#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/text/data_table.h"

// The full data beside an inspection record, as tables; what the record says is told from these alone.
namespace tierproof {

/// The days that are looked at, and their ends as moments.
struct InspectedPeriod {
  Date from{};
  Date until{};
  Instant begin{};  ///< first moment of `from`
  Instant end{};    ///< first moment after `until`, or now where that is earlier
  ZonedInstant at;  ///< now
  bool holds(Date day) const { return from <= day && day <= until; }
  bool holds(Instant moment) const { return begin <= moment && moment < end; }
};

/// First moment of a local day.
Instant first_moment_of(const Session& session, Date day);

/// A cake of the period; what is not built cannot be judged.
struct InspectedCake {
  CakeId id;
  std::string state;  ///< `handed over`, `thrown away`, `released`, `not released`, `not built`
  std::optional<Judgement> judgement;
  std::string not_judged{};  ///< why there is none
};
/// The cakes that belong to the period, by number, each judged as it left or now.
std::vector<InspectedCake> inspected_cakes(const Session& session, const InspectedPeriod& period);

/// `12, 15 to 18`: numbers of notes, each once, runs of three and more together.
std::string notes_in_words(std::vector<std::uint64_t> notes);

/// What the rows of the tables `place-days` and `warm-times` tell of one place, for a chart.
struct InspectedPlace {
  PlaceId id;
  std::string name;
  std::vector<StayTold> watched;  ///< by each thermometer, for the whole period
  std::vector<Chart> charts;
};
struct InspectedPlaces {
  DataTable days;        ///< `place-days`, a row a place and day
  DataTable warm_times;  ///< `warm-times`, a row a time above the limit by one thermometer
  std::vector<InspectedPlace> places;
};
/// Every fridge, freezer, display and van, day by day. @param terms  in force at the end of the period
InspectedPlaces inspected_places(const Session& session, const InspectedPeriod& period, const TemperatureTerms& terms);

/// Every thermometer check of the period with what it came to.
DataTable thermometer_checks_table(const Session& session, const InspectedPeriod& period, const TemperatureTerms& terms);
/// Every due day of every regular record in the period, and every record that was made in it. What a sort keeps apart, as health, is told
/// here as kept apart, with all that such a record says in words.
DataTable regular_due_table(const Session& session, const InspectedPeriod& period);
DataTable regular_records_table(const Session& session, const InspectedPeriod& period);
/// Notes of the period that corrected or took back another, and what.
DataTable taken_back_table(const Session& session, const InspectedPeriod& period);
/// Checks that were missed on a day of the period, whenever that was told.
DataTable missed_checks_table(const Session& session, const InspectedPeriod& period);
/// Every temperature that was read in the period, whenever it was recorded.
DataTable temperatures_table(const Session& session, const InspectedPeriod& period);
/// Each cake with how it stands, and its findings, a row each.
DataTable cakes_table(const Session& session, const std::vector<InspectedCake>& cakes);
DataTable controls_table(const Session& session, const std::vector<InspectedCake>& cakes);
/// What cakes were released against in the period.
DataTable overrides_table(const Session& session, const InspectedPeriod& period);
/// The egg step of every batch in those cakes, once: the gravest of what the cakes say of it. Batches of the period with egg that is not
/// baked through, and that no judged cake holds, are in it as `not judged`.
DataTable egg_steps_table(const Session& session, const InspectedPeriod& period, const std::vector<InspectedCake>& cakes);
/// Every allergen of every built cake with its word, as for somebody of whom nothing is known.
DataTable allergens_table(const Session& session, const std::vector<InspectedCake>& cakes);
/// What went wrong and was open in the period, with what became of the food.
DataTable troubles_table(const Session& session, const InspectedPeriod& period);
/// Complaints that were open in the period, without a word of whoever complained.
DataTable complaints_table(const Session& session, const InspectedPeriod& period);
/// Recalls and exercises that were open in the period.
DataTable recalls_table(const Session& session, const InspectedPeriod& period);
/// The list `to-look-at` as it stands now, each row with whether it is `overdue`.
DataTable pack_details_table(const Session& session);
/// The rows of the list `name` that happened in the period.
DataTable listed_in(const Session& session, const InspectedPeriod& period, const std::string& name);

}  // namespace tierproof
