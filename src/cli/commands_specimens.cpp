#include <fmt/format.h>

#include "door.h"
#include "saving.h"
#include "tierproof/app/specimens.h"

namespace tierproof::cli {
namespace {

Json json_of(const SpecimenTold& told) {
  Json::Array left_out;
  for (const auto& code : told.codes_left_out) left_out.emplace_back(code);
  Json::Array why_not;
  for (const auto& refusal : told.why_not) why_not.emplace_back(describe(refusal));
  return Json{Json::Object{{"cake", Json{told.cake}},
                           {"rules", Json{told.rules}},
                           {"drawn", Json{told.why_not.empty()}},
                           {"codes_left_out", Json{std::move(left_out)}},
                           {"why_not", Json{std::move(why_not)}},
                           {"old_details", Json{told.old_details}}}};
}

void say(const SpecimenTold& told, const std::string& stock) {
  const std::string which = fmt::format("{} by the label rules {}", told.cake, told.rules);
  for (const auto& refusal : told.why_not) Door::say(fmt::format("{} is not drawn: {}", which, describe(refusal)));
  if (told.old_details) Door::say(fmt::format("{}: what its packs say is not up to date, so no label of it would be printed", which));
  for (const auto& code : told.codes_left_out) Door::say(fmt::format("{}: its {} has no room on {}", which, code, stock));
}

}  // namespace

void specimens_options(CLI::App& app, Door& door) {
  struct Options {
    SpecimenRequest request;
    std::string folder = ".";
  };
  auto options = std::make_shared<Options>();
  app.add_option("cake", options->request.cakes, "their numbers, cake-1 cake-2")->required();
  app.add_option("--by-rules", options->request.rules, "label rules, once for each; else all that there are (see `tierproof rules`)")
      ->take_all()
      ->allow_extra_args(false);
  app.add_option("--stock", options->request.stock, "label stock, a name in reports/stocks")->required();
  app.add_option("--into", options->folder, "folder for the PDF; else this one");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.read([&](Session& session) {
        const auto specimens = draw_specimens(session, options->request, d.data());
        if (!specimens) return d.refuse(specimens.error());
        const std::string path = specimens->pdf.empty() ? "" : fmt::format("{}/specimens.pdf", options->folder);
        if (!path.empty()) {
          make_folder(options->folder);
          save_file(path, specimens->pdf);
        }
        bool all = true;
        Json::Array labels;
        for (const auto& told : specimens->told) {
          all = all && told.why_not.empty();
          labels.push_back(json_of(told));
          if (!d.json) say(told, options->request.stock);
        }
        if (d.json) {
          d.print(Json{Json::Object{{"schema", Json{"tierproof/specimens/1"}},
                                    {"file", path.empty() ? Json{} : Json{path}},
                                    {"sheets", Json{static_cast<std::int64_t>(specimens->sheets)}},
                                    {"labels", Json{std::move(labels)}}}},
                  session.kitchen().demo);
        } else if (!path.empty()) {
          Door::say(fmt::format("{}{}: {} {} of specimens, not for use; nothing was booked", session.kitchen().demo ? "DEMO  " : "", path,
                                specimens->sheets, specimens->sheets == 1 ? "sheet" : "sheets"));
        }
        return all ? exit_status::done : exit_status::found_wanting;
      });
    };
  });
}

}  // namespace tierproof::cli
