#pragma once

#include <string>
#include <string_view>

#include "complaints.h"
#include "tierproof/imports/logger_file.h"
#include "tierproof/text/csv.h"

namespace tierproof {

/// Turns the bytes of a file into UTF-8, piece by piece. A byte order mark outweighs the encoding that was stated.
class Decoder {
 public:
  Decoder(NextPiece next, TextEncoding stated, Complaints& complaints)
      : next_{std::move(next)}, encoding_{stated}, complaints_{complaints} {}

  /// Appends some more text to `out`; false at the end of the file, or at the first byte that is not of the encoding (which is refused).
  bool more(std::string& out);
  TextEncoding encoding() const { return encoding_; }
  bool marked() const { return marked_; }
  /// Refused something, so that the end that it told is not the end of the file.
  bool broken() const { return broken_; }

 private:
  void look_for_mark();
  void decode(std::string_view bytes, bool last, std::string& out);
  void decode_utf16(std::string_view bytes, bool last, std::string& out);
  void refuse(std::string message, std::string remedy);

  NextPiece next_;
  TextEncoding encoding_;
  Complaints& complaints_;
  std::string kept_;  ///< bytes that need those behind them: a mark not yet told, half a UTF-16 unit or pair
  bool begun_ = false;
  bool ended_ = false;
  bool marked_ = false;
  bool broken_ = false;
  bool big_endian_ = false;
  int line_ = 1;
};

/// Reads the rows of delimited text one at a time (RFC 4180 quoting, LF or CRLF; blank lines are passed over). Cells come in NFC.
class RowReader {
 public:
  RowReader(NextPiece next, TextEncoding encoding, char delimiter, Complaints& complaints)
      : decoder_{std::move(next), encoding, complaints}, delimiter_{delimiter}, complaints_{complaints} {}

  enum class Got { row, refused, end };
  /// Reads the next row into `row`. `refused`: this row does not count, and the complaint is made.
  Got next(CsvRow& row);
  const Decoder& decoder() const { return decoder_; }
  std::size_t held_bytes() const { return text_.capacity(); }

 private:
  static constexpr std::size_t longest_row = 1 << 20;
  static constexpr int at_end = -1;

  int peek(std::size_t ahead = 0);
  bool at_line_end();
  void pass_line_end();
  void read_plain(std::string& cell);
  bool read_quoted(std::string& cell, std::size_t column);
  bool too_long(int line);
  bool in_usual_form(CsvRow& row);

  Decoder decoder_;
  char delimiter_;
  Complaints& complaints_;
  std::string text_;  ///< decoded and not yet read from `at_` on
  std::size_t at_ = 0;
  std::size_t row_bytes_ = 0;
  int line_ = 1;
  bool stopped_ = false;
};

}  // namespace tierproof
