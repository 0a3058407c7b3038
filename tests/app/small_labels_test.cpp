#include "tierproof/app/small_labels.h"

#include "app/app_for_tests.h"
#include "tierproof/app/stores.h"

namespace tierproof {
namespace {

const DataRoot data{TIERPROOF_SOURCE_DIR};
constexpr Offset summer{60};

SmallLabelContent tub(TestKitchen& kitchen, const std::string& batch) {
  const Session session = kitchen.open(true);
  const auto content = tub_label_content(session, batch, {session.now(), summer});
  EXPECT_TRUE(content.has_value());
  return content ? *content : SmallLabelContent{};
}
SmallLabelContent shelf(TestKitchen& kitchen, const std::string& pack) {
  const Session session = kitchen.open(true);
  const auto content = shelf_label_content(session, pack, {session.now(), summer});
  EXPECT_TRUE(content.has_value());
  return content ? *content : SmallLabelContent{};
}
std::string line_of(const std::vector<LabelledText>& lines, const std::string& label) {
  for (const auto& line : lines) {
    if (line.label == label) return line.text;
  }
  return "(no " + label + ")";
}
bool holds(const Strings& words, const std::string& word) { return std::find(words.begin(), words.end(), word) != words.end(); }

/// A batch of the recipe that works `of` on a piece of kit.
std::string worked(TestKitchen& kitchen, const std::string& recipe, const std::string& of, const std::string& kit) {
  kitchen.recipe(recipe, R"([{"of": ")" + of + R"(", "mass": "100 g"}])", "98 g", kit, "none", "fridge");
  return kitchen.make(recipe, grams(98));
}

TEST(TubLabel, TellsTheBatchItsAllergensAndItsDates) {
  TestKitchen kitchen;
  const SmallLabelContent content = tub(kitchen, kitchen.make("icing", grams(298)));
  EXPECT_EQ(content.name, "icing");
  EXPECT_EQ(content.reference, "batch-1");
  EXPECT_EQ(content.contains, Strings{"milk"});
  EXPECT_EQ(content.not_known, Strings{});
  EXPECT_EQ(content.may_contain, Strings{});
  EXPECT_EQ(content.no_allergen, "");
  EXPECT_EQ(line_of(content.dates, "Use by"), "5 May 2026");  // made on the first, four days
  EXPECT_EQ(line_of(content.lines, "Made"), "1 May 2026");
  EXPECT_EQ(content.to_write, Strings{"Opened on"});
  EXPECT_EQ(content.keep, "Keep in the fridge");
  EXPECT_EQ(content.stop, "");
  EXPECT_TRUE(content.demo);
  EXPECT_EQ(content.head.substr(0, content.head.find(':')), std::to_string(kitchen.open(true).head().size));
}

TEST(TubLabel, NeverLeavesOutWhatIsNotKnown) {
  TestKitchen kitchen;
  kitchen.food("sprinkles", "none", {}, {"sesame"});
  kitchen.pack("sprinkles", "2026-06-30");
  const SmallLabelContent content = tub(kitchen, worked(kitchen, "sprinkle-mix", "sprinkles", "bowl"));
  EXPECT_EQ(content.not_known, Strings{"sesame"});
  EXPECT_EQ(content.contains, Strings{});
  EXPECT_EQ(content.no_allergen, "");
}

TEST(TubLabel, SaysSoWhereNoAllergenIsAnIngredient) {
  TestKitchen kitchen;
  const SmallLabelContent content = tub(kitchen, worked(kitchen, "syrup", "sugar", "bowl"));
  EXPECT_EQ(content.no_allergen, "By its packs no allergen of the law is an ingredient.");
  EXPECT_TRUE(content.contains.empty() && content.not_known.empty() && content.may_contain.empty());
}

TEST(TubLabel, TellsTheAllergensOfABatchThatWentIntoIt) {
  TestKitchen kitchen;
  const std::string inner = kitchen.make("praline", grams(198));
  kitchen.recipe("filling", R"([{"of": "praline", "recipe": true, "mass": "100 g"}, {"of": "butter", "mass": "100 g"}])", "198 g", "whisk",
                 "none", "fridge");
  const SmallLabelContent content = tub(kitchen, kitchen.make("filling", grams(198)));
  EXPECT_EQ(content.contains, (Strings{"milk", "almonds"}));
}

TEST(TubLabel, DoesNotKnowOfTracesFromKitWithoutAWashingAndTellsThoseFromWashedKit) {
  TestKitchen kitchen;
  kitchen.make("praline", grams(198));  // in the bowl
  kitchen.at("2026-05-01T09:00+01:00");
  const std::string first = worked(kitchen, "bowl-icing", "butter", "bowl");
  const SmallLabelContent straight = tub(kitchen, first);
  EXPECT_EQ(straight.contains, Strings{"milk"});
  EXPECT_EQ(straight.not_known, Strings{"almonds"});
  kitchen.at("2026-05-01T09:10+01:00");
  kitchen.done([](Session& s) { return clean(s, {"bowl", "washed, looked clean", "", {}, "", ""}); });
  kitchen.at("2026-05-01T09:20+01:00");
  const SmallLabelContent washed = tub(kitchen, kitchen.make("bowl-icing", grams(98)));
  EXPECT_EQ(washed.not_known, Strings{});
  EXPECT_EQ(washed.may_contain, Strings{"almonds"});
  kitchen.at("2026-05-01T09:30+01:00");
  kitchen.done([](Session& s) { return clean(s, {"bowl", "washed and tested", "protein swab", {"protein"}, "nothing", ""}); });
  kitchen.at("2026-05-01T09:40+01:00");
  const SmallLabelContent tested = tub(kitchen, kitchen.make("bowl-icing", grams(98)));
  EXPECT_TRUE(tested.not_known.empty() && tested.may_contain.empty());
}

TEST(TubLabel, KnowsNothingOfABatchWhosePackWasTakenBack) {
  TestKitchen kitchen;
  const std::string batch = kitchen.make("icing", grams(298));
  const std::uint64_t butter = kitchen.open(true).state().lots.at(LotId{"pack-3"}).sequence;
  kitchen.done([&](Session& s) { return void_note(s, butter, "typed by mistake"); });
  const SmallLabelContent content = tub(kitchen, batch);
  EXPECT_EQ(content.not_known, Strings{"every allergen"});
  EXPECT_EQ(content.contains, Strings{});
}

TEST(TubLabel, StopsForAWithdrawnPackAndAUseByPassed) {
  TestKitchen kitchen;
  const std::string batch = kitchen.make("icing", grams(298));
  kitchen.done([](Session& s) { return withdraw(s, "pack-3", "recalled"); });
  EXPECT_EQ(tub(kitchen, batch).stop, "DO NOT USE: pack-3 (butter, code code of butter) is withdrawn.");
  EXPECT_EQ(shelf(kitchen, "pack-3").stop, "DO NOT USE: it is withdrawn.");
  kitchen.at("2026-05-06T08:00+01:00");  // the day after the last
  const SmallLabelContent past = tub(kitchen, batch);
  EXPECT_THAT(past.stop, HasSubstr("; and 1 more."));
  ASSERT_EQ(past.against.size(), 2u);
  EXPECT_THAT(past.against.back(), HasSubstr("its use-by date, 5 May 2026, is past"));
  EXPECT_EQ(shelf(kitchen, "pack-1").stop, "");
  kitchen.at("2026-07-01T08:00+01:00");
  EXPECT_THAT(shelf(kitchen, "pack-1").stop, HasSubstr("DO NOT USE: "));
}

TEST(TubLabel, StopsOnTheDayAfterTheLastAndNotBefore) {
  TestKitchen kitchen;
  const std::string batch = kitchen.make("icing", grams(298));
  kitchen.at("2026-05-05T23:00+01:00");
  EXPECT_EQ(tub(kitchen, batch).stop, "");
  kitchen.at("2026-05-06T00:30+01:00");
  EXPECT_THAT(tub(kitchen, batch).stop, HasSubstr("DO NOT USE: its use-by date, 5 May 2026, is past: "));
  Session session = kitchen.open();
  const auto issued = issue_tub_label(session, {batch, "die-62x100", {}}, data);
  ASSERT_TRUE(issued.has_value());
  ASSERT_EQ(issued->remarks.size(), 1u);
  EXPECT_THAT(issued->remarks.front(), HasSubstr("DO NOT USE " + batch + ": its use-by date, 5 May 2026, is past: "));
}

TEST(TubLabel, StopsForAPackThatWasPastItsUseByWhenItWentIn) {
  TestKitchen kitchen;
  const std::string batch = kitchen.make("icing", grams(298));
  const std::uint64_t butter = kitchen.open(true).state().lots.at(LotId{"pack-3"}).sequence;
  correct_note(kitchen, butter, {{"use_by", Json{"2026-05-01"}}});
  EXPECT_EQ(tub(kitchen, batch).stop, "") << "its last day";
  correct_note(kitchen, kitchen.open(true).state().lots.at(LotId{"pack-3"}).sequence, {{"use_by", Json{"2026-04-30"}}});
  EXPECT_THAT(tub(kitchen, batch).stop, HasSubstr("DO NOT USE: pack-3 (butter) went into batch-1 on 1 May 2026, after its use-by of"));
}

TEST(TubLabel, TellsThatABestBeforeIsPastAndStopsNothing) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  kitchen.at("2026-05-05T08:00+01:00");
  ASSERT_EQ(line_of(tub(kitchen, sponge).dates, "Best before"), "5 May 2026");
  kitchen.at("2026-05-06T08:00+01:00");
  EXPECT_EQ(line_of(tub(kitchen, sponge).dates, "Best before"), "5 May 2026, past: look at it and taste it first");
  EXPECT_EQ(tub(kitchen, sponge).stop, "");
}

TEST(TubLabel, NamesALeftOver) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("icing", grams(298));
  const std::string kept = kitchen.done([&](Session& s) { return keep_left_over(s, {sponge, grams(100), true, {}, ""}); }).subjects.front();
  const SmallLabelContent content = tub(kitchen, kept);
  EXPECT_EQ(content.name, "icing (off-cuts)");
  EXPECT_EQ(content.contains, Strings{"milk"});
  EXPECT_EQ(line_of(content.dates, "Use by"), "5 May 2026");
}

