#include "api_description.h"

#include <map>

#include "deeds.h"

namespace tierproof::web {
namespace {

constexpr std::string_view base = "/api/v1";

Json text_schema() { return Json{Json::Object{{"type", Json{"string"}}}}; }

Json answer(const char* words) {
  return Json{Json::Object{
      {"description", Json{words}},
      {"content", Json{Json::Object{{"application/json", Json{Json::Object{{"schema", Json{Json::Object{{"type", Json{"object"}}}}}}}}}}}}};
}

/// `/cakes/{name}`: a part `*` of a route is one name.
std::string templated(std::string path, Json::Array& parameters) {
  const auto star = path.find('*');
  if (star == std::string::npos) return path;
  path.replace(star, 1, "{name}");
  parameters.push_back(
      Json{Json::Object{{"name", Json{"name"}}, {"in", Json{"path"}}, {"required", Json{true}}, {"schema", text_schema()}}});
  return path;
}

std::string who_may(For who) {
  switch (who) {
    case For::reader:
      return "Anybody who is signed in, an officer too.";
    case For::recorder:
      return "Whoever works in the kitchen.";
    case For::owner:
      return "An owner.";
    case For::sensor:
      return "A sensor, by its token.";
    case For::anyone:
    case For::device:
      break;
  }
  return "";
}

Json answers_of(bool books) {
  Json::Object answers{{"200", answer(books ? "It is booked, or was before under the same key." : "What the records say.")},
                       {"401", answer("Nobody is signed in, or the token is none.")},
                       {"403", answer("Not with this sign-in.")}};
  if (books) answers.emplace("422", answer("It cannot be used, and nothing was booked: every field that is wrong, with what to write."));
  return Json{std::move(answers)};
}

Json security_of(For who) {
  return who == For::sensor ? Json{Json::Array{Json{Json::Object{{"sensor", Json{Json::Array{}}}}}}}
                            : Json{Json::Array{Json{Json::Object{{"signed_in", Json{Json::Array{}}}}}}};
}

/// The fields of a deed as a JSON object. A field `part-*` stands for every name that begins so.
Json body_of(const Deed& deed) {
  Json::Object properties, patterns;
  Json::Array required;
  for (const auto& field : deed.fields) {
    const std::string name = field.name;
    Json schema = field.several ? Json{Json::Object{{"type", Json{"array"}}, {"items", text_schema()}}} : text_schema();
    schema["description"] = Json{field.words};
    if (name.ends_with('*')) {
      patterns.emplace("^" + name.substr(0, name.size() - 1), std::move(schema));
    } else {
      properties.emplace(name, std::move(schema));
      if (field.needed) required.emplace_back(name);
    }
  }
  for (const auto& [name, words] : {std::pair{"key", "of your own, 16 to 64 of a-z, 0-9 and -: the same key books once"},
                                    std::pair{"pin", "of whoever is signed in, where a form asks for it"}}) {
    Json schema = text_schema();
    schema["description"] = Json{words};
    properties.emplace(name, std::move(schema));
  }
  if (deed.takes_file) {
    Json schema = text_schema();
    schema["contentMediaType"] = Json{"application/octet-stream"};
    schema["description"] = Json{"JPEG, PNG, WebP or PDF by its content, one file of up to 10 MB"};
    properties.emplace("file", std::move(schema));
    required.emplace_back("file");
  }
  Json::Object schema{{"type", Json{"object"}}, {"properties", Json{std::move(properties)}}, {"additionalProperties", Json{false}}};
  if (!patterns.empty()) schema.emplace("patternProperties", Json{std::move(patterns)});
  if (!required.empty()) schema.emplace("required", Json{std::move(required)});
  return Json{Json::Object{{"required", Json{true}},
                           {"content", Json{Json::Object{{deed.takes_file ? "multipart/form-data" : "application/json",
                                                          Json{Json::Object{{"schema", Json{std::move(schema)}}}}}}}}}};
}

const Deed* deed_of(const std::string& path) {
  for (const auto& deed : deeds()) {
    if (deed.path == path) return &deed;
  }
  return nullptr;
}

}  // namespace

Json api_description() {
  std::map<std::string, Json::Object> paths;
  for (const auto& route : routes()) {
    if (!route.path.starts_with(base)) continue;
    Json::Array parameters;
    const std::string path = templated(route.path.substr(base.size()), parameters);
    const Deed* deed = deed_of(route.path.substr(base.size()));
    const bool books = std::string_view{route.method} == "POST";
    Json::Object operation{
        {"responses", answers_of(books)}, {"security", security_of(route.who)}, {"description", Json{who_may(route.who)}}};
    if (books && deed != nullptr) {
      operation.emplace("summary", Json{deed->what});
      operation.emplace("requestBody", body_of(*deed));
      if (deed->takes_file) {
        auto& answers = operation.at("responses");
        answers["400"] = answer("The form did not come whole, or with two files.");
        answers["413"] = answer("It is larger than any form may be.");
        answers["503"] = answer("Others are sending files at this moment: send it again.");
      }
      parameters.push_back(
          Json{Json::Object{{"name", Json{"X-Form-Token"}}, {"in", Json{"header"}}, {"required", Json{true}}, {"schema", text_schema()}}});
    }
    if (!parameters.empty()) operation.emplace("parameters", Json{std::move(parameters)});
    paths[path].emplace(books ? "post" : "get", Json{std::move(operation)});
  }
  Json::Object all;
  for (auto& [path, operations] : paths) all.emplace(path, Json{std::move(operations)});
  const Json signed_in{Json::Object{
      {"type", Json{"apiKey"}},
      {"in", Json{"cookie"}},
      {"name", Json{"here"}},
      {"description", Json{"The cookies of a device that was let in and of a sign-in on it; over TLS their names begin with __Host-."}}}};
  const Json sensor{Json::Object{{"type", Json{"http"}}, {"scheme", Json{"bearer"}}}};
  return Json{Json::Object{
      {"openapi", Json{"3.1.0"}},
      {"info", Json{Json::Object{
                   {"title", Json{"tierproof: the kitchen's pages, for scripts"}},
                   {"version", Json{"1"}},
                   {"description",
                    Json{"What the records show, not that a cake is safe. Local law and the advice of the food authority come first."}}}}},
      {"servers", Json{Json::Array{Json{Json::Object{{"url", Json{"/api/v1"}}}}}}},
      {"paths", Json{std::move(all)}},
      {"components", Json{Json::Object{{"securitySchemes", Json{Json::Object{{"signed_in", signed_in}, {"sensor", sensor}}}}}}}}};
}

}  // namespace tierproof::web
