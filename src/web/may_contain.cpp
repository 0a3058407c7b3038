// Whether "may contain" is told of an allergen that packs do not speak of: a person decides, with a reason.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "deeds.h"
#include "parts.h"
#include "signing_in.h"
#include "tierproof/app/judging.h"
#include "tierproof/app/precautions.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

/// What a decision may be about: the cake, a recipe in it, or all that is made here.
Choices scopes_of(const Session& records, const std::string& cake, const Judgement& judged) {
  Choices scopes{{cake, "this cake"}};
  std::set<std::string> recipes;
  for (const auto& part : judged.parts.batches) {
    const auto batch = records.state().batches.find(part.id);
    if (batch == records.state().batches.end() || !recipes.insert(batch->second.value.recipe.text()).second) continue;
    const auto recipe = records.state().recipes.find(batch->second.value.recipe);
    scopes.push_back(
        {batch->second.value.recipe.text(),
         fmt::format("every {}", recipe == records.state().recipes.end() ? batch->second.value.recipe.text() : recipe->second.value.name)});
  }
  scopes.push_back({"kitchen", "the whole kitchen"});
  return scopes;
}

FormView decision_form(Visit& visit, const Choices& scopes, const std::string& id, const std::string& decision) {
  FormView form{visit, "/leaving/may-contain/" + url_part(visit.part), id};
  form.hidden("decision", decision)
      .pick("allergen", "Of which allergen", allergens_of(visit.records()), {.needed = true})
      .tiles("about", "For", scopes, {.needed = true})
      .long_text("why", "What was looked at, and found", {.needed = true});
  form.fold_begin("An estimate of how much may get in");
  form.text("what", "What may get in", {.hint = "ground hazelnuts. All four belong together, or none of them."})
      .number("amount", "How much of it, in one whole cake", {.hint = "In grams, or with its unit: 150 mg", .unit = "g"})
      .number("protein", "Its share of protein", {.unit = "%"})
      .number("slice", "The largest likely slice", {.unit = "g"})
      .ticks("pieces", "It comes", {{"yes", "in pieces, which are not spread evenly"}});
  form.fold_end();
  return form;
}

WebAnswer may_contain_page(Visit& visit) {
  const Session& records = visit.records();
  const auto cake = records.state().cakes.find(CakeId{visit.part});
  if (cake == records.state().cakes.end()) return not_there(visit, "No cake of this number is on record.");
  const auto* handed = records.state().hand_over(cake->first);
  const auto judged = judge_cake(records, cake->first, handed == nullptr ? visit.at() : ZonedInstant{handed->happened, handed->offset});
  Html main =
      el("h1", {}, fmt::format("\"May contain\": {} ({})", cake->second.value.name, visit.part)) +
      el("p", {},
         "What packs say and what lay on shared kit is told in any case. Here a person decides of a trace that may come another way, or by "
         "kit that was washed and looked clean. \"May contain\" is told where there is a risk that cannot be taken away; it takes the "
         "place of no cleaning.");
  if (!judged) {
    for (const auto& refusal : judged.error()) main += el("p", {{"class", "warn"}}, told_here(refusal));
    return page(visit, "May contain", "leaving", main);
  }
  Html found;
  for (const auto& finding : judged->findings) {
    if (finding.control == "precautions") found += finding_card("What was decided, and what is open", finding);
  }
  if (!judged->declared)
    main += el("p", {{"class", "stop"}}, "It cannot be told yet what there is to decide: what is in this cake is not known well enough.");
  else if (found.empty())
    main += el("p", {}, "By the records nothing of this cake is open here, and nobody decided anything about it.");
  main += found;
  if (visit.may_record() && handed == nullptr) {
    const Choices scopes = scopes_of(records, visit.part, *judged);
    main += el("section", {{"id", "tell"}}, el("h2", {}, "It is told"),
               decision_form(visit, scopes, "told", "told").finish("\"May contain\" is told"));
    main += el("section", {{"id", "not-needed"}}, el("h2", {}, "It need not be told"),
               visit.is_owner()
                   ? el("p", {}, "It takes nothing away that packs or shared kit tell.") +
                         decision_form(visit, scopes, "not-needed", "not needed").pin("Your PIN").finish("It need not be told", "grave")
                   : el("p", {}, "An owner alone decides that."));
  }
  return page(visit, "May contain", "leaving",
              main + el("p", {}, el("a", {{"href", "/leaving/cake/" + url_part(visit.part)}}, "Back to the cake")));
}

std::optional<Booked> decide(Visit& visit) {
  DecidingPrecaution deciding;
  const std::string& decision = visit.typed("decision");
  if (decision != "told" && decision != "not needed")
    visit.refuse("decision", fmt::format("\"{}\" is no decision", decision), "choose told or not needed");
  deciding.not_needed = decision == "not needed";
  deciding.allergen = visit.typed("allergen");
  deciding.about = visit.typed("about");
  deciding.why = std::string{trimmed(visit.typed("why"))};
  deciding.what = std::string{trimmed(visit.typed("what"))};
  deciding.amount = visit.mass("amount", false);
  deciding.slice = visit.mass("slice", false);
  deciding.pieces = visit.typed("pieces") == "yes";
  if (std::string protein{trimmed(visit.typed("protein"))}; !protein.empty()) {
    if (!protein.ends_with('%')) protein += " %";
    deciding.protein = parse_percent(protein);
    if (!deciding.protein)
      visit.refuse("protein", fmt::format("\"{}\" is not a share", visit.typed("protein")), "write it in percent, such as 14");
  }
  if (!visit.wrong.empty() || (deciding.not_needed && !confirmed_by_pin(visit))) return std::nullopt;
  auto booked = visit.record([&](Session& session) { return decide_precaution(session, deciding); });
  remedies_here(visit, {{"amount", "fill in all four of the estimate, or none of them"}});
  return booked;
}

}  // namespace

std::vector<Route> may_contain_routes() { return {{"GET", "/leaving/may-contain/*", For::reader, may_contain_page}}; }

std::vector<Deed> may_contain_deeds() {
  return {{"/leaving/may-contain/*",
           For::recorder,
           "A person decides whether \"may contain\" is told of an allergen.",
           {{"decision", "told, or not needed", true},
            {"allergen", "its key, never a whole group", true},
            {"about", "kitchen, or the short name of a recipe or a cake", true},
            {"why", "what was looked at, and found", true},
            {"what", "of an estimate: what may get in"},
            {"amount", "how much of it in one whole cake, in grams or with its unit"},
            {"protein", "its share of protein, in percent"},
            {"slice", "the largest likely slice, in grams or with its unit"},
            {"pieces", "yes: it comes in pieces"}},
           decide,
           [](const Visit& visit, const Booked&) { return "/leaving/may-contain/" + url_part(visit.part); },
           may_contain_page}};
}

}  // namespace tierproof::web
