#include "label_case_cake.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "tierproof/text/number.h"

namespace tierproof::label_cases {
namespace {

std::vector<DeclaredPart> read_parts(Fields& above, std::string_view key, Refusals& refusals);

DeclaredPart read_part(const Json& told, const std::string& file, const std::string& path, Refusals& refusals) {
  DeclaredPart part;
  if (told.is_text()) {
    part.name = told.text();
    return part;
  }
  Fields fields{told, file, path, refusals};
  part.name = fields.text("name");
  part.share = maybe_percent(fields, "share");
  part.additive = fields.maybe_text("additive").value_or("");
  part.additive_class = fields.maybe_text("class").value_or("");
  part.why_idle = fields.maybe_text("idle").value_or("");
  part.works_in_cake = part.why_idle.empty();
  part.processing_aid = fields.flag("aid", false);
  part.allergens = fields.texts("allergens");
  part.marks = fields.texts("marks");
  part.mg_per_kg = maybe_share(fields, "mg_per_kg");
  part.parts = read_parts(fields, "parts", refusals);
  fields.done();
  return part;
}

std::vector<DeclaredPart> read_parts(Fields& above, std::string_view key, Refusals& refusals) {
  std::vector<DeclaredPart> parts;
  const auto& list = above.list(key);
  for (std::size_t i = 0; i < list.size(); ++i) parts.push_back(read_part(list[i], above.file(), above.path_of(key, i), refusals));
  return parts;
}

void say(IngredientFacts& food, AllergenStatement statement, Fields& fields) {
  const auto found =
      std::find_if(food.allergens.begin(), food.allergens.end(), [&](const auto& said) { return said.allergen == statement.allergen; });
  if (found == food.allergens.end()) {
    fields.refuse("contains", fmt::format("\"{}\" is no allergen of any pack", statement.allergen), "write a key");
    return;
  }
  *found = std::move(statement);
}

void read_statements(IngredientFacts& food, Fields& fields, const Pantry& pantry, Refusals& refusals) {
  for (const auto& key : pantry.allergens) food.allergens.push_back({key, Presence::absent, "supplier's sheet"});
  const auto& contains = fields.list("contains");
  for (std::size_t i = 0; i < contains.size(); ++i) {
    if (contains[i].is_text()) {
      say(food, {contains[i].text(), Presence::contains, ""}, fields);
      continue;
    }
    Fields one{contains[i], fields.file(), fields.path_of("contains", i), refusals};
    AllergenStatement said{one.text("key"), Presence::contains, ""};
    said.process = one.maybe_text("process").value_or("");
    said.species = one.maybe_text("species").value_or("");
    one.done();
    say(food, std::move(said), fields);
  }
  for (const auto& key : fields.texts("may_contain")) say(food, {key, Presence::may_contain, "supplier's sheet"}, fields);
  for (const auto& key : fields.texts("unknown")) say(food, {key, Presence::unknown, ""}, fields);
}

/// Puts a cake together in the words of the case.
class Bakery {
 public:
  Bakery(const std::string& file, const Pantry& pantry, Refusals& refusals) : file_{file}, pantry_{pantry}, refusals_{refusals} {
    parts_.cake = CakeId{"cake-1"};
  }

  CakeParts made_of(Fields& cake) {
    if (cake.has("batches")) {
      const auto& batches = cake.list("batches");
      for (std::size_t i = 0; i < batches.size(); ++i) {
        Fields batch{batches[i], file_, cake.path_of("batches", i), refusals_};
        bake(batch, batch.text("name"), batch.mass("yield"));
      }
      const auto& tiers = cake.list("tiers");
      for (std::size_t i = 0; i < tiers.size(); ++i) place(tiers[i], cake.path_of("tiers", i));
    } else {
      const Mass finished = cake.mass("finished");
      uses(cake, "sponge", finished);
      parts_.placed.push_back({"only", 0, finished});
    }
    cake.done();
    return std::move(parts_);
  }

