#pragma once

#include "terms_for_tests.h"

namespace tierproof::for_tests {

/// FIC art. 22 and Annex VIII; the rounding from memory (Commission Notice 2017/C 393/05).
inline NamedQuantityTerm quid() {
  return {fic("named-quantities", "art. 22; Annex VIII", true), 1, share_of(5, 100), {"flavouring", "natural flavouring"}};
}

/// Rounding bands of a nutrient as the Commission's guidance of December 2012 has them (from memory): nearest gram from ten on, a tenth
/// below, and words at or under `small`.
inline std::vector<RoundingBandTerm> eu_bands(const std::string& nutrient, const Share& large, const Share& large_step, const Share& small,
                                              const Share& small_step, const std::string& words) {
  const Cited cited{"rounding-" + nutrient, "Commission guidance, December 2012", true};
  return {{cited, nutrient, std::nullopt, large, std::nullopt, std::nullopt, large_step, "", "g"},
          {cited, nutrient, small, std::nullopt, large, std::nullopt, small_step, "", "g"},
          {cited, nutrient, std::nullopt, Share{0}, std::nullopt, small, std::nullopt, words, "g"}};
}

/// 21 CFR 101.9(c), the lines of L17.
inline std::vector<RoundingBandTerm> us_bands() {
  std::vector<RoundingBandTerm> all;
  const auto row = [&](const char* nutrient, const char* unit, std::optional<Share> above, std::optional<Share> from,
                       std::optional<Share> below, std::optional<Share> up_to, std::optional<Share> nearest, const char* words = "") {
    all.push_back({{std::string{"rounding-"} + nutrient, "21 CFR 101.9(c)", false},
                   nutrient,
                   std::move(above),
                   std::move(from),
                   std::move(below),
                   std::move(up_to),
                   std::move(nearest),
                   words,
                   unit});
  };
  const std::nullopt_t no = std::nullopt;
  row("calories", "cal", no, Share{0}, Share{5}, no, no, "0");
  row("calories", "cal", no, Share{5}, no, Share{50}, Share{5});
  row("calories", "cal", Share{50}, no, no, no, Share{10});
  row("total fat", "g", no, Share{0}, share_of(5, 10), no, no, "0");
  row("total fat", "g", no, share_of(5, 10), Share{5}, no, share_of(5, 10));
  row("total fat", "g", no, Share{5}, no, no, Share{1});
  row("sodium", "mg", no, Share{0}, Share{5}, no, no, "0");
  row("sodium", "mg", no, Share{5}, no, Share{140}, Share{5});
  row("sodium", "mg", Share{140}, no, no, no, Share{10});
  row("cholesterol", "mg", no, Share{0}, Share{2}, no, no, "0");
  row("cholesterol", "mg", no, Share{2}, no, Share{5}, no, "less than 5 mg");
  row("cholesterol", "mg", Share{5}, no, no, no, Share{5});
  row("sugar alcohol", "g", no, Share{0}, share_of(5, 10), no, no, "0");
  row("sugar alcohol", "g", no, share_of(5, 10), Share{1}, no, no, "less than 1 g");
  row("sugar alcohol", "g", no, Share{1}, no, no, Share{1});
  return all;
}

}  // namespace tierproof::for_tests
