#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/units/ids.h"
#include "tierproof/units/mass.h"
#include "tierproof/units/temperature.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// Free words or personal data: kept apart under `ref`, so that they can be erased; the note holds the HMAC.
struct Words {
  std::string ref;
  std::string hmac;                 ///< hexadecimal
  std::optional<std::string> text;  ///< nothing once erased (or before the fold looked it up)
  bool given() const { return !ref.empty(); }
  friend bool operator==(const Words&, const Words&) = default;
};

/// `kitchen/1`: the business and the rules it chose. Label rules by place of sale, temperature rules by place of kitchen.
struct Kitchen {
  std::string name;
  std::vector<std::string> address;
  std::string zone;  ///< IANA name, `Europe/London`
  std::optional<std::int64_t> altitude_m;
  std::optional<std::int64_t> pressure_pa;  ///< station pressure; beats the altitude
  std::string label_rules;
  std::string temperature_rules;
  std::string retention_rules;
  bool demo = false;                                 ///< every output says DEMO
  std::string seed;                                  ///< of a demo: chance is drawn from it
  std::string country{};                             ///< ISO 3166 code of its address, `GB`; empty: not recorded
  std::optional<std::int64_t> specification_days{};  ///< how old what the packs say may be; nothing: as the label rules say
  std::optional<std::int64_t> staff{};               ///< people who work here
  std::optional<std::int64_t> turnover{};            ///< a year, whole units of the currency of the label rules
  std::string sells{};                               ///< `direct or local`, `further`; empty: not recorded
  std::optional<std::int64_t> units_a_year{};        ///< cakes a year
  std::string gs1_prefix{};                          ///< its GS1 Company Prefix; empty: it has none
};

/// `person/1`
struct Person {
  Words name;
  std::string role;            ///< `owner`, `helper`
  std::optional<Date> left{};  ///< last day here, once they work here no more
};

/// A firm with its address, as a delivery note gives it.
struct Firm {
  std::string name;
  std::string address;
};

/// `supplier/1`
struct Supplier {
  Firm firm;                      ///< who dispatches
  std::optional<Firm> consignor;  ///< owner of the food when another firm
  std::optional<Firm> consignee;  ///< owner on our side when not the kitchen itself
};

/// `ingredient/1`: a bought-in food, whoever supplies it.
struct Ingredient {
  std::string name;
  bool added_water = false;
  bool sugar = false;          ///< counts as sugar in an egg mix
  bool animal_origin = false;  ///< the eight delivery particulars are asked for
  std::string egg;             ///< `none`, `shell`, `pasteurised`, `dried pasteurised`
  std::string boiled_as{};     ///< in boiling sugar: `glucose`, `invert sugar`, `acid`, `none of these`; empty: not said
};

/// One line of what the pack says it is made of.
struct SpecifiedPart {
  std::string name;
  std::optional<std::int64_t> share_ppm;
  std::string additive;
  std::string additive_class;
  bool works_in_cake = true;
  std::vector<std::string> brings;  ///< allergen keys, where the pack says which part brings them
  std::vector<SpecifiedPart> parts;
  std::vector<std::string> marks{};         ///< `nano`, `irradiated`, `fully hydrogenated` ...
  std::string why_idle{};                   ///< of `works_in_cake` false or a processing aid: a person's reason
  bool processing_aid = false;              ///< used in making it, not an ingredient of it
  std::optional<std::int64_t> ug_per_kg{};  ///< of an additive, when the supplier says
};

struct SpecifiedAllergen {
  std::string allergen;  ///< key
  std::string presence;  ///< `contains`, `may contain`, `absent`, `unknown`
  std::string evidence;
  std::string process{};   ///< `wheat glucose syrup`: a product that a law may exempt
  std::string species{};   ///< `cod`
  bool by_itself = false;  ///< of `absent`: said of this allergen, not of all others together
};

/// What a label says of a food in one more language.
struct SpecifiedIn {
  std::string language;  ///< `fr`
  std::string label_name;
  std::vector<SpecifiedPart> parts;
};
struct NameIn {
  std::string language;
  std::string name;
};
/// A word of a label in one more language of it: `noix` for `nuts`.
struct WordIn {
  std::string language;
  std::string word;  ///< in the kitchen's language
  std::string there;
};

