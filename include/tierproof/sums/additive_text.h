#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/sums/label_terms.h"

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

/// An additive that a text of several words tells of.
struct AdditiveInText {
  std::string number;  ///< plain, with its suffix: `E102`; it may be one that no row has. Of a row without a number what it is known by
  std::string words;   ///< name that it goes by there: `tartrazine lake`; empty where only its number stands
  friend bool operator==(const AdditiveInText&, const AdditiveInText&) = default;
};
struct AdditiveText {
  std::vector<AdditiveInText> found;  ///< each once, in the order of the text
  std::string class_title;            ///< of the law, where the text has one: `colour`
  std::string open;                   ///< of an additive that the text speaks of and nobody can tell; empty: none
};

/// The additives that the name of a part tells of, as packs print them: `tartrazine (E102)`, `colours (E 102, E 110)`, `colour: E102`,
/// `FD&C Red No. 3`, `artificial color (Red 3)`, `Blue 1 Lake`.
///
/// The text is read whole, then between brackets and colons, then between commas and `and`. A name counts without FD&C, `No.`, lake,
/// colour and the letters that makers put behind it. *Open* is a number that cannot be read; and, where a class title or the word colour
/// stands, a piece that names no additive, or the whole when nothing does. A text without title and number is never open: most are foods.
AdditiveText read_additive_text(const LabelTerms& terms, std::string_view text);

/// Rows that a misspelt `text` may have meant, for a message only and never for a decision: `E471 (mono- and diglycerides)`; the nearest
/// first, three at most, none when nothing is near. A number without its letter E counts as near.
std::vector<std::string> near_additives(const LabelTerms& terms, std::string_view text);

}  // namespace tierproof
