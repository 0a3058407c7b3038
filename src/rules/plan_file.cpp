#include "tierproof/rules/plan_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "packs.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

/// A text that has to say something.
std::string said(Fields& fields, std::string_view key) {
  auto text = fields.text(key);
  if (fields.any(key).is_text() && text.empty()) fields.refuse(key, "is empty", "write it");
  return text;
}

std::vector<std::string> some_of(Fields& fields, std::string_view key, const std::vector<std::string>& choices) {
  auto texts = fields.texts(key);
  for (const auto& text : texts) {
    if (!choices.empty() && std::find(choices.begin(), choices.end(), text) == choices.end())
      fields.refuse(key, fmt::format("\"{}\" is not one of the choices", text), fmt::format("write some of {}", fmt::join(choices, "; ")));
    if (text.empty()) fields.refuse(key, "holds an empty text", "write it, or leave it out");
  }
  return texts;
}

std::optional<Degrees> read_degrees(Fields& fields) {
  const auto text = fields.text("degrees");
  const auto degrees = parse_degrees(text);
  if (!degrees && fields.has("degrees"))
    fields.refuse("degrees", fmt::format("\"{}\" is not a temperature", text), "write it with its scale, such as \"5 C\" or \"41 F\"");
  return degrees;
}

PlanLimit read_limit(Fields fields, const std::string& row) {
  constexpr std::int64_t a_day = 86'400;  // s
  PlanLimit limit;
  limit.what = fields.choice("what", plan_limit_names());
  if (limit.what == limit_chilled) {
    limit.degrees = read_degrees(fields);
  } else if (limit.what == limit_egg_heat || limit.what == limit_core_heat) {
    limit.heat_row = said(fields, "heat_row");
    limit.degrees = read_degrees(fields);
    limit.seconds = fields.integer("seconds", 0, a_day);
  } else if (limit.what == limit_cooled) {
    if (fields.has("degrees")) limit.degrees = read_degrees(fields);
    limit.minutes = fields.maybe_integer("minutes", 1, 10'080);
    if (!fields.has("degrees") && !fields.has("minutes"))
      fields.refuse("minutes", "is missing, and degrees too", "write how soon it is cold, how cold, or both");
  } else if (limit.what == limit_reheated) {
    limit.degrees = read_degrees(fields);
    limit.seconds = fields.maybe_integer("seconds", 0, a_day);
  } else if (limit.what == limit_out) {
    limit.minutes = fields.integer("minutes", 1, 10'080);
  } else if (limit.what == limit_cold_days) {
    limit.days = fields.integer("days", 1, 3650);
  }
  fields.done();
  if (const auto control = control_of_limit(limit.what); !limit.what.empty() && control != row)
    fields.refuse("what", fmt::format("is a limit of the row {}, whose sums take it", control), "move it there");
  return limit;
}

PlanRow read_plan_row(Fields row, Refusals& refusals) {
  PlanRow one;
  one.id = said(row, "id");
  const auto fits = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; };
  if (!std::all_of(one.id.begin(), one.id.end(), fits) || one.id.size() > 40)
    row.refuse("id", fmt::format("\"{}\" cannot be a short name", one.id), "use up to 40 lower-case letters, digits and hyphens");
  one.order = row.integer("order", 1, 1'000'000);
  one.step = said(row, "step");
  one.sorts = some_of(row, "sorts", plan_sorts());
  if (one.sorts.empty()) row.refuse("sorts", "is empty or missing", fmt::format("write some of {}", fmt::join(plan_sorts(), "; ")));
  one.hazard = said(row, "hazard");
  one.likelihood = row.choice("likelihood", plan_likelihoods());
  one.severity = row.choice("severity", plan_severities());
  one.significance = said(row, "significance");
  one.point = row.choice("point", plan_points());
  one.point_because = said(row, "point_because");
  one.control = said(row, "control");
  one.words = said(row, "words");
  one.limit = said(row, "limit");
  one.checked = said(row, "checked");
  one.how_often = said(row, "how_often");
  one.when_missed = said(row, "when_missed");
  one.who = said(row, "who");
  one.records = some_of(row, "records", {});
  if (one.records.empty()) row.refuse("records", "is empty or missing", "say where it is written down");
  one.met_by = some_of(row, "met_by", recipe_traits());
  const auto& limits = row.list("limits");
  std::set<std::pair<std::string, std::string>> named;
  for (std::size_t i = 0; i < limits.size(); ++i) {
    one.limits.push_back(read_limit(Fields{limits[i], row.file(), row.path_of("limits", i), refusals}, one.id));
    if (!named.emplace(one.limits.back().what, one.limits.back().heat_row).second)
      row.refuse("limits", "has one limit twice", "keep the stricter one");
  }
  if (row.has("not_met") || row.has("not_shown")) {
    one.not_met = row.choice("not_met", plan_policies());
    one.not_shown = row.choice("not_shown", plan_policies());
  }
  one.source = said(row, "source");
  one.clause = said(row, "clause");
  one.note = row.maybe_text("note").value_or("");
  row.done();
  return one;
}

std::string in_quotes(const std::string& text) { return write_canonical(Json{text}); }

std::string list_of(const std::vector<std::string>& texts) {
  std::string all;
  for (const auto& text : texts) all += (all.empty() ? "" : ", ") + in_quotes(text);
  return "[" + all + "]";
}

std::string limit_document(const PlanLimit& limit) {
  std::string members = "\"what\": " + in_quotes(limit.what);
  const auto add = [&](const char* key, const std::string& value) { members += fmt::format(", \"{}\": {}", key, value); };
  if (!limit.heat_row.empty()) add("heat_row", in_quotes(limit.heat_row));
  if (limit.degrees) {
    std::string text = format_degrees(*limit.degrees);
    const auto degree = text.find("°");
    if (degree != std::string::npos) text.erase(degree, std::string_view{"°"}.size());
    add("degrees", in_quotes(text));
  }
  if (limit.minutes) add("minutes", std::to_string(*limit.minutes));
  if (limit.seconds) add("seconds", std::to_string(*limit.seconds));
  if (limit.days) add("days", std::to_string(*limit.days));
  return "{" + members + "}";
}

}  // namespace

