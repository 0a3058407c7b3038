#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "tierproof/units/mass.h"
#include "tierproof/units/result.h"
#include "tierproof/units/share.h"
#include "tierproof/units/temperature.h"

namespace tierproof {

/// A decimal number as a person types it, exact: `4`, `4.5`, `4,5`, `-18`, `−18` (U+2212). No exponent, no thousands mark.
/// At most 15 digits before and 9 after the point. Nothing if the text is anything else, or if its comma may as well be a thousands
/// mark (`1,500`; `1.500`, `1,50` and `0,500` are plain).
std::optional<Share> parse_decimal(std::string_view text);

/// A number as programs write it: `4`, `-0.5`, `7.1234567891`, `1e-3`. Nothing for anything else, for NaN and for infinity.
std::optional<double> parse_finite(std::string_view text);

/// `450 g`, `1.5kg`, `200 mg`: a mass with its unit (mg, g or kg in small letters), to the whole milligram, at most 2^53-1 mg. Nothing if
/// there is no unit, a negative or a finer amount.
std::optional<Mass> parse_mass(std::string_view text);

/// `71.2 C`, `71,2°C`, `160F`, `-18 °C`: a temperature with its scale, to the hundredth. Nothing without a scale, below the absolute zero
/// or above 10,000 degrees.
std::optional<Degrees> parse_degrees(std::string_view text);

/// `65 %`, `0.5%` as an exact share of 1. Nothing without the percent sign, or outside 0..100.
std::optional<Share> parse_percent(std::string_view text);

/// `1.25 kg`, `450 g`, `0.35 g`: grams below 1 kg, kilograms from 1 kg on, exact, no trailing zeros.
std::string format_mass(Mass mass);
/// `71.2 °C`: in its own scale, at least one decimal, two only when the hundredths need them.
std::string format_degrees(Degrees degrees);

/// Lower-case letters of ASCII only; other bytes stay.
std::string ascii_lower(std::string_view text);
/// Without white space at either end.
std::string_view trimmed(std::string_view text);

/// NFC form of `text`, or nothing if it is not UTF-8 or holds U+0000.
std::optional<std::string> to_nfc(std::string_view text);

}  // namespace tierproof
