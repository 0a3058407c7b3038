#include <fmt/format.h>

#include <algorithm>

#include "door.h"
#include "tierproof/app/attaching.h"
#include "tierproof/app/retyping.h"
#include "tierproof/text/number.h"

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

Json json_of_texts(const std::vector<std::string>& texts) {
  Json::Array items;
  for (const auto& text : texts) items.emplace_back(text);
  return Json{std::move(items)};
}

std::string codes_told(const std::vector<std::string>& codes) { return codes.empty() ? "none" : fmt::format("{}", fmt::join(codes, ", ")); }

Json json_of_refusals(const Refusals& refusals) {
  Json::Array items;
  for (const auto& refusal : refusals) {
    items.push_back(Json{Json::Object{{"file", Json{"reference/" + refusal.file}},
                                      {"line", Json{refusal.line}},
                                      {"field", Json{refusal.field}},
                                      {"message", Json{refusal.message}},
                                      {"remedy", Json{refusal.remedy}}}});
  }
  return Json{std::move(items)};
}

/// All rules that can be chosen, and what is wrong in any file of them on `day`.
int check_rules(Door& door, Date day) {
  const auto packs = rule_packs();
  const auto checked = packs->check(day);
  if (door.json) {
    door.print(Json{Json::Object{{"schema", Json{"tierproof/rules/1"}},
                                 {"on", Json{format_date(day)}},
                                 {"labels", json_of_texts(packs->with_labels())},
                                 {"temperatures", json_of_texts(packs->with_temperatures())},
                                 {"retention", json_of_texts(packs->with_retention())},
                                 {"faults", json_of_refusals(checked.faults)},
                                 {"cautions", json_of_refusals(checked.cautions)},
                                 {"not_in_force", json_of_refusals(checked.not_in_force)}}},
               false);
  } else {
    Door::say("label rules:        " + codes_told(packs->with_labels()));
    Door::say("temperature rules:  " + codes_told(packs->with_temperatures()));
    Door::say("retention rules:    " + codes_told(packs->with_retention()));
    const auto say_all = [](const std::string& heading, const Refusals& found) {
      Door::say(fmt::format("\n{}: {}", heading, found.empty() ? "none" : std::to_string(found.size())));
      for (const auto& one : found) Door::say("  reference/" + describe(one));
    };
    say_all(fmt::format("to be mended, on {}", format_date(day)), checked.faults);
    say_all("with caution, until it was read or confirmed", checked.cautions);
    say_all("not in force that day", checked.not_in_force);
  }
  return checked.faults.empty() ? exit_status::done : exit_status::found_wanting;
}

/// Columns as wide as they must be; the last runs on.
void say_lines(const std::vector<std::vector<std::string>>& lines) {
  std::vector<std::size_t> widths;
  for (const auto& line : lines) {
    widths.resize(line.size());
    for (std::size_t i = 0; i + 1 < line.size(); ++i) widths[i] = std::max(widths[i], line[i].size());  // codes and dates: ASCII
  }
  for (const auto& line : lines) {
    std::string text;
    for (std::size_t i = 0; i < line.size(); ++i) text += fmt::format("{:<{}}  ", line[i], widths[i]);
    text.erase(text.find_last_not_of(' ') + 1);
    Door::say(text);
  }
}

