// How long things are kept, and what goes of customers once nobody needs them any more.
#include <fmt/format.h>

#include <algorithm>

#include "door.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/kept_until.h"

namespace tierproof::cli {
namespace {

Json kept_json(const KeptLine& line) {
  Json::Array held;
  for (const auto& words : line.held_by) held.emplace_back(words);
  Json::Object one{{"kind", Json{line.kind}},
                   {"thing", Json{line.thing}},
                   {"name", Json{line.name}},
                   {"state", Json{term_of(line.state)}},
                   {"may_go", Json{line.state == KeptState::may_go}},
                   {"kept_until", line.last ? Json{format_date(*line.last)} : Json{}},
                   {"why", Json{line.why}},
                   {"held_by", Json{std::move(held)}},
                   {"words_may_go", Json{static_cast<std::int64_t>(line.words_may_go)}}};
  if (line.kept) {
    one["row"] = Json{line.kept->cited.row};
    one["clause"] = Json{line.kept->cited.clause};
    one["from_memory"] = Json{line.kept->cited.from_memory};
    one["counted_from"] = Json{line.kept->from.event};
    one["counted_from_day"] = Json{format_date(line.kept->from.day)};
  }
  if (line.notes > 0) {
    one["notes"] = Json{static_cast<std::int64_t>(line.notes)};
    one["notes_past_their_time"] = Json{static_cast<std::int64_t>(line.past)};
  }
  return Json{std::move(one)};
}

Json note_numbers(const std::vector<std::uint64_t>& notes) {
  Json::Array all;
  for (const auto one : notes) all.emplace_back(static_cast<std::int64_t>(one));
  return Json{std::move(all)};
}

std::string notes_said(const std::vector<std::uint64_t>& notes) {
  return fmt::format("note{} {}", notes.size() == 1 ? "" : "s", fmt::join(notes, ", "));
}

void say_kept_line(const KeptLine& line) {
  std::string why = line.why;
  if (line.notes > 0)
    why += fmt::format("; {} {}, {} past {} own time", line.notes, line.notes == 1 ? "note" : "notes", line.past,
                       line.notes == 1 ? "its" : "their");
  if (line.words_may_go > 0)
    why += fmt::format("; what {} of them {} apart may go", line.words_may_go, line.words_may_go == 1 ? "keeps" : "keep");
  Door::say(fmt::format("  {:<22} {:<22} {:<17} {:<18} {}", line.thing, line.kind, words_of(line.state),
                        line.last ? format_date_long(*line.last) : "-", why));
  for (const auto& held : line.held_by) Door::say(fmt::format("  {:<22} {:<22} held: {}", "", "", held));
}

int say_kept(Door& door, const Session& session, const KeptView& view, bool may_go_only, const std::string& thing) {
  std::vector<const KeptLine*> shown;
  for (const auto& line : view.lines) {
    if ((!may_go_only || line.state == KeptState::may_go || line.words_may_go > 0) && (thing.empty() || line.thing == thing))
      shown.push_back(&line);
  }
  const auto cakes = view.customers_that_may_go();
  if (door.json) {
    Json::Array lines, may_go;
    for (const auto* line : shown) lines.push_back(kept_json(*line));
    for (const auto& cake : cakes) may_go.emplace_back(cake);
    door.print(Json{Json::Object{{"schema", Json{"tierproof/kept-until/1"}},
                                 {"on", Json{format_date(view.on)}},
                                 {"rules", Json{view.rules}},
                                 {"kept", Json{std::move(lines)}},
                                 {"customers_that_may_go", Json{std::move(may_go)}},
                                 {"names_and_records_that_may_go",
                                  Json{static_cast<std::int64_t>(view.names_that_may_go() + view.records_that_may_go())}}}},
               session.kitchen().demo);
    return exit_status::done;
  }
  Door::mark_demo(session.kitchen().demo);
  Door::say(fmt::format("{}, by the rules \"{}\" of how long records are kept: the last day of each, and what sets it",
                        format_date_long(view.on), view.rules));
  if (shown.empty()) Door::say("  nothing");
  if (!shown.empty()) Door::say(fmt::format("  {:<22} {:<22} {:<17} {:<18} {}", "of", "what", "", "until", "because"));
  for (const auto* line : shown) say_kept_line(*line);
  if (thing.empty() && cakes.empty()) Door::say("no customer may go.");
  if (thing.empty() && !cakes.empty() && view.on == session.today())
    Door::say(fmt::format("{} may go today: `tierproof erase-old-customers --confirm {}`",
                          cakes.size() == 1 ? "1 customer" : fmt::format("{} customers", cakes.size()), cakes.size()));
  if (const std::size_t names = view.names_that_may_go(), records = view.records_that_may_go();
      thing.empty() && names + records > 0 && view.on == session.today()) {
    const std::string of_names = names == 1 ? "the name of 1 person who left" : fmt::format("the names of {} people who left", names);
    const std::string of_records = records == 1 ? "the words of 1 regular record" : fmt::format("the words of {} regular records", records);
    const std::string both = names == 0 ? of_records : records == 0 ? of_names : of_names + " and " + of_records;
    Door::say(fmt::format("{} may go today: `tierproof erase-old-words --confirm {}`", both, names + records));
  }
  Door::say("Notes, packs, batches, readings and what went into what always stay, since the trace leans on them. Only what is kept of");
  Door::say("customers, names of people who left and the words of regular records are ever erased, by somebody and with a note of it.");
  Door::say("Tax and other law may ask for longer: ask whoever knows.");
  return exit_status::done;
}

}  // namespace

void kept_until_options(CLI::App& app, Door& door) {
  struct Options {
    std::string thing, on;
    bool may_go = false;
  };
  auto options = std::make_shared<Options>();
  app.add_option("of", options->thing, "one cake, thermometer, sort of regular record, supplier or person; else all");
  app.add_option("--on", options->on, "the day that is asked about; else today");
  app.add_flag("--may-go", options->may_go, "only what may go");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.read([&](Session& session) {
        const auto view = kept_until(session, maybe_date("--on", options->on).value_or(session.today()));
        if (!view) return d.refuse(view.error());
        const bool there = options->thing.empty() || std::any_of(view->lines.begin(), view->lines.end(),
                                                                 [&](const KeptLine& line) { return line.thing == options->thing; });
        if (!there)
          return d.refuse({{"", 0, "of", fmt::format("nothing is kept under \"{}\"", options->thing), "leave it out to see all there is"}});
        return say_kept(d, session, *view, options->may_go, options->thing);
      });
    };
  });
}