/// `specification/1`: what the pack or the supplier's sheet says, on one day.
struct Specification {
  IngredientId ingredient;
  SupplierId supplier;
  std::string label_name;
  std::vector<SpecifiedPart> parts;
  std::vector<SpecifiedAllergen> allergens;
  std::string additive;
  std::string additive_class;
  std::string fixed_by_law;
  std::string varying_group;
  std::string sweetening;
  std::optional<std::int64_t> polyols_ppm;
  std::optional<std::int64_t> sulphites_ug_per_kg;
  std::string storage;                          ///< `room`, `fridge`, `freezer`
  std::optional<std::int64_t> use_within_days;  ///< once opened
  std::optional<std::int64_t> water_ppm;
  std::optional<std::int64_t> ph_hundredths;
  std::optional<std::int64_t> water_activity_e4;  ///< ten-thousandths
  Date checked{};                                 ///< last compared with the pack
  std::string checked_against;                    ///< `the sack`, `supplier's sheet GA-2`
  std::string kind{};                             ///< what sort of food, where rules ask: `spice`, `vegetable oil`
  std::vector<std::string> marks{};
  std::optional<std::int64_t> glycyrrhizinic_ug_per_kg{};
  std::string limit_food{};                         ///< `dried apricots`
  std::string substitutes{};                        ///< group of ingredients that stand in for each other
  std::optional<std::int64_t> dried_thousandths{};  ///< mass before drying or concentrating, in thousandths of the mass after
  std::string sold_as{};                            ///< `food`, `for parts removed before eating`, `not for food`, `not said`
  std::vector<SpecifiedIn> other_languages{};
  std::optional<std::int64_t> density_mg_per_ml{};  ///< as it is spooned
  std::string density_by{};                         ///< who says so: `the sack`, `weighed here, level cup`
};

/// `specification-looked/1`: somebody compared what is on file with a pack again and found it the same.
struct SpecificationLooked {
  std::uint64_t specification = 0;  ///< place of its note
  Date checked{};
  std::string checked_against;
};

/// `rule-confirmed/1`: a row of the rules that rested on memory was confirmed by somebody who knows.
struct RuleConfirmed {
  std::string row;            ///< id
  std::string jurisdiction;   ///< code of the rules
  std::string clause;         ///< of the row, as it stood then: a row that changed has to be confirmed anew
  std::string body;           ///< `food authority of the town`
  Words told_by;              ///< the person
  std::string says_sha256{};  ///< of what the row said then, hexadecimal; empty: not told, so nobody can say that it is the same
};

/// `lot/1`: a received pack. For food of animal origin, with supplier card and kitchen, the eight particulars.
struct Lot {
  IngredientId ingredient;
  SupplierId supplier;
  std::uint64_t specification = 0;  ///< place of its note
  std::string code;
  std::string description;  ///< what the delivery note calls it
  Mass mass;
  std::optional<Date> dispatched;
  std::optional<Date> use_by;
  std::optional<Date> best_before;
  std::optional<Date> opened;
  std::string egg_source{};    ///< of shell eggs: `own hens`, `assured scheme`, `no scheme`; empty: not recorded
  std::string egg_scheme{};    ///< of an assured scheme: its name as the maker types it
  std::optional<Date> laid{};  ///< of shell eggs: the first day of lay
};

/// `withdrawal/1`: the supplier recalled a pack, or the maker took it out.
struct Withdrawal {
  LotId lot;
  Words why;
};

/// `equipment/1`
struct Equipment {
  std::string name;
};

/// `place/1`
struct Place {
  std::string name;
  std::string kind;  ///< `fridge`, `freezer`, `display` and `van` (both chilled), `room`, `out`
};

/// `probe/1`
struct Probe {
  std::string name;
  Scale scale = Scale::celsius;
  std::int64_t accuracy_hundredths = 0;  ///< ± of its own scale
  std::int64_t resolution_hundredths = 0;
  std::string measures;                      ///< `food`, `air`
  PlaceId hangs_in;                          ///< empty when it goes from hand to hand
  std::optional<std::int64_t> check_days{};  ///< most days between two checks, where the kitchen wants it checked more often than the rules
};

