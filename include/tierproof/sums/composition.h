#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tierproof/sums/label_terms.h"  // food_kinds, food_marks
#include "tierproof/units/ids.h"
#include "tierproof/units/mass.h"
#include "tierproof/units/result.h"
#include "tierproof/units/share.h"

namespace tierproof {

/// What a specification says of one allergen. Unknown is a value of its own, and never "free".
enum class Presence { contains, may_contain, absent, unknown };

struct AllergenStatement {
  std::string allergen;  ///< key, `nuts:almond`
  Presence presence = Presence::unknown;
  std::string evidence;    ///< what the statement rests on; an absence without evidence counts as unknown
  std::string process{};   ///< of `contains`: how it was made of the allergen, where a law may exempt that: `wheat glucose syrup`
  std::string species{};   ///< of `contains`: the animal or plant, where a law asks for it: `cod`
  bool by_itself = false;  ///< of `absent`: said of this allergen, not of all others together
};

/// One line of what the pack says it is made of.
struct DeclaredPart {
  std::string name;                    ///< as it must be printed, without emphasis: `almonds`
  std::optional<Share> share;          ///< of the ingredient it is part of, when the pack gives it
  std::string additive;                ///< `E471`, or empty
  std::string additive_class;          ///< class title it has in this food, `emulsifier`; empty unless an additive
  bool works_in_cake = true;           ///< false: carried over without a function in the cake (a person's decision)
  std::vector<DeclaredPart> parts;     ///< of a compound part, in falling order
  std::vector<std::string> allergens;  ///< keys that this part itself brings, where the pack says which part does; may be empty
  std::vector<std::string> marks{};    ///< of `food_marks`
  std::string why_idle{};              ///< of `works_in_cake` false: the person's reason
  bool processing_aid = false;         ///< not an ingredient: used in making it, left out unless it shows an allergen
  std::optional<Share> mg_per_kg{};    ///< of an additive: how much of it is in the food, when the supplier says
  friend bool operator==(const DeclaredPart&, const DeclaredPart&) = default;
};

/// One bought-in ingredient by one dated specification, as the sums need it.
struct IngredientFacts {
  IngredientId id;
  std::string label_name;           ///< as it must be printed: `ground almonds`
  std::vector<DeclaredPart> parts;  ///< empty for a simple ingredient
  std::vector<AllergenStatement> allergens;
  std::string additive;  ///< when the ingredient itself is an additive: `E330`
  std::string additive_class;
  bool added_water = false;                         ///< tap water and the like: the added-water rule applies
  std::string fixed_by_law;                         ///< composition name fixed by law (`jam`), or empty
  std::optional<Share> sulphites_mg_per_kg;         ///< total as SO2, when the specification gives it
  std::string varying_group;                        ///< `fruit` when it may stand in a mixture of varying proportions; else empty
  Share polyols = 0;                                ///< share of it that is added polyols
  std::string sweetening;                           ///< `sweetener`, `sugar` or empty
  std::string kind{};                               ///< one of `food_kinds`, or empty
  std::vector<std::string> marks{};                 ///< of `food_marks`
  std::optional<Share> glycyrrhizinic_mg_per_kg{};  ///< liquorice
  std::string limit_food{};                         ///< which food a level limit knows it as: `dried apricots`
  std::string substitutes{};                        ///< group of ingredients that stand in for each other, or empty
  std::optional<Share> dried_times{};               ///< of a dried or concentrated food: its mass before, as a multiple
  std::string sold_as{};                            ///< `food` (or empty), `for parts removed before eating`, `not for food`, `not said`
  struct InLanguage {
    std::string language;  ///< `fr`
    std::string label_name;
    std::vector<DeclaredPart> parts;  ///< as many and as deep as `parts`
    friend bool operator==(const InLanguage&, const InLanguage&) = default;
  };
  std::vector<InLanguage> other_languages{};
};

/// What one pack's specification comes to for one allergen.
struct PackStatement {
  Presence presence = Presence::unknown;
  std::string why;  ///< what an absence rests on, or why nobody can tell; empty for `contains` and `may contain`
};

/// What `food` says of `allergen`. The gravest of its statements counts: contains, then unknown, then may contain, then absent.
///
/// Unknown are: no statement at all, an absence without evidence, and a statement on a whole group (`nuts`) that names no member
/// when a member (`nuts:almond`) is asked for. A group's `may contain` and its `absent` hold for every member that has no statement of
/// its own. A part that brings the allergen makes it `contains` whatever the statements say.
PackStatement pack_statement(const IngredientFacts& food, const std::string& allergen);

/// A received pack.
struct LotFacts {
  LotId id;
  std::string code;  ///< supplier's lot code, as typed
  IngredientFacts ingredient;
};

/// What went into a batch: a pack or another batch (by index), with its real mass at the mixing bowl.
struct Use {
  enum class Of { lot, batch } of = Of::lot;
  std::size_t index = 0;  ///< into `CakeParts::lots` or `CakeParts::batches`
  Mass mass;
  Share remains = 1;           ///< of a volatile food: the share of it that is still there when the batch is finished (a person's word)
  bool reconstituted = false;  ///< of a dried or concentrated food: water was added back, so that it may rank by its mass before
};

struct BatchFacts {
  BatchId id;
  std::string name;  ///< `vanilla sponge`
  std::vector<Use> uses;
  Mass yield;                              ///< what the batch weighed when finished
  bool weighed = true;                     ///< false: the yield is estimated from the recipe
  std::vector<std::string> cross_contact;  ///< allergen keys that shared equipment may have brought (see cross_contact.h)
  std::string label_name{};                ///< customary name of what it makes, for a list by part; empty: it has none
  std::vector<std::pair<std::string, std::string>> other_names{};  ///< language and name
  std::vector<std::string> varying{};                              ///< groups whose proportions vary, by its recipe: `fruit`
};

/// A mass of one batch in one tier.
struct Placed {
  std::string tier;
  std::size_t batch = 0;  ///< into `CakeParts::batches`
  Mass mass;
  bool weighed = true;
};

/// What a person of the kitchen decided to tell of an allergen that may get in, apart from what packs say.
struct OwnPrecaution {
  std::string allergen;  ///< key
  std::string words;     ///< who, when and why
};

/// Everything the sums need to know of one cake's making, as plain values.
struct CakeParts {
  CakeId cake;
  std::vector<LotFacts> lots;
  std::vector<BatchFacts> batches;
  std::vector<Placed> placed;
  std::vector<OwnPrecaution> precautions{};  ///< those to be told; a decision not to tell takes nothing away and is not here
};

/// Ways from a cake to one pack that are told in full. They can double with every batch on the way; the masses never leave one out.
inline constexpr std::size_t most_ways = 12;

/// How much of one pack is in the cake.
struct LotAmount {
  std::size_t lot = 0;             ///< into `CakeParts::lots`
  Share ingoing_mg;                ///< as recorded at the mixing bowl, exact
  Share remaining_mg = 0;          ///< of it, what is still there: less only for volatile foods
  Share reconstituted_mg = 0;      ///< of it, what was reconstituted
  std::vector<std::string> paths;  ///< `cake-1 → batch-4 (vanilla sponge) → pack-2`, each way it comes in, sorted; of more than
                                   ///< `most_ways` that many are told, then `and 7 more ways`
};

/// How an allergen comes into the cake, or why nobody can say that it does not.
struct AllergenTrace {
  std::string allergen;
  /// The gravest over all paths: contains, then unknown, then may contain, then absent; a precaution makes an absence `may contain`.
  Presence presence = Presence::unknown;
  std::vector<std::string> contains;  ///< paths in words: `cake-1 → batch-4 (almond shells) → pack-7 (ground almonds, code A7)`
  std::vector<std::string> may_contain;
  std::vector<std::string> cross_contact;    ///< from shared equipment, kept apart
  std::vector<std::string> unknown;          ///< a line a pack that does not say: one way it comes in, `: `, and the reason
  std::vector<std::string> absent_evidence;  ///< what the absence rests on, one line a pack; only when presence is absent
  std::vector<std::string> exempt{};         ///< of `contains`, those that rules exempt, with the process (`with_exemptions`); else empty
  std::vector<std::string> precaution{};     ///< the kitchen's own `may contain`, a line a decision: `cake-1 → decided by ada: ...`
};

struct TierAmount {
  std::string tier;
  Share finished_mg;
  std::vector<std::string> allergens;                 ///< keys that it contains, sorted
  std::vector<std::pair<std::size_t, Share>> lots{};  ///< into `CakeParts::lots`, with the ingoing mass in this tier
};

/// A cake followed down to its packs, in exact fractions.
struct Composition {
  CakeId cake;
  Share finished_mg;                     ///< as sold
  Share ingoing_mg;                      ///< sum of all packs at the mixing bowl
  Share lost_mg;                         ///< ingoing − finished: water and trimmings lost on the way (negative: gained, refused)
  bool weighed = true;                   ///< false when any mass on the way is estimated
  std::vector<LotAmount> lots;           ///< by falling ingoing mass, then by ingredient id, then by lot id
  std::vector<AllergenTrace> allergens;  ///< one for every key asked for, in that order
  std::vector<TierAmount> tiers;         ///< in the order in which `CakeParts::placed` first names them
};

/// Follows every tier down through batches of batches to the packs.
///
/// Each pack's ingoing mass in the cake is the sum over its paths of mass × (mass used / yield) at every batch on the way. A batch
/// that goes in by several ways is computed once. What remains of a volatile food is also × `Use::remains` at every batch on the way.
/// @param parts      as recorded
/// @param allergens  the keys to be traced, in the order of the law
/// @return           refused, all reasons together: a batch that contains itself, an index out of range, a batch without yield or
///                   with nothing recorded in it, a mass that is not positive, a cake with nothing in it, a cake that weighs more than
///                   what went into it
Result<Composition> compose(const CakeParts& parts, const std::vector<std::string>& allergens);

/// `made` with the ways by which only exempted products of an allergen come in: `... → pack-7 (glucose syrup): wheat glucose syrup`. They
/// stay in `AllergenTrace::contains` and their presence is what it was: what a law exempts from being declared is still there.
Composition with_exemptions(Composition made, const CakeParts& parts, const LabelTerms& terms);

/// Batches of the cake whose yield is more than what was recorded as put in: something was not written down, or a mass is wrong.
/// `batch-4 (buttercream) weighs 15 g more than what went in`, sorted; only batches that reach the cake, and only valid parts.
std::vector<std::string> batches_that_gained(const CakeParts& parts);

/// What rests on an estimated mass: `batch-4 (buttercream), what it weighed when finished`, `batch-4 (buttercream) in the top tier`;
/// sorted, only batches that reach the cake, and only valid parts.
std::vector<std::string> estimated_masses(const CakeParts& parts);

}  // namespace tierproof
