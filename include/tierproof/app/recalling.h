#pragma once

#include <string>
#include <vector>

#include "tierproof/app/issuing.h"
#include "tierproof/app/tracing.h"

namespace tierproof {

/// What a recall is about, as a person tells it.
struct RecallAsked {
  std::vector<std::string> things;  ///< packs, batches or cakes by number, packs by the code on them; `trouble-2`: all that it touches
  std::string supplier{};           ///< every pack of it that came in
  std::optional<Date> from{};       ///< with a supplier; both count
  std::optional<Date> until{};
  std::uint64_t details = 0;  ///< number of a note of pack details: every pack that stands under it; 0: none
  bool drill = false;         ///< an exercise: nothing has to be withdrawn, and nothing counts as done
};

/// Somebody to tell, or food to set aside, in a recall.
struct RecallStep {
  TracedTold food;                  ///< with its amount where one thing alone is recalled
  std::string customer;             ///< of a cake that left: who has it, with telephone or address; `(erased)` where that was erased
  std::string left;                 ///< of a cake that left: `handed over 9 May 2026, 10:40`, without a name
  bool reachable = true;            ///< of a cake that left: a name or a way to reach somebody is on record
  bool done = false;                ///< told since, set aside, or nothing of it is left here
  std::string done_words;           ///< `told 3 May 2026, 10:05, by ada (note 53)`; empty: not done
  std::vector<std::string> made{};  ///< every step about it, without the words of its note, which may name somebody
  std::vector<std::string>
      tries{};  ///< every step of the begun recall about it, `not reached 3 May 2026, 10:00, by ada (note 52): no answer`
};

/// Something that a recall reached when it began, or that a step was about, and that the records no longer reach.
struct TakenOut {
  std::string id;
  std::string words;
  std::vector<std::string> corrected;  ///< notes that corrected since, `note 61, by ada, 3 May 2026, 11:00`
  std::vector<std::string> made{};     ///< every step about it, without the words of its note, which may name somebody
  std::vector<std::string> tries;      ///< every step about it
  bool done = false;                   ///< looked at since by somebody else, or later by the only person there is
  std::string done_words;              ///< who looked and when; says so when it was the same person
};

/// What a recall of some packs or batches comes to.
struct RecallTold {
  std::string id;             ///< `recall-1`; empty: no note says that it has begun
  std::string begun;          ///< `3 May 2026, 09:10, by ada (note 51): the mill rang`
  std::string asked;          ///< how what is recalled was found; empty: it was named
  std::vector<TraceTold> of;  ///< each of what is recalled, with its balance
  bool drill = false;         ///< nothing is recalled: an exercise
  std::vector<std::string>
      because;  ///< what says that it is recalled: `withdrawn 3 May 2026, 09:00, by ada (note 50): recalled by the mill`
  std::vector<RecallStep> contact;  ///< cakes that left
  std::vector<RecallStep> hold;     ///< what is still here: packs, tubs, batches, cakes
  std::vector<RecallStep> gone;     ///< thrown away, or used up in what is listed itself
  std::vector<RecallStep> others;   ///< of a begun recall: the food authority, the supplier, the public
  std::vector<TakenOut> taken_out;  ///< of a begun recall
  std::string closed;               ///< `3 May 2026, 14:00, by ada (note 60)`; empty: open, or not begun
  std::optional<Span> took{};       ///< from its beginning to the last step, once nothing is left to do or it is closed
  /// Whether somebody still has to be told or something set aside.
  bool open() const;
  /// Of a closed one, the words of what a note made since has brought in or taken out: nobody has seen to it, and it takes no steps any
  /// more.
  std::vector<std::string> since_closed() const;
};

/// What to hold and whom to tell: everything that what is asked for went into, certain or possible. A customer counts as told by a note
/// `told` of after the hand-over, made since the last that says that it is recalled, by the ready-made text of a recall or in words of
/// their own, which are printed; food as dealt with once it was thrown away. Refused: nothing of that name, a code of several packs;
/// without `drill`, a pack that was not withdrawn, or a batch or cake that no open or closed matter is about.
Result<RecallTold> recall(const Session& session, const RecallAsked& asked, ZonedInstant at);

/// The same of a recall that was begun, with its steps. Refused: there is none of that name.
Result<RecallTold> recall_of(const Session& session, const std::string& id, ZonedInstant at);

/// The packs of `supplier` received from `from` to `until`, both counted. Refused: an unknown supplier, days in the wrong order, none.
Result<std::vector<std::string>> packs_from(const Session& session, const std::string& supplier, Date from, Date until);

// Notes of a recall. All check everything first and book all or nothing; all throw Fault and HeadMoved as `Session::book` does.

/// Begins a recall, or an exercise, `recall-1`, and keeps what it reaches. Refused: as `recall`, and without a reason.
Result<Booked> begin_recall(Session& session, const RecallAsked& asked, const std::string& why, const std::string& at);

struct RecallTicking {
  std::string recall;
  std::string what;  ///< one of what it lists; `authority`, `supplier`, `public`
  std::string did;   ///< as in `RecallTick`
  std::string note;
  std::optional<Mass> weighed{};
  std::string at{};
};
/// Books one step. What fits depends on what it is about: somebody is told or not reached, food is set aside, given back or not found, in
/// an exercise found or not found. `taken out` needs a second person; where only one is on record, the same may look again an hour after
/// the last correction, and the note says so. Refused: closed already, not in its list, a step that does not fit, no words for it.
Result<Booked> tick_recall(Session& session, const RecallTicking& ticking);

struct RecallClosing {
  std::string recall;
  std::string cause;
  std::string learned;
  std::string at{};
};
/// Closes it. Refused while something is neither done nor tried: a customer who was never rung, food that nobody set aside or looked for,
/// something taken out that nobody looked at again; without drill also while nobody wrote whether the food authority was told. A cause is
/// needed unless it is an exercise.
Result<Booked> close_recall(Session& session, const RecallClosing& closing);

/// Draws up the report of a recall, open or closed, keeps and books it. It names customers by their cake alone. Refused: as `recall_of`.
Result<Issued> issue_recall_report(Session& session, const std::string& id, const DataRoot& data);

}  // namespace tierproof
