#pragma once

#include <string>
#include <vector>

#include "tierproof/app/session.h"

namespace tierproof {

struct SpecimenRequest {
  std::vector<std::string> cakes;
  std::vector<std::string> rules;  ///< codes of label rules; empty: all that there are
  std::string stock;
};

/// One label that was asked for.
struct SpecimenTold {
  std::string cake;
  std::string rules;                          ///< code
  std::vector<std::string> codes_left_out{};  ///< which printed codes have no room
  Refusals why_not{};                         ///< empty: it is on the sheets
  bool old_details = false;                   ///< what its packs say is not up to date, so no label of it would be printed
};

struct Specimens {
  std::string pdf;  ///< empty where no label could be drawn
  std::size_t sheets = 0;
  std::vector<SpecimenTold> told;  ///< cake by cake, each under the rules in their order
};

/// Draws the first box's label of each cake as it would be under each of the label rules, all on sheets that say that nothing on them is
/// for use (`lay_out_specimens`). It is judged as of now, one that was handed over as of then, as if it had been ordered under those rules
/// and no label were printed yet. Nothing is booked, and nothing is kept.
///
/// What cannot be drawn is told beside what can: rules that are not in force that day, a cake that is not built, a stock
/// that is too small. Pack details that are too old for a label to be printed from stop no specimen; its
/// caption says so.
/// Refused: no cake, no such cake, rules or stock.
Result<Specimens> draw_specimens(Session& session, const SpecimenRequest& request, const DataRoot& data);

}  // namespace tierproof
