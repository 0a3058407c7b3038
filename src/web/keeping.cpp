// How something keeps, and why: what the records say of it, and what was measured, written or adopted of it.
#include "keeping.h"

#include <fmt/format.h>

#include <algorithm>

#include "deeds.h"
#include "parts.h"
#include "signing_in.h"
#include "tierproof/app/adopting.h"
#include "tierproof/app/keeping.h"
#include "tierproof/app/planning.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

bool is_cake(const Session& records, const std::string& of) { return records.state().cakes.contains(CakeId{of}); }
bool is_recipe(const Session& records, const std::string& of) { return records.state().recipes.contains(RecipeId{of}); }
std::string page_of_food(const Session& records, const std::string& of) {
  return (is_cake(records, of) ? "/leaving/cake/" : "/bench/recipe/") + url_part(of);
}
std::string name_of_food(const Session& records, const std::string& of) {
  if (is_cake(records, of)) return records.state().cakes.at(CakeId{of}).value.name;
  return is_recipe(records, of) ? records.state().recipes.at(RecipeId{of}).value.name : of;
}

std::string begun_large(std::string words) {
  if (!words.empty() && words.front() >= 'a' && words.front() <= 'z') words.front() = static_cast<char>(words.front() - 'a' + 'A');
  return words;
}

/// What was adopted for a recipe, and whether it still counts for it as it stands.
Html adopted_of(const Session& records, const std::string& of) {
  Html lines;
  const auto terms = temperature_terms_by(records, records.today(), plan_now(records));
  const auto* counts = terms ? adoption_in_force(records, records.state().recipes.at(RecipeId{of}).place, records.now(), *terms) : nullptr;
  for (const auto& adopted : records.state().adopted) {
    if (adopted.value.recipe.text() != of) continue;
    const bool stands = counts != nullptr && counts->sequence == adopted.sequence;
    lines += el(
        "li", {},
        fmt::format(
            "{} (note {}), {}: {}. {}", adopted.value.row, adopted.sequence, moment_in_words(records, adopted.happened), adopted.value.why,
            stands
                ? "It counts for batches made since."
                : "It does not count for a batch made now: the recipe or the reference changed since, or another was adopted after it."));
  }
  return lines.empty() ? lines : el("p", {}, el("b", {}, "Adopted for heating")) + el("ul", {}, lines);
}

/// A page with one form about a recipe or a cake; a refusal where there is no such thing.
WebAnswer food_form_page(Visit& visit, const std::string& title, const std::string& words, const std::function<Html()>& form) {
  const Session& records = visit.records();
  if (!is_recipe(records, visit.part) && !is_cake(records, visit.part))
    return not_there(visit, "No recipe and no cake of this name is on record.");
  return page(visit, title, is_cake(records, visit.part) ? "leaving" : "bench",
              el("h1", {}, fmt::format("{}: {}", name_of_food(records, visit.part), title)) + el("p", {}, words) + form() +
                  el("p", {}, el("a", {{"href", page_of_food(records, visit.part)}}, "Back to " + name_of_food(records, visit.part))));
}

WebAnswer tested_page(Visit& visit) {
  return food_form_page(visit, "what was measured",
                        "It counts for the food as it is made now. Where the recipe changes, it has to be measured anew. Of a finished "
                        "cake the food is measured "
                        "once its water has moved.",
                        [&] {
                          return FormView{visit, "/bench/tested/" + url_part(visit.part), "tested"}
                              .number("water-activity", "Water activity", {.hint = "0.86. What was not measured stays empty."})
                              .number("error", "What its meter may be off by", {.hint = "As its maker or the laboratory says: 0.01"})
                              .number("ph", "pH", {.hint = "4.2"})
                              .number("ph-error", "What the pH meter may be off by", {.hint = "0.1"})
                              .day("on", "The day it was measured", {.needed = true})
                              .text("method", "How", {.hint = "dew point, 25 °C, settled for a day", .needed = true})
                              .text("tested-by", "Who measured it",
                                    {.hint = "The laboratory, the body or the role; no name of a person", .needed = true})
                              .text("kept", "Where the report is kept")
                              .pin("Your PIN")
                              .finish("Book what was measured");
                        });
}

std::optional<Booked> tested(Visit& visit) {
  if (!confirmed_by_pin(visit)) return std::nullopt;
  KeepingMeasured measured;
  measured.of = visit.part;
  measured.activity = std::string{trimmed(visit.typed("water-activity"))};
  measured.activity_error = std::string{trimmed(visit.typed("error"))};
  measured.ph = std::string{trimmed(visit.typed("ph"))};
  measured.ph_error = std::string{trimmed(visit.typed("ph-error"))};
  measured.on = std::string{trimmed(visit.typed("on"))};
  measured.method = std::string{trimmed(visit.typed("method"))};
  measured.by = std::string{trimmed(visit.typed("tested-by"))};
  measured.kept = std::string{trimmed(visit.typed("kept"))};
  auto booked = visit.record([&](Session& session) { return record_measured(session, measured); });
  remedies_here(visit, {{"water-activity", "write one of them, or both"},
                        {"error", "write the water activity too, or leave it out"},
                        {"ph-error", "write the pH too, or leave it out"},
                        {"of", "build its tiers first"}});
  return booked;
}

