#include "tierproof/sums/retention.h"

#include <gtest/gtest.h>

#include <vector>

namespace tierproof {
namespace {

Date day(const char* text) { return parse_date(text).value(); }

RetentionTerm months_from(const char* event, int months, const char* what = "record") {
  RetentionTerm term;
  term.cited.row = std::string{"keep-"} + event;
  term.counts_from = event;
  term.months = months;
  term.what = what;
  return term;
}
RetentionTerm days_from(const char* event, int days, const char* what) {
  RetentionTerm term = months_from(event, 0, what);
  term.days = days;
  return term;
}

TEST(Retention, EndsOnTheLastDayOfAMonthThatIsTooShort) {
  const auto last = [](const char* from, int months) {
    return keep_until(std::vector{months_from("use by", months)}, "record", std::vector<KeptFrom>{{"use by", day(from)}})->last;
  };
  EXPECT_EQ(last("2026-01-31", 1), day("2026-02-28"));
  EXPECT_EQ(last("2028-01-31", 1), day("2028-02-29"));
  EXPECT_EQ(last("2028-02-29", 12), day("2029-02-28"));
  EXPECT_EQ(last("2026-08-31", 1), day("2026-09-30"));
  EXPECT_EQ(last("2026-12-31", 2), day("2027-02-28"));
}

/// A period that an authority publishes, worked out for a cake made and handed over on 2 March 2026 with use-by 6 March 2026, or an iced
/// keepsake best before 31 December 2026.
struct PublishedPeriod {
  const char* source;
  const char* event;
  const char* counted_from;
  int months;
  const char* last;
};

TEST(Retention, EndsWhenPublishedPeriodsEnd) {
  const std::vector<PublishedPeriod> periods{
      {"Food Standards Agency, traceability training module 4: shelf life plus 12 months", "use by", "2026-03-06", 12, "2027-03-06"},
      {"Food Standards Agency, traceability training module 4: shelf life plus 12 months", "best before", "2026-12-31", 12, "2027-12-31"},
      {"Commission guidance on Regulation 178/2002, perishable food: 6 months from delivery", "hand over", "2026-03-02", 6, "2026-09-02"},
      {"Commission guidance on Regulation 178/2002, in general: 5 years from delivery", "hand over", "2026-03-02", 60, "2031-03-02"},
      {"Food Safety Authority of Ireland, record keeping: use-by plus 3 months", "use by", "2026-03-06", 3, "2026-06-06"},
      {"Food Safety Authority of Ireland, record keeping: best-before plus 1 year", "best before", "2026-12-31", 12, "2027-12-31"},
      {"Standard 3.2.2A, Australia (from memory): 3 months", "hand over", "2026-03-02", 3, "2026-06-02"},
      {"21 CFR 117.315 (from memory): 2 years", "hand over", "2026-03-02", 24, "2028-03-02"}};
  for (const auto& period : periods) {
    const std::vector rows{months_from(period.event, period.months)};
    const std::vector<KeptFrom> known{{period.event, day(period.counted_from)}};
    const auto kept = keep_until(rows, "record", known);
    ASSERT_TRUE(kept) << period.source;
    EXPECT_EQ(kept->last, day(period.last)) << period.source;
  }
}

TEST(Retention, KeepsUntilTheLatestOfTheRowsThatApply) {
  const std::vector rows{months_from("use by", 12), months_from("hand over", 6), months_from("best before", 12)};
  const auto kept = keep_until(rows, "record", std::vector<KeptFrom>{{"hand over", day("2026-09-20")}, {"use by", day("2026-03-06")}});
  ASSERT_TRUE(kept);
  EXPECT_EQ(kept->last, day("2027-03-20"));
  EXPECT_EQ(kept->from.event, "hand over");
  EXPECT_EQ(kept->cited.row, "keep-hand over");
}

TEST(Retention, CountsPersonalDataByItsOwnRowsOnly) {
  const std::vector rows{months_from("use by", 12), days_from("use by", 30, "personal data"), days_from("hand over", 30, "personal data")};
  const std::vector<KeptFrom> known{{"hand over", day("2026-05-02")}, {"use by", day("2026-05-04")}};
  EXPECT_EQ(keep_until(rows, "personal data", known)->last, day("2026-06-03"));
  EXPECT_EQ(keep_until(rows, "record", known)->last, day("2027-05-04"));
}

TEST(Retention, CountsEachKindByItsOwnRowsFromItsOwnDays) {
  for (const auto& kind : kinds_kept()) {
    ASSERT_FALSE(kept_from(kind).empty()) << kind;
    for (const auto& event : kept_from(kind)) {
      const std::vector rows{months_from(event.c_str(), 2, kind.c_str())};
      EXPECT_EQ(keep_until(rows, kind, std::vector<KeptFrom>{{event, day("2027-12-31")}})->last, day("2028-02-29")) << kind;
      for (const auto& other : kinds_kept()) {
        if (other == kind) continue;
        EXPECT_FALSE(keep_until(rows, other, std::vector<KeptFrom>{{event, day("2027-12-31")}})) << other;
      }
    }
  }
  EXPECT_TRUE(kept_from("photographs").empty());
}

TEST(Retention, AnswersNothingWhenNoRowApplies) {
  const std::vector rows{months_from("use by", 12)};
  EXPECT_FALSE(keep_until(rows, "record", std::vector<KeptFrom>{{"hand over", day("2026-05-02")}}));
  EXPECT_FALSE(keep_until(rows, "personal data", std::vector<KeptFrom>{{"use by", day("2026-05-02")}}));
  EXPECT_FALSE(keep_until({}, "record", std::vector<KeptFrom>{{"use by", day("2026-05-02")}}));
}

}  // namespace
}  // namespace tierproof
