#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "database.h"
#include "tierproof/log/tree.h"

namespace tierproof::sqlite {

/// A digest out of 32 stored bytes; nothing for any other length.
std::optional<Digest> digest_from_bytes(std::string_view bytes);
std::string_view bytes_of(const Digest& digest);

/// The peaks one after the other, 32 bytes each.
std::string frontier_bytes(const Frontier& frontier);
/// The frontier of `size` leaves out of its bytes; nothing if they do not fit.
std::optional<Frontier> frontier_from_bytes(std::uint64_t size, std::string_view bytes);

/// The head and frontier after the last entry. @throws Fault 78 if what is stored with it cannot be one
Frontier last_frontier(const Database& database, const std::string& kitchen);

}  // namespace tierproof::sqlite
