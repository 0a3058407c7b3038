#include <fmt/format.h>

#include <algorithm>

#include "door.h"
#include "tierproof/app/recalling.h"
#include "tierproof/app/tracing.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {
namespace {

std::string mass_words(const Share& mg) {
  const Share tenths = mg / 100;  // of a gram
  return tenths < Share{1} ? std::string{"less than 0.1 g"} : format_decimal(mg / 1000, 1) + " g";
}

Json json_of(const TracedTold& one) {
  return Json{Json::Object{{"id", Json{one.id}},
                           {"words", Json{one.words}},
                           {"certain", Json{one.certain}},
                           {"steps", Json{static_cast<std::int64_t>(one.steps)}},
                           {"way", Json{one.way}},
                           {"where", Json{one.where}},
                           {"grams", one.mg ? Json{format_decimal(*one.mg / 1000, 3)} : Json{}}}};
}

Json json_of(const std::vector<TracedTold>& all) {
  Json::Array list;
  for (const auto& one : all) list.push_back(json_of(one));
  return Json{std::move(list)};
}

std::string grams_of(Mass mass) { return format_decimal(share_of(mass.to_milligrams(), 1000), 3); }

Json json_of(const MassBalance& balance) {
  const auto unaccounted = balance.unaccounted();
  return Json{Json::Object{{"had_g", Json{grams_of(balance.had)}},
                           {"used_g", Json{grams_of(balance.used)}},
                           {"thrown_away_g", Json{grams_of(balance.thrown_away)}},
                           {"left_g", Json{grams_of(balance.left())}},
                           {"counted_g", balance.counted ? Json{grams_of(*balance.counted)} : Json{}},
                           {"unaccounted_g", unaccounted ? Json{grams_of(*unaccounted)} : Json{}}}};
}

Json json_of(const TraceTold& told) {
  Json::Array taken, kit;
  for (const auto& one : told.taken_back) {
    taken.push_back(Json{Json::Object{{"into", Json{one.into}},
                                      {"said", Json{static_cast<std::int64_t>(one.said)}},
                                      {"corrected_by", Json{static_cast<std::int64_t>(one.corrected_by)}}}});
  }
  for (const auto& one : told.kit) {
    kit.push_back(Json{Json::Object{
        {"equipment", Json{one.equipment}}, {"before", Json{one.before}}, {"after", Json{one.after}}, {"cleaning", Json{one.cleaning}}}});
  }
  return Json{Json::Object{{"schema", Json{"tierproof/trace/1"}},
                           {"id", Json{told.id}},
                           {"words", Json{told.words}},
                           {"into", json_of(told.into)},
                           {"from", json_of(told.from)},
                           {"taken_back", Json{std::move(taken)}},
                           {"kit", Json{std::move(kit)}},
                           {"balance", told.balance ? json_of(*told.balance) : Json{}},
                           {"amounts_known", Json{told.amounts_known}}}};
}

void say_lines(const std::vector<TracedTold>& all, bool certain, const std::string& heading, std::string_view amount_of) {
  bool first = true;
  for (const auto& one : all) {
    if (one.certain != certain) continue;
    if (first) Door::say(heading);
    first = false;
    const std::string amount = one.mg ? fmt::format("; {} {}", mass_words(*one.mg), amount_of) : "";
    Door::say(fmt::format("  {}: {}{}", one.words, one.where, amount));
    if (one.steps > 1 && !one.way.empty()) Door::say(fmt::format("    {}", one.way));
  }
}

void say_balance(const std::string& of, const MassBalance& balance) {
  std::string words = fmt::format("{}, by the records: {} in all, {} used, {} thrown away", of, format_mass(balance.had),
                                  format_mass(balance.used), format_mass(balance.thrown_away));
  if (balance.left() < Mass{}) {
    words += fmt::format(": {} more was used than there was", format_mass(Mass{} - balance.left()));
  } else {
    words += fmt::format(": {} should be left", format_mass(balance.left()));
  }
  Door::say(words);
  const auto unaccounted = balance.unaccounted();
  if (!unaccounted) return;
  const Mass off = *unaccounted < Mass{} ? Mass{} - *unaccounted : *unaccounted;
  Door::say(fmt::format("counted: {}; {}", format_mass(*balance.counted),
                        off == Mass{} ? std::string{"all of it is accounted for"}
                                      : fmt::format("{} ({} %) {}", format_mass(off),
                                                    format_decimal(share_of(off.to_milligrams() * 100, balance.had.to_milligrams()), 1),
                                                    *unaccounted < Mass{} ? "more than there should be" : "not accounted for")));
}

void say_apart(const TraceTold& told) {
  if (!told.taken_back.empty()) Door::say("recorded once and taken back since");
  for (const auto& one : told.taken_back)
    Door::say(fmt::format("  {}: note {} said so, note {} corrected it", one.into, one.said, one.corrected_by));
  if (!told.kit.empty()) Door::say("next on the same kit (what they met there is no part of them)");
  for (const auto& one : told.kit)
    Door::say(fmt::format("  {}: {}, then {}; between the two: {}", one.equipment, one.before, one.after, one.cleaning));
}

void say_trace(const TraceTold& told) {
  Door::say(told.words);
  say_lines(told.into, true, "went into", "of it went in");
  say_lines(told.into, false, "may have gone into", "of it went in");
  if (told.into.empty() && told.balance) Door::say("went into nothing, by the records");
  say_lines(told.from, true, "is made of", "of it in this");
  say_lines(told.from, false, "may hold some of", "of it in this");
  say_apart(told);
  if (told.balance) say_balance(told.id, *told.balance);
  if (!told.amounts_known) Door::say("not every amount can be told: a weight on the way is not known");
}

Json json_of(const std::vector<RecallStep>& steps) {
  Json::Array list;
  for (const auto& step : steps) {
    Json one = json_of(step.food);
    one["customer"] = Json{step.customer};
    one["done"] = Json{step.done};
    one["done_words"] = Json{step.done_words};
    list.push_back(std::move(one));
  }
  return Json{std::move(list)};
}

Json json_of(const RecallTold& told) {
  Json::Array of, because;
  for (const auto& one : told.of) of.push_back(json_of(one));
  for (const auto& words : told.because) because.emplace_back(words);
  return Json{Json::Object{{"schema", Json{"tierproof/recall/1"}},
                           {"drill", Json{told.drill}},
                           {"of", Json{std::move(of)}},
                           {"because", Json{std::move(because)}},
                           {"contact", json_of(told.contact)},
                           {"hold", json_of(told.hold)},
                           {"gone", json_of(told.gone)},
                           {"open", Json{told.open()}}}};
}

void say_steps(const std::vector<RecallStep>& steps, const std::string& heading, bool drill) {
  if (steps.empty()) return;
  const auto waiting = std::count_if(steps.begin(), steps.end(), [](const RecallStep& step) { return !step.done; });
  const std::string to_do = waiting == 0 ? std::string{"nothing left to do"} : fmt::format("{} still to do", waiting);
  Door::say(fmt::format("{}{}: {}, {}", drill ? "DRILL  " : "", heading, steps.size(), to_do));
  for (const auto& step : steps) {
    const std::string amount = step.food.mg ? fmt::format(", {} of it went in", mass_words(*step.food.mg)) : "";
    Door::say(fmt::format("  [{}] {}{}{}: {}", step.done ? "x" : " ", step.food.certain ? "" : "MAY HOLD IT  ", step.food.words, amount,
                          step.food.where));
    if (!step.customer.empty()) Door::say(fmt::format("      {}", step.customer));
    if (step.food.steps > 1) Door::say(fmt::format("      {}", step.food.way));
    if (!step.done_words.empty()) Door::say(fmt::format("      {}", step.done_words));
  }
}

void say_recall(const RecallTold& told) {
  if (told.drill) Door::say("DRILL: nothing is recalled; this is an exercise on the records as they are");
  for (const auto& of : told.of) Door::say(fmt::format("{}recall of {}", told.drill ? "DRILL  " : "", of.words));
  for (const auto& words : told.because) Door::say(fmt::format("  {}", words));
  say_steps(told.contact, "tell", told.drill);
  say_steps(told.hold, "set aside, marked, so that nobody uses it", told.drill);
  say_steps(told.gone, "gone already", told.drill);
  for (const auto& of : told.of) {
    say_apart(of);
    if (of.balance) say_balance(of.id, *of.balance);
  }
  const auto not_told = [](const RecallStep& step) { return !step.done; };
  if (!told.drill && std::any_of(told.contact.begin(), told.contact.end(), not_told))
    Door::say("to tell a customer, and record it: `tierproof message recalled cake-N --when after-hand-over --sent-to …`");
  Door::say(
      "Local law and your food authority come first: in many places they must be told at once when food that may hurt somebody has left.");
}

}  // namespace

