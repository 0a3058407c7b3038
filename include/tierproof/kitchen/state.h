#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "tierproof/kitchen/bodies.h"
#include "tierproof/kitchen/entities.h"
#include "tierproof/kitchen/note.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// A thing as the records say it is, with when and how they came to say so.
template <class Thing>
struct Recorded {
  Thing value;
  std::string subject;
  std::uint64_t sequence = 0;  ///< of the note in force
  std::uint64_t place = 0;     ///< of the first note of its chain
  Instant happened{};
  Instant written{};
  Offset offset;
  PersonId person;
  std::string how;  ///< `typed_then`, `typed_late`, `logger`, ...
  bool corrected() const { return sequence != place; }
};

/// What the records say at one head: one pure fold of the notes in force. Things that were voided are not in the maps; what
/// leaned on them finds their subject in `voided`.
struct State {
  std::uint64_t size = 0;  ///< notes folded, corrections included
  std::optional<Recorded<Kitchen>> kitchen;
  std::map<PersonId, Recorded<Person>> people;
  std::map<SupplierId, Recorded<Supplier>> suppliers;
  std::map<IngredientId, Recorded<Ingredient>> ingredients;
  std::map<std::uint64_t, Recorded<Specification>> specifications;  ///< by place
  std::map<LotId, Recorded<Lot>> lots;
  std::map<EquipmentId, Recorded<Equipment>> equipment;
  std::map<PlaceId, Recorded<Place>> places;
  std::map<ProbeId, Recorded<Probe>> probes;
  std::map<RecipeId, Recorded<Recipe>> recipes;               ///< the newest version of each
  std::map<std::uint64_t, Recorded<Recipe>> recipe_versions;  ///< by place
  std::map<BatchId, Recorded<Batch>> batches;
  std::map<CakeId, Recorded<Cake>> cakes;
  std::map<TubId, Recorded<Tub>> tubs;
  std::map<std::string, Recorded<ColumnMapKept>> column_maps;  ///< by name
  std::map<DeviationId, Recorded<Deviation>> deviations;
  std::map<ComplaintId, Recorded<Complaint>> complaints;
  std::map<RecallId, Recorded<RecallBegun>> recalls;
  std::map<RegularSortId, Recorded<RegularSort>> regular_sorts;          ///< the newest version of each
  std::map<std::uint64_t, Recorded<RegularSort>> regular_sort_versions;  ///< by place
  std::vector<Recorded<Withdrawal>> withdrawals;                         ///< these and below in order of the log
  std::vector<Recorded<ProbeCheckMade>> checks;
  std::vector<Recorded<ReadingsBlock>> readings;
  std::vector<Recorded<Stay>> stays;
  std::vector<Recorded<AllergyAnswer>> answers;
  std::vector<Recorded<Acceptance>> acceptances;
  std::vector<Recorded<Tier>> tiers;
  std::vector<Recorded<Cleaning>> cleanings;
  std::vector<Recorded<Validation>> validations;
  std::vector<Recorded<CleaningValidated>> cleanings_validated;
  std::vector<Recorded<EquipmentChanged>> equipment_changes;
  std::vector<Recorded<Adopted>> adopted;
  std::vector<Recorded<Keeping>> keepings;
  std::vector<Recorded<Release>> releases;
  std::vector<Recorded<HandOver>> hand_overs;
  std::vector<Recorded<PaperIssued>> papers;
  std::vector<Recorded<TopUp>> top_ups;
  std::vector<Recorded<Emptied>> emptied;
  std::vector<Recorded<Opened>> opened;
  std::vector<Recorded<Told>> told;
  std::vector<Recorded<DeviationClosed>> deviations_closed;
  std::vector<Recorded<ComplaintClosed>> complaints_closed;
  std::vector<Recorded<Disposal>> disposals;
  std::vector<Recorded<RecallTick>> recall_ticks;
  std::vector<Recorded<RecallClosed>> recalls_closed;
  std::vector<Recorded<Missed>> missed;
  std::vector<Recorded<RegularDone>> regular_done;
  std::vector<Recorded<DayOff>> days_off;
  std::vector<Recorded<PrecautionDecided>> precautions;
  std::vector<Recorded<Erasure>> erasures;
  std::vector<Recorded<SpecificationLooked>> looked;
  std::vector<Recorded<RuleConfirmed>> confirmed;
  std::vector<Recorded<HazardPlan>> plans;  ///< every version, the one in force last
  std::vector<Recorded<PlanReviewed>> plan_reviews;
  std::vector<Recorded<Advice>> advice;
  std::vector<Recorded<Evidence>> evidence;
  std::map<std::string, int> answers_begun;                 ///< by cake: notes that answered the allergy question, voided ones included
  std::set<std::string> voided;                             ///< subjects
  std::map<std::string, std::uint64_t, std::less<>> begun;  ///< kind → how many were ever begun, voided ones included

  /// The newest specification of `ingredient` from `supplier` that was checked on or before `on`; nothing if there is none.
  const Recorded<Specification>* specification(const IngredientId& ingredient, const SupplierId& supplier, Date on) const;
  /// The day on which what the specification at `place` says was last compared with a pack, by its own note or a later look.
  Date last_looked(std::uint64_t place) const;
  /// The answer in force to the allergy question of `cake`, or nothing.
  const Recorded<AllergyAnswer>* answer(const CakeId& cake) const;
  const Recorded<Release>* release(const CakeId& cake) const;
  const Recorded<HandOver>* hand_over(const CakeId& cake) const;
  /// Whether the question had been answered in a note of its own before the answer in force, one that was voided since included.
  bool answered_before(const CakeId& cake) const;
  bool withdrawn(const LotId& lot) const;
  /// How it was closed, or nothing while it is open.
  const Recorded<DeviationClosed>* closed(const DeviationId& deviation) const;
  const Recorded<ComplaintClosed>* closed(const ComplaintId& complaint) const;
  const Recorded<RecallClosed>* closed(const RecallId& recall) const;
  /// The first open complaint about `cake`, or nothing.
  const Recorded<Complaint>* open_complaint(const CakeId& cake) const;
};

/// State at the end of `notes` (the notes in force, by place).
/// @param size    entries folded, to stand in `State::size`
/// @param unseal  looks up sealed words
/// @return        refused: a kind this program does not know (made by a newer one), or a body that cannot be read
Result<State> fold(std::span<const Note> notes, std::uint64_t size, const Unseal& unseal);

/// Whether there are notes of `kind`, `lot/1`.
bool is_kind(const std::string& kind);
/// What is wrong with `body` as the body of a note of `kind`; empty when it can be read.
Refusals check_body(const std::string& kind, const Json& body, const std::string& where);

}  // namespace tierproof
