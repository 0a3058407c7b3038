#include "tierproof/imports/epcis_check.h"

#include <fmt/format.h>

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "complaints.h"
#include "epcis_terms.h"
#include "tierproof/text/json_fractions.h"
#include "tierproof/units/time.h"

namespace tierproof {
namespace {

constexpr std::string_view context_begins = "https://ref.gs1.org/standards/epcis/";
constexpr std::string_view context_ends = "epcis-context.jsonld";
constexpr const char* context_to_write = "https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld";

/// Words that begin with a prefix or a scheme: `https://example.org/x`, `example:shelf`. RFC 3986 3.1 for the part before the colon.
bool is_uri(std::string_view text) {
  const auto colon = text.find(':');
  if (colon == std::string_view::npos || colon == 0 || colon + 1 == text.size()) return false;
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c <= ' ' || c == 0x7f || std::string_view{"<>\"{}|\\^`"}.find(c) != std::string_view::npos) return false;
    const bool scheme = letter(c) || (i > 0 && ((c >= '0' && c <= '9') || c == '+' || c == '-' || c == '.'));
    if (i < colon && !scheme) return false;
  }
  return true;
}

/// Digits behind the thousandth of a second, which the standard allows, do not matter here.
std::optional<ZonedInstant> instant_of(std::string_view text) {
  const auto point = text.find('.');
  if (point == std::string_view::npos) return parse_zoned(text);
  auto end = point + 1;
  while (end < text.size() && text[end] >= '0' && text[end] <= '9') ++end;
  if (end == point + 1) return std::nullopt;
  return parse_zoned(std::string{text.substr(0, std::min(end, point + 4))} + std::string{text.substr(end)});
}

/// `+01:00`, -14:00 to +14:00.
bool is_offset(std::string_view text) {
  if (text.size() != 6 || (text[0] != '+' && text[0] != '-') || text[3] != ':') return false;
  for (const std::size_t i : {1, 2, 4, 5}) {
    if (text[i] < '0' || text[i] > '9') return false;
  }
  const int hours = (text[1] - '0') * 10 + text[2] - '0';
  return text[4] < '6' && (hours < 14 || (hours == 14 && text.substr(4) == "00"));
}

/// `urn:uuid:` with a UUID, or `ni:///sha-256;` with 64 hexadecimal digits and the version of the vocabulary that says what was hashed.
bool is_event_id(std::string_view text) {
  const auto hexadecimal = [](std::string_view digits) {
    return digits.find_first_not_of("0123456789abcdefABCDEF") == std::string_view::npos;
  };
  if (text.substr(0, 9) == "urn:uuid:") {
    const auto uuid = text.substr(9);
    if (uuid.size() != 36) return false;
    for (const std::size_t dash : {8, 13, 18, 23}) {
      if (uuid[dash] != '-') return false;
    }
    std::string digits;
    for (const char c : uuid) {
      if (c != '-') digits += c;
    }
    return digits.size() == 32 && hexadecimal(digits);
  }
  constexpr std::string_view named = "ni:///sha-256;";
  if (text.substr(0, named.size()) != named) return false;
  const auto rest = text.substr(named.size());
  return rest.size() > 64 && hexadecimal(rest.substr(0, 64)) && rest.substr(64, 8) == "?ver=CBV";
}

/// An object that was written as one: a number with a fraction comes in another.
bool is_object(const Json& value) { return value.is_object() && !number_of(value); }

class EpcisReading {
 public:
  explicit EpcisReading(std::string_view file) : complaints_{file} {}
  bool any() const { return complaints_.any(); }
  Refusals all() const { return complaints_.all(); }

