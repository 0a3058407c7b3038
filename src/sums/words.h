#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace tierproof {

// Words of names, compared but for ASCII case. Bytes of a letter outside ASCII count as letters, so that a word is never cut inside one.

/// Small ASCII letters; blanks (also U+00A0) at the ends left out, several between as one; typographic hyphens as `-`.
std::string plain_words(std::string_view text);
/// The words of `text`, in small letters: `sugar-paste (white)` gives sugar, paste, white.
std::vector<std::string> words_of_name(std::string_view text);
/// Whether two words are one but for singular and plural: `orange`, `oranges`; `cherry`, `cherries`; `peach`, `peaches`.
bool same_but_for_number(std::string_view one, std::string_view other);
/// Where the words of `phrase` stand together in `words`, singular or plural; `words.size()` when they do not or `phrase` is empty.
std::size_t find_phrase(const std::vector<std::string>& words, const std::vector<std::string>& phrase);
/// Whether the words of `phrase` stand together in `text`.
bool has_words(std::string_view text, std::string_view phrase);
/// What of a wording stands before the names that it is about, and what behind them; all of it before them where it has no `{names}`.
struct AroundNames {
  std::string before;
  std::string after;
  bool has_names = false;
};
AroundNames around_names(std::string_view wording);
/// Edits (a letter put in, left out, changed, or two neighbours swapped) that part two texts, counted up to `most`; above it `most` + 1.
std::size_t edits_between(std::string_view one, std::string_view other, std::size_t most);

}  // namespace tierproof
