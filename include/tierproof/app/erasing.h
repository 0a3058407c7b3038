#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "tierproof/app/session.h"

namespace tierproof {

struct ErasingAsked {
  std::string cake;
  std::string because;  ///< `the customer asked`, `not needed any more`
};
struct Erased {
  Booked booked;
  std::int64_t texts = 0;                        ///< sealed words that were erased
  std::vector<std::uint64_t> papers;             ///< notes of the papers whose kept bytes were erased
  std::vector<std::uint64_t> files{};            ///< notes that attached the files that were erased
  std::vector<std::uint64_t> files_gone{};       ///< and those that should have been and were not there
  std::vector<std::uint64_t> files_of_others{};  ///< notes about something else that attached the same file: it stays
};

/// Erases the personal data of the customer of a cake for good, and books an `erasure/1` with it.
///
/// What goes: the words kept apart of every note about the cake's order (customer, contact), the allergy answer, what was accepted and
/// told, its release (findings and reasons), its hand-over and complaints about it, corrected and voided notes and reasons of corrections
/// included; and the kept bytes of its papers that may tell any of it: every record, allergen sheet and hand-over note, and every label
/// with a stop on it (the stop may name the allergy); and the files attached to the cake, to complaints about it and to any of these notes,
/// unless a note in force about something else attached the same file. What stays: the notes themselves, what went into the cake,
/// deviations and disposals, venue cards and counter lists, which hold nothing of a customer, and labels without a stop. Words that a note
/// in force about something else uses too stay with it.
///
/// An order that was taken back can be erased too. Refused, with the day: a cake that was not handed over before its event is past; the
/// time within which its customer must be reachable, from the hand-over (of a cake that was built and not handed over: from the event) and
/// from the last day that it keeps, by the `keep` rows of `personal data` in force. Refused: a complaint that is open; a recall that
/// reaches it, or something that went wrong and touches it, and is open; a pack in it that was withdrawn, and its customer not told since;
/// nothing left to erase. The duty to keep records of food never refuses it: those stay.
/// @throws HeadMoved, Fault as `Session::book` does; after an erasure that was booked, 75 or 74 if the file could not be written anew:
///         asked again, that is done first
Result<Erased> erase_customer(Session& session, const ErasingAsked& asked);

/// What was erased of one cake among several.
struct ErasedOfCake {
  std::string cake;
  Erased erased;  ///< `booked` stands in `ErasedAll`
};
struct ErasedAll {
  Booked booked;
  std::vector<ErasedOfCake> cakes;  ///< one to each note that was booked, in their order
};

/// Erases the same of every cake whose customer may go today by `kept_until`, all or nothing, with one `erasure/1` for each.
/// @param confirmed  how many cakes somebody saw that they are; refused with their number where it is another
/// Refused: none may go. @throws as `erase_customer`
Result<ErasedAll> erase_old_customers(Session& session, std::size_t confirmed);

/// What was erased of one person, or of the regular records of one sort.
struct ErasedWords {
  std::string what;                     ///< `people who work here`, `regular records`
  std::string thing;                    ///< the person or the sort
  std::int64_t texts = 0;               ///< sealed words that were erased
  std::size_t records = 0;              ///< of how many regular records
  std::vector<std::uint64_t> papers{};  ///< notes of the papers whose kept bytes were erased, since they told some of it
};
struct ErasedOld {
  Booked booked;
  std::vector<ErasedWords> erased;  ///< one to each note that was booked, in their order
};

/// Erases the names of people who left, and what regular records keep apart, whose time is over today by `kept_until`: all or nothing, with
/// one `erasure/1` for each person and each sort.
///
/// What goes: the name in every note of the person and under their reviews of the plan, and every kept paper that tells it, a cake's record
/// only once its own time is over; of a regular record every text, person and sealed answer and its remark, of corrected and taken back
/// notes too, and every kept paper of a period that tells of it. What stays: the notes themselves, who recorded what by their short name,
/// answers that are no words, and attached files. Words that a note in force about something else uses too stay with it.
/// @param confirmed  how many names and records together somebody saw that they are; refused with their number where it is another
/// Refused: none may go. @throws as `erase_customer`
Result<ErasedOld> erase_old_words(Session& session, std::size_t confirmed);

}  // namespace tierproof
