// Traces through packs, batches and cakes. C01 to C08 and C19: worked cases of the project's notes on traceability (invented quantities,
// worked by hand); the properties compare with a plain search that tries every way.
#include "tierproof/sums/trace.h"

#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

#include <functional>
#include <map>
#include <set>

namespace tierproof {
namespace {

using testing::ElementsAre;
using testing::UnorderedElementsAre;
using FoundIds = std::vector<std::string>;

/// A graph by names.
class DrawnGraph {
 public:
  DrawnGraph& whole(const std::string& id, std::int64_t g) {
    graph.things[at(id)].whole = grams(g);
    return *this;
  }
  DrawnGraph& into(const std::string& from, const std::string& to, std::optional<std::int64_t> g = {}, bool certain = true) {
    const std::size_t a = at(from), b = at(to);
    graph.edges.push_back({a, b, certain, g ? std::optional{grams(*g)} : std::nullopt});
    return *this;
  }
  std::size_t at(const std::string& id) {
    const auto [place, is_new] = index_.emplace(id, graph.things.size());
    if (is_new) graph.things.push_back({id, {}});
    return place->second;
  }
  FoundIds names(const std::vector<TraceStep>& steps, bool certain = true) const {
    FoundIds found;
    for (const auto& step : steps) {
      if (step.certain == certain) found.push_back(graph.things[step.thing].id);
    }
    return found;
  }
  FoundIds forward(const std::string& from, bool certain = true) {
    const std::size_t begin = at(from);
    return names(traced(graph, std::span{&begin, 1}, TraceWay::forward), certain);
  }
  FoundIds back(const std::string& from, bool certain = true) {
    const std::size_t begin = at(from);
    return names(traced(graph, std::span{&begin, 1}, TraceWay::back), certain);
  }
  std::map<std::string, Share> amounts(const std::string& from) {
    std::map<std::string, Share> found;
    const auto all = amounts_of(graph, at(from));
    if (!all) return found;
    for (const auto& one : *all) found[graph.things[one.thing].id] = one.mg / 1000;
    return found;
  }
  TraceGraph graph;

