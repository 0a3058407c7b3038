#include "tierproof/text/csv.h"

#include <gtest/gtest.h>

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

}  // namespace
}  // namespace tierproof