void erase_old_customers_options(CLI::App& app, Door& door) {
  auto confirmed = std::make_shared<int>(0);
  app.add_option("--confirm", *confirmed, "how many customers `kept-until` says may go today")
      ->required()
      ->check(whole_number(1, 1'000'000));
  app.callback([confirmed, &door] {
    door.action = [confirmed](Door& d) {
      const auto print = [&d](const Session& session, const ErasedAll& all) {
        if (all.booked.already) return d.print_booked(session, all.booked);
        if (d.json) {
          Json::Array cakes;
          for (std::size_t i = 0; i < all.cakes.size(); ++i) {
            const Erased& one = all.cakes[i].erased;
            cakes.push_back(Json{Json::Object{{"cake", Json{all.cakes[i].cake}},
                                              {"note", Json{static_cast<std::int64_t>(all.booked.sequences.at(i))}},
                                              {"texts", Json{one.texts}},
                                              {"papers", note_numbers(one.papers)},
                                              {"files", note_numbers(one.files)},
                                              {"files_gone", note_numbers(one.files_gone)},
                                              {"files_of_others", note_numbers(one.files_of_others)}}});
          }
          d.print(Json{Json::Object{{"schema", Json{"tierproof/erased-old-customers/1"}},
                                    {"erased", Json{std::move(cakes)}},
                                    {"head", Json{format_head(all.booked.head)}}}},
                  session.kitchen().demo);
          return exit_status::done;
        }
        Door::mark_demo(session.kitchen().demo);
        for (std::size_t i = 0; i < all.cakes.size(); ++i) {
          const Erased& one = all.cakes[i].erased;
          Door::say(fmt::format(
              "{}: {} of its customer erased for good by note {}{}", all.cakes[i].cake,
              one.texts == 1 ? "1 text" : fmt::format("{} texts", one.texts), all.booked.sequences.at(i),
              one.papers.empty() ? std::string{"; no kept paper told of it"} : "; with the papers of " + notes_said(one.papers)));
          if (!one.files.empty()) Door::say("  erased too: the files attached by " + notes_said(one.files));
          if (!one.files_gone.empty())
            Door::say("  not there any more, so it could not be erased here: what was attached by " + notes_said(one.files_gone));
          if (!one.files_of_others.empty())
            Door::say("  NOT erased, since it is attached to something else too: the file of " + notes_said(one.files_of_others));
        }
        Door::say("The record of the food stays whole: packs, batches, the cakes and what went into what.");
        Door::say("What left this file is not reached: destroy exports, backups and printed papers that tell of these customers too.");
        return exit_status::done;
      };
      return d.write<ErasedAll>([&](Session& session) { return erase_old_customers(session, static_cast<std::size_t>(*confirmed)); },
                                print);
    };
  });
}

