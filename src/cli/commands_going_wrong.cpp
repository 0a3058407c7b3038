#include <fmt/format.h>

#include "door.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/precautions.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {
namespace {

Json json_of_matter(const OpenMatter& matter) {
  Json::Array touches;
  for (const auto& line : matter.touches) touches.emplace_back(line);
  return Json{Json::Object{
      {"id", Json{matter.id}}, {"since", Json{matter.since}}, {"what", Json{matter.what}}, {"touches", Json{std::move(touches)}}}};
}

void say_touches(const OpenMatter& matter, const char* none) {
  for (const auto& line : matter.touches) Door::say(fmt::format("    {}", line));
  if (matter.touches.empty()) Door::say(fmt::format("    {}", none));
}

constexpr const char* no_touch = "touches no cake, and no batch of which something is left, as recorded";
constexpr const char* no_sharing = "no other cake has a batch of it, as recorded";

Json booked_json(const char* schema, const Booked& booked) {
  Json::Array notes;
  for (const auto sequence : booked.sequences) notes.emplace_back(static_cast<std::int64_t>(sequence));
  Json::Array subjects;
  for (const auto& subject : booked.subjects) subjects.emplace_back(subject);
  return Json{Json::Object{{"schema", Json{schema}},
                           {"notes", Json{std::move(notes)}},
                           {"subjects", Json{std::move(subjects)}},
                           {"already", Json{booked.already}},
                           {"head", Json{format_head(booked.head)}}}};
}

/// What was booked, and all that the open trouble touches.
int print_trouble(const Door& door, const Session& session, const Booked& booked) {
  const auto matters = open_matters(session, {session.now(), session.offset_at(session.now())});
  if (!matters) return door.refuse(matters.error());
  if (!door.json) door.print_booked(session, booked);
  for (const auto& matter : *matters) {
    if (booked.subjects.empty() || matter.id != booked.subjects.front()) continue;
    if (door.json) {
      Json json = booked_json("tierproof/went-wrong/1", booked);
      json["trouble"] = json_of_matter(matter);
      door.print(std::move(json), session.kitchen().demo);
      return exit_status::done;
    }
    Door::say("until it is closed, this stops:");
    say_touches(matter, no_touch);
  }
  // A retry of one that was closed since has nothing more to stop.
  if (door.json) door.print(booked_json("tierproof/went-wrong/1", booked), session.kitchen().demo);
  return exit_status::done;
}

int print_complaint(const Door& door, const Session& session, const ComplaintTold& told) {
  if (door.json) {
    Json::Array sharing;
    for (const auto& shared : told.sharing) {
      Json::Array batches;
      for (const auto& batch : shared.batches) batches.emplace_back(batch);
      Json cake{Json::Object{{"cake", Json{shared.cake}}, {"batches", Json{std::move(batches)}}}};
      if (shared.thrown_away) cake["thrown_away"] = Json{true};
      if (!shared.handed_over.empty()) cake["handed_over"] = Json{shared.handed_over};
      sharing.push_back(std::move(cake));
    }
    Json json = booked_json("tierproof/complaint/1", told.booked);
    json["sharing"] = Json{std::move(sharing)};
    door.print(std::move(json), session.kitchen().demo);
    return exit_status::done;
  }
  door.print_booked(session, told.booked);
  Door::say("until it is closed, what its file rests on can be neither corrected nor voided.");
  Door::say("other cakes with batches of it:");
  for (const auto& shared : told.sharing) {
    Door::say(fmt::format("    {} ({}): {}", shared.cake,
                          shared.thrown_away           ? "thrown away"
                          : shared.handed_over.empty() ? "not handed over"
                                                       : "handed over " + shared.handed_over,
                          fmt::join(shared.batches, ", ")));
  }
  if (told.sharing.empty()) Door::say(fmt::format("    {}", no_sharing));
  if (!told.sharing.empty())
    Door::say("nothing stops these by itself: if a batch may be the cause, tell it with `tierproof went-wrong --about BATCH`.");
  return exit_status::done;
}

}  // namespace

void went_wrong_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<GoingWrong>();
  options->from = "person";
  app.add_option("what", options->what, "what went wrong, in your words")->required();
  app.add_option("--about", options->about,
                 "a pack, batch, cake, place, thermometer, piece of kit, tub or sort of regular record; one or more")
      ->required();
  app.add_option("--shown-by", options->from, "control, temperature or person")->capture_default_str();
  app.add_option("--control", options->control, "which control of the plan showed it, such as cold-hold");
  app.add_option("--at", options->at, "when it began, or the earliest that it can have begun; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.write<Booked>([&](Session& session) { return tell_went_wrong(session, *options); },
                             [&](Session& session, const Booked& booked) { return print_trouble(d, session, booked); });
    };
  });
}

void put_right_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<PuttingRight>();
  app.add_option("trouble", options->trouble, "its number, trouble-1")->required();
  app.add_option("--food", options->food, "what became of the food: used, remade, binned or \"no food touched\"")->required();
  app.add_option("--cause", options->cause, "why it happened")->required();
  app.add_option("--done", options->action, "what was done, so that it does not happen again")->required();
  app.add_option("--at", options->at, "when it was closed; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) { return d.record([&](Session& session) { return put_right(session, *options); }); };
  });
}

