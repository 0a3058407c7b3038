#pragma once

#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/units/share.h"

namespace tierproof {

/// A document given as a file: its name for refusals, and its text.
struct GivenDocument {
  std::string name;
  std::string text;
};

// Every use case below checks all of its input first and books either everything or nothing. Refusals name the option or the
// document's line and field. All throw Fault and HeadMoved as `Session::book` does.

Result<Booked> add_person(Session& session, const std::string& id, const std::string& name, const std::string& role);
/// Books the last day of somebody who works here no more, in the place of the note that tells of them: until when their name is kept counts
/// from it. Refused: a day to come, the only person there is.
/// @param last  nothing: today
Result<Booked> person_left(Session& session, const std::string& id, std::optional<Date> last);
Result<Booked> add_supplier(Session& session, const std::string& id, const Supplier& supplier);
Result<Booked> add_ingredient(Session& session, const std::string& id, const Ingredient& ingredient);
/// A seller who is not on record yet, with the short name that they get.
struct NewSupplier {
  std::string id;
  Supplier supplier;
};
/// Books a food, and with it who sells it where that is given, all or nothing; the food's note comes last.
Result<Booked> add_food(Session& session, const std::string& id, const Ingredient& ingredient, const std::optional<NewSupplier>& seller);
Result<Booked> add_equipment(Session& session, const std::string& id, const std::string& name);
Result<Booked> add_place(Session& session, const std::string& id, const Place& place);
Result<Booked> add_probe(Session& session, const std::string& id, const Probe& probe);
/// What packs say, one JSON document each (see `read_specification`), with every change accepted for later deliveries only:
/// `take_specifications` (`changing.h`) shows first what it changes.
Result<Booked> add_specifications(Session& session, const std::vector<GivenDocument>& documents);
/// Recipes, one JSON document each (see `read_recipe`).
Result<Booked> add_recipes(Session& session, const std::vector<GivenDocument>& documents);

struct Delivery {
  std::string ingredient;
  std::string supplier;
  std::string code;
  std::string description;
  std::optional<Mass> mass;
  std::optional<Date> dispatched;
  std::optional<Date> use_by;
  std::optional<Date> best_before;
  std::string at;
  bool again = false;        ///< supplier, mass and description as of the last delivery of this ingredient, where they are not given
  std::string egg_source{};  ///< of shell eggs, as `Lot`
  std::string egg_scheme{};
  std::optional<Date> laid{};
  std::string scanned{};  ///< the GS1 code on the pack, as the scanner gave it: lot, dates and net mass where they are not typed
};
/// Refused besides: a code that says something else than what was typed.
Result<Booked> receive(Session& session, const Delivery& delivery);
Result<Booked> withdraw(Session& session, const std::string& lot, const std::string& why);

struct Making {
  std::string recipe;
  Share times = 1;
  std::optional<Mass> yield;                             ///< nothing: estimated from the recipe
  std::vector<std::pair<std::string, std::string>> use;  ///< ingredient or recipe → pack or batch that the person chose
  std::vector<std::pair<std::string, Mass>> weighed;     ///< ingredient or recipe → what was really used
  std::string at;
  bool again = false;        ///< masses as of the last batch of this recipe where they are not given; its yield as an estimate
  std::string cracked{};     ///< when its shell eggs were cracked, in the kitchen's time; empty: not recorded
  std::string cracked_in{};  ///< the place where the cracked egg was kept
  std::optional<Degrees> cracked_degrees{};  ///< how warm it was when it was used
  std::vector<RecipeTin> tins{};             ///< that are filled instead of the recipe's own: they make `times`
  std::optional<Mass> left_behind{};         ///< as `Batch`
  std::vector<std::string> kit{};            ///< that was used besides the kit of the recipe
};
/// A batch as it would be booked.
struct BatchProposed {
  Batch batch;
  ZonedInstant at;
};
/// What `make_batch` would book, for a person to look at first. Refused as it.
Result<BatchProposed> propose_batch(const Session& session, const Making& making);
/// Books a batch. Packs are proposed earliest date first, batches earliest made first, and split when one does not hold enough.
Result<Booked> make_batch(Session& session, const Making& making);

struct ProbeChecking {
  std::string probe;
  std::string method;
  std::optional<Degrees> read;
  std::string at;
  std::optional<std::int64_t> pressure_pa{};  ///< station pressure at that moment
  bool correct = false;  ///< readings are corrected by this check and that of the other method before it on the same day
};
Result<Booked> check_probe(Session& session, const ProbeChecking& checking);

struct ReadingTyped {
  std::string probe;
  std::optional<Degrees> read;
  std::string about;
  std::string purpose;  ///< empty: `chilled` for a place, `heat step` for a batch
  std::string at;
  std::string mark{};  ///< of a run of readings: `start`, `now`, `done`, or empty
};
Result<Booked> type_reading(Session& session, const ReadingTyped& reading);
/// Books a logger's file that is at hand as a whole (see `import_logger_file`).
Result<Booked> import_readings(Session& session, const std::string& probe, const std::string& about, const std::string& purpose,
                               const GivenDocument& file, const GivenDocument& column_map);

/// What a stay is for; `marked` and `procedure` of time as the control.
struct PutFor {
  std::string use;          ///< as of `Stay`; empty: not said
  std::string marked{};     ///< the time by which it is used or thrown away, as marked on it
  std::string procedure{};  ///< where the procedure stands that was written before
};
Result<Booked> put(Session& session, const std::string& what, const std::string& place, const std::string& at, const PutFor& purpose = {});
Result<Booked> file_validation(Session& session, const Validation& validation);

struct Tiering {
  std::string cake;
  std::string tier;
  std::vector<std::pair<std::string, std::optional<Mass>>> parts;  ///< nothing: all that is left of it, not weighed
  bool estimated = false;
  std::vector<std::pair<std::string, std::int64_t>> inedible;
  std::string at;
  std::vector<std::string> kit{};  ///< that it was put together with
};
Result<Booked> build_tier(Session& session, const Tiering& tiering);

/// Replaces the body of a note (or voids it when `body` has no text). Refused unless `sequence` is the newest of its chain.
Result<Booked> correct(Session& session, std::uint64_t sequence, const GivenDocument& body, const std::string& why);
Result<Booked> void_note(Session& session, std::uint64_t sequence, const std::string& why);

/// Keys of allergens that a document may name.
struct AllergenKeys {
  std::vector<std::string> in_force;  ///< of the rules that the kitchen chose, in the law's order: each gets a statement
  std::vector<std::string> known;     ///< of every label pack that is shipped; one that only others list gets a statement when it is named
};
/// What may be named on `on`. @throws Fault 78 if no label rules are in force that day
AllergenKeys allergen_keys_on(const Session& session, Date on);

/// A specification document: `ingredient`, `supplier`, `label_name`, `checked`, `checked_against`, `storage`; optional `parts` (texts such
/// as `"sugar 40 %"`, or objects), `contains` (allergen keys, or objects `allergen`, `process`, `species`), `may_contain`, `unknown` (lists
/// of allergen keys), `absent` (`keys`, or headings such as `nuts`, or `all_others` of the rules in force, with `evidence`; or a list of
/// such, each with evidence of its own), `additive`, `class`, `fixed_by_law`, `varying_group`, `sweetening`, `polyols`,
/// `sulphites_mg_per_kg`, `use_within_days`, `water`, `ph`, `water_activity`, `kind` (of `food_kinds`), `marks` (of `food_marks`),
/// `glycyrrhizinic_mg_per_kg`, `limit_food`, `substitutes`, `dried_times`, `sold_as`, `other_languages` (`language`, `label_name`, `parts`
/// by name, as many and as deep), `density` (kg for each litre as it is spooned) with `density_by`. What is not named is unknown. An
/// allergen that `absent` names in `keys` is answered for by itself
/// (`judge_names`).
///
/// A part has `name`, and may have `share`, `additive` with `class`, `brings`, `parts`, `marks`, `mg_per_kg`, and `works_in_cake: false` or
/// `processing_aid: true`, each with `why`.
Result<Specification> read_specification(const GivenDocument& document, const AllergenKeys& keys);
/// A recipe document: `recipe` (its id), `name`, `part`, `items` (`of`, `mass`), `yield`, `egg`, `storage`, `life_days`,
/// `life_reason`; optional `kit`, `heated_together`, `heat_food`, `syrup_target` (with `syrup_target_at`: `sea level` where it is to be
/// lowered for the altitude), `frozen_days` with `thawed_days` (days it keeps frozen; days it keeps once thawed, the day of thawing
/// included; without both, freezing gives it no time), `label_name` (its customary name in a list by part), `other_names` (`language`,
/// `name`), `heated` (`heated`, `not heated`: the part as a whole), `boiled_together` (ingredients in the pan of boiling sugar), `bowl`
/// (`mass`, `of`), `egg_white_at` and `bowl_at` (how warm they are when the syrup is poured), `tin` (see `read_tin`) and `portions`. An
/// item's `of` names an ingredient, or `recipe: true` beside it another recipe; of a volatile food `remains` with `why` says how much is
/// still there in the end, of a dried or concentrated one `reconstituted: true` that water is added back.
struct NamedRecipe {
  std::string id;
  Recipe recipe;
};
Result<NamedRecipe> read_recipe(const GivenDocument& document);

/// `pack-5 (pasteurised egg white, code W31)`
std::string pack_in_words(const State& state, const LotId& lot);

/// What is left of a pack or batch by the records, in mg; negative when more was used than there was.
std::int64_t remaining_mg(const State& state, const std::string& subject);
/// The same of every pack and batch at once.
std::unordered_map<std::string, std::int64_t> remaining_of_all(const State& state);

}  // namespace tierproof
