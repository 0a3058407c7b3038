// Rules are data: the rules of one country under a made-up code and with other figures, and the label follows. Nothing is built anew.
#include "../rules/reference_files.h"
#include "../sums/cake_for_tests.h"
#include "tierproof/text/json.h"

namespace tierproof {
namespace {

using namespace for_tests;

const Date look_then = day(2026, 12, 1);

/// One change in the copy: of the rows of `mechanism` (of `key`, when it is given) that are in force without an end.
struct Change {
  const char* mechanism;
  const char* key;
  const char* parameter;
  const char* to;
};

/// The files of `reference/` and a copy of gb among them, under the code zz and changed.
std::vector<PackFile> with_a_copy(const std::vector<Change>& changes) {
  auto files = reference_files();
  for (std::size_t i = 0, count = files.size(); i < count; ++i) {
    if (!files[i].path.starts_with("gb/")) continue;
    PackFile copy{"zz/" + files[i].path.substr(3), files[i].text};
    if (copy.path == "zz/label.json") {
      auto json = parse_json(copy.text, copy.path).value();
      json["jurisdiction"] = Json{"zz"};
      json["title"] = Json{"A made-up country"};
      for (const auto& change : changes) {
        int changed = 0;
        for (auto& row : json["rows"].array()) {
          if (row.find("mechanism")->text() != change.mechanism || !row.find("to")->is_null()) continue;
          if (change.key[0] != '\0' && row.find("key")->text() != change.key) continue;
          EXPECT_NE(row.find(change.parameter), nullptr) << change.mechanism;
          row[change.parameter] = Json{change.to};
          ++changed;
        }
        EXPECT_EQ(changed, 1) << change.mechanism;
      }
      copy.text = write_canonical(json);
    } else if (copy.path.ends_with(".json")) {
      continue;  // its temperatures and times are another matter
    }
    files.push_back(std::move(copy));
  }
  return files;
}

const std::vector<Change> changes{{"any-order-below", "", "below", "3 %"},
                                  {"added-water", "", "ignored_up_to", "4 %"},
                                  {"emphasis", "", "style", "bold"},
                                  {"wording", "ingredients heading", "text", "Made of:"}};

/// 1000 g when finished: 45 g of the water are still in it (4.5 %), and 25 g of vanilla paste (2.5 %).
CakeParts a_cake() {
  return one_batch({{food("sugar"), grams(500)},
                    {food("butter", {"milk"}), grams(330)},
                    {food("wheat flour", {"gluten:wheat"}), grams(100)},
                    {food("vanilla paste"), grams(25)},
                    {water(), grams(60)}},
                   grams(1000));
}

std::string heading(const Declaration& declared) {
  std::string text;
  for (const auto& run : declared.heading) text += run.text;
  return text;
}

TEST(MadeUpCountry, ChangesTheLabelByItsRowsAlone) {
  const auto packs = RulePacks::read(with_a_copy(changes));
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto here = packs->label_terms("gb", look_then);
  const auto there = packs->label_terms("zz", look_then);
  ASSERT_TRUE(here.has_value()) << told(here.error());
  ASSERT_TRUE(there.has_value()) << told(there.error());
  EXPECT_EQ(here->any_order_below.limit, share_of(2, 100));
  EXPECT_EQ(there->any_order_below.limit, share_of(3, 100));
  EXPECT_EQ(here->water_ignored_up_to.limit, share_of(5, 100));
  EXPECT_EQ(there->water_ignored_up_to.limit, share_of(4, 100));
  EXPECT_EQ(there->title, "A made-up country");
  EXPECT_EQ(there->allergens.size(), here->allergens.size()) << "what was not changed";

  const auto of_here = label(a_cake(), *here);
  const auto of_there = label(a_cake(), *there);
  EXPECT_EQ(marked(of_here.declared), "sugar, butter (*MILK*), *WHEAT* flour, vanilla paste");
  EXPECT_EQ(marked(of_there.declared), "sugar, butter (*milk*), *wheat* flour, water, vanilla paste")
      << "4.5 % of water is above 4 %, and the emphasis is bold without capitals";
  EXPECT_FALSE(entry(of_here.declared, "vanilla paste").any_order_at_end) << "2.5 % is not under 2 %";
  EXPECT_TRUE(entry(of_there.declared, "vanilla paste").any_order_at_end) << "2.5 % is under 3 %";
  EXPECT_EQ(heading(of_here.declared), here->wording("ingredients heading")->text);
  EXPECT_EQ(heading(of_there.declared), "Made of:");
}

TEST(MadeUpCountry, IsTheSameAsTheOneItWasCopiedFromWhileNothingIsChanged) {
  const auto packs = RulePacks::read(with_a_copy({}));
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto of_here = label(a_cake(), packs->label_terms("gb", look_then).value());
  const auto of_there = label(a_cake(), packs->label_terms("zz", look_then).value());
  EXPECT_EQ(marked(of_there.declared), marked(of_here.declared));
  EXPECT_EQ(heading(of_there.declared), heading(of_here.declared));
}

TEST(MadeUpCountry, CanBeChosenBesideTheOthersAndNamesItsOwnFiles) {
  const auto packs = RulePacks::read(with_a_copy(changes));
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  EXPECT_EQ(packs->with_labels().back(), "zz");
  const auto files = packs->files_of("zz");
  EXPECT_EQ(std::count(files.begin(), files.end(), "zz/additives.tsv"), 1);
  EXPECT_EQ(std::count(files.begin(), files.end(), "zz/label.json"), 1);
  EXPECT_EQ(std::count(files.begin(), files.end(), "gb/label.json"), 0) << "nothing of the pack it was copied from";
}

}  // namespace
}  // namespace tierproof
