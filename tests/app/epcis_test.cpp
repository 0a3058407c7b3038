#include "tierproof/app/epcis.h"

#include "app/app_for_tests.h"
#include "rules/schema_for_tests.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/imports/epcis_check.h"
#include "tierproof/text/json_fractions.h"

namespace tierproof {
namespace {

using testing::HasSubstr;
using testing::Not;

std::string subset() { return load_file(std::string{TIERPROOF_SOURCE_DIR} + "/reference/schemas/epcis-cake-subset.schema.json"); }

EpcisDocument exported(const TestKitchen& kitchen, const EpcisWanted& wanted = {}) {
  const Session session = kitchen.open(true);
  auto document = epcis_document(session, wanted);
  EXPECT_TRUE(document.has_value()) << describe(document.error().front());
  return document ? *document : EpcisDocument{};
}
/// The events as read back, after the check of the program itself and the schema passed them.
Json::Array events(const TestKitchen& kitchen, const EpcisWanted& wanted = {}) {
  const EpcisDocument document = exported(kitchen, wanted);
  EXPECT_EQ(schema_complaints(document.text, subset()), "");
  const auto seen = check_epcis(document.text, "export");
  EXPECT_TRUE(seen.has_value()) << describe(seen.error().front());
  EXPECT_EQ(seen ? seen->events : 0, document.events);
  Json json = parse_json_with_fractions(document.text, "export").value();
  return json["epcisBody"]["eventList"].array();
}
std::string text_of(const Json& event, const char* member) {
  const Json* found = event.find(member);
  return found != nullptr && found->is_text() ? found->text() : "";
}
/// The last event of a step, with `type action step / disposition` as its summary.
Json last_of(const Json::Array& events, const std::string& step) {
  Json last;
  for (const auto& event : events) {
    if (text_of(event, "bizStep").ends_with(step)) last = event;
  }
  EXPECT_FALSE(last.is_null()) << step;
  return last.is_null() ? Json{Json::Object{}} : last;
}
std::string summary(const Json& event) {
  const std::string action = text_of(event, "action");
  return text_of(event, "type") + (action.empty() ? "" : " " + action) + " " + text_of(event, "disposition");
}
/// The text after the last stroke of a URI.
std::string id_in(const std::string& uri) { return uri.substr(uri.rfind('/') + 1); }
/// `pack-1 0.1 GRM, ...` of a list of quantities.
std::string quantities(Json event, const char* member) {
  std::string all;
  for (auto& one : event[member].array()) {
    all += (all.empty() ? "" : ", ") + id_in(one["epcClass"].text());
    if (one.find("quantity") != nullptr) {
      const Json& much = one["quantity"];
      all += " " + (much.is_integer() ? std::to_string(much.integer()) : much.text()) + " " + one["uom"].text();
    }
  }
  return all;
}

TEST(Epcis, TellsAPackAsReceivedWithWhatHoldsForTheLot) {
  const TestKitchen kitchen;
  const Json::Array all = events(kitchen);
  Json first = all.front();
  EXPECT_EQ(summary(first), "ObjectEvent ADD in_progress");
  EXPECT_EQ(text_of(first, "bizStep"), "receiving");
  EXPECT_EQ(text_of(first, "eventTimeZoneOffset"), "+01:00");
  EXPECT_EQ(quantities(first, "quantityList"), "pack-1 2 KGM");
  EXPECT_EQ(first["ilmd"]["cbvmda:lotNumber"].text(), "code of flour");
  EXPECT_EQ(first["ilmd"]["cbvmda:itemExpirationDate"].text(), "2026-06-30");
  EXPECT_THAT(first["sourceList"].array().front()["source"].text(), Not(HasSubstr("shop")));
}

TEST(Epcis, TellsWhatWentIntoBatchesAndCakesExactly) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", Mass::milligrams(270'125));
  const std::string cake = cake_of(kitchen, {{sponge, Mass::milligrams(200'001)}});
  Json::Array all = events(kitchen);
  std::vector<Json> makings;
  for (const auto& event : all) {
    if (text_of(event, "type") == "TransformationEvent") makings.push_back(event);
  }
  ASSERT_EQ(makings.size(), 2u);
  EXPECT_EQ(summary(makings[0]), "TransformationEvent in_progress");
  EXPECT_EQ(quantities(makings[0], "outputQuantityList"), sponge + " 270.125 GRM");
  EXPECT_THAT(quantities(makings[0], "inputQuantityList"), HasSubstr("pack-1 100"));
  EXPECT_EQ(id_in(text_of(makings[0], "transformationID")), sponge);
  EXPECT_EQ(summary(makings[1]), "TransformationEvent active");
  EXPECT_EQ(quantities(makings[1], "inputQuantityList"), sponge + " 200.001 GRM");
  EXPECT_EQ(id_in(makings[1]["outputEPCList"].array().front().text()), cake);
}

TEST(Epcis, TellsStaysCleaningsAndWhatWasThrownAwayOrWithdrawn) {
  TestKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));
  kitchen.put_in(icing, "fridge");
  {
    Session session = kitchen.open();
    session.book({session.draft(Cleaning{EquipmentId{"whisk"}, "washed, looked clean"}, "whisk", {session.now(), Offset{60}})});
  }
  kitchen.done([&](Session& s) { return throw_away(s, {icing, grams(98), "left over", ""}); });
  kitchen.done([](Session& s) { return withdraw(s, "pack-3", "the shop rang"); });
  const Json::Array all = events(kitchen);
  Json stored = last_of(all, "storing");
  EXPECT_EQ(quantities(stored, "quantityList"), icing);
  EXPECT_EQ(stored["readPoint"], stored["bizLocation"]);
  EXPECT_THAT(stored["readPoint"]["id"].text(), Not(HasSubstr("fridge")));
  Json cleaned = last_of(all, "/bizstep/cleaning");
  EXPECT_EQ(text_of(cleaned, "action"), "OBSERVE");
  EXPECT_THAT(cleaned["epcList"].array().front().text(), Not(HasSubstr("whisk")));
  const Json gone = last_of(all, "destroying");
  EXPECT_EQ(summary(gone), "ObjectEvent DELETE destroyed");
  EXPECT_EQ(quantities(gone, "quantityList"), icing + " 98 GRM");
  Json held = last_of(all, "holding");
  EXPECT_EQ(summary(held), "ObjectEvent OBSERVE recalled");
  EXPECT_EQ(quantities(held, "quantityList"), "pack-3");
  EXPECT_EQ(held["persistentDisposition"]["set"].array(), Json::Array{Json{"recalled"}});
}

TEST(Epcis, TellsReadingsOfAPlaceByLeastMeanAndGreatest) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T20:00+01:00");
  const GivenDocument map{"plain.tsv", load_file(std::string{TIERPROOF_SOURCE_DIR} + "/reference/probes/plain.tsv")};
  const std::string csv =
      "time,temperature\n2026-05-01T09:00:00+01:00,4.2\n2026-05-01T09:15:00+01:00,5.7\n2026-05-01T09:30:00+01:00,-0.5\n";
  kitchen.done([&](Session& s) { return import_readings(s, "logger", "fridge", "chilled", {"log.csv", csv}, map); });
  Json event = last_of(events(kitchen), "sensor_reporting");
  EXPECT_EQ(text_of(event, "action"), "OBSERVE");
  EXPECT_EQ(event.find("epcList"), nullptr);
  EXPECT_EQ(event.find("quantityList"), nullptr);
  Json element = event["sensorElementList"].array().front();
  EXPECT_EQ(element["sensorMetadata"]["startTime"].text(), "2026-05-01T09:00:00+01:00");
  EXPECT_EQ(element["sensorMetadata"]["endTime"].text(), "2026-05-01T09:30:00+01:00");
  Json report = element["sensorReport"].array().front();
  EXPECT_EQ(report["minValue"].text(), "-0.5");
  EXPECT_EQ(report["meanValue"].text(), "3.13") << "(4.2 + 5.7 - 0.5) / 3 = 3.1333";
  EXPECT_EQ(report["maxValue"].text(), "5.7");
  EXPECT_EQ(report["value"].text(), "-0.5") << "the last";
  EXPECT_EQ(report["uom"].text(), "CEL");
  EXPECT_EQ(report.find("exception"), nullptr);
}

// Of food it is said which: the readings would be of no use to whoever traces it.
TEST(Epcis, TellsWhichFoodReadingsAreOf) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  kitchen.readings("fork", sponge, "2026-05-01T07:00+01:00", "2026-05-01T07:30+01:00", "71.2");
  Json event = last_of(events(kitchen), "inspecting");
  EXPECT_EQ(quantities(event, "quantityList"), sponge);
  EXPECT_EQ(event["sensorElementList"].array().front()["sensorReport"].array().front()["meanValue"].text(), "71.2");
}

/// Books a block of readings with faults as a logger would have left it.
void block_of(TestKitchen& kitchen, const std::vector<LoggedReading>& readings) {
  Session session = kitchen.open();
  Draft draft = session.draft(ReadingsBlock{}, "fridge", {session.now(), Offset{60}});
  draft.block = write_block(readings);
  draft.body = body_of(ReadingsBlock{ProbeId{"logger"}, "fridge", "chilled", static_cast<std::int64_t>(readings.size()),
                                     readings.front().at, readings.back().at, to_hex(sha256(draft.block))});
  session.book({draft});
}

TEST(Epcis, NeverLeavesAFaultOut) {
  TestKitchen kitchen;
  const Instant at = parse_zoned("2026-05-01T07:00+01:00")->at;
  block_of(kitchen, {{at, Degrees{420, Scale::celsius}, ""}, {at + std::chrono::minutes{1}, {}, "no probe"}});
  Json mixed = last_of(events(kitchen), "sensor_reporting")["sensorElementList"].array().front()["sensorReport"].array().front();
  EXPECT_EQ(mixed["exception"].text(), "ERROR_CONDITION");
  EXPECT_EQ(mixed["value"].text(), "4.2");
  block_of(kitchen, {{at, {}, "no probe"}});
  Json alone = last_of(events(kitchen), "sensor_reporting")["sensorElementList"].array().front()["sensorReport"].array().front();
  EXPECT_EQ(alone["exception"].text(), "ERROR_CONDITION");
  EXPECT_EQ(alone.find("value"), nullptr);
}

TEST(Epcis, DeclaresTheErrorOfANoteThatWasCorrectedOrVoided) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const auto note = [&] { return kitchen.open(true).state().batches.at(BatchId{sponge}).sequence; };
  const std::string before = text_of(last_of(events(kitchen), "commissioning"), "eventID");
  kitchen.at("2026-05-01T09:00+01:00");
  correct_note(kitchen, note(), {{"yield_mg", Json{260'000}}});
  const Json::Array all = events(kitchen);
  Json old;
  for (const auto& event : all) {
    if (text_of(event, "eventID") == before) old = event;
  }
  ASSERT_FALSE(old.is_null()) << "the event keeps its id";
  const Json renewed = last_of(all, "commissioning");
  EXPECT_EQ(old["errorDeclaration"]["reason"].text(), "incorrect_data");
  EXPECT_EQ(old["errorDeclaration"]["declarationTime"].text(), "2026-05-01T09:00:00+01:00");
  EXPECT_EQ(old["errorDeclaration"]["correctiveEventIDs"].array(), Json::Array{Json{text_of(renewed, "eventID")}});
  EXPECT_EQ(quantities(old, "outputQuantityList"), sponge + " 270 GRM");
  EXPECT_EQ(quantities(renewed, "outputQuantityList"), sponge + " 260 GRM");
  EXPECT_EQ(renewed.find("errorDeclaration"), nullptr);
  const auto last = note();
  kitchen.done([&](Session& s) { return void_note(s, last, "never made"); });
  Json voided = last_of(events(kitchen), "commissioning");
  EXPECT_EQ(voided["errorDeclaration"]["reason"].text(), "did_not_occur");
  EXPECT_EQ(voided["errorDeclaration"].find("correctiveEventIDs"), nullptr);
}

/// The label of the first box of a cake.
PaperIssued label_of(const std::string& cake) {
  PaperIssued label;
  label.cake = CakeId{cake};
  label.paper = "label";
  label.form = "pdf";
  label.box = 1;
  label.head = label.rules = label.program = label.stock = "any";
  label.says = std::string(64, '1');
  label.sha256 = std::string(64, '0');
  return label;
}

TEST(Epcis, PacksABoxOnceHoweverOftenItsLabelIsDrawn) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  const std::string cake = cake_of(kitchen, {{sponge, grams(270)}});
  const auto draw = [&](const std::string& at) {
    kitchen.at(at);
    Session session = kitchen.open();
    session.book({session.draft(label_of(cake), cake, {session.now(), Offset{60}})});
  };
  draw("2026-05-01T10:00+01:00");
  const auto once = exported(kitchen).events;
  draw("2026-05-02T10:00+01:00");
  EXPECT_EQ(exported(kitchen).events, once);
  const Session session = kitchen.open(true);
  EXPECT_FALSE(epcis_document(session, {parse_date("2026-05-02")}).has_value()) << "the day of the second label alone";
}

TEST(Epcis, TellsBoxesAndHandOversWithoutTheNameOfAnybody) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  Ordering ordering{
      "Secret name cake", parse_date("2026-05-02"), "Zoë Example", "before it was chosen", "the maker", "face to face", 1, 900};
  const std::string cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "named", {"nuts"}, "Zoë Example", "", ""}); });
  kitchen.tier(cake, "only", {{sponge, grams(270)}});
  {
    Session session = kitchen.open();
    const PaperIssued label = label_of(cake);
    HandOver given;
    given.cake = CakeId{cake};
    given.to = session.seal("Zoë Example");
    given.degrees = Degrees{1850, Scale::celsius};
    session.book({session.draft(label, cake, {session.now(), Offset{60}}), session.draft(given, cake, {session.now(), Offset{60}})});
  }
  const Json::Array all = events(kitchen);
  Json packed = last_of(all, "packing");
  EXPECT_EQ(summary(packed), "AggregationEvent ADD container_closed");
  EXPECT_EQ(id_in(text_of(packed, "parentID")), cake + "-box-1");
  EXPECT_EQ(id_in(packed["childEPCs"].array().front().text()), cake);
  Json sold = last_of(all, "retail_selling");
  EXPECT_EQ(summary(sold), "ObjectEvent OBSERVE retail_sold");
  EXPECT_EQ(id_in(sold["epcList"].array().front().text()), cake);
  EXPECT_EQ(id_in(sold["destinationList"].array().front()["destination"].text()), "customer-of-" + cake);
  EXPECT_EQ(sold["sensorElementList"].array().front()["sensorReport"].array().front()["value"].text(), "18.5");
  const std::string text = exported(kitchen).text;
  for (const char* hidden : {"Zoë", "Example", "Ada", "Secret", "nuts", "Shop", "fridge", "sponge", "Unit 0"})
    EXPECT_THAT(text, Not(HasSubstr(hidden)));
}

