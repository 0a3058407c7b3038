#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "tierproof/units/result.h"
#include "tierproof/units/time.h"

namespace tierproof {

// Numbers of the GS1 system. GS1 gives them out: the program checks them and never makes one up.

/// The check digit that follows `digits`: from the right, weights 3 and 1 in turn, up to the next multiple of ten.
/// @pre  `digits` are decimal digits only, at least one
/// @source GS1 General Specifications 7.9, standard check digit calculations
char gs1_check_digit(std::string_view digits);

/// A GTIN as it is typed, of 8, 12, 13 or 14 digits, in the 14 digits that a code carries, with zeros in front.
/// Refused: other characters and lengths, all zeros, a check digit that does not fit.
/// @param field  what refusals call it
/// @source GS1 General Specifications 3.3.2 (AI 01), 7.9
Result<std::string> read_gtin(std::string_view text, std::string_view field);

/// A GS1 Company Prefix: 4 to 12 digits. Refused: anything else, and what is no company's (numbers that count within one shop or region,
/// books, periodicals, coupons). A U.P.C. Company Prefix is written with a 0 in front.
/// @source GS1 General Specifications 1.4.2 and glossary (ranges from memory)
Result<std::string> read_company_prefix(std::string_view text, std::string_view field);

/// A GTIN that belongs to a business, in 14 digits.
///
/// Refused: what `read_gtin` refuses; a business without a prefix; a GTIN that does not begin with it (in the 14 digits the first one,
/// the indicator, stands in front of the prefix); a GTIN-8, which is given out one by one and holds no prefix; and the indicator 9, of a
/// food sold by weight, whose code would have to carry its mass too.
/// @param prefix  as `read_company_prefix` gives it; empty: the business has none
Result<std::string> read_own_gtin(std::string_view text, std::string_view prefix, std::string_view field);

/// Whether a character is in the GS1 AI encodable character set 82. @source GS1 General Specifications 7.11
bool gs1_encodable(char c);

/// What one code tells of goods; each part with its application identifier.
struct Gs1Goods {
  std::string gtin;                 ///< 01: in 14 digits, as `read_gtin` gives it
  int piece = 0;                    ///< 8006 in place of 01: which piece of `pieces` this is, from 1; 0: the goods are one piece
  int pieces = 0;                   ///< up to 99
  std::optional<Date> made;         ///< 11
  std::optional<Date> best_before;  ///< 15
  std::optional<Date> sell_by;      ///< 16
  std::optional<Date> use_by;       ///< 17, which the standard calls expiration date
  std::string lot;                  ///< 10: up to 20 characters
  std::string serial;               ///< 21: up to 20 characters
};

/// The element string, application identifiers in square brackets: `[01]09521234543213[17]260504[10]cake-1`.
///
/// Parts without a length that is fixed beforehand come last, so that few separators are needed. Refused, all together: a GTIN that is not
/// one; a piece that its count does not have; a date outside 2000 to 2099, since its year is written in two figures; a best-before beside a
/// use-by date; lot and serial number that are longer than 20 characters or hold one that is not in the GS1 AI encodable character set 82.
/// @source GS1 General Specifications 3.2 to 3.9 (AIs 01, 10, 11, 15, 16, 17, 21, 8006), 7.11 (character set 82), 7.12 (century)
Result<std::string> gs1_element_string(const Gs1Goods& goods, std::string_view field);

}  // namespace tierproof
