#include "rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "tierproof/text/number.h"

namespace tierproof {
namespace {

/// Windows-1252 from byte 0x80 to 0x9f (the Unicode Consortium's table CP1252.TXT); 0: no letter. All other bytes are their own number.
constexpr std::array<char16_t, 32> windows_1252_high{0x20ac, 0,      0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160,
                                                     0x2039, 0x0152, 0,      0x017d, 0,      0,      0x2018, 0x2019, 0x201c, 0x201d, 0x2022,
                                                     0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a, 0x0153, 0,      0x017e, 0x0178};

void append_utf8(std::string& out, char32_t c) {
  const auto byte = [&](char32_t bits) { out += static_cast<char>(static_cast<unsigned char>(bits)); };
  if (c < 0x80) {
    byte(c);
  } else if (c < 0x800) {
    byte(0xc0 | c >> 6);
    byte(0x80 | (c & 0x3f));
  } else if (c < 0x10000) {
    byte(0xe0 | c >> 12);
    byte(0x80 | (c >> 6 & 0x3f));
    byte(0x80 | (c & 0x3f));
  } else {
    byte(0xf0 | c >> 18);
    byte(0x80 | (c >> 12 & 0x3f));
    byte(0x80 | (c >> 6 & 0x3f));
    byte(0x80 | (c & 0x3f));
  }
}

constexpr const char* encoding_remedy = "set encoding in the column map, or export the file as UTF-8";

}  // namespace

void Decoder::refuse(std::string message, std::string remedy) {
  complaints_.refuse(line_, "", std::move(message), std::move(remedy));
  broken_ = true;
  ended_ = true;
}

bool Decoder::more(std::string& out) {
  if (ended_) return false;
  const std::string_view piece = next_();
  ended_ = piece.empty();
  if (!begun_) {
    kept_ += piece;
    if (kept_.size() < 3 && !ended_) return true;
    begun_ = true;
    look_for_mark();
    const std::string first = std::exchange(kept_, "");
    decode(first, ended_, out);
  } else {
    decode(piece, ended_, out);
  }
  return !ended_ || !out.empty();
}

void Decoder::look_for_mark() {
  const auto take = [&](std::string_view mark, TextEncoding means) {
    if (marked_ || !kept_.starts_with(mark)) return false;
    kept_.erase(0, mark.size());
    encoding_ = means;
    return marked_ = true;
  };
  take("\xef\xbb\xbf", TextEncoding::utf8);
  take("\xff\xfe", TextEncoding::utf16);
  big_endian_ = take("\xfe\xff", TextEncoding::utf16);
}

void Decoder::decode(std::string_view bytes, bool last, std::string& out) {
  switch (encoding_) {
    case TextEncoding::utf8:
      out += bytes;  // whether it is UTF-8 is asked cell by cell
      return;
    case TextEncoding::utf16:
      return decode_utf16(bytes, last, out);
    case TextEncoding::windows_1252:
      for (const char c : bytes) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte == '\n') ++line_;
        const char32_t letter = byte >= 0x80 && byte < 0xa0 ? windows_1252_high.at(byte - 0x80) : byte;
        if (letter == 0 && byte != 0) return refuse(fmt::format("the byte {:#04x} is no letter of Windows-1252", byte), encoding_remedy);
        append_utf8(out, letter);
      }
      return;
  }
}

void Decoder::decode_utf16(std::string_view bytes, bool last, std::string& out) {
  kept_ += bytes;
  std::size_t at = 0;
  const auto unit = [&](std::size_t begin) {
    const auto first = static_cast<unsigned char>(kept_[begin]);
    const auto second = static_cast<unsigned char>(kept_[begin + 1]);
    return static_cast<char32_t>(big_endian_ ? first << 8 | second : second << 8 | first);
  };
  while (kept_.size() - at >= 2) {
    char32_t letter = unit(at);
    std::size_t size = 2;
    if (letter >= 0xd800 && letter < 0xdc00) {
      if (kept_.size() - at < 4) break;
      const char32_t low = unit(at + 2);
      if (low < 0xdc00 || low >= 0xe000) return refuse("half a letter of UTF-16 stands alone", encoding_remedy);
      letter = 0x10000 + ((letter - 0xd800) << 10) + (low - 0xdc00);
      size = 4;
    } else if (letter >= 0xdc00 && letter < 0xe000) {
      return refuse("half a letter of UTF-16 stands alone", encoding_remedy);
    }
    if (letter == '\n') ++line_;
    append_utf8(out, letter);
    at += size;
  }
  kept_.erase(0, at);
  if (last && !kept_.empty()) refuse("the file ends within a letter, so it may be cut short", "export it again");
}

