#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/sums/terms.h"

namespace tierproof {

/// The number of an additive as packs print it: `E 471`, `e471(i)`, `E-471`, `INS 471`, `E 150 d`.
struct AdditiveNumber {
  std::string number;  ///< plain: `E471`, `E150d`
  std::string suffix;  ///< in small letters with its brackets: `(i)`; empty when there is none
  friend bool operator==(const AdditiveNumber&, const AdditiveNumber&) = default;
};

/// Reads a text that is the number of an additive and nothing else: `E` or `INS`, three digits or four from 100 to 1599, a letter from
/// `a` to `k`, a roman number up to `(xii)` in brackets. Blanks (also U+00A0) and a hyphen may stand between them; case does not
/// matter. Anything else gives nothing: `E47l`, `E4711`, `471`, `E471 and E472`.
std::optional<AdditiveNumber> read_additive_number(std::string_view text);
/// The plain number alone, `E471`.
std::optional<std::string> additive_number(std::string_view text);

/// The row that `text` names, by number (with its suffix first, then without) or by its name, its printed name included, in any case
/// and with any blanks; one that differs in singular and plural alone only where no row has the very name; nothing for a misspelt one.
const AdditiveTerm* find_additive_by_text(const LabelTerms& terms, std::string_view text);

/// Rows that a misspelt `text` may have meant, for a message only and never for a decision: `E471 (mono- and diglycerides)`; the nearest
/// first, three at most, none when nothing is near. A number without its letter E counts as near.
std::vector<std::string> near_additives(const LabelTerms& terms, std::string_view text);

}  // namespace tierproof
