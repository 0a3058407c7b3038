#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "charts.h"
#include "egg.h"
#include "series.h"
#include "tierproof/app/before_cooking.h"
#include "tierproof/app/recording.h"
#include "tierproof/sums/probe.h"
#include "tierproof/sums/specific_heat.h"
#include "tierproof/sums/sugar_syrup.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr const char* pasteurised_first =
    "First choice: pasteurised egg, for a meringue pasteurised egg white. It needs no heat step, only its pack, in date and within its "
    "days "
    "once opened.";

/// What goes into bowl and pan, by ingredient.
struct BowlAndPan {
  Mass white;                        ///< raw egg
  Mass sugar;                        ///< of what is boiled
  bool parts = false;                ///< something made before goes in, of which nobody knows here what it brings
  bool pan_told = false;             ///< the recipe says what is boiled
  std::vector<std::string> flagged;  ///< `glucose syrup (glucose)`: with these in the pan the curve of pure sugar does not hold
};

/// The same of what a pack says of itself and of its parts: sugar with citric acid is no pure sugar.
std::string_view boiled_as_by_label(const std::string& name, const std::string& additive_class, const std::vector<SpecifiedPart>& parts) {
  if (additive_class == "acid" || additive_class == "acidity regulator") return "acid";
  if (const auto kind = boiled_as_by_name(name); !kind.empty()) return kind;
  for (const auto& part : parts) {
    if (const auto kind = boiled_as_by_label(part.name, part.additive_class, part.parts); !kind.empty()) return kind;
  }
  return {};
}

/// What an ingredient is in a pan of boiling sugar, or empty.
std::string boiled_as(const State& state, const IngredientId& id, const Ingredient& ingredient) {
  if (!ingredient.boiled_as.empty()) return ingredient.boiled_as == "none of these" ? "" : ingredient.boiled_as;
  for (const auto& [place, says] : state.specifications) {
    if (says.value.ingredient != id) continue;
    if (const auto kind = boiled_as_by_label(says.value.label_name, says.value.additive_class, says.value.parts); !kind.empty())
      return std::string{kind};
  }
  return std::string{boiled_as_by_name(ingredient.name)};
}

/// @param amounts  each with its ingredient; nothing for a part that was made before
BowlAndPan in_bowl_and_pan(const State& state, const Recipe& recipe,
                           const std::vector<std::pair<std::optional<IngredientId>, Mass>>& amounts) {
  BowlAndPan all;
  all.pan_told = !recipe.boiled_together.empty();
  std::set<std::string> flagged;
  for (const auto& [id, mass] : amounts) {
    const auto found = id ? state.ingredients.find(*id) : state.ingredients.end();
    if (found == state.ingredients.end()) {
      all.parts = true;
      continue;
    }
    const Ingredient& ingredient = found->second.value;
    if (ingredient.egg == "shell") all.white += mass;
    const auto& pan = recipe.boiled_together;
    const bool boiled = !all.pan_told || std::find(pan.begin(), pan.end(), *id) != pan.end();
    if (!boiled || ingredient.egg != "none") continue;
    if (ingredient.sugar) all.sugar += mass;
    if (const auto kind = boiled_as(state, *id, ingredient); !kind.empty()) flagged.insert(fmt::format("{} ({})", ingredient.name, kind));
  }
  all.flagged.assign(flagged.begin(), flagged.end());
  return all;
}

double grams_of(Mass mass) { return static_cast<double>(mass.to_milligrams()) / 1000; }

/// A temperature that some row, of the food that the recipe is judged as, asks for or counts from.
struct WantedTemperature {
  Temperature at;
  std::string words;
};
std::vector<WantedTemperature> wanted_temperatures(const Recipe& recipe, const TemperatureTerms& terms) {
  std::vector<WantedTemperature> wanted;
  const auto add = [&](Temperature at, std::string words) {
    const auto same = [&](const WantedTemperature& one) { return one.at == at; };
    if (std::none_of(wanted.begin(), wanted.end(), same)) wanted.push_back({at, words.empty() ? in_celsius_words(at) : std::move(words)});
  };
  for (const auto& row : terms.heat_rows) {
    if (recipe.heat_food.empty() || row.food == recipe.heat_food) add(row.at, row.words);
  }
  for (const auto& row : terms.equivalences) {
    if (recipe.heat_food.empty() || row.food == recipe.heat_food) add(row.floor, "");
  }
  for (const auto& row : terms.references) add(row.floor, "");
  std::sort(wanted.begin(), wanted.end(), [](const auto& a, const auto& b) { return b.at < a.at; });
  return wanted;
}

