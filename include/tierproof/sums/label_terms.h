#pragma once

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/sums/cited.h"
#include "tierproof/units/mass.h"
#include "tierproof/units/share.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// What sort of food an ingredient is, where rules ask.
inline constexpr std::array food_kinds{
    "vegetable oil", "vegetable fat", "spice", "herb",      "spice mix",  "herb mix",           "starch",  "modified starch",
    "sugar",         "salt",          "flour", "leavening", "flavouring", "natural flavouring", "alcohol", "vitamin or mineral",
    "enzyme",        "fruit"};
/// What may be marked on an ingredient, a part of it or a cake, for a word that the law prescribes.
inline constexpr std::array food_marks{"nano",      "irradiated",           "raw milk",     "fully hydrogenated", "partly hydrogenated",
                                       "liquorice", "royal jelly",          "bee products", "caffeine added",     "alcohol",
                                       "defrosted", "protective atmosphere"};

/// One allergen that the law names, in the law's order.
struct AllergenTerm {
  Cited cited;
  std::string key;                 ///< `nuts:almond`, `milk`
  std::string group;               ///< heading of the law's list, `nuts`
  std::string word;                ///< the word printed on a label, `almonds`
  std::vector<std::string> names;  ///< words in an ingredient's name that are a clear reference to it (`almond`, `almonds`), lower case
  std::optional<Share> above_mg_per_kg;                           ///< declared only strictly above this much in the finished food
  bool at_threshold = false;                                      ///< declared at the threshold too
  std::vector<std::string> summary_words{};                       ///< words of the summary (`wheat`, `gluten`); empty: `word`
  bool in_summary = true;                                         ///< false: named in the list only, never in the summary
  bool name_species = false;                                      ///< the species has to be named: the cod, not fish
  std::map<std::string, std::string> other_words{};               ///< the word in other languages of the label, by language: `fr`
  std::map<std::string, std::vector<std::string>> other_names{};  ///< clear references in other languages, lower case
};

/// A product of an allergen that the law exempts. The source is recorded; it is not declared.
struct ExemptionTerm {
  Cited cited;
  std::string allergen;  ///< key
  std::string process;   ///< as a specification names it: `wheat glucose syrup`
  std::string words;     ///< what it is and under which condition, in words
};

/// How allergens are shown, by the law's form.
struct AllergenFormTerm {
  Cited cited;
  std::string in_list = "each";         ///< `each` ingredient that brings it, `first` use, `none`
  std::string summary = "forbidden";    ///< beside a list: `required`, `allowed` (then it is printed), `forbidden`
  bool summary_emphasised = false;      ///< the whole summary
  bool title_emphasised = false;        ///< its first word
  std::vector<std::string> after_list;  ///< order of what follows the list: of `statements`, `summary`, `may contain`
};

/// Several ingredients of one kind under one name: `vegetable oils (sunflower, rapeseed)`, `spices`, `Sugars (...)`.
struct CollectiveTerm {
  Cited cited;
  std::string kind;            ///< `IngredientFacts::kind`
  std::string words;           ///< printed
  std::string members;         ///< `listed` behind it, `left out`
  std::optional<Share> up_to;  ///< only when all of the kind are at or under this share of the finished cake
  std::map<std::string, std::string> other_words{};
  bool even_one = false;  ///< a single one stands under the words too: `Sugars (sugar)`
};

/// Foods of one group that may stand as one where none of them predominates and their proportions are likely to vary.
struct VaryingTerm {
  Cited cited;
  std::string group;  ///< `fruit`, as a specification names it
  std::string words;  ///< printed before the wording `varying proportions`; in the kitchen's language the group itself
  std::map<std::string, std::string> other_words{};
};

/// Two small ingredients that stand in for each other: `contains sunflower oil and/or rapeseed oil`.
struct AndOrTerm {
  Cited cited;
  Share below;          ///< strictly, of the finished cake
  std::string wording;  ///< `contains {names}`
  std::string joint;    ///< `and/or`
};

