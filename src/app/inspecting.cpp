#include "tierproof/app/inspecting.h"

#include <algorithm>
#include <filesystem>
#include <set>

#include "booking_papers.h"
#include "checking.h"
#include "inspection_sections.h"
#include "label_contents.h"
#include "series.h"
#include "tierproof/app/attaching.h"
#include "tierproof/app/lists.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/thermometers.h"
#include "tierproof/sums/due.h"
#include "tierproof/text/csv.h"

namespace tierproof {
namespace fs = std::filesystem;
namespace {

constexpr int longest_days = 366;
constexpr std::size_t names_told = 6;  // of recipes on page one; all of them stand in batches.csv
constexpr std::size_t often = 3;       // the same reason to release against a verdict, so often, stands on page one (a choice)

Result<InspectedPeriod> period_of(const Session& session, const InspectionRequest& request, ZonedInstant at) {
  InspectedPeriod period;
  const Date today = day_of(at.at, at.offset);
  period.at = at;
  period.until = std::min(request.until.value_or(today), today);
  period.from = request.from.value_or(add_days(period.until, 1 - days_inspected));
  Refusals refusals;
  if (period.from > today)
    refusals.push_back({"", 0, "--from", fmt::format("{} is later than today", format_date(period.from)), "name a day that has been"});
  else if (period.until < period.from)
    refusals.push_back({"", 0, "--until", fmt::format("{} is before {}", format_date(period.until), format_date(period.from)),
                        "write the earlier day with --from"});
  else if (add_days(period.from, longest_days) <= period.until)
    refusals.push_back({"", 0, "--from", "the period is longer than a year", "take at most 366 days at a time"});
  if (!refusals.empty()) return refusals;
  period.begin = first_moment_of(session, period.from);
  period.end = std::min(first_moment_of(session, add_days(period.until, 1)), at.at + Span{1});
  return period;
}

std::int64_t days_in(const InspectedPeriod& period) {
  return (std::chrono::sys_days{period.until} - std::chrono::sys_days{period.from}).count() + 1;
}

/// The regular records of one sort of the starting set: who was trained, when somebody looked through the records.
DataTable made_of_sort(const DataTable& done, const std::string& sort) {
  DataTable table{sort, done.headings, {}};
  for (const auto& row : done.rows) {
    if (RowOf{done, row}["sort"] == sort) table.rows.push_back(row);
  }
  return table;
}

/// Builds the record's words; every figure among them leaves its rule behind.
class Contents {
 public:
  Contents(const Session& session, const InspectedPeriod& period, InspectionFigures& figures, const TemperatureTerms& terms)
      : session_{session}, period_{period}, figures_{figures}, terms_{terms} {}

  void page_one(InspectionContent& content, const std::vector<InspectedPlace>& places) {
    kitchen(content);
    cold(content, places);
    controls(content);
    matters(content);
    keeping(content);
    content.wanting = std::move(wanting_);
  }

 private:
  /// A line of what is wanting, where there is some.
  void want(std::int64_t count, const std::string& words) {
    if (count > 0) wanting_.push_back(words);
  }
  std::int64_t rows(const std::string& id, const std::string& table, InspectionFigures::Where where, const std::string& of = {}) {
    return figures_.rows(id, of, table, std::move(where));
  }

