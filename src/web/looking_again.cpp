// The cupboard's second look: what is on file of a pack is compared with it again, and what has to be looked at soon.
#include "looking_again.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "deeds.h"
#include "parts.h"
#include "tierproof/app/looking.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

/// What is on file under the number of its note.
const Recorded<Specification>* on_file(const Session& records, const std::string& number) {
  const auto place = parse_decimal(number);
  if (!place || denominator(*place) != 1) return nullptr;
  for (const auto& [at, specification] : records.state().specifications) {
    if (Share{static_cast<std::int64_t>(at)} == *place) return &specification;
  }
  return nullptr;
}

std::string food_and_seller(const Session& records, const Specification& specification) {
  const auto food = records.state().ingredients.find(specification.ingredient);
  const auto seller = records.state().suppliers.find(specification.supplier);
  return fmt::format("{}, from {}", food == records.state().ingredients.end() ? specification.ingredient.text() : food->second.value.name,
                     seller == records.state().suppliers.end() ? specification.supplier.text() : seller->second.value.firm.name);
}

/// Everything that has to be looked at some day, the most urgent first.
std::vector<ToLookAt> most_urgent_first(Visit& visit) {
  auto all = specifications_to_look_at(visit.records(), visit.today());
  std::stable_sort(all.begin(), all.end(), [](const ToLookAt& a, const ToLookAt& b) { return a.days_old > b.days_old; });
  return all;
}

std::string days_said(std::int64_t days) { return days == 1 ? "1 day" : fmt::format("{} days", days); }
std::string left_to_look(const ToLookAt& one) {
  if (!one.days_left) return "no limit is set";
  return *one.days_left < 0 ? fmt::format("too old since {}", days_said(-*one.days_left))
                            : fmt::format("within {}", days_said(*one.days_left));
}

WebAnswer look_page(Visit& visit) {
  const Session& records = visit.records();
  Html main = el("h1", {}, "Compare with the packs again");
  const auto terms = records.label_terms(visit.today());
  const auto limit = terms ? specification_age_limit(records.state(), *terms) : std::nullopt;
  main +=
      el("p", {},
         limit ? fmt::format("What packs say may be believed for {} before somebody looks again {}.", days_said(limit->days), limit->source)
               : "Nobody set a limit to how long what packs say may be believed.");
  std::vector<std::vector<Html>> rows;
  for (const auto& one : most_urgent_first(visit)) {
    const auto& specification = records.state().specifications.at(one.place).value;
    std::vector<std::string> packs;
    for (const auto& pack : one.packs) packs.push_back(pack.text());
    const bool late = one.days_left && *one.days_left < 0;
    const Html compare = visit.may_record()
                             ? el("p", {{"class", "actions"}}, link_button(fmt::format("/cupboard/looked/{}", one.place), "Compare it"))
                             : Html{};
    rows.push_back({Html{food_and_seller(records, specification)} + compare,
                    late ? el("b", {{"class", "stop"}}, left_to_look(one)) : Html{left_to_look(one)},
                    fmt::format("{}, {} ago", format_date_long(one.last_looked), days_said(one.days_old)),
                    packs.empty() ? "none is left" : fmt::format("{}", fmt::join(packs, ", "))});
  }
  main += rows.empty() ? nothing_yet("Nothing that a pack says is on file yet.", "/cupboard", "To the cupboard")
                       : table("What is on file, the oldest look first", {"Food", "To be looked at", "Last looked at", "Packs"}, rows);
  return page(visit, "Compare with the packs again", "cupboard", main);
}

WebAnswer looked_page(Visit& visit) {
  const Session& records = visit.records();
  const auto* specification = on_file(records, visit.part);
  if (specification == nullptr) return not_there(visit, "Nothing is on file under this number any more: it may have been read anew.");
  return page(visit, "Compare with the pack", "cupboard",
              el("h1", {}, food_and_seller(records, specification->value)) + what_is_on_file(records, specification->place) +
                  looked_again_form(visit, specification->place) +
                  el("p", {{"class", "actions"}},
                     link_button("/cupboard/says/" + url_part(specification->value.ingredient.text()) +
                                     "?from=" + url_part(specification->value.supplier.text()),
                                 "No, the pack says something else now")));
}

