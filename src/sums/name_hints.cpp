#include "tierproof/sums/name_hints.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "name_text.h"
#include "words.h"

namespace tierproof {
namespace {

constexpr std::array<std::pair<NameMeaning, std::string_view>, 12> meaning_terms{{{NameMeaning::contains, "contains"},
                                                                                  {NameMeaning::usually, "usually"},
                                                                                  {NameMeaning::ask, "ask"},
                                                                                  {NameMeaning::source, "source"},
                                                                                  {NameMeaning::exempt, "exempt"},
                                                                                  {NameMeaning::exempts, "exempts"},
                                                                                  {NameMeaning::softens, "softens"},
                                                                                  {NameMeaning::harmless, "harmless"},
                                                                                  {NameMeaning::neutral, "neutral"},
                                                                                  {NameMeaning::claim, "claim"},
                                                                                  {NameMeaning::doubts_before, "doubts before"},
                                                                                  {NameMeaning::doubts_after, "doubts after"}}};

std::string joined(const std::vector<std::string>& words, std::size_t from, std::size_t to) {
  std::string all;
  for (std::size_t i = from; i < to; ++i) all += words[i];
  return all;
}
std::string spaced(const std::vector<std::string>& words, std::size_t from, std::size_t to) {
  return fmt::format("{}",
                     fmt::join(words.begin() + static_cast<std::ptrdiff_t>(from), words.begin() + static_cast<std::ptrdiff_t>(to), " "));
}

/// A phrase of the vocabulary where it stands in a part.
struct Found {
  const NameWord* word;
  std::string said;
};

/// What a part, or several, come to.
struct Told {
  std::vector<Hinted> contains, ask, exempt;
  std::vector<std::string> unknown;
  std::size_t known = 0;                ///< parts that say something
  std::vector<const NameWord*> claims;  ///< of parts that hold a claim and nothing else
  void take(Told other) {
    const auto move = [](auto& to, auto& from) { to.insert(to.end(), from.begin(), from.end()); };
    move(contains, other.contains);
    move(ask, other.ask);
    move(exempt, other.exempt);
    move(unknown, other.unknown);
    move(claims, other.claims);
    known += other.known;
  }
};

bool names(const std::vector<Hinted>& hinted, std::string_view key) {
  return std::any_of(hinted.begin(), hinted.end(), [&](const Hinted& one) { return one.allergen == key; });
}
bool within_any(std::string_view key, const std::vector<std::string>& keys) {
  return std::any_of(keys.begin(), keys.end(), [&](const std::string& other) { return is_within(key, other); });
}
/// Whether one of `hinted` answers what `key` asks: the same key, or a member of the group that is asked about.
bool answered(const std::vector<Hinted>& hinted, const std::string& key) {
  return std::any_of(hinted.begin(), hinted.end(), [&](const Hinted& one) { return is_within(one.allergen, key); });
}

/// `{} glucose syrup` made from `gluten:wheat` is `wheat glucose syrup`.
std::string process_of(std::string process, const std::string& key) {
  if (const auto at = process.find("{}"); at != std::string::npos) process.replace(at, 2, key.substr(key.find(':') + 1));
  return process;
}

class Judge {
 public:
  explicit Judge(const NameHints& hints) : hints_{hints} {}

  /// @param exempting, softening  what the word before the bracket does with bare sources in it
  Told parts(const std::vector<NamePart>& all, const std::vector<const NameWord*>& over = {}) {
    Told told;
    for (const auto& part : all) told.take(one(part, over));
    return told;
  }

