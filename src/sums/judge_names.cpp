#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <utility>

#include "tierproof/sums/name_hints.h"
#include "words.h"

namespace tierproof {
namespace {

constexpr std::string_view control = "names-agree";

bool member_of(std::string_view key, std::string_view group) {
  return key == group || (key.starts_with(group) && key.size() > group.size() && key[group.size()] == ':');
}

/// What the law calls an allergen: its word, or the heading itself.
std::string word_of(const LabelTerms& terms, const std::string& key) {
  const AllergenTerm* term = terms.allergen(key);
  return term == nullptr ? key : term->word;
}

/// One thing that a name says and a specification does not.
struct Against {
  Hinted hinted;
  std::string word;
  Presence presence = Presence::unknown;  ///< what the specification says, the nearest to *contains* in a group
  bool stated = false;                    ///< whether it says anything
  std::string evidence;                   ///< of an absence
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

std::vector<Against> compare(std::string_view name, const std::vector<AllergenStatement>& statements, const NameHints& hints,
                             const LabelTerms& terms) {
  std::vector<Against> found;
  const NameHint hint = hint_under(hint_of(name, hints), terms);
  for (const auto& one : hint.contains) {
    Against against{one, word_of(terms, one.allergen), Presence::unknown, false, ""};
    for (const auto& statement : statements) {
      if (!member_of(statement.allergen, one.allergen) && !member_of(one.allergen, statement.allergen)) continue;
      if (against.stated && nearness(statement.presence) <= nearness(against.presence)) continue;
      against.stated = true;
      against.presence = statement.presence;
      against.evidence = statement.evidence;
    }
    const bool told = std::any_of(found.begin(), found.end(), [&](const Against& other) { return other.hinted.allergen == one.allergen; });
    if (against.presence != Presence::contains && !told) found.push_back(std::move(against));
  }
  return found;
}

std::string sentence(std::string_view name, const Against& against) {
  const std::string says = against.presence == Presence::absent        ? "the specification calls it absent"
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
      if (pack_statement(lot.ingredient, term.key).presence == Presence::contains) statements.push_back({term.key, Presence::contains, ""});
    }
    std::vector<std::string> told;
    std::vector<std::string> words;
    for (const auto& against : compare(name_with_parts(lot.ingredient), statements, hints, terms)) {
      const std::string line = sentence(lot.ingredient.label_name, against);
      if (against.presence == Presence::absent && speaks_of(against.evidence, against, terms)) {
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
        "read the pack again, or ask the supplier of {}; then record a specification that says so, or what it rests on "
        "that there is none",
        fmt::join(words, ", "));
    finding.limit = "what a name speaks of is contained, or its absence is explained";
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
  agrees.message = stands.empty() ? "no name of a pack or of a part speaks of an allergen that its specification does not call contained"
                                  : fmt::format("each absence that goes against a name is explained: {}", fmt::join(stands, "; "));
  agrees.limit = "what a name speaks of is contained, or its absence is explained";
  return {agrees};
}

}  // namespace tierproof
