#include <fmt/format.h>

#include "door.h"
#include "kit_words.h"

namespace tierproof::cli {

void say_lies_on_kit(const std::vector<LiesOnKit>& lies) {
  for (const auto& one : lies)
    Door::say(
        fmt::format("  ON ITS KIT  {} {}", one.path, one.cleaned ? "(washed, which clears nothing for an allergy order)" : "(NOT WASHED)"));
}

Json json_of(const std::vector<LiesOnKit>& lies) {
  Json::Array list;
  for (const auto& one : lies)
    list.push_back(Json{Json::Object{{"allergen", Json{one.allergen}}, {"washed", Json{one.cleaned}}, {"path", Json{one.path}}}});
  return Json{std::move(list)};
}

void clean_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<CleaningDone>();
  app.add_option("kit", options->kit, "short name")->required();
  app.add_option("--how", options->grade, "wiped; washed, looked clean; washed and tested; validated")->required();
  app.add_option("--tested", options->tested, "of washed and tested: what was tested, \"protein swab of the bowl\"");
  app.add_option("--for", options->clears, "what the test looks for: protein, or an allergen such as nuts:almond");
  app.add_option("--found", options->found, "what it found: nothing or something");
  app.add_option("--at", options->at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) { return d.record([&](Session& session) { return clean(session, *options); }); };
  });
}

void cleaning_validated_options(CLI::App& app, Door& door) {
  struct Options {
    std::string kit, worst, on;
    CleaningValidated validation;
  };
  auto options = std::make_shared<Options>();
  app.add_option("kit", options->kit, "short name of the piece of kit")->required();
  app.add_option("--method", options->validation.method, "how it is cleaned, \"steam, ten minutes\"")->required();
  app.add_option("--for", options->validation.allergens, "an allergen that was cleaned off, such as nuts:almond")->required();
  app.add_option("--worst", options->worst, "short name of the recipe that left it: the worst case")->required();
  app.add_option("--made-by", options->validation.by, "who tested it")->required();
  app.add_option("--kept", options->validation.kept, "where the report is kept")->required();
  app.add_option("--on", options->on, "day of the report")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      CleaningValidated validation = options->validation;
      validation.equipment = EquipmentId{options->kit};
      validation.recipe = RecipeId{options->worst};
      validation.made = date_of("--on", options->on);
      return d.record([&](Session& session) { return file_cleaning_validation(session, validation); });
    };
  });
}

void kit_changed_options(CLI::App& app, Door& door) {
  struct Options {
    std::string kit, what, at;
  };
  auto options = std::make_shared<Options>();
  app.add_option("kit", options->kit, "short name of the piece of kit")->required();
  app.add_option("what", options->what, "what is otherwise, \"a new whisk of another make\"")->required();
  app.add_option("--at", options->at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return change_kit(session, options->kit, options->what, options->at); });
    };
  });
}

void work_order_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<std::vector<std::string>>();
  app.add_option("recipe", *options, "short names of the recipes that are to be made")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.read([&](Session& session) {
        const auto order = order_of_work(session, *options);
        if (!order) return d.refuse(order.error());
        if (d.json) {
          Json::Array recipes, cleaning, lying;
          for (const auto& recipe : order->recipes) recipes.emplace_back(recipe);
          for (const auto& line : order->to_clean) cleaning.emplace_back(line);
          for (const auto& line : order->lying) lying.emplace_back(line);
          d.print(Json{Json::Object{{"schema", Json{"tierproof/order-of-work/1"}},
                                    {"recipes", Json{std::move(recipes)}},
                                    {"to_clean", Json{std::move(cleaning)}},
                                    {"lying_there_now", Json{std::move(lying)}}}},
                  session.kitchen().demo);
          return exit_status::done;
        }
        Door::mark_demo(session.kitchen().demo);
        Door::say(fmt::format("make them in this order: {}", fmt::join(order->recipes, ", ")));
        if (!order->to_clean.empty()) Door::say("wash and test, since an allergen would meet what is made without it:");
        for (const auto& line : order->to_clean) Door::say("  " + line);
        if (!order->lying.empty()) Door::say("lies on the kit already, and is met in whatever order:");
        for (const auto& line : order->lying) Door::say("  " + line);
        if (order->to_clean.empty() && order->lying.empty()) Door::say("on the kit that they share, no allergen meets one without it");
        return exit_status::done;
      });
    };
  });
}

}  // namespace tierproof::cli
