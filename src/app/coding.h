#pragma once

#include <cstdint>
#include <string>

#include "tierproof/app/judging.h"

namespace tierproof {

/// What the printed codes of a label say. Nothing of a person: the cake, the records, the goods.
struct CodeTexts {
  std::string code;          ///< of the QR Code: `cake-1 41:5dc9da79`, of one box of several `cake-1 41:5dc9da79 2/3`
  std::string gs1_elements;  ///< `[01]…[17]…[10]…`; empty: no GS1 DataMatrix is printed
};

/// The codes on the label of box `box` of a judged cake.
///
/// A GS1 element string is given only where the kitchen has a GS1 Company Prefix and the cake a GTIN of it, and nothing stops the cake
/// without override: what must not be handed over shall not pass a till. It tells the GTIN, the date as the label prints it (17 for a use
/// by, 15 for a best before; none where the label has none) and the number of the cake as its lot. A cake in several boxes has the
/// identifier of a piece of a trade item (8006) in place of the GTIN alone, so that no till takes two boxes for two cakes.
/// @param box  from 1
CodeTexts code_texts(const Session& session, const Judgement& judgement, std::int64_t box);

}  // namespace tierproof
