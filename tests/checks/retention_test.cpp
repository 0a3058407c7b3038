// How long records are kept by the rows of reference/eu and eu-ie, against the periods that authorities publish. Worked for a cake made and
// handed over on 2 March 2026 with use-by 6 March 2026, and for an iced keepsake of the same day that is best before 31 December 2026.
#include "tierproof/sums/retention.h"

#include "../rules/reference_files.h"

namespace tierproof {
namespace {

const Date handed_over = day(2026, 3, 2);
const std::vector<KeptFrom> perishable{{"hand over", handed_over}, {"use by", day(2026, 3, 6)}};
const std::vector<KeptFrom> keepsake{{"hand over", handed_over}, {"best before", day(2026, 12, 31)}};
const std::vector<KeptFrom> without_a_date{{"hand over", handed_over}};

KeepUntil kept_by(const std::string& code, const std::string& what, const std::vector<KeptFrom>& known) {
  const auto packs = shipped_packs();
  const auto terms = packs.retention_terms(code, day(2026, 12, 1));
  if (!terms) throw std::runtime_error{told(terms.error())};
  const auto kept = keep_until(terms->rows, what, known);
  if (!kept) throw std::runtime_error{code + " keeps no " + what};
  return *kept;
}

struct PublishedKeeping {
  const char* id;
  const char* code;
  const std::vector<KeptFrom>& known;
  Date last;
  const char* counted_from;
  const char* source;
};

class RetentionInTheUnion : public testing::TestWithParam<PublishedKeeping> {};
TEST_P(RetentionInTheUnion, KeepsARecordAsLongAsIsPublished) {
  const auto& row = GetParam();
  const auto kept = kept_by(row.code, "record", row.known);
  EXPECT_EQ(kept.last, row.last) << format_date(kept.last) << ": " << row.source;
  EXPECT_EQ(kept.from.event, row.counted_from) << row.source;
}
const std::vector<KeptFrom> for_ages{{"hand over", handed_over}, {"best before", day(2032, 3, 2)}};
INSTANTIATE_TEST_SUITE_P(
    Checks, RetentionInTheUnion,
    testing::Values(PublishedKeeping{"UnionKeepsake", "eu", keepsake, day(2031, 3, 2), "hand over",
                                     "Commission guidance on Regulation 178/2002, in general: 5 years from making or delivery"},
                    PublishedKeeping{"UnionLongLife", "eu", for_ages, day(2032, 9, 2), "best before",
                                     "Commission guidance on Regulation 178/2002, shelf life above 5 years: shelf life and 6 months"},
                    PublishedKeeping{"IrelandUseBy", "eu-ie", perishable, day(2026, 6, 6), "use by",
                                     "S.I. 369/2006: 3 months after the use-by"},
                    PublishedKeeping{"IrelandBestBefore", "eu-ie", keepsake, day(2027, 12, 31), "best before",
                                     "S.I. 369/2006: 1 year after the best-before"},
                    PublishedKeeping{"IrelandEatenAtOnce", "eu-ie", without_a_date, day(2026, 6, 2), "hand over",
                                     "S.I. 369/2006: 3 months after the sale of what is eaten at once"}),
    [](const auto& check) { return std::string{check.param.id}; });

TEST(RetentionOfTheUnion, NeverKeepsShorterThanItsGuidanceAsksForPerishableFood) {
  const auto six_months = day(2026, 9, 2);  // 6 months from making or delivery, straight to the final consumer
  for (const auto* known : {&perishable, &without_a_date}) EXPECT_GE(kept_by("eu", "record", *known).last, six_months);
}

TEST(RetentionOfTheUnion, KeepsACustomerReachableThirtyDaysInEveryStateThatHasRows) {
  for (const char* code : {"eu", "eu-ie"}) {
    EXPECT_EQ(kept_by(code, "personal data", perishable).last, day(2026, 4, 5)) << code << ": a choice, not law";
    EXPECT_EQ(kept_by(code, "personal data", keepsake).last, day(2027, 1, 30)) << code << ": a choice, not law";
    EXPECT_EQ(kept_by(code, "personal data", without_a_date).last, day(2026, 4, 1)) << code << ": a choice, not law";
  }
}

}  // namespace
}  // namespace tierproof
