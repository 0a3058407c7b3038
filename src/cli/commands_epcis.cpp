#include <fmt/format.h>

#include <cstdio>
#include <filesystem>

#include "door.h"
#include "tierproof/app/epcis.h"
#include "tierproof/imports/epcis_check.h"

namespace tierproof::cli {
namespace {

std::string events_told(std::int64_t count) { return fmt::format("{} event{}", count, count == 1 ? "" : "s"); }

int check_events(Door& door, const std::string& path) {
  const auto seen = check_epcis(load_file(path), path);
  if (!seen) {
    door.refuse(seen.error());
    return exit_status::bad_data;
  }
  if (door.json) {
    door.print(Json{Json::Object{{"schema", Json{"tierproof/epcis-check/1"}}, {"file", Json{path}}, {"events", Json{seen->events}}}},
               false);
  } else {
    Door::say(fmt::format("{}: {}, written as EPCIS 2.0 wants; whether they are true nobody looked at", path, events_told(seen->events)));
  }
  return exit_status::done;
}

int write_events(Door& door, const EpcisWanted& wanted, const std::string& path) {
  return door.read([&](Session& session) {
    const auto document = epcis_document(session, wanted);
    if (!document) return door.refuse(document.error());
    const bool demo = session.kitchen().demo;
    if (path.empty()) {
      Door::mark_demo(demo);
      std::fwrite(document->text.data(), 1, document->text.size(), stdout);
      if (std::fflush(stdout) != 0) throw Fault{exit_status::io, "standard output: writing failed; the document is not whole"};
      return exit_status::done;
    }
    if (std::filesystem::exists(std::filesystem::symlink_status(path)))
      throw Fault{exit_status::cannot_create, fmt::format("{} is there already; name another file", path)};
    save_file(path, document->text);
    if (door.json) {
      door.print(Json{Json::Object{{"schema", Json{"tierproof/epcis/1"}}, {"file", Json{path}}, {"events", Json{document->events}}}}, demo);
    } else {
      Door::mark_demo(demo);
      Door::say(fmt::format("{} holds {}, without the name of anybody", path, events_told(document->events)));
    }
    return exit_status::done;
  });
}

}  // namespace

void epcis_options(CLI::App& app, Door& door) {
  struct Options {
    std::string from, until, file, check;
    EpcisWanted wanted;
  };
  auto options = std::make_shared<Options>();
  app.add_option("--from", options->from, "first day; else from the beginning");
  app.add_option("--until", options->until, "last day; else until now");
  app.add_option("--domain", options->wanted.domain,
                 "address of a domain that the business holds, https://kitchen.example, for the names of things; the same one for ever");
  app.add_option("--out", options->file, "file to write; else it goes to standard output");
  app.add_option("--check", options->check, "only look through a file of events that somebody sent; nothing is recorded")
      ->excludes("--from")
      ->excludes("--until")
      ->excludes("--domain")
      ->excludes("--out");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      if (!options->check.empty()) return check_events(d, options->check);
      options->wanted.from = maybe_date("--from", options->from);
      options->wanted.until = maybe_date("--until", options->until);
      return write_events(d, options->wanted, options->file);
    };
  });
}

}  // namespace tierproof::cli