void read_plan(const PackFile& file, HazardPlan& plan, std::vector<std::pair<std::string, SourceRow>>& sources, Refusals& refusals) {
  const auto json = parse_json(file.text, file.path);
  if (!json) {
    refusals.insert(refusals.end(), json.error().begin(), json.error().end());
    return;
  }
  Fields top{*json, file.path, "", refusals};
  plan.title = said(top, "title");
  plan.about = said(top, "note");
  plan.scope = said(top, "scope");
  plan.users = said(top, "users");
  plan.flow = said(top, "flow");
  plan.verified = said(top, "verified");
  plan.review_months = top.integer("review_months", 1, 60);
  std::map<std::string, std::string> titles;
  for (auto& source : read_sources(top, file.path, titles, refusals)) sources.emplace_back(file.path, std::move(source));
  for (const auto& source : top.list("sources")) {
    if (!source.is_object()) continue;
    Refusals told_already;
    Fields fields{source, file.path, "", told_already};
    PlanSource one;
    one.key = fields.text("key");
    one.title = fields.text("title");
    one.publisher = fields.text("publisher");
    one.edition = fields.text("edition");
    one.link = fields.maybe_text("link").value_or("");
    one.read_on = fields.maybe_date("read_on");
    one.review_by = fields.date("review_by");
    plan.sources.push_back(std::move(one));
  }
  const auto& rows = top.list("rows");
  if (rows.empty()) top.refuse("rows", "has nothing in it", "write at least one row");
  top.done();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::string path = fmt::format("rows[{}]", i);
    PlanRow one = read_plan_row(Fields{rows[i], file.path, path, refusals}, refusals);
    const auto refuse = [&](const char* member, std::string message, std::string remedy) {
      refusals.push_back({file.path, rows[i].line(), path + "." + member, std::move(message), std::move(remedy)});
    };
    if (!titles.contains(one.source) && !one.source.empty())
      refuse("source", fmt::format("\"{}\" is not a source of this file", one.source), "list it under sources");
    if (!one.id.empty() && plan.row(one.id) != nullptr)
      refuse("id", fmt::format("\"{}\" stands there twice", one.id), "give each row an id of its own");
    plan.rows.push_back(std::move(one));
  }
  std::sort(plan.rows.begin(), plan.rows.end(),
            [](const PlanRow& l, const PlanRow& r) { return std::tie(l.order, l.id) < std::tie(r.order, r.id); });
}

