#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <tuple>

#include "packs.h"

namespace tierproof {
namespace {

/// What a set must have on every day, and whether the rows in force have it.
struct Needed {
  std::string what;
  std::function<bool(const RuleRow&)> is_it;
};

Needed a(std::string mechanism) {
  return {mechanism, [mechanism](const RuleRow& row) { return row.mechanism == mechanism; }};
}

Needed gap_for(std::string use) {
  return {fmt::format("gap for \"{}\"", use), [use](const RuleRow& row) {
            const auto* gap = std::get_if<GapTerm>(&row.says);
            return gap != nullptr && gap->use == use;
          }};
}

Needed wording_for(std::string key) {
  return {fmt::format("wording \"{}\"", key), [key](const RuleRow& row) {
            const auto* wording = std::get_if<Wording>(&row.says);
            return wording != nullptr && wording->key == key;
          }};
}

const std::vector<Needed>& needed_for_labels() {
  static const std::vector<Needed> needed{a("allergen"),
                                          a("allergen-form"),
                                          a("emphasis"),
                                          a("added-water"),
                                          a("route"),
                                          {"type-size for \"text\"",
                                           [](const RuleRow& row) {
                                             const auto* size = std::get_if<TypeSizeTerm>(&row.says);
                                             return size != nullptr && size->what == "text";
                                           }},
                                          wording_for("ingredients heading"),
                                          wording_for("contains"),
                                          wording_for("may contain"),
                                          wording_for("caution")};
  return needed;
}

const std::vector<Needed>& needed_for_temperatures() {
  static const std::vector<Needed> needed{{"heat-hold or no-number about \"heating\"",
                                           [](const RuleRow& row) {
                                             const auto* none = std::get_if<NoNumberTerm>(&row.says);
                                             return row.mechanism == "heat-hold" || (none != nullptr && none->about == "heating");
                                           }},
                                          a("egg-mix"),
                                          a("probe-check"),
                                          gap_for("heat step"),
                                          gap_for("chilled hold"),
                                          {"chill (law, not advice) or cold-place", [](const RuleRow& row) {
                                             const auto* chill = std::get_if<ChillTerm>(&row.says);
                                             return row.mechanism == "cold-place" || (chill != nullptr && !chill->advice);
                                           }}};
  return needed;
}

const std::vector<Needed>& needed_for_retention() {
  static const std::vector<Needed> needed{a("keep")};
  return needed;
}

Refusals missing(const std::vector<InForce>& rows, const std::vector<Needed>& needed, const Pack& top, Date on) {
  Refusals refusals;
  for (const auto& one : needed) {
    if (std::any_of(rows.begin(), rows.end(), [&](const InForce& r) { return one.is_it(*r.row); })) continue;
    refusals.push_back({top.path, top.line, "rows", fmt::format("no row of {} is in force on {}", one.what, format_date(on)),
                        "choose a day on which these rules were in force, or add the row with its dates and source"});
  }
  return refusals;
}

/// The row's citation, with the kitchen's confirmation on it when the row rests on memory and still says what was confirmed, by the same
/// clause.
Cited cited_of(const InForce& found, const std::string& chosen, const Confirmations& confirmations) {
  Cited cited = found.row->cited;
  if (!cited.from_memory) return cited;
  for (const auto& code : {chosen, found.pack->jurisdiction}) {
    const auto confirmed = confirmations.find({code, cited.row});
    if (confirmed == confirmations.end()) continue;
    if (confirmed->second.clause != cited.clause || confirmed->second.says != told_of(*found.pack, *found.row)) continue;
    cited.confirmed = confirmed->second.words;
    break;
  }
  return cited;
}

/// Hands every row in force to `into(says, cited)`.
template <class Into>
void hand_on(const std::vector<InForce>& rows, const std::string& chosen, const Confirmations& confirmations, const Into& into) {
  for (const auto& found : rows) {
    const auto cited = cited_of(found, chosen, confirmations);
    if (cited == found.row->cited) {
      into(found.row->says, cited);
      continue;
    }
    auto says = found.row->says;
    put_citation(says, cited);
    into(says, cited);
  }
}

/// Sorts what one row says into the terms of a label.
struct IntoLabel {
  LabelTerms& terms;
  const Cited& cited;
  void operator()(const AllergenTerm& t) const { terms.allergens.push_back(t); }
  void operator()(const ExemptionTerm& t) const { terms.exemptions.push_back(t); }
  void operator()(const AllergenFormTerm& t) const { terms.form = t; }
  void operator()(const GroupAnswerTerm& t) const { terms.group_answers.push_back(t); }
  void operator()(const ReferenceDoseTerm& t) const { terms.reference_doses.push_back(t); }
  void operator()(const EmphasisRow& t) const {
    terms.emphasis = t.style;
    terms.emphasis_cited = cited;
  }
  void operator()(const AddedWaterRow& t) const {
    terms.water_ignored_up_to = {cited, t.ignored_up_to};
    terms.water_ranked_as_used = t.ranked_as_used;
  }
  void operator()(const AnyOrderRow& t) const { terms.any_order_below = {cited, t.limit, t.inclusive, t.wording, t.kinds}; }
  void operator()(const CollectiveTerm& t) const { terms.collectives.push_back(t); }
  void operator()(const AndOrTerm& t) const { terms.and_or = t; }
  void operator()(const ReliefTerm& t) const { terms.reliefs.push_back(t); }
  void operator()(const StatutoryPartsTerm& t) const { terms.statutory_parts.push_back(t); }
  void operator()(const VaryingTerm& t) const { terms.varying.push_back(t); }
  void operator()(const MarkWording& t) const { terms.mark_wordings.push_back(t); }
  void operator()(const AmountWording& t) const { terms.amount_wordings.push_back(t); }
  void operator()(const ShareWording& t) const { terms.share_wordings.push_back(t); }
  void operator()(const NamedQuantityTerm& t) const { terms.named_quantities = t; }
  void operator()(const AdditiveTerm& t) const { terms.additives.push_back(t); }
  void operator()(const AdditiveTableRow&) const {}  // after the rows that override its lines
  void operator()(const ClassTitleTerm& t) const {
    terms.class_titles.push_back(t.title);
    terms.class_words.push_back(t);
  }
  void operator()(const AdditiveWording& t) const { terms.additive_wordings.push_back(t); }
  void operator()(const AdditiveFormTerm& t) const { terms.additive_form = t; }
  void operator()(const LevelLimitTerm& t) const { terms.level_limits.push_back(t); }
  void operator()(const RouteTerm& t) const { terms.routes.push_back(t); }
  void operator()(const SmallPackageTerm& t) const { terms.small_packages.push_back(t); }
  void operator()(const TypeSizeTerm& t) const { terms.type_sizes.push_back(t); }
  void operator()(const DateMarkTerm& t) const { terms.date_marks.push_back(t); }
  void operator()(const DateExemptionTerm& t) const { terms.date_exemptions.push_back(t); }
  void operator()(const LotMarkTerm& t) const { terms.lot_mark = t; }
  void operator()(const NetQuantityTerm& t) const { terms.net_quantity = t; }
  void operator()(const AddressTerm& t) const { terms.address = t; }
  void operator()(const LanguageTerm& t) const { terms.language = t; }
  void operator()(const SpecificationAgeTerm& t) const { terms.specification_age = t; }
  void operator()(const Wording& t) const { terms.wordings.push_back(t); }
  void operator()(const NutritionExemptionTerm& t) const { terms.nutrition_exemptions.push_back(t); }
  void operator()(const EnergyFactorTerm& t) const { terms.energy_factors.push_back(t); }
  void operator()(const RoundingBandTerm& t) const { terms.rounding.push_back(t); }
  template <class Other>
  void operator()(const Other&) const {}  // a mechanism of another set: refused on reading
};

struct IntoTemperature {
  TemperatureTerms& terms;
  void operator()(const HeatRow& t) const { terms.heat_rows.push_back(t); }
  void operator()(const HeatEquivalence& t) const { terms.equivalences.push_back(t); }
  void operator()(const HeatReference& t) const { terms.references.push_back(t); }
  void operator()(const ChillTerm& t) const { terms.chill.push_back(t); }
  void operator()(const ColdPlaceTerm& t) const { terms.cold_places.push_back(t); }
  void operator()(const WarmAllowance& t) const { terms.allowances.push_back(t); }
  void operator()(const EggMixTerm& t) const { terms.egg_mix.push_back(t); }
  void operator()(const ProbeTerm& t) const { terms.probe = t; }
  void operator()(const GapTerm& t) const { terms.gaps.push_back(t); }
  void operator()(const HotHoldTerm& t) const { terms.hot_hold = t; }
  void operator()(const HotAllowance& t) const { terms.hot_allowance = t; }
  void operator()(const ReheatTerm& t) const { terms.reheat = t; }
  void operator()(const CoolingAdvice& t) const { terms.cooling_advice = t; }
  void operator()(const ColdDays& t) const { terms.cold_days = t; }
  void operator()(const WarmTotal& t) const { terms.warm_total = t; }
  void operator()(const TimeControl& t) const { terms.time_controls.push_back(t); }
  void operator()(const CoolingTerm& t) const { terms.cooling = t; }
  void operator()(const GrowthTerm& t) const { terms.growth.push_back(t); }
  void operator()(const ActivityTable& t) const { terms.activity_tables.push_back(t); }
  void operator()(const NoNumberTerm& t) const { terms.no_numbers.push_back(t); }
  template <class Other>
  void operator()(const Other&) const {}
};

/// `E102` before `E1105`; `E150a` before `E150b`.
bool comes_first(const AdditiveTerm& left, const AdditiveTerm& right) {
  const auto number = [](const std::string& text) { return text.find_last_of("0123456789"); };
  const auto left_digits = number(left.number);
  const auto right_digits = number(right.number);
  return std::tie(left_digits, left.number) < std::tie(right_digits, right.number);
}

}  // namespace

std::vector<InForce> rows_in_force(const Layers& layers, Date on) {
  std::map<std::string, InForce, std::less<>> by_id;
  for (const auto* pack : layers) {
    for (const auto& row : pack->rows) {
      if (in_force_on(row, on)) by_id.insert_or_assign(row.id, InForce{&row, pack});
    }
  }
  std::vector<InForce> rows;
  for (const auto& [id, found] : by_id) {
    if (!std::holds_alternative<ClosedRow>(found.row->says)) rows.push_back(found);
  }
  std::stable_sort(rows.begin(), rows.end(), [](const InForce& l, const InForce& r) { return l.row->order < r.row->order; });
  return rows;
}

Result<LabelTerms> label_terms_of(const Layers& layers, Date on, const Confirmations& confirmations) {
  const auto rows = rows_in_force(layers, on);
  const auto& chosen = layers.back()->jurisdiction;
  if (auto refusals = missing(rows, needed_for_labels(), *layers.back(), on); !refusals.empty()) return refusals;
  LabelTerms terms{};
  terms.jurisdiction = chosen;
  terms.title = layers.back()->title;
  terms.on = on;
  hand_on(rows, chosen, confirmations, [&](const RowSays& says, const Cited& cited) { std::visit(IntoLabel{terms, cited}, says); });
  hand_on(rows, chosen, confirmations, [&](const RowSays& says, const Cited&) {
    const auto* table = std::get_if<AdditiveTableRow>(&says);
    if (table == nullptr) return;
    for (const auto& line : table->lines) {
      if (terms.additive(line.number) == nullptr) terms.additives.push_back(line);
    }
  });
  std::sort(terms.additives.begin(), terms.additives.end(), comes_first);
  keep_additive_names(terms);
  if (auto refusals = misfits(rows, terms); !refusals.empty()) return refusals;
  drop_what_no_row_knows(rows, terms);
  return terms;
}

Result<TemperatureTerms> temperature_terms_of(const Layers& layers, Date on, const Confirmations& confirmations) {
  const auto rows = rows_in_force(layers, on);
  if (auto refusals = missing(rows, needed_for_temperatures(), *layers.back(), on); !refusals.empty()) return refusals;
  TemperatureTerms terms;
  terms.jurisdiction = layers.back()->jurisdiction;
  terms.title = layers.back()->title;
  terms.on = on;
  hand_on(rows, terms.jurisdiction, confirmations, [&](const RowSays& says, const Cited&) { std::visit(IntoTemperature{terms}, says); });
  std::stable_sort(terms.chill.begin(), terms.chill.end(), [](const ChillTerm& l, const ChillTerm& r) { return l.advice < r.advice; });
  return terms;
}

Result<RetentionTerms> retention_terms_of(const Layers& layers, Date on, const Confirmations& confirmations) {
  const auto rows = rows_in_force(layers, on);
  if (auto refusals = missing(rows, needed_for_retention(), *layers.back(), on); !refusals.empty()) return refusals;
  RetentionTerms terms;
  terms.jurisdiction = layers.back()->jurisdiction;
  terms.on = on;
  hand_on(rows, terms.jurisdiction, confirmations, [&](const RowSays& says, const Cited&) {
    if (const auto* keep = std::get_if<RetentionTerm>(&says)) terms.rows.push_back(*keep);
  });
  return terms;
}

}  // namespace tierproof
