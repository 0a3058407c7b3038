#pragma once

#include <vector>

#include "record_type.h"

namespace tierproof::papers {

/// What page one rests on: ingredients, allergens with their reasons, controls in full, packs, batches, charts, sums, sources.
std::vector<Block> further_pages(const CakeRecordContent& content, const RecordType& type);

/// A chart under its title, with its gaps spelt out and its thermometer below.
Block chart_block(const Chart& chart, const RecordType& type, const std::string& field);

}  // namespace tierproof::papers
