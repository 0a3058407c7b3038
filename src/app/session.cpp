#include "tierproof/app/session.h"

#include <date/tz.h>
#include <fmt/format.h>
#include <openssl/rand.h>

#include <algorithm>
#include <cassert>

#include "checking.h"
#include "tierproof/app/confirming.h"
#include "tierproof/app/permissions.h"
#include "tierproof/sums/gs1.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr Span future_allowed = std::chrono::minutes{2};

const date::time_zone* zone_named(const std::string& name) {
  try {
    return date::locate_zone(name);
  } catch (const std::runtime_error&) {
    return nullptr;
  }
}

std::string random_bytes(std::size_t count) {
  std::string bytes(count, '\0');
  if (RAND_bytes(reinterpret_cast<unsigned char*>(bytes.data()), static_cast<int>(count)) != 1) {
    throw Fault{exit_status::our_bug, "the machine gave no random bytes"};
  }
  return bytes;
}

/// A demo's chance: bytes that follow from its seed and from what they are for.
std::string seeded_bytes(const std::string& seed, std::string_view purpose, std::size_t count) {
  const Digest key = sha256(seed);
  std::string bytes;
  for (int part = 0; bytes.size() < count; ++part) {
    const Digest drawn = hmac_sha256(key, fmt::format("{}:{}", purpose, part));
    bytes.append(drawn.begin(), drawn.end());
  }
  bytes.resize(count);
  return bytes;
}

std::string hex_of(std::string_view bytes) { return to_hex({reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size()}); }

/// RFC 4122 version 4 layout over 16 bytes of chance.
std::string uuid_of(std::string bytes) {
  bytes[6] = static_cast<char>((bytes[6] & 0x0f) | 0x40);
  bytes[8] = static_cast<char>((bytes[8] & 0x3f) | 0x80);
  const std::string hex = hex_of(bytes);
  return fmt::format("{}-{}-{}-{}-{}", hex.substr(0, 8), hex.substr(8, 4), hex.substr(12, 4), hex.substr(16, 4), hex.substr(20));
}

Words sealed_words(SealedText& sealed) { return {sealed.ref, to_hex(hmac_sha256(sealed.key, sealed.text)), sealed.text}; }

SealedText seal_with(const std::string& chance, const std::string& text) {
  assert(chance.size() == 40);
  SealedText sealed;
  sealed.ref = "w-" + hex_of(chance.substr(0, 8));
  std::copy_n(chance.begin() + 8, sealed.key.size(), sealed.key.begin());
  sealed.text = text;
  return sealed;
}

Instant wall_clock() { return std::chrono::time_point_cast<Span>(std::chrono::system_clock::now()); }

Entry entry_of(const Draft& draft, const std::string& kitchen, std::uint64_t sequence, Instant written, const Entrance& entrance,
               std::string client_key) {
  Entry entry;
  entry.kitchen = kitchen;
  entry.sequence = sequence;
  entry.written = written;
  entry.happened = draft.happened;
  entry.offset = draft.offset;
  entry.person = PersonId{entrance.person};
  entry.device = entrance.device;
  entry.kind = draft.kind;
  entry.subject = draft.subject;
  entry.supersedes = draft.supersedes;
  entry.how = draft.how;
  entry.client_key = std::move(client_key);
  entry.body = draft.body;
  entry.why = draft.why;
  return entry;
}

/// What would not be read back must never get into the log: one such note would close the records for good.
void require_readable(const std::vector<Entry>& entries) {
  for (const auto& entry : entries) {
    if (entry.body.is_null()) continue;  // takes a note back
    const auto wrong = check_body(entry.kind, entry.body, fmt::format("{} ({})", entry.subject, entry.kind));
    if (!wrong.empty()) throw Fault{exit_status::usage, fmt::format("{}; nothing was recorded", describe(wrong.front()))};
  }
}

}  // namespace