TEST(Epcis, TakesTheDaysAskedForByTheClockOfTheKitchen) {
  TestKitchen kitchen;
  kitchen.at("2026-05-02T00:30+01:00");  // the day before in UTC
  const std::string sponge = kitchen.make("sponge", grams(270));
  EpcisWanted second{parse_date("2026-05-02"), parse_date("2026-05-02")};
  const Json::Array all = events(kitchen, second);
  ASSERT_EQ(all.size(), 1u);
  EXPECT_EQ(quantities(all.front(), "outputQuantityList"), sponge + " 270 GRM");
  EXPECT_EQ(exported(kitchen, {{}, parse_date("2026-05-01")}).events, exported(kitchen).events - 1);
  const Session session = kitchen.open(true);
  const auto why = [&](const EpcisWanted& wanted) { return describe(epcis_document(session, wanted).error().front()); };
  EXPECT_EQ(why({parse_date("2026-05-03")}),
            "from: nothing happened then that an event could tell of; choose other days, or record what was received and made first");
  EXPECT_THAT(why({parse_date("2026-05-03"), parse_date("2026-05-02")}), HasSubstr("2026-05-02 is before 2026-05-03"));
}

TEST(Epcis, NamesThingsOnTheDomainOfTheOwnerOnly) {
  const TestKitchen kitchen;
  const auto id_of = [&](const std::string& domain) { return events(kitchen, {{}, {}, domain}).front()["readPoint"]["id"].text(); };
  EXPECT_THAT(id_of(""), testing::StartsWith("https://example.invalid/demo/"));
  EXPECT_THAT(id_of("https://kitchen.example/trace/"), testing::StartsWith("https://kitchen.example/trace/demo/"));
  EXPECT_EQ(exported(kitchen).text, exported(kitchen).text);
  const Session session = kitchen.open(true);
  for (const char* bad : {"http://kitchen.example", "kitchen.example", "https://", "https://kitchen", "https://kitchen.example/a b",
                          "https://me@kitchen.example", "https://kitchen.example?a=1", "https://kitchen.example#x",
                          "https://Kitchen.example/\"", "https://.example", "https://kitchen..example"})
    EXPECT_FALSE(epcis_document(session, {{}, {}, bad}).has_value()) << bad;
}

TEST(EpcisSchema, TakesTheExampleAndRefusesWhatIsNone) {
  const std::string example = load_file(std::string{TIERPROOF_SOURCE_DIR} + "/tests/data/epcis-cake-example.json");
  EXPECT_EQ(schema_complaints(example, subset()), "");
  std::string wrong = example;
  wrong.replace(wrong.find("\"ADD\""), 5, "\"ADDED\"");
  EXPECT_NE(schema_complaints(wrong, subset()), "");
}

}  // namespace
}  // namespace tierproof
