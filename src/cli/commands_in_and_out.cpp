#include <fmt/format.h>

#include <cstdio>
#include <filesystem>

#include "door.h"
#include "tierproof/app/attaching.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/whole_kitchen.h"

namespace tierproof::cli {
namespace {

std::string counted(std::int64_t count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

/// What stands in the JSON object of an export or import about the files that are attached.
void tell_files(Json::Object& told, const CopiedFiles& files) {
  Json::Array not_copied;
  for (const auto& line : files.not_copied) not_copied.emplace_back(line);
  told.emplace("attached_files", Json{files.named});
  told.emplace("attached_copied", Json{files.copied});
  told.emplace("attached_not_copied", Json{std::move(not_copied)});
}

/// The same for people, on `out`, since standard output may hold the export itself.
void say_copied(const CopiedFiles& files, const std::string& folder, std::FILE* out) {
  if (files.copied > 0)
    fmt::print(out, "{} {} in {}.\n", counted(files.copied, "attached file", "attached files"), files.copied == 1 ? "is" : "are", folder);
  for (const auto& line : files.not_copied) fmt::print(out, "{}\n", line);
}

}  // namespace

void export_options(CLI::App& app, Door& door) {
  auto file = std::make_shared<std::string>();
  auto folder = std::make_shared<std::string>();
  app.add_option("file", *file, "file to write, or - for standard output")->required();
  app.add_option("--files", *folder, "copy what is attached into this folder too; it is not in the document");
  app.callback([file, folder, &door] {
    door.action = [file, folder](Door& d) {
      if (d.as_of != 0) bad_option("--as-of", std::to_string(d.as_of), "leave it out: the whole records are exported");
      const auto store = open_sqlite(d.kitchen_file, true);
      const auto whole = export_kitchen(*store);
      if (!whole) {
        d.refuse(whole.error());
        return exit_status::found_wanting;
      }
      if (*file != "-" && std::filesystem::exists(std::filesystem::symlink_status(*file)))
        throw Fault{exit_status::cannot_create, fmt::format("{} is there already; name another file", *file)};
      const auto files = folder->empty() ? attached_files_of(*store) : copy_attached_out(*store, d.kitchen_file, *folder);
      const int exit = files.not_copied.empty() ? exit_status::done : exit_status::found_wanting;
      const auto say_files = [&](std::FILE* out) {
        say_copied(files, *folder, out);
        if (folder->empty() && files.named > 0)
          fmt::print(out, "{} not in it: copy {} too, or name a folder with --files.\n",
                     files.named == 1 ? "1 attached file is" : fmt::format("{} attached files are", files.named),
                     folder_of_attached(d.kitchen_file));
      };
      if (*file == "-") {
        Door::mark_demo(whole->demo);
        std::fwrite(whole->document.data(), 1, whole->document.size(), stdout);
        if (std::fflush(stdout) != 0) throw Fault{exit_status::io, "standard output: writing failed; the export is not whole"};
        say_files(stderr);
        return exit;
      }
      save_file(*file, whole->document, Readers::owner);
      if (d.json) {
        Json::Object told{{"schema", Json{"tierproof/exported/1"}},
                          {"file", Json{*file}},
                          {"notes", Json{static_cast<std::int64_t>(whole->head.size)}},
                          {"papers", Json{static_cast<std::int64_t>(whole->papers)}},
                          {"head", Json{format_head(whole->head)}}};
        tell_files(told, files);
        d.print(Json{std::move(told)}, whole->demo);
      } else {
        Door::mark_demo(whole->demo);
        Door::say(fmt::format("{} holds all {} and {}: {}", *file, counted(static_cast<std::int64_t>(whole->head.size), "note", "notes"),
                              counted(static_cast<std::int64_t>(whole->papers), "paper", "papers"), format_head(whole->head)));
        say_files(stdout);
        Door::say("It holds personal data as the kitchen file does: keep it as safe, and destroy it when a customer in it is erased.");
      }
      return exit;
    };
  });
}

void import_options(CLI::App& app, Door& door) {
  auto file = std::make_shared<std::string>();
  auto folder = std::make_shared<std::string>();
  app.add_option("file", *file, "file that `export` wrote")->required();
  app.add_option("--files", *folder, "the folder with what is attached, as `export --files` wrote it");
  app.callback([file, folder, &door] {
    door.action = [file, folder](Door& d) {
      if (d.as_of != 0) bad_option("--as-of", std::to_string(d.as_of), "leave it out: the whole records are taken in");
      if (std::filesystem::exists(std::filesystem::symlink_status(d.kitchen_file))) {
        throw Fault{exit_status::cannot_create, fmt::format("{} is there already; name a new file with --kitchen", d.kitchen_file)};
      }
      const auto taken = import_kitchen(document_of(*file), d.kitchen_file);
      if (!taken) return d.refuse(taken.error());
      const auto store = open_sqlite(d.kitchen_file, true);
      const auto files = folder->empty() ? attached_files_of(*store) : copy_attached_in(*store, d.kitchen_file, *folder);
      if (d.json) {
        Json::Object told{{"schema", Json{"tierproof/taken-in/1"}},
                          {"file", Json{d.kitchen_file}},
                          {"notes", Json{static_cast<std::int64_t>(taken->head.size)}},
                          {"papers", Json{static_cast<std::int64_t>(taken->papers)}},
                          {"head", Json{format_head(taken->head)}}};
        tell_files(told, files);
        d.print(Json{std::move(told)}, taken->demo);
      } else {
        Door::mark_demo(taken->demo);
        Door::say(fmt::format("{} holds all {} and {}: {}", d.kitchen_file,
                              counted(static_cast<std::int64_t>(taken->head.size), "note", "notes"),
                              counted(static_cast<std::int64_t>(taken->papers), "paper", "papers"), format_head(taken->head)));
        say_copied(files, folder_of_attached(d.kitchen_file), stdout);
        if (folder->empty() && files.named > 0) {
          Door::say(fmt::format("{} by it: copy {} into {}; until then verify names what is missing.",
                                files.named == 1 ? "1 attached file is named" : fmt::format("{} attached files are named", files.named),
                                files.named == 1 ? "it" : "them", folder_of_attached(d.kitchen_file)));
        }
        Door::say("Compare that fingerprint with one on a paper. A customer erased since the export was made has to be erased here again.");
      }
      return files.not_copied.empty() ? exit_status::done : exit_status::found_wanting;
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
          const auto numbers = [](const std::vector<std::uint64_t>& notes) {
            Json::Array all;
            for (const auto one : notes) all.emplace_back(static_cast<std::int64_t>(one));
            return Json{std::move(all)};
          };
          d.print(Json{Json::Object{{"schema", Json{"tierproof/erased/1"}},
                                    {"cake", Json{asked->cake}},
                                    {"note", Json{static_cast<std::int64_t>(note)}},
                                    {"texts", Json{erased.texts}},
                                    {"papers", numbers(erased.papers)},
                                    {"files", numbers(erased.files)},
                                    {"files_gone", numbers(erased.files_gone)},
                                    {"files_of_others", numbers(erased.files_of_others)},
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
        const auto say_files = [](const char* what, const std::vector<std::uint64_t>& notes) {
          if (!notes.empty()) Door::say(fmt::format("{} note{} {}.", what, notes.size() == 1 ? "" : "s", fmt::join(notes, ", ")));
        };
        say_files("Erased too: the files attached by", erased.files);
        say_files("Not there any more, so it could not be erased here: what was attached by", erased.files_gone);
        say_files("NOT erased, since it is attached to something else too: the file of", erased.files_of_others);
        Door::say("What left this file is not reached: destroy exports, backups and printed papers that tell of the customer too.");
        return exit_status::done;
      };
      return d.write<Erased>([&](Session& session) { return erase_customer(session, *asked); }, print);
    };
  });
}

}  // namespace tierproof::cli
