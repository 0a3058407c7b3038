#include "tierproof/sums/languages.h"

#include <fmt/format.h>

#include <algorithm>

#include "composition_graph.h"
#include "label_list.h"
#include "label_runs.h"
#include "tierproof/sums/additive_text.h"

namespace tierproof {
namespace {

const IngredientFacts::InLanguage* words_in(const IngredientFacts& food, const std::string& language) {
  const auto found = std::find_if(food.other_languages.begin(), food.other_languages.end(),
                                  [&](const IngredientFacts::InLanguage& words) { return words.language == language; });
  return found == food.other_languages.end() ? nullptr : &*found;
}

bool same_shape(const std::vector<DeclaredPart>& one, const std::vector<DeclaredPart>& other) {
  return std::equal(one.begin(), one.end(), other.begin(), other.end(),
                    [](const DeclaredPart& a, const DeclaredPart& b) { return same_shape(a.parts, b.parts); });
}

/// What a part is stays as its own pack says; only its name is another.
void put_names(std::vector<DeclaredPart>& parts, const std::vector<DeclaredPart>& names) {
  for (std::size_t i = 0; i < parts.size() && i < names.size(); ++i) {
    if (!names[i].name.empty()) parts[i].name = names[i].name;
    if (!names[i].additive_class.empty()) parts[i].additive_class = names[i].additive_class;
    put_names(parts[i].parts, names[i].parts);
  }
}

std::string text_in(const std::map<std::string, std::string>& texts, const std::string& language, const std::string& own) {
  const auto found = texts.find(language);
  return found == texts.end() ? own : found->second;
}

/// Names of additives whose class is printed and has no words among `names`.
void without_class(const std::vector<DeclaredPart>& parts, const std::vector<DeclaredPart>& names, std::vector<std::string>& found) {
  for (std::size_t i = 0; i < parts.size() && i < names.size(); ++i) {
    const bool additive = !parts[i].additive.empty() || !parts[i].additive_class.empty();
    if (additive && names[i].additive_class.empty()) found.push_back(parts[i].name.empty() ? parts[i].additive : parts[i].name);
    without_class(parts[i].parts, names[i].parts, found);
  }
}

/// Names of parts that have none among `names`, and of additives that would go by a number where the law has them by name.
void without_name(const std::vector<DeclaredPart>& parts, const std::vector<DeclaredPart>& names, bool by_name,
                  std::vector<std::string>& found) {
  for (std::size_t i = 0; i < parts.size() && i < names.size(); ++i) {
    const bool additive = !parts[i].additive.empty() || !parts[i].additive_class.empty();
    const bool numbered = names[i].name.empty() ? !parts[i].additive.empty() : read_additive_number(names[i].name).has_value();
    const bool nameless = names[i].name.empty() && !parts[i].name.empty();
    if (nameless || (additive && by_name && numbered)) found.push_back(parts[i].name.empty() ? parts[i].additive : parts[i].name);
    without_name(parts[i].parts, names[i].parts, by_name, found);
  }
}

bool cites(const Declaration& declared, const Cited& cited) {
  return std::any_of(declared.ingredients.begin(), declared.ingredients.end(), [&](const ListedIngredient& entry) {
    return std::find(entry.rules.begin(), entry.rules.end(), cited) != entry.rules.end();
  });
}

std::string name_of_part(const BatchFacts& batch, const std::string& language) {
  const auto found =
      std::find_if(batch.other_names.begin(), batch.other_names.end(), [&](const auto& name) { return name.first == language; });
  return found == batch.other_names.end() ? std::string{} : found->second;
}

}  // namespace

CakeParts in_language(const CakeParts& parts, const std::string& language) {
  CakeParts told = parts;
  for (LotFacts& lot : told.lots) {
    IngredientFacts& food = lot.ingredient;
    const auto* words = words_in(food, language);
    if (words == nullptr) continue;
    const std::vector<DeclaredPart> names = words->parts;
    if (!words->label_name.empty()) food.label_name = words->label_name;
    if (same_shape(food.parts, names)) put_names(food.parts, names);
  }
  for (BatchFacts& batch : told.batches) {
    if (const std::string name = name_of_part(batch, language); !name.empty()) batch.label_name = name;
  }
  return told;
}

LabelTerms in_language(const LabelTerms& terms, const std::string& language) {
  LabelTerms told = terms;
  for (AllergenTerm& term : told.allergens) {
    const auto word = term.other_words.find(language);
    const auto names = term.other_names.find(language);
    const std::vector<std::string> told_names = names == term.other_names.end() ? std::vector<std::string>{} : names->second;
    if (word == term.other_words.end()) {  // its own word stays, and with it its own names
      term.names.insert(term.names.end(), told_names.begin(), told_names.end());
      continue;
    }
    term.word = word->second;
    term.summary_words.clear();
    term.names = told_names;
  }
  for (AdditiveTerm& term : told.additives) term.print.clear();
  if (told.additive_names) keep_additive_names(told);  // they are called otherwise now
  for (VaryingTerm& term : told.varying) term.words = text_in(term.other_words, language, term.words);
  if (auto& term = told.named_quantities) {
    term->per_100g = text_in(term->other_per_100g, language, term->per_100g);
    term->decimal_mark = text_in(terms.language.decimal_marks, language, term->decimal_mark);
  }
  for (CollectiveTerm& term : told.collectives) term.words = text_in(term.other_words, language, term.words);
  for (Wording& wording : told.wordings) wording.text = text_in(wording.other_texts, language, wording.text);
  return told;
}

std::vector<std::string> missing_in_language(const CakeParts& parts, const Composition& made, const Declaration& declared,
                                             const LabelTerms& terms, const std::string& language) {
  std::vector<std::string> missing;
  const auto miss = [&](std::string what) {
    if (std::find(missing.begin(), missing.end(), what) == missing.end()) missing.push_back(std::move(what));
  };
  bool varies = false;
  if (declared.kind != "allergens") {
    for (const LotAmount& amount : made.lots) {
      const IngredientFacts& food = parts.lots[amount.lot].ingredient;
      const auto* words = words_in(food, language);
      if (words == nullptr || words->label_name.empty()) {
        miss(printed_name(food));
        continue;
      }
      if (!same_shape(food.parts, words->parts)) {
        miss("the parts of " + printed_name(food));
        continue;
      }
      std::vector<std::string> nameless;
      without_name(food.parts, words->parts, terms.additive_form.form == "name", nameless);
      for (const std::string& name : nameless) miss(fmt::format("the name of {} in {}", name, printed_name(food)));
      if (terms.additive_form.form != "name") {
        std::vector<std::string> classless;
        without_class(food.parts, words->parts, classless);
        for (const std::string& name : classless) miss(fmt::format("the class of {} in {}", name, printed_name(food)));
        if (!food.additive.empty() || !food.additive_class.empty()) miss("the class of " + printed_name(food));
      }
    }
    if (declared.list == "by part") {
      const BatchGraph graph{parts};
      for (const std::size_t index : graph.reached()) {
        const BatchFacts& batch = parts.batches[index];
        if (!batch.label_name.empty() && name_of_part(batch, language).empty()) miss(batch.label_name);
      }
    }
    const auto words = [&](const std::string& text, const Cited& cited) {
      if (!text.empty() && cites(declared, cited)) miss(fmt::format("the words \"{}\"", text));
    };
    for (const CollectiveTerm& term : terms.collectives) {
      if (!term.other_words.contains(language)) words(term.words, term.cited);
    }
    for (const VaryingTerm& term : terms.varying) {
      if (!term.other_words.contains(language)) words(term.words, term.cited);
      if (cites(declared, term.cited)) varies = true;
    }
    words(terms.any_order_below.wording, terms.any_order_below.cited);
    if (terms.and_or) words(terms.and_or->wording, terms.and_or->cited);
    for (const MarkWording& row : terms.mark_wordings) {
      if (row.placed == "ingredient") words(row.wording, row.cited);
    }
  }
  for (const Statement& statement : declared.statements) miss(fmt::format("the words \"{}\"", statement.text));
  for (const std::vector<std::string>* keys : {&declared.contains, &declared.may_contain}) {
    for (const std::string& key : *keys) {
      const AllergenTerm* term = terms.allergen(key);
      if (term == nullptr) continue;
      if (!term->other_words.contains(language)) miss("the allergen " + term->word);
      const bool by_summary = terms.form.summary != "forbidden" && keys == &declared.contains;
      if (by_summary && term->other_words.contains(language)) {  // one word stands for it there, and here more
        for (const std::string& word : term->summary_words) {
          if (word != term->word) miss(fmt::format("the word \"{}\" of the summary", word));
        }
      }
      for (const LotAmount& amount : made.lots) {
        for (const std::string& word : words_for(*term, {&parts.lots[amount.lot].ingredient})) {
          if (word != term->word) miss("the species " + word);
        }
      }
    }
  }
  std::vector<std::string> needed{declared.kind == "allergens" ? "contains" : "ingredients heading"};
  if (!declared.summary.empty()) needed.emplace_back("contains");
  if (!declared.may_contain.empty()) needed.emplace_back("may contain");
  if (varies) needed.emplace_back("varying proportions");
  for (const std::string& key : needed) {
    const Wording* wording = terms.wording(key);
    if (wording != nullptr && !wording->other_texts.contains(language)) miss(fmt::format("the words \"{}\"", wording->text));
  }
  return missing;
}

}  // namespace tierproof
