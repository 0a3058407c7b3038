#include "tierproof/text/folded_words.h"

#include <utf8proc.h>

#include <cstdlib>
#include <memory>

#include "utf8.h"

namespace tierproof {
namespace {

bool in_a_word(utf8proc_int32_t point) {
  const auto category = utf8proc_category(point);
  return (category >= UTF8PROC_CATEGORY_LU && category <= UTF8PROC_CATEGORY_NO);  // L*, M*, N*
}

}  // namespace

std::vector<std::string> folded_words(std::string_view text) {
  if (text::first_not_utf8(text)) return {};
  utf8proc_uint8_t* mapped = nullptr;
  const auto length = utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(text.data()), static_cast<utf8proc_ssize_t>(text.size()),
                                   &mapped, static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_COMPOSE | UTF8PROC_CASEFOLD));
  const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> owner{mapped, &std::free};
  if (length < 0) return {};
  std::vector<std::string> words;
  bool inside = false;
  for (utf8proc_ssize_t at = 0; at < length;) {
    utf8proc_int32_t point = 0;
    const auto used = utf8proc_iterate(mapped + at, length - at, &point);
    if (used <= 0) return {};
    if (in_a_word(point)) {
      if (!inside) words.emplace_back();
      words.back().append(reinterpret_cast<const char*>(mapped + at), static_cast<std::size_t>(used));
      inside = true;
    } else {
      inside = false;
    }
    at += used;
  }
  return words;
}

std::size_t length_of_word(std::string_view word) {
  std::size_t length = 0;
  for (const char c : word) length += (static_cast<unsigned char>(c) & 0xC0U) != 0x80 ? 1 : 0;
  return length;
}

}  // namespace tierproof
