#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace tierproof {

using Digest = std::array<std::uint8_t, 32>;

/// SHA-256 of `bytes` (FIPS 180-4).
Digest sha256(std::string_view bytes);
/// HMAC-SHA-256 (RFC 2104) of `bytes` under a key of 32 bytes.
Digest hmac_sha256(const Digest& key, std::string_view bytes);
std::string to_hex(std::span<const std::uint8_t> bytes);
/// 64 hexadecimal digits, either case.
std::optional<Digest> digest_from_hex(std::string_view hex);

}  // namespace tierproof
