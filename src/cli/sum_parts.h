#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <functional>
#include <variant>

#include "door.h"
#include "tierproof/app/logger_files.h"
#include "tierproof/imports/plain_log.h"
#include "tierproof/sums/probe.h"
#include "tierproof/text/json_writer.h"
#include "tierproof/text/number.h"

// What every form of `tierproof sum` shares: its options are read, its result is printed, and what stands beside it.

namespace tierproof::cli {

using Typed = std::optional<std::string>;

/// What an option may hold.
struct Bounds {
  double least;
  double most;
  bool least_too = true;  ///< `least` itself may be given
};
inline constexpr Bounds degrees{-273.15, 2000};
inline constexpr Bounds above_nothing{0, 1e9, false};
inline constexpr Bounds error_bounds{0, 100};

/// Reads the options of a sum; what cannot be used is told all together.
class Asked {
 public:
  double number(const char* option, const Typed& typed, Bounds bounds, const char* example) {
    if (!typed) {
      refuse(option, "is missing", fmt::format("write it, such as {} {}", option, example));
      return 0;
    }
    const auto value = parse_finite(trimmed(*typed));
    const bool fits = value && *value <= bounds.most && (bounds.least_too ? *value >= bounds.least : *value > bounds.least);
    if (!fits) {
      refuse(
          option, fmt::format("\"{}\" cannot be used", *typed),
          fmt::format("write a number {} {} to {}, such as {}", bounds.least_too ? "from" : "above", bounds.least, bounds.most, example));
      return 0;
    }
    inputs_.emplace_back(option + 2, *value);
    return *value;
  }
  double number_or(double otherwise, const char* option, const Typed& typed, Bounds bounds, const char* example) {
    if (typed) return number(option, typed, bounds, example);
    inputs_.emplace_back(option + 2, otherwise);
    return otherwise;
  }
  std::optional<double> maybe(const char* option, const Typed& typed, Bounds bounds, const char* example) {
    return typed ? std::optional{number(option, typed, bounds, example)} : std::nullopt;
  }
  void refuse(const char* option, std::string message, std::string remedy) {
    refusals_.push_back({"", 0, option, std::move(message), std::move(remedy)});
  }
  /// An input that no option gave.
  void tell(const char* name, double value) { inputs_.emplace_back(name, value); }
  bool refused() const { return !refusals_.empty(); }
  const Refusals& refusals() const { return refusals_; }
  const std::vector<std::pair<std::string, double>>& inputs() const { return inputs_; }

  /// Reads the log, and refuses it along with the options; nothing if anything is refused.
  std::optional<PlainLogSeen> log(const Typed& path, const std::function<void(const Sample&)>& take) {
    if (!path) {
      refuse("--readings", "is missing", "name a CSV file with the header time,temp_c");
      return std::nullopt;
    }
    file_ = to_nfc(*path).value_or("the file of readings");
    try {
      const auto seen = read_plain_log(file_in_pieces(*path).open(), file_, refused() ? [](const Sample&) {} : take);
      if (seen && !refused()) return *seen;
      if (!seen) refusals_.insert(refusals_.end(), seen.error().begin(), seen.error().end());
    } catch (const Fault& fault) {
      if (!refused() || fault.exit_status() != exit_status::no_input) throw;
      refuse("--readings", fmt::format("\"{}\" cannot be read", file_), "check the name and that you may read it");
    }
    return std::nullopt;
  }
  const std::string& file() const { return file_; }

