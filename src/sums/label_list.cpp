#include "label_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "label_runs.h"
#include "label_shares.h"
#include "words.h"

namespace tierproof {
namespace {

std::vector<std::string> in_order(std::vector<std::string> words) {
  std::sort(words.begin(), words.end());
  return words;
}

void append_part(std::string& key, const DeclaredPart& part) {
  key += fmt::format("{}\x1f{}\x1f{}\x1f{}\x1f{}\x1f{}\x1f{}\x1e", part.name, part.additive, part.additive_class, part.works_in_cake,
                     part.processing_aid, fmt::join(in_order(part.marks), ","), fmt::join(in_order(part.allergens), ","));
  if (part.parts.empty()) return;
  key += "(";
  for (const DeclaredPart& below : part.parts) append_part(key, below);
  key += ")";
}

/// Equal for foods that print alike: shares, allergen statements and figures apart.
std::string print_key(const IngredientFacts& food) {
  std::string key = fmt::format("{}\x1f{}\x1f{}\x1f{}\x1f{}\x1f{}\x1f{}\x1f{}\x1e", printed_name(food), food.additive, food.additive_class,
                                food.fixed_by_law, food.varying_group, food.kind, food.substitutes, fmt::join(in_order(food.marks), ","));
  for (const DeclaredPart& part : food.parts) append_part(key, part);
  return key;
}

/// Packs that print alike.
struct Together {
  std::size_t sample = 0;  ///< into `CakeParts::lots`
  Share ranks_mg = 0;
  Share share_mg = 0;  ///< of what remains
  std::vector<std::size_t> lots;
};

/// An entry on its way into the list.
struct Entry {
  ListedIngredient listed;
  const IngredientFacts* food = nullptr;  ///< of its packs, the first; nothing for added water
  std::vector<const AllergenTerm*> brings;
  std::vector<const IngredientFacts*> foods;  ///< of all its packs
  template <class Holds>
  bool all(Holds holds) const {
    return !foods.empty() && std::all_of(foods.begin(), foods.end(), [&](const IngredientFacts* one) { return holds(*one); });
  }
  template <class Holds>
  bool any(Holds holds) const {
    return std::any_of(foods.begin(), foods.end(), [&](const IngredientFacts* one) { return holds(*one); });
  }
  bool is_additive() const {
    return any([](const IngredientFacts& one) { return !one.additive.empty() || !one.additive_class.empty(); });
  }
};

std::vector<Together> put_together(const CakeParts& parts, const Composition& made) {
  std::map<std::string, Together> by_print;
  for (const LotAmount& amount : made.lots) {
    const IngredientFacts& food = parts.lots[amount.lot].ingredient;
    if (counts_as_water(food)) continue;
    const auto [place, fresh] = by_print.try_emplace(print_key(food), Together{amount.lot, 0, 0, {}});
    place->second.ranks_mg += ranking_mg(parts, amount);
    place->second.share_mg += std::min(amount.ingoing_mg, amount.remaining_mg);
    place->second.lots.push_back(amount.lot);
  }
  std::vector<Together> all;
  for (auto& [key, together] : by_print) {
    std::sort(together.lots.begin(), together.lots.end());
    all.push_back(std::move(together));
  }
  return all;
}

bool of_kind(const Entry& entry, std::string_view kind) {
  return entry.all([&](const IngredientFacts& one) { return is_kind(one, kind); });
}

void cite_once(std::vector<Cited>& rules, const Cited& cited) {
  if (!cited.row.empty() && std::find(rules.begin(), rules.end(), cited) == rules.end()) rules.push_back(cited);
}

bool within(const Share& share, const ShareTerm& small) { return share < small.limit || (small.inclusive && share == small.limit); }

/// Draws up one list.
class List {
 public:
  List(const CakeParts& parts, const Composition& made, const ListAsk& ask) : parts_{parts}, made_{made}, ask_{ask}, terms_{*ask.terms} {}

  std::vector<ListedIngredient> draw_up() {
    gather();
    add_water();
    merge_what_prints_alike();
    mark_small_amounts();
    sort();
    print();
    stand_in_varying_proportions();
    stand_in_for_each_other();
    collect_kinds();
    sort();
    words_before_small_amounts();
    std::vector<ListedIngredient> list;
    for (Entry& entry : entries_) list.push_back(std::move(entry.listed));
    return list;
  }

