#include "tierproof/text/csv.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <limits>
#include <string>
#include <vector>

namespace tierproof {
namespace {

using Cells = std::vector<std::string>;

std::vector<CsvRow> rows(std::string_view text, char delimiter = ',') {
  const auto read = parse_csv(text, delimiter, "export.csv");
  EXPECT_TRUE(read.has_value()) << (read ? "" : describe(read.error().front()));
  return read ? *read : std::vector<CsvRow>{};
}

Refusals refusals_of(std::string_view text) {
  const auto read = parse_csv(text, ',', "export.csv");
  EXPECT_FALSE(read.has_value());
  return read ? Refusals{} : read.error();
}

TEST(Csv, ReadsRowsWithTheirLines) {
  const auto read = rows("time,value\r\n\r\n08:00,4.1\n\n08:05,4.2");
  ASSERT_EQ(read.size(), 3u);
  EXPECT_EQ(read[0].cells, (Cells{"time", "value"}));
  EXPECT_EQ(read[1].line, 3);
  EXPECT_EQ(read[2].line, 5);
  EXPECT_EQ(read[2].cells, (Cells{"08:05", "4.2"}));
}

// RFC 4180 section 2, rules 5 to 7.
TEST(Csv, ReadsQuotedCells) {
  const auto read = rows("\"aaa\",\"b \r\nbb\",\"ccc\"\nzzz,\"b\"\"bb\",\"x,y\"\n");
  ASSERT_EQ(read.size(), 2u);
  EXPECT_EQ(read[0].cells, (Cells{"aaa", "b \r\nbb", "ccc"}));
  EXPECT_EQ(read[1].cells, (Cells{"zzz", "b\"bb", "x,y"}));
  EXPECT_EQ(read[1].line, 3);
}

TEST(Csv, KeepsEmptyCells) {
  const auto read = rows(",\na,,\n\"\"\n");
  ASSERT_EQ(read.size(), 3u);
  EXPECT_EQ(read[0].cells, (Cells{"", ""}));
  EXPECT_EQ(read[1].cells, (Cells{"a", "", ""}));
  EXPECT_EQ(read[2].cells, (Cells{""}));
}

TEST(Csv, KeepsAQuoteInsideAPlainCell) { EXPECT_EQ(rows("tin 6\",round").at(0).cells, (Cells{"tin 6\"", "round"})); }

TEST(Csv, TakesOtherDelimitersAndAByteOrderMark) {
  EXPECT_EQ(rows("\xef\xbb\xbf"
                 "a;b,c;d\n",
                 ';')
                .at(0)
                .cells,
            (Cells{"a", "b,c", "d"}));
  EXPECT_EQ(rows("a\tb\n", '\t').at(0).cells, (Cells{"a", "b"}));
  EXPECT_TRUE(rows("").empty());
  EXPECT_TRUE(rows("\xef\xbb\xbf\r\n\n").empty());
}

TEST(Csv, GivesCellsInNfc) { EXPECT_EQ(rows("cre\xcc\x80me").at(0).cells, (Cells{"crème"})); }

TEST(Csv, RefusesWhatItCannotReadWithTheLine) {
  const auto open = refusals_of("a\n\"b\nc,d\ne");
  ASSERT_EQ(open.size(), 1u);
  EXPECT_EQ(open[0].line, 2);
  EXPECT_EQ(open[0].file, "export.csv");
  EXPECT_NE(open[0].message.find("not closed"), std::string::npos);

  const auto after = refusals_of("a,\"b\"x,c\n\"d\" \n");
  ASSERT_EQ(after.size(), 2u);
  EXPECT_EQ(after[0].line, 1);
  EXPECT_EQ(after[0].field, "column 2");
  EXPECT_EQ(after[1].line, 2);

  EXPECT_EQ(refusals_of("a\nb\ncr\xe8me\n")[0].line, 3);
  EXPECT_EQ(refusals_of(std::string_view{"a\nb\0c", 5})[0].line, 2);
}

DataTable table_with(std::vector<std::string> headings, std::vector<DataRow> rows) {
  return {"packs", std::move(headings), std::move(rows)};
}

// RFC 4180 section 2, its own examples: rule 1 (each record ends with CRLF), rule 3 (a header line), rules 6 and 7 (cells with commas,
// line breaks and quotes stand in quotes, and a quote is doubled).
TEST(CsvWriting, IsWhatRfc4180Shows) {
  EXPECT_EQ(write_csv(table_with({"field_name", "field_name", "field_name"}, {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}})),
            "field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n");
  EXPECT_EQ(write_csv(table_with({"a", "b", "c"}, {{"aaa", "b \r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}})),
            "a,b,c\r\naaa,\"b \r\nbb\",ccc\r\nzzz,yyy,xxx\r\n");
  EXPECT_EQ(write_csv(table_with({"a", "b", "c"}, {{"aaa", "b\"bb", "c,c"}})), "a,b,c\r\naaa,\"b\"\"bb\",\"c,c\"\r\n");
}

TEST(CsvWriting, KeepsEmptyCellsAndRows) {
  EXPECT_EQ(write_csv(table_with({"a", "b"}, {{std::monostate{}, "x"}, {"x", std::monostate{}}})), "a,b\r\n,x\r\nx,\r\n");
  EXPECT_EQ(write_csv(table_with({"a"}, {{std::monostate{}}})), "a\r\n\"\"\r\n");
  EXPECT_EQ(write_csv(table_with({"a"}, {})), "a\r\n");
}

TEST(CsvWriting, WritesNumbersDaysAndMomentsInOneForm) {
  const auto moment = parse_zoned("2026-05-01T08:10:00+01:00");
  ASSERT_TRUE(moment.has_value());
  const auto text = write_csv(table_with({"a", "b", "c", "d", "e", "f", "g"},
                                         {{std::int64_t{-7}, ExactDecimal{-1840, 2}, ExactDecimal{350, 3}, ExactDecimal{100'000, 3},
                                           ExactDecimal{5, 3}, *parse_date("2026-05-01"), *moment}}));
  EXPECT_EQ(text, "a,b,c,d,e,f,g\r\n-7,-18.4,0.35,100,0.005,2026-05-01,2026-05-01T08:10:00+01:00\r\n");
  EXPECT_EQ(text_of(DataCell{ExactDecimal{0, 2}}), "0");
  EXPECT_EQ(text_of(DataCell{ExactDecimal{-5, 1}}), "-0.5");
  EXPECT_EQ(text_of(DataCell{ExactDecimal{std::numeric_limits<std::int64_t>::min(), 0}}), "-9223372036854775808");
}

// A cell that begins so is worked out by spreadsheet programs when they open the file (common practice, no source).
TEST(CsvWriting, GuardsWordsThatASpreadsheetWouldTakeForAFormula) {
  for (const char* text : {"=1+1", "+44 20", "-18.4", "@here", "\tx", "\rx", "\nx", "'=1+1", "''-"}) {
    EXPECT_EQ(guarded(text), "'" + std::string{text});
    EXPECT_EQ(unguarded(guarded(text)), text);
  }
  for (const char* text : {"", "flour", "'s Bakery", "6 - 8", "a=b", "'", "\xe2\x88\x92 18"}) {
    EXPECT_EQ(guarded(text), text);
    EXPECT_EQ(unguarded(text), text);
  }
  EXPECT_EQ(write_csv(table_with({"a", "b", "c"}, {{"-18.4", ExactDecimal{-1840, 2}, "=HYPERLINK(\"x\")"}})),
            "a,b,c\r\n'-18.4,-18.4,\"'=HYPERLINK(\"\"x\"\")\"\r\n");
}

RC_GTEST_PROP(CsvWriting, IsReadBackAsItWas, ()) {
  const auto letters = rc::gen::container<std::string>(rc::gen::element('a', '=', '-', '\'', '"', ',', ' ', ';', '\r', '\n', '\t'));
  const auto written = *rc::gen::nonEmpty(
      rc::gen::container<std::vector<std::vector<std::string>>>(rc::gen::container<std::vector<std::string>>(3, letters)));
  DataTable table{"list", {"a", "b", "c"}, {}};
  for (const auto& row : written) table.rows.push_back({row[0], row[1], row[2]});
  const auto read = parse_csv(write_csv(table), ',', "list.csv");
  RC_ASSERT(read.has_value());
  RC_ASSERT(read->size() == written.size() + 1);
  for (std::size_t row = 0; row < written.size(); ++row) {
    Cells cells;
    for (const auto& cell : (*read)[row + 1].cells) cells.push_back(unguarded(cell));
    RC_ASSERT(cells == written[row]);
  }
}

}  // namespace
}  // namespace tierproof
