#include "decimate.h"

#include <algorithm>
#include <cassert>

namespace tierproof::papers {
namespace {

/// The first and the last of something in one column.
struct FirstAndLast {
  std::optional<std::size_t> first;
  std::size_t last = 0;
  void add(std::size_t index) {
    if (!first) first = index;
    last = index;
  }
};

int side_of(std::int64_t value, std::int64_t level) { return value < level ? -1 : value > level ? 1 : 0; }

/// Marks what one column keeps.
class ColumnKeeper {
 public:
  ColumnKeeper(std::span<const Sample> samples, std::span<const std::int64_t> levels, std::vector<bool>& keep)
      : samples_{samples}, levels_{levels}, keep_{keep} {}

  void column(std::size_t begin, std::size_t end) {
    FirstAndLast values;
    FirstAndLast faults;
    FirstAndLast breaks;
    std::vector<FirstAndLast> crossings(levels_.size());
    std::size_t lowest = begin;
    std::size_t highest = begin;
    for (std::size_t i = begin; i < end; ++i) {
      const Sample& sample = samples_[i];
      if (i > 0 && !sample.joined) breaks.add(i);
      if (!sample.value) {
        faults.add(i);
        continue;
      }
      if (!values.first || *sample.value < *samples_[lowest].value) lowest = i;
      if (!values.first || *sample.value > *samples_[highest].value) highest = i;
      values.add(i);
      if (i == 0 || !samples_[i - 1].value) continue;
      for (std::size_t level = 0; level < levels_.size(); ++level) {
        if (side_of(*sample.value, levels_[level]) != side_of(*samples_[i - 1].value, levels_[level])) crossings[level].add(i);
      }
    }
    keep_[begin] = keep_[end - 1] = true;
    both_ends(values, false);
    both_ends(faults, false);
    both_ends(breaks, true);
    for (const FirstAndLast& crossing : crossings) both_ends(crossing, true);
    if (values.first) keep_[lowest] = keep_[highest] = true;
  }

 private:
  /// @param pairs  each stands for the step that ends at it
  void both_ends(const FirstAndLast& ends, bool pairs) {
    if (!ends.first) return;
    for (const std::size_t index : {*ends.first, ends.last}) {
      keep_[index] = true;
      if (pairs) keep_[index - 1] = true;
    }
  }

  std::span<const Sample> samples_;
  std::span<const std::int64_t> levels_;
  std::vector<bool>& keep_;
};

}  // namespace

std::vector<KeptSample> decimate(std::span<const Sample> samples, Micrometres column, std::span<const std::int64_t> levels) {
  assert(column > 0);
  std::vector<bool> keep(samples.size());
  ColumnKeeper keeper{samples, levels, keep};
  for (std::size_t begin = 0; begin < samples.size();) {
    std::size_t end = begin + 1;
    while (end < samples.size() && samples[end].x / column == samples[begin].x / column) ++end;
    keeper.column(begin, end);
    begin = end;
  }
  std::vector<KeptSample> kept;
  std::size_t unbroken_from = 0;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (!samples[i].joined) unbroken_from = i;
    if (keep[i]) kept.push_back({i, !kept.empty() && unbroken_from <= kept.back().index});
  }
  return kept;
}

}  // namespace tierproof::papers
