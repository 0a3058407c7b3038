#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cstdio>

#include "door.h"
#include "tierproof/app/reading_packs.h"

namespace tierproof::cli {
namespace {

std::size_t letters_in(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

/// What was pasted into the command, or the text of a file.
GivenDocument text_of_pack(const std::string& file) {
  if (file != "-") return document_of(file);
  GivenDocument pasted{"what was pasted", ""};
  char bytes[4096];
  while (const std::size_t count = std::fread(bytes, 1, sizeof bytes, stdin)) pasted.text.append(bytes, count);
  if (std::ferror(stdin) != 0) throw Fault{exit_status::io, "reading what was pasted failed"};
  return pasted;
}

void say_lines(const PackRead& read) {
  std::vector<std::vector<std::string>> rows{{"part", "share", "additive", "brings", "to ask"}};
  for (const auto& line : read.lines)
    rows.push_back({std::string(2 * line.depth, ' ') + line.name, line.share, line.additive, line.contains, line.ask});
  std::vector<std::size_t> widths(rows.front().size(), 0);
  for (const auto& row : rows) {
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], letters_in(row[i]));
  }
  for (std::size_t column = 1; column < widths.size(); ++column) {  // a column with nothing in it is left out
    if (std::all_of(rows.begin() + 1, rows.end(), [&](const auto& row) { return row[column].empty(); })) widths[column] = 0;
  }
  for (const auto& row : rows) {
    std::string text;
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (widths[i] > 0) text += row[i] + std::string(widths[i] - letters_in(row[i]) + 2, ' ');
    }
    text.erase(text.find_last_not_of(' ') + 1);
    Door::say(text);
  }
}

void say_keys(const std::string& words, const std::vector<std::string>& keys) {
  if (!keys.empty()) Door::say(fmt::format("{}: {}", words, fmt::join(keys, ", ")));
}

Json json_of(const PackRead& read, const PackToRead& asked) {
  Json::Array lines;
  for (const auto& line : read.lines) {
    lines.emplace_back(Json::Object{{"depth", Json{static_cast<std::int64_t>(line.depth)}},
                                    {"name", Json{line.name}},
                                    {"share", Json{line.share}},
                                    {"additive", Json{line.additive}},
                                    {"brings", Json{line.contains}},
                                    {"ask", Json{line.ask}}});
  }
  const auto texts = [](const std::vector<std::string>& all) { return Json{Json::Array{all.begin(), all.end()}}; };
  return Json{Json::Object{{"schema", Json{"tierproof/pack-read/1"}},
                           {"ingredient", Json{asked.ingredient}},
                           {"supplier", Json{asked.supplier}},
                           {"parts", Json{std::move(lines)}},
                           {"contains", texts(read.contains)},
                           {"may_contain", texts(read.may_contain)},
                           {"unknown", texts(read.unknown)},
                           {"to_ask", texts(read.to_ask)},
                           {"not_understood", texts(read.other)},
                           {"document", read.document}}};
}

}  // namespace

void read_pack_options(CLI::App& app, Door& door) {
  struct Options {
    std::string file, draft;
    PackToRead asked;
  };
  auto options = std::make_shared<Options>();
  auto& asked = options->asked;
  app.add_option("file", options->file, "the list of ingredients as the pack prints it, as plain text; - for what is pasted")->required();
  app.add_option("--of", asked.ingredient, "the ingredient that the pack holds")->required();
  app.add_option("--from", asked.supplier, "the supplier")->required();
  app.add_option("--label-name", asked.label_name, "the name that a label must print, else what the kitchen calls it");
  app.add_option("--to", options->draft, "write a specification to be checked and recorded, draft.json");
  app.add_option("--storage", asked.storage, "room, fridge or freezer: needed with --to");
  app.add_option("--checked-against", asked.checked_against, "what the text was compared with, \"the pack\": needed with --to");
  app.add_option("--checked", asked.checked, "on which day, else today");
  app.add_option("--heading", asked.headings, "a word that stands before the list, in another language; give it once for each");
  app.add_option("--traces", asked.traces, "how a sentence on traces begins, if not as the rules have it; give it once for each");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.read([&](Session& session) {
        PackToRead ask = options->asked;
        ask.text = text_of_pack(options->file);
        ask.draft = !options->draft.empty();
        const auto read = read_pack(session, ask, load_name_hints(d.data()));
        if (!read) return d.refuse(read.error());
        if (ask.draft) save_file(options->draft, write_pretty(read->document));
        if (d.json) {
          d.print(json_of(*read, ask), session.kitchen().demo);
          return exit_status::done;
        }
        Door::mark_demo(session.kitchen().demo);
        say_lines(*read);
        say_keys("contains", read->contains);
        say_keys("may contain", read->may_contain);
        say_keys("to be asked about", read->unknown);
        for (const auto& sentence : read->to_ask) Door::say("ask: " + sentence);
        for (const auto& sentence : read->other) Door::say("not understood: " + sentence);
        Door::say("every other allergen is not known: a list of parts never shows that one is absent");
        if (ask.draft)
          Door::say(
              fmt::format("nothing is recorded; read {0} beside the pack, correct it, then: tierproof specification {0}", options->draft));
        else
          Door::say("nothing is recorded; --to draft.json writes a specification to be checked");
        return exit_status::done;
      });
    };
  });
}

}  // namespace tierproof::cli
