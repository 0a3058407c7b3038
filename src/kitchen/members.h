#pragma once

#include <algorithm>
#include <cstdint>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "tierproof/kitchen/bodies.h"
#include "tierproof/text/fields.h"

// How the sources of this room write and read bodies. A source describes its kinds and ends with TIERPROOF_BODY for each of them.

namespace tierproof {

/// The largest whole number that a body may hold.
constexpr std::int64_t largest_in_body = 9'007'199'254'740'991;

// Each kind is described once, by `describe_members(visitor, thing)`; a BodyWriter and a BodyReader both walk that description.

class BodyWriter {
 public:
  explicit BodyWriter(Json::Object& into) : into_{into} {}

  void text(const char* key, const std::string& value) { put(key, value); }
  void needed(const char* key, const std::string& value) { put(key, value); }
  void one_of(const char* key, const std::string& value, const std::vector<std::string>&) { put(key, value); }
  void flag(const char* key, bool value) { put(key, value); }
  void integer(const char* key, std::int64_t value, std::int64_t, std::int64_t) { put(key, value); }
  void integer(const char* key, const std::optional<std::int64_t>& value, std::int64_t, std::int64_t) {
    if (value) put(key, *value);
  }
  void sequence(const char* key, std::uint64_t value) { put(key, static_cast<std::int64_t>(value)); }
  void mass(const char* key, Mass value) { put(key, value.to_milligrams()); }
  void mass(const char* key, const std::optional<Mass>& value) {
    if (value) mass(key, *value);
  }
  void maybe_one_of(const char* key, const std::string& value, const std::vector<std::string>&) { put(key, value); }
  void some_texts(const char* key, const std::vector<std::string>& values) { texts(key, values); }
  void moment(const char* key, Instant value) { put(key, static_cast<std::int64_t>(value.time_since_epoch().count())); }
  void moment(const char* key, const std::optional<Instant>& value) {
    if (value) moment(key, *value);
  }
  void date(const char* key, Date value) { put(key, format_date(value)); }
  void date(const char* key, const std::optional<Date>& value) {
    if (value) put(key, format_date(*value));
  }
  void scale(const char* key, Scale value) { put(key, value == Scale::celsius ? "C" : "F"); }
  void degrees(const char* key, const Degrees& value) {
    put(key, Json{Json::Object{{"hundredths", Json{value.hundredths}}, {"scale", Json{value.scale == Scale::celsius ? "C" : "F"}}}});
  }
  void degrees(const char* key, const std::optional<Degrees>& value) {
    if (value) degrees(key, *value);
  }
  template <class Kind>
  void id(const char* key, const Id<Kind>& value) {
    put(key, value.text());
  }
  template <class Kind>
  void maybe_id(const char* key, const Id<Kind>& value) {
    put(key, value.text());
  }
  template <class Kind>
  void ids(const char* key, const std::vector<Id<Kind>>& values) {
    Json::Array items;
    for (const auto& value : values) items.emplace_back(value.text());
    put(key, Json{std::move(items)});
  }
  void texts(const char* key, const std::vector<std::string>& values) {
    Json::Array items;
    for (const auto& value : values) items.emplace_back(value);
    put(key, Json{std::move(items)});
  }
  void words(const char* key, const Words& value) {
    if (value.given()) put(key, Json{Json::Object{{"sealed", Json{value.ref}}, {"hmac", Json{value.hmac}}}});
  }
  template <class Thing>
  void each(const char* key, const std::vector<Thing>& things) {
    Json::Array items;
    for (const auto& thing : things) items.push_back(body_of(thing));
    put(key, Json{std::move(items)});
  }
  template <class Thing>
  void some(const char* key, const std::vector<Thing>& things) {
    each(key, things);
  }
  template <class Thing>
  void one(const char* key, const Thing& thing) {
    put(key, body_of(thing));
  }
  template <class Thing>
  void one(const char* key, const std::optional<Thing>& thing) {
    if (thing) put(key, body_of(*thing));
  }

 private:
  /// Empty texts and lists are left out, so that an optional member costs nothing.
  void put(const char* key, Json value) {
    if (value.is_text() && value.text().empty()) return;
    if (value.is_array() && value.array().empty()) return;
    into_.emplace(key, std::move(value));
  }
  Json::Object& into_;
};

class BodyReader {
 public:
  BodyReader(const Json& body, const std::string& file, const std::string& path, const Unseal& unseal, Refusals& refusals)
      : fields_{body, file, path, refusals}, unseal_{unseal}, refusals_{refusals} {}