 private:
  void gather() {
    for (const Together& together : put_together(parts_, made_)) {
      Entry entry;
      for (const std::size_t lot : together.lots) entry.foods.push_back(&parts_.lots[lot].ingredient);
      entry.food = &parts_.lots[together.sample].ingredient;
      entry.listed = {{}, printed_name(*entry.food), together.ranks_mg, together.share_mg / ask_.finished_mg, false, together.lots, {}};
      for (const std::string& key : ask_.declared) {
        const AllergenTerm* term = terms_.allergen(key);
        const bool here = std::any_of(together.lots.begin(), together.lots.end(),
                                      [&](std::size_t lot) { return pack_brings(parts_.lots[lot].ingredient, *term, terms_); });
        if (here) entry.brings.push_back(term);
      }
      for (const AllergenTerm& term : terms_.allergens) {
        for (const IngredientFacts* food : entry.foods) {
          const ExemptionTerm* row = pack_brings(*food, term, terms_) ? nullptr : exemption_of(*food, term, terms_);
          if (row != nullptr) cite_once(entry.listed.rules, row->cited);
        }
      }
      entries_.push_back(std::move(entry));
    }
  }

  void add_water() {
    const AddedWater water = added_water(parts_, made_, terms_);
    const Share of_cake = water.remains_mg / ask_.finished_mg;
    if (of_cake == 0 || std::max(of_cake, ask_.whole_water) <= terms_.water_ignored_up_to.limit) return;
    Entry entry;
    entry.listed = {{Run{water.name, false}}, water.name, water.remains_mg, of_cake, false, water.lots, {}};
    cite_once(entry.listed.rules, terms_.water_ignored_up_to.cited);
    entries_.push_back(std::move(entry));
  }

  /// Entries that differ only in what a label does not show, such as the kind of one specification.
  void merge_what_prints_alike() {
    std::map<std::pair<std::string, std::string>, std::size_t> first;
    std::vector<Entry> kept;
    for (Entry& entry : entries_) {
      if (entry.food == nullptr || entry.food->fixed_by_law == made_here) {
        kept.push_back(std::move(entry));
        continue;
      }
      const PrintTerms ask{entry.brings, &terms_, relief_of(entry), {}, entry.foods};
      const auto [place, fresh] = first.try_emplace({entry.listed.name, text_of(print_ingredient(*entry.food, ask))}, kept.size());
      if (fresh) {
        kept.push_back(std::move(entry));
        continue;
      }
      Entry& together = kept[place->second];
      together.listed.ingoing_mg += entry.listed.ingoing_mg;
      together.listed.of_finished += entry.listed.of_finished;
      together.listed.lots.insert(together.listed.lots.end(), entry.listed.lots.begin(), entry.listed.lots.end());
      std::sort(together.listed.lots.begin(), together.listed.lots.end());
      for (const Cited& rule : entry.listed.rules) cite_once(together.listed.rules, rule);
      together.foods.insert(together.foods.end(), entry.foods.begin(), entry.foods.end());
      together.brings.insert(together.brings.end(), entry.brings.begin(), entry.brings.end());
      std::sort(together.brings.begin(), together.brings.end());  // places in the terms: the law's order
      together.brings.erase(std::unique(together.brings.begin(), together.brings.end()), together.brings.end());
    }
    entries_ = std::move(kept);
  }

  /// Over the whole cake.
  Share share_of(const std::string& name) const {
    Share share = 0;
    for (const ShareInCake& one : ask_.whole) {
      if (printed_name(*one.food) == name) share += one.share;
    }
    return share;
  }
  Share share_of_kind(const std::string& kind) const {
    Share share = 0;
    for (const ShareInCake& one : ask_.whole) {
      if (is_kind(*one.food, kind)) share += one.share;
    }
    return share;
  }

  bool is_small(const Entry& entry) const {
    const ShareTerm& small = terms_.any_order_below;
    const Share share = entry.food == nullptr ? ask_.whole_water : share_of(entry.listed.name);
    if (within(share, small)) return true;
    // Words that name a share must not stand before what is above it.
    return small.wording.empty() && entry.food != nullptr &&
           std::any_of(small.kinds.begin(), small.kinds.end(),
                       [&](const std::string& kind) { return of_kind(entry, kind) || (kind == "additive" && entry.is_additive()); });
  }

