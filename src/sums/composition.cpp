#include "tierproof/sums/composition.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "composition_graph.h"

namespace tierproof {
namespace {

int gravity(Presence presence) {
  switch (presence) {
    case Presence::contains:
      return 3;
    case Presence::unknown:
      return 2;
    case Presence::may_contain:
      return 1;
    case Presence::absent:
      return 0;
  }
  return 2;
}

/// `nuts` of `nuts:almond`; empty for a key that is no member of a group.
std::string group_of(const std::string& key) {
  const std::size_t colon = key.find(':');
  return colon == std::string::npos ? std::string{} : key.substr(0, colon);
}

bool is_blank(const std::string& text) { return text.find_first_not_of(" \t\r\n") == std::string::npos; }

/// A statement as it counts: an absence without evidence is unknown.
PackStatement weighed_up(const AllergenStatement& said) {
  switch (said.presence) {
    case Presence::contains:
    case Presence::may_contain:
      return {said.presence, ""};
    case Presence::absent:
      if (is_blank(said.evidence)) return {Presence::unknown, "its absence rests on no evidence"};
      return {Presence::absent, said.evidence};
    case Presence::unknown:
      break;
  }
  return {Presence::unknown, is_blank(said.evidence) ? "its specification does not know" : said.evidence};
}

bool part_brings(const std::vector<DeclaredPart>& parts, const std::string& key) {
  return std::any_of(parts.begin(), parts.end(), [&](const DeclaredPart& part) {
    return std::find(part.allergens.begin(), part.allergens.end(), key) != part.allergens.end() || part_brings(part.parts, key);
  });
}

/// The gravest of the statements whose key `wanted` picks; nothing when there is none. Equally grave ones: the lesser text, so that
/// their order does not show.
template <class Wanted>
std::optional<PackStatement> gravest(const IngredientFacts& food, Wanted wanted) {
  std::optional<PackStatement> found;
  for (const AllergenStatement& said : food.allergens) {
    if (!wanted(said.allergen)) continue;
    PackStatement counts = weighed_up(said);
    const bool graver = !found || gravity(counts.presence) > gravity(found->presence);
    if (graver || (counts.presence == found->presence && counts.why < found->why)) found = std::move(counts);
  }
  return found;
}

std::string pack_words(const LotFacts& lot) {
  const IngredientFacts& food = lot.ingredient;
  const std::string& name = food.label_name.empty() ? food.id.text() : food.label_name;
  return lot.code.empty() ? fmt::format("{} ({})", lot.id.text(), name) : fmt::format("{} ({}, code {})", lot.id.text(), name, lot.code);
}

/// What goes in by one measure: of batches their finished mass, of packs what was put in.
struct Flow {
  std::vector<Share> batches;
  std::vector<Share> lots;
};
/// Masses in the cake, exact.
struct Amounts {
  Flow put_in;
  Flow remaining;  ///< of volatile foods less, by every use on the way
  std::vector<Share> reconstituted;
};

/// @param only  a tier; nothing: the whole cake
Amounts amounts_of(const CakeParts& parts, const BatchGraph& graph, const std::string* only = nullptr) {
  const Flow none{std::vector<Share>(parts.batches.size(), Share{0}), std::vector<Share>(parts.lots.size(), Share{0})};
  Amounts amounts{none, none, none.lots};
  for (const Placed& placed : parts.placed) {
    if (only == nullptr || placed.tier == *only) amounts.put_in.batches[placed.batch] += placed.mass.to_milligrams();
  }
  amounts.remaining.batches = amounts.put_in.batches;
  for (const std::size_t index : graph.reached()) {  // a batch comes after every batch that it goes into
    const BatchFacts& batch = parts.batches[index];
    const Share yield{batch.yield.to_milligrams()};
    for (const Use& use : batch.uses) {
      const auto into = [&](Flow& flow) -> Share& { return use.of == Use::Of::lot ? flow.lots[use.index] : flow.batches[use.index]; };
      const Share put_in = amounts.put_in.batches[index] / yield * use.mass.to_milligrams();
      into(amounts.put_in) += put_in;
      into(amounts.remaining) += amounts.remaining.batches[index] / yield * use.mass.to_milligrams() * use.remains;
      if (use.of == Use::Of::lot && use.reconstituted) amounts.reconstituted[use.index] += put_in;
    }
  }
  return amounts;
}

std::vector<bool> users_of_lot(const CakeParts& parts, std::size_t lot) {
  std::vector<bool> users(parts.batches.size(), false);
  for (std::size_t i = 0; i < parts.batches.size(); ++i) {
    const std::vector<Use>& uses = parts.batches[i].uses;
    users[i] = std::any_of(uses.begin(), uses.end(), [&](const Use& use) { return use.of == Use::Of::lot && use.index == lot; });
  }
  return users;
}

/// The ways of `ways`, each ended by `end`, and a last line for those that are not told.
std::vector<std::string> told(const BatchGraph::Ways& ways, const std::string& end) {
  std::vector<std::string> lines;
  for (const std::string& way : ways.told) lines.push_back(way + end);
  std::sort(lines.begin(), lines.end());
  return lines;
}
std::string more_words(const BatchGraph::Ways& ways) {
  return fmt::format("and {} more {}", ways.more.str(), ways.more == 1 ? "way" : "ways");
}

void add_lines(std::vector<std::string>& lines, const BatchGraph::Ways& ways, const std::string& end, const std::string& subject) {
  for (std::string& line : told(ways, end)) lines.push_back(std::move(line));
  if (ways.more > 0) lines.push_back(fmt::format("{}: {}", subject, more_words(ways)));
}

/// `lots` by lot id, then by place: the order in which traces name packs.
std::vector<std::size_t> by_id(const std::vector<LotAmount>& amounts, const CakeParts& parts) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < amounts.size(); ++i) order.push_back(i);
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const LotId& one = parts.lots[amounts[a].lot].id;
    const LotId& other = parts.lots[amounts[b].lot].id;
    return one != other ? one < other : amounts[a].lot < amounts[b].lot;
  });
  return order;
}

