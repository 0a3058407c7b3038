#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <utility>

#include "exemptions.h"
#include "label_runs.h"
#include "tierproof/sums/additive_text.h"
#include "tierproof/sums/name_hints.h"
#include "words.h"

namespace tierproof {
namespace {

constexpr std::string_view control = "names-agree";
constexpr std::string_view agreement = "what a name speaks of is contained, what it asks about is answered, each by itself";

/// What the law calls an allergen: its word, or the heading itself.
std::string word_of(const LabelTerms& terms, const std::string& key) {
  const AllergenTerm* term = terms.allergen(key);
  return term == nullptr ? key : term->word;
}

/// One thing that a name says, or makes somebody ask, and a specification does not answer.
struct Against {
  Hinted hinted;
  std::string word;
  bool asked = false;                     ///< the name only makes somebody ask
  Presence presence = Presence::unknown;  ///< what the specification says, the nearest to *contains* in a group
  bool stated = false;                    ///< whether it says anything
  bool by_itself = false;                 ///< of an absence: said of this allergen by itself
  std::string evidence;                   ///< of an absence
  std::string process;                    ///< of what is contained: it is there as nothing but an exempt product, by the specification
};

bool speaks_of(const std::string& evidence, const Against& against, const LabelTerms& terms) {
  if (has_words(evidence, against.word) || has_words(evidence, against.hinted.words)) return true;
  const AllergenTerm* term = terms.allergen(against.hinted.allergen);
  return term != nullptr &&
         std::any_of(term->names.begin(), term->names.end(), [&](const std::string& name) { return has_words(evidence, name); });
}

/// How near a presence comes to what the name says.
int nearness(Presence presence) {
  switch (presence) {
    case Presence::contains:
      return 3;
    case Presence::may_contain:
      return 2;
    case Presence::unknown:
      return 1;
    case Presence::absent:
      return 0;
  }
  return 0;
}

bool is_exempted(const AllergenStatement& statement, const LabelTerms& terms) {
  return std::any_of(terms.exemptions.begin(), terms.exemptions.end(), [&](const ExemptionTerm& term) {
    return term.allergen == statement.allergen && !statement.process.empty() && same_words(term.process, statement.process);
  });
}

/// What the statements say of what a name speaks of or asks about.
Against answer_to(const Hinted& hinted, const std::vector<AllergenStatement>& statements, const LabelTerms& terms) {
  Against against;
  against.hinted = hinted;
  against.word = word_of(terms, hinted.allergen);
  against.by_itself = true;
  bool as_itself = false;
  for (const auto& statement : statements) {
    if (!is_within(statement.allergen, hinted.allergen) && !is_within(hinted.allergen, statement.allergen)) continue;
    against.by_itself = against.by_itself && statement.presence == Presence::absent && statement.by_itself && !statement.evidence.empty();
    if (statement.presence == Presence::contains) {
      const bool otherwise = is_exempted(statement, terms) && !is_of_process(hinted.words, statement.process);
      as_itself = as_itself || !otherwise;
      against.process = otherwise ? statement.process : against.process;
    }
    if (against.stated && nearness(statement.presence) <= nearness(against.presence)) continue;
    against.stated = true;
    against.presence = statement.presence;
    against.evidence = statement.evidence;
  }
  if (as_itself) against.process.clear();
  const auto says_of_it = [&](const AllergenTerm& term) {
    return std::any_of(statements.begin(), statements.end(), [&](const auto& one) { return is_within(term.key, one.allergen); });
  };
  against.by_itself =
      against.by_itself && against.stated && std::all_of(terms.allergens.begin(), terms.allergens.end(), [&](const AllergenTerm& term) {
        return !is_within(term.key, hinted.allergen) || says_of_it(term);  // of a group, each member
      });
  return against;
}

/// What an additive makes somebody ask under the rules in force, by the flags of its row, unless the vocabulary of names answers one of
/// what a flag asks about: `soya lecithin` is none of eggs.
void ask_by_additives(NameHint& hint, std::string_view name, const LabelTerms& terms) {
  struct Asking {
    std::string_view flag;
    std::vector<std::string> keys;
  };
  static const std::array<Asking, 4> all = {
      {{"ask-sulphite", {"sulphites"}}, {"ask-soy-egg", {"soybeans", "eggs"}}, {"ask-soy", {"soybeans"}}, {"ask-gluten", {"gluten"}}}};
  for (const AdditiveInText& additive : read_additive_text(terms, name).found) {
    const AdditiveTerm* row = find_additive_by_text(terms, additive.number);
    for (const Asking& asking : all) {
      const auto known = [&](const std::vector<Hinted>& told) {
        return std::any_of(told.begin(), told.end(), [&](const Hinted& one) {
          return std::any_of(asking.keys.begin(), asking.keys.end(), [&](const auto& key) { return is_within(one.allergen, key); });
        });
      };
      if (!has_flag(row, asking.flag) || known(hint.contains) || known(hint.ask) || known(hint.exempt)) continue;
      for (const auto& key : asking.keys) hint.ask.push_back({key, additive.words.empty() ? additive.number : additive.words, "", {}});
    }
  }
}

std::vector<Against> compare(std::string_view name, const std::vector<AllergenStatement>& statements, const NameHints& hints,
                             const LabelTerms& terms) {
  std::vector<Against> found;
  NameHint hint = hint_under(hint_of(name, hints), terms);
  ask_by_additives(hint, name, terms);
  const auto told = [&](const Hinted& one) {
    return std::any_of(found.begin(), found.end(), [&](const Against& other) { return other.hinted.allergen == one.allergen; });
  };
  for (const auto& one : hint.contains) {
    Against against = answer_to(one, statements, terms);
    const bool agrees = against.presence == Presence::contains && against.process.empty();
    if (!agrees && !told(one)) found.push_back(std::move(against));
  }
  for (const auto& one : hint.ask) {
    if (one.allergen.empty() || told(one)) continue;  // what asks for the whole specification is answered by every line of it
    Against against = answer_to(one, statements, terms);
    against.asked = true;
    const bool answered = against.presence == Presence::contains || against.presence == Presence::may_contain || against.by_itself;
    if (!answered) found.push_back(std::move(against));
  }
  return found;
}

std::string sentence(std::string_view name, const Against& against) {
  if (against.asked) {
    const std::string says = against.presence == Presence::absent ? "the specification answers for it only together with all others"
                                                                  : "the specification does not say whether it is there";
    return fmt::format("\"{}\": \"{}\" may be made with {}, and {}", name, against.hinted.words, against.word, says);
  }
  const std::string says = !against.process.empty()                    ? fmt::format("the specification has it only as {}", against.process)
                           : against.presence == Presence::absent      ? "the specification calls it absent"
                           : against.presence == Presence::may_contain ? "the specification only says that it may be there"
                                                                       : "the specification does not say whether it is there";
  return fmt::format("\"{}\": \"{}\" speaks of {}, and {}", name, against.hinted.words, against.word, says);
}

void add_parts(const std::vector<DeclaredPart>& parts, std::string& text) {
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) text += ", ";
    text += parts[i].name;
    if (!parts[i].additive.empty()) text += " " + parts[i].additive;
    if (parts[i].parts.empty()) continue;
    text += " (";
    add_parts(parts[i].parts, text);
    text += ")";
  }
}

}  // namespace

