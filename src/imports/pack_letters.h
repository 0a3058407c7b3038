#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tierproof {

/// Text of a pack on one line: each byte with the line it came from, and whether the pack makes it stand out.
class PackLetters {
 public:
  /// Joins the lines of `text`, takes away its asterisks, and puts a point before a line that begins a sentence with one of `starts`.
  static PackLetters of(std::string_view text, const std::vector<std::string>& starts);

  const std::string& text() const { return text_; }
  std::size_t size() const { return text_.size(); }
  char operator[](std::size_t at) const { return text_[at]; }
  int line(std::size_t at) const { return lines_.empty() ? 1 : lines_[at < lines_.size() ? at : lines_.size() - 1]; }
  /// Whether there are capitals and no small letter: then capitals mean nothing.
  bool all_capitals() const;
  /// The text from one place to another, without the halves of characters at its ends.
  std::string whole_characters(std::size_t from, std::size_t to) const;

  void take(const PackLetters& other, std::size_t at);
  void add(std::string_view text, int line);
  void cut(std::size_t from, std::size_t to);
  /// Without blanks at the ends.
  void trim();
  /// The same, and several blanks as one.
  void squeeze();
  /// A capital at the beginning that a small letter follows becomes small.
  void small_first();
  /// The words that stand out, in small letters and those in capitals made small in the text itself; neighbours together.
  std::vector<std::string> take_marks(bool capitals_mean_nothing);

 private:
  void put(char c, int line, bool marked);
  std::string text_;
  std::vector<int> lines_;
  std::vector<bool> marked_;
};

}  // namespace tierproof