  std::int64_t document(const Json& document) {
    if (!is_object(document))
      return refuse(document, "", "is no EPCISDocument", "write one JSON object with \"type\": \"EPCISDocument\""), 0;
    keys(document, "",
         {"@context", "id", "type", "schemaVersion", "creationDate", "instanceIdentifier", "sender", "receiver", "epcisHeader",
          "epcisBody"});
    context(document);
    if (const Json* type = needed(document, "", "type", "EPCISDocument"); type != nullptr && *type != Json{"EPCISDocument"})
      refuse(*type, "type", "is not EPCISDocument", "write \"EPCISDocument\"");
    if (const Json* version = needed(document, "", "schemaVersion", "2.0"); version != nullptr && *version != Json{"2.0"})
      refuse(*version, "schemaVersion", "is not the text \"2.0\"", "write \"2.0\": documents of other versions are not read");
    time(document, "", "creationDate", true);
    if (const Json* id = document.find("id")) uri(*id, "id");
    const Json* body = needed(document, "", "epcisBody", "an object with the eventList");
    if (body == nullptr) return 0;
    if (!is_object(*body)) return refuse(*body, "epcisBody", "is no object", "write an object with the eventList"), 0;
    keys(*body, "epcisBody", {"eventList"});
    const Json* events = needed(*body, "epcisBody", "eventList", "the list of the events");
    if (events == nullptr) return 0;
    if (!events->is_array() || events->array().empty()) {
      refuse(*events, "epcisBody.eventList", events->is_array() ? "holds no event" : "is no list", "write at least one event");
      return 0;
    }
    std::int64_t number = 0;
    for (const auto& one : events->array()) event(one, fmt::format("event {}", ++number));
    return number;
  }

