#include "inspection_tables.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "contents.h"
#include "deciding.h"
#include "label_contents.h"
#include "list_rows.h"
#include "regular_rules.h"
#include "series.h"
#include "tierproof/app/regular.h"
#include "troubles.h"

namespace tierproof {
namespace {

/// Controls whose sentences may tell of a customer's allergy: the table gives their verdict, the words stand in the record of the cake.
bool tells_of_customer(const std::string& control) {
  static const std::set<std::string, std::less<>> some{"allergy-answer", "answer-changed", "planned-allergy", "shared-kit"};
  return some.contains(control);
}
constexpr const char* not_judged = "not judged";
constexpr const char* in_its_record = "stands in the record of the cake";

/// Whether a sort has fields that it keeps apart, as health: then nothing that its records say in words leaves with a paper.
bool keeps_apart(const State& state, const std::string& sort, Date day) {
  const Recorded<RegularSort>* version = version_on(state, sort, day);
  return version == nullptr ||
         std::any_of(version->value.fields.begin(), version->value.fields.end(), [](const RegularField& field) { return field.sealed; });
}
const std::string kept_apart_words = "(kept apart)";

std::string outcome_term(const State& state, const CakeId& id) {
  if (thrown_away(state, id)) return "thrown away";
  if (state.hand_over(id) != nullptr) return "handed over";
  if (state.release(id) != nullptr) return "released";
  const bool built = std::any_of(state.tiers.begin(), state.tiers.end(), [&](const auto& tier) { return tier.value.cake == id; });
  return built ? "not released" : "not built";
}

bool belongs(const State& state, const InspectedPeriod& period, const CakeId& id, const Cake& cake) {
  if (period.holds(cake.event)) return true;
  const auto* release = state.release(id);
  const auto* handed = state.hand_over(id);
  return (release != nullptr && period.holds(release->happened)) || (handed != nullptr && period.holds(handed->happened));
}

template <class Thing>
std::optional<std::uint64_t> number_of(const Recorded<Thing>* thing) {
  return thing == nullptr ? std::nullopt : std::optional{thing->sequence};
}
template <class Thing>
std::optional<ZonedInstant> local_of(const Recorded<Thing>* thing) {
  return thing == nullptr ? std::nullopt : std::optional{ZonedInstant{thing->happened, thing->offset}};
}

/// Whether what began and perhaps ended was open at some moment of the period.
template <class Begun, class Closed>
bool open_in(const InspectedPeriod& period, const Recorded<Begun>& begun, const Recorded<Closed>* closed) {
  return begun.happened < period.end && (closed == nullptr || closed->happened >= period.begin);
}

}  // namespace

std::string notes_in_words(std::vector<std::uint64_t> notes) {
  std::sort(notes.begin(), notes.end());
  notes.erase(std::unique(notes.begin(), notes.end()), notes.end());
  std::string words;
  for (std::size_t i = 0; i < notes.size();) {
    std::size_t last = i;
    while (last + 1 < notes.size() && notes[last + 1] == notes[last] + 1) ++last;
    const bool run = last >= i + 2;
    words += fmt::format("{}{}", words.empty() ? "" : ", ", notes[i]);
    if (run) words += fmt::format(" to {}", notes[last]);
    i = run ? last + 1 : i + 1;
  }
  return words;
}

std::vector<InspectedCake> inspected_cakes(const Session& session, const InspectedPeriod& period) {
  const State& state = session.state();
  std::vector<InspectedCake> cakes;
  for (const auto* cake : in_order(state.cakes)) {
    const CakeId id{cake->subject};
    if (!belongs(state, period, id, cake->value)) continue;
    InspectedCake one{id, outcome_term(state, id), std::nullopt};
    if (one.state == "not built") {
      one.not_judged = "nothing is recorded of what it is made of";
    } else if (one.state == "thrown away") {
      one.not_judged = "it was thrown away";
    } else {
      const auto* handed = state.hand_over(id);
      auto judged = judge_cake(session, id, handed == nullptr ? period.at : ZonedInstant{handed->happened, handed->offset});
      if (judged) {
        one.judgement = std::move(judged).value();
      } else {
        one.not_judged = fmt::format("it cannot be judged: {}", describe(judged.error().front()));
      }
    }
    cakes.push_back(std::move(one));
  }
  return cakes;
}

DataTable thermometer_checks_table(const Session& session, const InspectedPeriod& period, const TemperatureTerms& terms) {
  DataTable table{
      "thermometer-checks", {"thermometer", "name", "at_local", "in", "read_c", "should_read_c", "off_by_c", "good", "note"}, {}};
  for (const auto& made : session.state().checks) {
    if (!period.holds(made.happened)) continue;
    const auto probe = session.state().probes.find(made.value.probe);
    const auto two = [](double celsius) { return DataCell{ExactDecimal{static_cast<std::int64_t>(std::llround(celsius * 100)), 2}}; };
    DataCell should, off, good;
    for (const auto& check : checks_of(session.state(), made.value.probe)) {
      if (check.at != made.happened || check.method != made.value.method || check.read != made.value.read.temperature()) continue;
      should = two(check.expected.to_celsius());
      off = two((check.read - check.expected).to_kelvins());
      if (terms.probe) good = cell_of(is_good(check, term_for(session.state(), made.value.probe, *terms.probe)));
    }
    table.rows.push_back(cells(made.value.probe, probe == session.state().probes.end() ? std::string{} : probe->second.value.name,
                               ZonedInstant{made.happened, made.offset}, made.value.method, two(made.value.read.temperature().to_celsius()),
                               should, off, good, made.sequence));
  }
  return table;
}

DataTable regular_due_table(const Session& session, const InspectedPeriod& period) {
  DataTable table{
      "regular-due",
      {"sort", "name", "due", "state", "done_on", "typed_late", "wanting", "not_as_it_should_be", "missed_because", "note", "missed_note"},
      {}};
  for (const DueItem& item : due_between(session, period.from, period.until)) {
    const Date day = item.day.due.value_or(item.day.by_rule);
    const bool apart = keeps_apart(session.state(), item.sort, day) && !item.wanting.empty();
    table.rows.push_back(cells(item.sort, item.name, day, std::string{term_of(item.state)}, item.done_on, item.typed_late,
                               !item.wanting.empty(), apart ? std::vector<std::string>{kept_apart_words} : item.wanting, item.because,
                               item.note, item.missed));
  }
  return table;
}

DataTable regular_records_table(const Session& session, const InspectedPeriod& period) {
  const State& state = session.state();
  std::map<std::uint64_t, NotFine> wrong;
  for (NotFine& one : records_not_fine(session)) wrong.emplace(one.note, std::move(one));
  DataTable table{"regular-records",
                  {"sort", "name", "for_day", "made_local", "answers", "remark", "as_it_should_be", "answered_by", "open", "by", "note"},
                  {}};
  for (const auto& done : state.regular_done) {
    if (!period.holds(done.happened)) continue;
    const Recorded<RegularSort>* sort = version_on(state, done.value.sort.text(), day_of(done));
    const bool apart = keeps_apart(state, done.value.sort.text(), day_of(done));
    const auto found = wrong.find(done.sequence);
    const bool fine = found == wrong.end();
    std::vector<std::string> answers;
    for (const auto& value : done.value.values)
      answers.push_back(fmt::format("{} = {}", value.field,
                                    apart && value.words.given() ? kept_apart_words
                                    : value.words.given()        ? value.words.text.value_or("(erased)")
                                                                 : value.value));
    std::string remark = done.value.note.given() ? apart ? kept_apart_words : done.value.note.text.value_or("(erased)") : std::string{};
    table.rows.push_back(cells(done.value.sort, sort == nullptr ? done.value.sort.text() : sort->value.name, done.value.due,
                               ZonedInstant{done.happened, done.offset}, answers, remark,
                               std::string{fine                      ? "yes"
                                           : found->second.not_known ? "not known"
                                                                     : "no"},
                               fine ? std::string{} : found->second.answered, !fine && found->second.answered.empty(), done.person,
                               done.sequence));
  }
  return table;
}

DataTable taken_back_table(const Session& session, const InspectedPeriod& period) {
  DataTable table{"taken-back", {"kind", "about", "recorded_local", "by", "what", "corrects_note", "note"}, {}};
  std::vector<std::uint64_t> later;  // the notes that stand in the place of others
  for (const Note& note : session.notes()) {
    if (note.replaced.empty()) continue;
    later.insert(later.end(), note.replaced.begin() + 1, note.replaced.end());
    later.push_back(note.sequence);
  }
  std::sort(later.begin(), later.end());
  for (const std::uint64_t sequence : later) {
    const Note note = note_of(session.store().entries(sequence, sequence).front());
    if (!period.holds(note.written)) continue;
    table.rows.push_back(cells(note.kind, note.subject, ZonedInstant{note.written, note.offset}, note.person,
                               std::string{note.body.is_null() ? "taken back" : "corrected"}, note.supersedes, note.sequence));
  }
  return table;
}

DataTable temperatures_table(const Session& session, const InspectedPeriod& period) {
  return table_of(temperatures_between(period.begin, period.end), session);
}

DataTable cakes_table(const Session& session, const std::vector<InspectedCake>& cakes) {
  const State& state = session.state();
  DataTable table{"cakes",
                  {"cake",          "name",
                   "event",         "sold",
                   "state",         "outcome",
                   "shown",         "not_shown",
                   "not_met",       "outside_the_model",
                   "limit_missed",  "left_unanswered",
                   "judged",        "released_against",
                   "allergy",       "handed_over_local",
                   "handed_over_c", "order_note",
                   "release_note",  "hand_over_note"},
                  {}};
  for (const auto& one : cakes) {
    const auto& cake = state.cakes.at(one.id);
    const auto* release = state.release(one.id);
    const auto* handed = state.hand_over(one.id);
    const auto* answer = state.answer(one.id);
    const auto count = [&](Verdict verdict) -> std::optional<std::int64_t> {
      if (!one.judgement) return std::nullopt;
      const auto& findings = one.judgement->findings;
      return std::count_if(findings.begin(), findings.end(), [&](const Finding& f) { return f.verdict == verdict; });
    };
    bool released = false;
    std::optional<std::int64_t> against;
    if (release != nullptr) against = static_cast<std::int64_t>(release->value.against.size());
    DataCell warm;
    if (handed != nullptr && handed->value.degrees)
      warm = DataCell{ExactDecimal{static_cast<std::int64_t>(std::llround(handed->value.degrees->temperature().to_celsius() * 100)), 2}};
    std::string missed, left;  // empty: nobody judged it
    if (one.judgement) {
      const auto& findings = one.judgement->findings;
      missed = count(Verdict::not_met) > 0 ? "yes" : "no";
      const bool open = release != nullptr ? !unanswered(release->value, findings).empty() : gravest(findings) != Stop::none;
      left = handed != nullptr && (open || gravest(findings) == Stop::no_override) ? "yes" : "no";
    }
    table.rows.push_back(cells(one.id, cake.value.name, cake.value.event,
                               one.judgement && one.judgement->route ? one.judgement->route->route : std::string{}, one.state,
                               one.judgement ? outcome_of(session, *one.judgement, released) : one.not_judged, count(Verdict::shown),
                               count(Verdict::not_shown), count(Verdict::not_met), count(Verdict::outside_model), missed, left,
                               one.judgement.has_value(), against, answer == nullptr ? "nothing recorded" : answer->value.answer,
                               local_of(handed), warm, cake.sequence, number_of(release), number_of(handed)));
  }
  return table;
}

DataTable controls_table(const Session& session, const std::vector<InspectedCake>& cakes) {
  DataTable table{"controls", {"cake", "control", "words", "about", "verdict", "result", "limit", "says", "source", "plan"}, {}};
  for (const auto& one : cakes) {
    if (!one.judgement) continue;
    for (const Finding& finding : one.judgement->findings) {
      const PlanRow* row = plan_row(session, one.judgement->plan, finding.control);
      const bool apart = tells_of_customer(finding.control);
      table.rows.push_back(cells(one.id, finding.control, row == nullptr ? finding.control : row->words,
                                 apart ? std::string{} : finding.subject, std::string{term_of(finding.verdict)},
                                 apart ? std::string{} : finding.result, finding.limit,
                                 apart ? std::string{in_its_record} : finding.message, finding.source, one.judgement->plan.words));
    }
  }
  return table;
}

DataTable overrides_table(const Session& session, const InspectedPeriod& period) {
  const State& state = session.state();
  DataTable table{"overrides", {"cake", "control", "words", "verdict", "reason", "by", "at_local", "note"}, {}};
  for (const auto* cake : in_order(state.cakes)) {
    const CakeId id{cake->subject};
    const auto* release = state.release(id);
    if (release == nullptr || !period.holds(release->happened)) continue;
    for (const auto& against : release->value.against) {
      const PlanRow* row = plan_row(session, plan_for(session, id), against.control);
      const std::string reason = tells_of_customer(against.control) ? std::string{in_its_record} : against.reason.text.value_or("(erased)");
      table.rows.push_back(cells(id, against.control, row == nullptr ? against.control : row->words, against.verdict, reason,
                                 release->person, ZonedInstant{release->happened, release->offset}, release->sequence));
    }
  }
  return table;
}

DataTable egg_steps_table(const Session& session, const InspectedPeriod& period, const std::vector<InspectedCake>& cakes) {
  const State& state = session.state();
  struct Step {
    Finding finding;
    std::string plan;
    std::vector<std::string> in;
  };
  std::map<std::string, Step> steps;
  std::vector<std::string> order;
  for (const auto& one : cakes) {
    if (!one.judgement) continue;
    for (const Finding& finding : one.judgement->findings) {
      if (finding.control != "egg-heat") continue;
      auto [found, fresh] = steps.try_emplace(finding.subject, Step{finding, one.judgement->plan.words, {}});
      if (fresh) order.push_back(finding.subject);
      if (gravity(finding.verdict) > gravity(found->second.finding.verdict)) {
        found->second.finding = finding;
        found->second.plan = one.judgement->plan.words;
      }
      found->second.in.push_back(one.id.text());
    }
  }
  DataTable table{
      "egg-steps", {"about", "recipe", "made_local", "cakes", "verdict", "result", "limit", "says", "source", "plan", "note"}, {}};
  for (const auto& about : order) {
    const Step& step = steps.at(about);
    const auto batch = state.batches.find(BatchId{about.substr(0, about.find(' '))});
    const auto* made = batch == state.batches.end() ? nullptr : &batch->second;
    table.rows.push_back(cells(about, made == nullptr ? std::string{} : made->value.recipe.text(), local_of(made), step.in,
                               std::string{term_of(step.finding.verdict)}, step.finding.result, step.finding.limit, step.finding.message,
                               step.finding.source, step.plan, number_of(made)));
  }
  for (const auto* made : in_order(state.batches)) {
    const auto recipe = state.recipe_versions.find(made->value.recipe_version);
    const bool asks =
        recipe != state.recipe_versions.end() && recipe->second.value.egg != "none" && recipe->second.value.egg != "baked through";
    const auto told = [&](const std::string& about) { return about.substr(0, about.find(' ')) == made->subject; };
    if (!asks || !made->value.left_over.empty() || !period.holds(made->happened) || std::any_of(order.begin(), order.end(), told)) continue;
    table.rows.push_back(cells(fmt::format("{} ({})", made->subject, recipe->second.value.name), made->value.recipe, local_of(made), "",
                               std::string{not_judged}, "", "", "in no cake of this period that was judged", "", "", made->sequence));
  }
  return table;
}

DataTable allergens_table(const Session& session, const std::vector<InspectedCake>& cakes) {
  DataTable table{"allergens", {"cake", "allergen", "word"}, {}};
  for (const auto& one : cakes) {
    if (!one.judgement || !one.judgement->made) continue;
    for (const auto& line : allergens_for_anybody(session, *one.judgement)) table.rows.push_back(cells(one.id, line.name, line.word));
  }
  return table;
}

DataTable troubles_table(const Session& session, const InspectedPeriod& period) {
  const State& state = session.state();
  DataTable table{"troubles",
                  {"trouble", "about", "shown_by", "what", "begun_local", "open", "became_of_the_food", "cause", "done", "closed_local",
                   "note", "closing_note"},
                  {}};
  for (const auto* trouble : in_order(state.deviations)) {
    const auto* closed = state.closed(DeviationId{trouble->subject});
    if (!open_in(period, *trouble, closed)) continue;
    table.rows.push_back(cells(trouble->subject, trouble->value.about, trouble->value.from, trouble->value.what,
                               ZonedInstant{trouble->happened, trouble->offset}, closed == nullptr,
                               closed == nullptr ? std::string{} : closed->value.food, closed == nullptr ? Words{} : closed->value.cause,
                               closed == nullptr ? Words{} : closed->value.action, local_of(closed), trouble->sequence, number_of(closed)));
  }
  return table;
}

DataTable complaints_table(const Session& session, const InspectedPeriod& period) {
  const State& state = session.state();
  DataTable table{"complaints", {"complaint", "cake", "of", "begun_local", "open", "closed_local", "note", "closing_note"}, {}};
  for (const auto* complaint : in_order(state.complaints)) {
    const auto* closed = state.closed(ComplaintId{complaint->subject});
    if (!open_in(period, *complaint, closed)) continue;
    table.rows.push_back(cells(complaint->subject, complaint->value.cake, complaint->value.of,
                               ZonedInstant{complaint->happened, complaint->offset}, closed == nullptr, local_of(closed),
                               complaint->sequence, number_of(closed)));
  }
  return table;
}

DataTable recalls_table(const Session& session, const InspectedPeriod& period) {
  const State& state = session.state();
  DataTable table{
      "recalls", {"recall", "of", "exercise", "begun_local", "open", "reached", "steps", "closed_local", "note", "closing_note"}, {}};
  for (const auto* recall : in_order(state.recalls)) {
    const auto* closed = state.closed(RecallId{recall->subject});
    if (!open_in(period, *recall, closed)) continue;
    const auto steps = std::count_if(state.recall_ticks.begin(), state.recall_ticks.end(),
                                     [&](const auto& tick) { return tick.value.recall.text() == recall->subject; });
    table.rows.push_back(cells(recall->subject, recall->value.of, recall->value.drill, ZonedInstant{recall->happened, recall->offset},
                               closed == nullptr, std::int64_t(recall->value.reached.size()), std::int64_t{steps}, local_of(closed),
                               recall->sequence, number_of(closed)));
  }
  return table;
}

DataTable missed_checks_table(const Session& session, const InspectedPeriod& period) {
  DataTable table = table_of(*find_list("missed-checks"), session);
  const auto at = static_cast<std::size_t>(std::find(table.headings.begin(), table.headings.end(), "day") - table.headings.begin());
  std::erase_if(table.rows, [&](const DataRow& row) { return !period.holds(std::get<Date>(row.at(at))); });
  return table;
}

DataTable pack_details_table(const Session& session) {
  DataTable table = table_of(*find_list("to-look-at"), session);
  table.headings.emplace_back("overdue");
  const auto at = static_cast<std::size_t>(std::find(table.headings.begin(), table.headings.end(), "days_left") - table.headings.begin());
  for (auto& row : table.rows) row.push_back(cell_of(text_of(row.at(at)).starts_with('-')));
  return table;
}

DataTable listed_in(const Session& session, const InspectedPeriod& period, const std::string& name) {
  const KitchenList* list = find_list(name);
  if (list == nullptr) throw Fault{exit_status::our_bug, fmt::format("there is no list {}", name)};
  DataTable table = table_of(*list, session);
  const auto at =
      static_cast<std::size_t>(std::find(table.headings.begin(), table.headings.end(), "happened_utc") - table.headings.begin());
  std::erase_if(table.rows, [&](const DataRow& row) { return !period.holds(std::get<ZonedInstant>(row.at(at)).at); });
  return table;
}

}  // namespace tierproof
