#pragma once

#include <cstddef>
#include <string>
#include <unordered_map>
#include <vector>

#include "tierproof/papers/document.h"

namespace tierproof::papers {

/// What cannot be broken: characters [first, last) and the spaces that follow up to `next`.
struct Atom {
  std::size_t first = 0;
  std::size_t last = 0;
  std::size_t next = 0;
  bool ends_line = false;  ///< a line feed follows
};

/// What no type size changes about the words of a paragraph.
struct Shape {
  bool settable = false;  ///< `check_text` refuses none of its runs; the rest is empty where it does
  std::u32string characters;
  std::vector<std::size_t> ends;  ///< of each run: how many characters stand up to there
  std::vector<Atom> atoms;
};

/// The fonts, with what was found out about words while one paper is laid out: the same words are set again to learn widths and page
/// numbers, and in other sizes until they fit. For one thread.
class TypeCase {
 public:
  explicit TypeCase(const Fonts& fonts) : fonts_{fonts} {}

  const Fonts& fonts() const { return fonts_; }
  /// Stays where it is as long as the type case does.
  const Shape& shape_of(const Paragraph& paragraph);

 private:
  const Fonts& fonts_;
  std::unordered_map<std::string, Shape> shapes_;  ///< by face, length and words of each run
  std::string key_;
};

}  // namespace tierproof::papers
