// The list for the counter: every cake against every allergen of the rules, on the screen and as a paper.
#include <fmt/format.h>

#include "deeds.h"
#include "parts.h"
#include "tierproof/app/cake_papers.h"

namespace tierproof::web {
namespace {

WebAnswer counter_page(Visit& visit) {
  const DaysAsked asked = days_asked(visit);
  Html main = el("h1", {}, "Counter list");
  FormView days{visit, "/leaving/counter", "days"};
  days.asks().day("from", "From", {.hint = "Both left empty: every cake that is not handed over yet."}).day("until", "Until");
  main += el("details", {{"class", "fold"}, flag("open", asked.from || asked.until || !asked.wrong.empty())},
             el("summary", {}, "Cakes of other days"), days.finish("Show them", "plain"));
  const auto list = asked.wrong.empty() ? counter_list_of(visit.records(), {asked.from, asked.until, SheetPaper::a4}, visit.at())
                                        : Result<CounterList>{asked.wrong};
  if (!list) {
    for (const auto& refusal : list.error()) main += el("p", {{"class", "warn"}}, told_here(refusal));
    return page(visit, "Counter list", "leaving", main);
  }
  const CounterListContent& content = list->content;
  main += el("p", {{"class", "date"}}, content.which);
  for (const auto& group : content.groups) {
    std::vector<std::string> headings{"Allergen"};
    Html cakes;
    for (const auto& cake : group.cakes) {
      headings.push_back(fmt::format("{} ({})", cake.name, cake.reference));
      cakes += el("li", {}, el("a", {{"href", "/leaving/cake/" + cake.reference}}, headings.back()),
                  el("small", {},
                     fmt::format(" {}{}{}", cake.event, cake.handed_over ? ", handed over" : "",
                                 cake.stopped ? ", nobody may release it as it is" : "")));
    }
    std::vector<std::vector<Html>> rows;
    for (std::size_t allergen = 0; allergen < group.allergens.size(); ++allergen) {
      std::vector<Html> row{el("b", {}, group.allergens[allergen])};
      for (const auto& cake : group.cakes) row.emplace_back(cake.words[allergen]);
      rows.push_back(std::move(row));
    }
    main += el("ul", {{"class", "plain-list"}}, cakes) + table("By the rules of " + group.rules, headings, rows);
  }
  Html left_out;
  for (const auto& line : content.left_out) left_out += el("li", {}, line);
  if (!left_out.empty()) main += el("h2", {}, "Not on the list") + el("ul", {}, left_out);
  main += el("p", {{"class", "hint"}}, content.valid);
  for (const auto& caution : content.cautions) main += el("p", {{"class", "hint"}}, caution);
  if (visit.may_record()) {
    FormView form{visit, "/leaving/counter", "print-counter"};
    form.hidden("from", asked.from_typed).hidden("until", asked.until_typed);
    main += el("h2", {}, "On paper") + form.finish("Issue it as a PDF");
  }
  main += issued_papers(visit.records(), "counter list");
  return page(visit, "Counter list", "leaving", main);
}

std::optional<Booked> print_counter_list(Visit& visit) {
  CounterListRequest request;
  request.from = visit.day("from", false);
  request.until = visit.day("until", false);
  if (!visit.wrong.empty()) return std::nullopt;
  return issued_booked(visit, [&](Session& session) { return issue_counter_list(session, request, visit.site.settings().data); });
}

}  // namespace

std::vector<Route> counter_routes() { return {{"GET", "/leaving/counter", For::reader, counter_page}}; }

std::vector<Deed> counter_deeds() {
  return {{"/leaving/counter",
           For::recorder,
           "The list for the counter is issued.",
           {{"from", "first day; both empty: every cake that is not handed over yet"}, {"until", "last day"}},
           print_counter_list,
           to("/leaving/counter"),
           counter_page}};
}

}  // namespace tierproof::web
