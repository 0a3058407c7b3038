#include <fmt/format.h>

#include <algorithm>

#include "tierproof/app/recording.h"
#include "tierproof/app/scaling.h"
#include "tierproof/sums/label_terms.h"
#include "tierproof/sums/name_hints.h"
#include "tierproof/text/fields.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

/// `value` × 1 000 000 when that is whole.
std::optional<std::int64_t> scaled(const Share& value, std::int64_t by) {
  const Share product = value * by;
  if (denominator(product) != 1) return std::nullopt;
  return static_cast<std::int64_t>(numerator(product));
}

std::optional<std::int64_t> percent_ppm(Fields& fields, std::string_view key) {
  const auto text = fields.maybe_text(key);
  if (!text) return std::nullopt;
  const auto share = parse_percent(*text);
  const auto ppm = share ? scaled(*share, 1'000'000) : std::nullopt;
  if (!ppm) fields.refuse(key, fmt::format("\"{}\" is not a percentage", *text), "write it as \"40 %\", with at most four decimals");
  return ppm;
}

std::optional<std::int64_t> decimal_times(Fields& fields, std::string_view key, std::int64_t by, std::int64_t most,
                                          std::string_view example) {
  const auto text = fields.maybe_text(key);
  if (!text) return std::nullopt;
  const auto value = parse_decimal(*text);
  const auto whole = value ? scaled(*value, by) : std::nullopt;
  if (!whole || *whole < 0 || *whole > most) {
    fields.refuse(key, fmt::format("\"{}\" is not a number that fits here", *text),
                  fmt::format("write it as text, for example \"{}\"", example));
    return std::nullopt;
  }
  return whole;
}

/// `sugar 40 %`: a name, and a percentage when there is one.
SpecifiedPart part_of_text(const std::string& text) {
  const auto space = text.find_last_of(' ', text.size() >= 2 && text.ends_with(" %") ? text.size() - 3 : std::string::npos);
  if (text.ends_with('%') && space != std::string::npos) {
    if (const auto share = parse_percent(text.substr(space + 1))) {
      if (const auto ppm = scaled(*share, 1'000'000)) {
        SpecifiedPart part;
        part.name = trimmed(text.substr(0, space));
        part.share_ppm = *ppm;
        return part;
      }
    }
  }
  SpecifiedPart part;
  part.name = text;
  return part;
}

/// Marks of a food or a part of it, each one of the closed list.
std::vector<std::string> marks_in(Fields& fields) {
  std::vector<std::string> marks = fields.texts("marks");
  for (const auto& mark : marks) {
    if (std::find(food_marks.begin(), food_marks.end(), mark) == food_marks.end())
      fields.refuse("marks", fmt::format("\"{}\" is not a mark that rules ask about", mark),
                    fmt::format("write one of {}", fmt::join(food_marks, ", ")));
    if (std::count(marks.begin(), marks.end(), mark) > 1) fields.refuse("marks", fmt::format("\"{}\" is named twice", mark), "keep one");
  }
  return marks;
}

/// A choice that may be left open.
std::string maybe_choice(Fields& fields, std::string_view key, const std::vector<std::string>& choices) {
  return fields.has(key) ? fields.choice(key, choices) : fields.maybe_text(key).value_or("");
}

/// A temperature of something in the kitchen that is neither frozen nor boiling.
std::optional<Degrees> kitchen_degrees(Fields& fields, std::string_view key) {
  const auto text = fields.maybe_text(key);
  if (!text) return std::nullopt;
  const auto degrees = parse_degrees(*text);
  if (!degrees || degrees->temperature() < celsius(0) || degrees->temperature() > celsius(100)) {
    fields.refuse(key, fmt::format("\"{}\" is not a temperature from 0 to 100 °C", *text), "write it as \"20 C\"");
    return std::nullopt;
  }
  return degrees;
}

/// What the parts bring must be stated of the whole as contained: a misspelt key would else vanish.
void check_brings(const std::vector<SpecifiedPart>& parts, const std::vector<SpecifiedAllergen>& stated, Fields& fields) {
  for (const auto& part : parts) {
    for (const auto& key : part.brings) {
      const auto contained = [&](const SpecifiedAllergen& allergen) { return allergen.allergen == key && allergen.presence == "contains"; };
      if (std::none_of(stated.begin(), stated.end(), contained)) {
        fields.refuse("parts", fmt::format("\"{}\" brings {}, which \"contains\" does not name", part.name, key),
                      "name it under \"contains\", or correct the key");
      }
    }
    check_brings(part.parts, stated, fields);
  }
}

