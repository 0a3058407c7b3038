// The drawer's plan: the rows in force and which recipes meet them, taking it over, its review, and what an officer said about a row.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "deeds.h"
#include "parts.h"
#include "signing_in.h"
#include "tierproof/app/advising.h"
#include "tierproof/app/plan_standing.h"
#include "tierproof/app/planning.h"
#include "tierproof/rules/plan_file.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

Html list_of_lines(const std::vector<std::string>& lines) {
  Html items;
  for (const auto& line : lines) items += el("li", {}, line);
  return items.empty() ? items : el("ul", {}, items);
}

/// The names of the recipes that bring the step of a row.
std::string recipes_meeting(const std::vector<RecipeInPlan>& recipes, const PlanRow& row) {
  if (row.met_by.empty()) return "it goes for all work, whatever the recipe";
  std::vector<std::string> names;
  for (const auto& recipe : recipes) {
    if (std::find(recipe.rows.begin(), recipe.rows.end(), row.id) != recipe.rows.end()) names.push_back(recipe.name);
  }
  return names.empty() ? fmt::format("none on record yet ({})", fmt::join(row.met_by, ", ")) : fmt::format("{}", fmt::join(names, ", "));
}

Html row_card(const Session& records, const HazardPlan& plan, const PlanRow& row, const std::vector<RecipeInPlan>& recipes) {
  std::vector<std::pair<std::string, Html>> lines{{"What can go wrong", fmt::format("{} ({})", row.hazard, fmt::join(row.sorts, ", "))},
                                                  {"How grave", fmt::format("{}, {}: {}", row.likelihood, row.severity, row.significance)},
                                                  {"It is", fmt::format("{}: {}", words_of_point(row.point), row.point_because)},
                                                  {"What must be", row.control},
                                                  {"Limit", row.limit}};
  for (const auto& limit : row.limits) lines.push_back({"Own number", fmt::format("{} {}", limit.what, number_in_words(limit))});
  for (auto& line : std::vector<std::pair<std::string, Html>>{{"How it is checked", row.checked},
                                                              {"How often", row.how_often},
                                                              {"When it is missed", row.when_missed},
                                                              {"Who", row.who},
                                                              {"Written in", fmt::format("{}", fmt::join(row.records, ", "))},
                                                              {"Recipes that meet it", recipes_meeting(recipes, row)}})
    lines.push_back(std::move(line));
  if (!row.note.empty()) lines.push_back({"Note", row.note});
  Html said;
  for (const auto& words : advice_about(records, row.id)) said += el("p", {}, el("b", {}, "An officer said: "), words);
  return el("article", {{"class", "finding"}, {"id", "row-" + row.id}}, el("h3", {}, row.words),
            el("p", {{"class", "hint"}}, fmt::format("At: {}. Its short name: {}.", row.step, row.id)), facts(lines), said,
            el("p", {{"class", "source"}}, plan.source_of(row)));
}

/// What the plan does not speak of, and where the program's own is graver by now.
Html not_covered(const Session& records, const PlanVersion& version, const std::vector<RecipeInPlan>& recipes) {
  std::vector<std::string> uncovered, not_known;
  for (const auto& recipe : recipes) {
    if (!recipe.uncovered.empty()) uncovered.push_back(fmt::format("{}: {}", recipe.name, fmt::join(recipe.uncovered, ", ")));
    if (const auto what = not_known_of(records, recipe.recipe); !what.empty())
      not_known.push_back(fmt::format("{}: {}", recipe.name, fmt::join(what, ", ")));
  }
  const auto box = [](const char* heading, const std::vector<std::string>& lines) {
    return lines.empty() ? Html{} : el("div", {{"class", "warn"}, {"role", "note"}}, el("h3", {}, heading), list_of_lines(lines));
  };
  return box("No row is about these steps of a recipe", uncovered) +
         box("Not known of a recipe, so it counts as made on shared kit", not_known) +
         box("The program's starting plan is graver here, and so it counts", graver_in_starting(records, version));
}

/// What somebody who reviews the plan looks at: which version, and what changed since the last time.
std::vector<std::string> looked_at(const Session& records) {
  auto lines = plan_review_due(records).since;
  lines.insert(lines.begin(), plan_now(records).words);
  return lines;
}

