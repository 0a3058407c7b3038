#pragma once

#include <compare>
#include <string>
#include <utility>

namespace tierproof {

/// A name that one kind of thing goes by in the records. Two kinds never mix: a `LotId` is not a `BatchId`.
template <class Kind>
class Id {
 public:
  Id() = default;
  explicit Id(std::string text) : text_{std::move(text)} {}
  const std::string& text() const { return text_; }
  bool empty() const { return text_.empty(); }
  friend auto operator<=>(const Id&, const Id&) = default;

 private:
  std::string text_;
};

using PersonId = Id<struct PersonKind>;
using SupplierId = Id<struct SupplierKind>;
using IngredientId = Id<struct IngredientKind>;
using LotId = Id<struct LotKind>;
using EquipmentId = Id<struct EquipmentKind>;
using PlaceId = Id<struct PlaceKind>;
using ProbeId = Id<struct ProbeKind>;
using RecipeId = Id<struct RecipeKind>;
using BatchId = Id<struct BatchKind>;
using CakeId = Id<struct CakeKind>;
using TubId = Id<struct TubKind>;
using DeviationId = Id<struct DeviationKind>;
using ComplaintId = Id<struct ComplaintKind>;
using RecallId = Id<struct RecallKind>;
using RegularSortId = Id<struct RegularSortKind>;

}  // namespace tierproof
