#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "tierproof/units/result.h"

namespace tierproof {

/// A JSON value of the kind that tierproof reads and writes: no fractions, whole numbers within ±(2^53−1), ASCII keys, NFC text.
/// Knows the line it was read from (0 when it was made in the program).
class Json {
 public:
  using Array = std::vector<Json>;
  using Object = std::map<std::string, Json, std::less<>>;

  Json() = default;
  Json(std::nullptr_t) {}
  Json(bool value) : held_{value} {}
  Json(int value) : held_{static_cast<std::int64_t>(value)} {}
  Json(std::int64_t value) : held_{value} {}
  Json(const char* text) : held_{std::string{text}} {}
  Json(std::string text) : held_{std::move(text)} {}
  Json(std::string_view text) : held_{std::string{text}} {}
  Json(Array items) : held_{std::move(items)} {}
  Json(Object members) : held_{std::move(members)} {}

  bool is_null() const { return std::holds_alternative<std::nullptr_t>(held_); }
  bool is_bool() const { return std::holds_alternative<bool>(held_); }
  bool is_integer() const { return std::holds_alternative<std::int64_t>(held_); }
  bool is_text() const { return std::holds_alternative<std::string>(held_); }
  bool is_array() const { return std::holds_alternative<Array>(held_); }
  bool is_object() const { return std::holds_alternative<Object>(held_); }

  /// @pre the value is of that kind
  bool boolean() const { return std::get<bool>(held_); }
  std::int64_t integer() const { return std::get<std::int64_t>(held_); }
  const std::string& text() const { return std::get<std::string>(held_); }
  const Array& array() const { return std::get<Array>(held_); }
  Array& array() { return std::get<Array>(held_); }
  const Object& object() const { return std::get<Object>(held_); }
  Object& object() { return std::get<Object>(held_); }
  /// The member called `key`, or nothing. @pre is_object()
  const Json* find(std::string_view key) const;
  /// The member called `key`, made null when it is not there yet; a null value becomes an object first.
  Json& operator[](std::string_view key);

  int line() const { return line_; }
  void set_line(int line) { line_ = line; }

  /// Same value; the lines do not count.
  friend bool operator==(const Json& a, const Json& b) { return a.held_ == b.held_; }

 private:
  std::variant<std::nullptr_t, bool, std::int64_t, std::string, Array, Object> held_ = nullptr;
  int line_ = 0;
};

/// The one gate through which JSON text comes in.
///
/// Refuses, each with its line: bytes that are not UTF-8, text not in NFC, U+0000, lone surrogates, keys that are not printable
/// ASCII, a key given twice in one object, fractions and exponents, whole numbers beyond ±9007199254740991, nesting deeper than
/// 64, anything after the value, a byte order mark, -0, and whatever RFC 8259 refuses. All refusals come together, in order of lines,
/// unless the bytes are not UTF-8, a text is not closed or the nesting is too deep: there it stops.
/// @param text  the whole document
/// @param file  its name, for refusals
Result<Json> parse_json(std::string_view text, std::string_view file);

/// The canonical text of `value` (RFC 8785): members by key, no spaces, the shortest escapes. Equal values give equal bytes.
/// @throws Fault 70 if `parse_json` would refuse the text: a number too large, text that is not NFC, a key that is not printable ASCII,
///         nesting deeper than 64. What a person types goes through `to_nfc` first.
std::string write_canonical(const Json& value);

/// The same value for people to read: two spaces of indent, members by key, a line feed at the end.
std::string write_pretty(const Json& value);

}  // namespace tierproof