Session::Session(Entrance entrance, std::shared_ptr<const RulePacks> packs, std::unique_ptr<RecordStore> store)
    : entrance_{std::move(entrance)}, packs_{std::move(packs)}, store_{std::move(store)} {
  reload();
  if (entrance_.now) set_clock(*entrance_.now);
}

void Session::set_clock(Instant now) {
  if (!kitchen().demo) {
    throw Fault{exit_status::not_permitted, "only a kitchen that was begun as a demo accepts a set clock; leave --now out"};
  }
  entrance_.now = now;
}

void Session::reload() {
  sealed_.clear();
  worked_out_.clear();
  label_terms_.clear();
  const std::uint64_t size = store_->head().size;
  const std::uint64_t wanted = entrance_.as_of.value_or(size);
  if (wanted > size || wanted == 0) {
    throw Fault{exit_status::usage, fmt::format("--as-of {}: the records hold {} notes; write a number from 1 to {}", wanted, size, size)};
  }
  const auto head = store_->head_at(wanted);
  if (!head) throw Fault{exit_status::configuration, fmt::format("the records have no head at note {}; run verify", wanted)};
  head_ = *head;
  if (entrance_.as_of) {
    std::vector<Note> written;
    for (const Entry& entry : store_->entries(1, wanted)) written.push_back(note_of(entry));
    as_of_moment_ = written.back().written;
    notes_ = in_force(written);
  } else {
    auto at_head = store_->notes_at_head();
    head_ = at_head.head;
    notes_ = std::move(at_head.notes);
  }
  auto state = fold(notes_, head_.size, [this](const std::string& ref) { return store_->sealed(ref); });
  if (!state) throw Fault{exit_status::configuration, describe(state.error().front())};
  state_ = std::move(state).value();
}

const Kitchen& Session::kitchen() const {
  if (!state_.kitchen) throw Fault{exit_status::configuration, "these records do not begin with a kitchen; run verify"};
  return state_.kitchen->value;
}

Instant Session::now() const {
  if (entrance_.now) return *entrance_.now;
  return as_of_moment_.value_or(wall_clock());
}

Offset Session::offset_at(Instant at) const {
  const auto* zone = zone_named(kitchen().zone);
  if (zone == nullptr)
    throw Fault{exit_status::configuration, fmt::format("this machine does not know the time zone {}; install tzdata", kitchen().zone)};
  const auto info = zone->get_info(date::sys_time<Span>{at.time_since_epoch()});
  return Offset{static_cast<int>(std::chrono::duration_cast<std::chrono::minutes>(info.offset).count())};
}

std::vector<ClockChange> Session::clock_changes(Instant from, Instant to) const {
  const auto* zone = zone_named(kitchen().zone);
  if (zone == nullptr)
    throw Fault{exit_status::configuration, fmt::format("this machine does not know the time zone {}; install tzdata", kitchen().zone)};
  std::vector<ClockChange> changes;
  Offset before = offset_at(from);
  for (auto info = zone->get_info(from); info.end <= to; info = zone->get_info(info.end)) {
    const Instant at = info.end;
    if (offset_at(at) != before) changes.push_back({at, offset_at(at)});
    before = offset_at(at);
  }
  return changes;
}

Date Session::today() const { return day_of(now(), offset_at(now())); }

Result<LabelTerms> Session::label_terms(Date on, const std::string& code) const {
  const std::string& chosen = code.empty() ? kitchen().label_rules : code;
  constexpr std::size_t most_days = 8;  // cakes of a whole year may be judged, each by the rules of its day
  for (const auto& known : label_terms_) {
    if (known.code == chosen && known.on == on) return known.terms;
  }
  auto terms = packs_->label_terms(chosen, on, confirmations_of(*this));
  if (terms) terms->vocabulary = &name_hints();
  if (label_terms_.size() == most_days) label_terms_.erase(label_terms_.begin());
  label_terms_.push_back({chosen, on, terms});
  return terms;
}

