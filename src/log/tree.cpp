#include "tierproof/log/tree.h"

#include <fmt/format.h>

#include <bit>
#include <charconv>
#include <utility>

namespace tierproof {
namespace {

constexpr std::uint64_t largest_size = 9007199254740991;  // sequences are JSON numbers too: 2^53 - 1

}  // namespace

std::string format_head(const Head& head) { return fmt::format("{}:{}", head.size, to_hex(head.root)); }

std::optional<Head> parse_head(std::string_view text) {
  const auto colon = text.find(':');
  if (colon == std::string_view::npos) return std::nullopt;
  const auto size_text = text.substr(0, colon);
  Head head;
  const auto [end, error] = std::from_chars(size_text.data(), size_text.data() + size_text.size(), head.size);
  if (size_text.empty() || error != std::errc{} || end != size_text.data() + size_text.size() || head.size > largest_size)
    return std::nullopt;
  if (size_text.size() > 1 && size_text[0] == '0') return std::nullopt;
  const auto root = digest_from_hex(text.substr(colon + 1));
  if (!root) return std::nullopt;
  head.root = *root;
  return head;
}

Digest leaf_hash(std::string_view data) {
  std::string bytes;
  bytes.reserve(data.size() + 1);
  bytes += '\x00';
  bytes += data;
  return sha256(bytes);
}

Digest node_hash(const Digest& left, const Digest& right) {
  std::array<char, 65> bytes{'\x01'};
  for (std::size_t i = 0; i < 32; ++i) {
    bytes[1 + i] = static_cast<char>(left[i]);
    bytes[33 + i] = static_cast<char>(right[i]);
  }
  return sha256({bytes.data(), bytes.size()});
}

Digest tree_root(std::span<const Digest> leaves) {
  if (leaves.empty()) return sha256("");
  if (leaves.size() == 1) return leaves[0];
  const auto split = std::bit_floor(leaves.size() - 1);  // the largest power of two below the number of leaves
  return node_hash(tree_root(leaves.first(split)), tree_root(leaves.subspan(split)));
}

void Frontier::add(const Digest& leaf) {
  Digest peak = leaf;
  for (auto merges = std::countr_one(size_); merges > 0; --merges) {
    peak = node_hash(peaks_.back(), peak);
    peaks_.pop_back();
  }
  peaks_.push_back(peak);
  ++size_;
}

Head Frontier::head() const {
  if (peaks_.empty()) return {0, sha256("")};
  Digest root = peaks_.back();
  for (auto peak = peaks_.rbegin() + 1; peak != peaks_.rend(); ++peak) root = node_hash(*peak, root);
  return {size_, root};
}

std::optional<Frontier> Frontier::restore(std::uint64_t size, std::vector<Digest> peaks) {
  if (static_cast<std::size_t>(std::popcount(size)) != peaks.size()) return std::nullopt;
  Frontier frontier;
  frontier.size_ = size;
  frontier.peaks_ = std::move(peaks);
  return frontier;
}

}  // namespace tierproof
