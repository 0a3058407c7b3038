#include "epcis_writer.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "tierproof/log/hash.h"

namespace tierproof::epcis {
namespace {

bool numbered(std::string_view subject, std::string_view word) {
  if (!subject.starts_with(word)) return false;
  const auto digits = subject.substr(word.size());
  return !digits.empty() && digits.find_first_not_of("0123456789") == std::string_view::npos;
}

double hundredths(std::int64_t count) { return static_cast<double>(count) / 100.0; }

/// Sum over count, to the nearest whole, halves away from nothing.
std::int64_t mean_of(std::int64_t sum, std::int64_t count) {
  const std::int64_t twice = 2 * (sum < 0 ? -sum : sum) + count;
  return (sum < 0 ? -1 : 1) * (twice / (2 * count));
}

const char* unit_of(Scale scale) { return scale == Scale::celsius ? "CEL" : "FAH"; }

}  // namespace

bool is_cake(std::string_view subject) { return numbered(subject, "cake-"); }
bool is_lot(std::string_view subject) { return numbered(subject, "pack-") || numbered(subject, "batch-"); }

Names::Names(const std::string& domain, std::string kitchen, bool demo)
    : base_{fmt::format("{}/{}{}", domain, demo ? "demo/" : "", kitchen)}, kitchen_{std::move(kitchen)} {}

std::string Names::named(std::string_view sort, std::string_view id) const { return fmt::format("{}/{}/{}", base_, sort, id); }

std::string Names::hashed(std::string_view what, std::string_view id) const {
  return to_hex(sha256(fmt::format("{}\n{}\n{}", kitchen_, what, id))).substr(0, 20);
}

std::string Names::event(std::uint64_t note) const {
  std::string hex = to_hex(sha256(fmt::format("{}\nevent\n{}", kitchen_, note))).substr(0, 32);
  hex[12] = '8';  // the version
  const auto variant = std::string_view{"0123456789abcdef"}.find(hex[16]);
  hex[16] = "89ab"[variant & 3U];
  return fmt::format("urn:uuid:{}-{}-{}-{}-{}", hex.substr(0, 8), hex.substr(8, 4), hex.substr(12, 4), hex.substr(16, 4), hex.substr(20));
}

Writer::Writer(const Names& names, Instant created, Offset offset)
    : names_{names}, json_{[this](std::string_view piece) { text_ += piece; }} {
  json_.begin_object().member("@context").begin_array();
  json_.text("https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld").end();
  json_.member("type").text("EPCISDocument").member("schemaVersion").text("2.0");
  json_.member("creationDate").text(format_zoned(created, offset));
  json_.member("epcisBody").begin_object().member("eventList").begin_array();
}

void Writer::begin(std::string_view type, const Note& note) {
  ++events_;
  json_.begin_object().member("type").text(type).member("eventID").text(names_.event(note.sequence));
  json_.member("eventTime").text(format_zoned(note.happened, note.offset));
  json_.member("eventTimeZoneOffset")
      .text(format_zoned(note.happened, note.offset).substr(format_zoned(note.happened, note.offset).size() - 6));
  json_.member("recordTime").text(format_zoned(note.written, note.offset));
  if (taken_back_by_ == nullptr) return;
  const Note& by = *taken_back_by_;
  json_.member("errorDeclaration").begin_object();
  json_.member("declarationTime").text(format_zoned(by.written, by.offset));
  json_.member("reason").text(by.body.is_null() ? "did_not_occur" : "incorrect_data");
  if (!by.body.is_null()) uris("correctiveEventIDs", {names_.event(by.sequence)});
  json_.end();
}

Writer& Writer::word(std::string_view member, std::string_view text) {
  json_.member(member).text(text);
  return *this;
}

void Writer::uris(std::string_view member, const std::vector<std::string>& list) {
  if (list.empty()) return;
  json_.member(member).begin_array();
  for (const auto& uri : list) json_.text(uri);
  json_.end();
}

void Writer::quantities(std::string_view member, const std::vector<Quantity>& list) {
  if (list.empty()) return;
  json_.member(member).begin_array();
  for (const auto& one : list) {
    json_.begin_object().member("epcClass").text(one.of);
    if (one.mass) {
      const auto mg = one.mass->to_milligrams();
      const bool kilograms = mg >= 1'000'000;
      json_.member("quantity").number(static_cast<double>(mg) / (kilograms ? 1e6 : 1e3));
      json_.member("uom").text(kilograms ? "KGM" : "GRM");
    }
    json_.end();
  }
  json_.end();
}

void Writer::one_piece(std::string_view member, std::string_view of) {
  json_.member(member).begin_array().begin_object().member("epcClass").text(of).member("quantity").number(1).end().end();
}

void Writer::place(std::string_view location) {
  for (const char* member : {"readPoint", "bizLocation"}) json_.member(member).begin_object().member("id").text(location).end();
}

void Writer::party(std::string_view list, std::string_view member, std::string_view who) {
  json_.member(list).begin_array().begin_object().member("type").text("owning_party").member(member).text(who).end().end();
}

void Writer::lot_particulars(const std::string& code, std::optional<Date> use_by, std::optional<Date> best_before) {
  if (code.empty() && !use_by && !best_before) return;
  json_.member("ilmd").begin_object();
  if (!code.empty()) json_.member("cbvmda:lotNumber").text(code);
  if (use_by) json_.member("cbvmda:itemExpirationDate").text(format_date(*use_by));
  if (best_before) json_.member("cbvmda:bestBeforeDate").text(format_date(*best_before));
  json_.end();
}

void Writer::persistent(std::string_view disposition) {
  json_.member("persistentDisposition").begin_object().member("set").begin_array().text(disposition).end().end();
}

void Writer::reading(Degrees degrees) {
  json_.member("sensorElementList").begin_array().begin_object().member("sensorReport").begin_array().begin_object();
  json_.member("type").text("Temperature").member("value").number(hundredths(degrees.hundredths));
  json_.member("uom").text(unit_of(degrees.scale)).end().end().end().end();
}

void Writer::readings(const std::vector<LoggedReading>& readings, Offset offset, std::string_view device) {
  json_.member("sensorElementList").begin_array().begin_object().member("sensorMetadata").begin_object();
  json_.member("startTime")
      .text(format_zoned(readings.front().at, offset))
      .member("endTime")
      .text(format_zoned(readings.back().at, offset));
  json_.member("deviceID").text(device).end();
  json_.member("sensorReport").begin_array();
  const bool faults = std::any_of(readings.begin(), readings.end(), [](const auto& one) { return !one.degrees; });
  bool told = false;
  for (const Scale scale : {Scale::celsius, Scale::fahrenheit}) {
    std::int64_t count = 0, sum = 0, least = 0, most = 0;
    const LoggedReading* last = nullptr;
    for (const auto& one : readings) {
      if (!one.degrees || one.degrees->scale != scale) continue;
      const auto read = one.degrees->hundredths;
      least = count == 0 ? read : std::min(least, read);
      most = count == 0 ? read : std::max(most, read);
      sum += read;
      ++count;
      last = &one;
    }
    if (last == nullptr) continue;
    json_.begin_object().member("type").text("Temperature").member("value").number(hundredths(last->degrees->hundredths));
    if (count > 1) {
      json_.member("minValue").number(hundredths(least)).member("meanValue").number(hundredths(mean_of(sum, count)));
      json_.member("maxValue").number(hundredths(most));
    }
    json_.member("uom").text(unit_of(scale)).member("time").text(format_zoned(last->at, offset));
    if (faults) json_.member("exception").text("ERROR_CONDITION");
    json_.end();
    told = true;
  }
  if (!told) json_.begin_object().member("type").text("Temperature").member("exception").text("ERROR_CONDITION").end();
  json_.end().end().end();
}

std::string Writer::text() {
  json_.end().end().end();
  return std::exchange(text_, {});
}

}  // namespace tierproof::epcis