Result<ZonedInstant> Session::moment(std::string_view when, std::string_view field) const {
  if (when.empty() || when == "now") return ZonedInstant{now(), offset_at(now())};
  const auto found = time_of(when, field);
  if (found && found->at > now() + future_allowed) {
    return Refusal{"", 0, std::string{field}, fmt::format("{} has not come yet", format_moment(found->at, found->offset)),
                   "write when it happened; nothing is recorded ahead"};
  }
  return found;
}

Result<ZonedInstant> Session::time_of(std::string_view when, std::string_view field) const {
  if (const auto zoned = parse_zoned(when)) return ZonedInstant{zoned->at, offset_at(zoned->at)};
  if (const auto local = parse_local(when)) return wall_time(*local, std::nullopt, Refusal{"", 0, std::string{field}, "", ""});
  return Refusal{"", 0, std::string{field}, fmt::format("\"{}\" is not a time", when),
                 "write it as 2026-05-01T08:10, in the kitchen's time"};
}

Result<ZonedInstant> Session::wall_time(const LocalTime& local, std::optional<Instant> previous, const Refusal& where) const {
  const auto* zone = zone_named(kitchen().zone);
  if (zone == nullptr)
    throw Fault{exit_status::configuration, fmt::format("this machine does not know the time zone {}; install tzdata", kitchen().zone)};
  const date::local_time<Span> wall{Span{std::chrono::sys_days{local.date}.time_since_epoch()} + local.since_midnight};
  const auto written = fmt::format("{} {}", format_date(local.date), format_clock(Instant{wall.time_since_epoch()}, Offset{}));
  const auto refuse = [&](std::string message, std::string remedy) {
    return Refusal{where.file, where.line, where.field, std::move(message), std::move(remedy)};
  };
  const auto info = zone->get_info(wall);
  const auto by = [&](const date::sys_info& side) {
    const Offset offset{static_cast<int>(std::chrono::duration_cast<std::chrono::minutes>(side.offset).count())};
    return ZonedInstant{Instant{wall.time_since_epoch()} - std::chrono::minutes{offset.minutes}, offset};
  };
  switch (info.result) {
    case date::local_info::unique:
      return by(info.first);
    case date::local_info::nonexistent:
      return refuse(fmt::format("{} does not exist: the clocks went forward over it", written),
                    "write the time that the clock showed after the change");
    case date::local_info::ambiguous:
      if (!previous)
        return refuse(fmt::format("{} happened twice: the clocks went back", written), "write it with its offset, for example 01:30+01:00");
      return by(info.first).at > *previous ? by(info.first) : by(info.second);
    default:
      throw Fault{exit_status::our_bug, "the time zone library gave an answer that it does not have"};
  }
}

std::string Session::draw(std::string_view purpose, std::size_t bytes) {
  ++drawn_;
  if (!kitchen().demo) return random_bytes(bytes);
  return seeded_bytes(kitchen().seed, fmt::format("{}:{}:{}", purpose, format_head(head_), drawn_), bytes);
}

Words Session::seal(const std::string& text) {
  const auto nfc = to_nfc(text);
  if (!nfc) throw Fault{exit_status::usage, "what was typed is not UTF-8 text; type it again"};
  return sealed_words(sealed_.emplace_back(seal_with(draw("sealed", 40), *nfc)));
}

Arrival Session::arrival_of(Instant happened) const {
  return entrance_.sent_late || now() - happened > late_after ? Arrival::typed_late : Arrival::typed_then;
}

