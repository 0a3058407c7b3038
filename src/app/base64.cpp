#include "base64.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace tierproof {
namespace {

constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

constexpr std::array<std::int8_t, 256> values_of_letters() {
  std::array<std::int8_t, 256> values{};
  values.fill(-1);
  for (std::size_t i = 0; i < letters.size(); ++i) values[static_cast<unsigned char>(letters[i])] = static_cast<std::int8_t>(i);
  return values;
}

}  // namespace

std::string to_base64(std::string_view bytes) {
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t at = 0; at < bytes.size(); at += 3) {
    const std::size_t count = std::min<std::size_t>(3, bytes.size() - at);
    std::uint32_t group = 0;
    for (std::size_t i = 0; i < 3; ++i) group = group << 8 | (i < count ? static_cast<unsigned char>(bytes[at + i]) : 0u);
    for (std::size_t i = 0; i < 4; ++i) out += i <= count ? letters[group >> (18 - 6 * i) & 63] : '=';
  }
  return out;
}

std::optional<std::string> from_base64(std::string_view text) {
  static constexpr auto values = values_of_letters();
  if (text.size() % 4 != 0) return std::nullopt;
  const std::size_t padding = text.ends_with("==") ? 2 : text.ends_with('=') ? 1 : 0;
  std::string out;
  out.reserve(text.size() / 4 * 3);
  for (std::size_t at = 0; at < text.size(); at += 4) {
    const std::size_t filled = at + 4 == text.size() ? 4 - padding : 4;
    std::uint32_t group = 0;
    for (std::size_t i = 0; i < 4; ++i) {
      const auto value = i < filled ? values[static_cast<unsigned char>(text[at + i])] : std::int8_t{0};
      if (value < 0) return std::nullopt;
      group = group << 6 | static_cast<std::uint32_t>(value);
    }
    for (std::size_t i = 0; i + 1 < filled; ++i) out += static_cast<char>(group >> (16 - 8 * i) & 0xff);
    const std::uint32_t unused = filled == 4 ? 0 : filled == 3 ? group & 0xff : group & 0xffff;
    if (unused != 0) return std::nullopt;
  }
  return out;
}

}  // namespace tierproof
