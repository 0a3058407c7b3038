#pragma once

#include <Poco/JSON/Parser.h>

#include <string>
#include <valijson/adapters/poco_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

namespace tierproof {

/// What the text of a JSON Schema finds wrong with a text, one complaint a line; empty when it is valid.
inline std::string schema_complaints(const std::string& text, const std::string& schema_text) {
  Poco::JSON::Parser schema_parser;
  const auto schema_json = schema_parser.parse(schema_text);
  valijson::Schema schema;
  valijson::SchemaParser{}.populateSchema(valijson::adapters::PocoJsonAdapter{schema_json}, schema);
  Poco::JSON::Parser parser;
  const auto json = parser.parse(text);
  valijson::ValidationResults results;
  valijson::Validator validator;
  if (validator.validate(schema, valijson::adapters::PocoJsonAdapter{json}, &results)) return {};
  std::string out;
  for (const auto& error : results) {
    for (const auto& step : error.context) out += step;
    out += ": " + error.description + "\n";
  }
  return out.empty() ? "not valid" : out;
}

}  // namespace tierproof
