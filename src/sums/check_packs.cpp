#include <fmt/format.h>

#include <algorithm>

#include "declaration_check.h"
#include "label_list.h"
#include "label_runs.h"
#include "label_shares.h"
#include "part_walk.h"
#include "tierproof/sums/name_hints.h"
#include "words.h"

namespace tierproof {
namespace {

const LotFacts& lot_of(const CakeParts& parts, const Composition& made, std::size_t amount) { return parts.lots[made.lots[amount].lot]; }

/// Whether a word that begins like `phrase` stands in the name of a part: `thiamine` tells of thiamin.
bool names_part(const std::string& name, const std::string& phrase) {
  const std::vector<std::string> words = words_of_name(name);
  const std::vector<std::string> asked = words_of_name(phrase);
  if (asked.empty()) return false;
  const auto found = std::search(words.begin(), words.end(), asked.begin(), asked.end(),
                                 [](const std::string& word, const std::string& begin) { return word.starts_with(begin); });
  return found != words.end();
}

bool calls_itself_natural_flavouring(const std::string& name) {
  const std::vector<std::string> words = words_of_name(name);
  const auto flavour = [](const std::string& word) { return word.starts_with("flavo"); };  // either spelling
  return std::find(words.begin(), words.end(), "natural") != words.end() && std::any_of(words.begin(), words.end(), flavour);
}

/// Whether a pack that nobody called food or anything else is one by what else is recorded: a list of what it is made of, a kind, the
/// number of an additive, or a name of which the vocabulary knows every word as food.
bool is_food_otherwise(const IngredientFacts& food, const NameHints* vocabulary) {
  if (!food.parts.empty() || !food.kind.empty() || !food.additive.empty()) return true;
  if (vocabulary == nullptr) return false;
  const NameHint hint = hint_of(printed_name(food), *vocabulary);
  const auto asks_all = [](const Hinted& one) { return one.allergen.empty(); };  // `glitter`
  return hint.unknown_words.empty() && std::none_of(hint.ask.begin(), hint.ask.end(), asks_all);
}

}  // namespace

void check_species(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const Declaration& declared,
                   const LabelTerms& terms) {
  const std::string limit = "the kind of animal or plant named, where the law asks for it";
  std::size_t asked = 0;
  bool fine = true;
  const AllergenTerm* first = nullptr;
  for (const std::string& key : declared.contains) {
    const AllergenTerm* term = terms.allergen(key);
    if (term == nullptr || !term->name_species) continue;
    ++asked;
    if (first == nullptr) first = term;
    std::vector<std::string> silent;
    std::vector<std::string> paths;
    for (std::size_t i = 0; i < made.lots.size(); ++i) {
      const LotFacts& lot = lot_of(parts, made, i);
      if (!pack_brings(lot.ingredient, *term, terms) || !species_of(*term, {&lot.ingredient}).empty()) continue;
      silent.push_back(pack_in_words(lot));
      append_paths(paths, made, i);
    }
    if (silent.empty()) continue;
    fine = false;
    Finding finding = not_shown("allergen-species", key,
                                fmt::format("which kind of {} it is, is not recorded for {}", term->word, fmt::join(silent, ", ")),
                                "read it from the pack or ask the supplier, and record it with the specification");
    finding.limit = limit;
    finding.result = "not recorded";
    finding.evidence = "what the packs' specifications say";
    finding.source = cite(term->cited);
    std::sort(paths.begin(), paths.end());
    finding.paths = std::move(paths);
    findings.push_back(std::move(finding));
  }
  if (asked == 0 || !fine) return;
  Finding finding =
      shown("allergen-species", made.cake.text(), "the kind is recorded of every allergen that the law wants named by its kind");
  finding.limit = limit;
  finding.result = fmt::format("{} named", asked);
  finding.evidence = "what the packs' specifications say";
  finding.source = cite(first->cited);
  findings.push_back(std::move(finding));
}

void check_sold_as(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  const std::string limit = "only what is sold as food goes into food";
  bool fine = true;
  std::size_t recorded = 0;
  for (std::size_t i = 0; i < made.lots.size(); ++i) {
    const LotFacts& lot = lot_of(parts, made, i);
    const std::string& sold = lot.ingredient.sold_as;
    if (sold == "food") ++recorded;
    if (sold == "food" || (sold.empty() && is_food_otherwise(lot.ingredient, terms.vocabulary))) continue;
    fine = false;
    Finding finding;
    if (sold == "not for food") {
      finding = not_shown("sold-as", lot.id.text(), fmt::format("{} is not for food, and it is in the food", pack_in_words(lot)),
                          "do not hand it over; remake everything that it touched");
      finding.verdict = Verdict::not_met;
      finding.stop = Stop::no_override;
    } else if (sold == "for parts removed before eating") {
      finding = not_shown(
          "sold-as", lot.id.text(),
          fmt::format("{} may only be on what is taken off before eating, and it went into a batch of the cake", pack_in_words(lot)),
          "remake what is eaten; if it is only on what comes off, list that as a part to be removed, and say so by name");
    } else {
      finding = not_shown("sold-as", lot.id.text(), fmt::format("it is not recorded that {} is sold as food", pack_in_words(lot)),
                          "look for the word edible or a list of ingredients on the pack; without them keep it off the food");
    }
    finding.limit = limit;
    finding.result = sold.empty() ? "not recorded" : sold;
    finding.evidence = "what the pack's specification says";
    append_paths(finding.paths, made, i);
    std::sort(finding.paths.begin(), finding.paths.end());
    findings.push_back(std::move(finding));
  }
  if (!fine) return;
  const auto packs = [](std::size_t count) { return fmt::format("{} {}", count, count == 1 ? "pack" : "packs"); };
  const std::size_t otherwise = made.lots.size() - recorded;
  std::string message = recorded == 0 ? "" : fmt::format("{} recorded as sold as food", packs(recorded));
  if (otherwise > 0)
    message += fmt::format("{}{} known as food by list, kind, number or name", message.empty() ? "" : "; ", packs(otherwise));
  Finding finding = shown("sold-as", made.cake.text(), message);
  finding.limit = limit;
  finding.result = "food";
  finding.evidence = "what the packs' specifications say";
  findings.push_back(std::move(finding));
}

void check_statutory_parts(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  std::size_t asked = 0;
  bool fine = true;
  const StatutoryPartsTerm* first = nullptr;
  const auto limit_of = [](const StatutoryPartsTerm& term) {
    return fmt::format("{} with {} in its list", term.composition, fmt::join(term.parts, ", "));
  };
  for (const StatutoryPartsTerm& term : terms.statutory_parts) {
    for (std::size_t i = 0; i < made.lots.size(); ++i) {
      const LotFacts& lot = lot_of(parts, made, i);
      if (lot.ingredient.fixed_by_law.empty() || !same_words(lot.ingredient.fixed_by_law, term.composition)) continue;
      ++asked;
      if (first == nullptr) first = &term;
      std::vector<std::string> missing;
      for (const std::string& part : term.parts) {
        bool there = false;
        each_part(lot.ingredient.parts,
                  [&](const DeclaredPart& each, const std::optional<Share>&) { there = there || names_part(each.name, part); });
        if (!there) missing.push_back(part);
      }
      if (missing.empty()) continue;
      fine = false;
      Finding finding = not_shown(
          "statutory-parts", lot.id.text(),
          fmt::format("{} is recorded without {}{}", pack_in_words(lot), fmt::join(missing, ", "), doubt(term.cited)),
          term.unless.empty() ? std::string{"look at the sack and record the list that stands on it"}
                              : fmt::format("look at the sack and record the list that stands on it; it may lack them: {}", term.unless));
      finding.limit = limit_of(term);
      finding.result = fmt::format("{} of {} missing", missing.size(), term.parts.size());
      finding.evidence = "what the pack's specification says";
      finding.source = cite(term.cited);
      append_paths(finding.paths, made, i);
      std::sort(finding.paths.begin(), finding.paths.end());
      findings.push_back(std::move(finding));
    }
  }
  if (asked == 0 || !fine) return;
  Finding finding = shown("statutory-parts", made.cake.text(), "what the law has added to a food stands in the list of its pack");
  finding.limit = limit_of(*first);
  finding.result = "nothing missing";
  finding.evidence = "what the packs' specifications say";
  finding.source = cite(first->cited);
  findings.push_back(std::move(finding));
}

void check_flavour_words(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made) {
  const std::string limit = "called natural flavouring only where it is one by its pack";
  std::size_t asked = 0;
  bool fine = true;
  for (std::size_t i = 0; i < made.lots.size(); ++i) {
    const LotFacts& lot = lot_of(parts, made, i);
    if (!calls_itself_natural_flavouring(lot.ingredient.label_name)) continue;
    ++asked;
    if (lot.ingredient.kind == "natural flavouring") continue;
    fine = false;
    Finding finding =
        not_shown("flavour-words", lot.id.text(),
                  fmt::format("{} calls itself natural, and its kind is {}", pack_in_words(lot),
                              lot.ingredient.kind.empty() ? "not recorded" : "recorded as " + lot.ingredient.kind),
                  "ask the supplier whether it is a natural flavouring, and record its kind, or leave the word natural out of its name");
    finding.limit = limit;
    finding.result = lot.ingredient.kind.empty() ? "kind not recorded" : lot.ingredient.kind;
    finding.evidence = "what the pack's specification says";
    append_paths(finding.paths, made, i);
    std::sort(finding.paths.begin(), finding.paths.end());
    findings.push_back(std::move(finding));
  }
  if (asked == 0 || !fine) return;
  Finding finding = shown("flavour-words", made.cake.text(), "what is called natural flavouring is one by its pack");
  finding.limit = limit;
  finding.result = fmt::format("{} named so", asked);
  finding.evidence = "what the packs' specifications say";
  findings.push_back(std::move(finding));
}

}  // namespace tierproof
