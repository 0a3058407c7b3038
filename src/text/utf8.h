#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace tierproof::text {

/// Where `bytes` stop being UTF-8 (RFC 3629: no overlong forms, no surrogates, nothing beyond U+10FFFF); nothing if they never do.
std::optional<std::size_t> first_not_utf8(std::string_view bytes);

/// 1-based line of byte `at`, counting line feeds.
int line_of(std::string_view bytes, std::size_t at);

/// Whether every byte is ASCII, and so UTF-8 in NFC.
bool is_ascii(std::string_view bytes);

/// Whether `bytes` are UTF-8, in NFC and without U+0000.
bool is_nfc(std::string_view bytes);

}  // namespace tierproof::text