/// `probe-check/1`
struct ProbeCheckMade {
  ProbeId probe;
  std::string method;  ///< `ice`, `boiling`
  Degrees read;
  std::optional<std::int64_t> pressure_pa{};  ///< station pressure read with it; beats the kitchen's
  std::string correction{};  ///< `two-point`: from now on readings are corrected by this check and that of the other method before it
};

struct RecipeItem {
  std::string of;  ///< ingredient or recipe id
  bool recipe = false;
  Mass mass;
  std::optional<std::int64_t> remains_ppm{};  ///< of a volatile food: the share that is still there in the end
  std::string why_remains{};                  ///< a person's reason
  bool reconstituted = false;                 ///< of a dried or concentrated food: water is added back
};

/// A tin that a recipe is written for, in tenths of a millimetre: round by its diameter, square by its side.
struct RecipeTin {
  std::string shape;  ///< `round`, `square`
  std::int64_t across = 0;
  std::int64_t depth = 0;
  std::int64_t count = 1;  ///< so many of them
};

/// The bowl that boiled syrup and egg white meet in.
struct MixingBowl {
  Mass mass;
  std::string of;  ///< `steel`, `glass`, `copper`, `aluminium`
};

/// `recipe/1`: how a part is made, in one dated version.
struct Recipe {
  std::string name;
  std::string part;  ///< `sponge`, `filling`, `icing`, `decoration`, `syrup`
  std::vector<RecipeItem> items;
  Mass yield;
  std::vector<EquipmentId> kit;
  std::string egg;  ///< `none`, `baked through`, `pasteurised`, `dried pasteurised`, `raw, heated here`, `raw, not heated`
  std::vector<IngredientId> heated_together;  ///< what is in the mix that is heated
  std::string heat_food;                      ///< which rows of the heat table it is judged by
  std::optional<Degrees> syrup_target;
  std::string syrup_target_at{};  ///< `sea level`: it is lowered by as much as water boils lower in the kitchen; empty: it stands as it is
  std::string storage;            ///< `room`, `fridge`, `freezer`
  std::int64_t life_days = 0;
  std::string life_reason;
  std::optional<std::int64_t> frozen_days{};  ///< how long it keeps frozen; with `thawed_days`, else freezing gives no time
  std::optional<std::int64_t> thawed_days{};  ///< how long it keeps once thawed, the day of thawing included
  std::string label_name{};                   ///< its customary name in an ingredient list, for a list by part
  std::vector<NameIn> other_names{};
  std::vector<std::string> varying{};           ///< groups of foods whose proportions vary from one making to the next: `fruit`
  std::string heated{};                         ///< whether the part as a whole is heated: `heated`, `not heated`, or empty: not said
  std::vector<IngredientId> boiled_together{};  ///< what goes into the pan of boiling sugar; empty: all that counts as sugar
  std::optional<MixingBowl> bowl{};
  std::optional<Degrees> white_degrees{};  ///< the egg white when the syrup is poured on it, the highest that it may have
  std::optional<Degrees> bowl_degrees{};   ///< the bowl then; nothing: as the egg white
  std::optional<RecipeTin> tin{};
  std::optional<std::int64_t> portions{};
};

struct BatchUse {
  std::string of;  ///< `pack-3` or `batch-2`
  bool batch = false;
  Mass mass;
  bool suggested = true;  ///< proposed by earliest date and accepted; false: the person chose another
  TubId tub{};            ///< that it was taken from, or empty: which of its packs is then an estimate, first in, first out
  std::optional<std::int64_t> remains_ppm{};  ///< as of the recipe
  bool reconstituted = false;
};

