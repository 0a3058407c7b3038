#include <fmt/format.h>
#include <fmt/ranges.h>

#include "door.h"
#include "tierproof/app/heating.h"
#include "tierproof/app/logger_files.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {

namespace {

std::string count_of(std::int64_t count, std::string_view one, std::string_view more) {
  return fmt::format("{} {}", count, count == 1 ? one : more);
}

std::string words_of_reading(const LoggedReading& reading) {
  return reading.degrees ? format_degrees(*reading.degrees) : fmt::format("no temperature ({})", reading.fault);
}

/// In the kitchen's time, with its offset.
std::string when_of(const Session& session, const LoggedReading& reading) {
  return format_zoned(reading.at, session.offset_at(reading.at));
}

/// What a file held and what became of it, line by line.
std::vector<std::string> lines_of(const Session& session, const FileReport& report, bool booked) {
  std::vector<std::string> lines;
  const auto say = [&](std::string line) { lines.push_back("  " + std::move(line)); };
  const FileSeen& seen = report.seen;
  say(fmt::format("{}: {}, {} of them {}", report.file, count_of(seen.readings, "reading", "readings"), seen.faults,
                  seen.faults == 1 ? "a fault" : "faults"));
  say(fmt::format("first {}  {}", when_of(session, report.first), words_of_reading(report.first)));
  say(fmt::format("last  {}  {}", when_of(session, report.last), words_of_reading(report.last)));
  if (report.fresh > 0) say(fmt::format("{} {}", report.fresh, booked ? "were not recorded before, and are now" : "are not recorded yet"));
  if (report.recorded > 0) say(fmt::format("{} recorded already, and passed over", report.recorded));
  if (report.repeated > 0) say(fmt::format("{} said again what another row of the file says", count_of(report.repeated, "row", "rows")));
  if (report.disputed > 0)
    say(fmt::format("{} another value for a moment that has one: both are kept, and neither counts",
                    count_of(report.disputed, "reading has", "readings have")));
  if (report.twice > 0)
    say(fmt::format("{} in an hour that came twice ({}, clocks back): the order of the rows decided which",
                    count_of(report.twice, "reading lies", "readings lie"), format_date_long(*report.twice_on)));
  if (report.shifted > 0)
    say(fmt::format("{} in an hour that the clocks went forward over: moved by the change, as the column map says",
                    count_of(report.shifted, "reading lies", "readings lie")));
  if (report.other_scale > 0)
    say(fmt::format("{} not in the scale that the thermometer shows: is it the right column map?",
                    count_of(report.other_scale, "reading is", "readings are")));
  if (seen.rounded > 0)
    say(fmt::format("{} finer than a hundredth of a degree, and rounded", count_of(seen.rounded, "reading was", "readings were")));
  if (seen.rows_before > 0)
    say(fmt::format("{} not read", count_of(seen.rows_before, "row above the headings was", "rows above the headings were")));
  if (seen.rows_after > 0)
    say(fmt::format("{} not read, from line {} on: the readings end there, at a row without a date",
                    count_of(seen.rows_after, "row was", "rows were"), seen.first_row_after));
  return lines;
}

Json json_of(const Session& session, const LoggedReading& reading) {
  Json json{Json::Object{{"at", Json{when_of(session, reading)}}}};
  if (reading.degrees) {
    json["hundredths"] = Json{reading.degrees->hundredths};
    json["scale"] = Json{reading.degrees->scale == Scale::celsius ? "C" : "F"};
  } else {
    json["fault"] = Json{reading.fault};
  }
  return json;
}

Json json_of(const Session& session, const FileReport& report) {
  const auto list = [&](const std::vector<LoggedReading>& readings) {
    Json::Array all;
    for (const auto& reading : readings) all.push_back(json_of(session, reading));
    return Json{std::move(all)};
  };
  Json::Array headings;
  for (const auto& heading : report.seen.headings) headings.emplace_back(heading);
  return Json{Json::Object{{"file", Json{report.file}},
                           {"sha256", Json{report.sha256}},
                           {"bytes", Json{report.bytes}},
                           {"format", Json{report.format}},
                           {"encoding", Json{std::string{name_of(report.seen.encoding)}}},
                           {"column", Json{report.column}},
                           {"headings", Json{std::move(headings)}},
                           {"zone", Json{report.zone}},
                           {"readings", Json{report.seen.readings}},
                           {"faults", Json{report.seen.faults}},
                           {"first", json_of(session, report.first)},
                           {"last", json_of(session, report.last)},
                           {"begins", list(report.head)},
                           {"ends", list(report.tail)},
                           {"fresh", Json{report.fresh}},
                           {"recorded", Json{report.recorded}},
                           {"repeated", Json{report.repeated}},
                           {"disputed", Json{report.disputed}},
                           {"twice", Json{report.twice}},
                           {"shifted", Json{report.shifted}},
                           {"other_scale", Json{report.other_scale}},
                           {"rounded", Json{report.seen.rounded}},
                           {"rows_before", Json{report.seen.rows_before}},
                           {"rows_after", Json{report.seen.rows_after}}}};
}

struct TemperatureOptions {
  ReadingTyped typed;
  std::string read, file, format = "plain", column;
  bool preview = false;
};

std::string column_map_told(const FoundColumnMap& map, const std::string& name) {
  if (map.note == 0) return fmt::format("column map {}, which came with the program", name);
  return fmt::format("column map {} of this kitchen (note {}){}", name, map.note,
                     map.hides_shipped ? ", not the one of that name that came with the program" : "");
}

/// The file and the column map that are asked for.
Result<std::pair<LoggerFile, std::string>> asked_for(Door& door, const Session& session, const TemperatureOptions& options) {
  auto map = column_map_named(session, door.data(), options.format);
  if (!map) return map.error();
  const std::string told = column_map_told(*map, options.format);
  return std::pair{LoggerFile{options.typed.probe, options.typed.about, options.typed.purpose, file_in_pieces(options.file),
                              std::move(map->map), options.format, options.column},
                   told};
}

int preview(Door& door, const TemperatureOptions& options) {
  return door.read([&](Session& session) {
    const auto asked = asked_for(door, session, options);
    if (!asked) return door.refuse(asked.error());
    const auto report = preview_logger_file(session, asked->first);
    if (!report) return door.refuse(report.error());
    if (door.json) {
      Json json = json_of(session, *report);
      json["schema"] = Json{"tierproof/preview/1"};
      door.print(std::move(json), session.kitchen().demo);
      return exit_status::done;
    }
    Door::say(fmt::format("{}A look only, nothing is recorded.", session.kitchen().demo ? "DEMO  " : ""));
    Door::say(fmt::format("  read by {}", asked->second));
    const FileSeen& seen = report->seen;
    Door::say(fmt::format("  {} bytes, {}{}", report->bytes, name_of(seen.encoding), seen.marked ? " with a byte order mark" : ""));
    if (seen.header_line == 0) {
      Door::say(fmt::format("  no headings; temperatures in column {}", report->column));
    } else {
      Door::say(fmt::format("  headings in line {}: {}; temperatures in \"{}\"", seen.header_line, fmt::join(seen.headings, ", "),
                            report->column));
    }
    if (!report->zone.empty()) Door::say(fmt::format("  its clock shows the time of {}", report->zone));
    for (const auto& reading : report->head) Door::say(fmt::format("    {}  {}", when_of(session, reading), words_of_reading(reading)));
    if (report->fresh + report->recorded > static_cast<std::int64_t>(report->head.size() + report->tail.size())) Door::say("    ...");
    for (const auto& reading : report->tail) Door::say(fmt::format("    {}  {}", when_of(session, reading), words_of_reading(reading)));
    for (const auto& line : lines_of(session, *report, false)) Door::say(line);
    return exit_status::done;
  });
}

Json json_of(const HeatSoFar& so_far) {
  const auto seconds = [](Span span) { return Json{std::chrono::duration_cast<std::chrono::seconds>(span).count()}; };
  Json json{Json::Object{{"verdict", Json{std::string{term_of(so_far.finding.verdict)}}},
                         {"words", Json{so_far.short_words}},
                         {"details", Json{so_far.finding.message}},
                         {"limit", Json{so_far.finding.limit}},
                         {"source", Json{so_far.finding.source}}}};
  if (so_far.built) {
    json["at"] = Json{so_far.built->at_words};
    json["counts"] = Json{so_far.built->held ? "time without a break" : "time worth as much"};
    json["held_seconds"] = seconds(so_far.held);
    json["wanted_seconds"] = seconds(so_far.built->wanted);
    json["missing_seconds"] = seconds(so_far.missing);
  }
  return json;
}

/// After a reading of a heat step or a reheating: how far it is and what is missing, in one line to be read at the stove.
int print_reading(const Door& door, const Session& session, const ReadingTyped& typed, const Booked& booked) {
  const std::string purpose = typed.purpose.empty() ? "heat step" : typed.purpose;
  std::optional<HeatSoFar> so_far;
  if (!booked.already && (purpose == "heat step" || purpose == "reheating"))
    so_far = heat_so_far(session, BatchId{typed.about}, ProbeId{typed.probe}, purpose);
  Json::Object more;
  if (so_far) more.emplace("heat", json_of(*so_far));
  const int exit = door.print_booked(session, booked, std::move(more));
  if (so_far && !door.json) {
    Door::say("  so far " + so_far->short_words);
    Door::say(fmt::format("    {}: {}", term_of(so_far->finding.verdict), so_far->finding.message));
  }
  return exit;
}

int type_one(Door& door, const ReadingTyped& typed) {
  if (!door.once.empty()) {
    Session session = door.open(false);
    if (const auto before = session.booked_before()) return door.print_booked(session, *before);
  }
  return door.write<Booked>([&](Session& session) { return type_reading(session, typed); },
                            [&](Session& session, const Booked& booked) { return print_reading(door, session, typed, booked); });
}

int import_file(Door& door, const TemperatureOptions& options) {
  if (!door.once.empty()) {
    Session session = door.open(false);
    if (const auto before = session.booked_before()) return door.print_booked(session, *before);
  }
  std::string map_told;
  const auto act = [&](Session& session) -> Result<FileBooked> {
    auto asked = asked_for(door, session, options);
    if (!asked) return asked.error();
    map_told = std::move(asked->second);
    return import_logger_file(session, asked->first);
  };
  return door.write<FileBooked>(act, [&](Session& session, const FileBooked& done) {
    const Booked& booked = done.booked;
    if (booked.already) return door.print_booked(session, booked);
    if (door.json) {
      Json::Array notes;
      Json::Array subjects;
      for (const auto sequence : booked.sequences) notes.emplace_back(static_cast<std::int64_t>(sequence));
      for (const auto& subject : booked.subjects) subjects.emplace_back(subject);
      door.print(Json{Json::Object{{"schema", Json{"tierproof/booked/1"}},
                                   {"notes", Json{std::move(notes)}},
                                   {"subjects", Json{std::move(subjects)}},
                                   {"already", Json{booked.already}},
                                   {"head", Json{format_head(booked.head)}},
                                   {"file", json_of(session, done.report)}}},
                 session.kitchen().demo);
      return exit_status::done;
    }
    if (booked.sequences.size() == 1) {
      door.print_booked(session, booked);
    } else {
      Door::say(fmt::format("{}{} recorded as notes {} to {}", session.kitchen().demo ? "DEMO  " : "", booked.subjects.front(),
                            booked.sequences.front(), booked.sequences.back()));
    }
    Door::say(fmt::format("  read by {}", map_told));
    for (const auto& line : lines_of(session, done.report, true)) Door::say(line);
    return exit_status::done;
  });
}

}  // namespace

