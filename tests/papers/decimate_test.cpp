#include "papers/decimate.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <map>
#include <set>

namespace tierproof::papers {
namespace {

constexpr Micrometres one_column = 250;

/// Readings that swing about, with faults and gaps; many or few a column.
std::vector<Sample> any_samples() {
  std::vector<Sample> samples;
  const auto count = *rc::gen::inRange<std::size_t>(0, 300);
  const auto widest_step = *rc::gen::element<Micrometres>(2, 40, 300, 2000);
  const auto breaks = *rc::gen::element(2, 8, 1000);
  Micrometres x = *rc::gen::inRange<Micrometres>(0, 1000);
  for (std::size_t i = 0; i < count; ++i) {
    x += *rc::gen::inRange<Micrometres>(0, widest_step);
    Sample sample{x, *rc::gen::inRange<std::int64_t>(-20, 20), false};
    if (*rc::gen::inRange(0, breaks) == 0) sample.value.reset();
    sample.joined = i > 0 && sample.value && samples.back().value && *rc::gen::inRange(0, breaks) != 0;
    samples.push_back(sample);
  }
  return samples;
}

std::map<Micrometres, std::vector<std::size_t>> columns_of(const std::vector<Sample>& samples) {
  std::map<Micrometres, std::vector<std::size_t>> columns;
  for (std::size_t i = 0; i < samples.size(); ++i) columns[samples[i].x / one_column].push_back(i);
  return columns;
}

std::set<std::size_t> indices_of(const std::vector<KeptSample>& kept) {
  std::set<std::size_t> indices;
  for (const KeptSample& sample : kept) indices.insert(sample.index);
  return indices;
}

/// The values that some samples of a column reach.
std::set<std::int64_t> values_at(const std::vector<Sample>& samples, const std::vector<std::size_t>& column,
                                 const std::set<std::size_t>* only) {
  std::set<std::int64_t> values;
  for (const std::size_t i : column) {
    if (samples[i].value && (only == nullptr || only->contains(i))) values.insert(*samples[i].value);
  }
  return values;
}

bool crosses(std::int64_t a, std::int64_t b, std::int64_t level) { return (a < level) != (b < level) || (a > level) != (b > level); }

const std::vector<std::int64_t> limits{0, 7};

RC_GTEST_PROP(Decimate, KeepsThePeakAndTheLowOfEveryColumn, ()) {
  const auto samples = any_samples();
  const auto kept = indices_of(decimate(samples, one_column, limits));
  for (const auto& [column, members] : columns_of(samples)) {
    const auto all = values_at(samples, members, nullptr);
    const auto left = values_at(samples, members, &kept);
    RC_ASSERT(all.empty() == left.empty());
    if (all.empty()) continue;
    RC_ASSERT(*all.begin() == *left.begin());
    RC_ASSERT(*all.rbegin() == *left.rbegin());
  }
}

RC_GTEST_PROP(Decimate, KeepsTheFirstAndTheLastCrossingOfEveryColumnWithBothItsReadings, ()) {
  const auto samples = any_samples();
  const auto kept = indices_of(decimate(samples, one_column, limits));
  for (const std::int64_t level : limits) {
    for (const auto& [column, members] : columns_of(samples)) {
      std::vector<std::size_t> crossings;
      for (const std::size_t i : members) {
        if (i > 0 && samples[i].value && samples[i - 1].value && crosses(*samples[i - 1].value, *samples[i].value, level))
          crossings.push_back(i);
      }
      if (crossings.empty()) continue;
      for (const std::size_t i : {crossings.front(), crossings.back()}) {
        RC_ASSERT(kept.contains(i));
        RC_ASSERT(kept.contains(i - 1));
      }
    }
  }
}

RC_GTEST_PROP(Decimate, KeepsEveryCrossingWhereAColumnHoldsFewReadings, ()) {
  auto samples = any_samples();
  for (std::size_t i = 0; i < samples.size(); ++i) samples[i].x = static_cast<Micrometres>(i) * one_column / 2;  // two a column
  const auto kept = indices_of(decimate(samples, one_column, limits));
  RC_ASSERT(kept.size() == samples.size());
}

RC_GTEST_PROP(Decimate, DrawsALineOnlyOverWhatIsJoined, ()) {
  const auto samples = any_samples();
  const auto kept = decimate(samples, one_column, limits);
  for (std::size_t i = 0; i < kept.size(); ++i) {
    bool joined = i > 0;
    for (std::size_t j = i > 0 ? kept[i - 1].index + 1 : 0; i > 0 && j <= kept[i].index; ++j) joined = joined && samples[j].joined;
    RC_ASSERT(kept[i].joined == joined);
  }
}

RC_GTEST_PROP(Decimate, KeepsBothEdgesOfTheFirstAndTheLastGapAndFaultOfEveryColumn, ()) {
  const auto samples = any_samples();
  const auto kept = indices_of(decimate(samples, one_column, limits));
  for (const auto& [column, members] : columns_of(samples)) {
    std::vector<std::size_t> broken;
    std::vector<std::size_t> faults;
    for (const std::size_t i : members) {
      if (i > 0 && !samples[i].joined) broken.push_back(i);
      if (!samples[i].value) faults.push_back(i);
    }
    for (const std::size_t i : broken.empty() ? broken : std::vector{broken.front(), broken.back()}) {
      RC_ASSERT(kept.contains(i));
      RC_ASSERT(kept.contains(i - 1));
    }
    for (const std::size_t i : faults.empty() ? faults : std::vector{faults.front(), faults.back()}) RC_ASSERT(kept.contains(i));
  }
}

RC_GTEST_PROP(Decimate, KeepsTheOrderAndNoMoreThanTheColumnsHold, ()) {
  const auto samples = any_samples();
  const auto kept = decimate(samples, one_column, limits);
  RC_ASSERT(std::is_sorted(kept.begin(), kept.end(), [](const KeptSample& a, const KeptSample& b) { return a.index < b.index; }));
  RC_ASSERT(indices_of(kept).size() == kept.size());
  RC_ASSERT(kept.size() <= columns_of(samples).size() * most_kept(limits.size()));
  if (!samples.empty()) {
    RC_ASSERT(kept.front().index == 0U);
    RC_ASSERT(kept.back().index + 1 == samples.size());
  }
}

TEST(Decimate, LeavesOutWhatLiesBetweenTheFirstTheLowestTheHighestAndTheLast) {
  std::vector<Sample> samples;
  for (const std::int64_t value : {3, 4, 9, 5, 1, 2, 2, 3}) samples.push_back({100, value, !samples.empty()});
  const auto kept = decimate(samples, one_column, {});
  EXPECT_EQ(kept, (std::vector<KeptSample>{{0, false}, {2, true}, {4, true}, {7, true}}));
}

}  // namespace
}  // namespace tierproof::papers
