// The ingredient list: order, names of kinds, compounds, words and sentences beside it, quantities.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "parameters.h"

namespace tierproof {
namespace {

using namespace parameter;

const std::vector<std::string> places{"ingredient", "name", "statement", "after list", "told"};

RowSays read_added_water(Fields& row, const RowContext&) {
  const auto ignored = maybe_percent(row, "ignored_up_to");
  const auto ranked = maybe_choice(row, "ranked", {"what remains", "as used"}, "what remains");
  return AddedWaterRow{ignored.value_or(0), ranked == "as used"};
}

RowSays read_any_order(Fields& row, const RowContext&) {
  AnyOrderRow term;
  const auto below = maybe_percent(row, "below");
  const auto up_to = maybe_percent(row, "up_to");
  term.kinds = kinds(row, "kinds");
  if (row.has("wording")) {
    term.wording = wording_of_names(row, "wording");
  } else {
    row.any("wording");
  }
  if (below && up_to) row.refuse("up_to", "is given beside below", "keep the one that the law has");
  if (!below && !up_to && term.kinds.empty())
    row.refuse("below", "is missing", "write a share, \"2 %\", as below or up_to, or the kinds that may come last");
  if ((below && *below == 0) || (up_to && *up_to == 0))
    row.refuse(below ? "below" : "up_to", "is nothing", "write a share, or leave it out and give the kinds");
  if (!term.wording.empty() && !up_to && !below) row.refuse("wording", "stands without a share", "give the share that it tells of");
  term.limit = below ? *below : up_to.value_or(0);
  term.inclusive = up_to.has_value();
  return term;
}

RowSays read_collective(Fields& row, const RowContext&) {
  CollectiveTerm term;
  term.kind = food_kind(row, "kind");
  term.words = needed_text(row, "words");
  term.members = row.choice("members", {"listed", "left out"});
  term.up_to = maybe_percent(row, "up_to");
  term.other_words = other_words(row, "other_words");
  term.even_one = row.flag("even_one", false);
  return term;
}

RowSays read_and_or(Fields& row, const RowContext&) {
  AndOrTerm term;
  term.below = percent(row, "below");
  term.wording = wording_of_names(row, "wording");
  term.joint = needed_text(row, "joint");
  return term;
}

RowSays read_compound_relief(Fields& row, const RowContext&) {
  ReliefTerm term;
  term.compositions = needed_texts(row, "compositions");
  term.below = maybe_percent(row, "below");
  term.additives_too = row.flag("additives_too", false);
  return term;
}

RowSays read_statutory_parts(Fields& row, const RowContext&) {
  StatutoryPartsTerm term;
  term.composition = needed_text(row, "composition");
  term.parts = lower_texts(row, "parts");
  if (term.parts.empty()) row.refuse("parts", "has nothing in it", "write at least one text in the list");
  term.unless = maybe_text(row, "unless");
  return term;
}

RowSays read_varying(Fields& row, const RowContext&) {
  VaryingTerm term;
  term.group = needed_text(row, "group");
  term.words = term.group;
  term.other_words = other_words(row, "other_words");
  return term;
}

RowSays read_mark_wording(Fields& row, const RowContext&) {
  MarkWording term;
  term.mark = row.choice("mark", {food_marks.begin(), food_marks.end()});
  term.wording = wording(row, "wording");
  term.placed = row.choice("placed", places);
  return term;
}

RowSays read_amount_wording(Fields& row, const RowContext&) {
  AmountWording term;
  term.of = row.choice("of", {"glycyrrhizinic acid", "sulphites"});
  term.from_mg_per_kg = decimal(row, "from_mg_per_kg");
  term.below_mg_per_kg = maybe_decimal(row, "below_mg_per_kg");
  if (term.below_mg_per_kg && *term.below_mg_per_kg <= term.from_mg_per_kg)
    row.refuse("below_mg_per_kg", "is not above from_mg_per_kg", "write where the wording ends, or leave it out");
  term.wording = wording(row, "wording");
  term.placed = row.choice("placed", places);
  term.unless_named = maybe_text(row, "unless_named");
  return term;
}

RowSays read_share_wording(Fields& row, const RowContext&) {
  ShareWording term;
  term.of = row.choice("of", {"polyols", "sweeteners", "sugars and sweeteners"});
  term.above = percent(row, "above");
  term.wording = wording(row, "wording");
  term.placed = maybe_choice(row, "placed", {"statement", "name"}, term.placed);
  return term;
}

RowSays read_named_quantities(Fields& row, const RowContext&) {
  NamedQuantityTerm term;
  term.per_100g_above = percent(row, "per_100g_above");
  term.one_decimal_below = percent(row, "one_decimal_below");
  term.flavour_kinds = kinds(row, "flavour_kinds");
  term.per_100g = needed_text(row, "per_100g");
  term.other_per_100g = other_words(row, "other_per_100g");
  return term;
}

constexpr std::array<Mechanism, 11> mechanisms{{
    {"label", "added-water", read_added_water},
    {"label", "amount-wording", read_amount_wording},
    {"label", "and-or", read_and_or},
    {"label", "any-order-below", read_any_order},
    {"label", "collective-name", read_collective},
    {"label", "compound-relief", read_compound_relief},
    {"label", "mark-wording", read_mark_wording},
    {"label", "named-quantities", read_named_quantities},
    {"label", "share-wording", read_share_wording},
    {"label", "statutory-parts", read_statutory_parts},
    {"label", "varying-proportions", read_varying},
}};

}  // namespace

std::span<const Mechanism> list_mechanisms() { return mechanisms; }

}  // namespace tierproof
