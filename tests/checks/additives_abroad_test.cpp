// Standings and names of additives published for the United States with two states, Canada, and Australia and New Zealand against the rows
// of reference/us*, ca and anz. The source stands beside the figure; what was recalled and not read says "from memory".
#include <algorithm>
#include <map>

#include "abroad.h"
#include "tierproof/sums/additive_text.h"

namespace tierproof::abroad {
namespace {

TEST(ColorsInTheStates, HaveTheNamesThatMayStandInAList) {
  const auto terms = terms_of("us");
  const std::map<std::string, std::string> names{{"E102", "Yellow 5"}, {"E110", "Yellow 6"}, {"E127", "Red 3"},   {"E129", "Red 40"},
                                                 {"E132", "Blue 2"},   {"E133", "Blue 1"},   {"E143", "Green 3"}, {"E120", "carmine"}};
  for (const auto& [number, name] : names)
    EXPECT_EQ(terms.additive(number)->print, name) << "21 CFR 101.22(k)(1), 73.100(d); pairs but E120 from memory";
  EXPECT_EQ(terms.additive("E160b")->print, "annatto color") << "21 CFR 101.22(k)(2): [x] color";
  EXPECT_EQ(terms.additive_form.form, "name");
}

TEST(ColorsInTheStates, AreNotAllThatOthersPermit) {
  const auto terms = terms_of("us");
  for (const char* number : {"E104", "E122", "E124", "E131", "E142", "E151", "E153", "E155", "E173"})
    EXPECT_EQ(terms.additive(number)->status, "not permitted") << number << ": not listed in 21 CFR 73 and 74, from memory";
  for (const char* number : {"E174", "E175"})
    EXPECT_EQ(terms.additive(number)->status, "restricted") << number << ": no listing found; a caution, not a stop";
  EXPECT_EQ(terms.additive("E952")->status, "not permitted") << "cyclamates, from memory";
}

TEST(RedThree, EndsOnTheFifteenthOfJanuary2027) {
  EXPECT_EQ(terms_of("us", day(2027, 1, 14)).additive("E127")->status, "permitted") << "order of 15 January 2025";
  EXPECT_EQ(terms_of("us", day(2027, 1, 15)).additive("E127")->status, "not permitted") << "order of 15 January 2025";
  EXPECT_EQ(terms_of("us-ca", day(2026, 12, 31)).additive("E127")->status, "permitted") << "AB 418: from 1 January 2027, from memory";
  EXPECT_EQ(terms_of("us-ca", day(2027, 1, 1)).additive("E127")->status, "not permitted") << "AB 418, from memory";
  EXPECT_EQ(terms_of("us-tx", day(2027, 1, 1)).additive("E127")->status, "permitted") << "the federal day counts there";
  for (const char* number : {"E216", "E924"}) {
    EXPECT_EQ(terms_of("us-ca", day(2026, 12, 31)).additive(number)->status, "permitted") << number;
    EXPECT_EQ(terms_of("us-ca", day(2027, 1, 1)).additive(number)->status, "not permitted") << number << ": AB 418, from memory";
  }
}

TEST(AdditivesAbroad, AreAllInTheTableOrGoToAPerson) {
  for (const char* code : {"us", "ca", "anz"}) {
    const auto terms = terms_of(code);
    const auto whole = std::count_if(terms.additives.begin(), terms.additives.end(), [](const AdditiveTerm& additive) {
      const auto read = read_additive_number(additive.number);
      return read && read->suffix.empty();
    });
    EXPECT_EQ(whole, 318) << code << ": the numbers of the list that the European table was written from";
    for (const auto& additive : terms.additives) EXPECT_TRUE(additive.cited.from_memory || !additive.cited.clause.empty());
  }
  EXPECT_EQ(terms_of("ca").additive("E123")->status, "permitted") << "amaranth, from memory";
  EXPECT_EQ(terms_of("anz").additive("E127")->status, "restricted") << "erythrosine: preserved cherries only, from memory";
}

/// What stands in a list where the pack has a number alone. General names: Codex CXG 36-1989, from memory.
struct NamedApart {
  const char* code;
  const char* number;
  const char* name;
  const char* status;
  const char* source;
};
const char* several = "CXG 36-1989, from memory; each has a common name of its own: 21 CFR 101.4(a)(1), Common Names Document";
const NamedApart named_apart[] = {
    {"us", "E450", "Diphosphates", "restricted", several},
    {"us", "E450(i)", "Sodium acid pyrophosphate", "permitted", "21 CFR 182.1087"},
    {"us", "E450(iii)", "Tetrasodium pyrophosphate", "permitted", "21 CFR 182.6789, from memory"},
    {"us", "E451", "Triphosphates", "restricted", several},
    {"us", "E452", "Polyphosphates", "restricted", several},
    {"us", "E500", "Sodium carbonates", "restricted", several},
    {"us", "E500(i)", "Sodium carbonate", "permitted", "21 CFR 184.1742, from memory"},
    {"us", "E500(ii)", "Sodium bicarbonate", "permitted", "21 CFR 184.1736, from memory"},
    {"us", "E500(iii)", "Sodium sesquicarbonate", "permitted", "21 CFR 184.1792, from memory"},
    {"us", "E501", "Potassium carbonates", "restricted", several},
    {"us", "E503", "Ammonium carbonates", "restricted", several},
    {"us", "E503(ii)", "Ammonium bicarbonate", "permitted", "21 CFR 184.1135, from memory"},
    {"us", "E336", "Potassium tartrates", "restricted", several},
    {"us", "E336(i)", "Cream of tartar", "permitted", "21 CFR 184.1077, from memory"},
    {"us", "E262", "Sodium acetates", "restricted", several},
    {"us", "E470a", "Sodium, potassium and calcium salts of fatty acids", "restricted",
     "21 CFR 172.863(c)(1): the common or usual name of the salt"},
    {"us", "E101", "Riboflavins", "restricted", "21 CFR 73.450, from memory: riboflavin alone"},
    {"us", "E339", "Sodium phosphate", "permitted", "21 CFR 182.1778: one name for mono-, di- and tribasic"},
    {"us", "E341", "Calcium phosphate", "permitted", "21 CFR 182.1217: one name for mono-, di- and tribasic"},
    {"us", "E472b", "Glyceryl-lacto esters of fatty acids", "permitted", "21 CFR 172.852"},
    {"us", "E477", "Propylene glycol mono- and diesters of fats and fatty acids", "permitted", "21 CFR 172.856"},
    {"ca", "E450", "Diphosphates", "restricted", several},
    {"ca", "E450(i)", "Sodium acid pyrophosphate", "permitted", "list of permitted pH adjusting agents, from memory"},
    {"ca", "E500", "Sodium carbonates", "restricted", several},
    {"ca", "E500(ii)", "Sodium bicarbonate", "permitted", "list of permitted pH adjusting agents, from memory"},
    {"ca", "E503", "Ammonium carbonates", "restricted", several},
    {"ca", "E503(i)", "Ammonium carbonate", "permitted", "list of permitted pH adjusting agents, item A.5"},
    {"ca", "E503(ii)", "Ammonium bicarbonate", "permitted", "list of permitted pH adjusting agents, item A.4"},
    {"ca", "E336", "Potassium tartrates", "restricted", several},
    {"ca", "E341", "Calcium phosphates", "restricted", several},
    {"ca", "E140", "Chlorophyll", "permitted", "an inspection agency’s table of colours: E 140"},
    {"ca", "E160a", "Carotene", "permitted", "an inspection agency’s table of colours: E 160a"},
    {"ca", "E172", "Iron oxide", "permitted", "an inspection agency’s table of colours: E 172"}};

TEST(NumbersOfSeveralSubstances, NeverPrintOneOfThemAndGoToAPersonWhereTheLawNamesThemApart) {
  for (const NamedApart& row : named_apart) {
    const auto terms = terms_of(row.code);
    const auto* additive = terms.additive(row.number);
    ASSERT_NE(additive, nullptr) << row.code << " " << row.number;
    EXPECT_EQ(additive->name, row.name) << row.code << " " << row.number << ": " << row.source;
    EXPECT_EQ(additive->status, row.status) << row.code << " " << row.number << ": " << row.source;
    EXPECT_EQ(find_additive_by_text(terms, row.name), additive) << row.code << ": " << row.name << " is found by its name";
  }
}

TEST(NumbersOfSeveralSubstances, AskAPersonForEveryLineThatHasSubstancesOfItsOwn) {
  for (const char* code : {"us", "ca"}) {
    const auto terms = terms_of(code);
    int apart = 0;
    for (const auto& additive : terms.additives) {
      const auto open = additive.number.find('(');
      if (open == std::string::npos) continue;
      ++apart;
      const auto* whole = terms.additive(additive.number.substr(0, open));
      ASSERT_NE(whole, nullptr) << code << " " << additive.number;
      EXPECT_NE(whole->name, additive.name) << code << " " << additive.number;
      EXPECT_EQ(whole->flags, additive.flags) << code << " " << additive.number;
      const bool one_name_by_law = std::string{code} == "us" && whole->number == "E341";  // 21 CFR 182.1217
      EXPECT_EQ(whole->status, one_name_by_law ? "permitted" : "restricted") << code << " " << whole->number;
    }
    EXPECT_GE(apart, 15) << code;
  }
}

TEST(TitaniumDioxideInTheStates, MayBeOnePercent) {
  const auto terms = terms_of("us");
  ASSERT_EQ(terms.level_limits.size(), 1u);
  EXPECT_EQ(terms.level_limits[0].up_to_mg_per_kg, 10'000) << "21 CFR 73.575(c), from memory: 1 percent by weight";
  EXPECT_EQ(terms.level_limits[0].food, "cake");
}

}  // namespace
}  // namespace tierproof::abroad
