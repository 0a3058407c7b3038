#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/planning.h"
#include "tierproof/app/session.h"
#include "tierproof/papers/content.h"
#include "tierproof/sums/composition.h"
#include "tierproof/sums/declaration.h"
#include "tierproof/sums/heat.h"
#include "tierproof/sums/shelf_life.h"

namespace tierproof {

/// A series of readings that a finding rests on, for charts.
struct SeriesUsed {
  std::string title;  ///< `white buttercream (batch-4), heat step`
  std::string probe;  ///< thermometer's name in words
  std::string trust;  ///< its last check, or why it is doubted
  TemperatureSpan error;
  std::vector<Reading> readings;
  Span longest_step{};
  std::optional<Temperature> limit;
  std::string limit_words;
  bool limit_is_ceiling = true;
  Instant from{};
  Instant to{};
  Offset offset;
  std::string watched;           ///< of a chilled stay: which place, and what is read there, `fridge, air`
  std::vector<ChartStay> stays;  ///< what stood there while it was kept for this cake
  std::optional<ChartAllowance> allowance;
  std::optional<ChartBound> bound;  ///< of a heat step that a row vouches for by time
};

/// What the label tells beside the list, with where each comes from.
struct LabelParticulars {
  std::vector<Declaration> languages;      ///< the declaration again in each further language of the label
  std::string quantities;                  ///< `dark chocolate 12 %, orange 9 %`
  std::vector<std::string> quantities_in;  ///< the same in each further language, as far as there are words for all of it; else empty
  std::string quantities_source;
  std::string net_quantity;  ///< `1.28 kg`, or the number where the rules let it stand for the mass
  std::string net_quantity_source;
  std::string date;  ///< `Use by 4 May 2026`; empty when none is known or asked for
  std::string date_why;
  std::string date_source;
  std::string lot;  ///< `L cake-1`; empty when none is due
  std::string lot_why;
  std::string lot_source;
  std::vector<Statement> to_tell;     ///< what marks ask to be told instead of printed
  std::vector<std::string> cautions;  ///< sentences for a person
};

/// Everything that the records, the rules and the sums say of one cake at one moment.
struct Judgement {
  CakeId cake;
  ZonedInstant at;
  PlanVersion plan;  ///< that it goes by
  LabelTerms label;
  TemperatureTerms temperature;  ///< with the stricter numbers of that plan
  std::optional<RouteTerm> route;
  CakeParts parts;
  std::optional<Composition> made;
  std::optional<Declaration> declared;
  LabelParticulars particulars;
  std::optional<ShelfLife> life;
  /// Meant to be kept without a fridge, while it is known to need one, or nothing shows that it may and nobody answered for it: papers tell
  /// to keep it in the fridge.
  bool counts_as_chilled = false;
  std::vector<Finding> findings;  ///< in the order of the hazard plan, then by subject
  std::vector<SeriesUsed> series;
  std::vector<StayTold> stays;  ///< each stay by each thermometer that watched it
};

/// Judges a cake as of `at`. Refused: no such cake, no rules in force that day.
Result<Judgement> judge_cake(const Session& session, const CakeId& cake, ZonedInstant at);

/// Whether every finding is `shown`.
bool all_shown(const std::vector<Finding>& findings);
/// The gravest stop among `findings`.
Stop gravest(const std::vector<Finding>& findings);

/// Releases the cake for `against`: control or control:subject → reason. Stopped: by a finding without override, or one that
/// nobody gave a reason for. Refused: a reason for something that does not stop, a cake handed over already.
struct AgainstReason {
  std::string control;  ///< `egg-heat` or `egg-heat:batch-4`
  std::string reason;
};
/// A decision that was booked, or everything that stands against it.
struct Decision {
  std::optional<Booked> booked;
  Refusals stopped;
  std::vector<std::string> egg_told{};  ///< of a hand-over: what whoever takes it has to be told of the egg in it
};
Result<Decision> release_cake(Session& session, const std::string& cake, const std::vector<AgainstReason>& against);

struct HandingOver {
  std::string cake;
  std::string to;
  std::string told;
  std::optional<Degrees> degrees;
  std::string at;
};
/// Stopped: not released, or something stops it now that did not when it was released.
Result<Decision> hand_over_cake(Session& session, const HandingOver& handing);

}  // namespace tierproof