/// `batch/1`
struct Batch {
  RecipeId recipe;
  std::uint64_t recipe_version = 0;  ///< place of the recipe's note
  std::vector<BatchUse> uses;
  Mass yield;
  bool weighed = true;
  std::vector<EquipmentId> kit;
  std::string left_over{};           ///< `left-over`, `off-cuts`: kept from the batches in `uses`, not made anew; empty for a making
  std::optional<Instant> cracked{};  ///< when its shell eggs were cracked; nothing: not recorded
  PlaceId cracked_in{};              ///< where the cracked egg was kept, or empty
  std::optional<Degrees> cracked_degrees{};  ///< how warm the cracked egg was when it was used, as read
  std::optional<Mass> left_behind{};         ///< weighed: what stayed in bowl and tin or was cut off, and is not in the yield
};

/// `tub/1`: a container that packs of one ingredient are poured into.
struct Tub {
  std::string name;
  IngredientId ingredient;
};

/// `top-up/1`: a pack was poured into a tub.
struct TopUp {
  TubId tub;
  LotId lot;
};

/// `emptied/1`: a tub was emptied and washed; what is poured in later has nothing to do with what was in it before.
struct Emptied {
  TubId tub;
};

/// `opened/1`: a pack was opened.
struct Opened {
  LotId lot;
};

/// `readings/1`: a block of readings of one thermometer, sealed by its SHA-256.
struct ReadingsBlock {
  ProbeId probe;
  std::string about;    ///< `batch-4`, `cake-fridge`, `cake-1`
  std::string purpose;  ///< `heat step`, `syrup`, `cooling`, `chilled`, `reheating`
  std::int64_t count = 0;
  Instant first{};
  Instant last{};
  std::string sha256;
  std::string file{};         ///< name of the imported file, or empty
  std::string file_sha256{};  ///< of the imported file's bytes
  std::optional<std::int64_t> file_bytes{};
  std::string format{};  ///< name of the column map it was read by
  std::string mark{};    ///< of a typed reading: `start`, `now`, `done`, or empty
};

/// `column-map/1`: how one sort of logger writes its files, kept under a name.
struct ColumnMapKept {
  std::string text;  ///< the column map as a document
};

/// One reading of a block.
struct LoggedReading {
  Instant at{};
  std::optional<Degrees> degrees;  ///< nothing: a fault
  std::string fault;               ///< as the thermometer wrote it
  friend bool operator==(const LoggedReading&, const LoggedReading&) = default;
};

/// `stay/1`: a batch or cake is put in a place at the moment the note happened; it stays until the next one.
struct Stay {
  std::string what;
  PlaceId place;
  std::string use{};  ///< what for: `keeping`, `handling`, `transfer`, `service or display`, `time as the control`; empty: not said
  std::optional<Instant> marked{};  ///< of time as the control: the time by which it is used or thrown away, as marked on the food
  std::string procedure{};          ///< of time as the control: where the procedure stands that was written before
};

/// `cake/1`: the order, and how it is sold.
struct Cake {
  std::string name;
  Date event{};
  Words customer;
  std::string boxed;    ///< `before it was chosen`, `after it was ordered`, `not boxed`
  std::string seller;   ///< `the maker`, `another business`
  std::string ordered;  ///< `face to face`, `at a distance`
  std::int64_t boxes = 1;
  std::int64_t largest_face_cm2 = 0;
  Words contact{};  ///< telephone or address of the customer
  std::optional<std::int64_t> pieces{};
  std::vector<RecipeId> planned{};   ///< what it is to be made of, as ordered
  std::string where{};               ///< `where it is made`, `somewhere else`, `delivered`; empty: not asked
  std::string label_rules{};         ///< code of the rules of the place where it is sold; empty: the kitchen's
  std::vector<std::string> shows{};  ///< ingredients or categories that its name, words or pictures bring out: quantities are shown
  std::vector<std::string> marks{};  ///< `defrosted`, `protective atmosphere`
  std::string list{};                ///< `merged`, `by part`; empty: the shorter one
  std::vector<NameIn> other_names{};
  std::string gtin{};                         ///< its GTIN as typed, of the kitchen's own prefix; empty: none
  std::optional<std::int64_t> surface_cm2{};  ///< whole surface of a box; nothing: not known
  std::vector<std::string> varying{};         ///< groups of foods whose proportions vary: `fruit`
  std::vector<WordIn> shows_in{};             ///< words that quantities stand behind, in further languages of the label
};