 private:
  static std::string under(const std::string& where, std::string_view key) {
    if (where.empty()) return std::string{key};
    return fmt::format("{}{}{}", where, where.find_first_of(".,") == std::string::npos && where.starts_with("event ") ? ", " : ".", key);
  }
  void refuse(const Json& at, const std::string& field, std::string message, std::string remedy) {
    complaints_.refuse(at.line(), field, std::move(message), std::move(remedy));
  }
  const Json* needed(const Json& object, const std::string& where, std::string_view key, std::string_view what) {
    const Json* found = object.find(key);
    if (found == nullptr) refuse(object, under(where, key), "is missing", fmt::format("write {}", what));
    return found;
  }
  /// The keys of the standard, and others with a prefix.
  void keys(const Json& object, const std::string& where, const std::set<std::string, std::less<>>& known, bool own = true) {
    for (const auto& [key, value] : object.object()) {
      if (known.contains(key) || (own && is_uri(key))) continue;
      refuse(value, under(where, key), "is no field of EPCIS 2.0 here",
             own ? "mind small and capital letters; a field of one's own has a prefix and a colon, example:shelf" : "take it out");
    }
  }
  void context(const Json& document) {
    const Json* found = needed(document, "", "@context", fmt::format("[\"{}\"]", context_to_write));
    if (found == nullptr) return;
    const Json::Array one{*found};
    bool gs1 = false;
    for (const auto& item : found->is_array() ? found->array() : one) {
      if (item.is_text()) {
        gs1 = gs1 || (item.text().starts_with(context_begins) && item.text().ends_with(context_ends));
        uri(item, "@context");
      } else if (!is_object(item)) {
        refuse(item, "@context", "holds neither an address nor prefixes", fmt::format("write [\"{}\"]", context_to_write));
      }
    }
    if (!gs1)
      refuse(*found, "@context", "is not that of GS1, so its words may mean anything", fmt::format("write [\"{}\"]", context_to_write));
  }
  bool uri(const Json& value, const std::string& field) {
    if (value.is_text() && is_uri(value.text())) return true;
    refuse(value, field, value.is_text() ? fmt::format("\"{}\" is no URI", value.text()) : "is no URI",
           "write a URI with its scheme, https://example.org/obj/1");
    return false;
  }
  void time(const Json& object, const std::string& where, std::string_view key, bool must) {
    const Json* value = must ? needed(object, where, key, "a time with its offset, 2026-05-01T08:10:00+01:00") : object.find(key);
    if (value == nullptr) return;
    if (!value->is_text() || !instant_of(value->text()))
      refuse(*value, under(where, key), "is no time with an offset",
             "write 2026-05-01T08:10:00+01:00: without an offset nobody knows when it was");
  }
  /// A word of the vocabulary, or a URI of one's own that is not the vocabulary in another spelling.
  template <std::size_t N>
  void term(const Json& value, const std::string& field, const std::array<std::string_view, N>& words, std::string_view example) {
    if (value.is_text() && epcis::holds(words, value.text())) return;
    const auto other_spelling = [&](std::string_view begins) { return value.is_text() && value.text().starts_with(begins); };
    if (other_spelling("urn:epcglobal:cbv:") || other_spelling("https://ns.gs1.org/cbv/") || other_spelling("https://ref.gs1.org/cbv/") ||
        other_spelling("gs1:") || other_spelling("cbv:") || other_spelling("epcis:")) {
      refuse(value, field, fmt::format("\"{}\" is not how EPCIS 2.0 writes its own words in JSON", value.text()),
             fmt::format("write the bare word, {}", example));
    } else if (!value.is_text() || !is_uri(value.text())) {
      refuse(value, field,
             value.is_text() ? fmt::format("\"{}\" is no word of the vocabulary", value.text()) : "is no word of the vocabulary",
             fmt::format("write a word of CBV 2.0, {}, or a URI of one's own", example));
    }
  }
  template <std::size_t N>
  void term_at(const Json& object, const std::string& where, std::string_view key, const std::array<std::string_view, N>& words,
               std::string_view example, bool must = false) {
    const Json* value = must ? needed(object, where, key, example) : object.find(key);
    if (value != nullptr) term(*value, under(where, key), words, example);
  }
  /// Calls `read(item, field)` for each item of a list that may be left out.
  template <class Read>
  std::size_t each(const Json& object, const std::string& where, std::string_view key, const Read& read) {
    const Json* list = object.find(key);
    if (list == nullptr) return 0;
    const std::string field = under(where, key);
    if (!list->is_array()) return refuse(*list, field, "is no list", "write a list, [ ]"), 0;
    for (std::size_t i = 0; i < list->array().size(); ++i) read(list->array()[i], fmt::format("{}[{}]", field, i + 1));
    return list->array().size();
  }
  template <class Read>
  std::size_t each_object(const Json& object, const std::string& where, std::string_view key, const Read& read) {
    return each(object, where, key, [&](const Json& item, const std::string& field) {
      if (is_object(item)) return read(item, field);
      refuse(item, field, "is no object", "write an object, { }");
    });
  }
  std::size_t uris(const Json& object, const std::string& where, std::string_view key) {
    std::set<std::string> seen;
    return each(object, where, key, [&](const Json& item, const std::string& field) {
      if (uri(item, field) && !seen.insert(item.text()).second) refuse(item, field, "stands there twice", "name each thing once");
    });
  }
  std::optional<double> number(const Json& object, const std::string& where, std::string_view key) {
    const Json* value = object.find(key);
    if (value == nullptr) return std::nullopt;
    const auto read = number_of(*value);
    if (!read) refuse(*value, under(where, key), "is no number", "write a number without quotes, 1.25");
    return read;
  }
  void unit(const Json& object, const std::string& where, bool must) {
    const Json* uom = must ? needed(object, where, "uom", "its unit, CEL") : object.find("uom");
    if (uom == nullptr) return;
    const bool fits = uom->is_text() && (uom->text().size() == 2 || uom->text().size() == 3) &&
                      uom->text().find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") == std::string::npos;
    if (!fits)
      refuse(*uom, under(where, "uom"), "is no unit of UN/ECE Recommendation 20",
             "write its code of 2 or 3 capitals or digits: GRM, KGM, CEL");
  }
  std::size_t quantities(const Json& object, const std::string& where, std::string_view key) {
    return each_object(object, where, key, [&](const Json& item, const std::string& field) {
      keys(item, field, {"epcClass", "quantity", "uom"}, false);
      if (const Json* of = needed(item, field, "epcClass", "the URI of what it is a quantity of")) uri(*of, under(field, "epcClass"));
      if (const auto much = number(item, field, "quantity"); much && *much < 0)
        refuse(*item.find("quantity"), under(field, "quantity"), "is negative",
               "write how much there is; food that went is an event of its own");
      unit(item, field, false);
      if (item.find("uom") != nullptr && item.find("quantity") == nullptr)
        refuse(item, under(field, "quantity"), "is missing beside its unit", "write the quantity, or take the unit out");
    });
  }
  void place(const Json& object, const std::string& where, std::string_view key) {
    const Json* place = object.find(key);
    if (place == nullptr) return;
    if (!is_object(*place)) return refuse(*place, under(where, key), "is no object", "write {\"id\": \"https://example.org/loc/1\"}");
    if (const Json* id = needed(*place, under(where, key), "id", "the URI of the place")) uri(*id, under(under(where, key), "id"));
  }
  void sensor_report(const Json& report, const std::string& where) {
    keys(report, where,
         {"type",
          "exception",
          "deviceID",
          "deviceMetadata",
          "rawData",
          "dataProcessingMethod",
          "time",
          "microorganism",
          "chemicalSubstance",
          "value",
          "component",
          "stringValue",
          "booleanValue",
          "hexBinaryValue",
          "uriValue",
          "minValue",
          "maxValue",
          "meanValue",
          "sDev",
          "percRank",
          "percValue",
          "uom",
          "coordinateReferenceSystem"});
    term_at(report, where, "type", epcis::measurements, "Temperature", true);
    term_at(report, where, "exception", epcis::sensor_exceptions, "ERROR_CONDITION");
    const auto least = number(report, where, "minValue");
    const auto mean = number(report, where, "meanValue");
    const auto most = number(report, where, "maxValue");
    const auto value = number(report, where, "value");
    for (const char* key : {"sDev", "percRank", "percValue"}) number(report, where, key);
    const auto above = [](const std::optional<double>& a, const std::optional<double>& b) { return a && b && *a > *b; };
    if (above(least, most) || above(least, mean) || above(mean, most) || above(least, value) || above(value, most))
      refuse(report, where, "has a least, mean or greatest value out of order",
             "write the least, the mean and the greatest of the same readings");
    if (least || mean || most || value) {
      unit(report, where, report.find("type") != nullptr && *report.find("type") == Json{"Temperature"});
    } else if (report.find("exception") == nullptr && report.find("stringValue") == nullptr && report.find("booleanValue") == nullptr &&
               report.find("hexBinaryValue") == nullptr && report.find("uriValue") == nullptr) {
      refuse(report, where, "tells no value", "write value, or minValue, meanValue and maxValue, or the exception that there was");
    }
    time(report, where, "time", false);
    if (const Json* device = report.find("deviceID")) uri(*device, under(where, "deviceID"));
  }
  std::size_t sensors(const Json& event, const std::string& where) {
    return each_object(event, where, "sensorElementList", [&](const Json& element, const std::string& field) {
      if (const Json* about = element.find("sensorMetadata"); about != nullptr && is_object(*about)) {
        for (const char* key : {"time", "startTime", "endTime"}) time(*about, under(field, "sensorMetadata"), key, false);
        if (const Json* device = about->find("deviceID")) uri(*device, under(under(field, "sensorMetadata"), "deviceID"));
      } else if (about != nullptr) {
        refuse(*about, under(field, "sensorMetadata"), "is no object", "write an object, { }");
      }
      const auto reports =
          each_object(element, field, "sensorReport", [&](const Json& one, const std::string& at) { sensor_report(one, at); });
      if (reports == 0) refuse(element, under(field, "sensorReport"), "holds no report", "write at least one report with type and value");
    });
  }
  void error_declaration(const Json& event, const std::string& where) {
    const Json* declared = event.find("errorDeclaration");
    if (declared == nullptr) return;
    const std::string field = under(where, "errorDeclaration");
    if (!is_object(*declared)) return refuse(*declared, field, "is no object", "write an object with declarationTime and reason");
    keys(*declared, field, {"declarationTime", "reason", "correctiveEventIDs"});
    time(*declared, field, "declarationTime", true);
    term_at(*declared, field, "reason", epcis::error_reasons, "did_not_occur");
    uris(*declared, field, "correctiveEventIDs");
    if (event.find("eventID") == nullptr)
      refuse(event, under(where, "eventID"), "is missing beside an errorDeclaration", "write the id of the event that was wrong");
  }
  void event_id(const Json& event, const std::string& where) {
    const Json* id = event.find("eventID");
    if (id == nullptr) return;
    if (!id->is_text() || !is_event_id(id->text()))
      return refuse(*id, under(where, "eventID"), "is no id of an event",
                    "write urn:uuid: and a UUID, or ni:///sha-256; and the hash with ?ver=CBV2.0");
    const bool declares = event.find("errorDeclaration") != nullptr;
    if (!ids_.emplace(id->text(), declares).second)
      refuse(*id, under(where, "eventID"), "is that of an earlier event too",
             "give each event an id of its own, and declare an error once");
  }
  void persistent(const Json& event, const std::string& where) {
    const Json* disposition = event.find("persistentDisposition");
    if (disposition == nullptr) return;
    const std::string field = under(where, "persistentDisposition");
    if (!is_object(*disposition)) return refuse(*disposition, field, "is no object", "write {\"set\": [\"recalled\"]}");
    keys(*disposition, field, {"set", "unset"}, false);
    for (const char* key : {"set", "unset"})
      each(*disposition, field, key, [&](const Json& word, const std::string& at) { term(word, at, epcis::dispositions, "recalled"); });
  }
  void parties(const Json& event, const std::string& where, std::string_view list, std::string_view key) {
    each_object(event, where, list, [&](const Json& item, const std::string& field) {
      term_at(item, field, "type", epcis::party_types, "owning_party", true);
      if (const Json* who = needed(item, field, key, "the URI of the party")) uri(*who, under(field, key));
    });
  }

