#include "views.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "tierproof/kitchen/edges.h"

namespace tierproof::sqlite {
namespace {

using Cell = std::variant<std::nullptr_t, std::int64_t, std::string>;

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

std::vector<Cell> cells_of(const Edge& edge) { return {edge.parent, edge.child, static_cast<std::int64_t>(edge.sequence)}; }

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
  return {fmt::format("{} in {} by note {}", name_of(cells[0]), name_of(cells[1]), name_of(cells[2])), digest_of(cells)};
}

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

}  // namespace

ViewWriter::ViewWriter(const Database& database, std::string kitchen)
    : kitchen_{std::move(kitchen)},
      find_{database.prepare("SELECT place, seq, replaced FROM view_note WHERE kitchen = ?1 AND seq = ?2")},
      find_within_{database.prepare("SELECT place, seq, replaced FROM view_note WHERE kitchen = ?1 "
                                    "AND EXISTS (SELECT 1 FROM json_each(view_note.replaced) WHERE value = ?2)")},
      remove_note_{database.prepare("DELETE FROM view_note WHERE kitchen = ?1 AND place = ?2")},
      remove_edges_{database.prepare("DELETE FROM view_edge WHERE kitchen = ?1 AND seq = ?2")},
      insert_note_{database.prepare(fmt::format("INSERT INTO view_note (kitchen, {}) "
                                                "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)",
                                                note_columns))},
      insert_edge_{database.prepare("INSERT INTO view_edge (kitchen, parent, child, seq) VALUES (?1, ?2, ?3, ?4)")} {}

void ViewWriter::add(const Note& note) {
  Note in_force_now = note;
  in_force_now.place = note.sequence;
  in_force_now.replaced.clear();
  if (note.supersedes) {
    for (auto* find : {&find_, &find_within_}) {
      find->bind_text(1, kitchen_).bind(2, *note.supersedes);
      const bool found = find->step();
      std::uint64_t tip = 0;
      if (found) {
        in_force_now.place = find->sequence(0);
        tip = find->sequence(1);
        in_force_now.replaced = sequences_of(find->bytes(2), tip);
        in_force_now.replaced.push_back(tip);
      }
      find->reset();
      if (!found) continue;
      remove_note_.bind_text(1, kitchen_).bind(2, in_force_now.place).run();
      remove_edges_.bind_text(1, kitchen_).bind(2, tip).run();
      break;
    }
  }
  insert(in_force_now);
}

void ViewWriter::insert(const Note& note) {
  insert_note_.bind_text(1, kitchen_);
  bind_cells(insert_note_, 2, cells_of(note));
  insert_note_.run();
  for (const auto& edge : edges_of(note)) {
    insert_edge_.bind_text(1, kitchen_);
    bind_cells(insert_edge_, 2, cells_of(edge));
    insert_edge_.run();
  }
}

std::vector<Note> read_notes(const Database& database, const std::string& kitchen) {
  auto rows = database.prepare(fmt::format("SELECT {} FROM view_note WHERE kitchen = ?1 ORDER BY place", note_columns));
  rows.bind_text(1, kitchen);
  std::vector<Note> out;
  while (rows.step()) {
    Note note;
    note.place = rows.sequence(0);
    note.sequence = rows.sequence(1);
    note.replaced = sequences_of(rows.bytes(2), note.sequence);
    note.written = instant_of(rows.integer(3));
    note.happened = instant_of(rows.integer(4));
    note.offset = Offset{static_cast<int>(rows.integer(5))};
    note.person = PersonId{rows.bytes(6)};
    note.kind = rows.bytes(7);
    note.subject = rows.bytes(8);
    if (!rows.is_null(9)) note.supersedes = rows.sequence(9);
    note.how = rows.bytes(10);
    note.body = json_of(rows.bytes(11), note.sequence);
    note.why = json_of(rows.bytes(12), note.sequence);
    out.push_back(std::move(note));
  }
  return out;
}

std::vector<ViewRow> stored_rows(const Database& database, const std::string& kitchen) {
  std::vector<ViewRow> out;
  auto notes = database.prepare(fmt::format("SELECT {} FROM view_note WHERE kitchen = ?1 ORDER BY place", note_columns));
  notes.bind_text(1, kitchen);
  while (notes.step()) out.push_back(note_row(stored_cells(notes)));
  auto edges = database.prepare("SELECT parent, child, seq FROM view_edge WHERE kitchen = ?1 ORDER BY parent, child, seq");
  edges.bind_text(1, kitchen);
  while (edges.step()) out.push_back(edge_row(stored_cells(edges)));
  return out;
}

std::vector<ViewRow> expected_rows(std::span<const Note> notes) {
  std::vector<ViewRow> out;
  std::vector<Edge> edges;
  for (const auto& note : notes) {
    out.push_back(note_row(cells_of(note)));
    for (auto& edge : edges_of(note)) edges.push_back(std::move(edge));
  }
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
