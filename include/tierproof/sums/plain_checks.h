#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/sums/terms.h"
#include "tierproof/units/finding.h"

namespace tierproof {

// Controls that need no sum: something is so or it is not. Each gives a finding, *shown* when it is as it must be.

/// Control `lot-withdrawn`: one finding without override for each withdrawn pack, or one that none is recorded.
/// @param withdrawn  the withdrawn packs in the cake, in words
/// @param packs      how many packs are in it
std::vector<Finding> judge_withdrawn(const std::string& cake, const std::vector<std::string>& withdrawn, std::size_t packs);

/// Control `use-by`: a pack that was past its use-by on the day it went in has no override.
std::optional<Finding> judge_pack_used(const std::string& pack, const std::string& name, const std::string& batch, Date used,
                                       std::optional<Date> use_by);

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

/// Control `egg-heat`: a batch whose recipe was voided.
Finding judge_recipe_void(const std::string& batch);

/// Control `allergens-known`: a cake whose parts cannot be followed stops without override.
Finding judge_not_composed(const std::string& cake, const std::string& why);

}  // namespace tierproof
