#pragma once

#include <string>
#include <vector>

#include "label_shares.h"

namespace tierproof {

/// The plain number of an additive as a specification gives it, with its suffix: `E450(i)` of `INS 450 (i)`; without a number that of the
/// row which its name names, the one of `colour: E102` too; empty when neither says which it is. A number that cannot be read comes back as
/// it stands, blanks out.
std::string additive_of(const LabelTerms& terms, const std::string& number, const std::string& name);

/// Every additive in every pack of the cake, at any depth of a sub-list, whether it works in the cake or not; by number, name, class.
///
/// A part without a number is read by its name (`read_additive_text`). Without a class too, it counts where the number of an additive
/// stands in it, or the name of one that is not simply permitted or that a sentence is prescribed for. Others may be foods as well: the
/// calcium carbonate of flour.
std::vector<AdditiveFound> additives_present(const CakeParts& parts, const Composition& made, const LabelTerms& terms);

/// Packs and parts whose names speak of an additive that nobody can tell (`AdditiveText::open`): `name` as printed, what is open in
/// `class_title`; by name. The name of what has parts of its own is left to them.
std::vector<AdditiveFound> additives_left_open(const CakeParts& parts, const Composition& made, const LabelTerms& terms);

}  // namespace tierproof