std::string name_with_parts(const IngredientFacts& food) {
  std::string text = food.label_name;
  if (!food.additive.empty()) text += " " + food.additive;
  if (food.parts.empty()) return text;
  text += " (";
  add_parts(food.parts, text);
  return text + ")";
}

std::vector<std::string> hint_complaints(std::string_view name, const std::vector<AllergenStatement>& statements, const NameHints& hints,
                                         const LabelTerms& terms) {
  std::vector<std::string> sentences;
  for (const auto& against : compare(name, statements, hints, terms)) sentences.push_back(sentence(name, against));
  return sentences;
}

std::vector<Finding> judge_names(const CakeParts& parts, const Composition& made, const LabelTerms& terms, const NameHints& hints) {
  std::vector<Finding> findings;
  std::vector<std::string> stands;
  for (const auto& amount : made.lots) {
    const LotFacts& lot = parts.lots[amount.lot];
    std::vector<AllergenStatement> statements = lot.ingredient.allergens;
    for (const auto& term : terms.allergens) {  // a part that brings it is a statement too
      const bool said = std::any_of(statements.begin(), statements.end(), [&](const AllergenStatement& one) {
        return one.allergen == term.key && one.presence == Presence::contains;
      });
      if (!said && pack_statement(lot.ingredient, term.key).presence == Presence::contains)
        statements.push_back({term.key, Presence::contains, ""});
    }
    std::vector<std::string> told;
    std::vector<std::string> words;
    for (const auto& against : compare(name_with_parts(lot.ingredient), statements, hints, terms)) {
      const std::string line = sentence(lot.ingredient.label_name, against);
      if (against.presence == Presence::absent && against.by_itself && speaks_of(against.evidence, against, terms)) {
        stands.push_back(fmt::format("{}, on this: {}", line, against.evidence));
      } else {
        told.push_back(line);
        words.push_back(against.word);
      }
    }
    if (told.empty()) continue;
    Finding finding;
    finding.control = control;
    finding.verdict = Verdict::not_shown;
    finding.stop = Stop::needs_person;
    finding.subject = lot.id.text();
    finding.message = fmt::format("{} (code {}) {}", lot.id.text(), lot.code, fmt::format("{}", fmt::join(told, "; ")));
    finding.remedy = fmt::format(
        "read the pack again, or ask the supplier of {}; then record it as contained, as possible, or by itself as absent, with what that "
        "rests on",
        fmt::join(words, ", "));
    finding.limit = agreement;
    for (const auto& path : amount.paths) finding.paths.push_back(path);
    findings.push_back(std::move(finding));
  }
  std::sort(findings.begin(), findings.end(), [](const Finding& a, const Finding& b) { return a.subject < b.subject; });
  if (!findings.empty() && stands.empty()) return findings;
  std::sort(stands.begin(), stands.end());
  stands.erase(std::unique(stands.begin(), stands.end()), stands.end());
  if (!findings.empty()) {
    for (const auto& line : stands) findings.front().evidence += (findings.front().evidence.empty() ? "" : "; ") + line;
    return findings;
  }
  Finding agrees;
  agrees.control = control;
  agrees.verdict = Verdict::shown;
  agrees.stop = Stop::none;
  agrees.subject = made.cake.text();
  agrees.message = stands.empty() ? "every allergen that a name of a pack or of a part speaks of or asks about is answered for by itself"
                                  : fmt::format("each absence that goes against a name is explained: {}", fmt::join(stands, "; "));
  agrees.limit = agreement;
  return {agrees};
}

}  // namespace tierproof
