#include "tierproof/sums/out_of_fridge.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace tierproof {
namespace {

/// The worst that measurements leave open.
struct Worst {
  Share activity;
  Share ph;
};
Worst worst_of(const ActivityMeasured& measured) {
  const Share least_sour = 14;
  return {measured.activity + measured.activity_error, measured.ph ? Share{*measured.ph + measured.ph_error} : least_sour};
}
Worst worse_of(const Worst& a, const Worst& b) { return {std::max(a.activity, b.activity), std::max(a.ph, b.ph)}; }

bool asks(const ActivityTable& table, const Worst& worst) { return is_to_be_assessed(table, worst.activity, worst.ph); }

/// The first of `measured` that is to be assessed, or none.
const ActivityMeasured* assessed_of(const std::vector<ActivityMeasured>& measured, const ActivityTable& table) {
  const auto found = std::find_if(measured.begin(), measured.end(), [&](const auto& one) { return asks(table, worst_of(one)); });
  return found == measured.end() ? nullptr : &*found;
}

std::string told_of(const std::vector<ActivityMeasured>& measured) {
  std::vector<std::string> told;
  for (const auto& one : measured) told.push_back(one.told);
  return fmt::format("{}", fmt::join(told, "; "));
}

constexpr const char* measure_it =
    "keep it in the fridge, or have the finished food measured (water activity and pH) or get written advice, and record it";

std::string unknown_in_words(const StandingPart& part, const ActivityTable& table) {
  const std::string other = part.of_another.empty() ? "" : "; " + part.of_another;
  if (!part.estimate) return fmt::format("{}: nothing was measured and nobody advised{}", part.part, other);
  const auto thousandths = static_cast<std::int64_t>(*part.estimate * 1000 + 0.999);
  const bool wet = asks(table, {share_of(thousandths, 1000), 14});
  return fmt::format("{}: only an estimate of {:.3f}, {}{}", part.part, *part.estimate,
                     wet ? "by which it needs the fridge" : "which shows nothing", other);
}

}  // namespace

Finding judge_out_of_fridge(const Standing& food, const ActivityTable& table) {
  Finding f;
  f.control = "out-of-fridge";
  f.subject = food.subject;
  f.verdict = Verdict::not_shown;
  f.stop = Stop::needs_person;
  f.limit = "measured, and nothing to assess by the table of water activity and pH; or written advice or a validation on file";
  f.source = cite(table.cited);
  f.remedy = measure_it;
  const auto shown = [&](std::string words) {
    f.verdict = Verdict::shown;
    f.stop = Stop::none;
    f.remedy.clear();
    f.message = std::move(words);
    return f;
  };
  const auto needs_it = [&](std::string words) {
    f.verdict = Verdict::not_met;
    f.message = std::move(words);
    return f;
  };
  const auto to_be_assessed = [&](const std::string& what) {
    return needs_it(what + ": to be assessed, which counts as needing the fridge");
  };
  if (!food.against.empty()) return needs_it("it needs the fridge by what is on file: " + food.against);
  for (const StandingPart& part : food.parts) {
    if (!part.against.empty()) return needs_it(fmt::format("{} needs the fridge by what is on file: {}", part.part, part.against));
  }
  const bool alone = food.parts.size() == 1;
  const std::string& advice = food.advice.empty() && alone ? food.parts.front().advice : food.advice;
  if (!advice.empty()) return shown("it may stand without a fridge by what is on file: " + advice);
  for (const StandingPart& part : food.parts) {
    const auto* worst = part.advice.empty() ? assessed_of(part.measured, table) : nullptr;
    if (worst != nullptr) return to_be_assessed(fmt::format("{}, {}", part.part, worst->told));
  }
  if (!food.whole.empty()) {
    f.evidence = told_of(food.whole);
    if (const auto* worst = assessed_of(food.whole, table)) return to_be_assessed(worst->told);
    return shown(f.evidence + ": the table asks for no control");
  }
  std::vector<std::string> unknown;
  std::optional<Worst> touching;
  for (const StandingPart& part : food.parts) {
    if (!part.advice.empty()) {
      f.paths.push_back(fmt::format("{}: {}", part.part, part.advice));
      unknown.push_back(part.part + ": advised by itself, not where it touches the others");
      continue;
    }
    if (part.measured.empty()) {
      unknown.push_back(unknown_in_words(part, table));
      continue;
    }
    f.paths.push_back(fmt::format("{}: {}", part.part, told_of(part.measured)));
    for (const auto& one : part.measured) touching = touching ? worse_of(*touching, worst_of(one)) : worst_of(one);
  }
  if (food.parts.empty()) unknown.emplace_back("nobody recorded what it is made of");
  if (!unknown.empty()) {
    f.message = fmt::format("it is not known to keep without a fridge, so it counts as needing one: {}", fmt::join(unknown, "; "));
    return f;
  }
  if (!alone && asks(table, *touching)) {
    f.message =
        "each part by itself asks for no control, but water moves where they touch: as wet as the wettest and as little sour as the least "
        "sour it is to be assessed";
    return f;
  }
  return shown(alone ? f.paths.front() + ": the table asks for no control"
                     : "each part, and each as wet and as little sour as the others could make it, asks for no control");
}

}  // namespace tierproof
