#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace tierproof {

/// Writes one JSON value piece by piece, numbers with fractions included, for people and scripts to read: two spaces of indent, members as
/// they are given. Never for what is hashed or recorded: that is `write_canonical`.
class JsonWriter {
 public:
  /// @param out  is given the text in pieces; all of it once the outermost value is closed
  explicit JsonWriter(std::function<void(std::string_view)> out) : out_{std::move(out)} {}

  JsonWriter& begin_object() { return open('{'); }
  JsonWriter& begin_array() { return open('['); }
  JsonWriter& end();  ///< of the object or array opened last
  /// Names what is written next, in an object. @pre printable ASCII
  JsonWriter& member(std::string_view name);
  /// The shortest text that reads back as the same number. @throws Fault 70 for NaN and infinity, which JSON cannot say
  JsonWriter& number(double value);
  /// Bytes that are not UTF-8 text are told as `?`; text comes in NFC.
  JsonWriter& text(std::string_view value);
  JsonWriter& boolean(bool value) { return value_of(value ? "true" : "false"); }
  JsonWriter& null() { return value_of("null"); }

 private:
  JsonWriter& open(char bracket);
  JsonWriter& value_of(std::string_view text);
  void place();
  void new_line();

  std::function<void(std::string_view)> out_;
  std::string held_;
  std::vector<char> open_;  ///< the brackets that will close what is open
  bool first_ = true;       ///< nothing stands yet in what was opened last
  bool named_ = false;
};

}  // namespace tierproof
