#include "tierproof/app/weighings.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "tierproof/text/number.h"

namespace tierproof {
namespace {

std::int64_t went_in_mg(const Batch& batch) {
  std::int64_t mg = 0;
  for (const auto& use : batch.uses) mg += use.mass.to_milligrams();
  return mg;
}

std::string grams_told(double mg) { return fmt::format("{:.1f} g", mg / 1000); }

/// @param inside  batches that it is looked for in already: records of a loop end there
DryMatter dry_matter_within(const State& state, const std::vector<BatchUse>& uses, std::set<std::string>& inside) {
  DryMatter dry;
  for (const auto& use : uses) {
    const auto mg = static_cast<double>(use.mass.to_milligrams());
    if (!use.batch) {
      if (use.remains_ppm) {
        dry.not_known.push_back(use.of);  // some of it is volatile, whatever its water
      } else if (const auto water = water_of_pack(state, LotId{use.of})) {
        dry.dry_mg += mg * (1 - *water);
      } else {
        dry.not_known.push_back(use.of);
      }
      continue;
    }
    const auto part = state.batches.find(BatchId{use.of});
    if (part == state.batches.end() || !inside.insert(use.of).second) {
      dry.not_known.push_back(use.of);
      continue;
    }
    const DryMatter within = dry_matter_within(state, part->second.value.uses, inside);
    inside.erase(use.of);
    // What stayed behind took its share of the dry matter along.
    dry.dry_mg += within.dry_mg * mg / static_cast<double>(came_out(part->second.value).to_milligrams());
    if (!within.not_known.empty()) dry.not_known.push_back(use.of);
  }
  return dry;
}

std::string per_cent_told(double share) { return fmt::format("{:.1f} %", share * 100); }

}  // namespace

std::optional<double> water_of_pack(const State& state, const LotId& id) {
  const auto lot = state.lots.find(id);
  if (lot == state.lots.end()) return std::nullopt;
  const auto says = state.specifications.find(lot->second.value.specification);
  if (says != state.specifications.end() && says->second.value.water_ppm)
    return static_cast<double>(*says->second.value.water_ppm) / 1'000'000;
  const auto ingredient = state.ingredients.find(lot->second.value.ingredient);
  if (ingredient != state.ingredients.end() && ingredient->second.value.added_water) return 1;
  return std::nullopt;
}

Mass came_out(const Batch& batch) { return batch.yield + batch.left_behind.value_or(Mass{}); }

DryMatter dry_matter_of(const State& state, const std::vector<BatchUse>& uses) {
  std::set<std::string> inside;
  return dry_matter_within(state, uses, inside);
}

std::optional<Refusal> impossible_weighing(const State& state, const Batch& batch) {
  const std::int64_t in = went_in_mg(batch);
  const std::int64_t out = came_out(batch).to_milligrams();
  if (in <= 0) return std::nullopt;
  const std::string with = batch.left_behind ? fmt::format(", and {} that stayed behind,", format_mass(*batch.left_behind)) : "";
  if (out > in) {
    return Refusal{"", 0, "--yield",
                   fmt::format("{}{} came of {}: more than went in", format_mass(batch.yield), with, format_mass(Mass::milligrams(in))),
                   "weigh again, or record everything that went in, water too"};
  }
  const DryMatter dry = dry_matter_of(state, batch.uses);
  if (dry.dry_mg <= 0 || drying(static_cast<double>(in), 1 - dry.dry_mg / static_cast<double>(in), static_cast<double>(out)))
    return std::nullopt;
  const std::string other = dry.not_known.empty() ? "" : fmt::format(", and that of {} besides", fmt::join(dry.not_known, ", "));
  return Refusal{"", 0, "--yield",
                 fmt::format("{}{} is less than the {} of dry matter that went in by what the packs say{}: only water leaves",
                             format_mass(batch.yield), with, grams_told(dry.dry_mg), other),
                 "weigh again; if some of it stayed in bowl or tin or was cut off, weigh that too (--left-behind); or correct the water of "
                 "the pack (specification)"};
}

std::optional<LossSpread> losses_of(const State& state, std::uint64_t version, const BatchId& but) {
  std::vector<double> losses;
  for (const auto& [id, batch] : state.batches) {
    const Batch& made = batch.value;
    if (made.recipe_version != version || id == but || !made.weighed || !made.left_over.empty()) continue;
    const std::int64_t in = went_in_mg(made);
    const std::int64_t out = came_out(made).to_milligrams();
    if (in > 0 && out <= in) losses.push_back(static_cast<double>(in - out) / static_cast<double>(in));
  }
  return loss_spread(losses);
}

std::vector<std::string> weighing_in_words(const State& state, const BatchId& batch) {
  const auto found = state.batches.find(batch);
  if (found == state.batches.end() || !found->second.value.weighed || !found->second.value.left_over.empty()) return {};
  const Batch& made = found->second.value;
  const auto in = static_cast<double>(went_in_mg(made));
  const auto out = static_cast<double>(came_out(made).to_milligrams());
  if (in <= 0 || out > in) return {};
  const double loss = 1 - out / in;
  std::vector<std::string> told;
  if (const auto before = losses_of(state, made.recipe_version, batch); before && before->weighings >= 2) {
    if (loss < before->least || loss > before->most)
      told.push_back(
          fmt::format("it lost {}, outside what {} earlier weighings of this recipe lost: {} to {}, middle {}; look at the weights",
                      per_cent_told(loss), before->weighings, per_cent_told(before->least), per_cent_told(before->most),
                      per_cent_told(before->middle)));
  }
  const DryMatter dry = dry_matter_of(state, made.uses);
  if (!dry.not_known.empty()) return told;
  if (const auto dried = drying(in, std::clamp(1 - dry.dry_mg / in, 0.0, 1.0), out)) {
    told.push_back(fmt::format("by weight it lost {} and now holds {} of water, by what the packs say", per_cent_told(dried->loss),
                               per_cent_told(dried->water)));
    // Slices of fruit: nothing baked loses half of itself.
    if (dried->loss >= 0.5)
      told.push_back(
          "drying is judged by weight, not by the clock (practice: 100 to 120 °C for 60 to 90 min, which dries thin slices only in part; "
          "common practice, no source)");
  }
  return told;
}

}  // namespace tierproof
