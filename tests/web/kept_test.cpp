#include <gtest/gtest.h>

#include <fstream>

#include "cake_of_pages.h"
#include "imports/file_for_tests.h"
#include "tierproof/app/attaching.h"

namespace tierproof::web {
namespace {

/// Two orders that nobody made, whose customers may go once their day is past, besides the cake that is built.
class KeptPages : public ACake {
 protected:
  void SetUp() override {
    ACake::SetUp();
    for (const char* who : {"Carla+Client", "Otto+Orderer"})
      done("/leaving/new",
           std::string{"name=Second&for=2026-05-02&boxed=before&sold-by=maker&ordered=face-to-face&boxes=1&face=600&allergy=none"
                       "&of=the+customer&contact=01632+960001&customer="} +
               who);
  }
  /// The kitchen as it is on another day.
  void on(const std::string& moment, const std::string& person = "ada") {
    kitchen.begun_at = parse_zoned(moment)->at;
    kitchen.open();
    kitchen.sign_in(person);
  }
  bool holds(const std::string& body, const std::string& words) { return body.find(words) != std::string::npos; }
  bool in_file(const std::string& text) { return load_file(kitchen.file()).find(text) != std::string::npos; }
  const std::string pin = "&pin=" + std::string{test_pin};
};

TEST_F(KeptPages, ThePageSaysUntilWhenAndBecauseOfWhat) {
  const auto now = kitchen.get("/drawer/kept?of=cake-1").body;
  EXPECT_TRUE(holds(now, "must stay")) << now;
  EXPECT_TRUE(holds(now, "Nothing of it may go."));
  EXPECT_FALSE(holds(now, "/drawer/erase/"));
  const auto later = kitchen.get("/drawer/kept?on=2026-05-03").body;
  EXPECT_TRUE(holds(later, "neither made nor handed over"));
  EXPECT_TRUE(holds(later, "Erasing goes by today."));
  EXPECT_FALSE(holds(later, "/drawer/erase/")) << "nothing is erased by another day's rules";
  EXPECT_TRUE(holds(kitchen.get("/drawer/kept?on=soon").body, "is not a day"));
  EXPECT_TRUE(holds(kitchen.get("/drawer/kept?of=cake-9").body, "Nothing is kept under"));
}

TEST_F(KeptPages, ACustomerStaysAsLongAsTheyAreNeeded) {
  const auto before = kitchen.notes();
  const auto answer = kitchen.post("/drawer/erase/customer/cake-2", "form=erase-customer&because=the+customer+asked" + pin);
  EXPECT_EQ(answer.status, 422);
  EXPECT_TRUE(holds(answer.body, "still needed")) << answer.body;
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_FALSE(holds(kitchen.get("/drawer/erase/customer/cake-2").body, "for good</button>"));
}

TEST_F(KeptPages, OneCustomerIsErasedByThePinAndNothingElse) {
  on("2026-05-04T10:00:00+01:00");
  const auto asked = kitchen.get("/drawer/erase/customer/cake-2").body;
  for (const char* words : {"Carla Client", "What goes, for good", "What stays", "It cannot be undone", "exports, backups"})
    EXPECT_TRUE(holds(asked, words)) << words;
  const auto before = kitchen.notes();
  EXPECT_EQ(kitchen.post("/drawer/erase/customer/cake-2", "form=erase-customer&because=the+customer+asked&pin=999111").status, 422);
  const auto why = kitchen.post("/drawer/erase/customer/cake-2", "form=erase-customer&because=" + pin);
  EXPECT_TRUE(holds(why.body, "id=\"erase-customer-because-wrong\"")) << why.body;
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_TRUE(in_file("Carla Client"));
  done("/drawer/erase/customer/cake-2", "form=erase-customer&because=the+customer+asked" + pin);
  EXPECT_EQ(kitchen.notes(), before + 1);
  EXPECT_FALSE(in_file("Carla Client"));
  EXPECT_TRUE(in_file("Otto Orderer"));
  EXPECT_FALSE(holds(kitchen.get("/leaving/cake/cake-2").body, "Carla"));
  const auto kept = kitchen.get("/drawer/kept").body;
  EXPECT_TRUE(holds(kept, "What was erased so far"));
  EXPECT_FALSE(holds(kept, "/drawer/erase/customer/cake-2"));
  EXPECT_TRUE(holds(kept, "/drawer/erase/customer/cake-3"));
}

TEST_F(KeptPages, AFileThatStaysSinceSomethingElseUsesItIsTold) {
  const std::string picture = (kitchen.folder / "picture.pdf").string();
  std::ofstream{picture} << files_for_tests::pdf();
  std::uint64_t other = 0;
  for (const char* about : {"cake-2", "pack-1"}) {
    Session session{kitchen.site->entrance("ada", "command line"), kitchen.packs, open_sqlite(kitchen.file(), false)};
    const auto attached = attach_files(session, {about, {picture}, "the drawing"});
    ASSERT_TRUE(attached) << describe(attached.error().front());
    other = attached->sequences.front();
  }
  on("2026-05-04T10:00:00+01:00");
  const auto answer = kitchen.post("/drawer/erase/customer/cake-2", "form=erase-customer&because=the+customer+asked" + pin);
  ASSERT_EQ(answer.status, 303);
  std::string where;
  for (const auto& [name, value] : answer.headers) where = name == "Location" ? value : where;
  EXPECT_TRUE(holds(kitchen.get(where).body, "the file that was attached by note " + std::to_string(other) + ".")) << where;
  EXPECT_FALSE(holds(kitchen.get("/drawer/kept?stays=%3Cb%3E").body, "NOT erased"));
}

TEST_F(KeptPages, AScriptErasesByThePinToo) {
  on("2026-05-04T10:00:00+01:00");
  const auto posted = [&](const std::string& body) {
    Pairs headers;
    headers.add("content-type", "application/json");
    headers.add("x-form-token", kitchen.form_token());
    return kitchen.ask("POST", "/api/v1/drawer/erase/customers", body, headers);
  };
  const auto before = kitchen.notes();
  EXPECT_EQ(posted(R"({"confirm": "2"})").status, 422);
  EXPECT_TRUE(
      holds(posted(R"({"confirm": "3", "shown": ["cake-2", "cake-3"], "pin": ")" + std::string{test_pin} + "\"}").body, "\"confirm\""));
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_EQ(posted(R"({"confirm": 2, "shown": ["cake-2", "cake-3"], "pin": ")" + std::string{test_pin} + "\"}").status, 200);
  EXPECT_FALSE(in_file("Carla Client"));
}

