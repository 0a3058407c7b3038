#include "tierproof/sums/declaration.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <set>

#include "label_list.h"
#include "label_runs.h"
#include "label_shares.h"
#include "tierproof/sums/statements.h"
#include "words.h"

namespace tierproof {
namespace {

/// Sorts allergens into declared, exempt, unknown and may contain, in the law's order.
void sort_allergens(Declaration& declared, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  declared.sulphites_mg_per_kg = sulphites_in_finished(parts, made);
  const bool silent = !sulphites_without_figure(parts, made).empty();
  for (const AllergenTerm& term : terms.allergens) {
    const AllergenTrace* found = find_trace(made, term.key);
    const auto any_pack = [&](const auto& holds) {
      return std::any_of(made.lots.begin(), made.lots.end(),
                         [&](const LotAmount& amount) { return holds(parts.lots[amount.lot].ingredient); });
    };
    bool contains = any_pack([&](const IngredientFacts& food) { return pack_brings(food, term, terms); });
    if (term.key == sulphites_key && term.above_mg_per_kg && contains) {
      contains = silent || above_threshold(declared.sulphites_mg_per_kg, term);
    }
    if (contains) {
      declared.contains.push_back(term.key);
      continue;
    }
    if (any_pack([&](const IngredientFacts& food) { return exemption_of(food, term, terms) != nullptr; }))
      declared.exempt.push_back(term.key);
    if (found == nullptr || !found->unknown.empty()) {
      declared.unknown.push_back(term.key);
    } else if (!found->may_contain.empty() || !found->precaution.empty()) {
      declared.may_contain.push_back(term.key);
    }
  }
}

/// The words of what is declared: for a summary its own, each once. What has no place in a summary stands in the list beside it, and in
/// the line where no list is printed.
std::vector<std::string> declared_words(const Declaration& declared, const CakeParts& parts, const Composition& made,
                                        const LabelTerms& terms, bool of_summary, bool beside_list) {
  std::vector<std::string> words;
  const auto add = [&](const std::string& word) {
    if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
  };
  for (const std::string& key : declared.contains) {
    const AllergenTerm& term = *terms.allergen(key);
    if (beside_list && !term.in_summary) continue;
    if (of_summary && !term.summary_words.empty()) {
      for (const std::string& word : term.summary_words) add(word);
      continue;
    }
    std::set<std::string> named;  // each species that a pack gives; the law's word for a pack that gives none
    for (const LotAmount& amount : made.lots) {
      const IngredientFacts& food = parts.lots[amount.lot].ingredient;
      if (!term.name_species || !pack_brings(food, term, terms)) continue;
      for (const std::string& word : words_for(term, {&food})) named.insert(word);
    }
    if (named.empty()) named.insert(term.word);
    for (const std::string& word : named) add(word);
  }
  return words;
}

/// The wording `contains` around `words`: its title, and the words emphasised or not.
std::vector<Run> contains_runs(const LabelTerms& terms, const std::vector<std::string>& words, bool title_emphasised,
                               bool words_emphasised) {
  if (words.empty()) return {};
  std::string before = "Contains: ";
  std::string after;
  if (const Wording* wording = terms.wording("contains")) {
    const AroundNames around = around_names(wording->text);
    before = around.before;
    after = around.after;
    if (!around.has_names) {
      const std::size_t end = before.find_last_not_of(": ");
      before = before.substr(0, end == std::string::npos ? 0 : end + 1) + ": ";
    }
  }
  RunBuilder line;
  const auto add = [&](const std::string& text, bool emphasised) { emphasised ? line.emphasised(text) : line.plain(text); };
  const std::size_t title = before.find_last_not_of(' ') + 1;
  add(before.substr(0, title), title_emphasised);
  add(before.substr(title), title_emphasised && words_emphasised);
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) add(", ", words_emphasised && title_emphasised);
    add(words_emphasised ? emphasised_word(words[i], terms.emphasis) : words[i], words_emphasised);
  }
  add(after, words_emphasised && title_emphasised);
  return line.take();
}

/// Where no list is printed, each word stands out as the rules emphasise, or the whole line by the law's form.
std::vector<Run> contains_line(const Declaration& declared, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  const bool summary = terms.form.summary != "forbidden";
  const auto words = declared_words(declared, parts, made, terms, summary, false);
  return contains_runs(terms, words, summary && (terms.form.title_emphasised || terms.form.summary_emphasised),
                       summary ? terms.form.summary_emphasised : terms.emphasis != "none");
}

/// Letters of the list with its commas; what follows bytes of UTF-8 belongs to the letter before.
std::size_t length_of(const Declaration& declared) {
  std::size_t letters = 0;
  for (const ListedIngredient& entry : declared.ingredients) {
    const std::string text = text_of(entry.runs) + ", ";
    letters += static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
  }
  return letters;
}

