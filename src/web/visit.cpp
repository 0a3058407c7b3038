#include "visit.h"

#include <Poco/UUIDGenerator.h>
#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "forms.h"
#include "tierproof/store/record_store.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

struct Place {
  const char* id;
  const char* path;
  const char* name;
  const char* holds;
};
constexpr Place places[] = {
    {"cupboard", "/cupboard", "Cupboard", "packs and what they say"},
    {"bench", "/bench", "Bench", "batches and readings"},
    {"cold", "/cold", "Cold", "fridges and thermometers"},
    {"leaving", "/leaving", "Going out", "orders, boxes, labels"},
    {"gone", "/gone", "Gone", "handed over, questions"},
    {"drawer", "/drawer", "Drawer", "plan, records, people"},
};

/// The key of a form, if it is one that may stand in an entry.
std::string key_of(const WebRequest& request) {
  const std::string& key = request.form["key"];
  const bool plain = key.size() >= 16 && key.size() <= 64 && std::all_of(key.begin(), key.end(), [](char c) {
                       return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || c == '-';
                     });
  return plain ? key : "";
}

Html head_of(const Visit& visit, const std::string& title) {
  const auto address = [&](const char* name) {
    const auto* look = visit.site.look(name);
    return fmt::format("/look/{}?{}", name, look == nullptr ? "" : look->digest);
  };
  return el("meta", {{"charset", "utf-8"}}) + el("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}}) +
         el("title", {}, title) + el("link", {{"rel", "icon"}, {"href", address("kitchen.svg")}}) +
         el("link", {{"rel", "stylesheet"}, {"href", address("kitchen.css")}}) +
         el("script", {{"src", address("kitchen.js")}, flag("defer")});
}

Html warnings_of(const Visit& visit, bool demo) {
  Html lines;
  if (demo) lines += el("p", {{"class", "mark"}}, "DEMO: an invented kitchen");
  if (visit.site.settings().plain_network)
    lines += el("p", {{"class", "mark"}}, "NOT ENCRYPTED: whoever is on this network can read what passes, PINs included");
  return lines;
}

Html caution() {
  return el("p", {}, "What the records show, not that a cake is safe. Local law and the advice of the food authority come first.");
}

}  // namespace

std::string fresh_key() { return Poco::UUIDGenerator::defaultGenerator().createRandom().toString(); }

Visit::~Visit() { site.give_back(std::move(records_)); }

const Session& Visit::records() {
  if (records_ == nullptr) records_ = site.borrow();
  return *records_;
}

Session Visit::open_for_writing() const {
  Entrance entrance = site.entrance(who ? who->person : "", fmt::format("tablet: {}", device ? device->name : "unknown"));
  entrance.client_key = key_of(request);
  entrance.reads_only = !may_record();
  entrance.sent_late = request.form["kept"] == "1";
  return Session{std::move(entrance), site.settings().packs, open_sqlite(site.settings().kitchen_file, false)};
}

std::optional<Booked> Visit::record(const std::function<Result<Booked>(Session&)>& act) {
  return write<Booked>([&](Session& session) -> Result<Booked> {
    if (const auto before = session.booked_before()) return *before;
    return act(session);
  });
}

std::optional<Booked> Visit::record_of_sensor(const Sensor& sensor, const std::string& key,
                                              const std::function<Result<Booked>(Session&)>& act) {
  const auto open = [&] {
    Entrance entrance = site.entrance("", "sensor: " + sensor.name);
    entrance.sensor_of = sensor.probe;
    if (!key.empty()) entrance.client_key = fmt::format("{}-{}", sensor.id, key);
    return Session{std::move(entrance), site.settings().packs, open_sqlite(site.settings().kitchen_file, false)};
  };
  return write_as<Booked>(open, [&](Session& session) -> Result<Booked> {
    if (const auto before = session.booked_before()) return *before;
    return act(session);
  });
}

std::optional<Mass> Visit::mass(std::string_view name, bool needed) {
  const std::string text{trimmed(typed(name))};
  if (text.empty()) {
    if (needed) refuse(std::string{name}, "is missing", "write how many grams");
    return std::nullopt;
  }
  auto mass = parse_mass(text);
  if (!mass) mass = parse_mass(text + " g");
  if (!mass || *mass == Mass{} || *mass > Mass::milligrams(1'000'000'000'000)) {
    refuse(std::string{name}, fmt::format("\"{}\" is not a mass", text), "write it in grams, such as 450, or with its unit, 1.5 kg");
    return std::nullopt;
  }
  return mass;
}

std::optional<Date> Visit::day(std::string_view name, bool needed) {
  const std::string text{trimmed(typed(name))};
  if (text.empty()) {
    if (needed) refuse(std::string{name}, "is missing", "choose the day");
    return std::nullopt;
  }
  const auto date = parse_date(text);
  if (!date) refuse(std::string{name}, fmt::format("\"{}\" is not a day", text), "write it as 2026-05-01");
  return date;
}

std::optional<Degrees> Visit::degrees(std::string_view name, Scale scale, bool needed) {
  const std::string text{trimmed(typed(name))};
  if (text.empty()) {
    if (needed) refuse(std::string{name}, "is missing", "write what the thermometer showed");
    return std::nullopt;
  }
  const bool has_scale = text.find_first_of("CFcf") != std::string::npos;
  const auto read = parse_degrees(has_scale ? text : text + (scale == Scale::celsius ? "C" : "F"));
  if (!read || read->hundredths > 2000'00) {
    refuse(std::string{name}, fmt::format("\"{}\" is not a temperature", text), "write what the thermometer showed, such as 4.5 or -18");
    return std::nullopt;
  }
  return read;
}