std::optional<Booked> looked(Visit& visit) {
  const auto on = visit.day("on", false);
  const auto* found = on_file(visit.records(), visit.part);
  if (found == nullptr) visit.refuse("", "nothing is on file under this number any more", "look at the list again");
  if (!visit.wrong.empty()) return std::nullopt;
  const std::uint64_t place = found->place;
  return visit.record([&](Session& session) -> Result<Booked> {
    const auto specification = session.state().specifications.find(place);
    if (specification == session.state().specifications.end())
      return Refusal{"", 0, "", "nothing is on file under this number any more", "look at the list again"};
    const Specification& says = specification->second.value;
    Looking looking{says.ingredient.text(), says.supplier.text(), "", std::string{trimmed(visit.typed("against"))}, on};
    // A pack leads to what it stands under itself, also where a newer reading is on file.
    for (const auto& [id, lot] : session.state().lots) {
      if (lot.value.specification == place) looking.pack = id.text();
    }
    const auto* newest = session.state().specification(says.ingredient, says.supplier, on.value_or(session.today()));
    if (looking.pack.empty() && (newest == nullptr || newest->place != place))
      return Refusal{"", 0, "on", "on that day something else was on file of it", "write the day on which it was compared"};
    return look_again(session, looking);
  });
}

}  // namespace

Html what_is_on_file(const Session& records, std::uint64_t place) {
  const auto specification = records.state().specifications.find(place);
  if (specification == records.state().specifications.end()) return {};
  std::vector<std::vector<Html>> rows;
  for (const auto& [key, word] : allergens_of(records)) {
    std::string answer = "unknown", evidence;
    for (const auto& said : specification->second.value.allergens) {
      if (said.allergen == key) answer = said.presence, evidence = said.evidence;
    }
    rows.push_back({word, answer == "absent" ? "not an ingredient" : answer, evidence});
  }
  return el("h2", {}, "What the pack says") +
         el("p", {},
            fmt::format("Looked at on {}; read from {}", format_date_long(records.state().last_looked(place)),
                        specification->second.value.checked_against)) +
         table("Allergens by what the pack says", {"Allergen", "The pack says", "By"}, rows);
}

Html looked_again_form(Visit& visit, std::uint64_t place) {
  const std::string number = std::to_string(place);
  return el("h2", {}, "I compared it with the pack again, it says the same") +
         FormView{visit, "/cupboard/looked/" + number, "looked-" + number}
             .text("against", "What you compared it with", {.value = "the pack", .needed = true})
             .day("on", "On which day", {.hint = "Left empty: today."})
             .finish("It says the same");
}

Html to_look_at_here(Visit& visit) {
  const auto all = most_urgent_first(visit);
  if (all.empty()) return {};
  const auto late = std::count_if(all.begin(), all.end(), [](const ToLookAt& one) { return one.days_left && *one.days_left < 0; });
  const auto& first = all.front();
  const std::string words =
      late > 0 ? fmt::format("{} of what packs say {} too old to be believed: compare it with the pack again.",
                             late == 1 ? "1 reading" : fmt::format("{} readings", late), late == 1 ? "is" : "are")
               : fmt::format("To be compared with its pack next: {}, {}.",
                             food_and_seller(visit.records(), visit.records().state().specifications.at(first.place).value),
                             left_to_look(first));
  return el("p", late > 0 ? Attributes{{"class", "stop"}} : Attributes{}, words) +
         el("p", {{"class", "actions"}}, link_button("/cupboard/look", "Compare with the packs again"));
}

std::vector<Route> looking_routes() {
  return {{"GET", "/cupboard/look", For::reader, look_page}, {"GET", "/cupboard/looked/*", For::recorder, looked_page}};
}

std::vector<Deed> looking_deeds() {
  return {{"/cupboard/looked/*",
           For::recorder,
           "What is on file of a pack was compared with it again, and it says the same.",
           {{"against", "what it was compared with", true}, {"on", "the day; empty: today"}},
           looked,
           to("/cupboard/look"),
           looked_page}};
}

}  // namespace tierproof::web
