#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tierproof {

/// The words of `text` to compare by: runs of letters, their marks and digits, in full case folding and NFC (Unicode Standard,
/// section 3.13; UAX #15). Hyphens, apostrophes and all other signs part words, so `Ada's` holds `ada`. Empty if `text` is not UTF-8.
std::vector<std::string> folded_words(std::string_view text);

/// Letters, marks and digits of a word. @pre it is UTF-8
std::size_t length_of_word(std::string_view word);

}  // namespace tierproof
