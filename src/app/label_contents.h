#pragma once

#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/papers/content.h"

namespace tierproof {

/// `DO NOT HAND OVER: ...`, or empty.
std::string stop_line(const Judgement& judgement);
/// Every allergen of the rules in force with its word and why; none is left out.
std::vector<AllergenLine> allergen_lines(const Judgement& judgement);
/// The same as for somebody of whom nothing is known: what the customer named or accepted does not show through.
std::vector<AllergenLine> allergens_for_anybody(const Session& session, const Judgement& judgement);
/// Name and address of the business, a line each.
std::vector<std::string> business_lines(const Session& session);
/// `drawn 3 May 2026, 10:00 from 214 notes`
std::string drawn_line(const Session& session, ZonedInstant at);
/// How it is sold, and what must be told.
std::string sold_in_words(const Judgement& judgement);
/// Where it is to be kept: `freezer`, `fridge`, `cool dry place`. What nothing shows to keep without a fridge counts as needing one, until
/// a named person answered for it. @pre the life is judged
std::string told_storage(const Judgement& judgement);
/// Why it is to be kept there. @pre the life is judged
std::string told_storage_why(const Judgement& judgement);
/// How to keep it, in the words of `terms`. @pre the life is judged
std::string storage_line(const Judgement& judgement, const LabelTerms& terms);
/// `41:5dc9da79`
std::string short_head(const Session& session);
/// The name of the cake in a language of its label; the kitchen's own when it has none there.
std::string name_in(const Cake& cake, const std::string& language);

}  // namespace tierproof
