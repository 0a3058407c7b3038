#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tierproof/app/judging.h"

namespace tierproof {

/// What a note of a kind is of, in words for a paper: `thermometer check` of `probe-check/1`.
/// @throws Fault (70) of a kind that has no words
std::string_view words_of_kind(std::string_view kind);

/// The notes made after a cake was handed over that are about it, what is in it or what it was kept and measured with, one line each; a
/// correction says so. None where it was not handed over. Papers and cleanings are left out.
std::vector<std::string> later_entries(const Session& session, const Judgement& judgement);

}  // namespace tierproof
