#include <fmt/format.h>

#include <algorithm>

#include "door.h"

namespace tierproof::cli {
namespace {

Json json_of_note(const Note& note) {
  return Json{Json::Object{{"note", Json{static_cast<std::int64_t>(note.sequence)}},
                           {"place", Json{static_cast<std::int64_t>(note.place)}},
                           {"kind", Json{note.kind}},
                           {"subject", Json{note.subject}},
                           {"happened", Json{format_zoned(note.happened, note.offset)}},
                           {"written", Json{format_zoned(note.written, note.offset)}},
                           {"by", Json{note.person.text()}},
                           {"how", Json{note.how}},
                           {"body", note.body}}};
}

void say_note(const Note& note) {
  const std::string fate = note.body.is_null() ? "  VOID" : note.supersedes ? fmt::format("  corrects {}", *note.supersedes) : "";
  Door::say(fmt::format("{:>5}  {}  {:18} {:16} {}{}{}", note.sequence, format_zoned(note.happened, note.offset).substr(0, 16), note.kind,
                        note.subject, note.person.text(), note.how == "typed_late" ? "  late" : "", fate));
}

/// Whether the first note says that these are the records of a demo; one that cannot be read says nothing.
bool of_a_demo(const RecordStore& store) {
  try {
    const auto first = store.entries(1, 1);
    const Json* demo = first.empty() || !first.front().body.is_object() ? nullptr : first.front().body.find("demo");
    return demo != nullptr && *demo == Json{true};
  } catch (const Fault&) {
    return false;
  }
}

}  // namespace

void notes_options(CLI::App& app, Door& door) {
  struct Options {
    std::string about;
    std::uint64_t note = 0;
  };
  auto options = std::make_shared<Options>();
  app.add_option("note", options->note, "one note, with its body")->check(note_number());
  app.add_option("--about", options->about, "only notes about this pack, batch, cake or place");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.read([&](Session& session) {
        if (!d.json) Door::mark_demo(session.kitchen().demo);
        const auto entries = session.store().entries(1, session.head().size);
        Json::Array list;
        for (const auto& entry : entries) {
          if (options->note != 0 && entry.sequence != options->note) continue;
          if (!options->about.empty() && entry.subject != options->about) continue;
          Note note = note_of(entry);
          if (const Note* tip = tip_of(session.notes(), note.sequence)) note.place = tip->place;
          if (d.json) {
            list.push_back(json_of_note(note));
          } else if (options->note != 0) {
            Door::say(write_pretty(note.body));
          } else {
            say_note(note);
          }
        }
        if (options->note != 0 && options->note > session.head().size) {
          return d.refuse({{"", 0, "note", fmt::format("there is no note {}", options->note),
                            fmt::format("the records hold notes 1 to {}", session.head().size)}});
        }
        if (d.json)
          d.print(
              Json{Json::Object{
                  {"schema", Json{"tierproof/notes/1"}}, {"notes", Json{std::move(list)}}, {"head", Json{format_head(session.head())}}}},
              session.kitchen().demo);
        return exit_status::done;
      });
    };
  });
}

void correct_options(CLI::App& app, Door& door) {
  struct Options {
    std::uint64_t note = 0;
    std::string file, why;
  };
  auto options = std::make_shared<Options>();
  app.add_option("note", options->note, "number of the note")->required()->check(note_number());
  app.add_option("body", options->file, "JSON file with what it should say, whole (see `notes NUMBER`)")->required();
  app.add_option("--why", options->why, "what was wrong")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const GivenDocument body = document_of(options->file);
      return d.record([&](Session& session) { return correct(session, options->note, body, options->why); });
    };
  });
}

void void_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<std::pair<std::uint64_t, std::string>>();
  app.add_option("note", options->first, "number of the note")->required()->check(note_number());
  app.add_option("--why", options->second, "why it should never have been made")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return void_note(session, options->first, options->second); });
    };
  });
}

void head_options(CLI::App& app, Door& door) {
  app.callback([&door] {
    door.action = [](Door& d) {
      return d.read([&](Session& session) {
        if (d.json) {
          d.print(Json{Json::Object{{"schema", Json{"tierproof/head/1"}}, {"head", Json{format_head(session.head())}}}},
                  session.kitchen().demo);
        } else {
          Door::mark_demo(session.kitchen().demo);
          Door::say(format_head(session.head()));
        }
        return exit_status::done;
      });
    };
  });
}

