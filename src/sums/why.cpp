#include "tierproof/sums/why.h"

#include <algorithm>

#include "label_list.h"
#include "label_runs.h"

namespace tierproof {
namespace {

/// The ways of the packs at `lots`.
std::vector<std::string> ways_of(const Composition& made, const std::vector<std::size_t>& lots) {
  std::vector<std::string> ways;
  for (const LotAmount& amount : made.lots) {
    if (std::find(lots.begin(), lots.end(), amount.lot) != lots.end()) ways.insert(ways.end(), amount.paths.begin(), amount.paths.end());
  }
  std::sort(ways.begin(), ways.end());
  ways.erase(std::unique(ways.begin(), ways.end()), ways.end());
  return ways;
}

std::vector<std::size_t> lots_that_bring(const CakeParts& parts, const Composition& made, const AllergenTerm& term,
                                         const LabelTerms& terms) {
  std::vector<std::size_t> lots;
  for (const LotAmount& amount : made.lots) {
    if (pack_brings(parts.lots[amount.lot].ingredient, term, terms)) lots.push_back(amount.lot);
  }
  std::sort(lots.begin(), lots.end());
  return lots;
}

const Cited* cited_of(const LabelTerms& terms, std::string_view wording) {
  const Wording* found = terms.wording(wording);
  return found == nullptr ? nullptr : &found->cited;
}

}  // namespace

std::vector<WordWhy> why_words(const CakeParts& parts, const Composition& made, const Declaration& declared, const LabelTerms& terms) {
  std::vector<WordWhy> all;
  const auto add = [&](std::string words, std::string what, std::vector<Cited> rules, std::vector<std::size_t> lots) {
    std::vector<std::string> ways = ways_of(made, lots);
    all.push_back({std::move(words), std::move(what), std::move(rules), std::move(lots), std::move(ways)});
  };
  const auto wording = [&](const std::vector<Run>& runs, std::string what, std::string_view key) {
    if (runs.empty()) return;
    std::vector<Cited> rules;
    if (const Cited* cited = cited_of(terms, key)) rules.push_back(*cited);
    if (key == "contains" && !terms.form.cited.row.empty()) rules.push_back(terms.form.cited);
    std::vector<std::size_t> lots;
    if (key == "contains") {
      for (const std::string& allergen : declared.contains) {
        for (const std::size_t lot : lots_that_bring(parts, made, *terms.allergen(allergen), terms)) {
          if (std::find(lots.begin(), lots.end(), lot) == lots.end()) lots.push_back(lot);
        }
      }
      std::sort(lots.begin(), lots.end());
    }
    add(text_of(runs), std::move(what), std::move(rules), std::move(lots));
  };

  wording(declared.heading, "heading", "ingredients heading");
  if (!declared.heading.empty()) {
    bool before_small = !terms.any_order_below.wording.empty();
    for (const ListedIngredient& entry : declared.ingredients) {
      if (before_small && entry.any_order_at_end) {
        add(terms.any_order_below.wording, "words before small amounts", {terms.any_order_below.cited}, {});
        before_small = false;
      }
      add(text_of(entry.runs), "ingredient", entry.rules, entry.lots);
    }
  }
  for (const std::string& key : declared.contains) {
    const AllergenTerm& term = *terms.allergen(key);
    const std::vector<std::size_t> lots = lots_that_bring(parts, made, term, terms);
    std::vector<const IngredientFacts*> foods;
    for (const std::size_t lot : lots) foods.push_back(&parts.lots[lot].ingredient);
    std::string words;
    for (const std::string& word : words_for(term, foods)) words += (words.empty() ? "" : ", ") + word;
    add(words, "allergen", {term.cited, terms.form.cited}, lots);
    std::erase_if(all.back().rules, [](const Cited& cited) { return cited.row.empty(); });
  }
  wording(declared.allergen_line, "line of allergens", "contains");
  wording(declared.summary, "summary", "contains");
  for (const Statement& statement : declared.statements) add(statement.text, "statement", {statement.cited}, statement.lots);
  return all;
}

}  // namespace tierproof
