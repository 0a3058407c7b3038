#pragma once

#include <string>
#include <vector>

#include "checking.h"
#include "tierproof/app/issuing.h"
#include "tierproof/app/judging.h"
#include "tierproof/papers/pdf.h"

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

/// What a PDF says of itself: its title, when it was drawn up, the business, and the language that the program writes in.
PdfInfo info_of(const Session& session, std::string title, ZonedInstant at);

/// The forms of a paper: PDF, a picture of its first page for a screen, JSON.
/// @param twin  name under which the JSON travels inside the PDF too, `cake-1-record.json`; empty: it does not
std::vector<PaperBytes> forms_of(const Pages& pages, const Fonts& fonts, PdfInfo info, const Json& json, const std::string& twin = {});

/// What the packs of a cake say that nobody has looked at for too long: no paper that tells others of allergens is printed from it.
std::vector<const Finding*> old_details(const Judgement& judgement);
/// Refuses each of them.
void refuse_old_details(Checking& checking, const Judgement& judgement);

/// Keeps and books the forms of a paper, all in one append. A retry under the key of an earlier one gives the kept bytes of that.
/// @throws HeadMoved, Fault 64 if the key was used by another command
Issued book_papers(Session& session, const PaperBooking& booking, ZonedInstant at, std::vector<PaperBytes> forms);

}  // namespace tierproof
