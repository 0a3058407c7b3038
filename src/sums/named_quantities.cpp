#include "tierproof/sums/named_quantities.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <utility>

#include "label_runs.h"
#include "part_walk.h"
#include "tierproof/sums/languages.h"
#include "words.h"

namespace tierproof {
namespace {

/// Words of a name that name no ingredient: the food itself, and what joins words.
constexpr std::array<std::string_view, 14> passed_over = {"a",  "an", "and", "cake", "cakes", "for",  "from",
                                                          "in", "of", "on",  "or",   "the",   "with", "without"};

bool is_passed_over(const std::string& word) { return std::find(passed_over.begin(), passed_over.end(), word) != passed_over.end(); }

/// `flavouring`, `flavored`: in either spelling.
bool speaks_of_flavour(const std::string& word) { return word.starts_with("flavo"); }

/// A food, or a part of one, that a word may bring out.
struct Candidate {
  std::size_t lot = 0;
  std::string name;
  std::string within;         ///< the ingredient that it is a part of; empty for an ingredient
  std::optional<Share> used;  ///< mg; nothing when its share is not given
  bool flavouring = false;
  bool volatile_food = false;
  std::vector<std::string> words;
  std::vector<std::string> sorts;  ///< single words for what it is one of, `nuts`, `fruit`
};

/// Words that stand together in the name, from `at` on.
struct WordRun {
  std::size_t at = 0;
  std::size_t length = 0;
  friend auto operator<=>(const WordRun&, const WordRun&) = default;
};

/// The words for several allergens that one of `keys` is among, where the word names a sort of foods: `nuts`.
std::vector<std::string> sorts_of(const std::vector<std::string>& keys, const LabelTerms& terms) {
  std::vector<std::string> sorts;
  for (const GroupAnswerTerm& answer : terms.group_answers) {
    const std::vector<std::string> all = terms.keys_of(answer);
    if (answer.ask_which && std::find_first_of(keys.begin(), keys.end(), all.begin(), all.end()) != keys.end())
      sorts.push_back(answer.word);
  }
  return sorts;
}

/// Whether a word of a name is one of the `sorts`.
bool is_sort(const std::vector<std::string>& sorts, const std::string& word) {
  return std::any_of(sorts.begin(), sorts.end(), [&](const std::string& sort) { return same_but_for_number(sort, word); });
}

std::vector<Candidate> candidates_of(const CakeParts& parts, const LotAmount& amount, const LabelTerms& terms) {
  const NamedQuantityTerm& term = *terms.named_quantities;
  const IngredientFacts& food = parts.lots[amount.lot].ingredient;
  const std::string& name = printed_name(food);
  const bool flavours =
      !food.kind.empty() && std::find(term.flavour_kinds.begin(), term.flavour_kinds.end(), food.kind) != term.flavour_kinds.end();
  const bool evaporates = amount.remaining_mg < amount.ingoing_mg;
  std::vector<std::string> brings;  // a compound food is not itself what one of its parts is
  for (const AllergenStatement& said : food.allergens) {
    if (food.parts.empty() && said.presence == Presence::contains) brings.push_back(said.allergen);
  }
  std::vector<Candidate> all = {
      {amount.lot, name, "", amount.remaining_mg, flavours, evaporates, words_of_name(name), sorts_of(brings, terms)}};
  if (!food.varying_group.empty()) all.front().sorts.push_back(food.varying_group);
  if (food.kind == "fruit") all.front().sorts.push_back(food.kind);
  each_part(food.parts, [&](const DeclaredPart& part, const std::optional<Share>& of_whole) {
    Candidate one{
        amount.lot, part.name, name, std::nullopt, flavours, evaporates, words_of_name(part.name), sorts_of(part.allergens, terms)};
    if (of_whole) one.used = *of_whole * amount.remaining_mg;
    one.flavouring = one.flavouring || std::any_of(one.words.begin(), one.words.end(), speaks_of_flavour);
    all.push_back(std::move(one));
  });
  return all;
}

std::vector<std::string> words_in(const std::vector<std::string>& name, const WordRun& span) {
  const auto from = name.begin() + static_cast<std::ptrdiff_t>(span.at);
  return {from, from + static_cast<std::ptrdiff_t>(span.length)};
}

std::string joined(const std::vector<std::string>& words) { return fmt::format("{}", fmt::join(words, " ")); }

/// The longest runs of the name's words that stand together in the words of `one`, or a word for its sort, one for each place in the name
/// where one begins.
std::vector<WordRun> spans_in(const std::vector<std::string>& name, const Candidate& one) {
  std::vector<WordRun> spans;
  for (std::size_t at = 0; at < name.size(); ++at) {
    if (is_passed_over(name[at])) continue;
    WordRun longest{at, 0};
    for (std::size_t length = 1; at + length <= name.size() && !is_passed_over(name[at + length - 1]); ++length) {
      if (find_phrase(one.words, words_in(name, {at, length})) == one.words.size()) break;
      longest.length = length;
    }
    if (longest.length == 0 && is_sort(one.sorts, name[at])) longest.length = 1;
    if (longest.length > 0) spans.push_back(longest);
  }
  return spans;
}

/// What one word, or several together, bring out.
struct Brought {
  std::string word;
  std::vector<Candidate> real;
  std::vector<Candidate> flavourings;
  bool says_flavoured = false;
};

class Search {
 public:
  Search(const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
    for (const LotAmount& amount : made.lots) by_lot_.push_back(candidates_of(parts, amount, terms));
  }

