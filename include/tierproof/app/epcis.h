#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "tierproof/app/session.h"

namespace tierproof {

/// Which events of a kitchen are wanted, and whose names they go by.
struct EpcisWanted {
  std::optional<Date> from{};   ///< first day, by the kitchen's clock; nothing: from the beginning
  std::optional<Date> until{};  ///< last day, included
  std::string domain{};         ///< `https://kitchen.example`: an address that the owner holds; empty: one that nobody can hold
};
struct EpcisDocument {
  std::string text;         ///< an EPCISDocument in JSON
  std::int64_t events = 0;  ///< in it
};

/// The records of a kitchen as events of EPCIS 2.0, for whoever traces food beyond it: packs received, batches and tiers made, boxes
/// packed, stays, readings, cleanings, hand-overs, what was thrown away, withdrawn or recalled. A note that was corrected or voided stands
/// there as the event that it was, with the declaration of its error.
///
/// Nothing in it is a name: things go by their numbers, places, kit, thermometers and suppliers by a hash, a customer by the number of the
/// cake. Persons, words and what anybody is allergic to are left out. An exercise of a recall is no event. The same records at the same
/// moment give the same text, and an event keeps its id in every later document of the same records.
/// Refused: a domain that is no https address, days in the wrong order, days on which nothing happened that could be told.
/// @source EPCIS 2.0 and CBV 2.0, GS1; private URIs CBV 2.0 section 8 (from memory); UUID version 8 RFC 9562 5.8
Result<EpcisDocument> epcis_document(const Session& session, const EpcisWanted& wanted);

}  // namespace tierproof
