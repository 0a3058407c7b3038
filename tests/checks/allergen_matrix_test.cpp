// Which word must be declared for which ingredient of a cake, in Great Britain, Northern Ireland and the European Union.
#include <map>

#include "../rules/reference_files.h"
#include "label_case.h"
#include "label_case_cake.h"
#include "tierproof/sums/declaration.h"

namespace tierproof::label_cases {
namespace {

/// What a specification says of an ingredient of the table: nothing that any list names, or an allergen, by a process or as itself.
struct Says {
  const char* key = "";
  const char* process = "";
  const char* sulphites = "";  ///< mg/kg
};

/// By the first cell of the table, as far as it goes.
const std::map<std::string, std::vector<Says>>& specifications() {
  static const std::map<std::string, std::vector<Says>> all{
      {"wheat flour", {{"gluten:wheat"}}},
      {"spelt flour", {{"gluten:wheat"}}},
      {"rye flour", {{"gluten:rye"}}},
      {"oats", {{"gluten:oats"}}},
      {"barley malt extract", {{"gluten:barley"}}},
      {"wheat glucose syrup / dextrose", {{"gluten:wheat", "wheat glucose syrup"}}},
      {"maize starch, maize glucose syrup", {{}}},
      {"butter, cream, whey, lactose, caramel with cream", {{"milk"}}},
      {"goat or sheep milk", {{"milk"}}},
      {"hen egg white, albumen powder, meringue powder", {{"eggs"}}},
      {"duck or quail egg", {{"eggs"}}},
      {"almond, almond flour, marzipan, macaron shell", {{"nuts:almond"}}},
      {"hazelnut, praline", {{"nuts:hazelnut"}}},
      {"walnut / pecan / pistachio / cashew", {{"nuts:walnut"}, {"nuts:pecan"}, {"nuts:pistachio"}, {"nuts:cashew"}}},
      {"Brazil nut / macadamia", {{"nuts:brazil"}, {"nuts:macadamia"}}},
      {"pine nut", {{"nuts:pine"}}},
      {"coconut", {{}}},
      {"chestnut puree", {{}}},
      {"apricot or peach kernel (persipan)", {{}}},
      {"peanut", {{"peanuts"}}},
      {"refined peanut oil", {{"peanuts", "fully refined peanut oil"}}},
      {"soy lecithin (E322)", {{"soybeans"}}},
      {"fully refined soybean oil", {{"soybeans", "fully refined soybean oil"}}},
      {"sesame, tahini", {{"sesame"}}},
      {"mustard", {{"mustard"}}},
      {"E471 / E470a / E477 with mustard behenic acid", {{"mustard", "behenic acid for E470a, E471, E477"}}},
      {"lupin flour", {{"lupin"}}},
      {"celery", {{"celery"}}},
      {"buckwheat", {{}}},
      {"fish gelatine (as gelling agent)", {{"fish"}}},
      {"bovine or porcine gelatine", {{}}},
      {"carmine E120", {{}}},
      {"sulphited dried fruit, glace fruit, some glucose syrups", {{"sulphites", "", "10"}, {"sulphites", "", "10.001"}}},
  };
  return all;
}

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells(1);
  for (const char c : line) {
    if (c == '\t') {
      cells.emplace_back();
    } else {
      cells.back() += c;
    }
  }
  return cells;
}

Declaration declared_of(const Says& says, const LabelTerms& terms) {
  static const auto known = shipped_packs().known_allergens();
  Pantry pantry;
  for (const auto& allergen : known) pantry.allergens.push_back(allergen.key);
  Json::Object told;
  if (*says.key != '\0') told["contains"] = Json::Array{Json::Object{{"key", says.key}, {"process", says.process}}};
  if (*says.sulphites != '\0') told["sulphites"] = says.sulphites;
  told["label_name"] = *says.process != '\0' ? says.process : "it";
  Refusals refusals;
  auto food = read_food(Json{std::move(told)}, "it", "allergen-matrix.tsv", "", pantry, refusals);
  if (!refusals.empty()) throw std::runtime_error{tierproof::told(refusals)};
  const auto parts = nothing_but(std::move(food));
  std::vector<std::string> keys;
  for (const auto& term : terms.allergens) keys.push_back(term.key);
  const auto made = compose(parts, keys);
  return declare(parts, made.value(), terms, "ingredient list");
}

/// Whether `cell` asks that `term` be declared: its word, one of its names, or each by its name.
bool asks_for(const std::string& cell, const AllergenTerm& term) {
  if (cell == "by name") return true;
  const auto word = cell.substr(0, cell.find(' '));
  if (term.word.starts_with(word)) return true;
  return std::any_of(term.names.begin(), term.names.end(), [&](const std::string& name) { return name == word; });
}

TEST(AllergenMatrix, HoldsInGreatBritainNorthernIrelandAndTheUnion) {
  const auto packs = shipped_packs();
  std::istringstream table{text_of(source_dir() / "tests/data/allergen-matrix.tsv")};
  std::size_t rows = 0;
  for (std::string line; std::getline(table, line);) {
    const auto cells = cells_of(line);
    if (line.starts_with('#') || cells[0] == "ingredient") continue;
    ++rows;
    const auto specified = specifications().find(cells[0]);
    ASSERT_NE(specified, specifications().end()) << cells[0];
    for (const auto& [code, cell] : {std::pair{"eu", cells[1]}, std::pair{"ni", cells[1]}, std::pair{"eu-de", cells[1]},
                                     std::pair{"gb", cells[2]}, std::pair{"gb-sct", cells[2]}}) {
      const auto terms = packs.label_terms(code, day(2026, 12, 1)).value();
      for (const auto& says : specified->second) {
        const auto declared = declared_of(says, terms);
        const auto where = fmt::format("{} in {}: {}", cells[0], code, cell);
        EXPECT_TRUE(declared.unknown.empty()) << where;
        if (cell.starts_with('-') || (cell.starts_with("SO2") && std::string{says.sulphites} == "10")) {
          EXPECT_TRUE(declared.contains.empty()) << where;
          continue;
        }
        ASSERT_EQ(declared.contains, std::vector<std::string>{says.key}) << where;
        if (!cell.starts_with("SO2")) {
          EXPECT_TRUE(asks_for(cell, *terms.allergen(says.key))) << where;
        }
      }
    }
  }
  EXPECT_EQ(rows, specifications().size());
}

}  // namespace
}  // namespace tierproof::label_cases
