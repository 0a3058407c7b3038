#pragma once

#include <boost/multiprecision/cpp_int.hpp>
#include <cstdint>
#include <string>

namespace tierproof {

/// An exact fraction. Amounts, shares and thresholds are compared as fractions; only papers round.
using Share = boost::multiprecision::cpp_rational;

/// `share_of(2, 100)` is 2 %. Denominator must not be 0.
inline Share share_of(std::int64_t numerator, std::int64_t denominator) { return Share{numerator, denominator}; }

/// Nearest double, for drawing and for models that are themselves approximate. Never for a threshold.
inline double to_double(const Share& share) { return share.convert_to<double>(); }

/// Decimal text of `share`, rounded half up at `places` (0..9): `format_decimal(1/3, 2)` is `0.33`.
std::string format_decimal(const Share& share, int places);
/// A decimal text without zeros at the end of its fraction: `12.50` is `12.5`, `5.00` is `5`, `50` stays.
std::string short_decimal(std::string decimal);

}  // namespace tierproof
