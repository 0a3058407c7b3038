#include "table_reader.h"

#include <fmt/format.h>

#include <algorithm>

#include "tierproof/app/lists.h"
#include "tierproof/text/csv.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

struct Separator {
  char letter;
  const char* word;
};
constexpr Separator separators[] = {{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}};

std::string word_of_separator(char letter) {
  for (const auto& separator : separators) {
    if (separator.letter == letter) return separator.word;
  }
  return std::string{letter};
}

/// Every line that is not UTF-8 text, as a file that another program saved in its own alphabet.
Refusals check_letters(const GivenDocument& file) {
  const std::string_view text = file.text;
  if (text.starts_with("\xff\xfe") || text.starts_with("\xfe\xff"))
    return {{file.name, 1, "", "is saved as UTF-16 (\"Unicode text\")", "save it as CSV with the alphabet UTF-8"}};
  Refusals refusals;
  int line = 1;
  for (std::size_t begin = 0; begin < text.size(); ++line) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string_view words = text.substr(begin, end - begin);
    if (words.find('\0') != std::string_view::npos) {
      refusals.push_back({file.name, line, "", "holds the character U+0000", "save it as CSV with the alphabet UTF-8"});
    } else if (!to_nfc(words)) {
      refusals.push_back({file.name, line, "", "holds letters that are not UTF-8, as of a file saved as Windows-1252",
                          "save it as CSV with the alphabet UTF-8"});
    }
    begin = end + 1;
  }
  return refusals;
}

std::string heading_of(const std::string& cell) {
  std::string heading = ascii_lower(trimmed(cell));
  std::replace(heading.begin(), heading.end(), ' ', '_');
  return heading;
}

/// Columns that a list adds when it is saved: they tell how a row came into the records.
bool passed_over(const std::string& heading) {
  const auto& record = record_headings();
  return heading == "demo" || std::find(record.begin(), record.end(), heading) != record.end();
}

class TableReading {
 public:
  TableReading(const TableForm& form, const GivenDocument& file, char separator) : form_{form}, file_{file}, separator_{separator} {}

  Result<ReadTable> read() {
    if (auto letters = check_letters(file_); !letters.empty()) return letters;
    if (const auto other = other_separator()) return *other;
    const auto rows = parse_csv(file_.text, separator_, file_.name);
    if (!rows) return rows.error();
    if (rows->empty()) return Refusal{file_.name, 1, "", "holds nothing", "write a row of headings: " + headings()};
    read_headings(rows->front());
    if (!refusals_.empty()) return refusals_;
    for (std::size_t i = 1; i < rows->size(); ++i) read_row((*rows)[i]);
    if (table_.rows.empty() && refusals_.empty())
      return Refusal{file_.name, rows->front().line, "", "has no row below its headings", "write a row for each of the " + form_.name};
    table_.refusals = std::move(refusals_);
    return std::move(table_);
  }

 private:
  std::string headings() const {
    std::string all;
    for (const auto& column : form_.columns) {
      if (column.needed) all += (all.empty() ? "" : ", ") + column.heading;
    }
    return all;
  }

  /// What separates the headings, when it is not what was asked for. Looked at before anything is read: quotes end at a separator.
  std::optional<Refusal> other_separator() const {
    std::string_view text = file_.text;
    int line = 1;
    for (; text.starts_with('\n') || text.starts_with("\r\n"); ++line) text.remove_prefix(text.find('\n') + 1);
    const std::string_view first = text.substr(0, text.find('\n'));
    if (first.find(separator_) != std::string_view::npos) return std::nullopt;
    for (const auto& other : separators) {
      if (first.find(other.letter) == std::string_view::npos) continue;
      return Refusal{file_.name, line, "", fmt::format("has a {} between its columns, not a {}", other.word, word_of_separator(separator_)),
                     fmt::format("add --separator {}", other.word)};
    }
    return std::nullopt;
  }

  void read_headings(const CsvRow& row) {
    line_of_headings_ = row.line;
    table_.there.assign(form_.columns.size(), false);
    for (const auto& cell : row.cells) {
      const std::string heading = heading_of(cell);
      column_of_.push_back(std::nullopt);
      if (heading.empty() || passed_over(heading)) {
        passed_.push_back(!heading.empty());
        continue;
      }
      passed_.push_back(false);
      const auto found =
          std::find_if(form_.columns.begin(), form_.columns.end(), [&](const TableColumn& column) { return column.heading == heading; });
      if (found == form_.columns.end()) {
        refuse(row.line, heading, fmt::format("is not a heading of {}", form_.name), "use these: " + all_headings());
        continue;
      }
      const auto index = static_cast<std::size_t>(found - form_.columns.begin());
      if (table_.there[index]) refuse(row.line, heading, "stands twice", "keep one column of it");
      table_.there[index] = true;
      column_of_.back() = index;
    }
    for (std::size_t i = 0; i < form_.columns.size(); ++i) {
      if (form_.columns[i].needed && !table_.there[i])
        refuse(row.line, form_.columns[i].heading, "this heading is missing", "add the column: " + form_.columns[i].holds);
    }
  }

  std::string all_headings() const {
    std::string all;
    for (const auto& column : form_.columns) all += (all.empty() ? "" : ", ") + column.heading;
    return all;
  }

  void read_row(const CsvRow& row) {
    if (std::all_of(row.cells.begin(), row.cells.end(), [](const std::string& cell) { return trimmed(cell).empty(); })) return;
    ReadRow read{row.line, std::vector<std::string>(form_.columns.size())};
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const std::string cell{trimmed(row.cells[i])};
      if (i < column_of_.size() && column_of_[i]) {
        read.cells[*column_of_[i]] = unguarded(cell);
      } else if (!cell.empty() && (i >= passed_.size() || !passed_[i])) {
        refuse(row.line, fmt::format("column {}", i + 1), fmt::format("\"{}\" stands under no heading", cell),
               fmt::format("give the column a heading in line {}, or put the text in quotes if a {} belongs to it", line_of_headings_,
                           word_of_separator(separator_)));
      }
    }
    table_.rows.push_back(std::move(read));
  }

  void refuse(int line, std::string column, std::string message, std::string remedy) {
    refusals_.push_back({file_.name, line, std::move(column), std::move(message), std::move(remedy)});
  }

  const TableForm& form_;
  const GivenDocument& file_;
  char separator_;
  int line_of_headings_ = 1;
  std::vector<std::optional<std::size_t>> column_of_;  ///< by the place in the file
  std::vector<bool> passed_;                           ///< by the place in the file: has a heading, but is passed over
  ReadTable table_;
  Refusals refusals_;
};

}  // namespace

Result<ReadTable> read_table(const TableForm& form, const GivenDocument& file, char separator) {
  return TableReading{form, file, separator}.read();
}

}  // namespace tierproof
