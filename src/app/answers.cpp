#include "answers.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "kit.h"
#include "parts.h"
#include "tierproof/sums/allergy.h"

namespace tierproof {
namespace {

/// Whether a part or what it is made of names `food`.
bool part_names(const DeclaredPart& part, const std::string& food) {
  return names_food(part.name, food) ||
         std::any_of(part.parts.begin(), part.parts.end(), [&](const DeclaredPart& inner) { return part_names(inner, food); });
}

/// Packs of a cake that name `food`, or of which nothing is known, in words.
std::vector<std::string> packs_naming(const State& state, const CakeParts& parts, const std::string& food) {
  std::vector<std::string> packs;
  for (const auto& lot : parts.lots) {
    const auto& facts = lot.ingredient;
    const auto ingredient = state.ingredients.find(facts.id);
    const bool named =
        names_food(facts.label_name, food) || ingredient == state.ingredients.end() || names_food(ingredient->second.value.name, food) ||
        std::any_of(facts.parts.begin(), facts.parts.end(), [&](const DeclaredPart& part) { return part_names(part, food); });
    if (named) packs.push_back(pack_in_words(state, lot.id));
  }
  return packs;
}

/// Whether anything of the cake was made or built before the answer in force was written down, and that answer was not the first.
bool changed_after_making(const State& state, const Judgement& judgement, const Recorded<AllergyAnswer>& answer) {
  if (!answer.corrected() && !state.answered_before(judgement.cake)) return false;
  const auto before = [&](const auto& thing) { return thing.sequence < answer.sequence || thing.happened < answer.happened; };
  for (const auto& tier : state.tiers) {
    if (tier.value.cake == judgement.cake && before(tier)) return true;
  }
  for (const auto& facts : judgement.parts.batches) {
    const auto batch = state.batches.find(facts.id);
    if (batch != state.batches.end() && before(batch->second)) return true;
  }
  return false;
}

}  // namespace

std::vector<std::string> split_keys(const Words& words) {
  std::vector<std::string> keys;
  const std::string text = words.text.value_or("");
  for (std::size_t at = 0; at < text.size();) {
    const auto comma = text.find(',', at);
    keys.push_back(text.substr(at, comma - at));
    if (comma == std::string::npos) break;
    at = comma + 1;
  }
  return keys;
}

std::string unlisted_food(const std::string& said) {
  constexpr std::string_view mark = "other:";
  return said.starts_with(mark) ? said.substr(mark.size()) : "";
}

std::string joined_keys(const std::vector<std::string>& keys) { return fmt::format("{}", fmt::join(keys, ",")); }

std::string key_of(const LabelTerms& terms, const std::string& word) {
  for (const auto& allergen : terms.allergens) {
    if (allergen.word == word) return allergen.key;
  }
  return word;
}

std::vector<std::string> words_of_keys(const LabelTerms& terms, const std::vector<std::string>& keys) {
  std::vector<std::string> words;
  for (const auto& key : keys) {
    const auto* term = terms.allergen(key);
    const std::string unlisted = unlisted_food(key);
    words.push_back(term != nullptr ? term->word : unlisted.empty() ? key : unlisted + " (not on the law's list)");
  }
  return words;
}

std::vector<std::string> named_allergens(const State& state, const CakeId& cake, const LabelTerms& terms) {
  std::vector<std::string> keys;
  const auto* answer = state.answer(cake);
  if (answer == nullptr) return keys;
  for (const auto& said : split_keys(answer->value.allergens)) {
    if (!unlisted_food(said).empty()) continue;
    const auto* group = terms.allergen(said) == nullptr ? terms.group_answer(said) : nullptr;
    const auto all = group == nullptr ? std::vector{said} : terms.keys_of(*group);
    for (const auto& key : all) {
      if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(key);
    }
  }
  return keys;
}

std::vector<std::string> accepted_allergens(const State& state, const CakeId& cake) {
  std::vector<std::string> keys;
  const auto* answer = state.answer(cake);
  for (const auto& acceptance : state.acceptances) {
    if (acceptance.value.cake != cake) continue;
    if (answer != nullptr && acceptance.sequence < answer->sequence) continue;  // it was said of another answer
    for (auto& key : split_keys(acceptance.value.allergens)) keys.push_back(std::move(key));
  }
  return keys;
}

void judge_answer(const State& state, Judgement& judgement, const std::vector<Contact>& met) {
  AllergyQuestion question;
  bool unlisted = false;
  question.cake = judgement.cake.text();
  const auto* answer = state.answer(judgement.cake);
  if (answer != nullptr) {
    question.answer = answer->value.answer;
    question.erased = answer->value.allergens.given() && !answer->value.allergens.text;
    for (const auto& said : split_keys(answer->value.allergens)) {
      if (const auto food = unlisted_food(said); !food.empty()) {
        unlisted = true;
        judgement.findings.push_back(judge_unlisted_allergy(judgement.cake.text(), food, packs_naming(state, judgement.parts, food)));
        continue;
      }
      const auto* group = judgement.label.allergen(said) == nullptr ? judgement.label.group_answer(said) : nullptr;
      if (group == nullptr) {
        question.named.push_back(said);
      } else {
        question.vague.emplace_back(group->word, judgement.label.keys_of(*group));
      }
    }
  }
  question.accepted = accepted_allergens(state, judgement.cake);
  std::vector<std::pair<std::string, std::string>> words;
  for (const auto& allergen : judgement.label.allergens) words.emplace_back(allergen.key, allergen.word);
  if (judgement.made) {
    for (const auto& trace : judgement.made->allergens) {
      const auto& declared = judgement.declared->contains;
      const bool is_declared = std::find(declared.begin(), declared.end(), trace.allergen) != declared.end();
      if (trace.presence == Presence::contains || is_declared) question.contains.push_back(trace.allergen);
      if (trace.presence == Presence::unknown) question.unknown.push_back(trace.allergen);
      if (!trace.may_contain.empty()) question.may_contain.push_back(trace.allergen);
    }
  } else {
    for (const auto& allergen : judgement.label.allergens) question.unknown.push_back(allergen.key);
  }
  const auto ids = kit_ids(judgement.parts);
  for (const auto& contact : met) {
    if (std::find(ids.begin(), ids.end(), contact.batch) == ids.end()) continue;
    (contact.cleaned ? question.may_contain : question.unknown).push_back(key_of(judgement.label, contact.allergen));
  }
  const bool only_unlisted = unlisted && question.named.empty() && question.vague.empty();
  if (!only_unlisted)
    for (auto& finding : judge_allergy(question, words)) judgement.findings.push_back(std::move(finding));
  if (answer != nullptr && changed_after_making(state, judgement, *answer)) {
    judgement.findings.push_back(judge_answer_changed(judgement.cake.text(), answer->sequence, day_of(answer->written, answer->offset)));
  }
}

std::vector<std::uint64_t> labels_before_answer(const State& state, const CakeId& cake) {
  std::vector<std::uint64_t> labels;
  const auto* answer = state.answer(cake);
  if (answer == nullptr || (!answer->corrected() && !state.answered_before(cake))) return labels;
  std::map<std::int64_t, std::uint64_t> last;
  for (const auto& paper : state.papers) {
    if (paper.value.cake == cake && paper.value.paper == "label") last[paper.value.box] = paper.sequence;
  }
  for (const auto& [box, sequence] : last) {
    if (sequence < answer->sequence) labels.push_back(sequence);
  }
  return labels;
}

}  // namespace tierproof
