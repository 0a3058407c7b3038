#include "web/correcting.h"

#include <gtest/gtest.h>

#include "app/series.h"
#include "kitchen_of_pages.h"
#include "tierproof/text/json.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

TEST(Retyping, AsksOnlyForMembersThatTheNoteHasAndForWhatMayStandThere) {
  std::size_t looked = 0;
  for (const auto& [kind, member, example] : retyped_members()) {
    for (const auto& refusal : check_body(kind, Json{Json::Object{{member, example}}}, "")) {
      if (refusal.field != member && !refusal.field.starts_with(member + ".") && !refusal.field.starts_with(member + "[")) continue;
      // A number by itself may be outside of what the member holds; that it is none, or not known, may not be.
      const bool range = example.is_integer() && refusal.remedy.find("from") != std::string::npos;
      EXPECT_TRUE(range && refusal.field == member) << kind << ": " << describe(refusal);
    }
    ++looked;
  }
  EXPECT_GT(looked, 90u);
}

/// A kitchen with a pack, a fridge and a fork, in which something was typed wrong.
class Slips : public testing::Test {
 protected:
  void SetUp() override {
    kitchen.sign_in("ada");
    for (const auto& [path, fields] : {std::pair{"/cold/new", "name=cake+fridge&kind=fridge"},
                                       std::pair{"/cold/thermometer", "name=fork&measures=food&scale=C&accuracy=0.5&step=0.1"}})
      ASSERT_EQ(kitchen.post(path, fields).status, 303) << path;
  }
  /// The number of the note of what was booked.
  std::string booked(const std::string& path, const std::string& fields) {
    const auto answer = kitchen.post(path, fields);
    EXPECT_EQ(answer.status, 303) << path << "\n" << answer.body.substr(std::min(answer.body.find("<main"), answer.body.size()), 3000);
    return std::to_string(kitchen.notes());
  }
  std::string read(const std::string& reading, const std::string& at = "") {
    return booked("/cold/temperature", "about=cake-fridge&thermometer=fork&reading=" + reading + "&at=" + at);
  }
  std::string thermometer() {
    const auto session = kitchen.site->borrow();
    return std::to_string(session->state().probes.at(ProbeId{"fork"}).sequence);
  }
  WebAnswer correct(const std::string& note, const std::string& fields) {
    return kitchen.post("/drawer/correct", "form=correct&note=" + note + "&" + fields);
  }
  /// What the thermometers showed, as the records hold it now.
  std::vector<std::string> shown() {
    std::vector<std::string> all;
    const auto session = kitchen.site->borrow();
    for (const auto& block : session->state().readings) {
      for (const auto& one : session->readings(block)) all.push_back(one.degrees ? format_degrees(*one.degrees) : one.fault);
    }
    return all;
  }
  KitchenOfPages kitchen;
};
using Shown = std::vector<std::string>;

TEST_F(Slips, AReadingOfFortyFiveInsteadOfFourAndAHalfIsTypedAnew) {
  const std::string note = read("45", "2026-05-01T09:20");
  const auto page = kitchen.get("/drawer/note/" + note).body;
  EXPECT_NE(page.find("45.0 °C"), std::string::npos);
  EXPECT_NE(page.find("name=\"reading\" value=\"45\""), std::string::npos) << page;
  const auto before = kitchen.notes();
  const auto answer = correct(note, "reading=4%2C5&why=the+comma+was+missing");
  ASSERT_EQ(answer.status, 303) << answer.body;
  EXPECT_EQ(kitchen.notes(), before + 2);
  EXPECT_EQ(shown(), Shown{"4.5 °C"});
  const auto session = kitchen.site->borrow();
  EXPECT_EQ(session->state().readings.front().value.first, parse_zoned("2026-05-01T09:20:00+01:00")->at) << "of the same instant";
  EXPECT_EQ(session->state().readings.front().value.about, "cake-fridge");
  const auto series = series_of(*session, "cake-fridge", "chilled");
  ASSERT_EQ(series.size(), 1u);
  ASSERT_EQ(series.front().readings.size(), 1u);
  ASSERT_TRUE(series.front().readings.front().temperature) << "the one that was taken back leaves no gap where the new one stands";
  EXPECT_DOUBLE_EQ(series.front().readings.front().temperature->to_celsius(), 4.5);
}

