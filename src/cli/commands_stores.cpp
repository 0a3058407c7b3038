#include "door.h"
#include "tierproof/app/stores.h"

namespace tierproof::cli {

void open_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<std::pair<std::string, std::string>>();
  app.add_option("pack", options->first, "its number, pack-7")->required();
  app.add_option("--at", options->second, "when it was opened; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return open_pack(session, options->first, options->second); });
    };
  });
}

void tub_options(CLI::App& app, Door& door) {
  struct Options {
    std::string id, name, ingredient;
  };
  auto options = std::make_shared<Options>();
  app.add_option("tub", options->id, "a short name for it")->required();
  app.add_option("--name", options->name, "its name in words")->required();
  app.add_option("--of", options->ingredient, "short name of the ingredient it holds")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return add_tub(session, options->id, {options->name, IngredientId{options->ingredient}}); });
    };
  });
}

void top_up_options(CLI::App& app, Door& door) {
  struct Options {
    std::string tub, pack, at;
  };
  auto options = std::make_shared<Options>();
  app.add_option("tub", options->tub, "short name of the tub")->required();
  app.add_option("pack", options->pack, "the pack that was poured in, pack-7")->required();
  app.add_option("--at", options->at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return top_up(session, options->tub, options->pack, options->at); });
    };
  });
}

void empty_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<std::pair<std::string, std::string>>();
  app.add_option("tub", options->first, "short name of the tub")->required();
  app.add_option("--at", options->second, "when it was emptied and washed; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return empty_tub(session, options->first, options->second); });
    };
  });
}

void left_over_options(CLI::App& app, Door& door) {
  struct Options {
    KeepingLeftOver keeping;
    std::string mass;
  };
  auto options = std::make_shared<Options>();
  app.add_option("batch", options->keeping.batch, "what it is left over from, batch-4")->required();
  app.add_option("--mass", options->mass, "how much is kept; left out: all that is left, not weighed");
  app.add_flag("--off-cuts", options->keeping.off_cuts, "trimmings, not a left-over");
  app.add_option("--kit", options->keeping.kit, "kit that it was worked with or kept in");
  app.add_option("--at", options->keeping.at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      KeepingLeftOver keeping = options->keeping;
      keeping.mass = maybe_mass("--mass", options->mass);
      return d.record([&](Session& session) { return keep_left_over(session, keeping); });
    };
  });
}

}  // namespace tierproof::cli
