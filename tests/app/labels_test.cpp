#include <algorithm>
#include <set>

#include "app/label_contents.h"
#include "app_for_tests.h"
#include "tierproof/papers/label.h"
#include "tierproof/sums/type_size.h"

namespace tierproof {
namespace {

const DataRoot label_data{TIERPROOF_SOURCE_DIR};

/// A cake of 200 g of sponge in boxes whose largest side is `face` cm², sold by the rules of `place`.
std::string cake_in_boxes(TestKitchen& kitchen, const std::string& place, std::int64_t face, std::int64_t boxes = 1,
                          const std::string& boxed = "before it was chosen", std::optional<std::int64_t> surface = {}) {
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "", boxed, "the maker", "face to face", boxes, face};
  ordering.label_rules = place == "gb" ? "" : place;
  ordering.where = "where it is made";
  ordering.surface_cm2 = surface;
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "none", {}, "the customer", "", ""}); });
  kitchen.tier(cake, "only", {{kitchen.make("sponge", grams(270)), grams(200)}});
  return cake;
}

/// One row of a place: what the label must be given for a box of that face. Published: see the rows' sources in reference/.
struct HeightOfPlace {
  const char* place;
  std::int64_t face_cm2;
  const char* what;
  const char* measured;
  std::int64_t micrometres;
  std::optional<std::int64_t> surface_cm2{};
};

TEST(Labels, AreGivenTheHeightsOfTheirPlaceByTheLargestFaceOrTheWholeSurface) {
  const std::vector<HeightOfPlace> wanted{
      {"gb", 80, "text", "x-height", 1200},  // exactly 80 cm² is not below 80 cm²
      {"gb", 79, "text", "x-height", 900},
      {"eu", 80, "text", "x-height", 1200},
      {"eu", 79, "text", "x-height", 900},
      {"us", 619, "text", "x-height", 1588},
      {"us", 619, "net quantity", "letter height", 4763},  // 96 square inches
      {"us", 649, "net quantity", "letter height", 6350},  // 100.5 square inches
      {"ca", 645, "text", "x-height", 1600},
      {"ca", 645, "net quantity", "letter height", 6400},
      {"ca", 646, "net quantity", "letter height", 9500},
      {"anz", 40, "warning statement", "letter height", 1500, 99},
      {"anz", 40, "warning statement", "letter height", 3000, 100},
      {"anz", 5, "warning statement", "letter height", 3000},  // not known
      {"anz", 100, "net quantity", "figure height", 4800},
      {"us-tx", 619, "storage chilled", "letter height", 4234},
      {"us-ca", 619, "home kitchen", "letter height", 4234},
  };
  TestKitchen kitchen;
  for (const HeightOfPlace& row : wanted) {
    const std::string cake = cake_in_boxes(kitchen, row.place, row.face_cm2, 1, "before it was chosen", row.surface_cm2);
    const LabelContent label = label_content(kitchen.open(true), kitchen.judged(cake), 1);
    std::vector<std::int64_t> found;
    for (const LeastHeight& height : label.heights) {
      EXPECT_NE(height.what, "net quantity e-mark") << row.place;
      EXPECT_NE(height.what, "e symbol") << row.place;
      EXPECT_NE(height.source, "") << row.place;
      if (height.what == row.what && height.measured == row.measured) found.push_back(height.micrometres);
    }
    ASSERT_FALSE(found.empty()) << row.place << ": " << row.what;
    EXPECT_EQ(*std::max_element(found.begin(), found.end()), row.micrometres) << row.place << ", " << row.face_cm2 << " cm²: " << row.what;
  }
}

TEST(Labels, PrintTheSentenceThatARowOfHeightsIsForInThatRowsWords) {
  TestKitchen kitchen;
  const std::string cake = cake_in_boxes(kitchen, "us-ca", 619);
  const LabelContent label = label_content(kitchen.open(true), kitchen.judged(cake), 1);
  const auto home = std::find_if(label.heights.begin(), label.heights.end(), [](const LeastHeight& h) { return h.what == "home kitchen"; });
  ASSERT_NE(home, label.heights.end());
  EXPECT_EQ(home->words, "Made in a Home Kitchen");
  EXPECT_NE(std::find(label.statements.begin(), label.statements.end(), home->words), label.statements.end());
}

