#include "tierproof/app/reading_packs.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

const NameHints& real_hints() {
  static const NameHints hints = load_name_hints(DataRoot{TIERPROOF_SOURCE_DIR});
  return hints;
}

Result<PackRead> reading(TestKitchen& kitchen, const std::string& text, bool draft = false) {
  const Session session = kitchen.open(true);
  PackToRead asked;
  asked.text = {"pack.txt", text};
  asked.ingredient = "sugar";
  asked.supplier = "shop";
  asked.label_name = "sugar mix";
  asked.draft = draft;
  if (draft) asked.storage = "room";
  if (draft) asked.checked_against = "the pack";
  return read_pack(session, asked, real_hints());
}
PackRead understood(TestKitchen& kitchen, const std::string& text, bool draft = false) {
  auto read = reading(kitchen, text, draft);
  EXPECT_TRUE(read) << (read ? "" : describe(read.error().front()));
  return read ? std::move(read).value() : PackRead{};
}
using Keys = std::vector<std::string>;

TEST(ReadingPacks, PutsEachAllergenWhereTheTextPutsIt) {
  TestKitchen kitchen;
  const PackRead read = understood(kitchen,
                                   "Sugar, WHEAT flour (wheat flour, iron), emulsifier: lecithins; margarine (palm oil, whey powder). "
                                   "May contain traces of nuts. Contains: wheat, milk.");
  EXPECT_EQ(read.contains, (Keys{"gluten:wheat", "milk"}));
  EXPECT_EQ(read.unknown, (Keys{"eggs", "soybeans"}));
  EXPECT_EQ(read.may_contain.size(), 8u) << "every nut of the list";
  EXPECT_TRUE(read.document.is_null());
  ASSERT_EQ(read.lines.size(), 8u);
  EXPECT_EQ(read.lines[2].depth, 1u);
  EXPECT_EQ(read.lines[4].additive, "E322, emulsifier: permitted");
  EXPECT_THAT(read.lines[4].ask, HasSubstr("soya"));
}

TEST(ReadingPacks, ADraftKeepsWhatIsGraverThanAnExemptProduct) {
  TestKitchen kitchen;
  const auto draft = [&](const std::string& text) { return write_canonical(understood(kitchen, text, true).document); };
  EXPECT_THAT(draft("sugar, wheat glucose syrup"), HasSubstr(R"("process":"wheat glucose syrup")"));
  const std::string traces = draft("sugar, wheat glucose syrup. May contain wheat and milk.");
  EXPECT_THAT(traces, AllOf(HasSubstr(R"("may_contain":["gluten:wheat","milk"])"), Not(HasSubstr("process"))));
  const std::string asks = draft("sugar, wheat glucose syrup, starch. May contain milk.");
  EXPECT_THAT(asks, Not(HasSubstr("process"))) << "whether the starch is of wheat is not known";
  EXPECT_THAT(asks, HasSubstr("\"gluten:wheat\""));
}