std::optional<std::int64_t> Visit::count(std::string_view name, std::int64_t least, std::int64_t most, bool needed) {
  const std::string text{trimmed(typed(name))};
  if (text.empty() && !needed) return std::nullopt;
  std::int64_t number = 0;
  const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (text.empty() || error != std::errc{} || stop != text.data() + text.size() || number < least || number > most) {
    refuse(std::string{name}, text.empty() ? "is missing" : fmt::format("\"{}\" cannot be used", text),
           fmt::format("write a whole number from {} to {}", least, most));
    return std::nullopt;
  }
  return number;
}

namespace {
/// What was erased is gone for good.
bool can_be_undone(const Session& records, const std::string& note) {
  return std::none_of(records.notes().begin(), records.notes().end(),
                      [&](const Note& one) { return one.kind.starts_with("erasure/") && std::to_string(one.sequence) == note; });
}
}  // namespace

WebAnswer page(Visit& visit, const std::string& title, const char* place, const Html& main) {
  const Session& records = visit.records();
  Html tabs;
  for (const auto& one : places) {
    const bool here = std::string_view{place} == one.id;
    tabs += el("li", {},
               el("a", {{"href", one.path}, {"aria-current", "page", here}, {"class", one.id}}, el("b", {}, one.name),
                  el("small", {}, one.holds)));
  }
  const auto news = visit.site.news();
  Html troubles;
  for (const auto& words : news->troubles) troubles += el("li", {}, words);
  std::string who = "Officer: reading only";
  if (visit.who && !visit.who->person.empty()) {
    const auto person = records.state().people.find(PersonId{visit.who->person});
    who = person == records.state().people.end() ? visit.who->person : person->second.value.name.text.value_or(visit.who->person);
  }
  const std::string& booked = visit.request.query["booked"];
  const bool plain_number = !booked.empty() && booked.size() < 60 && std::all_of(booked.begin(), booked.end(), [](char c) {
    return (c >= '0' && c <= '9') || c == ',' || c == ' ';
  });
  Html body = el("a", {{"class", "skip"}, {"href", "#main"}}, "To what this page is about");
  body += el("header", {{"class", "top"}}, warnings_of(visit, records.kitchen().demo),
             el("div", {{"class", "who"}}, el("span", {{"class", "kitchen"}}, records.kitchen().name), el("span", {}, who),
                button_form(visit, "/leave", "Sign out", {})));
  body += el("nav", {{"aria-label", "Places"}, {"class", "places"}}, el("ul", {}, tabs));
  body += el("div", {{"class", "now"}, {"id", "now"}, {"role", "status"}},
             el("p", {{"class", "stale"}, {"id", "stale"}, flag("hidden")},
                "NOT UP TO DATE: this page has not heard from the kitchen's machine for two minutes. Nothing can be released from it."),
             el("p", {{"class", "kept"}, {"id", "kept"}, flag("hidden")}),
             el("p", {{"class", "fresh"}, {"id", "fresh"}, flag("hidden")}, "Something new was recorded. ",
                el("a", {{"href", ""}, {"id", "again"}}, "Show it")),
             el("ul", {{"class", "troubles"}, {"id", "troubles"}, flag("hidden", news->troubles.empty())}, troubles));
  Html inner;
  if (plain_number)
    inner += el("p", {{"class", "booked"}, {"role", "status"}}, fmt::format("Booked as note {}.", booked),
                visit.may_record() && visit.request.query["booked"].find(',') == std::string::npos
                    ? el("a", {{"href", "/drawer/note/" + booked}}, can_be_undone(records, booked) ? "Look, or undo" : "Look")
                    : Html{});
  inner += told_nowhere_else(visit) + main;
  body += el("main", {{"id", "main"}, {"tabindex", "-1"}}, inner);
  body += el("footer", {}, caution(),
             el("p", {{"class", "head"}},
                fmt::format("Records: {} notes, as of {}", records.head().size, format_moment(visit.now, records.offset_at(visit.now)))));
  WebAnswer answer;
  answer.status = visit.wrong.empty() ? 200 : 422;
  answer.body = document(head_of(visit, title + " · " + records.kitchen().name),
                         {{"class", std::string{"at-"} + place},
                          {"data-head", format_head(records.head())},
                          {"data-now", std::to_string(visit.now.time_since_epoch().count())}},
                         body);
  return answer;
}

WebAnswer bare_page(Visit& visit, const std::string& title, const Html& main) {
  WebAnswer answer;
  answer.status = visit.wrong.empty() ? 200 : 422;
  answer.body =
      document(head_of(visit, title), {{"class", "bare"}},
               el("header", {{"class", "top"}}, warnings_of(visit, false)) +
                   el("main", {{"id", "main"}, {"tabindex", "-1"}}, told_nowhere_else(visit) + main) + el("footer", {}, caution()));
  return answer;
}

WebAnswer booked_then(const Booked& booked, const std::string& to) {
  const std::string number = booked.sequences.empty() ? "" : std::to_string(booked.sequences.back());
  const auto mark = to.find('#');
  const std::string path = to.substr(0, mark);
  return redirect(path + (path.find('?') == std::string::npos ? "?" : "&") + "booked=" + number +
                  (mark == std::string::npos ? "" : to.substr(mark)));
}

WebAnswer not_there(Visit& visit, const std::string& what) {
  WebAnswer answer = page(visit, "Not there", "", el("h1", {}, "Not there") + el("p", {}, what));
  answer.status = 404;
  return answer;
}

}  // namespace tierproof::web