 private:
  Refusals refusals_;
  std::vector<std::pair<std::string, double>> inputs_;
  std::string file_;
};

/// What stands beside the result of a sum.
struct Beside {
  const char* schema;
  std::string formula;
  std::string source;
  std::string caution;
};

/// A time of the log as the log writes it: minutes, or an instant at the offset of its first row.
inline std::variant<double, std::string> as_logged(const PlainLogSeen& seen, double microseconds) {
  if (!seen.told) return microseconds / 60e6;
  return format_zoned(Instant{Span{std::llround(microseconds / 1000)}}, *seen.told);
}
inline std::string in_words(const std::variant<double, std::string>& time) {
  return std::holds_alternative<double>(time) ? fmt::format("minute {:.4g}", std::get<double>(time)) : std::get<std::string>(time);
}

class SumPrinter {
 public:
  SumPrinter(const Asked& asked, const PlainLogSeen* seen, const Beside& beside) : asked_{asked}, seen_{seen}, beside_{beside} {
    json_.begin_object().member("schema").text(beside.schema);
  }
  JsonWriter& json() { return json_; }
  void time(const char* name, double microseconds) {
    json_.member(name);
    const auto told = as_logged(*seen_, microseconds);
    if (std::holds_alternative<double>(told)) {
      json_.number(std::get<double>(told));
    } else {
      json_.text(std::get<std::string>(told));
    }
  }
  void number(const char* name, std::optional<double> value) {
    json_.member(name);
    if (value) {
      json_.number(*value);
    } else {
      json_.null();
    }
  }
  void text(const char* name, std::string_view value) { json_.member(name).text(value); }

  /// Ends the object with what stands beside the result.
  void end_json() {
    json_.member("inputs").begin_object();
    if (seen_ != nullptr) {
      text("readings", asked_.file());
      number("rows", static_cast<double>(seen_->rows));
      number("faults", static_cast<double>(seen_->faults));
      time("first", static_cast<double>(seen_->first.count()));
      time("last", static_cast<double>(seen_->last.count()));
    }
    for (const auto& [name, value] : asked_.inputs()) {
      std::string key = name;
      std::replace(key.begin(), key.end(), '-', '_');
      number(key.c_str(), value);
    }
    json_.end();
    text("formula", beside_.formula);
    text("source", beside_.source);
    text("caution", beside_.caution);
    json_.end();
  }
  void say_beside() const {
    std::string inputs;
    if (seen_ != nullptr) {
      inputs = fmt::format("{}, {} row{}, {} to {}", asked_.file(), seen_->rows, seen_->rows == 1 ? "" : "s",
                           in_words(as_logged(*seen_, static_cast<double>(seen_->first.count()))),
                           in_words(as_logged(*seen_, static_cast<double>(seen_->last.count()))));
    }
    for (const auto& [name, value] : asked_.inputs()) inputs += fmt::format("{}{} {}", inputs.empty() ? "" : "; ", name, value);
    Door::say("  inputs    " + inputs);
    Door::say("  formula   " + beside_.formula);
    Door::say("  source    " + beside_.source);
    Door::say("  caution   " + beside_.caution);
  }

 private:
  JsonWriter json_{[](std::string_view text) { std::fwrite(text.data(), 1, text.size(), stdout); }};
  const Asked& asked_;
  const PlainLogSeen* seen_;
  const Beside& beside_;
};

inline constexpr const char* of_altitude = "metres above sea level, in the standard atmosphere";
inline constexpr const char* of_pressure = "pressure on the spot instead, in kPa";

/// The pressure in kPa by one of the two options; what cannot be used is refused.
inline double pressure_asked(Asked& asked, const Typed& altitude, const Typed& pressure) {
  if (altitude.has_value() == pressure.has_value()) {
    asked.refuse("--altitude-m", altitude ? "is given along with --pressure-kpa" : "and --pressure-kpa are both missing",
                 "give one of them, such as --pressure-kpa 98.5");
  }
  const auto metres = asked.maybe("--altitude-m", altitude, {-500, 5000}, "1600");
  const auto given = asked.maybe("--pressure-kpa", pressure, {50, 150}, "98.5");
  if (asked.refused()) return 0;
  return metres ? isa_pressure(*metres) : *given;
}

/// A subcommand of `sum` whose options are of one struct.
template <class Options>
CLI::App& sum_named(CLI::App& app, Door& door, const char* name, const char* help, const char* example, std::shared_ptr<Options> options,
                    int (*act)(Door&, const Options&)) {
  CLI::App* sub = app.add_subcommand(name, help);
  sub->fallthrough();
  sub->footer(fmt::format("Example:\n  tierproof sum {} {}", name, example));
  sub->callback([options, act, &door] { door.action = [options, act](Door& d) { return act(d, *options); }; });
  return *sub;
}

/// The sums of recipes: syrup, meringue, water-activity, tin.
void recipe_sum_options(CLI::App& app, Door& door);

}  // namespace tierproof::cli
