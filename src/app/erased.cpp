#include "erased.h"

#include <fmt/format.h>

#include <algorithm>

#include "life.h"

namespace tierproof {

std::string words_or(const Words& words, const std::string& otherwise) {
  return words.text.value_or(words.given() ? "(erased)" : otherwise);
}

const Recorded<Erasure>* erasure_of(const State& state, const CakeId& cake) {
  const auto found =
      std::find_if(state.erasures.rbegin(), state.erasures.rend(), [&](const auto& erasure) { return erasure.value.cake == cake; });
  return found == state.erasures.rend() ? nullptr : &*found;
}

const Recorded<Erasure>* erasure_of_paper(const State& state, const std::string& sha256) {
  for (const auto& erasure : state.erasures) {
    const auto& papers = erasure.value.papers;
    if (std::find(papers.begin(), papers.end(), sha256) != papers.end()) return &erasure;
  }
  return nullptr;
}

bool answer_erased(const State& state, const CakeId& cake) {
  const auto* answer = state.answer(cake);
  return answer != nullptr && answer->value.allergens.given() && !answer->value.allergens.text;
}

void doubt_after_erased_answer(std::vector<Finding>& shared_kit) {
  for (auto& finding : shared_kit) {
    if (finding.control != "shared-kit" || finding.verdict != Verdict::shown || finding.paths.empty()) continue;
    finding.verdict = Verdict::not_shown;
    finding.stop = std::max(finding.stop, Stop::needs_person);
    finding.message += "; which allergies the customer named has been erased, so nobody knows whether that was one of them";
    finding.remedy = "ask the customer again before it leaves";
  }
}

std::vector<std::string> says_without_answer(const State& state, const Judgement& judgement) {
  std::vector<std::string> says;
  Judgement rest = judgement;
  for (const char* control : {"allergy-answer", "shared-kit"}) {
    std::erase_if(rest.findings, [&](const Finding& finding) { return finding.control == control; });
    says.push_back(says_of(state, rest));
  }
  return says;
}

std::string erased_sentence(const State& state, const CakeId& cake) {
  const auto* erasure = erasure_of(state, cake);
  if (erasure == nullptr) return "";
  return fmt::format(" What its customer said and was told was erased on {} (note {}), so what rests on it cannot be judged any more.",
                     format_date_long(day_of(erasure->happened, erasure->offset)), erasure->sequence);
}

}  // namespace tierproof
