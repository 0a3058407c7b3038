#pragma once

#include <string>
#include <vector>

#include "tierproof/app/session.h"

namespace tierproof {

/// What the kitchen confirmed of rows that rest on memory, as the rules take it: by the rules that were named and the row, the last of
/// each. The person who told it stays sealed: papers name who recorded it, when, and which body it came from. A confirmation holds while
/// the row says what it said then; a note that does not tell what that was confirms nothing, since no one can know that it is the same.
Confirmations confirmations_of(const Session& session);

/// A row of the rules that rests on memory, as somebody who knows confirmed it.
struct RuleConfirming {
  std::string row;      ///< its id
  std::string body;     ///< `food authority of the town`
  std::string told_by;  ///< the person; kept apart, since it can be erased
  std::string code;     ///< of the rules that it was confirmed for; empty: those of the kitchen that have the row
  std::string at = "now";
};
/// Books the confirmation, with the clause as it stands today and a digest of what the row says: a row that changes in either has to be
/// confirmed anew. It holds where these rules are chosen, and where others are layered on the pack of that code that has the row.
/// Refused: no such row in force today, one that was read in its source, nobody or nothing named.
Result<Booked> confirm_rule(Session& session, const RuleConfirming& confirming);

/// A row in force that rests on memory, and what the kitchen confirmed of it.
struct RowFromMemory {
  RowTold row;
  std::string set;        ///< `label`, `temperature`, `retention`
  std::string code;       ///< of the rules that were looked through
  std::string confirmed;  ///< who and when, in words; empty: nobody
  bool changed = false;   ///< it was confirmed when its clause or what it says was another, which counts for nothing
};
/// Every row from memory of the rules that the kitchen chose, and of those that its cakes are sold under, in force on `on`: by set, rules
/// and id.
std::vector<RowFromMemory> rows_from_memory(const Session& session, Date on);

}  // namespace tierproof
