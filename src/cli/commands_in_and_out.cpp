#include <fmt/format.h>

#include <cstdio>
#include <filesystem>

#include "door.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/whole_kitchen.h"

namespace tierproof::cli {
namespace {

std::string counted(std::int64_t count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

}  // namespace

void export_options(CLI::App& app, Door& door) {
  auto file = std::make_shared<std::string>();
  app.add_option("file", *file, "file to write, or - for standard output")->required();
  app.callback([file, &door] {
    door.action = [file](Door& d) {
      if (d.as_of != 0) bad_option("--as-of", std::to_string(d.as_of), "leave it out: the whole records are exported");
      const auto store = open_sqlite(d.kitchen_file, true);
      const auto whole = export_kitchen(*store);
      if (!whole) {
        d.refuse(whole.error());
        return exit_status::found_wanting;
      }
      if (*file == "-") {
        Door::mark_demo(whole->demo);
        std::fwrite(whole->document.data(), 1, whole->document.size(), stdout);
        if (std::fflush(stdout) != 0) throw Fault{exit_status::io, "standard output: writing failed; the export is not whole"};
        return exit_status::done;
      }
      if (std::filesystem::exists(std::filesystem::symlink_status(*file)))
        throw Fault{exit_status::cannot_create, fmt::format("{} is there already; name another file", *file)};
      save_file(*file, whole->document, Readers::owner);
      if (d.json) {
        d.print(Json{Json::Object{{"schema", Json{"tierproof/exported/1"}},
                                  {"file", Json{*file}},
                                  {"notes", Json{static_cast<std::int64_t>(whole->head.size)}},
                                  {"papers", Json{static_cast<std::int64_t>(whole->papers)}},
                                  {"head", Json{format_head(whole->head)}}}},
                whole->demo);
      } else {
        Door::mark_demo(whole->demo);
        Door::say(fmt::format("{} holds all {} and {}: {}", *file, counted(static_cast<std::int64_t>(whole->head.size), "note", "notes"),
                              counted(static_cast<std::int64_t>(whole->papers), "paper", "papers"), format_head(whole->head)));
        Door::say("It holds personal data as the kitchen file does: keep it as safe, and destroy it when a customer in it is erased.");
      }
      return exit_status::done;
    };
  });
}

void import_options(CLI::App& app, Door& door) {
  auto file = std::make_shared<std::string>();
  app.add_option("file", *file, "file that `export` wrote")->required();
  app.callback([file, &door] {
    door.action = [file](Door& d) {
      if (d.as_of != 0) bad_option("--as-of", std::to_string(d.as_of), "leave it out: the whole records are taken in");
      if (std::filesystem::exists(std::filesystem::symlink_status(d.kitchen_file))) {
        throw Fault{exit_status::cannot_create, fmt::format("{} is there already; name a new file with --kitchen", d.kitchen_file)};
      }
      const auto taken = import_kitchen(document_of(*file), d.kitchen_file);
      if (!taken) return d.refuse(taken.error());
      if (d.json) {
        d.print(Json{Json::Object{{"schema", Json{"tierproof/taken-in/1"}},
                                  {"file", Json{d.kitchen_file}},
                                  {"notes", Json{static_cast<std::int64_t>(taken->head.size)}},
                                  {"papers", Json{static_cast<std::int64_t>(taken->papers)}},
                                  {"head", Json{format_head(taken->head)}}}},
                taken->demo);
      } else {
        Door::mark_demo(taken->demo);
        Door::say(fmt::format("{} holds all {} and {}: {}", d.kitchen_file,
                              counted(static_cast<std::int64_t>(taken->head.size), "note", "notes"),
                              counted(static_cast<std::int64_t>(taken->papers), "paper", "papers"), format_head(taken->head)));
        Door::say("Compare that fingerprint with one on a paper. A customer erased since the export was made has to be erased here again.");
      }
      return exit_status::done;
    };
  });
}

void erase_options(CLI::App& app, Door& door) {
  auto asked = std::make_shared<ErasingAsked>();
  app.add_option("cake", asked->cake, "the cake whose customer is erased, cake-1")->required();
  app.add_option("--because", asked->because, "\"the customer asked\" or \"not needed any more\"")->required();
  app.callback([asked, &door] {
    door.action = [asked](Door& d) {
      const auto print = [&d, &asked](Session& session, const Erased& erased) {
        if (erased.booked.already) return d.print_booked(session, erased.booked);
        const auto note = erased.booked.sequences.front();
        if (d.json) {
          Json::Array papers;
          for (const auto paper : erased.papers) papers.emplace_back(static_cast<std::int64_t>(paper));
          d.print(Json{Json::Object{{"schema", Json{"tierproof/erased/1"}},
                                    {"cake", Json{asked->cake}},
                                    {"note", Json{static_cast<std::int64_t>(note)}},
                                    {"texts", Json{erased.texts}},
                                    {"papers", Json{std::move(papers)}},
                                    {"head", Json{format_head(erased.booked.head)}}}},
                  session.kitchen().demo);
          return exit_status::done;
        }
        const std::string papers =
            erased.papers.empty()
                ? "no kept paper told of it"
                : fmt::format("so are the papers of note{} {}", erased.papers.size() == 1 ? "" : "s", fmt::join(erased.papers, ", "));
        Door::say(fmt::format("{}{} recorded as note {}", session.kitchen().demo ? "DEMO  " : "", asked->cake, note));
        Door::say(fmt::format("{} of its customer are erased for good; {}.", counted(erased.texts, "text", "texts"), papers));
        Door::say("What left this file is not reached: destroy exports, backups and printed papers that tell of the customer too.");
        return exit_status::done;
      };
      return d.write<Erased>([&](Session& session) { return erase_customer(session, *asked); }, print);
    };
  });
}

}  // namespace tierproof::cli
