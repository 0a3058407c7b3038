#include <fmt/format.h>

#include <algorithm>

#include "tierproof/app/recording.h"
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
    part.brings = inner.texts("brings");
    part.parts = parts_in(inner, "parts", refusals);
    if (!part.additive.empty() && part.additive_class.empty()) {
      inner.refuse("class", "an additive is declared with the title of its class", "add \"class\", for example \"emulsifier\"");
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

class Statements {
 public:
  Statements(const std::vector<std::string>& keys, Fields& fields) : keys_{keys}, fields_{fields} {}

  void take(std::string_view key, const std::string& presence, const std::string& evidence) {
    for (const auto& allergen : fields_.texts(key)) add(key, allergen, presence, evidence);
  }
  void add(std::string_view key, const std::string& allergen, const std::string& presence, const std::string& evidence) {
    if (std::find(keys_.begin(), keys_.end(), allergen) == keys_.end()) {
      fields_.refuse(key, fmt::format("\"{}\" is not an allergen of the rules in force", allergen),
                     fmt::format("write one of {}", fmt::join(keys_, ", ")));
    } else if (stated(allergen)) {
      fields_.refuse(key, fmt::format("\"{}\" is named twice", allergen), "keep one statement for each allergen");
    } else {
      statements_.push_back({allergen, presence, evidence});
    }
  }
  bool stated(const std::string& allergen) const {
    return std::any_of(statements_.begin(), statements_.end(), [&](const auto& s) { return s.allergen == allergen; });
  }
  /// In the order of the law, the unnamed ones as unknown.
  std::vector<SpecifiedAllergen> in_order() const {
    std::vector<SpecifiedAllergen> ordered;
    for (const auto& key : keys_) {
      const auto found = std::find_if(statements_.begin(), statements_.end(), [&](const auto& s) { return s.allergen == key; });
      ordered.push_back(found != statements_.end() ? *found : SpecifiedAllergen{key, "unknown", "the pack and its sheet do not say"});
    }
    return ordered;
  }

 private:
  const std::vector<std::string>& keys_;
  Fields& fields_;
  std::vector<SpecifiedAllergen> statements_;
};

}  // namespace

Result<Specification> read_specification(const GivenDocument& document, const std::vector<std::string>& keys) {
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
  Statements statements{keys, fields};
  statements.take("contains", "contains", "");
  statements.take("may_contain", "may contain", "");
  statements.take("unknown", "unknown", "marked as not known");
  if (fields.has("absent")) {
    Fields absent{fields.object("absent"), document.name, "absent", refusals};
    const std::string evidence = absent.text("evidence");
    const bool all_others = absent.flag("all_others", false);
    for (const auto& allergen : absent.texts("keys")) statements.add("absent", allergen, "absent", evidence);
    absent.done();
    if (all_others) {
      for (const auto& key : keys) {
        if (!statements.stated(key)) statements.add("absent", key, "absent", evidence);
      }
    }
  } else {
    fields.any("absent");
  }
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
    recipe.items.push_back({item.text("of"), item.flag("recipe", false), item.mass("mass")});
    const std::string& of = recipe.items.back().of;
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
  if (recipe.egg == "raw, heated here" && (recipe.heated_together.empty() || recipe.heat_food.empty())) {
    fields.refuse("heated_together", "an egg mix that is heated here is judged by what is in it",
                  "list the ingredients that are heated together, and name \"heat_food\"");
  }
  fields.done();
  if (!refusals.empty()) return refusals;
  return named;
}

}  // namespace tierproof
