#include <fmt/format.h>

#include <cmath>

#include "beforehand.h"
#include "door.h"
#include "kit_words.h"
#include "tierproof/app/before_cooking.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {
namespace {

Json texts_json(const std::vector<std::string>& lines) { return Json{Json::Array{lines.begin(), lines.end()}}; }

Json hundredths_or_null(std::optional<double> value) { return value ? Json{std::int64_t{std::llround(*value * 100)}} : Json{}; }

Json json_of_egg(const EggBeforehand& egg) {
  const auto degrees = [&](double MeringueHeat::*member) {
    return hundredths_or_null(egg.heat ? std::optional{(*egg.heat).*member} : std::nullopt);
  };
  return Json{Json::Object{{"verdict", Json{egg.verdict}},
                           {"lower_celsius_hundredths", degrees(&MeringueHeat::lower)},
                           {"central_celsius_hundredths", degrees(&MeringueHeat::central)},
                           {"upper_celsius_hundredths", degrees(&MeringueHeat::upper)},
                           {"ceiling_celsius_hundredths", degrees(&MeringueHeat::ceiling)},
                           {"told", texts_json(egg.lines)}}};
}

/// In ten-thousandths of what goes in.
Json json_of_losses(const std::optional<LossSpread>& losses) {
  if (!losses) return Json{};
  const auto share = [](double value) { return Json{std::int64_t{std::llround(value * 10'000)}}; };
  return Json{Json::Object{{"weighings", Json{std::int64_t{losses->weighings}}},
                           {"least_e4", share(losses->least)},
                           {"middle_e4", share(losses->middle)},
                           {"most_e4", share(losses->most)}}};
}

Json json_of_scaled(const std::optional<ScaledRecipe>& scaled) {
  if (!scaled) return Json{};
  Json::Array items;
  for (const auto& [of, mass] : scaled->items) items.emplace_back(Json::Object{{"of", Json{of}}, {"mass_mg", Json{mass.to_milligrams()}}});
  return Json{Json::Object{{"factor", Json{format_decimal(scaled->factor, 6)}},
                           {"area_factor", Json{format_decimal(scaled->area_factor, 6)}},
                           {"items", Json{std::move(items)}},
                           {"yield_mg", Json{scaled->yield.to_milligrams()}},
                           {"portions", scaled->portions ? Json{*scaled->portions} : Json{}},
                           {"told", texts_json(scaled->told)}}};
}

void say_scaled(const ScaledRecipe& scaled) {
  Door::say(fmt::format("Tins: take every ingredient {} times", format_decimal(scaled.factor, 3)));
  for (const auto& [of, mass] : scaled.items) Door::say(fmt::format("  {} of {}", format_mass(mass), of));
  Door::say(fmt::format("  {} finished, by the recipe", format_mass(scaled.yield)));
  if (scaled.portions) Door::say(fmt::format("  {} portions as the recipe counts them, by area", *scaled.portions));
  for (const auto& line : scaled.told) Door::say("  " + line);
}

}  // namespace

void say_egg_beforehand(const EggBeforehand& egg) {
  if (egg.lines.empty()) return;
  Door::say(egg.verdict.empty() ? "Raw egg:" : fmt::format("Raw egg, heated by the syrup: {}", egg.verdict));
  for (const auto& line : egg.lines) Door::say("  " + line);
}

RecipeTin tin_of(const std::string& option, const std::string& text) {
  const auto tin = read_tin(text);
  if (!tin) bad_option(option, text, "write shape:size:depth in inches or with cm, such as round:8:3 or 2xsquare:20cm:7.5cm");
  return *tin;
}

void before_cooking_options(CLI::App& app, Door& door) {
  struct Options {
    std::string recipe;
    std::vector<std::string> tins;
  };
  auto options = std::make_shared<Options>();
  app.add_option("recipe", options->recipe, "short name of the recipe")->required();
  app.add_option("--tin", options->tins, "a tin to fill, shape:size:depth in inches or with cm, round:8:3; give each");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      CookingAhead asked{options->recipe, {}};
      for (const auto& text : options->tins) asked.tins.push_back(tin_of("--tin", text));
      return d.read([&](Session& session) {
        const auto told = before_cooking(session, asked);
        if (!told) return d.refuse(told.error());
        const bool cannot = told->egg.verdict == "cannot reach";
        if (d.json) {
          d.print(Json{Json::Object{{"schema", Json{"tierproof/before-cooking/1"}},
                                    {"recipe", Json{asked.recipe}},
                                    {"note", Json{static_cast<std::int64_t>(told->note)}},
                                    {"egg", json_of_egg(told->egg)},
                                    {"losses", json_of_losses(told->losses)},
                                    {"tins", json_of_scaled(told->scaled)},
                                    {"on_kit", json_of(told->on_kit)}}},
                  session.kitchen().demo);
          return cannot ? exit_status::found_wanting : exit_status::done;
        }
        Door::mark_demo(session.kitchen().demo);
        Door::say(fmt::format("{} ({}), note {}", asked.recipe, told->name, told->note));
        say_egg_beforehand(told->egg);
        if (told->losses)
          Door::say(fmt::format("Lost in making it: {:.1f} to {:.1f} %, middle {:.1f} %, by {} weighed batch{} of this version",
                                told->losses->least * 100, told->losses->most * 100, told->losses->middle * 100, told->losses->weighings,
                                told->losses->weighings == 1 ? "" : "es"));
        else
          Door::say("Lost in making it: not known, no batch of this version was weighed");
        if (told->scaled) say_scaled(*told->scaled);
        say_lies_on_kit(told->on_kit);
        if (!told->kit_recorded)
          Door::say("On its kit now: not known, the recipe names none");
        else if (told->on_kit.empty())
          Door::say("On its kit now: nothing by the records that it does not bring itself");
        return cannot ? exit_status::found_wanting : exit_status::done;
      });
    };
  });
}

void measure_options(CLI::App& app, Door& door) {
  struct Options {
    MeasureAsked asked;
    std::string amount, density;
  };
  auto options = std::make_shared<Options>();
  app.add_option("ingredient", options->asked.ingredient, "short name of the ingredient")->required();
  app.add_option("amount", options->amount, "how many of which measure, 2:cup-250")->required();
  app.add_option("--from", options->asked.supplier, "short name of the supplier whose pack it is");
  app.add_option("--density", options->density, "kg a litre as it is spooned, 0.53; else as the specification says");
  app.add_option("--density-by", options->asked.density_by, "who says so: \"weighed here, level cup\"");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      MeasureAsked asked = options->asked;
      const auto colon = options->amount.find(':');
      const auto count = parse_decimal(options->amount.substr(0, colon));
      if (colon == std::string::npos || !count) bad_option("amount", options->amount, "write it as 2:cup-250");
      asked.count = *count;
      asked.measure = options->amount.substr(colon + 1);
      if (!options->density.empty()) {
        asked.density = parse_decimal(options->density);
        if (!asked.density) bad_option("--density", options->density, "write it with a point, such as 0.53");
      }
      return d.read([&](Session& session) {
        const auto found = measured_food(session, asked);
        if (!found) return d.refuse(found.error());
        constexpr const char* warning =
            "From a volume: published densities of one food differ by half (icing sugar 0.51 and 0.80, flour 0.53 and 0.67 kg a litre). "
            "Weigh it, and let the scale's figure take the place of this one.";
        if (d.json) {
          d.print(Json{Json::Object{{"schema", Json{"tierproof/measure/1"}},
                                    {"ingredient", Json{asked.ingredient}},
                                    {"mass_mg", Json{found->mass.to_milligrams()}},
                                    {"by", Json{found->by}},
                                    {"from_volume", Json{true}},
                                    {"warning", Json{warning}}}},
                  session.kitchen().demo);
          return exit_status::done;
        }
        Door::mark_demo(session.kitchen().demo);
        Door::say(fmt::format("about {:.0f} g of {}, by {}", static_cast<double>(found->mass.to_milligrams()) / 1000, asked.ingredient,
                              found->by));
        Door::say(warning);
        return exit_status::done;
      });
    };
  });
}

}  // namespace tierproof::cli
