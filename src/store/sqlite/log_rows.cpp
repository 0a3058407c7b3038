#include "log_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace tierproof::sqlite {

std::optional<Digest> digest_from_bytes(std::string_view bytes) {
  Digest digest{};
  if (bytes.size() != digest.size()) return std::nullopt;
  std::copy(bytes.begin(), bytes.end(), digest.begin());
  return digest;
}

std::string_view bytes_of(const Digest& digest) { return {reinterpret_cast<const char*>(digest.data()), digest.size()}; }

std::string frontier_bytes(const Frontier& frontier) {
  std::string out;
  for (const auto& peak : frontier.peaks()) out += bytes_of(peak);
  return out;
}

std::optional<Frontier> frontier_from_bytes(std::uint64_t size, std::string_view bytes) {
  constexpr std::size_t width = std::tuple_size_v<Digest>;
  std::vector<Digest> peaks;
  for (; bytes.size() >= width; bytes.remove_prefix(width)) peaks.push_back(*digest_from_bytes(bytes.substr(0, width)));
  if (!bytes.empty()) return std::nullopt;
  return Frontier::restore(size, std::move(peaks));
}

Frontier last_frontier(const Database& database, const std::string& kitchen) {
  auto last = database.prepare("SELECT seq, head_root, frontier FROM entry WHERE kitchen = ?1 ORDER BY seq DESC LIMIT 1");
  last.bind_text(1, kitchen);
  if (!last.step()) return {};
  const auto size = last.sequence(0);
  auto frontier = frontier_from_bytes(size, last.bytes(2));
  if (!frontier || bytes_of(frontier->head().root) != last.bytes(1)) {
    throw Fault{exit_status::configuration,
                fmt::format("the head kept with entry {} does not hold; run verify, and restore the file from a backup", size)};
  }
  return *std::move(frontier);
}

}  // namespace tierproof::sqlite