TEST_F(Slips, AReadingTakesAPointAndEitherMinusWhenItIsTypedAnew) {
  const std::string first = read("18");
  ASSERT_EQ(correct(first, "reading=%E2%88%9218&why=the+minus+was+missing").status, 303);
  EXPECT_EQ(shown(), Shown{"-18.0 °C"});
  const std::string second = std::to_string(kitchen.notes() - 1);
  EXPECT_NE(kitchen.get("/drawer/note/" + second).body.find("name=\"reading\" value=\"-18\""), std::string::npos);
  ASSERT_EQ(correct(second, "reading=-18.5&why=read+again").status, 303);
  EXPECT_EQ(shown(), Shown{"-18.5 °C"});
}

TEST_F(Slips, AReadingThatCannotBeTypedAnewStaysAsItIs) {
  const std::string note = read("45");
  const auto before = kitchen.notes();
  for (const char* fields : {"reading=warm&why=x", "reading=&why=x", "reading=4.5&why=", "reading=45.0&why=x", "reading=40F&why=x"}) {
    const auto answer = correct(note, fields);
    EXPECT_EQ(answer.status, 422) << fields;
    EXPECT_NE(answer.body.find("aria-invalid=\"true\""), std::string::npos) << fields << ": beside its field";
  }
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_EQ(shown(), Shown{"45.0 °C"});
  ASSERT_EQ(correct(note, "reading=4.5&why=x&key=cccccccccccccccccccc").status, 303);
  EXPECT_EQ(correct(note, "reading=4.5&why=x&key=cccccccccccccccccccc").status, 303) << "sent twice, booked once";
  EXPECT_EQ(kitchen.notes(), before + 2);
  EXPECT_EQ(correct(note, "reading=5&why=x").status, 422) << "the note is not in force any more";
  EXPECT_EQ(shown(), Shown{"4.5 °C"});
}

TEST_F(Slips, AReadingOfASensorIsNoSlipOfAPerson) {
  const auto made = kitchen.site->access().add_sensor("fridge logger", "fork", "cake-fridge", kitchen.site->now());
  ASSERT_TRUE(made);
  Pairs headers;
  headers.add("authorization", "Bearer " + made->token);
  headers.add("content-type", "application/json");
  ASSERT_EQ(kitchen.ask("POST", "/api/v1/readings", R"({"reading": "14.5", "scale": "C"})", headers).status, 200);
  const std::string note = std::to_string(kitchen.notes());
  EXPECT_EQ(kitchen.get("/drawer/note/" + note).body.find("name=\"reading\""), std::string::npos);
  EXPECT_EQ(correct(note, "reading=4.5&why=x").status, 422);
  EXPECT_EQ(shown(), Shown{"14.5 °C"});
}

TEST_F(Slips, OnlyWhatWasTypedOtherwiseIsOtherwise) {
  booked("/cupboard/new", "name=plain+flour&supplier-name=The+Shop&supplier-address=2+High+Street&egg=none");
  const auto session = kitchen.site->borrow();
  const auto& food = session->state().ingredients.begin()->second;
  const std::string note = std::to_string(food.sequence);
  const auto refused = correct(note, "says-name=plain+flour&why=nothing");
  EXPECT_EQ(refused.status, 422);
  EXPECT_NE(refused.body.find("says the same"), std::string::npos);
  ASSERT_EQ(correct(note, "says-name=strong+flour&why=it+was+bread+flour").status, 303);
  const auto after = kitchen.site->borrow();
  Ingredient wanted = food.value;
  wanted.name = "strong flour";
  EXPECT_EQ(body_of(after->state().ingredients.begin()->second.value), body_of(wanted));
}

