#include "app/coding.h"

#include "app_for_tests.h"
#include "tierproof/papers/codes.h"

// Prefix 952 is that of examples of the GS1 system: the numbers here are nobody's.
namespace tierproof {
namespace {

constexpr const char* example_prefix = "9521234";
constexpr const char* example_gtin = "9521234543213";

/// A kitchen whose first note tells its GS1 Company Prefix.
void give_prefix(TestKitchen& kitchen, const std::string& prefix = example_prefix) {
  correct_note(kitchen, 1, {{"gs1_prefix", Json{prefix}}});
}
Ordering an_order(const std::string& gtin, std::int64_t boxes = 1) {
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "Zoe Sample", "before it was chosen", "the maker", "face to face", boxes, 900};
  ordering.contact = "0000 000000";
  ordering.gtin = gtin;
  return ordering;
}
std::string ordered(TestKitchen& kitchen, const std::string& gtin, std::int64_t boxes = 1) {
  return kitchen.done([&](Session& s) { return order_cake(s, an_order(gtin, boxes)); }).subjects.front();
}
std::string order_refused(TestKitchen& kitchen, const std::string& gtin) {
  return kitchen.refused([&](Session& s) { return order_cake(s, an_order(gtin)); });
}
/// A cake with a GTIN that may be handed over.
std::string cake_with_gtin(TestKitchen& kitchen, std::int64_t boxes = 1) {
  const std::string cake = ordered(kitchen, example_gtin, boxes);
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "none", {}, "the customer", "", ""}); });
  kitchen.tier(cake, "only", {{kitchen.make("sponge", grams(270)), grams(200)}});
  return cake;
}
CodeTexts texts_of(TestKitchen& kitchen, const std::string& cake, std::int64_t box = 1) {
  const Judgement judgement = kitchen.judged(cake);
  return code_texts(kitchen.open(true), judgement, box);
}
std::uint64_t note_of_cake(TestKitchen& kitchen, const std::string& cake) {
  return kitchen.open(true).state().cakes.at(CakeId{cake}).sequence;
}

TEST(Coding, GivesTheCakeAndTheHeadAsWhatTheCodeSays) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(200)}});
  const CodeTexts texts = texts_of(kitchen, cake);
  const std::string head = format_head(kitchen.open(true).head());
  EXPECT_EQ(texts.code, "cake-1 " + head.substr(0, head.find(':') + 9));
  EXPECT_EQ(texts.gs1_elements, "") << "the kitchen has no GS1 numbers";
}

TEST(Coding, GivesTheGoodsOfAKitchenWithGs1Numbers) {
  TestKitchen kitchen;
  give_prefix(kitchen);
  const std::string cake = cake_with_gtin(kitchen);
  const Judgement judgement = kitchen.judged(cake);
  ASSERT_NE(gravest(judgement.findings), Stop::no_override);
  ASSERT_EQ(judgement.particulars.date, "Best before 5 May 2026");  // sponge of 1 May, 4 days, in a cool dry place
  EXPECT_EQ(texts_of(kitchen, cake).gs1_elements, "[01]09521234543213[15]260505[10]cake-1");
  EXPECT_TRUE(gs1_data_matrix(texts_of(kitchen, cake).gs1_elements, "goods").has_value());
}

TEST(Coding, TellsAUseByDateApartFromABestBefore) {
  TestKitchen kitchen;
  give_prefix(kitchen);
  const std::string cake = ordered(kitchen, example_gtin);
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "none", {}, "the customer", "", ""}); });
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.put_in(icing, "fridge");
  kitchen.tier(cake, "only", {{kitchen.make("sponge", grams(270)), grams(200)}, {icing, grams(90)}});
  kitchen.put_in(cake, "fridge");
  const Judgement judgement = kitchen.judged(cake);
  ASSERT_EQ(judgement.particulars.date, "Use by 5 May 2026");
  EXPECT_EQ(texts_of(kitchen, cake).gs1_elements, "[01]09521234543213[17]260505[10]cake-1");
}

TEST(Coding, TellsEachBoxAsAPieceOfOneCake) {
  TestKitchen kitchen;
  give_prefix(kitchen);
  const std::string cake = cake_with_gtin(kitchen, 3);
  const CodeTexts second = texts_of(kitchen, cake, 2);
  EXPECT_EQ(second.gs1_elements, "[8006]095212345432130203[15]260505[10]cake-1");
  EXPECT_TRUE(second.code.ends_with(" 2/3")) << second.code;
  EXPECT_NE(texts_of(kitchen, cake, 3).gs1_elements, second.gs1_elements);
}

