#include "utf8.h"

#include <utf8proc.h>

#include <algorithm>
#include <cstdlib>
#include <memory>

#include "tierproof/text/number.h"

namespace tierproof {
namespace text {

std::optional<std::size_t> first_not_utf8(std::string_view bytes) {
  const auto* data = reinterpret_cast<const utf8proc_uint8_t*>(bytes.data());
  std::size_t at = 0;
  while (at < bytes.size()) {
    if (data[at] < 0x80) {
      ++at;
      continue;
    }
    utf8proc_int32_t point = 0;
    const auto length = utf8proc_iterate(data + at, static_cast<utf8proc_ssize_t>(bytes.size() - at), &point);
    if (length <= 0) return at;
    at += static_cast<std::size_t>(length);
  }
  return std::nullopt;
}

int line_of(std::string_view bytes, std::size_t at) {
  return 1 + static_cast<int>(std::count(bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(std::min(at, bytes.size())), '\n'));
}

bool is_ascii(std::string_view bytes) {
  return std::all_of(bytes.begin(), bytes.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

bool is_nfc(std::string_view bytes) {
  if (bytes.find('\0') != std::string_view::npos) return false;
  if (is_ascii(bytes)) return true;
  const auto normal = to_nfc(bytes);
  return normal && *normal == bytes;
}

}  // namespace text

std::optional<std::string> to_nfc(std::string_view text) {
  if (text.find('\0') != std::string_view::npos) return std::nullopt;
  if (text::is_ascii(text)) return std::string{text};
  if (text::first_not_utf8(text)) return std::nullopt;
  utf8proc_uint8_t* mapped = nullptr;
  const auto length = utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(text.data()), static_cast<utf8proc_ssize_t>(text.size()),
                                   &mapped, static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_COMPOSE));
  const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> owner{mapped, &std::free};
  if (length < 0) return std::nullopt;
  return std::string{reinterpret_cast<const char*>(mapped), static_cast<std::size_t>(length)};
}

}  // namespace tierproof
