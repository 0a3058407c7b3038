// The other particulars of a label: how the cake is sold, dates, lot, quantity, address, type, nutrition.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "parameters.h"

namespace tierproof {
namespace {

using namespace parameter;

const std::vector<std::string> date_kinds{"use by", "best before"};

RowSays read_route(Fields& row, const RowContext&) {
  RouteTerm term;
  term.boxed = row.choice("boxed", {"before it was chosen", "after it was ordered", "not boxed", "any"});
  term.seller = row.choice("seller", {"the maker", "another business", "any"});
  term.ordered = row.choice("ordered", {"face to face", "at a distance", "any"});
  term.where = maybe_choice(row, "where", {"where it is made", "somewhere else", "delivered", "any"}, "any");
  for (auto* field : {&term.boxed, &term.seller, &term.ordered, &term.where}) {
    if (*field == "any") field->clear();
  }
  term.route = needed_text(row, "route");
  term.words = needed_text(row, "words");
  term.declaration = row.choice("declaration", {"ingredient list", "allergens"});
  term.on_pack = row.texts("on_pack");
  term.told = row.texts("told");
  term.statements = row.texts("statements");
  return term;
}

RowSays read_small_package(Fields& row, const RowContext&) {
  SmallPackageTerm term;
  term.face_below_cm2 = row.maybe_integer("face_below_cm2", 1, many).value_or(0);
  term.surface_below_cm2 = row.maybe_integer("surface_below_cm2", 1, many).value_or(0);
  if ((term.face_below_cm2 > 0) == (term.surface_below_cm2 > 0))
    row.refuse("face_below_cm2", term.face_below_cm2 > 0 ? "is given beside surface_below_cm2" : "is missing",
               "write how large it is by its largest face, or by its whole surface");
  term.routes = row.texts("routes");
  term.without = needed_texts(row, "without");
  term.told = row.texts("told");
  term.words = needed_text(row, "words");
  return term;
}

RowSays read_type_size(Fields& row, const RowContext&) {
  TypeSizeTerm term{};
  term.what = needed_text(row, "what");
  term.measured = row.choice("measured", {"x-height", "figure height", "symbol height", "letter height"});
  term.face_from_cm2 = row.maybe_integer("face_from_cm2", 0, many);
  term.face_below_cm2 = row.maybe_integer("face_below_cm2", 1, many);
  term.face_above_mm2 = row.maybe_integer("face_above_mm2", 0, many);
  term.face_up_to_mm2 = row.maybe_integer("face_up_to_mm2", 1, many);
  term.surface_from_cm2 = row.maybe_integer("surface_from_cm2", 0, many);
  term.surface_below_cm2 = row.maybe_integer("surface_below_cm2", 1, many);
  term.above = row.maybe_mass("above");
  term.up_to = row.maybe_mass("up_to");
  term.minimum_um = row.integer("minimum_um", 1, 100'000);
  if (term.face_from_cm2 && term.face_below_cm2 && *term.face_below_cm2 <= *term.face_from_cm2)
    row.refuse("face_below_cm2", "is not above face_from_cm2", "write where the row ends");
  if (term.surface_from_cm2 && term.surface_below_cm2 && *term.surface_below_cm2 <= *term.surface_from_cm2)
    row.refuse("surface_below_cm2", "is not above surface_from_cm2", "write where the row ends");
  if (term.face_above_mm2 && term.face_up_to_mm2 && *term.face_up_to_mm2 <= *term.face_above_mm2)
    row.refuse("face_up_to_mm2", "is not above face_above_mm2", "write where the row ends");
  return term;
}

RowSays read_date_mark(Fields& row, const RowContext&) {
  DateMarkTerm term;
  term.kind = row.choice("kind", date_kinds);
  if (const auto months = row.maybe_integer("life_up_to_months", 1, 1200)) term.life_up_to_months = static_cast<int>(*months);
  term.form = row.choice("form", {"day month", "day month year", "month year", "year"});
  term.wording = needed_text(row, "wording");
  term.months = row.texts("months");
  if (!term.months.empty() && term.months.size() != 12)
    row.refuse("months", fmt::format("has {} names", term.months.size()), "write twelve, January's first, or leave it out");
  term.year_first = row.flag("year_first", false);
  return term;
}

RowSays read_date_exemption(Fields& row, const RowContext&) {
  DateExemptionTerm term;
  term.kind = row.choice("kind", date_kinds);
  term.life_up_to_hours = static_cast<int>(row.integer("life_up_to_hours", 1, 1'000'000));
  term.words = needed_text(row, "words");
  return term;
}

RowSays read_lot_mark(Fields& row, const RowContext&) {
  LotMarkTerm term;
  term.prefix = row.text("prefix");
  term.not_with_day_and_month = row.flag("not_with_day_and_month", false);
  term.not_below_face_cm2 = row.maybe_integer("not_below_face_cm2", 1, many);
  return term;
}

RowSays read_net_quantity(Fields& row, const RowContext&) {
  NetQuantityTerm term;
  term.form = row.choice("form", {"metric", "metric and avoirdupois", "metric, three figures"});
  term.words = maybe_text(row, "words");
  term.by_number = row.flag("by_number", false);
  return term;
}

RowSays read_address(Fields& row, const RowContext&) {
  AddressTerm term;
  term.countries = needed_texts(row, "countries");
  for (const auto& country : term.countries) {
    if (!is_capitals(country, 2))
      row.refuse("countries", fmt::format("\"{}\" is not a country", country), "write its ISO 3166 code, two capitals");
  }
  term.words = needed_text(row, "words");
  return term;
}

RowSays read_language(Fields& row, const RowContext&) {
  LanguageTerm term;
  term.languages = needed_texts(row, "languages");
  for (std::size_t i = 0; i < term.languages.size(); ++i) {
    const auto& language = term.languages[i];
    if (!is_language(language)) {
      row.refuse("languages", fmt::format("\"{}\" is not a language", language), "write its code of two small letters, \"fr\"");
    }
    const auto here = term.languages.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::find(term.languages.begin(), here, language) != here)
      row.refuse("languages", fmt::format("\"{}\" stands there twice", language), "keep one of the two");
  }
  term.decimal_marks = other_words(row, "decimal_marks");
  term.words_from_memory = row.texts("words_from_memory");
  const auto has = [&](const std::string& language) {
    return std::find(term.languages.begin(), term.languages.end(), language) != term.languages.end();
  };
  for (const auto& [language, mark] : term.decimal_marks) {
    if (!has(language)) row.refuse("decimal_marks", fmt::format("\"{}\" is no language of the label", language), "take it out");
  }
  for (const auto& language : term.words_from_memory) {
    if (!has(language)) row.refuse("words_from_memory", fmt::format("\"{}\" is no language of the label", language), "take it out");
  }
  return term;
}

RowSays read_specification_age(Fields& row, const RowContext&) {
  SpecificationAgeTerm term;
  term.days = static_cast<int>(row.integer("days", 1, 3650));
  return term;
}

RowSays read_wording(Fields& row, const RowContext&) {
  Wording term;
  term.key = needed_text(row, "key");
  term.text = wording(row, "text");
  term.other_texts = other_words(row, "other_texts");
  return term;
}

// ---- nutrition ----------------------------------------------------------------------------------------------------------------

RowSays read_nutrition_exemption(Fields& row, const RowContext&) {
  NutritionExemptionTerm term;
  term.staff_below = row.maybe_integer("staff_below", 1, many).value_or(0);
  term.turnover_up_to = row.maybe_integer("turnover_up_to", 1, many).value_or(0);
  term.currency = maybe_text(row, "currency");
  term.local = maybe_text(row, "local");
  term.units_a_year_below = row.maybe_integer("units_a_year_below", 1, many).value_or(0);
  term.units_a_week_up_to = row.maybe_integer("units_a_week_up_to", 1, many).value_or(0);
  term.direct_or_local = row.flag("direct_or_local", true);
  if (term.turnover_up_to > 0 && !is_capitals(term.currency, 3))
    row.refuse("currency", term.currency.empty() ? "is missing" : fmt::format("\"{}\" is not a currency", term.currency),
               "write its code of three capitals, \"EUR\"");
  if (term.turnover_up_to == 0 && !term.currency.empty()) row.refuse("currency", "goes with no turnover", "leave it out");
  const bool asks = term.staff_below > 0 || term.turnover_up_to > 0 || term.units_a_year_below > 0 || term.units_a_week_up_to > 0;
  if (!asks && !term.direct_or_local)
    row.refuse("direct_or_local", "is false and nothing else is asked", "an exemption asks for something: say what");
  return term;
}

RowSays read_energy_factor(Fields& row, const RowContext&) {
  EnergyFactorTerm term;
  term.component = row.choice("component", {"fat", "carbohydrate except polyols", "polyols", "erythritol", "protein", "fibre", "alcohol",
                                            "organic acids", "salatrims"});
  term.kj_per_g = decimal(row, "kj_per_g");
  term.kcal_per_g = decimal(row, "kcal_per_g");
  return term;
}

RowSays read_nutrition_rounding(Fields& row, const RowContext&) {
  RoundingBandTerm term;
  term.nutrient = needed_text(row, "nutrient");
  term.above = maybe_decimal(row, "above");
  term.from = maybe_decimal(row, "at_or_above");  // `from` is the day of every row
  term.below = maybe_decimal(row, "below");
  term.up_to = maybe_decimal(row, "up_to");
  term.nearest = maybe_decimal(row, "nearest");
  term.words = maybe_text(row, "words");
  term.unit = needed_text(row, "unit");
  if (term.above && term.from) row.refuse("at_or_above", "is given beside above", "keep the one that the rule has");
  if (term.below && term.up_to) row.refuse("up_to", "is given beside below", "keep the one that the rule has");
  const auto starts = term.above ? term.above : term.from;
  const auto ends = term.below ? term.below : term.up_to;
  if (starts && ends && (*ends < *starts || (*ends == *starts && !(term.from && term.up_to))))
    row.refuse(term.below ? "below" : "up_to", "lies under where the band starts", "write where the band ends");
  if (term.nearest.has_value() == !term.words.empty())
    row.refuse("nearest", term.nearest ? "is given beside words" : "is missing", "give either what it is rounded to or the words");
  if (term.nearest && *term.nearest == 0) row.refuse("nearest", "is nothing", "write what it is rounded to, \"0.5\"");
  return term;
}

constexpr std::array<Mechanism, 14> mechanisms{{
    {"label", "business-address", read_address},
    {"label", "date-exemption", read_date_exemption},
    {"label", "date-mark", read_date_mark},
    {"label", "energy-factor", read_energy_factor},
    {"label", "language", read_language},
    {"label", "lot-mark", read_lot_mark},
    {"label", "net-quantity", read_net_quantity},
    {"label", "nutrition-exemption", read_nutrition_exemption},
    {"label", "nutrition-rounding", read_nutrition_rounding},
    {"label", "route", read_route},
    {"label", "small-package", read_small_package},
    {"label", "specification-age", read_specification_age},
    {"label", "type-size", read_type_size},
    {"label", "wording", read_wording},
}};

}  // namespace

std::span<const Mechanism> particular_mechanisms() { return mechanisms; }

}  // namespace tierproof
