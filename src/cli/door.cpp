#include "door.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cstdio>

#include "tierproof/text/number.h"

namespace tierproof::cli {

const DataRoot& Door::data() {
  if (!data_) data_ = find_data();
  return *data_;
}

Entrance Door::entrance() const {
  Entrance entrance;
  entrance.kitchen_file = kitchen_file;
  entrance.person = by;
  entrance.client_key = once;
  entrance.device = "command line";
  if (as_of != 0) entrance.as_of = static_cast<std::uint64_t>(as_of);
  if (!now.empty()) {
    const auto zoned = parse_zoned(now);
    if (!zoned) bad_option("--now", now, "write it with its offset, such as 2026-05-01T08:10+01:00");
    entrance.now = zoned->at;
  }
  return entrance;
}

Session Door::open(bool read_only) {
  Entrance by_whom = entrance();
  // First the file: to see that it is not there takes less time than to read the rules.
  auto store = open_sqlite(kitchen_file, read_only);
  return Session{std::move(by_whom), rule_packs(), std::move(store)};
}

int Door::record(const std::function<Result<Booked>(Session&)>& act, const std::function<void(const Session&, const Booked&)>& after) {
  if (!once.empty()) {
    Session session = open(false);
    if (const auto before = session.booked_before()) return print_booked(session, *before);
  }
  return write<Booked>(act, [&](Session& session, const Booked& booked) {
    const int exit = print_booked(session, booked);
    if (!json) after(session, booked);
    return exit;
  });
}

int Door::read(const std::function<int(Session&)>& act) {
  Session session = open(true);
  return act(session);
}

int Door::print_booked(const Session& session, const Booked& booked, Json::Object more) const {
  if (json) {
    Json::Array notes;
    Json::Array subjects;
    for (const auto sequence : booked.sequences) notes.emplace_back(static_cast<std::int64_t>(sequence));
    for (const auto& subject : booked.subjects) subjects.emplace_back(subject);
    more.merge(Json::Object{{"schema", Json{"tierproof/booked/1"}},
                            {"notes", Json{std::move(notes)}},
                            {"subjects", Json{std::move(subjects)}},
                            {"already", Json{booked.already}},
                            {"head", Json{format_head(booked.head)}}});
    print(Json{std::move(more)}, session.kitchen().demo);
    return exit_status::done;
  }
  for (std::size_t i = 0; i < booked.sequences.size(); ++i) {
    say(fmt::format("{}{} {} note {}", session.kitchen().demo ? "DEMO  " : "", booked.subjects[i],
                    booked.already ? "was recorded before, as" : "recorded as", booked.sequences[i]));
  }
  return exit_status::done;
}

int Door::refuse(const Refusals& refusals) const {
  bool from_file = false;
  Json::Array list;
  for (const auto& refusal : refusals) {
    from_file = from_file || !refusal.file.empty();
    std::fputs((describe(refusal) + "\n").c_str(), stderr);
    list.push_back(Json{Json::Object{{"file", Json{refusal.file}},
                                     {"line", Json{refusal.line}},
                                     {"field", Json{refusal.field}},
                                     {"message", Json{refusal.message}},
                                     {"remedy", Json{refusal.remedy}}}});
  }
  if (json)
    std::fputs(
        (write_canonical(Json{Json::Object{{"schema", Json{"tierproof/refused/1"}}, {"refused", Json{std::move(list)}}}}) + "\n").c_str(),
        stdout);
  return from_file ? exit_status::bad_data : exit_status::usage;
}

void Door::print(Json value, bool demo) const {
  if (demo) value["demo"] = Json{true};
  std::fputs(write_pretty(value).c_str(), stdout);
}

void Door::say(const std::string& line) { std::fputs((line + "\n").c_str(), stdout); }

void Door::mark_demo(bool demo) {
  if (demo) std::fputs("DEMO\n", stderr);
}

void bad_option(const std::string& option, const std::string& text, const std::string& remedy) {
  throw CLI::ValidationError(option, fmt::format("\"{}\" cannot be used; {}", text, remedy));
}

Mass mass_of(const std::string& option, const std::string& text) {
  const Mass mass = mass_or_none_of(option, text);
  if (mass == Mass{}) bad_option(option, text, "write a mass above nothing, such as 450g");
  return mass;
}

Mass mass_or_none_of(const std::string& option, const std::string& text) {
  constexpr Mass most = Mass::milligrams(1'000'000'000'000);  // of one note
  const auto mass = parse_mass(text);
  if (!mass) bad_option(option, text, "write a mass with its unit, such as 450g or 1.5kg");
  if (*mass > most) bad_option(option, text, fmt::format("write a mass up to {}", format_mass(most)));
  return *mass;
}

Degrees degrees_of(const std::string& option, const std::string& text) {
  const auto read = parse_degrees(text);
  constexpr std::int64_t most = 2000'00;  // of one note, in hundredths
  if (!read) bad_option(option, text, "write a temperature with its scale, such as 71.2C or 160F");
  if (read->hundredths > most) bad_option(option, text, "no kitchen gets above 2000 degrees: write what the thermometer showed");
  return *read;
}

Date date_of(const std::string& option, const std::string& text) {
  const auto date = parse_date(text);
  if (!date) bad_option(option, text, "write a day as 2026-05-01");
  return *date;
}

std::pair<std::string, std::string> pair_of(const std::string& option, const std::string& text, const std::string& example) {
  const auto equals = text.find('=');
  if (equals == std::string::npos || equals == 0 || equals + 1 == text.size()) bad_option(option, text, "write it as " + example);
  return {text.substr(0, equals), text.substr(equals + 1)};
}

std::optional<Mass> maybe_mass(const std::string& option, const std::string& text) {
  return text.empty() ? std::nullopt : std::optional{mass_of(option, text)};
}
std::optional<Degrees> maybe_degrees(const std::string& option, const std::string& text) {
  return text.empty() ? std::nullopt : std::optional{degrees_of(option, text)};
}
std::optional<std::int64_t> maybe_hectopascals(const std::string& option, const std::string& text) {
  if (text.empty()) return std::nullopt;
  const auto hectopascals = parse_decimal(text);
  if (!hectopascals || *hectopascals < 500 || *hectopascals > 1100 || denominator(Share{*hectopascals * 100}) != 1)
    bad_option(option, text, "write the station pressure in hPa, from 500 to 1100, such as 1004.3");
  return static_cast<std::int64_t>(numerator(Share{*hectopascals * 100}));
}
std::optional<Date> maybe_date(const std::string& option, const std::string& text) {
  return text.empty() ? std::nullopt : std::optional{date_of(option, text)};
}

GivenDocument document_of(const std::string& path) { return {path, load_file(path)}; }

CLI::Validator whole_number(std::int64_t least, std::int64_t most) {
  const auto wrong = [least, most](std::string& text) -> std::string {
    std::int64_t number = 0;
    const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error == std::errc{} && stop == text.data() + text.size() && number >= least && number <= most) return "";
    return fmt::format("\"{}\" cannot be used; write a whole number from {} to {}", text, least, most);
  };
  return CLI::Validator{wrong, "", "whole number"};
}