/// The rows of each set of `code` that are in force on `day`.
int say_rules_of(Door& door, const std::string& code, Date day) {
  const auto packs = rule_packs();
  auto sets = packs->sets_of(code);
  if (sets.empty()) sets.push_back("label");  // to be told what can be chosen
  Json::Array lists;
  for (const auto& set : sets) {
    const auto rows = packs->rows_told(code, set, day);
    if (!rows) return door.refuse(rows.error());
    Json::Array items;
    std::vector<std::vector<std::string>> lines{{"id", "mechanism", "of", "basis", "from", "to", "review by", "source and clause"}};
    if (!door.json) Door::say(fmt::format("{}{} rules of {} in force on {}", lists.empty() ? "" : "\n", set, code, format_date(day)));
    for (const auto& row : *rows) {
      const std::string to = row.to ? format_date(*row.to) : "";
      const std::string basis = row.from_memory ? "memory" : "read";
      items.push_back(Json{Json::Object{{"id", Json{row.id}},
                                        {"mechanism", Json{row.mechanism}},
                                        {"of", Json{row.jurisdiction}},
                                        {"clause", Json{row.clause}},
                                        {"basis", Json{basis}},
                                        {"from", Json{format_date(row.from)}},
                                        {"to", row.to ? Json{to} : Json{}},
                                        {"source", Json{row.source_title}},
                                        {"review_by", Json{format_date(row.review_by)}},
                                        {"note", Json{row.note}},
                                        {"file", Json{"reference/" + row.file}},
                                        {"line", Json{row.line}}}});
      lines.push_back({row.id, row.mechanism, row.jurisdiction, basis, format_date(row.from), to, format_date(row.review_by),
                       row.source_title + ", " + row.clause});
    }
    if (!door.json) say_lines(lines);
    lists.push_back(Json{Json::Object{{"set", Json{set}}, {"rows", Json{std::move(items)}}}});
  }
  if (door.json) {
    door.print(Json{Json::Object{{"schema", Json{"tierproof/rules-of/1"}},
                                 {"on", Json{format_date(day)}},
                                 {"code", Json{code}},
                                 {"sets", Json{std::move(lists)}}}},
               false);
  }
  return exit_status::done;
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
    std::string what, why;
  };
  auto options = std::make_shared<Options>();
  app.add_option("note", options->note, "number of the note")->required()->check(note_number());
  app.add_option("body", options->what,
                 "JSON file with what it should say, whole (see `notes NUMBER`); of a temperature that was typed, what the thermometer "
                 "showed: 3.9C")
      ->required();
  app.add_option("--why", options->why, "what was wrong")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      if (const auto read = parse_degrees(options->what))
        return d.record([&](Session& session) { return retype_reading(session, options->note, *read, options->why); });
      const GivenDocument body = document_of(options->what);
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
      const auto verified = verify_kitchen(*store, d.kitchen_file, earlier);
      const auto& found = verified.records;
      const int exit = found.complaints.empty() && verified.files_wrong.empty() ? exit_status::done : exit_status::found_wanting;
      const bool demo = of_a_demo(*store);
      if (!d.json) Door::mark_demo(demo);
      if (d.json) {
        Json::Array complaints;
        for (const auto* all : {&found.complaints, &verified.files_wrong}) {
          for (const auto& complaint : *all) complaints.emplace_back(complaint);
        }
        d.print(Json{Json::Object{{"schema", Json{"tierproof/verification/1"}},
                                  {"head", Json{format_head(found.head)}},
                                  {"first_bad", found.first_bad ? Json{static_cast<std::int64_t>(*found.first_bad)} : Json{}},
                                  {"complaints", Json{std::move(complaints)}},
                                  {"attached_files", Json{verified.files}},
                                  {"not_named", json_of_texts(verified.not_named)}}},
                demo);
        return exit;
      }
      if (found.complaints.empty()) {
        Door::say(fmt::format("{} notes, nothing changed{}: {}", found.head.size, earlier ? " since the fingerprint you gave" : "",
                              format_head(found.head)));
        if (!earlier)
          Door::say("Whoever owns the disk could have written it all anew: compare with a fingerprint on a paper (verify --head).");
      } else {
        if (found.first_bad) Door::say(fmt::format("the first note that does not hold is {}", *found.first_bad));
        for (const auto& complaint : found.complaints) Door::say(complaint);
        Door::say("Keep the file as it is, and go back to a backup; nothing was repaired.");
      }
      if (verified.files > 0) {
        Door::say(
            fmt::format("{} attached {} as {} when attached. That says that nothing was altered since, not that what is shown is true.",
                        verified.files, verified.files == 1 ? "file is" : "files are", verified.files == 1 ? "it was" : "they were"));
      }
      for (const auto& line : verified.files_wrong) Door::say(line);
      for (const auto& line : verified.not_named) Door::say(line);
      return exit;
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
  auto code = std::make_shared<std::string>();
  app.add_option("code", *code, "the code of one place's rules, to see them row by row; else all are checked")->option_text("CODE");
  app.add_option("--on", *on, "the day to judge by; else today");
  app.callback([on, code, &door] {
    door.action = [on, code](Door& d) {
      const auto now = now_by_the_clock();
      const Date day = on->empty() ? day_of(now, Offset{}) : date_of("--on", *on);
      return code->empty() ? check_rules(d, day) : say_rules_of(d, *code, day);
    };
  });
}

}  // namespace tierproof::cli
