#include "tierproof/sums/declaration.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "label_runs.h"
#include "label_shares.h"

namespace tierproof {
namespace {

void append_part(std::string& key, const DeclaredPart& part) {
  std::vector<std::string> allergens = part.allergens;
  std::sort(allergens.begin(), allergens.end());
  key += fmt::format("{}\x1f{}\x1f{}\x1f{}\x1f{}\x1e", part.name, part.additive, part.additive_class, part.works_in_cake,
                     fmt::join(allergens, ","));
  if (part.parts.empty()) return;
  key += "(";
  for (const DeclaredPart& below : part.parts) append_part(key, below);
  key += ")";
}

/// Equal for foods that print alike: shares, allergen statements and figures apart.
std::string print_key(const IngredientFacts& food) {
  std::string key = fmt::format("{}\x1f{}\x1f{}\x1f{}\x1f{}\x1e", printed_name(food), food.additive, food.additive_class, food.fixed_by_law,
                                food.varying_group);
  for (const DeclaredPart& part : food.parts) append_part(key, part);
  return key;
}

/// Packs that print alike.
struct Together {
  std::size_t sample = 0;  ///< into `CakeParts::lots`
  Share ingoing_mg = 0;
  std::vector<std::size_t> lots;
};

bool pack_brings(const IngredientFacts& food, const AllergenTerm& term) {
  if (pack_statement(food, term.key).presence == Presence::contains) return true;
  return term.key == sulphites_key && food.sulphites_mg_per_kg.value_or(0) > 0;
}

/// Sorts allergens into declared, unknown and may contain, in the law's order.
void sort_allergens(Declaration& declared, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  declared.sulphites_mg_per_kg = sulphites_in_finished(parts, made);
  const bool silent = !sulphites_without_figure(parts, made).empty();
  for (const AllergenTerm& term : terms.allergens) {
    const AllergenTrace* found = find_trace(made, term.key);
    bool contains = std::any_of(made.lots.begin(), made.lots.end(),
                                [&](const LotAmount& amount) { return pack_brings(parts.lots[amount.lot].ingredient, term); });
    if (term.key == sulphites_key && term.above_mg_per_kg && contains) {
      contains = silent || above_threshold(declared.sulphites_mg_per_kg, term);
    }
    if (contains) {
      declared.contains.push_back(term.key);
    } else if (found == nullptr || !found->unknown.empty()) {
      declared.unknown.push_back(term.key);
    } else if (!found->may_contain.empty()) {
      declared.may_contain.push_back(term.key);
    }
  }
}

std::vector<Together> put_together(const CakeParts& parts, const Composition& made) {
  std::map<std::string, Together> by_print;
  for (const LotAmount& amount : made.lots) {
    const IngredientFacts& food = parts.lots[amount.lot].ingredient;
    if (counts_as_water(food)) continue;
    const auto [place, fresh] = by_print.try_emplace(print_key(food), Together{amount.lot, 0, {}});
    place->second.ingoing_mg += amount.ingoing_mg;
    place->second.lots.push_back(amount.lot);
  }
  std::vector<Together> all;
  for (auto& [key, together] : by_print) {
    std::sort(together.lots.begin(), together.lots.end());
    all.push_back(std::move(together));
  }
  return all;
}

std::vector<const AllergenTerm*> brought_by(const Together& together, const CakeParts& parts, const Declaration& declared,
                                            const LabelTerms& terms) {
  std::vector<const AllergenTerm*> brought;
  for (const std::string& key : declared.contains) {
    const AllergenTerm* term = terms.allergen(key);
    const bool here = std::any_of(together.lots.begin(), together.lots.end(),
                                  [&](std::size_t lot) { return pack_brings(parts.lots[lot].ingredient, *term); });
    if (here) brought.push_back(term);
  }
  return brought;
}

bool knows_composition(const LabelTerms& terms, const std::string& name) {
  return !name.empty() && std::any_of(terms.fixed_by_law.begin(), terms.fixed_by_law.end(),
                                      [&](const std::string& known) { return same_words(known, name); });
}

void list_ingredients(Declaration& declared, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  const std::vector<Together> all = put_together(parts, made);
  for (const Together& together : all) {
    const IngredientFacts& food = parts.lots[together.sample].ingredient;
    declared.ingredients.push_back(
        {{}, printed_name(food), together.ingoing_mg, together.ingoing_mg / made.finished_mg, false, together.lots});
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    const IngredientFacts& food = parts.lots[all[i].sample].ingredient;
    PrintTerms ask{brought_by(all[i], parts, declared, terms), &terms, false};
    ask.relieved = knows_composition(terms, food.fixed_by_law) &&
                   share_of_name(declared, declared.ingredients[i].name) < terms.compound_relief_below.limit;
    declared.ingredients[i].runs = print_ingredient(food, ask);
  }
  const AddedWater water = added_water(parts, made);
  declared.added_water_mg = water.remains_mg;
  declared.water_left_out = water.used && water.of_finished <= terms.water_ignored_up_to.limit;
  if (water.used && !declared.water_left_out) {
    declared.ingredients.push_back({{Run{water.name, false}}, water.name, water.remains_mg, water.of_finished, false, water.lots});
  }
  for (ListedIngredient& entry : declared.ingredients) {
    entry.any_order_at_end = share_of_name(declared, entry.name) < terms.any_order_below.limit;
  }
  std::sort(declared.ingredients.begin(), declared.ingredients.end(), [](const ListedIngredient& a, const ListedIngredient& b) {
    if (a.any_order_at_end != b.any_order_at_end) return b.any_order_at_end;
    if (a.ingoing_mg != b.ingoing_mg) return a.ingoing_mg > b.ingoing_mg;
    return a.name != b.name ? a.name < b.name : text_of(a.runs) < text_of(b.runs);
  });
}

std::string with_names(const std::string& wording, const std::string& names) {
  const std::string mark = "{names}";
  std::string text = wording;
  if (const std::size_t at = text.find(mark); at != std::string::npos) text.replace(at, mark.size(), names);
  return text;
}

void add_statements(Declaration& declared, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  const std::vector<AdditiveFound> additives = additives_in(parts, made, terms);
  for (const AdditiveWording& row : terms.additive_wordings) {
    std::string names;
    for (const std::string& number : row.numbers) {
      std::set<std::string> printed;  // one name an additive, though it may have several classes
      for (const AdditiveFound& additive : additives) {
        const std::string base = additive.number.substr(0, additive.number.find('('));
        if (additive.number == plain_number(number) || base == plain_number(number)) printed.insert(additive.name);
      }
      if (!printed.empty()) names += (names.empty() ? "" : ", ") + *printed.begin();
    }
    if (!names.empty()) declared.statements.push_back({with_names(row.wording, names), "statement", row.cited, {}});
  }
  for (const ShareWording& row : terms.share_wordings) {
    const auto share = share_for_wording(row.of, parts, made, terms);
    if (share && *share > row.above) declared.statements.push_back({row.wording, "statement", row.cited, {}});
  }
  std::set<std::string> seen;
  std::erase_if(declared.statements, [&](const Statement& statement) { return !seen.insert(statement.text).second; });
}

/// `Contains: wheat, milk`, the law's words emphasised, in its order.
std::vector<Run> contains_line(const Declaration& declared, const LabelTerms& terms) {
  if (declared.contains.empty()) return {};
  RunBuilder line;
  std::string before = "Contains: ";
  std::string after;
  if (const Wording* wording = terms.wording("contains")) {
    const std::size_t mark = wording->text.find("{names}");
    before = wording->text.substr(0, mark);
    if (mark != std::string::npos) {
      after = wording->text.substr(mark + std::string_view{"{names}"}.size());
    } else {
      const std::size_t end = before.find_last_not_of(": ");
      before = before.substr(0, end == std::string::npos ? 0 : end + 1) + ": ";
    }
  }
  line.plain(before);
  for (std::size_t i = 0; i < declared.contains.size(); ++i) {
    if (i > 0) line.plain(", ");
    line.emphasised(emphasised_word(terms.allergen(declared.contains[i])->word, terms.emphasis));
  }
  line.plain(after);
  return line.take();
}

}  // namespace

Declaration declare(const CakeParts& parts, const Composition& made, const LabelTerms& terms, std::string_view kind, const DeclareAs& /*as*/) {
  Declaration declared;
  declared.kind = kind;
  sort_allergens(declared, parts, made, terms);
  list_ingredients(declared, parts, made, terms);
  add_statements(declared, parts, made, terms);
  if (kind == "allergens") {
    declared.allergen_line = contains_line(declared, terms);
  } else {
    const Wording* heading = terms.wording("ingredients heading");
    declared.heading = {Run{heading != nullptr ? heading->text : "Ingredients:", false}};
  }
  return declared;
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
    runs.runs(members[i]->runs);
    grouped.ingoing_mg += members[i]->ingoing_mg;
    grouped.of_finished += members[i]->of_finished;
    grouped.lots.insert(grouped.lots.end(), members[i]->lots.begin(), members[i]->lots.end());
  }
  runs.plain(")");
  std::sort(grouped.lots.begin(), grouped.lots.end());
  grouped.runs = runs.take();
  grouped.any_order_at_end = grouped.of_finished < terms.any_order_below.limit;
  return grouped;
}

}  // namespace tierproof
