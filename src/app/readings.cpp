#include <map>

#include "checking.h"
#include "tierproof/app/recording.h"
#include "tierproof/imports/logger_file.h"

namespace tierproof {
namespace {

/// What a reading is about, and for which purpose when none is named.
std::string purpose_of(Checking& checking, const State& state, const std::string& about, const std::string& purpose) {
  const bool place = state.places.contains(PlaceId{about});
  const bool batch = state.batches.contains(BatchId{about});
  if (!place && !batch && !state.cakes.contains(CakeId{about})) {
    checking.refuse(
        "--of",
        about.empty() ? "what it is the temperature of is missing" : fmt::format("there is no place, batch or cake called \"{}\"", about),
        "write a place such as cake-fridge, or a number such as batch-2");
  }
  const std::string wanted = !purpose.empty() ? purpose : batch ? "heat step" : "chilled";
  checking.choice("--for", wanted, {"heat step", "syrup", "chilled"});
  if (place && wanted != "chilled") checking.refuse("--for", "a place is only kept cold", "write --for chilled");
  return wanted;
}

Result<Booked> book_block(Session& session, const ReadingsBlock& about, const std::vector<LoggedReading>& readings, Arrival how) {
  ReadingsBlock block = about;
  block.count = static_cast<std::int64_t>(readings.size());
  block.first = readings.front().at;
  block.last = readings.back().at;
  std::string bytes = write_block(readings);
  block.sha256 = to_hex(sha256(bytes));
  Draft draft = session.draft(block, block.about, {block.last, session.offset_at(block.last)});
  draft.how = how;
  draft.block = std::move(bytes);
  return session.book({std::move(draft)});
}

}  // namespace

Result<Booked> type_reading(Session& session, const ReadingTyped& typed) {
  Checking checking{session};
  checking.person();
  const auto* probe = checking.known("thermometer", session.state().probes, typed.probe, "thermometer");
  if (!typed.read) checking.refuse("reading", "what the thermometer showed is missing", "write it with its scale, such as 71.2C");
  if (typed.read && probe != nullptr && typed.read->scale != probe->value.scale) {
    checking.refuse("reading", "is in another scale than the thermometer shows", "write what it showed");
  }
  ReadingsBlock block;
  block.probe = ProbeId{typed.probe};
  block.about = typed.about;
  block.purpose = purpose_of(checking, session.state(), typed.about, typed.purpose);
  const ZonedInstant at = checking.moment(typed.at);
  if (!checking.good()) return checking.refusals();
  return book_block(session, block, {{at.at, typed.read, ""}}, session.arrival_of(at.at));
}

Result<Booked> import_readings(Session& session, const std::string& probe, const std::string& about, const std::string& purpose,
                               const GivenDocument& file, const GivenDocument& column_map) {
  Checking checking{session};
  checking.person();
  checking.known("thermometer", session.state().probes, probe, "thermometer");
  ReadingsBlock block;
  block.probe = ProbeId{probe};
  block.about = about;
  block.purpose = purpose_of(checking, session.state(), about, purpose);
  const auto slash = file.name.find_last_of('/');
  block.file = slash == std::string::npos ? file.name : file.name.substr(slash + 1);
  const auto map = read_column_map(column_map.text, column_map.name);
  if (!map) checking.take(map.error());
  if (!checking.good()) return checking.refusals();
  const auto imported = read_readings(file.text, *map, file.name);
  if (!imported) return imported.error();

  checking.in_file(file.name);
  std::multimap<Instant, LoggedReading> known;  // what this thermometer already gave for this; a disputed instant has two
  for (const auto& other : session.state().readings) {
    if (other.value.probe != block.probe || other.value.about != about || other.value.purpose != block.purpose) continue;
    for (const auto& reading : session.readings(other)) known.emplace(reading.at, reading);
  }
  std::vector<LoggedReading> fresh;
  std::optional<Instant> previous;
  for (const auto& row : imported->readings) {
    Instant at;
    if (const auto* zoned = std::get_if<ZonedInstant>(&row.when)) {
      at = zoned->at;
    } else {
      const auto resolved = session.wall_time(std::get<LocalTime>(row.when), previous, {file.name, row.line, "time", "", ""});
      if (!resolved) {
        checking.take(resolved.error());
        continue;
      }
      at = resolved->at;
    }
    previous = at;
    if (at > session.now()) {
      checking.take({{file.name, row.line, "time", "lies after now", "check the logger's clock and the zone"}});
      continue;
    }
    LoggedReading reading{at, row.degrees, row.degrees ? "" : row.fault.empty() ? "empty" : row.fault};
    const auto [first, last] = known.equal_range(at);
    if (std::any_of(first, last, [&](const auto& other) { return other.second == reading; })) continue;
    fresh.push_back(std::move(reading));
  }
  if (checking.good() && fresh.empty()) checking.refuse("", "holds no reading that is not recorded already", "nothing is left to do");
  if (!checking.good()) return checking.refusals();
  std::stable_sort(fresh.begin(), fresh.end(), [](const LoggedReading& a, const LoggedReading& b) { return a.at < b.at; });
  return book_block(session, block, fresh, Arrival::logger);
}

}  // namespace tierproof
