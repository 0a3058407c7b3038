#include "tierproof/papers/spreadsheet.h"

#include <fmt/format.h>
#include <sys/mman.h>
#include <unistd.h>
#include <xlsxwriter.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <memory>

#include "tierproof/units/result.h"

namespace tierproof {
namespace {

constexpr std::size_t rows_of_a_sheet = 1'048'575;  // below the header row; ECMA-376 workbooks hold 1,048,576
constexpr std::size_t narrowest = 8;
constexpr std::size_t widest = 60;

void need(lxw_error error, const std::string& doing) {
  if (error != LXW_NO_ERROR)
    throw Fault{exit_status::cannot_create, fmt::format("the workbook: {} failed ({}); write it as CSV", doing, lxw_strerror(error))};
}

/// A file that only lives in memory: the library writes to a path.
class MemoryFile {
 public:
  MemoryFile() : file_{::memfd_create("workbook", MFD_CLOEXEC)} {
    if (file_ < 0) throw Fault{exit_status::cannot_create, fmt::format("the workbook: no room for it ({})", std::strerror(errno))};
  }
  ~MemoryFile() { ::close(file_); }
  MemoryFile(const MemoryFile&) = delete;
  MemoryFile& operator=(const MemoryFile&) = delete;

  std::string path() const { return fmt::format("/proc/self/fd/{}", file_); }
  std::string bytes() const {
    std::string all;
    char part[65536];
    for (off_t at = 0;;) {
      const ssize_t got = ::pread(file_, part, sizeof part, at);
      if (got < 0) throw Fault{exit_status::io, fmt::format("the workbook: reading it back failed ({})", std::strerror(errno))};
      if (got == 0) return all;
      all.append(part, static_cast<std::size_t>(got));
      at += got;
    }
  }