 private:
  std::map<std::string, std::size_t> index_;
};

TEST(Trace, C01FollowsAChainBothWays) {
  DrawnGraph d;
  d.into("F", "S").into("sugar", "S").into("S", "K1").into("S", "K2");
  EXPECT_THAT(d.forward("F"), ElementsAre("F", "S", "K1", "K2"));
  EXPECT_THAT(d.back("K1"), UnorderedElementsAre("K1", "S", "F", "sugar"));
}

TEST(Trace, C02SplitsAndBalancesToNothing) {
  DrawnGraph d;
  d.whole("S", 3600).into("S", "K1", 1200).into("S", "K2", 1200).into("S", "K3", 900).into("S", "frozen", 250);
  EXPECT_THAT(d.forward("S"), ElementsAre("S", "K1", "K2", "K3", "frozen"));
  const MassBalance balance{grams(3600), grams(3300 + 250), grams(50), grams(0)};
  EXPECT_EQ(balance.left(), grams(0));
  EXPECT_EQ(*balance.unaccounted(), grams(0));
}

TEST(Trace, C03OfTwoPacksThatWentInTogetherEachReachesEverything) {
  DrawnGraph d;
  d.into("E1", "S").into("E2", "S").into("S", "K");
  EXPECT_THAT(d.forward("E1"), ElementsAre("E1", "S", "K"));
  EXPECT_THAT(d.forward("E2"), ElementsAre("E2", "S", "K"));
}

TEST(Trace, C04ReachesByTwoWaysOnce) {
  DrawnGraph d;
  d.whole("F", 1000).whole("S", 500).whole("B", 200);
  d.into("F", "S", 300).into("F", "B", 100).into("S", "K", 250).into("B", "K", 200);
  EXPECT_THAT(d.forward("F"), ElementsAre("F", "S", "B", "K"));
  EXPECT_EQ(d.amounts("F")["K"], Share{150 + 100}) << "half of the sponge's 300 g and all of the biscuit's 100 g";
}

TEST(Trace, C05FollowsReworkWhateverTheDay) {
  DrawnGraph d;
  d.into("F", "S").into("S", "T").into("T", "X");
  EXPECT_THAT(d.forward("F"), ElementsAre("F", "S", "T", "X"));
}

TEST(MassBalance, C06TellsWhatIsNotAccountedFor) {
  const MassBalance balance{grams(16000), grams(4500 + 3750 + 2250 + 1800), grams(300), grams(3260)};
  EXPECT_EQ(balance.left(), grams(3400));
  EXPECT_EQ(*balance.unaccounted(), grams(140));
}

TEST(MassBalance, C07NeverHidesThatMoreWasUsedThanThereWas) {
  const MassBalance balance{grams(5000), grams(2000 + 2500 + 800), grams(0), {}};
  EXPECT_EQ(balance.left(), grams(-300));
  EXPECT_FALSE(balance.unaccounted().has_value());
  DrawnGraph d;
  d.whole("F", 5000).into("F", "A", 2000).into("F", "B", 2500).into("F", "C", 800);
  EXPECT_EQ(d.amounts("F")["C"], Share{800});
}

TEST(Trace, C19OfStackedDiamondsAndALoopEndsAndListsEachOnce) {
  DrawnGraph d;
  for (int i = 0; i < 20; ++i) {
    const std::string a = "a" + std::to_string(i), next = "a" + std::to_string(i + 1);
    d.into(a, "b" + std::to_string(i)).into(a, "c" + std::to_string(i));
    d.into("b" + std::to_string(i), next).into("c" + std::to_string(i), next);
  }
  EXPECT_EQ(d.forward("a0").size(), 61u);
  d.into("a20", "a0");
  EXPECT_EQ(d.forward("a0").size(), 61u);
  EXPECT_EQ(d.forward("a7").size(), 61u) << "round the loop";
}

TEST(Trace, KeepsWhatIsPossibleApart) {
  DrawnGraph d;
  d.into("P1", "S", 100, true).into("P2", "S", {}, false).into("S", "K", 50);
  EXPECT_THAT(d.forward("P1"), ElementsAre("P1", "S", "K"));
  EXPECT_THAT(d.forward("P2"), ElementsAre("P2"));
  EXPECT_THAT(d.forward("P2", false), ElementsAre("S", "K"));
  EXPECT_THAT(d.back("K", false), ElementsAre("P2"));
  d.into("P2", "K", 10, true);
  EXPECT_THAT(d.forward("P2"), ElementsAre("P2", "K")) << "certain by one way is certain";
}

TEST(Trace, TellsTheShortestWayAndOfACertainThingACertainOne) {
  DrawnGraph d;
  d.into("P", "K", {}, false).into("P", "S").into("S", "K");
  const std::size_t begin = d.at("P");
  for (const auto& step : traced(d.graph, std::span{&begin, 1}, TraceWay::forward)) {
    if (step.thing != d.at("K")) continue;
    EXPECT_TRUE(step.certain);
    ASSERT_TRUE(step.via.has_value());
    EXPECT_EQ(d.graph.edges[*step.via].from, d.at("S"));
  }
}

TEST(CommonSources, AreWhatWentIntoEveryOne) {
  DrawnGraph d;
  d.into("F", "S").into("S", "K1").into("F", "B").into("B", "K2").into("G", "K2").into("H", "S", {}, false).into("H", "B");
  const std::vector<std::size_t> asked{d.at("K1"), d.at("K2")};
  const auto shared = common_sources(d.graph, asked);
  EXPECT_THAT(d.names(shared), ElementsAre("F"));
  EXPECT_THAT(d.names(shared, false), ElementsAre("H")) << "only possible in one of them";
}

TEST(Amounts, AreNotToldWhereAWeightIsNotKnownOrTheRecordsRunInALoop) {
  DrawnGraph unknown;
  unknown.whole("F", 100).into("F", "S", 50).into("S", "K", 10);
  EXPECT_TRUE(unknown.amounts("F").empty()) << "nobody knows what S weighed";
  DrawnGraph loop;
  loop.whole("F", 100).whole("S", 100).whole("T", 100).into("F", "S", 50).into("S", "T", 10).into("T", "S", 5);
  EXPECT_TRUE(loop.amounts("F").empty());
  loop.into("S", "F", 1);
  EXPECT_TRUE(loop.amounts("F").empty());
}

TEST(Amounts, OfWhatIsPossibleAreNotCounted) {
  DrawnGraph d;
  d.whole("F", 100).into("F", "S", {}, false).into("F", "T", 40);
  EXPECT_EQ(d.amounts("F"), (std::map<std::string, Share>{{"F", 100}, {"T", 40}}));
}

// ---- against a plain search ----------------------------------------------------------------------------------------------------------

/// Things 0..n-1 with edges from lower to higher numbers, so that there is no loop; masses that use up no more than there is.
TraceGraph random_graph(bool with_loops) {
  TraceGraph graph;
  const auto n = static_cast<std::size_t>(*rc::gen::inRange(1, 9));
  for (std::size_t i = 0; i < n; ++i) graph.things.push_back({"t" + std::to_string(i), grams(*rc::gen::inRange(1, 500))});
  const int edges = *rc::gen::inRange(0, 14);
  for (int i = 0; i < edges; ++i) {
    auto a = static_cast<std::size_t>(*rc::gen::inRange(0, static_cast<int>(n)));
    auto b = static_cast<std::size_t>(*rc::gen::inRange(0, static_cast<int>(n)));
    if (a == b) continue;
    if (!with_loops && a > b) std::swap(a, b);
    graph.edges.push_back({a, b, *rc::gen::arbitrary<bool>(), grams(*rc::gen::inRange(1, 100))});
  }
  return graph;
}

/// Whether some way leads from `from` to `to`, trying every edge again and again.
bool leads(const TraceGraph& graph, std::size_t from, std::size_t to, bool certain) {
  std::set<std::size_t> known{from};
  for (std::size_t round = 0; round <= graph.things.size(); ++round) {
    for (const auto& edge : graph.edges) {
      if ((edge.certain || !certain) && known.contains(edge.from)) known.insert(edge.to);
    }
  }
  return known.contains(to);
}

RC_GTEST_PROP(TraceProperties, ReachesWhatAPlainSearchReaches, ()) {
  const TraceGraph graph = random_graph(true);
  const auto begin = static_cast<std::size_t>(*rc::gen::inRange(0, static_cast<int>(graph.things.size())));
  std::vector<int> forward(graph.things.size(), 0), back(graph.things.size(), 0);
  for (const auto& step : traced(graph, std::span{&begin, 1}, TraceWay::forward)) forward[step.thing] += step.certain ? 10 : 1;
  for (const auto& step : traced(graph, std::span{&begin, 1}, TraceWay::back)) back[step.thing] += step.certain ? 10 : 1;
  for (std::size_t i = 0; i < graph.things.size(); ++i) {
    RC_ASSERT(forward[i] == (leads(graph, begin, i, true) ? 10 : leads(graph, begin, i, false) ? 1 : 0));
    RC_ASSERT(back[i] == (leads(graph, i, begin, true) ? 10 : leads(graph, i, begin, false) ? 1 : 0));
  }
}

RC_GTEST_PROP(TraceProperties, EveryWayThatIsToldIsAWay, ()) {
  const TraceGraph graph = random_graph(true);
  const auto begin = static_cast<std::size_t>(*rc::gen::inRange(0, static_cast<int>(graph.things.size())));
  const auto steps = traced(graph, std::span{&begin, 1}, TraceWay::forward);
  std::map<std::size_t, TraceStep> by_thing;
  for (const auto& step : steps) by_thing[step.thing] = step;
  for (const auto& step : steps) {
    TraceStep here = step;
    std::size_t length = 0;
    while (here.via) {
      const TraceEdge& edge = graph.edges[*here.via];
      RC_ASSERT(edge.to == here.thing);
      RC_ASSERT(edge.certain || !step.certain);
      RC_ASSERT(++length <= graph.things.size());
      here = by_thing.at(edge.from);
    }
    RC_ASSERT(here.thing == begin);
  }
}

RC_GTEST_PROP(TraceProperties, AmountsAreTheSumOverEveryWay, ()) {
  const TraceGraph graph = random_graph(false);
  const auto begin = static_cast<std::size_t>(*rc::gen::inRange(0, static_cast<int>(graph.things.size())));
  std::vector<Share> expected(graph.things.size(), Share{0});
  const std::function<void(std::size_t, Share)> walk = [&](std::size_t here, Share mg) {
    expected[here] += mg;
    for (const auto& edge : graph.edges) {
      if (edge.from == here && edge.certain)
        walk(edge.to, mg * share_of(edge.mass->to_milligrams(), graph.things[here].whole->to_milligrams()));
    }
  };
  walk(begin, graph.things[begin].whole->to_milligrams());
  const auto amounts = amounts_of(graph, begin);
  RC_ASSERT(amounts.has_value());
  std::vector<Share> found(graph.things.size(), Share{0});
  for (const auto& amount : *amounts) found[amount.thing] = amount.mg;
  RC_ASSERT(found == expected);
}

TEST(RoundedTogether, AddsUpToTheRoundedSum) {
  // the method of largest remainders: 47, 16, 15.8, 12, 6.1, 3.1 hundredths of 10 seats give 5, 2, 1, 1, 1, 0 (worked by hand)
  const std::vector<std::int64_t> shares{47000, 16000, 15800, 12000, 6100, 3100};
  EXPECT_THAT(rounded_together(shares, 10'000), ElementsAre(5, 2, 1, 1, 1, 0));
  const std::vector<std::int64_t> thirds{333, 333, 334};
  EXPECT_THAT(rounded_together(thirds, 1000), ElementsAre(0, 0, 1));
  const std::vector<std::int64_t> overused{2000, 2500, -300};  // more was used than there was
  EXPECT_THAT(rounded_together(overused, 1000), ElementsAre(2, 2, 0)) << "4200 is 4; -300 is -1 and 0.7, the largest remainder";
  EXPECT_TRUE(rounded_together({}, 1000).empty());
}

RC_GTEST_PROP(RoundedTogether, StaysWithinAUnitOfEachAndAddsUp, ()) {
  const auto parts = *rc::gen::container<std::vector<std::int64_t>>(rc::gen::inRange<std::int64_t>(-5'000'000, 5'000'000));
  const auto unit = *rc::gen::element<std::int64_t>(1, 7, 1000);
  const auto rounded = rounded_together(parts, unit);
  RC_ASSERT(rounded.size() == parts.size());
  std::int64_t sum = 0, whole = 0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    RC_ASSERT(std::abs(rounded[i] * unit - parts[i]) < unit);
    sum += parts[i];
    whole += rounded[i];
  }
  const std::int64_t twice_off = 2 * (sum - whole * unit);
  RC_ASSERT(twice_off >= -unit);
  RC_ASSERT(twice_off < unit);
}

}  // namespace
}  // namespace tierproof