/// `allergy/1`: the question that always has an answer. What was answered is health data and can be erased.
struct AllergyAnswer {
  CakeId cake;
  std::string answer;  ///< `none`, `named`, `not asked`
  Words allergens;     ///< keys, separated by commas; a group's key (`nuts`) where the customer named no member yet
  Words of_whom;
  Words told;  ///< what the maker told the customer, in the words told
};

/// `accepted/1`: a customer's written yes to `may contain` or traces of allergens they named.
struct Acceptance {
  CakeId cake;
  Words allergens;
  Words written;  ///< where and how it was written
};

/// `told/1`: what the customer was told, in the words told.
struct Told {
  CakeId cake;
  std::string when;  ///< `before the order`, `before it was handed over`, `after it was handed over`
  Words to;
  Words words;
  std::string text;  ///< name of the ready-made text it was made from, or empty
};

struct TierPart {
  BatchId batch;
  Mass mass;
  bool weighed = true;
};
struct Inedible {
  std::string what;
  std::int64_t count = 0;
};

/// `tier/1`: one tier of a cake, built from batches by mass, with the parts that are not food.
struct Tier {
  CakeId cake;
  std::string tier;
  std::vector<TierPart> parts;
  std::vector<Inedible> inedible;
  std::vector<EquipmentId> kit{};  ///< that it was put together with: turntable, nozzle, bag
};

/// `cleaning/1`
struct Cleaning {
  EquipmentId equipment;
  std::string grade;                  ///< `wiped`, `washed, looked clean`, `washed and tested`, `validated`
  std::string tested{};               ///< of `washed and tested`: what was tested, and what came of it; empty: it shows nothing
  std::vector<std::string> clears{};  ///< what the test looked for: allergen keys, groups, or `protein`, which is all of them but sulphites
  std::string found{};                ///< `nothing`, `something`
};

/// `kit-validation/1`: evidence on file that a way of cleaning takes the worst allergen off a piece of kit. It holds as long as the kit and
/// the recipe of the worst case stay what they were.
struct CleaningValidated {
  EquipmentId equipment;
  std::string method;                  ///< `steam, ten minutes`
  std::vector<std::string> allergens;  ///< keys of the worst case that was cleaned off
  RecipeId recipe;                     ///< that left it
  std::uint64_t recipe_version = 0;    ///< place of the recipe's note: another version is another worst case
  std::string by;                      ///< who tested
  std::string kept;                    ///< where the report is kept
  Date made{};
};

/// `kit-changed/1`: a piece of kit is not what it was: repaired, scratched, a part of another make. What was validated for it holds no
/// more.
struct EquipmentChanged {
  EquipmentId equipment;
  std::string what;
};

/// `validation/1`: evidence on file that a recipe's heat step works in its own mix.
struct Validation {
  RecipeId recipe;
  std::uint64_t recipe_version = 0;  ///< place of the recipe's note: another version is another mix
  Degrees at;
  std::int64_t hold_ms = 0;
  std::string by;    ///< body that made it
  std::string kept;  ///< where the report is kept
  Date made{};
};

/// `adopted/1`: the kitchen's plan adopts, for one recipe as it stands, a published reference for heating that is not law.
struct Adopted {
  RecipeId recipe;
  std::uint64_t recipe_version = 0;                         ///< place of the recipe's note: another version is another mix
  std::string row;                                          ///< id of the `heat-reference` row
  std::string clause;                                       ///< of the row, as it stood then: a row that changed has to be adopted anew
  std::string says_sha256;                                  ///< of what the row said then, hexadecimal
  std::optional<std::int64_t> water_activity_millionths{};  ///< of the mix that is heated, measured; nothing: not measured
  std::string measured{};                                   ///< by whom, when and how the water activity was measured
  std::string why;
};

/// A recipe as it stood; another version is another food.
struct RecipeAsStood {
  RecipeId recipe;
  std::uint64_t recipe_version = 0;  ///< place of its note
  std::optional<Mass> mass{};        ///< of a cake: how much of it was put in
};