 private:
  int file_;
};

std::size_t letters_in(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

struct Formats {
  lxw_format* heading;
  lxw_format* day;
  lxw_format* moment;
  lxw_format* fine_moment;
};

lxw_datetime date_of_day(Date day) {
  return {int{day.year()}, static_cast<int>(unsigned{day.month()}), static_cast<int>(unsigned{day.day()}), 0, 0, 0};
}

/// Whether the spreadsheet's own dates reach back to `day`.
bool can_be_a_date(Date day) { return day.year() >= std::chrono::year{1900} && day.year() <= std::chrono::year{9999}; }

/// Writes one cell at its place.
struct CellWriter {
  lxw_worksheet* sheet;
  lxw_row_t row;
  lxw_col_t column;
  const Formats& formats;

  lxw_error operator()(std::monostate) const { return LXW_NO_ERROR; }
  lxw_error operator()(const std::string& words) const {
    return words.empty() ? LXW_NO_ERROR : worksheet_write_string(sheet, row, column, words.c_str(), nullptr);
  }
  lxw_error operator()(std::int64_t number) const {
    return worksheet_write_number(sheet, row, column, static_cast<double>(number), nullptr);
  }
  lxw_error operator()(const ExactDecimal& decimal) const {
    return worksheet_write_number(sheet, row, column, static_cast<double>(decimal.digits) / std::pow(10.0, decimal.places), nullptr);
  }
  lxw_error operator()(Date day) const {
    if (!can_be_a_date(day)) return (*this)(format_date(day));
    lxw_datetime date = date_of_day(day);
    return worksheet_write_datetime(sheet, row, column, &date, formats.day);
  }
  lxw_error operator()(const ZonedInstant& moment) const {
    const Date day = day_of(moment.at, moment.offset);
    if (!can_be_a_date(day)) return (*this)(format_zoned(moment.at, moment.offset));
    const Span of_day = moment.at + std::chrono::minutes{moment.offset.minutes} - std::chrono::sys_days{day};
    const std::int64_t ms = of_day.count();
    lxw_datetime date = date_of_day(day);
    date.hour = static_cast<int>(ms / 3'600'000);
    date.min = static_cast<int>(ms / 60'000 % 60);
    date.sec = static_cast<double>(ms % 60'000) / 1000.0;
    return worksheet_write_datetime(sheet, row, column, &date, ms % 1000 == 0 ? formats.moment : formats.fine_moment);
  }
};

void write_sheet(lxw_workbook* book, const std::string& name, const DataTable& sheet, std::size_t first, std::size_t last, bool demo,
                 const Formats& formats) {
  lxw_worksheet* page = workbook_add_worksheet(book, name.c_str());
  if (page == nullptr) throw Fault{exit_status::our_bug, fmt::format("a workbook has no sheet \"{}\"", name)};
  std::vector<std::size_t> widths;
  for (std::size_t i = 0; i < sheet.headings.size(); ++i) {
    widths.push_back(std::max(narrowest, letters_in(sheet.headings[i])));
    need(worksheet_write_string(page, 0, static_cast<lxw_col_t>(i), sheet.headings[i].c_str(), formats.heading), name + ", heading");
  }
  for (std::size_t row = first; row < last; ++row) {
    for (std::size_t i = 0; i < sheet.rows[row].size(); ++i) {
      const DataCell& cell = sheet.rows[row][i];
      const auto line = static_cast<lxw_row_t>(row - first + 1);
      need(std::visit(CellWriter{page, line, static_cast<lxw_col_t>(i), formats}, cell), fmt::format("{}, row {}", name, line + 1));
      widths[i] = std::max(widths[i], letters_in(text_of(cell)));
    }
  }
  for (std::size_t i = 0; i < widths.size(); ++i) {
    const auto column = static_cast<lxw_col_t>(i);
    need(worksheet_set_column(page, column, column, static_cast<double>(std::min(widths[i], widest)) + 2.0, nullptr), name + ", widths");
  }
  worksheet_freeze_panes(page, 1, 0);
  worksheet_repeat_rows(page, 0, 0);
  if (demo) need(worksheet_set_header(page, "&C&\"Arial,Bold\"DEMO"), name + ", DEMO");
}

}  // namespace

std::string write_xlsx(const Workbook& workbook) {
  const MemoryFile file;
  const std::string path = file.path();
  // Rows go out as they are written, with their words in them, so that a year of readings needs no memory beside the table itself.
  lxw_workbook_options options{};
  options.constant_memory = LXW_TRUE;
  lxw_workbook* book = workbook_new_opt(path.c_str(), &options);
  if (book == nullptr) throw Fault{exit_status::cannot_create, "the workbook: no room for it"};
  std::unique_ptr<lxw_workbook, void (*)(lxw_workbook*)> owner{book, lxw_workbook_free};
  const auto format = [&](const char* number) {
    lxw_format* made = workbook_add_format(book);
    if (number == nullptr) {
      format_set_bold(made);
    } else {
      format_set_num_format(made, number);
    }
    return made;
  };
  const Formats formats{format(nullptr), format("yyyy-mm-dd"), format("yyyy-mm-dd hh:mm:ss"), format("yyyy-mm-dd hh:mm:ss.000")};

  std::string title = workbook.title;
  std::string remark = workbook.demo ? "DEMO" : "";
  lxw_doc_properties properties{};
  properties.title = title.data();
  properties.comments = remark.data();
  properties.created = static_cast<time_t>(std::chrono::floor<std::chrono::seconds>(workbook.made).time_since_epoch().count());
  need(workbook_set_properties(book, &properties), "its properties");

  for (const auto& sheet : workbook.sheets) {
    std::size_t first = 0;
    for (int part = 1; part == 1 || first < sheet.rows.size(); ++part) {
      const std::size_t last = std::min(sheet.rows.size(), first + rows_of_a_sheet);
      write_sheet(book, part == 1 ? sheet.name : fmt::format("{} {}", sheet.name, part), sheet, first, last, workbook.demo, formats);
      first = last;
    }
  }
  need(workbook_close(owner.release()), "writing it");  // which frees it too
  return file.bytes();
}

}  // namespace tierproof