WebAnswer advised_page(Visit& visit) {
  return food_form_page(
      visit, "what was written of it",
      "What a competent body wrote of how it keeps: the food authority, a laboratory. It counts for the food as it is made "
      "now. A word on the telephone is no writing.",
      [&] {
        return FormView{visit, "/bench/advised/" + url_part(visit.part), "advised"}
            .tiles("keep-in", "It says that it keeps", {{"room", "at room temperature"}, {"fridge", "only in the fridge"}},
                   {.needed = true})
            .number("days", "For how many days at room temperature",
                    {.hint = "The day it was made is not counted. Left empty: the writing sets none."})
            .day("on", "The day it was written", {.needed = true})
            .text("written-by", "Who wrote it", {.hint = "The body, no name of a person", .needed = true})
            .text("kept", "Where the writing is kept", {.needed = true})
            .long_text("says", "What it says, in its words", {.needed = true})
            .ticks("trial", "It is", {{"yes", "the report of a trial of how the food keeps"}})
            .pin("Your PIN")
            .finish("Book what was written");
      });
}

std::optional<Booked> advised(Visit& visit) {
  if (!confirmed_by_pin(visit)) return std::nullopt;
  KeepingAdvised written;
  written.of = visit.part;
  written.place = visit.typed("keep-in");
  written.days = std::string{trimmed(visit.typed("days"))};
  written.on = std::string{trimmed(visit.typed("on"))};
  written.by = std::string{trimmed(visit.typed("written-by"))};
  written.kept = std::string{trimmed(visit.typed("kept"))};
  written.says = std::string{trimmed(visit.typed("says"))};
  written.trial = visit.typed("trial") == "yes";
  auto booked = visit.record([&](Session& session) { return record_advice(session, written); });
  remedies_here(visit, {{"of", "build its tiers first"}});
  return booked;
}

/// The published references for heating in force today that a plan may adopt.
std::vector<RowTold> references_today(const Session& records) {
  std::vector<RowTold> references;
  const auto rows = records.packs().rows_told(records.kitchen().temperature_rules, "temperature", records.today());
  if (!rows) return references;
  std::copy_if(rows->begin(), rows->end(), std::back_inserter(references),
               [](const RowTold& row) { return row.mechanism == "heat-reference"; });
  return references;
}

WebAnswer adopt_page(Visit& visit) {
  const Session& records = visit.records();
  if (!is_recipe(records, visit.part)) return not_there(visit, "No recipe of this name is on record.");
  const auto references = references_today(records);
  if (references.empty())
    return food_form_page(visit, "a published reference for heating", "No such reference is in force in these rules today.",
                          [] { return Html{}; });
  const auto terms = temperature_terms_by(records, records.today(), plan_now(records));
  Html told;
  Choices choices;
  for (const auto& row : references) {
    std::vector<std::pair<std::string, Html>> lines{{"Published", fmt::format("{}, {}", row.source_title, row.clause)}};
    if (terms) {
      for (const auto& reference : terms->references) {
        if (reference.cited.row == row.id) lines.insert(lines.begin(), {"Held to be worth", reference.worth});
      }
    }
    if (row.from_memory) lines.push_back({"Doubt", "it is told from memory: nobody opened the publication"});
    if (!row.note.empty()) lines.push_back({"Note", row.note});
    told += el("article", {{"class", "finding"}}, el("h2", {{"class", "first"}}, row.id), facts(lines));
    choices.push_back({row.id, row.id});
  }
  return food_form_page(visit, "a published reference for heating",
                        "It is not law. The plan adopts it for this recipe as it stands today; it counts for batches made from then on. "
                        "Where the recipe or the "
                        "reference changes, it has to be adopted anew.",
                        [&] {
                          return told + FormView{visit, "/bench/adopted/" + url_part(visit.part), "adopted"}
                                            .tiles("row", "Which one", choices, {.needed = true})
                                            .number("water-activity", "Water activity of the mix that is heated",
                                                    {.hint = "As it was measured: 0.85. Needed unless it is nothing but egg and sugar."})
                                            .text("measured", "Who measured it, when and how", {.hint = "Only with a water activity."})
                                            .long_text("why", "Why the plan adopts it, and who was asked", {.needed = true})
                                            .pin("Your PIN")
                                            .finish("Adopt it for this recipe", "grave");
                        });
}