void temperature_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<TemperatureOptions>();
  app.add_option("thermometer", options->typed.probe, "short name")->required();
  app.add_option("reading", options->read, "what it showed, 71.2C");
  auto* file = app.add_option("--file,--from", options->file, "a logger's file instead");
  app.add_option("--format", options->format, "how the file is laid out: a column map by its name")->needs(file)->capture_default_str();
  app.add_option("--column", options->column, "the column with this thermometer's temperatures, where the file has several")->needs(file);
  app.add_flag("--preview", options->preview, "say what the file holds and what would be recorded, and record nothing")->needs(file);
  app.add_option("--of", options->typed.about, "place, batch or cake that it is the temperature of")->required();
  app.add_option("--for", options->typed.purpose, "heat step, syrup, cooling, reheating or chilled; else by what it is of");
  app.add_option("--at", options->typed.at, "when it was read; else now");
  app.add_option("--mark", options->typed.mark, "what this reading is in a run of them: start, now or done");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      if (options->file.empty()) {
        ReadingTyped typed = options->typed;
        if (options->read.empty()) throw CLI::ValidationError("reading", "is missing; write what the thermometer showed, or --file");
        typed.read = degrees_of("reading", options->read);
        return type_one(d, typed);
      }
      if (!options->read.empty()) bad_option("reading", options->read, "give either a reading or --file");
      if (!options->typed.at.empty()) bad_option("--at", options->typed.at, "a file has its own times; leave it out");
      if (!options->typed.mark.empty()) bad_option("--mark", options->typed.mark, "only a typed reading is marked; leave it out");
      return options->preview ? preview(d, *options) : import_file(d, *options);
    };
  });
}

void logger_layout_options(CLI::App& app, Door& door) {
  struct Options {
    std::string name, file;
  };
  auto options = std::make_shared<Options>();
  app.add_option("name", options->name, "short name, for --format of `tierproof temperature`")->required();
  app.add_option("file", options->file, "the column map, as reference/probes/plain.tsv explains it")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const GivenDocument map = document_of(options->file);
      return d.record([&](Session& session) { return keep_column_map(session, options->name, map); });
    };
  });
}

}  // namespace tierproof::cli