/// `keeping/1`: what was measured of how a recipe, or a finished cake, keeps, or what a competent body wrote of it.
struct Keeping {
  std::vector<RecipeAsStood> of;                    ///< the recipe; of a cake each recipe whose batches were put in
  std::vector<RecipeAsStood> within{};              ///< what went into those, at whatever depth
  CakeId cake{};                                    ///< whose finished food it is about; empty: a part by itself
  std::string from;                                 ///< `measured`, `written advice`, `validation`
  std::optional<std::int64_t> water_activity_e4{};  ///< ten-thousandths, measured; with what the meter may be off by
  std::optional<std::int64_t> water_activity_error_e4{};
  std::optional<std::int64_t> ph_hundredths{};
  std::optional<std::int64_t> ph_error_hundredths{};
  std::string method{};                ///< of what was measured: how, `dew point, 25 °C`
  std::string by;                      ///< the laboratory, body or role that measured or wrote it
  Date made{};                         ///< day that it was measured or written
  std::string kept{};                  ///< where the report or letter is kept
  std::string place{};                 ///< of what was written: `room`, `fridge`
  std::optional<std::int64_t> days{};  ///< of what was written: for how many days it keeps there; nothing: it sets none
  std::string says{};                  ///< of what was written, in its words
};

struct ReleasedAgainst {
  std::string control;
  std::string subject;
  std::string verdict;  ///< term of what was released against
  Words finding;        ///< its sentence; kept apart, since it may tell of an allergy
  Words reason;
};
/// `release/1`: a named person's decision that the cake may leave.
struct Release {
  CakeId cake;
  std::uint64_t judged_at = 0;  ///< size of the log that was judged
  std::vector<ReleasedAgainst> against;
};

/// `hand-over/1`
struct HandOver {
  CakeId cake;
  Words to;
  Words told;
  std::optional<Degrees> degrees;
};

/// `precaution/1`: a person looked at how an allergen could get in unintended, and decided whether `may contain` is told of it.
struct PrecautionDecided {
  std::string about;                          ///< `kitchen` (every cake), or the id of a recipe or a cake
  std::string allergen;                       ///< key
  std::string decision;                       ///< `told`, `not needed`
  std::string why;                            ///< what was looked at, and found
  std::string what{};                         ///< of an estimate: what may get in, `ground hazelnuts`; empty: none was made
  std::optional<Mass> amount{};               ///< of it, in one whole cake
  std::optional<std::int64_t> protein_ppm{};  ///< its share of protein
  std::optional<Mass> slice{};                ///< the largest likely one
  bool pieces = false;                        ///< which are not spread evenly
};

/// `erasure/1`: the personal data of a cake's customer was erased, on request or because its time was over; or the name of somebody who
/// left, or what old regular records of one sort kept apart.
struct Erasure {
  CakeId cake;  ///< empty where `what` says that it is of something else
  std::string because;                    ///< `the customer asked`, `not needed any more`
  std::int64_t texts = 0;                 ///< sealed words that were erased
  std::vector<std::string> papers;        ///< SHA-256 of the kept papers that were erased, since they told some of it
  std::vector<std::string> files{};       ///< SHA-256 of the attached files that go with it
  std::vector<std::string> files_gone{};  ///< of those that should have gone and were not there
  std::string what{};                     ///< `people who work here`, `regular records`: of the person or sort that the note is about; or empty
};

/// `paper/1`: an issued paper, by the SHA-256 of its kept bytes.
struct PaperIssued {
  CakeId cake;        ///< empty: a paper of several cakes, or of a batch or pack that its note is about
  std::string paper;  ///< `label`, `record`, `allergen sheet`, `venue card`, `hand-over note`, `counter list`, `tub label`, `shelf label`,
                      ///< `recall report`, `inspection record`, `records review`
  std::string form;   ///< `pdf`, `png`, `json`
  std::string stock;
  std::int64_t box = 0;  ///< of a label: which box; 0 of a record
  std::string head;      ///< that it was drawn at
  std::string rules;     ///< digests of the rule packs
  std::string program;
  std::string says;    ///< SHA-256 of what it tells of the food; another one later means the paper is out of date
  std::string sha256;  ///< of its kept bytes
};

}  // namespace tierproof
