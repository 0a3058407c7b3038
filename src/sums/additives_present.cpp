#include "additives_present.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "label_runs.h"
#include "part_walk.h"
#include "tierproof/sums/additive_text.h"

namespace tierproof {
namespace {

/// Whether an additive that only a name tells of matters: see the header.
bool counts_by_name(const AdditiveInText& additive, const LabelTerms& terms) {
  if (additive.words.empty()) return true;  // its number stands there
  const AdditiveTerm* row = find_additive_by_text(terms, additive.number);
  if (row == nullptr || row->status != "permitted") return true;
  return std::any_of(terms.additive_wordings.begin(), terms.additive_wordings.end(), [&](const AdditiveWording& wording) {
    return std::any_of(wording.numbers.begin(), wording.numbers.end(),
                       [&](const std::string& number) { return additive_of(terms, number, "") == row->number; });
  });
}

/// Visits every pack of the cake and every part of it: number, name, class title, place in `Composition::lots`, and whether its own parts
/// are listed.
template <typename Visit>
void each_name(const CakeParts& parts, const Composition& made, const Visit& visit) {
  for (std::size_t i = 0; i < made.lots.size(); ++i) {
    const IngredientFacts& food = parts.lots[made.lots[i].lot].ingredient;
    visit(food.additive, printed_name(food), food.additive_class, i, !food.parts.empty());
    each_part(food.parts, [&](const DeclaredPart& part, const std::optional<Share>&) {
      visit(part.additive, part.name, part.additive_class, i, !part.parts.empty());
    });
  }
}

void add_amount(std::vector<std::size_t>& amounts, std::size_t amount) {
  if (amounts.empty() || amounts.back() != amount) amounts.push_back(amount);
}

}  // namespace

std::string additive_of(const LabelTerms& terms, const std::string& number, const std::string& name) {
  const std::string& text = number.empty() ? name : number;
  if (const auto read = read_additive_number(text)) return read->number + read->suffix;
  if (const AdditiveTerm* row = find_additive(terms, number, name)) return row->number;
  return plain_number(number);
}

std::vector<AdditiveFound> additives_present(const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  std::map<std::tuple<std::string, std::string>, AdditiveFound> found;  // by number (or name without one) and class
  const auto add = [&](const std::string& plain, const std::string& name, const std::string& title, std::size_t amount) {
    const std::string& printed = name.empty() ? plain : name;
    const auto [place, fresh] = found.try_emplace({plain.empty() ? name : plain, title}, AdditiveFound{plain, printed, title, {}});
    place->second.name = std::min(place->second.name, printed);
    add_amount(place->second.amounts, amount);
  };
  each_name(parts, made, [&](const std::string& number, const std::string& name, const std::string& title, std::size_t amount, bool) {
    if (!number.empty()) return add(additive_of(terms, number, name), name, title, amount);
    const AdditiveText text = read_additive_text(terms, name);
    if (text.found.empty() && !title.empty()) return add("", name, title, amount);
    for (const AdditiveInText& each : text.found) {
      if (!title.empty() || counts_by_name(each, terms)) add(each.number, each.words, title.empty() ? text.class_title : title, amount);
    }
  });
  std::vector<AdditiveFound> all;
  for (auto& [key, one] : found) all.push_back(std::move(one));
  return all;
}

std::vector<AdditiveFound> additives_left_open(const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  std::map<std::string, AdditiveFound> open;  // by what is printed
  each_name(parts, made,
            [&](const std::string& number, const std::string& name, const std::string& title, std::size_t amount, bool listed) {
              if (!number.empty() || listed) return;
              const AdditiveText text = read_additive_text(terms, name);
              if (text.open.empty() || (!title.empty() && text.found.empty()))
                return;  // one of a class without a number is present by its name
              AdditiveFound& one = open.try_emplace(name, AdditiveFound{"", name, text.open, {}}).first->second;
              add_amount(one.amounts, amount);
            });
  std::vector<AdditiveFound> all;
  for (auto& [name, one] : open) all.push_back(std::move(one));
  return all;
}

}  // namespace tierproof
