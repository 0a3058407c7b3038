#include "tierproof/papers/specimens.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "sample.h"
#include "stock_files.h"

namespace tierproof {
namespace {

using testdata::fonts;

constexpr Micrometres a3_width = 297000;
constexpr Micrometres a3_height = 420000;

/// A label with one word on it, 5 mm from its top left corner.
Page a_plain_label(Micrometres width, Micrometres height, const std::string& word) {
  Page page;
  page.width = width;
  page.height = height;
  const PointSize size = PointSize::hundredths(1000);
  page.marks.texts.push_back({5000, 5000, fonts().width(word, Face::condensed, size), word, Face::condensed, size, 0});
  return page;
}

std::vector<Specimen> labels_of(std::size_t count, Micrometres width, Micrometres height) {
  std::vector<Specimen> specimens;
  for (std::size_t i = 1; i <= count; ++i)
    specimens.push_back({fmt::format("cake-{} by invented rules", i), a_plain_label(width, height, fmt::format("word{}", i))});
  return specimens;
}

Pages laid(const std::vector<Specimen>& specimens) {
  auto pages = lay_out_specimens(specimens, "Test Data Cakes", fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {};
  }
  return std::move(*pages);
}

/// A closed line round a label.
bool is_outline(const Stroke& stroke) { return stroke.points.size() == 5 && stroke.points.front() == stroke.points.back(); }

struct Box {
  Micrometres left, top, right, bottom;
};
std::vector<Box> boxes_on(const Page& page) {
  std::vector<Box> boxes;
  for (const Stroke& stroke : page.marks.strokes) {
    if (is_outline(stroke)) boxes.push_back({stroke.points[0].x, stroke.points[0].y, stroke.points[2].x, stroke.points[2].y});
  }
  return boxes;
}

TEST(Specimens, AreMarkedOnEverySheetOnEveryCaptionAndThroughEveryLabel) {
  const Pages pages = laid(labels_of(33, 99100, 139000));  // more than A1 holds
  ASSERT_EQ(pages.pages.size(), 9U);
  std::size_t labels = 0;
  for (std::size_t i = 0; i < pages.pages.size(); ++i) {
    const Page& page = pages.pages[i];
    EXPECT_EQ(page.width, a3_width);
    EXPECT_EQ(page.height, a3_height);
    const std::string text = text_of(page);
    EXPECT_EQ(text.substr(0, text.find('\n')), fmt::format("SPECIMENS, NOT FOR USE – Test Data Cakes sheet {} of 9", i + 1));
    for (const Box& box : boxes_on(page)) {
      ++labels;
      const bool is_captioned = std::any_of(page.marks.texts.begin(), page.marks.texts.end(), [&](const PlacedText& placed) {
        return placed.text.starts_with("SPECIMEN –") && is_bold(placed.face) && placed.x == box.left && placed.baseline < box.top &&
               placed.baseline > box.top - 6000;
      });
      EXPECT_TRUE(is_captioned) << labels;
      const bool is_struck = std::any_of(page.marks.strokes.begin(), page.marks.strokes.end(), [&](const Stroke& stroke) {
        return stroke.role == "specimen" && stroke.points == std::vector<Point>{{box.left, box.bottom}, {box.right, box.top}};
      });
      EXPECT_TRUE(is_struck) << labels;
    }
  }
  EXPECT_EQ(labels, 33U);
}

TEST(Specimens, LieOnOneSheetWhereALargerOneHoldsThemAll) {
  const Pages ten = laid(labels_of(10, 99100, 139000));  // 5 beside each other, twice
  ASSERT_EQ(ten.pages.size(), 1U);
  EXPECT_EQ(ten.pages.front().width, 594000);
  EXPECT_EQ(ten.pages.front().height, 420000);
  EXPECT_EQ(boxes_on(ten.pages.front()).size(), 10U);
  const Pages more = laid(labels_of(11, 99100, 139000));
  ASSERT_EQ(more.pages.size(), 1U);
  EXPECT_EQ(more.pages.front().width, 841000);
  EXPECT_EQ(more.pages.front().height, 594000);
  EXPECT_EQ(laid(labels_of(4, 99100, 139000)).pages.front().width, a3_width);
}

// A short one leaves room below it, whatever stands beside it.
TEST(Specimens, FillTheRoomBelowShortOnes) {
  std::vector<Specimen> specimens = labels_of(1, 130000, 300000);
  for (Specimen& low : labels_of(3, 130000, 100000)) specimens.push_back(std::move(low));
  const Pages pages = laid(specimens);
  ASSERT_EQ(pages.pages.size(), 1U);
  const auto boxes = boxes_on(pages.pages.front());
  EXPECT_EQ(boxes[1].left, boxes[2].left);
  EXPECT_EQ(boxes[2].left, boxes[3].left);
  EXPECT_GT(boxes[2].top, boxes[1].bottom);
}

TEST(Specimens, AreAsLargeAsTheyAreAndKeepWhatIsOnThem) {
  for (const Stock& stock : testdata::stocks_as_shipped()) {
    const auto label = lay_out_label(testdata::a_short_label(), stock, fonts());
    if (!label) continue;  // too small for it
    const Page page = laid({{"cake-1 on " + stock.id, label->pages.front()}}).pages.front();
    const auto boxes = boxes_on(page);
    ASSERT_GE(boxes.size(), 1U) << stock.id;
    const Box& box = boxes.front();
    EXPECT_EQ(box.right - box.left, label->pages.front().width) << stock.id;
    EXPECT_EQ(box.bottom - box.top, label->pages.front().height) << stock.id;
    for (PlacedText text : label->pages.front().marks.texts) {
      text.x += box.left;
      text.baseline += box.top;
      EXPECT_NE(std::find(page.marks.texts.begin(), page.marks.texts.end(), text), page.marks.texts.end()) << stock.id << ": " << text.text;
    }
  }
}

TEST(Specimens, NeverLieOnEachOtherNorLeaveTheSheet) {
  std::vector<Specimen> mixed;
  for (std::size_t i = 0; i < 30; ++i) {
    mixed.push_back({fmt::format("cake-{} by the label rules of a place with a long name, on a stock that has one too", i),
                     a_plain_label(25000 + static_cast<Micrometres>(i * 7 % 11) * 9000, 30000 + static_cast<Micrometres>(i * 5 % 7) * 25000,
                                   fmt::format("word{}", i))});
  }
  std::size_t labels = 0;
  for (const Page& page : laid(mixed).pages) {
    const auto boxes = boxes_on(page);
    labels += boxes.size();
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      EXPECT_GE(boxes[i].left, page.left);
      EXPECT_LE(boxes[i].right, page.width - page.right);
      EXPECT_LE(boxes[i].bottom, page.height - page.bottom);
      for (std::size_t k = i + 1; k < boxes.size(); ++k) {
        EXPECT_FALSE(boxes[i].left < boxes[k].right && boxes[k].left < boxes[i].right && boxes[i].top < boxes[k].bottom &&
                     boxes[k].top < boxes[i].bottom);
      }
      for (const PlacedText& text : page.marks.texts) {  // what is not on a label is on none of them
        if (text.text.starts_with("word") || text.baseline < boxes[i].top || text.baseline > boxes[i].bottom) continue;
        EXPECT_FALSE(text.x < boxes[i].right && boxes[i].left < text.x + text.width) << text.text;
      }
    }
    for (const PlacedText& text : page.marks.texts) EXPECT_LE(text.x + text.width, page.width - page.right) << text.text;
  }
  EXPECT_EQ(labels, 30U);
}

TEST(Specimens, ThatAreTooLargeOrCannotBeSetAreRefusedTogether) {
  std::vector<Specimen> specimens = labels_of(1, 60000, 60000);
  specimens.push_back({"as wide as the sheet", a_plain_label(a3_width, 50000, "wide")});
  specimens.push_back({"as high as the sheet", a_plain_label(50000, a3_height, "high")});
  specimens.push_back({"a caption with \U0001F382", a_plain_label(50000, 50000, "cake")});
  const auto pages = lay_out_specimens(specimens, "Test Data Cakes", fonts());
  ASSERT_FALSE(pages.has_value());
  ASSERT_EQ(pages.error().size(), 3U);
  EXPECT_EQ(pages.error()[0].field, "as wide as the sheet");
  EXPECT_EQ(pages.error()[1].field, "as high as the sheet");
  EXPECT_EQ(pages.error()[2].field, "caption");
  EXPECT_FALSE(lay_out_specimens(labels_of(1, 60000, 60000), "\U0001F382", fonts()).has_value());
}

TEST(Specimens, ThatAreNoneAreNoSheet) { EXPECT_TRUE(laid({}).pages.empty()); }

}  // namespace
}  // namespace tierproof
