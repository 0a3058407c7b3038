#pragma once

#include <string>
#include <vector>

#include "tierproof/sums/cited.h"
#include "tierproof/units/share.h"

namespace tierproof {

/// Where a band of a table ends; the next one begins there.
struct BandEnd {
  Share at;
  bool belongs = false;  ///< `at` itself belongs to the band that it ends
};

/// A table of water activity and pH: whether a food needs time and temperature as a control. Food in a band that is to be assessed needs it
/// until somebody who may has assessed it.
struct ActivityTable {
  Cited cited;
  std::string food;                         ///< `open`: not packed in what it was heated in; `packed after heating`
  std::vector<BandEnd> activity;            ///< ends of the bands, rising; the last band has none
  std::vector<BandEnd> ph;                  ///< the same
  std::vector<std::vector<bool>> assessed;  ///< for each band of activity, for each of pH: whether it is to be assessed
};

}  // namespace tierproof
