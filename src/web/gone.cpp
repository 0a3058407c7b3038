// Gone: what was handed over, questions and complaints about it, where everything went, and recalls.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "deeds.h"
#include "leaving.h"
#include "parts.h"
#include "signing_in.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/recalling.h"
#include "tierproof/app/tracing.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

WebAnswer gone_page(Visit& visit) {
  const Session& records = visit.records();
  Html main = el("h1", {}, "Gone");
  main += el("form", {{"method", "get"}, {"action", "/gone/trace"}, {"class", "inline"}, {"role", "search"}},
             el("label", {{"for", "of"}}, "Where did it go? A code on a pack, or a number such as pack-3, batch-2, cake-1"),
             el("input", {{"id", "of"}, {"name", "of"}, {"type", "text"}, {"autocomplete", "off"}}),
             el("button", {{"type", "submit"}, {"class", "main"}}, "Find it"));
  Html recalls;
  for (const auto& [id, recall] : records.state().recalls)
    recalls += el(
        "li", {},
        el("a", {{"href", "/gone/recall/" + id.text()}}, fmt::format("{}, begun {}", id.text(), moment_in_words(records, recall.happened))),
        records.state().closed(id) == nullptr ? " is open" : " is closed");
  if (!recalls.empty()) main += el("h2", {}, "Recalls") + el("ul", {{"class", "plain-list"}}, recalls);
  Html open;
  for (const auto& [id, complaint] : records.state().complaints) {
    if (records.state().closed(id) != nullptr) continue;
    open += el("li", {},
               el("a", {{"href", "/gone/cake/" + complaint.value.cake.text()}},
                  fmt::format("{} about {}", id.text(), complaint.value.cake.text())),
               fmt::format(", since {}", moment_in_words(records, complaint.happened)));
  }
  if (!open.empty()) main += el("h2", {}, "Complaints that are open") + el("ul", {{"class", "plain-list"}}, open);
  Html cards;
  for (auto handed = records.state().hand_overs.rbegin(); handed != records.state().hand_overs.rend(); ++handed) {
    const auto cake = records.state().cakes.find(handed->value.cake);
    if (cake == records.state().cakes.end()) continue;
    cards += el("li", {{"class", "card"}}, el("h3", {}, el("a", {{"href", "/gone/cake/" + cake->first.text()}}, cake->second.value.name)),
                el("p", {}, fmt::format("{} · handed over {}", cake->first.text(), moment_in_words(records, handed->happened))));
  }
  main += el("h2", {}, "Handed over, the newest first") +
          (cards.empty() ? el("p", {}, "Nothing was handed over yet.") : el("ul", {{"class", "cards"}}, cards));
  return page(visit, "Gone", "gone", main);
}

WebAnswer gone_cake_page(Visit& visit) {
  if (visit.request.method == "POST") visit.part = visit.typed("cake");
  const Session& records = visit.records();
  const auto cake = records.state().cakes.find(CakeId{visit.part});
  if (cake == records.state().cakes.end()) return not_there(visit, "No cake of this number is on record.");
  const auto* handed = records.state().hand_over(cake->first);
  std::vector<std::pair<std::string, Html>> lines{{"For", format_date_long(cake->second.value.event)}};
  if (handed != nullptr) {
    lines.push_back({"Handed over", moment_in_words(records, handed->happened)});
    lines.push_back({"To", handed->value.to.text.value_or("(erased)")});
    lines.push_back({"They were told", handed->value.told.text.value_or("(erased)")});
  }
  for (const auto& told : records.state().told) {
    if (told.value.cake == cake->first) lines.push_back({"Told " + told.value.when, told.value.words.text.value_or("(erased)")});
  }
  Html main = el("h1", {}, fmt::format("{} ({})", cake->second.value.name, visit.part)) + facts(lines) +
              el("p", {{"class", "actions"}}, link_button("/leaving/cake/" + visit.part, "What the records show of it"),
                 link_button("/gone/trace?of=" + visit.part, "What went into it"),
                 visit.is_owner() ? link_button("/drawer/kept?of=" + visit.part, "Until when it is kept") : Html{}) +
              more_about(visit, visit.part);
  for (const auto& [id, complaint] : records.state().complaints) {
    if (complaint.value.cake != cake->first) continue;
    main += el("h2", {}, fmt::format("{}, {}", id.text(), moment_in_words(records, complaint.happened))) +
            el("p", {}, complaint.value.what.text.value_or("(erased)"));
    if (const auto* closed = records.state().closed(id)) {
      main += el("p", {}, el("b", {}, "Outcome: "), closed->value.outcome.text.value_or("(erased)"));
    } else if (visit.may_record()) {
      main += FormView{visit, "/gone/settle", "settle-" + id.text()}
                  .hidden("complaint", id.text())
                  .hidden("cake", visit.part)
                  .text("outcome", "What came of it", {.needed = true})
                  .finish("Close the complaint");
    }
  }
  if (visit.may_record()) {
    FormView form{visit, "/gone/complaint", "complaint"};
    form.hidden("cake", visit.part)
        .tiles("of", "It is about",
               {{"illness", "illness"},
                {"allergic reaction", "an allergic reaction"},
                {"something in it", "something in it that does not belong"},
                {"spoiled", "it was spoiled"},
                {"damaged", "it was damaged"},
                {"other", "something else"}},
               {.needed = true})
        .text("from", "Who complained, and how", {.needed = true})
        .text("what", "What they said", {.needed = true});
    add_when(form);
    main += el("details", {{"class", "fold"}, flag("open", visit.typed("form") == "complaint")}, el("summary", {}, "Somebody complained"),
               form.finish("Book the complaint", "grave"));
  }
  main += papers_of_cake(visit, cake->first);
  return page(visit, cake->second.value.name, "gone", main);
}

