// Papers look as they did when somebody last looked at them: pictures that were looked at are kept in tests/data/golden and compared with a
// tolerance. `TIERPROOF_UPDATE_GOLDEN=1 build-test/papers_tests_sanitized --gtest_filter='Golden*'` draws them anew, to be looked at again.
#include <gtest/gtest.h>
#include <png.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "golden_papers.h"
#include "stock_files.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/papers/png.h"

namespace tierproof {
namespace {

/// A picture in greys, row by row.
struct Picture {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> greys;
};

Picture picture_of(const std::string& png) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  Picture picture;
  if (png_image_begin_read_from_memory(&image, png.data(), png.size()) == 0) return picture;
  image.format = PNG_FORMAT_GRAY;
  picture.greys.resize(PNG_IMAGE_SIZE(image));
  if (png_image_finish_read(&image, nullptr, picture.greys.data(), 0, nullptr) == 0) return Picture{};
  picture.width = static_cast<int>(image.width);
  picture.height = static_cast<int>(image.height);
  return picture;
}

/// The same as a PNG of greys, a third of the size of the one in colours.
std::string png_of(const Picture& picture) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  image.width = static_cast<png_uint_32>(picture.width);
  image.height = static_cast<png_uint_32>(picture.height);
  image.format = PNG_FORMAT_GRAY;
  png_alloc_size_t size = PNG_IMAGE_PNG_SIZE_MAX(image);
  std::string png(size, '\0');
  EXPECT_NE(png_image_write_to_memory(&image, png.data(), &size, 0, picture.greys.data(), 0, nullptr), 0);
  png.resize(size);
  return png;
}

constexpr int block = 4;              // pixels: smaller than a letter
constexpr double visible = 40;        // of 255, in the mean of a block
constexpr double tolerated = 0.0015;  // of the blocks: rasters of other versions differ at edges

double mean_of(const Picture& picture, int left, int top) {
  double sum = 0;
  int count = 0;
  for (int y = top; y < std::min(top + block, picture.height); ++y) {
    for (int x = left; x < std::min(left + block, picture.width); ++x, ++count) {
      sum += picture.greys[static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) + static_cast<std::size_t>(x)];
    }
  }
  return sum / count;
}

/// The share of blocks that look different; 1 for pictures of different size.
double difference(const Picture& one, const Picture& other) {
  if (one.width != other.width || one.height != other.height || one.width == 0) return 1;
  int differ = 0;
  int all = 0;
  for (int top = 0; top < one.height; top += block) {
    for (int left = 0; left < one.width; left += block, ++all) {
      if (std::abs(mean_of(one, left, top) - mean_of(other, left, top)) > visible) ++differ;
    }
  }
  return static_cast<double>(differ) / all;
}

std::string drawn(const Pages& pages, const GoldenPaper& paper) {
  return write_png(write_pdf(pages, testdata::fonts(), {paper.name, Instant{}, "", "", {}}), paper.dots_per_inch, paper.page);
}

class Golden : public testing::TestWithParam<GoldenPaper> {};

TEST_P(Golden, LooksAsItDidWhenSomebodyLooked) {
  const GoldenPaper& paper = GetParam();
  const auto pages = paper.lay_out();
  ASSERT_TRUE(pages.has_value()) << describe(pages.error().front());
  const Picture now = picture_of(drawn(*pages, paper));
  const std::string file = std::string{TIERPROOF_SOURCE_DIR} + "/tests/data/golden/" + paper.name + ".png";
  if (std::getenv("TIERPROOF_UPDATE_GOLDEN") != nullptr) testdata::write_whole(file, png_of(now));
  const double differs = difference(now, picture_of(testdata::text_of_file(file)));
  if (differs > tolerated) testdata::write_whole(testing::TempDir() + paper.name + "-now.png", png_of(now));
  EXPECT_LE(differs, tolerated) << file << ": " << differs * 100 << " % of the picture looks different; the new one is in "
                                << testing::TempDir() << paper.name << "-now.png";
}
INSTANTIATE_TEST_SUITE_P(Papers, Golden, testing::ValuesIn(golden_papers()), [](const auto& named) {
  std::string name = named.param.name;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

TEST(GoldenPicture, ShowsAWordThatMovedByAMillimetreAnEmphasisThatWasLostAndAPictureThatIsMissing) {
  const GoldenPaper paper = golden_papers().front();
  const auto pages = paper.lay_out();
  ASSERT_TRUE(pages.has_value());
  const Picture as_it_is = picture_of(drawn(*pages, paper));
  EXPECT_EQ(difference(as_it_is, picture_of(drawn(*pages, paper))), 0.0);
  Pages moved = *pages;
  moved.pages.front().marks.texts.front().baseline += 1000;
  EXPECT_GT(difference(as_it_is, picture_of(drawn(moved, paper))), tolerated);
  Pages plain = *pages;
  for (PlacedText& text : plain.pages.front().marks.texts) text.face = Face::condensed;
  EXPECT_GT(difference(as_it_is, picture_of(drawn(plain, paper))), tolerated);
  EXPECT_EQ(difference(as_it_is, Picture{}), 1.0) << "no picture to compare with";
}

}  // namespace
}  // namespace tierproof
