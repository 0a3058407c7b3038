#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/recording.h"

namespace tierproof {

/// One thing that a reading of a pack says otherwise than the one before, or that follows from it: `contains milk`, was and is.
struct Difference {
  std::string what;    ///< `milk`, `label name`, `list of ingredients`, `Allergens, by the packs`
  std::string before;  ///< in words; empty: it was not there
  std::string after;
  friend bool operator==(const Difference&, const Difference&) = default;
};

/// What two readings of a pack say otherwise, allergens first, in the words of `terms`. The day and what it was read from are no
/// difference.
std::vector<Difference> differences_between(const Specification& before, const Specification& after, const LabelTerms& terms);

/// A recipe that takes the ingredient, itself or in a recipe that goes into it.
struct RecipeChange {
  RecipeId recipe;
  std::string name;
  std::vector<Difference> allergens;  ///< what changes of it as a whole, by what packs of every supplier say
  std::vector<CakeId> planned;        ///< ordered cakes of it that are not built yet
};
/// A batch of which something is left and that packs of the old reading went into.
struct BatchTouched {
  BatchId batch;
  std::string name;
  Mass left;
  std::string place;  ///< where it is by the records, in words; may be empty
};
/// A label that went out and no longer tells what the records do.
struct LabelVoided {
  std::uint64_t note = 0;
  std::int64_t box = 0;
};
/// A cake whose label or verdicts are otherwise.
struct CakeChange {
  CakeId cake;
  std::string name;
  Date event{};
  bool out = false;                   ///< handed over already: the customer has to be told
  std::vector<std::string> packs;     ///< of the old reading in it, in words
  std::vector<Difference> words;      ///< on its label
  std::vector<Difference> verdicts;   ///< by the heading of the control and its subject, with what is found afterwards
  std::vector<LabelVoided> labels;    ///< printed ones that become void
  std::string customer;               ///< of one that is out: who and how to reach them, when it is recorded and not erased
  std::vector<std::string> told;      ///< of one that is out: what they were told, `note 27: It contains ...`
  std::optional<Date> keeps_until{};  ///< of one that is out
};

/// What a new reading of a pack changes.
struct SpecificationChange {
  std::string document;  ///< name of the file
  IngredientId ingredient;
  SupplierId supplier;
  std::string name;                     ///< of the ingredient
  std::uint64_t before = 0;             ///< place of the reading that it is compared with
  Date checked_before{};                ///< when somebody last looked at that
  bool older = false;                   ///< it was read before that one: later deliveries stay under that one
  std::vector<Difference> says;         ///< what it says otherwise
  std::vector<LotId> packs;             ///< that the effects are told for: those named, else every one that may be made so already
  std::vector<LotId> here;              ///< of these, in the house or in a cake that has not left
  std::vector<RecipeChange> recipes;    ///< that take the ingredient
  std::vector<BatchTouched> batches;    ///< in the house
  std::vector<CakeChange> in_any_case;  ///< as soon as it is on file, whichever packs are made so; empty when packs were named
  std::vector<CakeChange> if_made_so;   ///< once `packs` stand under it; with packs that were named, all that follows
  /// Whether somebody has to say yes before it is recorded.
  bool touches() const {
    return !says.empty() && (!recipes.empty() || !batches.empty() || !here.empty() || !in_any_case.empty() || !if_made_so.empty());
  }
};

/// What packs say, given as documents, and what a person decided about changes.
struct SpecificationTaking {
  std::vector<GivenDocument> documents;
  bool accept = false;             ///< book it although it changes something that is in use
  std::vector<std::string> packs;  ///< that are already made so, or `all-in-house`; none: only later deliveries are
  std::string why;                 ///< of the packs: how that is known
};
struct TakenSpecifications {
  std::vector<SpecificationChange> changes;  ///< one for each document that says something else than the reading before it
  std::optional<Booked> booked;              ///< nothing: somebody has to say yes first
  std::vector<std::string> against_names;    ///< what a reading says against the name of its food, in sentences
};

/// Books what packs say. The first reading of an ingredient from a supplier, one that says the same as the newest on file, and one that
/// nothing depends on are booked at once. A changed one of which something is in use is only told, with all that it changes, until
/// `accept`; then the packs that were named are corrected in the same append to stand under it, with the reason. Effects are found by
/// judging every cake with such a pack in it as the records are and as they would be; nothing is written for that. Refused, with file and
/// field: what `read_specification` refuses, claims, names that are not known; packs of something else, without a reason, or in a cake that
/// somebody complained of.
Result<TakenSpecifications> take_specifications(Session& session, const SpecificationTaking& taking);

}  // namespace tierproof