TEST_F(Slips, WhatVerdictsRestOnIsCorrectedByThePin) {
  const std::string note = thermometer();
  EXPECT_NE(kitchen.get("/drawer/note/" + note).body.find("name=\"says-accuracy_hundredths\" value=\"0.5\""), std::string::npos);
  EXPECT_EQ(correct(note, "says-accuracy_hundredths=0.2&why=x&pin=999111").status, 422);
  EXPECT_EQ(correct(note, "says-accuracy_hundredths=0.2&why=x").status, 422);
  EXPECT_EQ(thermometer(), note);
  ASSERT_EQ(correct(note, std::string{"says-accuracy_hundredths=0%2C2&why=by+its+leaflet&pin="} + test_pin).status, 303);
  EXPECT_EQ(kitchen.site->borrow()->state().probes.at(ProbeId{"fork"}).value.accuracy_hundredths, 20);
  kitchen.sign_in("ben");
  const auto page = kitchen.get("/drawer/note/" + thermometer()).body;
  EXPECT_EQ(page.find("says-accuracy_hundredths"), std::string::npos);
  EXPECT_NE(page.find("Only an owner"), std::string::npos);
  EXPECT_EQ(correct(thermometer(), std::string{"says-accuracy_hundredths=5&why=x&pin="} + test_pin).status, 422);
}

TEST_F(Slips, WhatIsRefusedStandsBesideItsFieldWithWhatWasTyped) {
  const std::string note = thermometer();
  const std::string pin = std::string{"&why=x&pin="} + test_pin;
  struct Typed {
    const char* fields;
    const char* field;
    const char* kept;
  };
  for (const auto& row : {Typed{"says-accuracy_hundredths=0.005", "says-accuracy_hundredths", "0.005"},
                          Typed{"says-accuracy_hundredths=99", "says-accuracy_hundredths", "99"},
                          Typed{"says-name=safe+for+all", "says-name", "safe for all"}, Typed{"says-name=", "says-name", ""},
                          Typed{"says-resolution_hundredths=many", "says-resolution_hundredths", "many"}}) {
    const auto answer = correct(note, row.fields + pin);
    EXPECT_EQ(answer.status, 422) << row.fields;
    EXPECT_NE(answer.body.find(std::string{"id=\"correct-"} + row.field + "-wrong\""), std::string::npos) << row.fields;
    EXPECT_NE(answer.body.find(std::string{"name=\""} + row.field + "\" value=\"" + row.kept + "\""), std::string::npos) << row.fields;
  }
  EXPECT_EQ(thermometer(), note);
}

TEST_F(Slips, WhatIsSealedNestedOrChosenIsNoField) {
  booked("/cupboard/new", "name=plain+flour&supplier-name=The+Shop&supplier-address=2+High+Street&egg=none");
  const std::string supplier = std::to_string(kitchen.site->borrow()->state().suppliers.begin()->second.sequence);
  const auto page = kitchen.get("/drawer/note/" + supplier).body;
  EXPECT_EQ(page.find("action=\"/drawer/correct\""), std::string::npos);
  EXPECT_NE(page.find("action=\"/drawer/take-back\""), std::string::npos);
  EXPECT_EQ(correct(supplier, "says-firm=Another&why=x").status, 422);
  const auto before = kitchen.notes();
  EXPECT_EQ(correct(thermometer(), std::string{"says-measures=air&why=x&pin="} + test_pin).status, 422);
  EXPECT_EQ(kitchen.notes(), before);
}

TEST_F(Slips, AThingLeadsToItsOwnNotesAndToNoOthers) {
  booked("/cold/new", "name=cake+fridge+two&kind=fridge");
  read("4.5");
  EXPECT_NE(kitchen.get("/cold/place/cake-fridge").body.find("href=\"/drawer/notes?find=cake-fridge\""), std::string::npos);
  const auto list = kitchen.get("/drawer/notes?find=cake-fridge").body;
  EXPECT_NE(list.find("readings: 4.5 °C"), std::string::npos);
  EXPECT_EQ(list.find("cake-fridge-two"), std::string::npos);
  EXPECT_NE(kitchen.get("/drawer/notes?find=cake-frid").body.find("cake-fridge-two"), std::string::npos);
}

}  // namespace
}  // namespace tierproof::web
