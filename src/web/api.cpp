// What a script may read: the same views that the pages show. What it may book are the deeds (`deeds.cpp`); a sensor posts readings.
#include <fmt/format.h>

#include "api_told.h"
#include "deeds.h"
#include "parts.h"
#include "tierproof/app/inspecting.h"
#include "tierproof/app/issuing.h"
#include "tierproof/app/lists.h"
#include "tierproof/app/tracing.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

Json hundredths(Temperature temperature) { return Json{static_cast<std::int64_t>(std::llround(temperature.to_celsius() * 100))}; }

WebAnswer who_am_i(Visit& visit) {
  Json::Object members = api_headed(visit, "tierproof/who/1");
  members.emplace("person", Json{visit.who->person});
  members.emplace("form_token", Json{visit.who->form_token});
  members.emplace("may_record", Json{visit.may_record()});
  members.emplace("owner", Json{visit.is_owner()});
  return api_told(std::move(members));
}

WebAnswer packs(Visit& visit) {
  Json::Array list;
  for (const auto& pack : packs_here(visit.records(), visit.today())) {
    Json::Object one{{"pack", Json{pack.id.text()}}, {"ingredient", Json{pack.ingredient.text()}}, {"food", Json{pack.food}},
                     {"code", Json{pack.code}},      {"left_mg", Json{pack.left.to_milligrams()}}, {"must_not_go", Json{pack.must_not_go}}};
    if (pack.last) one.emplace("last_day", Json{format_date(*pack.last)});
    if (pack.opened) one.emplace("opened", Json{format_date(*pack.opened)});
    list.push_back(Json{std::move(one)});
  }
  auto members = api_headed(visit, "tierproof/packs-here/1");
  members.emplace("packs", Json{std::move(list)});
  return api_told(std::move(members));
}

WebAnswer places(Visit& visit) {
  const auto found = places_now(visit.records(), visit.at());
  if (!found) return api_refused(found.error());
  Json::Array list;
  for (const auto& place : *found) {
    Json::Object one{{"place", Json{place.id.text()}},
                     {"name", Json{place.name}},
                     {"kind", Json{place.kind}},
                     {"standing", Json{words_of(place.standing)}}};
    if (place.last) {
      one.emplace("last_read", Json{format_zoned(place.last->at, visit.records().offset_at(place.last->at))});
      one.emplace("last_hundredths_celsius", hundredths(place.last->read));
      one.emplace("thermometer", Json{place.last->thermometer});
    }
    if (place.limit) one.emplace("limit_hundredths_celsius", hundredths(*place.limit));
    Json::Array kept;
    for (const auto& food : place.kept)
      kept.push_back(Json{Json::Object{{"of", Json{food.id}},
                                       {"name", Json{food.name}},
                                       {"since", Json{format_zoned(food.since, visit.records().offset_at(food.since))}}}});
    one.emplace("kept", Json{std::move(kept)});
    list.push_back(Json{std::move(one)});
  }
  auto members = api_headed(visit, "tierproof/places-now/1");
  members.emplace("places", Json{std::move(list)});
  return api_told(std::move(members));
}

WebAnswer cakes(Visit& visit) {
  Json::Array list;
  for (const auto& cake : cakes_to_leave(visit.records(), visit.at())) {
    Json::Array stopped;
    for (const auto& words : cake.stopped) stopped.emplace_back(words);
    list.push_back(Json{Json::Object{{"cake", Json{cake.id.text()}},
                                     {"name", Json{cake.name}},
                                     {"event", Json{format_date(cake.event)}},
                                     {"boxes", Json{cake.boxes}},
                                     {"allergy", Json{cake.allergy}},
                                     {"released", Json{cake.released}},
                                     {"nobody_may", Json{cake.nobody_may}},
                                     {"outcome", Json{cake.outcome}},
                                     {"stopped", Json{std::move(stopped)}},
                                     {"cannot_tell", Json{cake.cannot_tell}}}});
  }
  auto members = api_headed(visit, "tierproof/cakes-to-leave/1");
  members.emplace("cakes", Json{std::move(list)});
  return api_told(std::move(members));
}

WebAnswer cake(Visit& visit) {
  const CakeId id{visit.part};
  if (!visit.records().state().cakes.contains(id)) return api_failed(404, "no cake of this number is on record");
  const auto* handed = visit.records().state().hand_over(id);
  const auto judged = judge_cake(visit.records(), id, handed == nullptr ? visit.at() : ZonedInstant{handed->happened, handed->offset});
  if (!judged) return api_refused(judged.error());
  Json::Array findings;
  for (const auto& finding : judged->findings) findings.push_back(json_of(finding));
  auto members = api_headed(visit, "tierproof/check/1");
  members.emplace("cake", Json{visit.part});
  members.emplace("all_shown", Json{all_shown(judged->findings)});
  members.emplace("findings", Json{std::move(findings)});
  members.emplace("plan", plan_json(judged->plan.words, judged->plan.note, ""));
  return api_told(std::move(members));
}

WebAnswer lists(Visit& visit) {
  Json::Array list;
  for (const auto& one : kitchen_lists()) list.push_back(Json{Json::Object{{"list", Json{one.name}}, {"holds", Json{one.holds}}}});
  auto members = api_headed(visit, "tierproof/lists/1");
  members.emplace("lists", Json{std::move(list)});
  return api_told(std::move(members));
}

