#include "tierproof/app/specimens.h"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

const DataRoot shipped_data{TIERPROOF_SOURCE_DIR};

Specimens drawn(TestKitchen& kitchen, const SpecimenRequest& request) {
  Session session = kitchen.open(true);
  auto specimens = draw_specimens(session, request, shipped_data);
  for (const auto& refusal : specimens ? Refusals{} : specimens.error()) ADD_FAILURE() << describe(refusal);
  return specimens ? std::move(*specimens) : Specimens{};
}
std::string refused(TestKitchen& kitchen, const SpecimenRequest& request) {
  Session session = kitchen.open(true);
  const auto specimens = draw_specimens(session, request, shipped_data);
  EXPECT_FALSE(specimens.has_value());
  std::string all;
  for (const auto& refusal : specimens ? Refusals{} : specimens.error()) all += describe(refusal) + "\n";
  return all;
}

/// The words of a PDF, as a reader takes them out.
std::string words_of_pdf(const std::string& bytes, const std::string& aside) {
  std::ofstream{aside, std::ios::binary} << bytes;
  std::string words;
  FILE* pipe = ::popen(("pdftotext '" + aside + "' -").c_str(), "r");
  if (pipe == nullptr) return "";
  char part[4096];
  for (std::size_t n = 0; (n = std::fread(part, 1, sizeof part, pipe)) > 0;) words.append(part, n);
  EXPECT_EQ(::pclose(pipe), 0);
  std::filesystem::remove(aside);
  std::replace(words.begin(), words.end(), '\n', ' ');
  return words;
}

std::string a_cake(TestKitchen& kitchen) { return cake_of(kitchen, {{kitchen.make("icing", grams(298)), grams(298)}}); }

TEST(SpecimensOfLabels, AreDrawnCakeByCakeUnderEachOfTheRules) {
  TestKitchen kitchen;
  const std::string one = a_cake(kitchen);
  const std::string other = a_cake(kitchen);
  const Specimens specimens = drawn(kitchen, {{one, other}, {"us", "gb"}, "roll-104"});
  ASSERT_EQ(specimens.told.size(), 4U);
  std::string told;
  for (const auto& label : specimens.told) {
    told += label.cake + " " + label.rules + "\n";
    EXPECT_TRUE(label.why_not.empty()) << describe(label.why_not.front());
  }
  EXPECT_EQ(told, one + " us\n" + one + " gb\n" + other + " us\n" + other + " gb\n");
  EXPECT_GE(specimens.sheets, 1U);
  EXPECT_EQ(specimens.pdf.substr(0, 5), "%PDF-");
}

TEST(SpecimensOfLabels, AreDrawnUnderAllRulesThatThereAreUnlessSomeAreNamed) {
  TestKitchen kitchen;
  const Specimens specimens = drawn(kitchen, {{a_cake(kitchen)}, {}, "roll-104"});
  std::vector<std::string> rules;
  for (const auto& label : specimens.told) rules.push_back(label.rules);
  EXPECT_EQ(rules, kitchen.open(true).packs().with_labels());
}

TEST(SpecimensOfLabels, LeaveNothingInTheRecordsAndTheCakeUnderItsOwnRules) {
  TestKitchen kitchen;
  const std::string cake = a_cake(kitchen);
  Session session = kitchen.open(true);
  const Head before = session.head();
  const std::string own = session.state().cakes.at(CakeId{cake}).value.label_rules;
  const auto specimens = draw_specimens(session, {{cake}, {"us"}, "roll-104"}, shipped_data);
  ASSERT_TRUE(specimens.has_value());
  EXPECT_EQ(session.state().cakes.at(CakeId{cake}).value.label_rules, own);
  session.reload();
  EXPECT_EQ(session.head(), before);
  EXPECT_TRUE(session.state().papers.empty());
}

TEST(SpecimensOfLabels, TellWhatIsNotDrawnBesideWhatIs) {
  TestKitchen kitchen;
  const std::string built = a_cake(kitchen);
  const std::string planned = kitchen.cake();
  const Specimens specimens = drawn(kitchen, {{planned, built}, {"gb"}, "roll-104"});
  ASSERT_EQ(specimens.told.size(), 2U);
  ASSERT_EQ(specimens.told[0].why_not.size(), 1U);
  EXPECT_THAT(describe(specimens.told[0].why_not[0]), HasSubstr("what it is made of is not recorded"));
  EXPECT_TRUE(specimens.told[1].why_not.empty());
  EXPECT_EQ(specimens.sheets, 1U);
  const Specimens none = drawn(kitchen, {{built}, {"gb"}, "sheet-67x25"});
  ASSERT_EQ(none.told.size(), 1U);
  EXPECT_THAT(describe(none.told[0].why_not.at(0)), HasSubstr("does not fit"));
  EXPECT_EQ(none.pdf, "");
  EXPECT_EQ(none.sheets, 0U);
}

// A year after the packs were looked at (`specification-age` of Great Britain) no label is printed; a specimen says why on itself.
TEST(SpecimensOfLabels, SayWhenWhatThePacksSayIsOld) {
  TestKitchen kitchen;
  const std::string cake = a_cake(kitchen);
  for (const auto& [moment, is_old] : {std::pair{"2027-04-30T09:00+01:00", false}, std::pair{"2027-05-01T09:00+01:00", true}}) {
    kitchen.at(moment);
    const Specimens specimens = drawn(kitchen, {{cake}, {"gb"}, "roll-104"});
    ASSERT_EQ(specimens.told.size(), 1U);
    EXPECT_EQ(specimens.told.front().old_details, is_old) << moment;
    const std::string words = words_of_pdf(specimens.pdf, kitchen.entrance().kitchen_file + ".specimens.pdf");
    EXPECT_NE(words.find("SPECIMEN"), std::string::npos) << words;
    EXPECT_EQ(words.find("not up to date") != std::string::npos, is_old) << moment << ": " << words;
  }
}

TEST(SpecimensOfLabels, AreRefusedForWhatThereIsNot) {
  TestKitchen kitchen;
  const std::string cake = a_cake(kitchen);
  const std::string all = refused(kitchen, {{"cake-9"}, {"nowhere"}, "roll-1"});
  EXPECT_THAT(all, HasSubstr("there is no cake called \"cake-9\""));
  EXPECT_THAT(all, HasSubstr("--by-rules: \"nowhere\""));
  EXPECT_THAT(all, HasSubstr("--stock: \"roll-1\""));
  EXPECT_THAT(refused(kitchen, {{}, {"gb"}, "roll-104"}), HasSubstr("no cake is named"));
}

}  // namespace
}  // namespace tierproof
