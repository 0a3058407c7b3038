#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/app/recalling.h"
#include "tierproof/sums/retention.h"
#include "troubles.h"

namespace tierproof {

/// How long the customer of a cake is needed.
struct CustomerNeeded {
  std::optional<Date> order;      ///< of an order that was not handed over and whose day is not past: that day
  std::optional<Date> reachable;  ///< the last day on which the customer must be reachable; nothing: it was neither made nor handed over
  std::optional<KeepUntil> kept;  ///< the row that sets it; nothing: as long as the cake may be eaten
  /// The last day of all; nothing: nobody needs the customer by any date.
  std::optional<Date> last() const;
  /// `counted from ...`, `as long as it may be eaten`, `it has not been handed over`
  std::string why() const;
};

/// `counted from its hand-over on 2 May 2026 [keep-hand-over: ...]`, `counted from the last delivery on ...`
std::string counted_in_words(const KeepUntil& kept);

/// The days from which what is kept of a cake counts: its hand-over, or of one that was built and not handed over its event, since it may
/// have left without a note; and the last day that it keeps. None of one that was neither built nor handed over.
/// @param cake       nothing: the order was taken back
/// @param judgement  of it as it left
std::vector<KeptFrom> days_of_cake(const State& state, const CakeId& id, const Recorded<Cake>* cake,
                                   const std::optional<Judgement>& judgement);
CustomerNeeded customer_needed(const State& state, const CakeId& id, const Recorded<Cake>* cake, const std::optional<Judgement>& judgement,
                               const RetentionTerms& terms, Date today);

/// Something that holds what is kept of a cake and its customer longer than any date.
struct Held {
  std::string by;      ///< `complaint-1`, `recall-1`, `pack-3`, `trouble-2`
  std::string words;   ///< `complaint-1 about cake-1 is open`
  std::string remedy;  ///< what has to be done first
};

/// Looks for what holds cakes. Recalls are worked out once for all of them.
class Holds {
 public:
  explicit Holds(const Session& session);
  /// A complaint that is open, a recall that is not closed, a pack that was withdrawn while nobody told the customer, and something that
  /// went wrong, is open and touches it. A trouble that no rules of temperature can follow holds every cake.
  std::vector<Held> of(const CakeId& id, const std::optional<Judgement>& judgement);

 private:
  void withdrawn(const CakeId& id, const Judgement& judgement, std::vector<Held>& held) const;
  void troubles(const CakeId& id, std::vector<Held>& held);

  const Session& session_;
  ZonedInstant now_;
  std::map<RecallId, Result<RecallTold>> recalls_;  ///< open ones, no exercises
  Result<TemperatureTerms> terms_;
  UnvouchedSince since_;
};

}  // namespace tierproof
