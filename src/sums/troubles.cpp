#include "tierproof/sums/troubles.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace tierproof {
namespace {

Finding about_trouble(const std::string& cake, const MetTrouble& trouble, Verdict verdict, Stop stop) {
  Finding f;
  f.control = "went-wrong";
  f.subject = cake + ", " + trouble.id;
  f.verdict = verdict;
  f.stop = stop;
  f.evidence = trouble.told;
  if (!trouble.action.empty()) f.evidence += "; " + trouble.action;
  f.paths = trouble.ways;
  return f;
}

}  // namespace

std::vector<Finding> judge_went_wrong(const std::string& cake, std::span<const MetTrouble> met) {
  std::vector<Finding> findings;
  for (const MetTrouble& trouble : met) {
    if (trouble.food.empty()) {
      Finding f = about_trouble(cake, trouble, Verdict::not_shown, Stop::no_override);
      f.limit = "closed, with what became of the food";
      f.message = fmt::format("{} is open since {} and touches this cake", trouble.id, trouble.since);
      f.remedy = fmt::format("find out what became of the food, then close it: tierproof put-right {}", trouble.id);
      findings.push_back(std::move(f));
      continue;
    }
    std::vector<std::string> out;
    if (trouble.food == "binned" && trouble.names_cake) out.push_back(cake);
    if (trouble.food == "binned" || trouble.food == "remade") out.insert(out.end(), trouble.named_food.begin(), trouble.named_food.end());
    const bool names_food = trouble.names_cake || !trouble.named_food.empty();
    if (!out.empty()) {
      Finding f = about_trouble(cake, trouble, Verdict::not_met, Stop::no_override);
      f.message =
          fmt::format("{} was recorded as {} when {} was closed ({})", fmt::join(out, ", "), trouble.food, trouble.id, trouble.closed);
      f.remedy = "do not hand over; remake it or refuse the order";
      findings.push_back(std::move(f));
    } else if (trouble.food != "no food touched" || names_food) {
      Finding f = about_trouble(cake, trouble, Verdict::not_shown, Stop::needs_person);
      f.message = fmt::format("{} of {} touched this cake and was closed {}; what became of the food: {}", trouble.id, trouble.since,
                              trouble.closed, trouble.food);
      f.remedy = "a named person must answer for the food that is in this cake";
      findings.push_back(std::move(f));
    }
  }
  return findings;
}

Finding judge_cake_binned(const std::string& cake, const std::string& when, std::uint64_t note) {
  Finding f;
  f.control = "binned";
  f.subject = cake;
  f.verdict = Verdict::not_met;
  f.stop = Stop::no_override;
  f.limit = "not thrown away";
  f.message = fmt::format("{} was thrown away on {}, by note {}", cake, when, note);
  f.remedy = "do not hand over; make another one under a number of its own";
  return f;
}

Finding judge_binned_and_used(const std::string& cake, const std::string& what, const std::string& over) {
  Finding f;
  f.control = "binned";
  f.subject = cake + ", " + what;
  f.verdict = Verdict::not_shown;
  f.stop = Stop::no_override;
  f.message = fmt::format("{} more of {} was used and thrown away than there was of it", over, what);
  f.remedy = "correct the note that is wrong: its yield, what was used of it or what was thrown away";
  return f;
}

}  // namespace tierproof