/// A compound ingredient that may go without its parts, but for allergens and additives that do something in the cake.
struct ReliefTerm {
  Cited cited;
  std::optional<Share> below;             ///< strictly, of the finished cake; nothing: any amount
  std::vector<std::string> compositions;  ///< `IngredientFacts::fixed_by_law` or `kind`; `any` for every compound ingredient
  bool additives_too = false;             ///< additives that do something in the cake may be left out with the other parts
};

/// Parts that the law has added to a food: its specification must name them.
struct StatutoryPartsTerm {
  Cited cited;
  std::string composition;         ///< `IngredientFacts::fixed_by_law`
  std::vector<std::string> parts;  ///< names, lower case
  std::string unless;              ///< when it may lack them, in words
};

/// A word or sentence prescribed for what is marked on a specification or a cake: `irradiated`, `nano`, `defrosted`.
struct MarkWording {
  Cited cited;
  std::string mark;     ///< one of `food_marks`
  std::string wording;  ///< `(nano)`
  std::string
      placed;  ///< `ingredient` (behind its name), `name` (beside the name of the food), `statement`, `after list`, `told` (not printed)
};

/// A sentence prescribed by an amount in the finished cake, at or above the one and below the other.
struct AmountWording {
  Cited cited;
  std::string of;  ///< `glycyrrhizinic acid`
  Share from_mg_per_kg;
  std::optional<Share> below_mg_per_kg;
  std::string wording;
  std::string placed;        ///< as of `MarkWording`
  std::string unless_named;  ///< not when this word stands in the list or the name; may be empty
};

/// The most of something in one kind of bought-in food or in the cake. Only a level check: it needs a supplier's figure.
struct LevelLimitTerm {
  Cited cited;
  std::string of;                    ///< `sulphites`, or what `numbers` are together
  std::vector<std::string> numbers;  ///< additives that count together; empty for sulphites
  std::string food;                  ///< `IngredientFacts::limit_food`, or `cake`
  Share up_to_mg_per_kg;             ///< at or under
};

/// Quantities of ingredients that characterise the food.
struct NamedQuantityTerm {
  Cited cited;
  Share per_100g_above;                    ///< a figure or their total strictly above: weights per 100 g instead
  Share one_decimal_below;                 ///< rounding
  std::vector<std::string> flavour_kinds;  ///< kinds whose small use for flavour needs no figure
  std::string per_100g = "g per 100 g";    ///< printed behind a weight
  std::map<std::string, std::string> other_per_100g{};
  std::string decimal_mark = ".";  ///< of the language that the figures are printed in
};

/// How an additive is printed.
struct AdditiveFormTerm {
  Cited cited;
  std::string form;                       ///< `class and name`, `name`
  std::vector<std::string> with_class{};  ///< classes whose title stands behind the name all the same, in brackets
};

/// A class title of additives, and what it is of several.
struct ClassTitleTerm {
  Cited cited;
  std::string title;                                   ///< `colour`
  std::string plural;                                  ///< `colours`
  std::map<std::string, std::string> other_titles{};   ///< in other languages of the label, by language: `Farbstoff`
  std::map<std::string, std::string> other_plurals{};  ///< of each of those: `Farbstoffe`
};

struct LotMarkTerm {
  Cited cited;
  std::string prefix;                                ///< `L`
  bool not_with_day_and_month = false;               ///< a date with day and month stands for it
  std::optional<std::int64_t> not_below_face_cm2{};  ///< not asked when the largest face is strictly under
};

struct NetQuantityTerm {
  Cited cited;
  std::string form;        ///< `metric`, `metric and avoirdupois`, `metric, three figures`
  std::string words;       ///< before it, `NET WT`; may be empty
  bool by_number = false;  ///< a food that is customarily sold by number may give its number instead
};

/// What the name and address of the business must be.
struct AddressTerm {
  Cited cited;
  std::vector<std::string> countries;  ///< ISO 3166 codes, one of which the kitchen must be in
  std::string words;                   ///< what is asked for, in words
};

