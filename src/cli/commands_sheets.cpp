#include <fmt/format.h>

#include <filesystem>

#include "door.h"
#include "tierproof/app/sheets.h"

namespace tierproof::cli {
namespace {

/// What the kitchen's file puts on a sheet; without a file (before `start`) nothing.
struct FromKitchen {
  SheetFacts facts;
  Instant moment{};
  bool known = false;
};

FromKitchen from_kitchen(Door& door) {
  if (!std::filesystem::exists(door.kitchen_file)) return {{}, now_by_the_clock(), false};
  const Session session = door.open(true);
  return {sheet_facts(session), session.now(), true};
}

int list_sheets(Door& door) {
  const auto forms = load_sheets(door.data());
  if (door.json) {
    Json::Array list;
    for (const auto& form : forms)
      list.push_back(Json{Json::Object{{"sheet", Json{form.id}}, {"title", Json{form.title}}, {"purpose", Json{form.purpose}}}});
    door.print(Json{Json::Object{{"schema", Json{"tierproof/sheets/1"}}, {"sheets", Json{std::move(list)}}}}, false);
    return exit_status::done;
  }
  for (const auto& form : forms) Door::say(fmt::format("{:20}{}", form.id, form.title));
  Door::say("Print some before they are needed: `tierproof sheet NAME --into FOLDER --copies 20`.");
  return exit_status::done;
}

}  // namespace

void sheet_options(CLI::App& app, Door& door) {
  struct Options {
    std::string name, folder = ".", size = "a4";
    int copies = 1;
  };
  auto options = std::make_shared<Options>();
  app.add_option("sheet", options->name, "which one; left out: they are listed");
  app.add_option("--into", options->folder, "folder for the PDF; else this one");
  app.add_option("--size", options->size, "paper: a4 or letter; else a4");
  app.add_option("--copies", options->copies, "how many pages of it; else 1")->check(whole_number(1, 200));
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      if (options->name.empty()) return list_sheets(d);
      if (options->size != "a4" && options->size != "letter") bad_option("--size", options->size, "write a4 or letter");
      const FromKitchen from = from_kitchen(d);
      const auto pdf = draw_sheet(d.data(), options->name, from.facts, options->size == "a4" ? SheetPaper::a4 : SheetPaper::letter,
                                  options->copies, from.moment);
      if (!pdf) return d.refuse(pdf.error());
      std::error_code error;
      std::filesystem::create_directories(options->folder, error);
      if (error)
        throw Fault{exit_status::cannot_create,
                    fmt::format("{}: no sheet can be put there ({}); name another folder with --into", options->folder, error.message())};
      const std::string path = fmt::format("{}/sheet-{}.pdf", options->folder, options->name);
      save_file(path, *pdf);
      if (d.json) {
        d.print(Json{Json::Object{{"schema", Json{"tierproof/sheet/1"}},
                                  {"file", Json{path}},
                                  {"pages", Json{options->copies}},
                                  {"kitchen", from.known ? Json{from.facts.business} : Json{}}}},
                from.facts.demo);
        return exit_status::done;
      }
      Door::say(
          fmt::format("{}{}: {} {}", from.facts.demo ? "DEMO  " : "", path, options->copies, options->copies == 1 ? "page" : "pages"));
      if (!from.known)
        Door::say(fmt::format("There is no {} yet, so the name of the business{} left to be written in.", d.kitchen_file,
                              options->name == "order" ? " and the allergens are" : " is"));
      return exit_status::done;
    };
  });
}

}  // namespace tierproof::cli
