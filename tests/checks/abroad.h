#pragma once

#include <stdexcept>
#include <string>
#include <utility>

#include "../sums/cake_for_tests.h"
#include "shipped_hints.h"

/// What the checks of the United States with two states, Canada, and Australia and New Zealand share: rules in force on a day.
namespace tierproof::abroad {

using namespace for_tests;

inline const Date look = day(2026, 12, 1);

inline const RulePacks& packs() {
  static const RulePacks read = shipped_packs();
  return read;
}

inline LabelTerms terms_of(const std::string& code, Date on = look) {
  auto terms = packs().label_terms(code, on);
  if (!terms) throw std::runtime_error{told(terms.error())};
  terms->vocabulary = &shipped_hints();
  return std::move(terms).value();
}

}  // namespace tierproof::abroad
