#include <fmt/format.h>

#include <algorithm>

#include "tierproof/sums/label_terms.h"
#include "tierproof/sums/temperature_terms.h"

namespace tierproof {

std::string cite(const Cited& cited) {
  if (!cited.from_memory) return fmt::format("[{}: {}]", cited.row, cited.clause);
  return fmt::format("[{}: {} (from memory{})]", cited.row, cited.clause, cited.confirmed.empty() ? "" : ", confirmed: " + cited.confirmed);
}

const NoNumberTerm* TemperatureTerms::no_number(std::string_view about) const {
  const auto found = std::find_if(no_numbers.begin(), no_numbers.end(), [&](const NoNumberTerm& term) { return term.about == about; });
  return found == no_numbers.end() ? nullptr : &*found;
}

Span TemperatureTerms::longest_step(std::string_view use) const {
  std::optional<Span> longest;
  for (const GapTerm& gap : gaps) {
    if (gap.use == use) longest = std::min(longest.value_or(gap.longest), gap.longest);
  }
  return longest.value_or(Span{});
}

const Wording* LabelTerms::wording(std::string_view key) const {
  const auto found = std::find_if(wordings.begin(), wordings.end(), [&](const Wording& w) { return w.key == key; });
  return found == wordings.end() ? nullptr : &*found;
}

const AllergenTerm* LabelTerms::allergen(std::string_view key) const {
  const auto found = std::find_if(allergens.begin(), allergens.end(), [&](const AllergenTerm& a) { return a.key == key; });
  return found == allergens.end() ? nullptr : &*found;
}

const GroupAnswerTerm* LabelTerms::group_answer(std::string_view said) const {
  std::string lower{said};
  std::transform(lower.begin(), lower.end(), lower.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  const auto found = std::find_if(group_answers.begin(), group_answers.end(), [&](const GroupAnswerTerm& answer) {
    return answer.word == lower || std::find(answer.names.begin(), answer.names.end(), lower) != answer.names.end();
  });
  return found == group_answers.end() ? nullptr : &*found;
}

std::vector<std::string> LabelTerms::keys_of(const GroupAnswerTerm& answer) const {
  std::vector<std::string> keys;
  for (const auto& term : allergens) {
    const auto names = [&](const std::string& text) { return text == term.key || text == term.group; };
    if (std::any_of(answer.counts_as.begin(), answer.counts_as.end(), names)) keys.push_back(term.key);
  }
  return keys;
}

const VaryingTerm* LabelTerms::varying_group(std::string_view group) const {
  const auto found = std::find_if(varying.begin(), varying.end(), [&](const VaryingTerm& term) { return term.group == group; });
  return found == varying.end() ? nullptr : &*found;
}

const AdditiveTerm* LabelTerms::additive(std::string_view number) const {
  const auto found = std::find_if(additives.begin(), additives.end(), [&](const AdditiveTerm& a) { return a.number == number; });
  return found == additives.end() ? nullptr : &*found;
}

}  // namespace tierproof
