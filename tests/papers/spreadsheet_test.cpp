#include "tierproof/papers/spreadsheet.h"

#include <gtest/gtest.h>
#include <stdlib.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <thread>

#include "tierproof/units/result.h"

namespace tierproof {
namespace {
namespace fs = std::filesystem;

/// The parts of a workbook, taken out by a reader that is not ours (`unzip`).
class Unpacked {
 public:
  explicit Unpacked(const std::string& bytes) {
    std::string name = (fs::temp_directory_path() / "tierproof-xlsx-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    folder_ = name;
    std::ofstream{file(), std::ios::binary} << bytes;
  }
  ~Unpacked() { fs::remove_all(folder_); }
  Unpacked(const Unpacked&) = delete;
  Unpacked& operator=(const Unpacked&) = delete;

  bool whole() const {
    return std::system(("unzip -tqq '" + file().string() + "' > '" + (folder_ / "log").string() + "' 2>&1").c_str()) == 0;
  }
  std::string part(const std::string& name) const {
    std::string text;
    FILE* pipe = ::popen(("unzip -p '" + file().string() + "' '" + name + "' 2>&1").c_str(), "r");
    char some[4096];
    for (std::size_t got; (got = std::fread(some, 1, sizeof some, pipe)) > 0;) text.append(some, got);
    EXPECT_EQ(::pclose(pipe), 0) << name;
    return text;
  }

 private:
  fs::path file() const { return folder_ / "book.xlsx"; }
  fs::path folder_;
};

/// One cell as the file has it: its type (`inlineStr` words, empty a number), its format and its value.
struct StoredCell {
  std::string type, style, value;
};

std::map<std::string, StoredCell> cells_of(const Unpacked& book, const std::string& part) {
  std::map<std::string, StoredCell> cells;
  const std::string sheet = book.part(part);
  EXPECT_EQ(sheet.find("<f>"), std::string::npos) << "no formula, ever";
  const std::regex cell{
      "<c r=\"([A-Z]+[0-9]+)\"( s=\"([0-9]+)\")?( t=\"([A-Za-z]+)\")?>(<v>|<is><t>|<is><t xml:space=\"preserve\">)([^<]*)<"};
  for (std::sregex_iterator found{sheet.begin(), sheet.end(), cell}, end; found != end; ++found)
    cells[(*found)[1]] = {(*found)[5], (*found)[3], (*found)[7]};
  return cells;
}

/// The number format of style `style`, through the styles part.
std::string number_format(const Unpacked& book, const std::string& style) {
  const std::string styles = book.part("xl/styles.xml");
  const std::string formats = styles.substr(styles.find("<cellXfs"));
  const std::regex xf{"<xf numFmtId=\"([0-9]+)\""};
  std::sregex_iterator found{formats.begin(), formats.end(), xf};
  std::advance(found, std::stol(style));
  const std::string id = (*found)[1];
  std::smatch code;
  return std::regex_search(styles, code, std::regex{"numFmtId=\"" + id + "\" formatCode=\"([^\"]+)\""}) ? code[1].str() : "";
}

Workbook workbook(std::vector<DataTable> tables) {
  return {std::move(tables), "Test Kitchen", parse_zoned("2026-05-01T10:00+01:00")->at, false};
}

TEST(Spreadsheet, HoldsRealNumbersAndDatesAndWordsAsWords) {
  const Unpacked book{write_xlsx(workbook({{"packs",
                                            {"code", "mass_g", "value", "use_by", "at_local", "nothing", "count"},
                                            {{"=1+1", ExactDecimal{2'000'350, 3}, ExactDecimal{-1840, 2}, *parse_date("2026-05-01"),
                                              *parse_zoned("2026-05-01T18:00:00+01:00"), std::monostate{}, std::int64_t{-3}},
                                             {"-18.4 & <b>", ExactDecimal{0, 2}, std::monostate{}, *parse_date("1899-12-31"),
                                              *parse_zoned("2026-01-01T00:30:00.250+01:00"), std::monostate{}, std::int64_t{0}}}}}))};
  ASSERT_TRUE(book.whole());
  auto cells = cells_of(book, "xl/worksheets/sheet1.xml");
  EXPECT_EQ(cells["A1"].value, "code");
  EXPECT_EQ(cells["A2"].type, "inlineStr");
  EXPECT_EQ(cells["A2"].value, "=1+1");
  EXPECT_EQ(cells["A3"].type, "inlineStr");
  EXPECT_EQ(cells["A3"].value, "-18.4 &amp; &lt;b&gt;");
  EXPECT_EQ(cells["B2"].type, "");
  EXPECT_EQ(cells["B2"].value, "2000.35");
  EXPECT_EQ(cells["C2"].value, "-18.4");
  EXPECT_EQ(cells["G2"].value, "-3");
  EXPECT_EQ(cells["B3"].value, "0");
  EXPECT_FALSE(cells.contains("C3"));
  EXPECT_FALSE(cells.contains("F2"));
  // ECMA-376 part 1, 18.17.4.1, counts days; in its 1900 system 1 January 2026 is day 46 023 (from memory), and 1 May comes 120 days later.
  EXPECT_EQ(cells["D2"].value, "46143");
  EXPECT_EQ(number_format(book, cells["D2"].style), "yyyy-mm-dd");
  EXPECT_EQ(cells["E2"].value, "46143.75");  // six in the evening on the clock of the wall
  EXPECT_EQ(number_format(book, cells["E2"].style), "yyyy-mm-dd hh:mm:ss");
  EXPECT_EQ(number_format(book, cells["E3"].style), "yyyy-mm-dd hh:mm:ss.000");
  EXPECT_EQ(cells["D3"].type, "inlineStr");
  EXPECT_EQ(cells["D3"].value, "1899-12-31");
}

TEST(Spreadsheet, KeepsItsBoldHeadingsInSightAndItsColumnsWideEnough) {
  const std::string words(200, 'x');
  const Unpacked book{write_xlsx(workbook({{"packs", {"a", "description_of_the_pack", "c"}, {{"x", "y", words}}}}))};
  const std::string sheet = book.part("xl/worksheets/sheet1.xml");
  EXPECT_NE(sheet.find("<pane ySplit=\"1\" topLeftCell=\"A2\" activePane=\"bottomLeft\" state=\"frozen\"/>"), std::string::npos);
  std::vector<double> widths;
  const std::regex col{"<col min=\"[0-9]+\" max=\"[0-9]+\" width=\"([0-9.]+)\""};
  for (std::sregex_iterator found{sheet.begin(), sheet.end(), col}, end; found != end; ++found) widths.push_back(std::stod((*found)[1]));
  ASSERT_EQ(widths.size(), 3u);
  EXPECT_GE(widths[0], 8.0);
  EXPECT_GE(widths[1], 23.0);  // letters of its heading
  EXPECT_GE(widths[2], 60.0);
  EXPECT_LE(widths[2], 64.0);
  auto cells = cells_of(book, "xl/worksheets/sheet1.xml");
  EXPECT_EQ(cells["C2"].value, words);
  EXPECT_NE(cells["A1"].style, "");
  EXPECT_EQ(cells["A2"].style, "");
}

TEST(Spreadsheet, HasASheetForEachTableAndSaysDemo) {
  Workbook asked = workbook({{"packs", {"a"}, {}}, {"thermometer-checks", {"b"}, {{"x"}}}});
  asked.demo = true;
  const Unpacked book{write_xlsx(asked)};
  const std::string names = book.part("xl/workbook.xml");
  EXPECT_NE(names.find("<sheet name=\"packs\" sheetId=\"1\""), std::string::npos) << names;
  EXPECT_NE(names.find("<sheet name=\"thermometer-checks\" sheetId=\"2\""), std::string::npos) << names;
  for (const char* part : {"xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml"})
    EXPECT_NE(book.part(part).find("DEMO</oddHeader>"), std::string::npos) << part;
  EXPECT_NE(book.part("docProps/core.xml").find("<dc:description>DEMO</dc:description>"), std::string::npos);
  asked.demo = false;
  const Unpacked real{write_xlsx(asked)};
  EXPECT_EQ(real.part("xl/worksheets/sheet1.xml").find("DEMO"), std::string::npos);
  EXPECT_EQ(real.part("docProps/core.xml").find("DEMO"), std::string::npos);
}

TEST(Spreadsheet, IsTheSameBytesWheneverItIsWritten) {
  const Workbook asked = workbook({{"packs", {"a", "b"}, {{"x", std::int64_t{1}}}}});
  const std::string once = write_xlsx(asked);
  std::this_thread::sleep_for(std::chrono::milliseconds{2100});  // dates in a ZIP file go by steps of two seconds
  EXPECT_EQ(write_xlsx(asked), once);
  EXPECT_NE(Unpacked{once}.part("docProps/core.xml").find("2026-05-01T09:00:00Z</dcterms:created>"), std::string::npos);
}

TEST(Spreadsheet, GoesOnInAnotherSheetWhereOneIsFull) {
  // ECMA-376 workbooks as spreadsheet programs take them hold 1,048,576 rows a sheet (from memory), one of them with the headings.
  DataTable long_table{"temperatures", {"n"}, {}};
  for (std::int64_t i = 1; i <= 1'048'577; ++i) long_table.rows.push_back({i});
  const Unpacked book{write_xlsx(workbook({long_table}))};
  EXPECT_NE(book.part("xl/workbook.xml").find("<sheet name=\"temperatures 2\""), std::string::npos);
  auto cells = cells_of(book, "xl/worksheets/sheet2.xml");
  EXPECT_EQ(cells["A1"].value, "n");
  EXPECT_EQ(cells["A2"].value, "1048576");
  EXPECT_EQ(cells["A3"].value, "1048577");
  const std::string full = book.part("xl/worksheets/sheet1.xml");
  EXPECT_NE(full.find("<c r=\"A1048576\"><v>1048575</v></c>"), std::string::npos);
  EXPECT_EQ(full.find("r=\"A1048577\""), std::string::npos);
}

TEST(Spreadsheet, NamesTheCellThatIsTooLong) {
  const auto made = [](std::size_t letters) { return write_xlsx(workbook({{"column-maps", {"text"}, {{std::string(letters, 'x')}}}})); };
  EXPECT_NO_THROW(made(32'767));
  try {
    made(32'768);
    FAIL() << "it was written";
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::cannot_create);
    EXPECT_NE(std::string{fault.what()}.find("column-maps, row 2"), std::string::npos) << fault.what();
    EXPECT_NE(std::string{fault.what()}.find("CSV"), std::string::npos) << fault.what();
  }
}

}  // namespace
}  // namespace tierproof