void trace_options(CLI::App& app, Door& door) {
  struct Options {
    std::vector<std::string> things;
    std::string counted;
  };
  auto options = std::make_shared<Options>();
  app.add_option("thing", options->things, "pack-3, batch-2, cake-1, or the code on a pack; of several: what went into each of them")
      ->required();
  app.add_option("--counted", options->counted, "what is left of it, as you weighed it: tells what is not accounted for");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const auto counted = maybe_mass("--counted", options->counted);
      return d.read([&](Session& session) {
        const ZonedInstant now{session.now(), session.offset_at(session.now())};
        const bool demo = session.kitchen().demo;
        if (options->things.size() == 1) {
          const auto told = trace(session, options->things.front(), counted, now);
          if (!told) return d.refuse(told.error());
          Json json = json_of(*told);
          json["head"] = Json{format_head(session.head())};
          if (d.json) {
            d.print(std::move(json), demo);
          } else {
            Door::mark_demo(demo);
            say_trace(*told);
          }
          return exit_status::done;
        }
        if (counted) return d.refuse({Refusal{"", 0, "--counted", "goes with one pack or batch", "leave it out, or name one thing"}});
        const auto shared = traced_to_all(session, options->things, now);
        if (!shared) return d.refuse(shared.error());
        if (d.json) {
          d.print(Json{Json::Object{{"schema", Json{"tierproof/traced-to-all/1"}},
                                    {"shared", json_of(*shared)},
                                    {"head", Json{format_head(session.head())}}}},
                  demo);
          return exit_status::done;
        }
        Door::mark_demo(demo);
        say_lines(*shared, true, "went into each of them", "");
        say_lines(*shared, false, "may have gone into each of them", "");
        if (shared->empty()) Door::say("they have nothing in common, by the records");
        return exit_status::done;
      });
    };
  });
}

