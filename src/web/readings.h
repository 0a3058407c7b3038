#pragma once

#include "parts.h"

namespace tierproof::web {

/// A form that books one reading of a thermometer.
/// @param about       place, batch or cake
/// @param thermometer proposed
Html reading_form(Visit& visit, const std::string& id, const std::string& about, const std::string& thermometer, bool of_batch);
/// A form that puts a batch or cake somewhere.
Html put_form(Visit& visit, const std::string& id, const std::string& what);

/// A chart of readings as inline SVG, over a table of the same numbers.
struct PlottedReading {
  Instant at{};
  std::optional<Temperature> read;  ///< nothing: a fault
};
Html plot(const Session& session, const std::string& title, const std::vector<PlottedReading>& readings, std::optional<Temperature> limit,
          Span longest_step);

}  // namespace tierproof::web
