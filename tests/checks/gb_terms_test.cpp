// Figures of the published texts against the rows of reference/gb*, each with its source.
#include <cmath>
#include <map>

#include "../rules/reference_files.h"

namespace tierproof {
namespace {

const Date gb_look = day(2026, 12, 1);

LabelTerms gb_label() {
  const auto packs = shipped_packs();
  auto terms = packs.label_terms("gb", gb_look);
  if (!terms) throw std::runtime_error{told(terms.error())};
  return std::move(terms).value();
}

TemperatureTerms temperatures(const std::string& code) {
  const auto packs = shipped_packs();
  auto terms = packs.temperature_terms(code, gb_look);
  if (!terms) throw std::runtime_error{told(terms.error())};
  return std::move(terms).value();
}

/// The rows of `what` that speak of a package with that largest face or that quantity.
std::vector<std::int64_t> heights(const LabelTerms& terms, const std::string& what, std::int64_t face_cm2, Mass quantity) {
  std::vector<std::int64_t> out;
  for (const auto& size : terms.type_sizes) {
    if (size.what != what) continue;
    if (size.face_from_cm2 && face_cm2 < *size.face_from_cm2) continue;
    if (size.face_below_cm2 && face_cm2 >= *size.face_below_cm2) continue;
    if (size.above && quantity <= *size.above) continue;
    if (size.up_to && quantity > *size.up_to) continue;
    out.push_back(size.minimum_um);
  }
  return out;
}

struct HeightCheck {
  const char* id;
  const char* what;
  std::int64_t face_cm2;
  std::int64_t grams_in_it;
  std::int64_t expected_um;
  const char* source;
};

class PublishedHeight : public testing::TestWithParam<HeightCheck> {};
TEST_P(PublishedHeight, IsWhatTheRowsGive) {
  const auto& check = GetParam();
  EXPECT_EQ(heights(gb_label(), check.what, check.face_cm2, grams(check.grams_in_it)), std::vector<std::int64_t>{check.expected_um})
      << check.source;
}
INSTANTIATE_TEST_SUITE_P(
    Checks, PublishedHeight,
    testing::Values(HeightCheck{"face79", "text", 79, 500, 900, "Reg. (EU) No 1169/2011 art. 13(3): largest surface less than 80 cm2"},
                    HeightCheck{"face80", "text", 80, 500, 1200,
                                "Reg. (EU) No 1169/2011 art. 13(2): exactly 80 cm2 is not less than 80 cm2"},
                    HeightCheck{"face400", "text", 400, 500, 1200, "Reg. (EU) No 1169/2011 art. 13(2)"},
                    HeightCheck{"e50", "net quantity e-mark", 400, 50, 2000, "Directive 76/211/EEC annex I 3.1, from memory"},
                    HeightCheck{"e51", "net quantity e-mark", 400, 51, 3000, "Directive 76/211/EEC annex I 3.1, from memory"},
                    HeightCheck{"e200", "net quantity e-mark", 400, 200, 3000, "Directive 76/211/EEC annex I 3.1, from memory"},
                    HeightCheck{"e950", "net quantity e-mark", 400, 950, 4000, "Directive 76/211/EEC annex I 3.1, from memory"},
                    HeightCheck{"e1000", "net quantity e-mark", 400, 1000, 4000, "Directive 76/211/EEC annex I 3.1, from memory"},
                    HeightCheck{"e1200", "net quantity e-mark", 400, 1200, 6000, "Directive 76/211/EEC annex I 3.1, from memory"},
                    HeightCheck{"esymbol", "e symbol", 400, 1200, 3000, "SI 2006/659 reg. 2: the e mark at least 3 mm high"}),
    [](const auto& check) { return std::string{check.param.id}; });

TEST(PublishedLabelRules, DeclareSulphitesOnlyAboveTenMilligramsAKilogram) {
  const auto terms = gb_label();
  const auto* sulphites = terms.allergen("sulphites");
  ASSERT_NE(sulphites, nullptr);
  EXPECT_EQ(sulphites->above_mg_per_kg, Share{10})
      << "Reg. (EU) No 1169/2011 annex II.12: concentrations of more than 10 mg/kg or 10 mg/litre";
  EXPECT_FALSE(sulphites->at_threshold) << "more than";
  for (const auto& allergen : terms.allergens) {
    EXPECT_EQ(allergen.above_mg_per_kg.has_value(), allergen.key == "sulphites") << allergen.key << ": annex II has no other threshold";
  }
}

TEST(PublishedLabelRules, CountFourCerealsAndEightNutsAmongFourteenGroups) {
  std::map<std::string, int> groups;
  const auto terms = gb_label();
  for (const auto& allergen : terms.allergens) ++groups[allergen.group];
  EXPECT_EQ(groups.size(), 14u) << "Reg. (EU) No 1169/2011 annex II";
  EXPECT_EQ(groups["nuts"], 8) << "annex II.8, a closed list";
  EXPECT_EQ(groups["cereals containing gluten"], 4) << "annex II.1: wheat, rye, barley, oats";
  EXPECT_EQ(terms.allergens.size(), 24u);
}

TEST(PublishedLabelRules, TakeOnlyTheListedNameForAClearReference) {
  EXPECT_EQ(gb_label().allergen("milk")->names, std::vector<std::string>{"milk"})
      << "guidance on art. 21: after butter and cream, print (milk)";
}

TEST(PublishedLabelRules, HaveTheSharesOfAnnexSeven) {
  const auto terms = gb_label();
  EXPECT_EQ(terms.water_ignored_up_to.limit, share_of(5, 100)) << "Reg. (EU) No 1169/2011 annex VII A.1: does not exceed 5 %";
  EXPECT_EQ(terms.any_order_below.limit, share_of(2, 100)) << "annex VII A.6, from memory: less than 2 %";
  EXPECT_FALSE(terms.any_order_below.inclusive) << "annex VII A.6: less than";
  const auto by_law = std::find_if(terms.reliefs.begin(), terms.reliefs.end(), [](const ReliefTerm& relief) {
    return std::find(relief.compositions.begin(), relief.compositions.end(), "jam") != relief.compositions.end();
  });
  ASSERT_NE(by_law, terms.reliefs.end());
  EXPECT_EQ(by_law->below, share_of(2, 100)) << "annex VII E.2(a), from memory: less than 2 %, of a composition defined by law";
  EXPECT_TRUE(by_law->cited.from_memory);
  for (const auto& relief : terms.reliefs) {
    EXPECT_TRUE(relief.below.has_value()) << "annex VII E.2: no relief holds for any amount";
    EXPECT_EQ(std::find(relief.compositions.begin(), relief.compositions.end(), "any"), relief.compositions.end()) << relief.cited.row;
  }
  EXPECT_TRUE(terms.any_order_below.cited.from_memory);
  EXPECT_FALSE(terms.water_ignored_up_to.cited.from_memory);
  EXPECT_EQ(terms.varying_group("nuts"), nullptr) << "annex VII A.4: fruit, vegetables, mushrooms; A.5: herbs, spices";
}

TEST(PublishedLabelRules, WarnOfSixColours) {
  const auto terms = gb_label();
  const auto found = std::find_if(terms.additive_wordings.begin(), terms.additive_wordings.end(),
                                  [](const AdditiveWording& w) { return w.numbers.size() == 6; });
  ASSERT_NE(found, terms.additive_wordings.end());
  EXPECT_EQ(found->numbers, (std::vector<std::string>{"E102", "E104", "E110", "E122", "E124", "E129"})) << "Reg. (EC) No 1333/2008 annex V";
  EXPECT_EQ(found->wording, "{names}: may have an adverse effect on activity and attention in children.")
      << "Reg. (EC) No 1333/2008 annex V";
}

TEST(PublishedLabelRules, WarnOfPolyolsOnlyAboveTenPercent) {
  const auto terms = gb_label();
  const auto found =
      std::find_if(terms.share_wordings.begin(), terms.share_wordings.end(), [](const ShareWording& w) { return w.of == "polyols"; });
  ASSERT_NE(found, terms.share_wordings.end());
  EXPECT_EQ(found->above, share_of(10, 100)) << "Reg. (EU) No 1169/2011 annex III.2.4: more than 10 %";
  EXPECT_EQ(found->wording, "excessive consumption may produce laxative effects") << "annex III.2.4";
}

TEST(PublishedLabelRules, KnowTheStandingOfColoursAndMetals) {
  const auto terms = gb_label();
  EXPECT_EQ(terms.additive("E127")->status, "restricted") << "EFSA opinion on erythrosine, 2011: cherries only";
  EXPECT_EQ(terms.additive("E171")->status, "permitted") << "at last check, 2026; withdrawn elsewhere by Reg. (EU) 2022/63";
  EXPECT_EQ(terms.additive("E174")->status, "restricted")
      << "Reg. (EC) No 1333/2008 annex II: coating of confectionery, chocolates, liqueurs";
  EXPECT_EQ(terms.additive("E175")->status, "restricted")
      << "Reg. (EC) No 1333/2008 annex II: coating of confectionery, chocolates, liqueurs";
  EXPECT_EQ(terms.additive("E924")->status, "not permitted") << "potassium bromate, from memory";
  EXPECT_EQ(terms.additive("E500")->status, "permitted") << "sodium carbonates, from memory";
  EXPECT_FALSE(terms.additive("E174")->note.empty());
  EXPECT_EQ(terms.additive("E220")->flags, std::vector<std::string>{"sulphite"});
}

struct DateCheck {
  const char* id;
  int life_months;
  const char* form;
  const char* wording;
};
class PublishedDateForm : public testing::TestWithParam<DateCheck> {};
TEST_P(PublishedDateForm, IsTheShortestThatTheLifeAllows) {
  const auto terms = gb_label();
  const DateMarkTerm* found = nullptr;
  for (const auto& mark : terms.date_marks) {
    if (mark.kind == "best before" && (!mark.life_up_to_months || GetParam().life_months <= *mark.life_up_to_months) && found == nullptr)
      found = &mark;
  }
  ASSERT_NE(found, nullptr);
  EXPECT_EQ(found->form, GetParam().form) << "Reg. (EU) No 1169/2011 annex X.1(c)";
  EXPECT_EQ(found->wording, GetParam().wording) << "Reg. (EU) No 1169/2011 annex X.1(a)";
}
INSTANTIATE_TEST_SUITE_P(Checks, PublishedDateForm,
                         testing::Values(DateCheck{"m1", 1, "day month", "Best before"}, DateCheck{"m3", 3, "day month", "Best before"},
                                         DateCheck{"m5", 5, "month year", "Best before end"},
                                         DateCheck{"m18", 18, "month year", "Best before end"},
                                         DateCheck{"m20", 20, "year", "Best before end"}),
                         [](const auto& check) { return std::string{check.param.id}; });

TEST(PublishedLabelRules, AskForAListOnFoodPrepackedForDirectSaleSinceOctober2021) {
  const auto packs = shipped_packs();
  const auto declaration = [&](Date on) {
    const auto terms = packs.label_terms("gb", on);
    for (const auto& route : terms->routes) {
      if (route.route == "prepacked for direct sale") return route.declaration;
    }
    return std::string{"none"};
  };
  EXPECT_EQ(declaration(day(2021, 9, 30)), "allergens") << "SI 2014/1855 as first made, from memory";
  EXPECT_EQ(declaration(day(2021, 10, 1)), "ingredient list") << "SI 2019/1218, explanatory note: regulation 5A";
}

TEST(PublishedLabelRules, GiveTheWordsOfTheLaw) {
  const auto terms = gb_label();
  EXPECT_NE(terms.wording("ingredients heading")->text.find("ngredients"), std::string::npos) << "Reg. (EU) No 1169/2011 art. 18(1)";
  EXPECT_EQ(terms.wording("contains")->text, "Contains:") << "art. 21(1)";
  EXPECT_EQ(terms.wording("varying proportions")->text, "in varying proportions") << "annex VII A.4";
  EXPECT_EQ(terms.wording("use by")->text, "Use by") << "annex X.2";
}

TEST(PublishedTemperatureRules, SetEightDegreesOnFoodInEnglandAndWales) {
  for (const char* code : {"gb-eng", "gb-wls"}) {
    const auto terms = temperatures(code);
    ASSERT_FALSE(terms.chill.empty());
    EXPECT_EQ(terms.chill[0].limit, celsius(8.0)) << "SI 2013/2996 and WSI 2006/31, schedule 4 paragraph 2(1): at a temperature above 8 °C";
    EXPECT_EQ(terms.chill[0].measured_in, "food") << "the law is about the food";
    EXPECT_FALSE(terms.chill[0].advice);
    ASSERT_EQ(terms.allowances.size(), 1u);
    EXPECT_EQ(terms.allowances[0].less_than, std::chrono::hours{4})
        << "schedule 4 paragraph 5(1), read in NISR 2006/3: less than four hours";
    EXPECT_TRUE(terms.allowances[0].once) << "schedule 4 paragraph 5(1): had not previously been kept";
  }
}

TEST(PublishedTemperatureRules, GiveNoNumberInScotland) {
  const auto terms = temperatures("gb-sct");
  for (const auto& chill : terms.chill) EXPECT_TRUE(chill.advice) << "SSI 2006/3 schedule 4 paragraph 2 has no number";
  ASSERT_EQ(terms.cold_places.size(), 1u);
  EXPECT_NE(terms.cold_places[0].words.find("cool ventilated place"), std::string::npos) << "SSI 2006/3 schedule 4 paragraph 2(1)(a)";
  EXPECT_TRUE(terms.allowances.empty());
}

struct HoldCheck {
  const char* id;
  double at;
  int seconds;
};
class PublishedHoldRow : public testing::TestWithParam<HoldCheck> {};
TEST_P(PublishedHoldRow, StandsInTheTable) {
  for (const char* code : {"gb-eng", "gb-sct", "gb-wls"}) {
    const auto terms = temperatures(code);
    EXPECT_EQ(terms.heat_rows.size(), 5u);
    EXPECT_EQ(std::count_if(terms.heat_rows.begin(), terms.heat_rows.end(),
                            [](const HeatRow& r) {
                              return r.food == "core of a cooked food" && r.at == celsius(GetParam().at) &&
                                     r.hold == std::chrono::seconds{GetParam().seconds};
                            }),
              1)
        << "Food Standards Agency advice, as repeated in secondary pages: 60 °C 45 min, 65 °C 10 min, 70 °C 2 min, 75 °C 30 s, 80 °C 6 s";
  }
}
INSTANTIATE_TEST_SUITE_P(Checks, PublishedHoldRow,
                         testing::Values(HoldCheck{"c60", 60, 2700}, HoldCheck{"c65", 65, 600}, HoldCheck{"c70", 70, 120},
                                         HoldCheck{"c75", 75, 30}, HoldCheck{"c80", 80, 6}),
                         [](const auto& check) { return std::string{check.param.id}; });

// The five rows are those of one z, rounded up: what the row of equivalence rests on, and why it is marked as from memory.
TEST(PublishedTemperatureRules, AreReproducedByTheZOfTheirEquivalence) {
  const auto terms = temperatures("gb-eng");
  ASSERT_EQ(terms.equivalences.size(), 1u);
  const auto& one = terms.equivalences[0];
  EXPECT_EQ(one.food, "core of a cooked food") << "none for egg white with sugar";
  EXPECT_TRUE(one.cited.from_memory);
  for (const auto& row : terms.heat_rows) {
    const double exact =
        std::chrono::duration<double>{one.required}.count() * std::pow(10.0, (one.reference - row.at).to_kelvins() / one.z.to_kelvins());
    const double printed = std::chrono::duration<double>{row.hold}.count();
    EXPECT_LE(exact, printed + 1e-9) << row.at.to_celsius();
    EXPECT_GE(exact, printed * 0.8) << row.at.to_celsius();
  }
  EXPECT_EQ(one.floor, celsius(60)) << "the coldest published row";
  EXPECT_EQ(one.ceiling, celsius(80)) << "the hottest published row";
}

TEST(PublishedTemperatureRules, StopAtTwelvePercentSugarForEgg) {
  const auto terms = temperatures("gb-eng");
  ASSERT_EQ(terms.egg_mix.size(), 1u);
  EXPECT_EQ(terms.egg_mix[0].sugar_up_to, share_of(12, 100)) << "9 CFR 590.570 table I: sugar whole egg (2-12 percent sugar added)";
}

TEST(PublishedTemperatureRules, CheckThermometersWithinOneDegreeEveryWeek) {
  const auto terms = temperatures("gb-eng");
  ASSERT_TRUE(terms.probe.has_value());
  EXPECT_EQ(terms.probe->band, kelvins(1.0)) << "iced water -1 to 1 °C, boiling water 99 to 101 °C: food authority pages";
  EXPECT_EQ(terms.probe->days_between, 7) << "weekly: trade advice";
}

TEST(PublishedTemperatureRules, BridgeNoLongerGapThanThisProjectChose) {
  const auto terms = temperatures("gb-eng");
  ASSERT_EQ(terms.gaps.size(), 2u);
  for (const auto& gap : terms.gaps) {
    EXPECT_EQ(gap.longest, gap.use == "heat step" ? Span{std::chrono::seconds{60}} : Span{std::chrono::minutes{30}}) << "a choice, not law";
  }
}

TEST(PublishedRetention, KeepsRecordsTwelveMonthsPastTheShelfLife) {
  const auto packs = shipped_packs();
  const auto terms = packs.retention_terms("gb", gb_look);
  ASSERT_TRUE(terms.has_value());
  int records = 0;
  for (const auto& row : terms->rows) {
    if (row.what != "record") continue;
    ++records;
    EXPECT_EQ(row.months, 12) << "Food Standards Agency, traceability training: shelf life plus e.g. twelve months";
  }
  EXPECT_EQ(records, 3);
}

TEST(PublishedRetention, KeepsACustomerReachableThirtyDaysPastTheirCake) {
  const auto packs = shipped_packs();
  const auto terms = packs.retention_terms("gb", gb_look);
  ASSERT_TRUE(terms.has_value());
  int personal = 0;
  for (const auto& row : terms->rows) {
    if (row.what != "personal data") continue;
    ++personal;
    EXPECT_EQ(row.days, 30) << "a choice, not law";
  }
  EXPECT_EQ(personal, 3);
}

}  // namespace
}  // namespace tierproof