  void mark_small_amounts() {
    if (!ask_.small_amounts_last) return;
    std::vector<bool> small;
    for (const Entry& entry : entries_) small.push_back(is_small(entry));
    for (std::size_t i = 0; i < entries_.size(); ++i) {
      entries_[i].listed.any_order_at_end = small[i];
      if (small[i]) cite_once(entries_[i].listed.rules, terms_.any_order_below.cited);
    }
  }

  void sort() {
    std::sort(entries_.begin(), entries_.end(), [](const Entry& one, const Entry& other) {
      const ListedIngredient& a = one.listed;
      const ListedIngredient& b = other.listed;
      if (a.any_order_at_end != b.any_order_at_end) return b.any_order_at_end;
      if (a.ingoing_mg != b.ingoing_mg) return a.ingoing_mg > b.ingoing_mg;
      return a.name != b.name ? a.name < b.name : text_of(a.runs) < text_of(b.runs);
    });
  }

  const ReliefTerm* relief_of(const Entry& entry) const {
    const auto found = std::find_if(terms_.reliefs.begin(), terms_.reliefs.end(), [&](const ReliefTerm& term) {
      return relief_knows(term, *entry.food) && (!term.below || share_of(entry.listed.name) < *term.below);
    });
    return found == terms_.reliefs.end() ? nullptr : &*found;
  }

  void print() {
    std::set<std::pair<const AllergenTerm*, std::string>> shown;  // with its word, by the name of some entry, or by a word added behind one
    const bool at_first_use = terms_.form.in_list == "first";
    if (at_first_use) {
      for (const Entry& entry : entries_) {
        for (const AllergenTerm* term : entry.brings) {
          for (const std::string& word : words_for(*term, entry.foods)) {
            if (shown_by_name(*entry.food, *term, {word})) shown.insert({term, word});
          }
        }
      }
    }
    for (Entry& entry : entries_) {
      if (entry.food == nullptr) continue;
      PrintTerms ask{entry.brings, &terms_, nullptr, {}, entry.foods};
      for (const AllergenTerm* term : entry.brings) {
        bool all_shown = at_first_use;
        for (const std::string& word : words_for(*term, entry.foods)) all_shown = !shown.insert({term, word}).second && all_shown;
        // Starch is named by its plant wherever it may bring gluten.
        const bool names_plant = term->key.starts_with("gluten:") && entry.any([](const IngredientFacts& one) {
          return is_kind(one, "starch") || is_kind(one, "modified starch");
        });
        const bool in_summary_alone = terms_.form.in_list == "none" && terms_.form.summary != "forbidden" && term->in_summary;
        if ((in_summary_alone || all_shown) && !names_plant) ask.without_words.push_back(term);
        cite_once(entry.listed.rules, term->cited);
      }
      if (const ReliefTerm* relief = relief_of(entry)) {
        ask.relief = relief;
        cite_once(entry.listed.rules, relief->cited);
      }
      if (!entry.brings.empty()) cite_once(entry.listed.rules, terms_.form.cited);
      if (!entry.brings.empty() && terms_.emphasis != "none") cite_once(entry.listed.rules, terms_.emphasis_cited);
      cite_additives(entry);
      cite_marks(entry);
      entry.listed.runs = print_ingredient(*entry.food, ask);
    }
    sort();  // entries of one name that print otherwise go by their words
  }

  void cite_additives(Entry& entry) const {
    const auto cite = [&](const std::string& number, const std::string& name) {
      if (const AdditiveTerm* row = find_additive(terms_, number, name)) cite_once(entry.listed.rules, row->cited);
      cite_once(entry.listed.rules, terms_.additive_form.cited);
    };
    if (entry.is_additive()) cite(entry.food->additive, entry.food->label_name);
    const auto all = [&](const auto& self, const std::vector<DeclaredPart>& parts) -> void {
      for (const DeclaredPart& part : parts) {
        if (!part.additive.empty() || !part.additive_class.empty()) cite(part.additive, part.name);
        self(self, part.parts);
      }
    };
    all(all, entry.food->parts);
  }

  /// Whether the word of `row` stands behind the food's name or that of a part of it.
  static bool stands_behind(const MarkWording& row, const IngredientFacts& food) {
    const auto has = [&](const auto& self, const std::vector<DeclaredPart>& parts) -> bool {
      return std::any_of(parts.begin(), parts.end(), [&](const DeclaredPart& part) {
        return std::find(part.marks.begin(), part.marks.end(), row.mark) != part.marks.end() || self(self, part.parts);
      });
    };
    return row.placed == "ingredient" &&
           (std::find(food.marks.begin(), food.marks.end(), row.mark) != food.marks.end() || has(has, food.parts));
  }

