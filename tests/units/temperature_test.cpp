#include "tierproof/units/temperature.h"

#include <gtest/gtest.h>

namespace tierproof {
namespace {

template <class A, class B>
concept Adds = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept Subtracts = requires(A a, B b) {
  a - b;
};

// Two points subtract and never add; a span moves a point.
static_assert(!Adds<Temperature, Temperature>);
static_assert(Subtracts<Temperature, Temperature>);
static_assert(Adds<Temperature, TemperatureSpan>);
static_assert(!Adds<TemperatureSpan, Temperature>);

TEST(Temperature, KeepsHundredthsOfBothScalesExactly) {
  EXPECT_EQ(Temperature::hundredths_fahrenheit(4640), celsius(8.0));  // 46.4 °F = 8 °C by definition of the scales
  EXPECT_EQ(Temperature::hundredths_fahrenheit(4100), celsius(5.0));
  EXPECT_NE(Temperature::hundredths_fahrenheit(4641), celsius(8.0));
  EXPECT_NE(Temperature::hundredths_fahrenheit(4641), celsius(8.01));
}

struct Conversion {
  int fahrenheit;
  double celsius;
};

// Exact by C = (F - 32) × 5/9; the rows are the temperatures of the FDA Food Code chapter 3 tables, °F.
class FoodCodeTemperature : public testing::TestWithParam<Conversion> {};
TEST_P(FoodCodeTemperature, ConvertsToItsExactCelsius) {
  EXPECT_NEAR(Temperature::hundredths_fahrenheit(GetParam().fahrenheit * 100).to_celsius(), GetParam().celsius, 5e-5);
}
INSTANTIATE_TEST_SUITE_P(Checks, FoodCodeTemperature,
                         testing::Values(Conversion{41, 5}, Conversion{45, 7.2222}, Conversion{70, 21.1111}, Conversion{135, 57.2222},
                                         Conversion{140, 60}, Conversion{145, 62.7778}, Conversion{150, 65.5556}, Conversion{155, 68.3333},
                                         Conversion{158, 70}, Conversion{165, 73.8889}));

TEST(Temperature, RoundsANumberToTheNearestHundredthOnEitherSideOfZero) {
  EXPECT_EQ(celsius(-18.004), Temperature::hundredths_celsius(-1800));
  EXPECT_EQ(celsius(-18.006), Temperature::hundredths_celsius(-1801));
  EXPECT_EQ(celsius(0.005), Temperature::hundredths_celsius(1));
  EXPECT_EQ(kelvins(-0.5), TemperatureSpan::hundredths_celsius(-50));
}

TEST(Temperature, MovesByASpan) {
  EXPECT_EQ(celsius(71.0) - kelvins(0.5), celsius(70.5));
  EXPECT_EQ(celsius(5.0) - celsius(8.0), kelvins(-3.0));
}

}  // namespace
}  // namespace tierproof
