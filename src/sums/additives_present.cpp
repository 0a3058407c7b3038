#include "additives_present.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "label_runs.h"
#include "part_walk.h"
#include "tierproof/sums/additive_text.h"

namespace tierproof {
namespace {

/// Whether a name alone tells of an additive that matters: see the header.
bool counts_by_name(const std::string& name, const LabelTerms& terms) {
  if (read_additive_number(name)) return true;
  const AdditiveTerm* row = find_additive_by_text(terms, name);
  if (row == nullptr) return false;
  return row->status != "permitted" ||
         std::any_of(terms.additive_wordings.begin(), terms.additive_wordings.end(), [&](const AdditiveWording& wording) {
           return std::any_of(wording.numbers.begin(), wording.numbers.end(),
                              [&](const std::string& number) { return additive_of(terms, number, "") == row->number; });
         });
}

}  // namespace

std::string additive_of(const LabelTerms& terms, const std::string& number, const std::string& name) {
  const std::string& text = number.empty() ? name : number;
  if (const auto read = read_additive_number(text)) return read->number + read->suffix;
  if (const AdditiveTerm* row = find_additive_by_text(terms, text)) return row->number;
  return plain_number(number);
}

std::vector<AdditiveFound> additives_present(const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  std::map<std::tuple<std::string, std::string>, AdditiveFound> found;  // by number (or name without one) and class
  const auto add = [&](const std::string& number, const std::string& name, const std::string& title, std::size_t amount) {
    if (number.empty() && title.empty() && !counts_by_name(name, terms)) return;
    const std::string plain = additive_of(terms, number, name);
    const std::string& printed = name.empty() ? plain : name;
    const auto [place, fresh] = found.try_emplace({plain.empty() ? name : plain, title}, AdditiveFound{plain, printed, title, {}});
    AdditiveFound& one = place->second;
    one.name = std::min(one.name, printed);
    if (one.amounts.empty() || one.amounts.back() != amount) one.amounts.push_back(amount);
  };
  for (std::size_t i = 0; i < made.lots.size(); ++i) {
    const IngredientFacts& food = parts.lots[made.lots[i].lot].ingredient;
    add(food.additive, printed_name(food), food.additive_class, i);
    each_part(food.parts,
              [&](const DeclaredPart& part, const std::optional<Share>&) { add(part.additive, part.name, part.additive_class, i); });
  }
  std::vector<AdditiveFound> all;
  for (auto& [key, one] : found) all.push_back(std::move(one));
  return all;
}

}  // namespace tierproof
