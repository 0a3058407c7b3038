#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "declaration_check.h"
#include "label_runs.h"
#include "label_shares.h"

namespace tierproof {
namespace {

/// mg SO2 in a kilogram of a finished batch, from the figures of its packs; each batch once.
class BatchSulphites {
 public:
  explicit BatchSulphites(const CakeParts& parts) : parts_{parts} {}

  Share mg_per_kg(std::size_t batch) {
    if (const auto known = known_.find(batch); known != known_.end()) return known->second;
    const BatchFacts& facts = parts_.batches[batch];
    Share sum = 0;
    for (const Use& use : facts.uses) {
      const Share each =
          use.of == Use::Of::batch ? mg_per_kg(use.index) : parts_.lots[use.index].ingredient.sulphites_mg_per_kg.value_or(0);
      sum += each * use.mass.to_milligrams();
    }
    return known_[batch] = sum / facts.yield.to_milligrams();
  }

 private:
  const CakeParts& parts_;
  std::map<std::size_t, Share> known_;
};

/// Whether a food stays in pieces, so that one mouthful may be all of it.
bool stays_in_pieces(const IngredientFacts& food) { return food.kind == "fruit" || !food.varying_group.empty(); }

/// A part of the cake that is above the amount though the whole is not: whoever eats that piece is not told by the label.
void check_pieces(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const AllergenTerm& term) {
  const auto judge = [&](const std::string& subject, const std::string& words, const Share& mg_per_kg, std::vector<std::string> paths) {
    if (!above_threshold(mg_per_kg, term)) return;
    Finding finding = not_shown(
        "sulphites", subject,
        fmt::format("{} alone has {} mg/kg of sulphites, though the whole cake needs no declaration", words, format_decimal(mg_per_kg, 1)),
        "tell whoever eats it, or ask whether anyone reacts to sulphites, and write down who said so");
    finding.limit = fmt::format("{} {} mg/kg as SO2, where it is eaten by itself", term.at_threshold ? "under" : "up to",
                                format_decimal(*term.above_mg_per_kg, 0));
    finding.result = format_decimal(mg_per_kg, 1) + " mg/kg";
    finding.evidence = "figures of the packs' specifications, over the mass of that part";
    finding.source = cite(term.cited);
    finding.paths = std::move(paths);
    findings.push_back(std::move(finding));
  };
  for (const TierAmount& tier : made.tiers) {
    Share sum = 0;
    for (const auto& [lot, mg] : tier.lots) sum += mg * parts.lots[lot].ingredient.sulphites_mg_per_kg.value_or(0);
    judge(tier.tier, fmt::format("the {} tier", tier.tier), sum / tier.finished_mg, {});
  }
  BatchSulphites batches{parts};
  std::set<std::size_t> placed;
  for (const Placed& one : parts.placed) {
    if (!placed.insert(one.batch).second) continue;
    const BatchFacts& batch = parts.batches[one.batch];
    judge(batch.id.text(), fmt::format("{} ({})", batch.name, batch.id.text()), batches.mg_per_kg(one.batch), {});
  }
  for (std::size_t i = 0; i < made.lots.size(); ++i) {
    const LotFacts& lot = parts.lots[made.lots[i].lot];
    if (!stays_in_pieces(lot.ingredient)) continue;
    judge(lot.id.text(), pack_in_words(lot), lot.ingredient.sulphites_mg_per_kg.value_or(0), made.lots[i].paths);
  }
}

}  // namespace

void check_sulphites(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const Declaration& declared,
                     const LabelTerms& terms) {
  const AllergenTerm* term = terms.allergen(sulphites_key);
  if (term == nullptr || !term->above_mg_per_kg) {
    findings.push_back(shown("sulphites", made.cake.text(), "these rules set no amount for sulphites"));
    return;
  }
  const std::string sum = format_decimal(declared.sulphites_mg_per_kg, 1) + " mg/kg";
  const std::string limit = fmt::format("declared {} {} mg/kg as SO2 in the finished cake", term->at_threshold ? "at or above" : "above",
                                        format_decimal(*term->above_mg_per_kg, 0));
  const std::vector<std::size_t> silent = sulphites_without_figure(parts, made);
  const std::vector<std::size_t> in_doubt = sulphites_in_doubt(parts, made);
  const bool declares = above_threshold(declared.sulphites_mg_per_kg, *term);
  const auto packs = [](std::size_t count) { return count == 1 ? std::string{"one pack"} : fmt::format("{} packs", count); };
  Finding finding;
  if (!silent.empty()) {
    finding = not_shown("sulphites", made.cake.text(),
                        fmt::format("{} with sulphites {} no figure, so they are declared as a caution", packs(silent.size()),
                                    silent.size() == 1 ? "gives" : "give"),
                        "ask the supplier for the total as SO2 in mg/kg");
    for (const std::size_t amount : silent) append_paths(finding.paths, made, amount);
    std::sort(finding.paths.begin(), finding.paths.end());
    finding.result = "at least " + sum;
  } else if (!in_doubt.empty() && !declares) {
    finding = not_shown("sulphites", made.cake.text(),
                        fmt::format("{} may bring sulphites and {} no figure, and what the others bring comes to {}, which is not declared",
                                    packs(in_doubt.size()), in_doubt.size() == 1 ? "gives" : "give", sum),
                        "ask the supplier whether there are sulphites in it, and for their total as SO2 in mg/kg");
    for (const std::size_t amount : in_doubt) append_paths(finding.paths, made, amount);
    std::sort(finding.paths.begin(), finding.paths.end());
    finding.result = "at least " + sum;
  } else {
    finding = shown("sulphites", made.cake.text(),
                    declared.sulphites_mg_per_kg == 0
                        ? "no pack gives an amount of sulphites"
                        : fmt::format("sulphites come to {} of the finished cake and are {}", sum, declares ? "declared" : "not declared"));
    finding.result = sum;
  }
  finding.limit = limit;
  finding.evidence = "figures of the packs' specifications, over the finished mass";
  finding.source = cite(term->cited);
  findings.push_back(std::move(finding));
  const bool is_declared = std::find(declared.contains.begin(), declared.contains.end(), term->key) != declared.contains.end();
  if (!is_declared) check_pieces(findings, parts, made, *term);
}

}  // namespace tierproof