  void event(const Json& event, const std::string& where) {
    if (!is_object(event)) return refuse(event, where, "is no object", "write an event, { }");
    time(event, where, "eventTime", true);
    time(event, where, "recordTime", false);
    if (const Json* offset = needed(event, where, "eventTimeZoneOffset", "the offset of the place, +01:00");
        offset != nullptr && (!offset->is_text() || !is_offset(offset->text())))
      refuse(*offset, under(where, "eventTimeZoneOffset"), "is no offset", "write +01:00, or +00:00 where it is that of UTC; Z is not one");
    const Json* type = needed(event, where, "type", "ObjectEvent, AggregationEvent or TransformationEvent");
    if (type == nullptr) return;
    const std::string kind = type->is_text() ? type->text() : "";
    if (!epcis::holds(epcis::event_types, kind))
      return refuse(*type, under(where, "type"), fmt::format("\"{}\" is no event of EPCIS 2.0", kind),
                    "write ObjectEvent, AggregationEvent or TransformationEvent");
    fields_of(event, where, kind);
    action(event, where, kind);
    event_id(event, where);
    error_declaration(event, where);
    persistent(event, where);
    term_at(event, where, "bizStep", epcis::business_steps, "receiving");
    term_at(event, where, "disposition", epcis::dispositions, "in_progress");
    place(event, where, "readPoint");
    place(event, where, "bizLocation");
    each_object(event, where, "bizTransactionList", [&](const Json& item, const std::string& field) {
      term_at(item, field, "type", epcis::transaction_types, "inv");
      if (const Json* id = needed(item, field, "bizTransaction", "the URI of the document")) uri(*id, under(field, "bizTransaction"));
    });
    parties(event, where, "sourceList", "source");
    parties(event, where, "destinationList", "destination");
    for (const char* key : {"parentID", "transformationID"}) {
      if (const Json* id = event.find(key)) uri(*id, under(where, key));
    }
    things(event, where, kind);
  }
  void fields_of(const Json& event, const std::string& where, const std::string& kind) {
    std::set<std::string, std::less<>> known{"@context",
                                             "type",
                                             "eventTime",
                                             "recordTime",
                                             "eventTimeZoneOffset",
                                             "eventID",
                                             "errorDeclaration",
                                             "certificationInfo",
                                             "action",
                                             "bizStep",
                                             "disposition",
                                             "persistentDisposition",
                                             "readPoint",
                                             "bizLocation",
                                             "bizTransactionList",
                                             "sourceList",
                                             "destinationList",
                                             "sensorElementList",
                                             "ilmd"};
    const auto more = [&](std::initializer_list<const char*> keys_of_kind) { known.insert(keys_of_kind.begin(), keys_of_kind.end()); };
    if (kind == "ObjectEvent") more({"epcList", "quantityList"});
    if (kind == "AggregationEvent" || kind == "AssociationEvent") more({"parentID", "childEPCs", "childQuantityList"});
    if (kind == "TransactionEvent") more({"parentID", "epcList", "quantityList"});
    if (kind == "TransformationEvent")
      more({"inputEPCList", "inputQuantityList", "outputEPCList", "outputQuantityList", "transformationID"});
    keys(event, where, known);
  }
  void action(const Json& event, const std::string& where, const std::string& kind) {
    const Json* found = event.find("action");
    const bool making = kind == "TransformationEvent";
    if (making && found != nullptr)
      refuse(*found, under(where, "action"), "a TransformationEvent has none", "take it out: what goes in and out tells all");
    if (!making) {
      found = needed(event, where, "action", "ADD, OBSERVE or DELETE");
      if (found != nullptr && (!found->is_text() || !epcis::holds(epcis::actions, found->text())))
        refuse(*found, under(where, "action"), "is none of the three actions", "write ADD, OBSERVE or DELETE");
    }
    const Json* master = event.find("ilmd");
    if (master == nullptr) return;
    if (!is_object(*master)) return refuse(*master, under(where, "ilmd"), "is no object", "write an object, { }");
    if (!making && (kind != "ObjectEvent" || found == nullptr || *found != Json{"ADD"}))
      refuse(*master, under(where, "ilmd"), "stands in an event that adds nothing",
             "write what holds for the whole lot in the event that begins it, with action ADD");
    for (const auto& [key, value] : master->object()) {
      if (!is_uri(key))
        refuse(value, under(under(where, "ilmd"), key), "has no prefix", "write it with a prefix and a colon, cbvmda:lotNumber");
    }
  }
  void things(const Json& event, const std::string& where, const std::string& kind) {
    std::size_t objects = 0, in = 0, out = 0, children = 0;
    objects += uris(event, where, "epcList") + quantities(event, where, "quantityList");
    children += uris(event, where, "childEPCs") + quantities(event, where, "childQuantityList");
    in += uris(event, where, "inputEPCList") + quantities(event, where, "inputQuantityList");
    out += uris(event, where, "outputEPCList") + quantities(event, where, "outputQuantityList");
    const std::size_t read = sensors(event, where);
    if (event.find("sensorElementList") != nullptr && read == 0)
      refuse(event, under(where, "sensorElementList"), "holds no reading", "write at least one, or take the list out");
    const Json* action = event.find("action");
    if (kind == "ObjectEvent" && objects == 0 && (read == 0 || event.find("readPoint") == nullptr)) {
      refuse(event, under(where, read == 0 ? "epcList" : "readPoint"), "the event is about nothing",
             "name the things in epcList or quantityList, or for readings of a place the readPoint");
    }
    if (kind == "AggregationEvent" || kind == "AssociationEvent") {
      const bool observed = action != nullptr && *action == Json{"OBSERVE"};
      if (!observed && event.find("parentID") == nullptr)
        refuse(event, under(where, "parentID"), "is missing: nobody can tell what things were packed into", "write the URI of the box");
      const bool taken_out = action != nullptr && *action == Json{"DELETE"};
      if (children == 0 && !taken_out)
        refuse(event, under(where, "childEPCs"), "nothing is packed", "name what is in it, in childEPCs or childQuantityList");
    }
    if (kind == "TransformationEvent" && (in == 0 || out == 0)) {
      if (in + out == 0 || event.find("transformationID") == nullptr) {
        refuse(event, under(where, in == 0 ? "inputQuantityList" : "outputQuantityList"), in == 0 ? "nothing goes in" : "nothing comes out",
               "name what goes in and what comes out, or join several events by their transformationID");
      }
    }
  }

  Complaints complaints_;
  std::set<std::pair<std::string, bool>> ids_;
};

}  // namespace

Result<EpcisSeen> check_epcis(std::string_view text, std::string_view file) {
  const auto json = parse_json_with_numbers(text, file);
  if (!json) return json.error();
  EpcisReading reader{file};
  const std::int64_t events = reader.document(*json);
  if (reader.any()) return reader.all();
  return EpcisSeen{events};
}

}  // namespace tierproof
