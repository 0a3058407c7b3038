#include "tierproof/app/scaling.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "checking.h"
#include "tierproof/sums/tins.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr std::int64_t tenths_per_inch = 254;
constexpr std::int64_t tenths_per_centimetre = 100;

std::optional<std::int64_t> tenths_in(std::string_view text) {
  std::int64_t unit = tenths_per_inch;
  if (text.ends_with("cm")) {
    unit = tenths_per_centimetre;
    text.remove_suffix(2);
  }
  const auto length = parse_decimal(text);
  if (!length) return std::nullopt;
  const Share tenths = *length * unit;
  if (denominator(tenths) != 1 || tenths < 1 || tenths > 50'000) return std::nullopt;
  return static_cast<std::int64_t>(numerator(tenths));
}

std::string length_told(std::int64_t tenths) {
  if (tenths % (tenths_per_inch / 2) == 0)
    return format_decimal(share_of(tenths, tenths_per_inch), tenths % tenths_per_inch == 0 ? 0 : 1) + " in";
  return format_decimal(share_of(tenths, tenths_per_centimetre), 2) + " cm";
}

ExactTins exact(const RecipeTin& tin) { return {tin.shape == "round", tin.across, tin.depth, tin.count}; }

Tin in_inches(const RecipeTin& tin) {
  return {tin.shape == "round", static_cast<double>(tin.across) / tenths_per_inch, static_cast<double>(tin.depth) / tenths_per_inch};
}

/// By the bakers' guides, a tin each.
std::string portions_told(const RecipeTin& tin) {
  const double area = area_of(in_inches(tin));
  const bool small = tin.across <= 6 * tenths_per_inch;
  return fmt::format(
      "{}: about {} dessert portions of 1 by 2 in, {} fingers of 1 by 1 in, {} party portions of 2 by 2 in each (bakers' "
      "guides, which differ; no standard)",
      tin_in_words(tin), portions_of(area, small, 1, 2), portions_of(area, small, 1, 1), portions_of(area, small, 2, 2));
}

}  // namespace

std::optional<RecipeTin> read_tin(std::string_view text) {
  RecipeTin tin;
  if (const auto x = text.find('x'); x != std::string_view::npos) {
    const auto count = parse_decimal(text.substr(0, x));
    if (!count || denominator(*count) != 1 || *count < 1 || *count > 1000) return std::nullopt;
    tin.count = static_cast<std::int64_t>(numerator(*count));
    text.remove_prefix(x + 1);
  }
  const auto first = text.find(':');
  const auto second = first == std::string_view::npos ? first : text.find(':', first + 1);
  if (second == std::string_view::npos) return std::nullopt;
  tin.shape = std::string{text.substr(0, first)};
  const auto across = tenths_in(text.substr(first + 1, second - first - 1));
  const auto depth = tenths_in(text.substr(second + 1));
  if ((tin.shape != "round" && tin.shape != "square") || !across || !depth) return std::nullopt;
  tin.across = *across;
  tin.depth = *depth;
  return tin;
}

std::string tin_as_typed(const RecipeTin& tin) {
  const auto centimetres = [](std::int64_t tenths) { return format_decimal(share_of(tenths, tenths_per_centimetre), 2); };
  return fmt::format("{}x{}:{}cm:{}cm", tin.count, tin.shape, centimetres(tin.across), centimetres(tin.depth));
}

std::string tin_in_words(const RecipeTin& tin) {
  return fmt::format("{}{}, {} across, {} deep", tin.count == 1 ? "" : fmt::format("{} ", tin.count), tin.shape, length_told(tin.across),
                     length_told(tin.depth));
}

Mass times(Mass mass, const Share& factor) {
  const Share product = factor * mass.to_milligrams();
  const auto rounded = (numerator(product) * 2 + denominator(product)) / (denominator(product) * 2);
  return Mass::milligrams(static_cast<std::int64_t>(rounded));
}

