// The drawing of a trace: which things and lines are on it, and what it keeps to itself.
#include <fmt/format.h>

#include "app/app_for_tests.h"
#include "tierproof/app/stores.h"
#include "tierproof/app/tracing.h"

namespace tierproof {
namespace {

/// `pack-1 > batch-1` for each line, with a `?` where it may be.
Strings lines_of(const TracedGraph& traced) {
  Strings lines;
  for (const TraceEdge& edge : traced.graph.edges)
    lines.push_back(fmt::format("{} >{} {}", traced.things.at(edge.from).id, edge.certain ? "" : " ?", traced.things.at(edge.to).id));
  return lines;
}
Result<TracedGraph> graph_of(TestKitchen& kitchen, const std::string& thing) {
  const Session session = kitchen.open(true);
  return traced_graph(session, thing, {session.now(), Offset{60}});
}
std::string drawing_of(TestKitchen& kitchen, const std::string& thing, PictureForm form = PictureForm::svg) {
  const Session session = kitchen.open(true);
  const auto drawn = draw_trace(session, thing, form, DataRoot{TIERPROOF_SOURCE_DIR}, {session.now(), Offset{60}});
  EXPECT_TRUE(drawn.has_value());
  return drawn ? *drawn : "";
}

TEST(TracePictures, HaveTheWaysThroughTheThingAndNoOthers) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = cake_of(kitchen, {{sponge, grams(135)}, {icing, grams(149)}});
  const auto of_icing = graph_of(kitchen, icing);
  ASSERT_TRUE(of_icing.has_value());
  EXPECT_EQ(of_icing->things.front().id, icing) << "what was asked for comes first";
  EXPECT_THAT(lines_of(*of_icing), testing::UnorderedElementsAre("pack-2 > batch-2", "pack-3 > batch-2", "batch-2 > cake-1"))
      << "the sponge and its packs are in the cake too, but not by way of the icing";
  const auto of_sugar = graph_of(kitchen, "code of sugar");
  ASSERT_TRUE(of_sugar.has_value());
  EXPECT_THAT(lines_of(*of_sugar),
              testing::UnorderedElementsAre("pack-2 > batch-1", "pack-2 > batch-2", "batch-1 > cake-1", "batch-2 > cake-1"));
  EXPECT_FALSE(graph_of(kitchen, "L99").has_value());
}

TEST(TracePictures, TellWhatCameOutOfATubAsPossible) {
  TestKitchen kitchen;
  kitchen.done([](Session& s) { return add_tub(s, "sugar-tub", Tub{"sugar tub", IngredientId{"sugar"}}); });
  kitchen.done([](Session& s) { return top_up(s, "sugar-tub", "pack-2", ""); });
  const std::string second = kitchen.pack("sugar", "2026-07-30");
  kitchen.done([&](Session& s) { return top_up(s, "sugar-tub", second, ""); });
  const std::string icing = kitchen.make("icing", grams(298));
  EXPECT_THAT(lines_of(*graph_of(kitchen, second)), testing::ElementsAre(second + " > ? " + icing));
}

TEST(TracePictures, MarkWhatIsWithdrawnOrVoided) {
  TestKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = cake_of(kitchen, {{icing, grams(149)}});
  EXPECT_THAT(drawing_of(kitchen, icing), Not(HasSubstr(">WITHDRAWN<")));
  kitchen.done([](Session& s) { return withdraw(s, "pack-2", "the mill calls it back"); });
  EXPECT_THAT(drawing_of(kitchen, icing), HasSubstr(">WITHDRAWN<"));
  EXPECT_THAT(drawing_of(kitchen, "pack-2"), HasSubstr(">TRACED: THIS ONE · WITHDRAWN<"));
  const std::uint64_t sequence = kitchen.open(true).state().batches.at(BatchId{icing}).sequence;
  kitchen.done([&](Session& s) { return void_note(s, sequence, "it was another kitchen's"); });
  EXPECT_THAT(drawing_of(kitchen, cake), HasSubstr(">VOIDED<"));
}

TEST(TracePictures, AreTheSameTwiceInBothForms) {
  TestKitchen kitchen;
  kitchen.make("icing", grams(298));
  for (const PictureForm form : {PictureForm::svg, PictureForm::pdf})
    EXPECT_EQ(drawing_of(kitchen, "pack-2", form), drawing_of(kitchen, "pack-2", form));
  EXPECT_TRUE(drawing_of(kitchen, "pack-2", PictureForm::pdf).starts_with("%PDF-1.4"));
  EXPECT_THAT(drawing_of(kitchen, "pack-2"), HasSubstr("DEMO"));
}

}  // namespace
}  // namespace tierproof
