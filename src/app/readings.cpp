#include "purpose.h"
#include "tierproof/app/logger_files.h"

namespace tierproof {

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
  checking.choice("--for", wanted, {"heat step", "syrup", "cooling", "chilled"});
  if (wanted == "cooling" && !place && !batch && !about.empty()) {
    checking.refuse("--for", "only a part is cooled; a cake is kept cold", "name the batch, or write --for chilled");
  }
  if (place && wanted != "chilled") checking.refuse("--for", "a place is only kept cold", "write --for chilled");
  return wanted;
}

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
  block.mark = typed.mark;
  if (!typed.mark.empty()) checking.choice("--mark", typed.mark, {"start", "now", "done"});
  const ZonedInstant at = checking.moment(typed.at);
  if (!checking.good()) return checking.refusals();
  std::string bytes = write_block({{at.at, typed.read, ""}});
  block.count = 1;
  block.first = at.at;
  block.last = at.at;
  block.sha256 = to_hex(sha256(bytes));
  Draft draft = session.draft(block, block.about, at);
  draft.block = std::move(bytes);
  return session.book({std::move(draft)});
}

Result<Booked> import_readings(Session& session, const std::string& probe, const std::string& about, const std::string& purpose,
                               const GivenDocument& file, const GivenDocument& column_map) {
  const auto done = import_logger_file(session, {probe, about, purpose, text_in_one_piece(file), column_map, "", ""});
  if (!done) return done.error();
  return done->booked;
}

}  // namespace tierproof