void verify_options(CLI::App& app, Door& door) {
  auto text = std::make_shared<std::string>();
  app.add_option("--head", *text, "a fingerprint printed earlier, in full on the last page of a cake record: size, colon, 64 digits");
  app.callback([text, &door] {
    door.action = [text](Door& d) {
      std::optional<Head> earlier;
      if (!text->empty()) {
        earlier = parse_head(*text);
        if (!earlier) bad_option("--head", *text, "write it as it is printed: a number, a colon and 64 hexadecimal digits");
      }
      const auto store = open_sqlite(d.kitchen_file, true);
      const auto found = store->verify(earlier);
      const bool demo = of_a_demo(*store);
      if (!d.json) Door::mark_demo(demo);
      if (d.json) {
        Json::Array complaints;
        for (const auto& complaint : found.complaints) complaints.emplace_back(complaint);
        d.print(Json{Json::Object{{"schema", Json{"tierproof/verification/1"}},
                                  {"head", Json{format_head(found.head)}},
                                  {"first_bad", found.first_bad ? Json{static_cast<std::int64_t>(*found.first_bad)} : Json{}},
                                  {"complaints", Json{std::move(complaints)}}}},
                demo);
      } else if (found.complaints.empty()) {
        Door::say(fmt::format("{} notes, nothing changed{}: {}", found.head.size, earlier ? " since the fingerprint you gave" : "",
                              format_head(found.head)));
        if (!earlier)
          Door::say("Whoever owns the disk could have written it all anew: compare with a fingerprint on a paper (verify --head).");
      } else {
        if (found.first_bad) Door::say(fmt::format("the first note that does not hold is {}", *found.first_bad));
        for (const auto& complaint : found.complaints) Door::say(complaint);
        Door::say("Keep the file as it is, and go back to a backup; nothing was repaired.");
      }
      return found.complaints.empty() ? exit_status::done : exit_status::found_wanting;
    };
  });
}

void rebuild_options(CLI::App& app, Door& door) {
  app.callback([&door] {
    door.action = [](Door& d) {
      const auto store = open_sqlite(d.kitchen_file, false);
      store->rebuild();
      const bool demo = of_a_demo(*store);
      if (d.json) {
        d.print(Json{Json::Object{{"schema", Json{"tierproof/rebuilt/1"}}, {"rebuilt", Json{true}}}}, demo);
      } else {
        Door::mark_demo(demo);
        Door::say("the views were made again from the records");
      }
      return exit_status::done;
    };
  });
}

void rules_options(CLI::App& app, Door& door) {
  auto on = std::make_shared<std::string>();
  app.add_option("--on", *on, "the day to judge reviews by; else today");
  app.callback([on, &door] {
    door.action = [on](Door& d) {
      const auto now = std::chrono::time_point_cast<Span>(std::chrono::system_clock::now());
      const Date day = on->empty() ? day_of(now, Offset{}) : date_of("--on", *on);
      const auto packs = d.packs();
      const auto overdue = packs->overdue(day);
      const auto list = [](const std::vector<std::string>& codes) {
        Json::Array items;
        for (const auto& code : codes) items.emplace_back(code);
        return Json{std::move(items)};
      };
      if (d.json) {
        Json::Array late;
        for (const auto& refusal : overdue) late.emplace_back(describe(refusal));
        d.print(Json{Json::Object{{"schema", Json{"tierproof/rules/1"}},
                                  {"labels", list(packs->with_labels())},
                                  {"temperatures", list(packs->with_temperatures())},
                                  {"retention", list(packs->with_retention())},
                                  {"overdue", Json{std::move(late)}}}},
                false);
      } else {
        Door::say(fmt::format("label rules:        {}", fmt::join(packs->with_labels(), ", ")));
        Door::say(fmt::format("temperature rules:  {}", fmt::join(packs->with_temperatures(), ", ")));
        Door::say(fmt::format("retention rules:    {}", fmt::join(packs->with_retention(), ", ")));
        for (const auto& refusal : overdue) Door::say("overdue: " + describe(refusal));
      }
      return overdue.empty() ? exit_status::done : exit_status::found_wanting;
    };
  });
}

}  // namespace tierproof::cli
