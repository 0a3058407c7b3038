#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/kitchen/entities.h"
#include "tierproof/kitchen/evidence.h"
#include "tierproof/kitchen/going_wrong.h"
#include "tierproof/kitchen/plan.h"
#include "tierproof/kitchen/regular.h"
#include "tierproof/text/json.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// The kind (with its version) under which `Thing` stands in the log.
template <class Thing>
struct KindOf;
#define TIERPROOF_KIND(Thing, name)                \
  template <>                                      \
  struct KindOf<Thing> {                           \
    static constexpr std::string_view kind = name; \
  }
TIERPROOF_KIND(Kitchen, "kitchen/1");
TIERPROOF_KIND(Person, "person/1");
TIERPROOF_KIND(Supplier, "supplier/1");
TIERPROOF_KIND(Ingredient, "ingredient/1");
TIERPROOF_KIND(Specification, "specification/1");
TIERPROOF_KIND(Lot, "lot/1");
TIERPROOF_KIND(Withdrawal, "withdrawal/1");
TIERPROOF_KIND(Equipment, "equipment/1");
TIERPROOF_KIND(Place, "place/1");
TIERPROOF_KIND(Probe, "probe/1");
TIERPROOF_KIND(ProbeCheckMade, "probe-check/1");
TIERPROOF_KIND(Recipe, "recipe/1");
TIERPROOF_KIND(Batch, "batch/1");
TIERPROOF_KIND(ReadingsBlock, "readings/1");
TIERPROOF_KIND(Stay, "stay/1");
TIERPROOF_KIND(Cake, "cake/1");
TIERPROOF_KIND(AllergyAnswer, "allergy/1");
TIERPROOF_KIND(Acceptance, "accepted/1");
TIERPROOF_KIND(Tier, "tier/1");
TIERPROOF_KIND(Cleaning, "cleaning/1");
TIERPROOF_KIND(Validation, "validation/1");
TIERPROOF_KIND(CleaningValidated, "kit-validation/1");
TIERPROOF_KIND(EquipmentChanged, "kit-changed/1");
TIERPROOF_KIND(Adopted, "adopted/1");
TIERPROOF_KIND(Keeping, "keeping/1");
TIERPROOF_KIND(Release, "release/1");
TIERPROOF_KIND(HandOver, "hand-over/1");
TIERPROOF_KIND(PaperIssued, "paper/1");
TIERPROOF_KIND(Tub, "tub/1");
TIERPROOF_KIND(TopUp, "top-up/1");
TIERPROOF_KIND(Emptied, "emptied/1");
TIERPROOF_KIND(Opened, "opened/1");
TIERPROOF_KIND(ColumnMapKept, "column-map/1");
TIERPROOF_KIND(Told, "told/1");
TIERPROOF_KIND(Deviation, "deviation/1");
TIERPROOF_KIND(DeviationClosed, "deviation-closed/1");
TIERPROOF_KIND(Complaint, "complaint/1");
TIERPROOF_KIND(ComplaintClosed, "complaint-closed/1");
TIERPROOF_KIND(Disposal, "disposal/1");
TIERPROOF_KIND(RecallBegun, "recall/1");
TIERPROOF_KIND(RecallTick, "recall-step/1");
TIERPROOF_KIND(RecallClosed, "recall-closed/1");
TIERPROOF_KIND(Missed, "missed/1");
TIERPROOF_KIND(RegularSort, "regular/1");
TIERPROOF_KIND(RegularDone, "regular-done/1");
TIERPROOF_KIND(DayOff, "day-off/1");
TIERPROOF_KIND(PrecautionDecided, "precaution/1");
TIERPROOF_KIND(Erasure, "erasure/1");
TIERPROOF_KIND(SpecificationLooked, "specification-looked/1");
TIERPROOF_KIND(RuleConfirmed, "rule-confirmed/1");
TIERPROOF_KIND(HazardPlan, "plan/1");
TIERPROOF_KIND(PlanReviewed, "plan-review/1");
TIERPROOF_KIND(Advice, "advice/1");
TIERPROOF_KIND(Evidence, "evidence/1");
#undef TIERPROOF_KIND

/// The body of a note about `thing`. Masses in mg, shares in millionths, temperatures in hundredths of their scale, dates as text.
template <class Thing>
Json body_of(const Thing& thing);

/// Reads a body back. Refuses missing, unknown and ill-typed members, and values out of range, each named.
/// @param where   for refusals: `note 12 (lot/1)` or a file name
/// @param unseal  looks up sealed words by their ref; nothing once they are erased
using Unseal = std::function<std::optional<std::string>(const std::string&)>;
template <class Thing>
Result<Thing> read_body(const Json& body, const std::string& where, const Unseal& unseal = {});

/// Readings as the bytes of a block: one line a reading, `milliseconds hundredths C|F` or `milliseconds fault text`.
std::string write_block(const std::vector<LoggedReading>& readings);
/// @throws nothing; a line that is not a reading is refused with its number.
Result<std::vector<LoggedReading>> read_block(std::string_view bytes);

}  // namespace tierproof