std::optional<Booked> complaint(Visit& visit) {
  const auto told = visit.write<ComplaintTold>([&](Session& session) -> Result<ComplaintTold> {
    if (const auto before = session.booked_before()) return ComplaintTold{*before, {}};
    return complain(session, {visit.typed("cake"), visit.typed("of"), visit.typed("from"), visit.typed("what"), visit.typed("at")});
  });
  return told ? std::optional{told->booked} : std::nullopt;
}

std::optional<Booked> settle(Visit& visit) {
  return visit.record(
      [&](Session& session) { return settle_complaint(session, visit.typed("complaint"), visit.typed("outcome"), visit.typed("at")); });
}

std::vector<std::vector<Html>> traced_rows(const std::vector<TracedTold>& things) {
  std::vector<std::vector<Html>> rows;
  for (const auto& thing : things) rows.push_back({thing.words, thing.certain ? "certain" : "possible", thing.where, thing.way});
  return rows;
}

WebAnswer trace_page(Visit& visit) {
  const std::string of{trimmed(visit.request.query["of"])};
  if (of.empty()) return redirect("/gone");
  const auto traced = trace(visit.records(), of, {}, visit.at());
  Html main = el("h1", {}, "Where did it go? " + of);
  if (!traced) {
    for (const auto& refusal : traced.error()) main += el("p", {{"class", "warn"}}, told_here(refusal));
    return page(visit, "Where did it go?", "gone", main);
  }
  const std::vector<std::string> headings{"What", "How sure", "Where it is now", "Way"};
  main += el("p", {}, traced->words);
  main += traced->into.empty() ? el("p", {}, "It went into nothing else by the records.")
                               : table("It went into", headings, traced_rows(traced->into));
  main += traced->from.empty() ? Html{} : table("What went into it", headings, traced_rows(traced->from));
  if (!traced->kit.empty()) {
    std::vector<std::vector<Html>> rows;
    for (const auto& next : traced->kit) rows.push_back({next.equipment, next.before, next.after, next.cleaning});
    main += table("What came next on the same kit", {"Kit", "After", "Came", "Cleaned between"}, rows);
  }
  if (visit.may_record()) {
    FormView form{visit, "/gone/recall", "recall"};
    form.hidden("thing", of)
        .text("why", "Why it is recalled", {.needed = true})
        .ticks("drill", "It is", {{"yes", "an exercise: nothing is recalled"}});
    main += el("details", {{"class", "fold"}, flag("open", !visit.wrong.empty())},
               el("summary", {}, "Begin a recall of it, or an exercise"), form.finish("Begin", "grave"));
  }
  return page(visit, "Where did it go?", "gone", main);
}

std::optional<Booked> recall_begun(Visit& visit) {
  RecallAsked asked;
  asked.things = visit.request.form.every("thing");
  asked.drill = visit.typed("drill") == "yes";
  return visit.record([&](Session& session) { return begin_recall(session, asked, visit.typed("why"), visit.typed("at")); });
}
WebAnswer recall_again(Visit& visit) {
  Html lines;
  for (const auto& refusal : visit.wrong) lines += el("li", {}, refusal.field + ": " + told_here(refusal));
  return page(visit, "Not begun", "gone",
              el("h1", {}, "Nothing was booked") + el("ul", {}, lines) +
                  el("p", {}, el("a", {{"href", "/gone/trace?of=" + url_part(visit.typed("thing"))}}, "Back")));
}

Html steps_of(Visit& visit, const RecallTold& told, const std::string& heading, const std::vector<RecallStep>& steps,
              const Choices& deeds) {
  if (steps.empty()) return {};
  Html cards;
  for (const auto& step : steps) {
    Html inside = el("h3", {}, step.food.words) + el("p", {}, step.food.where);
    if (!step.customer.empty()) inside += el("p", {}, el("b", {}, "Who has it: "), step.customer);
    if (!step.left.empty()) inside += el("p", {}, step.left);
    inside += el("p", {{"class", step.done ? "date" : "stop"}}, step.done ? step.done_words : "Not done yet");
    for (const auto& tried : step.tries) inside += el("p", {{"class", "hint"}}, tried);
    if (visit.may_record() && !step.done && !told.id.empty() && told.closed.empty()) {
      FormView form{visit, "/gone/recall-step", "step-" + step.food.id};
      form.hidden("recall", told.id)
          .hidden("what", step.food.id)
          .tiles("did", "What was done", deeds, {.needed = true})
          .text("note", "In a few words", {.needed = true});
      inside += form.finish("Book it");
    }
    cards += el("li", {{"class", "card"}}, inside);
  }
  return el("h2", {}, heading) + el("ul", {{"class", "cards"}}, cards);
}

