#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/sums/label_terms.h"
#include "tierproof/units/finding.h"

namespace tierproof {

// Controls that need no sum: something is so or it is not. Each gives a finding, *shown* when it is as it must be.

/// Control `lot-withdrawn`: one finding without override for each withdrawn pack, or one that none is recorded.
/// @param withdrawn  the withdrawn packs in the cake, in words
/// @param packs      how many packs are in it
std::vector<Finding> judge_withdrawn(const std::string& cake, const std::vector<std::string>& withdrawn, std::size_t packs);

/// Control `lot-withdrawn` where the records do not say which packs are in the cake: no override.
Finding judge_packs_not_known(const std::string& cake);

/// Control `use-by`: a pack that was past its use-by on the day it went in has no override.
std::optional<Finding> judge_pack_used(const std::string& pack, const std::string& name, const std::string& batch, Date used,
                                       std::optional<Date> use_by);

/// Control `use-by`: shell eggs that were past their best-before on the day they went in need a person.
std::optional<Finding> judge_shell_egg_used(const std::string& pack, const std::string& name, const std::string& batch, Date used,
                                            std::optional<Date> best_before);

/// Control `inedible-parts`: what the label tells to remove.
Finding judge_inedible(const std::string& cake, const std::vector<std::string>& lines);

/// Control `how-sold`: whether the label carries every particular that the way of selling asks for on the pack.
/// @param route    nothing: the rules do not know this way of selling
/// @param printed  particulars that the label prints
Finding judge_particulars(const std::string& cake, const std::optional<RouteTerm>& route, const std::vector<std::string>& printed);

/// Control `mixed-records`: notes of labels that no longer tell what the records say; nothing when there are none.
std::optional<Finding> judge_labels_issued(const std::string& cake, const std::vector<std::uint64_t>& changed);

/// Control `shared-kit` where no contact was found: *shown* only if the kit of every batch is recorded (`recorded`, control
/// `kit-recorded`).
std::optional<Finding> judge_no_contact(const std::string& cake, const Finding& recorded);

/// Control `egg-heat`: a batch that took a pack of shell egg although its recipe's egg is `none` or pasteurised.
/// @param pack  the pack in words
/// @param egg   what the recipe says of its egg
Finding judge_raw_egg_unsaid(const std::string& batch, const std::string& pack, const std::string& egg);

/// Control `allergens-known`: the pack was read again by the day it came, and that reading (`note`) was recorded only after `received`,
/// so the pack stands under the older one and nobody said which is right: no override.
Finding judge_pack_read_again(const std::string& lot, const std::string& pack, Date checked, std::uint64_t note, std::uint64_t received);

/// Control `mixed-records`: labels that were printed before the answer to the allergy question changed are void.
/// @param labels  their notes; nothing comes back when there are none
std::optional<Finding> judge_labels_void(const std::string& cake, const std::vector<std::uint64_t>& labels);

/// Control `egg-heat`: a batch whose recipe was voided.
Finding judge_recipe_void(const std::string& batch);

/// Control `allergens-known`: a cake whose parts cannot be followed stops without override.
Finding judge_not_composed(const std::string& cake, const std::string& why);

}  // namespace tierproof