  void kitchen(InspectionContent& content) {
    const State& state = session_.state();
    std::vector<std::string> people, recipes;
    for (const auto& [id, person] : state.people)
      people.push_back(fmt::format("{} ({}{})", person.value.name.text.value_or(id.text() + ", name erased"), person.value.role,
                                   person.value.left ? ", left on " + format_date_long(*person.value.left) : std::string{}));
    std::set<std::string> made;
    std::int64_t batches = 0;
    for (const auto& row : figures_.table("batches").rows) made.insert(RowOf{figures_.table("batches"), row}["recipe"]);
    batches = rows("batches-made", "batches", {});
    for (const auto& id : made) {
      const auto recipe = state.recipes.find(RecipeId{id});
      recipes.push_back(recipe == state.recipes.end() ? id : recipe->second.value.name);
    }
    if (recipes.size() > names_told) {
      const std::size_t more = recipes.size() - names_told;
      recipes.resize(names_told);
      recipes.push_back(fmt::format("and {} more", more));
    }
    const auto& kitchen = *state.kitchen;
    if (const Date begun = day_of(kitchen.happened, kitchen.offset); period_.from < begun)
      wanting_.push_back(
          fmt::format("The records begin on {} (note {}): nothing is known of the days before", format_date_long(begun), kitchen.sequence));
    content.kitchen.push_back({"Who works here", people.empty() ? "nobody recorded" : fmt::format("{}", fmt::join(people, ", "))});
    content.kitchen.push_back(
        {"What is made", fmt::format("{}, and {} by {}{}", counted(rows("cakes", "cakes", {}), "cake", "cakes"),
                                     counted(batches, "batch", "batches"), counted(std::int64_t(made.size()), "recipe", "recipes"),
                                     recipes.empty() ? "" : fmt::format(": {}", fmt::join(recipes, ", ")))});
    const HazardPlan& plan = plan_of(session_, plan_now(session_));
    content.kitchen.push_back({"Who eats it", plan.users.empty() ? "not recorded" : plan.users});
  }

  void cold(InspectionContent& content, const std::vector<InspectedPlace>& places) {
    content.cold.heads = {
        "Fridge or freezer",    "Days worked",  "Recorded",
        "Typed late",           "Missing",      fmt::format("Unread over {}", format_span(terms_.longest_step("chilled hold"))),
        "Thermometer in doubt", "Time too warm"};
    for (const auto& place : places) {
      const std::string id = place.id.text();
      const auto days = [&](const char* figure, InspectionFigures::Where where) {
        where.emplace_back("place", id);
        return rows(figure, "place-days", std::move(where), id);
      };
      const std::int64_t worked = days("days-worked", {{"worked", "yes"}});
      const std::int64_t missing = days("days-missing", {{"missing", "yes"}});
      const std::int64_t recorded = days("days-recorded", {{"recorded", "yes"}});
      const std::int64_t gaps = days("days-with-a-gap", {{"recorded", "yes"}, {"unread_too_long", "yes"}});
      const std::int64_t doubtful = days("days-unreliable", {{"unreliable", "yes"}});
      const std::int64_t late = figures_.sum("readings-typed-late", id, "place-days", {{"place", id}}, "typed_late");
      const std::int64_t surely = days("days-above", {{"above_limit", "yes"}});
      const std::int64_t perhaps = days("days-perhaps-above", {{"above_limit", "perhaps"}});
      rows("warm-times", "warm-times", {{"place", id}}, id);
      std::vector<std::string> warm;
      for (const auto& stay : place.watched) {
        const char* in = stay.measured_food ? "food" : "air";
        if (!stay.limit)
          warm.push_back("no limit for chilled food applies");
        else if (stay.warm.empty())
          warm.push_back(fmt::format("{}: none read above {}{}", in, stay.limit_words,
                                     stay.reliable ? "" : ", by a thermometer not to be relied on all that time"));
        else
          warm.push_back(fmt::format("{}: above {} {}", in, stay.limit_words, bounds_in_words(together(stay.warm))));
        figures_.sum("warm-at-least-s", fmt::format("{}/{}", id, stay.thermometer), "warm-times",
                     {{"place", id}, {"thermometer", stay.thermometer}}, "at_least_s");
      }
      if (warm.empty()) warm.push_back("nothing was read");
      content.cold.rows.push_back({{place.name, fmt::format("{}", worked), fmt::format("{}", recorded),
                                    counted(late, "reading", "readings"), counted(missing, "day", "days"), counted(gaps, "day", "days"),
                                    counted(doubtful, "day", "days"), fmt::format("{}", fmt::join(warm, "; "))},
                                   missing + late + doubtful + surely + perhaps > 0});
      std::vector<std::string> days_told;
      const auto tell = [&](std::int64_t count, const std::string& words) {
        if (count > 0) days_told.push_back(words);
      };
      tell(missing, fmt::format("no temperature on {} on which somebody worked", counted(missing, "day", "days")));
      tell(surely, fmt::format("too warm on {}", counted(surely, "day", "days")));
      tell(perhaps, fmt::format("perhaps too warm, within the thermometer's error, on {}", counted(perhaps, "day", "days")));
      tell(doubtful, fmt::format("on {} read only by a thermometer that could not be relied on then", counted(doubtful, "day", "days")));
      tell(late, fmt::format("{} typed later than they were read", counted(late, "temperature", "temperatures")));
      if (!days_told.empty()) wanting_.push_back(fmt::format("{}: {}", place.name, fmt::join(days_told, "; ")));
    }
  }

