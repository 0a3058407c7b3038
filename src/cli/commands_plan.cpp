#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "door.h"
#include "tierproof/app/advising.h"
#include "tierproof/app/issuing.h"
#include "tierproof/app/plan_standing.h"
#include "tierproof/rules/plan_file.h"

namespace tierproof::cli {
namespace {

constexpr const char* starting_words =
    "A STARTING POINT, not this kitchen's plan yet: make it fit the work (plan --write FILE), and take it over (plan-take FILE).";

Json plan_texts(const std::vector<std::string>& texts) {
  Json::Array all;
  for (const auto& text : texts) all.emplace_back(text);
  return Json{std::move(all)};
}

std::string change_in_words(const PlanChange& change) {
  const std::string what = change.row.empty() ? "the plan itself" : "row " + change.row;
  return fmt::format("{} {}{}{}", what, change.how, change.members.empty() ? "" : ": ", fmt::join(change.members, ", "));
}

Json json_of(const std::vector<PlanChange>& changes) {
  Json::Array all;
  for (const auto& change : changes)
    all.push_back(Json{Json::Object{{"row", change.row.empty() ? Json{nullptr} : Json{change.row}},
                                    {"how", Json{change.how}},
                                    {"members", plan_texts(change.members)}}});
  return Json{std::move(all)};
}

Json json_of(const PlanRow& row, const HazardPlan& plan, const std::vector<std::string>& recipes, const std::vector<std::string>& advice) {
  Json::Array limits;
  for (const auto& limit : row.limits)
    limits.push_back(Json{Json::Object{{"what", Json{limit.what}}, {"number", Json{number_in_words(limit)}}}});
  return Json{Json::Object{{"id", Json{row.id}},
                           {"order", Json{row.order}},
                           {"words", Json{row.words}},
                           {"step", Json{row.step}},
                           {"met_by", plan_texts(row.met_by)},
                           {"recipes", plan_texts(recipes)},
                           {"sorts", plan_texts(row.sorts)},
                           {"hazard", Json{row.hazard}},
                           {"likelihood", Json{row.likelihood}},
                           {"severity", Json{row.severity}},
                           {"significance", Json{row.significance}},
                           {"point", Json{row.point}},
                           {"point_because", Json{row.point_because}},
                           {"control", Json{row.control}},
                           {"limit", Json{row.limit}},
                           {"limits", Json{std::move(limits)}},
                           {"source", Json{plan.source_of(row)}},
                           {"checked", Json{row.checked}},
                           {"how_often", Json{row.how_often}},
                           {"when_missed", Json{row.when_missed}},
                           {"who", Json{row.who}},
                           {"records", plan_texts(row.records)},
                           {"on_cakes", Json{row.on_cakes()}},
                           {"not_met", Json{row.not_met}},
                           {"not_shown", Json{row.not_shown}},
                           {"note", Json{row.note}},
                           {"advice", plan_texts(advice)}}};
}

/// The short names of the recipes that bring the step of a row.
std::vector<std::string> recipes_of(const std::vector<RecipeInPlan>& recipes, const std::string& row) {
  std::vector<std::string> names;
  for (const auto& recipe : recipes) {
    if (std::find(recipe.rows.begin(), recipe.rows.end(), row) != recipe.rows.end()) names.push_back(recipe.recipe.text());
  }
  return names;
}

void say_row(const PlanRow& row, const HazardPlan& plan, const std::vector<std::string>& recipes, const std::vector<std::string>& advice) {
  const auto line = [](const char* what, const std::string& words) {
    if (!words.empty()) Door::say(fmt::format("    {:14}{}", what, words));
  };
  Door::say(fmt::format("{} ({}), at: {}", row.words, row.id, row.step));
  line("hazard", fmt::format("{} ({})", row.hazard, fmt::join(row.sorts, ", ")));
  line("how grave", fmt::format("{}, {}: {}", row.likelihood, row.severity, row.significance));
  line("kind", fmt::format("{}: {}", words_of_point(row.point), row.point_because));
  line("control", row.control);
  line("limit", fmt::format("{} [{}]", row.limit, plan.source_of(row)));
  for (const auto& limit : row.limits) line("own number", fmt::format("{} {}", limit.what, number_in_words(limit)));
  line("checked", fmt::format("{} How often: {}.", row.checked, row.how_often));
  line("when missed", row.when_missed);
  line("who", row.who);
  line("written in", fmt::format("{}", fmt::join(row.records, ", ")));
  if (!row.met_by.empty())
    line("recipes", recipes.empty() ? fmt::format("none recorded yet ({})", fmt::join(row.met_by, ", "))
                                    : fmt::format("{}", fmt::join(recipes, ", ")));
  line("note", row.note);
  for (const auto& words : advice) line("advice", words);
}

Json json_of(const PlanReviewDue& due) {
  Json::Object told{{"is_due", Json{due.is_due()}},
                    {"last", due.last.empty() ? Json{nullptr} : Json{due.last}},
                    {"changed_since", plan_texts(due.since)},
                    {"looks_at", plan_texts(plan_review_looks_at())}};
  told.emplace("due", due.taken ? Json{format_date(due.due)} : Json{nullptr});
  return Json{std::move(told)};
}

void say_review(const PlanReviewDue& due, std::int64_t months) {
  if (!due.taken) return Door::say("Review: none, since no plan was taken over.");
  Door::say(fmt::format("Review: {}; due every {} months and after any change, so by {}{}.", due.last, months, format_date_long(due.due),
                        due.over ? ": OVERDUE" : ""));
  Door::say(fmt::format("  A change, by any note of these: {}.", fmt::join(plan_review_looks_at(), ", ")));
  if (!due.since.empty()) Door::say("  REVIEW DUE, since the work changed after that (plan-review):");
  for (const auto& line : due.since) Door::say("    " + line);
}

int print_plan(const Door& door, const Session& session) {
  const PlanVersion version = plan_now(session);
  const HazardPlan& plan = plan_of(session, version);
  const auto recipes = recipes_in(session, plan);
  const PlanReviewDue due = plan_review_due(session);
  const bool demo = session.kitchen().demo;
  if (door.json) {
    Json::Array rows, uncovered, not_known;
    for (const auto& row : plan.rows) rows.push_back(json_of(row, plan, recipes_of(recipes, row.id), advice_about(session, row.id)));
    for (const auto& recipe : recipes) {
      if (const auto what = not_known_of(session, recipe.recipe); !what.empty())
        not_known.push_back(Json{Json::Object{{"recipe", Json{recipe.recipe.text()}}, {"what", plan_texts(what)}}});
      if (!recipe.uncovered.empty())
        uncovered.push_back(Json{Json::Object{{"recipe", Json{recipe.recipe.text()}}, {"steps", plan_texts(recipe.uncovered)}}});
    }
    door.print(Json{Json::Object{{"schema", Json{"tierproof/plan/1"}},
                                 {"version", plan_json(version.words, version.note, "")},
                                 {"starting_point", Json{version.note == 0}},
                                 {"title", Json{plan.title}},
                                 {"about", Json{plan.about}},
                                 {"scope", Json{plan.scope}},
                                 {"users", Json{plan.users}},
                                 {"flow", Json{plan.flow}},
                                 {"verified", Json{plan.verified}},
                                 {"review_months", Json{plan.review_months}},
                                 {"rows", Json{std::move(rows)}},
                                 {"not_covered", Json{std::move(uncovered)}},
                                 {"not_known", Json{std::move(not_known)}},
                                 {"graver_in_starting", plan_texts(graver_in_starting(session, version))},
                                 {"review", json_of(due)},
                                 {"head", Json{format_head(session.head())}}}},
               demo);
    return exit_status::done;
  }
  Door::say(fmt::format("{}{}: {}, {} rows", demo ? "DEMO  " : "", plan.title, version.words, plan.rows.size()));
  if (version.note == 0) Door::say(starting_words);
  Door::say(plan.about);
  Door::say("What it is for: " + plan.scope);
  Door::say("Who eats it: " + plan.users);
  Door::say("Steps: " + plan.flow);
  Door::say("How it is known to work: " + plan.verified);
  for (const auto& row : plan.rows) say_row(row, plan, recipes_of(recipes, row.id), advice_about(session, row.id));
  for (const auto& recipe : recipes) {
    if (!recipe.uncovered.empty())
      Door::say(fmt::format("NO ROW for {} ({}): {}", recipe.recipe.text(), recipe.name, fmt::join(recipe.uncovered, ", ")));
    if (const auto what = not_known_of(session, recipe.recipe); !what.empty())
      Door::say(fmt::format("NOT KNOWN of {} ({}), so kit may be shared: {}", recipe.recipe.text(), recipe.name, fmt::join(what, ", ")));
  }
  for (const auto& line : graver_in_starting(session, version))
    Door::say("GRAVER in the program's starting plan, and so it counts: " + line);
  say_review(due, plan.review_months);
  if (version.note == 0) Door::say(starting_words);
  Door::say("Local law and the advice of the food authority come first.");
  return exit_status::done;
}

int write_plan(const Door& door, const Session& session, const std::string& path) {
  if (std::filesystem::exists(path))
    throw Fault{exit_status::cannot_create, fmt::format("{}: is there already, and may hold a plan being edited; name another file", path)};
  const PlanVersion version = plan_now(session);
  save_file(path, write_plan_document(plan_of(session, version)));
  if (door.json) {
    door.print(
        Json{Json::Object{
            {"schema", Json{"tierproof/plan-written/1"}}, {"file", Json{path}}, {"version", plan_json(version.words, version.note, "")}}},
        session.kitchen().demo);
    return exit_status::done;
  }
  Door::mark_demo(session.kitchen().demo);
  Door::say(fmt::format("{}: the {}, to be edited and taken over with plan-take", path, version.words));
  if (version.note == 0) Door::say(starting_words);
  return exit_status::done;
}

}  // namespace

void plan_options(CLI::App& app, Door& door) {
  auto write = std::make_shared<std::string>();
  app.add_option("--write", *write, "a new file for the plan in force, as a document to edit");
  app.callback([write, &door] {
    door.action = [write](Door& d) {
      return d.read([&](Session& session) { return write->empty() ? print_plan(d, session) : write_plan(d, session, *write); });
    };
  });
}

void plan_take_options(CLI::App& app, Door& door) {
  auto file = std::make_shared<std::string>();
  app.add_option("file", *file, "the plan, a JSON document as plan --write makes it")->required();
  app.callback([file, &door] {
    door.action = [file](Door& d) {
      const GivenDocument document = document_of(*file);
      return d.write<PlanTaken>(
          [&](Session& session) { return take_plan(session, document); },
          [&](Session& session, const PlanTaken& taken) {
            const int done = d.print_booked(session, taken.booked, {{"changes", json_of(taken.changes)}});
            if (d.json) return done;
            Door::say(taken.changes.empty() ? "taken over as it is: it says what the starting plan says" : "what it changes:");
            for (const auto& change : taken.changes) Door::say("  " + change_in_words(change));
            return done;
          });
    };
  });
}

void plan_review_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<PlanReviewing>();
  app.add_option("--changed", options->changed, "nothing, or something: in the work or in the plan since the last time")->required();
  app.add_option("--what", options->what, "what changed");
  app.add_option("--signed", options->signed_by, "your own name, as it is recorded")->required();
  app.add_option("--at", options->at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) { return d.record([&](Session& session) { return review_plan(session, *options); }); };
  });
}

void officer_said_options(CLI::App& app, Door& door) {
  struct Options {
    Advising advising;
    std::string on;
  };
  auto options = std::make_shared<Options>();
  app.add_option("--who", options->advising.said_by, "name of who said it; kept apart, and on no paper")->required();
  app.add_option("--from", options->advising.office, "their office")->required();
  app.add_option("--on", options->on, "the day it was said; else today");
  app.add_option("--topic", options->advising.topic, "what it is about, in a word or two")->required();
  app.add_option("--about", options->advising.about, "the row of the hazard plan or of the rules that it is about: it is then told there");
  app.add_option("--words", options->advising.words, "what was said, as near to their words as you can")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) {
        options->advising.on = maybe_date("--on", options->on).value_or(session.today());
        return note_advice(session, options->advising);
      });
    };
  });
}

}  // namespace tierproof::cli
