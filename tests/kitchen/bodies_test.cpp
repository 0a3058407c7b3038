#include "tierproof/kitchen/bodies.h"

#include <gtest/gtest.h>

namespace tierproof {
namespace {

Words some_words() { return {"w-1", std::string(64, 'a'), std::nullopt}; }
Date a_day() { return *parse_date("2026-05-01"); }

Keeping keeping_of_a_cake() {
  Keeping keeping;
  keeping.of = {{RecipeId{"sponge"}, 5, grams(900)}, {RecipeId{"buttercream"}, 7, grams(600)}};
  keeping.within = {{RecipeId{"syrup"}, 6, std::nullopt}};
  keeping.cake = CakeId{"cake-1"};
  keeping.from = "written advice";
  keeping.water_activity_e4 = 8600;
  keeping.water_activity_error_e4 = 100;
  keeping.ph_hundredths = 620;
  keeping.ph_error_hundredths = 10;
  keeping.method = "dew point";
  keeping.by = "food authority of the town";
  keeping.made = a_day();
  keeping.kept = "blue folder";
  keeping.place = "room";
  keeping.days = 3;
  keeping.says = "keeps three days in a cool room";
  return keeping;
}

/// One example of each kind with every member set, so that a member that is written and not read (or the other way) is found.
template <class Thing>
void is_read_back(const Thing& thing) {
  const Json body = body_of(thing);
  const auto again = read_body<Thing>(body, "a note");
  ASSERT_TRUE(again.has_value()) << describe(again.error().front());
  EXPECT_EQ(write_canonical(body_of(*again)), write_canonical(body)) << KindOf<Thing>::kind;
  for (const auto& [key, member] : body.object()) {
    Json unknown = body;
    unknown.object().emplace(key + "_x", member);
    const auto refused = read_body<Thing>(unknown, "a note");
    ASSERT_FALSE(refused.has_value()) << KindOf<Thing>::kind << " takes " << key << "_x";
    EXPECT_EQ(refused.error().front().field, key + "_x");
    EXPECT_EQ(refused.error().front().file, "a note");
  }
}

TEST(Bodies, EveryKindIsReadBackAsItWasWritten) {
  is_read_back(Kitchen{"A Kitchen",
                       {"Unit 0", "Town"},
                       "Europe/London",
                       40,
                       100'400,
                       "gb",
                       "gb-eng",
                       "gb",
                       true,
                       "seed",
                       "GB",
                       365,
                       2,
                       40'000,
                       "direct or local",
                       120,
                       "9521234"});
  is_read_back(Person{some_words(), "owner"});
  is_read_back(Person{some_words(), "helper", parse_date("2026-05-01")});
  is_read_back(Supplier{{"Mill", "1 Lane"}, Firm{"Owner", "2 Lane"}, Firm{"Other", "3 Lane"}});
  is_read_back(Ingredient{"water", true, true, true, "shell", "acid"});
  Specification specification;
  specification.ingredient = IngredientId{"jam"};
  specification.supplier = SupplierId{"shop"};
  specification.label_name = "jam";
  SpecifiedPart part{"pectins", 100, "E440", "gelling agent", true, {"milk"}, {}};
  part.parts.push_back({"sugar", {}, "", "", true, {}, {}});
  part.marks = {"nano"};
  part.why_idle = "a carrier";
  part.processing_aid = true;
  part.ug_per_kg = 1500;
  specification.parts = {part};
  specification.allergens = {
      {"milk", "contains", "", "milk sugar", ""}, {"fish", "contains", "", "", "cod"}, {"eggs", "absent", "sheet 4"}};
  specification.additive = "E440";
  specification.additive_class = "gelling agent";
  specification.fixed_by_law = "jam";
  specification.varying_group = "fruit";
  specification.sweetening = "sugar";
  specification.polyols_ppm = 1;
  specification.sulphites_ug_per_kg = 2;
  specification.storage = "fridge";
  specification.use_within_days = 3;
  specification.water_ppm = 4;
  specification.ph_hundredths = 455;
  specification.water_activity_e4 = 8500;
  specification.checked = a_day();
  specification.checked_against = "the jar";
  specification.kind = "fruit";
  specification.marks = {"irradiated"};
  specification.glycyrrhizinic_ug_per_kg = 150'000;
  specification.limit_food = "dried apricots";
  specification.substitutes = "frying oil";
  specification.dried_thousandths = 7500;
  specification.sold_as = "for parts removed before eating";
  specification.other_languages = {{"fr", "confiture", {part}}};
  specification.density_mg_per_ml = 845;
  specification.density_by = "weighed here";
  is_read_back(specification);
  is_read_back(Lot{IngredientId{"jam"}, SupplierId{"shop"}, 7, "J1", "strawberry jam", grams(500), a_day(), a_day(), a_day(), a_day(),
                   "assured scheme", "Scheme", a_day()});
  is_read_back(Withdrawal{LotId{"pack-1"}, some_words()});
  is_read_back(Equipment{"whisk"});
  is_read_back(Place{"fridge", "fridge"});
  is_read_back(Probe{"fork", Scale::fahrenheit, 100, 10, "food", PlaceId{"fridge"}, 3});
  is_read_back(ProbeCheckMade{ProbeId{"fork"}, "ice", Degrees{3210, Scale::fahrenheit}});
  is_read_back(ProbeCheckMade{ProbeId{"fork"}, "boiling", Degrees{20520, Scale::fahrenheit}, 90'530, "two-point"});
  is_read_back(Recipe{"curd",
                      "filling",
                      {{"eggs", false, grams(100), 400'000, "flambeed", true}, {"syrup", true, grams(50)}},
                      grams(140),
                      {EquipmentId{"pan"}},
                      "raw, heated here",
                      {IngredientId{"eggs"}},
                      "core of a cooked food",
                      Degrees{11800, Scale::celsius},
                      "sea level",
                      "fridge",
                      4,
                      "measured",
                      30,
                      2,
                      "lemon curd",
                      {{"fr", "creme au citron"}},
                      {"fruit"},
                      "heated",
                      {IngredientId{"sugar"}},
                      MixingBowl{grams(500), "steel"},
                      Degrees{2000, Scale::celsius},
                      Degrees{2100, Scale::celsius},
                      RecipeTin{"round", 1524, 762, 2},
                      12});
  is_read_back(Batch{RecipeId{"curd"},
                     9,
                     {{"pack-1", false, grams(10), true, TubId{"tub-1"}, 400'000, true}, {"batch-1", true, grams(5), false}},
                     grams(14),
                     true,
                     {EquipmentId{"pan"}},
                     "",
                     Instant{Span{5}},
                     PlaceId{"fridge"},
                     Degrees{400, Scale::celsius},
                     grams(1)});
  is_read_back(ReadingsBlock{ProbeId{"fork"}, "batch-1", "heat step", 2, Instant{Span{1}}, Instant{Span{2}}, "ab", "log.csv"});
  is_read_back(Stay{"cake-1", PlaceId{"fridge"}});
  is_read_back(Cake{"Lemon cake",
                    a_day(),
                    some_words(),
                    "not boxed",
                    "the maker",
                    "at a distance",
                    2,
                    900,
                    some_words(),
                    12,
                    {RecipeId{"curd"}},
                    "somewhere else",
                    "gb",
                    {"lemon"},
                    {"defrosted"},
                    "by part",
                    {{"fr", "gateau au citron"}},
                    "9521234543213",
                    2000,
                    {"fruit"},
                    {{"fr", "nuts", "noix"}}});
  is_read_back(SpecificationLooked{7, a_day(), "the sack"});
  is_read_back(RuleConfirmed{"lot-mark", "gb", "art. 2", "food authority of the town", some_words(), "5dc9"});
  is_read_back(AllergyAnswer{CakeId{"cake-1"}, "named", some_words(), some_words(), some_words()});
  is_read_back(Acceptance{CakeId{"cake-1"}, some_words(), some_words()});
  is_read_back(Tier{CakeId{"cake-1"}, "top", {{BatchId{"batch-1"}, grams(10), true}}, {{"dowel", 4}}});
  is_read_back(Cleaning{EquipmentId{"whisk"}, "washed and tested"});
  is_read_back(Adopted{RecipeId{"meringue"}, 5, "low-water-activity", "Table 7", "5dc9", 850'000, "a laboratory", "asked the authority"});
  is_read_back(keeping_of_a_cake());
  is_read_back(Validation{RecipeId{"curd"}, 5, Degrees{7100, Scale::celsius}, 120'000, "a laboratory", "blue folder", a_day()});
  is_read_back(Release{CakeId{"cake-1"}, 30, {{"egg-heat", "batch-1", "not shown", some_words(), some_words()}}});
  is_read_back(HandOver{CakeId{"cake-1"}, some_words(), some_words(), Degrees{520, Scale::celsius}});
  is_read_back(Tub{"flour tub", IngredientId{"flour"}});
  is_read_back(TopUp{TubId{"flour-tub"}, LotId{"pack-1"}});
  is_read_back(Emptied{TubId{"flour-tub"}});
  is_read_back(Opened{LotId{"pack-1"}});
  is_read_back(ColumnMapKept{"key\tvalue\n"});
  is_read_back(Told{CakeId{"cake-1"}, "before the order", some_words(), some_words(), "cannot-promise"});
  is_read_back(Deviation{{"batch-1", "cake-fridge"}, "control", "cold-hold", some_words()});
  is_read_back(DeviationClosed{DeviationId{"deviation-1"}, "binned", some_words(), some_words()});
  is_read_back(Complaint{CakeId{"cake-1"}, "illness", some_words(), some_words()});
  is_read_back(ComplaintClosed{ComplaintId{"complaint-1"}, some_words()});
  is_read_back(Disposal{"batch-1", grams(20), some_words()});
  is_read_back(Missed{"cake-fridge", a_day(), "forgotten", some_words()});
  is_read_back(Erasure{CakeId{"cake-1"}, "the customer asked", 4, {"ab", "cd"}});
  is_read_back(PaperIssued{CakeId{"cake-1"}, "label", "pdf", "sheet", 1, "12:ab", "rules", "tierproof", "cd", "ef"});
  is_read_back(PaperIssued{CakeId{"cake-1"}, "venue card", "pdf", "", 0, "12:ab", "rules", "tierproof", "cd", "ef"});
  is_read_back(PaperIssued{CakeId{}, "counter list", "json", "", 0, "12:ab", "rules", "tierproof", "cd", "ef"});
}

TEST(Bodies, OfAPaperNameItsCakeUnlessItIsOfSeveral) {
  Json body = body_of(PaperIssued{CakeId{}, "counter list", "pdf", "", 0, "12:ab", "rules", "tierproof", "cd", "ef"});
  EXPECT_EQ(body.find("cake"), nullptr);
  body["cake"] = Json{"cake-1"};
  EXPECT_FALSE(read_body<PaperIssued>(body, "note 3").has_value());
  body["paper"] = Json{"hand-over note"};
  EXPECT_TRUE(read_body<PaperIssued>(body, "note 3").has_value());
  body = body_of(PaperIssued{CakeId{}, "hand-over note", "pdf", "", 0, "12:ab", "rules", "tierproof", "cd", "ef"});
  EXPECT_FALSE(read_body<PaperIssued>(body, "note 3").has_value());
}

TEST(Bodies, RefuseWhatIsMissingIllTypedOrOutOfRangeAllAtOnce) {
  const Json body{Json::Object{{"thermometer", Json{"fork"}},
                               {"method", Json{"tea"}},
                               {"read", Json{Json::Object{{"hundredths", Json{999'999}}, {"scale", Json{"K"}}}}}}};
  const auto refused = read_body<ProbeCheckMade>(body, "note 3");
  ASSERT_FALSE(refused.has_value());
  std::vector<std::string> fields;
  for (const auto& refusal : refused.error()) fields.push_back(refusal.field);
  for (const char* field : {"method", "read.hundredths", "read.scale", "thermometer"}) {
    EXPECT_NE(std::find(fields.begin(), fields.end(), field), fields.end()) << field;
  }
}

/// The fields that a body is refused for once `member` is taken out of it.
template <class Thing>
std::vector<std::string> refused_without(const Thing& thing, const char* member) {
  Json body = body_of(thing);
  EXPECT_EQ(body.object().erase(member), 1u) << member;
  const auto refused = read_body<Thing>(body, "a note");
  std::vector<std::string> fields;
  if (!refused) {
    for (const auto& refusal : refused.error()) fields.push_back(refusal.field);
  }
  return fields;
}

TEST(Bodies, RefuseWhatAThingCannotBeWithout) {
  using Fields = std::vector<std::string>;
  const Tier tier{CakeId{"cake-1"}, "top", {{BatchId{"batch-1"}, grams(10), true}}, {}};
  for (const char* member : {"cake", "tier", "parts"}) EXPECT_EQ(refused_without(tier, member), Fields{member});
  const Batch batch{RecipeId{"curd"}, 9, {{"pack-1", false, grams(10), true}}, grams(9), true, {}};
  for (const char* member : {"recipe", "recipe_version", "uses", "yield_mg", "weighed"})
    EXPECT_EQ(refused_without(batch, member), Fields{member});
  const Lot lot{IngredientId{"jam"}, SupplierId{"shop"}, 7, "J1", "", grams(500), {}, {}, {}, {}};
  for (const char* member : {"ingredient", "supplier", "specification", "code", "mass_mg"})
    EXPECT_EQ(refused_without(lot, member), Fields{member});
  EXPECT_EQ(refused_without(Stay{"cake-1", PlaceId{"fridge"}}, "what"), Fields{"what"});
  const SpecificationLooked looked{7, a_day(), "the sack"};
  for (const char* member : {"specification", "checked", "checked_against"}) EXPECT_EQ(refused_without(looked, member), Fields{member});
  const RuleConfirmed confirmed{"lot-mark", "gb", "art. 2", "food authority of the town", some_words()};
  for (const char* member : {"row", "jurisdiction", "clause", "body"}) EXPECT_EQ(refused_without(confirmed, member), Fields{member});
  EXPECT_EQ(refused_without(AllergyAnswer{CakeId{"cake-1"}, "none", {}, {}, {}}, "cake"), Fields{"cake"});
  EXPECT_EQ(refused_without(Ingredient{"milk", false, false, true, "none"}, "animal_origin"), Fields{"animal_origin"});
  EXPECT_EQ(refused_without(Kitchen{"A Kitchen", {}, "Europe/London", {}, {}, "gb", "gb", "gb", true, ""}, "demo"), Fields{"demo"});
}

TEST(Bodies, LookUpSealedWordsAndLeaveErasedOnesEmpty) {
  const Json body = body_of(Person{some_words(), "owner"});
  const auto found = read_body<Person>(body, "note", [](const std::string& ref) { return std::optional<std::string>{"Ada for " + ref}; });
  ASSERT_TRUE(found.has_value());
  EXPECT_EQ(found->name.text, "Ada for w-1");
  const auto erased = read_body<Person>(body, "note", [](const std::string&) { return std::optional<std::string>{}; });
  ASSERT_TRUE(erased.has_value());
  EXPECT_FALSE(erased->name.text.has_value());
  EXPECT_TRUE(erased->name.given());
}

TEST(Block, KeepsReadingsInTheirOwnScaleAndFaultsAsFaults) {
  const std::vector<LoggedReading> readings{{Instant{Span{1000}}, Degrees{-1875, Scale::celsius}, ""},
                                            {Instant{Span{2000}}, Degrees{3210, Scale::fahrenheit}, ""},
                                            {Instant{Span{3000}}, {}, "Err 4"}};
  const auto again = read_block(write_block(readings));
  ASSERT_TRUE(again.has_value());
  EXPECT_EQ(*again, readings);
}

TEST(Block, KeepsAFaultOnOneLineWhateverTheThermometerWrote) {
  const auto again = read_block(write_block({{Instant{Span{1000}}, {}, "Err\n2000 350 C"}, {Instant{Span{3000}}, {}, ""}}));
  ASSERT_TRUE(again.has_value());
  ASSERT_EQ(again->size(), 2u);
  EXPECT_EQ((*again)[0].fault, "Err 2000 350 C");
  EXPECT_FALSE((*again)[0].degrees.has_value());
}

TEST(Block, ThatWasDamagedIsRefusedByLine) {
  for (const char* bytes : {"1000 350 C", "1000 350 K\n", "x 350 C\n", "1000 fault\n", "1000 350\n", "\n"}) {
    EXPECT_FALSE(read_block(bytes).has_value()) << bytes;
  }
  const auto refused = read_block("1000 350 C\n2000 nonsense\n");
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().front().line, 2);
  EXPECT_TRUE(read_block("")->empty());
}

}  // namespace
}  // namespace tierproof
