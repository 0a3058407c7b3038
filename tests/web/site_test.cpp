#include "web/site.h"

#include <gtest/gtest.h>

#include <fstream>
#include <thread>

#include "cake_of_pages.h"
#include "tierproof/text/json.h"
#include "tierproof/text/number.h"
#include "web/parts.h"
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

TEST_F(Pages, AreAllReadByAnybodyWhoWorksHere) {
  kitchen.sign_in("ben");
  for (const auto& route : routes()) {
    if (route.method != std::string{"GET"} || route.who != For::reader || route.path.find('*') != std::string::npos ||
        route.path == "/gone/trace" || route.path == "/api/v1/trace" || route.path == "/api/v1/order-of-work" ||
        route.path == "/api/v1/counter")
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
  const std::string asks = kitchen.get("/drawer/officer").body;
  EXPECT_NE(asks.find("Show it"), std::string::npos);
  EXPECT_EQ(asks.find("What is open, late, missed"), std::string::npos) << "until somebody asks";
  const std::string shown = kitchen.get("/drawer/officer?from=2026-05-01&until=2026-05-01").body;
  EXPECT_NE(shown.find("What is open, late, missed or was released against"), std::string::npos);
  EXPECT_NE(shown.find("Fridges and freezers"), std::string::npos);
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

TEST_F(ACake, LeavesByThePinOfWhoeverIsSignedInAndByAPageThatIsUpToDate) {
  const auto before = kitchen.notes();
  EXPECT_NE(release(seen(std::chrono::seconds{121}), test_pin).find("older than two minutes"), std::string::npos);
  EXPECT_NE(release("1%3A" + std::to_string(kitchen.site->now().time_since_epoch().count()), test_pin).find("recorded since you looked"),
            std::string::npos);
  EXPECT_NE(release("", test_pin).find("did not say what you saw"), std::string::npos);
  EXPECT_NE(release(seen(), "999111"), "released");
  EXPECT_NE(release(seen(), ""), "released");
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_EQ(release(seen(), test_pin), "released");
  EXPECT_EQ(kitchen.notes(), before + 1);
  const auto page = kitchen.get("/leaving/cake/cake-1").body;
  EXPECT_NE(page.find("released against findings"), std::string::npos) << page.substr(page.find("class=\"outcome\""), 800);
  EXPECT_EQ(page.find("OK to leave</span>"), std::string::npos);
}

TEST_F(ACake, AnAnswerAboutAllergiesChangesByThePinAlone) {
  const std::string fields = "form=allergy&cake=cake-1&answer=named&allergen=eggs&of=the+customer&why=they+rang+again";
  const auto before = kitchen.notes();
  EXPECT_EQ(kitchen.post("/leaving/allergy", fields + "&pin=999111").status, 422);
  EXPECT_EQ(kitchen.post("/leaving/allergy", fields).status, 422);
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_EQ(kitchen.post("/leaving/allergy", fields + "&pin=" + test_pin).status, 303);
}

TEST_F(ACake, WhoWasNotAskedIsAskedLater) {
  done("/leaving/new",
       "name=Second&for=2026-05-02&boxed=before&sold-by=maker&ordered=face-to-face&boxes=1&face=600&allergy=not+asked&of=the+customer");
  const auto page = kitchen.get("/leaving/cake/cake-2").body;
  EXPECT_NE(page.find("name=\"why\""), std::string::npos) << "the answer that is asked for later wants a reason";
  done("/leaving/allergy", "cake=cake-2&answer=named&allergen=milk&of=the+customer&why=it+was+asked+now");
}

TEST_F(ACake, AllergensThatWereTickedAreNeverDropped) {
  const auto answer = kitchen.post("/leaving/new",
                                   "form=new-order&name=Third&for=2026-05-02&boxed=before&sold-by=maker&ordered=face-to-face&boxes=1&face="
                                   "600&allergy=not+asked&allergen=milk");
  EXPECT_EQ(answer.status, 422);
}

// Two round tins of 20 cm, 7.5 cm deep, hold twice what one does: that the amounts follow the volume is the sum of the tins' own tests.
TEST_F(ACake, ARecipeIsScaledForTheTinsThatAreThere) {
  EXPECT_EQ(kitchen.get("/bench/recipe/sponge").body.find("For other tins"), std::string::npos) << "the recipe does not say its tin";
  done("/bench/new",
       "name=loaf&part=sponge&of-1=food%3Aplain-flour&mass-1=200&yield=200&egg=none&storage=room&life-days=3&life-reason=decided+by+the+"
       "maker&kit=tin&across-1=20&deep-1=7,5&shape-1=round&tins-1=1");
  const auto scaled = kitchen.get("/bench/recipe/loaf?tins-1=2&shape-1=round&across-1=20&deep-1=7,5");
  EXPECT_NE(scaled.body.find("Amounts, 2 times the recipe"), std::string::npos);
  EXPECT_NE(scaled.body.find(">400 g</td>"), std::string::npos);
  EXPECT_NE(scaled.body.find("name=\"times\" value=\"2\""), std::string::npos) << "what is booked is what was weighed";
  EXPECT_EQ(kitchen
                .post("/bench/new",
                      "form=new-recipe&name=slab&part=sponge&of-1=food%3Aplain-flour&mass-1=200&yield=200&egg=none&storage=room&life-"
                      "days=3&life-reason=decided&kit=tin&tins-1=3")
                .status,
            422)
      << "three tins of no size are not dropped";
  const auto refused = kitchen.get("/bench/recipe/loaf?tins-1=2&shape-1=round&across-1=wide&deep-1=7.5");
  EXPECT_NE(refused.body.find("tin 1 cannot be used"), std::string::npos);
  EXPECT_NE(refused.body.find("Amounts, 1 times the recipe"), std::string::npos);
  const auto before = kitchen.notes();
  EXPECT_EQ(kitchen
                .post("/bench/new",
                      "form=new-recipe&name=tray&part=sponge&of-1=food%3Aplain-flour&mass-1=200&yield=200&egg=none&storage=room&life-"
                      "days=3&life-reason=decided&kit=tin&across-1=20")
                .status,
            422);
  EXPECT_EQ(kitchen.notes(), before);
}

TEST_F(ACake, WhatWasTypedAboutANoteThatIsGoneIsShownAgain) {
  const auto note = std::to_string(kitchen.notes());  // the tier
  done("/drawer/take-back", "note=" + note + "&why=typed+twice");
  const auto again = kitchen.post("/drawer/take-back", "form=take-back&note=" + note + "&why=it+was+the+other+tier");
  EXPECT_EQ(again.status, 422);
  EXPECT_NE(again.body.find("it was the other tier"), std::string::npos);
}

TEST_F(ACake, TheOrderOfWorkIsAskedAndNothingIsBooked) {
  done("/bench/new",
       "name=biscuit&part=sponge&of-1=food%3Aplain-flour&mass-1=200&yield=200&egg=none&storage=room&life-days=3&life-reason=decided&kit="
       "tin");
  const auto before = kitchen.notes();
  const auto found = kitchen.get("/bench/order?recipe=sponge&recipe=biscuit");
  const auto list = found.body.substr(found.body.find("<ol>"), found.body.find("</ol>") - found.body.find("<ol>"));
  EXPECT_NE(list.find("<li>sponge</li>"), std::string::npos) << list;
  EXPECT_NE(list.find("<li>biscuit</li>"), std::string::npos) << list;
  EXPECT_NE(kitchen.get("/bench/order?recipe=sponge").body.find("role=\"alert\""), std::string::npos) << "one recipe has no order";
  EXPECT_EQ(kitchen.notes(), before);
}

TEST_F(ACake, AScriptReadsTheViewsThatThePagesShow) {
  const auto read = [&](const std::string& path) {
    const auto answer = kitchen.get("/api/v1" + path);
    EXPECT_EQ(answer.status, 200) << path << answer.body;
    const auto json = parse_json(answer.body, path);
    return json ? *json : Json{Json::Object{}};
  };
  const auto counter = read("/counter");
  ASSERT_NE(counter.find("list"), nullptr);
  EXPECT_NE(write_canonical(*counter.find("list")).find("cake-1"), std::string::npos);
  for (const char* path : {"/api/v1/counter?from=soon", "/api/v1/inspection?until=soon"}) EXPECT_EQ(kitchen.get(path).status, 422) << path;
  done("/bench/new",
       "name=biscuit&part=sponge&of-1=food%3Aplain-flour&mass-1=200&yield=200&egg=none&storage=room&life-days=3&life-reason=decided&kit="
       "tin");
  EXPECT_EQ(read("/order-of-work?recipe=sponge&recipe=biscuit").find("recipes")->array().size(), 2U);
  EXPECT_EQ(kitchen.get("/api/v1/order-of-work?recipe=sponge").status, 422);
  EXPECT_FALSE(read("/keeps/cake-1").find("lines")->array().empty());
  EXPECT_EQ(kitchen.get("/api/v1/keeps/cake-9").status, 422);
  const auto held = write_canonical(read("/kept"));
  EXPECT_NE(held.find("\"thing\":\"cake-1\""), std::string::npos) << held;
  EXPECT_TRUE(read("/matters").find("matters")->array().empty());
  EXPECT_FALSE(read("/plan").find("rows")->array().empty());
  EXPECT_TRUE(read("/due").find("due")->array().empty());
  kitchen.sign_in("ben");
  EXPECT_EQ(kitchen.get("/api/v1/kept").status, 403) << "what is kept of customers is an owner's";
}

TEST_F(ACake, TheCounterListTellsEveryAllergenOfEveryCake) {
  const auto page = kitchen.get("/leaving/counter").body;
  EXPECT_NE(page.find("Sponge (cake-1)"), std::string::npos);
  const auto terms = kitchen.packs->label_terms("gb", parse_date("2026-05-01").value());
  const auto headings = ascii_lower(page.substr(page.find("<tbody>"), page.find("</tbody>") - page.find("<tbody>")));
  for (const auto& allergen : terms->allergens) EXPECT_NE(headings.find(ascii_lower(allergen.word)), std::string::npos) << allergen.word;
  EXPECT_NE(kitchen.get("/leaving/counter?from=soon").body.find("is not a day"), std::string::npos);
  done("/leaving/counter", "from=&until=");
  EXPECT_NE(kitchen.get("/leaving/counter").body.find("(PDF)"), std::string::npos);
  EXPECT_EQ(kitchen.post("/leaving/counter", "form=print-counter&from=2026-05-03&until=2026-05-02").status, 422);
}

TEST_F(ACake, APackThatSaysSomethingElseIsRecordedOnceSomebodySaidYes) {
  const std::string fields =
      "form=confirm&document=" +
      url_part(
          R"({"ingredient":"plain-flour","supplier":"the-shop","label_name":"flour","storage":"room","checked":"2026-05-01","checked_against":"a new pack"})") +
      "&text=wheat+flour&" + answers("contains");  // without the tick that all of it was read: the others are unknown now
  const auto before = kitchen.notes();
  const auto asked = kitchen.post("/cupboard/says/plain-flour", fields);
  EXPECT_EQ(asked.status, 422);
  EXPECT_NE(asked.body.find("name=\"accept\""), std::string::npos) << "the page lets them say yes";
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_EQ(kitchen.post("/cupboard/says/plain-flour", fields + "&accept=yes").status, 303);
}

TEST_F(ACake, ANoteThatStopsIsTakenBackByThePinAlone) {
  done("/cupboard/withdraw", "pack=pack-1&why=the+mill+rang");
  const std::string note = std::to_string(kitchen.notes());
  EXPECT_EQ(kitchen.post("/drawer/take-back", "form=take-back&note=" + note + "&why=wrong+pack&pin=999111").status, 422);
  EXPECT_EQ(kitchen.post("/drawer/take-back", "form=take-back&note=" + note + "&why=wrong+pack&pin=" + test_pin).status, 303);
}

TEST_F(ACake, AReadingThatAnOpenComplaintRestsOnIsNotTypedAnew) {
  done("/cold/thermometer", "name=fork&measures=food&scale=C&accuracy=0.5&step=0.1");
  done("/cold/temperature", "about=batch-1&thermometer=fork&reading=45&for=cooling");
  const std::string note = std::to_string(kitchen.notes());
  ASSERT_EQ(release(seen(), test_pin), "released");
  done("/leaving/hand-over", "cake=cake-1&to=the+customer&told=wheat");
  done("/gone/complaint", "cake=cake-1&of=spoiled&from=the+customer+by+telephone&what=it+was+sour");
  const auto before = kitchen.notes();
  const auto refused = kitchen.post("/drawer/correct", "form=correct&note=" + note + "&reading=4.5&why=the+point");
  EXPECT_EQ(refused.status, 422);
  EXPECT_NE(refused.body.find("complaint-1"), std::string::npos) << refused.body.substr(refused.body.find("<main"), 2000);
  EXPECT_EQ(kitchen.notes(), before);
  done("/gone/settle", "complaint=complaint-1&cake=cake-1&outcome=it+stood+in+the+sun");
  EXPECT_EQ(kitchen.post("/drawer/correct", "form=correct&note=" + note + "&reading=4.5&why=the+point").status, 303);
}

TEST_F(Pages, AFoodAndItsSellerAreBookedTogetherOrNotAtAll) {
  kitchen.sign_in("ada");
  const auto before = kitchen.notes();
  EXPECT_EQ(
      kitchen.post("/cupboard/new", "form=new-food&name=nut-free+flour&supplier-name=The+Mill&supplier-address=1+Lane&egg=none").status,
      422);
  EXPECT_EQ(kitchen.notes(), before);
  EXPECT_EQ(kitchen.post("/cupboard/new", "form=new-food&name=flour&supplier-name=The+Mill&supplier-address=1+Lane&egg=none").status, 303);
  EXPECT_EQ(kitchen.notes(), before + 2);
}

/// What the news says of the cold.
class Cold : public Pages {
 protected:
  void SetUp() override {
    kitchen.sign_in("ada");
    for (const auto& [path, fields] :
         {std::pair{"/cold/new", "name=cake+fridge&kind=fridge"},
          std::pair{"/cold/thermometer", "name=logger&measures=air&scale=C&accuracy=0.5&step=0.1&hangs-in=cake-fridge"},
          std::pair{"/cold/thermometer", "name=fork&measures=food&scale=C&accuracy=0.5&step=0.1"}})
      ASSERT_EQ(kitchen.post(path, fields).status, 303);
  }
  void checked(const std::string& thermometer, const std::string& in_ice) {
    ASSERT_EQ(kitchen.post("/cold/check", "thermometer=" + thermometer + "&in=ice&reading=" + in_ice + "&at=2026-05-01T09:00").status, 303);
  }
  void read(const std::string& thermometer, const std::string& reading, const std::string& at = "") {
    ASSERT_EQ(
        kitchen.post("/cold/temperature", "about=cake-fridge&thermometer=" + thermometer + "&reading=" + reading + "&at=" + at).status,
        303);
  }
  std::string standing() {
    return parse_json(kitchen.get("/api/v1/places").body, "places")->find("places")->array().front().find("standing")->text();
  }
  std::string news() {
    for (int tries = 0; tries < 50; ++tries) {
      const auto told = kitchen.site->news();
      if (told->head.starts_with(std::to_string(kitchen.notes()) + ":")) return told->troubles.empty() ? "" : told->troubles.front();
      std::this_thread::sleep_for(std::chrono::milliseconds{100});
    }
    return "no news";
  }
};

TEST_F(Cold, TheWarmestOfWhatWasReadLatelyCounts) {
  checked("logger", "0");
  checked("fork", "0");
  read("logger", "4", "2026-05-01T09:55");
  EXPECT_EQ(standing(), "within its limit");
  read("fork", "14");
  EXPECT_EQ(standing(), "above its limit");
  EXPECT_NE(news().find("14.0 °C"), std::string::npos);
}

TEST_F(Cold, AThermometerWithoutAGoodCheckShowsNoLimitMet) {
  read("logger", "3");
  EXPECT_EQ(standing(), "its thermometer has no good check");
  checked("logger", "6");
  EXPECT_EQ(standing(), "its thermometer has no good check");
  checked("fork", "0");
  read("fork", "3.5");
  EXPECT_EQ(standing(), "within its limit");
}

TEST_F(Cold, AFridgeThatWasAboveItsLimitIsNotForgottenWhenNobodyReadsIt) {
  checked("logger", "0");
  read("logger", "15", "2026-05-01T09:10");
  EXPECT_EQ(standing(), "not read lately");
  EXPECT_NE(news().find("15.0 °C"), std::string::npos) << news();
  read("logger", "3");
  EXPECT_EQ(news(), "");
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

TEST_F(Pages, AScriptBooksByTheFieldsOfTheFormAndByNoOthers) {
  kitchen.sign_in("ada");
  const std::string token = kitchen.form_token();
  const auto posted = [&](const std::string& path, const std::string& body, const std::string& form_token) {
    Pairs headers;
    headers.add("content-type", "application/json");
    headers.add("x-form-token", form_token);
    return kitchen.ask("POST", "/api/v1" + path, body, headers);
  };
  const auto before = kitchen.notes();
  EXPECT_EQ(posted("/cold/new", R"({"name": "cake fridge", "kind": "fridge"})", "wrong").status, 403);
  const auto unknown = posted("/cold/new", R"({"name": "cake fridge", "kind": "fridge", "colour": "white"})", token);
  EXPECT_EQ(unknown.status, 422);
  EXPECT_NE(unknown.body.find("colour"), std::string::npos);
  EXPECT_EQ(posted("/cold/new", R"(["cake fridge"])", token).status, 422);
  EXPECT_EQ(posted("/cold/new", R"({"name": "cake fridge", "kind": {}})", token).status, 422);
  EXPECT_EQ(posted("/cold/new", "name=cake+fridge&kind=fridge", token).status, 422);
  EXPECT_EQ(kitchen.notes(), before);
  const std::string good = R"({"name": "cake fridge", "kind": "fridge", "key": "0123456789abcdef0123"})";
  EXPECT_NE(posted("/cold/new", good, token).body.find("\"subjects\":[\"cake-fridge\"]"), std::string::npos);
  EXPECT_NE(posted("/cold/new", good, token).body.find("\"already\":true"), std::string::npos);
  EXPECT_EQ(kitchen.notes(), before + 1);
  // A field that stands for many: whatever begins so is taken, and judged by the use case.
  const auto batch = posted("/bench/make", R"({"recipe": "none", "weighed-butter": "200 g"})", token);
  EXPECT_EQ(batch.body.find("is not a field"), std::string::npos) << batch.body;
}

TEST_F(Pages, AFailureOfTheMachineTellsAStrangerNothing) {
  kitchen.sign_in("ada");
  std::filesystem::remove(kitchen.file());
  std::ofstream{kitchen.file()} << "no records";
  const auto answer = kitchen.post("/cold/new", "name=x&kind=fridge");
  EXPECT_GE(answer.status, 403);
  EXPECT_EQ(answer.body.find(kitchen.folder.string()), std::string::npos);
}

// A page that brings itself up to date on the wall is nobody at it: who walked away is signed out all the same.
TEST_F(Pages, WhatAPageAsksByItselfKeepsNobodySignedIn) {
  const auto after_twelve_minutes = [&](bool by_itself) {
    kitchen.sign_in("ada");
    for (int i = 0; i < 2; ++i) {
      kitchen.begun_at += std::chrono::minutes{6};
      kitchen.open();
      Pairs headers;
      if (by_itself) headers.add("x-by-itself", "1");
      const int status = kitchen.ask("GET", "/cold", "", std::move(headers)).status;
      EXPECT_EQ(status, i == 0 || !by_itself ? 200 : 303);
    }
    return kitchen.get("/cold").status;
  };
  EXPECT_EQ(after_twelve_minutes(false), 200);
  EXPECT_EQ(after_twelve_minutes(true), 303);
}

TEST(ToDoHere, LeavesOutTheCommandAndKeepsWhatIsToDo) {
  EXPECT_EQ(to_do_here("decide of each with a reason (tierproof precaution): tell it; or release with a reason"),
            "decide of each with a reason: tell it; or release with a reason");
  EXPECT_EQ(to_do_here("compare it with the pack: tierproof looked cocoa --from shop, or record what changed"),
            "compare it with the pack, or record what changed");
  EXPECT_EQ(to_do_here("weigh it; give --density with --density-by"), "weigh it");
  EXPECT_EQ(to_do_here("write it as (3 x 2)"), "write it as (3 x 2)");
  EXPECT_EQ(to_do_here("run `tierproof verify`"), "at the kitchen's machine: run `tierproof verify`");
}

TEST(ShortName, IsNeverTakenForSomethingThatTheRecordsNumber) {
  const auto none = [](const std::string&) { return false; };
  EXPECT_EQ(short_name("Cake 1", none), "cake-1-2");
  EXPECT_EQ(short_name("Batch 12", none), "batch-12-2");
  EXPECT_EQ(short_name("Kitchen", none), "kitchen-2");
  EXPECT_EQ(short_name("Cake base", none), "cake-base");
  EXPECT_EQ(short_name("Icing 2", none), "icing-2");
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
