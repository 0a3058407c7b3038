#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/sums/activity_table.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// Water activity and pH as a meter or a laboratory gave them.
struct ActivityMeasured {
  Share activity;
  Share activity_error;     ///< of the meter, added
  std::optional<Share> ph;  ///< nothing: not measured; then it counts as not sour at all
  Share ph_error;
  std::string told;  ///< `water activity 0.86 ± 0.01 and pH 6.2, measured on 2 May 2026 by the laboratory (dew point)`
};

/// One part of what is to stand without a fridge.
struct StandingPart {
  std::string part;                          ///< `sponge (batch-1)`
  std::vector<ActivityMeasured> measured{};  ///< each counts
  std::optional<double> estimate{};          ///< water activity by a model, its margin added: it may only say that the fridge is needed
  std::string advice{};                      ///< written advice or a validation on file that this part keeps without one
  std::string against{};                     ///< the same that it does not
  std::string of_another{};                  ///< what is on file and does not speak of it, in words: told, and counts for nothing
};

struct Standing {
  std::string subject;
  std::vector<StandingPart> parts;
  std::vector<ActivityMeasured> whole{};  ///< of the finished food, put together and left until its water had moved; each counts
  std::string advice{};                   ///< written advice or a validation on file that the finished food keeps without a fridge
  std::string against{};                  ///< the same that it does not
};

/// Judges that a food may stand without a fridge (control `out-of-fridge`) by `table`, that for food put together by hand.
///
/// `shown`: advice on file for the whole; or the whole as measured, its errors added, in a cell that asks for nothing; or the same of every
/// part and of where two of them touch, which may become as wet as the wettest and as little sour as the least sour of them. Advice for a
/// part by itself counts only where it is the only one; then it outranks what was measured, which it is the assessment of. `not met`, for a
/// person: advice that the whole or a part needs the fridge, whatever else is on file; or the whole or a part as measured is to be
/// assessed, which counts as needing it. Else `not shown`: nothing is known of some part, or only where they touch the table asks for an
/// assessment. An estimate adds what it says to a part that nothing is known of, and lifts nothing.
Finding judge_out_of_fridge(const Standing& food, const ActivityTable& table);

}  // namespace tierproof