  void controls(InspectionContent& content) {
    const std::int64_t checks = rows("thermometer-checks", "thermometer-checks", {});
    const std::int64_t failed = rows("thermometer-checks-failed", "thermometer-checks", {{"good", "no"}});
    std::vector<std::string> standing;
    for (const CheckNow& now : thermometers_now(session_, terms_, period_.at)) {
      if (now.standing.is == CheckStanding::Is::good || now.standing.is == CheckStanding::Is::due) continue;
      standing.push_back(now.name);
      wanting_.push_back(fmt::format("{}: {}", now.name, now.standing.words));
    }
    want(failed, fmt::format("{} failed{}", counted(failed, "thermometer check", "thermometer checks"),
                             figures_.noted("thermometer-checks", {{"good", "no"}})));
    content.controls.push_back(
        {"Thermometer checks",
         fmt::format("{}, of them {} failed{}{}", checks, failed, figures_.noted("thermometer-checks", {}),
                     standing.empty() ? "" : fmt::format("; not to be relied on now: {}", fmt::join(standing, ", ")))});
    std::vector<std::string> eggs;
    for (const Verdict verdict : {Verdict::shown, Verdict::not_shown, Verdict::not_met, Verdict::outside_model}) {
      const std::int64_t count =
          rows("egg-steps", "egg-steps", {{"verdict", std::string{term_of(verdict)}}}, std::string{term_of(verdict)});
      if (count > 0) eggs.push_back(fmt::format("{} {}", count, words_of(verdict)));
      if (verdict != Verdict::shown)
        want(count, fmt::format("{}: {}{}", counted(count, "egg step", "egg steps"), words_of(verdict),
                                figures_.noted("egg-steps", {{"verdict", std::string{term_of(verdict)}}})));
    }
    const std::int64_t without = rows("egg-steps", "egg-steps", {{"verdict", "not judged"}}, "not judged");
    if (without > 0) eggs.push_back(fmt::format("{} in no cake that was judged", without));
    content.controls.push_back({"Egg steps", eggs.empty() ? "none to judge" : fmt::format("{}", fmt::join(eggs, ", "))});
    const std::int64_t stated = rows("cakes-with-a-stated-allergy", "cakes", {{"allergy", "named"}});
    const std::int64_t asked_not = rows("cakes-nobody-asked", "cakes", {{"allergy", "not asked"}}) +
                                   rows("cakes-no-answer", "cakes", {{"allergy", "nothing recorded"}});
    want(asked_not, fmt::format("{} without an answer to the allergy question", counted(asked_not, "cake", "cakes")));
    content.controls.push_back({"Cakes with a stated allergy", fmt::format("{} of {}", stated, rows("cakes", "cakes", {}))});
  }

