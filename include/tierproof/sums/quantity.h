#pragma once

#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/label_terms.h"
#include "tierproof/units/result.h"
#include "tierproof/units/share.h"

namespace tierproof {

/// An ingredient whose quantity is to be shown, with what was put in at the mixing bowl.
struct UsedAmount {
  std::string name;
  Share used_mg;
};

/// Several ingredients as one category: `orange`, from juice and zest.
UsedAmount as_category(std::string name, std::span<const UsedAmount> members);

/// A quantity as it is shown.
struct ShownQuantity {
  std::string name;
  Share percent;     ///< exact; grams a 100 g finished food when `per_100g`
  std::string text;  ///< `12 %`, `1.6 %`, or `112 g per 100 g`
};
struct ShownQuantities {
  std::vector<ShownQuantity> shown;  ///< in the order asked
  bool per_100g = false;             ///< a figure or their total passes 100 %: weights per 100 g of finished food
  bool of_finished = false;          ///< over the finished mass; else over the total mix
};

/// `text` with `mark` in the place of each point that stands between two digits: `1,25 kg`.
std::string with_decimal_mark(std::string text, const std::string& mark);

/// `12 %`, `1,6 %`, `112 g per 100 g`: rounded as `show_quantities` tells, in the words and with the decimal mark of `term`.
std::string quantity_text(const Share& percent, bool per_100g, const NamedQuantityTerm& term);

/// Quantities of ingredients (QUID).
///
/// Amount used over the finished mass when moisture was lost, else over the total mix. If a figure or their total is strictly above
/// `term.per_100g_above`, all are given as the weight used per 100 g of finished food. Exact; `text` is rounded to the nearest whole, one
/// decimal strictly under `term.one_decimal_below`, half up; what rounds up to that edge is written whole.
/// @source Reg (EU) 1169/2011 art. 22, Annex VIII 3 and 4(a); the rounding is Commission Notice 2017/C 393/05 (from memory)
/// @return refused: a mass that is not positive, an amount below zero, a finished mass above the mix
Result<ShownQuantities> show_quantities(std::span<const UsedAmount> used, const Share& mix_mg, const Share& finished_mg, bool moisture_lost,
                                        const NamedQuantityTerm& term);

/// What the name of a food says of one ingredient, and whether the cake bears it out.
struct NamedIngredient {
  std::string word;                     ///< as in the name, `orange`
  std::vector<UsedAmount> real;         ///< the food itself: juice, zest, pulp
  std::vector<UsedAmount> flavourings;  ///< used in small quantities for flavour only: oil, extract
};
struct NameAdvice {
  bool quantity_needed = false;
  std::string caution;  ///< empty, or why the name may mislead
};
/// A quantity is needed when the food itself is in it. When only a flavouring brings the named food, none is needed, and the name
/// may mislead.
/// @source Reg (EU) 1169/2011 art. 22(1)(a), Annex VIII 1(a), art. 7
NameAdvice judge_named_ingredient(const NamedIngredient& named);

}  // namespace tierproof
