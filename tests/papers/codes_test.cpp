#include "tierproof/papers/codes.h"

#include <gtest/gtest.h>

#include "sample.h"

namespace tierproof {
namespace {

Code the_code(const Result<Code>& code) {
  EXPECT_TRUE(code.has_value()) << (code ? "" : describe(code.error().front()));
  return code ? *code : Code{};
}

TEST(QrCode, IsAFieldOfSquaresWithItsQuietZone) {
  const Code code = the_code(qr_code("cake-1 41:5dc9da79", "code"));
  EXPECT_EQ(code.kind, "QR Code");
  EXPECT_EQ(code.told, "cake-1 41:5dc9da79");
  EXPECT_EQ(code.across, 25);  // version 2 of ISO/IEC 18004: 26 bytes at level M less mode and length; version 1 holds 14 (from memory)
  EXPECT_EQ(code.down, 25);
  EXPECT_EQ(code.dark.size(), 625u);
  EXPECT_EQ(code.quiet, 4);
}

}  // namespace
}  // namespace tierproof
