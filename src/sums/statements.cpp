#include "tierproof/sums/statements.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "additives_present.h"
#include "label_runs.h"
#include "part_walk.h"
#include "tierproof/sums/additive_text.h"
#include "words.h"

namespace tierproof {
namespace {

/// What these marks say of a pack, they do not say of the cake that it went into.
constexpr std::array<std::string_view, 2> of_a_pack_alone = {"defrosted", "protective atmosphere"};

const IngredientFacts& food_of(const CakeParts& parts, const LotAmount& amount) { return parts.lots[amount.lot].ingredient; }

std::vector<std::size_t> in_order(std::vector<std::size_t> lots) {
  std::sort(lots.begin(), lots.end());
  lots.erase(std::unique(lots.begin(), lots.end()), lots.end());
  return lots;
}

// ---- additives ------------------------------------------------------------------------------------------------------------

struct Present {
  std::string names;     ///< as printed, with commas
  bool by_name = false;  ///< one of them by other words than its number
  std::vector<std::size_t> lots;
};

/// Packs with these words in the name of their food or of a part of it.
std::vector<std::size_t> lots_named(const std::string& words, const CakeParts& parts, const Composition& made) {
  std::vector<std::size_t> lots;
  for (const LotAmount& amount : made.lots) {
    const IngredientFacts& food = food_of(parts, amount);
    bool named = has_words(printed_name(food), words);
    each_part(food.parts, [&](const DeclaredPart& part, const std::optional<Share>&) { named = named || has_words(part.name, words); });
    if (named) lots.push_back(amount.lot);
  }
  return lots;
}

Present present(const AdditiveWording& row, const std::vector<AdditiveFound>& additives, const CakeParts& parts, const Composition& made,
                const LabelTerms& terms) {
  Present found;
  for (const std::string& number : row.numbers) {
    std::set<std::string> printed;  // one name an additive, though it may have several classes
    const std::string plain = additive_of(terms, number, "");
    for (const AdditiveFound& additive : additives) {
      if (additive.number != plain && additive.number.substr(0, additive.number.find('(')) != plain) continue;
      const AdditiveTerm* known = find_additive_by_text(terms, additive.number);
      const std::string& name = known != nullptr && !known->print.empty() ? known->print : additive.name;
      printed.insert(name);
      found.by_name = found.by_name || !additive_number(name);
      for (const std::size_t amount : additive.amounts) found.lots.push_back(made.lots[amount].lot);
    }
    if (!printed.empty()) found.names += (found.names.empty() ? "" : ", ") + *printed.begin();
  }
  for (const std::string& food : row.foods) {
    std::vector<std::size_t> lots = lots_named(food, parts, made);
    if (lots.empty()) continue;
    found.names += (found.names.empty() ? "" : ", ") + food;
    found.by_name = true;
    found.lots.insert(found.lots.end(), lots.begin(), lots.end());
  }
  found.lots = in_order(std::move(found.lots));
  return found;
}

bool is_suspended(const AdditiveWording& row) { return !row.suspended.empty() && row.cited.confirmed.empty(); }

void add_additive_wordings(std::vector<Statement>& statements, const CakeParts& parts, const Composition& made, const LabelTerms& terms,
                           const Declaration& declared) {
  if (terms.additive_wordings.empty()) return;
  const std::vector<AdditiveFound> additives = additives_present(parts, made, terms);
  for (const AdditiveWording& row : terms.additive_wordings) {
    if (is_suspended(row)) continue;
    const Present here = present(row, additives, parts, made, terms);
    if (here.names.empty()) continue;
    const bool named_in_list = here.by_name && declared.kind == "ingredient list";
    if (row.shown_by == "name" && !named_in_list) continue;
    if (row.shown_by == "number" && named_in_list) continue;
    statements.push_back({with_names(row.wording, here.names), "statement", row.cited, here.lots});
  }
}

// ---- marks ----------------------------------------------------------------------------------------------------------------

bool is_marked(const std::vector<std::string>& marks, const std::string& mark) {
  return std::find(marks.begin(), marks.end(), mark) != marks.end();
}

bool is_marked(const IngredientFacts& food, const std::string& mark) {
  bool marked = is_marked(food.marks, mark) || food.kind == mark;  // a spirit is one by its kind: `alcohol`
  each_part(food.parts, [&](const DeclaredPart& part, const std::optional<Share>&) { marked = marked || is_marked(part.marks, mark); });
  return marked;
}

std::vector<std::size_t> lots_marked(const std::string& mark, const CakeParts& parts, const Composition& made) {
  std::vector<std::size_t> lots;
  for (const LotAmount& amount : made.lots) {
    if (is_marked(food_of(parts, amount), mark)) lots.push_back(amount.lot);
  }
  return in_order(std::move(lots));
}

/// The statement of one mark's row; nothing when nothing here is marked so, or the word stands behind an ingredient's name.
std::optional<Statement> statement_of(const MarkWording& row, const CakeParts& parts, const Composition& made, const DeclareAs& as) {
  const bool whole = is_marked(as.marks, row.mark);
  const bool carries = std::find(of_a_pack_alone.begin(), of_a_pack_alone.end(), row.mark) == of_a_pack_alone.end();
  std::vector<std::size_t> lots = carries ? lots_marked(row.mark, parts, made) : std::vector<std::size_t>{};
  if (row.placed == "ingredient") {
    return whole ? std::optional<Statement>{{row.wording, "name", row.cited, {}}} : std::nullopt;
  }
  if (!whole && lots.empty()) return std::nullopt;
  return Statement{row.wording, row.placed, row.cited, std::move(lots)};
}

// ---- amounts --------------------------------------------------------------------------------------------------------------

bool is_named(const std::string& word, const DeclareAs& as, const Declaration& declared) {
  if (word.empty()) return false;
  if (has_words(as.name, word)) return true;
  return declared.kind == "ingredient list" &&
         std::any_of(declared.ingredients.begin(), declared.ingredients.end(),
                     [&](const ListedIngredient& entry) { return has_words(text_of(entry.runs), word); });
}

/// Whether `row` is the one of its amount with the lowest edge.
bool is_lowest(const AmountWording& row, const LabelTerms& terms) {
  return std::none_of(terms.amount_wordings.begin(), terms.amount_wordings.end(),
                      [&](const AmountWording& other) { return other.of == row.of && other.from_mg_per_kg < row.from_mg_per_kg; });
}

void add_amount_wordings(std::vector<Statement>& statements, const CakeParts& parts, const Composition& made, const LabelTerms& terms,
                         const DeclareAs& as, const Declaration& declared) {
  for (const AmountWording& row : terms.amount_wordings) {
    const std::optional<WordedAmount> amount = worded_amount(row.of, parts, made, terms);
    if (!amount) continue;
    bool due = amount->mg_per_kg >= row.from_mg_per_kg && (!row.below_mg_per_kg || amount->mg_per_kg < *row.below_mg_per_kg);
    if (!amount->silent.empty() && amount->mg_per_kg < row.from_mg_per_kg) due = due || is_lowest(row, terms);
    if (!due || is_named(row.unless_named, as, declared)) continue;
    statements.push_back({row.wording, row.placed, row.cited, amount->lots});
  }
}

void leave_out_repeats(std::vector<Statement>& statements) {
  std::set<std::pair<std::string, std::string>> seen;
  std::erase_if(statements, [&](const Statement& one) { return !seen.emplace(one.placed, one.text).second; });
}

}  // namespace

std::string with_names(const std::string& wording, const std::string& names) {
  const AroundNames around = around_names(wording);
  return around.has_names ? around.before + names + around.after : wording;
}

std::vector<Statement> statements_of(const CakeParts& parts, const Composition& made, const LabelTerms& terms, const DeclareAs& as,
                                     const Declaration& declared) {
  std::vector<Statement> statements;
  add_additive_wordings(statements, parts, made, terms, declared);
  for (const ShareWording& row : terms.share_wordings) {
    const std::optional<WordedShare> share = worded_share(row.of, parts, made, terms);
    if (share && share->share > row.above) statements.push_back({row.wording, row.placed, row.cited, share->lots});
  }
  for (const MarkWording& row : terms.mark_wordings) {
    if (row.placed == "told") continue;
    if (auto one = statement_of(row, parts, made, as)) statements.push_back(std::move(*one));
  }
  add_amount_wordings(statements, parts, made, terms, as, declared);
  leave_out_repeats(statements);
  return statements;
}

std::vector<Statement> things_to_tell(const CakeParts& parts, const Composition& made, const LabelTerms& terms, const DeclareAs& as) {
  std::vector<Statement> told;
  for (const AdditiveWording& row : terms.additive_wordings) {
    if (!is_suspended(row)) continue;
    const Present here = present(row, additives_present(parts, made, terms), parts, made, terms);
    if (!here.names.empty())
      told.push_back({fmt::format("Not printed, since {}: \"{}\" (for {})", row.suspended, with_names(row.wording, here.names), here.names),
                      "told", row.cited, here.lots});
  }
  for (const MarkWording& row : terms.mark_wordings) {
    if (row.placed != "told") continue;
    if (auto one = statement_of(row, parts, made, as)) told.push_back(std::move(*one));
  }
  leave_out_repeats(told);
  return told;
}

std::optional<WordedShare> worded_share(const std::string& of, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  WordedShare polyols{0, {}};
  WordedShare sweet{0, {}};
  std::vector<std::size_t> sugars;
  for (const LotAmount& amount : made.lots) {
    const IngredientFacts& food = food_of(parts, amount);
    const auto acts_sweet = [&](const std::string& number, const std::string& name, const std::string& title) {
      if (!title.empty()) return same_words(title, "sweetener");
      const AdditiveTerm* row = find_additive(terms, number, name);
      return row != nullptr && !row->classes.empty() && same_words(row->classes.front(), "sweetener");
    };
    bool sweetens = food.sweetening == "sweetener" || acts_sweet(food.additive, printed_name(food), food.additive_class);
    Share polyol = 0;
    each_part(food.parts, [&](const DeclaredPart& part, const std::optional<Share>& of_whole) {
      sweetens = sweetens || acts_sweet(part.additive, part.name, part.additive_class);
      if (!has_flag(find_additive(terms, part.additive, part.name), "polyol")) return;
      if (const auto mg = mg_per_kg_of(part, of_whole)) polyol += *mg / mg_in_a_kg;
    });
    if (has_flag(find_additive(terms, food.additive, printed_name(food)), "polyol")) {
      polyol = food.polyols > 0 ? food.polyols : Share{1};
    } else {
      polyol = std::max(polyol, food.polyols);
    }
    if (polyol > 0) {
      polyols.share += amount.ingoing_mg * polyol / made.finished_mg;
      polyols.lots.push_back(amount.lot);
    }
    if (sweetens) {
      sweet.share += amount.ingoing_mg / made.finished_mg;
      sweet.lots.push_back(amount.lot);
    }
    if (food.sweetening == "sugar" || food.kind == "sugar") sugars.push_back(amount.lot);
  }
  polyols.lots = in_order(std::move(polyols.lots));
  sweet.lots = in_order(std::move(sweet.lots));
  if (of == "polyols") return polyols.share > 0 ? std::optional{polyols} : std::nullopt;
  if (sweet.lots.empty()) return std::nullopt;
  const bool both_worded = std::any_of(terms.share_wordings.begin(), terms.share_wordings.end(),
                                       [](const ShareWording& row) { return row.of == "sugars and sweeteners"; });
  if (of == "sugars and sweeteners" && !sugars.empty()) {
    sweet.lots.insert(sweet.lots.end(), sugars.begin(), sugars.end());
    sweet.lots = in_order(std::move(sweet.lots));
    return sweet;
  }
  if (of == "sweeteners" && (sugars.empty() || !both_worded)) return sweet;
  return std::nullopt;
}

std::optional<WordedAmount> worded_amount(const std::string& of, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  WordedAmount found{0, {}, {}};
  if (of == "polyols") {
    const std::optional<WordedShare> share = worded_share(of, parts, made, terms);
    return share ? std::optional{WordedAmount{share->share * mg_in_a_kg, share->lots, {}}} : std::nullopt;
  }
  if (of != "glycyrrhizinic acid" && of != sulphites_key) return std::nullopt;
  for (const LotAmount& amount : made.lots) {
    const IngredientFacts& food = food_of(parts, amount);
    const bool liquorice = of != sulphites_key;
    const std::optional<Share>& figure = liquorice ? food.glycyrrhizinic_mg_per_kg : food.sulphites_mg_per_kg;
    const bool known =
        liquorice ? is_marked(food, "liquorice") : pack_statement(food, std::string{sulphites_key}).presence == Presence::contains;
    if (figure.value_or(0) == 0 && (figure || !known)) continue;
    found.lots.push_back(amount.lot);
    if (!figure) found.silent.push_back(amount.lot);
    found.mg_per_kg += amount.ingoing_mg * figure.value_or(0) / made.finished_mg;
  }
  found.lots = in_order(std::move(found.lots));
  found.silent = in_order(std::move(found.silent));
  return found.lots.empty() ? std::nullopt : std::optional{found};
}

}  // namespace tierproof