void erase_old_words_options(CLI::App& app, Door& door) {
  auto confirmed = std::make_shared<int>(0);
  app.add_option("--confirm", *confirmed, "how many names and regular records `kept-until` says may go today")
      ->required()
      ->check(whole_number(1, 1'000'000));
  app.callback([confirmed, &door] {
    door.action = [confirmed](Door& d) {
      const auto print = [&d](const Session& session, const ErasedOld& all) {
        if (all.booked.already) return d.print_booked(session, all.booked);
        if (d.json) {
          Json::Array erased;
          for (std::size_t i = 0; i < all.erased.size(); ++i) {
            const ErasedWords& one = all.erased[i];
            erased.push_back(Json{Json::Object{{"what", Json{one.what}},
                                               {"thing", Json{one.thing}},
                                               {"note", Json{static_cast<std::int64_t>(all.booked.sequences.at(i))}},
                                               {"texts", Json{one.texts}},
                                               {"records", Json{static_cast<std::int64_t>(one.records)}},
                                               {"papers", note_numbers(one.papers)}}});
          }
          d.print(Json{Json::Object{{"schema", Json{"tierproof/erased-old-words/1"}},
                                    {"erased", Json{std::move(erased)}},
                                    {"head", Json{format_head(all.booked.head)}}}},
                  session.kitchen().demo);
          return exit_status::done;
        }
        Door::mark_demo(session.kitchen().demo);
        for (std::size_t i = 0; i < all.erased.size(); ++i) {
          const ErasedWords& one = all.erased[i];
          const std::string texts = one.texts == 1 ? "1 text" : fmt::format("{} texts", one.texts);
          const std::string of =
              one.records == 0
                  ? fmt::format("the name of who left, {},", texts)
                  : fmt::format("what {} kept apart, {},", one.records == 1 ? "1 record" : fmt::format("{} records", one.records), texts);
          Door::say(fmt::format("{}: {} erased for good by note {}{}", one.thing, of, all.booked.sequences.at(i),
                                one.papers.empty() ? "" : "; with the papers of " + notes_said(one.papers)));
        }
        Door::say("The notes stay, with who recorded each by their short name, and so does the record of the food.");
        Door::say(
            "What left this file is not reached: destroy exports, backups and printed papers that tell of it too. Attached files stay.");
        return exit_status::done;
      };
      return d.write<ErasedOld>([&](Session& session) { return erase_old_words(session, static_cast<std::size_t>(*confirmed)); }, print);
    };
  });
}

void person_left_options(CLI::App& app, Door& door) {
  struct Options {
    std::string id, on;
  };
  auto options = std::make_shared<Options>();
  app.add_option("person", options->id, "short name")->required();
  app.add_option("--on", options->on, "their last day here; else today");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return person_left(session, options->id, maybe_date("--on", options->on)); });
    };
  });
}

}  // namespace tierproof::cli
