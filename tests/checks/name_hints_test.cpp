// The shipped vocabulary of names against lists of names from outside it.
#include "tierproof/sums/name_hints.h"

#include <gmock/gmock.h>

#include "shipped_hints.h"
#include "tierproof/sums/additive_text.h"
#include "tierproof/text/csv.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

std::vector<std::vector<std::string>> rows_of(const std::string& name) {
  const auto rows = parse_csv(text_of(source_dir() / "tests" / "data" / name), ',', name);
  if (!rows) throw std::runtime_error{told(rows.error())};
  std::vector<std::vector<std::string>> all;
  for (std::size_t i = 1; i < rows->size(); ++i) all.push_back((*rows)[i].cells);
  return all;
}

/// The allergens of Regulation (EU) No 1169/2011 annex II, as allergen-codes.csv lists them.
const std::vector<std::string>& listed_keys() {
  static const std::vector<std::string> keys = [] {
    std::vector<std::string> all;
    for (const auto& row : rows_of("allergen-codes.csv")) {
      if (row[0] != "gluten" && row[0] != "nuts") all.push_back(row[0]);
    }
    return all;
  }();
  return keys;
}
NameHint hint_here(std::string_view name) { return keys_for(hint_of(name, shipped_hints()), listed_keys()); }

std::vector<std::string> split_keys(const std::string& text) {
  std::vector<std::string> keys;
  for (std::size_t from = 0; from < text.size();) {
    const auto end = std::min(text.find(';', from), text.size());
    keys.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  return keys;
}

std::string in_words(const NameHint& hint) {
  std::string all{term_of(hint.verdict)};
  for (const auto& one : hint.contains) all += " contains " + one.allergen + " <" + one.words + ">";
  for (const auto& one : hint.ask) all += " ask " + one.allergen + " <" + one.words + ">";
  for (const auto& one : hint.exempt) all += " exempt " + one.allergen + " <" + one.process + ">";
  for (const auto& word : hint.unknown_words) all += " unknown <" + word + ">";
  return all;
}

// Source: tests/data/allergen-name-cases.csv, written for this project after annex II of Regulation (EU) No 1169/2011.
TEST(NameHintChecks, EveryNameCaseGivesItsVerdict) {
  std::map<std::string, int> seen;
  for (const auto& row : rows_of("allergen-name-cases.csv")) {
    const std::string& name = row[0];
    const std::string& verdict = row[1];
    const NameHint hint = hint_here(name);
    ++seen[verdict];
    EXPECT_EQ(term_of(hint.verdict), verdict) << name << ": " << in_words(hint);
    for (const auto& key : split_keys(row[2])) {
      if (verdict == "contains") {
        EXPECT_TRUE(hint.contains_key(key)) << name << " must show " << key << ": " << in_words(hint);
      } else if (verdict == "ask") {
        const auto about = [&](const Hinted& one) { return one.allergen == key || one.allergen.starts_with(key + ":"); };
        EXPECT_TRUE(std::any_of(hint.ask.begin(), hint.ask.end(), about)) << name << " must ask of " << key << ": " << in_words(hint);
      }
    }
    if (verdict == "none") {
      EXPECT_TRUE(hint.contains.empty() && !hint.asks()) << name << ": " << in_words(hint);
    }
    if (verdict == "ask") {
      EXPECT_TRUE(hint.asks()) << name << " stays silent";
    }
  }
  EXPECT_EQ(seen, (std::map<std::string, int>{{"contains", 127}, {"none", 54}, {"exempt", 10}, {"ask", 27}}));
}

// Source: tests/data/more-name-cases.csv, general knowledge, no source.
TEST(NameHintChecks, FurtherNamesGiveTheirVerdict) {
  const auto rows = rows_of("more-name-cases.csv");
  EXPECT_GT(rows.size(), 300u);
  for (const auto& row : rows) EXPECT_EQ(term_of(hint_here(row[0]).verdict), row[1]) << row[0] << ": " << in_words(hint_here(row[0]));
}

// Source: USDA SR release 26, LanguaL facet B (source organism) of plant foods, tests/data/usda-sr26-plant-sources.csv.
TEST(NameHintChecks, EveryPlantFoodIsFlaggedWithItsSourceAndAskedAboutWithout) {
  std::map<std::string, std::string> key_of;
  for (const auto& row : rows_of("allergen-codes.csv")) {
    for (const auto& code : split_keys(row[4])) key_of[code] = row[0];
  }
  std::vector<std::string> asked_only;
  int pairs = 0;
  for (const auto& row : rows_of("usda-sr26-plant-sources.csv")) {
    const std::string& key = key_of.at(row[2]);
    ++pairs;
    EXPECT_TRUE(hint_here(row[1] + ", " + row[3]).contains_key(key)) << row[1] << ", " << row[3];
    const NameHint alone = hint_here(row[1]);
    if (alone.contains_key(key)) continue;
    EXPECT_TRUE(alone.asks()) << row[1] << " stays silent: " << in_words(alone);
    asked_only.push_back(row[1]);
  }
  EXPECT_EQ(pairs, 222);
  // Their names say nothing of soya: somebody has to ask.
  EXPECT_EQ(asked_only, (std::vector<std::string>{"Nuts, formulated, wheat-based, unflavored, with salt added",
                                                  "Nuts, formulated, wheat-based, all flavors except macadamia, without salt",
                                                  "Bacon, meatless", "Meat extender", "Sausage, meatless", "Bacon bits, meatless"}));
}

TEST(NameHintChecks, AClaimInANameNeverClearsIt) {
  for (const std::string claim :
       {"gluten free", "gluten-free", "dairy free", "vegan", "egg free", "nut free", "free from milk", "lactose-free"}) {
    for (const std::string food : {"chocolate", "butter", "flour", "sponge", "sugar", "spread", "marzipan", "cream", "icing sugar"}) {
      const NameHint hint = hint_here(claim + " " + food);
      EXPECT_TRUE(hint.asks() || !hint.contains.empty()) << claim << " " << food << ": " << in_words(hint);
    }
  }
}

TEST(NameHintChecks, AnUnknownWordIsAlwaysAskedAbout) {
  for (const std::string food : {"sugar", "rice flour", "salt (sea salt)", "apple, pear"}) {
    ASSERT_EQ(hint_here(food).verdict, HintVerdict::none) << food;
    for (const std::string& name : {"zorblax " + food, food + " zorblax", food + " (zorblax)", food + ", zorblax"}) {
      EXPECT_EQ(hint_here(name).unknown_words, std::vector<std::string>{"zorblax"}) << name;
    }
  }
}

// Several spellings of one number; the numbers and names are those of reference/gb/additives.tsv.
TEST(NameHintChecks, AnAdditiveIsKnownByEverySpellingAndNeverByAMisspeltOne) {
  auto packs = shipped_packs();
  const auto terms = packs.label_terms("gb", day(2026, 12, 1));
  ASSERT_TRUE(terms);
  ASSERT_GT(terms->additives.size(), 290u);
  std::size_t by_name = 0;
  for (const auto& row : terms->additives) {
    const NameHint plain = hint_here(row.number);
    EXPECT_TRUE(plain.unknown_words.empty()) << row.number;
    const bool numbered = row.number.size() > 1 && row.number[0] == 'E' && row.number[1] >= '0' && row.number[1] <= '9';
    if (!numbered) {
      ++by_name;
      const auto* found = find_additive_by_text(*terms, row.number);
      ASSERT_NE(found, nullptr) << row.number;
      EXPECT_EQ(found->number, row.number);
    }
    const std::string digits = row.number.substr(1);
    for (const std::string& text : {"E " + digits, "e" + digits, "E-" + digits, "INS " + digits, "ins" + digits, row.number + "(i)"}) {
      if (!numbered || digits.find('(') != std::string::npos) continue;
      const auto* found = find_additive_by_text(*terms, text);
      ASSERT_NE(found, nullptr) << text;
      EXPECT_EQ(found->number, row.number) << text;
      const NameHint hint = hint_here(text);
      EXPECT_EQ(in_words(hint), in_words(plain)) << text;
    }
    EXPECT_NE(find_additive_by_text(*terms, row.name), nullptr) << row.name;
    EXPECT_EQ(find_additive_by_text(*terms, row.name + "zz"), nullptr) << row.name;
    const bool sulphite = std::find(row.flags.begin(), row.flags.end(), "sulphite") != row.flags.end();
    EXPECT_EQ(plain.contains_key("sulphites"), sulphite) << row.number;
  }
  EXPECT_GT(by_name, 0u);
  EXPECT_EQ(hint_here("E47l").verdict, HintVerdict::ask);
  EXPECT_EQ(hint_here("E9999").verdict, HintVerdict::ask);
}

// The flags of reference/*/additives.tsv: only the specification of these can tell.
TEST(NameHintChecks, AskOfEveryAdditiveThatOnlyItsSpecificationCanTell) {
  auto packs = shipped_packs();
  std::size_t asked = 0;
  for (const char* code : {"gb", "eu", "us", "ca", "anz"}) {
    const auto terms = packs.label_terms(code, day(2026, 12, 1));
    ASSERT_TRUE(terms) << code;
    const auto word = [&](const std::string& key) { return terms->allergen(key) == nullptr ? key : terms->allergen(key)->word; };
    for (const auto& row : terms->additives) {
      const std::string complaints = fmt::format("{}", fmt::join(hint_complaints(row.number, {}, shipped_hints(), *terms), "; "));
      const auto has = [&](const char* flag) { return std::find(row.flags.begin(), row.flags.end(), flag) != row.flags.end(); };
      const auto asks = [&](const char* flag, const std::string& key) {
        if (!has(flag)) return;
        ++asked;
        EXPECT_THAT(complaints, testing::HasSubstr(word(key))) << code << " " << row.number;
      };
      asks("ask-sulphite", "sulphites");
      asks("ask-soy-egg", "soybeans");
      asks("ask-soy-egg", "eggs");
      asks("ask-soy", "soybeans");
      asks("ask-gluten", terms->allergen("gluten:wheat") == nullptr ? "gluten" : "gluten:wheat");
    }
  }
  EXPECT_GT(asked, 50U);
}

// Names and parts whose specification has to answer for an allergen by itself: common practice, no source.
TEST(NameHintChecks, ABlanketAbsenceAnswersNoQuestionOfTheShippedVocabulary) {
  auto packs = shipped_packs();
  const auto terms = packs.label_terms("gb", day(2026, 12, 1)).value();
  std::vector<AllergenStatement> all;
  for (const auto& term : terms.allergens) all.push_back({term.key, Presence::absent, "supplier's sheet"});
  for (const char* name :
       {"nougat", "praline", "caramel", "sugar paste (starch)", "sugar paste (modified starch)", "seasoning",
        "hydrolysed vegetable protein", "sugar paste (vegetable oil)", "caramel colour E150d", "sugar paste (E322)", "milk chocolate"})
    EXPECT_FALSE(hint_complaints(name, all, shipped_hints(), terms).empty()) << name;
  for (const char* name : {"sugar", "maize starch", "sea salt", "icing sugar", "sunflower oil", "cocoa powder"})
    EXPECT_TRUE(hint_complaints(name, all, shipped_hints(), terms).empty()) << name;
}

TEST(NameHintChecks, OtherRulesMapTheSameHintsByTheirRows) {
  auto packs = shipped_packs();
  const auto under = [&](const std::string& code, std::string_view name) {
    const auto terms = packs.label_terms(code, day(2026, 12, 1));
    EXPECT_TRUE(terms) << code;
    return hint_under(hint_of(name, shipped_hints()), *terms);
  };
  // 21 U.S.C. 321(qq) and FDA guidance of January 2025, table 1: pine nuts count, oats and barley do not.
  EXPECT_TRUE(under("us", "pine nuts").contains_key("nuts:pine"));
  EXPECT_EQ(under("gb", "pine nuts").verdict, HintVerdict::none);
  EXPECT_EQ(under("us", "rolled oats").verdict, HintVerdict::none);
  EXPECT_TRUE(under("gb", "rolled oats").contains_key("gluten:oats"));
  // B.01.010.1 of the Canadian regulations names triticale itself; elsewhere it is wheat and rye.
  EXPECT_TRUE(under("ca", "triticale flour").contains_key("gluten:triticale"));
  EXPECT_TRUE(under("gb", "triticale flour").contains_key("gluten:wheat"));
  EXPECT_TRUE(under("gb", "triticale flour").contains_key("gluten:rye"));
  // Wheat glucose syrup is exempt in no law of the United States.
  EXPECT_TRUE(under("us", "wheat glucose syrup").contains_key("gluten:wheat"));
}

}  // namespace
}  // namespace tierproof