CLI::Validator note_number() { return whole_number(1, 9'007'199'254'740'991); }

std::string usage_message(const CLI::App& app, const CLI::Error& error) {
  const auto chosen = app.get_subcommands();
  std::string what = error.what();
  if (error.get_name() == "RequiredError" && chosen.empty()) {
    const auto words = app.remaining();
    const auto word = std::find_if(words.begin(), words.end(), [](const std::string& text) { return !text.starts_with('-'); });
    what = word == words.end() ? "no command is named" : fmt::format("there is no command called \"{}\"", *word);
    return what + "; `tierproof --help` lists them\n";
  }
  constexpr std::string_view required = " is required";
  if (what.ends_with(required)) what.replace(what.size() - required.size(), required.size(), ": is missing");
  const std::string command = chosen.empty() ? "" : chosen.front()->get_name() + " ";
  return fmt::format("{}\n`tierproof {}--help` gives the options and an example.\n", what, command);
}

Instant now_by_the_clock() { return std::chrono::time_point_cast<Span>(std::chrono::system_clock::now()); }
Date today_by_the_clock() { return day_of(now_by_the_clock(), Offset{}); }

bool of_a_demo(const RecordStore& store) {
  try {
    const auto first = store.entries(1, 1);
    const Json* demo = first.empty() || !first.front().body.is_object() ? nullptr : first.front().body.find("demo");
    return demo != nullptr && *demo == Json{true};
  } catch (const Fault&) {
    return false;
  }
}

}  // namespace tierproof::cli
