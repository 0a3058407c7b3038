#include "later_entries.h"
#include "list_rows.h"

namespace tierproof {

std::vector<KitchenList> lists_of_plan() {
  return {
      list_of_parts<HazardPlan>("plan-rows", "rows of the hazard plan, of every version that was taken over", &State::plans,
                                {"version", "row", "step", "sorts", "hazard", "likelihood", "severity", "significance", "point", "control",
                                 "limit", "source", "checked", "how_often", "when_missed", "who", "records"},
                                [](const Session&, const Recorded<HazardPlan>& plan) {
                                  std::vector<DataRow> rows;
                                  for (const PlanRow& r : plan.value.rows)
                                    rows.push_back(cells(plan.sequence, r.id, r.step, r.sorts, r.hazard, r.likelihood, r.severity,
                                                         r.significance, r.point, r.control, r.limit, plan.value.source_of(r), r.checked,
                                                         r.how_often, r.when_missed, r.who, r.records));
                                  return rows;
                                }),
      list_of<PlanReviewed>("plan-reviews", "reviews of the hazard plan, and who signed", &State::plan_reviews,
                            {"version", "changed", "what", "signed"},
                            [](const Session&, const Recorded<PlanReviewed>& r) {
                              return cells(r.value.plan, r.value.changed, r.value.what, r.value.signed_by);
                            }),
      list_of<Evidence>("attached", "pictures and documents that are attached, and to what", &State::evidence,
                        {"about", "of", "of_note", "shows", "media_type", "bytes", "file_sha256"},
                        [](const Session&, const Recorded<Evidence>& e) {
                          return cells(e.value.about, std::string{words_of_kind(e.value.kind)}, e.value.note, e.value.shows,
                                       e.value.media_type, e.value.file_bytes, e.value.file_sha256);
                        }),
      list_of<Advice>("advice", "what officers said, and of which row", &State::advice,
                      {"office", "on", "topic", "about", "said_by", "words"},
                      [](const Session&, const Recorded<Advice>& a) {
                        return cells(a.value.office, a.value.on, a.value.topic, a.value.about, a.value.said_by, a.value.words);
                      }),
  };
}

}  // namespace tierproof
