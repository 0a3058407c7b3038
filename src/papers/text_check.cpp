#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>
#include <cassert>
#include <cstdlib>
#include <memory>
#include <set>

#include "tierproof/papers/font.h"

namespace tierproof {
namespace {

const utf8proc_uint8_t* bytes_of(std::string_view text) { return reinterpret_cast<const utf8proc_uint8_t*>(text.data()); }

/// The next character at `at` and its length in bytes; a length of 0 says that the bytes are not UTF-8.
std::size_t next_character(std::string_view text, std::size_t at, char32_t& character) {
  utf8proc_int32_t point = 0;
  const auto length = utf8proc_iterate(bytes_of(text) + at, static_cast<utf8proc_ssize_t>(text.size() - at), &point);
  if (length <= 0) return 0;
  character = static_cast<char32_t>(point);
  return static_cast<std::size_t>(length);
}

/// The text in NFC, or nothing where utf8proc cannot tell.
std::string in_nfc(std::string_view text) {
  utf8proc_uint8_t* raw = nullptr;
  const auto options = static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_COMPOSE);
  const auto length = utf8proc_map(bytes_of(text), static_cast<utf8proc_ssize_t>(text.size()), &raw, options);
  const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> held{raw, &std::free};
  if (length < 0) return {};
  return {reinterpret_cast<const char*>(raw), static_cast<std::size_t>(length)};
}

/// Text of characters below this one is in NFC: Unicode Standard Annex 15, NFC_Quick_Check is Yes for all of them.
constexpr char32_t first_combining = 0x300;

/// Letters, figures, marks and spaces of Latin: no control, formatting or combining character, which `trouble_with` looks up.
constexpr bool is_plain(char32_t c) { return (c >= U' ' && c <= U'~') || (c >= 0xA0 && c < first_combining && c != 0xAD); }

std::string number_of(char32_t character) { return fmt::format("U+{:04X}", static_cast<std::uint32_t>(character)); }

/// Why `character` cannot be set, or nothing.
struct Trouble {
  std::string message;
  std::string remedy;
};
Trouble trouble_with(char32_t character, Face face, const Fonts& fonts) {
  switch (utf8proc_category(static_cast<utf8proc_int32_t>(character))) {
    case UTF8PROC_CATEGORY_CC:
      return {number_of(character) + " is a control character, not a letter", "take it out, or write a space"};
    case UTF8PROC_CATEGORY_CF:
    case UTF8PROC_CATEGORY_ZL:
    case UTF8PROC_CATEGORY_ZP:
      return {number_of(character) + " is an invisible formatting character", "take it out"};
    case UTF8PROC_CATEGORY_MN:
    case UTF8PROC_CATEGORY_MC:
    case UTF8PROC_CATEGORY_ME:
      return {number_of(character) + " is an accent that cannot be placed on its letter",
              "write the accented letter as one character, or without the accent"};
    default:
      break;
  }
  if (fonts.covers(face, character)) return {};
  const std::u32string one{character};
  return {fmt::format("{} ({}) has no glyph in {}", number_of(character), utf8_of(one), fonts.of(face).name),
          "write it in Latin, Greek or Cyrillic letters, or leave it out"};
}

}  // namespace

std::u32string characters_of(std::string_view text) {
  std::u32string characters;
  characters.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    if (const auto byte = static_cast<unsigned char>(text[at]); byte < 0x80) {  // a character of its own
      characters.push_back(byte);
      ++at;
      continue;
    }
    char32_t character = 0;
    const std::size_t length = next_character(text, at, character);
    assert(length > 0);
    if (length == 0) break;
    characters.push_back(character);
    at += length;
  }
  return characters;
}

std::string utf8_of(std::u32string_view characters) {
  std::string text;
  text.reserve(characters.size());
  for (const char32_t character : characters) {
    if (character < 0x80) {
      text += static_cast<char>(character);
      continue;
    }
    utf8proc_uint8_t bytes[4];
    const auto length = utf8proc_encode_char(static_cast<utf8proc_int32_t>(character), bytes);
    text.append(reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(length));
  }
  return text;
}

Refusals check_text(std::string_view text, Face face, const Fonts& fonts, std::string_view field) {
  Refusals refusals;
  const auto refuse = [&](std::string message, std::string remedy) {
    refusals.push_back(Refusal{"", 0, std::string{field}, std::move(message), std::move(remedy)});
  };
  std::set<char32_t> refused;
  char32_t highest = 0;
  for (std::size_t at = 0; at < text.size();) {
    const auto byte = static_cast<unsigned char>(text[at]);
    if (byte < 0x80 && is_plain(byte) && fonts.covers(face, byte)) {
      ++at;
      continue;
    }
    char32_t character = 0;
    const std::size_t length = next_character(text, at, character);
    if (length == 0) {
      refuse(fmt::format("byte {} (0x{:02X}) is not UTF-8", at + 1, static_cast<unsigned char>(text[at])), "save the text as UTF-8");
      return refusals;
    }
    at += length;
    highest = std::max(highest, character);
    if (character == U'\n' || (is_plain(character) && fonts.covers(face, character)) || refused.contains(character)) continue;
    Trouble trouble = trouble_with(character, face, fonts);
    if (trouble.message.empty()) continue;
    refused.insert(character);
    refuse(std::move(trouble.message), std::move(trouble.remedy));
  }
  if (highest >= first_combining && in_nfc(text) != text)
    refuse("is not in Unicode's composed form (NFC), so the same word would not be found again", "normalise the text to NFC");
  return refusals;
}

}  // namespace tierproof