WebAnswer recall_page(Visit& visit) {
  if (visit.request.method == "POST") visit.part = visit.typed("recall");
  const auto told = recall_of(visit.records(), visit.part, visit.at());
  if (!told) return not_there(visit, told_here(told.error().front()));
  Html main = el("h1", {}, visit.part + (told->drill ? " (an exercise)" : "")) + el("p", {}, told->begun);
  if (!told->closed.empty()) main += el("p", {{"class", "date"}}, "Closed " + told->closed);
  Choices tell{{"found", "found"}, {"not found", "not found"}};
  Choices food = tell;
  if (!told->drill) {
    tell = {{"told", "told"}, {"not reached", "not reached"}};
    food = {{"set aside", "set aside"}, {"given back", "given back"}, {"not found", "not found"}};
  }
  main += steps_of(visit, *told, "Whom to tell", told->contact, tell) + steps_of(visit, *told, "What to set aside", told->hold, food) +
          steps_of(visit, *told, "Already gone", told->gone, {});
  if (!told->drill) main += steps_of(visit, *told, "Who else", told->others, tell);
  if (visit.is_owner() && told->closed.empty())
    main += el("h2", {}, "Close it") + FormView{visit, "/gone/recall-closed", "recall-closed"}
                                           .hidden("recall", visit.part)
                                           .text("cause", "The cause")
                                           .text("learned", "What you do otherwise from now on")
                                           .pin("Your PIN")
                                           .finish("Close it", "grave");
  return page(visit, visit.part, "gone", main);
}

std::optional<Booked> recall_step(Visit& visit) {
  RecallTicking ticking;
  ticking.recall = visit.typed("recall");
  ticking.what = visit.typed("what");
  ticking.did = visit.typed("did");
  ticking.note = visit.typed("note");
  ticking.at = visit.typed("at");
  return visit.record([&](Session& session) { return tick_recall(session, ticking); });
}
std::optional<Booked> recall_closed(Visit& visit) {
  if (!confirmed_by_pin(visit)) return std::nullopt;
  const RecallClosing closing{visit.typed("recall"), visit.typed("cause"), visit.typed("learned"), visit.typed("at")};
  return visit.record([&](Session& session) { return close_recall(session, closing); });
}

std::string to_recall(const Visit& visit, const Booked& booked) {
  const std::string& of = visit.typed("recall");
  return "/gone/recall/" + (of.empty() ? booked.subjects.front() : url_part(of));
}

}  // namespace

std::vector<Route> gone_routes() {
  return {{"GET", "/gone", For::reader, gone_page},
          {"GET", "/gone/cake/*", For::reader, gone_cake_page},
          {"GET", "/gone/trace", For::reader, trace_page},
          {"GET", "/gone/recall/*", For::reader, recall_page}};
}

std::vector<Deed> gone_deeds() {
  const DeedField at{"at", "when, on the kitchen's clock; empty: now"};
  return {{"/gone/complaint",
           For::recorder,
           "Somebody complained about a cake.",
           {{"cake", "its number", true},
            {"of", "what it is about", true},
            {"from", "who, and how", true},
            {"what", "what they said", true},
            at},
           complaint,
           [](const Visit& visit, const Booked&) { return "/gone/cake/" + url_part(visit.typed("cake")); },
           gone_cake_page},
          {"/gone/settle",
           For::recorder,
           "A complaint is closed.",
           {{"complaint", "its number", true}, {"cake", "of which cake"}, {"outcome", "what came of it", true}, at},
           settle,
           [](const Visit& visit, const Booked&) { return "/gone/cake/" + url_part(visit.typed("cake")); },
           gone_cake_page},
          {"/gone/recall",
           For::recorder,
           "A recall begins, or an exercise.",
           {{"thing", "pack, batch, cake or code", true, true}, {"why", "why", true}, {"drill", "yes: an exercise"}, at},
           recall_begun,
           to_recall,
           recall_again},
          {"/gone/recall-step",
           For::recorder,
           "A step of a recall.",
           {{"recall", "its number", true},
            {"what", "one of what it lists", true},
            {"did", "told, not reached, set aside, given back, not found, found", true},
            {"note", "in a few words", true},
            at},
           recall_step,
           to_recall,
           recall_page},
          {"/gone/recall-closed",
           For::owner,
           "A recall is closed.",
           {{"recall", "its number", true}, {"cause", "the cause"}, {"learned", "what is done otherwise from now on"}, at},
           recall_closed,
           to_recall,
           recall_page}};
}

}  // namespace tierproof::web
