#include <fmt/format.h>

#include "beforehand.h"
#include "door.h"
#include "kit_words.h"
#include "tierproof/app/adopting.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/stores.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {

namespace {

/// What a batch took, pack by pack and from which tub, and what its yield was taken to be where it was not weighed.
void say_what_went_in(const Session& session, const Booked& booked) {
  const auto& batches = session.state().batches;
  const auto batch = batches.find(BatchId{booked.subjects.front()});
  if (batch == batches.end()) return;
  for (const auto& use : batch->second.value.uses) {
    const std::string of = use.batch ? use.of : pack_in_words(session.state(), LotId{use.of});
    const std::string tub = use.tub.text().empty() ? "" : fmt::format(" from {}, first in first out", use.tub.text());
    Door::say(fmt::format("  {} of {}{}{}", format_mass(use.mass), of, tub, use.suggested ? "" : ", as named"));
  }
  for (const auto& perhaps : possible_in(session.state(), batch->second))
    Door::say(fmt::format("  perhaps some of {} from {}", pack_in_words(session.state(), perhaps.lot), perhaps.tub.text()));
  for (const auto& line : weighing_in_words(session.state(), batch->first)) Door::say("  " + line);
  if (!batch->second.value.weighed) Door::say(fmt::format("  {} finished, not weighed", format_mass(batch->second.value.yield)));
}

}  // namespace

void receive_options(CLI::App& app, Door& door) {
  struct Options {
    Delivery delivery;
    std::string mass, dispatched, use_by, best_before, laid;
  };
  auto options = std::make_shared<Options>();
  app.add_option("ingredient", options->delivery.ingredient, "short name of the ingredient")->required();
  app.add_option("--from", options->delivery.supplier, "short name of the supplier");
  app.add_option("--code", options->delivery.code, "the supplier's lot code, as it stands on the pack");
  app.add_option("--scanned", options->delivery.scanned,
                 "the GS1 code on the pack as a scanner gives it: lot, dates and net mass, where they are not typed");
  app.add_option("--mass", options->mass, "how much came, 1.5kg");
  app.add_flag("--again", options->delivery.again, "supplier and mass as last time, where they are not given");
  app.add_option("--use-by", options->use_by, "use-by date on the pack");
  app.add_option("--best-before", options->best_before, "best-before date on the pack");
  app.add_option("--dispatched", options->dispatched, "day it was sent, from the delivery note");
  app.add_option("--as", options->delivery.description, "what the delivery note calls it");
  app.add_option("--egg-source", options->delivery.egg_source, "of shell eggs: own hens, assured scheme or no scheme");
  app.add_option("--scheme", options->delivery.egg_scheme, "of an assured scheme: its name, as the box says");
  app.add_option("--laid", options->laid, "of shell eggs: the (first) day of lay");
  app.add_option("--at", options->delivery.at, "when it came, in the kitchen's time; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      Delivery delivery = options->delivery;
      delivery.mass = maybe_mass("--mass", options->mass);
      delivery.dispatched = maybe_date("--dispatched", options->dispatched);
      delivery.use_by = maybe_date("--use-by", options->use_by);
      delivery.best_before = maybe_date("--best-before", options->best_before);
      delivery.laid = maybe_date("--laid", options->laid);
      return d.record([&](Session& session) { return receive(session, delivery); });
    };
  });
}

void withdraw_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<std::pair<std::string, std::string>>();
  app.add_option("pack", options->first, "its number, pack-7")->required();
  app.add_option("--why", options->second, "what the supplier or you found")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return withdraw(session, options->first, options->second); });
    };
  });
}

