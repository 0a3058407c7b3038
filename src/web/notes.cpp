// The drawer's notes and lists: every note can be looked at, corrected and taken back, everything stands in tables.
#include <fmt/format.h>

#include <algorithm>

#include "correcting.h"
#include "deeds.h"
#include "parts.h"
#include "signing_in.h"
#include "tierproof/app/lists.h"
#include "tierproof/app/retyping.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

constexpr std::size_t notes_on_page = 50;

/// What the thermometer showed, of a note that holds one reading which somebody typed; else nothing.
std::string showed_in(const Session& session, const Note& note) {
  if (!note.kind.starts_with("readings/") || note.body.is_null()) return "";
  const auto reading = typed_reading(session, note.sequence);
  return reading && reading->degrees ? format_degrees(*reading->degrees) : "";
}

WebAnswer notes_page(Visit& visit) {
  const Session& records = visit.records();
  const std::string find{trimmed(visit.request.query["find"])};
  std::vector<std::vector<Html>> rows;
  const auto before = parse_decimal(visit.request.query["before"]);
  std::uint64_t last = 0;
  bool more = false;
  std::vector<const Note*> in_order;
  for (const auto& note : records.notes()) in_order.push_back(&note);
  // Whoever names a thing by all of its name means no other whose name begins so.
  const bool by_name = std::any_of(in_order.begin(), in_order.end(), [&](const Note* note) { return note->subject == find; });
  std::stable_sort(in_order.begin(), in_order.end(), [](const Note* a, const Note* b) { return a->sequence > b->sequence; });
  for (const auto* note : in_order) {
    if (before && Share{static_cast<std::int64_t>(note->sequence)} >= *before) continue;
    const std::string kind = in_plain_words(note->kind);
    const auto holds = [&](const std::string& text) { return text.find(find) != std::string::npos; };
    if (by_name ? note->subject != find : !holds(note->subject) && !holds(note->kind) && !holds(kind)) continue;
    if (rows.size() == notes_on_page) {
      more = true;
      break;
    }
    last = note->sequence;
    const std::string showed = showed_in(records, *note);
    rows.push_back({el("a", {{"href", fmt::format("/drawer/note/{}", note->sequence)}}, fmt::format("note {}", note->sequence)),
                    kind + (note->body.is_null() ? ", taken back"
                            : showed.empty()     ? ""
                                                 : ": " + showed),
                    note->subject, moment_in_words(records, note->happened), note->person.text()});
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

const Note* note_of(Visit& visit, const std::string& number) {
  const auto sequence = parse_decimal(number);
  if (!sequence || denominator(*sequence) != 1) return nullptr;
  for (const auto& note : visit.records().notes()) {
    if (Share{static_cast<std::int64_t>(note.sequence)} == *sequence) return &note;
  }
  return nullptr;
}

/// The note was corrected or taken back while somebody typed: what they typed is shown, to be typed again where it still is so.
WebAnswer changed_meanwhile(Visit& visit) {
  std::vector<std::pair<std::string, Html>> typed;
  for (const auto& [name, value] : visit.request.form.all()) {
    if (name != "token" && name != "key" && name != "form" && name != "pin" && name != "note" && !value.empty())
      typed.push_back({name, value});
  }
  Html main =
      el("h1", {}, fmt::format("Note {} is not in force", visit.part)) +
      el("p", {},
         "It was corrected or taken back meanwhile, or there is none of this number. Look at what is recorded now, and correct that.") +
      el("p", {{"class", "actions"}}, link_button("/drawer/notes", "All notes"));
  if (!typed.empty()) main += el("h2", {}, "What you typed") + facts(typed);
  WebAnswer answer = page(visit, "Not in force", "drawer", main);
  answer.status = 422;
  return answer;
}

WebAnswer note_page(Visit& visit) {
  if (visit.request.method == "POST") visit.part = visit.typed("note");
  const Note* note = note_of(visit, visit.part);
  if (note == nullptr && visit.request.method == "POST") return changed_meanwhile(visit);
  if (note == nullptr) return not_there(visit, "No note of this number is in force: it may have been corrected or taken back since.");
  std::vector<std::pair<std::string, Html>> lines{{"Kind", in_plain_words(note->kind)},
                                                  {"About", note->subject},
                                                  {"Happened", moment_in_words(visit.records(), note->happened)},
                                                  {"Written", moment_in_words(visit.records(), note->written)},
                                                  {"By", note->person.text()},
                                                  {"How it came", in_plain_words(note->how)}};
  const std::string showed = showed_in(visit.records(), *note);
  if (!showed.empty()) lines.push_back({"It showed", showed});
  Html main = el("h1", {}, fmt::format("Note {}", note->sequence)) + facts(lines);
  if (note->body.is_null()) return page(visit, fmt::format("Note {}", note->sequence), "drawer", main + el("p", {}, "It was taken back."));
  main += el("details", {{"class", "fold"}}, el("summary", {}, "As it is written in the log"),
             el("pre", {{"tabindex", "0"}}, write_pretty(note->body)));
  main += note->kind.starts_with("evidence/")
              ? el("p", {}, el("a", {{"href", "/drawer/attached/" + url_part(note->subject)}}, "What it attached"))
              : pictures_of(visit, std::to_string(note->place));
  if (note->kind.starts_with("erasure/")) {
    main += el("p", {}, "What was erased is gone for good: this cannot be undone.");
  } else if (visit.may_record()) {
    main += correct_form(visit, *note);
    FormView form{visit, "/drawer/take-back", "take-back"};
    form.hidden("note", visit.part)
        .text("why", "Why it is taken back",
              {.hint = "It stays in the records, with your reason; what rested on it is judged anew.", .needed = true});
    if (grave_kind(note->kind)) form.pin("Your PIN");
    main += el("h2", {}, "It was not so") + form.finish("Take it back", "grave");
  }
  return page(visit, fmt::format("Note {}", note->sequence), "drawer", main);
}

/// Of a note that is not in force: a form that is sent again is told as it was booked, and anything else is refused.
std::optional<Booked> booked_before_or_refused(Visit& visit) {
  return visit.record([](Session&) -> Result<Booked> {
    return Refusal{"", 0, "note", "there is no such note in force", "look at the list of notes"};
  });
}

std::optional<Booked> take_back(Visit& visit) {
  const Note* note = note_of(visit, visit.typed("note"));
  if (note == nullptr) return booked_before_or_refused(visit);
  const std::uint64_t sequence = note->sequence;
  if (grave_kind(note->kind) && !confirmed_by_pin(visit)) return std::nullopt;
  return visit.record([&](Session& session) { return void_note(session, sequence, visit.typed("why")); });
}

std::optional<Booked> corrected(Visit& visit) {
  const Note* note = note_of(visit, visit.typed("note"));
  if (note == nullptr) return booked_before_or_refused(visit);
  if (grave_kind(note->kind) && !confirmed_by_pin(visit)) return std::nullopt;
  return correct_note(visit, *note);
}

WebAnswer lists_page(Visit& visit) {
  Html lines;
  for (const auto& list : kitchen_lists()) lines += el("li", {}, link_button("/drawer/list/" + list.name, list.name), " ", list.holds);
  return page(visit, "Lists", "drawer", el("h1", {}, "Lists") + el("ul", {{"class", "plain-list"}}, lines));
}

WebAnswer list_page(Visit& visit) {
  const auto* list = find_list(visit.part);
  if (list == nullptr) return not_there(visit, "There is no such list.");
  constexpr std::size_t most = 200;
  const DataTable newest = table_of(*list, visit.records(), most + 1);
  std::vector<std::vector<Html>> rows;
  for (auto row = newest.rows.rbegin(); row != newest.rows.rend() && rows.size() < most; ++row) {
    std::vector<Html> cells;
    for (const auto& cell : *row) cells.emplace_back(text_of(cell));
    rows.push_back(std::move(cells));
  }
  Html main = el("h1", {}, list->name) + el("p", {}, list->holds);
  if (newest.rows.size() > most)
    main += el("p", {{"class", "hint"}}, fmt::format("The newest {}; the command line writes all of them to a file.", most));
  return page(visit, list->name, "drawer",
              main + (rows.empty() ? el("p", {}, "Nothing is in it yet.") : table(list->name, newest.headings, rows)));
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
           note_page},
          {"/drawer/correct",
           For::recorder,
           "A note is corrected: what it says is typed anew. A reading that somebody typed is taken back for another one at the same time.",
           {{"note", "its number", true},
            {"why", "what was wrong with it", true},
            {"reading", "of a reading that somebody typed: what the thermometer really showed"},
            {"says-*", "says-MEMBER of its body: what it should say, written as the form of the note shows it; empty takes it out"}},
           corrected,
           [](const Visit&, const Booked& booked) { return fmt::format("/drawer/note/{}", booked.sequences.back()); },
           note_page}};
}

}  // namespace tierproof::web