WebAnswer list_of_things(Visit& visit) {
  const auto* list = find_list(visit.part);
  if (list == nullptr) return api_failed(404, "there is no such list");
  const DataTable table = table_to_save(*list, visit.records());
  Json::Array headings, rows;
  for (const auto& heading : table.headings) headings.emplace_back(heading);
  for (const auto& row : table.rows) {
    Json::Array cells;
    for (const auto& cell : row) cells.emplace_back(text_of(cell));
    rows.push_back(Json{std::move(cells)});
  }
  auto members = api_headed(visit, "tierproof/list/1");
  members.emplace("list", Json{visit.part});
  members.emplace("headings", Json{std::move(headings)});
  members.emplace("rows", Json{std::move(rows)});
  return api_told(std::move(members));
}

WebAnswer traced(Visit& visit) {
  const auto found = trace(visit.records(), visit.request.query["of"], {}, visit.at());
  if (!found) return api_refused(found.error());
  const auto things = [](const std::vector<TracedTold>& all) {
    Json::Array list;
    for (const auto& thing : all)
      list.push_back(Json{Json::Object{{"of", Json{thing.id}},
                                       {"words", Json{thing.words}},
                                       {"certain", Json{thing.certain}},
                                       {"where", Json{thing.where}},
                                       {"way", Json{thing.way}}}});
    return Json{std::move(list)};
  };
  auto members = api_headed(visit, "tierproof/traced/1");
  members.emplace("of", Json{found->id});
  members.emplace("into", things(found->into));
  members.emplace("from", things(found->from));
  return api_told(std::move(members));
}

WebAnswer inspection(Visit& visit) {
  const DaysAsked asked = days_asked(visit);
  if (!asked.wrong.empty()) return api_refused(asked.wrong);
  const auto found = inspect(visit.records(), {asked.from, asked.until}, visit.at());
  if (!found) return api_refused(found.error());
  return {200, "application/json", write_pretty(json_of(*found)), {}};
}

/// A reading of a sensor of its own: `{"reading": "4.5", "scale": "C", "at": "...", "key": "..."}`. It writes as nobody, by the device of
/// its name, and only of its own thermometer and place.
WebAnswer posted_reading(Visit& visit) {
  const std::string& header = visit.request.headers["authorization"];
  constexpr std::string_view bearer = "Bearer ";
  if (!header.starts_with(bearer)) return api_failed(401, "a sensor shows its token");
  const auto known = visit.site.access().sensor_of(std::string_view{header}.substr(bearer.size()), visit.now);
  if (std::holds_alternative<std::monostate>(known)) return api_failed(401, "a sensor shows its token");
  if (const auto* many = std::get_if<TooManyPosts>(&known)) {
    WebAnswer answer = api_failed(429, "more readings than a sensor may post in a minute");
    answer.headers.emplace_back("Retry-After", std::to_string(std::chrono::duration_cast<std::chrono::seconds>(many->wait).count() + 1));
    return answer;
  }
  const Sensor& sensor = std::get<Sensor>(known);
  const auto body = parse_json(visit.request.body, "body");
  if (!body) return api_refused(body.error());
  const auto text = [&](const char* name) -> std::string {
    const Json* member = body->is_object() ? body->find(name) : nullptr;
    return member != nullptr && member->is_text() ? member->text() : "";
  };
  const auto read = parse_degrees(text("reading") + text("scale"));
  if (!read)
    return api_refused({Refusal{"", 0, "reading", "is no temperature with its scale", "write {\"reading\": \"4.5\", \"scale\": \"C\"}"}});
  ReadingTyped typed;
  typed.probe = sensor.probe;
  typed.about = sensor.about;
  typed.purpose = "chilled";
  typed.read = read;
  typed.at = text("at");
  const auto booked = visit.record_of_sensor(sensor, text("key"), [&](Session& session) { return type_reading(session, typed); });
  if (!booked) return api_refused(visit.wrong);
  return api_told({{"schema", Json{"tierproof/booked/1"}},
                   {"note", Json{static_cast<std::int64_t>(booked->sequences.front())}},
                   {"already", Json{booked->already}}});
}

}  // namespace

WebAnswer api_told(Json::Object members, int status) {
  return {status, "application/json", write_canonical(Json{std::move(members)}) + "\n", {}};
}
WebAnswer api_failed(int status, const std::string& message) {
  return api_told({{"schema", Json{"tierproof/failed/1"}}, {"message", Json{message}}}, status);
}
WebAnswer api_refused(const Refusals& refusals) {
  Json::Array list;
  for (const auto& refusal : refusals)
    list.push_back(
        Json{Json::Object{{"field", Json{refusal.field}}, {"message", Json{refusal.message}}, {"remedy", Json{refusal.remedy}}}});
  return api_told({{"schema", Json{"tierproof/refused/1"}}, {"refused", Json{std::move(list)}}}, 422);
}
Json::Object api_headed(Visit& visit, const char* schema) {
  Json::Object members{{"schema", Json{schema}}, {"head", Json{format_head(visit.records().head())}}};
  if (visit.records().kitchen().demo) members.emplace("demo", Json{true});
  return members;
}
std::vector<Route> api_routes() {
  return {{"GET", "/api/v1/who", For::reader, who_am_i},           {"GET", "/api/v1/packs", For::reader, packs},
          {"GET", "/api/v1/places", For::reader, places},          {"GET", "/api/v1/cakes", For::reader, cakes},
          {"GET", "/api/v1/cakes/*", For::reader, cake},           {"GET", "/api/v1/lists", For::reader, lists},
          {"GET", "/api/v1/lists/*", For::reader, list_of_things}, {"GET", "/api/v1/trace", For::reader, traced},
          {"GET", "/api/v1/inspection", For::reader, inspection},  {"POST", "/api/v1/readings", For::sensor, posted_reading}};
}

}  // namespace tierproof::web