  void by_name(const std::string& name) {
    const std::vector<std::string> words = words_of_name(name);
    std::map<WordRun, std::size_t> uses;  // how many candidates have it
    std::set<std::size_t> heads;          // last word of several that stand together
    for (const auto& all : by_lot_) {
      for (const Candidate& one : all) {
        for (const WordRun& span : spans_in(words, one)) {
          ++uses[span];
          if (span.length > 1) heads.insert(span.at + span.length - 1);
        }
      }
    }
    std::map<WordRun, Brought> found;
    for (const auto& all : by_lot_) {
      bool whole = false;
      for (const Candidate& one : all) {
        if (!one.within.empty() && whole) break;  // the ingredient itself is counted, with all that is in it
        std::optional<WordRun> best;
        bool only_head = false;
        for (const WordRun& span : spans_in(words, one)) {
          if (span.length == 1 && heads.contains(span.at)) {
            only_head = true;
            continue;
          }
          const auto better = [&](const WordRun& other) {
            if (span.length != other.length) return span.length > other.length;
            return uses[span] != uses[other] ? uses[span] < uses[other] : span.at < other.at;
          };
          if (!best || better(*best)) best = span;
        }
        if (!best) {
          if (only_head)
            cautions_.push_back(
                fmt::format("{} shares a word with the name and is not counted: look whether the name speaks of it", one.name));
          continue;
        }
        whole = whole || one.within.empty();
        Brought& group = found[*best];
        group.word = joined(words_in(words, *best));
        const std::size_t next = best->at + best->length;
        group.says_flavoured = next < words.size() && speaks_of_flavour(words[next]);
        put(group, one);
      }
    }
    for (auto& [span, group] : found) brought_.push_back(std::move(group));
  }

  void by_shown(const std::string& shown) {
    Brought group;
    group.word = shown;
    const std::vector<std::string> phrase = words_of_name(shown);
    bool known = false;  // all of it is brought out already
    for (const auto& all : by_lot_) {
      for (const Candidate& one : all) {
        const bool by_sort = phrase.size() == 1 && is_sort(one.sorts, phrase.front());
        if (find_phrase(one.words, phrase) == one.words.size() && !by_sort) continue;
        const bool before = std::any_of(brought_.begin(), brought_.end(), [&](const Brought& other) {
          return std::any_of(other.real.begin(), other.real.end(), [&](const Candidate& same) { return same.lot == one.lot; });
        });
        known = known || before;
        if (!before) put(group, one);
        if (one.within.empty()) break;
      }
    }
    if (known && group.real.empty()) return;
    brought_.push_back(std::move(group));
    must_be_there_.insert(brought_.size() - 1);
  }

