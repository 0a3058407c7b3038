#include "tierproof/sums/levels.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>

#include "additives_present.h"
#include "declaration_check.h"
#include "label_runs.h"
#include "label_shares.h"
#include "part_walk.h"
#include "tierproof/sums/statements.h"
#include "words.h"

namespace tierproof {
namespace {

bool counts(const LevelLimitTerm& term, const std::string& number, const std::string& name, const LabelTerms& terms) {
  const std::string plain = additive_of(terms, number, name);
  if (plain.empty()) return false;
  const std::string base = plain.substr(0, plain.find('('));
  return std::any_of(term.numbers.begin(), term.numbers.end(), [&](const std::string& each) {
    const std::string known = additive_of(terms, each, "");
    return known == plain || known == base;
  });
}

/// How much of what a limit speaks of is in one pack.
struct InPack {
  bool there = false;
  Share mg_per_kg = 0;
  std::vector<std::string> silent;
};

InPack in_pack(const LevelLimitTerm& term, const LotFacts& lot, const LabelTerms& terms) {
  const IngredientFacts& food = lot.ingredient;
  InPack found;
  if (term.numbers.empty()) {  // sulphites: the total that the supplier gives
    const bool may_hold = pack_statement(food, std::string{sulphites_key}).presence == Presence::contains;
    found.there = food.sulphites_mg_per_kg.value_or(0) > 0 || may_hold;
    found.mg_per_kg = food.sulphites_mg_per_kg.value_or(0);
    if (found.there && !food.sulphites_mg_per_kg) found.silent.push_back(fmt::format("{} in {}", term.of, pack_in_words(lot)));
    return found;
  }
  if (counts(term, food.additive, food.label_name, terms)) return {true, mg_in_a_kg, {}};
  each_part(food.parts, [&](const DeclaredPart& part, const std::optional<Share>& of_whole) {
    if (!counts(term, part.additive, part.name, terms)) return;
    found.there = true;
    if (const auto mg = mg_per_kg_of(part, of_whole)) {
      found.mg_per_kg += *mg;
    } else {
      found.silent.push_back(fmt::format("{} in {}", part.name.empty() ? part.additive : part.name, pack_in_words(lot)));
    }
  });
  return found;
}

}  // namespace

LevelReadings level_readings(const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  LevelReadings result;
  for (const LevelLimitTerm& term : terms.level_limits) {
    const bool whole_cake = same_words(term.food, "cake");
    LevelReading cake{&term, made.cake.text(), "the finished cake", 0, {}, {}};
    for (std::size_t i = 0; i < made.lots.size(); ++i) {
      const LotFacts& lot = parts.lots[made.lots[i].lot];
      InPack here = in_pack(term, lot, terms);
      if (!here.there) continue;
      if (whole_cake) {
        cake.mg_per_kg += made.lots[i].ingoing_mg * here.mg_per_kg / made.finished_mg;
        cake.amounts.push_back(i);
        cake.silent.insert(cake.silent.end(), here.silent.begin(), here.silent.end());
      } else if (plain_words(lot.ingredient.limit_food) == plain_words(term.food)) {
        result.readings.push_back({&term, lot.id.text(), pack_in_words(lot), here.mg_per_kg, {i}, std::move(here.silent)});
      } else if (lot.ingredient.limit_food.empty()) {
        result.not_checked.push_back(fmt::format("{} in {}, which no limit is known to speak of", term.of, pack_in_words(lot)));
      }
    }
    if (whole_cake && !cake.amounts.empty()) result.readings.push_back(std::move(cake));
  }
  for (const LevelReading& reading : result.readings)
    result.not_checked.insert(result.not_checked.end(), reading.silent.begin(), reading.silent.end());
  std::sort(result.not_checked.begin(), result.not_checked.end());
  result.not_checked.erase(std::unique(result.not_checked.begin(), result.not_checked.end()), result.not_checked.end());
  return result;
}

namespace {

/// A sentence that goes by an amount which a pack does not give: the least of its sentences stands on the label, a graver one may be due.
void check_worded_amounts(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  std::set<std::string> seen;
  for (const AmountWording& row : terms.amount_wordings) {
    if (row.of == sulphites_key || !seen.insert(row.of).second) continue;  // sulphites have a control of their own
    const auto amount = worded_amount(row.of, parts, made, terms);
    if (!amount || amount->silent.empty()) continue;
    std::vector<std::string> packs;
    for (const std::size_t lot : amount->silent) packs.push_back(pack_in_words(parts.lots[lot]));
    Finding finding =
        not_shown("level-limits", row.of,
                  fmt::format("{} without a figure of {}: the sentence for a small amount is printed, and a graver one may be due",
                              fmt::join(packs, ", "), row.of),
                  "ask the supplier for the amount in mg/kg");
    finding.limit = fmt::format("a sentence from {} mg/kg of {} on", format_decimal(row.from_mg_per_kg, 0), row.of);
    finding.result = fmt::format("at least {} mg/kg", format_decimal(amount->mg_per_kg, 1));
    finding.evidence = "figures of the packs' specifications, over the finished mass";
    finding.source = cite(row.cited);
    for (std::size_t i = 0; i < made.lots.size(); ++i) {
      if (std::find(amount->silent.begin(), amount->silent.end(), made.lots[i].lot) != amount->silent.end())
        append_paths(finding.paths, made, i);
    }
    std::sort(finding.paths.begin(), finding.paths.end());
    findings.push_back(std::move(finding));
  }
}

}  // namespace

void check_levels(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  check_worded_amounts(findings, parts, made, terms);
  const LevelReadings levels = level_readings(parts, made, terms);
  std::size_t checked = 0;
  bool fine = true;
  const LevelReading* first = nullptr;
  const auto limit_of = [](const LevelLimitTerm& term) {
    return fmt::format("at most {} mg/kg of {} in {}", format_decimal(term.up_to_mg_per_kg, 0), term.of,
                       same_words(term.food, "cake") ? "the finished cake" : term.food);
  };
  for (const LevelReading& reading : levels.readings) {
    if (!reading.above()) {
      if (!reading.silent.empty()) continue;
      ++checked;
      if (first == nullptr) first = &reading;
      continue;
    }
    fine = false;
    const Cited& cited = reading.term->cited;
    Finding finding = not_shown(
        "level-limits", reading.subject,
        fmt::format("{} come to {} mg/kg in {}, and at most {} mg/kg are allowed there{}", reading.term->of,
                    format_decimal(reading.mg_per_kg, 1), reading.words, format_decimal(reading.term->up_to_mg_per_kg, 0), doubt(cited)),
        "ask the supplier about the figure, or remake it without that pack");
    if (cited.firm()) {
      finding.verdict = Verdict::not_met;
      finding.stop = Stop::no_override;
      finding.remedy = "do not hand it over; ask the supplier about the figure, or remake it without what is above the limit";
    }
    finding.limit = limit_of(*reading.term);
    finding.result = format_decimal(reading.mg_per_kg, 1) + " mg/kg";
    finding.evidence = "figures of the packs' specifications";
    finding.source = cite(cited);
    for (const std::size_t amount : reading.amounts) append_paths(finding.paths, made, amount);
    std::sort(finding.paths.begin(), finding.paths.end());
    findings.push_back(std::move(finding));
  }
  if (!fine || first == nullptr) return;  // nothing could be compared: that is no pass
  std::string message = fmt::format("{} {} of additives with a figure {} within {} limit", checked, checked == 1 ? "amount" : "amounts",
                                    checked == 1 ? "is" : "are", checked == 1 ? "its" : "their");
  if (!levels.not_checked.empty()) message += fmt::format("; not checked, for want of a figure: {}", fmt::join(levels.not_checked, "; "));
  Finding finding = shown("level-limits", made.cake.text(), message);
  finding.limit = limit_of(*first->term);
  finding.result = fmt::format("{} compared, {} not checked", checked, levels.not_checked.size());
  finding.evidence = "figures of the packs' specifications";
  finding.source = cite(first->term->cited);
  findings.push_back(std::move(finding));
}

}  // namespace tierproof
