#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "tierproof/text/json.h"
#include "utf8.h"

namespace tierproof {
namespace {

constexpr std::int64_t largest_integer = 9007199254740991;  // 2^53 - 1, RFC 7493 section 2.2
constexpr int deepest = 64;

/// A value that the gate would not let back in must not be hashed: that is our bug, and a wrong leaf can never be taken back.
[[noreturn]] void bug(const std::string& what) { throw Fault{exit_status::our_bug, "canonical JSON: " + what}; }

/// RFC 8785 section 3.2.2.2: the two-character escapes where there are any, \u00xx in lower case for other controls, else as it is.
void write_text(std::string& out, std::string_view text) {
  if (!text::is_nfc(text)) bug(fmt::format("\"{}\" is not UTF-8 text in NFC without U+0000", text));
  out += '"';
  for (const char c : text) {
    switch (c) {
      case '"':
        out += "\\\"";
        break;
      case '\\':
        out += "\\\\";
        break;
      case '\b':
        out += "\\b";
        break;
      case '\t':
        out += "\\t";
        break;
      case '\n':
        out += "\\n";
        break;
      case '\f':
        out += "\\f";
        break;
      case '\r':
        out += "\\r";
        break;
      default:
        if (static_cast<unsigned char>(c) < 0x20) {
          fmt::format_to(std::back_inserter(out), "\\u{:04x}", static_cast<unsigned>(c));
        } else {
          out += c;
        }
    }
  }
  out += '"';
}

void write_key(std::string& out, std::string_view key) {
  if (!std::all_of(key.begin(), key.end(), [](char c) { return c >= 0x20 && c < 0x7f; })) {
    bug(fmt::format("the key \"{}\" is not printable ASCII", key));
  }
  write_text(out, key);
}

/// Writes values with or without white space; everything else is the same.
class Writer {
 public:
  Writer(std::string& out, bool pretty) : out_{out}, pretty_{pretty} {}

  void write(const Json& value, int depth) {
    if (value.is_null()) {
      out_ += "null";
    } else if (value.is_bool()) {
      out_ += value.boolean() ? "true" : "false";
    } else if (value.is_integer()) {
      if (value.integer() > largest_integer || value.integer() < -largest_integer) bug(fmt::format("{} is too large", value.integer()));
      fmt::format_to(std::back_inserter(out_), "{}", value.integer());
    } else if (value.is_text()) {
      write_text(out_, value.text());
    } else {
      if (depth == deepest) bug("nested deeper than 64");
      if (value.is_array()) {
        write_array(value.array(), depth + 1);
      } else {
        write_object(value.object(), depth + 1);
      }
    }
  }

 private:
  void write_array(const Json::Array& items, int depth) {
    out_ += '[';
    bool first = true;
    for (const auto& item : items) {
      next(first, depth);
      write(item, depth);
    }
    close(items.empty(), depth, ']');
  }

  /// Keys are ASCII, so the byte order of the map is the order by UTF-16 code units that RFC 8785 section 3.2.3 asks for.
  void write_object(const Json::Object& members, int depth) {
    out_ += '{';
    bool first = true;
    for (const auto& [key, value] : members) {
      next(first, depth);
      write_key(out_, key);
      out_ += pretty_ ? ": " : ":";
      write(value, depth);
    }
    close(members.empty(), depth, '}');
  }

  void next(bool& first, int depth) {
    if (!first) out_ += ',';
    first = false;
    indent(depth);
  }
  void close(bool empty, int depth, char bracket) {
    if (!empty) indent(depth - 1);
    out_ += bracket;
  }
  void indent(int depth) {
    if (!pretty_) return;
    out_ += '\n';
    out_.append(static_cast<std::size_t>(depth) * 2, ' ');
  }

  std::string& out_;
  bool pretty_;
};

}  // namespace

std::string write_canonical(const Json& value) {
  std::string out;
  Writer{out, false}.write(value, 0);
  return out;
}

std::string write_pretty(const Json& value) {
  std::string out;
  Writer{out, true}.write(value, 0);
  out += '\n';
  return out;
}

}  // namespace tierproof