void complaint_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<Complaining>();
  app.add_option("cake", options->cake, "its number, cake-1")->required();
  app.add_option("what", options->what, "what the complaint is, in their words")->required();
  app.add_option("--of", options->of, "illness, \"allergic reaction\", \"something in it\", spoiled, damaged or other")->required();
  app.add_option("--from", options->from, "who complained, and how; kept apart, so that it can be erased")->required();
  app.add_option("--at", options->at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.write<ComplaintTold>([&](Session& session) { return complain(session, *options); },
                                    [&](Session& session, const ComplaintTold& told) { return print_complaint(d, session, told); });
    };
  });
}

void settle_options(CLI::App& app, Door& door) {
  struct Options {
    std::string complaint, outcome, at;
  };
  auto options = std::make_shared<Options>();
  app.add_option("complaint", options->complaint, "its number, complaint-1")->required();
  app.add_option("--outcome", options->outcome, "how it ended")->required();
  app.add_option("--at", options->at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return settle_complaint(session, options->complaint, options->outcome, options->at); });
    };
  });
}

void throw_away_options(CLI::App& app, Door& door) {
  struct Options {
    ThrowingAway throwing;
    std::string mass;
  };
  auto options = std::make_shared<Options>();
  app.add_option("what", options->throwing.what, "pack, batch or cake")->required();
  app.add_option("--mass", options->mass, "how much of it; else all that is left");
  app.add_option("--why", options->throwing.why, "why")->required();
  app.add_option("--at", options->throwing.at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      ThrowingAway throwing = options->throwing;
      throwing.mass = maybe_mass("--mass", options->mass);
      return d.record([&](Session& session) { return throw_away(session, throwing); });
    };
  });
}

void missed_options(CLI::App& app, Door& door) {
  struct Options {
    MissedCheck missed;
    std::string day;
  };
  auto options = std::make_shared<Options>();
  app.add_option("what", options->missed.about, "fridge, thermometer, batch or sort of regular record that was not checked")->required();
  app.add_option("--day", options->day, "the day, as 2026-05-01")->required();
  app.add_option("--because", options->missed.because, "forgotten, \"nobody worked\", \"no thermometer\" or other")->required();
  app.add_option("--note", options->missed.note, "more about it; needed with other");
  app.add_option("--of", options->missed.of, "\"regular record\" or thing, where a sort of these and something else share a short name");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      MissedCheck missed = options->missed;
      missed.day = date_of("--day", options->day);
      return d.record([&](Session& session) { return tell_missed(session, missed); });
    };
  });
}

void precaution_options(CLI::App& app, Door& door) {
  struct Options {
    DecidingPrecaution deciding;
    std::string amount, protein, slice;
  };
  auto options = std::make_shared<Options>();
  app.add_option("allergen", options->deciding.allergen, "its key, such as nuts:hazelnut; never a whole group")->required();
  app.add_option("--about", options->deciding.about, "a cake, a recipe, or kitchen for all of them")->required();
  app.add_option("--why", options->deciding.why, "what was looked at, and found")->required();
  app.add_flag("--not-needed", options->deciding.not_needed, "judged not to be needed; it takes nothing away that packs or kit tell");
  app.add_option("--what", options->deciding.what, "of an estimate: what may get in, such as ground hazelnuts");
  app.add_option("--amount", options->amount, "how much of it in one whole cake, such as 150mg");
  app.add_option("--protein", options->protein, "its share of protein, such as 14%");
  app.add_option("--slice", options->slice, "the largest likely slice, such as 125g");
  app.add_flag("--pieces", options->deciding.pieces, "it comes in pieces, which are not spread evenly");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      DecidingPrecaution deciding = options->deciding;
      deciding.amount = maybe_mass("--amount", options->amount);
      deciding.slice = maybe_mass("--slice", options->slice);
      if (!options->protein.empty()) {
        const auto share = parse_percent(options->protein);
        if (!share) bad_option("--protein", options->protein, "write it like 14%");
        deciding.protein = *share;
      }
      return d.record([&](Session& session) { return decide_precaution(session, deciding); });
    };
  });
}

void open_matters_options(CLI::App& app, Door& door) {
  app.callback([&door] {
    door.action = [](Door& d) {
      return d.read([&](Session& session) {
        const bool demo = session.kitchen().demo;
        const auto matters = open_matters(session, {session.now(), session.offset_at(session.now())});
        if (!matters) return d.refuse(matters.error());
        const int status = matters->empty() ? exit_status::done : exit_status::found_wanting;
        if (d.json) {
          Json::Array list;
          for (const auto& matter : *matters) list.push_back(json_of_matter(matter));
          d.print(Json{Json::Object{{"schema", Json{"tierproof/open-matters/1"}},
                                    {"open", Json{std::move(list)}},
                                    {"head", Json{format_head(session.head())}}}},
                  demo);
          return status;
        }
        const std::string mark = demo ? "DEMO  " : "";
        for (const auto& matter : *matters) {
          Door::say(fmt::format("{}{}, open since {}, {}", mark, matter.id, matter.since, matter.what));
          say_touches(matter, matter.id.starts_with("complaint") ? no_sharing : no_touch);
        }
        if (matters->empty()) Door::say(mark + "nothing is open");
        return status;
      });
    };
  });
}

}  // namespace tierproof::cli
