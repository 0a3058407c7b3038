#include "tierproof/sums/quantity.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {
namespace {

Share sum_of(std::span<const UsedAmount> amounts) {
  Share sum = 0;
  for (const UsedAmount& amount : amounts) sum += amount.used_mg;
  return sum;
}

std::string rounded(const Share& value, const Share& one_decimal_below) {
  const bool small = value < one_decimal_below && value + share_of(5, 100) < one_decimal_below;  // 4.95 is written 5
  return format_decimal(value, small ? 1 : 0);
}

}  // namespace

std::string with_decimal_mark(std::string text, const std::string& mark) {
  const auto digit = [&](std::size_t at) { return at < text.size() && text[at] >= '0' && text[at] <= '9'; };
  for (std::size_t at = 1; at < text.size(); ++at) {
    if (text[at] == '.' && digit(at - 1) && digit(at + 1)) text.replace(at, 1, mark);
  }
  return text;
}

std::string quantity_text(const Share& percent, bool per_100g, const NamedQuantityTerm& term) {
  const std::string figure = with_decimal_mark(rounded(percent, term.one_decimal_below * 100), term.decimal_mark);
  return fmt::format("{} {}", figure, per_100g ? term.per_100g : "%");
}

UsedAmount as_category(std::string name, std::span<const UsedAmount> members) { return {std::move(name), sum_of(members)}; }

Result<ShownQuantities> show_quantities(std::span<const UsedAmount> used, const Share& mix_mg, const Share& finished_mg, bool moisture_lost,
                                        const NamedQuantityTerm& term) {
  Refusals refusals;
  const auto refuse = [&](std::string field, std::string message, std::string remedy) {
    refusals.push_back(Refusal{"", 0, std::move(field), std::move(message), std::move(remedy)});
  };
  if (mix_mg <= 0) refuse("mix", "the total mix has no mass", "give the mass of everything put in");
  if (finished_mg <= 0) refuse("finished", "the finished food has no mass", "weigh it");
  if (mix_mg > 0 && finished_mg > mix_mg)
    refuse("finished", "the finished food weighs more than the mix", "record what is missing, or weigh again");
  for (const UsedAmount& amount : used) {
    if (amount.used_mg < 0) refuse(amount.name, "an amount below zero was used", "give what was put in");
  }
  if (!refusals.empty()) return refusals;

  ShownQuantities result;
  result.of_finished = moisture_lost;
  const Share& whole = moisture_lost ? finished_mg : mix_mg;
  Share total = 0;
  for (const UsedAmount& amount : used) {
    result.shown.push_back({amount.name, amount.used_mg / whole * 100, ""});
    total += result.shown.back().percent;
  }
  result.per_100g = total > term.per_100g_above * 100;  // a single figure above it makes the total so
  for (ShownQuantity& one : result.shown) {
    if (result.per_100g) one.percent = one.percent * whole / finished_mg;
    one.text = quantity_text(one.percent, result.per_100g, term);
  }
  return result;
}

NameAdvice judge_named_ingredient(const NamedIngredient& named) {
  if (sum_of(named.real) > 0) return {true, ""};
  if (sum_of(named.flavourings) > 0) {
    std::string by;
    for (const UsedAmount& flavouring : named.flavourings) by += (by.empty() ? "" : ", ") + flavouring.name;
    return {false, fmt::format("the name says {0}, and only a flavouring brings it ({1}): it may mislead; say \"{0} flavoured\" or use {0}",
                               named.word, by)};
  }
  return {false, fmt::format("the name says {}, and nothing in the cake brings it: it misleads; change the name", named.word)};
}

}  // namespace tierproof