class Beforehand {
 public:
  Beforehand(const Session& session, const Recipe& recipe, const TemperatureTerms& terms)
      : session_{session}, recipe_{recipe}, terms_{terms} {}

  EggBeforehand told(const BowlAndPan& amounts, const std::optional<Share>& sugar_of_mix, std::optional<Temperature> hottest) {
    const bool in_a_part = amounts.parts && recipe_.egg.starts_with("raw");  // egg that was put into a part made before
    if ((amounts.white == Mass{} && !in_a_part) || recipe_.egg == "baked through") return {};
    say(pasteurised_first);
    if (recipe_.syrup_target) {
      poured(amounts, hottest ? *hottest : syrup_target_of(session_.kitchen(), recipe_).at);
    } else if (recipe_.egg == "raw, heated here") {
      warmed(sugar_of_mix);
    } else {
      say("Raw egg that is not heated: no step shows that anything was killed.");
    }
    return std::move(told_);
  }

 private:
  void say(std::string line) { told_.lines.push_back(std::move(line)); }

  /// Egg warmed over a water bath: the sugar of the mix decides which model there is.
  void warmed(const std::optional<Share>& sugar) {
    if (!sugar) {
      say("How much of what is heated is sugar is not known, so no table can be chosen: not shown.");
      return;
    }
    const std::string share = fmt::format("{} %", format_decimal(*sugar * 100, 1));
    const EggMixTerm* strictest = nullptr;
    for (const auto& row : terms_.egg_mix) {
      if (strictest == nullptr || row.sugar_up_to < strictest->sugar_up_to) strictest = &row;
    }
    if (strictest != nullptr && *sugar <= strictest->sugar_up_to) {
      say(fmt::format("Sugar is {} of what is heated: the rows for {} speak of such a mix, read in it at its coldest {}.", share,
                      recipe_.heat_food, cite(strictest->cited)));
      return;
    }
    const std::string most = strictest == nullptr
                                 ? "with any sugar"
                                 : fmt::format("with more than {} % of sugar", format_decimal(strictest->sugar_up_to * 100, 1));
    std::string line = fmt::format(
        "Sugar is {} of what is heated: no table for plain egg speaks of a mix {}, so its readings are outside the "
        "model without a validation on file",
        share, most);
    for (const auto& row : terms_.references) {
      if (*sugar >= row.sugar_from && *sugar <= row.sugar_to)
        line += fmt::format(", or the published reference {} that the plan may adopt for it (adopt)", row.cited.row);
    }
    say(line + ".");
  }

  /// Boiled syrup poured on raw egg.
  void poured(const BowlAndPan& amounts, Temperature pour) {
    told_.verdict = "not shown without a reading in the mix";
    if (amounts.sugar > Mass{} && amounts.white > Mass{})
      say(fmt::format("Sugar to egg white is {:.2f} : 1 by mass. Practice: 2 : 1 with the syrup at 118 °C (common practice, no source).",
                      grams_of(amounts.sugar) / grams_of(amounts.white)));
    if (!amounts.flagged.empty())
      say(fmt::format("With {}{}: it boils hotter than pure sugar for as much water, so no balance is made.",
                      fmt::format("{}", fmt::join(amounts.flagged, ", ")),
                      amounts.pan_told ? " in the pan" : " perhaps in the pan (\"boiled_together\" tells what is)"));
    const bool can_be_made = !amounts.parts && amounts.sugar > Mass{} && amounts.flagged.empty() && recipe_.white_degrees;
    if (can_be_made) {
      balance(amounts, pour);
    } else {
      if (amounts.parts) say("A part that was made before goes in: what it brings is not known here, so no balance is made.");
      if (amounts.sugar == Mass{}) say("No sugar is known to be boiled for it, so no balance is made.");
      if (!recipe_.white_degrees) say("How warm the egg white is, is not recorded (\"egg_white_at\"), so no balance is made.");
      say(fmt::format("Whether the mix is heated enough: {}.", told_.verdict));
    }
    say("The syrup's temperature says nothing of the egg: read the mix itself, at its coldest, and that reading is judged as its heat "
        "step.");
  }

