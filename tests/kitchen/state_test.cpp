#include "tierproof/kitchen/state.h"

#include <gtest/gtest.h>

namespace tierproof {
namespace {

/// A log of notes as the kitchen reads them.
class Log {
 public:
  template <class Thing>
  std::uint64_t add(const Thing& thing, std::string subject, std::optional<std::uint64_t> supersedes = {}) {
    return add(std::string{KindOf<Thing>::kind}, std::move(subject), body_of(thing), supersedes);
  }
  std::uint64_t add(std::string kind, std::string subject, Json body, std::optional<std::uint64_t> supersedes = {}) {
    Note note;
    note.sequence = notes_.size() + 1;
    note.place = note.sequence;
    note.kind = std::move(kind);
    note.subject = std::move(subject);
    note.body = std::move(body);
    note.supersedes = supersedes;
    note.happened = Instant{std::chrono::hours{note.sequence}};
    notes_.push_back(std::move(note));
    return notes_.size();
  }
  State state(std::size_t size = std::size_t(-1)) const {
    const std::size_t count = std::min(size, notes_.size());
    auto folded = fold(in_force(std::span{notes_}.first(count)), count, {});
    EXPECT_TRUE(folded.has_value());
    return folded ? std::move(folded).value() : State{};
  }
  const std::vector<Note>& notes() const { return notes_; }

 private:
  std::vector<Note> notes_;
};

Specification a_specification(const std::string& checked, const std::string& name = "butter") {
  Specification specification;
  specification.ingredient = IngredientId{"butter"};
  specification.supplier = SupplierId{"dairy"};
  specification.label_name = name;
  specification.storage = "fridge";
  specification.checked = *parse_date(checked);
  specification.checked_against = "the pack";
  return specification;
}

TEST(State, TakesACorrectionInThePlaceOfWhatItCorrects) {
  Log log;
  log.add(Equipment{"whisk"}, "whisk");
  log.add(Place{"fridge", "fridge"}, "fridge");
  log.add(Equipment{"hand whisk"}, "whisk", 1);
  const State state = log.state();
  const auto& whisk = state.equipment.at(EquipmentId{"whisk"});
  EXPECT_EQ(whisk.value.name, "hand whisk");
  EXPECT_EQ(whisk.sequence, 3u);
  EXPECT_EQ(whisk.place, 1u);
  EXPECT_TRUE(whisk.corrected());
  EXPECT_EQ(log.state(2).equipment.at(EquipmentId{"whisk"}).value.name, "whisk") << "as of note 2";
}

TEST(State, LosesAThingThatIsVoidedAndRemembersIt) {
  Log log;
  log.add(Lot{IngredientId{"butter"}, SupplierId{"dairy"}, 1, "B1", "", grams(500), {}, {}, {}, {}}, "pack-1");
  log.add("lot/1", "pack-1", nullptr, 1);
  const State state = log.state();
  EXPECT_TRUE(state.lots.empty());
  EXPECT_TRUE(state.voided.contains("pack-1"));
  EXPECT_EQ(state.begun.at("lot/1"), 1u) << "its number is not given to another pack";
}

TEST(State, KeepsAThingWhenOnlyAnEventAboutItIsVoided) {
  Log log;
  log.add(Lot{IngredientId{"butter"}, SupplierId{"dairy"}, 1, "B1", "", grams(500), {}, {}, {}, {}}, "pack-1");
  log.add(Withdrawal{LotId{"pack-1"}, {}}, "pack-1");
  EXPECT_TRUE(log.state().withdrawn(LotId{"pack-1"}));
  log.add("withdrawal/1", "pack-1", nullptr, 2);
  const State state = log.state();
  EXPECT_FALSE(state.withdrawn(LotId{"pack-1"}));
  EXPECT_TRUE(state.lots.contains(LotId{"pack-1"}));
  EXPECT_FALSE(state.voided.contains("pack-1"));
}

TEST(State, HoldsWhatWasMeasuredOfARecipeUntilItIsTakenBack) {
  Log log;
  Keeping keeping;
  keeping.of = {{RecipeId{"sponge"}, 1, std::nullopt}};
  keeping.from = "measured";
  keeping.by = "a laboratory";
  keeping.made = *parse_date("2026-05-01");
  log.add(keeping, "sponge");
  EXPECT_EQ(log.state().keepings.size(), 1u);
  log.add("keeping/1", "sponge", nullptr, 1);
  EXPECT_TRUE(log.state().keepings.empty());
  EXPECT_EQ(log.state(1).keepings.size(), 1u) << "as of note 1";
}

TEST(State, RefusesAKindThatANewerProgramMade) {
  Log log;
  log.add(Equipment{"whisk"}, "whisk");
  log.add("lot/2", "pack-1", Json{Json::Object{}});
  const auto refused = fold(in_force(log.notes()), 2, {});
  ASSERT_FALSE(refused.has_value());
  EXPECT_NE(describe(refused.error().front()).find("lot/2"), std::string::npos);
}

TEST(State, NamesTheNoteWhoseBodyCannotBeRead) {
  Log log;
  log.add("equipment/1", "whisk", Json{Json::Object{{"name", Json{7}}}});
  const auto refused = fold(in_force(log.notes()), 1, {});
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().front().file, "note 1 (equipment/1)");
}

TEST(State, FindsTheNewestSpecificationCheckedByADay) {
  Log log;
  log.add(a_specification("2026-01-10", "old"), "butter");
  log.add(a_specification("2026-03-10", "new"), "butter");
  log.add(a_specification("2026-02-10", "between"), "butter");
  const State state = log.state();
  const auto name_on = [&](const char* day) {
    const auto* found = state.specification(IngredientId{"butter"}, SupplierId{"dairy"}, *parse_date(day));
    return found == nullptr ? std::string{"none"} : found->value.label_name;
  };
  EXPECT_EQ(name_on("2026-01-09"), "none");
  EXPECT_EQ(name_on("2026-01-10"), "old");
  EXPECT_EQ(name_on("2026-03-09"), "between");
  EXPECT_EQ(name_on("2026-03-10"), "new");
  EXPECT_EQ(state.specification(IngredientId{"butter"}, SupplierId{"mill"}, *parse_date("2026-04-01")), nullptr);
}

TEST(State, KeepsEveryVersionOfARecipeAndProposesTheNewest) {
  Log log;
  Recipe recipe{"sponge", "sponge", {{"flour", false, grams(100)}}, grams(90), {}, "baked through", {}, "", {}, "", "room", 3, "decided"};
  log.add(recipe, "sponge");
  recipe.name = "lighter sponge";
  log.add(recipe, "sponge");
  const State state = log.state();
  EXPECT_EQ(state.recipes.at(RecipeId{"sponge"}).value.name, "lighter sponge");
  EXPECT_EQ(state.recipe_versions.at(1).value.name, "sponge");
  EXPECT_EQ(state.recipe_versions.at(2).value.name, "lighter sponge");
}

TEST(State, ChecksABodyWithoutALog) {
  EXPECT_TRUE(check_body("equipment/1", body_of(Equipment{"whisk"}), "file").empty());
  EXPECT_FALSE(check_body("equipment/1", Json{Json::Object{{"nome", Json{"whisk"}}}}, "file").empty());
  EXPECT_FALSE(check_body("spell/1", Json{Json::Object{}}, "file").empty());
}

}  // namespace
}  // namespace tierproof
