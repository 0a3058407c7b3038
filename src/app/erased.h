#pragma once

#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/kitchen/state.h"

namespace tierproof {

/// Words for paper: `(erased)` once they were, `otherwise` where none were given.
std::string words_or(const Words& words, const std::string& otherwise);

/// The last erasure of the customer of `cake`, or nothing.
const Recorded<Erasure>* erasure_of(const State& state, const CakeId& cake);
/// The erasure that names the paper with this SHA-256, or nothing.
const Recorded<Erasure>* erasure_of_paper(const State& state, const std::string& sha256);

/// Whether the customer of `cake` named allergens and these were erased: then nobody knows whether one of them was met.
bool answer_erased(const State& state, const CakeId& cake);

/// Makes of what shared kit may have brought, where it counted as met for an order without that allergy, *not shown*: after an erased
/// answer nobody knows that it is such an order.
void doubt_after_erased_answer(std::vector<Finding>& shared_kit);

/// What the label of an erased order may have said: `says_of` with the answer to the allergy question left out, and with what shared kit
/// may have brought left out too, since both were judged by what is erased. One of them is what a label said that was right then.
std::vector<std::string> says_without_answer(const State& state, const Judgement& judgement);

/// A sentence for the outcome of a cake whose customer was erased; empty when not.
std::string erased_sentence(const State& state, const CakeId& cake);

}  // namespace tierproof
