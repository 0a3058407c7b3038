// The report of a recall or an exercise.
#include "tierproof/papers/recall_report.h"

#include <algorithm>
#include <filesystem>

#include "booking_papers.h"
#include "label_contents.h"
#include "recall_notes.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

std::size_t done_in(const std::vector<RecallStep>& steps) {
  return static_cast<std::size_t>(std::count_if(steps.begin(), steps.end(), [](const RecallStep& step) { return step.done; }));
}

RecallReportRow row_of(const RecallStep& step, bool of_customer) {
  RecallReportRow row{step.done, (step.food.certain ? "" : "May hold it: ") + step.food.words, of_customer ? step.left : step.food.where,
                      step.made};
  if (of_customer && step.customer.find("(erased)") != std::string::npos) row.where += "; the customer was erased";
  if (step.food.steps > 1) row.where += "; " + step.food.way;
  return row;
}

RecallReportPart part_of(std::string heading, const std::vector<RecallStep>& steps, bool of_customers) {
  RecallReportPart part{std::move(heading), {}};
  for (const auto& step : steps) part.rows.push_back(row_of(step, of_customers));
  return part;
}

/// Where all of a recalled pack or batch went: what each batch and cake took of it, what was thrown away, what is left.
RecallReportBalance balance_of(const State& state, const TraceTold& of) {
  const MassBalance& balance = *of.balance;
  std::vector<std::pair<std::string, std::int64_t>> went;
  const auto took = [&](const std::string& words, Mass mass) {
    const auto same = std::find_if(went.begin(), went.end(), [&](const auto& one) { return one.first == words; });
    if (same == went.end()) {
      went.emplace_back(words, mass.to_milligrams());
    } else {
      same->second += mass.to_milligrams();
    }
  };
  for (const auto& [id, batch] : state.batches) {
    for (const auto& use : batch.value.uses) {
      if (use.of == of.id) took("in " + id.text(), use.mass);
    }
  }
  for (const auto& tier : state.tiers) {
    for (const auto& part : tier.value.parts) {
      if (part.batch.text() == of.id) took("in " + tier.value.cake.text(), part.mass);
    }
  }
  std::int64_t listed = 0;
  for (const auto& [words, mg] : went) listed += mg;
  if (const std::int64_t more = balance.used.to_milligrams() - listed; more != 0) went.emplace_back("used otherwise", more);
  went.emplace_back("thrown away", balance.thrown_away.to_milligrams());
  if (balance.counted) {
    went.emplace_back("left, as weighed", balance.counted->to_milligrams());
    went.emplace_back("not accounted for", balance.unaccounted()->to_milligrams());
  } else {
    went.emplace_back("should be left, nobody weighed it", balance.left().to_milligrams());
  }
  std::vector<std::int64_t> mg;
  for (const auto& one : went) mg.push_back(one.second);
  const auto grams = rounded_together(mg, 1000);
  RecallReportBalance told{of.words, {}, ""};
  for (std::size_t i = 0; i < went.size(); ++i) told.rows.push_back({went[i].first, fmt::format("{} g", grams[i])});
  told.note = fmt::format("Together {}, as received or made. Each figure is rounded so that they add up; to the milligram: {}.",
                          format_mass(balance.had), [&] {
                            std::vector<std::string> exact;
                            for (const auto& one : went)
                              exact.push_back(fmt::format("{} {}", one.first, format_decimal(Share{one.second} / 1000, 3) + " g"));
                            return fmt::format("{}", fmt::join(exact, "; "));
                          }());
  if (balance.left() < Mass{}) told.note += " More was used than there was: a weighing is wrong, or food of another pack went in.";
  return told;
}

std::string outcome_of(const RecallTold& told) {
  std::string words;
  const std::size_t all = told.contact.size() + told.hold.size();
  if (told.drill) {
    words = fmt::format("Exercise: {} of {} found", done_in(told.contact) + done_in(told.hold), all);
  } else {
    words = fmt::format("{} of {} customers told; {} of {} foods still here dealt with; {} gone before", done_in(told.contact),
                        told.contact.size(), done_in(told.hold), told.hold.size(), told.gone.size());
  }
  if (told.took) words += fmt::format("; the last step {} after it began", format_span(*told.took));
  words += told.closed.empty() ? ". OPEN." : ".";
  const auto lost = std::count_if(told.contact.begin(), told.contact.end(), [](const RecallStep& step) { return !step.done; });
  if (!told.drill && !told.closed.empty() && lost > 0)
    words += fmt::format(" {} not reached: food that may hurt somebody may still be out.", lost);
  if (const auto since = told.since_closed(); !since.empty())
    words += fmt::format(" SINCE IT WAS CLOSED the records say more that nobody has seen to: {}.", fmt::join(since, "; "));
  const auto erased = std::count_if(told.contact.begin(), told.contact.end(), [](const RecallStep& step) { return !step.reachable; });
  if (erased > 0) words += fmt::format(" Of {} no name or telephone is on record any more.", erased);
  return words;
}