Result<HazardPlan> read_plan_document(std::string_view text, const std::string& file) {
  HazardPlan plan;
  std::vector<std::pair<std::string, SourceRow>> sources;
  Refusals refusals;
  read_plan({file, std::string{text}}, plan, sources, refusals);
  if (!refusals.empty()) return refusals;
  return plan;
}

std::string write_plan_document(const HazardPlan& plan) {
  std::string text = "{\n";
  const auto top = [&](const char* key, const std::string& value) { text += fmt::format("  \"{}\": {},\n", key, in_quotes(value)); };
  top("title", plan.title);
  top("note", plan.about);
  top("scope", plan.scope);
  top("users", plan.users);
  top("flow", plan.flow);
  top("verified", plan.verified);
  text += fmt::format("  \"review_months\": {},\n  \"sources\": [", plan.review_months);
  for (std::size_t i = 0; i < plan.sources.size(); ++i) {
    const PlanSource& source = plan.sources[i];
    text += fmt::format(
        "{}\n    {{\"key\": {}, \"title\": {}, \"publisher\": {},\n     \"edition\": {}, \"link\": {},\n     \"read_on\": {}, "
        "\"review_by\": "
        "{}}}",
        i == 0 ? "" : ",", in_quotes(source.key), in_quotes(source.title), in_quotes(source.publisher), in_quotes(source.edition),
        source.link.empty() ? "null" : in_quotes(source.link), source.read_on ? in_quotes(format_date(*source.read_on)) : "null",
        in_quotes(format_date(source.review_by)));
  }
  text += "\n  ],\n  \"rows\": [";
  for (std::size_t i = 0; i < plan.rows.size(); ++i) {
    const PlanRow& row = plan.rows[i];
    text += fmt::format("{}\n    {{\"id\": {}, \"order\": {}", i == 0 ? "" : ",", in_quotes(row.id), row.order);
    const auto member = [&](const char* key, const std::string& value) { text += fmt::format(",\n     \"{}\": {}", key, value); };
    const auto words = [&](const char* key, const std::string& value) {
      if (!value.empty()) member(key, in_quotes(value));
    };
    words("words", row.words);
    words("step", row.step);
    if (!row.met_by.empty()) member("met_by", list_of(row.met_by));
    member("sorts", list_of(row.sorts));
    words("hazard", row.hazard);
    words("likelihood", row.likelihood);
    words("severity", row.severity);
    words("significance", row.significance);
    words("point", row.point);
    words("point_because", row.point_because);
    words("control", row.control);
    words("limit", row.limit);
    if (!row.limits.empty()) {
      std::string limits;
      for (const auto& limit : row.limits) limits += (limits.empty() ? "" : ", ") + limit_document(limit);
      member("limits", "[" + limits + "]");
    }
    words("source", row.source);
    words("clause", row.clause);
    words("checked", row.checked);
    words("how_often", row.how_often);
    words("when_missed", row.when_missed);
    words("who", row.who);
    member("records", list_of(row.records));
    words("not_met", row.not_met);
    words("not_shown", row.not_shown);
    words("note", row.note);
    text += "}";
  }
  return text + "\n  ]\n}\n";
}

std::string number_in_words(const PlanLimit& limit) {
  if (limit.what == limit_cooled) {
    std::string words = limit.degrees ? "to " + format_degrees(*limit.degrees) : "";
    if (limit.minutes) words += fmt::format("{}within {}", words.empty() ? "" : " ", format_span(std::chrono::minutes{*limit.minutes}));
    return words;
  }
  if (limit.degrees && limit.seconds) {
    const std::string held = *limit.seconds > 0 ? " for " + format_span(std::chrono::seconds{*limit.seconds}) : " reached";
    return format_degrees(*limit.degrees) + held + (limit.heat_row.empty() ? "" : fmt::format(" (heat row {})", limit.heat_row));
  }
  if (limit.degrees) return format_degrees(*limit.degrees);
  if (limit.minutes) return format_span(std::chrono::minutes{*limit.minutes});
  return limit.days ? fmt::format("{} day{}", *limit.days, *limit.days == 1 ? "" : "s") : "";
}

}  // namespace tierproof