int RowReader::peek(std::size_t ahead) {
  while (at_ + ahead >= text_.size()) {
    text_.erase(0, at_);
    at_ = 0;
    if (!decoder_.more(text_)) return at_end;
  }
  return static_cast<unsigned char>(text_[at_ + ahead]);
}

bool RowReader::at_line_end() {
  const int c = peek();
  return c == at_end || c == '\n' || (c == '\r' && peek(1) == '\n');
}

void RowReader::pass_line_end() {
  if (peek() == '\r') ++at_;
  if (peek() != at_end) ++at_;
  ++line_;
}

bool RowReader::too_long(int line) {
  if (++row_bytes_ <= longest_row) return false;
  if (!stopped_)
    complaints_.refuse(line, "", "this row is longer than any logger writes",
                       "look for a quote that is not closed, or export the file again");
  return stopped_ = true;
}

void RowReader::read_plain(std::string& cell) {
  while (!at_line_end() && peek() != delimiter_ && !too_long(line_)) {
    cell += text_[at_];
    ++at_;
  }
}

/// Reads a cell in quotes; false when it is refused.
bool RowReader::read_quoted(std::string& cell, std::size_t column) {
  const int opened = line_;
  const auto refuse = [&](int line, std::string message, std::string remedy) {
    complaints_.refuse(line, fmt::format("column {}", column + 1), std::move(message), std::move(remedy));
    return false;
  };
  ++at_;
  while (true) {
    const int c = peek();
    if (c == at_end) return decoder_.broken() ? false : refuse(opened, "a quote is not closed", "write \" at the end of the cell");
    if (too_long(opened)) return false;
    ++at_;
    if (c == '\n') ++line_;
    if (c != '"') {
      cell += static_cast<char>(static_cast<unsigned char>(c));
    } else if (peek() == '"') {
      cell += '"';
      ++at_;
    } else {
      if (at_line_end() || peek() == delimiter_) return true;
      std::string rest;
      read_plain(rest);
      return refuse(line_, "text after a closing quote", "write \"\" for a quote inside a quoted cell");
    }
  }
}

/// NFC, cell by cell; refuses what is not UTF-8.
bool RowReader::in_usual_form(CsvRow& row) {
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    auto normal = to_nfc(row.cells[i]);
    if (!normal) {
      const bool nul = row.cells[i].find('\0') != std::string::npos;
      complaints_.refuse(row.line, fmt::format("column {}", i + 1), nul ? "holds the character U+0000" : "holds bytes that are not UTF-8",
                         encoding_remedy);
      return false;
    }
    row.cells[i] = std::move(*normal);
  }
  return true;
}

RowReader::Got RowReader::next(CsvRow& row) {
  if (stopped_) return Got::end;
  while (at_line_end()) {
    if (peek() == at_end) {
      stopped_ = true;
      return Got::end;
    }
    pass_line_end();  // a blank line
  }
  row.line = line_;
  row_bytes_ = 0;
  bool good = true;
  std::size_t count = 0;
  while (true) {
    if (row.cells.size() == count) row.cells.emplace_back();
    std::string& cell = row.cells[count++];
    cell.clear();
    if (peek() == '"') {
      good = read_quoted(cell, count - 1) && good;
    } else {
      read_plain(cell);
    }
    if (stopped_ || at_line_end()) break;
    ++at_;  // the delimiter
    if (too_long(row.line)) break;
  }
  row.cells.resize(count);
  if (stopped_) return Got::refused;
  if (peek() == at_end) {
    stopped_ = true;
    if (good && !decoder_.broken())
      complaints_.refuse(line_, "", "the last line is not ended, so the file may be cut short",
                         "export it again; if it is whole, end the last line with a line break");
    return Got::refused;
  }
  pass_line_end();
  return in_usual_form(row) && good ? Got::row : Got::refused;
}

}  // namespace tierproof
