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

/// A word that may mean several allergens.
Finding about_vague(const AllergyQuestion& question, const std::string& word, const std::vector<std::string>& keys,
                    const std::vector<std::pair<std::string, std::string>>& words) {
  std::vector<std::string> all;
  std::vector<std::string> met;
  for (const auto& key : keys) {
    all.push_back(word_for(key, words));
    if (holds(question.contains, key) || holds(question.unknown, key) || holds(question.may_contain, key)) met.push_back(all.back());
  }
  std::string message =
      fmt::format("the customer said \"{}\", and nobody has asked which ones: until then it counts as {}", word, fmt::join(all, ", "));
  if (!met.empty()) message += fmt::format("; the cake contains, may contain or cannot rule out {}", fmt::join(met, ", "));
  return about(question, met.empty() ? Verdict::not_shown : Verdict::not_met, Stop::no_override, std::move(message),
               "ask the customer which ones, and record the answer");
}

}  // namespace

std::vector<Finding> judge_planned_allergy(const std::string& cake, const std::vector<PlannedMeeting>& meetings) {
  std::vector<Finding> findings;
  std::vector<std::string> not_planned;
  const auto add = [&](Verdict verdict, Stop stop, std::string message, std::string remedy) -> Finding& {
    Finding& finding = findings.emplace_back();
    finding.control = "planned-allergy";
    finding.subject = cake;
    finding.limit = "nothing planned that the customer named";
    finding.result = "as planned";
    finding.verdict = verdict;
    finding.stop = stop;
    finding.message = std::move(message);
    finding.remedy = std::move(remedy);
    return finding;
  };
  for (const auto& meeting : meetings) {
    if (meeting.contains.empty() && meeting.may_contain.empty() && meeting.unknown.empty() && meeting.shared_kit.empty()) {
      not_planned.push_back(meeting.word);
      continue;
    }
    Finding& finding =
        !meeting.contains.empty()
            ? add(Verdict::not_met, Stop::no_override, fmt::format("the customer named {}, and what is planned contains it", meeting.word),
                  "plan another recipe or pack, or tell the customer that you cannot promise this")
            : add(Verdict::not_shown, Stop::needs_person,
                  fmt::format("the customer named {}: no planned ingredient contains it, but traces cannot be ruled out", meeting.word),
                  "ask the suppliers, wash and test the kit, or tell the customer that you cannot promise this");
    const auto tell = [&](const std::vector<std::string>& where, std::string_view how) {
      for (const auto& way : where) finding.paths.push_back(fmt::format("{}: {}", how, way));
    };
    tell(meeting.contains, "contains");
    tell(meeting.unknown, "its pack does not say");
    tell(meeting.may_contain, "may contain");
    tell(meeting.shared_kit, "shared kit");
  }
  if (!not_planned.empty()) {
    add(Verdict::not_shown, Stop::needs_person,
        fmt::format("the customer named {}: not in what is planned, by what the packs say today", fmt::join(not_planned, ", ")),
        "it is compared again with the packs that really went in, once the tiers are recorded");
  }
  return findings;
}

bool names_food(std::string_view text, std::string_view food) {
  for (const std::string_view ending : {"ies", "es", "s", "y"}) {  // one and many of it: strawberry, strawberries
    if (food.size() < ending.size() + 3 || !food.ends_with(ending)) continue;
    food.remove_suffix(ending.size());
    break;
  }
  const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; };
  const auto letter = [&](char c) { return (lower(c) >= 'a' && lower(c) <= 'z') || static_cast<unsigned char>(c) >= 0x80; };
  if (food.empty()) return false;
  for (std::size_t at = 0; at + food.size() <= text.size(); ++at) {
    if (at > 0 && letter(text[at - 1])) continue;
    if (std::equal(food.begin(), food.end(), text.begin() + static_cast<std::ptrdiff_t>(at),
                   [&](char a, char b) { return lower(a) == lower(b); }))
      return true;
  }
  return false;
}

Finding judge_unlisted_allergy(const std::string& cake, const std::string& food, const std::vector<std::string>& packs) {
  AllergyQuestion question;
  question.cake = cake;
  question.answer = "named";
  if (packs.empty()) {
    return about(
        question, Verdict::not_shown, Stop::needs_person,
        fmt::format("the customer named {}, which is not on the law's list: no pack of this cake names it, and packs need not", food),
        "read every pack and ask its supplier about it, wash the kit, and tell the customer; else refuse the order");
  }
  Finding finding = about(question, Verdict::not_met, Stop::no_override,
                          fmt::format("the customer named {}, and a pack in the cake names it", food), std::string{refuse_it});
  finding.paths = packs;
  return finding;
}

Finding judge_answer_changed(const std::string& cake, std::uint64_t note, Date on) {
  Finding finding;
  finding.control = "answer-changed";
  finding.subject = cake;
  finding.verdict = Verdict::not_shown;
  finding.stop = Stop::needs_person;
  finding.limit = "answered before it is made";
  finding.result = "answered again afterwards";
  finding.message = fmt::format("the answer was changed on {} (note {}), after parts of this cake were made", format_date_long(on), note);
  finding.remedy = "look at the whole cake again with the new answer, and print its labels again";
  return finding;
}

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
  const bool says_which = !question.named.empty() || !question.vague.empty();
  if ((question.answer == "none") == says_which) {
    return {about(question, Verdict::not_shown, Stop::no_override,
                  says_which ? "the answer says \"none\" and names allergens" : "the answer says that an allergy was named, and not which",
                  "ask again, and correct the answer")};
  }
  if (question.answer == "none") {
    return {about(question, Verdict::shown, Stop::none, "the customer was asked and named no allergy", "")};
  }
  std::vector<Finding> findings;
  for (const auto& [word, keys] : question.vague) findings.push_back(about_vague(question, word, keys, words));
  for (const auto& key : question.named) findings.push_back(about_named(question, key, word_for(key, words)));
  return findings;
}

}  // namespace tierproof
