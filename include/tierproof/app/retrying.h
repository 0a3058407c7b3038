#pragma once

#include "tierproof/app/session.h"

namespace tierproof {

/// Runs `act` on the records as they are, and again on fresh ones if somebody else recorded in between.
/// @param open  gives a Session that may write
/// @param act   takes a Session&, may throw HeadMoved
/// @param then  takes that Session& and what `act` gave; gives the result
/// @throws Fault 75 after eight tries
template <class Open, class Act, class Then>
auto on_fresh_records(const Open& open, const Act& act, const Then& then) {
  for (int tries = 0; tries < 8; ++tries) {
    Session session = open();
    try {
      const auto done = act(session);  // a retry under the same key is told by the booking itself
      return then(session, done);
    } catch (const HeadMoved&) {
      continue;
    }
  }
  throw Fault{exit_status::try_later, "others kept recording at the same time"};
}

}  // namespace tierproof
