#include "tierproof/app/taking_in.h"

#include "app/app_for_tests.h"
#include "tierproof/app/lists.h"
#include "tierproof/text/csv.h"

namespace tierproof {
namespace {

using testing::ElementsAre;

const std::string foods = "ingredient,name,added_water,sugar,animal_origin,egg\n";
const std::string recipes = "recipe,name,part,item,kind,mass,yield,egg,storage,life_days,life_reason,kit\n";

Result<TakenIn> taken(Session& session, const std::string& table, const std::string& text, bool book = false, char separator = ',') {
  return take_in(session, {table, {"folder/table.csv", text}, separator, book});
}

/// What the table would change, or did, each as `new oats: name= -> rolled oats; ...`.
Strings fates(TestKitchen& kitchen, const std::string& table, const std::string& text, bool book = false) {
  Session session = kitchen.open();
  const auto done = taken(session, table, text, book);
  Strings all;
  if (!done) {
    for (const auto& refusal : done.error()) ADD_FAILURE() << describe(refusal);
    return all;
  }
  for (const auto& row : done->rows) {
    std::string words = std::string{word_of(row.fate)} + " " + row.subject;
    for (const auto& change : row.changes) words += "; " + change.column + ": " + change.was + " -> " + change.is;
    all.push_back(words);
  }
  return all;
}

/// Every refusal in words; nothing may be booked, whether asked for or not.
std::string refused(TestKitchen& kitchen, const std::string& table, const std::string& text, char separator = ',') {
  std::string all;
  for (const bool book : {false, true}) {
    Session session = kitchen.open();
    const auto before = session.head().size;
    const auto done = taken(session, table, text, book, separator);
    EXPECT_FALSE(done.has_value());
    EXPECT_EQ(kitchen.open(true).head().size, before) << "a refusal books nothing";
    std::string now;
    if (!done) {
      for (const auto& refusal : done.error()) now += describe(refusal) + "\n";
    }
    if (book) {
      EXPECT_EQ(now, all) << "booked or not, the same is refused";
    }
    all = now;
  }
  return all;
}

TEST(TakingIn, ShowsEachChangeAndBooksNothingUnlessAsked) {
  TestKitchen kitchen;
  const auto before = kitchen.open(true).head();
  EXPECT_THAT(
      fates(kitchen, "ingredients", foods + "flour,flour,no,no,no,none\nsugar,white sugar,no,no,no,none\noats,rolled oats,no,no,no,none\n"),
      ElementsAre("same flour", "changed sugar; name: sugar -> white sugar; sugar: yes -> no",
                  "new oats; name:  -> rolled oats; added_water:  -> no; sugar:  -> no; animal_origin:  -> no; egg:  -> none"));
  EXPECT_EQ(kitchen.open(true).head(), before);
}

TEST(TakingIn, BooksEverythingInOneAppendWithItsReason) {
  TestKitchen kitchen;
  const auto before = kitchen.open(true).head().size;
  const auto sugar = kitchen.open(true).state().ingredients.at(IngredientId{"sugar"});
  fates(kitchen, "ingredients", foods + "flour,flour,no,no,no,none\nsugar,white sugar,no,yes,no,none\noats,rolled oats,no,no,no,none\n",
        true);
  const Session session = kitchen.open(true);
  EXPECT_EQ(session.head().size, before + 2);
  const auto& now = session.state().ingredients.at(IngredientId{"sugar"});
  EXPECT_EQ(now.value.name, "white sugar");
  EXPECT_EQ(now.place, sugar.place) << "it supersedes the note there was";
  EXPECT_EQ(now.happened, sugar.happened);
  EXPECT_TRUE(now.corrected());
  EXPECT_EQ(session.state().ingredients.at(IngredientId{"oats"}).value.name, "rolled oats");
  const Note* tip = tip_of(session.notes(), now.sequence);
  ASSERT_NE(tip, nullptr);
  EXPECT_EQ(session.store().sealed(tip->why.find("sealed")->text()), "taken in from table.csv");
  EXPECT_TRUE(session.store().verify({}).complaints.empty());
}

TEST(TakingIn, BooksNothingTwice) {
  TestKitchen kitchen;
  const std::string table = foods + "oats,rolled oats,no,no,no,none\n";
  fates(kitchen, "ingredients", table, true);
  const auto after = kitchen.open(true).head();
  EXPECT_THAT(fates(kitchen, "ingredients", table, true), ElementsAre("same oats"));
  EXPECT_EQ(kitchen.open(true).head(), after);
}

TEST(TakingIn, FindsEveryListOfOursTheSame) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) {
    return add_supplier(s, "farm", Supplier{{"=Farm & \"Sons\", Ltd", "3 Hill"}, Firm{"Owner", "4 Hill"}, {}});
  });
  kitchen.recipe("cake-mix", R"([{"of": "sponge", "recipe": true, "mass": "100.5 g"}, {"of": "sugar", "mass": "1.2 kg"}])", "1.3 kg",
                 "bowl", "none", "fridge",
                 R"(, "syrup_target": "118 C", "syrup_target_at": "sea level", "frozen_days": 30, "thawed_days": 2)");
  kitchen.recipe("curd", R"([{"of": "eggs", "mass": "100 g"}, {"of": "sugar", "mass": "20 g"}])", "110 g", "bowl", "raw, heated here",
                 "fridge", R"(, "heated_together": ["eggs", "sugar"], "heat_food": "egg")");
  for (const char* name : {"suppliers", "ingredients", "recipes"}) {
    std::string csv;
    {
      const Session session = kitchen.open(true);
      csv = write_csv(table_to_save(*find_list(name), session));
    }
    const auto found = fates(kitchen, name, csv);
    EXPECT_GE(found.size(), 2u) << name;
    for (const auto& one : found) EXPECT_TRUE(one.starts_with("same ")) << one;
  }
}