void make_options(CLI::App& app, Door& door) {
  struct Options {
    std::string recipe, times = "1", yield, at, left_behind, cracked, cracked_in, cracked_temp;
    std::vector<std::string> use, weighed, tins, kit;
    bool again = false;
  };
  auto options = std::make_shared<Options>();
  app.add_option("recipe", options->recipe, "short name of the recipe")->required();
  app.add_option("--times", options->times, "how many times the recipe, 1.5");
  app.add_option("--yield", options->yield, "what it weighed when finished; left out: estimated from the recipe");
  app.add_option("--use", options->use, "another pack, tub or batch than the one proposed, butter=pack-9");
  app.add_option("--weighed", options->weighed, "what was really used, butter=385g");
  app.add_flag("--again", options->again, "masses as last time, where they are not given; packs are proposed anew");
  app.add_option("--tin", options->tins, "instead of --times, a tin to fill, shape:size:depth in inches or with cm, round:8:3; give each");
  app.add_option("--left-behind", options->left_behind, "what stayed in bowl and tin or was cut off, weighed, and is not in the yield");
  app.add_option("--cracked", options->cracked, "when its shell eggs were cracked, in the kitchen's time");
  app.add_option("--cracked-in", options->cracked_in, "the place where the cracked egg was kept");
  app.add_option("--cracked-temp", options->cracked_temp, "how warm the cracked egg was when it was used, 4C");
  app.add_option("--kit", options->kit, "a piece of kit that was used besides those of the recipe; one or more");
  app.add_option("--at", options->at, "when it was made; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      Making making;
      making.kit = options->kit;
      making.again = options->again;
      making.recipe = options->recipe;
      const auto times = parse_decimal(options->times);
      if (!times || *times < share_of(1, 1000) || *times > 1000)
        bad_option("--times", options->times, "write a number from 0.001 to 1000, such as 1.5");
      making.times = *times;
      making.yield = maybe_mass("--yield", options->yield);
      for (const auto& text : options->use) making.use.push_back(pair_of("--use", text, "butter=pack-9"));
      for (const auto& text : options->weighed) {
        const auto [of, mass] = pair_of("--weighed", text, "butter=385g");
        making.weighed.emplace_back(of, mass_or_none_of("--weighed", mass));
      }
      making.at = options->at;
      making.left_behind = maybe_mass("--left-behind", options->left_behind);
      for (const auto& text : options->tins) making.tins.push_back(tin_of("--tin", text));
      making.cracked = options->cracked;
      making.cracked_in = options->cracked_in;
      if (!options->cracked_temp.empty()) making.cracked_degrees = degrees_of("--cracked-temp", options->cracked_temp);
      std::vector<LiesOnKit> lies;  // before it was made
      return d.record(
          [&](Session& session) {
            const auto at = session.moment(making.at, "--at");
            if (at) {
              if (auto found = lies_on_kit(session, making.recipe, *at, making.kit)) lies = std::move(*found);
            }
            return make_batch(session, making);
          },
          [&](const Session& session, const Booked& booked) {
            say_what_went_in(session, booked);
            say_lies_on_kit(lies);
          });
    };
  });
}

void put_options(CLI::App& app, Door& door) {
  struct Options {
    std::string what, place, at;
    PutFor purpose;
  };
  auto options = std::make_shared<Options>();
  app.add_option("what", options->what, "batch or cake")->required();
  app.add_option("--in", options->place, "short name of the place")->required();
  app.add_option("--at", options->at, "when; else now");
  app.add_option("--for", options->purpose.use, "what for: keeping, handling, transfer, service or display, or time as the control");
  app.add_option("--marked", options->purpose.marked, "of time as the control: by when it is used or thrown away, as marked on it");
  app.add_option("--procedure", options->purpose.procedure, "of time as the control: where the procedure stands that was written before");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return put(session, options->what, options->place, options->at, options->purpose); },
                      [&](const Session& session, const Booked&) {
                        const auto again = frozen_again(session, options->what);
                        if (again.empty()) return;
                        Door::say(fmt::format("FROZEN A SECOND TIME: {}", fmt::join(again, "; ")));
                        Door::say("no cake that holds it may leave; if that is not what happened, correct the note");
                      });
    };
  });
}

void adopt_options(CLI::App& app, Door& door) {
  struct Options {
    Adopting adopting;
    std::string activity;
  };
  auto options = std::make_shared<Options>();
  app.add_option("row", options->adopting.row, "id of the reference, of the kind heat-reference")->required();
  app.add_option("recipe", options->adopting.recipe, "short name of the recipe it is adopted for")->required();
  app.add_option("--water-activity", options->activity, "of the mix that is heated, measured, 0.85");
  app.add_option("--measured", options->adopting.measured, "who measured it, when and how");
  app.add_option("--why", options->adopting.why, "why the plan adopts it, and who was asked")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      Adopting adopting = options->adopting;
      if (!options->activity.empty()) {
        adopting.water_activity = parse_decimal(options->activity);
        if (!adopting.water_activity) bad_option("--water-activity", options->activity, "write it with a point, such as 0.85");
      }
      return d.record([&](Session& session) { return adopt_reference(session, adopting); });
    };
  });
}

void validation_options(CLI::App& app, Door& door) {
  struct Options {
    std::string recipe, at, hold, by, kept, on;
  };
  auto options = std::make_shared<Options>();
  app.add_option("recipe", options->recipe, "short name of the recipe it is for")->required();
  app.add_option("--at", options->at, "temperature that was validated, 71C")->required();
  app.add_option("--hold", options->hold, "minutes that it is held")->required();
  app.add_option("--made-by", options->by, "who made it")->required();
  app.add_option("--kept", options->kept, "where the report is kept")->required();
  app.add_option("--on", options->on, "day of the report")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const auto minutes = parse_decimal(options->hold);
      const Share milliseconds = minutes.value_or(Share{0}) * 60'000;
      if (milliseconds <= 0 || milliseconds > 100'000'000 || denominator(milliseconds) != 1)
        bad_option("--hold", options->hold, "write minutes, such as 2.5");
      const Validation validation{RecipeId{options->recipe},
                                  0,
                                  degrees_of("--at", options->at),
                                  static_cast<std::int64_t>(numerator(milliseconds)),
                                  options->by,
                                  options->kept,
                                  date_of("--on", options->on)};
      return d.record([&](Session& session) { return file_validation(session, validation); });
    };
  });
}

}  // namespace tierproof::cli