 private:
  void bake(Fields& batch, const std::string& name, Mass yield) {
    uses(batch, name, yield);
    BatchFacts& made = parts_.batches.back();
    made.label_name = batch.maybe_text("label_name").value_or("");
    made.weighed = !batch.flag("estimated", false);
    made.cross_contact = batch.texts("cross_contact");
    if (batch.has("other_names")) {
      for (const auto& [language, text] : batch.object("other_names").object()) made.other_names.emplace_back(language, text.text());
    }
    batch.done();
  }

  void uses(Fields& above, const std::string& name, Mass yield) {
    BatchFacts batch;
    batch.id = BatchId{fmt::format("batch-{}", parts_.batches.size() + 1)};
    batch.name = name;
    batch.yield = yield;
    const auto& list = above.list("uses");
    for (std::size_t i = 0; i < list.size(); ++i) batch.uses.push_back(use(list[i], above, above.path_of("uses", i)));
    parts_.batches.push_back(std::move(batch));
  }

  Use use(const Json& told, Fields& above, const std::string& path) {
    Use made;
    std::string of;
    if (told.is_text()) {
      const auto& text = told.text();
      const auto blank = text.find(' ', text.find(' ') + 1);
      const auto mass = parse_mass(text.substr(0, blank));
      if (!mass || blank == std::string::npos) {
        above.refuse("uses", fmt::format("\"{}\" is no use", text), "write it like: 400 g sugar");
        return made;
      }
      made.mass = *mass;
      of = text.substr(blank + 1);
    } else {
      Fields fields{told, file_, path, refusals_};
      made.mass = fields.mass("mass");
      of = fields.text("of");
      made.remains = maybe_percent(fields, "remains").value_or(1);
      made.reconstituted = fields.flag("reconstituted", false);
      fields.done();
    }
    const auto batch = std::find_if(parts_.batches.begin(), parts_.batches.end(), [&](const BatchFacts& one) { return one.name == of; });
    if (batch != parts_.batches.end()) {
      made.of = Use::Of::batch;
      made.index = static_cast<std::size_t>(batch - parts_.batches.begin());
      return made;
    }
    made.index = pack_of(of, path);
    return made;
  }

  std::size_t pack_of(const std::string& name, const std::string& path) {
    if (const auto known = packs_.find(name); known != packs_.end()) return known->second;
    const auto number = parts_.lots.size();
    parts_.lots.push_back({LotId{fmt::format("pack-{}", number + 1)}, fmt::format("L{}", number + 1),
                           read_food(Json{name}, name, file_, path, pantry_, refusals_)});
    return packs_[name] = number;
  }

  void place(const Json& told, const std::string& path) {
    Fields fields{told, file_, path, refusals_};
    const auto tier = fields.text("tier");
    const auto of = fields.text("of");
    const auto batch = std::find_if(parts_.batches.begin(), parts_.batches.end(), [&](const BatchFacts& one) { return one.name == of; });
    if (batch == parts_.batches.end()) fields.refuse("of", fmt::format("no batch is called \"{}\"", of), "name one of the cake's batches");
    parts_.placed.push_back(
        {tier, static_cast<std::size_t>(batch - parts_.batches.begin()), fields.mass("mass"), !fields.flag("estimated", false)});
    fields.done();
  }

