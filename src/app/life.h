#pragma once

#include <string>

#include "tierproof/app/judging.h"

namespace tierproof {

/// Works out how the cake keeps and until when, into `judgement.life`, and judges its date.
void judge_life(const Session& session, Judgement& judgement);

/// `use by 4 May 2026; keep in the fridge`
std::string life_in_words(const ShelfLife& life);

/// SHA-256 of everything that a label tells of the food by `judgement`: another one later means that the label is out of date.
std::string says_of(const State& state, const Judgement& judgement);

}  // namespace tierproof
