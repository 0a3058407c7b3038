#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/app/session.h"
#include "tierproof/app/thermometers.h"

namespace tierproof {

// What a door shows at a glance. Nothing here decides: it tells what the records and the judged findings say.

/// A pack with something left of it.
struct PackHere {
  LotId id;
  IngredientId ingredient;
  std::string food;
  std::string code;
  Mass left;
  std::optional<Date> opened;
  std::optional<Date> last;  ///< its own date, or that of an opened pack; nothing: it has none
  std::string date_words;    ///< `use by 3 May 2026`, `best before 31 December 2026`, `opened, use by 6 May 2026`; empty without one
  std::string must_not_go;   ///< `withdrawn`, `past its use-by date`; empty: nothing stands against it
};
/// Every pack of which something is left on `on`, the earliest date first, those without one last.
std::vector<PackHere> packs_here(const Session& session, Date on);

/// What the last temperature of a place says of now.
enum class ColdStanding {
  within,  ///< at or under the limit with the thermometer's error added
  perhaps_above,
  above,          ///< above the limit with the error taken off
  not_relied_on,  ///< at or under it, by a thermometer without a good check: that shows nothing
  not_read,       ///< no temperature, or none for longer than the rules let a gap be
  no_limit        ///< nothing is asked of this place: a room, a freezer, or no rule has a number
};
/// `within its limit`, `perhaps above its limit`, ...
std::string_view words_of(ColdStanding standing);

/// A place, and what is there.
struct PlaceNow {
  PlaceId id;
  std::string name;
  std::string kind;
  std::optional<LastRead> last;
  std::optional<Temperature> limit;  ///< the strictest for chilled food in force
  std::string limit_source;
  ColdStanding standing = ColdStanding::no_limit;
  bool left_above = false;  ///< not read lately, and the last temperature was above the limit, or perhaps
  std::vector<KeptNow> kept;
};
/// Every place, in order of names, with the last temperature up to `at`. Refused: no temperature rules in force that day.
Result<std::vector<PlaceNow>> places_now(const Session& session, ZonedInstant at);

/// A cake that was ordered and has not left.
struct CakeToLeave {
  CakeId id;
  std::string name;
  Date event{};
  std::int64_t boxes = 1;
  std::string allergy;  ///< `nobody asked`, `none named`, `named: almonds, milk`
  bool built = false;
  bool released = false;             ///< and nothing stands against it since
  bool against_findings = false;     ///< of a released one: a person answered for findings that are not shown
  std::string outcome;               ///< in one sentence, as its record says it
  bool nobody_may = false;           ///< something stands against it that nobody may release against
  std::vector<std::string> stopped;  ///< heading of each control that is not shown, once each, the gravest first
  std::string cannot_tell;           ///< why it could not be judged at all; empty: it was
};
/// Every cake that was neither handed over nor thrown away, by its day.
std::vector<CakeToLeave> cakes_to_leave(const Session& session, ZonedInstant at);

/// The answer in force to the allergy question of a cake, in words, as `CakeToLeave::allergy`.
std::string allergy_in_words(const Session& session, const CakeId& cake, const LabelTerms& terms);

}  // namespace tierproof
