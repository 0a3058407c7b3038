#pragma once

#include <vector>

#include "chart_scale.h"
#include "decimate.h"

namespace tierproof::papers {

/// The readings of a chart on their way to the paper, from the left end of `axes` on. Neighbours are joined where no gap lies between.
std::vector<Sample> samples_of(const Chart& chart, const Axes& axes);
/// What a heat step had shown by each of its readings, in milliseconds.
std::vector<Sample> bound_samples_of(const Chart& chart, const Axes& axes);
/// Limit and allowance, as the values of `samples_of`.
std::vector<std::int64_t> levels_of(const Chart& chart);
/// The time that the chart is drawn for: `from`..`to`, and its readings outside of it. Never empty.
void set_times(const Chart& chart, Axes& axes);

}  // namespace tierproof::papers