AllergenTrace trace(const std::string& allergen, const CakeParts& parts, const BatchGraph& graph, const std::vector<LotAmount>& lots,
                    const std::vector<BatchGraph::Ways>& ways) {
  AllergenTrace found{allergen, Presence::absent, {}, {}, {}, {}, {}};
  std::vector<std::string> evidence;
  for (const std::size_t i : by_id(lots, parts)) {
    const LotFacts& lot = parts.lots[lots[i].lot];
    const PackStatement said = pack_statement(lot.ingredient, allergen);
    const std::string end = " → " + pack_words(lot);
    if (gravity(said.presence) > gravity(found.presence)) found.presence = said.presence;
    switch (said.presence) {
      case Presence::contains:
        add_lines(found.contains, ways[i], end, pack_words(lot));
        break;
      case Presence::may_contain:
        add_lines(found.may_contain, ways[i], end, pack_words(lot));
        break;
      case Presence::unknown:
        found.unknown.push_back(ways[i].told.front() + end + ": " + said.why);
        break;
      case Presence::absent:
        evidence.push_back(pack_words(lot) + ": " + said.why);
        break;
    }
  }
  for (const OwnPrecaution& own : parts.precautions) {
    if (own.allergen == allergen) found.precaution.push_back(fmt::format("{} → {}", parts.cake.text(), own.words));
  }
  std::sort(found.precaution.begin(), found.precaution.end());
  if (found.presence == Presence::absent && !found.precaution.empty()) found.presence = Presence::may_contain;
  if (found.presence == Presence::absent) found.absent_evidence = std::move(evidence);

  const std::string group = group_of(allergen);
  std::vector<std::size_t> batches = graph.reached();
  std::sort(batches.begin(), batches.end(),
            [&](std::size_t a, std::size_t b) { return graph.step(a) != graph.step(b) ? graph.step(a) < graph.step(b) : a < b; });
  for (const std::size_t index : batches) {
    const std::vector<std::string>& met = parts.batches[index].cross_contact;
    const bool here = std::any_of(met.begin(), met.end(), [&](const std::string& key) {
      return key == allergen || (!group.empty() && key == group) || group_of(key) == allergen;
    });
    if (!here) continue;
    std::vector<bool> ends(parts.batches.size(), false);
    ends[index] = true;
    add_lines(found.cross_contact, graph.ways_to(ends), "", graph.step(index));
  }
  return found;
}

