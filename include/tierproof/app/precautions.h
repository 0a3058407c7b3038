#pragma once

#include <optional>
#include <string>

#include "tierproof/app/session.h"

namespace tierproof {

/// A person's decision whether `may contain` is told of an allergen, as it is to be recorded.
struct DecidingPrecaution {
  std::string allergen;  ///< key, `nuts:hazelnut`: never a whole group
  std::string about;     ///< `kitchen`, or the id of a recipe or a cake
  bool not_needed = false;
  std::string why;
  std::string what{};              ///< of an estimate, all or none of it: what may get in
  std::optional<Mass> amount{};    ///< of it, in one whole cake
  std::optional<Share> protein{};  ///< its share of protein
  std::optional<Mass> slice{};     ///< the largest likely one
  bool pieces = false;
};

/// Books the decision. The newest about one allergen and one scope counts; one for the whole kitchen stays beside one for a cake.
/// Refused: an allergen that no rules know, a group, no such recipe or cake, a cake that left already, half an estimate.
Result<Booked> decide_precaution(Session& session, const DecidingPrecaution& deciding);

}  // namespace tierproof
