// The closed list of mechanisms, and the question that a row of each answers.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "parameters.h"
#include "tierproof/units/share.h"

namespace tierproof {
namespace {

std::vector<Mechanism> all_mechanisms() {
  std::vector<Mechanism> all;
  for (const auto& some : {allergen_mechanisms(), additive_mechanisms(), list_mechanisms(), particular_mechanisms(), other_mechanisms(),
                           activity_mechanisms()}) {
    all.insert(all.end(), some.begin(), some.end());
  }
  return all;
}

const std::vector<Mechanism>& mechanisms() {
  static const auto all = all_mechanisms();
  return all;
}

std::string bound(const std::optional<Share>& share) { return share ? share->str() : "-"; }

struct QuestionOf {
  std::string operator()(const ClosedRow&) const { return ""; }
  std::string operator()(const AllergenTerm& t) const { return t.key; }
  std::string operator()(const ExemptionTerm& t) const { return fmt::format("{}/{}", t.allergen, t.process); }
  std::string operator()(const AllergenFormTerm&) const { return "one"; }
  std::string operator()(const ReferenceDoseTerm& t) const { return t.allergen; }
  std::string operator()(const CollectiveTerm& t) const { return t.kind; }
  std::string operator()(const AndOrTerm&) const { return "one"; }
  std::string operator()(const ReliefTerm&) const { return ""; }
  std::string operator()(const StatutoryPartsTerm&) const { return ""; }
  std::string operator()(const MarkWording& t) const { return fmt::format("{}/{}", t.mark, t.placed); }
  std::string operator()(const AmountWording& t) const { return fmt::format("{}/{}", t.of, t.from_mg_per_kg.str()); }
  std::string operator()(const NamedQuantityTerm&) const { return "one"; }
  std::string operator()(const AdditiveFormTerm&) const { return "one"; }
  std::string operator()(const LevelLimitTerm& t) const { return fmt::format("{}/{}", t.of, t.food); }
  std::string operator()(const DateExemptionTerm&) const { return ""; }
  std::string operator()(const SmallPackageTerm& t) const {
    return fmt::format("{}/{}/{}", t.face_below_cm2, t.surface_below_cm2, fmt::join(t.routes, "+"));
  }
  std::string operator()(const LotMarkTerm&) const { return "one"; }
  std::string operator()(const NetQuantityTerm&) const { return "one"; }
  std::string operator()(const AddressTerm&) const { return "one"; }
  std::string operator()(const LanguageTerm&) const { return "one"; }
  std::string operator()(const SpecificationAgeTerm&) const { return "one"; }
  std::string operator()(const NutritionExemptionTerm&) const { return ""; }
  std::string operator()(const EnergyFactorTerm& t) const { return t.component; }
  std::string operator()(const RoundingBandTerm& t) const {
    return fmt::format("{}/{}/{}/{}/{}", t.nutrient, bound(t.above), bound(t.from), bound(t.below), bound(t.up_to));
  }
  std::string operator()(const GroupAnswerTerm& t) const { return t.word; }
  std::string operator()(const EmphasisRow&) const { return "one"; }
  std::string operator()(const AddedWaterRow&) const { return "one"; }
  std::string operator()(const AnyOrderRow&) const { return "one"; }
  std::string operator()(const VaryingTerm& t) const { return t.group; }
  std::string operator()(const AdditiveTerm& t) const { return t.number; }
  std::string operator()(const AdditiveTableRow&) const { return "one"; }
  std::string operator()(const ClassTitleTerm& t) const { return t.title; }
  std::string operator()(const AdditiveWording&) const { return ""; }
  std::string operator()(const ShareWording& t) const { return t.of; }
  std::string operator()(const RouteTerm& t) const { return fmt::format("{}/{}/{}/{}", t.boxed, t.seller, t.ordered, t.where); }
  std::string operator()(const TypeSizeTerm& t) const {
    return fmt::format("{}/{}/{}/{}/{}/{}/{}/{}/{}", t.what, t.face_from_cm2.value_or(-1), t.face_below_cm2.value_or(-1),
                       t.face_above_mm2.value_or(-1), t.face_up_to_mm2.value_or(-1), t.surface_from_cm2.value_or(-1),
                       t.surface_below_cm2.value_or(-1), t.above ? t.above->to_milligrams() : -1, t.up_to ? t.up_to->to_milligrams() : -1);
  }
  std::string operator()(const DateMarkTerm& t) const { return fmt::format("{}/{}", t.kind, t.life_up_to_months.value_or(0)); }
  std::string operator()(const Wording& t) const { return t.key; }
  std::string operator()(const HeatRow& t) const { return fmt::format("{}/{}", t.food, (t.at - Temperature{}).to_parts()); }
  std::string operator()(const HeatEquivalence& t) const { return t.food; }
  std::string operator()(const HeatReference& t) const { return t.worth; }
  std::string operator()(const ChillTerm& t) const { return fmt::format("{}/{}", t.measured_in, t.advice); }
  std::string operator()(const ColdPlaceTerm&) const { return "one"; }
  std::string operator()(const WarmAllowance& t) const { return t.use; }
  std::string operator()(const EggMixTerm&) const { return "one"; }
  std::string operator()(const ProbeTerm&) const { return "one"; }
  std::string operator()(const GapTerm& t) const { return t.use; }
  std::string operator()(const HotHoldTerm&) const { return "one"; }
  std::string operator()(const HotAllowance&) const { return "one"; }
  std::string operator()(const ReheatTerm&) const { return "one"; }
  std::string operator()(const CoolingAdvice&) const { return "one"; }
  std::string operator()(const ColdDays&) const { return "one"; }
  std::string operator()(const WarmTotal&) const { return "one"; }
  std::string operator()(const TimeControl& t) const { return fmt::format("{}/{}", t.use, t.ceiling.has_value()); }
  std::string operator()(const CoolingTerm&) const { return "one"; }
  std::string operator()(const GrowthTerm& t) const { return t.of; }
  std::string operator()(const ActivityTable& t) const { return t.food; }
  std::string operator()(const NoNumberTerm& t) const { return t.about; }
  std::string operator()(const RetentionTerm& t) const { return fmt::format("{}/{}", t.what, t.counts_from); }
};

template <class T>
concept Citing = requires(T term) {
  term.cited;
};

}  // namespace

RowSays read_mechanism(const std::string& set, const std::string& mechanism, Fields& row, const RowContext& context, bool& known) {
  known = true;
  if (mechanism == "closed") return ClosedRow{};
  for (const auto& candidate : mechanisms()) {
    if (candidate.set == set && candidate.name == mechanism) return candidate.read(row, context);
  }
  known = false;
  return ClosedRow{};
}

std::vector<std::string> mechanisms_of(std::string_view set) {
  std::vector<std::string> names{"closed"};
  for (const auto& mechanism : mechanisms()) {
    if (mechanism.set == set) names.emplace_back(mechanism.name);
  }
  std::sort(names.begin(), names.end());
  return names;
}

void put_citation(RowSays& says, const Cited& cited) {
  std::visit(
      [&]<class T>(T& term) {
        if constexpr (Citing<T>) term.cited = cited;
        if constexpr (std::is_same_v<T, AdditiveTableRow>) {
          for (auto& line : term.lines) line.cited = cited;
        }
      },
      says);
}

std::string question_of(const RuleRow& row) { return std::visit(QuestionOf{}, row.says); }

}  // namespace tierproof
