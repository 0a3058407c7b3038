// Going out: this week's orders with their boxes, what stops each, and the label, the decision and the hand-over.
#include "leaving.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "deeds.h"
#include "keeping.h"
#include "parts.h"
#include "signing_in.h"
#include "tierproof/app/cake_papers.h"
#include "tierproof/app/issuing.h"
#include "tierproof/app/ordering.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/selling.h"
#include "tierproof/app/small_labels.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

constexpr Span seen_for = std::chrono::minutes{2};

Html cake_card(const CakeToLeave& cake) {
  Html inside = el("h3", {}, el("a", {{"href", "/leaving/cake/" + cake.id.text()}}, cake.name));
  inside += el("p", {{"class", "date"}},
               fmt::format("{} · {} · {}", format_date_long(cake.event), cake.boxes == 1 ? "1 box" : fmt::format("{} boxes", cake.boxes),
                           cake.id.text()));
  inside += el("p", {{"class", "allergy"}}, el("b", {}, "Allergy: "), cake.allergy);
  if (!cake.cannot_tell.empty()) return el("li", {{"class", "card"}}, inside, el("p", {{"class", "stop"}}, cake.cannot_tell));
  inside += leaving_mark(cake.nobody_may, cake.released, cake.against_findings);
  inside += el("p", {}, cake.outcome);
  if (!cake.stopped.empty()) inside += el("p", {}, el("b", {}, "Stopped by: "), fmt::format("{}", fmt::join(cake.stopped, "; ")));
  if (!cake.built) inside += el("p", {}, "Nothing of it is built yet.");
  return el("li", {{"class", "card"}}, inside);
}

WebAnswer leaving_page(Visit& visit) {
  Html main = el("h1", {}, "Going out");
  if (visit.may_record())
    main += el("p", {{"class", "actions"}}, link_button("/leaving/new", "A new order", "main"),
               link_button("/leaving/counter", "Counter list"));
  const auto cakes = cakes_to_leave(visit.records(), visit.at());
  Html soon, later;
  for (const auto& cake : cakes) (cake.event <= add_days(visit.today(), 7) ? soon : later) += cake_card(cake);
  Html now;
  if (cakes.empty()) now += nothing_yet("No order is open.", visit.may_record() ? "/leaving/new" : "", "A new order");
  if (!soon.empty()) now += el("h2", {}, "Up to a week from today") + el("ul", {{"class", "cards"}}, soon);
  if (!later.empty()) now += el("h2", {}, "Later") + el("ul", {{"class", "cards"}}, later);
  main += live("leaving-now", now);
  return page(visit, "Going out", "leaving", main);
}

WebAnswer new_order_page(Visit& visit) {
  FormView form{visit, "/leaving/new", "new-order"};
  form.text("name", "What is it?", {.hint = "As it stands on the label: vanilla sponge with raspberry buttercream", .needed = true})
      .day("for", "For which day", {.needed = true});
  for (const auto& question : selling_questions()) {
    Choices answers;
    for (const auto& answer : question.answers) answers.push_back({answer.typed, answer.words});
    form.tiles(question.option.substr(2).c_str(), question.question, answers, {.needed = question.option != "--where"});
  }
  form.number("boxes", "How many boxes", {.value = "1", .needed = true})
      .number("face", "Largest side of the box",
              {.hint = "Its length times its width: small letters are allowed only on a small one.", .unit = "cm²", .needed = true})
      .ticks("of-recipe", "Made of", recipes_of(visit.records()), {.hint = "What is planned: a named allergy is compared with it at once."})
      .tiles("allergy", "Did you ask about allergies?",
             {{"none", "asked: none"}, {"named", "asked: named below"}, {"not asked", "not asked yet"}}, {.needed = true})
      .ticks("allergen", "Which were named", allergens_of(visit.records()))
      .text("of", "Who answered, and how", {.hint = "the customer, by telephone"});
  form.fold_begin("Customer, pieces, what its name shows");
  form.text("customer", "Customer", {.hint = "Kept apart, so that it can be erased."})
      .text("contact", "How to reach them")
      .number("pieces", "For how many pieces")
      .ticks("shows", "Brought out by its name or pictures", foods_of(visit.records()),
             {.hint = "Their share is printed where the rules ask for it."});
  form.fold_end();
  return page(visit, "A new order", "leaving", el("h1", {}, "A new order") + form.finish("Take the order"));
}

