#include "tierproof/text/table_figure.h"

#include <gtest/gtest.h>

namespace tierproof {
namespace {

DataTable days() {
  const auto row = [](const char* place, const char* worked, DataCell late) {
    return DataRow{DataCell{std::string{place}}, DataCell{std::string{worked}}, std::move(late)};
  };
  return {"days",
          {"place", "worked", "late"},
          {row("fridge", "yes", DataCell{std::int64_t{2}}), row("fridge", "no", DataCell{}),
           row("freezer", "yes", DataCell{std::int64_t{3}}), row("fridge", "yes", DataCell{std::int64_t{0}})}};
}

TEST(Figure, CountsTheRowsThatSayAllOfIt) {
  EXPECT_EQ(figure_by(days(), {"days", {}}), 4);
  EXPECT_EQ(figure_by(days(), {"days", {{"place", "fridge"}}}), 3);
  EXPECT_EQ(figure_by(days(), {"days", {{"place", "fridge"}, {"worked", "yes"}}}), 2);
  EXPECT_EQ(figure_by(days(), {"days", {{"late", "2"}}}), 1);
  EXPECT_EQ(figure_by(days(), {"days", {{"late", ""}}}), 1) << "nothing is the empty text";
}

TEST(Figure, AddsUpWholeNumbersOrCountsDifferentTexts) {
  EXPECT_EQ(figure_by(days(), {"days", {}, "late"}), 5);
  EXPECT_EQ(figure_by(days(), {"days", {{"place", "fridge"}}, "late"}), 2);
  EXPECT_EQ(figure_by(days(), {"days", {}, "", "place"}), 2);
  EXPECT_EQ(figure_by(days(), {"days", {{"worked", "no"}}, "", "place"}), 1);
}

TEST(Figure, OfWhatIsNotThereIsOurBug) {
  EXPECT_THROW(figure_by(days(), {"days", {{"name", "x"}}}), std::invalid_argument);
  EXPECT_THROW(figure_by(days(), {"days", {}, "place"}), std::invalid_argument) << "words do not add up";
  EXPECT_THROW(figure_by(days(), {"days", {}, "late", "place"}), std::invalid_argument);
}

TEST(Percent, IsRoundedHalvesUp) {
  EXPECT_EQ(percent_of(0, 3), 0);
  EXPECT_EQ(percent_of(1, 3), 33);
  EXPECT_EQ(percent_of(2, 3), 67);
  EXPECT_EQ(percent_of(1, 200), 1);
  EXPECT_EQ(percent_of(1, 201), 0);
  EXPECT_EQ(percent_of(7, 7), 100);
  EXPECT_EQ(percent_in_words(0, 300), "0 %");
  EXPECT_EQ(percent_in_words(1, 300), "under 1 %");
  EXPECT_EQ(percent_in_words(199, 200), "over 99 %");
  EXPECT_EQ(percent_in_words(200, 200), "100 %");
  EXPECT_EQ(percent_in_words(2, 15), "13 %");
}

}  // namespace
}  // namespace tierproof