  void balance(const BowlAndPan& amounts, Temperature pour) {
    MeringuePlan plan;
    plan.white_g = grams_of(amounts.white);
    plan.sugar_g = grams_of(amounts.sugar);
    plan.pour_c = pour.to_celsius();
    plan.white_c = recipe_.white_degrees->temperature().to_celsius();
    plan.bowl_c = recipe_.bowl_degrees ? recipe_.bowl_degrees->temperature().to_celsius() : plan.white_c;
    if (recipe_.bowl) {
      plan.bowl_g = grams_of(recipe_.bowl->mass);
      plan.bowl_heat = recipe_.bowl->of == "glass"       ? glass_heat
                       : recipe_.bowl->of == "copper"    ? copper_heat
                       : recipe_.bowl->of == "aluminium" ? aluminium_heat
                                                         : steel_heat;
    }
    const auto pressure = pressure_for(session_.kitchen(), {});
    if (pressure) plan.kilopascals = *pressure;
    const auto in_kitchen = [](double celsius) { return celsius >= 0 && celsius <= 100; };
    const bool can_be = plan.pour_c <= hottest_syrup_c && in_kitchen(plan.white_c) && in_kitchen(plan.bowl_c);
    const auto heat = can_be ? meringue_heat(plan) : std::nullopt;
    const auto wanted = wanted_temperatures(recipe_, terms_);
    told_.heat = heat;
    told_.verdict = reach_in_words(heat, wanted.empty() ? std::nullopt : std::optional{wanted.back().at.to_celsius()});
    if (!heat) {
      say(fmt::format("A syrup at {} is outside the model of the balance (above 92 % solids, or no syrup){}: {}.", in_celsius_words(pour),
                      can_be ? "" : ", or egg white or bowl are not at 0 to 100 °C", "not shown without a reading in the mix"));
      return;
    }
    const std::string bowl =
        recipe_.bowl ? fmt::format("in a bowl of {}, {}, at {:.4g} °C", recipe_.bowl->of, format_mass(recipe_.bowl->mass), plan.bowl_c)
                     : "with no bowl recorded, so hotter than it will be";
    say(fmt::format(
        "{} of egg white at {:.4g} °C, {} of sugar boiled to {}, {}, at {:.4g} kPa{}: the mix comes to {:.0f} °C at the lowest, {:.0f} °C "
        "in the middle, {:.0f} °C at the highest, and can never be hotter than {:.1f} °C without heat from outside.",
        format_mass(amounts.white), plan.white_c, format_mass(amounts.sugar), in_celsius_words(pour), bowl, plan.kilopascals,
        pressure ? "" : " (the sea's, since the kitchen's altitude is not known)", heat->lower, heat->central, heat->upper, heat->ceiling));
    for (const auto& one : wanted) say(fmt::format("{}: {}.", one.words, reach_in_words(heat, one.at.to_celsius())));
  }

  const Session& session_;
  const Recipe& recipe_;
  const TemperatureTerms& terms_;
  EggBeforehand told_;
};

}  // namespace

EggBeforehand egg_beforehand(const Session& session, const Recipe& recipe, const TemperatureTerms& terms) {
  std::vector<std::pair<std::optional<IngredientId>, Mass>> amounts;
  for (const auto& item : recipe.items) amounts.emplace_back(item.recipe ? std::nullopt : std::optional{IngredientId{item.of}}, item.mass);
  return Beforehand{session, recipe, terms}.told(in_bowl_and_pan(session.state(), recipe, amounts),
                                                 sugar_of_recipe(session.state(), recipe), {});
}

EggBeforehand egg_beforehand(const Session& session, const Recorded<Batch>& batch, const Recipe& recipe, const TemperatureTerms& terms) {
  const State& state = session.state();
  std::vector<std::pair<std::optional<IngredientId>, Mass>> amounts;
  for (const auto& use : batch.value.uses) {
    const auto lot = use.batch ? state.lots.end() : state.lots.find(LotId{use.of});
    amounts.emplace_back(lot == state.lots.end() ? std::nullopt : std::optional{lot->second.value.ingredient}, use.mass);
  }
  std::optional<Temperature> hottest;
  if (recipe.syrup_target) hottest = syrup_target_of(session.kitchen(), recipe).at;
  for (const auto& series : series_of(session, batch.subject, "syrup")) {
    for (const auto& reading : series.readings) {
      if (reading.temperature) hottest = std::max(hottest.value_or(*reading.temperature), *reading.temperature + series.error);
    }
  }
  return Beforehand{session, recipe, terms}.told(in_bowl_and_pan(state, recipe, amounts), sugar_of_mix_in(state, batch.value, recipe),
                                                 hottest);
}

}  // namespace tierproof
