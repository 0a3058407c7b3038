#pragma once

#include <string>
#include <vector>

#include "tierproof/app/issuing.h"
#include "tierproof/app/judging.h"

namespace tierproof {

/// What a paper is booked as.
struct PaperBooking {
  std::string paper;    ///< a word of `PaperIssued::paper`
  std::string subject;  ///< what the note is about: `cake-1`
  CakeId cake{};        ///< empty: the paper is not of one cake
  std::string stock{};
  std::string label_rules{};  ///< code of the rules that it was judged by; empty: the kitchen's
  std::string says;           ///< SHA-256 of what it tells of the food
};
/// A paper of the cake that was judged.
PaperBooking booking_of_cake(const Session& session, const Judgement& judgement, const std::string& paper);

/// Keeps and books the forms of a paper, all in one append. A retry under the key of an earlier one gives the kept bytes of that.
/// @throws HeadMoved, Fault 64 if the key was used by another command
Issued book_papers(Session& session, const PaperBooking& booking, ZonedInstant at, std::vector<PaperBytes> forms);

inline constexpr int record_dots_per_inch = 110;  ///< of the picture of a record's first page, for a screen

}  // namespace tierproof
