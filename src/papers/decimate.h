#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "tierproof/papers/pages.h"

namespace tierproof::papers {

/// One reading on its way to the paper.
struct Sample {
  Micrometres x = 0;                  ///< never less than that of the sample before it
  std::optional<std::int64_t> value;  ///< nothing: a fault
  bool joined = false;                ///< both it and the sample before it have a value, and no gap lies between
};

/// A sample that is drawn.
struct KeptSample {
  std::size_t index = 0;
  bool joined = false;  ///< everything from the kept sample before it to this one is joined, so a line may be drawn
  friend bool operator==(const KeptSample&, const KeptSample&) = default;
};

/// At most so many are kept of one column.
constexpr std::size_t most_kept(std::size_t levels) { return 12 + 4 * levels; }

/// Leaves out what the paper cannot show, in the order of the samples. Of each column of the paper, `column` wide and counted from
/// x = 0, are kept: the first and the last sample, the first and the last with a value, the first lowest and the first highest, the
/// first and the last fault, both samples of the first and of the last break (two neighbours that are not joined), and for each of
/// `levels` both samples of the first and of the last crossing (two neighbours, of which one is below the level and the other is not,
/// or one above it and the other is not). So a line through what is kept leaves every column where the whole line does, reaches as high
/// and as low in it, and crosses a level in it only if the whole line does.
/// @pre column > 0
std::vector<KeptSample> decimate(std::span<const Sample> samples, Micrometres column, std::span<const std::int64_t> levels);

}  // namespace tierproof::papers