std::vector<TierAmount> tiers_of(const CakeParts& parts, const BatchGraph& graph, const std::vector<std::string>& allergens) {
  std::vector<std::set<std::string>> held(parts.batches.size());  // what each batch contains, sub-batches included
  const std::vector<std::size_t>& reached = graph.reached();
  std::map<std::size_t, std::set<std::string>> of_lot;
  for (auto index = reached.rbegin(); index != reached.rend(); ++index) {
    std::set<std::string>& keys = held[*index];
    for (const Use& use : parts.batches[*index].uses) {
      if (use.of == Use::Of::batch) {
        keys.insert(held[use.index].begin(), held[use.index].end());
        continue;
      }
      const auto [known, fresh] = of_lot.try_emplace(use.index);
      for (std::size_t i = 0; fresh && i < allergens.size(); ++i) {
        if (pack_statement(parts.lots[use.index].ingredient, allergens[i]).presence == Presence::contains)
          known->second.insert(allergens[i]);
      }
      keys.insert(known->second.begin(), known->second.end());
    }
  }
  std::vector<TierAmount> tiers;
  std::map<std::string, std::set<std::string>> keys;
  for (const Placed& placed : parts.placed) {
    auto tier = std::find_if(tiers.begin(), tiers.end(), [&](const TierAmount& t) { return t.tier == placed.tier; });
    if (tier == tiers.end()) tier = tiers.insert(tiers.end(), TierAmount{placed.tier, 0, {}, {}});
    tier->finished_mg += placed.mass.to_milligrams();
    keys[placed.tier].insert(held[placed.batch].begin(), held[placed.batch].end());
  }
  for (TierAmount& tier : tiers) {
    tier.allergens.assign(keys[tier.tier].begin(), keys[tier.tier].end());
    const std::vector<Share> lots = amounts_of(parts, graph, &tier.tier).put_in.lots;
    for (std::size_t lot = 0; lot < lots.size(); ++lot) {
      if (lots[lot] != 0) tier.lots.emplace_back(lot, lots[lot]);
    }
  }
  return tiers;
}

std::int64_t gained_mg(const BatchFacts& batch) {
  Mass put_in;
  for (const Use& use : batch.uses) put_in += use.mass;
  return (batch.yield - put_in).to_milligrams();
}

}  // namespace

PackStatement pack_statement(const IngredientFacts& food, const std::string& allergen) {
  if (part_brings(food.parts, allergen)) return {Presence::contains, ""};
  const auto own = gravest(food, [&](const std::string& key) { return key == allergen; });
  if (own && own->presence == Presence::contains) return *own;

  const std::string group = group_of(allergen);
  if (group.empty()) {  // a whole group may be asked for: any member brings it, and no member's absence rules it out
    const auto member = gravest(food, [&](const std::string& key) { return group_of(key) == allergen; });
    if (member && member->presence == Presence::contains) return *member;
    if (own) return *own;
    if (member) return {Presence::unknown, "its specification speaks of single members only"};
    return {Presence::unknown, "its specification does not mention it"};
  }
  const auto whole = gravest(food, [&](const std::string& key) { return key == group; });
  if (whole && whole->presence == Presence::contains) {
    const auto named = gravest(food, [&](const std::string& key) { return group_of(key) == group; });
    if (!own || !named || named->presence != Presence::contains) {
      return {Presence::unknown, fmt::format("its specification says that it contains {} and does not say which", group)};
    }
  }
  if (own) return *own;
  if (whole) return *whole;
  return {Presence::unknown, "its specification does not mention it"};
}

