#pragma once

#include <string>
#include <vector>

#include "label_shares.h"

namespace tierproof {

/// The plain number of an additive as a specification gives it, with its suffix: `E450(i)` of `INS 450 (i)`; without a number that of the
/// row which its name names; empty when neither says which it is. A number that cannot be read comes back as it stands, blanks out.
std::string additive_of(const LabelTerms& terms, const std::string& number, const std::string& name);

/// Every additive in every pack of the cake, at any depth of a sub-list, whether it works in the cake or not; by number, name, class.
///
/// A part without number and class counts when its name is the number of an additive, or names one that is not simply permitted or that a
/// sentence is prescribed for. Others may be foods as well: the calcium carbonate of flour.
std::vector<AdditiveFound> additives_present(const CakeParts& parts, const Composition& made, const LabelTerms& terms);

}  // namespace tierproof
