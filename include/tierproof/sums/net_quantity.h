#pragma once

#include <optional>
#include <string>

#include "tierproof/sums/label_terms.h"
#include "tierproof/units/mass.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// The net quantity as the rules want it written.
struct NetQuantity {
  std::string text;     ///< `680 g`, `1.28 kg`, `NET WT 24 OZ (1 LB 8 OZ) 680 g`
  std::string instead;  ///< the number that may stand for it, `1 cake`; empty where the rules ask for the mass
  Cited cited;
};

/// Writes a mass by the form of `terms.net_quantity`, with its words before it.
///
/// - `metric`: whole grams below 1000 g, else kilograms to the gram; what lies between is cut off, so that no more is said than is in it.
/// - `metric, three figures`: three figures, two below 100 g, kilograms from 1000 g on; the rest is cut off, and so are zeros at the end
///   of decimals.
/// - `metric and avoirdupois`: ounces to the nearest tenth (half up), from 16 on with pounds and ounces in brackets, from 64 on pounds to
///   the nearest hundredth; then the metric mass. One pound is 453.59237 g. The edges are those of the printed figure.
/// Where a language of the label writes another decimal mark, it follows in that one: `1.28 kg / 1,28 kg`.
/// @param number  how many cakes are in the box, when it is sold by number
/// @return        refused: a mass under a gram, a number below one, rules without a form
/// @source Reg (EU) 1169/2011 art. 23 and Annex IX; 21 CFR 101.7; Consumer Packaging and Labelling Regulations s. 25, 26
Result<NetQuantity> net_quantity(Mass mass, std::optional<int> number, const LabelTerms& terms);

}  // namespace tierproof