TEST(TakingIn, TakesTheHabitsOfSpreadsheets) {
  TestKitchen kitchen;
  EXPECT_THAT(fates(kitchen, "suppliers", "\xef\xbb\xbfSupplier,Name,ADDRESS,,\r\nfarm,\" Hill Farm \",'=3 Hill,,\r\n,,,,\r\n,\r\n\r\n"),
              ElementsAre("new farm; name:  -> Hill Farm; address:  -> =3 Hill"));
  Session session = kitchen.open();
  const auto semicolons = taken(session, "suppliers", "supplier;name;address\nfarm;Farm;3 Hill, Town\n", false, ';');
  ASSERT_TRUE(semicolons.has_value());
  EXPECT_EQ(semicolons->rows.front().changes.back().is, "3 Hill, Town");
  EXPECT_TRUE(taken(session, "suppliers", "supplier\tname\taddress\nfarm\tFarm\t3 Hill\n", false, '\t').has_value());
  EXPECT_THAT(fates(kitchen, "ingredients", foods + "oats,oats,FALSE,No,TRUE,none\n"), ElementsAre(HasSubstr("animal_origin:  -> yes")));
}

TEST(TakingIn, SaysWhichSeparatorAFileHas) {
  TestKitchen kitchen;
  EXPECT_EQ(refused(kitchen, "suppliers", "supplier;name;address\nfarm;Farm;3 Hill\n"),
            "folder/table.csv:1: has a semicolon between its columns, not a comma; add --separator semicolon\n");
  EXPECT_EQ(refused(kitchen, "suppliers", "supplier,name,address\nfarm,Farm,3 Hill\n", ';'),
            "folder/table.csv:1: has a comma between its columns, not a semicolon; add --separator comma\n");
  EXPECT_THAT(refused(kitchen, "suppliers", "supplier\tname\taddress\n"), HasSubstr("add --separator tab"));
  EXPECT_EQ(refused(kitchen, "suppliers", "\r\n\"supplier\";\"name\";\"address\"\r\n\"farm\";\"Farm, Ltd\";\"3 Hill\"\r\n"),
            "folder/table.csv:2: has a semicolon between its columns, not a comma; add --separator semicolon\n");
}

