// Steam against a library of others: python3-iapws of Debian, region 4 of IAPWS-IF97 and the Wagner and Pruss equation of IAPWS-95.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <sstream>

#include "tierproof/sums/probe.h"

namespace tierproof {
namespace {

std::string said_by_python(const std::string& program) {
  FILE* pipe = ::popen(("/usr/bin/python3 -c '" + program + "' 2>&1").c_str(), "r");
  if (pipe == nullptr) return "no pipe";
  std::string said;
  std::array<char, 4096> piece{};
  for (std::size_t n; (n = std::fread(piece.data(), 1, piece.size(), pipe)) > 0;) said.append(piece.data(), n);
  EXPECT_EQ(::pclose(pipe), 0) << said;
  return said;
}

TEST(Steam, BoilsWhereALibraryOfOthersSays) {
  const std::string said = said_by_python(
      "from iapws.iapws97 import _TSat_P, _PSat_T\n"
      "for kpa in range(50, 151, 5): print(kpa, \"%.9f\" % (_TSat_P(kpa / 1000) - 273.15))\n"
      "for celsius in range(1, 141, 3): print(-celsius, \"%.12f\" % (_PSat_T(celsius + 273.15) * 1000))");
  std::istringstream lines{said};
  int compared = 0;
  double of = 0, expected = 0;
  for (; lines >> of >> expected; ++compared) {
    if (of > 0) {
      EXPECT_NEAR(boiling_point(of), expected, 1e-8) << of << " kPa";
    } else {
      EXPECT_NEAR(saturation_megapascals(-of + 273.15) * 1000, expected, 1e-8 * expected) << -of << " °C";
    }
  }
  EXPECT_EQ(compared, 21 + 47) << said;
}

TEST(Steam, HasThePressureOfWagnerAndPrussToo) {
  const std::string said = said_by_python(
      "from iapws.iapws95 import IAPWS95\n"
      "for celsius in (20, 60, 100, 118, 130): print(celsius, \"%.9f\" % (IAPWS95(T=celsius + 273.15, x=0).P * 1000))");
  std::istringstream lines{said};
  int compared = 0;
  double celsius = 0, expected = 0;
  for (; lines >> celsius >> expected; ++compared) {
    EXPECT_NEAR(saturation_megapascals(celsius + 273.15) * 1000 / expected, 1, 1e-4) << celsius << " °C";
  }
  EXPECT_EQ(compared, 5) << said;
}

}  // namespace
}  // namespace tierproof
