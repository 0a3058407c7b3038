#include "declaration_check.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "label_list.h"
#include "label_runs.h"
#include "label_shares.h"
#include "tierproof/sums/statements.h"

namespace tierproof {

Finding shown(std::string control, const std::string& subject, std::string message) {
  Finding finding;
  finding.control = std::move(control);
  finding.verdict = Verdict::shown;
  finding.stop = Stop::none;
  finding.subject = subject;
  finding.message = std::move(message);
  return finding;
}

Finding not_shown(std::string control, const std::string& subject, std::string message, std::string remedy) {
  Finding finding;
  finding.control = std::move(control);
  finding.verdict = Verdict::not_shown;
  finding.stop = Stop::needs_person;
  finding.subject = subject;
  finding.message = std::move(message);
  finding.remedy = std::move(remedy);
  return finding;
}

void append_paths(std::vector<std::string>& paths, const Composition& made, std::size_t amount) {
  paths.insert(paths.end(), made.lots[amount].paths.begin(), made.lots[amount].paths.end());
}

std::string doubt(const Cited& cited) { return cited.firm() ? "" : " (from memory: confirm it with the food authority)"; }

std::string pack_in_words(const LotFacts& lot) { return fmt::format("{} ({})", printed_name(lot.ingredient), lot.id.text()); }

namespace {

std::string percent(const Share& share) { return format_decimal(share * 100, 2) + " %"; }

// ---- allergens ------------------------------------------------------------------------------------------------------------

void check_allergens(std::vector<Finding>& findings, const Composition& made, const Declaration& declared, const LabelTerms& terms) {
  const std::string limit = "every allergen of the law declared, or answered for by every pack";
  for (const std::string& key : declared.unknown) {
    const AllergenTerm* term = terms.allergen(key);
    const AllergenTrace* trace = find_trace(made, key);
    const std::string& word = term->word;
    const std::size_t packs = trace == nullptr ? 0 : trace->unknown.size();
    Finding finding = not_shown(
        "allergens-known", key,
        trace == nullptr ? fmt::format("nobody can rule out {}: the packs were not asked about it", word)
                         : fmt::format("nobody can rule out {}: {} of the {} {} in it {} not say", word, packs, made.lots.size(),
                                       made.lots.size() == 1 ? "pack" : "packs", packs == 1 ? "does" : "do"),
        "do not hand it over; ask the supplier of each pack and record the answer with its evidence, or remake it without that pack");
    finding.stop = Stop::no_override;
    finding.limit = limit;
    finding.result = trace == nullptr ? "not traced" : fmt::format("not known for {} of {} packs", packs, made.lots.size());
    finding.evidence = "what the packs' specifications say";
    finding.source = cite(term->cited);
    if (trace != nullptr) finding.paths = trace->unknown;
    findings.push_back(std::move(finding));
  }
  if (!declared.unknown.empty()) return;
  if (terms.allergens.empty()) {  // without the law's list nothing was asked, so nothing is known
    Finding finding = not_shown("allergens-known", made.cake.text(), "the rules in force name no allergen, so none was asked for",
                                "do not hand it over; mend the rule pack");
    finding.stop = Stop::no_override;
    findings.push_back(std::move(finding));
    return;
  }
  Finding finding =
      shown("allergens-known", made.cake.text(),
            fmt::format("each of the {} allergens that the law names is declared, or every one of the {} packs answers for it",
                        terms.allergens.size(), made.lots.size()));
  finding.limit = limit;
  finding.result = fmt::format("{} declared, {} may be contained", declared.contains.size(), declared.may_contain.size());
  finding.evidence = "what the packs' specifications say";
  finding.source = cite(terms.allergens.front().cited);
  findings.push_back(std::move(finding));
}

// ---- masses ---------------------------------------------------------------------------------------------------------------

/// Within a tenth of the limit, edges included.
bool is_close(const Share& share, const Share& limit) { return abs(share - limit) * 10 <= limit; }

/// What an estimated mass that is a little off could change.
std::vector<std::string> close_calls(const CakeParts& parts, const Composition& made, const Declaration& declared,
                                     const LabelTerms& terms) {
  std::vector<std::string> close;
  const std::vector<ListedIngredient>& list = declared.ingredients;
  for (std::size_t i = 1; i < list.size(); ++i) {
    if (list[i].any_order_at_end) break;
    if ((list[i - 1].ingoing_mg - list[i].ingoing_mg) * 10 < list[i - 1].ingoing_mg) {
      close.push_back(fmt::format("{} ({} g) before {} ({} g)", list[i - 1].name, format_decimal(list[i - 1].ingoing_mg / 1000, 1),
                                  list[i].name, format_decimal(list[i].ingoing_mg / 1000, 1)));
    }
  }
  const auto near = [&](const std::string& what, const Share& share, const Share& limit) {
    if (limit > 0 && is_close(share, limit)) close.push_back(fmt::format("{}: {}, limit {}", what, percent(share), percent(limit)));
  };
  const AddedWater water = added_water(parts, made, terms);
  if (water.used) near("added water", water.of_finished, terms.water_ignored_up_to.limit);
  std::set<std::string> seen;
  for (const ListedIngredient& entry : list) {
    if (!seen.insert(entry.name).second) continue;
    near(entry.name, share_of_name(declared, entry.name), terms.any_order_below.limit);
    for (const ReliefTerm& relief : terms.reliefs) {
      const bool knows = std::any_of(entry.lots.begin(), entry.lots.end(),
                                     [&](std::size_t lot) { return relief_knows(relief, parts.lots[lot].ingredient); });
      if (knows && relief.below && *relief.below != terms.any_order_below.limit)
        near(entry.name + " without its parts", share_of_name(declared, entry.name), *relief.below);
    }
  }
  for (const ShareWording& row : terms.share_wordings) {
    if (const auto share = worded_share(row.of, parts, made, terms)) near(row.of, share->share, row.above);
  }
  const AllergenTerm* sulphites = terms.allergen(sulphites_key);
  if (sulphites != nullptr && sulphites->above_mg_per_kg && is_close(declared.sulphites_mg_per_kg, *sulphites->above_mg_per_kg)) {
    close.push_back(fmt::format("sulphites: {} mg/kg, limit {} mg/kg", format_decimal(declared.sulphites_mg_per_kg, 1),
                                format_decimal(*sulphites->above_mg_per_kg, 0)));
  }
  return close;
}

void check_masses(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const Declaration& declared,
                  const LabelTerms& terms) {
  const std::vector<std::string> estimated = estimated_masses(parts);
  const std::vector<std::string> gained = batches_that_gained(parts);
  const std::vector<std::string> close = estimated.empty() ? std::vector<std::string>{} : close_calls(parts, made, declared, terms);
  std::string which;
  for (const std::string& one : estimated) which += (which.empty() ? "" : "; ") + one;

  Finding finding;
  if (!gained.empty()) {
    finding = not_shown("masses-weighed", made.cake.text(),
                        fmt::format("{}: something was not recorded, or a mass is wrong", fmt::join(gained, "; ")),
                        "record what is missing, or weigh again");
    finding.paths = gained;
  }
  if (!close.empty()) {
    const std::string message = fmt::format("a mass is estimated, and a little more or less could change the list ({})", which);
    if (gained.empty()) {
      finding =
          not_shown("masses-weighed", made.cake.text(), message, "weigh what is estimated, or confirm the order and shares by another way");
    } else {
      finding.message += "; " + message;
    }
    finding.paths.insert(finding.paths.end(), close.begin(), close.end());
  }
  if (gained.empty() && close.empty()) {
    finding =
        shown("masses-weighed", made.cake.text(),
              estimated.empty() ? "every mass on the way was weighed"
                                : fmt::format("estimated, and far enough from every limit and neighbour to change nothing: {}", which));
  }
  finding.limit = "masses weighed; an estimate only where a tenth more or less changes neither the order nor a limit";
  finding.result = estimated.empty() ? "all weighed" : fmt::format("{} estimated", estimated.size());
  finding.evidence = "masses as recorded";
  finding.source = cite(terms.any_order_below.cited);
  findings.push_back(std::move(finding));
}

}  // namespace

std::vector<Finding> check(const CakeParts& parts, const Composition& made, const Declaration& declared, const LabelTerms& terms) {
  std::vector<Finding> findings;
  check_allergens(findings, made, declared, terms);
  check_species(findings, parts, made, declared, terms);
  check_additives(findings, parts, made, terms);
  check_levels(findings, parts, made, terms);
  check_sold_as(findings, parts, made, terms);
  check_statutory_parts(findings, parts, made, terms);
  check_flavour_words(findings, parts, made);
  check_sulphites(findings, parts, made, declared, terms);
  check_masses(findings, parts, made, declared, terms);
  return findings;
}

}  // namespace tierproof
