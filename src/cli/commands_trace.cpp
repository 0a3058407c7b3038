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
  };
  auto options = std::make_shared<Options>();
  app.add_option("thing", options->things, "pack-3, batch-2, cake-1, or the code on a pack; of several: what went into each of them")
      ->required();
  app.add_option("--counted", options->counted, "what is left of it, as you weighed it: tells what is not accounted for");
  app.add_option("--picture", options->picture, "file for a drawing of it, named .svg or .pdf");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const auto counted = maybe_mass("--counted", options->counted);
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