TEST(ShelfLabel, TellsThePack) {
  TestKitchen kitchen;
  const SmallLabelContent content = shelf(kitchen, "pack-5");
  EXPECT_EQ(content.name, "almonds");
  EXPECT_EQ(content.contains, Strings{"almonds"});
  EXPECT_EQ(line_of(content.dates, "Use by"), "30 June 2026");
  EXPECT_EQ(line_of(content.lines, "From"), "Example Shop");
  EXPECT_EQ(line_of(content.lines, "Lot"), "code of almonds");
  EXPECT_EQ(line_of(content.lines, "Received"), "1 May 2026");
  EXPECT_EQ(content.to_write, Strings{"Opened on"});
  EXPECT_EQ(content.keep, "Keep in a cool, dry place");
  EXPECT_EQ(content.reference, "pack-5");
}

TEST(ShelfLabel, TellsWhenThePackWasOpenedOrFirstUsed) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return open_pack(s, "pack-5", ""); });
  EXPECT_EQ(line_of(shelf(kitchen, "pack-5").lines, "Opened"), "1 May 2026");
  EXPECT_EQ(shelf(kitchen, "pack-5").to_write, Strings{});
  kitchen.at("2026-05-02T08:00+01:00");
  kitchen.make("icing", grams(298));
  EXPECT_EQ(line_of(shelf(kitchen, "pack-3").lines, "Opened"), "2 May 2026");
}

