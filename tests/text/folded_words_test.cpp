#include "tierproof/text/folded_words.h"

#include <gmock/gmock.h>

namespace tierproof {
namespace {

using testing::ElementsAre;

TEST(FoldedWords, AreRunsOfLettersWhateverTheirCase) {
  EXPECT_THAT(folded_words("Ada's (new) FRIDGE-2, read"), ElementsAre("ada", "s", "new", "fridge", "2", "read"));
  EXPECT_THAT(folded_words(""), ElementsAre());
  EXPECT_THAT(folded_words(" -/ "), ElementsAre());
  EXPECT_THAT(folded_words("a\xff"), ElementsAre());
}

// Unicode Standard, CaseFolding.txt: U+00DF folds to ss (status F), U+00C9 to U+00E9 (status C); UAX #15: e and U+0301 compose to U+00E9.
TEST(FoldedWords, FoldAndComposeAsUnicodeSays) {
  EXPECT_THAT(folded_words("WEISS Weiß"), ElementsAre("weiss", "weiss"));
  EXPECT_THAT(folded_words("\xc3\x89va E\xcc\x81VA"), ElementsAre("\xc3\xa9va", "\xc3\xa9va"));
}

TEST(FoldedWords, AreCountedInLetters) {
  EXPECT_EQ(length_of_word("\xc3\xa9va"), 3u);
  EXPECT_EQ(length_of_word("bo"), 2u);
  EXPECT_EQ(length_of_word(""), 0u);
}

}  // namespace
}  // namespace tierproof