 private:
  /// Splits a part at its joining words, but not inside a phrase, and judges each piece with its own brackets.
  Told one(const NamePart& part, const std::vector<const NameWord*>& over) {
    Told told;
    std::vector<Found> found;
    std::vector<std::string> unknown;
    std::size_t bracket = 0;
    const auto close = [&](std::size_t at) {
      std::vector<const NamePart::Bracket*> own;
      while (bracket < part.brackets.size() && part.brackets[bracket].after <= at) own.push_back(&part.brackets[bracket++]);
      if (!found.empty() || !unknown.empty() || !own.empty()) told.take(piece(found, unknown, own, over));
      found.clear();
      unknown.clear();
    };
    for (std::size_t i = 0; i < part.words.size();) {
      const auto [word, length] = longest_at(part, i);
      if (word != nullptr) {
        found.push_back({word, spaced(part.said, i, i + length)});
      } else if (joins_foods(part.words[i])) {
        close(i);
      } else {
        unknown.push_back(part.said[i]);
      }
      i += std::max<std::size_t>(1, length);
    }
    close(part.words.size());
    return told;
  }

  std::pair<const NameWord*, std::size_t> longest_at(const NamePart& part, std::size_t at) const {
    for (std::size_t length = std::min(hints_.longest + 1, part.words.size() - at); length > 0; --length) {
      const auto entry = hints_.words.find(joined(part.words, at, at + length));
      if (entry != hints_.words.end()) return {&entry->second, length};
    }
    return {nullptr, 0};
  }

  void say(std::vector<Hinted>& where, const std::string& key, const std::string& said, const std::string& process = {}) const {
    const auto other = hints_.otherwise.find(key);
    where.push_back({key, said, process, other == hints_.otherwise.end() ? std::vector<std::string>{} : other->second});
  }

  Told piece(const std::vector<Found>& found, const std::vector<std::string>& unknown,
             const std::vector<const NamePart::Bracket*>& brackets, const std::vector<const NameWord*>& over) {
    Told told;
    told.unknown = unknown;
    std::vector<const NameWord*> claims;
    std::vector<const NameWord*> turns = over;  // words that exempt or soften what stands beside them
    bool says = false;
    std::size_t after = found.size();  // the last word that leaves what stands before it open
    bool doubted = false;
    for (std::size_t i = 0; i < found.size(); ++i) {
      const NameMeaning meaning = found[i].word->meaning;
      if (meaning == NameMeaning::claim) claims.push_back(found[i].word);
      if (meaning == NameMeaning::exempts || meaning == NameMeaning::softens) turns.push_back(found[i].word);
      if (meaning == NameMeaning::doubts_before) {
        after = i;
        doubted = true;
      }
      says = says || !(meaning == NameMeaning::neutral || meaning == NameMeaning::claim || meaning == NameMeaning::softens ||
                       meaning == NameMeaning::doubts_before || meaning == NameMeaning::doubts_after);
    }
    Told inside;
    for (const auto* bracket : brackets) inside.take(parts(bracket->parts, turns));
    for (const auto* claim : inside.claims) claims.push_back(claim);
    inside.claims.clear();
    const bool claimed = !claims.empty();
    const bool list = inside.unknown.empty() && inside.known >= (claimed ? 1U : 2U);  // all that it is made of
    const auto denied = [&](const std::string& key) {
      return std::any_of(claims.begin(), claims.end(), [&](const NameWord* claim) { return within_any(key, claim->keys); });
    };

    bool from_here = false;  // what follows is in doubt
    for (std::size_t i = 0; i < found.size(); ++i) {
      const NameWord& word = *found[i].word;
      const std::string& said = found[i].said;
      if (word.meaning == NameMeaning::doubts_after) from_here = true;
      if (word.meaning != NameMeaning::contains && word.meaning != NameMeaning::usually) continue;
      for (const auto& key : word.keys) {
        const bool open = from_here || (doubted && i < after);
        const NameWord* turned = nullptr;
        for (const auto* turn : turns) {
          if (within_any(key, turn->keys) && (turned == nullptr || turn->meaning == NameMeaning::exempts)) turned = turn;
        }
        const bool soft = word.meaning == NameMeaning::usually;
        if (turned != nullptr && turned->meaning == NameMeaning::exempts && soft) {
          say(told.ask, key, said);  // a made food beside it, not what it was made from: `glucose biscuit`
        } else if (turned != nullptr && turned->meaning == NameMeaning::exempts) {
          say(told.exempt, key, said, process_of(turned->process, key));
        } else if (soft && list && claimed && denied(key) && !answered(inside.contains, key)) {
          continue;  // the list of its parts decides
        } else if (open || turned != nullptr || (soft && denied(key)) || (soft && list && !answered(inside.contains, key))) {
          say(told.ask, key, said);
        } else {
          say(told.contains, key, said);
        }
      }
    }
    for (const auto& [word, said] : found) {
      if (word->meaning != NameMeaning::softens || says || inside.known > 0) continue;
      for (const auto& key : word->keys) say(told.ask, key, said);  // oil, and nobody says of what
    }
    says = says || std::any_of(found.begin(), found.end(), [](const Found& one) { return one.word->meaning == NameMeaning::softens; });
    const bool one_source = inside.unknown.empty() && inside.known == 1;
    for (const auto& [word, said] : found) {
      if (word->meaning == NameMeaning::exempt) {
        for (const auto& key : word->keys) say(told.exempt, key, said, word->process);
      }
      if (word->meaning != NameMeaning::ask && word->meaning != NameMeaning::source) continue;
      if (list) continue;
      if (word->meaning == NameMeaning::source) {
        const bool told_here = std::any_of(word->keys.begin(), word->keys.end(),
                                           [&](const auto& key) { return answered(told.contains, key) || answered(told.exempt, key); });
        if (told_here || one_source) continue;
      }
      for (const auto& key : word->keys) say(told.ask, key, said);
      if (word->keys.empty()) say(told.ask, "", said);
    }
    if (claimed && !list && says) {
      for (const auto* claim : claims) {
        for (const auto& key : claim->keys) {
          if (!answered(told.contains, key) && !names(told.ask, key)) say(told.ask, key, claim->phrase);
        }
        if (claim->keys.empty() && told.contains.empty()) say(told.ask, "", claim->phrase);
      }
    }
    if (says) ++told.known;
    if (claimed && !says) told.claims = claims;
    const std::size_t known = told.known;
    told.take(std::move(inside));
    if (says) told.known = known;  // its brackets are part of it
    return told;
  }