Result<MeasuredFood> measured_food(const Session& session, const MeasureAsked& asked) {
  Checking checking{session};
  const State& state = session.state();
  checking.known("ingredient", state.ingredients, asked.ingredient, "ingredient");
  const auto measures = kitchen_measures();
  const auto measure = std::find_if(measures.begin(), measures.end(), [&](const auto& one) { return one.name == asked.measure; });
  if (measure == measures.end()) {
    std::vector<std::string_view> names;
    for (const auto& one : measures) names.push_back(one.name);
    checking.refuse("amount", fmt::format("\"{}\" is no measure of a known size", asked.measure),
                    fmt::format("write one of {}", fmt::join(names, ", ")));
  }
  if (asked.count <= 0 || asked.count > 10'000)
    checking.refuse("amount", "is not a number above 0 and up to 10000", "write it as 2:cup-250");
  std::optional<Share> density = asked.density;
  std::string by = asked.density_by;
  if (density) {
    checking.words("--density-by", by);
    if (*density <= 0 || *density > 30) checking.refuse("--density", "is not a density of food", "write kg a litre, such as 0.53");
  } else {
    for (const auto& [place, says] : state.specifications) {
      const auto& value = says.value;
      if (value.ingredient.text() != asked.ingredient || !value.density_mg_per_ml) continue;
      if (!asked.supplier.empty() && value.supplier.text() != asked.supplier) continue;
      if (state.specification(value.ingredient, value.supplier, session.today()) != &says) continue;
      const Share found = share_of(*value.density_mg_per_ml, 1000);
      if (density && *density != found)
        checking.refuse("--from", fmt::format("packs of {} from several suppliers have other densities", asked.ingredient),
                        "name whose pack it is (--from)");
      density = found;
      by = fmt::format("{}, pack of {}", value.density_by, value.supplier.text());
    }
    if (!density)
      checking.refuse("--density", fmt::format("nobody says how heavy {} is by volume", asked.ingredient),
                      "weigh a level measure of it: give --density with --density-by, or write both into the specification");
  }
  if (!checking.good()) return checking.refusals();
  const double milligrams = to_double(asked.count) * measure->millilitres * to_double(*density) * 1000;
  return MeasuredFood{Mass::milligrams(std::llround(milligrams)), fmt::format("{} kg a litre, {}", format_decimal(*density, 3), by)};
}

Result<ScaledRecipe> scaled_recipe(const Recipe& recipe, const std::vector<RecipeTin>& tins) {
  if (tins.empty()) return Refusal{"", 0, "--tin", "no tin is named", "write each as shape:size:depth in inches, such as round:8:3"};
  if (!recipe.tin) {
    return Refusal{"", 0, "--tin", "the recipe does not say which tin it is for",
                   "write \"tin\": \"round:6:3\" into the recipe's document and record it anew, or give --times"};
  }
  std::vector<ExactTins> to;
  for (const auto& tin : tins) to.push_back(exact(tin));
  ScaledRecipe scaled;
  scaled.factor = volume_factor(exact(*recipe.tin), to);
  scaled.area_factor = area_factor(exact(*recipe.tin), to);
  if (scaled.factor > 1000 || scaled.factor < share_of(1, 1000))
    return Refusal{"", 0, "--tin", "these tins hold less than a thousandth or more than a thousand times what the recipe's do",
                   "check their sizes"};
  for (const auto& item : recipe.items) scaled.items.emplace_back(item.of, times(item.mass, scaled.factor));
  scaled.yield = times(recipe.yield, scaled.factor);
  if (recipe.portions) {
    const Share portions = scaled.area_factor * *recipe.portions;
    scaled.portions = static_cast<std::int64_t>(numerator(portions) / denominator(portions));
  }
  scaled.told.push_back(fmt::format("by volume, from {}; by area alone it would be {} times", tin_in_words(*recipe.tin),
                                    format_decimal(scaled.area_factor, 3)));
  const auto six_to_eight = [&](const RecipeTin& tin) {
    return tin.shape == recipe.tin->shape && recipe.tin->across == 6 * tenths_per_inch && tin.across == 8 * tenths_per_inch;
  };
  if (tins.size() == 1 && six_to_eight(tins.front()))
    scaled.told.emplace_back(
        "kitchens often double from 6 to 8 inches; equally deep tins hold 1.778 times, so doubling is 12.5 % too much");
  scaled.told.emplace_back("how long it bakes and what it loses do not follow the tin: check the middle, and weigh it");
  for (const auto& tin : tins) scaled.told.push_back(portions_told(tin));
  return scaled;
}

}  // namespace tierproof
