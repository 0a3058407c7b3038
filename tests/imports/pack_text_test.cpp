#include "tierproof/imports/pack_text.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include "tierproof/text/number.h"

namespace tierproof {
namespace {

const PackTextWords words{{"emulsifier", "raising agent", "colour", "antioxidant", "acidity regulator"},
                          {"ingredients", "zutaten"},
                          {"may contain"},
                          {"contains"},
                          {"e", "ins"}};

std::string shown(const std::vector<PackPart>& parts) {
  std::string all;
  for (const auto& part : parts) {
    if (!all.empty()) all += " | ";
    if (!part.class_title.empty()) all += "<" + part.class_title + "> ";
    all += part.name;
    if (part.share) all += " =" + format_decimal(*part.share * 100, 1);
    for (const auto& mark : part.marked) all += " !" + mark;
    if (!part.parts.empty()) all += " [" + shown(part.parts) + "]";
  }
  return all;
}
PackText read(std::string_view text) {
  auto result = read_pack_text(text, words, "pack.txt");
  EXPECT_TRUE(result) << text << ": " << (result ? "" : describe(result.error().front()));
  return result ? *result : PackText{};
}
std::string parts_in(std::string_view text) { return shown(read(text).parts); }
std::string refused(std::string_view text) {
  const auto result = read_pack_text(text, words, "pack.txt");
  EXPECT_FALSE(result) << text;
  return result ? "" : describe(result.error().front());
}

TEST(PackText, TakesAWholePackApart) {
  const PackText pack = read(
      "Ingredients: Wheat flour (wheat flour, calcium carbonate, iron, niacin, thiamin), sugar, palm oil 12 %, raising\nagents: E450(i), "
      "E500; emulsifier (soya lecithin), MILK powder. May contain traces of nuts and sesame. Contains: wheat, soya, milk. Store cool.");
  EXPECT_EQ(shown(pack.parts),
            "wheat flour [wheat flour | calcium carbonate | iron | niacin | thiamin] | sugar | palm oil =12.0 | <raising agent> E450(i) | "
            "<raising agent> E500 | <emulsifier> soya lecithin | milk powder !milk");
  EXPECT_EQ(pack.may_contain, (std::vector<std::string>{"traces of nuts", "sesame"}));
  EXPECT_EQ(pack.contains, (std::vector<std::string>{"wheat", "soya", "milk"}));
  EXPECT_EQ(pack.other, std::vector<std::string>{"Store cool"});
}

TEST(PackText, FindsThePercentageWhereverItStands) {
  EXPECT_EQ(parts_in("12 % butter, sugar (30%), flour 12,5 %, egg (dried) 4.25%, cream (10 %, pasteurised)"),
            "butter =12.0 | sugar =30.0 | flour =12.5 | egg =4.3 [dried] | cream =10.0 [pasteurised]");
  EXPECT_EQ(parts_in("water,sugar"), "water | sugar");
}

TEST(PackText, KeepsTheClassTitleToItsAdditives) {
  EXPECT_EQ(parts_in("sugar, colours (E100, beetroot red), salt; Emulsifiers: E471, lecithins (soya); flavouring"),
            "sugar | <colour> E100 | <colour> beetroot red | salt | <emulsifier> E471 | <emulsifier> lecithins [soya] | flavouring");
  EXPECT_EQ(parts_in("raising agents: INS 450 (iii), e500(II), acidity regulators: E330"),
            "<raising agent> INS 450(iii) | <raising agent> e500(ii) | <acidity regulator> E330");
}

TEST(PackText, TellsWhatThePackMakesStandOut) {
  EXPECT_EQ(parts_in("sugar, **soya** flour, egg*, *Almond* paste, WHEAT GLUTEN, E471"),
            "sugar | soya flour !soya | egg !egg | Almond paste !Almond | wheat gluten !wheat gluten | E471");
  EXPECT_EQ(parts_in("SUGAR, MILK POWDER"), "SUGAR | MILK POWDER") << "where all is in capitals they mean nothing";
}

TEST(PackText, JoinsLinesAndTheHalvesOfWords) {
  EXPECT_EQ(parts_in("sugar, glu-\r\ncose syrup,\n\nwheat\nflour, mono-\nand diglycerides"),
            "sugar | glucose syrup | wheat flour | mono- and diglycerides");
  EXPECT_EQ(read("sugar, milk\nContains: milk\nMay contain egg").contains, std::vector<std::string>{"milk"});
}

TEST(PackText, LeavesTheHeadingAndWhatStandsBeforeIt) {
  EXPECT_EQ(parts_in("Zutaten: Zucker"), "zucker");
  const PackText pack = read("Vanilla sponge mix\nIngredients: sugar.");
  EXPECT_EQ(shown(pack.parts), "sugar");
  EXPECT_EQ(pack.other, std::vector<std::string>{"Vanilla sponge mix"});
  EXPECT_EQ(parts_in("ingredientsugar"), "ingredientsugar") << "a heading is a whole word";
}

TEST(PackText, RefusesWhatItCannotTakeApart) {
  EXPECT_EQ(refused(""), "pack.txt:1: there is no ingredient in it; paste the list of ingredients as the pack prints it");
  EXPECT_EQ(refused("sugar,\nflour (wheat,\niron"),
            "pack.txt:2: a bracket is opened after \"sugar, flour (\" and never closed; close it where the pack does");
  EXPECT_EQ(refused("sugar, salt), egg"),
            "pack.txt:1: a bracket is closed after \"sugar, salt)\" that was never opened; open it where the pack does, or leave it away");
  EXPECT_EQ(refused("sugar (beet], egg"),
            "pack.txt:1: \"]\" closes a bracket that \")\" would close, after \"sugar (beet]\"; use the brackets of the pack");
  EXPECT_NE(refused("sugar 120 %").find("\"120 %\" is no percentage up to 100"), std::string::npos);
  EXPECT_NE(refused("sugar 60 %, flour 50 %").find("come to 110.0 %"), std::string::npos);
  EXPECT_NE(refused("sugar 10 % (20 %)").find("two percentages"), std::string::npos);
  EXPECT_NE(refused("sugar,, salt").find("nothing stands where an ingredient should"), std::string::npos);
  EXPECT_NE(refused("sugar, ").find("nothing stands where an ingredient should"), std::string::npos);
  EXPECT_NE(refused("filling: jam").find("neither a heading nor the class of an additive"), std::string::npos);
  EXPECT_NE(refused("sugar \xFF").find("not plain text"), std::string::npos);
  EXPECT_NE(refused(std::string(30, '(') + "x").find("brackets stand in each other"), std::string::npos);
}

TEST(PackText, NeverCrashesWhereverItIsCut) {
  const std::string text =
      "Ingr\xC3\xA9"
      "dients. Ingredients: **Wheat** flour* (wheat [iron {x}], 12,5 %), raising agents: E450(i); cr\xC3\xA8me fra\xC3\xAE"
      "che 3 %, glu-\n"
      "cose\xC2\xA0syrup. May contain: nuts/egg & milk or fish.\nContains: wheat. Other.";
  std::size_t read_whole = 0;
  for (std::size_t i = 0; i <= text.size(); ++i) {
    for (const auto& piece : {text.substr(0, i), text.substr(i)}) {
      const auto result = read_pack_text(piece, words, "pack.txt");
      if (!result) {
        EXPECT_FALSE(result.error().front().message.empty());
      } else {
        ++read_whole;
        EXPECT_FALSE(result->parts.empty()) << piece;
      }
    }
  }
  EXPECT_GT(read_whole, 20u);
}

std::vector<PackPart> some_parts(int depth) {
  std::vector<PackPart> parts;
  const int count = *rc::gen::inRange(1, 4);
  int left = 1000;  // thousandths that the percentages of this list may still take
  for (int i = 0; i < count; ++i) {
    PackPart part;
    part.name = *rc::gen::element<std::string>("wheat flour", "sugar", "palm oil", "milk powder", "E450(i)", "E471",
                                               "mono- and diglycerides", "cr\xC3\xA8me", "almonds", "lecithins", "salt and pepper");
    if (part.name.starts_with("E4") || *rc::gen::inRange(0, 4) == 0)
      part.class_title = *rc::gen::element<std::string>("emulsifier", "raising agent", "");
    if (*rc::gen::inRange(0, 3) == 0) {
      const int share = *rc::gen::inRange(0, left + 1);
      left -= share;
      part.share = share_of(share, 1000);
    }
    if (part.name == "milk powder" && *rc::gen::inRange(0, 2) == 0) part.marked = {"milk"};
    if (part.name == "almonds" && *rc::gen::inRange(0, 2) == 0) part.marked = {"almonds"};
    if (depth < 3 && *rc::gen::inRange(0, 3) == 0) part.parts = some_parts(depth + 1);
    parts.push_back(std::move(part));
  }
  return parts;
}

RC_GTEST_PROP(PackTextProperty, IsReadAgainAsItWasWritten, ()) {
  PackText text;
  text.parts = some_parts(0);
  text.may_contain = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>("nuts", "sesame", "traces of milk"));
  text.contains = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>("wheat", "eggs"));
  text.other = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>("Store cool", "Packed in a box"));
  const std::string written = write_pack_text(text, words);
  const auto again = read_pack_text(written, words, "again");
  RC_LOG() << written;
  RC_ASSERT(again.has_value());
  RC_ASSERT(again->parts == text.parts);
  RC_ASSERT(again->may_contain == text.may_contain);
  RC_ASSERT(again->contains == text.contains);
  RC_ASSERT(again->other == text.other);
}

}  // namespace
}  // namespace tierproof