Html review_of_plan(Visit& visit, const HazardPlan& plan, const PlanReviewDue& due) {
  if (!due.taken) {
    Html box =
        el("p", {},
           "The starting plan is in force: nobody has taken it over as this kitchen's own. It is a starting point, to be changed until "
           "it says what is done here.");
    if (visit.is_owner())
      box += FormView{visit, "/drawer/plan/take", "plan-take"}
                 .add(el(
                     "p", {{"class", "hint"}},
                     "Read every row first. What does not fit the work is changed later, in the plan's document at the kitchen's machine."))
                 .pin("Your PIN")
                 .finish("Take it over as our own");
    return el("section", {{"class", "warn"}, {"id", "review"}}, el("h2", {}, "Not taken over yet"), box);
  }
  Html main = el("h2", {}, "Review") +
              facts({{"Last", due.last},
                     {"Due", fmt::format("by {}{}: every {} months, and after any change of the work", format_date_long(due.due),
                                         due.over ? ", which is past" : "", plan.review_months)},
                     {"A change is", fmt::format("any note of these: {}", fmt::join(plan_review_looks_at(), ", "))}});
  if (due.is_due())
    main += el("div", {{"class", "warn"}, {"role", "note"}}, el("p", {}, el("b", {}, "It has to be reviewed.")),
               due.since.empty() ? Html{} : el("p", {}, "The work changed since:"), list_of_lines(due.since));
  if (visit.is_owner()) {
    FormView form{visit, "/drawer/plan/review", "plan-review"};
    form.shows(looked_at(visit.records()))
        .tiles("changed", "In the work or in the plan, since the last time",
               {{"nothing", "nothing changed"}, {"something", "something changed"}}, {.needed = true})
        .long_text("what", "What changed", {.hint = "Only where something did."})
        .text("signed", "Signed by",
              {.hint = "Your own name as it stands in the records. It is kept apart, so that it can be erased.", .needed = true})
        .pin("Your PIN");
    main += el("details", {{"class", "fold"}, flag("open", visit.typed("form") == "plan-review" && !visit.wrong.empty())},
               el("summary", {}, "I looked at the plan and at the work: sign the review"), form.finish("Sign the review"));
  }
  return el("section", {{"id", "review"}}, main);
}

/// What was said about something else than a row of this plan.
Html said_about_others(const Session& records, const HazardPlan& plan) {
  Html lines;
  for (const auto& advice : records.state().advice) {
    if (plan.row(advice.value.about) != nullptr) continue;
    const std::string about = advice.value.about.empty() ? "" : fmt::format(", about {}", advice.value.about);
    lines += el("li", {},
                fmt::format("{}, {} (note {}){}, {}: {}", format_date_long(advice.value.on), advice.value.office, advice.sequence, about,
                            advice.value.topic, advice.value.words.text.value_or("(erased)")));
  }
  return lines.empty() ? lines : el("p", {}, "About no row of this plan:") + el("ul", {}, lines);
}

Html advice_form(Visit& visit, const HazardPlan& plan) {
  Choices rows;
  for (const auto& row : plan.rows) rows.push_back({row.id, row.words});
  FormView form{visit, "/drawer/plan/said", "officer-said"};
  form.text("who", "Who said it", {.hint = "Kept apart, so that it can be erased, and on no paper.", .needed = true})
      .text("from", "Their office", {.needed = true})
      .day("on", "The day it was said", {.hint = "Left empty: today."})
      .text("topic", "What it is about, in a word or two", {.needed = true})
      .pick("about", "About which row", rows, {.hint = "It is then told at that row, and beside what is judged by it."})
      .long_text("words", "What was said", {.hint = "As near to their words as you can.", .needed = true});
  return el("details", {{"class", "fold"}, flag("open", visit.typed("form") == "officer-said" && !visit.wrong.empty())},
            el("summary", {}, "Write down what an officer said"), form.finish("Book it"));
}

WebAnswer plan_page(Visit& visit) {
  const Session& records = visit.records();
  const auto version = plan_now(records);
  const HazardPlan& plan = plan_of(records, version);
  const auto recipes = recipes_in(records, plan);
  Html main = el("h1", {}, "Plan") + el("p", {{"class", "date"}}, fmt::format("{}: {}", plan.title, version.words)) +
              review_of_plan(visit, plan, plan_review_due(records)) + not_covered(records, version, recipes);
  main += el("h2", {}, "What this plan is about") + el("p", {}, plan.about) +
          facts({{"What it is for", plan.scope},
                 {"Who eats it", plan.users},
                 {"The steps", plan.flow},
                 {"How it is known to work", plan.verified}});
  std::vector<std::vector<Html>> met;
  for (const auto& recipe : recipes) {
    std::vector<std::string> names;
    for (const auto& id : recipe.rows) {
      if (const auto* row = plan.row(id); row != nullptr) names.push_back(row->words);
    }
    met.push_back({recipe.name, recipe.traits.empty() ? "nothing of its own" : fmt::format("{}", fmt::join(recipe.traits, ", ")),
                   names.empty() ? "none" : fmt::format("{}", fmt::join(names, ", ")),
                   recipe.uncovered.empty() ? Html{"none"} : el("b", {}, fmt::format("{}", fmt::join(recipe.uncovered, ", ")))});
  }
  if (!met.empty())
    main +=
        el("details", {{"class", "fold"}}, el("summary", {}, "Which recipes meet which rows"),
           table("Recipes, what they bring, and the rows about it", {"Recipe", "What it brings", "Rows about it", "No row is about"}, met));
  main +=
      el("h2", {}, "What can go wrong, and how it is kept in hand") +
      el("p", {{"class", "hint"}},
         "The rows are changed in the plan's document, not here: at the kitchen's machine it is written to a file, edited there, and taken "
         "over as the next version. Every version stays on record.");
  for (const auto& row : plan.rows) main += row_card(records, plan, row, recipes);
  const Html others = said_about_others(records, plan);
  if (visit.may_record() || !others.empty())
    main +=
        el("section", {{"id", "said"}}, el("h2", {}, "What officers said"), others, visit.may_record() ? advice_form(visit, plan) : Html{});
  return page(visit, "Plan", "drawer", main);
}

