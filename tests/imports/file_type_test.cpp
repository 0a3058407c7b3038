#include "tierproof/imports/file_type.h"

#include <gtest/gtest.h>

#include "imports/file_for_tests.h"

namespace tierproof {
namespace {

using namespace files_for_tests;

std::string type_of(std::string_view bytes) {
  const auto type = media_type_of(bytes, "a file");
  return type ? *type : describe(type.error().front());
}
bool refused_as(std::string_view bytes, std::string_view words) { return type_of(bytes).find(words) != std::string::npos; }

TEST(FileType, IsFoundByContent) {
  EXPECT_EQ(type_of(jpeg()), "image/jpeg");
  EXPECT_EQ(type_of(png()), "image/png");
  EXPECT_EQ(type_of(webp()), "image/webp");
  EXPECT_EQ(type_of(pdf()), "application/pdf");
}

TEST(FileType, OfWhatIsNoPictureAndNoPdfIsRefusedWithWhatToDo) {
  EXPECT_EQ(
      type_of("flour, 1 kg\n"),
      "a file: is no JPEG, PNG or WebP picture and no PDF by its content, whatever it is called; take a picture of it, or print it into "
      "a PDF, and attach that");
  for (const std::string& bytes : {std::string{"P"}, std::string{"\xff\xd8", 2}, std::string{"PK\x03\x04 a spreadsheet"},
                                   std::string{"RIFF\x04\x00\x00\x00WAVE", 12}, std::string{"%PDF-x.4"}, " " + pdf()})
    EXPECT_TRUE(refused_as(bytes, "is no JPEG")) << bytes;
  EXPECT_TRUE(refused_as("", "is empty"));
  EXPECT_TRUE(refused_as(std::string{"\0\0\0\x18", 4} + "ftypheic" + std::string(12, '\0'), "HEIC")) << "a telephone's own sort";
}

/// Every beginning of a picture is refused, to the byte before its end.
TEST(FileType, OfAPictureThatWasCutShortIsRefusedAtEveryByte) {
  for (const auto& whole : {jpeg(), png(), webp(), pdf()}) {
    for (std::size_t size = 0; size < whole.size(); ++size) {
      const auto cut = type_of(std::string_view{whole}.substr(0, size));
      EXPECT_NE(cut.find("a file: "), std::string::npos) << "cut at " << size << " of " << whole.size() << ": " << cut;
    }
  }
  EXPECT_TRUE(refused_as(jpeg().substr(0, jpeg().size() - 1), "begins as a JPEG picture, but is cut short or damaged"));
  EXPECT_TRUE(refused_as(pdf().substr(0, 20), "begins as a PDF, but is cut short or damaged"));
}

TEST(FileType, LetsPassWhatATelephonePutsBehindTheEnd) {
  EXPECT_EQ(type_of(jpeg() + "SEFT trailer"), "image/jpeg");
  EXPECT_EQ(type_of(png() + "more"), "image/png");
  EXPECT_EQ(type_of(webp() + "more"), "image/webp");
  EXPECT_EQ(type_of(pdf() + "\n\n"), "application/pdf");
  EXPECT_TRUE(refused_as(pdf() + std::string(1100, ' '), "cut short")) << "its end is looked for in the last 1024 bytes";
}

TEST(FileType, ReadsNoLengthThatLeadsOutOfTheFile) {
  std::string bad = png();
  bad[8] = '\x7f';  // the length of IHDR
  EXPECT_TRUE(refused_as(bad, "damaged"));
  bad[8] = '\xff';
  EXPECT_TRUE(refused_as(bad, "damaged"));
  bad = jpeg();
  bad[4] = bad[5] = '\0';  // a segment shorter than its own length
  EXPECT_TRUE(refused_as(bad, "damaged"));
  bad[4] = bad[5] = '\xff';
  EXPECT_TRUE(refused_as(bad, "damaged"));
  bad = webp();
  bad[4] = bad[5] = bad[6] = bad[7] = '\xff';
  EXPECT_TRUE(refused_as(bad, "damaged"));
  bad = webp();
  bad[16] = bad[17] = bad[18] = bad[19] = '\xff';
  EXPECT_TRUE(refused_as(bad, "damaged"));
}

TEST(FileType, WantsWhatMakesAPicture) {
  std::string no_data = png();
  no_data.replace(no_data.find("IDAT"), 4, "tEXt");
  EXPECT_TRUE(refused_as(no_data, "damaged"));
  std::string no_width = png();
  no_width[19] = '\0';
  EXPECT_TRUE(refused_as(no_width, "damaged"));
  std::string no_frame = jpeg();
  no_frame[no_frame.find("\xff\xc0") + 1] = '\xe1';
  EXPECT_TRUE(refused_as(no_frame, "damaged"));
  std::string no_picture = webp();
  no_picture.replace(12, 4, "EXIF");
  EXPECT_TRUE(refused_as(no_picture, "damaged"));
  std::string no_table = pdf();
  no_table.replace(no_table.find("startxref"), 9, "stopxref ");
  EXPECT_TRUE(refused_as(no_table, "damaged"));
}

/// Whatever one byte is changed to, the answer is a type or a refusal, and nothing outside of the file is read.
TEST(FileType, OfADamagedFileIsATypeOrARefusal) {
  for (const auto& whole : {jpeg(), png(), webp(), pdf()}) {
    for (std::size_t at = 0; at < whole.size(); ++at) {
      for (const char byte : {'\0', '\x01', '\x7f', '\xd9', '\xff'}) {
        std::string bad = whole;
        bad[at] = byte;
        bad.shrink_to_fit();
        EXPECT_FALSE(type_of(bad).empty());
      }
    }
  }
}

TEST(FileType, HasPlainWordsAndAnEnding) {
  EXPECT_EQ(words_of_media_type("image/jpeg"), "JPEG picture");
  EXPECT_EQ(words_of_media_type("application/pdf"), "PDF");
  EXPECT_EQ(words_of_media_type("text/plain"), "text/plain");
}

}  // namespace
}  // namespace tierproof