  std::string file_;
  const Pantry& pantry_;
  Refusals& refusals_;
  CakeParts parts_;
  std::map<std::string, std::size_t> packs_;
};

}  // namespace

std::optional<Share> maybe_share(Fields& fields, std::string_view key) {
  const auto text = fields.maybe_text(key);
  if (!text) return std::nullopt;
  const auto share = parse_decimal(*text);
  if (!share) fields.refuse(key, fmt::format("\"{}\" is no decimal", *text), "write it like \"22.4\"");
  return share;
}

Share share_in(Fields& fields, std::string_view key, const Share& otherwise) { return maybe_share(fields, key).value_or(otherwise); }

std::optional<Share> maybe_percent(Fields& fields, std::string_view key) {
  const auto text = fields.maybe_text(key);
  if (!text) return std::nullopt;
  const auto share = parse_percent(*text);
  if (!share) fields.refuse(key, fmt::format("\"{}\" is no share", *text), "write it like \"5 %\"");
  return share;
}

IngredientFacts read_food(const Json& told, const std::string& name, const std::string& file, const std::string& path, const Pantry& pantry,
                          Refusals& refusals) {
  if (told.is_text()) {
    const auto known = pantry.foods.find(told.text());
    if (known == pantry.foods.end()) {
      refusals.push_back({file, told.line(), path, fmt::format("no food is called \"{}\"", told.text()), "add it to the pantry"});
      return {};
    }
    return read_food(known->second, told.text(), file, "foods." + told.text(), pantry, refusals);
  }
  Fields fields{told, file, path, refusals};
  IngredientFacts food;
  food.id = IngredientId{name};
  food.label_name = fields.maybe_text("label_name").value_or(name);
  read_statements(food, fields, pantry, refusals);
  food.parts = read_parts(fields, "parts", refusals);
  food.additive = fields.maybe_text("additive").value_or("");
  food.additive_class = fields.maybe_text("class").value_or("");
  food.added_water = fields.flag("added_water", false);
  food.fixed_by_law = fields.maybe_text("fixed_by_law").value_or("");
  food.sulphites_mg_per_kg = maybe_share(fields, "sulphites");
  food.varying_group = fields.maybe_text("varying_group").value_or("");
  food.polyols = maybe_percent(fields, "polyols").value_or(0);
  food.sweetening = fields.maybe_text("sweetening").value_or("");
  food.kind = fields.maybe_text("kind").value_or("");
  if (!food.kind.empty() && std::find(food_kinds.begin(), food_kinds.end(), food.kind) == food_kinds.end())
    fields.refuse("kind", fmt::format("\"{}\" is no kind of food", food.kind), "write one of food_kinds");
  food.marks = fields.texts("marks");
  food.glycyrrhizinic_mg_per_kg = maybe_share(fields, "glycyrrhizinic");
  food.limit_food = fields.maybe_text("limit_food").value_or("");
  food.substitutes = fields.maybe_text("substitutes").value_or("");
  food.dried_times = maybe_share(fields, "dried_times");
  food.sold_as = fields.maybe_text("sold_as").value_or("");
  if (fields.has("other_languages")) {
    for (const auto& [language, told_in] : fields.object("other_languages").object()) {
      Fields other{told_in, file, path + ".other_languages." + language, refusals};
      food.other_languages.push_back({language, other.text("label_name"), read_parts(other, "parts", refusals)});
      other.done();
    }
  }
  fields.done();
  return food;
}

CakeParts read_cake(const Json& told, const std::string& file, const std::string& path, const Pantry& pantry, Refusals& refusals) {
  const Json* cake = &told;
  if (told.is_text()) {
    const auto known = pantry.cakes.find(told.text());
    if (known == pantry.cakes.end()) {
      refusals.push_back({file, told.line(), path, fmt::format("no cake is called \"{}\"", told.text()), "add it to the pantry"});
      return {};
    }
    cake = &known->second;
  }
  Fields fields{*cake, file, path, refusals};
  return Bakery{file, pantry, refusals}.made_of(fields);
}

CakeParts nothing_but(IngredientFacts food) {
  CakeParts parts;
  parts.cake = CakeId{"cake-1"};
  parts.lots.push_back({LotId{"pack-1"}, "L1", std::move(food)});
  parts.batches.push_back({BatchId{"batch-1"}, "sponge", {{Use::Of::lot, 0, grams(100)}}, grams(100), true, {}});
  parts.placed.push_back({"only", 0, grams(100), true});
  return parts;
}

}  // namespace tierproof::label_cases
