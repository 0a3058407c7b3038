// How long records are kept by the rows of reference/, against the periods that authorities publish or that are remembered. Worked for a
// cake made and handed over on 2 March 2026 with use-by 6 March 2026, and for an iced keepsake of the same day that is best before 31
// December 2026.
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

class RetentionOfAPlace : public testing::TestWithParam<PublishedKeeping> {};
TEST_P(RetentionOfAPlace, KeepsARecordAsLongAsIsPublished) {
  const auto& row = GetParam();
  const auto kept = kept_by(row.code, "record", row.known);
  EXPECT_EQ(kept.last, row.last) << format_date(kept.last) << ": " << row.source;
  EXPECT_EQ(kept.from.event, row.counted_from) << row.source;
}
const std::vector<KeptFrom> for_ages{{"hand over", handed_over}, {"best before", day(2032, 3, 2)}};
INSTANTIATE_TEST_SUITE_P(
    Checks, RetentionOfAPlace,
    testing::Values(
        PublishedKeeping{"UnionKeepsake", "eu", keepsake, day(2031, 3, 2), "hand over",
                         "Commission guidance on Regulation 178/2002, in general: 5 years from making or delivery"},
        PublishedKeeping{"UnionLongLife", "eu", for_ages, day(2032, 9, 2), "best before",
                         "Commission guidance on Regulation 178/2002, shelf life above 5 years: shelf life and 6 months"},
        PublishedKeeping{"IrelandUseBy", "eu-ie", perishable, day(2026, 6, 6), "use by", "S.I. 369/2006: 3 months after the use-by"},
        PublishedKeeping{"IrelandBestBefore", "eu-ie", keepsake, day(2027, 12, 31), "best before",
                         "S.I. 369/2006: 1 year after the best-before"},
        PublishedKeeping{"BritainUseBy", "gb", perishable, day(2027, 3, 6), "use by",
                         "Food Standards Agency, traceability training, module 4: shelf life and 12 months"},
        PublishedKeeping{"BritainBestBefore", "gb", keepsake, day(2027, 12, 31), "best before",
                         "Food Standards Agency, traceability training, module 4: shelf life and 12 months"},
        PublishedKeeping{"StatesKeepsake", "us", keepsake, day(2028, 3, 2), "hand over",
                         "21 CFR 1.360, from memory: 2 years for food that keeps longer than six months"},
        PublishedKeeping{"CanadaUseBy", "ca", perishable, day(2028, 3, 2), "hand over", "SFCR s. 90, from memory: 2 years"},
        PublishedKeeping{"CanadaBestBefore", "ca", keepsake, day(2028, 3, 2), "hand over", "SFCR s. 90, from memory: 2 years"},
        PublishedKeeping{"AustraliaUseBy", "anz", perishable, day(2026, 6, 2), "hand over", "Standard 3.2.2A, from memory: 3 months"},
        PublishedKeeping{"AustraliaBestBefore", "anz", keepsake, day(2026, 6, 2), "hand over", "Standard 3.2.2A, from memory: 3 months"},
        PublishedKeeping{"IrelandEatenAtOnce", "eu-ie", without_a_date, day(2026, 6, 2), "hand over",
                         "S.I. 369/2006: 3 months after the sale of what is eaten at once"}),
    [](const auto& check) { return std::string{check.param.id}; });

TEST(RetentionOfTheUnion, NeverKeepsShorterThanItsGuidanceAsksForPerishableFood) {
  const auto six_months = day(2026, 9, 2);  // 6 months from making or delivery, straight to the final consumer
  for (const auto* known : {&perishable, &without_a_date}) EXPECT_GE(kept_by("eu", "record", *known).last, six_months);
}

TEST(RetentionOfTheStates, NeverKeepsShorterThanIsRememberedForPerishableFood) {
  // 21 CFR 1.360, from memory: 6 months for food that spoils within 60 days. The longest of its times is taken for every cake.
  EXPECT_GE(kept_by("us", "record", perishable).last, day(2026, 9, 2));
}

TEST(RetentionOfEveryPlace, SaysHowLongEachKindIsKept) {
  const auto packs = shipped_packs();
  for (const auto& code : packs.with_retention()) {
    for (const auto& kind : kinds_kept()) {
      std::vector<KeptFrom> known;
      for (const auto& event : kept_from(kind)) known.push_back({event, handed_over});
      EXPECT_GT(kept_by(code, kind, known).last, handed_over) << code << ": " << kind;
    }
  }
}

TEST(RetentionOfEveryPlace, KeepsReadingsAsLongAsIsRemembered) {
  const std::vector<KeptFrom> recorded{{"recorded", handed_over}};
  EXPECT_EQ(kept_by("us", "temperature readings", recorded).last, day(2028, 3, 2)) << "21 CFR 117.315, from memory: 2 years";
  EXPECT_EQ(kept_by("anz", "temperature readings", recorded).last, day(2026, 6, 2)) << "Standard 3.2.2A, from memory: 3 months";
  EXPECT_EQ(kept_by("eu", "supplier evidence", {{"last delivery", handed_over}}).last, day(2031, 3, 2))
      << "Commission guidance on Regulation 178/2002, in general: 5 years from delivery";
}

TEST(RetentionOfTheUnion, KeepsACustomerReachableThirtyDaysAsEveryPlaceDoes) {
  for (const char* code : {"eu", "eu-ie", "gb", "us", "ca", "anz"}) {
    EXPECT_EQ(kept_by(code, "personal data", perishable).last, day(2026, 4, 5)) << code << ": a choice, not law";
    EXPECT_EQ(kept_by(code, "personal data", keepsake).last, day(2027, 1, 30)) << code << ": a choice, not law";
    EXPECT_EQ(kept_by(code, "personal data", without_a_date).last, day(2026, 4, 1)) << code << ": a choice, not law";
  }
}

}  // namespace
}  // namespace tierproof