TEST(ShelfLabel, CountsTheDaysOnceOpened) {
  TestKitchen kitchen;
  Json document{Json::Object{{"ingredient", Json{"butter"}},
                             {"supplier", Json{"shop"}},
                             {"label_name", Json{"butter"}},
                             {"checked", Json{"2026-05-01"}},
                             {"checked_against", Json{"the pack"}},
                             {"storage", Json{"fridge"}},
                             {"use_within_days", Json{3}},
                             {"contains", Json{Json::Array{Json{"milk"}}}},
                             {"absent", Json{Json::Object{{"all_others", Json{true}}, {"evidence", Json{"sheet"}}}}}}};
  kitchen.done([&](Session& s) { return add_specifications(s, {{"butter.json", write_pretty(document)}}); });
  const std::string pack = kitchen.pack("butter", "2026-06-30");
  EXPECT_EQ(line_of(shelf(kitchen, pack).lines, "Once opened"), "use within 3 days");
  EXPECT_EQ(line_of(shelf(kitchen, pack).dates, "Use by"), "30 June 2026");
  EXPECT_EQ(shelf(kitchen, pack).keep, "Keep in the fridge");
  kitchen.done([&](Session& s) { return open_pack(s, pack, ""); });
  EXPECT_EQ(line_of(shelf(kitchen, pack).dates, "Use by"), "4 May 2026");
  EXPECT_EQ(line_of(shelf(kitchen, pack).lines, "Once opened"), "(no Once opened)");
  kitchen.at("2026-05-04T08:00+01:00");
  EXPECT_EQ(shelf(kitchen, pack).stop, "");
  kitchen.at("2026-05-05T08:00+01:00");
  EXPECT_THAT(shelf(kitchen, pack).stop, HasSubstr("DO NOT USE: its use-by date, 4 May 2026, is past: "));
}