  const std::vector<Brought>& brought() const { return brought_; }
  bool must_be_there(std::size_t group) const { return must_be_there_.contains(group); }
  std::vector<std::string>& cautions() { return cautions_; }

 private:
  static void put(Brought& group, const Candidate& one) { (one.flavouring ? group.flavourings : group.real).push_back(one); }

  std::vector<std::vector<Candidate>> by_lot_;
  std::vector<Brought> brought_;
  std::set<std::size_t> must_be_there_;
  std::vector<std::string> cautions_;
};

/// Adds up what is brought out by ingredient; cautions for what cannot be counted.
NamedQuantity add_up(const Brought& group, std::vector<std::string>& cautions) {
  NamedQuantity sum;
  sum.word = group.word;
  std::map<std::string, Share> by_name;
  for (const Candidate& one : group.real) {
    if (!one.used) {
      cautions.push_back(fmt::format("{} in {}: the pack gives no share, so it is not counted", one.name, one.within));
      continue;
    }
    if (one.volatile_food) {
      cautions.push_back(
          fmt::format("{}: counted is what is left of it; some count what was put in", one.within.empty() ? one.name : one.within));
    }
    by_name[one.name] += *one.used;
    sum.lots.push_back(one.lot);
    sum.from.emplace_back(one.lot, one.name);
  }
  for (const auto& [name, used] : by_name) {
    if (used > 0) sum.members.push_back({name, used});
  }
  std::stable_sort(sum.members.begin(), sum.members.end(), [](const auto& a, const auto& b) { return a.used_mg > b.used_mg; });
  std::sort(sum.lots.begin(), sum.lots.end());
  sum.lots.erase(std::unique(sum.lots.begin(), sum.lots.end()), sum.lots.end());
  sum.name = sum.members.size() == 1 ? sum.members.front().name : sum.word;
  return sum;
}

std::optional<std::size_t> entry_of(const Declaration& declared, const NamedQuantity& sum, const Brought& group) {
  if (std::any_of(group.real.begin(), group.real.end(), [](const Candidate& one) { return !one.within.empty(); })) return std::nullopt;
  for (std::size_t i = 0; i < declared.ingredients.size(); ++i) {
    std::vector<std::size_t> lots = declared.ingredients[i].lots;
    std::sort(lots.begin(), lots.end());
    if (lots == sum.lots) return i;
  }
  return std::nullopt;
}

/// The name in one more language of what goes by `name` among `parts`; empty: there is none.
std::string name_among(const std::vector<DeclaredPart>& parts, const std::vector<DeclaredPart>& names, const std::string& name) {
  if (parts.size() != names.size()) return {};
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].name == name) return names[i].name;
    if (std::string found = name_among(parts[i].parts, names[i].parts, name); !found.empty()) return found;
  }
  return {};
}

/// The one name in one more language that all of `from` goes by there, of a member or of every one; empty: there is none, or several.
std::string common_name(const NamedQuantity& of, const std::string& member, const CakeParts& parts, const std::string& language) {
  std::string common;
  for (const auto& [lot, name] : of.from) {
    if (!member.empty() && name != member) continue;
    const IngredientFacts& food = parts.lots[lot].ingredient;
    const auto there = std::find_if(food.other_languages.begin(), food.other_languages.end(),
                                    [&](const IngredientFacts::InLanguage& words) { return words.language == language; });
    if (there == food.other_languages.end()) return {};
    const std::string told = name == printed_name(food) ? there->label_name : name_among(food.parts, there->parts, name);
    if (told.empty() || (!common.empty() && told != common)) return {};
    common = told;
  }
  return common;
}

