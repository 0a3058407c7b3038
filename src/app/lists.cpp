#include "tierproof/app/lists.h"

#include "list_rows.h"

namespace tierproof {
namespace {

const std::vector<std::string> record{"note", "happened_utc", "happened_local", "recorded_utc", "by", "how", "corrected"};

/// The reason of a correction, as it was sealed.
DataCell reason_of(const Session& session, const Note& note) {
  const Json* sealed = note.why.is_object() ? note.why.find("sealed") : nullptr;
  if (sealed == nullptr || !sealed->is_text()) return {};
  return cell_of(session.store().sealed(sealed->text()).value_or("(erased)"));
}

/// Every note as it came, corrections and voids too.
KitchenList list_of_notes() {
  return {"notes",
          "every note as it was recorded, corrections and notes taken back too",
          {},
          {"note", "kind", "about", "happened_utc", "happened_local", "recorded_utc", "by", "how", "device", "corrects", "taken_back",
           "reason", "in_force"},
          [](const Session& session, std::size_t newest) {
            const std::uint64_t size = session.head().size;
            std::vector<DataRow> rows;
            for (const auto& entry : session.store().entries(size > newest ? size - newest + 1 : 1, size)) {
              const Note note = note_of(entry);
              const Note* tip = tip_of(session.notes(), note.sequence);
              const bool in_force = tip != nullptr && tip->sequence == note.sequence && !note.body.is_null();
              rows.push_back(cells(note.sequence, note.kind, note.subject, utc(note.happened), ZonedInstant{note.happened, note.offset},
                                   utc(note.written), note.person, note.how, entry.device, note.supersedes, note.body.is_null(),
                                   reason_of(session, note), in_force));
            }
            return rows;
          }};
}

}  // namespace

const std::vector<std::string>& record_headings() { return record; }

const std::vector<KitchenList>& kitchen_lists() {
  static const std::vector<KitchenList> lists = [] {
    std::vector<KitchenList> all = lists_of_things();
    for (auto& list : lists_of_events()) all.push_back(std::move(list));
    for (auto& list : lists_of_plan()) all.push_back(std::move(list));
    all.push_back(list_of_notes());
    return all;
  }();
  return lists;
}

const KitchenList* find_list(std::string_view name) {
  const auto& lists = kitchen_lists();
  const auto found = std::find_if(lists.begin(), lists.end(), [&](const KitchenList& list) { return list.name == name; });
  return found == lists.end() ? nullptr : &*found;
}

DataTable table_of(const KitchenList& list, const Session& session, std::size_t newest) {
  DataTable table{list.name, list.headings, list.rows(session, newest)};
  if (table.rows.size() > newest) table.rows.erase(table.rows.begin(), table.rows.end() - static_cast<std::ptrdiff_t>(newest));
  return table;
}

DataTable table_to_save(const KitchenList& list, const Session& session) { return marked_demo(table_of(list, session), session); }

DataTable marked_demo(DataTable table, const Session& session) {
  if (!session.kitchen().demo) return table;
  table.headings.emplace_back("demo");
  for (auto& row : table.rows) row.push_back(cell_of("DEMO"));
  return table;
}

}  // namespace tierproof