TEST(ShelfLabel, PrintsABestBeforeAsWhatItIs) {
  TestKitchen kitchen;
  const Delivery delivery{"sugar", "shop", "S9", "", grams(1000), {}, {}, parse_date("2027-12-31"), ""};
  const SmallLabelContent dated = shelf(kitchen, kitchen.done([&](Session& s) { return receive(s, delivery); }).subjects.front());
  EXPECT_EQ(line_of(dated.dates, "Best before"), "31 December 2027");
  EXPECT_EQ(line_of(dated.dates, "Use by"), "(no Use by)");
  kitchen.at("2027-12-31T08:00+00:00");
  EXPECT_EQ(line_of(shelf(kitchen, dated.reference).dates, "Best before"), "31 December 2027") << "its last day";
  kitchen.at("2028-01-02T08:00+00:00");
  EXPECT_EQ(shelf(kitchen, dated.reference).stop, "") << "food past a best-before may still be eaten";
  EXPECT_EQ(line_of(shelf(kitchen, dated.reference).dates, "Best before"), "31 December 2027, past: look at it and taste it first");
}

TEST(ShelfLabel, KnowsNothingOfAPackWhoseSpecificationWasTakenBack) {
  TestKitchen kitchen;
  const std::uint64_t note = kitchen.open(true).state().lots.at(LotId{"pack-5"}).value.specification;
  kitchen.done([&](Session& s) { return void_note(s, note, "of another food"); });
  EXPECT_EQ(shelf(kitchen, "pack-5").not_known, Strings{"every allergen"});
  EXPECT_FALSE(holds(shelf(kitchen, "pack-5").contains, "almonds"));
}

