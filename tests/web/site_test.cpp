#include "web/site.h"

#include <gtest/gtest.h>

#include <fstream>

#include "kitchen_of_pages.h"
#include "tierproof/text/json.h"
#include "web/routes.h"

namespace tierproof::web {
namespace {

/// What one request is answered with: a status, words that must be in it, words that must not.
struct Row {
  const char* method;
  const char* path;
  const char* body;
  int status;
  const char* holds;
  const char* lacks;
};
class Strangers : public testing::TestWithParam<Row> {};

// Who was not let in sees nothing of the kitchen, whatever they ask for.
TEST_P(Strangers, SeeNothingOfTheKitchen) {
  static KitchenOfPages kitchen;
  const Row& row = GetParam();
  const WebAnswer answer = kitchen.ask(row.method, row.path, row.body);
  EXPECT_EQ(answer.status, row.status) << row.method << " " << row.path << "\n" << answer.body.substr(0, 300);
  EXPECT_NE(answer.body.find(row.holds), std::string::npos) << answer.body.substr(0, 300);
  for (const char* secret : {"Kitchen by the Mill", "Ada", "Ben", ".tierproof", "sqlite"})
    EXPECT_EQ(answer.body.find(secret), std::string::npos) << secret;
}
INSTANTIATE_TEST_SUITE_P(
    Rows, Strangers,
    testing::Values(Row{"GET", "/", "", 303, "/let-in", ""}, Row{"GET", "/cold", "", 303, "/let-in", ""},
                    Row{"GET", "/let-in", "", 200, "Let this device in", ""},
                    Row{"POST", "/let-in", "code=1111+2222&name=x", 422, "Nothing was booked", ""},
                    Row{"POST", "/who", "person=ada&pin=740292", 403, "not let in", ""},
                    Row{"POST", "/cold/temperature", "reading=4", 403, "not let in", ""},
                    Row{"GET", "/api/v1/cakes", "", 403, "not let in", ""}, Row{"POST", "/api/v1/readings", "{}", 401, "token", ""},
                    Row{"GET", "/news", "", 303, "/let-in", ""}, Row{"GET", "/nothing", "", 404, "no such page", ""},
                    Row{"POST", "/cold", "", 405, "not asked", ""}, Row{"GET", "/look/kitchen.css", "", 200, "--ink", ""},
                    Row{"GET", "/look/site.cpp", "", 404, "no such file", ""}, Row{"GET", "/paper/1", "", 303, "/let-in", ""}));

class Pages : public testing::Test {
 protected:
  KitchenOfPages kitchen;
};

TEST_F(Pages, AreAllReadByAnybodyWhoWorksHere) {
  kitchen.sign_in("ben");
  for (const auto& route : routes()) {
    if (route.method != std::string{"GET"} || route.who != For::reader || route.path.find('*') != std::string::npos ||
        route.path == "/gone/trace" || route.path == "/api/v1/trace")
      continue;
    const auto answer = kitchen.get(route.path);
    EXPECT_EQ(answer.status, 200) << route.path << "\n" << answer.body.substr(0, 500);
  }
}

TEST_F(Pages, OfAnOwnerAreNotForAHelper) {
  kitchen.sign_in("ben");
  for (const auto& route : routes()) {
    if (route.who != For::owner) continue;
    const auto answer = kitchen.ask(route.method, route.path, "token=" + kitchen.form_token());
    EXPECT_EQ(answer.status, 403) << route.path;
  }
  EXPECT_EQ(kitchen.site->access().happened(1).front().what, "not allowed");
}

TEST_F(Pages, AFormIsBookedOnceHoweverOftenItIsSent) {
  kitchen.sign_in("ada");
  const auto before = kitchen.notes();
  const std::string form = "form=new-place&name=cake+fridge&kind=fridge&key=0123456789abcdef0123";
  EXPECT_EQ(kitchen.post("/cold/new", form).status, 303);
  EXPECT_EQ(kitchen.post("/cold/new", form).status, 303);
  EXPECT_EQ(kitchen.notes(), before + 1);
}

TEST_F(Pages, AFormOfAnotherSignInOrAnotherSiteBooksNothing) {
  kitchen.sign_in("ada");
  const auto before = kitchen.notes();
  EXPECT_EQ(kitchen.ask("POST", "/cold/new", "name=x&kind=fridge&token=wrong").status, 403);
  EXPECT_EQ(kitchen.ask("POST", "/cold/new", "name=x&kind=fridge").status, 403);
  const std::string token = kitchen.form_token();
  Pairs elsewhere;
  elsewhere.add("origin", "http://evil.example");
  EXPECT_EQ(kitchen.ask("POST", "/cold/new", "name=x&kind=fridge&token=" + token, elsewhere).status, 403);
  Pairs cross;
  cross.add("sec-fetch-site", "cross-site");
  EXPECT_EQ(kitchen.ask("POST", "/cold/new", "name=x&kind=fridge&token=" + token, cross).status, 403);
  Pairs json;
  json.add("content-type", "text/plain");
  EXPECT_EQ(kitchen.ask("POST", "/cold/new", "name=x&kind=fridge&token=" + token, json).status, 415);
  EXPECT_EQ(kitchen.notes(), before);
  Pairs own;
  own.add("origin", "http://127.0.0.1:8321");
  own.add("sec-fetch-site", "same-origin");
  EXPECT_EQ(kitchen.ask("POST", "/cold/new", "name=cake+fridge&kind=fridge&token=" + token, own).status, 303);
}

TEST_F(Pages, WhatIsWrongStandsBesideItsFieldAndWhatWasTypedStays) {
  kitchen.sign_in("ada");
  const auto answer = kitchen.post("/cold/new", "form=new-place&name=%3Cb%3Esafe+shelf%3C%2Fb%3E&kind=castle");
  EXPECT_EQ(answer.status, 422);
  EXPECT_NE(answer.body.find("Nothing was booked."), std::string::npos);
  EXPECT_NE(answer.body.find("value=\"&lt;b&gt;safe shelf&lt;/b&gt;\""), std::string::npos) << answer.body;
  EXPECT_NE(answer.body.find("aria-invalid=\"true\""), std::string::npos);
  EXPECT_EQ(answer.body.find("<b>safe"), std::string::npos);
}

TEST_F(Pages, AReadingTakesACommaAndAPoint) {
  kitchen.sign_in("ada");
  ASSERT_EQ(kitchen.post("/cold/new", "name=cake+fridge&kind=fridge").status, 303);
  ASSERT_EQ(kitchen.post("/cold/thermometer", "name=fork&measures=food&scale=C&accuracy=0,5&step=0.1").status, 303);
  EXPECT_EQ(kitchen.post("/cold/temperature", "about=cake-fridge&thermometer=fork&reading=4%2C5").status, 303);
  EXPECT_EQ(kitchen.post("/cold/temperature", "about=cake-fridge&thermometer=fork&reading=%E2%88%9218").status, 303);
  EXPECT_EQ(kitchen.post("/cold/temperature", "form=x&about=cake-fridge&thermometer=fork&reading=warm").status, 422);
  const auto places = parse_json(kitchen.get("/api/v1/places").body, "places");
  ASSERT_TRUE(places);
  EXPECT_EQ(*places->find("places")->array().front().find("last_hundredths_celsius"), Json{-1800});
}

TEST_F(Pages, WhatWasKeptWithoutTheMachineIsMarkedLate) {
  kitchen.sign_in("ada");
  ASSERT_EQ(kitchen.post("/cold/new", "name=cake+fridge&kind=fridge").status, 303);
  ASSERT_EQ(kitchen.post("/cold/thermometer", "name=fork&measures=food&scale=C&accuracy=0.5&step=0.1").status, 303);
  ASSERT_EQ(kitchen.post("/cold/temperature", "about=cake-fridge&thermometer=fork&reading=4&kept=1&key=aaaaaaaaaaaaaaaaaaaa").status, 303);
  ASSERT_EQ(kitchen.post("/cold/temperature", "about=cake-fridge&thermometer=fork&reading=5&key=bbbbbbbbbbbbbbbbbbbb").status, 303);
  const auto session = kitchen.site->borrow();
  ASSERT_EQ(session->state().readings.size(), 2u);
  EXPECT_EQ(session->state().readings[0].how, "typed_late");
  EXPECT_EQ(session->state().readings[1].how, "typed_then");
  EXPECT_EQ(session->entrance().person, "");
}

TEST_F(Pages, AnOfficerReadsAndRecordsNothing) {
  kitchen.sign_in("ada");
  const std::string token = kitchen.form_token();
  ASSERT_EQ(kitchen.ask("POST", "/for-officer", "token=" + token).status, 303);
  EXPECT_EQ(kitchen.get("/drawer/officer").status, 200);
  const auto before = kitchen.notes();
  for (const auto& route : routes()) {
    if (route.method != std::string{"POST"} || (route.who != For::recorder && route.who != For::owner)) continue;
    EXPECT_EQ(kitchen.ask("POST", route.path, "token=" + kitchen.form_token()).status, 403) << route.path;
  }
  EXPECT_EQ(kitchen.notes(), before);
}

TEST_F(Pages, WhoLeftIsNotHereAnyMore) {
  kitchen.sign_in("ben");
  EXPECT_EQ(kitchen.get("/cold").status, 200);
  {
    Entrance entrance = kitchen.site->entrance("ada", "command line");
    Session session{entrance, kitchen.packs, open_sqlite(kitchen.file(), false)};
    ASSERT_TRUE(person_left(session, "ben", parse_date("2026-04-30")));
  }
  EXPECT_EQ(kitchen.get("/cold").status, 303);
}

TEST_F(Pages, AReleaseNeedsThePinAndAPageThatIsUpToDate) {
  kitchen.sign_in("ada");
  ASSERT_EQ(
      kitchen
          .post("/leaving/new",
                "name=Sponge&for=2026-05-02&boxed=before&sold-by=maker&ordered=face-to-face&boxes=1&face=600&allergy=none&of=the+customer")
          .status,
      303);
  const auto size = std::to_string(kitchen.notes());
  const auto seen = [&](Span ago) { return size + "%3A" + std::to_string((kitchen.site->now() - ago).time_since_epoch().count()); };
  const auto release = [&](const std::string& when, const char* pin) {
    return kitchen.post("/leaving/release", "form=release&cake=cake-1&seen=" + when + "&pin=" + pin).body;
  };
  EXPECT_NE(release(seen(std::chrono::seconds{121}), test_pin).find("older than two minutes"), std::string::npos);
  EXPECT_NE(release("1%3A" + std::to_string(kitchen.site->now().time_since_epoch().count()), test_pin)
                .find("something was recorded since you looked"),
            std::string::npos);
  EXPECT_NE(release("", test_pin).find("did not say what you saw"), std::string::npos);
  const std::string wrong = release(seen(std::chrono::seconds{1}), "999111");
  EXPECT_EQ(wrong.find("older than two minutes"), std::string::npos);
  EXPECT_NE(wrong.find("PIN"), std::string::npos);
  EXPECT_EQ(std::to_string(kitchen.notes()), size);
}

TEST_F(Pages, ASensorPostsReadingsOfItsOwnThermometerAlone) {
  kitchen.sign_in("ada");
  ASSERT_EQ(kitchen.post("/cold/new", "name=cake+fridge&kind=fridge").status, 303);
  ASSERT_EQ(kitchen.post("/cold/thermometer", "name=logger&measures=air&scale=C&accuracy=0.5&step=0.1&hangs-in=cake-fridge").status, 303);
  const auto made = kitchen.site->access().add_sensor("fridge logger", "logger", "cake-fridge", kitchen.site->now());
  ASSERT_TRUE(made);
  const auto posted = [&](const std::string& token, const std::string& body) {
    Pairs headers;
    headers.add("authorization", "Bearer " + token);
    headers.add("content-type", "application/json");
    return kitchen.ask("POST", "/api/v1/readings", body, headers);
  };
  EXPECT_EQ(posted("no such token", R"({"reading": "4.5", "scale": "C"})").status, 401);
  const auto first = posted(made->token, R"({"reading": "4.5", "scale": "C", "key": "r1"})");
  EXPECT_EQ(first.status, 200) << first.body;
  const auto again = posted(made->token, R"({"reading": "4.5", "scale": "C", "key": "r1"})");
  EXPECT_NE(again.body.find("\"already\":true"), std::string::npos) << again.body;
  EXPECT_EQ(posted(made->token, R"({"reading": "hot"})").status, 422);
  kitchen.site->access().revoke_sensor(made->sensor.id, kitchen.site->now());
  EXPECT_EQ(posted(made->token, R"({"reading": "4.5", "scale": "C"})").status, 401);
}

TEST_F(Pages, AFailureOfTheMachineTellsAStrangerNothing) {
  kitchen.sign_in("ada");
  std::filesystem::remove(kitchen.file());
  std::ofstream{kitchen.file()} << "no records";
  const auto answer = kitchen.post("/cold/new", "name=x&kind=fridge");
  EXPECT_GE(answer.status, 403);
  EXPECT_EQ(answer.body.find(kitchen.folder.string()), std::string::npos);
}

TEST(Guarded, EveryAnswerMayLoadOnlyWhatIsOurs) {
  const auto headers = guarded(plain_answer(200, "x"), true);
  const auto value = [&](const std::string& name) {
    for (const auto& [key, text] : headers) {
      if (key == name) return text;
    }
    return std::string{};
  };
  EXPECT_NE(value("Content-Security-Policy").find("default-src 'none'"), std::string::npos);
  EXPECT_EQ(value("Content-Security-Policy").find("unsafe"), std::string::npos);
  EXPECT_EQ(value("Cache-Control"), "no-store");
  EXPECT_EQ(value("X-Content-Type-Options"), "nosniff");
  EXPECT_FALSE(value("Strict-Transport-Security").empty());
}

}  // namespace
}  // namespace tierproof::web