void recall_options(CLI::App& app, Door& door) {
  struct Options {
    std::vector<std::string> things;
    std::string supplier, from, until;
    bool drill = false;
  };
  auto options = std::make_shared<Options>();
  app.add_option("thing", options->things, "packs or batches by number, packs by the code on them");
  auto* supplier = app.add_option("--supplier", options->supplier, "every pack of this supplier that came in");
  app.add_option("--from", options->from, "from this day")->needs(supplier);
  app.add_option("--until", options->until, "until this day; both count")->needs(supplier);
  app.add_flag("--drill", options->drill, "an exercise: nothing has to be withdrawn, and nothing counts as done");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const auto from = maybe_date("--from", options->from);
      const auto until = maybe_date("--until", options->until);
      return d.read([&](Session& session) {
        std::vector<std::string> things = options->things;
        if (!options->supplier.empty()) {
          auto packs = packs_from(session, options->supplier, from.value_or(std::chrono::year{1} / 1 / 1), until.value_or(session.today()));
          if (!packs) return d.refuse(packs.error());
          things.insert(things.end(), packs->begin(), packs->end());
        }
        const auto told = recall(session, things, options->drill, {session.now(), session.offset_at(session.now())});
        if (!told) return d.refuse(told.error());
        const bool demo = session.kitchen().demo;
        if (d.json) {
          Json json = json_of(*told);
          json["head"] = Json{format_head(session.head())};
          d.print(std::move(json), demo);
        } else {
          Door::mark_demo(demo);
          say_recall(*told);
        }
        return told->open() && !told->drill ? exit_status::found_wanting : exit_status::done;
      });
    };
  });
}

}  // namespace tierproof::cli
