#pragma once

#include <string>

#include "record_type.h"

namespace tierproof::papers {

/// A chart with its title, its numbers as a table, what stood there, its gaps and its note, on one page.
Block chart_block(const Chart& chart, const RecordType& type, const std::string& field);

}  // namespace tierproof::papers