  void matters(InspectionContent& content) {
    const auto line = [&](const std::string& name, const std::string& table, InspectionFigures::Where all, const std::string& one,
                          const std::string& more) {
      InspectionFigures::Where still = all;
      still.emplace_back("open", "yes");
      const std::string all_noted = figures_.noted(table, all);
      const std::string open_noted = figures_.noted(table, still);
      const std::int64_t count = rows(table, table, std::move(all), name);
      const std::int64_t open = rows(table + "-open", table, std::move(still), name);
      std::vector<std::string> food;
      if (table == "troubles") {
        for (const char* became : {"used", "remade", "binned", "no food touched"}) {
          const std::int64_t times = rows("troubles-food", "troubles", {{"became_of_the_food", became}}, became);
          if (times > 0) food.push_back(fmt::format("{} {}", times, became));
        }
      }
      want(open, fmt::format("{} still open{}", counted(open, one, more), open_noted));
      content.matters.push_back({name, count == 0 ? std::string{"none"}
                                                  : fmt::format("{}, of them {} open{}{}", count, open, all_noted,
                                                                food.empty() ? "" : fmt::format("; the food: {}", fmt::join(food, ", ")))});
    };
    line("What went wrong", "troubles", {}, "thing that went wrong is", "things that went wrong are");
    const std::int64_t against = rows("overrides", "overrides", {});
    const std::int64_t cakes = figures_.distinct("cakes-released-against", "", "overrides", {}, "cake");
    want(against, fmt::format("{} released against controls that were not met as recorded, {} in all, each with a reason",
                              counted(cakes, "cake was", "cakes were"), against));
    content.matters.push_back(
        {"Released against a control", against == 0 ? std::string{"none"}
                                                    : fmt::format("{} in {}{}", counted(against, "time", "times"),
                                                                  counted(cakes, "cake", "cakes"), figures_.noted("overrides", {}))});
    reasons_used_often();
    const std::int64_t missed = rows("cakes-with-a-limit-missed", "cakes", {{"limit_missed", "yes"}});
    const std::int64_t left = rows("cakes-left-unanswered", "cakes", {{"left_unanswered", "yes"}});
    want(left,
         fmt::format("{} of which the records now show something that nobody answered for{}", counted(left, "cake left", "cakes left"),
                     figures_.noted("cakes", {{"left_unanswered", "yes"}}, "hand_over_note")));
    const std::int64_t unknown = figures_.distinct("cakes-with-an-allergen-not-known", "", "allergens", {{"word", "not known"}}, "cake");
    want(unknown, fmt::format("{} with an allergen that is not known", counted(unknown, "cake", "cakes")));
    const std::int64_t unjudged = rows("cakes-not-judged", "cakes", {{"judged", "no"}, {"state", "handed over"}}) +
                                  rows("cakes-not-judged", "cakes", {{"judged", "no"}, {"state", "released"}}, "released");
    want(unjudged, fmt::format("{} that cannot be judged", counted(unjudged, "cake", "cakes")));
    want(missed, fmt::format("{} with a limit that was missed{}", counted(missed, "cake", "cakes"),
                             figures_.noted("cakes", {{"limit_missed", "yes"}}, "order_note")));
    line("Complaints", "complaints", {}, "complaint is", "complaints are");
    line("Recalls", "recalls", {{"exercise", "no"}}, "recall is", "recalls are");
    const std::int64_t drills = rows("exercises", "recalls", {{"exercise", "yes"}});
    const std::int64_t changed = rows("notes-taken-back", "taken-back", {});
    content.matters.push_back({"Notes corrected or taken back",
                               changed == 0 ? std::string{"none"} : fmt::format("{}{}", changed, figures_.noted("taken-back", {}))});
    content.matters.push_back(
        {"Exercises in tracing",
         drills == 0 ? std::string{"none in this period"} : fmt::format("{}{}", drills, figures_.noted("recalls", {{"exercise", "yes"}}))});
  }

  void reasons_used_often() {
    std::set<std::string> told;
    const DataTable& table = figures_.table("overrides");
    for (const auto& row : table.rows) {
      const std::string reason = RowOf{table, row}["reason"];
      if (reason == "(erased)" || !told.insert(reason).second) continue;
      const auto same = std::count_if(table.rows.begin(), table.rows.end(), [&](const DataRow& other) {
        return RowOf{table, other}["reason"] == reason;
      });
      if (static_cast<std::size_t>(same) < often) continue;
      const std::int64_t times = rows("same-reason", "overrides", {{"reason", reason}});
      wanting_.push_back(fmt::format("The same reason was given {} times to release against a control: “{}”", times, reason));
    }
  }

