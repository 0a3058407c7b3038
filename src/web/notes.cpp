// The drawer's notes and lists: every note can be looked at and taken back, everything stands in tables.
#include <fmt/format.h>

#include "deeds.h"
#include "parts.h"
#include "signing_in.h"
#include "tierproof/app/lists.h"
#include "tierproof/app/permissions.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

constexpr std::size_t notes_on_page = 50;

WebAnswer notes_page(Visit& visit) {
  const Session& records = visit.records();
  const std::string find{trimmed(visit.request.query["find"])};
  std::vector<std::vector<Html>> rows;
  const auto before = parse_decimal(visit.request.query["before"]);
  std::uint64_t last = 0;
  bool more = false;
  std::vector<const Note*> in_order;
  for (const auto& note : records.notes()) in_order.push_back(&note);
  std::stable_sort(in_order.begin(), in_order.end(), [](const Note* a, const Note* b) { return a->sequence > b->sequence; });
  for (const auto* note : in_order) {
    if (before && Share{static_cast<std::int64_t>(note->sequence)} >= *before) continue;
    if (!find.empty() && note->subject.find(find) == std::string::npos && note->kind.find(find) == std::string::npos) continue;
    if (rows.size() == notes_on_page) {
      more = true;
      break;
    }
    last = note->sequence;
    rows.push_back({el("a", {{"href", fmt::format("/drawer/note/{}", note->sequence)}}, fmt::format("note {}", note->sequence)),
                    note->kind.substr(0, note->kind.find('/')), note->subject, moment_in_words(records, note->happened),
                    note->person.text()});
  }
  Html main = el("h1", {}, "All notes") +
              el("form", {{"method", "get"}, {"class", "inline"}, {"role", "search"}}, el("label", {{"for", "find"}}, "About"),
                 el("input", {{"id", "find"}, {"name", "find"}, {"type", "text"}, {"value", find}, {"autocomplete", "off"}}),
                 el("button", {{"type", "submit"}, {"class", "plain"}}, "Find"));
  main += rows.empty() ? el("p", {}, "There is no such note.")
                       : table("Notes in force, the newest first", {"Note", "Kind", "About", "Happened", "By"}, rows);
  if (more) main += el("p", {}, link_button(fmt::format("/drawer/notes?before={}&find={}", last, url_part(find)), "Earlier ones"));
  return page(visit, "All notes", "drawer", main);
}

/// Whether taking back a note of this kind takes back a stop, an answer about allergies or what verdicts rest on: that asks for the PIN.
bool grave_kind(const std::string& kind) {
  return permission_of(kind).changes == Authority::owner || kind.starts_with("allergy/") || kind.starts_with("told/");
}

const Note* note_of(Visit& visit, const std::string& number) {
  const auto sequence = parse_decimal(number);
  if (!sequence || denominator(*sequence) != 1) return nullptr;
  for (const auto& note : visit.records().notes()) {
    if (Share{static_cast<std::int64_t>(note.sequence)} == *sequence) return &note;
  }
  return nullptr;
}

WebAnswer note_page(Visit& visit) {
  if (visit.request.method == "POST") visit.part = visit.typed("note");
  const Note* note = note_of(visit, visit.part);
  if (note == nullptr) return not_there(visit, "No note of this number is in force: it may have been corrected or taken back since.");
  Html main = el("h1", {}, fmt::format("Note {}", note->sequence)) +
              facts({{"Kind", note->kind},
                     {"About", note->subject},
                     {"Happened", moment_in_words(visit.records(), note->happened)},
                     {"Written", moment_in_words(visit.records(), note->written)},
                     {"By", note->person.text()},
                     {"How it came", note->how}}) +
              el("pre", {{"tabindex", "0"}}, write_pretty(note->body));
  if (note->kind.starts_with("erasure/")) {
    main += el("p", {}, "What was erased is gone for good: this cannot be undone.");
  } else if (visit.may_record()) {
    FormView form{visit, "/drawer/take-back", "take-back"};
    form.hidden("note", visit.part)
        .text("why", "Why it is taken back",
              {.hint = "It stays in the records, with your reason; what rested on it is judged anew.", .needed = true});
    if (grave_kind(note->kind)) form.pin("Your PIN");
    main += el("h2", {}, "It was not so") + form.finish("Take it back", "grave");
  }
  return page(visit, fmt::format("Note {}", note->sequence), "drawer", main);
}

std::optional<Booked> take_back(Visit& visit) {
  const Note* note = note_of(visit, visit.typed("note"));
  if (note == nullptr) {
    visit.refuse("note", "there is no such note in force", "look at the list of notes");
    return std::nullopt;
  }
  const std::uint64_t sequence = note->sequence;
  if (grave_kind(note->kind) && !confirmed_by_pin(visit)) return std::nullopt;
  return visit.record([&](Session& session) { return void_note(session, sequence, visit.typed("why")); });
}

WebAnswer lists_page(Visit& visit) {
  Html lines;
  for (const auto& list : kitchen_lists()) lines += el("li", {}, link_button("/drawer/list/" + list.name, list.name), " ", list.holds);
  return page(visit, "Lists", "drawer", el("h1", {}, "Lists") + el("ul", {{"class", "plain-list"}}, lines));
}

WebAnswer list_page(Visit& visit) {
  const auto* list = find_list(visit.part);
  if (list == nullptr) return not_there(visit, "There is no such list.");
  const DataTable whole = table_of(*list, visit.records());
  constexpr std::size_t most = 200;
  std::vector<std::vector<Html>> rows;
  for (auto row = whole.rows.rbegin(); row != whole.rows.rend() && rows.size() < most; ++row) {
    std::vector<Html> cells;
    for (const auto& cell : *row) cells.emplace_back(text_of(cell));
    rows.push_back(std::move(cells));
  }
  Html main = el("h1", {}, list->name) + el("p", {}, list->holds);
  if (whole.rows.size() > most)
    main += el("p", {{"class", "hint"}},
               fmt::format("The newest {} of {}; the command line writes all of them to a file.", most, whole.rows.size()));
  return page(visit, list->name, "drawer",
              main + (rows.empty() ? el("p", {}, "Nothing is in it yet.") : table(list->name, whole.headings, rows)));
}

}  // namespace

std::vector<Route> note_routes() {
  return {{"GET", "/drawer/notes", For::reader, notes_page},
          {"GET", "/drawer/note/*", For::reader, note_page},
          {"GET", "/drawer/lists", For::reader, lists_page},
          {"GET", "/drawer/list/*", For::reader, list_page}};
}

std::vector<Deed> note_deeds() {
  return {{"/drawer/take-back",
           For::recorder,
           "A note is taken back: it was not so.",
           {{"note", "its number", true}, {"why", "why", true}},
           take_back,
           to("/drawer/notes"),
           note_page}};
}

}  // namespace tierproof::web
