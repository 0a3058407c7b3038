#pragma once

#include <span>
#include <string>
#include <vector>

#include "tierproof/units/finding.h"
#include "tierproof/units/ids.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// A batch on a piece of equipment, a cake that was put together on it, or a cleaning of it.
struct KitUse {
  std::string equipment;  ///< name in words, `stand mixer`
  Instant at{};
  std::string batch;  ///< id of the batch or cake; empty for a cleaning
  std::string batch_name;
  std::vector<std::string> allergens;  ///< keys that the batch contains (or cannot rule out)
  std::string cleaning;                ///< empty for a batch; else in words, beginning with its grade: `washed and tested for milk only`
  std::vector<std::string> untold{};   ///< of `allergens`, those that a label need not tell of for what the batch itself holds
  bool washed = false;                 ///< of a cleaning: at least washed, and it looked clean
  std::vector<std::string> clears{};   ///< of a cleaning: keys that evidence says it takes off
  std::vector<std::string> traces{};   ///< of a cake: what its batches met on kit that was washed since
};

/// What one batch may have met on shared equipment.
struct Contact {
  std::string batch;
  std::string allergen;
  bool cleaned = false;  ///< a cleaning lies between, of a grade that clears nothing for an allergy order
  std::string path;  ///< `almond: stand mixer, almond shells (batch-4) at 10:05, nothing recorded before buttercream (batch-5) at 11:20`
};

/// Walks the uses of every piece of equipment in time order. An allergen stays until a cleaning that clears it by evidence; one that only
/// washed keeps it as `cleaned`; any other counts as nothing. Only allergens that the later batch does not itself bring on to a label are
/// told: an exempt product of wheat hides no wheat flour.
///
/// What a batch met it carries to the next equipment it goes on, with its path. Where one allergen comes in more than once by the
/// same equipment, the latest source without a cleaning is told, else the latest cleaned one. Uses of one instant on one
/// equipment: nobody knows their order, so a cleaning counts as before the batches of that instant, and these meet each other.
/// @param uses    in any order
/// @return        in the order of time of the later batch
std::vector<Contact> contacts(std::span<const KitUse> uses, Offset offset);

/// Judges shared equipment for one cake (control `shared-kit`): a contact without a recorded cleaning with an allergen that the
/// cake does not contain makes that allergen unknown (`not shown`), which stops a release without override; a `cleaned` contact is
/// told (`shown`), and stops without override only when `allergies` names it and `accepted` does not; accepted, it needs a person.
///
/// One finding an allergen, sorted by it, its subject the allergen and its `paths` the contacts. Without a contact nothing comes
/// back: whether kit was recorded at all is for `judge_kit_recorded`. A group (`nuts`) and its members (`nuts:almond`) count as
/// the same when an allergy is matched; `contained` must name the very key, and `accepted` the key or its group.
/// @param batches    ids of the cake's batches, all depths
/// @param contained  allergen keys that the cake contains and declares
/// @param allergies  keys that the customer named
/// @param accepted   keys that the customer accepted traces of, in writing
std::vector<Finding> judge_shared_kit(const std::string& cake, std::span<const Contact> contacts, const std::vector<std::string>& batches,
                                      const std::vector<std::string>& contained, const std::vector<std::string>& allergies,
                                      const std::vector<std::string>& accepted = {});

/// Allergens of which traces may have come by kit that was washed and looked clean, and of which nobody has decided whether `may contain`
/// is told: sorted, each once. What has a contact without any washing is left out, since it is unknown and stops by itself.
/// @param contained  allergens that the cake contains and declares
/// @param answered   allergens that its label tells as `may contain`, or of which a person decided that it need not
std::vector<std::string> traces_to_decide(std::span<const Contact> contacts, const std::vector<std::string>& batches,
                                          const std::vector<std::string>& contained, const std::vector<std::string>& answered);

/// Whether the records name the equipment of every batch of the cake (control `kit-recorded`): `shown` only if each has a use,
/// else `not shown` (needs a person), naming those without.
Finding judge_kit_recorded(const std::string& cake, std::span<const KitUse> uses, const std::vector<std::string>& batches);

/// A batch that is to be made.
struct PlannedOnKit {
  std::string name;
  std::vector<std::string> allergens;  ///< that it contains, or that nobody can rule out
  std::vector<std::string> kit;
};
/// An allergen of an earlier batch meets a later one without it on a piece of kit, unless that is cleaned in between.
struct KitMeeting {
  std::size_t before = 0, after = 0;  ///< into the batches as they were given
  std::string equipment;
  std::string allergen;
};
struct OrderOfWork {
  std::vector<std::size_t> order;
  std::vector<KitMeeting> meetings;  ///< each allergen on each piece of kit once a batch, by the last that left it
};
/// The order with the fewest meetings, counted as allergens on pieces of kit; of equal ones the one nearest to how they were given. Exact:
/// by dynamic programming over sets, since what a batch meets depends on which came before and not on their order (Held and Karp 1962).
/// @param batches  at most 12 @throws std::length_error for more
OrderOfWork fewest_meetings(std::span<const PlannedOnKit> batches);

}  // namespace tierproof
