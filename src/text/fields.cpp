#include "tierproof/text/fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <utility>

#include "tierproof/text/number.h"

namespace tierproof {
namespace {

const Json nothing;
const Json empty_object{Json::Object{}};
const Json::Array empty_list;

const char* kind_of(const Json& value) {
  if (value.is_null()) return "null";
  if (value.is_bool()) return "true or false";
  if (value.is_integer()) return "a number";
  if (value.is_text()) return "a text";
  return value.is_array() ? "a list" : "an object";
}

/// Levenshtein distance of two short keys.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i + 1;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const auto changed = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({changed, row[j] + 1, row[j + 1] + 1});
    }
  }
  return row.back();
}

std::string listed(const std::vector<std::string>& choices) {
  std::string out;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    if (i > 0) out += i + 1 == choices.size() ? " or " : ", ";
    out += choices[i];
  }
  return out;
}

constexpr const char* mass_remedy = "write a mass with its unit, \"450 g\", \"1.5 kg\" or \"200 mg\", to the whole milligram";
constexpr const char* date_remedy = "write it as year-month-day, \"2026-05-01\"";

}  // namespace

Fields::Fields(const Json& value, std::string file, std::string path, Refusals& refusals)
    : value_{value}, file_{std::move(file)}, path_{std::move(path)}, refusals_{refusals} {
  if (value_.is_object()) return;
  refusals_.push_back(
      {file_, value_.line(), path_, fmt::format("is {}, not an object", kind_of(value_)), "write { ... } with its members"});
}

const Json* Fields::take(std::string_view key) {
  asked_.emplace(key);
  if (!value_.is_object()) return nullptr;
  const auto* found = value_.find(key);
  return found && !found->is_null() ? found : nullptr;
}

bool Fields::has(std::string_view key) const {
  const auto* found = value_.is_object() ? value_.find(key) : nullptr;
  return found && !found->is_null();
}

std::string Fields::path_of(std::string_view key) const { return path_.empty() ? std::string{key} : fmt::format("{}.{}", path_, key); }
std::string Fields::path_of(std::string_view key, std::size_t index) const { return fmt::format("{}[{}]", path_of(key), index); }

void Fields::refuse(std::string_view key, std::string message, std::string remedy) {
  const auto* found = value_.is_object() ? value_.find(key) : nullptr;
  const int line = found && found->line() > 0 ? found->line() : value_.line();
  refusals_.push_back({file_, line, path_of(key), std::move(message), std::move(remedy)});
}

std::string Fields::text(std::string_view key) {
  if (!take(key)) {
    if (value_.is_object()) refuse(key, "is missing", "write it as a text");
    return {};
  }
  return maybe_text(key).value_or("");
}

std::optional<std::string> Fields::maybe_text(std::string_view key) {
  const auto* found = take(key);
  if (!found) return std::nullopt;
  if (found->is_text()) return found->text();
  refuse(key, fmt::format("is {}, not a text", kind_of(*found)), "write it in double quotes");
  return std::nullopt;
}

std::int64_t Fields::integer(std::string_view key, std::int64_t least, std::int64_t most) {
  if (!take(key)) {
    if (value_.is_object()) refuse(key, "is missing", fmt::format("write a whole number from {} to {}", least, most));
    return 0;
  }
  return maybe_integer(key, least, most).value_or(0);
}

std::optional<std::int64_t> Fields::maybe_integer(std::string_view key, std::int64_t least, std::int64_t most) {
  const auto* found = take(key);
  if (!found) return std::nullopt;
  const auto remedy = fmt::format("write a whole number from {} to {}", least, most);
  if (!found->is_integer()) {
    refuse(key, fmt::format("is {}, not a whole number", kind_of(*found)), remedy);
    return std::nullopt;
  }
  if (found->integer() >= least && found->integer() <= most) return found->integer();
  refuse(key, fmt::format("{} is out of range", found->integer()), remedy);
  return std::nullopt;
}

