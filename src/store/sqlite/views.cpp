#include "views.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>
#include <set>
#include <utility>

#include "tierproof/kitchen/bodies.h"
#include "tierproof/kitchen/edges.h"
#include "tierproof/store/record_store.h"

namespace tierproof::sqlite {
namespace {

using Cell = std::variant<std::nullptr_t, std::int64_t, std::string>;

constexpr std::int64_t earliest = std::numeric_limits<std::int64_t>::min();

constexpr const char* note_columns =
    "place, seq, replaced, written, happened, offset_min, person, kind, subject, supersedes, how, body, why";

std::string list_text(const std::vector<std::uint64_t>& sequences) {
  Json::Array items;
  for (const auto sequence : sequences) items.emplace_back(static_cast<std::int64_t>(sequence));
  return write_canonical(Json{std::move(items)});
}

/// The cells of a note in the order of `note_columns`.
std::vector<Cell> cells_of(const Note& note) {
  return {static_cast<std::int64_t>(note.place),
          static_cast<std::int64_t>(note.sequence),
          list_text(note.replaced),
          std::int64_t{note.written.time_since_epoch().count()},
          std::int64_t{note.happened.time_since_epoch().count()},
          std::int64_t{note.offset.minutes},
          note.person.text(),
          note.kind,
          note.subject,
          note.supersedes ? Cell{static_cast<std::int64_t>(*note.supersedes)} : Cell{nullptr},
          note.how,
          write_canonical(note.body),
          write_canonical(note.why)};
}

std::vector<Cell> cells_of(const Edge& edge) {
  return {edge.parent, edge.child, static_cast<std::int64_t>(edge.sequence), std::int64_t{edge.certain ? 1 : 0}};
}

std::vector<Cell> stored_cells(const Statement& row) {
  std::vector<Cell> out;
  for (int i = 0; i < row.columns(); ++i) {
    switch (row.type(i)) {
      case SQLITE_NULL:
        out.emplace_back(nullptr);
        break;
      case SQLITE_INTEGER:
        out.emplace_back(row.integer(i));
        break;
      default:
        out.emplace_back(row.bytes(i));
    }
  }
  return out;
}

void bind_cells(Statement& statement, int from, const std::vector<Cell>& cells) {
  int at = from;
  for (const auto& cell : cells) {
    if (const auto* number = std::get_if<std::int64_t>(&cell)) {
      statement.bind(at, *number);
    } else if (const auto* text = std::get_if<std::string>(&cell)) {
      statement.bind_text(at, *text);
    } else {
      statement.bind_null(at);
    }
    ++at;
  }
}

/// Every cell with its kind and length before it, so that no two rows dump alike.
Digest digest_of(const std::vector<Cell>& cells) {
  std::string dump;
  for (const auto& cell : cells) {
    if (const auto* number = std::get_if<std::int64_t>(&cell)) {
      dump += fmt::format("i{};", *number);
    } else if (const auto* text = std::get_if<std::string>(&cell)) {
      dump += fmt::format("t{}:", text->size()) + *text;
    } else {
      dump += 'n';
    }
  }
  return sha256(dump);
}

std::string name_of(const Cell& cell) {
  if (const auto* number = std::get_if<std::int64_t>(&cell)) return fmt::format("{}", *number);
  const auto* text = std::get_if<std::string>(&cell);
  return text ? *text : "nothing";
}

ViewRow note_row(const std::vector<Cell>& cells) { return {"note " + name_of(cells[1]), digest_of(cells)}; }
ViewRow edge_row(const std::vector<Cell>& cells) {
  const bool certain = cells[3] == Cell{std::int64_t{1}};
  return {fmt::format("{} {} {} by note {}", name_of(cells[0]), certain ? "in" : "perhaps in", name_of(cells[1]), name_of(cells[2])),
          digest_of(cells)};
}
ViewRow thing_row(const std::vector<Cell>& cells) { return {"what is said of " + name_of(cells[0]), digest_of(cells)}; }

[[noreturn]] void unreadable(std::uint64_t sequence) {
  throw Fault{exit_status::configuration, fmt::format("the view of note {} cannot be read; run verify, then rebuild", sequence)};
}

Json json_of(const std::string& text, std::uint64_t sequence) {
  auto value = parse_json(text, "view_note");
  if (!value) unreadable(sequence);
  return std::move(value).value();
}

std::vector<std::uint64_t> sequences_of(const std::string& text, std::uint64_t sequence) {
  std::vector<std::uint64_t> out;
  const auto list = json_of(text, sequence);
  if (!list.is_array()) unreadable(sequence);
  for (const auto& item : list.array()) {
    if (!item.is_integer() || item.integer() < 1) unreadable(sequence);
    out.push_back(static_cast<std::uint64_t>(item.integer()));
  }
  return out;
}

Instant instant_of(std::int64_t ms) { return Instant{std::chrono::milliseconds{ms}}; }

/// The note of a row of `note_columns`.
Note note_of_row(const Statement& row) {
  Note note;
  note.place = row.sequence(0);
  note.sequence = row.sequence(1);
  note.replaced = sequences_of(row.bytes(2), note.sequence);
  note.written = instant_of(row.integer(3));
  note.happened = instant_of(row.integer(4));
  note.offset = Offset{static_cast<int>(row.integer(5))};
  note.person = PersonId{row.bytes(6)};
  note.kind = row.bytes(7);
  note.subject = row.bytes(8);
  if (!row.is_null(9)) note.supersedes = row.sequence(9);
  note.how = row.bytes(10);
  note.body = json_of(row.bytes(11), note.sequence);
  note.why = json_of(row.bytes(12), note.sequence);
  return note;
}

std::vector<Note> notes_where(const Database& database, const std::string& kitchen, const std::string& where, std::int64_t since) {
  auto rows = database.prepare(fmt::format("SELECT {} FROM view_note WHERE kitchen = ?1 AND {} ORDER BY place", note_columns, where));
  rows.bind_text(1, kitchen).bind(2, since);
  std::vector<Note> out;
  while (rows.step()) out.push_back(note_of_row(rows));
  return out;
}

std::string text_of(const Json& body, std::string_view member) {
  const auto* text = body.is_object() ? body.find(member) : nullptr;
  return text && text->is_text() ? text->text() : "";
}

/// What a note says of the thing that it is about.
struct Said {
  std::string name, code, words;
};
std::optional<Said> said_by(const Note& note) {
  if (note.kind == KindOf<Lot>::kind) {
    const std::string code = text_of(note.body, "code");
    const std::string ingredient = text_of(note.body, "ingredient");
    return Said{note.subject, code, code.empty() ? ingredient : fmt::format("{}, code {}", ingredient, code)};
  }
  if (note.kind == KindOf<Batch>::kind) return Said{note.subject, "", text_of(note.body, "recipe")};
  if (note.kind == KindOf<Cake>::kind) return Said{note.subject, "", text_of(note.body, "name")};
  return std::nullopt;
}

/// The packs, batches and cakes that a note names.
std::set<std::string> named_by(const Note& note) {
  std::set<std::string> names;
  if (const auto said = said_by(note)) names.insert(said->name);
  if (note.kind == KindOf<TopUp>::kind && note.body.is_object()) names.insert(text_of(note.body, "lot"));
  for (const Edge& edge : edges_of(note)) {
    names.insert(edge.parent);
    names.insert(edge.child);
  }
  names.erase("");
  return names;
}

bool of_a_tub(const Note& note) { return note.kind == KindOf<TopUp>::kind || note.kind == KindOf<Emptied>::kind; }

}  // namespace

ViewWriter::ViewWriter(const Database& database, std::string kitchen)
    : database_{database},
      kitchen_{std::move(kitchen)},
      find_{database.prepare(fmt::format("SELECT {} FROM view_note WHERE kitchen = ?1 AND seq = ?2", note_columns))},
      find_within_{database.prepare(fmt::format("SELECT {} FROM view_note WHERE kitchen = ?1 "
                                                "AND EXISTS (SELECT 1 FROM json_each(view_note.replaced) WHERE value = ?2)",
                                                note_columns))},
      leaf_{database.prepare("SELECT leaf FROM entry WHERE kitchen = ?1 AND seq = ?2")},
      remove_note_{database.prepare("DELETE FROM view_note WHERE kitchen = ?1 AND place = ?2")},
      insert_note_{database.prepare(fmt::format("INSERT INTO view_note (kitchen, {}) "
                                                "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)",
                                                note_columns))},
      find_thing_{database.prepare("SELECT thing FROM view_thing WHERE kitchen = ?1 AND name = ?2")},
      insert_thing_{database.prepare("INSERT INTO view_thing (kitchen, name, code, words) VALUES (?1, ?2, '', '') RETURNING thing")},
      say_thing_{database.prepare("UPDATE view_thing SET code = ?2, words = ?3 WHERE thing = ?1")},
      insert_edge_{database.prepare("INSERT INTO view_edge (parent, child, seq, certain) VALUES (?1, ?2, ?3, ?4)")},
      remove_edges_{database.prepare("DELETE FROM view_edge WHERE child = ?1 AND seq = ?2")} {}

void ViewWriter::add(const Note& note) {
  Note tip = note;
  tip.place = note.sequence;
  tip.replaced.clear();
  const auto before = tip_before(note);
  if (before) {
    tip.place = before->place;
    tip.replaced = before->replaced;
    tip.replaced.push_back(before->sequence);
    remove_note_.bind_text(1, kitchen_).bind(2, before->place).run();
    remove_edges(*before);
  }
  insert_note_.bind_text(1, kitchen_);
  bind_cells(insert_note_, 2, cells_of(tip));
  insert_note_.run();
  for (const auto& name : named_by(tip)) thing(name);
  if (const auto said = said_by(tip)) say_thing_.bind(1, thing(said->name)).bind_text(2, said->code).bind_text(3, said->words).run();
  if (of_a_tub(tip)) {
    tubs_.reset();
    redo_batches(before ? std::min(before->happened, tip.happened) : tip.happened);
  } else {
    add_edges(tip);
  }
}

/// The note in force that `note` supersedes, which may have come later than the one that it names.
std::optional<Note> ViewWriter::tip_before(const Note& note) {
  if (!note.supersedes) return std::nullopt;
  for (auto* find : {&find_, &find_within_}) {
    find->bind_text(1, kitchen_).bind(2, *note.supersedes);
    std::optional<Note> found;
    if (find->step()) found = note_of_row(*find);
    find->reset();
    if (found) return found;
  }
  return std::nullopt;
}

/// Of a void, the last note of its chain that was none.
std::optional<Note> ViewWriter::last_said(const Note& tip) {
  if (!tip.body.is_null()) return std::nullopt;
  for (auto sequence = tip.replaced.rbegin(); sequence != tip.replaced.rend(); ++sequence) {
    leaf_.bind_text(1, kitchen_).bind(2, *sequence);
    const auto entry = leaf_.step() ? parse_entry(leaf_.bytes(0)) : Result<Entry>{Refusals{}};
    leaf_.reset();
    if (!entry) unreadable(*sequence);
    if (!entry->body.is_null()) return note_of(*entry);
  }
  return std::nullopt;
}

/// Its number, a new one if it has none.
std::int64_t ViewWriter::thing(const std::string& name) {
  for (auto* statement : {&find_thing_, &insert_thing_}) {
    statement->bind_text(1, kitchen_).bind_text(2, name);
    std::optional<std::int64_t> found;
    if (statement->step()) found = statement->integer(0);
    statement->reset();
    if (found) return *found;
  }
  throw Fault{exit_status::our_bug, fmt::format("the view of \"{}\" got no number", name)};
}

const Tubs& ViewWriter::tubs() {
  if (!tubs_) tubs_.emplace(notes_where(database_, kitchen_, "kind IN ('top-up/1', 'emptied/1') AND happened >= ?2", earliest));
  return *tubs_;
}

void ViewWriter::add_edges(const Note& tip) {
  const auto said = last_said(tip);
  for (const auto& edge : graph_edges_of(tip, said ? &*said : nullptr, tubs())) {
    insert_edge_.bind(1, thing(edge.parent)).bind(2, thing(edge.child)).bind(3, edge.sequence).bind(4, edge.certain ? 1 : 0).run();
  }
}

/// Every edge that a note states leads into the same thing.
void ViewWriter::remove_edges(const Note& tip) {
  const auto said = last_said(tip);
  const auto edges = edges_of(said ? *said : tip);
  if (!edges.empty()) remove_edges_.bind(1, thing(edges.front().child)).bind(2, tip.sequence).run();
}

/// What a tub held is part of what went into every batch since.
void ViewWriter::redo_batches(Instant since) {
  const std::int64_t from = since.time_since_epoch().count();
  // A void happened at another time than what it took back: all of them are looked at.
  for (const Note& batch : notes_where(database_, kitchen_, "kind = 'batch/1' AND (happened >= ?2 OR body = 'null')", from)) {
    remove_edges(batch);
    add_edges(batch);
  }
}

std::vector<Note> read_notes(const Database& database, const std::string& kitchen) { return notes_where(database, kitchen, "?2 = ?2", 0); }

std::vector<ViewRow> stored_rows(const Database& database, const std::string& kitchen, Rows which) {
  std::vector<ViewRow> out;
  const auto add = [&](const std::string& sql, ViewRow (*row)(const std::vector<Cell>&)) {
    auto rows = database.prepare(sql);
    rows.bind_text(1, kitchen);
    while (rows.step()) out.push_back(row(stored_cells(rows)));
  };
  add(fmt::format("SELECT {} FROM view_note WHERE kitchen = ?1 ORDER BY place", note_columns), note_row);
  if (which == Rows::notes) return out;
  add("SELECT name, code, words FROM view_thing WHERE kitchen = ?1 ORDER BY name", thing_row);
  add("SELECT p.name, c.name, e.seq, e.certain FROM view_edge e "
      "LEFT JOIN view_thing p ON p.thing = e.parent AND p.kitchen = ?1 LEFT JOIN view_thing c ON c.thing = e.child AND c.kitchen = ?1 "
      "ORDER BY p.name, c.name, e.seq",
      edge_row);
  return out;
}

std::vector<ViewRow> expected_rows(std::span<const Note> notes, Rows which) {
  std::vector<ViewRow> out;
  std::map<std::string, Said> things;
  std::map<std::uint64_t, const Note*> by_sequence;
  for (const auto& note : notes) {
    by_sequence[note.sequence] = &note;
    for (const auto& name : named_by(note)) things.try_emplace(name, Said{name, "", ""});
  }
  const auto tips = in_force(notes);
  const Tubs tubs{tips};
  std::vector<Edge> edges;
  for (const auto& tip : tips) {
    out.push_back(note_row(cells_of(tip)));
    if (const auto said = said_by(tip)) things[said->name] = *said;
    const Note* last = nullptr;
    for (const auto sequence : tip.replaced) {
      const Note* earlier = by_sequence.at(sequence);
      if (tip.body.is_null() && !earlier->body.is_null()) last = earlier;
    }
    for (auto& edge : graph_edges_of(tip, last, tubs)) edges.push_back(std::move(edge));
  }
  if (which == Rows::notes) return out;
  for (const auto& [name, said] : things) out.push_back(thing_row({said.name, said.code, said.words}));
  std::sort(edges.begin(), edges.end());
  for (const auto& edge : edges) out.push_back(edge_row(cells_of(edge)));
  return out;
}

Digest digest_of(std::span<const ViewRow> rows) {
  std::string dump;
  for (const auto& row : rows) dump.append(row.digest.begin(), row.digest.end());
  return sha256(dump);
}

}  // namespace tierproof::sqlite