Booked Session::book(std::vector<Draft> drafts, std::vector<KeptPaper> papers, ToErase erase) {
  if (entrance_.as_of) throw Fault{exit_status::usage, "--as-of only reads; leave it out to record something"};
  require_may_book(*this, drafts, sealed_);
  Append append;
  append.sealed = std::move(sealed_);
  append.papers = std::move(papers);
  append.erase = std::move(erase);
  sealed_.clear();
  std::string what;  // two doors of a demo draw alike at one head: only the same facts may share a key
  for (const Draft& draft : drafts) what += fmt::format("{} {} {}\n", draft.kind, draft.subject, write_canonical(draft.body));
  const std::string key = entrance_.client_key.empty() ? hex_of(draw("client key " + to_hex(sha256(what)), 16)) : entrance_.client_key;
  Booked booked;
  const std::string kitchen_id = store_->entries(1, 1).front().kitchen;
  for (std::size_t i = 0; i < drafts.size(); ++i) {
    const std::uint64_t sequence = head_.size + 1 + i;
    const std::string own = !drafts[i].client_key.empty() ? drafts[i].client_key : i == 0 ? key : fmt::format("{}.{}", key, i);
    Entrance by = entrance_;
    if (drafts[i].how == Arrival::scheduled) {  // nobody says so: it follows from the records and the day
      by.person.clear();
      by.device = "scheduler";
    }
    append.entries.push_back(entry_of(drafts[i], kitchen_id, sequence, now(), by, own));
    booked.sequences.push_back(sequence);
    booked.subjects.push_back(drafts[i].subject);
    if (!drafts[i].block.empty()) append.blocks.push_back({sequence, std::move(drafts[i].block)});
  }
  require_readable(append.entries);
  const Appended appended = store_->append(head_, append);
  if (std::holds_alternative<Conflict>(appended)) throw HeadMoved{};
  if (const auto* before = std::get_if<AlreadyBooked>(&appended)) {
    const auto entries = store_->entries(before->sequence, before->sequence);
    reload();
    return {{before->sequence}, {entries.empty() ? "" : entries.front().subject}, head_, true};
  }
  booked.head = std::get<Head>(appended);
  reload();
  return booked;
}

std::optional<Booked> Session::booked_before() const {
  if (entrance_.client_key.empty()) return std::nullopt;
  const auto sequence = store_->booked_under(entrance_.client_key);
  if (!sequence) return std::nullopt;
  const auto entries = store_->entries(*sequence, *sequence);
  return Booked{{*sequence}, {entries.empty() ? "" : entries.front().subject}, head_, true};
}

std::vector<LoggedReading> Session::readings(const Recorded<ReadingsBlock>& block) const {
  const auto bytes = store_->block(block.sequence);
  if (!bytes) throw Fault{exit_status::configuration, fmt::format("the readings of note {} are missing; run verify", block.sequence)};
  if (to_hex(sha256(*bytes)) != block.value.sha256) {
    throw Fault{exit_status::configuration,
                fmt::format("the readings of note {} are not those that it sealed; run verify", block.sequence)};
  }
  auto readings = read_block(*bytes);
  if (!readings) throw Fault{exit_status::configuration, describe(readings.error().front())};
  return std::move(readings).value();
}

std::string machine_zone() {
  try {
    return date::current_zone()->name();
  } catch (const std::runtime_error&) {
    return "";
  }
}

Refusals check_choices(const Kitchen& kitchen, const RulePacks& packs) {
  Refusals refusals;
  const auto refuse = [&](std::string field, std::string message, std::string remedy) {
    refusals.push_back({"", 0, std::move(field), std::move(message), std::move(remedy)});
  };
  const auto list = [](const std::vector<std::string>& codes) { return fmt::format("{}", fmt::join(codes, ", ")); };
  const auto one_of = [&](const std::string& field, const std::string& code, const std::vector<std::string>& codes) {
    if (std::find(codes.begin(), codes.end(), code) == codes.end()) {
      refuse(field, fmt::format("there are no rules called \"{}\"", code), "choose one of " + list(codes));
    }
  };
  if (zone_named(kitchen.zone) == nullptr)
    refuse("--zone", fmt::format("\"{}\" is not a time zone", kitchen.zone), "write one such as Europe/London");
  one_of("--label-rules", kitchen.label_rules, packs.with_labels());
  one_of("--temperature-rules", kitchen.temperature_rules, packs.with_temperatures());
  one_of("--retention-rules", kitchen.retention_rules, packs.with_retention());
  if (!kitchen.gs1_prefix.empty()) {
    if (const auto prefix = read_company_prefix(kitchen.gs1_prefix, "--gs1-prefix"); !prefix)
      refusals.insert(refusals.end(), prefix.error().begin(), prefix.error().end());
  }
  return refusals;
}