std::vector<UsedAmount> amounts_of(const std::vector<Candidate>& all) {
  std::vector<UsedAmount> amounts;
  for (const Candidate& one : all) amounts.push_back({one.name, one.used.value_or(1)});  // how much does not matter here
  return amounts;
}

}  // namespace

Result<NamedQuantities> named_quantities(const CakeParts& parts, const Composition& made, const Declaration& declared,
                                         const LabelTerms& terms, const std::string& name, const std::vector<std::string>& shows) {
  NamedQuantities result;
  if (!terms.named_quantities) return result;
  const NamedQuantityTerm& term = *terms.named_quantities;
  result.cited = term.cited;
  Search search{parts, made, terms};
  search.by_name(name);
  for (const std::string& shown : shows) search.by_shown(shown);
  result.cautions = search.cautions();
  std::vector<UsedAmount> used;
  for (std::size_t i = 0; i < search.brought().size(); ++i) {
    const Brought& group = search.brought()[i];
    if (group.real.empty() && group.flavourings.empty() && search.must_be_there(i)) {
      result.cautions.push_back(
          fmt::format("the label shows {}, and nothing in the cake brings it: it misleads; change what is shown", group.word));
    } else if (group.real.empty() && !group.flavourings.empty() && !group.says_flavoured) {
      result.cautions.push_back(judge_named_ingredient({group.word, {}, amounts_of(group.flavourings)}).caution);
    }
    NamedQuantity sum = add_up(group, result.cautions);
    if (sum.members.empty()) continue;
    sum.entry = entry_of(declared, sum, group);
    used.push_back(as_category(sum.name, sum.members));
    result.shown.push_back(std::move(sum));
  }
  std::sort(result.cautions.begin(), result.cautions.end());
  result.cautions.erase(std::unique(result.cautions.begin(), result.cautions.end()), result.cautions.end());
  const Result<ShownQuantities> shown = show_quantities(used, made.ingoing_mg, made.finished_mg, made.lost_mg > 0, term);
  if (!shown) return shown.error();
  result.per_100g = shown->per_100g;
  result.of_finished = shown->of_finished;
  for (std::size_t i = 0; i < shown->shown.size(); ++i) {
    result.shown[i].percent = shown->shown[i].percent;
    result.shown[i].text = shown->shown[i].text;
  }
  return result;
}

QuantitiesIn quantities_in(const NamedQuantities& named, const CakeParts& parts, const LabelTerms& terms, const std::string& language,
                           const std::vector<std::pair<std::string, std::string>>& words) {
  QuantitiesIn told;
  const LabelTerms there = in_language(terms, language);
  if (!there.named_quantities) return told;
  const auto figure = [&](const std::string& name, const Share& percent) {
    return fmt::format("{} {}", name, quantity_text(percent, named.per_100g, *there.named_quantities));
  };
  for (const NamedQuantity& one : named.shown) {
    const auto given = std::find_if(words.begin(), words.end(),
                                    [&](const auto& word) { return same_words(word.first, one.word) || same_words(word.first, one.name); });
    const std::string name = given != words.end() ? given->second : common_name(one, "", parts, language);
    if (!name.empty()) {
      told.texts.push_back(figure(name, one.percent));
      continue;
    }
    Share total = 0;
    for (const UsedAmount& member : one.members) total += member.used_mg;
    std::vector<std::string> members;
    for (const UsedAmount& member : one.members) {
      const std::string own = common_name(one, member.name, parts, language);
      if (!own.empty()) members.push_back(figure(own, one.percent * member.used_mg / total));
    }
    if (members.size() == one.members.size()) {
      told.texts.insert(told.texts.end(), members.begin(), members.end());
    } else {
      told.missing.push_back(one.name);
    }
  }
  return told;
}

}  // namespace tierproof
