#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/units/mass.h"

namespace tierproof {

// Use cases for when something goes wrong. Like all use cases they check everything first and book all or nothing; all throw Fault
// and HeadMoved as `Session::book` does.

struct GoingWrong {
  std::vector<std::string> about;  ///< packs, batches, cakes, places, thermometers, kit, tubs; sorts of regular records
  std::string from;                ///< `control`, `temperature`, `person`
  std::string control;             ///< id of the plan's row, when a control showed it
  std::string what;
  std::string at;  ///< when it began, or the earliest that it can have begun
};
/// Opens a trouble, `trouble-1`. It stops every cake that it touches until it is closed.
Result<Booked> tell_went_wrong(Session& session, const GoingWrong& wrong);

struct PuttingRight {
  std::string trouble;
  std::string food;  ///< `used`, `remade`, `binned`, `no food touched`
  std::string cause;
  std::string action;
  std::string at;
};
/// Closes a trouble. When the food was binned, what is left of every pack and batch that it names, and every cake of those that did not
/// leave yet, is booked as thrown away with it.
Result<Booked> put_right(Session& session, const PuttingRight& right);

struct Complaining {
  std::string cake;
  std::string of;
  std::string from;
  std::string what;
  std::string at;
};
/// Another cake with batches of a complained one.
struct SharingCake {
  std::string cake;
  std::vector<std::string> batches;  ///< `batch-1 (sponge)`
  std::string handed_over;           ///< `2 May 2026, 10:00`, or empty
  bool thrown_away = false;
};
struct ComplaintTold {
  Booked booked;
  std::vector<SharingCake> sharing;
};
/// Books a complaint about a cake: until it is closed, notes that its file rests on can neither be corrected nor voided.
Result<ComplaintTold> complain(Session& session, const Complaining& complaining);
/// Closes it with its outcome.
Result<Booked> settle_complaint(Session& session, const std::string& complaint, const std::string& outcome, const std::string& at);
/// Every other cake that holds a batch which is in `cake`, at whatever depth.
std::vector<SharingCake> sharing_cakes(const State& state, const CakeId& cake);

struct ThrowingAway {
  std::string what;
  std::optional<Mass> mass;  ///< nothing: all that is left by the records, which is booked as a mass
  std::string why;
  std::string at;
};
/// Books a pack, batch or cake, or some of it, as thrown away. Refused: more than is left, a cake that left already.
Result<Booked> throw_away(Session& session, const ThrowingAway& throwing);

struct MissedCheck {
  std::string about;
  std::optional<Date> day;
  std::string because;
  std::string note;
  std::string of{};  ///< `regular record`, or `thing`: which of two that share a short name; else empty
};
/// Books that a check was not made. It helps no verdict: a gap stays a gap, with the note named beside it.
Result<Booked> tell_missed(Session& session, const MissedCheck& missed);

/// Something open, with what it touches.
struct OpenMatter {
  std::string id;     ///< `trouble-1`, `complaint-1`
  std::string since;  ///< `1 May 2026, 09:00`
  std::string what;
  std::vector<std::string> touches;  ///< `cake-1 (Plain cake, handed over ...): it is about batch-2 (icing)`
};
/// Every open trouble and complaint, in that order, as of `at`. Of batches those are named of which something is left, of cakes those
/// that were not thrown away. Refused: no rules in force that day.
Result<std::vector<OpenMatter>> open_matters(const Session& session, ZonedInstant at);

/// What was thawed and frozen again in `thing`, a batch or cake, as of now: `sponge (batch-1): frozen ..., thawed ...; frozen ...`
std::vector<std::string> frozen_again(const Session& session, const std::string& thing);

}  // namespace tierproof
