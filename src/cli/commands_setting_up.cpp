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
  app.add_option("--demo", options->seed, "begin a demo with this seed: every output says DEMO, and the clock can be set");
  app.callback([options, &door, &app] {
    door.action = [options, &app](Door& d) {
      NewKitchen begun = options->begun;
      const auto [id, name] = pair_of("--owner", options->owner, "anna=\"Anna Example\"");
      begun.owner_id = id;
      begun.owner_name = name;
      if (app.count("--altitude") > 0) begun.kitchen.altitude_m = options->altitude;
      if (!options->pressure.empty()) {
        const auto hectopascals = parse_decimal(options->pressure);
        if (!hectopascals || *hectopascals < 500 || *hectopascals > 1100 || denominator(Share{*hectopascals * 100}) != 1)
          bad_option("--pressure", options->pressure, "write the station pressure in hPa, from 500 to 1100, such as 1004.3");
        begun.kitchen.pressure_pa = static_cast<std::int64_t>(numerator(Share{*hectopascals * 100}));
      }
      begun.kitchen.demo = !options->seed.empty();
      begun.kitchen.seed = options->seed;
      const auto booked = begin_kitchen(d.entrance(), begun, d.packs());
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
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return add_ingredient(session, options->id, options->ingredient); });
    };
  });
}

namespace {

void documents_options(CLI::App& app, Door& door, Result<Booked> (*add)(Session&, const std::vector<GivenDocument>&)) {
  auto files = std::make_shared<std::vector<std::string>>();
  app.add_option("files", *files, "JSON documents")->required();
  app.callback([files, add, &door] {
    door.action = [files, add](Door& d) {
      std::vector<GivenDocument> documents;
      for (const auto& file : *files) documents.push_back(document_of(file));
      return d.record([&](Session& session) { return add(session, documents); });
    };
  });
}

}  // namespace

void specification_options(CLI::App& app, Door& door) { documents_options(app, door, add_specifications); }
void recipe_options(CLI::App& app, Door& door) { documents_options(app, door, add_recipes); }

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
  app.add_option("--kind", options->place.kind, "fridge, freezer, room or out")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return add_place(session, options->id, options->place); });
    };
  });
}

void thermometer_options(CLI::App& app, Door& door) {
  struct Options {
    std::string id, name, error, step, measures, place;
  };
  auto options = std::make_shared<Options>();
  app.add_option("thermometer", options->id, "short name")->required();
  app.add_option("--name", options->name, "what the kitchen calls it")->required();
  app.add_option("--error", options->error, "its error, ±, as its maker says: 0.5C")->required();
  app.add_option("--step", options->step, "the smallest step that it shows: 0.1C")->required();
  app.add_option("--measures", options->measures, "food or air")->required();
  app.add_option("--in", options->place, "the place that it hangs in");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const Degrees error = degrees_of("--error", options->error);
      const Degrees step = degrees_of("--step", options->step);
      if (error.hundredths < 1 || error.hundredths > 2000)
        bad_option("--error", options->error, "write what its maker says, such as 0.5C: above 0 and up to 20 degrees");
      if (step.hundredths < 1 || step.hundredths > 500)
        bad_option("--step", options->step, "write it, such as 0.1C: above 0 and up to 5 degrees");
      if (error.scale != step.scale) bad_option("--step", options->step, "write error and step in the scale that the thermometer shows");
      const Probe probe{options->name, error.scale, error.hundredths, step.hundredths, options->measures, PlaceId{options->place}};
      return d.record([&](Session& session) { return add_probe(session, options->id, probe); });
    };
  });
}

}  // namespace tierproof::cli