  void text(const char* key, std::string& value) { value = fields_.maybe_text(key).value_or(""); }
  void needed(const char* key, std::string& value) {
    value = fields_.text(key);
    if (fields_.has(key) && value.empty()) fields_.refuse(key, "is empty", "write it");
  }
  void one_of(const char* key, std::string& value, const std::vector<std::string>& choices) { value = fields_.choice(key, choices); }
  void flag(const char* key, bool& value) {
    value = fields_.flag(key, false);
    if (!fields_.has(key)) fields_.refuse(key, "is missing", "write true or false");
  }
  void integer(const char* key, std::int64_t& value, std::int64_t least, std::int64_t most) { value = fields_.integer(key, least, most); }
  void integer(const char* key, std::optional<std::int64_t>& value, std::int64_t least, std::int64_t most) {
    value = fields_.maybe_integer(key, least, most);
  }
  void sequence(const char* key, std::uint64_t& value) { value = static_cast<std::uint64_t>(fields_.integer(key, 0, largest_in_body)); }
  void mass(const char* key, Mass& value) { value = Mass::milligrams(fields_.integer(key, 1, 1'000'000'000'000)); }
  void mass(const char* key, std::optional<Mass>& value) {
    if (!fields_.has(key)) {
      fields_.any(key);
      return;
    }
    mass(key, value.emplace());
  }
  void maybe_one_of(const char* key, std::string& value, const std::vector<std::string>& choices) {
    if (fields_.has(key)) one_of(key, value, choices);
  }
  void some_texts(const char* key, std::vector<std::string>& values) {
    texts(key, values);
    if (values.empty()) fields_.refuse(key, "is empty or missing", "list at least one");
  }
  void moment(const char* key, Instant& value) {
    value = Instant{std::chrono::milliseconds{fields_.integer(key, -largest_in_body, largest_in_body)}};
  }
  void moment(const char* key, std::optional<Instant>& value) {
    if (const auto read = fields_.maybe_integer(key, -largest_in_body, largest_in_body)) value = Instant{std::chrono::milliseconds{*read}};
  }
  void date(const char* key, Date& value) { value = fields_.date(key); }
  void date(const char* key, std::optional<Date>& value) { value = fields_.maybe_date(key); }
  void scale(const char* key, Scale& value) { value = fields_.choice(key, {"C", "F"}) == "F" ? Scale::fahrenheit : Scale::celsius; }
  void degrees(const char* key, Degrees& value) {
    Fields inner{fields_.object(key), fields_.file(), fields_.path_of(key), refusals_};
    value.hundredths = inner.integer("hundredths", -50'000, 200'000);
    value.scale = inner.choice("scale", {"C", "F"}) == "F" ? Scale::fahrenheit : Scale::celsius;
    inner.done();
  }
  void degrees(const char* key, std::optional<Degrees>& value) {
    if (!fields_.has(key)) {
      fields_.any(key);
      return;
    }
    value.emplace();
    degrees(key, *value);
  }
  template <class Kind>
  void id(const char* key, Id<Kind>& value) {
    std::string text;
    needed(key, text);
    value = Id<Kind>{std::move(text)};
  }
  template <class Kind>
  void maybe_id(const char* key, Id<Kind>& value) {
    value = Id<Kind>{fields_.maybe_text(key).value_or("")};
  }
  template <class Kind>
  void ids(const char* key, std::vector<Id<Kind>>& values) {
    for (auto& text : fields_.texts(key)) values.emplace_back(std::move(text));
  }
  void texts(const char* key, std::vector<std::string>& values) { values = fields_.texts(key); }
  void words(const char* key, Words& value) {
    if (!fields_.has(key)) {
      fields_.any(key);
      return;
    }
    Fields inner{fields_.object(key), fields_.file(), fields_.path_of(key), refusals_};
    value.ref = inner.text("sealed");
    value.hmac = inner.text("hmac");
    inner.done();
    if (unseal_) value.text = unseal_(value.ref);
  }
  template <class Thing>
  void each(const char* key, std::vector<Thing>& things);
  template <class Thing>
  void some(const char* key, std::vector<Thing>& things) {
    each(key, things);
    if (things.empty()) fields_.refuse(key, "is empty or missing", "list at least one");
  }
  template <class Thing>
  void one(const char* key, Thing& thing);
  template <class Thing>
  void one(const char* key, std::optional<Thing>& thing) {
    if (!fields_.has(key)) {
      fields_.any(key);
      return;
    }
    thing.emplace();
    one(key, *thing);
  }
  void done() { fields_.done(); }

 private:
  Fields fields_;
  const Unseal& unseal_;
  Refusals& refusals_;
};

template <class T, class Thing>
concept Describes = std::is_same_v<std::remove_const_t<T>, Thing>;

template <class Thing>
void BodyReader::each(const char* key, std::vector<Thing>& things) {
  const Json::Array& items = fields_.list(key);
  for (std::size_t i = 0; i < items.size(); ++i) {
    BodyReader inner{items[i], fields_.file(), fields_.path_of(key, i), unseal_, refusals_};
    describe_members(inner, things.emplace_back());
    inner.done();
  }
}

template <class Thing>
void BodyReader::one(const char* key, Thing& thing) {
  BodyReader inner{fields_.object(key), fields_.file(), fields_.path_of(key), unseal_, refusals_};
  describe_members(inner, thing);
  inner.done();
}

template <class Thing>
Json body_of(const Thing& thing) {
  Json::Object members;
  BodyWriter writer{members};
  describe_members(writer, thing);
  return Json{std::move(members)};
}

template <class Thing>
Result<Thing> read_body(const Json& body, const std::string& where, const Unseal& unseal) {
  Refusals refusals;
  Thing thing;
  BodyReader reader{body, where, "", unseal, refusals};
  describe_members(reader, thing);
  reader.done();
  if (!refusals.empty()) return refusals;
  return thing;
}

/// Makes the two functions of `bodies.h` for `Thing`, in the source that describes its members.
#define TIERPROOF_BODY(Thing)                 \
  template Json body_of<Thing>(const Thing&); \
  template Result<Thing> read_body<Thing>(const Json&, const std::string&, const Unseal&)

}  // namespace tierproof