// A row whose words no label prints would bind nothing, and nobody would notice.
TEST(Labels, KnowEveryKindOfWordsThatARowOfHeightsNames) {
  const std::set<std::string> known{
      "text", "ingredient list", "contains statement", "net quantity", "warning statement", "net quantity e-mark", "e symbol"};
  std::set<std::string> places;
  for (const std::string& place : rule_packs()->with_labels()) {
    const auto terms = rule_packs()->label_terms(place, *parse_date("2026-11-01"));
    if (!terms) continue;
    places.insert(place);
    EXPECT_TRUE(std::any_of(terms->type_sizes.begin(), terms->type_sizes.end(), [](const auto& row) { return row.what == "text"; }))
        << place;
    for (const TypeSizeTerm& row : terms->type_sizes)
      EXPECT_TRUE(known.contains(row.what) || terms->wording(row.what) != nullptr) << place << ": " << row.what;
  }
  for (const char* place : {"gb", "eu", "ni", "us", "us-tx", "us-ca", "ca", "anz"}) EXPECT_TRUE(places.contains(place)) << place;
}

// Nothing is known of how high a word must be on a box of any size but the one that was recorded: each order names it.
TEST(Labels, AreNotDrawnForABoxOfWhichNoFaceIsRecorded) {
  TestKitchen kitchen;
  Ordering ordering{"Plain cake", parse_date("2026-05-02"), "", "before it was chosen", "the maker", "face to face", 1, 0};
  EXPECT_THAT(kitchen.refused([&](Session& s) { return order_cake(s, ordering); }), HasSubstr("--face"));
}

TEST(Labels, AtTheirHeightsAreDrawnForEveryPlace) {
  TestKitchen kitchen;
  const Fonts fonts = Fonts::load(std::string{TIERPROOF_SOURCE_DIR} + "/reports/fonts");
  const Stock stock{"roll-104", "roll", 1040, 3000, 30, 203, true};
  for (const char* place : {"gb", "eu", "ni", "us", "us-tx", "us-ca", "ca", "anz"}) {
    const std::string cake = cake_in_boxes(kitchen, place, 80);
    const LabelContent label = label_content(kitchen.open(true), kitchen.judged(cake), 1);
    const auto pages = lay_out_label(label, stock, fonts);
    ASSERT_TRUE(pages) << place << ": " << describe(pages.error().front());
    for (const PlacedText& text : pages->pages.front().marks.texts) {
      for (const LeastHeight& height : label.heights) {
        if (height.what == "text") {
          EXPECT_GE(fonts.x_height(text.face, text.size), height.micrometres) << place << ": " << text.text;
        }
        if (height.what == "net quantity" && text.text.find(label.net_quantity) != std::string::npos && !label.net_quantity.empty()) {
          const bool figures = height.measured == "figure height";
          EXPECT_GE(figures ? fonts.figure_height(text.face, text.size) : fonts.x_height(text.face, text.size), height.micrometres)
              << place;
        }
      }
    }
  }
}

TEST(Labels, SayWhichPartsNeedTheFridge) {
  TestKitchen kitchen;
  const auto reason_of = [&](const std::string& cake) {
    const Session session = kitchen.open(true);
    return label_content(session, kitchen.judged(cake), 1).storage_reason;
  };
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string first = kitchen.make("icing", grams(298));
  const std::string second = kitchen.make("icing", grams(298));
  EXPECT_EQ(reason_of(cake_of(kitchen, {{sponge, grams(100)}, {first, grams(90)}, {second, grams(90)}})), "Because of: icing.");
  EXPECT_EQ(reason_of(cake_of(kitchen, {{sponge, grams(100)}})), "") << "nothing in it needs the fridge by its recipe";
}

