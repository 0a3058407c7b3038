#pragma once

#include <string>
#include <utility>
#include <vector>

#include "tierproof/sums/date_mark.h"
#include "tierproof/sums/energy.h"
#include "tierproof/sums/label_terms.h"
#include "tierproof/sums/nutrition_need.h"
#include "tierproof/sums/reference_dose.h"

/// Label terms built by hand for the tests of the sums, each figure with its clause. FIC is Regulation (EU) No 1169/2011.
namespace tierproof::for_tests {

inline Cited fic(std::string row, std::string clause, bool from_memory = false) {
  return {std::move(row), "Reg (EU) 1169/2011 " + std::move(clause), from_memory};
}

inline AllergenTerm allergen(std::string key, std::string word, std::vector<std::string> names, std::string clause) {
  AllergenTerm term;
  term.cited = fic(key, std::move(clause));
  term.group = key.substr(0, key.find(':'));
  term.key = std::move(key);
  term.word = std::move(word);
  term.names = std::move(names);
  return term;
}

/// FIC Annex II, its fourteen groups with the members that must be named.
inline std::vector<AllergenTerm> annex_ii() {
  std::vector<AllergenTerm> all = {
      allergen("gluten:wheat", "wheat", {"wheat"}, "Annex II 1"),
      allergen("gluten:rye", "rye", {"rye"}, "Annex II 1"),
      allergen("gluten:barley", "barley", {"barley"}, "Annex II 1"),
      allergen("gluten:oats", "oats", {"oat", "oats"}, "Annex II 1"),
      allergen("crustaceans", "crustaceans", {"crustacean", "crustaceans"}, "Annex II 2"),
      allergen("eggs", "egg", {"egg", "eggs"}, "Annex II 3"),
      allergen("fish", "fish", {"fish"}, "Annex II 4"),
      allergen("peanuts", "peanuts", {"peanut", "peanuts"}, "Annex II 5"),
      allergen("soybeans", "soya", {"soya", "soybean", "soybeans"}, "Annex II 6"),
      allergen("milk", "milk", {"milk"}, "Annex II 7"),
      allergen("nuts:almond", "almonds", {"almond", "almonds"}, "Annex II 8"),
      allergen("nuts:hazelnut", "hazelnuts", {"hazelnut", "hazelnuts"}, "Annex II 8"),
      allergen("nuts:walnut", "walnuts", {"walnut", "walnuts"}, "Annex II 8"),
      allergen("nuts:cashew", "cashew nuts", {"cashew", "cashews"}, "Annex II 8"),
      allergen("nuts:pecan", "pecan nuts", {"pecan", "pecans"}, "Annex II 8"),
      allergen("nuts:brazil", "Brazil nuts", {"Brazil nut", "Brazil nuts"}, "Annex II 8"),
      allergen("nuts:pistachio", "pistachio nuts", {"pistachio", "pistachios"}, "Annex II 8"),
      allergen("nuts:macadamia", "macadamia nuts", {"macadamia", "macadamias"}, "Annex II 8"),
      allergen("celery", "celery", {"celery", "celeriac"}, "Annex II 9"),
      allergen("mustard", "mustard", {"mustard"}, "Annex II 10"),
      allergen("sesame", "sesame", {"sesame"}, "Annex II 11"),
      allergen("sulphites", "sulphites", {"sulphites", "sulphur dioxide"}, "Annex II 12"),
      allergen("lupin", "lupin", {"lupin"}, "Annex II 13"),
      allergen("molluscs", "molluscs", {"mollusc", "molluscs"}, "Annex II 14"),
  };
  for (AllergenTerm& term : all) {
    if (term.key == "sulphites") term.above_mg_per_kg = 10;  // Annex II 12: more than 10 mg/kg as total SO2
  }
  return all;
}

inline AdditiveTerm additive(std::string number, std::string name, std::vector<std::string> classes, std::string status = "permitted",
                             std::string note = "") {
  return {{"additive-" + number, "Reg (EC) 1333/2008 Annex II", true},
          std::move(number),
          std::move(name),
          std::move(classes),
          std::move(status),
          std::move(note)};
}

/// The label set that the tests judge by.
inline LabelTerms label_terms() {
  LabelTerms terms;
  terms.jurisdiction = "gb";
  terms.title = "Great Britain";
  terms.on = Date{std::chrono::year{2026} / 5 / 1};
  terms.allergens = annex_ii();
  terms.emphasis = "bold capitals";
  terms.emphasis_cited = fic("emphasis", "art. 21(1)(b)");
  terms.water_ignored_up_to = {fic("added-water", "Annex VII A 1"), share_of(5, 100)};  // read
  terms.any_order_below = {fic("any-order", "Annex VII A 6", true), share_of(2, 100)};  // from memory
  terms.reliefs = {{fic("compound-relief", "Annex VII E 2(a)", true),
                    share_of(2, 100),
                    {"chocolate", "jam", "marmalade", "honey", "fruit juice"}}};  // from memory: directives 2000/36, 2001/110-113
  for (const char* group : {"fruit", "vegetables", "mushrooms"})
    terms.varying.push_back({fic("varying", "Annex VII A 4"), group, group, {}});
  terms.additives = {
      additive("E102", "tartrazine", {"colour"}),
      additive("E110", "sunset yellow FCF", {"colour"}),
      additive("E150a", "plain caramel", {"colour"}),
      additive("E171", "titanium dioxide", {"colour"}),
      additive("E174", "silver", {"colour"}, "decoration only", "only on the outside of confectionery"),
      additive("E127", "erythrosine", {"colour"}, "restricted", "only in cocktail and candied cherries"),
      additive("E105", "fast yellow AB", {"colour"}, "not permitted", "not on the list"),
      additive("E220", "sulphur dioxide", {"preservative"}),
      additive("E322", "lecithins", {"emulsifier"}),
      additive("E422", "glycerol", {"humectant"}),
      additive("E440", "pectins", {"gelling agent"}),
      additive("E450", "diphosphates", {"raising agent"}),
      additive("E471", "mono- and diglycerides of fatty acids", {"emulsifier"}),
      additive("E500", "sodium carbonates", {"raising agent"}),
      additive("E953", "isomalt", {"sweetener"}, "restricted", "in food without added sugar or with less energy"),  // caution, from memory
  };
  terms.class_titles = {"Acid",      "Acidity regulator", "Anti-caking agent", "Antioxidant", "Colour",    "Emulsifier", "Gelling agent",
                        "Humectant", "Preservative",      "Raising agent",     "Stabiliser",  "Sweetener", "Thickener"};
  terms.class_words.push_back({{}, "emulsifier", "emulsifiers", {{"de", "Emulgator"}}, {{"de", "Emulgatoren"}}});
  terms.class_words.push_back({{}, "raising agent", "raising agents"});
  // Annex VII C, from memory
  terms.additive_wordings = {{{"colour-warning", "Reg (EC) 1333/2008 art. 24, Annex V", false},
                              {"E102", "E104", "E110", "E122", "E124", "E129"},
                              "{names}: may have an adverse effect on activity and attention in children."}};
  terms.share_wordings = {
      {fic("polyols", "Annex III 2.4"), "polyols", share_of(10, 100), "excessive consumption may produce laxative effects"},
      {fic("sweeteners", "Annex III 2.1"), "sweeteners", 0, "with sweetener(s)"},
      {fic("sugars-and-sweeteners", "Annex III 2.2"), "sugars and sweeteners", 0, "with sugar(s) and sweetener(s)"},
  };
  const auto text_size = [](std::string row, std::string clause, std::optional<std::int64_t> from, std::optional<std::int64_t> below,
                            std::int64_t um) {
    return TypeSizeTerm{fic(std::move(row), std::move(clause)), "text", "x-height", from, below, std::nullopt, std::nullopt, um};
  };
  const auto e_mark = [](std::optional<Mass> above, std::optional<Mass> up_to,
                         std::int64_t um) {  // Dir 76/211/EEC Annex I 3.1, from memory
    return TypeSizeTerm{{"e-mark", "Dir 76/211/EEC Annex I 3.1", true},
                        "net quantity e-mark",
                        "figure height",
                        std::nullopt,
                        std::nullopt,
                        above,
                        up_to,
                        um};
  };
  terms.type_sizes = {
      text_size("type-large", "art. 13(2)", 80, std::nullopt, 1200),
      text_size("type-small", "art. 13(3)", std::nullopt, 80, 900),
      e_mark(std::nullopt, grams(50), 2000),
      e_mark(grams(50), grams(200), 3000),
      e_mark(grams(200), grams(1000), 4000),
      e_mark(grams(1000), std::nullopt, 6000),
      {{"e-symbol", "The Weights and Measures (Packaged Goods) Regulations 2006 reg. 2", false},
       "e symbol",
       "height",
       std::nullopt,
       std::nullopt,
       std::nullopt,
       std::nullopt,
       3000},
  };
  terms.date_marks = {
      // Annex X 1 and 2
      {fic("use-by", "Annex X 2"), "use by", std::nullopt, "day month", "Use by"},
      {fic("best-before-day", "Annex X 1(c)"), "best before", 3, "day month", "Best before"},
      {fic("best-before-month", "Annex X 1(c)"), "best before", 18, "month year", "Best before end"},
      {fic("best-before-year", "Annex X 1(c)"), "best before", std::nullopt, "year", "Best before end"},
  };
  terms.wordings = {{fic("heading", "art. 18(1)"), "ingredients heading", "Ingredients:"},
                    {fic("contains", "art. 21(1)"), "contains", "Contains"},
                    {fic("varying", "Annex VII A 4"), "varying proportions", "in varying proportions"}};
  return terms;
}

/// FIC Annex XIV.
inline std::vector<EnergyFactorTerm> annex_xiv() {
  const auto row = [](std::string component, Share kj, Share kcal) {
    return EnergyFactorTerm{fic("energy-" + component, "Annex XIV"), std::move(component), std::move(kj), std::move(kcal)};
  };
  return {row("carbohydrate except polyols", 17, 4),
          row("polyols", 10, share_of(24, 10)),
          row("protein", 17, 4),
          row("fat", 37, 9),
          row("salatrims", 25, 6),
          row("alcohol", 29, 7),
          row("organic acids", 13, 3),
          row("fibre", 8, 2),
          row("erythritol", 0, 0)};
}

/// FAO/WHO Part 2 (2022), mg of total protein.
inline std::vector<ReferenceDoseTerm> reference_doses() {
  const Cited part_2{"reference-doses", "FAO/WHO ad hoc expert consultation, Part 2 (2022)", false};
  const Cited part_5{"reference-doses", "FAO/WHO ad hoc expert consultation, Part 5 (2023)", false};
  return {{part_2, "nuts:almond", 1, "provisional"},
          {part_2, "nuts:hazelnut", 3, "recommended"},
          {part_2, "gluten:wheat", 5, "recommended"},
          {part_5, "gluten:oats", std::nullopt, "none set"}};
}

/// Annex V 19 as read in Great Britain (DH guidance 2016): fewer than ten people, turnover up to two million euro.
inline NutritionExemptionTerm micro_business() {
  return {fic("nutrition-small-maker", "Annex V 19; DH technical guidance 2016"), 10, 2'000'000, "EUR",
          "the same county, or an adjoining one within 50 km of the border"};
}

}  // namespace tierproof::for_tests
