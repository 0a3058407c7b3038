#include "tierproof/text/csv.h"

#include <fmt/format.h>

#include <utility>

#include "tierproof/text/number.h"
#include "utf8.h"

namespace tierproof {
namespace {

/// Reads the rows one character at a time; `line_` is where the reading stands.
class Reader {
 public:
  Reader(std::string_view text, char delimiter, std::string file) : text_{text}, delimiter_{delimiter}, file_{std::move(file)} {}

  Result<std::vector<CsvRow>> read() {
    while (at_ < text_.size()) read_row();
    if (!refusals_.empty()) return std::move(refusals_);
    return std::move(rows_);
  }

 private:
  bool at_line_end() const {
    return at_ >= text_.size() || text_[at_] == '\n' || (text_[at_] == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n');
  }
  void pass_line_end() {
    if (at_ < text_.size() && text_[at_] == '\r') ++at_;
    if (at_ < text_.size()) ++at_;
    ++line_;
  }

  void read_row() {
    if (at_line_end()) return pass_line_end();  // a blank line
    CsvRow row;
    row.line = line_;
    while (true) {
      row.cells.push_back(at_ < text_.size() && text_[at_] == '"' ? quoted_cell(row.cells.size()) : plain_cell());
      if (at_line_end()) break;
      ++at_;  // the delimiter
    }
    pass_line_end();
    rows_.push_back(std::move(row));
  }

  std::string plain_cell() {
    const auto begin = at_;
    while (!at_line_end() && text_[at_] != delimiter_) ++at_;
    return std::string{text_.substr(begin, at_ - begin)};
  }

  std::string quoted_cell(std::size_t column) {
    const int opened = line_;
    std::string cell;
    for (++at_; at_ < text_.size(); ++at_) {
      const char c = text_[at_];
      if (c == '\n') ++line_;
      if (c != '"') {
        cell += c;
      } else if (at_ + 1 < text_.size() && text_[at_ + 1] == '"') {
        cell += '"';
        ++at_;
      } else {
        ++at_;
        if (!at_line_end() && text_[at_] != delimiter_) {
          refuse(line_, column, "text after a closing quote", "write \"\" for a quote inside a quoted cell");
          while (!at_line_end() && text_[at_] != delimiter_) ++at_;
        }
        return cell;
      }
    }
    refuse(opened, column, "a quote is not closed", "write \" at the end of the cell");
    return cell;
  }

  void refuse(int line, std::size_t column, std::string message, std::string remedy) {
    refusals_.push_back({file_, line, fmt::format("column {}", column + 1), std::move(message), std::move(remedy)});
  }

  std::string_view text_;
  char delimiter_;
  std::string file_;
  std::size_t at_ = 0;
  int line_ = 1;
  std::vector<CsvRow> rows_;
  Refusals refusals_;
};

/// Whether a spreadsheet would take `text` for a formula, were it not for the apostrophes before it.
bool needs_guard(std::string_view text) {
  const auto first = text.find_first_not_of('\'');
  return first != std::string_view::npos && std::string_view{"=+-@\t\r\n"}.find(text[first]) != std::string_view::npos;
}

void write_cell(std::string& out, std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
    out += text;
    return;
  }
  out += '"';
  for (const char c : text) out += c == '"' ? std::string{"\"\""} : std::string{c};
  out += '"';
}

}  // namespace

Result<std::vector<CsvRow>> parse_csv(std::string_view text, char delimiter, std::string_view file) {
  if (const auto bad = text::first_not_utf8(text)) {
    return Refusal{std::string{file}, text::line_of(text, *bad), "", fmt::format("byte {} is not UTF-8", *bad + 1),
                   "save the file as UTF-8"};
  }
  if (const auto nul = text.find('\0'); nul != std::string_view::npos) {
    return Refusal{std::string{file}, text::line_of(text, nul), "", fmt::format("byte {} is the character U+0000", nul + 1),
                   "save the file as UTF-8 text"};
  }
  if (text.substr(0, 3) == "\xef\xbb\xbf") text.remove_prefix(3);
  const auto normal = to_nfc(text);  // always a value after the two checks above
  return Reader{*normal, delimiter, std::string{file}}.read();
}

std::string guarded(std::string_view text) { return needs_guard(text) ? "'" + std::string{text} : std::string{text}; }

std::string unguarded(std::string_view text) { return std::string{text.starts_with('\'') && needs_guard(text) ? text.substr(1) : text}; }

std::string write_csv(const DataTable& table) {
  std::string out;
  const auto write_row = [&](const auto& cells, const auto& text) {
    const auto begin = out.size();
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (i > 0) out += ',';
      write_cell(out, text(cells[i]));
    }
    if (out.size() == begin) out += "\"\"";
    out += "\r\n";
  };
  write_row(table.headings, [](const std::string& heading) { return heading; });
  for (const auto& row : table.rows) {
    write_row(row, [](const DataCell& cell) {
      return std::holds_alternative<std::string>(cell) ? guarded(std::get<std::string>(cell)) : text_of(cell);
    });
  }
  return out;
}

}  // namespace tierproof
