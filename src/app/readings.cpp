#include "purpose.h"
#include "series.h"
#include "tierproof/app/logger_files.h"
#include "tierproof/app/retyping.h"
#include "troubles.h"

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
  checking.choice("--for", wanted, {"heat step", "syrup", "cooling", "chilled", "reheating"});
  if (wanted == "reheating" && !place && !batch && !about.empty())
    checking.refuse("--for", "only a part is heated again", "name the batch");
  if (wanted == "cooling" && !place && !batch && !about.empty()) {
    checking.refuse("--for", "only a part is cooled; a cake is kept cold", "name the batch, or write --for chilled");
  }
  if (place && wanted != "chilled") checking.refuse("--for", "a place is only kept cold", "write --for chilled");
  return wanted;
}

namespace {

/// A target that is lowered for the altitude and readings that are corrected by the boil would count the same thing twice.
void refuse_two_corrections(Checking& checking, const Session& session, const ReadingTyped& typed, Instant at) {
  const auto batch = session.state().batches.find(BatchId{typed.about});
  if (typed.purpose != "syrup" || batch == session.state().batches.end()) return;
  const auto recipe = session.state().recipe_versions.find(batch->second.value.recipe_version);
  if (recipe == session.state().recipe_versions.end() || recipe->second.value.syrup_target_at.empty()) return;
  const auto checks = checks_of(session.state(), ProbeId{typed.probe});
  if (covering(corrections_of(checks, session.offset_at(at)), at) == nullptr) return;
  checking.refuse("thermometer",
                  fmt::format("its readings are corrected by its checks, and the target of {} is lowered for the altitude already",
                              recipe->second.value.name),
                  "take another thermometer, or check this one again without --correct");
}

/// One reading as a note, whose block seals it.
Draft draft_of_one(const Session& session, ReadingsBlock block, Degrees read, ZonedInstant at) {
  std::string bytes = write_block({{at.at, read, ""}});
  block.count = 1;
  block.first = at.at;
  block.last = at.at;
  block.sha256 = to_hex(sha256(bytes));
  Draft draft = session.draft(block, block.about, at);
  draft.block = std::move(bytes);
  return draft;
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
  const ZonedInstant at = checking.moment(typed.at);
  refuse_two_corrections(checking, session, typed, at.at);
  ReadingsBlock block;
  block.probe = ProbeId{typed.probe};
  block.about = typed.about;
  block.purpose = purpose_of(checking, session.state(), typed.about, typed.purpose);
  block.mark = typed.mark;
  if (!typed.mark.empty()) checking.choice("--mark", typed.mark, {"start", "now", "done"});
  if (!checking.good()) return checking.refusals();
  return session.book({draft_of_one(session, std::move(block), *typed.read, at)});
}

std::optional<LoggedReading> typed_reading(const Session& session, std::uint64_t sequence) {
  for (const auto& block : session.state().readings) {
    const bool typed = block.how == term_of(Arrival::typed_then) || block.how == term_of(Arrival::typed_late);
    if (block.sequence != sequence || !typed || block.person.text().empty() || block.value.count != 1) continue;
    return session.readings(block).front();
  }
  return std::nullopt;
}

Result<Booked> retype_reading(Session& session, std::uint64_t sequence, std::optional<Degrees> read, const std::string& why) {
  Checking checking{session};
  checking.person();
  if (why.empty()) checking.refuse("--why", "is missing", "write why the reading was wrong");
  const Note* tip = newest_or_refuse(session, checking, sequence);
  if (tip == nullptr) return checking.refusals();
  const auto before = typed_reading(session, sequence);
  if (!before) {
    if (tip->kind == KindOf<ReadingsBlock>::kind)
      checking.refuse("note", fmt::format("the readings of note {} were not typed one by one", sequence),
                      "take the note back, and import the right file");
    else
      checking.refuse("note", fmt::format("note {} holds no reading of a thermometer's own", sequence),
                      fmt::format("correct it with a JSON file of what it should say, whole: begin from `notes {}`", sequence));
    return checking.refusals();
  }
  const auto block = read_body<ReadingsBlock>(tip->body, fmt::format("note {}", sequence));
  if (!block) throw Fault{exit_status::configuration, describe(block.error().front())};
  if (!read) {
    checking.refuse("reading", "what the thermometer showed is missing", "write it with its scale, such as 71.2C");
  } else if (before->degrees && read->scale != before->degrees->scale) {
    checking.refuse("reading", "is in another scale than the thermometer shows", "write what it showed");
  } else if (before->degrees && *read == *before->degrees) {
    checking.refuse("reading", "is what the note says already", "write what the thermometer really showed");
  }
  refuse_two_corrections(checking, session, {block->probe.text(), read, block->about, block->purpose, "", block->mark}, tip->happened);
  if (!checking.good()) return checking.refusals();
  std::vector<Draft> drafts{draft_of_one(session, *block, *read, {before->at, tip->offset})};
  Draft taken_back;
  taken_back.kind = tip->kind;
  taken_back.subject = tip->subject;
  taken_back.body = nullptr;
  taken_back.happened = tip->happened;
  taken_back.offset = tip->offset;
  taken_back.how = session.arrival_of(tip->happened);
  taken_back.supersedes = tip->sequence;
  taken_back.why = sealed_json(session.seal(why));
  drafts.push_back(std::move(taken_back));
  return session.book(std::move(drafts));
}

Result<Booked> import_readings(Session& session, const std::string& probe, const std::string& about, const std::string& purpose,
                               const GivenDocument& file, const GivenDocument& column_map) {
  const auto done = import_logger_file(session, {probe, about, purpose, text_in_one_piece(file), column_map, "", ""});
  if (!done) return done.error();
  return done->booked;
}

}  // namespace tierproof
