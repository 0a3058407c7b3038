#include <algorithm>

#include "beforehand.h"
#include "door.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {

void start_options(CLI::App& app, Door& door) {
  struct Options {
    NewKitchen begun;
    std::string owner;
    std::string seed;
    std::int64_t altitude = 0;
    std::string pressure;
    std::int64_t specification_days = 0, staff = 0, turnover = 0, units_a_year = 0;
  };
  auto options = std::make_shared<Options>();
  auto& kitchen = options->begun.kitchen;
  app.add_option("--name", kitchen.name, "name of the business, as it stands on labels")->required();
  app.add_option("--address", kitchen.address, "a line of its address; give it once for each line")->required();
  app.add_option("--zone", kitchen.zone, "its time zone, such as Europe/London")->required();
  app.add_option("--label-rules", kitchen.label_rules, "rules of the place of sale")->required();
  app.add_option("--temperature-rules", kitchen.temperature_rules, "rules of the place of the kitchen")->required();
  app.add_option("--retention-rules", kitchen.retention_rules, "rules for how long records are kept")->required();
  app.add_option("--owner", options->owner, "short name and name, anna=\"Anna Example\"")->required();
  app.add_option("--altitude", options->altitude, "metres above the sea: where water boils depends on it")->check(whole_number(-500, 5000));
  app.add_option("--pressure", options->pressure, "station pressure in hPa, better than the altitude");
  app.add_option("--country", kitchen.country, "the country of its address by its two letters: some rules ask where a business is")
      ->option_text("XX");
  app.add_option("--specifications-within", options->specification_days,
                 "days that what packs say is believed before somebody looks again; else as the label rules say")
      ->check(whole_number(1, 3650));
  app.add_option("--staff", options->staff, "people who work here: small makers may be spared a nutrition table")
      ->check(whole_number(1, 100'000));
  app.add_option("--turnover", options->turnover, "turnover of a year, in whole units of the currency that the label rules name")
      ->check(whole_number(0, 1'000'000'000));
  app.add_option("--sells", kitchen.sells, "local (to those who eat it, or by shops nearby) or further");
  app.add_option("--cakes-a-year", options->units_a_year, "cakes sold in a year")->check(whole_number(0, 10'000'000));
  app.add_option("--gs1-prefix", kitchen.gs1_prefix, "its GS1 Company Prefix, if GS1 gave it one: its cakes may then have a GTIN")
      ->option_text("DIGITS");
  app.add_option("--demo", options->seed, "begin a demo with this seed: every output says DEMO, and the clock can be set");
  app.callback([options, &door, &app] {
    door.action = [options, &app](Door& d) {
      NewKitchen begun = options->begun;
      const auto [id, name] = pair_of("--owner", options->owner, "anna=\"Anna Example\"");
      begun.owner_id = id;
      begun.owner_name = name;
      if (app.count("--altitude") > 0) begun.kitchen.altitude_m = options->altitude;
      begun.kitchen.pressure_pa = maybe_hectopascals("--pressure", options->pressure);
      const auto given = [&](const char* option, std::int64_t value) {
        return app.count(option) > 0 ? std::optional{value} : std::nullopt;
      };
      begun.kitchen.specification_days = given("--specifications-within", options->specification_days);
      begun.kitchen.staff = given("--staff", options->staff);
      begun.kitchen.turnover = given("--turnover", options->turnover);
      begun.kitchen.units_a_year = given("--cakes-a-year", options->units_a_year);
      if (begun.kitchen.sells == "local") begun.kitchen.sells = "direct or local";
      const auto& country = begun.kitchen.country;
      const auto capital = [](char c) { return c >= 'A' && c <= 'Z'; };
      if (!country.empty() && (country.size() != 2 || !std::all_of(country.begin(), country.end(), capital)))
        bad_option("--country", country, "write its two capital letters, as in an international address");
      if (!begun.kitchen.sells.empty() && begun.kitchen.sells != "direct or local" && begun.kitchen.sells != "further")
        bad_option("--sells", begun.kitchen.sells, "write local or further");
      begun.kitchen.demo = !options->seed.empty();
      begun.kitchen.seed = options->seed;
      const auto booked = begin_kitchen(d.entrance(), begun, rule_packs());
      if (!booked) return d.refuse(booked.error());
      Session session = d.open(true);
      return d.print_booked(session, *booked);
    };
  });
}

void person_options(CLI::App& app, Door& door) {
  struct Options {
    std::string id, name, role;
  };
  auto options = std::make_shared<Options>();
  app.add_option("person", options->id, "short name")->required();
  app.add_option("--name", options->name, "name; kept apart, so that it can be erased")->required();
  app.add_option("--role", options->role, "owner or helper")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return add_person(session, options->id, options->name, options->role); });
    };
  });
}

