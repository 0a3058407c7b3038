#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "packs.h"

namespace tierproof {

/// The sets that a pack may be: `label`, `temperature`, `retention`.
const std::vector<std::string>& rule_sets();

struct RulePacks::Held {
  Tables texts;                                    ///< of every file, as read
  std::map<std::string, Pack, std::less<>> packs;  ///< by `set/jurisdiction`
  std::vector<ClaimWord> claims;
  std::vector<ClaimWord> nutrition;
  HazardPlan plan;
  std::vector<std::pair<std::string, SourceRow>> plan_sources;

  const Pack* find(const std::string& set, const std::string& jurisdiction) const {
    const auto found = packs.find(set + "/" + jurisdiction);
    return found == packs.end() ? nullptr : &found->second;
  }

  /// The layers of a pack, the deepest first; empty when it leans on nothing or on itself.
  Layers layers_of(const Pack& top) const {
    Layers layers{&top};
    for (const auto* pack = &top; !pack->extends.empty();) {
      pack = find(top.set, pack->extends);
      if (pack == nullptr || std::find(layers.begin(), layers.end(), pack) != layers.end()) return {};
      layers.push_back(pack);
    }
    std::reverse(layers.begin(), layers.end());
    return layers;
  }

  /// Whether what `top` leans on never ends.
  bool in_a_circle(const Pack& top) const {
    Layers seen{&top};
    for (const auto* pack = &top; !pack->extends.empty();) {
      pack = find(top.set, pack->extends);
      if (pack == nullptr) return false;
      if (std::find(seen.begin(), seen.end(), pack) != seen.end()) return true;
      seen.push_back(pack);
    }
    return false;
  }

  std::vector<std::string> with(const std::string& set) const {
    std::vector<std::string> codes;
    for (const auto& [key, pack] : packs) {
      if (pack.set == set && !pack.base) codes.push_back(pack.jurisdiction);
    }
    return codes;
  }

  template <class Terms>
  Result<Terms> terms(const std::string& set, const std::string& jurisdiction, Date on, const Confirmations& confirmations,
                      Result<Terms> (*make)(const Layers&, Date, const Confirmations&)) const {
    const auto* pack = find(set, jurisdiction);
    const auto remedy = fmt::format("choose one of: {}", fmt::join(with(set), ", "));
    if (pack == nullptr) return Refusal{"", 0, "jurisdiction", fmt::format("\"{}\" has no {} rules", jurisdiction, set), remedy};
    if (pack->base) {
      return Refusal{pack->path, pack->line, "base", fmt::format("\"{}\" is only a base for the {} rules of others", jurisdiction, set),
                     remedy};
    }
    if (!on.ok()) return Refusal{"", 0, "on", "is not a day of the calendar", "give a date, \"2026-05-01\""};
    return make(layers_of(*pack), on, confirmations);
  }

  void check_layers(Refusals& refusals) const;
  void check_questions(const Layers& layers, Refusals& refusals) const;
  /// Refuses a claim in anything that a row puts on paper.
  void check_claims(Refusals& refusals) const;
};

}  // namespace tierproof
