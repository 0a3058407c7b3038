#include <fmt/format.h>

#include "members.h"
#include "tierproof/kitchen/plan.h"

namespace tierproof {

// clang-format off
template <class V, Describes<PlanLimit> T> void describe_members(V& v, T& l) {
  v.one_of("what", l.what, plan_limit_names()); v.degrees("degrees", l.degrees); v.integer("minutes", l.minutes, 1, 10'080); v.integer("days", l.days, 1, 3650);
  v.integer("seconds", l.seconds, 0, 86'400); v.text("heat_row", l.heat_row);
}
template <class V, Describes<PlanRow> T> void describe_members(V& v, T& r) {
  v.needed("id", r.id); v.integer("order", r.order, 1, 1'000'000); v.needed("step", r.step); v.some_texts("sorts", r.sorts); v.needed("hazard", r.hazard);
  v.one_of("likelihood", r.likelihood, plan_likelihoods()); v.one_of("severity", r.severity, plan_severities()); v.needed("significance", r.significance);
  v.one_of("point", r.point, plan_points()); v.needed("point_because", r.point_because); v.needed("control", r.control); v.needed("words", r.words);
  v.needed("limit", r.limit); v.needed("checked", r.checked); v.needed("how_often", r.how_often); v.needed("when_missed", r.when_missed);
  v.needed("who", r.who); v.some_texts("records", r.records); v.texts("met_by", r.met_by); v.each("limits", r.limits);
  v.maybe_one_of("not_met", r.not_met, plan_policies()); v.maybe_one_of("not_shown", r.not_shown, plan_policies());
  v.needed("source", r.source); v.needed("clause", r.clause); v.text("note", r.note);
}
template <class V, Describes<PlanSource> T> void describe_members(V& v, T& s) {
  v.needed("key", s.key); v.needed("title", s.title); v.needed("publisher", s.publisher); v.needed("edition", s.edition); v.text("link", s.link);
  v.date("read_on", s.read_on); v.date("review_by", s.review_by);
}
template <class V, Describes<HazardPlan> T> void describe_members(V& v, T& p) {
  v.needed("title", p.title); v.needed("about", p.about); v.needed("scope", p.scope); v.needed("users", p.users); v.needed("flow", p.flow);
  v.needed("verified", p.verified); v.integer("review_months", p.review_months, 1, 60); v.some("sources", p.sources); v.some("rows", p.rows);
}
template <class V, Describes<PlanReviewed> T> void describe_members(V& v, T& r) {
  v.sequence("plan", r.plan); v.one_of("changed", r.changed, {"nothing", "something"}); v.words("what", r.what); v.words("signed", r.signed_by);
}
template <class V, Describes<Advice> T> void describe_members(V& v, T& a) {
  v.words("said_by", a.said_by); v.needed("office", a.office); v.date("on", a.on); v.needed("topic", a.topic); v.text("about", a.about);
  v.words("words", a.words);
}
// clang-format on

TIERPROOF_BODY(HazardPlan);
TIERPROOF_BODY(PlanReviewed);
TIERPROOF_BODY(Advice);

}  // namespace tierproof