/// A food that needs no date.
struct DateExemptionTerm {
  Cited cited;
  std::string kind;          ///< `best before`
  int life_up_to_hours = 0;  ///< keeps no longer than this
  std::string words;         ///< which food, in words
};

struct LanguageTerm {
  Cited cited;
  std::vector<std::string> languages{"en"};            ///< the label is printed in all of them, the first first
  std::map<std::string, std::string> decimal_marks{};  ///< of those that write another than a point, by language: `,`
  std::vector<std::string> words_from_memory{};        ///< those whose words in the rules nobody read in the law
};

/// How old what the packs say may be before somebody has to look again.
struct SpecificationAgeTerm {
  Cited cited;
  int days = 0;
};

/// A word that customers use for several allergens at once.
struct GroupAnswerTerm {
  Cited cited;
  std::string word;                    ///< `nuts`
  std::vector<std::string> names;      ///< other ways to say it, lower case
  std::vector<std::string> counts_as;  ///< keys, or headings of the law's list: all of them
  bool ask_which = true;               ///< vague: the order stops until the customer has said which; false: it means all of them
};

/// An additive, its usual class titles and its standing.
struct AdditiveTerm {
  Cited cited;
  std::string number;  ///< `E471`; of one that has no number its name, up to the first comma
  std::string name;
  std::vector<std::string> classes;  ///< titles it may carry, the usual first
  /// `permitted`, `not permitted`, `restricted`, `decoration only`, `not judged` (nobody looked it up), for use in or on a cake
  std::string status;
  std::string note;  ///< why, in words; may be empty
  /// What else is known of it: `sulphite`, `polyol`, `sweetener`, `phenylalanine`, `soy`, `egg`, `soy-exempt`, `milk-exempt`,
  /// `animal`, and `ask-sulphite`, `ask-soy-egg`, `ask-soy`, `ask-gluten`, `ask-animal` where only the specification can tell: what
  /// they ask of allergens `judge_names` asks.
  std::vector<std::string> flags = {};
  std::string print{};  ///< name that the law prints, where it is not `name`: `Yellow 5`
};

/// A sentence that the law prescribes for some additives: printed once, naming those present.
struct AdditiveWording {
  Cited cited;
  std::vector<std::string> numbers;
  std::string wording;               ///< `{names}: may have an adverse effect ...`
  std::string shown_by{};            ///< only where the list shows it by its `number` or by its `name`; empty: either
  std::vector<std::string> foods{};  ///< words in the name of a food or part that bring it about too: `bleached flour`
  std::string suspended{};           ///< why it is told instead of printed, until the kitchen has the row confirmed; empty: it is printed
};

/// A sentence prescribed when a share is passed (added polyols) or a thing is present (sweeteners).
struct ShareWording {
  Cited cited;
  std::string of;  ///< `polyols`, `sweeteners`, `sugars and sweeteners`
  Share above;     ///< strictly above this share of the finished food
  std::string wording;
  std::string placed = "statement";  ///< `statement`, `name` (beside the name of the food)
};

struct ShareTerm {
  Cited cited;
  Share limit;
  bool inclusive = false;  ///< of small amounts: at the limit too
  std::string wording{};   ///< of small amounts: `Contains 2 percent or less of {names}`; empty: no words
  std::vector<std::string>
      kinds{};  ///< of small amounts: kinds that may come last whatever their share; with these and a limit of 0, only they
};

/// One row of the answers to "how is it sold?". An empty match field matches any answer.
struct RouteTerm {
  Cited cited;
  std::string boxed;                      ///< `before it was chosen`, `after it was ordered`, `not boxed`
  std::string seller;                     ///< `the maker`, `another business`
  std::string ordered;                    ///< `face to face`, `at a distance`
  std::string route;                      ///< key, `prepacked for direct sale`
  std::string words;                      ///< the plain sentence on papers
  std::string declaration;                ///< `ingredient list`, `allergens`
  std::vector<std::string> on_pack;       ///< particulars that the pack must carry: `name`, `ingredients`, `allergens`, ...
  std::vector<std::string> told;          ///< what must be told otherwise, in words
  std::string where{};                    ///< `where it is made`, `somewhere else`, `delivered`; empty: anywhere
  std::vector<std::string> statements{};  ///< keys of wordings that the pack must carry
  std::optional<Cited> small_package{};   ///< the row by which a small package may leave some of it out; set by `for_package`
};

