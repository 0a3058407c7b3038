#pragma once

#include <functional>
#include <string>
#include <vector>

#include "tierproof/papers/pages.h"

namespace tierproof {

/// A paper whose picture is kept: tests/data/golden/<name>.png.
struct GoldenPaper {
  std::string name;
  int dots_per_inch = 60;
  int page = 1;
  std::function<Result<Pages>()> lay_out;
};

/// One of each paper. The first is a label.
std::vector<GoldenPaper> golden_papers();

}  // namespace tierproof
