#include "tierproof/text/json_writer.h"

#include <fmt/format.h>

#include <cmath>

#include "tierproof/text/json.h"
#include "tierproof/text/number.h"

namespace tierproof {

void JsonWriter::new_line() {
  held_ += '\n';
  held_.append(2 * open_.size(), ' ');
}

/// Comma, line and indent before a value or a member.
void JsonWriter::place() {
  if (std::exchange(named_, false) || open_.empty()) return;
  if (!first_) held_ += ',';
  new_line();
}

JsonWriter& JsonWriter::value_of(std::string_view text) {
  place();
  held_ += text;
  first_ = false;
  if (open_.empty()) held_ += '\n';
  if (open_.empty() || held_.size() > 1 << 16) {
    out_(held_);
    held_.clear();
  }
  return *this;
}

JsonWriter& JsonWriter::open(char bracket) {
  place();
  held_ += bracket;
  open_.push_back(bracket == '{' ? '}' : ']');
  first_ = true;
  return *this;
}

JsonWriter& JsonWriter::end() {
  const std::string closing(1, open_.back());
  open_.pop_back();
  if (!first_) new_line();
  named_ = true;  // the bracket stands where it is
  return value_of(closing);
}

JsonWriter& JsonWriter::member(std::string_view name) {
  place();
  held_ += write_canonical(Json{name}) + ": ";
  named_ = true;
  return *this;
}

JsonWriter& JsonWriter::number(double value) {
  if (!std::isfinite(value)) throw Fault{exit_status::our_bug, "JSON has no word for a number that is not finite"};
  return value_of(fmt::format("{}", value == 0 ? 0.0 : value));  // never -0
}

JsonWriter& JsonWriter::text(std::string_view value) {
  if (const auto normal = to_nfc(value)) return value_of(write_canonical(Json{*normal}));
  std::string told;
  for (const char c : value) told += static_cast<unsigned char>(c) < 0x80 && c != '\0' ? c : '?';
  return value_of(write_canonical(Json{told}));
}

}  // namespace tierproof
