#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "record_type.h"

namespace tierproof::papers {

/// Of the entries made after hand-over, wherever they stand.
inline constexpr const char* later_heading = "Entries made after hand-over";

/// What page one links to.
inline constexpr std::string_view later_anchor = "later-entries";
inline constexpr std::string_view controls_anchor = "controls-in-full";
std::string anchor_of_finding(std::size_t finding);
std::string anchor_of_allergen(std::size_t allergen);

/// What page one rests on: contents, ingredients, allergens with their reasons, controls in full, packs, batches, charts, sums, sources.
/// With `later_entries` also those made after hand-over, of which page one then shows some.
std::vector<Block> further_pages(const CakeRecordContent& content, const RecordType& type, bool later_entries);

}  // namespace tierproof::papers