/// Groups whose proportions vary: those that `as` names, and those that every batch which their foods went into says.
std::vector<std::string> varying_groups(const CakeParts& parts, const DeclareAs& as, const LabelTerms& terms) {
  std::vector<std::string> groups;
  for (const VaryingTerm& term : terms.varying) {
    const auto told = [&](const std::vector<std::string>& by) { return std::find(by.begin(), by.end(), term.group) != by.end(); };
    bool used = false;
    bool silent = false;
    for (const BatchFacts& batch : parts.batches) {
      const bool here = std::any_of(batch.uses.begin(), batch.uses.end(), [&](const Use& use) {
        return use.of == Use::Of::lot && parts.lots[use.index].ingredient.varying_group == term.group;
      });
      used = used || here;
      silent = silent || (here && !told(batch.varying));
    }
    if (told(as.varying) || (used && !silent)) groups.push_back(term.group);
  }
  return groups;
}

}  // namespace

Declaration declare(const CakeParts& parts, const Composition& made, const LabelTerms& terms, std::string_view kind, const DeclareAs& as) {
  Declaration declared;
  declared.kind = kind;
  declared.list = as.list == "by part" && why_not_by_part(parts).empty() ? "by part" : "merged";
  sort_allergens(declared, parts, made, terms);
  ListAsk ask = ask_for(parts, made, terms, declared.contains);
  ask.varying = varying_groups(parts, as, terms);
  declared.ingredients = declared.list == "by part" ? listed_by_part(parts, ask) : listed(parts, made, ask);
  const AddedWater water = added_water(parts, made, terms);
  declared.added_water_mg = water.remains_mg;
  declared.water_left_out =
      water.used && std::none_of(declared.ingredients.begin(), declared.ingredients.end(), [&](const ListedIngredient& entry) {
        return std::find_first_of(entry.lots.begin(), entry.lots.end(), water.lots.begin(), water.lots.end()) != entry.lots.end();
      });
  if (kind == "allergens") {
    declared.allergen_line = contains_line(declared, parts, made, terms);
  } else {
    const Wording* heading = terms.wording("ingredients heading");
    declared.heading = {Run{heading != nullptr ? heading->text : "Ingredients:", false}};
    if (terms.form.summary != "forbidden")
      declared.summary = contains_runs(terms, declared_words(declared, parts, made, terms, true, true),
                                       terms.form.title_emphasised || terms.form.summary_emphasised, terms.form.summary_emphasised);
  }
  declared.statements = statements_of(parts, made, terms, as, declared);
  return declared;
}

std::string why_not_by_part(const CakeParts& parts) {
  for (const Placed& placed : parts.placed) {
    const BatchFacts& batch = parts.batches[placed.batch];
    if (batch.label_name.empty()) return fmt::format("{} ({}) has no customary name to stand in a list by", batch.id.text(), batch.name);
  }
  return {};
}

Declaration shorter_list(const CakeParts& parts, const Composition& made, const LabelTerms& terms, std::string_view kind,
                         const DeclareAs& as) {
  DeclareAs way = as;
  way.list = "merged";
  Declaration merged = declare(parts, made, terms, kind, way);
  if (!why_not_by_part(parts).empty()) return merged;
  way.list = "by part";
  Declaration by_part = declare(parts, made, terms, kind, way);
  return length_of(by_part) < length_of(merged) ? by_part : merged;
}

Refusals why_not_varying(const CakeParts& parts, const Declaration& declared, const std::string& group, const LabelTerms& terms) {
  Refusals refusals;
  const auto refuse = [&](std::string message, std::string remedy) {
    refusals.push_back(Refusal{"", 0, "group", std::move(message), std::move(remedy)});
  };
  if (terms.varying_group(group) == nullptr) {
    refuse(fmt::format("no rule here lets {} stand as a mixture in varying proportions", group),
           "rank each by its mass, and emphasise each allergen");
  }
  std::vector<const ListedIngredient*> members;
  std::vector<Share> amounts;
  for (const ListedIngredient& entry : declared.ingredients) {
    const bool in_group = !entry.lots.empty() && std::all_of(entry.lots.begin(), entry.lots.end(), [&](std::size_t lot) {
      return lot < parts.lots.size() && parts.lots[lot].ingredient.varying_group == group;
    });
    if (!in_group) continue;
    members.push_back(&entry);
    amounts.push_back(entry.ingoing_mg);
  }
  if (members.size() < 2) {
    refuse(fmt::format("{} of the list belongs to {}", members.empty() ? "nothing" : "only one entry", group), "leave it as it stands");
  } else if (one_predominates(amounts)) {
    const auto heaviest =
        std::max_element(members.begin(), members.end(), [](const auto* a, const auto* b) { return a->ingoing_mg < b->ingoing_mg; });
    const Share total = std::accumulate(amounts.begin(), amounts.end(), Share{0});
    refuse(
        fmt::format("{} predominates: {} % of the {}", (*heaviest)->name, format_decimal((*heaviest)->ingoing_mg / total * 100, 1), group),
        "rank each by its mass");
  }
  return refusals;
}

}  // namespace tierproof