void supplier_options(CLI::App& app, Door& door) {
  struct Options {
    std::string id;
    Supplier supplier;
    std::string consignor, consignee;
  };
  auto options = std::make_shared<Options>();
  app.add_option("supplier", options->id, "short name")->required();
  app.add_option("--name", options->supplier.firm.name, "who dispatches the food")->required();
  app.add_option("--address", options->supplier.firm.address, "their address")->required();
  app.add_option("--owner-of-food", options->consignor, "another firm that owns the food, \"Name=Address\"");
  app.add_option("--received-for", options->consignee, "another firm that it is received for, \"Name=Address\"");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      Supplier supplier = options->supplier;
      const auto firm = [](const std::string& option, const std::string& text) {
        const auto [name, address] = pair_of(option, text, "\"Name=Address\"");
        return Firm{name, address};
      };
      if (!options->consignor.empty()) supplier.consignor = firm("--owner-of-food", options->consignor);
      if (!options->consignee.empty()) supplier.consignee = firm("--received-for", options->consignee);
      return d.record([&](Session& session) { return add_supplier(session, options->id, supplier); });
    };
  });
}

void ingredient_options(CLI::App& app, Door& door) {
  struct Options {
    std::string id;
    Ingredient ingredient{"", false, false, false, "none"};
  };
  auto options = std::make_shared<Options>();
  app.add_option("ingredient", options->id, "short name")->required();
  app.add_option("--name", options->ingredient.name, "what the kitchen calls it")->required();
  app.add_flag("--water", options->ingredient.added_water, "it is added water: the water rule of the list applies");
  app.add_flag("--sugar", options->ingredient.sugar, "it counts as sugar in an egg mix");
  app.add_flag("--animal", options->ingredient.animal_origin, "it is of animal origin: deliveries carry the dispatch date");
  app.add_option("--egg", options->ingredient.egg, "shell, pasteurised or \"dried pasteurised\"");
  app.add_option("--boils-as", options->ingredient.boiled_as,
                 "in boiling sugar: glucose, \"invert sugar\", acid or \"none of these\"; else by its name");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return add_ingredient(session, options->id, options->ingredient); });
    };
  });
}

void recipe_options(CLI::App& app, Door& door) {
  auto files = std::make_shared<std::vector<std::string>>();
  app.add_option("files", *files, "JSON documents")->required();
  app.callback([files, &door] {
    door.action = [files](Door& d) {
      std::vector<GivenDocument> documents;
      for (const auto& file : *files) documents.push_back(document_of(file));
      return d.record([&](Session& session) { return add_recipes(session, documents); },
                      [](const Session& session, const Booked& booked) {
                        for (const auto& recipe : booked.subjects) {
                          if (const auto told = before_cooking(session, {recipe, {}})) say_egg_beforehand(told->egg);
                        }
                      });
    };
  });
}

void kit_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<std::pair<std::string, std::string>>();
  app.add_option("kit", options->first, "short name")->required();
  app.add_option("--name", options->second, "what the kitchen calls it")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return add_equipment(session, options->first, options->second); });
    };
  });
}

void place_options(CLI::App& app, Door& door) {
  struct Options {
    std::string id;
    Place place;
  };
  auto options = std::make_shared<Options>();
  app.add_option("place", options->id, "short name")->required();
  app.add_option("--name", options->place.name, "what the kitchen calls it")->required();
  app.add_option("--kind", options->place.kind, "fridge, freezer, display or van (both chilled), room or out")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return add_place(session, options->id, options->place); });
    };
  });
}

void thermometer_options(CLI::App& app, Door& door) {
  struct Options {
    std::string id, name, error, step, measures, place;
    std::int64_t check_days = 0;
  };
  auto options = std::make_shared<Options>();
  app.add_option("thermometer", options->id, "short name")->required();
  app.add_option("--name", options->name, "what the kitchen calls it")->required();
  app.add_option("--error", options->error, "its error, ±, as its maker says: 0.5C")->required();
  app.add_option("--step", options->step, "the smallest step that it shows: 0.1C")->required();
  app.add_option("--measures", options->measures, "food or air")->required();
  app.add_option("--in", options->place, "the place that it hangs in");
  app.add_option("--check-every", options->check_days, "most days between two checks, where you want it checked more often than the rules")
      ->check(whole_number(1, 3660));
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const Degrees error = degrees_of("--error", options->error);
      const Degrees step = degrees_of("--step", options->step);
      if (error.hundredths < 1 || error.hundredths > 2000)
        bad_option("--error", options->error, "write what its maker says, such as 0.5C: above 0 and up to 20 degrees");
      if (step.hundredths < 1 || step.hundredths > 500)
        bad_option("--step", options->step, "write it, such as 0.1C: above 0 and up to 5 degrees");
      if (error.scale != step.scale) bad_option("--step", options->step, "write error and step in the scale that the thermometer shows");
      Probe probe{options->name, error.scale, error.hundredths, step.hundredths, options->measures, PlaceId{options->place}};
      if (options->check_days > 0) probe.check_days = options->check_days;
      return d.record([&](Session& session) { return add_probe(session, options->id, probe); });
    };
  });
}

}  // namespace tierproof::cli
