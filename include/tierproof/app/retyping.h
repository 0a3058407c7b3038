#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "tierproof/app/session.h"

namespace tierproof {

/// What one person typed of one thermometer, as note `sequence` holds it; nothing where that is no note in force, or where its readings
/// came from a logger's file or from a sensor.
std::optional<LoggedReading> typed_reading(const Session& session, std::uint64_t sequence);

/// Puts another temperature in the place of one that was typed wrong: the note that holds it is taken back, and what the thermometer really
/// showed is booked for the same instant, thing and purpose, both or neither. The new note comes first in what is booked. Readings are
/// sealed as they came, so that this is no correction of the note itself.
///
/// Refused, all together: no reason; a note that is not the newest of its chain, or holds no reading that somebody typed; one that an open
/// complaint rests on; no temperature, one in another scale than the thermometer shows, or the one that stands there.
Result<Booked> retype_reading(Session& session, std::uint64_t sequence, std::optional<Degrees> read, const std::string& why);

}  // namespace tierproof