  void cite_marks(Entry& entry) const {
    for (const MarkWording& row : terms_.mark_wordings) {
      if (stands_behind(row, *entry.food)) cite_once(entry.listed.rules, row.cited);
    }
  }

  /// Whether an entry says something that has to be read: then it may not stand under a name that leaves its members out.
  bool must_be_read(const Entry& entry) const {
    return !entry.brings.empty() || entry.is_additive() || entry.any([&](const IngredientFacts& one) {
      return !one.parts.empty() || std::any_of(terms_.mark_wordings.begin(), terms_.mark_wordings.end(),
                                               [&](const MarkWording& row) { return stands_behind(row, one); });
    });
  }

  /// Makes one entry of those at `places`, with `runs`; it takes the place of the first.
  void join(const std::vector<std::size_t>& places, std::string name, std::vector<Run> runs, const Cited& cited) {
    Entry joined;
    joined.food = entries_[places.front()].food;
    joined.listed.name = std::move(name);
    joined.listed.runs = std::move(runs);
    joined.listed.any_order_at_end = true;
    for (const std::size_t place : places) {
      const ListedIngredient& one = entries_[place].listed;
      joined.listed.ingoing_mg += one.ingoing_mg;
      joined.listed.of_finished += one.of_finished;
      joined.listed.lots.insert(joined.listed.lots.end(), one.lots.begin(), one.lots.end());
      for (const Cited& rule : one.rules) {
        if (rule != terms_.any_order_below.cited) cite_once(joined.listed.rules, rule);
      }
      joined.brings.insert(joined.brings.end(), entries_[place].brings.begin(), entries_[place].brings.end());
      joined.foods.insert(joined.foods.end(), entries_[place].foods.begin(), entries_[place].foods.end());
      joined.listed.any_order_at_end = joined.listed.any_order_at_end && one.any_order_at_end;
    }
    std::sort(joined.listed.lots.begin(), joined.listed.lots.end());
    // Of several small ones the total has to be small too.
    const ShareTerm& small = terms_.any_order_below;
    const bool by_kind = small.wording.empty() && std::any_of(small.kinds.begin(), small.kinds.end(),
                                                              [&](const std::string& kind) { return of_kind(joined, kind); });
    if (joined.listed.any_order_at_end && !by_kind)
      joined.listed.any_order_at_end =
          within(std::max(joined.listed.of_finished, Share{joined.listed.ingoing_mg / ask_.finished_mg}), small);
    if (joined.listed.any_order_at_end) cite_once(joined.listed.rules, small.cited);
    cite_once(joined.listed.rules, cited);
    std::vector<Entry> kept;
    for (std::size_t i = 0; i < entries_.size(); ++i) {
      if (i == places.front()) {
        kept.push_back(std::move(joined));
      } else if (std::find(places.begin(), places.end(), i) == places.end()) {
        kept.push_back(std::move(entries_[i]));
      }
    }
    entries_ = std::move(kept);
  }

  /// Foods of one group whose proportions vary, where none of them predominates.
  void stand_in_varying_proportions() {
    const Wording* wording = terms_.wording("varying proportions");
    if (wording == nullptr) return;
    for (const VaryingTerm& term : terms_.varying) {
      if (std::find(ask_.varying.begin(), ask_.varying.end(), term.group) == ask_.varying.end()) continue;
      std::vector<std::size_t> places;
      std::vector<Share> amounts;
      for (std::size_t i = 0; i < entries_.size(); ++i) {
        if (!entries_[i].all([&](const IngredientFacts& one) { return one.varying_group == term.group; })) continue;
        places.push_back(i);
        amounts.push_back(entries_[i].listed.ingoing_mg);
      }
      if (places.size() < 2 || one_predominates(amounts)) continue;
      const std::string name = term.words + " " + wording->text;
      RunBuilder runs;
      runs.plain(name);
      in_brackets(runs, places);
      join(places, name, runs.take(), term.cited);
    }
  }

  void in_brackets(RunBuilder& runs, const std::vector<std::size_t>& places) const {
    runs.plain(" (");
    for (const std::size_t place : places) {
      if (place != places.front()) runs.plain(", ");
      runs.runs(entries_[place].listed.runs);
    }
    runs.plain(")");
  }

