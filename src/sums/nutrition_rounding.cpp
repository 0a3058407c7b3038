#include "tierproof/sums/nutrition_rounding.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <vector>

#include "tierproof/units/share.h"

namespace tierproof {
namespace {

bool holds(const RoundingBandTerm& band, const Share& amount) {
  return (!band.above || amount > *band.above) && (!band.from || amount >= *band.from) && (!band.below || amount < *band.below) &&
         (!band.up_to || amount <= *band.up_to);
}

std::vector<const RoundingBandTerm*> bands_of(std::string_view nutrient, const Share& amount, std::span<const RoundingBandTerm> bands) {
  std::vector<const RoundingBandTerm*> found;
  for (const RoundingBandTerm& band : bands) {
    if (band.nutrient == nutrient && holds(band, amount)) found.push_back(&band);
  }
  return found;
}

Share to_nearest(const Share& amount, const Share& step) {
  const Share steps = amount / step + share_of(1, 2);
  return Share{numerator(steps) / denominator(steps)} * step;
}

std::string written(const Share& amount, const Share& step) {
  constexpr int most_places = 9;
  int places = 0;
  Share scaled = step;
  while (places < most_places && denominator(scaled) != 1) {
    scaled *= 10;
    ++places;
  }
  const std::string text = format_decimal(amount, places);
  return scaled == 1 ? text : short_decimal(text);  // not a power of ten: 5, not 5.0
}

bool has_letter(const std::string& text) {
  return std::any_of(text.begin(), text.end(), [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; });
}

}  // namespace

Result<RoundedAmount> round_band(std::string_view nutrient, const Share& amount, std::span<const RoundingBandTerm> bands) {
  const auto refuse = [&](std::string message, std::string remedy) {
    return Refusal{"", 0, std::string{nutrient}, std::move(message), std::move(remedy)};
  };
  if (amount < 0) return refuse("the amount is below zero", "give what is in the food");
  const std::vector<const RoundingBandTerm*> found = bands_of(nutrient, amount, bands);
  if (found.size() != 1) {
    return refuse(fmt::format("the rules have {} of rounding for {} of {}", found.empty() ? "no row" : "several rows",
                              format_decimal(amount, 2), nutrient),
                  "mend the rule pack");
  }
  const RoundingBandTerm& band = *found.front();
  if (!band.nearest) return RoundedAmount{amount, has_letter(band.words) ? band.words : band.words + " " + band.unit, band.cited};
  RoundedAmount rounded{to_nearest(amount, *band.nearest), "", band.cited};
  Share step = *band.nearest;
  const std::vector<const RoundingBandTerm*> next = bands_of(nutrient, rounded.value, bands);
  if (next.size() == 1 && next.front() != &band && next.front()->nearest && rounded.value > amount) {
    step = *next.front()->nearest;
    rounded.value = to_nearest(rounded.value, step);
  }
  rounded.text = written(rounded.value, step) + " " + band.unit;
  return rounded;
}

}  // namespace tierproof
