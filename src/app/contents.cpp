#include "contents.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "answers.h"
#include "charts.h"
#include "cooling.h"
#include "deciding.h"
#include "egg_record.h"
#include "erased.h"
#include "label_contents.h"
#include "later_entries.h"
#include "life.h"
#include "out_of_fridge.h"
#include "parts.h"
#include "tierproof/app/issuing.h"
#include "tierproof/text/number.h"
#include "timeline.h"

namespace tierproof {
namespace {

/// Who it was stands beside the records, not on paper.
std::string kept_apart(const Words& words) { return words.text ? fmt::format("kept apart as {}", words.ref) : "(erased)"; }

std::string person_in_words(const State& state, const PersonId& id) {
  const auto person = state.people.find(id);
  if (person == state.people.end()) return id.text();
  if (!person->second.value.name.text) return fmt::format("{} (name erased)", id.text());
  return fmt::format("{} ({})", *person->second.value.name.text, id.text());
}

template <class Thing>
std::string when(const Recorded<Thing>& thing) {
  return format_moment(thing.happened, thing.offset);
}

std::string how_in_words(const std::string& how) {
  if (how == "typed_late") return "typed late";
  if (how == "suggested_accepted") return "suggested and accepted";
  if (how == "typed_then") return "typed then";
  return how;
}

/// What a finding's control is called on paper.
std::string heading_of(const Session& session, const PlanVersion& plan, const std::string& control) {
  const auto* row = plan_row(session, plan, control);
  return row == nullptr ? control : row->words;
}

}  // namespace

std::string source_title_of(const Session& session, const Judgement& judgement, std::string_view row, std::string_view clause) {
  const std::array rules{judgement.label.jurisdiction, judgement.temperature.jurisdiction, session.kitchen().retention_rules};
  return session.packs().source_title(row, clause, rules);
}

std::string outcome_of(const Session& session, const Judgement& judgement, bool& released) {
  const State& state = session.state();
  const auto stopped =
      std::count_if(judgement.findings.begin(), judgement.findings.end(), [](const Finding& f) { return f.stop == Stop::no_override; });
  const auto* release = state.release(judgement.cake);
  released = release != nullptr && stopped == 0;
  if (const auto* handed = state.hand_over(judgement.cake); handed != nullptr && stopped > 0) {
    return fmt::format(
        "Handed over on {}. The records now show {} that would have stopped it, below: tell the customer, and ask for advice.",
        when(*handed), stopped == 1 ? "1 finding" : fmt::format("{} findings", stopped));
  }
  if (stopped > 0) {
    return fmt::format("Do not hand over: {} that nobody may release against stand{} below.",
                       stopped == 1 ? "1 finding" : fmt::format("{} findings", stopped), stopped == 1 ? "s" : "");
  }
  if (release == nullptr) {
    const auto open =
        std::count_if(judgement.findings.begin(), judgement.findings.end(), [](const Finding& f) { return f.stop != Stop::none; });
    return open == 0 ? "Not released yet: every control is met as recorded, and nobody has decided that it may leave."
                     : fmt::format("Not released: {} of {} controls {} not met as recorded.", open, judgement.findings.size(),
                                   open == 1 ? "is" : "are");
  }
  const std::string by = fmt::format("{}, {}", person_in_words(state, release->person), when(*release));
  const auto since = unanswered(release->value, judgement.findings).size();
  if (const auto changed = made_otherwise_since(session, judgement, release->value); since == 0 && !changed.empty()) {
    released = false;
    return fmt::format("Released by {}, but note {} has changed what is recorded of it since: look at it again.", by,
                       fmt::join(changed, ", "));
  }
  if (since > 0) {
    released = false;
    return fmt::format("Released by {}, but the records now show {} finding{} that the release did not answer for: see the controls.", by,
                       since, since == 1 ? "" : "s");
  }
  if (release->value.against.empty()) return fmt::format("OK to leave: every control met as recorded; released by {}.", by);
  return fmt::format("Released against {} finding{}, for the reasons below, by {}.", release->value.against.size(),
                     release->value.against.size() == 1 ? "" : "s", by);
}

std::vector<LabelledText> allergy_lines(const State& state, const CakeId& cake, const LabelTerms& terms) {
  const auto* answer = state.answer(cake);
  if (answer == nullptr) return {{"Asked", "nothing recorded"}};
  std::vector<LabelledText> lines;
  lines.push_back({"Asked", answer->value.answer == "not asked"
                                ? "not asked"
                                : fmt::format("{}, by {}", when(*answer), person_in_words(state, answer->person))});
  if (answer->value.of_whom.given()) lines.push_back({"Of whom", kept_apart(answer->value.of_whom)});
  std::string said = answer->value.answer;
  if (answer->value.answer == "named") {
    auto words = words_of_keys(terms, split_keys(answer->value.allergens));
    for (auto& word : words) {
      if (terms.group_answer(word) != nullptr) word += " (not asked which ones)";
    }
    said = answer->value.allergens.text ? fmt::format("{}", fmt::join(words, ", ")) : "named, and erased since";
  } else if (answer->value.answer == "none") {
    said = "none named";
  }
  lines.push_back({"Answer", said});
  lines.push_back({"Words told", words_or(answer->value.told, "nothing recorded")});
  for (const auto& told : state.told) {
    if (told.value.cake != cake) continue;
    const std::string words =
        told.value.text.empty() || !told.value.words.text
            ? words_or(told.value.words, "(erased)")
            : fmt::format("ready-made text \"{}\", {}; its words stand in note {}", told.value.text, when(told), told.sequence);
    lines.push_back({fmt::format("Told {}", told.value.when), words});
  }
  return lines;
}

std::vector<Override> overrides_of(const Session& session, const CakeId& cake) {
  const State& state = session.state();
  std::vector<Override> overrides;
  const auto* release = state.release(cake);
  if (release == nullptr) return overrides;
  for (const auto& against : release->value.against) {
    overrides.push_back({heading_of(session, plan_for(session, cake), against.control), words_or(against.finding, ""),
                         words_or(against.reason, "(erased)"),
                         fmt::format("{}, {}", person_in_words(state, release->person), when(*release))});
  }
  return overrides;
}

namespace {

/// Parts that were heated and then kept cold: where how fast they cooled is not judged, it is not passed over in silence.
std::string cooling_line(const State& state, const Judgement& judgement) {
  if (std::any_of(judgement.findings.begin(), judgement.findings.end(),
                  [](const Finding& finding) { return finding.control == "cooling"; }))
    return "judged above, part by part";
  std::vector<std::string> heated;
  for (const auto& facts : judgement.parts.batches) {
    const auto batch = state.batches.find(facts.id);
    if (batch == state.batches.end()) continue;
    const auto recipe = state.recipe_versions.find(batch->second.value.recipe_version);
    if (recipe == state.recipe_versions.end() || recipe->second.value.storage == "room") continue;
    if (!heated_by_recipe(recipe->second.value).empty()) heated.push_back(fmt::format("{} ({})", facts.name, facts.id.text()));
  }
  if (heated.empty()) return "no part of it was heated and then kept in the fridge";
  std::string advised;
  if (const auto& advice = judgement.temperature.cooling_advice) {
    advised = fmt::format("; advice, not law: into the fridge within {} {}", format_span(advice->within), cite(advice->cited));
  }
  return fmt::format("not judged: the rules in force give no time{}; heated, then kept in the fridge: {}", advised,
                     fmt::join(heated, ", "));
}

std::vector<LabelledText> hand_over_lines(const State& state, const CakeId& cake) {
  const auto* handed = state.hand_over(cake);
  if (handed == nullptr) return {{"Handed over", "not yet"}};
  return {{"Handed over", fmt::format("{}, by {}", when(*handed), person_in_words(state, handed->person))},
          {"To", kept_apart(handed->value.to)},
          {"How warm", handed->value.degrees ? format_degrees(*handed->value.degrees) : "not measured"},
          {"Words told", words_or(handed->value.told, "nothing recorded")}};
}

PackRow pack_row(const State& state, const Judgement& judgement, const LotAmount& amount) {
  const LotFacts& facts = judgement.parts.lots[amount.lot];
  PackRow row;
  row.ingredient = fmt::format("{} ({})", facts.ingredient.label_name, facts.id.text());
  row.code = facts.code;
  row.mass = amount.ingoing_mg < 50 ? "0.0 g, perhaps" : fmt::format("{} g", format_decimal(amount.ingoing_mg / 1000, 1));
  const auto lot = state.lots.find(facts.id);
  if (lot == state.lots.end()) return row;
  const auto supplier = state.suppliers.find(lot->second.value.supplier);
  row.supplier = supplier == state.suppliers.end() ? lot->second.value.supplier.text() : supplier->second.value.firm.name;
  if (lot->second.value.use_by) row.dates = "use by " + format_date_long(*lot->second.value.use_by);
  if (lot->second.value.best_before)
    row.dates += fmt::format("{}best before {}", row.dates.empty() ? "" : ", ", format_date_long(*lot->second.value.best_before));
  row.how =
      fmt::format("received {}, {}", format_date_long(day_of(lot->second.happened, lot->second.offset)), how_in_words(lot->second.how));
  return row;
}

std::vector<BatchRow> batch_rows(const State& state, const Judgement& judgement) {
  std::vector<BatchRow> rows;
  for (std::size_t i = 0; i < judgement.parts.batches.size(); ++i) {
    const BatchFacts& facts = judgement.parts.batches[i];
    BatchRow row;
    row.batch = facts.id.text();
    row.name = facts.name;
    Mass placed;
    std::vector<std::string> tiers;
    for (const auto& part : judgement.parts.placed) {
      if (part.batch != i) continue;
      placed += part.mass;
      if (std::find(tiers.begin(), tiers.end(), part.tier) == tiers.end()) tiers.push_back(part.tier);
    }
    row.tier = tiers.empty() ? "inside another part" : fmt::format("{}", fmt::join(tiers, ", "));
    row.mass = fmt::format("{} of {}{}", tiers.empty() ? "part" : format_mass(placed), format_mass(facts.yield),
                           facts.weighed ? "" : " (estimated)");
    const auto batch = state.batches.find(facts.id);
    if (batch != state.batches.end()) {
      row.made = fmt::format("{}, by {}", when(batch->second), person_in_words(state, batch->second.person));
      const bool all =
          std::all_of(batch->second.value.uses.begin(), batch->second.value.uses.end(), [](const BatchUse& use) { return use.suggested; });
      row.how = fmt::format("{}{}", all ? "packs suggested and accepted" : "packs chosen by the person",
                            batch->second.how == "typed_late" ? ", typed late" : "");
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<LabelledText> sums_of(const Judgement& judgement) {
  if (!judgement.made) return {};
  const Composition& made = *judgement.made;
  const auto g = [](const Share& mg) { return format_decimal(mg / 1000, 1) + " g"; };
  std::vector<LabelledText> sums;
  sums.push_back({"Finished cake", fmt::format("{} = the sum of the parts in its tiers{}", g(made.finished_mg),
                                               made.weighed ? ", all weighed" : ", some of it estimated")});
  sums.push_back({"Went in", fmt::format("{} at the mixing bowl, over all packs", g(made.ingoing_mg))});
  sums.push_back(
      {"Lost on the way", fmt::format("{} − {} = {} (water and trimmings)", g(made.ingoing_mg), g(made.finished_mg), g(made.lost_mg))});
  sums.push_back({"A pack in the cake", "sum over its paths of: mass in the batch × mass of the batch used ÷ what the batch weighed"});
  for (const auto& amount : made.lots) {
    const LotFacts& lot = judgement.parts.lots[amount.lot];
    sums.push_back({fmt::format("{} ({})", lot.ingredient.label_name, lot.id.text()),
                    fmt::format("{} = {} % of the finished cake", g(amount.ingoing_mg),
                                format_decimal(amount.ingoing_mg / made.finished_mg * 100, 2))});
  }
  sums.push_back({"Added water",
                  fmt::format("finished cake − everything else that went in, never below 0 = {}{}", g(judgement.declared->added_water_mg),
                              judgement.declared->water_left_out ? "; left out of the list by the rule" : "")});
  sums.push_back({"Sulphites", fmt::format("{} mg/kg as SO₂ in the finished cake, nothing taken off for baking",
                                           format_decimal(judgement.declared->sulphites_mg_per_kg, 2))});
  sums.push_back(
      {"Time at a temperature", "shown: from the first to the last reading in a row at or above it, each less the thermometer's error"});
  sums.push_back({"Time too warm",
                  "at least: from the first to the last reading above the limit; at most: between the readings within it on either side"});
  return sums;
}

template <class Thing>
LabelledText entry_line(const Recorded<Thing>& thing, std::string what) {
  return {fmt::format("note {}", thing.sequence), fmt::format("{}; {}, {}{}", what, when(thing), how_in_words(thing.how),
                                                              thing.corrected() ? fmt::format(", corrects note {}", thing.place) : "")};
}

/// Until when something stayed where `stay` put it, `, until 13 May 2026, 17:00`; empty where nobody moved it again.
std::string until_moved(const State& state, const Recorded<Stay>& stay) {
  const Recorded<Stay>* next = nullptr;
  for (const auto& other : state.stays) {
    const bool later = other.value.what == stay.value.what && other.happened > stay.happened;
    if (later && (next == nullptr || other.happened < next->happened)) next = &other;
  }
  return next == nullptr ? "" : ", until " + when(*next);
}

std::vector<LabelledText> entries_of(const State& state, const Judgement& judgement) {
  std::vector<std::pair<std::uint64_t, LabelledText>> lines;
  const auto add = [&](const auto& thing, std::string what) { lines.emplace_back(thing.sequence, entry_line(thing, std::move(what))); };
  add(state.cakes.at(judgement.cake), "ordered " + judgement.cake.text());
  std::set<std::string> about{judgement.cake.text()};
  for (const auto& tier : state.tiers) {
    if (tier.value.cake == judgement.cake) add(tier, fmt::format("{} tier built", tier.value.tier));
  }
  for (const auto& facts : judgement.parts.batches) {
    about.insert(facts.id.text());
    const auto batch = state.batches.find(facts.id);
    if (batch != state.batches.end()) add(batch->second, fmt::format("{} made ({})", facts.id.text(), facts.name));
  }
  std::set<std::uint64_t> specifications;
  for (const auto& facts : judgement.parts.lots) {
    const auto lot = state.lots.find(facts.id);
    if (lot == state.lots.end()) continue;
    add(lot->second, fmt::format("{} received ({})", facts.id.text(), facts.ingredient.label_name));
    const auto specification = state.specifications.find(lot->second.value.specification);
    if (specification == state.specifications.end() || !specifications.insert(specification->first).second) continue;
    add(specification->second,
        fmt::format("what the pack of {} says, read {} from {}", facts.ingredient.label_name,
                    format_date_long(specification->second.value.checked), specification->second.value.checked_against));
  }
  for (const auto& stay : state.stays) {
    if (!about.contains(stay.value.what)) continue;
    about.insert(stay.value.place.text());
    add(stay, fmt::format("{} put in {}{}", stay.value.what, stay.value.place.text(), until_moved(state, stay)));
  }
  for (const auto& block : state.readings) {
    if (about.contains(block.value.about))
      add(block, fmt::format("{} temperature{} of {} ({})", block.value.count, block.value.count == 1 ? "" : "s", block.value.about,
                             block.value.purpose));
  }
  if (const auto* answer = state.answer(judgement.cake)) add(*answer, "answer to the allergy question");
  if (const auto* release = state.release(judgement.cake)) add(*release, "released");
  if (const auto* handed = state.hand_over(judgement.cake)) add(*handed, "handed over");
  std::sort(lines.begin(), lines.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<LabelledText> sorted;
  for (auto& [sequence, line] : lines) sorted.push_back(std::move(line));
  return sorted;
}

/// Every row that a finding cites, with the law or guidance it comes from. A finding's source is one or more of `[row: clause]`.
std::vector<LabelledText> sources_of(const Session& session, const Judgement& judgement) {
  std::map<std::string, std::string> clauses;
  const auto add = [&](const std::string& cited) {
    for (std::size_t at = cited.find('['); at != std::string::npos; at = cited.find('[', at + 1)) {
      const auto colon = cited.find(": ", at);
      const auto end = cited.find(']', at);
      if (colon == std::string::npos || end == std::string::npos || colon > end) continue;
      clauses[cited.substr(at + 1, colon - at - 1)] = cited.substr(colon + 2, end - colon - 2);
    }
  };
  if (judgement.route) add(cite(judgement.route->cited));
  add(cite(judgement.label.emphasis_cited));
  for (const auto& finding : judgement.findings) add(finding.source);
  std::vector<LabelledText> sources;
  for (const auto& [row, clause] : clauses) {
    const std::string title = source_title_of(session, judgement, row, clause.substr(0, clause.find(" (from memory")));
    sources.push_back({row, title.empty() ? clause : fmt::format("{}: {}", title, clause)});
  }
  return sources;
}

/// Rows that this cake's papers rest on, from memory and confirmed by nobody.
std::vector<std::string> unconfirmed_rows(const Judgement& judgement, const std::vector<LabelledText>& sources) {
  std::set<std::string> rows;
  for (const auto& source : sources) {
    if (source.text.find("(from memory)") != std::string::npos) rows.insert(source.label);
  }
  const auto add = [&](const Cited& cited) {
    if (!cited.row.empty() && !cited.firm()) rows.insert(cited.row);
  };
  if (judgement.declared) {
    for (const auto& ingredient : judgement.declared->ingredients) std::for_each(ingredient.rules.begin(), ingredient.rules.end(), add);
    for (const auto& statement : judgement.declared->statements) add(statement.cited);
  }
  return {rows.begin(), rows.end()};
}

}  // namespace

CakeRecordContent record_content(const Session& session, const Judgement& judgement, const std::string& program) {
  const State& state = session.state();
  const Recorded<Cake>& cake = state.cakes.at(judgement.cake);
  CakeRecordContent content;
  content.demo = session.kitchen().demo;
  content.business = business_lines(session);
  content.title = "Cake record";
  content.reference = judgement.cake.text();
  content.name = cake.value.name;
  content.event = fmt::format("For {}", format_date_long(cake.value.event));
  content.sold = sold_in_words(judgement);
  content.sold_why = judgement.route ? fmt::format("{}, {} in force on {} {}", judgement.route->route, judgement.label.title,
                                                   format_date_long(judgement.label.on), cite(judgement.route->cited))
                                     : "";
  content.outcome = outcome_of(session, judgement, content.released) + erased_sentence(state, judgement.cake);
  content.overrides = overrides_of(session, judgement.cake);
  content.allergy = allergy_lines(state, judgement.cake, judgement.label);
  content.allergens = allergen_lines(judgement);
  content.findings = judgement.findings;
  content.plan = judgement.plan.words;
  content.plan_note = judgement.plan.note;
  for (const auto& finding : judgement.findings) content.finding_words.push_back(heading_of(session, judgement.plan, finding.control));
  content.brief_controls = {"how-sold",         "allergy-answer", "allergens-known", "additives-permitted",   "sulphites",
                            "use-by",           "lot-withdrawn",  "inedible-parts",  "kit-recorded",          "masses-weighed",
                            "thermometer",      "names-agree",    "sold-as",         "specification-current", "level-limits",
                            "allergen-species", "flavour-words",  "statutory-parts", "business-address",      "out-of-fridge"};
  if (judgement.life) {
    content.keep.push_back({"Where", fmt::format("{} ({})", storage_line(judgement, judgement.label), told_storage_why(judgement))});
    if (const Finding* standing = standing_finding(judgement)) {
      content.keep.push_back({"Without a fridge", fmt::format("{}: {}", words_of(standing->verdict), standing->message)});
    }
    content.keep.push_back({"Eat by", judgement.life->date ? fmt::format("{} {} ({})", judgement.life->kind,
                                                                         format_date_long(*judgement.life->date), judgement.life->why)
                                                           : "not known"});
    content.keep.push_back({"Cooling", cooling_line(state, judgement)});
  }
  content.handed_over = hand_over_lines(state, judgement.cake);
  content.after_hand_over = later_entries(session, judgement);
  content.own_record =
      "This is the business's own record of what was written down. It is no certificate, and it does not say that the cake is fit to eat. "
      "Local law and the advice of the food authority come first.";
  content.head = short_head(session);
  if (judgement.declared) {
    for (const auto& ingredient : judgement.declared->ingredients) content.ingredients.push_back(ingredient.runs);
    for (const auto& statement : judgement.declared->statements) content.statements.push_back(statement.text);
  }
  const LabelParticulars& particulars = judgement.particulars;
  const auto tell = [&](const std::string& label, const std::string& text, const std::string& source) {
    if (!text.empty()) content.statements.push_back(fmt::format("{}: {}{}{}", label, text, source.empty() ? "" : " ", source));
  };
  tell("Quantities", particulars.quantities, particulars.quantities_source);
  tell("Net quantity", particulars.net_quantity, particulars.net_quantity_source);
  tell("Date", particulars.date, particulars.date_source);
  tell("Lot", particulars.lot.empty() ? particulars.lot_why : particulars.lot, particulars.lot_source);
  for (const auto& statement : particulars.to_tell) tell("To be told", statement.text, cite(statement.cited));
  if (judgement.made) {
    for (const auto& amount : judgement.made->lots) content.packs.push_back(pack_row(state, judgement, amount));
    for (const auto& trace : judgement.made->allergens) {
      const auto* term = judgement.label.allergen(trace.allergen);
      const auto add = [&](const std::vector<std::string>& paths, std::string_view how) {
        for (const auto& path : paths)
          content.paths.push_back({fmt::format("{} — {}", term == nullptr ? trace.allergen : term->word, how), path});
      };
      add(trace.contains, "contains");
      add(trace.may_contain, "may contain, by the pack");
      add(trace.precaution, "may contain, decided by the kitchen");
      add(trace.cross_contact, "from shared kit");
      add(trace.unknown, "not known");
    }
  }
  content.batches = batch_rows(state, judgement);
  content.eggs = egg_lines(session, judgement);
  content.egg_told = egg_advice(state, judgement);
  for (const auto& line : inedible_lines(state, judgement.cake)) content.inedible.push_back({"Remove before eating", line});
  content.timeline = timeline_of(session, judgement);
  content.charts = charts_of(session, judgement);
  content.stays = judgement.stays;
  content.sums = sums_of(judgement);
  content.entries = entries_of(state, judgement);
  content.sources = sources_of(session, judgement);
  content.cautions = {
      "Prepared from what was entered; check it against the packs that were really used.",
      fmt::format("Rules used: {} for the label and {} for temperatures, as in force on {}. Laws change: ask your food authority.",
                  judgement.label.title, judgement.temperature.title, format_date_long(judgement.label.on)),
      "A use-by or best-before date is the maker's decision; this record does not prove how long the cake keeps.",
      "An allergen that is \"not an ingredient\" may still be present in traces."};
  content.cautions.insert(content.cautions.end(), particulars.cautions.begin(), particulars.cautions.end());
  if (const auto rows = unconfirmed_rows(judgement, content.sources); !rows.empty()) {
    content.cautions.push_back(
        fmt::format("Rests on rules that were written down from memory and that nobody of the kitchen has confirmed: {}. Ask the food "
                    "authority, and record the answer (confirm-rule).",
                    fmt::join(rows, ", ")));
  }
  content.full_head = format_head(session.head());
  content.program = program;
  content.drawn = fmt::format("{} from {} notes", format_moment(judgement.at.at, judgement.at.offset), session.head().size);
  return content;
}

}  // namespace tierproof
