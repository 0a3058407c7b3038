#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "tierproof/app/changing.h"
#include "tierproof/sums/label_terms.h"
#include "tierproof/units/share.h"

namespace tierproof {
namespace {

/// A member of the body of a reading, in words, and by how much its number is divided.
struct MemberTold {
  const char* key;
  const char* words;
  std::int64_t per = 0;  ///< 0: as it is
  const char* unit = "";
};
constexpr MemberTold members_told[] = {{"label_name", "label name"},
                                       {"additive", "additive"},
                                       {"additive_class", "class of additive"},
                                       {"fixed_by_law", "composition fixed by law"},
                                       {"varying_group", "varying proportions with"},
                                       {"sweetening", "sweetens as"},
                                       {"polyols_ppm", "added polyols", 10'000, " %"},
                                       {"sulphites_ug_per_kg", "sulphites", 1000, " mg/kg"},
                                       {"storage", "kept in"},
                                       {"use_within_days", "use within", 1, " days of opening"},
                                       {"water_ppm", "water", 10'000, " %"},
                                       {"ph_hundredths", "pH", 100, ""},
                                       {"water_activity_e4", "water activity", 10'000, ""},
                                       {"kind", "kind of food"},
                                       {"marks", "marked"},
                                       {"glycyrrhizinic_ug_per_kg", "glycyrrhizinic acid", 1000, " mg/kg"},
                                       {"limit_food", "limits of"},
                                       {"substitutes", "stands in for"},
                                       {"dried_thousandths", "weighed before drying", 1000, " times as much"},
                                       {"sold_as", "sold as"},
                                       {"other_languages", "other languages"}};
/// MemberTold apart, or no difference in what the pack says.
constexpr const char* members_passed_over[] = {"allergens", "checked", "checked_against", "ingredient", "supplier", "parts"};

std::string member_in_words(const Json* value, const MemberTold& told) {
  if (value == nullptr) return "";
  if (value->is_text()) return value->text();
  if (value->is_integer() && told.per != 0) return format_decimal(share_of(value->integer(), told.per), 4) + told.unit;
  if (value->is_array()) {
    std::vector<std::string> texts;
    for (const auto& item : value->array()) texts.push_back(item.is_text() ? item.text() : write_canonical(item));
    return fmt::format("{}", fmt::join(texts, ", "));
  }
  return write_canonical(*value);
}

std::string parts_in_words(const std::vector<SpecifiedPart>& parts) {
  std::vector<std::string> texts;
  for (const auto& part : parts) {
    std::string text = part.additive_class.empty() ? part.name : fmt::format("{}: {}", part.additive_class, part.name);
    if (!part.additive.empty() && part.additive != part.name) text += fmt::format(" [{}]", part.additive);
    if (part.share_ppm) {
      text += fmt::format(" {} %", short_decimal(format_decimal(share_of(*part.share_ppm, 10'000), 4)));
    }
    if (part.ug_per_kg) text += fmt::format(" ({} mg/kg)", format_decimal(share_of(*part.ug_per_kg, 1000), 3));
    if (!part.marks.empty()) text += fmt::format(" ({})", fmt::join(part.marks, ", "));
    if (!part.parts.empty()) text += fmt::format(" ({})", parts_in_words(part.parts));
    if (part.processing_aid) text += " (processing aid)";
    if (!part.works_in_cake) text += " (without a function in the cake)";
    if (!part.brings.empty()) text += fmt::format(" (brings {})", fmt::join(part.brings, ", "));
    texts.push_back(std::move(text));
  }
  return fmt::format("{}", fmt::join(texts, ", "));
}

void additives_in(const std::vector<SpecifiedPart>& parts, std::set<std::string>& all) {
  for (const auto& part : parts) {
    if (!part.additive.empty()) all.insert(fmt::format("{}: {}", part.additive_class, part.additive));
    additives_in(part.parts, all);
  }
}

/// What a reading says of one allergen, in words; nothing on file is not known.
std::string statement_in_words(const Specification& reading, const std::string& key) {
  const auto found = std::find_if(reading.allergens.begin(), reading.allergens.end(), [&](const auto& a) { return a.allergen == key; });
  if (found == reading.allergens.end() || found->presence == "unknown") return "not known";
  std::string words = found->presence == "absent" ? "not an ingredient" : found->presence;
  if (!found->process.empty()) words += fmt::format(", as {}", found->process);
  if (!found->species.empty()) words += fmt::format(", {}", found->species);
  return words;
}

}  // namespace

std::vector<Difference> differences_between(const Specification& before, const Specification& after, const LabelTerms& terms) {
  std::vector<Difference> found;
  std::vector<std::string> keys;
  for (const auto& term : terms.allergens) keys.push_back(term.key);
  for (const auto* reading : {&before, &after}) {
    for (const auto& allergen : reading->allergens) {
      if (std::find(keys.begin(), keys.end(), allergen.allergen) == keys.end()) keys.push_back(allergen.allergen);
    }
  }
  for (const auto& key : keys) {
    const std::string was = statement_in_words(before, key);
    const std::string is = statement_in_words(after, key);
    const auto* term = terms.allergen(key);
    if (was != is) found.push_back({term == nullptr ? key : term->word, was, is});
  }
  const auto parts = [](const Specification& reading) { return parts_in_words(reading.parts); };
  if (parts(before) != parts(after)) found.push_back({"made of", parts(before), parts(after)});
  std::set<std::string> was;
  std::set<std::string> is;
  additives_in(before.parts, was);
  additives_in(after.parts, is);
  for (const auto& additive : is) {
    if (!was.contains(additive)) found.push_back({"additive", "", additive});
  }
  for (const auto& additive : was) {
    if (!is.contains(additive)) found.push_back({"additive", additive, ""});
  }
  // Every other member, also one that this table does not know: nothing that changes goes untold.
  const Json old_body = body_of(before);
  const Json new_body = body_of(after);
  std::vector<std::string> members;
  for (const auto& told : members_told) members.emplace_back(told.key);
  for (const Json* body : {&old_body, &new_body}) {
    for (const auto& [key, member] : body->object()) {
      if (std::find(members.begin(), members.end(), key) == members.end()) members.push_back(key);
    }
  }
  for (const auto& key : members) {
    const auto passed = [&](const char* name) { return key == name; };
    if (std::any_of(std::begin(members_passed_over), std::end(members_passed_over), passed)) continue;
    const Json* old_value = old_body.find(key);
    const Json* new_value = new_body.find(key);
    if ((old_value == nullptr) == (new_value == nullptr) && (old_value == nullptr || *old_value == *new_value)) continue;
    const auto* told =
        std::find_if(std::begin(members_told), std::end(members_told), [&](const MemberTold& one) { return key == one.key; });
    const MemberTold as = told == std::end(members_told) ? MemberTold{key.c_str(), key.c_str()} : *told;
    found.push_back({as.words, member_in_words(old_value, as), member_in_words(new_value, as)});
  }
  return found;
}

}  // namespace tierproof