  void keeping(InspectionContent& content) {
    const std::int64_t on_file = rows("pack-details", "to-look-at", {});
    const std::int64_t old = rows("pack-details-overdue", "to-look-at", {{"overdue", "yes"}});
    want(old, fmt::format("{} of packs nobody has compared for too long", counted(old, "set of details", "sets of details")));
    content.keeping.push_back({"Pack details", fmt::format("{} on file, {} overdue to be looked at", on_file, old)});
    const PlanReviewDue due = plan_review_due(session_);
    const std::string review =
        !due.taken
            ? "the starting plan, which the kitchen has not taken over"
            : fmt::format("{}; next by {}{}", due.last, format_date_long(due.due),
                          due.since.empty()
                              ? ""
                              : fmt::format(", and due now: {} changed since", counted(std::int64_t(due.since.size()), "thing", "things")));
    if (due.is_due())
      wanting_.push_back(due.taken ? "The hazard plan is due for a review"
                                   : "No hazard plan is taken over: the starting plan is nobody’s own");
    content.keeping.push_back({"Hazard plan", review});
    content.keeping.push_back({"Training", counted(rows("trainings", "training", {}), "record", "records") + " in this period"});
    const auto state = [&](DueState is) {
      return rows(fmt::format("regular-all-{}", term_of(is)), "regular-due", {{"state", std::string{term_of(is)}}});
    };
    const std::int64_t done = state(DueState::done), late = state(DueState::done_late), missed = state(DueState::missed),
                       over = state(DueState::overdue);
    const std::int64_t wrong = rows("regular-not-as-it-should-be", "regular-records", {{"as_it_should_be", "no"}});
    const std::int64_t open = rows("regular-open", "regular-records", {{"open", "yes"}});
    want(open, fmt::format("{} still open{}",
                           counted(open, "regular record of something not as it should be is",
                                   "regular records of something not as it should be are"),
                           figures_.noted("regular-records", {{"open", "yes"}})));
    want(late, fmt::format("{} done late", counted(late, "regular record", "regular records")));
    want(missed + over, fmt::format("{} missed or overdue", counted(missed + over, "regular record", "regular records")));
    want(wrong, fmt::format("{} not as it should be",
                            counted(wrong, "regular record says that something was", "regular records say that something was"),
                            figures_.noted("regular-records", {{"as_it_should_be", "no"}})));
    content.keeping.push_back(
        {"Regular records", figures_.table("regular-due").rows.empty()
                                ? std::string{"none was due in this period"}
                                : fmt::format("{} done, {} done late, {} missed, {} overdue", done, late, missed, over)});
  }

