#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace tierproof {

/// RFC 4648 section 4, with padding and without line breaks.
std::string to_base64(std::string_view bytes);
/// Nothing for a text that `to_base64` would not have written.
std::optional<std::string> from_base64(std::string_view text);

}  // namespace tierproof
