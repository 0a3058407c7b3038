#pragma once

#include <string>
#include <vector>

#include "tierproof/sums/declaration.h"

namespace tierproof {

// The checks of a declaration, one file a matter; `check` in declaration_check.cpp puts them in order.

/// Findings as the checks give them: *shown* without a stop, *not shown* for a named person.
Finding shown(std::string control, const std::string& subject, std::string message);
Finding not_shown(std::string control, const std::string& subject, std::string message, std::string remedy);
/// Adds the ways that one pack comes in, as `Composition` tells them.
void append_paths(std::vector<std::string>& paths, const Composition& made, std::size_t amount);
/// What a row from memory that nobody confirmed says of itself at the end of a sentence; else nothing.
std::string doubt(const Cited& cited);
/// `dried apricots (pack-3)`
std::string pack_in_words(const LotFacts& lot);

void check_species(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const Declaration& declared,
                   const LabelTerms& terms);
void check_additives(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const LabelTerms& terms);
void check_levels(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const LabelTerms& terms);
void check_sold_as(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const LabelTerms& terms);
void check_statutory_parts(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const LabelTerms& terms);
void check_flavour_words(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made);
void check_sulphites(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const Declaration& declared,
                     const LabelTerms& terms);

}  // namespace tierproof
