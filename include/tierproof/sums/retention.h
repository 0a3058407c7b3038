#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "tierproof/sums/retention_terms.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// A day from which records are kept on, and what it is the day of.
struct KeptFrom {
  std::string event;  ///< of `kept_from`
  Date day{};
};

/// The last day on which something must be kept.
struct KeepUntil {
  Date last{};
  KeptFrom from;
  Cited cited;
};

/// The longest time that `rows` keep `what`, one of `kinds_kept()`: for each row of it whose event is among `known`, the event's day
/// and the row's months (`add_months`: the last day of a month that is too short) or days; the latest of these counts, the first of equals
/// by order of `rows`. Nothing when no row applies. The last day belongs to the time: what is kept until 3 May may go on 4 May.
std::optional<KeepUntil> keep_until(std::span<const RetentionTerm> rows, std::string_view what, std::span<const KeptFrom> known);

}  // namespace tierproof