/// What a small package may go without.
struct SmallPackageTerm {
  Cited cited;
  std::int64_t face_below_cm2 = 0;     ///< largest face strictly under; 0: it goes by the whole surface
  std::vector<std::string> without;    ///< of `RouteTerm::on_pack`
  std::vector<std::string> told;       ///< what must be told instead, in words
  std::string words;                   ///< the plain sentence on papers
  std::int64_t surface_below_cm2 = 0;  ///< whole surface strictly under; 0: it goes by the largest face
  std::vector<std::string> routes{};   ///< of `RouteTerm::route`, those it holds for; empty: all
};

struct TypeSizeTerm {
  Cited cited;
  std::string what;                                 ///< `text`, `net quantity e-mark`
  std::string measured;                             ///< `x-height`, `figure height`, `symbol height`, `letter height`
  std::optional<std::int64_t> face_from_cm2;        ///< largest face at or above
  std::optional<std::int64_t> face_below_cm2;       ///< largest face below
  std::optional<Mass> above;                        ///< quantity strictly above
  std::optional<Mass> up_to;                        ///< quantity at or below
  std::int64_t minimum_um;                          ///< micrometres
  std::optional<std::int64_t> face_above_mm2{};     ///< area of the principal display strictly above
  std::optional<std::int64_t> face_up_to_mm2{};     ///< at or under
  std::optional<std::int64_t> surface_from_cm2{};   ///< whole surface of the package at or above, or not known
  std::optional<std::int64_t> surface_below_cm2{};  ///< whole surface known and below
};

struct DateMarkTerm {
  Cited cited;
  std::string kind;                      ///< `use by`, `best before`
  std::optional<int> life_up_to_months;  ///< applies to lives up to and including
  std::string form;                      ///< `day month`, `month year`, `year`
  std::string wording;                   ///< `Best before`
  std::vector<std::string> months{};     ///< twelve names of months; empty: the English ones
  bool year_first = false;               ///< year, month, day
};

struct Wording {
  Cited cited;
  std::string key;  ///< `ingredients heading`, `contains`, `storage chilled`
  std::string text;
  std::map<std::string, std::string> other_texts{};  ///< in other languages of the label, by language
};

/// Reference dose of one allergen: mg of its total protein on one eating occasion. No value where the experts set none.
struct ReferenceDoseTerm {
  Cited cited;
  std::string allergen;  ///< key
  std::optional<Share> mg_protein;
  std::string status;  ///< `recommended`, `provisional`, `none set`
};

/// Whether a small maker's food, supplied directly or through local shops, may go without a nutrition table.
struct NutritionExemptionTerm {
  Cited cited;
  std::int64_t staff_below = 0;         ///< strictly fewer people; 0: not asked
  std::int64_t turnover_up_to = 0;      ///< a year, whole units of `currency`, at or under; 0: not asked
  std::string currency;                 ///< `EUR`
  std::string local;                    ///< what local means, in words: `the same county, or an adjoining one within 50 km`
  std::int64_t units_a_year_below = 0;  ///< units of the food, strictly; 0: not asked
  std::int64_t units_a_week_up_to = 0;  ///< at or under; 0: not asked
  bool direct_or_local = true;          ///< asked whether all is sold so
};

/// Energy of one gram of a component: `fat`, `carbohydrate except polyols`, `polyols`, `erythritol`, `protein`, `fibre`, `alcohol`,
/// `organic acids`, `salatrims`.
struct EnergyFactorTerm {
  Cited cited;
  std::string component;
  Share kj_per_g;
  Share kcal_per_g;
};

