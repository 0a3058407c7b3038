#pragma once

#include "tierproof/text/json.h"

namespace tierproof {

/// As `parse_json`, for a file of figures that programs wrote: a number with a fraction or an exponent becomes a text of what was written,
/// `0.23`, for `parse_finite`. Notes, rules and plans never come in this way.
Result<Json> parse_json_with_fractions(std::string_view text, std::string_view file);

}  // namespace tierproof