RecallReportContent content_of(const Session& session, const RecallTold& told, ZonedInstant at) {
  const State& state = session.state();
  RecallReportContent content;
  content.demo = session.kitchen().demo;
  content.drill = told.drill;
  content.business = business_lines(session);
  content.reference = told.id;
  content.outcome = outcome_of(told);
  content.open = told.open();
  std::vector<std::string> of;
  for (const auto& one : told.of) of.push_back(one.words);
  content.facts.push_back(
      {told.drill ? "Exercise on" : "Recalled", of.empty() ? "what a trouble touches" : fmt::format("{}", fmt::join(of, ", "))});
  if (!told.asked.empty()) content.facts.push_back({"Found by", told.asked});
  content.facts.push_back({"Begun", told.begun});
  for (const auto& words : told.because) content.facts.push_back({"Because", words});
  content.facts.push_back({"Closed", told.closed.empty() ? "open" : told.closed});
  const auto add = [&](const std::string& heading, const std::vector<RecallStep>& steps, bool customers) {
    if (!steps.empty()) content.parts.push_back(part_of(heading, steps, customers));
  };
  const char* done = told.drill ? "found" : "told";
  add(fmt::format("Cakes that left: {}, of them {} {}", told.contact.size(), done_in(told.contact), done), told.contact, true);
  add(fmt::format("Still here: {}, of them {} {}", told.hold.size(), done_in(told.hold), told.drill ? "found" : "set aside or given back"),
      told.hold, false);
  add(fmt::format("Gone before: {}", told.gone.size()), told.gone, false);
  add("Who else was told", told.others, false);
  if (!told.taken_out.empty()) {
    RecallReportPart part{"Taken out by a correction", {}};
    for (const auto& one : told.taken_out) {
      RecallReportRow row{one.done, one.words, fmt::format("corrected since: {}", fmt::join(one.corrected, "; ")), {}};
      row.steps = one.made;
      part.rows.push_back(std::move(row));
    }
    content.parts.push_back(std::move(part));
  }
  for (const auto& one : told.of) {
    if (one.balance) content.balances.push_back(balance_of(state, one));
    for (const auto& back : one.taken_back)
      content.apart.push_back(
          fmt::format("{}: note {} said that {} went into it, note {} corrected that.", back.into, back.said, one.id, back.corrected_by));
    for (const auto& kit : one.kit)
      content.apart.push_back(fmt::format("On {}, {} came after {}; between the two: {}. What it met there is no part of it.",
                                          kit.equipment, kit.after, kit.before, kit.cleaning));
  }
  if (const auto* closing = state.closed(RecallId{told.id})) {
    const auto text = [](const Words& words) { return words.given() ? words.text.value_or("(erased)") : std::string{}; };
    content.cause = text(closing->value.cause);
    content.learned = text(closing->value.learned);
  }
  content.cautions = {
      "This report tells what was recorded, not that nothing was missed.",
      "Local law and the food authority come first: in many places they must be told at once when food that may hurt somebody has left."};
  content.head = short_head(session);
  content.drawn = fmt::format("drawn {} from {} notes", format_moment(at.at, at.offset), session.head().size);
  return content;
}

Json texts(const std::vector<std::string>& lines) {
  Json::Array list;
  for (const auto& line : lines) list.emplace_back(line);
  return Json{std::move(list)};
}
Json labelled(const std::vector<LabelledText>& lines) {
  Json::Array list;
  for (const auto& line : lines) list.push_back(Json{Json::Object{{"label", Json{line.label}}, {"text", Json{line.text}}}});
  return Json{std::move(list)};
}

Json json_of_report(const RecallReportContent& content) {
  Json::Array parts, balances;
  for (const auto& part : content.parts) {
    Json::Array rows;
    for (const auto& row : part.rows)
      rows.push_back(
          Json{Json::Object{{"done", Json{row.done}}, {"what", Json{row.what}}, {"where", Json{row.where}}, {"steps", texts(row.steps)}}});
    parts.push_back(Json{Json::Object{{"heading", Json{part.heading}}, {"rows", Json{std::move(rows)}}}});
  }
  for (const auto& one : content.balances)
    balances.push_back(Json{Json::Object{{"of", Json{one.of}}, {"rows", labelled(one.rows)}, {"note", Json{one.note}}}});
  return Json{Json::Object{{"schema", Json{"tierproof/recall-report/1"}},
                           {"demo", Json{content.demo}},
                           {"drill", Json{content.drill}},
                           {"business", texts(content.business)},
                           {"reference", Json{content.reference}},
                           {"outcome", Json{content.outcome}},
                           {"open", Json{content.open}},
                           {"facts", labelled(content.facts)},
                           {"parts", Json{std::move(parts)}},
                           {"balances", Json{std::move(balances)}},
                           {"apart", texts(content.apart)},
                           {"cause", Json{content.cause}},
                           {"learned", Json{content.learned}},
                           {"cautions", texts(content.cautions)},
                           {"head", Json{content.head}},
                           {"drawn", Json{content.drawn}}}};
}

}  // namespace

Result<Issued> issue_recall_report(Session& session, const std::string& id, const DataRoot& data) {
  Checking checking{session};
  checking.person();
  const ZonedInstant now = checking.moment("now");
  const auto told = recall_of(session, id, now);
  if (!told) checking.take(told.error());
  if (!checking.good()) return checking.refusals();
  const RecallReportContent content = content_of(session, *told, now);
  const Fonts fonts = Fonts::load(std::filesystem::path{data.path} / "reports" / "fonts");
  const auto pages = lay_out_recall_report(content, fonts);
  if (!pages) return pages.error();
  RecallReportContent lasting = content;  // without what the next note changes, whatever it is about
  lasting.head.clear();
  lasting.drawn.clear();
  PaperBooking booking;
  booking.paper = "recall report";
  booking.subject = id;
  booking.says = to_hex(sha256(write_canonical(json_of_report(lasting))));
  const std::string title = fmt::format("{} {}", content.drill ? "Exercise" : "Recall", id);
  return book_papers(session, booking, now,
                     forms_of(*pages, fonts, info_of(session, title, now), json_of_report(content), id + "-report.json"));
}

}  // namespace tierproof