TEST(TakingIn, NamesEveryLineOfAnotherAlphabet) {
  TestKitchen kitchen;
  const std::string all = refused(kitchen, "suppliers",
                                  "supplier,name,address\nfarm,Caf\xe9,3 Hill\nmill,Mill,4 Hill\nshed,Sh\xe8"
                                  "d,5 Hill\n");
  EXPECT_THAT(all, HasSubstr("folder/table.csv:2: holds letters that are not UTF-8, as of a file saved as Windows-1252; save it as CSV"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:4: "));
  EXPECT_THAT(all, Not(HasSubstr(":3:")));
  EXPECT_THAT(refused(kitchen, "suppliers", std::string{"\xff\xfes\0u\0", 6}), HasSubstr("UTF-16"));
  EXPECT_THAT(refused(kitchen, "suppliers", std::string{"supplier,name,address\nfa\0rm,x,y\n", 33}),
              HasSubstr(":2: holds the character U+0000"));
}

TEST(TakingIn, NamesEveryHeadingThatIsWrong) {
  TestKitchen kitchen;
  const std::string all =
      refused(kitchen, "ingredients", "ingredient,name,name,colour,sugar,animal_origin,egg\noats,oats,oats,brown,no,no,none\n");
  EXPECT_THAT(all, HasSubstr("folder/table.csv:1: name: stands twice"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:1: colour: is not a heading of ingredients"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:1: added_water: this heading is missing"));
  EXPECT_THAT(refused(kitchen, "ingredients", ""), HasSubstr("holds nothing"));
  EXPECT_THAT(refused(kitchen, "ingredients", foods), HasSubstr("has no row below its headings"));
  EXPECT_THAT(
      refused(kitchen, "recipes", "recipe,name,part,item,kind,egg,storage,life_days,life_reason\nx,x,x,x,x,x,x,x,x\n"),
      testing::AllOf(HasSubstr(":1: mass: this heading is missing; add the column mass or mass_g"), HasSubstr(":1: yield: this heading")));
  EXPECT_THAT(refused(kitchen, "cupcakes", "x\n"), HasSubstr("cannot be taken in"));
}

TEST(TakingIn, NamesEveryFaultOfAFileWithLineAndColumn) {
  TestKitchen kitchen;
  const std::string all = refused(kitchen, "ingredients",
                                  foods + "Oats,oats,no,no,no,none\n" + "rye,,no,maybe,,shel\n" + "rye,rye,no,no,no,none\n" +
                                      "spelt,gluten-free spelt,no,no,no,none\n" + "corn,corn,no,no,no,none,and more\n");
  EXPECT_THAT(all, HasSubstr("folder/table.csv:2: ingredient: \"Oats\" cannot be a short name"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:3: name: is missing"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:3: sugar: \"maybe\" is neither yes nor no; write yes or no"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:3: animal_origin: is empty; write yes or no"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:3: egg: \"shel\" is not one of the answers"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:4: ingredient: \"rye\" stands in line 3 already"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:5: name: \"gluten free\" is a claim that this program does not print"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:6: column 7: \"and more\" stands under no heading"));
}

TEST(TakingIn, KeepsWhatATableDoesNotTellOf) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_supplier(s, "farm", Supplier{{"Farm", "3 Hill"}, Firm{"Owner", "4 Hill"}, {}}); });
  EXPECT_THAT(fates(kitchen, "suppliers", "supplier,name,address\nfarm,Farm,5 Hill\n", true),
              ElementsAre("changed farm; address: 3 Hill -> 5 Hill"));
  EXPECT_EQ(kitchen.open(true).state().suppliers.at(SupplierId{"farm"}).value.consignor->name, "Owner");
  EXPECT_EQ(kitchen.open(true).state().suppliers.at(SupplierId{"shop"}).value.firm.name, "Example Shop");
  EXPECT_THAT(fates(kitchen, "suppliers", "supplier,name,address,owner_of_food,owner_of_food_address\nfarm,Farm,5 Hill,,\n"),
              ElementsAre("changed farm; owner_of_food: Owner -> ; owner_of_food_address: 4 Hill -> "));
  const std::string half = "supplier,name,address,owner_of_food,owner_of_food_address\n";
  EXPECT_THAT(refused(kitchen, "suppliers", half + "farm,Farm,5 Hill,Owner,\n"), HasSubstr(":2: owner_of_food_address: is empty"));
  EXPECT_THAT(refused(kitchen, "suppliers", half + "farm,Farm,5 Hill,Gluten-free Ltd,x\n"),
              HasSubstr(":2: owner_of_food: \"gluten free\" is a claim"));
}

