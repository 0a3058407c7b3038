// A trace as a drawing: everything on it can be read, in black and white and without lines through words.
#include "tierproof/papers/trace_picture.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

#include "sample.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/papers/svg.h"

namespace tierproof {
namespace {

using testdata::fonts;
using testing::HasSubstr;
using testing::Not;

TracePictureContent a_picture(std::size_t things, const std::vector<TraceEdge>& edges, std::size_t asked = 0) {
  TracePictureContent content;
  content.demo = true;
  content.business = {"Story Kitchen", "Unit 0"};
  content.title = "what was asked for";
  content.reference = "trace of thing-0";
  content.head = "12:5dc9";
  content.drawn = "drawn 1 May 2026, 10:00 from 12 notes";
  content.cautions = {"This drawing tells what was recorded."};
  for (std::size_t i = 0; i < things; ++i) {
    content.things.push_back({fmt::format("thing-{}", i), "(some food with a name of several words)",
                              i % 3 == 0 ? "in the cake fridge, 300 g left" : "handed over 2 May 2026, 10:00", i == asked});
    content.graph.things.push_back({content.things.back().id});
  }
  content.graph.edges = edges;
  return content;
}
TracePictureContent a_diamond() { return a_picture(4, {{0, 1}, {0, 2}, {1, 3}, {2, 3, false}}); }
TracePictureContent a_loop() { return a_picture(3, {{0, 1}, {1, 2}, {2, 0, false}, {1, 1}}); }
/// A pack in eight batches, of which most went into some of forty cakes, with eleven other packs.
TracePictureContent sixty_things() {
  std::vector<TraceEdge> edges;
  for (std::size_t batch = 12; batch < 20; ++batch) {
    edges.push_back({batch % 12, batch});
    edges.push_back({0, batch, batch % 3 != 0});
    edges.push_back({batch - 9, batch});
  }
  for (std::size_t cake = 20; cake < 60; ++cake) {
    edges.push_back({12 + cake % 8, cake, cake % 5 != 0});
    if (cake % 4 == 0) edges.push_back({12 + (cake / 8) % 8, cake});
  }
  edges.push_back({2, 59});
  return a_picture(60, edges, 12);
}

Page drawn(const TracePictureContent& content) {
  const auto pages = lay_out_trace_picture(content, fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {};
  }
  EXPECT_EQ(pages->pages.size(), 1U);
  // Whoever changes the drawing looks at it: TIERPROOF_KEEP_PICTURES=folder keeps each as a PDF.
  if (const char* folder = std::getenv("TIERPROOF_KEEP_PICTURES"))
    testdata::write_whole(
        fmt::format("{}/{}-{}.pdf", folder, testing::UnitTest::GetInstance()->current_test_info()->name(), content.things.size()),
        write_pdf(*pages, fonts(), {content.title}));
  return pages->pages.front();
}
std::vector<Stroke> strokes(const Page& page, std::string_view role) {
  std::vector<Stroke> found;
  std::copy_if(page.marks.strokes.begin(), page.marks.strokes.end(), std::back_inserter(found),
               [&](const Stroke& stroke) { return stroke.role == role; });
  return found;
}

/// The room that the letters of a text take, from above its capitals to below its tails.
struct LetterRoom {
  Micrometres left, top, right, bottom;
};
LetterRoom room_of(const PlacedText& text) {
  return {text.x, text.baseline - fonts().capital_height(text.face, text.size), text.x + text.width,
          text.baseline + text.size.to_micrometres() / 5};
}

/// Whether the line from `a` to `b` enters the room.
bool enters(const Point& a, const Point& b, const LetterRoom& room) {
  double first = 0, last = 1;  // of the way from a to b: what of it lies within (Liang and Barsky 1984, from memory)
  const auto within = [&](double towards, double away) {
    if (towards == 0) return away > 0;
    const double at = away / towards;
    if (towards < 0) first = std::max(first, at);
    if (towards > 0) last = std::min(last, at);
    return first < last;
  };
  const auto d = [](Micrometres n) { return static_cast<double>(n); };
  return within(-d(b.x - a.x), d(a.x - room.left)) && within(d(b.x - a.x), d(room.right - a.x)) &&
         within(-d(b.y - a.y), d(a.y - room.top)) && within(d(b.y - a.y), d(room.bottom - a.y));
}

/// The first thing that a reader would be annoyed by; empty: none.
std::string hard_to_read(const Page& page) {
  const auto& texts = page.marks.texts;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    if (texts[i].size < PointSize::hundredths(750)) return "type too small: " + texts[i].text;
    const LetterRoom one = room_of(texts[i]);
    if (one.left < page.left || one.right > page.width - page.right) return "in the margin: " + texts[i].text;
    for (std::size_t j = 0; j < i; ++j) {
      const LetterRoom other = room_of(texts[j]);
      constexpr Micrometres rounded = 2;  // words of two faces on one line touch
      const bool apart =
          one.right <= other.left + rounded || other.right <= one.left + rounded || one.bottom <= other.top || other.bottom <= one.top;
      if (!apart) return fmt::format("`{}` over `{}`", texts[i].text, texts[j].text);
    }
    for (const Stroke& stroke : page.marks.strokes) {
      for (std::size_t point = 0; point + 1 < stroke.points.size(); ++point) {
        if (enters(stroke.points[point], stroke.points[point + 1], one))
          return fmt::format("a {} through `{}`", stroke.role, texts[i].text);
      }
    }
  }
  return "";
}

TEST(TracePicture, OfADiamondStandsOnA4WithEverythingTold) {
  const Page page = drawn(a_diamond());
  EXPECT_EQ(page.width, 297000);
  EXPECT_EQ(page.height, 210000);
  EXPECT_EQ(hard_to_read(page), "");
  const std::string words = testdata::words_of_text(text_of(page));
  for (const char* expected :
       {"DEMO", "Story Kitchen", "what was asked for", "thing-0", "thing-3", "TRACED: THIS ONE", "in the cake fridge, 300 g left",
        "12:5dc9", "drawn 1 May 2026, 10:00", "This drawing tells what was recorded.", "Sheet: A4 lying, 297 × 210 mm",
        "thick frame: what was traced", "may have gone into"})
    EXPECT_THAT(words, HasSubstr(expected));
}

TEST(TracePicture, HasAThickFrameRoundWhatWasTracedAlone) {
  const Page page = drawn(a_diamond());
  const auto frames = strokes(page, "frame");
  Micrometres thin = frames.front().width;
  for (const Stroke& one : frames) thin = std::min(thin, one.width);
  EXPECT_EQ(std::count_if(frames.begin(), frames.end(), [&](const Stroke& one) { return one.width >= 3 * thin; }), 2);  // and in the legend
  EXPECT_GE(frames.front().width, 3 * thin) << "thing-0 is drawn first, and was asked for";
}

TEST(TracePicture, TellsWhatMayBeByADashAndAMark) {
  const Page certain = drawn(a_picture(2, {{0, 1}}));
  const Page possible = drawn(a_picture(2, {{0, 1, false}}));
  // The legend has one `?`, one dashed line in two pieces, and three solid pieces: one unmarked line and one with the word loop.
  EXPECT_EQ(strokes(certain, "went").size(), 4U);
  EXPECT_EQ(strokes(certain, "may").size(), 2U);
  EXPECT_EQ(strokes(possible, "went").size(), 3U);
  EXPECT_EQ(strokes(possible, "may").size(), 4U);
  for (const Stroke& stroke : strokes(possible, "may")) EXPECT_GT(stroke.dash, 0);
  for (const Stroke& stroke : strokes(possible, "went")) EXPECT_EQ(stroke.dash, 0);
  const auto marks = [](const Page& page) {
    return std::count_if(page.marks.texts.begin(), page.marks.texts.end(), [](const PlacedText& text) { return text.text == "?"; });
  };
  EXPECT_EQ(marks(certain), 1);
  EXPECT_EQ(marks(possible), 2);
}

TEST(TracePicture, TellsWithdrawnAndVoidedThingsByFrameAndWord) {
  TracePictureContent content = a_diamond();
  const auto frames = strokes(drawn(content), "frame").size();
  content.things[0].withdrawn = true;
  content.things[1].voided = true;
  const Page page = drawn(content);
  EXPECT_EQ(strokes(page, "frame").size(), frames + 1);  // the second frame within the first
  EXPECT_EQ(hard_to_read(page), "");
  const auto has = [&](const std::string& words) {
    return std::any_of(page.marks.texts.begin(), page.marks.texts.end(), [&](const PlacedText& text) { return text.text == words; });
  };
  EXPECT_TRUE(has("TRACED: THIS ONE · WITHDRAWN"));
  EXPECT_TRUE(has("VOIDED"));
  const auto all = strokes(page, "frame");
  EXPECT_EQ(std::count_if(all.begin(), all.end(), [](const Stroke& frame) { return frame.dash > 0; }), 2);  // and that of the legend
}

TEST(TracePicture, OfALoopIsDrawnAndSaysSo) {
  const Page page = drawn(a_loop());
  EXPECT_EQ(hard_to_read(page), "");
  const std::string words = testdata::words_of_text(text_of(page));
  EXPECT_THAT(words, HasSubstr("? loop"));
  EXPECT_THAT(words, HasSubstr("loop: the records say that it went"));
}

TEST(TracePicture, OfSixtyThingsCanBeRead) {
  const Page page = drawn(sixty_things());
  EXPECT_EQ(hard_to_read(page), "");
  const std::string words = testdata::words_of_text(text_of(page));
  for (std::size_t i = 0; i < 60; ++i) EXPECT_THAT(words, HasSubstr(fmt::format("thing-{} ", i)));
  EXPECT_THAT(words, HasSubstr("Sheet: A"));
  EXPECT_THAT(words, Not(HasSubstr("Sheet: A4")));
}

TEST(TracePicture, OfOneThingAndOfMoreThanA0HoldsAreDrawnToo) {
  EXPECT_EQ(hard_to_read(drawn(a_picture(1, {}))), "");
  std::vector<TraceEdge> chain;
  for (std::size_t i = 0; i + 1 < 24; ++i) chain.push_back({i, i + 1});
  const Page page = drawn(a_picture(24, chain));
  EXPECT_GT(page.width, 1189000);
  EXPECT_THAT(text_of(page), HasSubstr(fmt::format("Sheet: a sheet of its own, {} × {} mm", page.width / 1000, page.height / 1000)));
  EXPECT_EQ(hard_to_read(page), "");
}

TEST(TracePicture, GivesEqualBytesTwice) {
  const auto one = lay_out_trace_picture(sixty_things(), fonts());
  const auto two = lay_out_trace_picture(sixty_things(), fonts());
  ASSERT_TRUE(one && two);
  EXPECT_EQ(write_svg(*one, 0), write_svg(*two, 0));
  EXPECT_EQ(write_pdf(*one, fonts(), {"trace"}), write_pdf(*two, fonts(), {"trace"}));
}

TEST(TracePicture, RefusesMoreThanAnybodyCouldReadAndWhatCannotBeSet) {
  const auto many = lay_out_trace_picture(a_picture(401, {}), fonts());
  ASSERT_FALSE(many);
  EXPECT_THAT(describe(many.error().front()), HasSubstr("401 things are too many for one drawing; it holds 400"));
  TracePictureContent content = a_diamond();
  content.things[2].name = "(\xF0\x9F\x8D\xB0)";
  const auto cake = lay_out_trace_picture(content, fonts());
  ASSERT_FALSE(cake);
  EXPECT_THAT(describe(cake.error().front()), HasSubstr("U+1F370"));
}

}  // namespace
}  // namespace tierproof
