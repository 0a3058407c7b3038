#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <vector>

#include "checking.h"
#include "names_in_text.h"
#include "tierproof/app/planning.h"
#include "tierproof/rules/plan_file.h"

namespace tierproof {
namespace {

/// A text of a plan and where it stands.
struct PlanText {
  std::string field;
  std::string text;
};

/// Every text of a plan, since all of it may be printed.
std::vector<PlanText> texts_of(const HazardPlan& plan) {
  std::vector<PlanText> all{{"title", plan.title}, {"note", plan.about}, {"scope", plan.scope},
                            {"users", plan.users}, {"flow", plan.flow},  {"verified", plan.verified}};
  const auto add = [&](const std::string& field, const std::string& text) { all.push_back({field, text}); };
  for (const auto& source : plan.sources) {
    const std::string where = fmt::format("source {}, ", source.key);
    add(where + "title", source.title);
    add(where + "publisher", source.publisher);
    add(where + "edition", source.edition);
  }
  for (const auto& row : plan.rows) {
    const std::string where = fmt::format("row {}, ", row.id);
    add(where + "id", row.id);
    add(where + "words", row.words);
    add(where + "step", row.step);
    add(where + "hazard", row.hazard);
    add(where + "significance", row.significance);
    add(where + "point_because", row.point_because);
    add(where + "control", row.control);
    add(where + "limit", row.limit);
    add(where + "clause", row.clause);
    add(where + "checked", row.checked);
    add(where + "how_often", row.how_often);
    add(where + "when_missed", row.when_missed);
    add(where + "who", row.who);
    add(where + "note", row.note);
    for (const auto& record : row.records) add(where + "records", record);
  }
  return all;
}

/// Texts of a plan stay for good and in clear: none makes a claim, and none names a person of the kitchen. What the starting plan says
/// word for word names nobody.
void check_texts(Checking& checking, const State& state, const HazardPlan& starting, const HazardPlan& plan) {
  std::set<std::string> of_starting;
  for (auto& one : texts_of(starting)) of_starting.insert(std::move(one.text));
  for (const auto& [field, text] : texts_of(plan)) {
    checking.free_words(field, text);
    if (of_starting.contains(text)) continue;
    if (const std::string part = part_of_a_name_in(state, text); !part.empty())
      checking.refuse(field, fmt::format("\"{}\" is part of the name of a recorded person, and a plan is kept for good", part),
                      "write what they do, such as the owner or whoever works last; a plan names nobody");
  }
}

/// What a control on cakes goes by stays, and lets nobody release who could not before.
void check_controls(Checking& checking, const HazardPlan& starting, const HazardPlan& plan) {
  const auto policy = [&](const PlanRow& row, const char* member, const std::string& was, const std::string& is) {
    if (was == "never" && is != "never")
      checking.refuse(fmt::format("row {}, {}", row.id, member), fmt::format("\"{}\" would let a person release where nobody may", is),
                      "write \"never\": a plan makes a stop graver, never lighter");
  };
  for (const auto& row : starting.rows) {
    if (!row.on_cakes()) continue;
    const PlanRow* own = plan.row(row.id);
    if (own == nullptr) {
      checking.refuse(fmt::format("row {}", row.id), fmt::format("is left out, and the control \"{}\" on every cake goes by it", row.words),
                      "put it back; all that it says may be changed, but not its id");
    } else if (!own->on_cakes()) {
      checking.refuse(fmt::format("row {}, not_met", row.id), "is left out, and a control on every cake goes by it",
                      fmt::format("write not_met \"{}\" and not_shown \"{}\", or stricter", row.not_met, row.not_shown));
    } else {
      policy(row, "not_met", row.not_met, own->not_met);
      policy(row, "not_shown", row.not_shown, own->not_shown);
    }
  }
  for (const auto& row : plan.rows) {
    const PlanRow* known = starting.row(row.id);
    if (row.on_cakes() && (known == nullptr || !known->on_cakes()))
      checking.refuse(fmt::format("row {}, not_met", row.id),
                      "no control on cakes goes by this row, so nothing would ever be stopped by it", "leave not_met and not_shown out");
  }
}

}  // namespace

Result<PlanTaken> take_plan(Session& session, const GivenDocument& document) {
  Checking checking{session};
  checking.person();
  checking.in_file(document.name);
  const auto read = read_plan_document(document.text, document.name);
  const PlanVersion before = plan_now(session);
  std::vector<PlanChange> changes;
  if (!read) {
    checking.take(read.error());
  } else {
    check_texts(checking, session.state(), session.packs().starting_plan(), *read);
    check_controls(checking, session.packs().starting_plan(), *read);
    const auto terms = temperature_terms_by(session, session.today(), PlanVersion{});
    if (terms) {
      checking.take(laxer_than(session, *terms, *read, document.name));
    } else {
      checking.take(terms.error());
    }
    changes = changes_between(plan_of(session, before), *read);
    if (changes.empty() && before.note != 0)
      checking.refuse("rows", fmt::format("the {} says the same", before.words),
                      "change what is otherwise now; to have looked is plan-review");
  }
  if (!checking.good()) return checking.refusals();
  auto booked = book_one(session, checking, *read, "plan", checking.moment("now"));
  if (!booked) return booked.error();
  return PlanTaken{std::move(booked).value(), std::move(changes)};
}

Result<Booked> review_plan(Session& session, const PlanReviewing& reviewing) {
  Checking checking{session};
  checking.person();
  const State& state = session.state();
  if (state.plans.empty())
    checking.refuse("plan", "the kitchen has taken over no plan yet, so there is none to review",
                    "write the starting plan with plan --write FILE, make it fit the work, and take it over with plan-take");
  checking.choice("--changed", reviewing.changed, {"nothing", "something"});
  if (reviewing.changed == "something") checking.words("--what", reviewing.what);
  if (reviewing.changed == "nothing" && !reviewing.what.empty())
    checking.refuse("--what", "tells of a change, and --changed says that there was none", "write --changed something, or leave it out");
  const auto person = state.people.find(PersonId{session.entrance().person});
  if (person != state.people.end() && person->second.value.name.text != reviewing.signed_by)
    checking.refuse("--signed", fmt::format("\"{}\" is not the name that {} is recorded under", reviewing.signed_by, person->first.text()),
                    "whoever looked signs with their own name, and records it with --by themselves");
  const auto at = checking.moment(reviewing.at);
  if (!state.plans.empty() && at.at < state.plans.back().happened) {
    const auto& plan = state.plans.back();
    checking.refuse("--at", fmt::format("is before this plan was taken over, on {}", format_date_long(day_of(plan.happened, plan.offset))),
                    "write when you looked at the plan in force, or leave it out for now");
  }
  if (!checking.good()) return checking.refusals();
  const Words what = reviewing.what.empty() ? Words{} : session.seal(reviewing.what);
  return book_one(session, checking, PlanReviewed{state.plans.back().place, reviewing.changed, what, session.seal(reviewing.signed_by)},
                  "plan", at);
}

}  // namespace tierproof