  /// Two entries that stand in for each other, where each is small, no additive and no allergen: at least one of them is in it.
  void stand_in_for_each_other() {
    if (!terms_.and_or) return;
    std::set<std::string> groups;
    for (const Entry& entry : entries_) {
      if (entry.food != nullptr && !entry.food->substitutes.empty()) groups.insert(entry.food->substitutes);
    }
    for (const std::string& group : groups) {
      std::vector<std::size_t> places;
      for (std::size_t i = 0; i < entries_.size(); ++i) {
        const Entry& entry = entries_[i];
        if (!entry.all([&](const IngredientFacts& one) { return one.substitutes == group; })) continue;
        if (entry.is_additive() || !entry.brings.empty() || share_of(entry.listed.name) >= terms_.and_or->below) continue;
        places.push_back(i);
      }
      if (places.size() != 2) continue;  // the words are for two: of more, nobody could tell how many are in it
      const AroundNames words = around_names(terms_.and_or->wording);
      RunBuilder runs;
      runs.plain(words.before);
      std::string name;
      for (const std::size_t place : places) {
        if (place != places.front()) runs.plain(" " + terms_.and_or->joint + " ");
        name += (name.empty() ? "" : " " + terms_.and_or->joint + " ") + entries_[place].listed.name;
        runs.runs(entries_[place].listed.runs);
      }
      runs.plain(words.after);
      join(places, name, runs.take(), terms_.and_or->cited);
    }
  }

  void collect_kinds() {
    for (const CollectiveTerm& term : terms_.collectives) {
      std::vector<std::size_t> places;
      if (term.up_to && share_of_kind(term.kind) > *term.up_to) continue;  // those that stand apart count too
      for (std::size_t i = 0; i < entries_.size(); ++i) {
        const Entry& entry = entries_[i];
        if (!of_kind(entry, term.kind) || (term.members == "left out" && must_be_read(entry))) continue;
        places.push_back(i);
      }
      if (places.size() < (term.even_one ? 1U : 2U)) continue;
      RunBuilder runs;
      runs.plain(term.words);
      if (term.members == "listed") in_brackets(runs, places);
      join(places, term.words, runs.take(), term.cited);
    }
  }

  void words_before_small_amounts() {
    if (!ask_.small_amounts_last || terms_.any_order_below.wording.empty()) return;
    const auto first = std::find_if(entries_.begin(), entries_.end(), [](const Entry& entry) { return entry.listed.any_order_at_end; });
    if (first == entries_.end()) return;
    const AroundNames words = around_names(terms_.any_order_below.wording);
    RunBuilder before;
    before.plain(words.before);
    before.runs(first->listed.runs);
    first->listed.runs = before.take();
    RunBuilder after;
    after.runs(entries_.back().listed.runs);
    after.plain(words.after);
    entries_.back().listed.runs = after.take();
  }

  const CakeParts& parts_;
  const Composition& made_;
  const ListAsk& ask_;
  const LabelTerms& terms_;
  std::vector<Entry> entries_;
};

}  // namespace

bool is_kind(const IngredientFacts& food, std::string_view kind) {
  return same_words(food.kind, kind) || (kind == "sugar" && food.kind.empty() && food.sweetening == "sugar");
}

bool relief_knows(const ReliefTerm& relief, const IngredientFacts& food) {
  if (food.parts.empty()) return false;
  return std::any_of(relief.compositions.begin(), relief.compositions.end(), [&](const std::string& known) {
    return known == "any" || (!food.fixed_by_law.empty() && same_words(known, food.fixed_by_law)) || is_kind(food, known);
  });
}

bool one_predominates(const std::vector<Share>& amounts) {
  Share total = 0;
  for (const Share& amount : amounts) total += amount;
  return std::any_of(amounts.begin(), amounts.end(), [&](const Share& one) { return one * 2 * amounts.size() > total * 3; });
}

ListAsk ask_for(const CakeParts& parts, const Composition& made, const LabelTerms& terms, std::vector<std::string> declared) {
  ListAsk ask{&terms, std::move(declared), made.finished_mg, {}, added_water(parts, made, terms).of_finished, true, {}};
  for (const Together& together : put_together(parts, made))
    ask.whole.push_back({&parts.lots[together.sample].ingredient, std::max(together.ranks_mg, together.share_mg) / made.finished_mg});
  return ask;
}

std::vector<ListedIngredient> listed(const CakeParts& parts, const Composition& made, const ListAsk& ask) {
  return List{parts, made, ask}.draw_up();
}

}  // namespace tierproof
