#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/units/mass.h"
#include "tierproof/units/result.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// What a supplier's code says of a pack; each part with its application identifier.
struct ScannedPack {
  std::string gtin;                 ///< 01, or 02 of what is in a case: 14 digits
  std::optional<Date> made;         ///< 11
  std::optional<Date> packed;       ///< 13
  std::optional<Date> best_before;  ///< 15
  std::optional<Date> sell_by;      ///< 16
  std::optional<Date> use_by;       ///< 17, which the standard calls expiration date
  std::string lot;                  ///< 10, as it stands there
  std::string serial;               ///< 21
  std::optional<Mass> net;          ///< 310n, net mass in kg with n decimals
  std::vector<std::string> unread;  ///< other identifiers with what they say, `(37)12`
};

/// Reads what a scanner gives, or somebody types, of a GS1 code: an element string with the separator GS between parts of no fixed length
/// (and the symbology identifier `]C1`, `]d2`, `]Q3` or `]e0` in front, if it is there); the same with its identifiers in round or square
/// brackets; or a GS1 Digital Link address.
///
/// A year of two figures is of the century that lies nearest to `this_year`: 51 or more ahead is of the one before, 50 or more behind of
/// the one after. Day 00 is the last of the month. Refused, all together: a check digit that does not fit, a date that is none, a part that
/// is cut short or too long, a character that codes do not carry, an identifier twice with different values, lot or date without a GTIN.
/// @source GS1 General Specifications 3.2 to 3.9, 7.8.5 (predefined lengths), 7.11 (character set 82), 7.12 (century, day 00); GS1 Digital
/// Link
///         URI syntax 1.2 (order of keys from memory)
Result<ScannedPack> read_gs1_scan(std::string_view text, int this_year, std::string_view field);

}  // namespace tierproof
