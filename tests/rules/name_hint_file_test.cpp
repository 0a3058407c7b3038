#include "tierproof/rules/name_hint_file.h"

#include "reference_files.h"

namespace tierproof {
namespace {

const std::string headings = "phrase\tmeaning\tkeys\tprocess\tnote\n";

TEST(NameHintFile, IsReadWithItsLines) {
  const auto rows = read_name_hint_file(
      "# of nuts\n" + headings + "mixed nut\tcontains\tnuts;peanuts\t\tfor a reason\n\nE322\tharmless\t\t\t\n", "names/a.tsv");
  ASSERT_TRUE(rows) << told(rows.error());
  ASSERT_EQ(rows->size(), 2u);
  EXPECT_EQ((*rows)[0].phrase, "mixed nut");
  EXPECT_EQ((*rows)[0].keys, (std::vector<std::string>{"nuts", "peanuts"}));
  EXPECT_EQ((*rows)[0].note, "for a reason");
  EXPECT_EQ((*rows)[0].line, 3);
  EXPECT_EQ((*rows)[1].line, 5);
}

TEST(NameHintFile, IsRefusedWithEveryFaultAndItsLine) {
  const auto rows =
      read_name_hint_file(headings +
                              "Milk\tusually\tmilk\t\t\nmilk\tsometimes\tmilk\t\t\negg\tcontains\t\t\t\nsalt\tharmless\tmilk\t\t\n"
                              "syrup\texempts\tgluten:wheat\t\t\nmalt\tcontains\tgluten:\tbrewing\t\nshort\tline\negg\tneutral\t\t\t\n",
                          "names/a.tsv");
  ASSERT_FALSE(rows);
  std::vector<int> lines;
  for (const auto& refusal : rows.error()) lines.push_back(refusal.line);
  EXPECT_EQ(lines, (std::vector<int>{2, 3, 4, 5, 6, 7, 7, 8, 9})) << told(rows.error());
  EXPECT_EQ(describe(rows.error().front()), "names/a.tsv:2: phrase: \"Milk\" is no phrase; write words in small letters");
}

TEST(NameHintFile, IsRefusedWithoutItsHeadings) {
  EXPECT_FALSE(read_name_hint_file("", "names/a.tsv"));
  EXPECT_FALSE(read_name_hint_file("a\tb\tc\td\te\n", "names/a.tsv"));
}

}  // namespace
}  // namespace tierproof
