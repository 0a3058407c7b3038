#include "tierproof/log/entry.h"

#include <array>
#include <utility>

#include "tierproof/text/fields.h"

namespace tierproof {
namespace {

constexpr std::int64_t largest = 9007199254740991;     // 2^53 - 1: what the JSON gate lets in
constexpr std::int64_t last_moment = 253402300799999;  // 9999-12-31T23:59:59.999Z in ms: a year has four digits on paper
constexpr int widest_offset = 840;                     // minutes: 14 h either way

constexpr std::array<std::pair<Arrival, std::string_view>, 6> arrival_terms{{
    {Arrival::logger, "logger"},
    {Arrival::typed_then, "typed_then"},
    {Arrival::typed_late, "typed_late"},
    {Arrival::scanned, "scanned"},
    {Arrival::suggested_accepted, "suggested_accepted"},
    {Arrival::scheduled, "scheduled"},
}};

Instant instant_of(std::int64_t ms) { return Instant{std::chrono::milliseconds{ms}}; }

void refuse_empty(Fields& fields, std::string_view key, const std::string& text) {
  if (text.empty() && fields.has(key)) fields.refuse(key, "is empty", "write it in full");
}

}  // namespace

std::string_view term_of(Arrival arrival) {
  switch (arrival) {
    case Arrival::logger:
      return "logger";
    case Arrival::typed_then:
      return "typed_then";
    case Arrival::typed_late:
      return "typed_late";
    case Arrival::scanned:
      return "scanned";
    case Arrival::suggested_accepted:
      return "suggested_accepted";
    case Arrival::scheduled:
      return "scheduled";
  }
  throw Fault{exit_status::our_bug, "an arrival without a term"};
}

std::optional<Arrival> parse_arrival(std::string_view term) {
  for (const auto& [arrival, name] : arrival_terms) {
    if (name == term) return arrival;
  }
  return std::nullopt;
}

std::string leaf_text(const Entry& entry) {
  Json leaf;
  leaf["v"] = 1;
  leaf["kitchen"] = entry.kitchen;
  leaf["seq"] = static_cast<std::int64_t>(entry.sequence);
  leaf["written"] = std::int64_t{entry.written.time_since_epoch().count()};
  leaf["happened"] = std::int64_t{entry.happened.time_since_epoch().count()};
  leaf["offset"] = entry.offset.minutes;
  leaf["person"] = entry.person.text();
  leaf["device"] = entry.device;
  leaf["kind"] = entry.kind;
  leaf["subject"] = entry.subject;
  leaf["supersedes"] = entry.supersedes ? Json{static_cast<std::int64_t>(*entry.supersedes)} : Json{};
  leaf["how"] = term_of(entry.how);
  leaf["key"] = entry.client_key;
  leaf["body"] = entry.body;
  leaf["why"] = entry.why;
  return write_canonical(leaf);
}

Result<Entry> parse_entry(std::string_view leaf) {
  const std::string file = "entry";
  const auto value = parse_json(leaf, file);
  if (!value) return value.error();
  Refusals refusals;
  Fields fields{*value, file, "", refusals};
  Entry entry;
  fields.integer("v", 1, 1);
  entry.kitchen = fields.text("kitchen");
  entry.sequence = static_cast<std::uint64_t>(fields.integer("seq", 1, largest));
  entry.written = instant_of(fields.integer("written", 0, last_moment));
  entry.happened = instant_of(fields.integer("happened", 0, last_moment));
  entry.offset.minutes = static_cast<int>(fields.integer("offset", -widest_offset, widest_offset));
  entry.person = PersonId{fields.text("person")};
  entry.device = fields.text("device");
  entry.kind = fields.text("kind");
  entry.subject = fields.text("subject");
  if (const auto superseded = fields.maybe_integer("supersedes", 1, largest)) entry.supersedes = static_cast<std::uint64_t>(*superseded);
  const auto how = fields.choice("how", {"logger", "typed_then", "typed_late", "scanned", "suggested_accepted", "scheduled"});
  entry.how = parse_arrival(how).value_or(Arrival::typed_then);
  entry.client_key = fields.text("key");
  entry.body = fields.any("body");
  entry.why = fields.any("why");
  fields.done();
  refuse_empty(fields, "kitchen", entry.kitchen);
  refuse_empty(fields, "kind", entry.kind);
  refuse_empty(fields, "key", entry.client_key);
  if (entry.supersedes && *entry.supersedes >= entry.sequence) {
    fields.refuse("supersedes", "is not an earlier entry", "name an entry before this one");
  }
  if (entry.body.is_null() && !entry.supersedes) fields.refuse("body", "is missing", "only an entry that voids another has none");
  if (refusals.empty() && leaf_text(entry) != leaf) {
    refusals.push_back({file, 1, "", "is not in canonical form (RFC 8785)", "write it with the canonical writer"});
  }
  if (!refusals.empty()) return refusals;
  return entry;
}

}  // namespace tierproof
