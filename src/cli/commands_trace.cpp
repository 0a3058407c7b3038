#include <fmt/format.h>

#include <algorithm>

#include "door.h"
#include "tierproof/app/tracing.h"
#include "tierproof/text/number.h"
#include "trace_words.h"

namespace tierproof::cli {
namespace {

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

void say_trace(const TraceTold& told) {
  Door::say(told.words);
  say_lines(told.into, true, "went into", "of it went in");
  say_lines(told.into, false, "may have gone into", "of it went in");
  if (told.into.empty() && told.balance) Door::say("went into nothing, by the records");
  say_lines(told.from, true, "is made of", "of it in this");
  say_lines(told.from, false, "may hold some of", "of it in this");
  say_apart(told, "");
  if (told.balance) say_balance(told.id, *told.balance, "");
  if (!told.amounts_known) Door::say("not every amount can be told: a weight on the way is not known");
}

std::string in_words(const StoredThing& thing) {
  return fmt::format("{} ({})", thing.name, thing.words.empty() ? "voided: the records no longer say what it was" : thing.words);
}

void say_list(const std::vector<StoredThing>& all, bool certain, const std::string& heading) {
  bool first = true;
  for (const auto& one : all) {
    if (one.certain != certain) continue;
    if (first) Door::say(heading);
    first = false;
    Door::say("  " + in_words(one));
  }
}

Json json_of(const StoredThing& thing) {
  return Json{Json::Object{{"id", Json{thing.name}}, {"words", Json{thing.words}}, {"certain", Json{thing.certain}}}};
}

Json json_of(const std::vector<StoredThing>& things) {
  Json::Array all;
  for (const auto& thing : things) all.push_back(json_of(thing));
  return Json{std::move(all)};
}

/// The quick answer, for which the records are not read.
int list_trace(Door& door, const std::string& thing) {
  const auto store = open_sqlite(door.kitchen_file, true);
  const auto list = trace_list(*store, thing);
  if (!list) return door.refuse(list.error());
  const bool demo = of_a_demo(*store);
  if (door.json) {
    door.print(Json{Json::Object{{"schema", Json{"tierproof/trace-list/1"}},
                                 {"thing", json_of(list->thing)},
                                 {"into", json_of(list->into)},
                                 {"from", json_of(list->from)},
                                 {"head", Json{format_head(list->head)}}}},
               demo);
    return exit_status::done;
  }
  Door::mark_demo(demo);
  Door::say(in_words(list->thing));
  say_list(list->into, true, "went into");
  say_list(list->into, false, "may have gone into");
  if (list->into.empty()) Door::say("went into nothing, by the records");
  say_list(list->from, true, "is made of");
  say_list(list->from, false, "may hold some of");
  Door::say(fmt::format("Where each is, and how much: tierproof trace {}. Whom to call: tierproof recall-begin.", list->thing.name));
  return exit_status::done;
}

/// The form that a name of a file asks for.
PictureForm form_of(const std::string& path) {
  if (path.ends_with(".svg")) return PictureForm::svg;
  if (path.ends_with(".pdf")) return PictureForm::pdf;
  bad_option("--picture", path, "write a name that ends in .svg or .pdf");
}

}  // namespace

void trace_options(CLI::App& app, Door& door) {
  struct Options {
    std::vector<std::string> things;
    std::string counted, picture;
    bool list = false;
  };
  auto options = std::make_shared<Options>();
  app.add_option("thing", options->things, "pack-3, batch-2, cake-1, or the code on a pack; of several: what went into each of them")
      ->required();
  app.add_option("--counted", options->counted, "what is left of it, as you weighed it: tells what is not accounted for");
  app.add_option("--picture", options->picture, "file for a drawing of it, named .svg or .pdf");
  app.add_flag("--list", options->list, "the names alone, without places and amounts: quick however long the records are");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      if (options->list) {
        const bool plain = options->things.size() == 1 && options->counted.empty() && options->picture.empty() && d.as_of == 0;
        if (!plain)
          return d.refuse({Refusal{"", 0, "--list", "tells the names of one thing's trace as the records are now",
                                   "leave out --counted, --picture and --as-of, and name one thing"}});
        return list_trace(d, options->things.front());
      }
      std::optional<Mass> counted;  // nothing left is a count too
      if (!options->counted.empty()) counted = mass_or_none_of("--counted", options->counted);
      std::optional<PictureForm> form;
      if (!options->picture.empty()) form = form_of(options->picture);
      return d.read([&](Session& session) {
        const ZonedInstant now{session.now(), session.offset_at(session.now())};
        const bool demo = session.kitchen().demo;
        if (options->things.size() == 1) {
          const auto told = trace(session, options->things.front(), counted, now);
          if (!told) return d.refuse(told.error());
          if (form) {
            const auto picture = draw_trace(session, told->id, *form, d.data(), now);
            if (!picture) return d.refuse(picture.error());
            save_file(options->picture, *picture);
          }
          Json json = json_of(*told);
          json["head"] = Json{format_head(session.head())};
          if (d.json) {
            d.print(std::move(json), demo);
          } else {
            Door::mark_demo(demo);
            say_trace(*told);
            if (form) Door::say("drawn: " + options->picture);
          }
          return exit_status::done;
        }
        if (counted) return d.refuse({Refusal{"", 0, "--counted", "goes with one pack or batch", "leave it out, or name one thing"}});
        if (form) return d.refuse({Refusal{"", 0, "--picture", "draws one thing", "leave it out, or name one thing"}});
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

}  // namespace tierproof::cli
