#include "tierproof/sums/screening.h"

#include <gtest/gtest.h>

#include <stdexcept>

#include "samples.h"

namespace tierproof {
namespace {

constexpr LogTime half_an_hour = std::chrono::minutes{30};

std::optional<double> warmest_in_buffer(const std::vector<Sample>& log, double tau) {
  BufferOfLog buffer{Minutes{tau}, half_an_hour};
  for (const Sample& sample : log) buffer.take(sample);
  return buffer.warmest();
}
std::optional<double> mean_kinetic(const std::vector<Sample>& log) {
  MeanKineticOfLog mean{half_an_hour};
  for (const Sample& sample : log) mean.take(sample);
  return mean.celsius();
}

// Case T36, computed apart from this program: a door left open for ten minutes, air of 14 °C, in a buffer of 45 minutes.
TEST(BufferOfLog, IsThatOfEqualSteps) {
  const auto log = test::samples({{0, 4}, {5, 4}, {10, 4}, {15, 14}, {20, 14}, {25, 6}, {30, 4}, {35, 4}, {40, 4}, {45, 4}});
  EXPECT_NEAR(warmest_in_buffer(log, 45).value(), 5.9934, 1e-4);
  EXPECT_GT(warmest_in_buffer(log, 5).value(), 10) << "a small buffer follows the air";
  EXPECT_LT(warmest_in_buffer(log, 5).value(), 14);
}

TEST(BufferOfLog, BeginsAgainAfterAGapAndAFault) {
  EXPECT_NEAR(warmest_in_buffer(test::samples({{0, 4}, {31, 14}}), 45).value(), 14, 1e-9) << "over 30 min: nothing is known of it";
  EXPECT_LT(warmest_in_buffer(test::samples({{0, 4}, {30, 14}}), 45).value(), 9);
  auto log = test::samples({{0, 4}, {5, 4}, {10, 14}});
  log[1].read.reset();
  EXPECT_NEAR(warmest_in_buffer(log, 45).value(), 14, 1e-9);
  EXPECT_FALSE(warmest_in_buffer({}, 45));
  EXPECT_THROW(BufferOfLog(Minutes{}, half_an_hour), std::invalid_argument);
  EXPECT_THROW(BufferOfLog(Minutes{1}, LogTime{}), std::invalid_argument);
}

TEST(MeanKineticOfLog, LiesBetweenTheMeanAndTheWarmest) {
  EXPECT_NEAR(mean_kinetic(test::samples({{0, 5}, {30, 5}})).value(), 5, 1e-9);
  // As long at 5 as at 25 °C, with steps between that are as good as none.
  const std::vector<std::pair<double, double>> halves{{5, 1}, {25, 1}};
  const auto log = test::samples({{0, 5}, {10, 5}, {10.0001, 25}, {20.0001, 25}});
  EXPECT_NEAR(mean_kinetic(log).value(), mean_kinetic_c(halves), 1e-3);
  EXPECT_GT(mean_kinetic(log).value(), 15);
  EXPECT_LT(mean_kinetic(log).value(), 25);
}

TEST(MeanKineticOfLog, CountsNothingAcrossAGap) {
  EXPECT_FALSE(mean_kinetic(test::samples({{0, 5}, {31, 25}})));
  EXPECT_FALSE(mean_kinetic(test::samples({{0, 5}})));
  EXPECT_NEAR(mean_kinetic(test::samples({{0, 5}, {10, 5}, {60, 25}})).value(), 5, 1e-9);
  EXPECT_THROW(MeanKineticOfLog(LogTime{}), std::invalid_argument);
}

}  // namespace
}  // namespace tierproof
