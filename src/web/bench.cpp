// The bench: what is made, with scaled amounts and the packs proposed, and what is read while it is heated.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "deeds.h"
#include "keeping.h"
#include "parts.h"
#include "readings.h"
#include "tierproof/app/before_cooking.h"
#include "tierproof/app/heating.h"
#include "tierproof/app/kit_care.h"
#include "tierproof/app/scaling.h"
#include "tierproof/app/stores.h"
#include "tierproof/app/thermometers.h"
#include "tierproof/text/number.h"
#include "tierproof/units/share.h"

namespace tierproof::web {
namespace {

WebAnswer bench_page(Visit& visit) {
  const Session& records = visit.records();
  Html main = el("h1", {}, "Bench");
  if (records.state().recipes.empty()) {
    main += records.state().ingredients.empty()
                ? nothing_yet("Nothing can be made yet: the cupboard is empty.", "/cupboard", "To the cupboard")
                : nothing_yet("No recipe is on record yet.", visit.may_record() ? "/bench/new" : "", "A new recipe");
    return page(visit, "Bench", "bench", main);
  }
  Html recipes;
  for (const auto& [id, name] : recipes_of(records)) recipes += el("li", {}, link_button("/bench/recipe/" + id, name, "tall"));
  main += el("h2", {}, "Make") + el("ul", {{"class", "grid"}}, recipes);
  if (visit.may_record())
    main += el("p", {{"class", "actions"}}, link_button("/bench/new", "A new recipe"), link_button("/bench/wash", "Kit was washed"),
               link_button("/bench/kit", "New kit"), link_button("/bench/order", "In which order"));
  Html cards;
  const auto kept = kept_now(records, visit.now);
  for (auto one = kept.rbegin(); one != kept.rend(); ++one) {
    const auto batch = records.state().batches.find(BatchId{one->id});
    if (batch == records.state().batches.end()) continue;
    const auto place = records.state().places.find(one->place);
    cards += el("li", {{"class", "card"}}, el("h3", {}, el("a", {{"href", "/bench/batch/" + one->id}}, one->name)),
                el("p", {},
                   fmt::format("{} left · made {} · {}", format_mass(Mass::milligrams(remaining_mg(records.state(), one->id))),
                               moment_in_words(records, batch->second.happened), one->id)),
                el("p", {}, place == records.state().places.end() ? "nobody recorded where it is" : "in " + place->second.value.name));
  }
  main += live("made", cards.empty() ? Html{} : el("h2", {}, "Made, and something is left") + el("ul", {{"class", "cards"}}, cards));
  return page(visit, "Bench", "bench", main);
}

/// What of it was named: a food or a recipe.
std::string name_of(const Session& records, const RecipeItem& item) {
  if (item.recipe) {
    const auto recipe = records.state().recipes.find(RecipeId{item.of});
    return recipe == records.state().recipes.end() ? item.of : recipe->second.value.name;
  }
  const auto food = records.state().ingredients.find(IngredientId{item.of});
  return food == records.state().ingredients.end() ? item.of : food->second.value.name;
}

std::string name_of_use(const Session& records, const BatchUse& use) {
  if (!use.batch) return pack_in_words(records.state(), LotId{use.of});
  const auto batch = records.state().batches.find(BatchId{use.of});
  if (batch == records.state().batches.end()) return use.of;
  const auto recipe = records.state().recipes.find(batch->second.value.recipe);
  return fmt::format("{} ({})", recipe == records.state().recipes.end() ? use.of : recipe->second.value.name, use.of);
}

Html lies_on_kit_words(const std::vector<LiesOnKit>& lies) {
  Html lines;
  for (const auto& one : lies)
    lines +=
        el("li", {}, el("b", {}, one.allergen + (one.cleaned ? " may still be on the kit, washed but not tested: " : " was on the kit: ")),
           one.path);
  return lines.empty()
             ? lines
             : el("div", {{"class", "warn"}, {"role", "note"}}, el("h2", {}, "Before you begin: shared kit"), el("ul", {}, lines));
}

/// How many times a recipe is wanted, as a person typed it or for the tins that they have.
struct TimesWanted {
  std::string typed = "1";
  Share times = 1;
  std::vector<std::string> of_tins;  ///< what has to be known of other tins; empty: none were named
  Refusals wrong;
};

constexpr int tin_lines = 3;

/// The tins that were typed, of which each line has a number; what cannot be read stands in `wrong`.
std::vector<RecipeTin> tins_typed(const Pairs& asked, Refusals& wrong, int lines = tin_lines) {
  std::vector<RecipeTin> tins;
  for (int line = 1; line <= lines; ++line) {
    const auto typed = [&](const char* what) { return std::string{trimmed(asked[fmt::format("{}-{}", what, line)])}; };
    const bool no_size = typed("across").empty() && typed("deep").empty();
    if (no_size && (typed("tins").empty() || typed("tins") == "1")) continue;  // as the form comes
    const std::string count = typed("tins").empty() ? "1" : typed("tins");
    const auto tin = read_tin(fmt::format("{}x{}:{}cm:{}cm", count, typed("shape"), typed("across"), typed("deep")));
    if (tin)
      tins.push_back(*tin);
    else
      wrong.push_back({"", 0, fmt::format("across-{}", line), fmt::format("tin {} cannot be used", line),
                       "say how many, round or square, and in cm how far across and how deep, such as 20 and 7.5"});
  }
  return tins;
}

TimesWanted times_wanted(const Visit& visit, const Recipe& recipe) {
  TimesWanted wanted;
  const Pairs& asked = visit.request.method == "POST" ? visit.request.form : visit.request.query;
  if (asked.has("across-1")) {
    const auto tins = tins_typed(asked, wanted.wrong);
    if (!wanted.wrong.empty()) return wanted;
    const auto scaled = scaled_recipe(recipe, tins);
    if (!scaled) {
      wanted.wrong = scaled.error();
      return wanted;
    }
    wanted.typed = short_decimal(format_decimal(scaled->factor, 3));
    wanted.times = *parse_decimal(wanted.typed);
    wanted.of_tins = scaled->told;
    if (scaled->portions) wanted.of_tins.push_back(fmt::format("{} portions of the recipe's own size", *scaled->portions));
    return wanted;
  }
  if (trimmed(asked["times"]).empty()) return wanted;
  wanted.typed = asked["times"];
  const auto times = parse_decimal(wanted.typed);
  if (times && *times >= share_of(1, 1000) && *times <= 1000)
    wanted.times = *times;
  else
    wanted.wrong.push_back(
        {"", 0, "times", fmt::format("\"{}\" cannot be used", wanted.typed), "write a number from 0.001 to 1000, such as 1.5"});
  return wanted;
}

/// Fields of one line of tins, as `tins_typed` reads them.
void add_tin(FormView& form, int line, bool needed) {
  const std::string n = std::to_string(line);
  form.number(("tins-" + n).c_str(), "How many tins", {.value = "1"})
      .tiles(("shape-" + n).c_str(), "Their shape", {{"round", "round"}, {"square", "square"}}, {.value = "round", .needed = true})
      .number(("across-" + n).c_str(), "Across", {.unit = "cm", .needed = needed})
      .number(("deep-" + n).c_str(), "Deep", {.unit = "cm", .needed = needed});
}

/// A form for the tins that are there, where the recipe says which it is for.
Html tins_form(Visit& visit, const Recipe& recipe, const std::string& action, bool open) {
  if (!recipe.tin) return {};
  FormView form{visit, action, "tins"};
  form.asks().add(el("p", {}, fmt::format("The recipe fills {}. Which tins do you have?", tin_in_words(*recipe.tin))));
  for (int line = 1; line <= tin_lines; ++line) {
    if (line == 2) form.fold_begin("More tins");
    add_tin(form, line, line == 1);
  }
  return el("details", {{"class", "fold"}, flag("open", open)}, el("summary", {}, "For other tins"), form.finish("Work it out", "plain"));
}

WebAnswer recipe_page(Visit& visit) {
  if (visit.request.method == "POST") visit.part = visit.typed("recipe");
  const Session& records = visit.records();
  const auto found = records.state().recipes.find(RecipeId{visit.part});
  if (found == records.state().recipes.end()) return not_there(visit, "No recipe of this name is on record.");
  const Recipe& recipe = found->second.value;
  const TimesWanted wanted = times_wanted(visit, recipe);
  Html main = el("h1", {}, recipe.name);
  main += el("form", {{"method", "get"}, {"class", "inline"}}, el("label", {{"for", "times"}}, "How many times"),
             el("input", {{"id", "times"},
                          {"name", "times"},
                          {"type", "text"},
                          {"inputmode", "decimal"},
                          {"class", "number"},
                          {"value", wanted.typed},
                          {"autocomplete", "off"}}),
             el("button", {{"type", "submit"}, {"class", "plain"}}, "Work it out"));
  main += tins_form(visit, recipe, "/bench/recipe/" + visit.part, visit.request.query.has("across-1"));
  Html tins;
  if (visit.request.method != "POST") {
    for (const auto& refusal : wanted.wrong) main += el("p", {{"class", "stop"}, {"role", "alert"}}, told_here(refusal));
  }
  for (const auto& line : wanted.of_tins) tins += el("li", {}, line);
  if (!tins.empty())
    main += el("div", {{"class", "warn"}, {"role", "note"}}, el("h2", {}, fmt::format("For these tins: {} times", wanted.typed)),
               el("ul", {}, tins));
  const auto beforehand = before_cooking(records, {visit.part, {}});
  if (beforehand) {
    main += lies_on_kit_words(beforehand->on_kit);
    Html egg;
    for (const auto& line : beforehand->egg.lines) egg += el("li", {}, line);
    if (!egg.empty()) main += el("div", {{"class", "warn"}, {"role", "note"}}, el("h2", {}, "Before you begin: egg"), el("ul", {}, egg));
  }
  std::vector<std::vector<Html>> rows;
  for (const auto& item : recipe.items) rows.push_back({name_of(records, item), format_mass(times(item.mass, wanted.times))});
  main += table(fmt::format("Amounts, {} times the recipe", wanted.wrong.empty() ? wanted.typed : "1"), {"Weigh", "How much"}, rows);
  Making making;
  making.recipe = visit.part;
  making.times = wanted.times;
  const auto proposed = propose_batch(records, making);
  Html packs;
  if (proposed) {
    for (const auto& use : proposed->batch.uses)
      packs += el("li", {}, fmt::format("{} of {}", format_mass(use.mass), name_of_use(records, use)));
    main += el("h2", {}, "Packs proposed, the earliest date first") + el("ul", {{"class", "plain-list"}}, packs);
  } else {
    for (const auto& refusal : proposed.error()) packs += el("li", {}, fmt::format("{}: {}", refusal.field, refusal.message));
    main += el("div", {{"class", "warn"}, {"role", "note"}}, el("h2", {}, "Not enough of it is on record"), el("ul", {}, packs),
               el("p", {}, link_button("/cupboard/in", "A pack came in")));
  }
  main += how_it_keeps_here(visit, how_it_keeps(records, visit.part, visit.at()), visit.part);
  if (!visit.may_record()) return page(visit, recipe.name, "bench", main);
  FormView form{visit, "/bench/make", "make"};
  form.hidden("recipe", visit.part).hidden("times", wanted.typed);
  form.number("yield", "What it weighed when finished",
              {.hint = "In grams. Left empty: estimated from the recipe, and said so.", .unit = "g"});
  form.fold_begin("Another pack, another amount, more kit");
  for (const auto& item : recipe.items) {
    Choices from;
    if (item.recipe) {
      for (const auto& [id, batch] : records.state().batches) {
        if (batch.value.recipe.text() == item.of && remaining_mg(records.state(), id.text()) > 0)
          from.push_back({id.text(), fmt::format("{}, made {}", id.text(), moment_in_words(records, batch.happened))});
      }
    } else {
      for (const auto& pack : packs_here(records, visit.today())) {
        if (pack.ingredient.text() == item.of)
          from.push_back({pack.id.text(), fmt::format("{}, code {}, {} left", pack.id.text(), pack.code, format_mass(pack.left))});
      }
    }
    form.pick(("use-" + item.of).c_str(), name_of(records, item) + " from", from, {.hint = "Left empty: as proposed."});
    form.number(("weighed-" + item.of).c_str(), name_of(records, item) + ", really used", {.unit = "g"});
  }
  form.ticks("kit", "Kit used besides", kit_of(records))
      .number("left-behind", "Stayed in bowl and tin", {.hint = "Weighed, and not in the yield", .unit = "g"});
  form.fold_end();
  add_when(form);
  main += form.kept_without_server().finish("It is made");
  return page(visit, recipe.name, "bench", main);
}

std::optional<Booked> make(Visit& visit) {
  Making making;
  making.recipe = visit.typed("recipe");
  const auto times_typed = parse_decimal(visit.typed("times").empty() ? "1" : visit.typed("times"));
  if (!times_typed || *times_typed < share_of(1, 1000) || *times_typed > 1000)
    visit.refuse("times", fmt::format("\"{}\" cannot be used", visit.typed("times")), "write a number from 0.001 to 1000, such as 1.5");
  making.times = times_typed.value_or(Share{1});
  making.yield = visit.mass("yield", false);
  making.left_behind = visit.mass("left-behind", false);
  making.kit = visit.request.form.every("kit");
  making.at = visit.typed("at");
  const auto recipe = visit.records().state().recipes.find(RecipeId{making.recipe});
  if (recipe != visit.records().state().recipes.end()) {
    for (const auto& item : recipe->second.value.items) {
      if (const std::string& pack = visit.typed("use-" + item.of); !pack.empty()) making.use.emplace_back(item.of, pack);
      if (const auto mass = visit.mass("weighed-" + item.of, false)) making.weighed.emplace_back(item.of, *mass);
    }
  }
  if (!visit.wrong.empty()) return std::nullopt;
  return visit.record([&](Session& session) { return make_batch(session, making); });
}

WebAnswer batch_page(Visit& visit) {
  const Session& records = visit.records();
  const auto found = records.state().batches.find(BatchId{visit.part});
  if (found == records.state().batches.end()) return not_there(visit, "No batch of this number is on record.");
  const Batch& batch = found->second.value;
  const auto recipe = records.state().recipe_versions.find(batch.recipe_version);
  const std::string name = recipe == records.state().recipe_versions.end() ? batch.recipe.text() : recipe->second.value.name;
  const auto person = records.state().people.find(found->second.person);
  std::vector<std::pair<std::string, Html>> lines{
      {"Made", fmt::format("{}, by {}", moment_in_words(records, found->second.happened),
                           person == records.state().people.end() ? found->second.person.text()
                                                                  : person->second.value.name.text.value_or(found->second.person.text()))},
      {"Finished", fmt::format("{}, {}", format_mass(batch.yield), batch.weighed ? "weighed" : "not weighed")},
      {"Left", format_mass(Mass::milligrams(std::max<std::int64_t>(remaining_mg(records.state(), visit.part), 0)))}};
  for (const auto& kept : kept_now(records, visit.now)) {
    if (kept.id != visit.part) continue;
    const auto place = records.state().places.find(kept.place);
    lines.push_back({"Where", place == records.state().places.end()
                                  ? "nobody recorded where it is"
                                  : fmt::format("in {} since {}", place->second.value.name, moment_in_words(records, kept.since))});
    lines.push_back({"Has to be kept", kept.storage == "room" ? "at room temperature" : "in the " + kept.storage});
  }
  Html now = facts(lines), heat;
  for (const auto& [id, probe] : records.state().probes) {
    for (const char* purpose : {"heat step", "reheating"}) {
      const auto so_far = heat_so_far(records, found->first, id, purpose);
      if (so_far)
        heat += el("div", {{"class", "big-figure"}, {"role", "status"}}, el("p", {{"class", "figure"}}, so_far->short_words),
                   verdict_mark(so_far->finding.verdict), el("p", {}, fmt::format("{}, by {}", so_far->finding.message, probe.value.name)));
    }
  }
  if (!heat.empty()) now += el("h2", {}, "Heated so far") + heat;
  std::vector<PlottedReading> readings;
  for (const auto& block : records.state().readings) {
    if (block.value.about != visit.part) continue;
    for (const auto& reading : records.readings(block))
      readings.push_back({reading.at, reading.degrees ? std::optional{reading.degrees->temperature()} : std::nullopt});
  }
  if (!readings.empty()) now += plot(records, "Temperatures of this batch", readings, {}, std::chrono::minutes{30});
  Html main = el("h1", {}, fmt::format("{} ({})", name, visit.part)) + live("batch-now", now);
  if (visit.may_record()) {
    main += el("h2", {}, "A temperature") + reading_form(visit, "batch-reading", visit.part, "", true);
    main += el("h2", {}, "Put it away") + put_form(visit, "batch-put", visit.part);
  }
  Html uses;
  for (const auto& use : batch.uses)
    uses += el("li", {}, fmt::format("{} of {}{}", format_mass(use.mass), name_of_use(records, use), use.suggested ? "" : ", as named"));
  main += live("batch-more", el("h2", {}, "What went in") + el("ul", {{"class", "plain-list"}}, uses) +
                                 how_it_keeps_here(visit, how_it_keeps(records, visit.part, visit.at()), batch.recipe.text()));
  return page(visit, name, "bench", main + more_about(visit, visit.part));
}

/// In which order to make some recipes. It is only asked: nothing is booked.
WebAnswer order_page(Visit& visit) {
  const Session& records = visit.records();
  const auto recipes = visit.request.query.every("recipe");
  Html main = el("h1", {}, "In which order") +
              el("p", {}, "The order in which the fewest allergens meet what is made without them, on the kit that the recipes share.");
  if (!recipes.empty()) {
    const auto order = order_of_work(records, recipes);
    if (!order) {
      for (const auto& refusal : order.error()) main += el("p", {{"class", "stop"}, {"role", "alert"}}, told_here(refusal));
    } else {
      Html first_to_last, washing, lying;
      for (const auto& id : order->recipes) {
        const auto recipe = records.state().recipes.find(RecipeId{id});
        first_to_last += el("li", {}, recipe == records.state().recipes.end() ? id : recipe->second.value.name);
      }
      for (const auto& line : order->to_clean) washing += el("li", {}, line);
      for (const auto& line : order->lying) lying += el("li", {}, line);
      main += el("h2", {}, "Make them like this") + el("ol", {}, first_to_last);
      if (!washing.empty())
        main += el("h2", {}, "Wash and test, since an allergen would meet what is made without it") + el("ul", {}, washing);
      if (!lying.empty()) main += el("h2", {}, "Lies on the kit already, and is met in whatever order") + el("ul", {}, lying);
      if (washing.empty() && lying.empty())
        main += el("p", {}, "By the records no allergen meets one without it on the kit that they share.");
    }
  }
  FormView form{visit, "/bench/order", "order"};
  form.asks().ticks("recipe", "What is to be made", recipes_of(records), {.hint = "Two to nine.", .needed = true});
  return page(visit, "In which order", "bench", main + form.finish("Find the order"));
}

constexpr int recipe_lines = 12;

WebAnswer new_recipe_page(Visit& visit) {
  const Session& records = visit.records();
  Choices of;
  for (const auto& [id, words] : foods_of(records)) of.push_back({"food:" + id, words});
  for (const auto& [id, words] : recipes_of(records)) of.push_back({"recipe:" + id, words + " (own recipe)"});
  if (of.empty())
    return page(
        visit, "A new recipe", "bench",
        el("h1", {}, "A new recipe") + nothing_yet("No food is on record yet, so nothing can go into it.", "/cupboard/new", "A new food"));
  FormView form{visit, "/bench/new", "new-recipe"};
  form.text("name", "What is it called?", {.hint = "vanilla sponge", .needed = true})
      .tiles(
          "part", "It is",
          {{"sponge", "a sponge"}, {"filling", "a filling"}, {"icing", "an icing"}, {"decoration", "a decoration"}, {"syrup", "a syrup"}},
          {.needed = true});
  for (int line = 1; line <= recipe_lines; ++line) {
    const std::string n = std::to_string(line);
    if (line == 6) form.fold_begin("More ingredients");
    form.add(Html{});
    form.pick(("of-" + n).c_str(), fmt::format("Ingredient {}", n), of, {.needed = line == 1});
    form.number(("mass-" + n).c_str(), fmt::format("How much of ingredient {}", n), {.unit = "g", .needed = line == 1});
  }
  form.fold_end();
  form.number("yield", "What it weighs when finished", {.unit = "g", .needed = true})
      .tiles("egg", "Egg in it",
             {{"none", "none"},
              {"baked through", "baked through"},
              {"pasteurised", "pasteurised egg"},
              {"dried pasteurised", "dried pasteurised egg"},
              {"raw, heated here", "raw egg, heated by us"},
              {"raw, not heated", "raw egg, not heated"}},
             {.needed = true})
      .tiles("storage", "It has to be kept", {{"room", "at room temperature"}, {"fridge", "in the fridge"}, {"freezer", "in the freezer"}},
             {.needed = true})
      .number("life-days", "Days it keeps", {.hint = "The day it is made is not counted.", .needed = true})
      .text("life-reason", "Why so long",
            {.hint = "decided by the maker, the recipe of a book, advice", .value = "decided by the maker", .needed = true});
  form.fold_begin("The tin that it fills");
  add_tin(form, 1, false);
  form.fold_end();
  form.ticks("kit", "Made with", kit_of(records),
             {.hint = kit_of(records).empty()
                          ? "No kit is on record: what is not recorded counts as shared. Record bowls and mixers first, or later."
                          : ""});
  return page(visit, "A new recipe", "bench", el("h1", {}, "A new recipe") + form.finish("Keep this recipe"));
}

std::optional<Booked> new_recipe(Visit& visit) {
  Json::Array items;
  for (int line = 1; line <= recipe_lines; ++line) {
    const std::string of_field = fmt::format("of-{}", line), mass_field = fmt::format("mass-{}", line);
    const std::string& of = visit.typed(of_field);
    if (of.empty() && trimmed(visit.typed(mass_field)).empty()) continue;
    if (of.empty()) visit.refuse(of_field, "is missing", "choose what the amount beside it is of");
    const auto mass = visit.mass(mass_field, true);
    if (of.empty() || !mass) continue;
    Json::Object item{{"of", Json{of.substr(of.find(':') + 1)}}, {"mass", Json{format_mass(*mass)}}};
    if (of.starts_with("recipe:")) item.emplace("recipe", Json{true});
    items.push_back(Json{std::move(item)});
  }
  const auto tins = tins_typed(visit.request.form, visit.wrong, 1);
  const auto yield = visit.mass("yield", true);
  const auto days = visit.count("life-days", 0, 3650, true);
  if (!visit.wrong.empty()) return std::nullopt;
  const std::string name{trimmed(visit.typed("name"))};
  const std::string id = short_name(name, [&](const std::string& taken) {
    return visit.records().state().recipes.contains(RecipeId{taken}) || visit.records().state().ingredients.contains(IngredientId{taken});
  });
  Json::Array kit;
  for (const auto& one : visit.request.form.every("kit")) kit.emplace_back(one);
  Json::Object document{{"recipe", Json{id}},
                        {"name", Json{name}},
                        {"part", Json{visit.typed("part")}},
                        {"items", Json{std::move(items)}},
                        {"yield", Json{format_mass(*yield)}},
                        {"egg", Json{visit.typed("egg")}},
                        {"storage", Json{visit.typed("storage")}},
                        {"life_days", Json{*days}},
                        {"life_reason", Json{std::string{trimmed(visit.typed("life-reason"))}}}};
  if (!kit.empty()) document.emplace("kit", Json{std::move(kit)});
  if (!tins.empty()) document.emplace("tin", Json{tin_as_typed(tins.front())});
  const GivenDocument given{"recipe", write_canonical(Json{std::move(document)})};
  const auto booked = visit.record([&](Session& session) { return add_recipes(session, {given}); });
  for (auto& refusal : visit.wrong) {
    if (refusal.field == "life_days") refusal.field = "life-days";
    if (refusal.field == "life_reason") refusal.field = "life-reason";
  }
  return booked;
}

WebAnswer wash_page(Visit& visit) {
  FormView form{visit, "/bench/wash", "wash"};
  form.tiles("kit", "Which kit", kit_of(visit.records()), {.needed = true})
      .tiles("grade", "How it was cleaned",
             {{"wiped", "wiped"},
              {"washed, looked clean", "washed, and it looked clean"},
              {"washed and tested", "washed and tested"},
              {"validated", "the way that was shown to work"}},
             {.value = "washed, looked clean", .needed = true});
  form.fold_begin("It was tested");
  form.text("tested", "What was tested", {.hint = "protein swab of the whisk"})
      .ticks("clears", "The test looks for",
             [&] {
               Choices all = allergens_of(visit.records());
               all.insert(all.begin(), {"protein", "protein"});
               return all;
             }())
      .tiles("found", "It found", {{"nothing", "nothing"}, {"something", "something"}});
  form.fold_end();
  add_when(form);
  return page(
      visit, "Kit was washed", "bench",
      el("h1", {}, "Kit was washed") + (kit_of(visit.records()).empty() ? nothing_yet("No kit is on record yet.", "/bench/kit", "New kit")
                                                                        : form.kept_without_server().finish("Book it")));
}

std::optional<Booked> wash(Visit& visit) {
  CleaningDone done;
  done.kit = visit.typed("kit");
  done.grade = visit.typed("grade");
  done.tested = visit.typed("tested");
  done.clears = visit.request.form.every("clears");
  done.found = visit.typed("found");
  done.at = visit.typed("at");
  return visit.record([&](Session& session) { return clean(session, done); });
}

WebAnswer kit_page(Visit& visit) {
  return page(
      visit, "New kit", "bench",
      el("h1", {}, "New kit") + FormView{visit, "/bench/kit", "new-kit"}
                                    .text("name", "What is it?", {.hint = "stand mixer bowl, palette knife, turntable", .needed = true})
                                    .finish("Keep it"));
}

std::optional<Booked> new_kit(Visit& visit) {
  const std::string name{trimmed(visit.typed("name"))};
  const std::string id =
      short_name(name, [&](const std::string& taken) { return visit.records().state().equipment.contains(EquipmentId{taken}); });
  return visit.record([&](Session& session) { return add_equipment(session, id, name); });
}

}  // namespace

std::vector<Route> bench_routes() {
  return {{"GET", "/bench", For::reader, bench_page},         {"GET", "/bench/recipe/*", For::reader, recipe_page},
          {"GET", "/bench/batch/*", For::reader, batch_page}, {"GET", "/bench/new", For::recorder, new_recipe_page},
          {"GET", "/bench/wash", For::recorder, wash_page},   {"GET", "/bench/kit", For::recorder, kit_page},
          {"GET", "/bench/order", For::reader, order_page}};
}

std::vector<Deed> bench_deeds() {
  std::vector<DeedField> recipe_fields{{"name", "what it is called", true}, {"part", "sponge, filling, icing, decoration or syrup", true}};
  static const char* of_fields[] = {"of-1", "of-2", "of-3", "of-4", "of-5", "of-6", "of-7", "of-8", "of-9", "of-10", "of-11", "of-12"};
  static const char* mass_fields[] = {"mass-1", "mass-2", "mass-3", "mass-4",  "mass-5",  "mass-6",
                                      "mass-7", "mass-8", "mass-9", "mass-10", "mass-11", "mass-12"};
  for (int line = 0; line < recipe_lines; ++line) {
    recipe_fields.push_back({of_fields[line], "what goes in: food:butter or recipe:sponge", line == 0});
    recipe_fields.push_back({mass_fields[line], "how much of it, in grams or with its unit", line == 0});
  }
  for (const DeedField& field : {DeedField{"yield", "what it weighs when finished", true},
                                 {"egg", "none, baked through, pasteurised, dried pasteurised, raw, heated here or raw, not heated", true},
                                 {"storage", "room, fridge or freezer", true},
                                 {"life-days", "days it keeps", true},
                                 {"life-reason", "why so long", true},
                                 {"tins-1", "how many tins it fills"},
                                 {"shape-1", "round or square"},
                                 {"across-1", "how far across a tin is, cm"},
                                 {"deep-1", "how deep a tin is, cm"},
                                 {"kit", "short name of kit", false, true}})
    recipe_fields.push_back(field);
  return {{"/bench/make",
           For::recorder,
           "A batch was made.",
           {{"recipe", "short name", true},
            {"times", "how many times the recipe, 1.5"},
            {"yield", "what it weighed when finished"},
            {"left-behind", "what stayed in bowl and tin"},
            {"kit", "kit used besides", false, true},
            {"use-*", "of a food or recipe in it: the pack or batch that was used"},
            {"weighed-*", "of a food or recipe in it: what was really used"},
            {"at", "when; empty: now"}},
           make,
           [](const Visit&, const Booked& booked) { return "/bench/batch/" + booked.subjects.front(); },
           recipe_page},
          {"/bench/new", For::recorder, "A recipe.", std::move(recipe_fields), new_recipe,
           [](const Visit&, const Booked& booked) { return "/bench/recipe/" + booked.subjects.front(); }, new_recipe_page},
          {"/bench/wash",
           For::recorder,
           "A piece of kit was cleaned.",
           {{"kit", "short name", true},
            {"grade", "wiped, washed, looked clean, washed and tested or validated", true},
            {"tested", "what was tested"},
            {"clears", "allergen keys, or protein", false, true},
            {"found", "nothing or something"},
            {"at", "when; empty: now"}},
           wash,
           to("/bench"),
           wash_page},
          {"/bench/kit", For::recorder, "A piece of kit.", {{"name", "what it is", true}}, new_kit, to("/bench"), kit_page}};
}

}  // namespace tierproof::web
