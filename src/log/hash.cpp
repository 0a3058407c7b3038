#include "tierproof/log/hash.h"

#include <openssl/evp.h>

#include <memory>

#include "tierproof/units/result.h"

namespace tierproof {
namespace {

using MdHandle = std::unique_ptr<EVP_MD, decltype(&EVP_MD_free)>;
using ContextHandle = std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)>;

/// One SHA-256 a thread: fetching the algorithm and making the context cost more than hashing an entry.
class Hasher {
 public:
  Hasher() {
    if (!algorithm_ || !context_) fail();
  }

  void start() {
    if (EVP_DigestInit_ex2(context_.get(), algorithm_.get(), nullptr) != 1) fail();
  }
  void add(const void* bytes, std::size_t size) {
    if (EVP_DigestUpdate(context_.get(), bytes, size) != 1) fail();
  }
  Digest finish() {
    Digest digest{};
    unsigned length = 0;
    if (EVP_DigestFinal_ex(context_.get(), digest.data(), &length) != 1 || length != digest.size()) fail();
    return digest;
  }

 private:
  [[noreturn]] static void fail() { throw Fault{exit_status::configuration, "OpenSSL does not give a SHA-256"}; }

  MdHandle algorithm_{EVP_MD_fetch(nullptr, "SHA256", nullptr), &EVP_MD_free};
  ContextHandle context_{EVP_MD_CTX_new(), &EVP_MD_CTX_free};
};

Hasher& hasher() {
  thread_local Hasher one;
  return one;
}

int nibble_of(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

}  // namespace

Digest sha256(std::string_view bytes) {
  auto& hash = hasher();
  hash.start();
  hash.add(bytes.data(), bytes.size());
  return hash.finish();
}

Digest hmac_sha256(const Digest& key, std::string_view bytes) {
  std::array<std::uint8_t, 64> inner{};  // the block size of SHA-256; the key is shorter, so it is padded, never hashed
  std::array<std::uint8_t, 64> outer{};
  for (std::size_t i = 0; i < inner.size(); ++i) {
    const std::uint8_t byte = i < key.size() ? key[i] : 0;
    inner[i] = byte ^ 0x36;
    outer[i] = byte ^ 0x5c;
  }
  auto& hash = hasher();
  hash.start();
  hash.add(inner.data(), inner.size());
  hash.add(bytes.data(), bytes.size());
  const auto middle = hash.finish();
  hash.start();
  hash.add(outer.data(), outer.size());
  hash.add(middle.data(), middle.size());
  return hash.finish();
}

std::string to_hex(std::span<const std::uint8_t> bytes) {
  constexpr char digits[] = "0123456789abcdef";
  std::string out;
  out.reserve(bytes.size() * 2);
  for (const auto byte : bytes) {
    out += digits[byte >> 4];
    out += digits[byte & 15];
  }
  return out;
}

std::optional<Digest> digest_from_hex(std::string_view hex) {
  Digest digest{};
  if (hex.size() != digest.size() * 2) return std::nullopt;
  for (std::size_t i = 0; i < digest.size(); ++i) {
    const int high = nibble_of(hex[2 * i]);
    const int low = nibble_of(hex[2 * i + 1]);
    if (high < 0 || low < 0) return std::nullopt;
    digest[i] = static_cast<std::uint8_t>(high * 16 + low);
  }
  return digest;
}

}  // namespace tierproof