TEST(TakingIn, PutsTheRowsOfARecipeTogether) {
  TestKitchen kitchen;
  const std::string table = recipes +
                            "crumble,crumble,decoration,flour,ingredient,200 g,380 g,none,room,5,the maker's decision,bowl tin\n" +
                            "crumble,,,sugar,ingredient,\"0,1 kg\",,,,,,\ncrumble,crumble,,butter,ingredient,100g,,,,,,\n" +
                            "topping,topping,decoration,crumble,recipe,100 g,100 g,none,room,5,as the crumble,\n";
  fates(kitchen, "recipes", table, true);
  const Session session = kitchen.open(true);
  const Recipe& crumble = session.state().recipes.at(RecipeId{"crumble"}).value;
  ASSERT_EQ(crumble.items.size(), 3u);
  EXPECT_EQ(crumble.items[1].of, "sugar");
  EXPECT_EQ(crumble.items[1].mass, grams(100));
  EXPECT_EQ(crumble.yield, grams(380));
  EXPECT_EQ(crumble.kit, (std::vector<EquipmentId>{EquipmentId{"bowl"}, EquipmentId{"tin"}}));
  EXPECT_TRUE(session.state().recipes.at(RecipeId{"topping"}).value.items[0].recipe);
}

TEST(TakingIn, MakesAChangedRecipeANewVersion) {
  TestKitchen kitchen;
  const std::string batch = kitchen.make("icing", grams(298));
  const std::string table =
      "recipe,name,part,item,kind,mass_g,yield_g,egg,storage,life_days,life_reason\n"
      "icing,icing,sponge,butter,ingredient,120,318,none,fridge,4,the maker's decision\n"
      "icing,,,sugar,ingredient,200,,,,,\n";
  EXPECT_THAT(fates(kitchen, "recipes", table, true),
              ElementsAre("changed icing; ingredient butter: 100 g -> 120 g; yield: 298 g -> 318 g"));
  const Session session = kitchen.open(true);
  EXPECT_EQ(session.state().recipes.at(RecipeId{"icing"}).value.items[0].mass, grams(120));
  EXPECT_EQ(session.state().recipes.at(RecipeId{"icing"}).value.kit.size(), 1u) << "its kit stays, since the table has no such column";
  const auto& made = session.state().batches.at(BatchId{batch}).value;
  EXPECT_EQ(session.state().recipe_versions.at(made.recipe_version).value.items[0].mass, grams(100)) << "what it was made by";
}

