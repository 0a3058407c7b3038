#include "tierproof/sums/out_of_fridge.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace tierproof {
namespace {

/// The worst that a measurement leaves open.
struct Worst {
  Share activity;
  Share ph;
};
Worst worst_of(const ActivityMeasured& measured) {
  const Share least_sour = 14;
  return {measured.activity + measured.activity_error, measured.ph ? Share{*measured.ph + measured.ph_error} : least_sour};
}

bool asks(const ActivityTable& table, const Worst& worst) { return is_to_be_assessed(table, worst.activity, worst.ph); }

constexpr const char* measure_it =
    "keep it in the fridge, or have the finished food measured (water activity and pH) or get written advice, and record it";

std::string unknown_in_words(const StandingPart& part, const ActivityTable& table) {
  if (!part.estimate) return part.part + ": nothing was measured and nobody advised";
  const auto thousandths = static_cast<std::int64_t>(*part.estimate * 1000 + 0.999);
  const bool wet = asks(table, {share_of(thousandths, 1000), 14});
  return fmt::format("{}: only an estimate of {:.3f}, {}", part.part, *part.estimate,
                     wet ? "by which it needs the fridge" : "which shows nothing");
}

}  // namespace

Finding judge_out_of_fridge(const Standing& food, const ActivityTable& table) {
  Finding f;
  f.control = "out-of-fridge";
  f.subject = food.subject;
  f.verdict = Verdict::not_shown;
  f.stop = Stop::needs_person;
  f.limit = "a cell of the table that asks for no assessment";
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
  if (!food.advice.empty()) return shown("it may stand without a fridge by what is on file: " + food.advice);
  if (food.whole) {
    f.evidence = food.whole->told;
    return asks(table, worst_of(*food.whole))
               ? needs_it(fmt::format("{}: to be assessed, which counts as needing the fridge", food.whole->told))
               : shown(fmt::format("{}: the table asks for no control", food.whole->told));
  }
  std::vector<std::string> unknown;
  std::optional<Worst> touching;
  for (const StandingPart& part : food.parts) {
    if (part.measured) {
      const Worst worst = worst_of(*part.measured);
      f.paths.push_back(fmt::format("{}: {}", part.part, part.measured->told));
      if (asks(table, worst))
        return needs_it(fmt::format("{}, {}: to be assessed, which counts as needing the fridge", part.part, part.measured->told));
      touching = touching ? Worst{std::max(touching->activity, worst.activity), std::max(touching->ph, worst.ph)} : worst;
    } else if (part.advice.empty()) {
      unknown.push_back(unknown_in_words(part, table));
    } else {
      f.paths.push_back(fmt::format("{}: {}", part.part, part.advice));
      if (food.parts.size() > 1) unknown.push_back(part.part + ": advised by itself, not where it touches the others");
    }
  }
  if (food.parts.empty()) unknown.emplace_back("nobody recorded what it is made of");
  if (!unknown.empty()) {
    f.message = fmt::format("it is not known to keep without a fridge, so it counts as needing one: {}", fmt::join(unknown, "; "));
    return f;
  }
  if (touching && asks(table, *touching)) {
    f.message =
        "each part by itself asks for no control, but water moves where they touch: as wet as the wettest and as little sour as the least "
        "sour "
        "it is to be assessed";
    return f;
  }
  return shown(food.parts.size() == 1 ? food.parts.front().measured
                                            ? fmt::format("{}: the table asks for no control", f.paths.front())
                                            : "it may stand without a fridge by what is on file: " + food.parts.front().advice
                                      : "each part, and each as wet and as little sour as the others could make it, asks for no control");
}

}  // namespace tierproof