TEST(Coding, GivesNoGoodsForWhatMustNotBeHandedOver) {
  TestKitchen kitchen;
  give_prefix(kitchen);
  const std::string cake = cake_with_gtin(kitchen);
  ASSERT_NE(texts_of(kitchen, cake).gs1_elements, "");
  kitchen.done([&](Session& s) { return withdraw(s, "pack-1", "recalled by the mill"); });
  ASSERT_EQ(gravest(kitchen.judged(cake).findings), Stop::no_override);
  EXPECT_EQ(texts_of(kitchen, cake).gs1_elements, "");
  EXPECT_EQ(texts_of(kitchen, cake).code.substr(0, 7), "cake-1 ") << "its records can still be found";
}

TEST(Coding, SaysNothingOfAPerson) {
  TestKitchen kitchen;
  give_prefix(kitchen);
  const CodeTexts texts = texts_of(kitchen, cake_with_gtin(kitchen));
  for (const char* word : {"Zoe", "Sample", "0000", "Plain", "Test Kitchen"})
    EXPECT_EQ((texts.code + texts.gs1_elements).find(word), std::string::npos) << word;
}

TEST(CakeWithGtin, IsRefusedWithoutTheKitchensPrefix) {
  TestKitchen kitchen;
  EXPECT_THAT(order_refused(kitchen, example_gtin), HasSubstr("--gtin: the kitchen has no GS1 Company Prefix"));
  give_prefix(kitchen);
  EXPECT_EQ(ordered(kitchen, example_gtin), "cake-1");
}

TEST(CakeWithGtin, IsRefusedWithAWrongDigitOrAnotherCompanysNumber) {
  TestKitchen kitchen;
  give_prefix(kitchen);
  EXPECT_THAT(order_refused(kitchen, "9521234543214"), HasSubstr("--gtin: the check digit of 9521234543214 does not fit"));
  EXPECT_THAT(order_refused(kitchen, "6291041500213"),
              HasSubstr("--gtin: 6291041500213 does not begin with the kitchen's GS1 Company Prefix"));
}

TEST(CakeWithGtin, IsCheckedWhenItsNoteIsCorrected) {
  TestKitchen kitchen;
  give_prefix(kitchen);
  const std::string cake = ordered(kitchen, "");
  const auto note = note_of_cake(kitchen, cake);
  EXPECT_THAT(correction_refused(kitchen, note, {{"gtin", Json{"9521234543214"}}}), HasSubstr("gtin: the check digit"));
  EXPECT_THAT(correction_refused(kitchen, note, {{"gtin", Json{"6291041500213"}}}), HasSubstr("gtin: 6291041500213 does not begin with"));
  correct_note(kitchen, note, {{"gtin", Json{example_gtin}}});
  EXPECT_EQ(kitchen.open(true).state().cakes.at(CakeId{cake}).value.gtin, example_gtin);
}

TEST(KitchenWithGs1Prefix, KeepsItWhileACakeOfItIsHere) {
  TestKitchen kitchen;
  give_prefix(kitchen);
  const std::string cake = ordered(kitchen, example_gtin);
  const auto now = [&] { return tip_of(kitchen.open(true).notes(), 1)->sequence; };
  const std::string refused = correction_refused(kitchen, now(), {{"gs1_prefix", Json{"9527654"}}});
  EXPECT_THAT(refused, HasSubstr("gs1_prefix: cake-1 has the GTIN 9521234543213, which does not begin with it"));
  EXPECT_THAT(refused, HasSubstr(fmt::format("take the GTIN out of note {} first", note_of_cake(kitchen, cake))));
  correct_note(kitchen, note_of_cake(kitchen, cake), {{"gtin", Json{""}}});
  correct_note(kitchen, now(), {{"gs1_prefix", Json{"9527654"}}});
  EXPECT_EQ(kitchen.open(true).kitchen().gs1_prefix, "9527654");
}

TEST(KitchenWithGs1Prefix, IsRefusedWithWhatIsNone) {
  TestKitchen kitchen;
  EXPECT_THAT(correction_refused(kitchen, 1, {{"gs1_prefix", Json{"952"}}}), HasSubstr("\"952\" is no GS1 Company Prefix"));
  EXPECT_THAT(correction_refused(kitchen, 1, {{"gs1_prefix", Json{"2012345"}}}), HasSubstr("it is no company's"));
  Entrance entrance = kitchen.entrance();
  entrance.kitchen_file += "-2";
  NewKitchen begun{kitchen.open(true).kitchen(), "ada", "Ada Sample"};
  begun.kitchen.gs1_prefix = "95212345432130";
  const auto booked = begin_kitchen(entrance, begun, rule_packs());
  ASSERT_FALSE(booked.has_value());
  EXPECT_EQ(booked.error().front().field, "--gs1-prefix");
}

}  // namespace
}  // namespace tierproof
