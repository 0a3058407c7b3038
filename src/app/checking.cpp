#include "checking.h"

#include "tierproof/sums/gs1.h"

namespace tierproof {

void check_supplier(Checking& checking, const Supplier& supplier, std::string_view dashes) {
  checking.words(fmt::format("{}name", dashes), supplier.firm.name);
  checking.words(fmt::format("{}address", dashes), supplier.firm.address);
  for (const auto& other : {supplier.consignor, supplier.consignee}) {
    if (!other) continue;
    checking.words("name of the other firm", other->name);
    checking.words("address of the other firm", other->address);
  }
}

void check_ingredient(Checking& checking, const Ingredient& ingredient, std::string_view dashes) {
  checking.words(fmt::format("{}name", dashes), ingredient.name);
  checking.choice(fmt::format("{}egg", dashes), ingredient.egg, {"none", "shell", "pasteurised", "dried pasteurised"});
  if (!ingredient.boiled_as.empty())
    checking.choice(fmt::format("{}boils-as", dashes), ingredient.boiled_as, {"glucose", "invert sugar", "acid", "none of these"});
}

void check_gtin(Checking& checking, const std::string& gtin, const Kitchen& kitchen, std::string_view field) {
  if (gtin.empty()) return;
  if (const auto own = read_own_gtin(gtin, kitchen.gs1_prefix, field); !own) checking.take(own.error());
}

void check_egg(Checking& checking, const State& state, const Recipe& recipe) {
  for (const auto& item : recipe.items) {
    const auto ingredient = item.recipe ? state.ingredients.end() : state.ingredients.find(IngredientId{item.of});
    if (ingredient == state.ingredients.end()) continue;
    const std::string& egg = ingredient->second.value.egg;
    const bool left_out =
        std::find(recipe.heated_together.begin(), recipe.heated_together.end(), IngredientId{item.of}) == recipe.heated_together.end();
    if (recipe.egg == "raw, heated here" && egg == "shell" && left_out) {
      checking.refuse("heated_together", fmt::format("leaves out {}, the raw egg", item.of), "name it among what is heated together");
    }
    const bool fits = egg == "none" || recipe.egg == "baked through" ||
                      (egg == "shell" ? recipe.egg.starts_with("raw") : recipe.egg == egg || recipe.egg.starts_with("raw"));
    if (!fits) {
      checking.refuse("egg", fmt::format("says \"{}\", but {} is {} egg", recipe.egg, item.of, egg),
                      egg == "shell" ? "write \"baked through\", \"raw, heated here\" or \"raw, not heated\""
                                     : fmt::format("write \"{}\", or how it is cooked", egg));
    }
  }
}

void check_recipe(Checking& checking, const State& state, const std::string& id, const Recipe& recipe,
                  const std::vector<std::string>& together, bool items_numbered) {
  checking.id("recipe", id);
  checking.words("name", recipe.name);
  checking.words("life_reason", recipe.life_reason);
  for (std::size_t i = 0; i < recipe.items.size(); ++i) {
    const RecipeItem& item = recipe.items[i];
    const std::string field = items_numbered ? fmt::format("items[{}].of", i) : "items";
    if (!item.recipe) {
      checking.known(field, state.ingredients, item.of, "ingredient");
    } else if (std::find(together.begin(), together.end(), item.of) == together.end()) {
      checking.known(field, state.recipes, item.of, "recipe");
    }
  }
  check_egg(checking, state, recipe);
  for (const auto& kit : recipe.kit) checking.known("kit", state.equipment, kit.text(), "piece of kit");
  for (const auto& heated : recipe.heated_together) {
    const auto in_items = [&](const RecipeItem& item) { return item.of == heated.text(); };
    if (std::none_of(recipe.items.begin(), recipe.items.end(), in_items)) {
      checking.refuse("heated_together", fmt::format("\"{}\" is not among the items", heated.text()),
                      "name what this recipe is made of, sub-recipes too");
    }
  }
  for (const auto& boiled : recipe.boiled_together) {
    const auto in_items = [&](const RecipeItem& item) { return !item.recipe && item.of == boiled.text(); };
    if (std::none_of(recipe.items.begin(), recipe.items.end(), in_items))
      checking.refuse("boiled_together", fmt::format("\"{}\" is not an ingredient among the items", boiled.text()),
                      "name what goes into the pan of boiling sugar");
  }
}

std::string plain_name(const std::string& name) {
  const auto nfc = to_nfc(name);
  std::string plain = nfc ? *nfc : name;
  for (char& c : plain) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7f || (!nfc && byte >= 0x80)) c = '?';
  }
  return plain;
}

}  // namespace tierproof
