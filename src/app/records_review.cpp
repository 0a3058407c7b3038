// A review of the records of a period: the inspection record as whoever looks through it needs it, with who looked.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "inspection_sections.h"
#include "regular_rules.h"
#include "tierproof/app/inspecting.h"

namespace tierproof {
namespace {

constexpr const char* sort_of_looks = "records-review";
constexpr std::int64_t marked_from = 3;  // a reason given so often is marked, as in the inspection record (a choice)

/// What a regular record says of one of its fields; empty where it says nothing, or no more.
std::string said_of(const RegularDone& record, std::string_view field) {
  for (const auto& value : record.values) {
    if (value.field == field) return value.words.given() ? value.words.text.value_or("") : value.value;
  }
  return "";
}

/// Whether the kitchen's sort keeps something of its looks apart: then nothing that they say in words leaves with a paper.
bool keeps_words_apart(const State& state, Date day) {
  const auto* version = version_on(state, sort_of_looks, day);
  if (version == nullptr) return true;
  const auto& fields = version->value.fields;
  return std::any_of(fields.begin(), fields.end(), [](const RegularField& field) { return field.sealed; });
}

/// Whether a note is part of what is reviewed: papers are drawn of it, and looks are of the review itself.
bool is_reviewed(const Entry& entry) {
  return entry.kind != KindOf<PaperIssued>::kind && !(entry.kind == KindOf<RegularDone>::kind && entry.subject == sort_of_looks);
}

/// How many notes each person recorded in a period.
std::map<std::string, std::int64_t> recorded_by(const Session& session, Instant begin, Instant end) {
  std::map<std::string, std::int64_t> by;
  for (const auto& entry : session.store().entries(1, session.head().size)) {
    if (begin <= entry.written && entry.written < end && is_reviewed(entry)) ++by[entry.person.text()];
  }
  return by;
}

std::string name_of_person(const State& state, const std::string& person) {
  const auto known = state.people.find(PersonId{person});
  return known == state.people.end() ? person : known->second.value.name.text.value_or(person + " (name erased)");
}

std::vector<RecordsLook> looks_since(const Session& session, Instant begin, const std::map<std::string, std::int64_t>& by) {
  const State& state = session.state();
  std::vector<RecordsLook> looks;
  for (const auto& done : state.regular_done) {
    if (done.value.sort.text() != sort_of_looks || done.happened < begin) continue;
    RecordsLook look;
    look.note = done.sequence;
    look.made = {done.happened, done.offset};
    look.person = said_of(done.value, "signed");
    look.name = look.person.empty() ? "" : name_of_person(state, look.person);
    look.looked = said_of(done.value, "looked");
    look.found = said_of(done.value, "found");
    if (!look.found.empty() && keeps_words_apart(state, day_of(done.happened, done.offset))) look.found = "(kept apart)";
    look.alone = said_of(done.value, "alone");
    const auto made = by.find(look.person);
    if (made != by.end() && !look.person.empty()) look.made_by_them = made->second;
    look.signed_by_recorder = look.person == done.person.text();
    looks.push_back(std::move(look));
  }
  std::stable_sort(looks.begin(), looks.end(), [](const auto& a, const auto& b) { return a.made.at < b.made.at; });
  return looks;
}

std::string or_not_recorded(const std::string& text) { return text.empty() ? "not recorded" : text; }

bool contradicts_log(const RecordsLook& look) { return look.alone == "no" && look.made_by_them > 0; }

/// What they say, and what the log tells.
std::string whose_records(const RecordsLook& look, std::int64_t notes) {
  const std::string says = look.alone == "yes" ? "their own, they say" : look.alone == "no" ? "not their own, they say" : "they do not say";
  if (look.person.empty()) return fmt::format("{}; nobody can tell from the log, since it is not recorded who looked", says);
  std::string log = fmt::format("they recorded {} of the {} of this period", look.made_by_them, counted(notes, "note", "notes"));
  if (look.made_by_them > 0) log += ": a second look by the same person";
  return fmt::format("{}; {}", says, log);
}

/// Every reason with how often it was given, the most used first.
InspectionTable reasons_of(const DataTable& overrides) {
  struct Given {
    std::string reason;
    std::int64_t times = 0;
    std::vector<std::string> against;
  };
  std::vector<Given> all;
  for (const auto& row : overrides.rows) {
    const RowOf of{overrides, row};
    const std::string reason = of["reason"];
    auto known = std::find_if(all.begin(), all.end(), [&](const Given& one) { return one.reason == reason; });
    if (known == all.end()) known = all.insert(all.end(), {reason, 0, {}});
    ++known->times;
    if (std::find(known->against.begin(), known->against.end(), of["words"]) == known->against.end()) known->against.push_back(of["words"]);
  }
  std::stable_sort(all.begin(), all.end(), [](const Given& a, const Given& b) { return a.times > b.times; });
  InspectionTable table{{"Times", "Released against", "Reason given"}, {}, ""};
  for (const auto& one : all)
    table.rows.push_back(
        {{fmt::format("{}", one.times), fmt::format("{}", fmt::join(one.against, ", ")), one.reason}, one.times >= marked_from});
  return table;
}

/// What is wanting of the looks themselves.
std::vector<std::string> wanting_of_looks(const std::vector<RecordsLook>& looks, Date from, Date until) {
  std::vector<std::string> wanting;
  if (looks.empty()) {
    wanting.push_back(fmt::format("Nobody is recorded as having looked through the records since {}", format_date_long(from)));
    return wanting;
  }
  const auto& last = looks.back();
  if (const Date day = day_of(last.made.at, last.made.offset); day < until)
    wanting.push_back(fmt::format("The last look, note {}, was on {}: nobody is recorded as having looked at what came after it", last.note,
                                  format_date_long(day)));
  for (const auto& look : looks) {
    if (look.looked != "yes") wanting.push_back(fmt::format("Note {} does not say that all of the records were looked through", look.note));
    if (contradicts_log(look))
      wanting.push_back(fmt::format("Note {} says that somebody else made the records; by the log, who looked recorded {} of them",
                                    look.note, look.made_by_them));
  }
  return wanting;
}

}  // namespace

Result<Inspection> review_records(const Session& session, const InspectionRequest& request, ZonedInstant at) {
  auto found = inspect(session, request, at);
  if (!found) return found;
  Inspection& inspection = *found;
  InspectionContent& content = inspection.content;
  const Instant begin = first_moment_of(session, inspection.from);
  const auto by = recorded_by(session, begin, first_moment_of(session, add_days(inspection.until, 1)));
  for (const auto& [person, notes] : by) inspection.notes_of_period += notes;
  inspection.looks = looks_since(session, begin, by);
  content.reference = sort_of_looks;
  std::erase_if(content.sections, [](const InspectionSection& section) { return !section.reviewed; });
  InspectionReview review;
  review.looked.heads = {"When", "Who looked", "All of it", "Whose records", "What was found, and what is done about it"};
  for (const auto& look : inspection.looks) {
    const std::string who = look.person.empty()       ? "not recorded"
                            : look.signed_by_recorder ? look.name
                                                      : fmt::format("{} (recorded by somebody else)", look.name);
    review.looked.rows.push_back(
        {{fmt::format("{} (note {})", format_moment(look.made.at, look.made.offset), look.note), who, or_not_recorded(look.looked),
          whose_records(look, inspection.notes_of_period), or_not_recorded(look.found)},
         look.looked != "yes" || contradicts_log(look) || look.person.empty()});
  }
  review.says.push_back(
      inspection.looks.empty()
          ? "Nobody is recorded as having looked. Until somebody does, and records and signs it, this paper reviews nothing."
          : "As recorded since the first day of this period. A look covers what stood in the records when it was made.");
  const auto overrides =
      std::find_if(inspection.tables.begin(), inspection.tables.end(), [](const auto& t) { return t.name == "overrides"; });
  if (overrides != inspection.tables.end()) review.reasons = reasons_of(*overrides);
  const auto more = wanting_of_looks(inspection.looks, inspection.from, inspection.until);
  content.wanting.insert(content.wanting.begin(), more.begin(), more.end());
  content.review = std::move(review);
  return found;
}

Json json_of(const std::vector<RecordsLook>& looks) {
  Json::Array all;
  for (const auto& look : looks)
    all.push_back(Json{Json::Object{{"note", Json{static_cast<std::int64_t>(look.note)}},
                                    {"made_local", Json{format_zoned(look.made.at, look.made.offset)}},
                                    {"person", Json{look.person}},
                                    {"looked", Json{look.looked}},
                                    {"found", Json{look.found}},
                                    {"alone", Json{look.alone}},
                                    {"notes_recorded_by_them", Json{look.made_by_them}}}});
  return Json{std::move(all)};
}

}  // namespace tierproof