TEST_F(KeptPages, AllCustomersGoByTheNumberThatWasSeen) {
  on("2026-05-04T10:00:00+01:00");
  const auto page = kitchen.get("/drawer/erase/customers").body;
  EXPECT_TRUE(holds(page, "2 customers may go today"));
  const std::string shown = shown_on(page);
  const auto before = kitchen.notes();
  for (const char* number : {"3", "", "many"}) {
    const auto other = kitchen.post("/drawer/erase/customers", std::string{"form=erase-customers&confirm="} + number + shown + pin);
    EXPECT_EQ(other.status, 422) << number;
    EXPECT_TRUE(holds(other.body, "id=\"erase-customers-confirm-wrong\"")) << number;
    EXPECT_FALSE(holds(other.body, "--confirm"));
  }
  EXPECT_EQ(kitchen.post("/drawer/erase/customers", "form=erase-customers&confirm=2&pin=999111" + shown).status, 422);
  for (const char* others : {"", "&shown=cake-2", "&shown=cake-2&shown=cake-9"}) {  // as many, but not those that somebody saw
    const auto unseen = kitchen.post("/drawer/erase/customers", std::string{"form=erase-customers&confirm=2"} + others + pin);
    EXPECT_EQ(unseen.status, 422) << others;
    EXPECT_TRUE(holds(unseen.body, "not how it is now")) << others;
  }
  EXPECT_EQ(kitchen.notes(), before);
  const std::string form = "form=erase-customers&confirm=2&key=0123456789abcdef0123" + shown + pin;
  done("/drawer/erase/customers", form);
  EXPECT_EQ(kitchen.notes(), before + 2);
  EXPECT_FALSE(in_file("Carla Client"));
  EXPECT_FALSE(in_file("Otto Orderer"));
  done("/drawer/erase/customers", form);  // sent twice, and booked once
  EXPECT_EQ(kitchen.notes(), before + 2);
  EXPECT_TRUE(holds(kitchen.get("/drawer/erase/customers").body, "of no customer may go today"));
}