/// One band of the rounding of a nutrient: what is printed from an amount to another.
struct RoundingBandTerm {
  Cited cited;
  std::string nutrient;          ///< `fat`, `calories`
  std::optional<Share> above;    ///< strictly; of `above` and `from` one or none
  std::optional<Share> from;     ///< at or above
  std::optional<Share> below;    ///< strictly; of `below` and `up_to` one or none
  std::optional<Share> up_to;    ///< at or under
  std::optional<Share> nearest;  ///< rounded to a multiple of this, half up; else `words`
  std::string words;             ///< `less than 5 mg`, `0`
  std::string unit;              ///< `g`
};

struct NameHints;  // sums/name_hints.h

struct AdditiveNames;  // see `keep_additive_names`

/// The label set of one jurisdiction in force on one day.
struct LabelTerms {
  std::string jurisdiction;  ///< `gb`
  std::string title;         ///< `Great Britain`
  Date on{};
  std::vector<AllergenTerm> allergens;
  std::vector<GroupAnswerTerm> group_answers;
  std::string emphasis;  ///< `bold capitals`
  Cited emphasis_cited;
  ShareTerm water_ignored_up_to;  ///< added water at or under this share of the finished cake may be left out
  ShareTerm any_order_below;      ///< ingredients strictly under this share may follow in any order
  std::vector<VaryingTerm> varying;
  std::vector<AdditiveTerm> additives;
  std::shared_ptr<AdditiveNames> additive_names;  ///< see `keep_additive_names`
  std::vector<std::string> class_titles;
  std::vector<ClassTitleTerm> class_words;  ///< the same titles with their plurals
  std::vector<AdditiveWording> additive_wordings;
  std::vector<ShareWording> share_wordings;
  std::vector<RouteTerm> routes;
  std::vector<SmallPackageTerm> small_packages;
  std::vector<TypeSizeTerm> type_sizes;
  std::vector<DateMarkTerm> date_marks;
  std::vector<Wording> wordings;
  std::vector<ExemptionTerm> exemptions;
  AllergenFormTerm form;
  bool water_ranked_as_used = false;  ///< added water by what was put in, not by what remains
  std::vector<CollectiveTerm> collectives;
  std::optional<AndOrTerm> and_or;
  std::vector<ReliefTerm> reliefs;
  std::vector<StatutoryPartsTerm> statutory_parts;
  std::vector<MarkWording> mark_wordings;
  std::vector<AmountWording> amount_wordings;
  std::vector<LevelLimitTerm> level_limits;
  std::optional<NamedQuantityTerm> named_quantities;
  AdditiveFormTerm additive_form{{}, "class and name", {}};
  std::optional<LotMarkTerm> lot_mark;
  std::optional<NetQuantityTerm> net_quantity;
  std::optional<AddressTerm> address;
  std::vector<DateExemptionTerm> date_exemptions;
  LanguageTerm language;
  std::optional<SpecificationAgeTerm> specification_age;
  std::vector<ReferenceDoseTerm> reference_doses;
  std::vector<NutritionExemptionTerm> nutrition_exemptions;
  std::vector<EnergyFactorTerm> energy_factors;
  std::vector<RoundingBandTerm> rounding;
  /// What the names of foods tell, not owned; without it any name beside an exempt product is taken to be the allergen itself.
  const NameHints* vocabulary = nullptr;
  /// The text of `key`, or nothing.
  const Wording* wording(std::string_view key) const;
  const AllergenTerm* allergen(std::string_view key) const;
  /// The term for what a customer said, by its word or another name of it, whatever the case; or nothing.
  const GroupAnswerTerm* group_answer(std::string_view said) const;
  /// The allergen keys that `answer` stands for, in the law's order.
  std::vector<std::string> keys_of(const GroupAnswerTerm& answer) const;
  const AdditiveTerm* additive(std::string_view number) const;
  const VaryingTerm* varying_group(std::string_view group) const;
};

/// Has the names that rows answer to worked out once for these terms and every copy of them, where somebody first asks, and not anew at
/// each question. To be called again when rows of `additives` have been changed; rows that were added or taken out are noticed.
void keep_additive_names(LabelTerms& terms);

}  // namespace tierproof
