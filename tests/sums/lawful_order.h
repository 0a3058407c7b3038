#pragma once

#include <fmt/format.h>

#include <map>
#include <string>
#include <vector>

#include "tierproof/sums/declaration.h"

namespace tierproof {

/// Whether `names`, a proposed order of `declared.ingredients` (by name), is lawful: ranked ones in falling order (equal ones in
/// any), those under the small-amount rule after them in any order. Returns why not, or an empty text.
inline std::string why_unlawful_order(const Declaration& declared, const std::vector<std::string>& names) {
  std::map<std::string, std::vector<const ListedIngredient*>> left;  // of one name, heaviest first: the list is in that order
  for (const ListedIngredient& entry : declared.ingredients) left[entry.name].push_back(&entry);
  std::vector<const ListedIngredient*> order;
  for (const std::string& name : names) {
    const auto found = left.find(name);
    if (found == left.end()) return fmt::format("{} is not in the list", name);
    if (found->second.empty()) return fmt::format("{} stands twice", name);
    order.push_back(found->second.front());
    found->second.erase(found->second.begin());
  }
  for (const auto& [name, missing] : left) {
    if (!missing.empty()) return fmt::format("{} is missing", name);
  }
  for (std::size_t i = 1; i < order.size(); ++i) {
    const ListedIngredient& before = *order[i - 1];
    const ListedIngredient& here = *order[i];
    if (here.any_order_at_end) continue;
    if (before.any_order_at_end) {
      return fmt::format("{} ({} % of the finished cake) may not stand behind {}, which is under the small-amount limit", here.name,
                         format_decimal(here.of_finished * 100, 2), before.name);
    }
    if (here.ingoing_mg > before.ingoing_mg) {
      return fmt::format("{} ({} g) must stand before {} ({} g)", here.name, format_decimal(here.ingoing_mg / 1000, 3), before.name,
                         format_decimal(before.ingoing_mg / 1000, 3));
    }
  }
  return {};
}

}  // namespace tierproof