std::vector<SpecifiedPart> parts_in(Fields& fields, std::string_view key, Refusals& refusals) {
  std::vector<SpecifiedPart> parts;
  const Json::Array& items = fields.list(key);
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (items[i].is_text()) {
      parts.push_back(part_of_text(items[i].text()));
      if (items[i].text().ends_with('%') && !parts.back().share_ppm) {
        fields.refuse(key, fmt::format("\"{}\" has no percentage that can be used", items[i].text()),
                      "write it as \"sugar 40 %\", above 0 and up to 100");
      }
      continue;
    }
    Fields inner{items[i], fields.file(), fields.path_of(key, i), refusals};
    SpecifiedPart part;
    part.name = inner.text("name");
    part.share_ppm = percent_ppm(inner, "share");
    part.additive = inner.maybe_text("additive").value_or("");
    part.additive_class = inner.maybe_text("class").value_or("");
    part.works_in_cake = inner.flag("works_in_cake", true);
    part.processing_aid = inner.flag("processing_aid", false);
    part.why_idle = inner.maybe_text("why").value_or("");
    part.ug_per_kg = decimal_times(inner, "mg_per_kg", 1000, 1'000'000'000'000, "120");
    part.marks = marks_in(inner);
    part.brings = inner.texts("brings");
    part.parts = parts_in(inner, "parts", refusals);
    if (!part.additive.empty() && part.additive_class.empty()) {
      inner.refuse("class", "an additive is declared with the title of its class", "add \"class\", for example \"emulsifier\"");
    }
    const bool left_out = !part.works_in_cake || part.processing_aid;
    if (left_out && part.why_idle.empty()) {
      inner.refuse("why", "leaving it out of the list is a person's decision, and the reason is missing",
                   "write why it has no function in the cake, and how you know");
    } else if (!left_out && !part.why_idle.empty()) {
      inner.refuse("why", "a reason is given, but not for what", "add \"works_in_cake\": false or \"processing_aid\": true");
    }
    inner.done();
    parts.push_back(std::move(part));
  }
  std::int64_t sum = 0;
  for (const auto& part : parts) sum += part.share_ppm.value_or(0);
  if (sum > 1'000'000)
    fields.refuse(key, fmt::format("the percentages add up to {} %", format_decimal(share_of(sum, 10'000), 2)),
                  "check them against the pack");
  return parts;
}

class AllergenStatements {
 public:
  AllergenStatements(const AllergenKeys& keys, Fields& fields) : keys_{keys}, fields_{fields} {}

  void take(std::string_view key, const std::string& presence, const std::string& evidence) {
    for (const auto& allergen : fields_.texts(key)) add(key, {allergen, presence, evidence});
  }
  /// What it contains: an allergen each, or an object that also says how it was made of it or which animal or plant it is.
  void take_contains(Refusals& refusals) {
    const Json::Array& items = fields_.list("contains");
    for (std::size_t i = 0; i < items.size(); ++i) {
      if (items[i].is_text()) {
        add("contains", {items[i].text(), "contains", ""});
        continue;
      }
      Fields inner{items[i], fields_.file(), fields_.path_of("contains", i), refusals};
      SpecifiedAllergen allergen{inner.text("allergen"), "contains", ""};
      allergen.process = inner.maybe_text("process").value_or("");
      allergen.species = inner.maybe_text("species").value_or("");
      inner.done();
      add("contains", allergen);
    }
  }
  /// What is not in it: one object of `keys` or `all_others` with its `evidence`, or a list of them, each with evidence of its own. What
  /// `keys` names is said by itself.
  void take_absent(Refusals& refusals) {
    std::optional<std::string> of_all_others;
    const auto take_one = [&](Fields absent) {
      const std::string evidence = absent.text("evidence");
      for (const auto& allergen : absent.texts("keys")) {
        for (const auto& key : members_of(allergen)) add("absent", {key, "absent", evidence, "", "", true});
      }
      if (absent.flag("all_others", false)) {
        if (of_all_others) absent.refuse("all_others", "stands twice", "say it once, with the evidence for all of them");
        of_all_others = evidence;
      }
      absent.done();
    };
    const Json& absent = fields_.any("absent");
    if (absent.is_array()) {
      const Json::Array& items = absent.array();
      for (std::size_t i = 0; i < items.size(); ++i) take_one(Fields{items[i], fields_.file(), fields_.path_of("absent", i), refusals});
    } else if (!absent.is_null()) {
      take_one(Fields{fields_.object("absent"), fields_.file(), "absent", refusals});
    }
    if (!of_all_others) return;
    for (const auto& key : keys_.in_force) {
      if (!stated(key)) add("absent", {key, "absent", *of_all_others});
    }
  }
  void add(std::string_view key, const SpecifiedAllergen& statement) {
    const auto& known = keys_.known;
    if (std::find(known.begin(), known.end(), statement.allergen) == known.end()) {
      fields_.refuse(key, fmt::format("\"{}\" is not an allergen of the rules in force", statement.allergen),
                     fmt::format("write one of {}", fmt::join(known, ", ")));
    } else if (stated(statement.allergen)) {
      fields_.refuse(key, fmt::format("\"{}\" is named twice", statement.allergen), "keep one statement for each allergen");
    } else {
      statements_.push_back(statement);
    }
  }
  /// The members in force of a heading of the law's list, `nuts`; else the key itself.
  std::vector<std::string> members_of(const std::string& allergen) const {
    std::vector<std::string> members;
    for (const auto& key : keys_.in_force) {
      if (is_within(key, allergen)) members.push_back(key);
    }
    return members.empty() ? std::vector<std::string>{allergen} : members;
  }
  bool stated(const std::string& allergen) const { return find(allergen) != nullptr; }
  /// In the order of the law in force, the unnamed ones as unknown; then what was said of those that only other rules list.
  std::vector<SpecifiedAllergen> in_order() const {
    std::vector<SpecifiedAllergen> ordered;
    for (const auto& key : keys_.in_force) {
      const auto* found = find(key);
      ordered.push_back(found != nullptr ? *found : SpecifiedAllergen{key, "unknown", "the pack and its sheet do not say"});
    }
    for (const auto& key : keys_.known) {
      const bool listed = std::find(keys_.in_force.begin(), keys_.in_force.end(), key) != keys_.in_force.end();
      if (const auto* found = find(key); found != nullptr && !listed) ordered.push_back(*found);
    }
    return ordered;
  }

 private:
  const SpecifiedAllergen* find(const std::string& allergen) const {
    const auto found = std::find_if(statements_.begin(), statements_.end(), [&](const auto& s) { return s.allergen == allergen; });
    return found == statements_.end() ? nullptr : &*found;
  }
  const AllergenKeys& keys_;
  Fields& fields_;
  std::vector<SpecifiedAllergen> statements_;
};

/// The parts again under their names in another language: as many and as deep, and in the same order. Names come as text or as objects
/// with `name`, `class` and `parts`; everything else stays as the pack says it.
std::vector<SpecifiedPart> parts_renamed(Fields& fields, std::string_view key, const std::vector<SpecifiedPart>& parts,
                                         Refusals& refusals) {
  const Json::Array& items = fields.list(key);
  if (items.size() != parts.size()) {
    fields.refuse(key, fmt::format("{} parts are named, and the pack has {}", items.size(), parts.size()),
                  "name each part of the pack, in its order");
    return {};
  }
  std::vector<SpecifiedPart> renamed = parts;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (items[i].is_text() && parts[i].parts.empty()) {
      renamed[i].name = items[i].text();
      continue;
    }
    Fields inner{items[i], fields.file(), fields.path_of(key, i), refusals};
    renamed[i].name = inner.text("name");
    if (const auto title = inner.maybe_text("class")) renamed[i].additive_class = *title;
    renamed[i].parts = parts_renamed(inner, "parts", parts[i].parts, refusals);
    inner.done();
  }
  return renamed;
}

std::vector<SpecifiedIn> other_languages_in(Fields& fields, const std::vector<SpecifiedPart>& parts, Refusals& refusals) {
  std::vector<SpecifiedIn> others;
  const Json::Array& items = fields.list("other_languages");
  for (std::size_t i = 0; i < items.size(); ++i) {
    Fields inner{items[i], fields.file(), fields.path_of("other_languages", i), refusals};
    SpecifiedIn in{inner.text("language"), inner.text("label_name"), parts_renamed(inner, "parts", parts, refusals)};
    if (std::any_of(others.begin(), others.end(), [&](const SpecifiedIn& other) { return other.language == in.language; }))
      inner.refuse("language", fmt::format("\"{}\" is named twice", in.language), "keep one");
    inner.done();
    others.push_back(std::move(in));
  }
  return others;
}

std::vector<NameIn> names_in(Fields& fields, std::string_view key, Refusals& refusals) {
  std::vector<NameIn> names;
  const Json::Array& items = fields.list(key);
  for (std::size_t i = 0; i < items.size(); ++i) {
    Fields inner{items[i], fields.file(), fields.path_of(key, i), refusals};
    names.push_back({inner.text("language"), inner.text("name")});
    inner.done();
  }
  return names;
}

}  // namespace

