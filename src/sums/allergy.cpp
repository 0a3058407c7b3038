#include "tierproof/sums/allergy.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {
namespace {

constexpr std::string_view refuse_it = "do not hand over; remake it without, or refuse the order";

bool holds(const std::vector<std::string>& keys, const std::string& key) { return std::find(keys.begin(), keys.end(), key) != keys.end(); }

std::string word_for(const std::string& key, const std::vector<std::pair<std::string, std::string>>& words) {
  for (const auto& [known, word] : words) {
    if (known == key) return word;
  }
  return key;
}

Finding about(const AllergyQuestion& question, Verdict verdict, Stop stop, std::string message, std::string remedy) {
  Finding finding;
  finding.control = "allergy-answer";
  finding.subject = question.cake;
  finding.verdict = verdict;
  finding.stop = stop;
  finding.message = std::move(message);
  finding.remedy = std::move(remedy);
  finding.limit = "asked, and answered, before the cake leaves";
  finding.result = question.answer.empty() ? "nothing recorded" : question.answer;
  return finding;
}

Finding about_named(const AllergyQuestion& question, const std::string& key, const std::string& word) {
  if (holds(question.contains, key)) {
    return about(question, Verdict::not_met, Stop::no_override, fmt::format("the customer named {}, and the cake contains {}", word, word),
                 std::string{refuse_it});
  }
  if (holds(question.unknown, key)) {
    return about(question, Verdict::not_met, Stop::no_override,
                 fmt::format("the customer named {}, and nobody can rule out {} in this cake", word, word), std::string{refuse_it});
  }
  if (holds(question.may_contain, key)) {
    if (holds(question.accepted, key)) {
      return about(
          question, Verdict::not_shown, Stop::needs_person,
          fmt::format("the customer named {}; the cake may contain traces of {}, which the customer accepted in writing", word, word),
          "read the written yes again, and release against this only with your own reason");
    }
    return about(question, Verdict::not_met, Stop::no_override,
                 fmt::format("the customer named {}, and the cake may contain {}", word, word),
                 fmt::format("{}; or record the customer's own written yes to traces", refuse_it));
  }
  return about(question, Verdict::shown, Stop::none, fmt::format("the customer named {}: not an ingredient of this cake as recorded", word),
               "");
}

}  // namespace

std::vector<Finding> judge_allergy(const AllergyQuestion& question, const std::vector<std::pair<std::string, std::string>>& words) {
  if (question.answer.empty() || question.answer == "not asked") {
    return {about(question, Verdict::not_shown, Stop::needs_person,
                  question.answer.empty() ? "nothing is recorded of asking for allergies" : "the customer was not asked about allergies",
                  "ask, and record the answer and who gave it")};
  }
  if (question.erased) {
    return {about(question, Verdict::not_shown, Stop::needs_person, "allergies were named, and the answer has been erased since",
                  "ask again before it leaves")};
  }
  if (question.answer == "none") {
    return {about(question, Verdict::shown, Stop::none, "the customer was asked and named no allergy", "")};
  }
  std::vector<Finding> findings;
  for (const auto& key : question.named) findings.push_back(about_named(question, key, word_for(key, words)));
  return findings;
}

}  // namespace tierproof
