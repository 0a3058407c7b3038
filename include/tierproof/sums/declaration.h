#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/sums/composition.h"
#include "tierproof/sums/label_terms.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// Text that is printed in one face: plain, or emphasised as the rules say.
struct Run {
  std::string text;
  bool emphasised = false;
  friend bool operator==(const Run&, const Run&) = default;
};

/// The text of `runs`, emphasis left out.
std::string text_of(const std::vector<Run>& runs);

/// A sentence or word that the law prescribes.
struct Statement {
  std::string text;
  std::string placed = "statement";  ///< `statement`, `name` (beside the name of the food), `after list`
  Cited cited;
  std::vector<std::size_t> lots;  ///< into `CakeParts::lots`: what brings it about
  friend bool operator==(const Statement&, const Statement&) = default;
};

/// One entry of the ingredient list.
struct ListedIngredient {
  std::vector<Run> runs;          ///< `butter (`, `MILK`, `)`; sub-list included
  std::string name;               ///< its label name without the sub-list, for order and quantities
  Share ingoing_mg;               ///< what ranks it: what was put in, but for added water, volatile and reconstituted foods
  Share of_finished;              ///< share of the finished cake
  bool any_order_at_end = false;  ///< under the small-amount rule, may follow in any order
  std::vector<std::size_t> lots;  ///< into `CakeParts::lots`
  std::vector<Cited> rules{};     ///< rows that made it what it is: its place, what was left out, its allergens and classes
  friend bool operator==(const ListedIngredient&, const ListedIngredient&) = default;
};

/// What the label must say about the food, by one set of rules.
struct Declaration {
  std::string kind;                           ///< `ingredient list` or `allergens`, as the route asks
  std::vector<ListedIngredient> ingredients;  ///< drawn up for either kind, since the cake record shows it; a label prints it only
                                              ///< under `heading`
  std::vector<Run> heading;                   ///< `Ingredients:`; empty when the kind is `allergens`
  std::vector<Run> allergen_line;             ///< `Contains: wheat, egg, milk` for routes without a list; empty otherwise
  std::vector<std::string> contains;          ///< allergen keys that are declared, in the law's order
  std::vector<std::string> may_contain;       ///< keys that a supplier's `may contain` brings, neither declared nor unknown; what shared
                                              ///< kit may bring is told apart, in `AllergenTrace::cross_contact`
  std::vector<std::string> exempt;            ///< keys that only products exempted by the rules bring: recorded, and not declared
  std::vector<std::string> unknown;           ///< keys that nobody can rule out and that are not declared; also a key of `terms` that
                                              ///< was not traced
  std::vector<Statement> statements;          ///< prescribed, each once
  std::vector<Run> summary;                   ///< `Contains: Wheat, Milk` beside a list, where the law's form has it; else empty
  std::string list = "merged";                ///< over the whole cake, or `by part`
  std::string language;                       ///< that it is in; empty: the kitchen's own
  bool water_left_out = false;
  Share added_water_mg;       ///< what remains in the finished cake, never negative
  Share sulphites_mg_per_kg;  ///< in the finished cake, from the specifications that give it
};

/// How a declaration is drawn up, of the lawful ways, and what is known of the cake as a whole.
struct DeclareAs {
  std::string list = "merged";         ///< or `by part`: each part by its customary name with its own list behind it
  std::string name;                    ///< of the food, as printed
  std::vector<std::string> marks{};    ///< of `food_marks`, of the whole cake
  std::vector<std::string> varying{};  ///< groups whose proportions vary over the whole cake, by a person's word: `fruit`
};

