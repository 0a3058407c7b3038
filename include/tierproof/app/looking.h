#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/sums/composition.h"

namespace tierproof {

/// Somebody held what is on file beside a pack again and found it the same.
struct Looking {
  std::string ingredient;
  std::string supplier;      ///< may be left out with `pack`
  std::string pack;          ///< the specification that this pack stands under; empty: the newest of ingredient and supplier
  std::string against;       ///< `the sack`
  std::optional<Date> on{};  ///< nothing: today
};
/// Books the look. Refused: nothing on file, a day that has not come or that lies before the reading itself.
Result<Booked> look_again(Session& session, const Looking& looking);

/// How long what packs say may be believed before somebody looks again.
struct SpecificationAgeLimit {
  std::int64_t days = 0;
  std::string source;  ///< of the kitchen's own limit, or the row
};
/// The kitchen's own limit, else that of the label rules; nothing when neither has one.
std::optional<SpecificationAgeLimit> specification_age_limit(const State& state, const LabelTerms& terms);

/// A specification that packs of a cake stand under, and that nobody has looked at for longer than is allowed.
struct StaleSpecification {
  std::uint64_t place = 0;  ///< of its note
  IngredientId ingredient;
  SupplierId supplier;
  std::string name;           ///< of the ingredient, as the kitchen calls it
  std::vector<LotId> packs;   ///< of the cake, sorted
  Date last_looked{};         ///< by its own note or a later look
  std::int64_t days_old = 0;  ///< on the day asked for
  std::int64_t allowed = 0;   ///< days
  std::string source;
};
/// Those of `parts` that are too old on `on`, by place: strictly more days than allowed. What rests on no specification any more is told
/// by its allergens, not here. Empty when nobody set a limit.
std::vector<StaleSpecification> stale_specifications(const State& state, const CakeParts& parts, const LabelTerms& terms, Date on);

/// What has to be looked at some day: the newest specification of each ingredient and supplier, and those that packs with something left
/// stand under.
struct ToLookAt {
  std::uint64_t place = 0;
  std::vector<LotId> packs;  ///< with something left, sorted
  Date last_looked{};
  std::int64_t days_old = 0;
  std::optional<std::int64_t> days_left;  ///< negative: too old since so many days; nothing: no limit is set
};
std::vector<ToLookAt> specifications_to_look_at(const Session& session, Date on);

}  // namespace tierproof