TEST_F(KeptPages, WhoLeftIsToldOnThePeoplePageAndTheirNameGoesWhenItsTimeIsOver) {
  const auto before = kitchen.notes();
  const auto ahead = kitchen.post("/drawer/person-left", "form=person-left&person=ben&on=2026-06-01" + pin);
  EXPECT_EQ(ahead.status, 422);
  EXPECT_TRUE(holds(ahead.body, "id=\"person-left-on-wrong\""));
  EXPECT_EQ(kitchen.post("/drawer/person-left", "form=person-left&person=ben&pin=999111").status, 422);
  EXPECT_EQ(kitchen.post("/drawer/person-left", "form=person-left&person=nobody" + pin).status, 422);
  EXPECT_EQ(kitchen.notes(), before);
  done("/drawer/person-left", "form=person-left&person=ben&on=2026-05-01" + pin);
  EXPECT_TRUE(holds(kitchen.get("/drawer/people").body, "left 1 May 2026"));
  EXPECT_TRUE(holds(kitchen.get("/drawer/erase/words").body, "may go today.</p>"));
  on("2028-06-01T10:00:00+01:00");
  EXPECT_TRUE(holds(kitchen.get("/drawer/erase/words").body, "1 name and")) << kitchen.get("/drawer/erase/words").body;
  EXPECT_TRUE(in_file("Ben Sample"));
  const auto wrong =
      kitchen.post("/drawer/erase/words", "form=erase-words&confirm=2" + shown_on(kitchen.get("/drawer/erase/words").body) + pin);
  EXPECT_TRUE(holds(wrong.body, "id=\"erase-words-confirm-wrong\""));
  EXPECT_EQ(kitchen.post("/drawer/erase/words", "form=erase-words&confirm=1&shown=people+who+work+here%3A+ada" + pin).status, 422);
  EXPECT_TRUE(in_file("Ben Sample"));
  done("/drawer/erase/words", "form=erase-words&confirm=1" + shown_on(kitchen.get("/drawer/erase/words").body) + pin);
  EXPECT_FALSE(in_file("Ben Sample"));
  EXPECT_FALSE(holds(kitchen.get("/drawer/people").body, "Ben Sample"));
  EXPECT_TRUE(holds(kitchen.get("/drawer/people").body, "(erased)"));
}

TEST_F(KeptPages, AHelperAndAnOfficerSeeNoneOfItAndEraseNothing) {
  on("2026-05-04T10:00:00+01:00", "ben");
  const auto before = kitchen.notes();
  for (const char* path : {"/drawer/kept", "/drawer/erase/customers", "/drawer/erase/words", "/drawer/erase/customer/cake-2"})
    EXPECT_EQ(kitchen.get(path).status, 403) << path;
  EXPECT_EQ(kitchen.post("/drawer/erase/customers", "confirm=2" + pin).status, 403);
  EXPECT_EQ(kitchen.post("/drawer/erase/customer/cake-2", "because=the+customer+asked" + pin).status, 403);
  EXPECT_EQ(kitchen.post("/drawer/person-left", "person=ada" + pin).status, 403);
  kitchen.sign_in("ada");
  ASSERT_EQ(kitchen.post("/for-officer", "").status, 303);
  EXPECT_EQ(kitchen.get("/drawer/kept").status, 403);
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_TRUE(in_file("Carla Client"));
}

}  // namespace
}  // namespace tierproof::web