Result<Specification> read_specification(const GivenDocument& document, const AllergenKeys& keys) {
  const auto json = parse_json(document.text, document.name);
  if (!json) return json.error();
  Refusals refusals;
  Fields fields{*json, document.name, "", refusals};
  Specification specification;
  specification.ingredient = IngredientId{fields.text("ingredient")};
  specification.supplier = SupplierId{fields.text("supplier")};
  specification.label_name = fields.text("label_name");
  specification.parts = parts_in(fields, "parts", refusals);
  specification.additive = fields.maybe_text("additive").value_or("");
  specification.additive_class = fields.maybe_text("class").value_or("");
  specification.fixed_by_law = fields.maybe_text("fixed_by_law").value_or("");
  specification.varying_group = fields.maybe_text("varying_group").value_or("");
  specification.sweetening = fields.has("sweetening") ? fields.choice("sweetening", {"sugar", "sweetener"}) : "";
  specification.polyols_ppm = percent_ppm(fields, "polyols");
  specification.sulphites_ug_per_kg = decimal_times(fields, "sulphites_mg_per_kg", 1000, 100'000'000'000, "1850");
  specification.storage = fields.choice("storage", {"room", "fridge", "freezer"});
  specification.use_within_days = fields.maybe_integer("use_within_days", 0, 3650);
  specification.water_ppm = percent_ppm(fields, "water");
  specification.ph_hundredths = decimal_times(fields, "ph", 100, 1400, "4.55");
  specification.water_activity_e4 = decimal_times(fields, "water_activity", 10'000, 10'000, "0.85");
  specification.checked = fields.date("checked");
  specification.checked_against = fields.text("checked_against");
  specification.kind = maybe_choice(fields, "kind", {food_kinds.begin(), food_kinds.end()});
  specification.marks = marks_in(fields);
  specification.glycyrrhizinic_ug_per_kg = decimal_times(fields, "glycyrrhizinic_mg_per_kg", 1000, 1'000'000'000'000, "150");
  specification.limit_food = fields.maybe_text("limit_food").value_or("");
  specification.substitutes = fields.maybe_text("substitutes").value_or("");
  specification.dried_thousandths = decimal_times(fields, "dried_times", 1000, 1'000'000, "7.5");
  if (specification.dried_thousandths && *specification.dried_thousandths < 1000)
    fields.refuse("dried_times", "says that it weighed less before it was dried",
                  "write how many times as much it weighed, such as \"7.5\"");
  specification.sold_as = maybe_choice(fields, "sold_as", {"food", "for parts removed before eating", "not for food", "not said"});
  specification.density_mg_per_ml = decimal_times(fields, "density", 1000, 30'000, "0.845");
  specification.density_by = fields.maybe_text("density_by").value_or("");
  if (specification.density_mg_per_ml.has_value() == specification.density_by.empty() || specification.density_mg_per_ml == 0)
    fields.refuse("density", "is given without who says so, or the other way round",
                  "write both, such as \"0.845\" by \"weighed here, level cup\"");
  specification.other_languages = other_languages_in(fields, specification.parts, refusals);
  AllergenStatements statements{keys, fields};
  statements.take_contains(refusals);
  statements.take("may_contain", "may contain", "");
  statements.take("unknown", "unknown", "marked as not known");
  statements.take_absent(refusals);
  specification.allergens = statements.in_order();
  check_brings(specification.parts, specification.allergens, fields);
  fields.done();
  if (!refusals.empty()) return refusals;
  return specification;
}

Result<NamedRecipe> read_recipe(const GivenDocument& document) {
  const auto json = parse_json(document.text, document.name);
  if (!json) return json.error();
  Refusals refusals;
  Fields fields{*json, document.name, "", refusals};
  NamedRecipe named;
  Recipe& recipe = named.recipe;
  named.id = fields.text("recipe");
  recipe.name = fields.text("name");
  recipe.part = fields.choice("part", {"sponge", "filling", "icing", "decoration", "syrup"});
  const Json::Array& items = fields.list("items");
  for (std::size_t i = 0; i < items.size(); ++i) {
    Fields item{items[i], document.name, fields.path_of("items", i), refusals};
    RecipeItem& added = recipe.items.emplace_back(RecipeItem{item.text("of"), item.flag("recipe", false), item.mass("mass")});
    added.remains_ppm = percent_ppm(item, "remains");
    added.why_remains = item.maybe_text("why").value_or("");
    added.reconstituted = item.flag("reconstituted", false);
    if (added.remains_ppm.has_value() == added.why_remains.empty()) {
      item.refuse(added.remains_ppm ? "why" : "remains", "is missing: how much is left of it is a person's word, with a reason",
                  "write both, such as \"remains\": \"40 %\" with \"why\": \"flambeed, weighed before and after\"");
    }
    const std::string& of = added.of;
    if (std::count_if(recipe.items.begin(), recipe.items.end(), [&](const RecipeItem& other) { return other.of == of; }) > 1) {
      item.refuse("of", fmt::format("\"{}\" is listed twice", of), "add the two masses together");
    }
    item.done();
  }
  if (items.empty()) fields.refuse("items", "a recipe is made of something", "list what goes in, each with its mass");
  recipe.yield = fields.mass("yield");
  for (auto& id : fields.texts("kit")) recipe.kit.emplace_back(std::move(id));
  recipe.egg = fields.choice("egg", {"none", "baked through", "pasteurised", "dried pasteurised", "raw, heated here", "raw, not heated"});
  for (auto& id : fields.texts("heated_together")) recipe.heated_together.emplace_back(std::move(id));
  recipe.heat_food = fields.maybe_text("heat_food").value_or("");
  if (const auto target = fields.maybe_text("syrup_target")) {
    recipe.syrup_target = parse_degrees(*target);
    if (!recipe.syrup_target) fields.refuse("syrup_target", fmt::format("\"{}\" is not a temperature", *target), "write it as \"118 C\"");
    if (fields.has("syrup_target_at")) recipe.syrup_target_at = fields.choice("syrup_target_at", {"sea level"});
  }
  recipe.heated = maybe_choice(fields, "heated", {"heated", "not heated"});
  if (recipe.heated == "not heated" && (recipe.egg == "baked through" || recipe.egg == "raw, heated here")) {
    fields.refuse("heated", fmt::format("says that it is not heated, and its egg is \"{}\"", recipe.egg), "correct the one that is wrong");
  }
  recipe.storage = fields.choice("storage", {"room", "fridge", "freezer"});
  recipe.life_days = fields.integer("life_days", 0, 3650);
  recipe.life_reason = fields.text("life_reason");
  recipe.frozen_days = fields.maybe_integer("frozen_days", 0, 3650);
  recipe.thawed_days = fields.maybe_integer("thawed_days", 1, 3650);
  if (fields.has("frozen_days") != fields.has("thawed_days")) {
    fields.refuse(fields.has("frozen_days") ? "thawed_days" : "frozen_days", "is missing: freezing gives time only where both are known",
                  "write how many days it keeps frozen and how many once thawed, or neither");
  }
  recipe.label_name = fields.maybe_text("label_name").value_or("");
  recipe.other_names = names_in(fields, "other_names", refusals);
  recipe.varying = fields.texts("varying");
  for (auto& id : fields.texts("boiled_together")) recipe.boiled_together.emplace_back(std::move(id));
  if (fields.has("bowl")) {
    Fields bowl{fields.object("bowl"), document.name, "bowl", refusals};
    recipe.bowl = MixingBowl{bowl.mass("mass"), bowl.choice("of", {"steel", "glass", "copper", "aluminium"})};
    bowl.done();
  }
  recipe.white_degrees = kitchen_degrees(fields, "egg_white_at");
  recipe.bowl_degrees = kitchen_degrees(fields, "bowl_at");
  if (const auto tin = fields.maybe_text("tin")) {
    recipe.tin = read_tin(*tin);
    if (!recipe.tin)
      fields.refuse("tin", fmt::format("\"{}\" is not a tin", *tin),
                    "write shape:size:depth in inches or with cm, such as \"round:8:3\" or \"2xround:20cm:7.5cm\"");
  }
  recipe.portions = fields.maybe_integer("portions", 1, 10'000);
  if (recipe.egg == "raw, heated here" && (recipe.heated_together.empty() || recipe.heat_food.empty())) {
    fields.refuse("heated_together", "an egg mix that is heated here is judged by what is in it",
                  "list the ingredients that are heated together, and name \"heat_food\"");
  }
  fields.done();
  if (!refusals.empty()) return refusals;
  return named;
}

}  // namespace tierproof
