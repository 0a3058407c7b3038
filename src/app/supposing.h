#pragma once

#include <utility>

#include "tierproof/app/session.h"

namespace tierproof {

/// The records say something else while this lives.
class Supposing {
 public:
  Supposing(Session& session, State state) : session_{session}, really_{session.suppose(std::move(state))} {}
  ~Supposing() { session_.suppose(std::move(really_)); }
  Supposing(const Supposing&) = delete;
  Supposing& operator=(const Supposing&) = delete;

 private:
  Session& session_;
  State really_;
};

}  // namespace tierproof
