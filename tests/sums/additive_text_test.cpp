#include "tierproof/sums/additive_text.h"

#include <gmock/gmock.h>

#include "terms_for_tests.h"
#include "tierproof/sums/languages.h"

namespace tierproof {
namespace {

using namespace for_tests;

TEST(AdditiveNumber, IsReadAsPacksPrintIt) {
  for (const char* text : {"E 471", "e471", "E471", "E-471", "INS 471", "ins471",
                           " E\xC2\xA0"
                           "471 ",
                           "E\xE2\x80\x91"
                           "471"})
    EXPECT_EQ(additive_number(text), "E471") << text;
  for (const char* text : {"E150d", "E 150 d", "e150D", "E-150-d", "INS 150d"}) EXPECT_EQ(additive_number(text), "E150d") << text;
  EXPECT_EQ(additive_number("E1422"), "E1422");
  EXPECT_EQ(additive_number("E 100"), "E100");
}

TEST(AdditiveNumber, KeepsItsSuffixApart) {
  for (const char* text : {"E471(i)", "e471 (I)", "INS 471(i)"})
    EXPECT_EQ(read_additive_number(text), (AdditiveNumber{"E471", "(i)"})) << text;
  EXPECT_EQ(read_additive_number("E160b(ii)"), (AdditiveNumber{"E160b", "(ii)"}));
  EXPECT_EQ(read_additive_number("E471"), (AdditiveNumber{"E471", ""}));
}

TEST(AdditiveNumber, IsNothingWhenItIsMisspelt) {
  for (const char* text : {"", "E", "471", "E47l", "E47", "E4711", "E099", "E1600", "EE471", "E471x", "E471(a)", "E471(i", "E471 and E472",
                           "F471", "Emulsifier 471", "E471bc", "E 4 71"})
    EXPECT_EQ(additive_number(text), std::nullopt) << text;
}

TEST(FindAdditive, TakesNumberOrNameInAnyCase) {
  const LabelTerms terms = label_terms();
  for (const char* text :
       {"E 471", "e471(i)", "INS 471", "Mono- and Diglycerides  of fatty acids", "MONO- AND DIGLYCERIDES OF FATTY ACIDS"}) {
    const AdditiveTerm* row = find_additive_by_text(terms, text);
    ASSERT_NE(row, nullptr) << text;
    EXPECT_EQ(row->number, "E471") << text;
  }
  EXPECT_EQ(find_additive_by_text(terms, "lecithin")->number, "E322") << "singular";
}

TEST(FindAdditive, GivesTheSameWithNamesKeptAndInEveryCopy) {
  const LabelTerms plain = label_terms();
  LabelTerms keeping = label_terms();
  keep_additive_names(keeping);
  LabelTerms copy = keeping;
  for (const char* text :
       {"lecithin", "lecithins", "Mono- and diglycerides of fatty acids", "tartrazine", "E 440", "soda", "caramel", ""}) {
    const AdditiveTerm* row = find_additive_by_text(plain, text);
    for (const LabelTerms* terms : {&keeping, &copy}) {
      const AdditiveTerm* kept = find_additive_by_text(*terms, text);
      ASSERT_EQ(kept == nullptr, row == nullptr) << text;
      if (row == nullptr) continue;
      EXPECT_EQ(kept->number, row->number) << text;
      EXPECT_TRUE(kept >= terms->additives.data() && kept < terms->additives.data() + terms->additives.size()) << text;
    }
  }
  LabelTerms elsewhere = label_terms();
  elsewhere.additives.front().print = "Yellow 5";
  keep_additive_names(elsewhere);
  ASSERT_NE(find_additive_by_text(elsewhere, "yellow 5"), nullptr);
  EXPECT_EQ(find_additive_by_text(in_language(elsewhere, "de"), "yellow 5"), nullptr) << "its printed name is of the first language";
  ASSERT_NE(find_additive_by_text(elsewhere, "yellow 5"), nullptr) << "and stays there";
  copy.additives.push_back(additive("E414", "acacia gum", {"thickener"}));
  ASSERT_NE(find_additive_by_text(copy, "acacia gum"), nullptr) << "a row more is noticed";
  EXPECT_EQ(find_additive_by_text(copy, "acacia gum")->number, "E414");
  EXPECT_EQ(find_additive_by_text(keeping, "acacia gum"), nullptr);
}

TEST(FindAdditive, KnowsOneWithoutANumberByItsName) {
  LabelTerms terms;
  terms.additives.push_back({{}, "Gardenia blue", "Gardenia blue, Genipin blue", {"colour"}, "not permitted", "not listed"});
  for (const char* text : {"gardenia blue", "Genipin Blue"}) {
    const auto* row = find_additive_by_text(terms, text);
    ASSERT_NE(row, nullptr) << text;
    EXPECT_EQ(row->number, "Gardenia blue");
  }
  EXPECT_EQ(find_additive_by_text(terms, "Gardenia blue"), terms.additive("Gardenia blue"));
  ASSERT_EQ(read_additive_text(terms, "colours (gardenia blue)").found.size(), 1U);
  EXPECT_EQ(read_additive_text(terms, "colours (gardenia blue)").found[0].number, "Gardenia blue");
  EXPECT_THAT(near_additives(terms, "gardenia bleu"), testing::ElementsAre("Gardenia blue, Genipin blue"));
  EXPECT_TRUE(near_additives(terms, "E102").empty());
}

TEST(FindAdditive, FindsNothingForAMisspeltName) {
  const LabelTerms terms = label_terms();
  for (const char* text : {"lecithyn", "tartrazin", "mono and diglycerides of fatty acids", "E4711", "", "wheat flour", "471"})
    EXPECT_EQ(find_additive_by_text(terms, text), nullptr) << text;
}

TEST(FindAdditive, KnowsEachOfSeveralNamesAndThePrintedOne) {
  LabelTerms terms;
  terms.additives = {additive("E122", "Azorubine, Carmoisine", {"colour"}),
                     additive("E901", "Beeswax, white and yellow", {"glazing agent"}),
                     additive("E1520", "Propane-1,2-diol (propylene glycol)", {"humectant"}), additive("E102", "Tartrazine", {"colour"})};
  terms.additives.back().print = "Yellow 5";
  EXPECT_EQ(find_additive_by_text(terms, "carmoisine")->number, "E122");
  EXPECT_EQ(find_additive_by_text(terms, "Propylene Glycol")->number, "E1520");
  EXPECT_EQ(find_additive_by_text(terms, "propane-1,2-diol")->number, "E1520");
  EXPECT_EQ(find_additive_by_text(terms, "yellow 5")->number, "E102");
  EXPECT_EQ(find_additive_by_text(terms, "white and yellow"), nullptr) << "an enumeration is one name";
}

TEST(FindAdditive, PrefersTheRowWithTheSuffix) {
  LabelTerms terms;
  terms.additives = {additive("E160b", "annatto", {"colour"}), additive("E160b(i)", "annatto bixin", {"colour"})};
  EXPECT_EQ(find_additive_by_text(terms, "E160b(i)")->name, "annatto bixin");
  EXPECT_EQ(find_additive_by_text(terms, "E160b(ii)")->name, "annatto");
}

TEST(FindAdditive, PrefersTheVeryNameToItsSingularOrPlural) {
  LabelTerms terms;
  terms.additives = {additive("E500", "Sodium carbonates", {"raising agent"}), additive("E500(i)", "Sodium carbonate", {"raising agent"}),
                     additive("E440", "Pectins", {"gelling agent"})};
  EXPECT_EQ(find_additive_by_text(terms, "sodium carbonate")->number, "E500(i)");
  EXPECT_EQ(find_additive_by_text(terms, "sodium carbonates")->number, "E500");
  EXPECT_EQ(find_additive_by_text(terms, "pectin")->number, "E440") << "no row has the very name";
}

TEST(NearAdditives, SuggestWhatAMisspeltTextMayMean) {
  const LabelTerms terms = label_terms();
  EXPECT_EQ(near_additives(terms, "tartrazin"), std::vector<std::string>{"E102 (tartrazine)"});
  EXPECT_EQ(near_additives(terms, "471"), std::vector<std::string>{"E471 (mono- and diglycerides of fatty acids)"});
  EXPECT_EQ(near_additives(terms, "E4711"), std::vector<std::string>{"E471 (mono- and diglycerides of fatty acids)"});
  EXPECT_TRUE(near_additives(terms, "wheat flour").empty());
  EXPECT_TRUE(near_additives(terms, "").empty());
  EXPECT_LE(near_additives(terms, "E10").size(), 3U);
}

using Found = std::vector<AdditiveInText>;

// How packs print an additive in one text with its class, brackets, lists and certified names: common practice, no source. Certified
// names of colours: 21 CFR 74.
LabelTerms certified() {
  LabelTerms terms = label_terms();
  for (AdditiveTerm& row : terms.additives) {
    if (row.number == "E102") row.print = "Yellow 5";
    if (row.number == "E127") row.print = "Red 3";
  }
  terms.additives.push_back(additive("E133", "brilliant blue FCF", {"colour"}));
  terms.additives.back().print = "Blue 1";
  terms.class_titles = {"colour", "emulsifier", "preservative"};
  return terms;
}

TEST(ReadAdditiveText, FindsOneInEveryFormThatPacksPrint) {
  const LabelTerms terms = certified();
  const std::vector<std::pair<const char*, std::string>> texts = {{"tartrazine (E102)", "E102"},
                                                                  {"E102 (tartrazine)", "E102"},
                                                                  {"colour: E102", "E102"},
                                                                  {"colour (E 102)", "E102"},
                                                                  {"Colour: tartrazine", "E102"},
                                                                  {"FD&C Yellow No. 5", "E102"},
                                                                  {"artificial color (Yellow 5)", "E102"},
                                                                  {"FD&C Red No. 3", "E127"},
                                                                  {"Blue 1 Lake", "E133"},
                                                                  {"FD&C Blue #1 aluminum lake", "E133"},
                                                                  {"brilliant blue", "E133"},
                                                                  {"emulsifier E471(i)", "E471"},
                                                                  {"emulsifier: INS 471", "E471"},
                                                                  {"tartrazine lake", "E102"},
                                                                  {"colour E 102", "E102"},
                                                                  {"E-102 colour", "E102"},
                                                                  {"preservative: sulphur dioxide", "E220"}};
  for (const auto& [text, number] : texts) {
    const AdditiveText read = read_additive_text(terms, text);
    ASSERT_EQ(read.found.size(), 1U) << text;
    EXPECT_EQ(read.found[0].number, number) << text;
    EXPECT_EQ(read.open, "") << text;
  }
  EXPECT_EQ(read_additive_text(terms, "colours: E102").class_title, "colour");
  EXPECT_EQ(read_additive_text(terms, "tartrazine (E102)").found, (Found{{"E102", "tartrazine"}}));
}

TEST(ReadAdditiveText, FindsEachOfAList) {
  const LabelTerms terms = certified();
  for (const char* text : {"colours (E 102, E 110)", "colours: tartrazine and sunset yellow", "colour: E102/E110",
                           "colours (E102 and E110)", "E102, E110, E102"}) {
    const AdditiveText read = read_additive_text(terms, text);
    ASSERT_EQ(read.found.size(), 2U) << text;
    EXPECT_EQ(read.found[0].number, "E102") << text;
    EXPECT_EQ(read.found[1].number, "E110") << text;
    EXPECT_EQ(read.open, "") << text;
  }
}

TEST(ReadAdditiveText, LeavesOpenWhatSpeaksOfAnAdditiveAndDoesNotTellWhich) {
  const LabelTerms terms = certified();
  for (const auto& [text, open] : std::vector<std::pair<const char*, std::string>>{{"colour", "colour"},
                                                                                   {"artificial color", "artificial color"},
                                                                                   {"food colouring", "food colouring"},
                                                                                   {"colour: sunshine", "sunshine"},
                                                                                   {"colours (E102, moonlight)", "moonlight"},
                                                                                   {"FD&C Red No. 99", "FD&C Red No. 99"},
                                                                                   {"colour E10222", "e10222"}}) {
    const AdditiveText read = read_additive_text(terms, text);
    EXPECT_EQ(read.open, open) << text;
  }
}

TEST(ReadAdditiveText, TakesNoFoodForAnAdditive) {
  const LabelTerms terms = certified();
  for (const char* text :
       {"caramel", "wheat flour", "red wine", "sugar", "yellow maize", "silver birch sap", "colourful sprinkles", "e", ""})
    EXPECT_TRUE(read_additive_text(terms, text).found.empty() && read_additive_text(terms, text).open.empty())
        << text << ": " << read_additive_text(terms, text).open;
}

}  // namespace
}  // namespace tierproof