std::optional<Booked> adopted(Visit& visit) {
  if (!confirmed_by_pin(visit)) return std::nullopt;
  Adopting adopting;
  adopting.row = visit.typed("row");
  adopting.recipe = visit.part;
  adopting.measured = std::string{trimmed(visit.typed("measured"))};
  adopting.why = std::string{trimmed(visit.typed("why"))};
  if (const auto activity = trimmed(visit.typed("water-activity")); !activity.empty()) {
    adopting.water_activity = parse_decimal(activity);
    if (!adopting.water_activity)
      visit.refuse("water-activity", fmt::format("\"{}\" is not a number", activity), "write it as it was measured, such as 0.85");
  }
  if (!visit.wrong.empty()) return std::nullopt;
  auto booked = visit.record([&](Session& session) { return adopt_reference(session, adopting); });
  remedies_here(visit, {{"row", "choose one of those that are shown"},
                        {"water-activity", "have the water activity of the mix measured, and write it with who measured it"}});
  return booked;
}

}  // namespace

Html how_it_keeps_here(Visit& visit, const Result<HowItKeeps>& keeps, const std::string& evident) {
  const Session& records = visit.records();
  Html inside;
  if (keeps) {
    if (!keeps->answered) inside += el("p", {{"class", "stop"}}, "Not all of it is answered: see what is to do.");
    std::vector<std::pair<std::string, Html>> lines;
    for (const auto& line : keeps->lines) {
      const Html says =
          el("p", {}, line.says) + (line.rests_on.empty() ? Html{} : el("p", {{"class", "hint"}}, "because: " + line.rests_on));
      if (line.about.empty() && !lines.empty()) {
        lines.back().second += says;
      } else {
        lines.push_back({begun_large(line.about), says});
      }
    }
    inside += facts(lines);
  } else {
    for (const auto& refusal : keeps.error()) inside += el("p", {{"class", "stop"}}, "Not known: " + told_here(refusal));
  }
  if (is_recipe(records, evident)) inside += adopted_of(records, evident);
  if (visit.is_owner() && (is_recipe(records, evident) || is_cake(records, evident))) {
    const std::string part = url_part(evident);
    Html links =
        link_button("/bench/tested/" + part, "It was measured") + link_button("/bench/advised/" + part, "A competent body wrote of it");
    if (is_recipe(records, evident)) links += link_button("/bench/adopted/" + part, "Adopt a published reference for heating");
    inside += el("p", {{"class", "actions"}}, links);
  }
  return el("details", {{"class", "fold"}, {"id", "keeps"}}, el("summary", {}, "How it keeps, and why"), inside);
}

std::vector<Route> keeping_routes() {
  return {{"GET", "/bench/tested/*", For::owner, tested_page},
          {"GET", "/bench/advised/*", For::owner, advised_page},
          {"GET", "/bench/adopted/*", For::owner, adopt_page}};
}

std::vector<Deed> keeping_deeds() {
  const auto back = [](const Visit& visit, const Booked&) {
    const bool cake = visit.part.starts_with("cake-") && visit.part.find_first_not_of("0123456789", 5) == std::string::npos;
    return (cake ? "/leaving/cake/" : "/bench/recipe/") + url_part(visit.part) + "#keeps";
  };
  return {{"/bench/tested/*",
           For::owner,
           "What was measured of a recipe, or of a finished cake.",
           {{"water-activity", "0.86"},
            {"error", "what its meter may be off by, 0.01"},
            {"ph", "4.2"},
            {"ph-error", "what the pH meter may be off by, 0.1"},
            {"on", "the day it was measured", true},
            {"method", "how", true},
            {"tested-by", "laboratory, body or role", true},
            {"kept", "where the report is kept"}},
           tested,
           back,
           tested_page},
          {"/bench/advised/*",
           For::owner,
           "What a competent body wrote of how a recipe, or a finished cake, keeps.",
           {{"keep-in", "room or fridge", true},
            {"days", "for how many days at room temperature"},
            {"on", "the day it was written", true},
            {"written-by", "the body", true},
            {"kept", "where the writing is kept", true},
            {"says", "what it says, in its words", true},
            {"trial", "yes: it is the report of a trial"}},
           advised,
           back,
           advised_page},
          {"/bench/adopted/*",
           For::owner,
           "The plan adopts a published reference for heating for a recipe.",
           {{"row", "id of the reference", true},
            {"water-activity", "of the mix that is heated, measured, 0.85"},
            {"measured", "who measured it, when and how"},
            {"why", "why, and who was asked", true}},
           adopted,
           back,
           adopt_page}};
}

}  // namespace tierproof::web