TEST(ReadingPacks, ADraftIsReadAsASpecificationAndCallsNothingAbsent) {
  TestKitchen kitchen;
  const PackRead read = understood(
      kitchen,
      "sugar 60 %, almond paste 12.5 % (almonds, sugar), wheat glucose syrup, raising agents: E450(i), E500; emulsifier (soya lecithin)",
      true);
  const std::string text = write_pretty(read.document);
  EXPECT_THAT(text, Not(HasSubstr("absent")));
  const Session session = kitchen.open(true);
  const auto specification = read_specification({"draft.json", text}, allergen_keys_on(session, session.today()));
  ASSERT_TRUE(specification) << describe(specification.error().front()) << text;
  ASSERT_EQ(specification->parts.size(), 6u);
  EXPECT_EQ(specification->parts[0].share_ppm, 600'000);
  EXPECT_EQ(specification->parts[1].parts.size(), 2u);
  EXPECT_EQ(specification->parts[3].additive, "E450");
  EXPECT_EQ(specification->parts[5].additive, "E322");
  EXPECT_EQ(specification->parts[5].brings, Keys{"soybeans"});
  for (const auto& statement : specification->allergens) {
    EXPECT_NE(statement.presence, "absent") << statement.allergen;
    const bool there = statement.allergen == "nuts:almond" || statement.allergen == "soybeans" || statement.allergen == "gluten:wheat";
    EXPECT_EQ(statement.presence, there ? "contains" : "unknown") << statement.allergen;
  }
}

TEST(ReadingPacks, AsksAboutWhatNobodyKnows) {
  TestKitchen kitchen;
  const PackRead read = understood(kitchen, "sugar, zorblax, colours: E999z, brilliant blu; mixed nuts. May contain everything.");
  const std::string asked = fmt::format("{}", fmt::join(read.to_ask, "\n"));
  EXPECT_THAT(asked, HasSubstr("\"zorblax\": ask what \"zorblax\" is"));
  EXPECT_THAT(asked, HasSubstr("\"brilliant blu\" is printed as an additive and is none that the rules in force know"));
  EXPECT_THAT(asked, HasSubstr("does not say which of the nuts it is"));
  EXPECT_THAT(asked, HasSubstr("may contain \"everything\""));
  EXPECT_TRUE(read.contains.empty());
  EXPECT_EQ(read.unknown.size(), 8u) << "every nut of the list";
}

TEST(ReadingPacks, TakesAnAdditiveOnlyByItsNumberOrItsClass) {
  TestKitchen kitchen;
  const PackRead read = understood(kitchen, "flour (wheat, calcium carbonate), E330, colours: calcium carbonate", true);
  ASSERT_EQ(read.lines.size(), 5u);
  EXPECT_EQ(read.lines[2].additive, "named like E170, without a class: read as an ingredient");
  EXPECT_THAT(read.lines[3].additive, HasSubstr("(usual, not printed): permitted"));
  EXPECT_EQ(read.lines[4].additive, "E170, colour: permitted");
  const auto& parts = read.document.find("parts")->array();
  EXPECT_EQ(parts[0].find("parts")->array()[1], Json{"calcium carbonate"});
  EXPECT_EQ(*parts[1].find("additive"), Json{"E330"});
  EXPECT_EQ(*parts[1].find("name"), Json{"citric acid"});
}

TEST(ReadingPacks, RefusesWhatIsMissingOrNotKnown) {
  TestKitchen kitchen;
  const Session session = kitchen.open(true);
  PackToRead asked;
  asked.text = {"pack.txt", "sugar"};
  asked.ingredient = "suger";
  asked.supplier = "shop";
  asked.draft = true;
  asked.checked = "yesterday";
  const auto read = read_pack(session, asked, real_hints());
  ASSERT_FALSE(read);
  std::string told;
  for (const auto& refusal : read.error()) told += describe(refusal) + "\n";
  EXPECT_THAT(told, HasSubstr("there is no ingredient called \"suger\""));
  EXPECT_THAT(told, HasSubstr("--storage: is missing"));
  EXPECT_THAT(told, HasSubstr("--checked-against: is missing"));
  EXPECT_THAT(told, HasSubstr("--checked: \"yesterday\" is not a day"));
  const auto broken = reading(kitchen, "sugar,\nflour (wheat");
  ASSERT_FALSE(broken);
  EXPECT_EQ(broken.error().front().line, 2);
}

// The packs of the demo kitchen agree with their names: what is judged there is not told for nothing.
TEST(ReadingPacks, TheNamesOfTheDemoKitchensPacksSayNothingAgainstThem) {
  TestKitchen kitchen;
  const Session session = kitchen.open(true);
  const auto terms = session.label_terms(session.today());
  ASSERT_TRUE(terms);
  int count = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator{TIERPROOF_SOURCE_DIR "/reports/kitchen/packs"}) {
    if (entry.path().extension() != ".json") continue;
    const auto specification =
        read_specification({entry.path().string(), load_file(entry.path().string())}, allergen_keys_on(session, session.today()));
    ASSERT_TRUE(specification) << describe(specification.error().front());
    std::vector<AllergenStatement> statements;
    for (const auto& one : specification->allergens) {
      const Presence presence = one.presence == "contains"      ? Presence::contains
                                : one.presence == "may contain" ? Presence::may_contain
                                : one.presence == "absent"      ? Presence::absent
                                                                : Presence::unknown;
      statements.push_back({one.allergen, presence, one.evidence, "", "", one.by_itself});
    }
    for (const auto& complaint : hint_complaints(specification->label_name, statements, real_hints(), *terms)) ADD_FAILURE() << complaint;
    ++count;
  }
  EXPECT_GT(count, 30);
}

}  // namespace
}  // namespace tierproof
