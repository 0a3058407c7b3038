#pragma once

#include <optional>
#include <string>

#include "tierproof/app/issuing.h"
#include "tierproof/papers/counter_list.h"
#include "tierproof/papers/hand_over_note.h"
#include "tierproof/papers/venue_card.h"

namespace tierproof {

/// What the card beside the cake says. It holds nothing of the customer: traces from shared kit are told as for a guest of whom nothing is
/// known, and why a stop stands is not told. @pre judged of the same session
VenueCardContent venue_card_content(const Session& session, const Judgement& judgement);

/// What the note says that goes with the cake. @pre judged of the same session
/// @param drawn_at  the moment that it is drawn at
HandOverNoteContent hand_over_note_content(const Session& session, const Judgement& judgement, ZonedInstant drawn_at);

/// The cakes of a counter list: those for the days from `from` until `until`, whether handed over or not; with neither, all that are not
/// handed over yet. A cake that was thrown away is none of them.
struct CounterListRequest {
  std::optional<Date> from;
  std::optional<Date> until;
  SheetPaper paper = SheetPaper::a4;
};
/// A counter list with the digest of all that it tells.
struct CounterList {
  CounterListContent content;
  std::string says;
};
/// Judges each cake as of `at`, one that was handed over as it left. Cakes of which nothing is recorded are named as left out.
/// Refused: a period that ends before it begins, no cake to list, no rules in force.
Result<CounterList> counter_list_of(const Session& session, const CounterListRequest& request, ZonedInstant at);

Json json_of(const VenueCardContent& content);
Json json_of(const HandOverNoteContent& content);
Json json_of(const CounterListContent& content);

/// Draws, keeps and books the card of a cake. Refused: no such cake, nothing recorded of what it is made of, the paper is too small.
Result<Issued> issue_venue_card(Session& session, const std::string& cake, CardPaper paper, const DataRoot& data);
/// Draws, keeps and books the note of a cake. Refused as the card.
Result<Issued> issue_hand_over_note(Session& session, const std::string& cake, SheetPaper paper, const DataRoot& data);
/// Draws, keeps and books the list for the counter.
Result<Issued> issue_counter_list(Session& session, const CounterListRequest& request, const DataRoot& data);

}  // namespace tierproof
