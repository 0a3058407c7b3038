#pragma once

#include <cstdint>
#include <string_view>

#include "tierproof/units/result.h"

namespace tierproof {

/// What a document of events held.
struct EpcisSeen {
  std::int64_t events = 0;
};

/// Reads an EPCISDocument in JSON and takes it only if a reader can rely on it: what the published schema of EPCIS 2.0 refuses is refused,
/// and what that schema lets pass though it is wrong: packing without a parent, a time without its offset, a negative quantity, an empty
/// list of events, the context of somebody else, a prefix before a term of the standard. Each refusal names the event by its number from 1,
/// its field and what to write; they come all together (the first hundred, and how many more). Nothing is taken into any records.
/// @param file  its name, for refusals
/// @source EPCIS 2.0 and CBV 2.0, GS1: events and fields 7.4, JSON binding; the lists of terms from memory
Result<EpcisSeen> check_epcis(std::string_view text, std::string_view file);

}  // namespace tierproof
