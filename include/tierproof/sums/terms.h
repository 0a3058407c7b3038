#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/units/mass.h"
#include "tierproof/units/share.h"
#include "tierproof/units/temperature.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// Where a term comes from: the row of the rule pack, the source and clause, and whether the law was read or remembered.
struct Cited {
  std::string row;     ///< id of the row
  std::string clause;  ///< `assimilated Reg (EU) 1169/2011 art. 21(1)`
  bool from_memory = false;
  friend bool operator==(const Cited&, const Cited&) = default;
};
/// `[row: clause]`, or `[row: clause (from memory)]`: what a finding prints as its source.
std::string cite(const Cited& cited);

// ---- what a label must say ------------------------------------------------------------------------------------------------

/// One allergen that the law names, in the law's order.
struct AllergenTerm {
  Cited cited;
  std::string key;                 ///< `nuts:almond`, `milk`
  std::string group;               ///< heading of the law's list, `nuts`
  std::string word;                ///< the word printed on a label, `almonds`
  std::vector<std::string> names;  ///< words in an ingredient's name that are a clear reference to it (`almond`, `almonds`), lower case
  std::optional<Share> above_mg_per_kg;  ///< declared only strictly above this much in the finished food
  bool at_threshold = false;             ///< declared at the threshold too
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
  std::string number;  ///< `E471`
  std::string name;
  std::vector<std::string> classes;  ///< titles it may carry, the usual first
  std::string status;                ///< `permitted`, `not permitted`, `restricted`, `decoration only`, for use in or on a cake
  std::string note;                  ///< why, in words; may be empty
  /// What else is known of it: `sulphite`, `polyol`, `sweetener`, `phenylalanine`, `soy`, `egg`, `soy-exempt`, `milk-exempt`,
  /// `animal`, and `ask-sulphite`, `ask-soy-egg`, `ask-gluten`, `ask-animal` where only the specification can tell.
  std::vector<std::string> flags = {};
};

/// A sentence that the law prescribes for some additives: printed once, naming those present.
struct AdditiveWording {
  Cited cited;
  std::vector<std::string> numbers;
  std::string wording;  ///< `{names}: may have an adverse effect ...`
};

/// A sentence prescribed when a share is passed (added polyols) or a thing is present (sweeteners).
struct ShareWording {
  Cited cited;
  std::string of;  ///< `polyols`, `sweeteners`, `sugars and sweeteners`
  Share above;     ///< strictly above this share of the finished food
  std::string wording;
};

struct ShareTerm {
  Cited cited;
  Share limit;
};

/// One row of the answers to "how is it sold?". An empty match field matches any answer.
struct RouteTerm {
  Cited cited;
  std::string boxed;                 ///< `before it was chosen`, `after it was ordered`, `not boxed`
  std::string seller;                ///< `the maker`, `another business`
  std::string ordered;               ///< `face to face`, `at a distance`
  std::string route;                 ///< key, `prepacked for direct sale`
  std::string words;                 ///< the plain sentence on papers
  std::string declaration;           ///< `ingredient list`, `allergens`
  std::vector<std::string> on_pack;  ///< particulars that the pack must carry: `name`, `ingredients`, `allergens`, ...
  std::vector<std::string> told;     ///< what must be told otherwise, in words
};

struct TypeSizeTerm {
  Cited cited;
  std::string what;                            ///< `text`, `net quantity e-mark`
  std::string measured;                        ///< `x-height`, `figure height`
  std::optional<std::int64_t> face_from_cm2;   ///< largest face at or above
  std::optional<std::int64_t> face_below_cm2;  ///< largest face below
  std::optional<Mass> above;                   ///< quantity strictly above
  std::optional<Mass> up_to;                   ///< quantity at or below
  std::int64_t minimum_um;                     ///< micrometres
};

struct DateMarkTerm {
  Cited cited;
  std::string kind;                      ///< `use by`, `best before`
  std::optional<int> life_up_to_months;  ///< applies to lives up to and including
  std::string form;                      ///< `day month`, `month year`, `year`
  std::string wording;                   ///< `Best before`
};

struct Wording {
  Cited cited;
  std::string key;  ///< `ingredients heading`, `contains`, `storage chilled`
  std::string text;
};

/// The label set of one jurisdiction in force on one day.
struct LabelTerms {
  std::string jurisdiction;  ///< `gb`
  std::string title;         ///< `Great Britain`
  Date on{};
  std::vector<AllergenTerm> allergens;
  std::vector<GroupAnswerTerm> group_answers;
  std::string emphasis;  ///< `bold capitals`
  Cited emphasis_cited;
  ShareTerm water_ignored_up_to;    ///< added water at or under this share of the finished cake may be left out
  ShareTerm any_order_below;        ///< ingredients strictly under this share may follow in any order
  ShareTerm compound_relief_below;  ///< a compound ingredient of a composition fixed by law may go without its parts strictly under this
  std::vector<std::string> fixed_by_law;    ///< composition names that the relief knows: `chocolate`, `jam`
  std::vector<std::string> varying_groups;  ///< group words of mixtures in varying proportions: `fruit`, `vegetables`, `mushrooms`
  Cited varying_cited;
  std::vector<AdditiveTerm> additives;
  std::vector<std::string> class_titles;
  std::vector<AdditiveWording> additive_wordings;
  std::vector<ShareWording> share_wordings;
  std::vector<RouteTerm> routes;
  std::vector<TypeSizeTerm> type_sizes;
  std::vector<DateMarkTerm> date_marks;
  std::vector<Wording> wordings;
  /// The text of `key`, or nothing.
  const Wording* wording(std::string_view key) const;
  const AllergenTerm* allergen(std::string_view key) const;
  /// The term for what a customer said, by its word or another name of it, whatever the case; or nothing.
  const GroupAnswerTerm* group_answer(std::string_view said) const;
  /// The allergen keys that `answer` stands for, in the law's order.
  std::vector<std::string> keys_of(const GroupAnswerTerm& answer) const;
  const AdditiveTerm* additive(std::string_view number) const;
};

// ---- heat, cold and time ----------------------------------------------------------------------------------------------------

/// One row of a time-temperature table: a row is a row, never interpolated.
struct HeatRow {
  Cited cited;
  std::string food;  ///< which foods: `core of a cooked food`, `egg white with sugar`
  Temperature at;    ///< at or above
  Span hold;         ///< unbroken, at least
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
  Temperature limit;        ///< food at or below is within it
  std::string measured_in;  ///< `food`, `air`
  bool advice = false;      ///< advice, not law
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

/// The temperature set of one place in force on one day.
struct TemperatureTerms {
  std::string jurisdiction;
  std::string title;
  Date on{};
  std::vector<HeatRow> heat_rows;
  std::vector<HeatEquivalence> equivalences;
  std::vector<ChillTerm> chill;  ///< law before advice
  std::vector<WarmAllowance> allowances;
  std::vector<EggMixTerm> egg_mix;
  std::optional<ProbeTerm> probe;
  std::vector<GapTerm> gaps;
  std::vector<ColdPlaceTerm> cold_places = {};  ///< a place may have these and no limit on food in `chill`
};

/// How long records are kept after a cake was handed over or its date passed.
struct RetentionTerm {
  Cited cited;
  std::string counts_from;  ///< `use by`, `best before`, `hand over`
  int months = 0;           ///< or `days`: one of the two is 0
  int days = 0;
  std::string what = "record";  ///< `record`: of the food; `personal data`: of the customer, who must be reachable that long
};
struct RetentionTerms {
  std::string jurisdiction;
  Date on{};
  std::vector<RetentionTerm> rows;
};

}  // namespace tierproof