bool Fields::flag(std::string_view key, bool otherwise) {
  const auto* found = take(key);
  if (!found) return otherwise;
  if (found->is_bool()) return found->boolean();
  refuse(key, fmt::format("is {}, not true or false", kind_of(*found)), "write true or false, without quotes");
  return otherwise;
}

Date Fields::date(std::string_view key) {
  if (!take(key)) {
    if (value_.is_object()) refuse(key, "is missing", date_remedy);
    return {};
  }
  return maybe_date(key).value_or(Date{});
}

std::optional<Date> Fields::maybe_date(std::string_view key) {
  const auto* found = take(key);
  if (!found) return std::nullopt;
  if (!found->is_text()) {
    refuse(key, fmt::format("is {}, not a date", kind_of(*found)), date_remedy);
    return std::nullopt;
  }
  const auto date = parse_date(found->text());
  if (!date) refuse(key, fmt::format("\"{}\" is not a date", found->text()), date_remedy);
  return date;
}

Mass Fields::mass(std::string_view key) {
  if (!take(key)) {
    if (value_.is_object()) refuse(key, "is missing", mass_remedy);
    return {};
  }
  return maybe_mass(key).value_or(Mass{});
}

std::optional<Mass> Fields::maybe_mass(std::string_view key) {
  const auto* found = take(key);
  if (!found) return std::nullopt;
  if (!found->is_text()) {
    refuse(key, fmt::format("is {}, not a mass with its unit", kind_of(*found)), mass_remedy);
    return std::nullopt;
  }
  const auto mass = parse_mass(found->text());
  if (!mass) refuse(key, fmt::format("\"{}\" is not a mass", found->text()), mass_remedy);
  return mass;
}

std::string Fields::choice(std::string_view key, const std::vector<std::string>& choices) {
  const auto remedy = "write " + listed(choices);
  if (!take(key)) {
    if (value_.is_object()) refuse(key, "is missing", remedy);
    return {};
  }
  const auto text = maybe_text(key);
  if (!text) return {};
  if (std::find(choices.begin(), choices.end(), *text) != choices.end()) return *text;
  refuse(key, fmt::format("\"{}\" is not one of the choices", *text), remedy);
  return {};
}

std::vector<std::string> Fields::texts(std::string_view key) {
  std::vector<std::string> out;
  const auto& items = list(key);
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (items[i].is_text()) {
      out.push_back(items[i].text());
    } else {
      refusals_.push_back(
          {file_, items[i].line(), path_of(key, i), fmt::format("is {}, not a text", kind_of(items[i])), "write it in double quotes"});
    }
  }
  return out;
}

const Json::Array& Fields::list(std::string_view key) {
  const auto* found = take(key);
  if (!found) return empty_list;
  if (found->is_array()) return found->array();
  refuse(key, fmt::format("is {}, not a list", kind_of(*found)), "write [ ... ] around it");
  return empty_list;
}

const Json& Fields::object(std::string_view key) {
  const auto* found = take(key);
  if (found && found->is_object()) return *found;
  if (found) {
    refuse(key, fmt::format("is {}, not an object", kind_of(*found)), "write { ... } with its members");
  } else if (value_.is_object()) {
    refuse(key, "is missing", "write { ... } with its members");
  }
  return empty_object;
}

const Json& Fields::any(std::string_view key) {
  const auto* found = take(key);
  return found ? *found : nothing;
}

void Fields::done() {
  if (!value_.is_object()) return;
  for (const auto& [key, value] : value_.object()) {
    if (asked_.contains(key)) continue;
    const std::string* nearest = nullptr;
    std::size_t distance = 3;
    for (const auto& known : asked_) {
      const auto here = edit_distance(key, known);
      if (here < distance && here < std::max(key.size(), known.size())) {
        nearest = &known;
        distance = here;
      }
    }
    refuse(key, "is not a member that belongs here",
           nearest          ? fmt::format("did you mean \"{}\"?", *nearest)
           : asked_.empty() ? "take it out"
                            : fmt::format("take it out; members here: {}", listed({asked_.begin(), asked_.end()})));
  }
}

}  // namespace tierproof
