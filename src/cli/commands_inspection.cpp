#include <fmt/format.h>

#include "door.h"
#include "saving.h"
#include "tierproof/app/inspecting.h"
#include "tierproof/text/csv.h"

namespace tierproof::cli {
namespace {

constexpr std::size_t screen_width = 100;

/// The tables as files that a spreadsheet opens.
void save_tables(const std::vector<DataTable>& tables, const std::string& folder) {
  const std::string data = folder + "/inspection-data";
  make_folder(data);
  for (const auto& table : tables) save_file(fmt::format("{}/{}.csv", data, table.name), write_csv(table), Readers::owner);
}

}  // namespace

void inspection_options(CLI::App& app, Door& door) {
  struct Options {
    std::string from, until, folder;
    bool all = false, review = false;
  };
  auto options = std::make_shared<Options>();
  app.add_option("--from", options->from, "first day; else 27 days before the last: four weeks in all");
  app.add_option("--until", options->until, "last day; else today");
  app.add_option("--into", options->folder, "print it: folder for the PDF, a picture of page one, JSON, and the full data as CSV");
  app.add_flag("--all", options->all, "on the screen: all of it; else what stands on page one");
  app.add_flag("--review", options->review, "a review instead: who looked through the records, what was found, and what they look at");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const InspectionRequest request{maybe_date("--from", options->from), maybe_date("--until", options->until), options->review};
      if (!options->folder.empty()) {
        make_folder(options->folder);
        return d.write<InspectionIssued>([&](Session& session) { return issue_inspection(session, request, d.data()); },
                                         [&](Session& session, const InspectionIssued& issued) {
                                           save_tables(issued.tables, options->folder);
                                           return save_papers(d, session, issued.issued, options->folder,
                                                              request.review ? "records-review" : "inspection-record");
                                         });
      }
      return d.read([&](Session& session) {
        const ZonedInstant at{session.now(), session.offset_at(session.now())};
        const auto found = request.review ? review_records(session, request, at) : inspect(session, request, at);
        if (!found) return d.refuse(found.error());
        if (d.json) {
          d.print(json_of(*found), session.kitchen().demo);
        } else {
          Door::mark_demo(session.kitchen().demo);
          Door::say(inspection_text(found->content, options->all, screen_width));
        }
        return found->content.wanting.empty() ? exit_status::done : exit_status::found_wanting;
      });
    };
  });
}

}  // namespace tierproof::cli
