#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "record_type.h"

namespace tierproof::papers {

/// What page one links to.
inline constexpr std::string_view controls_anchor = "controls-in-full";
std::string anchor_of_finding(std::size_t finding);
std::string anchor_of_allergen(std::size_t allergen);

/// What page one rests on: contents, ingredients, allergens with their reasons, controls in full, packs, batches, charts, sums, sources.
std::vector<Block> further_pages(const CakeRecordContent& content, const RecordType& type);

}  // namespace tierproof::papers