TEST(TakingIn, TellsWhereASyrupsTargetStandsAndKeepsItWithoutTheColumn) {
  TestKitchen kitchen;
  const auto table = [](const std::string& headings, const std::string& cells, const std::string& yield) {
    return "recipe,name,part,item,kind,mass,yield,egg,storage,life_days,life_reason,syrup_target" + headings +
           "\nsyrup,syrup,syrup,sugar,ingredient,100 g," + yield + ",none,room,9,the maker,118 C" + cells + "\n";
  };
  const auto where = [&] { return kitchen.open(true).state().recipes.at(RecipeId{"syrup"}).value.syrup_target_at; };
  fates(kitchen, "recipes", table(",syrup_target_at", ",sea level", "110 g"), true);
  EXPECT_EQ(where(), "sea level");
  EXPECT_THAT(fates(kitchen, "recipes", table("", "", "111 g"), true), ElementsAre("changed syrup; yield: 110 g -> 111 g"));
  EXPECT_EQ(where(), "sea level");
  EXPECT_THAT(fates(kitchen, "recipes", table(",syrup_target_at", ",", "111 g"), true),
              ElementsAre("changed syrup; syrup_target_at: sea level -> "));
  EXPECT_EQ(where(), "");
  EXPECT_THAT(refused(kitchen, "recipes", table(",syrup_target_at", ",the hill", "111 g")), HasSubstr("syrup_target_at"));
}

TEST(TakingIn, KeepsWhichFoodsOfARecipeVary) {
  TestKitchen kitchen;
  kitchen.recipe("mix", R"([{"of": "sugar", "mass": "100 g"}])", "100 g", "bowl", "none", "room", R"(, "varying": ["fruit"])");
  fates(kitchen, "recipes", recipes + "mix,mix,sponge,sugar,ingredient,100 g,99 g,none,room,4,the maker's decision,bowl\n", true);
  EXPECT_EQ(kitchen.open(true).state().recipes.at(RecipeId{"mix"}).value.varying, Strings{"fruit"});
}

TEST(TakingIn, KeepsPanBowlAndTinOfARecipe) {
  TestKitchen kitchen;
  kitchen.recipe("sponge", R"([{"of": "flour", "mass": "100 g"}, {"of": "sugar", "mass": "100 g"}])", "190 g", "tin", "none", "room",
                 R"(, "boiled_together": ["sugar"], "bowl": {"mass": "500 g", "of": "glass"}, "egg_white_at": "20 C", "bowl_at": "21.5 C",)"
                 R"( "tin": "2xround:6:3", "portions": 12)");
  const Recipe before = kitchen.open(true).state().recipes.at(RecipeId{"sponge"}).value;
  fates(kitchen, "recipes",
        recipes + "sponge,sponge,sponge,flour,ingredient,110 g,200 g,none,room,4,decided,tin\nsponge,,,sugar,ingredient,100 g,,,,,,\n",
        true);
  const Recipe after = kitchen.open(true).state().recipes.at(RecipeId{"sponge"}).value;
  EXPECT_EQ(after.yield, grams(200));
  EXPECT_EQ(after.boiled_together, before.boiled_together);
  ASSERT_TRUE(after.bowl && after.tin);
  EXPECT_EQ(after.bowl->mass, grams(500));
  EXPECT_EQ(after.bowl->of, "glass");
  EXPECT_EQ(after.white_degrees, (Degrees{2000, Scale::celsius}));
  EXPECT_EQ(after.bowl_degrees, (Degrees{2150, Scale::celsius}));
  EXPECT_EQ(after.tin->across, 1524);
  EXPECT_EQ(after.tin->count, 2);
  EXPECT_EQ(after.portions, 12);
}

TEST(TakingIn, NamesEveryFaultOfARecipe) {
  TestKitchen kitchen;
  const std::string all = refused(
      kitchen, "recipes",
      recipes + "crumble,crumble,topping,flour,ingredient,200,0 g,none,room,soon,the maker's decision,bowl mixer fork\n" +
          "crumble,streusel,,oats,ingredient,1 g,,,,,,\n" + "crumble,,,eggs,food,2 g,,,,,,\n" + "crumble,,,flour,ingredient,,,,,,,\n" +
          ",,,flour,ingredient,1 g,,,,,,\n" + "slice,slice,sponge,eggs,ingredient,100 g,90 g,none,room,1,fresh,\n" +
          "slice,,,later,recipe,10 g,,,,,,\n" + "slice,,,oats,ingredient,10 g,,,,,,\n" +
          "later,later,sponge,flour,ingredient,100 g,0 g,none,room,1,fresh,bowl mixer fork\n");
  EXPECT_THAT(all, HasSubstr("folder/table.csv:2: part: \"topping\""));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:2: mass: \"200\" is not a mass"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:2: life_days: \"soon\" is not a number of days; write a whole number, 0 to 3650"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:3: name: \"streusel\" is not what line 2 says of crumble"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:4: kind: \"food\" is not one of the answers"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:5: mass: is missing"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:5: item: \"flour\" is listed twice"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:6: recipe: is empty"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:7: egg: says \"none\", but eggs is shell egg"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:8: item: the recipe later is not recorded before this one; move its rows above these"));
  EXPECT_THAT(all, Not(HasSubstr("no recipe called")));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:9: item: there is no ingredient called \"oats\""));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:10: yield: 0 is out of range"));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:10: kit: there is no piece of kit called \"mixer\""));
  EXPECT_THAT(all, HasSubstr("folder/table.csv:10: kit: there is no piece of kit called \"fork\""));
}

