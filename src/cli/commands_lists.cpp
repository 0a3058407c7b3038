#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "door.h"
#include "tierproof/app/lists.h"
#include "tierproof/app/taking_in.h"
#include "tierproof/papers/spreadsheet.h"
#include "tierproof/text/csv.h"
#include "tierproof/text/table_figure.h"

namespace tierproof::cli {
namespace {

/// What is not there and cannot be left out, as a usage error.
[[noreturn]] void missing_option(const std::string& option, const std::string& remedy) {
  throw CLI::ValidationError(option, "is missing; " + remedy);
}

std::size_t letters_in(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

/// The moments that only files need: on a screen the local one is enough.
bool shown_on_screen(const std::string& heading) {
  static const std::set<std::string> others{"happened_utc", "recorded_utc", "at_utc"};
  return !others.contains(heading);
}

/// Prints what a person reads off: columns as wide as they must be, without those that hold nothing in any row.
void say_table(const DataTable& sheet) {
  if (sheet.rows.empty()) return Door::say("nothing is recorded");
  std::vector<std::string> lines(sheet.rows.size() + 1);
  for (std::size_t i = 0; i < sheet.headings.size(); ++i) {
    const auto empty = [&](const DataRow& row) { return text_of(row[i]).empty(); };
    if (!shown_on_screen(sheet.headings[i]) || std::all_of(sheet.rows.begin(), sheet.rows.end(), empty)) continue;
    std::vector<std::string> texts{sheet.headings[i]};
    bool numbers = true;
    for (const auto& row : sheet.rows) {
      texts.push_back(text_of(row[i]));
      numbers = numbers && (is_number(row[i]) || texts.back().empty());
    }
    std::size_t width = 0;
    for (const auto& text : texts) width = std::max(width, letters_in(text));
    for (std::size_t line = 0; line < lines.size(); ++line) {
      const std::string space(width - letters_in(texts[line]), ' ');
      if (!lines[line].empty()) lines[line] += "  ";
      lines[line] += numbers ? space + texts[line] : texts[line] + space;
    }
  }
  for (auto& line : lines) {
    line.erase(line.find_last_not_of(' ') + 1);
    std::replace_if(
        line.begin(), line.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; }, ' ');
    Door::say(line);
  }
}

int say_lists(const Door& door) {
  if (door.json) {
    Json::Array lists;
    for (const auto& list : kitchen_lists()) {
      Json::Array headings;
      for (const auto& heading : list.headings) headings.emplace_back(heading);
      lists.push_back(Json{Json::Object{{"list", Json{list.name}}, {"holds", Json{list.holds}}, {"headings", Json{std::move(headings)}}}});
    }
    door.print(Json{Json::Object{{"schema", Json{"tierproof/lists/1"}}, {"lists", Json{std::move(lists)}}}}, false);
  } else {
    for (const auto& list : kitchen_lists()) Door::say(fmt::format("{:26}{}", list.name, list.holds));
  }
  return exit_status::done;
}

struct Listing {
  std::string name, csv, xlsx;
  bool all = false;
};

struct SavedFile {
  std::string path;
  std::size_t lists = 0;
  std::size_t rows = 0;
};

/// Makes the folder that the files go into, if need be.
void make_folder(const std::string& path) {
  std::error_code error;
  std::filesystem::create_directories(path, error);
  if (error || !std::filesystem::is_directory(path))
    throw Fault{exit_status::cannot_create, fmt::format("{}: is no folder and cannot be made; name another one", path)};
}

std::vector<SavedFile> save_lists(const Listing& asked, const Session& session, const std::vector<const KitchenList*>& lists) {
  std::vector<SavedFile> files;
  Workbook workbook{{}, session.kitchen().name, session.now(), session.kitchen().demo};
  SavedFile book{asked.xlsx, lists.size(), 0};
  if (asked.all && !asked.csv.empty()) make_folder(asked.csv);
  for (const auto* list : lists) {
    DataTable sheet = table_to_save(*list, session);
    book.rows += sheet.rows.size();
    if (!asked.csv.empty()) {
      const std::string path = asked.all ? (std::filesystem::path{asked.csv} / (list->name + ".csv")).string() : asked.csv;
      save_file(path, write_csv(sheet));
      files.push_back({path, 1, sheet.rows.size()});
    }
    if (!asked.xlsx.empty()) workbook.sheets.push_back(std::move(sheet));
  }
  if (!asked.xlsx.empty()) {
    save_file(asked.xlsx, write_xlsx(workbook));
    files.push_back(book);
  }
  return files;
}

int say_saved(const Door& door, const std::vector<SavedFile>& files, bool demo) {
  Json::Array saved;
  for (const auto& file : files) {
    if (door.json) {
      saved.push_back(Json{Json::Object{{"file", Json{file.path}},
                                        {"lists", Json{static_cast<std::int64_t>(file.lists)}},
                                        {"rows", Json{static_cast<std::int64_t>(file.rows)}}}});
    } else {
      const std::string lists = file.lists == 1 ? "" : fmt::format("{} lists, ", file.lists);
      Door::say(fmt::format("{}{}: {}{} {}", demo ? "DEMO  " : "", file.path, lists, file.rows, file.rows == 1 ? "row" : "rows"));
    }
  }
  if (door.json) door.print(Json{Json::Object{{"schema", Json{"tierproof/lists-saved/1"}}, {"files", Json{std::move(saved)}}}}, demo);
  return exit_status::done;
}

/// Saving puts a file in the place of what is there: never in that of the records.
bool is_the_kitchen(const std::string& path, const Door& door) {
  std::error_code error;
  return !path.empty() && std::filesystem::equivalent(path, door.kitchen_file, error);
}

int run_list(const Listing& asked, Door& door) {
  if (asked.all && !asked.name.empty()) bad_option("list", asked.name, "leave it out with --all");
  if (asked.all && asked.csv.empty() && asked.xlsx.empty())
    missing_option("--csv or --xlsx", "say where --all goes: --csv FOLDER or --xlsx FILE");
  if (asked.csv == "-" && (asked.all || !asked.xlsx.empty() || door.json))
    bad_option("--csv", "-", "standard output takes one list and nothing else; name a file");
  if (asked.xlsx == "-") bad_option("--xlsx", "-", "name a file");
  if (is_the_kitchen(asked.csv, door)) bad_option("--csv", asked.csv, "it is the kitchen's own file: name another");
  if (is_the_kitchen(asked.xlsx, door)) bad_option("--xlsx", asked.xlsx, "it is the kitchen's own file: name another");
  if (asked.name.empty() && !asked.all) {
    if (!asked.csv.empty() || !asked.xlsx.empty())
      missing_option("list", "name one, or write --all; `tierproof list` says which there are");
    return say_lists(door);
  }
  std::vector<const KitchenList*> lists;
  for (const auto& list : kitchen_lists()) {
    if (asked.all || list.name == asked.name) lists.push_back(&list);
  }
  if (lists.empty()) bad_option("list", asked.name, "`tierproof list` says which lists there are");
  return door.read([&](Session& session) {
    const bool demo = session.kitchen().demo;
    if (asked.csv == "-") {
      Door::mark_demo(demo);
      const std::string csv = write_csv(table_to_save(*lists.front(), session));
      std::fwrite(csv.data(), 1, csv.size(), stdout);
      return exit_status::done;
    }
    if (!asked.csv.empty() || !asked.xlsx.empty()) return say_saved(door, save_lists(asked, session, lists), demo);
    const DataTable sheet = table_of(*lists.front(), session);
    if (door.json) {
      Json json = json_of(sheet);
      json["schema"] = "tierproof/list/1";
      door.print(std::move(json), demo);
    } else {
      Door::mark_demo(demo);
      say_table(sheet);
    }
    return exit_status::done;
  });
}

}  // namespace

void list_options(CLI::App& app, Door& door) {
  auto asked = std::make_shared<Listing>();
  app.add_option("list", asked->name, "which list; without it, the lists there are");
  app.add_flag("--all", asked->all, "every list, into files");
  app.add_option("--csv", asked->csv,
                 "write it as CSV into this file (- for standard output), or with --all into this folder; words that a spreadsheet would "
                 "take for a formula get an apostrophe before them");
  app.add_option("--xlsx", asked->xlsx, "write it as a spreadsheet file, with --all a sheet for each list");
  app.callback([asked, &door] { door.action = [asked](Door& d) { return run_list(*asked, d); }; });
}

namespace {

struct TakingInAsked {
  std::string what, file;
  std::string separator = "comma";
  bool book = false;
};

Json json_of(const TakenIn& taken, bool booked) {
  Json::Array rows;
  for (const auto& row : taken.rows) {
    Json::Array changes;
    for (const auto& change : row.changes)
      changes.push_back(Json{Json::Object{{"column", Json{change.column}}, {"was", Json{change.was}}, {"is", Json{change.is}}}});
    rows.push_back(Json{Json::Object{{"line", Json{row.line}},
                                     {"name", Json{row.subject}},
                                     {"fate", Json{std::string{word_of(row.fate)}}},
                                     {"changes", Json{std::move(changes)}}}});
  }
  return Json{Json::Object{{"schema", Json{"tierproof/taken-in/1"}}, {"rows", Json{std::move(rows)}}, {"booked", Json{booked}}}};
}

std::string in_quotes(const std::string& text) { return text.empty() ? "nothing" : "\"" + text + "\""; }

int say_taken_in(const Door& door, const TakenIn& taken, const TakingInAsked& asked, const Session& session) {
  const bool demo = session.kitchen().demo;
  if (door.json) {
    Json json = json_of(taken, taken.booked.has_value());
    Json::Array notes;
    if (taken.booked) {
      for (const auto sequence : taken.booked->sequences) notes.emplace_back(static_cast<std::int64_t>(sequence));
    }
    json["notes"] = Json{std::move(notes)};
    door.print(std::move(json), demo);
    return exit_status::done;
  }
  Door::mark_demo(demo);
  std::size_t fresh = 0, changed = 0, same = 0;
  for (const auto& row : taken.rows) {
    Door::say(fmt::format("{:8} {}", word_of(row.fate), row.subject));
    for (const auto& change : row.changes) {
      Door::say(row.fate == Fate::fresh ? fmt::format("         {}: {}", change.column, in_quotes(change.is))
                                        : fmt::format("         {}: {} -> {}", change.column, in_quotes(change.was), in_quotes(change.is)));
    }
    ++(row.fate == Fate::fresh ? fresh : row.fate == Fate::changed ? changed : same);
  }
  const std::string sums = fmt::format("{} new, {} changed, {} the same", fresh, changed, same);
  if (taken.booked) {
    Door::say(fmt::format("{}: recorded as {}", sums,
                          taken.booked->sequences.size() == 1
                              ? fmt::format("note {}", taken.booked->sequences.front())
                              : fmt::format("notes {} to {}", taken.booked->sequences.front(), taken.booked->sequences.back())));
  } else if (fresh + changed == 0) {
    Door::say(sums + ": nothing to record");
  } else {
    Door::say(fmt::format("{}: nothing is recorded yet; add --book to record it", sums));
  }
  if (changed > 0) {
    Door::say(asked.what == "recipes" ? "A changed recipe is a new version: batches that were made keep theirs."
                                      : "A change corrects the note: it also holds for what was made before.");
  }
  return exit_status::done;
}

int say_columns(const Door& door, const TableForm& form) {
  Json::Array columns;
  for (const auto& column : form.columns) {
    if (door.json) {
      columns.push_back(
          Json{Json::Object{{"heading", Json{column.heading}}, {"needed", Json{column.needed}}, {"holds", Json{column.holds}}}});
    } else {
      Door::say(fmt::format("{:24}{}{}", column.heading, column.needed ? "" : "may be left out: ", column.holds));
    }
  }
  if (door.json)
    door.print(
        Json{Json::Object{{"schema", Json{"tierproof/table-form/1"}}, {"table", Json{form.name}}, {"columns", Json{std::move(columns)}}}},
        false);
  return exit_status::done;
}

int run_take_in(const TakingInAsked& asked, Door& door) {
  const TableForm* form = table_form(asked.what);
  if (form == nullptr) bad_option("what", asked.what, "write suppliers, ingredients or recipes");
  if (asked.file.empty()) {
    if (asked.book) missing_option("file", "name the file to take in");
    return say_columns(door, *form);
  }
  static const std::map<std::string, char> separators{{"comma", ','}, {"semicolon", ';'}, {"tab", '\t'}};
  const auto separator = separators.find(asked.separator);
  if (separator == separators.end()) bad_option("--separator", asked.separator, "write comma, semicolon or tab");
  const GivenDocument file = document_of(asked.file);
  const auto act = [&](Session& session) { return take_in(session, {asked.what, file, separator->second, asked.book}); };
  const auto say = [&](Session& session, const TakenIn& taken) { return say_taken_in(door, taken, asked, session); };
  if (!asked.book) {
    return door.read([&](Session& session) {
      const auto taken = act(session);
      return taken ? say(session, *taken) : door.refuse(taken.error());
    });
  }
  if (!door.once.empty()) {
    Session session = door.open(false);
    if (const auto before = session.booked_before()) return door.print_booked(session, *before);
  }
  return door.write<TakenIn>(act, say);
}

}  // namespace

void take_in_options(CLI::App& app, Door& door) {
  auto asked = std::make_shared<TakingInAsked>();
  app.add_option("what", asked->what, "suppliers, ingredients or recipes")->required();
  app.add_option("file", asked->file, "a CSV file with a row of headings; without it, which headings there are");
  app.add_flag("--book", asked->book, "record it, all or nothing; without it, only what would change is shown");
  app.add_option("--separator", asked->separator, "what stands between columns: comma, semicolon or tab")->capture_default_str();
  app.callback([asked, &door] { door.action = [asked](Door& d) { return run_take_in(*asked, d); }; });
}

}  // namespace tierproof::cli
