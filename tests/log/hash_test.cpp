#include "tierproof/log/hash.h"

#include <gtest/gtest.h>

#include <string>
#include <thread>

namespace tierproof {
namespace {

// FIPS 180-4 example values as published by NIST ("SHA-256" examples: one block, two blocks) and the SHA-256 of nothing.
TEST(Sha256, GivesThePublishedValues) {
  EXPECT_EQ(to_hex(sha256("abc")), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(to_hex(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq")),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(to_hex(sha256("")), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

// RFC 4231 section 4.2, test case 1 (its key of 20 bytes is padded with zeros to our 32: the same HMAC by RFC 2104 section 2).
TEST(HmacSha256, GivesThePublishedValue) {
  Digest key{};
  for (std::size_t i = 0; i < 20; ++i) key[i] = 0x0b;
  EXPECT_EQ(to_hex(hmac_sha256(key, "Hi There")), "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7");
}

// RFC 4231 section 4.3, test case 2: key "Jefe".
TEST(HmacSha256, GivesThePublishedValueForAShortKey) {
  Digest key{'J', 'e', 'f', 'e'};
  EXPECT_EQ(to_hex(hmac_sha256(key, "what do ya want for nothing?")), "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843");
}

TEST(Sha256, IsTheSameInEveryThread) {
  Digest other{};
  std::thread{[&] { other = sha256("abc"); }}.join();
  EXPECT_EQ(other, sha256("abc"));
}

TEST(Hex, IsReadBackInEitherCaseAndInNoOtherLength) {
  const auto digest = sha256("abc");
  auto upper = to_hex(digest);
  for (auto& c : upper) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  EXPECT_EQ(digest_from_hex(to_hex(digest)), digest);
  EXPECT_EQ(digest_from_hex(upper), digest);
  EXPECT_FALSE(digest_from_hex(""));
  EXPECT_FALSE(digest_from_hex(to_hex(digest).substr(1)));
  EXPECT_FALSE(digest_from_hex(to_hex(digest) + "0"));
  EXPECT_FALSE(digest_from_hex("g" + to_hex(digest).substr(1)));
}

}  // namespace
}  // namespace tierproof