  const NameHints& hints_;
};

/// Sorts, each allergen and its words once; what is contained or asked about in a group needs no second question.
void tidy(std::vector<Hinted>& hinted) {
  std::vector<Hinted> once;
  for (auto& one : hinted) {
    if (std::find(once.begin(), once.end(), one) == once.end()) once.push_back(std::move(one));
  }
  hinted = std::move(once);
}

void settle(NameHint& hint) {
  tidy(hint.contains);
  tidy(hint.ask);
  tidy(hint.exempt);
  std::erase_if(hint.ask, [&](const Hinted& one) {
    return !one.allergen.empty() &&
           std::any_of(hint.contains.begin(), hint.contains.end(), [&](const Hinted& sure) { return sure.allergen == one.allergen; });
  });
  hint.verdict = !hint.contains.empty() ? HintVerdict::contains
                 : hint.asks()          ? HintVerdict::ask
                 : !hint.exempt.empty() ? HintVerdict::exempt
                                        : HintVerdict::none;
}

}  // namespace

bool is_within(std::string_view key, std::string_view other) {
  return key == other || (key.starts_with(other) && key.size() > other.size() && key[other.size()] == ':');
}

std::string_view term_of(NameMeaning meaning) {
  for (const auto& [known, term] : meaning_terms) {
    if (known == meaning) return term;
  }
  return "";
}
std::optional<NameMeaning> name_meaning(std::string_view term) {
  for (const auto& [meaning, known] : meaning_terms) {
    if (known == term) return meaning;
  }
  return std::nullopt;
}
std::string_view term_of(HintVerdict verdict) {
  switch (verdict) {
    case HintVerdict::contains:
      return "contains";
    case HintVerdict::ask:
      return "ask";
    case HintVerdict::exempt:
      return "exempt";
    case HintVerdict::none:
      return "none";
  }
  return "";
}

bool NameHint::contains_key(std::string_view key) const { return names(contains, key); }
bool NameHint::asks_for(std::string_view key) const { return names(ask, key); }

Result<NameHints> name_hints_of(const std::vector<NameWord>& words, std::map<std::string, std::vector<std::string>> otherwise) {
  NameHints hints;
  hints.otherwise = std::move(otherwise);
  Refusals refusals;
  for (const auto& word : words) {
    const auto parts = name_parts(word.phrase);
    if (parts.size() != 1 || parts.front().words.empty() || !parts.front().brackets.empty()) {
      refusals.push_back({word.where, 0, "phrase", fmt::format("\"{}\" is no word or phrase", word.phrase),
                          "write words alone, without commas or brackets"});
      continue;
    }
    const auto& folded = parts.front().words;
    const auto [entry, fresh] = hints.words.emplace(joined(folded, 0, folded.size()), word);
    hints.longest = std::max(hints.longest, folded.size());
    const NameWord& known = entry->second;
    if (!fresh && (known.meaning != word.meaning || known.keys != word.keys || known.process != word.process)) {
      refusals.push_back({word.where, 0, "phrase",
                          fmt::format("\"{}\" says something else in {} (\"{}\")", word.phrase, known.where, known.phrase),
                          "keep one of the two"});
    }
  }
  if (!refusals.empty()) return refusals;
  return hints;
}

NameHint hint_of(std::string_view name, const NameHints& hints) {
  const auto parts = name_parts(name);
  Told told = Judge{hints}.parts(parts);
  NameHint hint{HintVerdict::ask, std::move(told.contains), std::move(told.ask), std::move(told.exempt), std::move(told.unknown)};
  for (const auto* claim : told.claims) {
    for (const auto& key : claim->keys) hint.ask.push_back({key, claim->phrase, "", {}});
  }
  if (told.known == 0 && !hint.asks()) hint.ask.push_back({"", std::string{name}, "", {}});
  settle(hint);
  return hint;
}

NameHint keys_for(const NameHint& hint, const std::vector<std::string>& keys) {
  const auto listed = [&](const std::string& key) {
    return key.empty() || std::any_of(keys.begin(), keys.end(), [&](const std::string& known) { return is_within(known, key); });
  };
  const auto mapped = [&](const std::vector<Hinted>& all) {
    std::vector<Hinted> kept;
    for (const auto& one : all) {
      if (listed(one.allergen)) {
        kept.push_back(one);
        continue;
      }
      for (const auto& other : one.otherwise) {
        if (listed(other)) kept.push_back({other, one.words, one.process, {}});
      }
    }
    return kept;
  };
  NameHint there{hint.verdict, mapped(hint.contains), mapped(hint.ask), mapped(hint.exempt), hint.unknown_words};
  settle(there);
  return there;
}

NameHint hint_under(const NameHint& hint, const LabelTerms& terms) {
  std::vector<std::string> keys;
  for (const auto& term : terms.allergens) keys.push_back(term.key);
  NameHint there = keys_for(hint, keys);
  std::vector<Hinted> still;
  for (auto& one : there.exempt) {
    const auto exempted = [&](const auto& fits) {
      return std::any_of(terms.exemptions.begin(), terms.exemptions.end(),
                         [&](const ExemptionTerm& term) { return is_within(term.allergen, one.allergen) && fits(term.process); });
    };
    if (exempted([&](const std::string& process) { return process == one.process; })) {
      still.push_back(one);
    } else if (exempted([&](const std::string& process) { return has_words(process, one.process); })) {
      there.ask.push_back(one);  // exempt on a condition that a name does not tell
    } else {
      there.contains.push_back(one);
    }
  }
  there.exempt = std::move(still);
  settle(there);
  return there;
}

}  // namespace tierproof
