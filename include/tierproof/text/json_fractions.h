#pragma once

#include <optional>

#include "tierproof/text/json.h"

namespace tierproof {

/// As `parse_json`, for a file of figures that programs wrote: a number with a fraction or an exponent becomes a text of what was written,
/// `0.23`, for `parse_finite`. Notes, rules and plans never come in this way.
Result<Json> parse_json_with_fractions(std::string_view text, std::string_view file);

/// As `parse_json`, for a document of others in which a number is something else than a text with digits in it: a number with a fraction or
/// an exponent becomes a value that no text in JSON can be read as, for `number_of`.
Result<Json> parse_json_with_numbers(std::string_view text, std::string_view file);
/// The number that `value` of `parse_json_with_numbers` is, whole or not; nothing if it is none, or one beyond what a double holds.
std::optional<double> number_of(const Json& value);

}  // namespace tierproof