Result<Composition> compose(const CakeParts& parts, const std::vector<std::string>& allergens) {
  if (Refusals refusals = BatchGraph::refusals(parts); !refusals.empty()) return refusals;
  const BatchGraph graph{parts};
  const Amounts amounts = amounts_of(parts, graph);

  Composition made;
  made.cake = parts.cake;
  for (const Placed& placed : parts.placed) {
    made.finished_mg += placed.mass.to_milligrams();
    made.weighed = made.weighed && placed.weighed;
  }
  for (const std::size_t index : graph.reached()) made.weighed = made.weighed && parts.batches[index].weighed;

  for (std::size_t lot = 0; lot < parts.lots.size(); ++lot) {
    const Share& put_in = amounts.put_in.lots[lot];
    if (put_in == 0) continue;
    made.ingoing_mg += put_in;
    made.lots.push_back(LotAmount{lot, put_in, amounts.remaining.lots[lot], amounts.reconstituted[lot], {}});
  }
  made.lost_mg = made.ingoing_mg - made.finished_mg;
  if (made.lost_mg < 0) {
    std::string which;
    for (const std::string& batch : batches_that_gained(parts)) which += (which.empty() ? "" : "; ") + batch;
    return Refusal{"", 0, "placed",
                   fmt::format("{} weighs {} g more than everything that went into it: {}", parts.cake.text(),
                               format_decimal(-made.lost_mg / 1000, 1), which),
                   "record what is missing, or weigh again"};
  }

  std::sort(made.lots.begin(), made.lots.end(), [&](const LotAmount& a, const LotAmount& b) {
    if (a.ingoing_mg != b.ingoing_mg) return a.ingoing_mg > b.ingoing_mg;
    const LotFacts& one = parts.lots[a.lot];
    const LotFacts& other = parts.lots[b.lot];
    if (one.ingredient.id != other.ingredient.id) return one.ingredient.id < other.ingredient.id;
    return one.id != other.id ? one.id < other.id : a.lot < b.lot;
  });
  std::vector<BatchGraph::Ways> ways;
  for (LotAmount& amount : made.lots) {
    ways.push_back(graph.ways_to(users_of_lot(parts, amount.lot)));
    amount.paths = told(ways.back(), " → " + parts.lots[amount.lot].id.text());
    if (ways.back().more > 0) amount.paths.push_back(more_words(ways.back()));
  }
  for (const std::string& allergen : allergens) made.allergens.push_back(trace(allergen, parts, graph, made.lots, ways));
  made.tiers = tiers_of(parts, graph, allergens);
  return made;
}

std::vector<std::string> batches_that_gained(const CakeParts& parts) {
  const BatchGraph graph{parts};
  std::vector<std::string> lines;
  for (const std::size_t index : graph.reached()) {
    const std::int64_t gained = gained_mg(parts.batches[index]);
    if (gained > 0)
      lines.push_back(fmt::format("{} weighs {} g more than what went in", graph.step(index), format_decimal(share_of(gained, 1000), 1)));
  }
  std::sort(lines.begin(), lines.end());
  return lines;
}

std::vector<std::string> estimated_masses(const CakeParts& parts) {
  const BatchGraph graph{parts};
  std::set<std::string> lines;
  for (const std::size_t index : graph.reached()) {
    if (!parts.batches[index].weighed) lines.insert(graph.step(index) + ", what it weighed when finished");
  }
  for (const Placed& placed : parts.placed) {
    if (!placed.weighed) lines.insert(fmt::format("{} in the {} tier", graph.step(placed.batch), placed.tier));
  }
  return {lines.begin(), lines.end()};
}

}  // namespace tierproof