TEST(SmallLabels, AreKeptAndBookedAboutWhatTheyAreOf) {
  TestKitchen kitchen;
  const std::string batch = kitchen.make("icing", grams(298));
  Session session = kitchen.open();
  const auto issued = issue_tub_label(session, {batch, "sheet-63x38", {3, 2, 5, -5}}, data);
  ASSERT_TRUE(issued.has_value()) << describe(issued.error().front());
  ASSERT_EQ(issued->papers.size(), 2u);
  const auto kept = reprint(session, issued->booked.sequences.front());
  ASSERT_TRUE(kept.has_value());
  EXPECT_EQ(kept->bytes, issued->papers.front().bytes);
  EXPECT_EQ(issued->papers.front().form, "pdf");
  const auto paper = session.state().papers.front();
  EXPECT_EQ(paper.value.paper, "tub label");
  EXPECT_EQ(paper.subject, batch);
  EXPECT_TRUE(paper.value.cake.empty());
  EXPECT_EQ(paper.value.stock, "sheet-63x38");
  const auto json = parse_json(issued->papers.back().bytes, "label");
  ASSERT_TRUE(json.has_value());
  EXPECT_EQ(json->find("schema")->text(), "tierproof/tub-label/1");
  EXPECT_EQ(json->find("contains")->array().front().text(), "milk");

  // The same label again tells the same, on whatever stock; that of another thing does not.
  const auto again = issue_tub_label(session, {batch, "die-57x32", {}}, data);
  ASSERT_TRUE(again.has_value());
  EXPECT_EQ(session.state().papers.back().value.says, paper.value.says);
  const auto pack = issue_shelf_label(session, {"pack-3", "die-57x32", {}}, data);
  ASSERT_TRUE(pack.has_value()) << describe(pack.error().front());
  EXPECT_EQ(session.state().papers.back().subject, "pack-3");
  EXPECT_NE(session.state().papers.back().value.says, paper.value.says);
}

TEST(SmallLabels, AreRefusedWithEverythingThatIsWrongAndBookNothing) {
  TestKitchen kitchen;
  const std::string batch = kitchen.make("icing", grams(298));
  const auto refusals = [&](const SmallLabelRequest& request, bool of_pack = false) {
    return kitchen.refused([&](Session& s) { return of_pack ? issue_shelf_label(s, request, data) : issue_tub_label(s, request, data); });
  };
  const std::string both = refusals({"batch-9", "sheet-1x1", {}});
  EXPECT_THAT(both, HasSubstr("there is no batch called \"batch-9\""));
  EXPECT_THAT(both, HasSubstr("\"sheet-1x1\" is not one of the answers"));
  EXPECT_THAT(refusals({"pack-99", "die-57x32", {}}, true), HasSubstr("there is no pack called \"pack-99\""));
  EXPECT_THAT(refusals({batch, "die-57x32", {2, 1, 0, 0}}), HasSubstr("leave --begin-at out"));
  EXPECT_THAT(refusals({batch, "sheet-63x38", {22, 1, 0, 0}}), HasSubstr("write a number from 1 to 21"));
}

TEST(SmallLabels, OfACakeGoOnTheirSheetToo) {
  TestKitchen kitchen;
  const std::string batch = kitchen.make("sponge", grams(270));
  const std::string cake = cake_of(kitchen, {{batch, grams(200)}});
  Session session = kitchen.open();
  LabelRequest request;
  request.cake = cake;
  request.stock = "sheet-99x139";
  request.placing = {4, 1, 0, 0};
  const auto on_four = issue_label(session, request, data);
  ASSERT_TRUE(on_four.has_value()) << describe(on_four.error().front());
  // MediaBox of A4 in points, as the PDF library writes it.
  EXPECT_THAT(on_four->papers.front().bytes, HasSubstr("595.27"));
  request.placing.begin_at = 5;
  const auto on_five = issue_label(session, request, data);
  ASSERT_FALSE(on_five.has_value());
  EXPECT_EQ(on_five.error().front().field, "--begin-at");
}

TEST(RulerPages, AreDrawnForStocksThatThereAre) {
  const auto page = draw_ruler_page(data, "sheet-63x38", 0, 0);
  ASSERT_TRUE(page.has_value());
  EXPECT_TRUE(page->starts_with("%PDF"));
  EXPECT_EQ(*page, *draw_ruler_page(data, "sheet-63x38", 0, 0));
  const auto none = draw_ruler_page(data, "sheet-0x0", 0, 0);
  ASSERT_FALSE(none.has_value());
  EXPECT_THAT(none.error().front().remedy, HasSubstr("sheet-63x38"));
}

}  // namespace
}  // namespace tierproof
