#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "label_checks.h"
#include "sample.h"
#include "stock_files.h"
#include "tierproof/papers/pdf.h"

namespace tierproof {
namespace {

using testdata::fonts;

/// A page as a thermal head prints it: every dot is black or is not.
struct DotPicture {
  int width = 0;
  int height = 0;
  int dots_per_inch = 0;
  std::vector<bool> dots;
  bool black(int x, int y) const {
    return x >= 0 && y >= 0 && x < width && y < height &&
           dots[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
  }
  int at(Micrometres length) const { return static_cast<int>(length * dots_per_inch / 25400); }
};

DotPicture dots_of(const Pages& pages, const std::string& name, int dots_per_inch) {
  const std::string path = testdata::kept(name + ".pdf", write_pdf(pages, fonts(), {name, Instant{}}));
  const std::string root = path.substr(0, path.size() - 4);
  testdata::output_of("pdftoppm -mono -singlefile -r " + std::to_string(dots_per_inch) + " '" + path + "' '" + root + "' 2>&1");
  std::istringstream in{testdata::text_of_file(root + ".pbm")};
  DotPicture picture;
  std::string magic;
  in >> magic >> picture.width >> picture.height;
  in.get();
  EXPECT_EQ(magic, "P4") << name;
  picture.dots_per_inch = dots_per_inch;
  std::string row(static_cast<std::size_t>(picture.width + 7) / 8, '\0');
  while (in.read(row.data(), static_cast<std::streamsize>(row.size()))) {
    for (int x = 0; x < picture.width; ++x)
      picture.dots.push_back(((static_cast<unsigned char>(row[static_cast<std::size_t>(x) / 8]) >> (7 - x % 8)) & 1) != 0);
  }
  EXPECT_EQ(picture.dots.size(), static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height)) << name;
  return picture;
}

/// What an optical reader makes of the picture. Between dots its greys rise and fall evenly, four times as fine: no reader is made for
/// letters of so few dots.
std::string read_back(const DotPicture& picture, const std::string& name) {
  constexpr int times = 4;
  const auto grey_at = [&](int x, int y) { return picture.black(x, y) ? 0.0 : 255.0; };
  std::string greys = "P5\n" + std::to_string(picture.width * times) + " " + std::to_string(picture.height * times) + "\n255\n";
  for (int y = 0; y < picture.height * times; ++y) {
    const double down = (y + 0.5) / times - 0.5;
    const int above = static_cast<int>(std::floor(down));
    for (int x = 0; x < picture.width * times; ++x) {
      const double across = (x + 0.5) / times - 0.5;
      const int before = static_cast<int>(std::floor(across));
      const double upper = std::lerp(grey_at(before, above), grey_at(before + 1, above), across - before);
      const double lower = std::lerp(grey_at(before, above + 1), grey_at(before + 1, above + 1), across - before);
      greys += static_cast<char>(static_cast<int>(std::lerp(upper, lower, down - above)));
    }
  }
  const std::string path = testdata::kept(name + ".pgm", greys);
  return testdata::output_of("OMP_THREAD_LIMIT=1 tesseract '" + path + "' - --psm 4 2>/dev/null");
}

/// This reader takes a bold O for a G now and then; whether the two differ enough is asked of their dots, below.
std::string without_g(std::string text) {
  std::replace(text.begin(), text.end(), 'G', 'O');
  return text;
}

/// A list of every allergen of the law's list in the Union and of those that other places add, one bold word each.
const std::vector<std::string> allergen_words{"WHEAT",     "RYE",    "BARLEY",    "OATS",     "SPELT",   "EGG",      "FISH",
                                              "PEANUTS",   "SOYA",   "MILK",      "ALMONDS",  "WALNUTS", "CASHEWS",  "PECANS",
                                              "HAZELNUTS", "LUPIN",  "CELERY",    "MUSTARD",  "SESAME",  "MOLLUSCS", "GLUTEN",
                                              "PINE",      "BRAZIL", "PISTACHIO", "SULPHITES"};

LabelContent with_every_allergen(bool emphasised) {
  LabelContent label = testdata::a_label();
  label.ingredients.clear();
  for (const std::string& word : allergen_words) label.ingredients.push_back({{"ground ", false}, {word, emphasised}, {" paste", false}});
  return label;
}

/// The label with letters of the least height: on the lowest stock of this width that holds it.
Pages squeezed(const LabelContent& content) {
  Stock stock{"die", "die-cut label", 620, 400, 30, 203, false};
  while (stock.height < 3000) {
    auto label = lay_out_label(content, stock, fonts());
    if (label) return *label;
    stock.height += 10;
  }
  ADD_FAILURE() << "does not fit";
  return {};
}

int words_read(const std::string& text) {
  return static_cast<int>(std::count_if(allergen_words.begin(), allergen_words.end(), [&](const std::string& word) {
    return without_g(text).find(without_g(word)) != std::string::npos;
  }));
}

TEST(LabelPicture, AtTwoHundredAndThreeDotsAnInchIsReadWordForWord) {
  const Pages pages = squeezed(with_every_allergen(true));
  const std::string read = read_back(dots_of(pages, "dots-203", 203), "dots-203");
  for (const std::string& word : allergen_words)
    EXPECT_NE(without_g(read).find(without_g(word)), std::string::npos) << word << " in\n" << read;
  // The reader is no mind that fills in what it cannot see: with a third of the dots it fails.
  EXPECT_LT(words_read(read_back(dots_of(pages, "dots-70", 70), "dots-70")), static_cast<int>(allergen_words.size()) / 2);
}

/// Lengths of the black runs across the letters of a text, dot row by dot row.
std::vector<int> runs_across(const DotPicture& picture, const PlacedText& text) {
  std::vector<int> runs;
  for (int y = picture.at(text.baseline - fonts().capital_height(text.face, text.size)) + 1; y < picture.at(text.baseline); ++y) {
    int run = 0;
    for (int x = picture.at(text.x); x <= picture.at(text.x + text.width) + 1; ++x) {
      if (picture.black(x, y)) {
        ++run;
      } else if (run > 0) {
        runs.push_back(run);
        run = 0;
      }
    }
  }
  return runs;
}

// Even at 0.9 mm, the least that any law here allows (Regulation (EU) No 1169/2011 art. 13(3)).
TEST(LabelPicture, HasAllergensInStrokesOfTwoDotsAtLeastAndMuchBlackerThanTheirNeighbours) {
  for (const Micrometres least : {900, 1200}) {
    LabelContent bold = with_every_allergen(true);
    LabelContent plain = with_every_allergen(false);
    bold.heights = plain.heights = {{"text", "x-height", least, "test rule 1"}};
    const auto strokes = [&](const LabelContent& content, const std::string& name) {
      const Pages pages = squeezed(content);
      const DotPicture picture = dots_of(pages, name, 203);
      std::pair<int, int> thin{0, 0};  // runs of one dot, all runs
      double ink = 0;
      int words = 0;
      for (const PlacedText& text : pages.pages.front().marks.texts) {
        if (!is_bold(text.face) && content.ingredients.front()[1].emphasised) continue;
        const auto holds = [&](const std::string& word) { return text.text.find(word) != std::string::npos; };
        if (std::none_of(allergen_words.begin(), allergen_words.end(), holds)) continue;
        for (const int run : runs_across(picture, text)) {
          ++thin.second;
          thin.first += run == 1 ? 1 : 0;
          ink += run;
        }
        ++words;
      }
      EXPECT_GE(words, 5) << name;
      return std::pair{static_cast<double>(thin.first) / thin.second, ink / thin.second};
    };
    const auto [bold_thin, bold_run] = strokes(bold, "strokes-bold");
    const auto [plain_thin, plain_run] = strokes(plain, "strokes-plain");
    EXPECT_LE(bold_thin, 0.03) << least << " µm: " << bold_thin << " of the strokes across an allergen are one dot wide";
    EXPECT_GE(bold_run, plain_run * 1.4) << least << " µm: " << bold_run << " against " << plain_run << " dots";
    EXPECT_GE(plain_thin, 0.2) << "the count sees thin strokes where there are some";
  }
}

/// The dots of a capital in the bold face, as set in a label with letters 1.2 mm (x) high.
std::vector<bool> dots_of_capital(const DotPicture& picture, const PlacedText& text, int wide, int shift) {
  std::vector<bool> dots;
  for (int y = picture.at(text.baseline) - 16; y <= picture.at(text.baseline) + 2; ++y) {
    for (int x = 0; x < wide; ++x) dots.push_back(picture.black(picture.at(text.x) + x + shift, y));
  }
  return dots;
}

TEST(LabelPicture, TellsEveryCapitalFromEveryOther) {
  LabelContent label = testdata::a_short_label();
  label.ingredients.clear();
  for (char c = 'A'; c <= 'Z'; ++c) label.ingredients.push_back({{std::string(1, c), true}});
  const Pages pages = squeezed(label);
  const DotPicture picture = dots_of(pages, "capitals", 203);
  std::vector<const PlacedText*> capitals;
  for (const PlacedText& text : pages.pages.front().marks.texts) {
    if (is_bold(text.face) && text.text.size() == 1 && text.text >= "A" && text.text <= "Z") capitals.push_back(&text);
  }
  ASSERT_EQ(capitals.size(), 26U);
  int least = 1000;
  std::string closest;
  for (const PlacedText* one : capitals) {
    const int wide = picture.at(one->width) + 2;
    const auto dots = dots_of_capital(picture, *one, wide, 0);
    for (const PlacedText* other : capitals) {
      if (one == other) continue;
      int differing = 1000;
      for (int shift = -1; shift <= 1; ++shift) {  // one may have begun later within its dot
        const auto others = dots_of_capital(picture, *other, wide, shift);
        int count = 0;
        for (std::size_t i = 0; i < dots.size(); ++i) count += dots[i] != others[i] ? 1 : 0;
        differing = std::min(differing, count);
      }
      if (differing < least) {
        least = differing;
        closest = one->text + " and " + other->text;
      }
    }
  }
  EXPECT_GE(least, 6) << closest << " differ by " << least << " dots";
}

}  // namespace
}  // namespace tierproof
