#pragma once

#include <vector>

#include "record_type.h"

namespace tierproof::papers {

/// What page one rests on: ingredients, allergens with their reasons, controls in full, packs, batches, charts, sums, sources.
std::vector<Block> further_pages(const CakeRecordContent& content, const RecordType& type);

}  // namespace tierproof::papers