/// Draws up the declaration of `made` by `terms`. Pure: same values in, same words out, whatever the order of the parts.
///
/// Packs that print alike (label name, sub-list, additive class) stand as one entry at their total mass over the whole cake; packs of
/// one name whose sub-lists differ stand apart, and the shares that give a relief are taken of their total. Entries fall by the mass
/// that ranks them, equal ones by name.
/// - Mass: what was put in at the mixing bowl; of a volatile food what remains of it; of a dried or concentrated food that was
///   reconstituted, its mass before drying. Added water ranks by what the finished cake weighs more than all other ingredients
///   together, less the water that went into dried foods again (or by what was put in, where the rules say so); left out at or under
///   the limit. A food with an allergen, a sub-list or an additive never counts as water.
/// - Small amounts come last in any order: under the limit (or at it), or by their kind; the rules may have words before them. Where the
///   words name a share, kinds do not count. What was reconstituted is small only when it is by its mass before drying too.
/// - One name for several: foods of one kind (`collectives`, two or more), two that stand in for each other (`and_or`; three stay apart).
///   One that brings a declared allergen, an additive or a mark with a word never goes into these where it would not be read; to their
///   limit it counts.
/// - Varying proportions: foods of a group that `as` names, or that every batch which they went into says, stand as one where a row
///   allows it (`why_not_varying`), in a list by part within each part.
/// - Limits of a name or a kind are of the whole cake, in a list by part too.
/// - A sub-list stands in brackets behind the name in the pack's order. Neighbours of one additive class share its title:
///   `raising agents: E450, E500; maize starch`; where additives go by name, none has one. Processing aids and additives carried over
///   without a function are left out unless they show an allergen. By a relief, only parts that show an allergen or a mark's word and
///   additives with a function, those by name alone too, stay.
/// - Allergens: a word of `AllergenTerm::names` is emphasised where it stands whole in the name of the part that brings the allergen, else
///   in the ingredient's own name; where none stands, the law's word (or the species) is added behind in brackets: with each ingredient
///   that brings it, at its first use when the whole list does not show it, or not at all, as `form` says. Starch always names its plant.
/// - Exempt: a pack whose statement names a process that a row exempts does not make the allergen declared; unless a part of it shows the
///   allergen and nothing of that process (`wheat flour` beside `wheat glucose syrup`), since a pack has one statement an allergen. A row
///   from memory that nobody confirmed exempts nothing.
/// - What has no place in a summary (`in_summary`) is shown in the list, and in the line where no list is printed.
/// - Sulphites (key `sulphites`) with a threshold are declared by their exact sum over the finished mass, without credit for
///   what baking drives off; and whenever a pack contains them without a figure.
/// - By part: each part that the cake is built of stands by its customary name at its mass in the cake, its own list behind it in
///   brackets in falling order, and batches in it that have such a name in the same way within that list; others are merged into it. A
///   part of the cake without such a name falls back to the merged list for the whole cake (`why_not_by_part`). Added water is left out of
///   a part only where it may be by its share of the part's water and of all water.
/// @param kind  `ingredient list` or `allergens` (RouteTerm::declaration)
Declaration declare(const CakeParts& parts, const Composition& made, const LabelTerms& terms, std::string_view kind,
                    const DeclareAs& as = {});

/// Why the list cannot be given by part, one reason; empty when it can.
std::string why_not_by_part(const CakeParts& parts);
/// The shorter of the merged list and the list by part, in letters; merged when they are equal or a list by part cannot be given.
Declaration shorter_list(const CakeParts& parts, const Composition& made, const LabelTerms& terms, std::string_view kind,
                         const DeclareAs& as = {});

/// Judges a declaration. Every control is reported, with verdict `shown` when it holds; in this order:
/// - `allergens-known`: one finding for every allergen that nobody can rule out, without override, naming the packs to ask about.
/// - `additives-permitted`: *not met* without override for one that is not permitted; *not shown* for one that is restricted, for
///   outside decoration only, not in the table, without its number or without a class title of the law's list.
/// - `sulphites`: *not shown* when a pack contains them without a figure.
/// - `masses-weighed`: *not shown* when a mass is estimated and two ranked neighbours differ by less than a tenth, or a share
///   lies within a tenth of its limit; also when a batch weighs more than what was recorded as put into it.
std::vector<Finding> check(const CakeParts& parts, const Composition& made, const Declaration& declared, const LabelTerms& terms);

/// Why the entries of one varying group (`IngredientFacts::varying_group`) may not stand as one, `fruit in varying proportions
/// (strawberries, raspberries)`, ranked by their total; nothing: they may, where their proportions are likely to vary. That is the maker's
/// word, given with the order or the recipe (`DeclareAs::varying`, `BatchFacts::varying`).
///
/// Refused are a group that is not in `terms.varying` (nuts are not), fewer than two entries of it, and one that predominates. The law
/// gives no figure for that; here the heaviest predominates above one and a half times the mean of the group (the project's choice).
/// @param declared  drawn up without the group
/// @param group     `fruit`
Refusals why_not_varying(const CakeParts& parts, const Declaration& declared, const std::string& group, const LabelTerms& terms);

}  // namespace tierproof
