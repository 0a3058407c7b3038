#include "tierproof/sums/activity_table.h"

#include <algorithm>

namespace tierproof {
namespace {

std::size_t band_of(const std::vector<BandEnd>& ends, const Share& value) {
  const auto found =
      std::find_if(ends.begin(), ends.end(), [&](const BandEnd& end) { return end.belongs ? value <= end.at : value < end.at; });
  return static_cast<std::size_t>(found - ends.begin());
}

}  // namespace

bool is_to_be_assessed(const ActivityTable& table, const Share& activity, const Share& ph) {
  return table.assessed.at(band_of(table.activity, activity)).at(band_of(table.ph, ph));
}

}  // namespace tierproof
