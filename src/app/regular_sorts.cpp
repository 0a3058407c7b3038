// Sorts of regular records: read from documents, checked, booked.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "checking.h"
#include "names_in_text.h"
#include "regular_rules.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/regular.h"
#include "tierproof/text/fields.h"

namespace tierproof {
namespace {

using Titles = std::map<std::string, std::string>;

RegularField read_field(const Json& json, const std::string& file, const std::string& path, Refusals& refusals) {
  Fields fields{json, file, path, refusals};
  RegularField field;
  field.id = fields.text("id");
  field.words = fields.text("words");
  field.type = fields.choice("type", regular_field_types());
  field.unit = fields.maybe_text("unit").value_or("");
  field.choices = fields.texts("choices");
  field.needed = fields.flag("needed", false);
  field.sealed = fields.flag("sealed", false);
  field.fine = fields.maybe_text("fine").value_or("");
  fields.done();
  return field;
}

RegularDue read_due(const Json& json, const std::string& file, const std::string& path, Refusals& refusals) {
  Fields fields{json, file, path, refusals};
  RegularDue due;
  due.every = fields.choice("every", regular_due_words());
  due.count = fields.maybe_integer("count", 1, 1000);
  if (fields.has("on")) due.on = fields.choice("on", weekday_words());
  due.day = fields.maybe_integer("day", 1, 31);
  due.counted_from = fields.maybe_date("counted_from");
  if (fields.has("closed")) due.closed = fields.choice("closed", {"next working day", "working day before", "falls away"});
  due.early_days = fields.maybe_integer("early_days", 0, 366);
  const auto belongs = [&](const char* key, bool there, bool wanted) {
    if (there && !wanted) fields.refuse(key, fmt::format("does not go with every \"{}\"", due.every), "leave it out");
    if (!there && wanted) fields.refuse(key, fmt::format("is missing with every \"{}\"", due.every), "write it");
  };
  const bool counted = due.every == "working days" || due.every == "months" || due.every == "years";
  belongs("count", due.count.has_value(), counted);
  belongs("on", !due.on.empty(), due.every == "week");
  belongs("day", due.day.has_value(), due.every == "month");
  if (due.every != "months" && due.every != "years") belongs("counted_from", due.counted_from.has_value(), false);
  const bool moves = due.every != "working day" && due.every != "working days" && due.every != "when it happens";
  belongs("closed", !due.closed.empty(), moves);
  if (due.every == "working day" || due.every == "when it happens") belongs("early_days", due.early_days.has_value(), false);
  fields.done();
  return due;
}

SortOffered read_sort(const Json& json, const std::string& file, const std::string& path, const Titles* titles, Refusals& refusals) {
  Fields fields{json, file, path, refusals};
  SortOffered offered;
  RegularSort& sort = offered.sort;
  offered.id = fields.text("id");
  sort.name = fields.text("name");
  sort.what = fields.maybe_text("what").value_or("");
  const Json::Array& list = fields.list("fields");
  for (std::size_t i = 0; i < list.size(); ++i) sort.fields.push_back(read_field(list[i], file, fields.path_of("fields", i), refusals));
  sort.due = read_due(fields.object("due"), file, fields.path_of("due"), refusals);
  sort.who = fields.maybe_text("who").value_or("");
  sort.plan = fields.maybe_text("plan").value_or("");
  sort.counts = fields.texts("counts");
  if (fields.has("part_of_day")) sort.part_of_day = fields.choice("part_of_day", parts_of_day());
  if (fields.has("each")) sort.each = fields.choice("each", {"thermometer"});
  sort.source = fields.maybe_text("source").value_or("");
  const auto clause = fields.maybe_text("clause");
  if (titles != nullptr) {
    const auto title = titles->find(sort.source);
    if (title == titles->end()) {
      fields.refuse("source", fmt::format("\"{}\" is not among the sources of this file", sort.source), "add it there");
    } else {
      sort.source = clause ? fmt::format("{}: {}", title->second, *clause) : title->second;
    }
  } else if (clause) {
    fields.refuse("clause", "goes with a list of sources", "write it into source");
  }
  sort.from = fields.maybe_date("from").value_or(Date{});
  sort.until = fields.maybe_date("until");
  fields.done();
  return offered;
}

void check_field(Checking& checking, const std::string& where, const RegularField& field) {
  checking.id(where + ".id", field.id);
  checking.words(where + ".words", field.words);
  checking.free_words(where + ".unit", field.unit);
  if (!field.unit.empty() && field.type != "number") checking.refuse(where + ".unit", "goes with a number", "leave it out");
  if ((field.type == "one of") != (field.choices.size() >= 2))
    checking.refuse(where + ".choices", field.type == "one of" ? "has less than two answers" : "goes with \"one of\"",
                    field.type == "one of" ? "list at least two" : "leave it out");
  for (const auto& choice : field.choices) checking.words(where + ".choices", choice);
  if (field.fine.empty()) return;
  if (field.type == "yes or no") {
    checking.choice(where + ".fine", field.fine, {"yes", "no"});
  } else if (field.type == "one of") {
    checking.choice(where + ".fine", field.fine, field.choices);
  } else {
    checking.refuse(where + ".fine", fmt::format("cannot be told beforehand of \"{}\"", field.type),
                    "leave it out: it is answered each time");
  }
}

/// A text of a sort and where it stands.
struct SortText {
  std::string field;
  std::string text;
};

/// Every text of a sort: all of it stands in the entries for good, and some goes out into a calendar.
std::vector<SortText> texts_of_sort(const SortOffered& offered) {
  const RegularSort& sort = offered.sort;
  std::vector<SortText> all{{"id", offered.id}, {"name", sort.name}, {"what", sort.what}, {"who", sort.who}, {"source", sort.source}};
  for (std::size_t i = 0; i < sort.fields.size(); ++i) {
    const std::string where = fmt::format("fields[{}].", i);
    all.push_back({where + "id", sort.fields[i].id});
    all.push_back({where + "words", sort.fields[i].words});
    all.push_back({where + "unit", sort.fields[i].unit});
    for (const auto& choice : sort.fields[i].choices) all.push_back({where + "choices", choice});
  }
  return all;
}

/// No text names a person of the kitchen. What the starting set says word for word names nobody.
void check_no_name(Checking& checking, const State& state, const std::vector<SortOffered>& starting, const SortOffered& offered) {
  std::set<std::string> of_starting;
  for (const auto& sort : starting) {
    for (auto& one : texts_of_sort(sort)) of_starting.insert(std::move(one.text));
  }
  for (const auto& [field, text] : texts_of_sort(offered)) {
    if (of_starting.contains(text)) continue;
    if (const std::string part = part_of_a_name_in(state, text); !part.empty())
      checking.refuse(field, fmt::format("\"{}\" is part of the name of a recorded person, and this is kept for good", part),
                      "write the role, such as \"whoever locks up\"");
  }
}

/// Whether an id is one that the program gives by itself, as `batch-4`, now or later.
bool is_numbered(std::string_view id) {
  const auto dash = id.rfind('-');
  if (dash == std::string_view::npos) return false;
  static constexpr std::array<std::string_view, 6> numbered{"batch", "cake", "complaint", "pack", "recall", "trouble"};
  const std::string_view number = id.substr(dash + 1);
  return std::find(numbered.begin(), numbered.end(), id.substr(0, dash)) != numbered.end() && !number.empty() &&
         number.find_first_not_of("0123456789") == std::string_view::npos;
}

void check_sort(Checking& checking, const Session& session, const std::vector<SortOffered>& starting, const SortOffered& offered) {
  const State& state = session.state();
  const RegularSort& sort = offered.sort;
  checking.id("id", offered.id);
  if (names_a_thing(state, offered.id)) {
    checking.refuse("id", fmt::format("\"{}\" is a place, thermometer, piece of kit or tub", offered.id), "choose another short name");
  } else if (is_numbered(offered.id)) {
    checking.refuse("id", fmt::format("\"{}\" is how this program calls what it numbers", offered.id), "choose another short name");
  }
  checking.words("name", sort.name);
  for (const auto& [field, text] : {std::pair{"what", &sort.what}, {"who", &sort.who}, {"source", &sort.source}})
    checking.free_words(field, *text);
  check_no_name(checking, state, starting, offered);
  const PlanVersion version = plan_now(session);
  if (!sort.plan.empty() && plan_of(session, version).row(sort.plan) == nullptr)
    checking.refuse("plan", fmt::format("there is no row \"{}\" in the plan ({})", sort.plan, version.words),
                    "see `tierproof plan`, or leave it out");
  std::set<std::string> ids;
  for (std::size_t i = 0; i < sort.fields.size(); ++i) {
    const std::string where = fmt::format("fields[{}]", i);
    check_field(checking, where, sort.fields[i]);
    if (!ids.insert(sort.fields[i].id).second) checking.refuse(where + ".id", "stands there twice", "give each field a name of its own");
  }
  for (const auto& kind : sort.counts) {
    if (!is_kind(kind) || kind.starts_with("regular") || kind.starts_with("day-off") || kind.starts_with("kitchen"))
      checking.refuse("counts", fmt::format("\"{}\" is no kind of note that could be counted", kind),
                      "write one with its version, such as probe-check/1");
  }
  if (!sort.counts.empty() && !sort.fields.empty())
    checking.refuse("fields", "go with what is recorded here, and notes of another kind are counted", "leave fields or counts out");
  if (!sort.each.empty() && sort.counts.empty()) checking.refuse("each", "goes with notes that are counted", "leave it out");
  if (!sort.part_of_day.empty() && sort.due.every == "when it happens")
    checking.refuse("part_of_day", "goes with what is due", "leave it out");
  checking.take(check_due_rule(due_rule_of(sort)));
  if (sort.from < session.today())
    checking.refuse("from", fmt::format("{} is past: nobody was asked then", format_date(sort.from)), "write today or a later day");
  if (sort.until && *sort.until < sort.from) checking.refuse("until", "is before the first day", "write the last day of it");
  const auto known = state.regular_sorts.find(RegularSortId{offered.id});
  if (known != state.regular_sorts.end()) {
    RegularSort before = known->second.value;
    before.from = sort.from;
    if (body_of(before) == body_of(sort))
      checking.refuse("id", fmt::format("{} is the same already, by note {}", offered.id, known->second.sequence), "nothing more to do");
  }
}

Result<Booked> book_sorts(Session& session, Checking& checking, const std::vector<SortOffered>& starting,
                          std::vector<std::pair<std::string, SortOffered>> offered) {
  checking.person();
  const auto at = checking.moment("now");
  std::vector<Draft> drafts;
  std::set<std::string> ids;
  for (auto& [file, one] : offered) {
    checking.in_file(file);
    if (!one.sort.from.ok()) one.sort.from = session.today();
    // So that a later version goes on counting from the same day.
    if ((one.sort.due.every == "months" || one.sort.due.every == "years") && !one.sort.due.counted_from)
      one.sort.due.counted_from = one.sort.from;
    check_sort(checking, session, starting, one);
    if (!ids.insert(one.id).second) checking.refuse("id", fmt::format("\"{}\" stands there twice", one.id), "give each once");
    drafts.push_back(session.draft(one.sort, one.id, at));
  }
  if (!checking.good()) return checking.refusals();
  return session.book(std::move(drafts));
}

}  // namespace

Result<std::vector<SortOffered>> read_sorts(const GivenDocument& document) {
  const auto json = parse_json(document.text, document.name);
  if (!json) return json.error();
  Refusals refusals;
  std::vector<SortOffered> sorts;
  if (!json->is_object() || json->find("rows") == nullptr) {
    sorts.push_back(read_sort(*json, document.name, "", nullptr, refusals));
  } else {
    Fields top{*json, document.name, "", refusals};
    top.text("title");
    top.text("note");
    Titles titles;
    for (const Json& source : top.list("sources")) {
      const Json* key = source.is_object() ? source.find("key") : nullptr;
      const Json* title = source.is_object() ? source.find("title") : nullptr;
      if (key == nullptr || title == nullptr || !key->is_text() || !title->is_text()) {
        top.refuse("sources", "has one without key and title", "write both");
      } else {
        titles.emplace(key->text(), title->text());
      }
    }
    const Json::Array& rows = top.list("rows");
    for (std::size_t i = 0; i < rows.size(); ++i)
      sorts.push_back(read_sort(rows[i], document.name, top.path_of("rows", i), &titles, refusals));
    if (rows.empty()) top.refuse("rows", "is empty", "write at least one sort");
    top.done();
  }
  if (!refusals.empty()) return refusals;
  return sorts;
}

std::vector<SortOffered> load_regular_sorts(const DataRoot& root) {
  const std::string path = root.path + "/reference/plan/regular-records.json";
  auto sorts = read_sorts({path, load_file(path)});
  if (!sorts) {
    std::string all = "the starting set of regular records cannot be used:";
    for (const auto& refusal : sorts.error()) all += "\n  " + describe(refusal);
    throw Fault{exit_status::configuration, all};
  }
  return std::move(sorts).value();
}

Result<Booked> add_sorts(Session& session, const std::vector<GivenDocument>& documents, const std::vector<SortOffered>& starting) {
  Checking checking{session};
  if (documents.empty()) checking.refuse("file", "is missing", "name the file of a sort");
  std::vector<std::pair<std::string, SortOffered>> all;
  for (const auto& document : documents) {
    auto sorts = read_sorts(document);
    if (!sorts) {
      checking.take(sorts.error());
      continue;
    }
    for (auto& sort : *sorts) all.emplace_back(document.name, std::move(sort));
  }
  return book_sorts(session, checking, starting, std::move(all));
}

Result<Booked> take_over_sorts(Session& session, const std::vector<SortOffered>& offered, const std::vector<std::string>& names,
                               std::optional<Date> from) {
  Checking checking{session};
  std::vector<std::pair<std::string, SortOffered>> all;
  const bool every = names == std::vector<std::string>{"all"};
  std::vector<std::string> ids;
  for (const auto& one : offered) ids.push_back(one.id);
  if (!every) {
    for (const auto& name : names) checking.choice("--take-over", name, ids);
  }
  for (const auto& one : offered) {
    const bool has = session.state().regular_sorts.contains(RegularSortId{one.id});
    if (every ? has : std::find(names.begin(), names.end(), one.id) == names.end()) continue;
    all.emplace_back("", one);
    RegularSort& sort = all.back().second.sort;
    sort.from = from.value_or(session.today());
    // A plan of the kitchen's own may have left out the row that the starting plan has.
    if (plan_of(session, plan_now(session)).row(sort.plan) == nullptr) sort.plan.clear();
  }
  if (all.empty() && checking.good())
    checking.refuse("--take-over", "leaves nothing: all of them are here already", "name those to change in a file");
  return book_sorts(session, checking, offered, std::move(all));
}

}  // namespace tierproof