  const Session& session_;
  const InspectedPeriod& period_;
  InspectionFigures& figures_;
  const TemperatureTerms& terms_;
  std::vector<std::string> wanting_;
};

InspectionSection log_section(const Session& session, const WholeVerification& verified) {
  InspectionSection section{"The records themselves", {}, {}, {}, {}, {}};
  const auto& found = verified.records;
  section.facts = {{"Looked through", found.complaints.empty()
                                          ? fmt::format("{} notes, and nothing in them was changed", found.head.size)
                                          : fmt::format("{} complaints: {}", found.complaints.size(), fmt::join(found.complaints, "; "))},
                   {"Fingerprint in full", format_head(session.head())}};
  if (const auto wrong = verified.files_wrong.size(); verified.files > 0 || wrong > 0) {
    std::string told = fmt::format("{} as {} when attached", verified.files, verified.files == 1 ? "it was" : "they were");
    if (wrong > 0)  // where they lie is no business of a paper
      told += fmt::format("; NOT as attached, or not there: of {} {}, named by `tierproof verify`", wrong, wrong == 1 ? "note" : "notes");
    section.facts.push_back({"Pictures and documents attached", std::move(told)});
  }
  if (!found.complaints.empty()) {
    section.says = {
        "The records were changed by something else than this program, or the disk is failing: rely on none of this until it is known "
        "why."};
    return section;
  }
  section.says = {
      "What that shows: the notes are the same, in the same order, as when this fingerprint was made. What it does not show: that what was "
      "written was true when it was written, or that nothing was left out. Compare the fingerprint with those on papers printed before: "
      "tierproof verify --head."};
  return section;
}

/// Everything that the records say of a period, before it is told.
struct Gathered {
  InspectedPeriod period;
  TemperatureTerms terms;
  std::vector<DataTable> tables;
  std::vector<InspectedPlace> places;
};

Result<Gathered> gather(const Session& session, const InspectedPeriod& period) {
  const auto terms = temperature_terms_by(session, period.until, plan_now(session));
  if (!terms) return terms.error();
  const auto cakes = inspected_cakes(session, period);
  InspectedPlaces places = inspected_places(session, period, *terms);
  Gathered all{period, *terms, {}, std::move(places.places)};
  auto& tables = all.tables;
  tables.push_back(std::move(places.days));
  tables.push_back(std::move(places.warm_times));
  tables.push_back(egg_steps_table(session, period, cakes));
  tables.push_back(thermometer_checks_table(session, period, *terms));
  tables.push_back(cakes_table(session, cakes));
  tables.push_back(controls_table(session, cakes));
  tables.push_back(overrides_table(session, period));
  tables.push_back(allergens_table(session, cakes));
  tables.push_back(troubles_table(session, period));
  tables.push_back(complaints_table(session, period));
  tables.push_back(recalls_table(session, period));
  tables.push_back(regular_due_table(session, period));
  const DataTable records = regular_records_table(session, period);
  tables.push_back(records);
  tables.push_back(taken_back_table(session, period));
  tables.push_back(temperatures_table(session, period));
  tables.push_back(missed_checks_table(session, period));
  for (const char* name : {"batches", "packs", "cleanings", "advice", "plan-reviews"}) tables.push_back(listed_in(session, period, name));
  tables.push_back(pack_details_table(session));
  for (const char* name : {"people", "suppliers"}) tables.push_back(table_of(*find_list(name), session));
  for (const char* sort : {"training", "records-review"}) tables.push_back(made_of_sort(records, sort));
  return all;
}

/// What changed since the time of the same length before, or why nothing is compared.
InspectionSection compared(const Session& session, const InspectedPeriod& period, const InspectionFigures& now) {
  InspectedPeriod before;
  before.at = period.at;
  before.until = add_days(period.from, -1);
  before.from = add_days(period.from, -static_cast<int>(days_in(period)));
  before.begin = first_moment_of(session, before.from);
  before.end = period.begin;
  const auto& kitchen = *session.state().kitchen;
  const Date begun = day_of(kitchen.happened, kitchen.offset);
  InspectionSection none{"Compared with the time before", {}, {}, {}, {}, {}};
  if (before.from < begun) {
    none.says.push_back(
        fmt::format("The records begin on {}, so there is no time as long before this to compare with.", format_date_long(begun)));
    return none;
  }
  const auto gathered = gather(session, before);
  if (!gathered) {
    none.says.push_back(fmt::format("The time before cannot be told: {}", describe(gathered.error().front())));
    return none;
  }
  InspectionFigures then{gathered->tables};
  InspectionContent told;
  Contents{session, before, then, gathered->terms}.page_one(told, gathered->places);
  return compared_section(before, then, now);
}

}  // namespace

Result<Inspection> inspect(const Session& session, const InspectionRequest& request, ZonedInstant now) {
  ZonedInstant at = now;
  if (session.entrance().as_of && !session.notes().empty()) {  // what the records said then is not told of days that came after
    Instant last{};
    for (const Note& note : session.notes()) last = std::max(last, note.written);
    if (last < at.at) at = {last, session.offset_at(last)};
  }
  const auto period = period_of(session, request, at);
  if (!period) return period.error();
  auto gathered = gather(session, *period);
  if (!gathered) return gathered.error();
  Inspection inspection;
  inspection.from = period->from;
  inspection.until = period->until;
  inspection.tables = std::move(gathered->tables);
  const auto& tables = inspection.tables;
  InspectionFigures figures{tables};
  InspectionContent& content = inspection.content;
  content.demo = session.kitchen().demo;
  content.business = business_lines(session);
  content.reference = "inspection-record";
  content.period = fmt::format("{} to {}, {}", format_date_long(period->from), format_date_long(period->until),
                               counted(days_in(*period), "day", "days"));
  Contents{session, *period, figures, gathered->terms}.page_one(content, gathered->places);
  content.sections = inspection_sections(session, *period, gathered->places, gathered->terms, figures);
  content.sections.push_back(compared(session, *period, figures));
  content.sections.back().reviewed = true;
  const WholeVerification verified = verify_kitchen(session.store(), session.entrance().kitchen_file, std::nullopt);
  content.sections.push_back(log_section(session, verified));
  content.sections.back().reviewed = true;
  if (const std::size_t wrong = verified.files_wrong.size(); wrong > 0)
    content.wanting.insert(content.wanting.begin(), fmt::format("{} not as it was, or not there: see the last section",
                                                                counted(std::int64_t(wrong), "thing attached is", "things attached are")));
  if (const std::size_t wrong = verified.records.complaints.size(); wrong > 0)
    content.wanting.insert(content.wanting.begin(), fmt::format("THE RECORDS DO NOT HOLD: {}; see the last section",
                                                                counted(std::int64_t(wrong), "complaint", "complaints")));
  content.cautions = {
      "This is the business's own record of what was noted down. It says what was recorded, and certifies nothing of any food; the law of "
      "the place and the advice of its food authority come first.",
      "What nobody recorded cannot show here."};
  content.head = short_head(session);
  content.full_head = format_head(session.head());
  content.program = program_and_rules(session);
  content.drawn = drawn_line(session, at);
  inspection.figures = figures.all();
  for (auto& table : inspection.tables) table = marked_demo(std::move(table), session);
  return inspection;
}

Json json_of(const Inspection& inspection) {
  Json::Array figures, tables, wanting;
  for (const auto& figure : inspection.figures) {
    Json json{Json::Object{{"figure", Json{figure.id}}, {"value", Json{figure.value}}, {"counted", json_of(figure.rule)}}};
    if (!figure.of.empty()) json["of"] = Json{figure.of};
    figures.push_back(std::move(json));
  }
  Json temperatures;
  for (const auto& table : inspection.tables) {
    if (table.name == "temperatures") {  // by the hundred thousand: beside the record, named by what they hash to
      temperatures = Json{Json::Object{{"rows", Json{static_cast<std::int64_t>(table.rows.size())}},
                                       {"csv_sha256", Json{to_hex(sha256(write_csv(table)))}}}};
      continue;
    }
    tables.push_back(json_of(table));
  }
  for (const auto& words : inspection.content.wanting) wanting.emplace_back(words);
  Json record{Json::Object{{"schema", Json{inspection.content.review ? "tierproof/records-review/1" : "tierproof/inspection-record/1"}},
                           {"demo", Json{inspection.content.demo}},
                           {"from", Json{format_date(inspection.from)}},
                           {"until", Json{format_date(inspection.until)}},
                           {"head", Json{inspection.content.full_head}},
                           {"program", Json{inspection.content.program}},
                           {"wanting", Json{std::move(wanting)}},
                           {"figures", Json{std::move(figures)}},
                           {"tables", Json{std::move(tables)}},
                           {"temperatures", std::move(temperatures)}}};
  if (inspection.content.review) record["looks"] = json_of(inspection.looks);
  return record;
}

Result<InspectionIssued> issue_inspection(Session& session, const InspectionRequest& request, const DataRoot& data) {
  Checking checking{session};
  checking.person();
  const ZonedInstant now = checking.moment("now");
  auto found = request.review ? review_records(session, request, now) : inspect(session, request, now);
  if (!found) checking.take(found.error());
  if (!checking.good()) return checking.refusals();
  const Fonts fonts = Fonts::load(fs::path{data.path} / "reports" / "fonts");
  const auto pages = lay_out_inspection_record(found->content, fonts);
  if (!pages) return pages.error();
  const Json json = json_of(*found);
  PaperBooking booking;
  booking.paper = request.review ? "records review" : "inspection record";
  booking.subject = found->content.reference;
  booking.says = to_hex(sha256(write_canonical(json)));
  return InspectionIssued{
      book_papers(
          session, booking, now,
          forms_of(
              *pages, fonts,
              info_of(session, fmt::format("{}, {}", request.review ? "Review of the records" : "Inspection record", found->content.period),
                      now),
              json, found->content.reference + ".json")),
      std::move(found->tables)};
}

}  // namespace tierproof
