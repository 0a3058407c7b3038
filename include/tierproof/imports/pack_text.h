#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/units/result.h"
#include "tierproof/units/share.h"

namespace tierproof {

/// What the printed text of packs is read with: words of the rules in force and of the caller, in small letters.
struct PackTextWords {
  std::vector<std::string> class_titles;  ///< `emulsifier`; singular or plural on the pack
  std::vector<std::string> headings;      ///< before the list, `ingredients`
  std::vector<std::string> may_contain;   ///< a sentence that begins so tells of traces: `may contain`
  std::vector<std::string> contains;      ///< a sentence that begins so sums up the allergens: `contains`
  std::vector<std::string> number_marks;  ///< before the number of an additive: `e`, `ins`
};

/// One part of a list as the pack prints it.
struct PackPart {
  std::string name;                 ///< without percentage and marks: `wheat flour`, `E450(i)`
  std::optional<Share> share;       ///< of what it is a part of
  std::string class_title;          ///< of an additive, as the rules spell it; empty: none was printed
  std::vector<PackPart> parts;      ///< in the order of the pack
  std::vector<std::string> marked;  ///< words that the pack makes stand out: in capitals, between asterisks or stars
  int line = 0;                     ///< of the text, for messages
  friend bool operator==(const PackPart& a, const PackPart& b) {
    return a.name == b.name && a.share == b.share && a.class_title == b.class_title && a.parts == b.parts && a.marked == b.marked;
  }
};

/// A pack's list of ingredients, taken apart.
struct PackText {
  std::vector<PackPart> parts;
  std::vector<std::string> may_contain;  ///< what may be there in traces, each as printed
  std::vector<std::string> contains;     ///< what a summary of allergens names
  std::vector<std::string> other;        ///< sentences that are none of these: a person has to read them
};

/// Reads the text of a pack.
///
/// Parts are parted by commas and semicolons, the parts of a part stand in brackets of any kind. A percentage stands before or behind the
/// name or in brackets of its own: `12 %`, `(12%)`, `12,5 %`. A class title before a colon holds for all that follows up to the next
/// class title or semicolon; before a bracket, for all in it. A full stop ends the list; sentences after it are traces, a
/// summary of allergens, or other words. A hyphen at the end of a line joins the halves of a word when the next line goes on in small
/// letters; other line breaks are blanks.
///
/// Refuses, with line and place: an empty text, a bracket that is never opened or never closed, one kind closed by another, brackets
/// deeper than 20, nothing between two commas, a percentage above 100 or of which the parts of one list come to more than 100, and a text
/// that is not UTF-8.
Result<PackText> read_pack_text(std::string_view text, const PackTextWords& words, const std::string& file);

/// The same as one text again, in the plainest form; `read_pack_text` of it gives equal parts.
std::string write_pack_text(const PackText& text, const PackTextWords& words);

}  // namespace tierproof