std::optional<Booked> new_order(Visit& visit) {
  Ordering order;
  order.name = std::string{trimmed(visit.typed("name"))};
  order.event = visit.day("for", true);
  const auto answer = [&](const char* field) {
    return selling_answer(std::string{"--"} + field, visit.typed(field)).value_or(visit.typed(field));
  };
  order.boxed = answer("boxed");
  order.seller = answer("sold-by");
  order.ordered = answer("ordered");
  order.where = answer("where");
  order.boxes = visit.count("boxes", 1, 100, true).value_or(1);
  order.largest_face_cm2 = visit.count("face", 1, 100'000, true).value_or(0);
  order.pieces = visit.count("pieces", 1, 10'000, false);
  order.planned = visit.request.form.every("of-recipe");
  order.shows = visit.request.form.every("shows");
  order.customer = std::string{trimmed(visit.typed("customer"))};
  order.contact = std::string{trimmed(visit.typed("contact"))};
  if (visit.typed("allergy") != "not asked" || !visit.typed("of").empty() || visit.request.form.has("allergen")) {
    Answering answering;
    answering.answer = visit.typed("allergy");
    answering.allergens = visit.request.form.every("allergen");
    answering.of_whom = visit.typed("of");
    order.allergy = answering;
  }
  if (!visit.wrong.empty()) return std::nullopt;
  return visit.record([&](Session& session) { return order_cake(session, order); });
}

/// A form to answer the allergy question, or to change the answer, which needs the PIN and a reason.
Html allergy_form(Visit& visit, const std::string& cake) {
  const auto* before = visit.records().state().answer(CakeId{cake});
  const bool again = before != nullptr && before->value.answer != "not asked";
  FormView form{visit, "/leaving/allergy", "allergy"};
  form.hidden("cake", cake)
      .tiles("answer", "The answer", {{"none", "none"}, {"named", "named below"}, {"not asked", "not asked"}}, {.needed = true})
      .ticks("allergen", "Which were named", allergens_of(visit.records()))
      .text("of", "Who answered, and how", {.hint = "the customer, by telephone"})
      .text("told", "What you told them", {.hint = "In the words told"});
  if (before != nullptr) form.text("why", "Why the answer changes", {.value = again ? "" : "it was asked now", .needed = true});
  if (again) form.pin("Your PIN");
  return form.finish(again ? "Change the answer" : "Book the answer", again ? "grave" : "main");
}

std::optional<Booked> allergy(Visit& visit) {
  const auto* before = visit.records().state().answer(CakeId{visit.typed("cake")});
  if (before != nullptr && before->value.answer != "not asked" && !confirmed_by_pin(visit)) return std::nullopt;
  Answering answering;
  answering.cake = visit.typed("cake");
  answering.answer = visit.typed("answer");
  answering.allergens = visit.request.form.every("allergen");
  answering.of_whom = visit.typed("of");
  answering.told = visit.typed("told");
  answering.why = visit.typed("why");
  return visit.record([&](Session& session) { return answer_allergy(session, answering); });
}

Html tier_form(Visit& visit, const std::string& cake) {
  const Session& records = visit.records();
  FormView form{visit, "/leaving/tier", "tier"};
  form.hidden("cake", cake)
      .text("tier", "Which tier", {.hint = "bottom, middle, top; of a cake with one tier: only", .value = "only", .needed = true});
  int shown = 0;
  Choices all;
  const auto kept = kept_now(records, visit.now);
  for (auto one = kept.rbegin(); one != kept.rend(); ++one) {
    if (!records.state().batches.contains(BatchId{one->id})) continue;
    all.push_back({one->id, fmt::format("{} ({})", one->name, one->id)});
    if (++shown == 7) form.fold_begin("Older batches");
    form.number(("part-" + one->id).c_str(), fmt::format("{} ({})", one->name, one->id),
                {.hint = fmt::format("{} left", format_mass(Mass::milligrams(remaining_mg(records.state(), one->id)))), .unit = "g"});
  }
  form.fold_end();
  if (shown == 0) return nothing_yet("Nothing is made that could go into it.", "/bench", "To the bench");
  form.ticks("all-of", "All that is left of these, not weighed", all);
  form.text("not-food", "To be removed before eating", {.hint = "dowel 4, wire 2"})
      .ticks("kit", "Put together with", kit_of(records))
      .ticks("estimated", "The masses", {{"yes", "are estimated, not weighed"}});
  add_when(form);
  return form.kept_without_server().finish("It is built");
}

std::optional<Booked> tier(Visit& visit) {
  Tiering tiering;
  tiering.cake = visit.typed("cake");
  tiering.tier = std::string{trimmed(visit.typed("tier"))};
  tiering.kit = visit.request.form.every("kit");
  tiering.estimated = visit.typed("estimated") == "yes";
  tiering.at = visit.typed("at");
  for (const auto& [name, value] : visit.request.form.all()) {
    if (!name.starts_with("part-") || trimmed(value).empty()) continue;
    if (const auto mass = visit.mass(name, true)) tiering.parts.emplace_back(name.substr(5), *mass);
  }
  for (const auto& batch : visit.request.form.every("all-of")) tiering.parts.emplace_back(batch, std::nullopt);
  std::string_view rest = visit.typed("not-food");
  while (!trimmed(rest).empty()) {
    const auto one = trimmed(rest.substr(0, rest.find(',')));
    rest = rest.find(',') == std::string_view::npos ? std::string_view{} : rest.substr(rest.find(',') + 1);
    const auto space = one.find_last_of(' ');
    const auto number = space == std::string_view::npos ? std::nullopt : parse_decimal(one.substr(space + 1));
    if (!number || denominator(*number) != 1 || *number < 1 || *number > 1000) {
      visit.refuse("not-food", fmt::format("\"{}\" does not say what and how many", one), "write it like dowel 4, wire 2");
      continue;
    }
    tiering.inedible.emplace_back(std::string{trimmed(one.substr(0, space))}, static_cast<std::int64_t>(numerator(*number)));
  }
  if (tiering.parts.empty() && visit.wrong.empty()) visit.refuse("tier", "holds nothing", "write how much of which batch goes in");
  if (!visit.wrong.empty()) return std::nullopt;
  return visit.record([&](Session& session) { return build_tier(session, tiering); });
}

Html release_form(Visit& visit, const Judgement& judged) {
  FormView form{visit, "/leaving/release", "release"};
  form.hidden("cake", judged.cake.text()).of_what_was_seen();
  for (const auto& finding : judged.findings) {
    if (finding.stop != Stop::needs_person) continue;
    const auto* row = plan_row(visit.records(), judged.plan, finding.control);
    form.text(fmt::format("against-{}:{}", finding.control, finding.subject).c_str(),
              fmt::format("{} ({}): why it may leave all the same", row == nullptr ? finding.control : row->words, finding.subject),
              {.hint = std::string{words_of(finding.verdict)} + ": " + finding.message});
  }
  form.pin("Your PIN");
  return form.finish("OK to leave", "main needs-fresh");
}

Refusal since_you_looked() { return {"", 0, "", "something was recorded since you looked", "look at it as it is now, and decide again"}; }

/// Whether the page that somebody decided by was new enough, and told of the records as they are.
bool seen_as_it_is(Visit& visit) {
  const std::string& seen = visit.typed("seen");
  const auto colon = seen.find(':');
  const auto size = parse_decimal(seen.substr(0, colon));
  const auto at = colon == std::string::npos ? std::nullopt : parse_decimal(seen.substr(colon + 1));
  if (!size || !at) {
    visit.refuse("", "the page did not say what you saw", "look at the cake again");
    return false;
  }
  const Span age = visit.now - Instant{Span{static_cast<std::int64_t>(numerator(*at))}};
  if (age > seen_for || age < -seen_for) {
    visit.refuse("", "this page is older than two minutes", "look at it as it is now, and decide again");
  } else if (*size != static_cast<std::int64_t>(visit.records().head().size)) {
    visit.wrong.push_back(since_you_looked());
  } else {
    return true;
  }
  return false;
}

/// A decision that was booked, or everything that stands against it, in `visit.wrong`.
std::optional<Booked> decided(Visit& visit, const std::function<Result<Decision>(Session&)>& act) {
  const auto booked = visit.write<Decision>([&](Session& session) -> Result<Decision> {
    if (const auto before = session.booked_before()) return Decision{*before, {}, {}};
    return act(session);
  });
  if (!booked) return std::nullopt;
  if (!booked->booked) visit.wrong = booked->stopped;
  return booked->booked;
}

std::optional<Booked> release(Visit& visit) {
  if (!seen_as_it_is(visit) || !confirmed_by_pin(visit)) return std::nullopt;
  std::vector<AgainstReason> against;
  for (const auto& [name, value] : visit.request.form.all()) {
    if (name.starts_with("against-") && !trimmed(value).empty()) against.push_back({name.substr(8), std::string{trimmed(value)}});
  }
  const auto seen = parse_decimal(std::string_view{visit.typed("seen")}.substr(0, visit.typed("seen").find(':')));
  return decided(visit, [&](Session& session) -> Result<Decision> {
    if (*seen != static_cast<std::int64_t>(session.head().size)) return since_you_looked();
    return release_cake(session, visit.typed("cake"), against);
  });
}

std::optional<Booked> hand_over(Visit& visit) {
  HandingOver handing;
  handing.cake = visit.typed("cake");
  handing.to = visit.typed("to");
  handing.told = visit.typed("told");
  handing.degrees = visit.degrees("reading", Scale::celsius, false);
  handing.at = visit.typed("at");
  if (!visit.wrong.empty()) return std::nullopt;
  return decided(visit, [&](Session& session) { return hand_over_cake(session, handing); });
}

std::optional<Booked> tell(Visit& visit) {
  return visit.record([&](Session& session) {
    return tell_customer(session, {visit.typed("cake"), visit.typed("when"), visit.typed("to"), visit.typed("words"), {}});
  });
}

std::optional<Booked> accept(Visit& visit) {
  return visit.record([&](Session& session) {
    return accept_in_writing(session, visit.typed("cake"), visit.request.form.every("allergen"), visit.typed("written"));
  });
}

Choices stocks_of(const DataRoot& data) {
  Choices choices;
  if (const auto stocks = load_stocks(data)) {
    for (const auto& stock : *stocks) choices.push_back({stock.id, stock.words});
  }
  return choices;
}

WebAnswer label_page(Visit& visit) {
  if (visit.request.method == "POST") visit.part = visit.typed("cake");
  const auto cake = visit.records().state().cakes.find(CakeId{visit.part});
  if (cake == visit.records().state().cakes.end()) return not_there(visit, "No cake of this number is on record.");
  const auto& asked = visit.request.method == "POST" ? visit.request.form : visit.request.query;
  const std::string stock = asked["stock"].empty() ? "sheet-99x139" : asked["stock"];
  const std::string box = asked["box"].empty() ? "1" : asked["box"];
  Html options;
  for (const auto& [id, words] : stocks_of(visit.site.settings().data))
    options += el("option", {{"value", id}, flag("selected", id == stock)}, words);
  Html main = el("h1", {}, "Label of " + cake->second.value.name);
  main += el("form", {{"method", "get"}, {"class", "inline"}}, el("label", {{"for", "stock"}}, "Label stock"),
             el("select", {{"id", "stock"}, {"name", "stock"}}, options),
             el("label", {{"for", "box"}}, fmt::format("Box, of {}", cake->second.value.boxes)),
             el("input", {{"id", "box"}, {"name", "box"}, {"type", "text"}, {"inputmode", "numeric"}, {"class", "number"}, {"value", box}}),
             el("button", {{"type", "submit"}, {"class", "plain"}}, "Show it"));
  LabelRequest request;
  request.cake = visit.part;
  request.stock = stock;
  request.box = std::max<std::int64_t>(1, std::atoll(box.c_str()));
  const auto picture = preview_label(visit.records(), request, visit.site.settings().data);
  if (picture) {
    main += el("p", {{"class", "hint"}}, "A preview. It is no label: only what is printed below is kept and booked.");
    main += el("p", {},
               el("img", {{"class", "preview"},
                          {"src", fmt::format("/leaving/preview/{}?stock={}&box={}", url_part(visit.part), url_part(stock), request.box)},
                          {"alt", "Preview of the label"}}));
  } else {
    Html lines;
    for (const auto& refusal : picture.error()) lines += el("li", {}, told_here(refusal));
    main += el("div", {{"class", "warn"}, {"role", "note"}}, el("h2", {}, "It cannot be printed like this"), el("ul", {}, lines));
  }
  if (visit.may_record()) {
    FormView form{visit, "/leaving/label", "label"};
    form.hidden("cake", visit.part).hidden("stock", stock).hidden("box", box);
    main += form.finish("Print this label");
  }
  main += el("p", {}, el("a", {{"href", "/leaving/cake/" + visit.part}}, "Back to the cake"));
  return page(visit, "Label", "leaving", main);
}

WebAnswer preview(Visit& visit) {
  LabelRequest request;
  request.cake = visit.part;
  request.stock = visit.request.query["stock"];
  request.box = std::max<std::int64_t>(1, std::atoll(visit.request.query["box"].c_str()));
  const auto picture = preview_label(visit.records(), request, visit.site.settings().data);
  if (!picture) return plain_answer(404, "there is no such label");
  return {200, "image/png", *picture, {}};
}

std::optional<Booked> print_label(Visit& visit) {
  LabelRequest request;
  request.cake = visit.typed("cake");
  request.stock = visit.typed("stock");
  request.box = visit.count("box", 1, 100, false).value_or(1);
  if (!visit.wrong.empty()) return std::nullopt;
  return issued_booked(visit, [&](Session& session) { return issue_label(session, request, visit.site.settings().data); });
}

std::optional<Booked> print_paper(Visit& visit) {
  const std::string cake = visit.typed("cake"), kind = visit.typed("paper");
  const DataRoot& data = visit.site.settings().data;
  if (kind != "record" && kind != "allergen sheet" && kind != "venue card" && kind != "hand-over note") {
    visit.refuse("paper", fmt::format("\"{}\" is no paper of a cake", kind), "choose record, allergen sheet, venue card or hand-over note");
    return std::nullopt;
  }
  return issued_booked(visit, [&](Session& session) {
    if (kind == "record") return issue_record(session, cake, data);
    if (kind == "allergen sheet") return issue_allergen_sheet(session, cake, data);
    if (kind == "venue card") return issue_venue_card(session, cake, CardPaper::a5, data);
    return issue_hand_over_note(session, cake, SheetPaper::a4, data);
  });
}

std::string to_paper(const Visit& visit, const Booked& booked) {
  return fmt::format("/leaving/cake/{}?paper={}#papers", visit.typed("cake"), booked.sequences.empty() ? 0 : booked.sequences.front());
}

WebAnswer paper(Visit& visit) {
  const auto number = parse_decimal(visit.part);
  if (!number || denominator(*number) != 1 || *number < 1 || *number > 9'007'199'254'740'991)
    return not_there(visit, "No paper has this number.");
  const auto kept = reprint(visit.records(), static_cast<std::uint64_t>(numerator(*number)));
  if (!kept) return not_there(visit, told_here(kept.error().front()));
  const std::string type = kept->form == "pdf" ? "application/pdf" : kept->form == "png" ? "image/png" : "application/json";
  return {200, type, kept->bytes, {{"Content-Disposition", fmt::format("inline; filename=\"note-{}.{}\"", visit.part, kept->form)}}};
}

WebAnswer cake_again(Visit& visit) {
  visit.part = visit.typed("cake");
  return cake_page(visit);
}

std::function<std::string(const Visit&, const Booked&)> to_cake(const char* mark = "") {
  return [mark](const Visit& visit, const Booked&) { return "/leaving/cake/" + url_part(visit.typed("cake")) + mark; };
}

}  // namespace

Html papers_of_cake(Visit& visit, const CakeId& cake) {
  Html rows;
  for (const auto& issued : visit.records().state().papers) {
    if (issued.value.cake != cake || issued.value.form != "pdf") continue;
    const std::string box = issued.value.box > 0 ? fmt::format(", box {}", issued.value.box) : "";
    rows += el("li", {}, el("a", {{"href", fmt::format("/paper/{}", issued.sequence)}}, fmt::format("{}{} (PDF)", issued.value.paper, box)),
               el("small", {}, fmt::format(" issued {}, note {}", moment_in_words(visit.records(), issued.happened), issued.sequence)));
  }
  Html all = rows.empty() ? el("p", {}, "No paper of it was issued yet.") : el("ul", {{"class", "plain-list"}}, rows);
  if (visit.may_record()) {
    Html buttons = link_button("/leaving/label/" + cake.text(), "Label", "main");
    for (const char* kind : {"record", "allergen sheet", "venue card", "hand-over note"})
      buttons += button_form(visit, "/leaving/paper", std::string{"New "} + kind, {{"cake", cake.text()}, {"paper", kind}});
    all += el("div", {{"class", "actions"}}, buttons);
  }
  return el("section", {{"id", "papers"}}, el("h2", {}, "Papers"), all);
}

WebAnswer cake_page(Visit& visit) {
  const Session& records = visit.records();
  const auto cake = records.state().cakes.find(CakeId{visit.part});
  if (cake == records.state().cakes.end()) return not_there(visit, "No cake of this number is on record.");
  const auto* handed = records.state().hand_over(cake->first);
  const ZonedInstant at = handed == nullptr ? visit.at() : ZonedInstant{handed->happened, handed->offset};
  const auto judged = judge_cake(records, cake->first, at);
  Html main = el("h1", {}, fmt::format("{} ({})", cake->second.value.name, visit.part));
  if (!judged) {
    for (const auto& refusal : judged.error()) main += el("p", {{"class", "warn"}}, told_here(refusal));
    return page(visit, cake->second.value.name, "leaving", main + more_about(visit, visit.part));
  }
  const CakeRecordContent told = record_content(records, *judged, "");
  const bool nobody = gravest(judged->findings) == Stop::no_override;
  main += el("div", {{"class", "outcome"}}, leaving_mark(nobody, told.released, !told.overrides.empty()), el("p", {}, told.outcome));
  for (const auto& against : told.overrides)
    main += el("p", {{"class", "stop"}}, fmt::format("{}. Released all the same, by {}: {}", against.finding, against.by, against.reason));
  std::vector<std::pair<std::string, Html>> lines{{"For", told.event}, {"Sold", told.sold + " " + told.sold_why}};
  for (const auto& line : told.allergy) lines.push_back({line.label, line.text});
  for (const auto& line : told.keep) lines.push_back({line.label, line.text});
  for (const auto& line : told.handed_over) lines.push_back({line.label, line.text});
  main += facts(lines);
  if (visit.may_record() && handed == nullptr) {
    Html jump = el("a", {{"class", "button plain"}, {"href", "#build"}}, "Build a tier") +
                el("a", {{"class", "button plain"}, {"href", "#allergy-question"}}, "Allergy question") +
                el("a", {{"class", "button plain"}, {"href", "#papers"}}, "Papers");
    jump += told.released ? el("a", {{"class", "button main"}, {"href", "#over"}}, "Hand it over")
                          : el("a", {{"class", "button main"}, {"href", "#decide"}}, "May it leave?");
    main += el("p", {{"class", "actions"}}, jump);
  }
  std::vector<std::vector<Html>> rows;
  for (const auto& line : told.allergens) rows.push_back({line.name, line.word, line.why});
  Html findings, met;
  for (std::size_t i = 0; i < told.findings.size(); ++i)
    (told.findings[i].verdict == Verdict::shown ? met : findings) += finding_card(told.finding_words[i], told.findings[i]);
  if (!findings.empty()) main += el("h2", {}, "What is not shown") + findings;
  if (!met.empty()) main += el("details", {{"class", "fold"}}, el("summary", {}, "What is met as recorded"), met);
  main += el("h2", {}, "Allergens") +
          table("Every allergen of the law, and what the records say of this cake", {"Allergen", "This cake", "Why"}, rows);
  main += el("p", {{"class", "actions"}}, link_button("/leaving/may-contain/" + visit.part, "What \"may contain\" tells, and why"));
  main += how_it_keeps_here(visit, how_it_keeps(records, *judged), visit.part);
  if (visit.may_record() && handed == nullptr) {
    main += el("section", {{"id", "build"}}, el("h2", {}, "Build a tier"), tier_form(visit, visit.part));
    main += el("section", {{"id", "allergy-question"}}, el("h2", {}, "Allergy question"), allergy_form(visit, visit.part));
    if (const auto* answer = records.state().answer(cake->first); answer != nullptr && answer->value.answer == "named")
      main += el("details", {{"class", "fold"}}, el("summary", {}, "They accepted traces in writing"),
                 FormView{visit, "/leaving/accepted", "accepted"}
                     .hidden("cake", visit.part)
                     .ticks("allergen", "Traces of", allergens_of(records))
                     .text("written", "Where their own words are kept", {.needed = true})
                     .finish("Book it"));
  }
  main += papers_of_cake(visit, cake->first);
  if (visit.may_record() && handed == nullptr) {
    main += el(
        "section", {{"id", "decide"}}, el("h2", {}, "May it leave?"),
        nobody ? el("p", {{"class", "stop"}}, "Nobody can release it as it stands: see what is not shown.") : release_form(visit, *judged));
    FormView over{visit, "/leaving/hand-over", "hand-over"};
    over.hidden("cake", visit.part)
        .text("to", "Who takes it", {.hint = "Kept apart, so that it can be erased.", .needed = true})
        .text("told", "What you tell them",
              {.hint = "Allergens, fridge or not, what to remove before eating, and of raw egg", .needed = true})
        .number("reading", "How warm the cake is", {.unit = "°C"}, true);
    add_when(over);
    main += el("section", {{"id", "over"}}, el("h2", {}, "Hand it over"),
               told.released ? over.finish("It is handed over") : el("p", {}, "It can be handed over once it was released."));
  }
  if (visit.may_record())
    main += el("details", {{"class", "fold"}}, el("summary", {}, "The customer was told something"),
               FormView{visit, "/leaving/told", "told"}
                   .hidden("cake", visit.part)
                   .tiles("when", "When",
                          {{"before the order", "before the order"},
                           {"before it was handed over", "before it was handed over"},
                           {"after it was handed over", "afterwards"}},
                          {.needed = true})
                   .text("to", "Who, and how", {.needed = true})
                   .text("words", "In which words", {.needed = true})
                   .finish("Book it"));
  return page(visit, cake->second.value.name, "leaving", main + more_about(visit, visit.part));
}

std::vector<Route> leaving_routes() {
  return {{"GET", "/leaving", For::reader, leaving_page},      {"GET", "/leaving/new", For::recorder, new_order_page},
          {"GET", "/leaving/cake/*", For::reader, cake_page},  {"GET", "/leaving/label/*", For::reader, label_page},
          {"GET", "/leaving/preview/*", For::reader, preview}, {"GET", "/paper/*", For::reader, paper}};
}

std::vector<Deed> leaving_deeds() {
  const DeedField cake{"cake", "its number, cake-1", true};
  const DeedField at{"at", "when, on the kitchen's clock; empty: now"};
  return {{"/leaving/new",
           For::recorder,
           "An order.",
           {{"name", "name of the food, as it stands on the label", true},
            {"for", "day of the event", true},
            {"boxed", "before, after or not", true},
            {"sold-by", "maker or other", true},
            {"ordered", "face-to-face or distance", true},
            {"where", "here, elsewhere or delivered"},
            {"boxes", "how many", true},
            {"face", "area of the largest side of a box, cm²", true},
            {"of-recipe", "a recipe that it is to be made of", false, true},
            {"allergy", "none, named or not asked", true},
            {"allergen", "key of one that was named", false, true},
            {"of", "who answered, and how"},
            {"customer", "who ordered it"},
            {"contact", "how to reach them"},
            {"pieces", "how many"},
            {"shows", "what its name or pictures bring out", false, true}},
           new_order,
           [](const Visit&, const Booked& booked) { return "/leaving/cake/" + booked.subjects.front(); },
           new_order_page},
          {"/leaving/allergy",
           For::recorder,
           "The answer to the allergy question.",
           {cake,
            {"answer", "none, named or not asked", true},
            {"allergen", "key of one that was named", false, true},
            {"of", "who answered, and how"},
            {"told", "what they were told"},
            {"why", "why an answer changes"}},
           allergy,
           to_cake(),
           cake_again},
          {"/leaving/accepted",
           For::recorder,
           "A customer accepted traces in writing.",
           {cake, {"allergen", "key", true, true}, {"written", "where their own words are kept", true}},
           accept,
           to_cake(),
           cake_again},
          {"/leaving/told",
           For::recorder,
           "What the customer was told.",
           {cake,
            {"when", "before the order, before it was handed over or after it was handed over", true},
            {"to", "who, and how", true},
            {"words", "in which words", true}},
           tell,
           to_cake(),
           cake_again},
          {"/leaving/tier",
           For::recorder,
           "A tier was built.",
           {cake,
            {"tier", "which one", true},
            {"part-*", "of a batch: how much of it went in"},
            {"all-of", "a batch of which all that is left went in, not weighed", false, true},
            {"not-food", "what has to be removed before eating, dowel 4, wire 2"},
            {"kit", "what it was put together with", false, true},
            {"estimated", "yes: the masses were not weighed"},
            at},
           tier,
           to_cake(),
           cake_again},
          {"/leaving/release",
           For::recorder,
           "A named person decides that a cake may leave.",
           {cake,
            {"seen", "size of the records that were looked at, and when in ms since 1970, 214:1780000000000", true},
            {"against-*", "of a finding, control:subject: why it may leave all the same"}},
           release,
           to_cake("#over"),
           cake_again},
          {"/leaving/hand-over",
           For::recorder,
           "A cake was handed over.",
           {cake, {"to", "who took it", true}, {"told", "what they were told", true}, {"reading", "how warm the cake was, °C"}, at},
           hand_over,
           [](const Visit& visit, const Booked&) { return "/gone/cake/" + url_part(visit.typed("cake")); },
           cake_again},
          {"/leaving/label",
           For::recorder,
           "The label of a box is issued.",
           {cake, {"stock", "id of a label stock", true}, {"box", "which box"}},
           print_label,
           to_paper,
           label_page},
          {"/leaving/paper",
           For::recorder,
           "A paper of a cake is issued.",
           {cake, {"paper", "record, allergen sheet, venue card or hand-over note", true}},
           print_paper,
           to_paper,
           cake_again}};
}

}  // namespace tierproof::web
