#pragma once

#include <fmt/format.h>

#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tierproof/app/recalling.h"

namespace tierproof {

/// `3 May 2026, 09:00, by ada (note 50)`
template <class Thing>
std::string who_and_when(const Recorded<Thing>& note) {
  return fmt::format("{}, by {} (note {})", format_moment(note.happened, note.offset), note.person.text(), note.sequence);
}

/// Whom a recall tells besides customers, and what they are called.
inline constexpr std::array<std::pair<std::string_view, std::string_view>, 3> recall_others{
    {{"authority", "the food authority"}, {"supplier", "the supplier"}, {"public", "the public"}}};

/// `told 3 May 2026, 09:00, by ada (note 50): by telephone`
std::string in_words(const Recorded<RecallTick>& tick);

/// The same without the words of the note.
std::string made_in_words(const Recorded<RecallTick>& tick);

/// Whether it is done, or somebody tried and wrote that it could not be.
bool seen_to(const RecallStep& step, bool drill);

/// What the recall reached when it began, or had a step of, and `told` does not reach any more.
std::vector<TakenOut> taken_out_of(const Session& session, const Recorded<RecallBegun>& begun, const RecallTold& told);

}  // namespace tierproof