TEST(TakingIn, NeverMakesAnEggThatARecipeDoesNotKnowOf) {
  TestKitchen kitchen;
  const std::string all = refused(kitchen, "ingredients", foods + "flour,flour,no,no,no,none\nbutter,butter,no,no,yes,shell\n");
  EXPECT_EQ(all,
            "folder/table.csv:3: egg: does not fit the recipe icing, which says \"none\" of its egg; record the recipe as it is made "
            "with this egg first, or name another ingredient\n");
  EXPECT_THAT(fates(kitchen, "ingredients", foods + "eggs,eggs,no,no,no,pasteurised\n"),
              ElementsAre("changed eggs; egg: shell -> pasteurised"))
      << "the sponge is baked through, whatever its egg";
}

TEST(TakingIn, ReadsAFileThatIsCutAnywhereOrNamesItsFaults) {
  TestKitchen kitchen;
  const std::string ends[] = {
      recipes + "crumble,crumble,decoration,flour,ingredient,200 g,380 g,none,room,5,\"the maker's \"\"own\"\" decision\",bowl\r\n" +
          "crumble,,,sugar,ingredient,\"0,1 kg\",,,,,,\r\ntopping,topping,icing,crumble,recipe,100 g,90 g,none,room,5,as it is,\r\n",
      "\xef\xbb\xbf" + foods + "cr\xc3\xa8me,cr\xc3\xa8me,no,no,yes,none\noats,\"oats, rolled\",no,no,no,none\n"};
  Session session = kitchen.open();
  for (const char* form : {"recipes", "ingredients"}) {
    const std::string& whole = ends[form == std::string{"ingredients"}];
    std::size_t taken_whole = 0;
    for (std::size_t length = 0; length <= whole.size(); ++length) {
      const auto done = taken(session, form, whole.substr(0, length));
      if (done) {
        EXPECT_FALSE(done->rows.empty()) << length;
        taken_whole = done->rows.size();
        continue;
      }
      for (const auto& refusal : done.error()) {
        EXPECT_EQ(refusal.file, "folder/table.csv") << length;
        EXPECT_GT(refusal.line, 0) << length << " " << describe(refusal);
        EXPECT_NE(refusal.remedy, "") << length;
      }
    }
    EXPECT_EQ(taken_whole, form == std::string{"recipes"} ? 2u : 0u) << form;  // a short name has plain letters only
  }
}

TEST(TakingIn, IsBookedByAKnownPersonOnly) {
  TestKitchen kitchen;
  Entrance nobody = kitchen.entrance();
  nobody.person = "";
  Session session{nobody, rule_packs(), open_sqlite(nobody.kitchen_file, false)};
  const std::string table = foods + "oats,oats,no,no,no,none\n";
  EXPECT_TRUE(taken(session, "ingredients", table).has_value()) << "looking needs nobody";
  const auto booked = taken(session, "ingredients", table, true);
  ASSERT_FALSE(booked.has_value());
  EXPECT_EQ(booked.error().front().field, "--by");
}

}  // namespace
}  // namespace tierproof
