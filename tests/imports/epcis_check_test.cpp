#include "tierproof/imports/epcis_check.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "tierproof/text/json_fractions.h"

namespace tierproof {
namespace {

std::string example() {
  std::ifstream in{std::string{TIERPROOF_SOURCE_DIR} + "/tests/data/epcis-cake-example.json"};
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

/// A document of one event, where `event` is its members, and `head` stands for what comes before the body.
std::string document(const std::string& event, const std::string& head = "") {
  const std::string usual =
      R"("@context": ["https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld", {"example": "https://example.org/"}], "type": "EPCISDocument",
"schemaVersion": "2.0", "creationDate": "2026-05-01T12:00:00+01:00")";
  return "{" + (head.empty() ? usual : head) + R"(, "epcisBody": {"eventList": [{)" + event + "}]}}";
}
const std::string when = R"("eventTime": "2026-05-01T08:10:00+01:00", "eventTimeZoneOffset": "+01:00", )";
const std::string object = R"("type": "ObjectEvent", )" + when;
const std::string one_thing = R"("epcList": ["https://example.org/obj/1"])";
const std::string received = object + R"("action": "ADD", "bizStep": "receiving", )" + one_thing;
const std::string made = R"("type": "TransformationEvent", )" + when +
                         R"("inputQuantityList": [{"epcClass": "https://example.org/class/1", "quantity": 0.5, "uom": "KGM"}])";
const std::string came_out = R"(, "outputQuantityList": [{"epcClass": "https://example.org/class/2", "quantity": 450, "uom": "GRM"}])";
const std::string readings = object + R"("action": "OBSERVE", "bizStep": "sensor_reporting")";
const std::string warm = R"(, "sensorElementList": [{"sensorReport": [{"type": "Temperature", "value": 4.5, "uom": "CEL"}]}])";
const std::string somewhere = R"(, "readPoint": {"id": "https://example.org/loc/1"})";

/// Every complaint as `field: message`, one a line; each has a line and a remedy.
std::string complaints(const std::string& text) {
  const auto seen = check_epcis(text, "events.json");
  std::string all;
  if (seen) return all;
  for (const auto& refusal : seen.error()) {
    EXPECT_EQ(refusal.file, "events.json");
    EXPECT_GT(refusal.line, 0) << refusal.message;
    EXPECT_FALSE(refusal.remedy.empty()) << refusal.message;
    all += (all.empty() ? "" : "\n") + refusal.field + ": " + refusal.message;
  }
  return all;
}

TEST(EpcisCheck, TakesADocumentThatTheSchemaOfGs1Takes) {
  const auto seen = check_epcis(example(), "events.json");
  ASSERT_TRUE(seen.has_value()) << describe(seen.error().front());
  EXPECT_EQ(seen->events, 3);
}

TEST(EpcisCheck, TakesWhatTheStandardAllows) {
  for (const auto& event :
       {received, made + came_out, readings + warm + somewhere, received + R"(, "example:shelf": {"any": 1.5e3})",
        received + R"(, "ilmd": {"cbvmda:lotNumber": "A77-2"})", made + R"(, "transformationID": "https://example.org/xform/1")",
        object + R"("action": "OBSERVE", "bizStep": "https://example.org/bizstep/cleaning", )" + one_thing,
        object + R"("action": "OBSERVE", "quantityList": [{"epcClass": "urn:example:class:1"}])",
        received + R"(, "eventID": "ni:///sha-256;)" + std::string(64, 'a') + R"(?ver=CBV2.0")",
        readings + somewhere + R"(, "sensorElementList": [{"sensorReport": [{"type": "Temperature", "exception": "ERROR_CONDITION"}]}])"})
    EXPECT_EQ(complaints(document(event)), "") << event;
}

struct Case {
  std::string name, text, complaint;
};
std::string name_of(const testing::TestParamInfo<Case>& one) { return one.param.name; }
class EpcisRefused : public testing::TestWithParam<Case> {};
TEST_P(EpcisRefused, NamesEventAndField) { EXPECT_EQ(complaints(GetParam().text), GetParam().complaint); }

/// `text` with its first `from` made `to`.
std::string with(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

// What the published schema refused when documents were tried against it: JSON Schema of EPCIS 2.0, GS1, github gs1/EPCIS.
INSTANTIATE_TEST_SUITE_P(
    AsTheSchemaDoes, EpcisRefused,
    testing::Values(
        Case{"ilmd", document(object + R"("action": "OBSERVE", "ilmd": {"cbvmda:lotNumber": "1"}, )" + one_thing),
             "event 1, ilmd: stands in an event that adds nothing"},
        Case{"action", document(made + came_out + R"(, "action": "ADD")"), "event 1, action: a TransformationEvent has none"},
        Case{"no_action", document(with(received, "\"ADD\"", "\"ADDED\"")), "event 1, action: is none of the three actions"},
        Case{"type", document(with(received, "ObjectEvent", "CakeEvent")), "event 1, type: \"CakeEvent\" is no event of EPCIS 2.0"},
        Case{"in_alone", document(made), "event 1, outputQuantityList: nothing comes out"},
        Case{"no_place", document(readings + warm), "event 1, readPoint: the event is about nothing"},
        Case{"own_key", document(received + R"(, "shelf": 3)"), "event 1, shelf: is no field of EPCIS 2.0 here"},
        Case{"own_step", document(with(received, "receiving", "baking")), "event 1, bizStep: \"baking\" is no word of the vocabulary"},
        Case{"old_term", document(with(received, "\"receiving", "\"urn:epcglobal:cbv:bizstep:receiving")),
             "event 1, bizStep: \"urn:epcglobal:cbv:bizstep:receiving\" is not how EPCIS 2.0 writes its own words in JSON"},
        Case{"old_disposition", document(received + R"(, "disposition": "urn:epcglobal:cbv:disp:in_progress")"),
             "event 1, disposition: \"urn:epcglobal:cbv:disp:in_progress\" is not how EPCIS 2.0 writes its own words in JSON"},
        Case{"no_uri", document(with(received, "https://example.org/obj/1", "cake 1")), "event 1, epcList[1]: \"cake 1\" is no URI"},
        Case{"text", document(with(made + came_out, "0.5", "\"0.5\"")), "event 1, inputQuantityList[1].quantity: is no number"},
        Case{"more", document(with(made + came_out, "\"quantity\"", "\"of\": \"flour\", \"quantity\"")),
             "event 1, inputQuantityList[1].of: is no field of EPCIS 2.0 here"},
        Case{"more_with_prefix", document(with(made + came_out, "\"quantity\"", "\"example:of\": \"flour\", \"quantity\"")),
             "event 1, inputQuantityList[1].example:of: is no field of EPCIS 2.0 here"},
        Case{"top", with(document(received), "\"type\"", "\"maker\": \"us\", \"type\""), "maker: is no field of EPCIS 2.0 here"},
        Case{"no_version", with(document(received), "\"schemaVersion\": \"2.0\", ", ""), "schemaVersion: is missing"},
        Case{"no_context",
             document(received, R"("type": "EPCISDocument", "schemaVersion": "2.0", "creationDate": "2026-05-01T12:00:00+01:00")"),
             "@context: is missing"},
        Case{"unit", document(with(made + came_out, "GRM", "g")),
             "event 1, outputQuantityList[1].uom: is no unit of UN/ECE Recommendation 20"},
        Case{"z", document(with(received, "\"+01:00\"", "\"Z\"")), "event 1, eventTimeZoneOffset: is no offset"},
        Case{"offset", document(with(received, "\"+01:00\"", "\"+14:30\"")), "event 1, eventTimeZoneOffset: is no offset"},
        Case{"id", document(received + R"(, "eventID": "event-1")"), "event 1, eventID: is no id of an event"},
        Case{"report", document(readings + somewhere + with(warm, "\"type\": \"Temperature\", ", "")),
             "event 1, sensorElementList[1].sensorReport[1].type: is missing"}),
    name_of);

// What the published schema let pass though it is wrong, tried in the same way.
INSTANTIATE_TEST_SUITE_P(
    ThoughTheSchemaDoesNot, EpcisRefused,
    testing::Values(
        Case{"parent",
             document(R"("type": "AggregationEvent", "action": "ADD", )" + when + R"("childEPCs": ["https://example.org/obj/1"])"),
             "event 1, parentID: is missing: nobody can tell what things were packed into"},
        Case{"time", document(with(received, "08:10:00+01:00", "08:10:00")), "event 1, eventTime: is no time with an offset"},
        Case{"negative", document(with(made + came_out, "0.5", "-0.5")), "event 1, inputQuantityList[1].quantity: is negative"},
        Case{"negative_whole", document(with(made + came_out, "450", "-1")), "event 1, outputQuantityList[1].quantity: is negative"},
        Case{"empty", with(document(""), "[{}]", "[]"), "epcisBody.eventList: holds no event"},
        Case{"context", with(document(received), "https://ref.gs1.org/standards/epcis/2.0.0/", "https://example.org/"),
             "@context: is not that of GS1, so its words may mean anything"},
        Case{"gs1", document(readings + somewhere + with(warm, "\"Temperature", "\"gs1:Temperature")),
             "event 1, sensorElementList[1].sensorReport[1].type: \"gs1:Temperature\" is not how EPCIS 2.0 writes its own words in JSON"},
        Case{"order", document(readings + somewhere + with(warm, "4.5", "4.5, \"minValue\": 5, \"maxValue\": 4")),
             "event 1, sensorElementList[1].sensorReport[1]: has a least, mean or greatest value out of order"},
        Case{"no_value", document(readings + somewhere + with(warm, "\"value\": 4.5, ", "")),
             "event 1, sensorElementList[1].sensorReport[1]: tells no value"},
        Case{"nothing", document(object + R"("action": "OBSERVE", "epcList": [])"), "event 1, epcList: the event is about nothing"},
        Case{"no_text_is_a_fraction", document(with(made + came_out, "0.5", "{\"\": \"0.5\"}")),
             "event 1, inputQuantityList[1].quantity: is no number"}),
    name_of);

TEST(EpcisCheck, TellsEverythingTogetherWithTheNumberOfTheEvent) {
  const std::string wrong = with(with(example(), "\"quantity\": 2,", "\"quantity\": \"2\","), "\"childQuantityList\"", "\"children\"");
  EXPECT_EQ(complaints(with(wrong, "\"parentID\": \"https://kitchen.example/box/C240\",", "")),
            "event 1, quantityList[1].quantity: is no number\n"
            "event 3, children: is no field of EPCIS 2.0 here\n"
            "event 3, parentID: is missing: nobody can tell what things were packed into\n"
            "event 3, childEPCs: nothing is packed");
}

TEST(EpcisCheck, TakesAnEventTwiceOnlyAsTheDeclarationOfItsError) {
  const std::string id = R"(, "eventID": "urn:uuid:0f8fad5b-d9cb-869f-a165-70867728950e")";
  const std::string error = R"(, "errorDeclaration": {"declarationTime": "2026-05-02T09:00:00+01:00", "reason": "did_not_occur"})";
  EXPECT_EQ(complaints(document(received + id + "}, {" + received + id + error)), "");
  EXPECT_EQ(complaints(document(received + id + "}, {" + received + id)), "event 2, eventID: is that of an earlier event too");
  EXPECT_EQ(complaints(document(received + error)), "event 1, eventID: is missing beside an errorDeclaration");
  EXPECT_EQ(complaints(document(received + id + with(error, "did_not_occur", "typed wrong"))),
            "event 1, errorDeclaration.reason: \"typed wrong\" is no word of the vocabulary");
}

TEST(EpcisCheck, RefusesWhatIsNoJsonAtAll) {
  EXPECT_FALSE(check_epcis("", "events.json").has_value());
  EXPECT_FALSE(check_epcis("{\"type\": }", "events.json").has_value());
  EXPECT_EQ(complaints("[]"), ": is no EPCISDocument");
  EXPECT_EQ(complaints("1.5"), ": is no EPCISDocument");
  EXPECT_EQ(complaints(document(received + ", \"readPoint\": 1.5")), "event 1, readPoint: is no object");
}

}  // namespace
}  // namespace tierproof
