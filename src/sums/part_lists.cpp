#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "label_list.h"
#include "label_runs.h"

namespace tierproof {
namespace {

/// What one milligram of a batch is made of: packs, and batches that are listed by a name of their own.
struct OfOneMg {
  Share put_in = 0;
  Share remaining = 0;
  Share reconstituted = 0;
};
using ContentsOfOneMg = std::map<std::size_t, OfOneMg>;  // by place in the lots of `PartLists`

using BatchMasses = std::map<std::size_t, Share>;  // mg, by place in `CakeParts::batches`

/// In its lists a batch with a customary name is a pack of its own: lot number `parts.lots.size()` + its place.
class PartLists {
 public:
  PartLists(const CakeParts& parts, ListAsk ask) : parts_{parts}, ask_{std::move(ask)}, told_{parts}, of_one_mg_(parts.batches.size()) {
    ask_.small_amounts_last = false;
    for (const BatchFacts& batch : parts.batches) {
      LotFacts named{LotId{batch.id.text()}, "", {}};
      named.ingredient.id = IngredientId{batch.id.text()};
      named.ingredient.label_name = batch.label_name;
      named.ingredient.fixed_by_law = made_here;
      told_.lots.push_back(std::move(named));
    }
  }

  /// The parts whose masses are `amounts`, heaviest first, equal ones by name.
  std::vector<ListedIngredient> list(const BatchMasses& amounts) {
    std::map<std::string, BatchMasses> by_name;
    for (const auto& [batch, mass] : amounts) by_name[parts_.batches[batch].label_name].emplace(batch, mass);
    std::vector<ListedIngredient> list;
    for (const auto& [name, of_it] : by_name) list.push_back(part(name, of_it));
    std::stable_sort(list.begin(), list.end(),
                     [](const ListedIngredient& a, const ListedIngredient& b) { return a.ingoing_mg > b.ingoing_mg; });
    return list;
  }

 private:
  const ContentsOfOneMg& of_one_mg(std::size_t index) {
    if (of_one_mg_[index]) return *of_one_mg_[index];
    const BatchFacts& batch = parts_.batches[index];
    ContentsOfOneMg flows;
    for (const Use& use : batch.uses) {
      const Share share = share_of(use.mass.to_milligrams(), batch.yield.to_milligrams());
      const auto add = [&](std::size_t lot, const OfOneMg& flow) {
        OfOneMg& all = flows[lot];
        all.put_in += share * flow.put_in;
        all.remaining += share * use.remains * flow.remaining;
        all.reconstituted += share * flow.reconstituted;
      };
      if (use.of == Use::Of::lot) {
        add(use.index, {1, 1, use.reconstituted ? 1 : 0});
      } else if (const std::string& name = parts_.batches[use.index].label_name; !name.empty() && name != batch.label_name) {
        add(parts_.lots.size() + use.index, {1, 1, 0});
      } else {
        for (const auto& [lot, flow] : of_one_mg(use.index)) add(lot, flow);
      }
    }
    return of_one_mg_[index].emplace(std::move(flows));
  }

  /// As `compose` has it, of these batches alone. A batch that gained weight is told of elsewhere, and is listed all the same.
  Composition composed(const BatchMasses& amounts) {
    std::map<std::size_t, LotAmount> lots;
    Composition made;
    for (const auto& [batch, mass] : amounts) {
      made.finished_mg += mass;
      for (const auto& [lot, flow] : of_one_mg(batch)) {
        LotAmount& all = lots.try_emplace(lot, LotAmount{lot, 0, 0, 0, {}}).first->second;
        all.ingoing_mg += mass * flow.put_in;
        all.remaining_mg += mass * flow.remaining;
        all.reconstituted_mg += mass * flow.reconstituted;
      }
    }
    for (auto& [lot, amount] : lots) {
      made.ingoing_mg += amount.ingoing_mg;
      made.lots.push_back(std::move(amount));
    }
    made.lost_mg = made.ingoing_mg - made.finished_mg;
    std::sort(made.lots.begin(), made.lots.end(), [&](const LotAmount& a, const LotAmount& b) {
      return a.ingoing_mg != b.ingoing_mg ? a.ingoing_mg > b.ingoing_mg : told_.lots[a.lot].id < told_.lots[b.lot].id;
    });
    return made;
  }

  ListedIngredient part(const std::string& name, const BatchMasses& amounts) {
    const Composition made = composed(amounts);
    ListedIngredient entry;
    entry.name = name;
    entry.ingoing_mg = made.finished_mg;
    entry.of_finished = made.finished_mg / ask_.finished_mg;
    RunBuilder runs;
    runs.plain(name);
    bool open = false;
    for (ListedIngredient& below : listed(told_, made, ask_)) {
      if (below.lots.empty()) continue;
      if (below.lots.front() >= parts_.lots.size()) below = part(below.name, amounts_of(below, made));
      runs.plain(open ? ", " : " (");
      open = true;
      runs.runs(below.runs);
      entry.lots.insert(entry.lots.end(), below.lots.begin(), below.lots.end());
      for (const Cited& rule : below.rules) {
        if (std::find(entry.rules.begin(), entry.rules.end(), rule) == entry.rules.end()) entry.rules.push_back(rule);
      }
    }
    if (open) runs.plain(")");
    entry.runs = runs.take();
    std::sort(entry.lots.begin(), entry.lots.end());
    entry.lots.erase(std::unique(entry.lots.begin(), entry.lots.end()), entry.lots.end());
    return entry;
  }

  /// How much of each batch an entry of named batches stands for.
  BatchMasses amounts_of(const ListedIngredient& entry, const Composition& made) const {
    BatchMasses amounts;
    for (const LotAmount& amount : made.lots) {
      const bool here = std::find(entry.lots.begin(), entry.lots.end(), amount.lot) != entry.lots.end();
      if (here) amounts.emplace(amount.lot - parts_.lots.size(), amount.ingoing_mg);
    }
    return amounts;
  }

  const CakeParts& parts_;
  ListAsk ask_;
  CakeParts told_;
  std::vector<std::optional<ContentsOfOneMg>> of_one_mg_;
};

}  // namespace

std::vector<ListedIngredient> listed_by_part(const CakeParts& parts, const ListAsk& ask) {
  BatchMasses amounts;
  for (const Placed& placed : parts.placed) amounts[placed.batch] += placed.mass.to_milligrams();
  return PartLists{parts, ask}.list(amounts);
}

}  // namespace tierproof