/// The starting plan as it is, as the kitchen's own.
std::optional<Booked> take_starting_plan(Visit& visit) {
  if (!confirmed_by_pin(visit)) return std::nullopt;
  const auto taken = visit.write<PlanTaken>([&](Session& session) -> Result<PlanTaken> {
    if (const auto before = session.booked_before()) return PlanTaken{*before, {}};
    if (const auto version = plan_now(session); version.note != 0)
      return Refusal{"", 0, "", fmt::format("this kitchen has a plan of its own, the {}", version.words),
                     "change its document at the kitchen's machine"};
    return take_plan(session, {"the starting plan", write_plan_document(session.packs().starting_plan())});
  });
  return taken ? std::optional{taken->booked} : std::nullopt;
}

std::optional<Booked> review(Visit& visit) {
  if (!confirmed_by_pin(visit)) return std::nullopt;
  const PlanReviewing reviewing{visit.typed("changed"), std::string{trimmed(visit.typed("what"))},
                                std::string{trimmed(visit.typed("signed"))}, visit.typed("at")};
  const auto booked = visit.record([&](Session& session) -> Result<Booked> {
    if (const auto other = unlike_shown(visit, looked_at(session))) return *other;
    return review_plan(session, reviewing);
  });
  remedies_here(visit, {{"signed", "whoever looked signs in and signs with their own name"},
                        {"what", "choose that something changed, or leave it empty"},
                        {"plan", "take the starting plan over first"}});
  return booked;
}

std::optional<Booked> officer_said(Visit& visit) {
  Advising advising;
  advising.said_by = std::string{trimmed(visit.typed("who"))};
  advising.office = std::string{trimmed(visit.typed("from"))};
  const auto on = visit.day("on", false);
  advising.topic = std::string{trimmed(visit.typed("topic"))};
  advising.about = visit.typed("about");
  advising.words = std::string{trimmed(visit.typed("words"))};
  if (!visit.wrong.empty()) return std::nullopt;
  return visit.record([&](Session& session) {
    advising.on = on.value_or(session.today());
    return note_advice(session, advising);
  });
}

std::string to_the_row(const Visit& visit, const Booked&) {
  return "/drawer/plan#" + (visit.typed("about").empty() ? "said" : "row-" + url_part(visit.typed("about")));
}

}  // namespace

std::vector<Route> plan_routes() { return {{"GET", "/drawer/plan", For::reader, plan_page}}; }

std::vector<Deed> plan_deeds() {
  return {{"/drawer/plan/take",
           For::owner,
           "The starting plan is taken over as the kitchen's own.",
           {},
           take_starting_plan,
           to("/drawer/plan"),
           plan_page},
          {"/drawer/plan/review",
           For::owner,
           "The plan in force was reviewed.",
           {{"changed", "nothing or something", true},
            {"what", "what changed"},
            {"signed", "name of the person, as it is recorded", true},
            {"shown", "the version of the plan, and each change since its last review, as its page tells them", true, true},
            {"at", "when, on the kitchen's clock; empty: now"}},
           review,
           to("/drawer/plan"),
           plan_page},
          {"/drawer/plan/said",
           For::recorder,
           "What an officer said.",
           {{"who", "who said it", true},
            {"from", "their office", true},
            {"on", "the day; empty: today"},
            {"topic", "in a word or two", true},
            {"about", "id of a row of the plan or of the rules"},
            {"words", "what was said", true}},
           officer_said,
           to_the_row,
           plan_page}};
}

}  // namespace tierproof::web
