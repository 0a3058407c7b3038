#include "tierproof/sums/declaration.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "label_list.h"
#include "label_runs.h"
#include "label_shares.h"
#include "tierproof/sums/statements.h"

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
    const std::string_view mark = "{names}";
    const std::size_t at = wording->text.find(mark);
    before = wording->text.substr(0, at);
    if (at != std::string::npos) {
      after = wording->text.substr(at + mark.size());
    } else {
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

/// The runs of an entry without the words of the rules that stand before or behind the small amounts.
std::vector<Run> without_small_words(std::vector<Run> runs, const std::string& wording) {
  const std::string mark = "{names}";
  const std::size_t at = std::min(wording.find(mark), wording.size());
  const std::string before = wording.substr(0, at);
  const std::string after = at < wording.size() ? wording.substr(at + mark.size()) : std::string{};
  if (!before.empty() && runs.front().text.starts_with(before)) runs.front().text.erase(0, before.size());
  if (!after.empty() && runs.back().text.ends_with(after)) runs.back().text.erase(runs.back().text.size() - after.size());
  return runs;
}

}  // namespace

Declaration declare(const CakeParts& parts, const Composition& made, const LabelTerms& terms, std::string_view kind, const DeclareAs& as) {
  Declaration declared;
  declared.kind = kind;
  declared.list = as.list == "by part" && why_not_by_part(parts).empty() ? "by part" : "merged";
  sort_allergens(declared, parts, made, terms);
  const ListAsk ask = ask_for(parts, made, terms, declared.contains);
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

std::string why_unlawful_order(const Declaration& declared, const std::vector<std::string>& names) {
  std::map<std::string, std::vector<const ListedIngredient*>> left;  // of one name, heaviest first: the list is in that order
  for (const ListedIngredient& entry : declared.ingredients) left[entry.name].push_back(&entry);
  std::vector<const ListedIngredient*> order;
  for (const std::string& name : names) {
    const auto found = left.find(name);
    if (found == left.end()) return fmt::format("{} is not in the list", name);
    if (found->second.empty()) return fmt::format("{} stands twice", name);
    order.push_back(found->second.front());
    found->second.erase(found->second.begin());
  }
  for (const auto& [name, missing] : left) {
    if (!missing.empty()) return fmt::format("{} is missing", name);
  }
  for (std::size_t i = 1; i < order.size(); ++i) {
    const ListedIngredient& before = *order[i - 1];
    const ListedIngredient& here = *order[i];
    if (here.any_order_at_end) continue;
    if (before.any_order_at_end) {
      return fmt::format("{} ({} % of the finished cake) may not stand behind {}, which is under the small-amount limit", here.name,
                         format_decimal(here.of_finished * 100, 2), before.name);
    }
    if (here.ingoing_mg > before.ingoing_mg) {
      return fmt::format("{} ({} g) must stand before {} ({} g)", here.name, format_decimal(here.ingoing_mg / 1000, 3), before.name,
                         format_decimal(before.ingoing_mg / 1000, 3));
    }
  }
  return {};
}

Result<ListedIngredient> group_in_varying_proportions(const CakeParts& parts, const Declaration& declared, const std::string& group,
                                                      const LabelTerms& terms) {
  Refusals refusals;
  const auto refuse = [&](std::string message, std::string remedy) {
    refusals.push_back(Refusal{"", 0, "group", std::move(message), std::move(remedy)});
  };
  if (std::find(terms.varying_groups.begin(), terms.varying_groups.end(), group) == terms.varying_groups.end()) {
    refuse(fmt::format("{} may not stand as a mixture in varying proportions {}", group, cite(terms.varying_cited)),
           "rank each by its mass, and emphasise each allergen");
  }
  std::vector<const ListedIngredient*> members;
  for (const ListedIngredient& entry : declared.ingredients) {
    const bool in_group = !entry.lots.empty() && std::all_of(entry.lots.begin(), entry.lots.end(), [&](std::size_t lot) {
      return lot < parts.lots.size() && parts.lots[lot].ingredient.varying_group == group;
    });
    if (in_group) members.push_back(&entry);
  }
  Share total = 0;
  for (const ListedIngredient* member : members) total += member->ingoing_mg;
  if (members.size() < 2) {
    refuse(fmt::format("{} of the list belongs to {}", members.empty() ? "nothing" : "only one entry", group), "leave it as it stands");
  } else {
    const auto heaviest =
        std::max_element(members.begin(), members.end(), [](const auto* a, const auto* b) { return a->ingoing_mg < b->ingoing_mg; });
    if ((*heaviest)->ingoing_mg * 2 * members.size() > total * 3) {
      refuse(fmt::format("{} predominates: {} % of the {}", (*heaviest)->name, format_decimal((*heaviest)->ingoing_mg / total * 100, 1),
                         group),
             "rank each by its mass");
    }
  }
  if (!refusals.empty()) return refusals;

  const Wording* wording = terms.wording("varying proportions");
  RunBuilder runs;
  ListedIngredient grouped;
  grouped.name = group + " " + (wording != nullptr ? wording->text : "in varying proportions");
  runs.plain(grouped.name + " (");
  for (std::size_t i = 0; i < members.size(); ++i) {
    if (i > 0) runs.plain(", ");
    const std::string& words = terms.any_order_below.wording;
    runs.runs(members[i]->any_order_at_end ? without_small_words(members[i]->runs, words) : members[i]->runs);
    grouped.ingoing_mg += members[i]->ingoing_mg;
    grouped.of_finished += members[i]->of_finished;
    grouped.lots.insert(grouped.lots.end(), members[i]->lots.begin(), members[i]->lots.end());
  }
  runs.plain(")");
  std::sort(grouped.lots.begin(), grouped.lots.end());
  grouped.runs = runs.take();
  const ShareTerm& small = terms.any_order_below;
  const bool small_in_all = grouped.of_finished < small.limit || (small.inclusive && grouped.of_finished == small.limit);
  grouped.any_order_at_end =
      small_in_all && std::all_of(members.begin(), members.end(), [](const ListedIngredient* one) { return one->any_order_at_end; });
  return grouped;
}

}  // namespace tierproof