TEST(Labels, OfEveryBoxAreIssuedTogetherEachAPaperOfItsOwn) {
  TestKitchen kitchen;
  const std::string cake = cake_in_boxes(kitchen, "gb", 900, 3);
  kitchen.key = "labels once";
  LabelRequest request{cake, "sheet-99x139"};
  request.every_box = true;
  Session session = kitchen.open();
  const auto issued = issue_label(session, request, label_data);
  ASSERT_TRUE(issued) << describe(issued.error().front());
  ASSERT_EQ(issued->papers.size(), 9U);
  ASSERT_EQ(issued->booked.sequences.size(), 9U);
  const Session after = kitchen.open(true);
  std::vector<std::int64_t> boxes;
  for (const auto& paper : after.state().papers) {
    if (paper.value.form == "json") boxes.push_back(paper.value.box);
  }
  EXPECT_EQ(boxes, (std::vector<std::int64_t>{1, 2, 3}));
  for (std::size_t i = 0; i < 9; ++i) {
    const auto kept = reprint(after, issued->booked.sequences[i]);
    ASSERT_TRUE(kept);
    EXPECT_EQ(kept->bytes, issued->papers[i].bytes);
    EXPECT_EQ(kept->box, static_cast<std::int64_t>(i / 3 + 1));
    if (kept->form == "json") {
      EXPECT_THAT(kept->bytes, HasSubstr("\"box\": \"Box " + std::to_string(i / 3 + 1) + " of 3\""));
    }
  }
  Session again = kitchen.open();
  const auto retried = issue_label(again, request, label_data);
  ASSERT_TRUE(retried);
  EXPECT_TRUE(retried->booked.already);
  for (std::size_t i = 0; i < 9; ++i) EXPECT_EQ(retried->papers[i].bytes, issued->papers[i].bytes);
}

TEST(Labels, SayWhichCodeHasNoRoom) {
  TestKitchen kitchen;
  const std::string cake = cake_in_boxes(kitchen, "gb", 900);
  int left_out = 0;
  int printed = 0;
  for (const char* stock : {"die-62x100", "sheet-99x38", "sheet-63x47", "die-60x40", "die-76x51", "die-100x50"}) {
    Session session = kitchen.open();
    const auto issued = issue_label(session, {cake, stock}, label_data);
    if (!issued) continue;
    const std::string& json = issued->papers.back().bytes;
    if (issued->remarks.empty()) {
      ++printed;
      EXPECT_THAT(json, HasSubstr("\"codes_left_out\": []")) << stock;
    } else {
      ++left_out;
      EXPECT_EQ(issued->remarks,
                (std::vector<std::string>{"the QR Code of cake-1 has no room on this stock: the label is printed without it"}));
      EXPECT_THAT(json, HasSubstr("\"QR Code\"")) << stock;
    }
  }
  EXPECT_GE(printed, 1);
  EXPECT_GE(left_out, 1);
}

TEST(Labels, ThatDoNotFitNameASheetInsteadOnlyWhereNothingHasToBeOnTheBox) {
  TestKitchen kitchen;
  const auto refusal_of = [&](const std::string& cake) {
    Session session = kitchen.open();
    const auto issued = issue_label(session, {cake, "sheet-67x25"}, label_data);
    return issued ? std::string{"it fits"} : describe(issued.error().front());
  };
  const std::string told = refusal_of(cake_in_boxes(kitchen, "gb", 900, 1, "after it was ordered"));
  EXPECT_THAT(told, HasSubstr("or give its allergen sheet along (allergen-sheet cake-1)"));
  const std::string labelled = refusal_of(cake_in_boxes(kitchen, "gb", 900));
  EXPECT_THAT(labelled, HasSubstr("does not fit"));
  EXPECT_THAT(labelled, Not(HasSubstr("allergen sheet")));
}

}  // namespace
}  // namespace tierproof