Result<Booked> begin_kitchen(const Entrance& entrance, const NewKitchen& begun, std::shared_ptr<const RulePacks> packs) {
  const Kitchen& kitchen = begun.kitchen;
  Refusals refusals = check_choices(kitchen, *packs);
  const auto refuse = [&](std::string field, std::string message, std::string remedy) {
    refusals.push_back({"", 0, std::move(field), std::move(message), std::move(remedy)});
  };
  const auto on_paper = [&](const std::string& field, const std::string& text) {
    const auto nfc = to_nfc(text);
    if (text.empty() || !nfc || *nfc != text) refuse(field, "is not plain text in the usual form (UTF-8, NFC)", "type it again");
    if (const auto* claim = claim_in(text, packs->claim_words())) {
      refuse(field, fmt::format("\"{}\" is a claim: {}", claim->pattern, claim->why), "choose words that promise nothing");
    }
  };
  on_paper("--name", kitchen.name);
  for (const auto& line : kitchen.address) on_paper("--address", line);
  if (!begun.owner_name.empty()) on_paper("--owner", begun.owner_name);
  if (entrance.now && !kitchen.demo) refuse("--now", "only a demo kitchen accepts a set clock", "leave --now out, or begin with --demo");
  if (begun.owner_name.empty() || begun.owner_id.empty())
    refuse("--owner", "a kitchen needs a named owner", "write --owner anna=\"Anna Example\"");
  if (refusals.empty()) refusals = check_body(std::string{KindOf<Kitchen>::kind}, body_of(kitchen), "the kitchen");
  if (!refusals.empty()) return refusals;

  const auto* zone = zone_named(kitchen.zone);
  const Instant now = entrance.now.value_or(wall_clock());
  const auto info = zone->get_info(date::sys_time<Span>{now.time_since_epoch()});
  const ZonedInstant at{now, {static_cast<int>(std::chrono::duration_cast<std::chrono::minutes>(info.offset).count())}};
  const auto chance = [&](std::string_view purpose, std::size_t bytes) {
    return kitchen.demo ? seeded_bytes(kitchen.seed, purpose, bytes) : random_bytes(bytes);
  };
  const std::string id = uuid_of(chance("kitchen", 16));
  SealedText name = seal_with(chance("owner", 40), begun.owner_name);
  const Person owner{sealed_words(name), "owner"};
  Entrance by = entrance;
  by.person = begun.owner_id;
  const Draft first{
      std::string{KindOf<Kitchen>::kind}, "kitchen", body_of(kitchen), at.at, at.offset, Arrival::typed_then, {}, nullptr, ""};
  const Draft second{
      std::string{KindOf<Person>::kind}, begun.owner_id, body_of(owner), at.at, at.offset, Arrival::typed_then, {}, nullptr, ""};
  Append append;
  append.entries.push_back(entry_of(first, id, 1, now, by, hex_of(chance("first note", 16))));
  append.entries.push_back(entry_of(second, id, 2, now, by, hex_of(chance("second note", 16))));
  append.sealed.push_back(std::move(name));
  require_readable(append.entries);
  const auto store = create_sqlite(entrance.kitchen_file, id);
  const Appended appended = store->append(Head{0, tree_root({})}, append);
  const auto* head = std::get_if<Head>(&appended);
  if (head == nullptr) throw Fault{exit_status::our_bug, "a new kitchen file was not empty"};
  return Booked{{1, 2}, {"kitchen", begun.owner_id}, *head, false};
}

}  // namespace tierproof
