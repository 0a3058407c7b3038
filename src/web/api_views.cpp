// What a script may read besides the packs, places and cakes: the other views that the pages show.
#include "api_told.h"
#include "parts.h"
#include "routes.h"
#include "tierproof/app/attaching.h"
#include "tierproof/app/cake_papers.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/keeping.h"
#include "tierproof/app/kept_until.h"
#include "tierproof/app/kit_care.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/regular.h"

namespace tierproof::web {
namespace {

Json texts(const std::vector<std::string>& all) {
  Json::Array list;
  for (const auto& one : all) list.emplace_back(one);
  return Json{std::move(list)};
}
Json number(std::uint64_t value) { return Json{static_cast<std::int64_t>(value)}; }

WebAnswer order_for_scripts(Visit& visit) {
  const auto order = order_of_work(visit.records(), visit.request.query.every("recipe"));
  if (!order) return api_refused(order.error());
  auto members = api_headed(visit, "tierproof/order-of-work/1");
  members.emplace("recipes", texts(order->recipes));
  members.emplace("to_clean", texts(order->to_clean));
  members.emplace("lying_there_now", texts(order->lying));
  return api_told(std::move(members));
}

WebAnswer counter_for_scripts(Visit& visit) {
  const DaysAsked asked = days_asked(visit);
  if (!asked.wrong.empty()) return api_refused(asked.wrong);
  const auto list = counter_list_of(visit.records(), {asked.from, asked.until, SheetPaper::a4}, visit.at());
  if (!list) return api_refused(list.error());
  auto members = api_headed(visit, "tierproof/counter-now/1");
  members.emplace("list", json_of(list->content));
  return api_told(std::move(members));
}

WebAnswer keeps_for_scripts(Visit& visit) {
  const auto keeps = how_it_keeps(visit.records(), visit.part, visit.at());
  if (!keeps) return api_refused(keeps.error());
  Json::Array lines;
  for (const auto& line : keeps->lines)
    lines.push_back(Json{Json::Object{{"about", Json{line.about}}, {"says", Json{line.says}}, {"rests_on", Json{line.rests_on}}}});
  auto members = api_headed(visit, "tierproof/keeps-now/1");
  members.emplace("of", Json{keeps->of});
  members.emplace("name", Json{keeps->name});
  members.emplace("answered", Json{keeps->answered});
  members.emplace("lines", Json{std::move(lines)});
  return api_told(std::move(members));
}

WebAnswer kept_for_scripts(Visit& visit) {
  const auto view = kept_until(visit.records(), visit.today());
  if (!view) return api_refused(view.error());
  Json::Array lines;
  for (const auto& line : view->lines) {
    Json::Object one{{"kind", Json{line.kind}},
                     {"thing", Json{line.thing}},
                     {"state", Json{term_of(line.state)}},
                     {"why", Json{line.why}},
                     {"held_by", texts(line.held_by)}};
    if (line.last) one.emplace("last_day", Json{format_date(*line.last)});
    lines.push_back(Json{std::move(one)});
  }
  auto members = api_headed(visit, "tierproof/kept-now/1");
  members.emplace("on", Json{format_date(view->on)});
  members.emplace("rules", Json{view->rules});
  members.emplace("lines", Json{std::move(lines)});
  return api_told(std::move(members));
}

Json due_items(const std::vector<DueItem>& items) {
  Json::Array list;
  for (const auto& item : items) {
    Json::Object one{{"sort", Json{item.sort}},
                     {"name", Json{item.name}},
                     {"due", Json{format_date(item.day.due.value_or(item.day.by_rule))}},
                     {"state", Json{term_of(item.state)}},
                     {"not_as_it_should_be", texts(item.wanting)}};
    if (item.note) one.emplace("note", number(*item.note));
    list.push_back(Json{std::move(one)});
  }
  return Json{std::move(list)};
}

WebAnswer due_for_scripts(Visit& visit) {
  const auto due = due_on(visit.records(), visit.today());
  Json::Array not_fine;
  for (const auto& wanting : due.not_fine)
    not_fine.push_back(
        Json{Json::Object{{"sort", Json{wanting.sort}}, {"note", number(wanting.note)}, {"wanting", texts(wanting.wanting)}}});
  auto members = api_headed(visit, "tierproof/due-now/1");
  members.emplace("on", Json{format_date(due.on)});
  members.emplace("working", Json{due.working});
  members.emplace("due", due_items(due.due));
  members.emplace("open_from_before", due_items(due.open));
  members.emplace("not_as_it_should_be", Json{std::move(not_fine)});
  return api_told(std::move(members));
}

WebAnswer matters_for_scripts(Visit& visit) {
  const auto matters = open_matters(visit.records(), visit.at());
  if (!matters) return api_refused(matters.error());
  Json::Array list;
  for (const auto& matter : *matters)
    list.push_back(Json{Json::Object{
        {"id", Json{matter.id}}, {"since", Json{matter.since}}, {"what", Json{matter.what}}, {"touches", texts(matter.touches)}}});
  auto members = api_headed(visit, "tierproof/open-matters-now/1");
  members.emplace("matters", Json{std::move(list)});
  return api_told(std::move(members));
}

WebAnswer plan_for_scripts(Visit& visit) {
  const auto version = plan_now(visit.records());
  const auto due = plan_review_due(visit.records());
  Json::Array rows;
  for (const auto& row : plan_of(visit.records(), version).rows)
    rows.push_back(Json{Json::Object{{"row", Json{row.id}},
                                     {"words", Json{row.words}},
                                     {"hazard", Json{row.hazard}},
                                     {"limit", Json{row.limit}},
                                     {"how_checked", Json{row.checked}},
                                     {"when_missed", Json{row.when_missed}},
                                     {"who", Json{row.who}}}});
  auto members = api_headed(visit, "tierproof/plan-now/1");
  members.emplace("version", Json{version.words});
  members.emplace("review_due", Json{due.is_due()});
  members.emplace("since_review", texts(due.since));
  members.emplace("rows", Json{std::move(rows)});
  return api_told(std::move(members));
}

WebAnswer attached_for_scripts(Visit& visit) {
  const auto attached = attached_to(visit.records(), visit.part);
  if (!attached) return api_refused(attached.error());
  Json::Array files;
  for (const auto& one : *attached)
    files.push_back(Json{Json::Object{{"note", number(one.note->sequence)},
                                      {"about", Json{one.note->value.about}},
                                      {"shows", Json{one.note->value.shows.text.value_or("")}},
                                      {"media_type", Json{one.note->value.media_type}},
                                      {"bytes", Json{one.note->value.file_bytes}},
                                      {"sha256", Json{one.note->value.file_sha256}},
                                      {"wrong", Json{one.wrong}}}});
  auto members = api_headed(visit, "tierproof/attached-now/1");
  members.emplace("files", Json{std::move(files)});
  return api_told(std::move(members));
}

}  // namespace

std::vector<Route> api_view_routes() {
  return {{"GET", "/api/v1/order-of-work", For::reader, order_for_scripts},
          {"GET", "/api/v1/counter", For::reader, counter_for_scripts},
          {"GET", "/api/v1/keeps/*", For::reader, keeps_for_scripts},
          {"GET", "/api/v1/kept", For::owner, kept_for_scripts},
          {"GET", "/api/v1/due", For::reader, due_for_scripts},
          {"GET", "/api/v1/matters", For::reader, matters_for_scripts},
          {"GET", "/api/v1/plan", For::reader, plan_for_scripts},
          {"GET", "/api/v1/attached/*", For::reader, attached_for_scripts}};
}

}  // namespace tierproof::web
