// The cold: what is where, out and back with a clock, and the thermometers.
#include <fmt/format.h>

#include "deeds.h"
#include "parts.h"
#include "readings.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/thermometers.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

Html kept_line(Visit& visit, const KeptNow& kept, const std::string& here) {
  const bool cake = kept.id.starts_with("cake-");
  Html inside = el("a", {{"href", (cake ? "/leaving/cake/" : "/bench/batch/") + kept.id}}, fmt::format("{} ({})", kept.name, kept.id)) +
                el("small", {}, "since " + moment_in_words(visit.records(), kept.since));
  if (visit.may_record())
    inside +=
        link_button(fmt::format("/cold/move/{}?from={}", url_part(kept.id), url_part(here)), here.empty() ? "Put it away" : "Move it");
  return el("li", {}, inside);
}

Html place_card(Visit& visit, const PlaceNow& place) {
  Html inside = el("h3", {}, el("a", {{"href", "/cold/place/" + place.id.text()}}, place.name));
  if (place.limit || place.last) {
    inside += el("p", {{"class", "figure"}}, place.last ? degrees_in_words(place.last->read) : "no temperature");
    inside += standing_mark(place.standing);
    if (place.last) inside += el("p", {}, fmt::format("{}, {}", place.last->thermometer, moment_in_words(visit.records(), place.last->at)));
    if (place.limit)
      inside += el("p", {{"class", "source"}}, fmt::format("limit {} {}", degrees_in_words(*place.limit), place.limit_source));
  }
  Html kept;
  for (const auto& one : place.kept) kept += kept_line(visit, one, place.id.text());
  inside += kept.empty() ? el("p", {{"class", "hint"}}, "Nothing is here by the records.") : el("ul", {{"class", "kept-list"}}, kept);
  if (visit.may_record() && place.kind != "room" && place.kind != "out")
    inside += el("p", {}, link_button("/cold/read/" + place.id.text(), "Write its temperature"));
  return el("li", {{"class", "card"}}, inside);
}

WebAnswer cold_page(Visit& visit) {
  const Session& records = visit.records();
  Html main = el("h1", {}, "Cold");
  if (records.state().places.empty()) {
    main += nothing_yet("No fridge or shelf is on record yet.", visit.may_record() ? "/cold/new" : "", "A new place");
    return page(visit, "Cold", "cold", main);
  }
  Html now;
  const auto round = look_round(records, visit.at());
  if (round && !round->out.empty()) {
    Html lines;
    for (const auto& out : round->out) {
      Html allowed;
      for (const auto& words : out.allowances) allowed += el("li", {}, words);
      lines += el("li", {{"class", "card"}}, el("h3", {}, fmt::format("{} ({})", out.name, out.id)),
                  el("p", {{"class", "figure"}}, "out for " + format_span(out.out)),
                  el("p", {}, fmt::format("{}, since {}", out.where, moment_in_words(records, out.since))),
                  el("ul", {{"class", "source"}}, allowed),
                  visit.may_record() ? el("p", {}, link_button("/cold/move/" + out.id, "Put it back", "main")) : Html{});
    }
    now += el("h2", {}, "Out of the cold now") + el("ul", {{"class", "cards"}}, lines);
  }
  if (const auto places = places_now(records, visit.at())) {
    Html cards;
    for (const auto& place : *places) cards += place_card(visit, place);
    now += el("h2", {}, "What is where") + el("ul", {{"class", "cards"}}, cards);
    Html nowhere;
    for (const auto& kept : kept_now(records, visit.now)) {
      if (kept.place.empty()) nowhere += kept_line(visit, kept, "");
    }
    if (!nowhere.empty()) now += el("h2", {}, "Nobody recorded where") + el("ul", {{"class", "kept-list"}}, nowhere);
  } else {
    for (const auto& refusal : places.error()) now += el("p", {{"class", "warn"}}, told_here(refusal));
  }
  Html checks;
  if (round) {
    for (const auto& check : round->checks) {
      Html line = el("h3", {}, check.name) + el("p", {}, check.standing.words);
      if (visit.may_record()) line += el("p", {}, link_button("/cold/check/" + check.thermometer, "Check it in ice or boiling water"));
      checks += el("li", {{"class", "card"}}, line);
    }
  }
  if (!checks.empty()) now += el("h2", {}, "Thermometers") + el("ul", {{"class", "cards"}}, checks);
  main += live("cold-now", now);
  if (visit.may_record())
    main += el("p", {{"class", "actions"}}, link_button("/cold/new", "A new place"), link_button("/cold/thermometer", "A new thermometer"));
  return page(visit, "Cold", "cold", main);
}

WebAnswer place_page(Visit& visit) {
  const auto places = places_now(visit.records(), visit.at());
  if (!places) return not_there(visit, told_here(places.error().front()));
  const auto place = std::find_if(places->begin(), places->end(), [&](const PlaceNow& one) { return one.id.text() == visit.part; });
  if (place == places->end()) return not_there(visit, "No place of this name is on record.");
  Html now = el("ul", {{"class", "cards"}}, place_card(visit, *place));
  const Instant from = visit.now - std::chrono::hours{24};
  std::vector<PlottedReading> readings;
  for (const auto& block : visit.records().state().readings) {
    if (block.value.about != visit.part || block.value.last < from) continue;
    for (const auto& reading : visit.records().readings(block)) {
      if (reading.at >= from && reading.at <= visit.now)
        readings.push_back({reading.at, reading.degrees ? std::optional{reading.degrees->temperature()} : std::nullopt});
    }
  }
  const auto terms = temperature_terms_by(visit.records(), visit.today(), plan_now(visit.records()));
  now += el("h2", {}, "The last 24 hours") + (readings.empty() ? el("p", {}, "No temperature was read in this time.")
                                                               : plot(visit.records(), "Temperatures of " + place->name, readings,
                                                                      place->limit, terms ? terms->longest_step("chilled hold") : Span{}));
  const Html main = el("h1", {}, place->name) + live("place-now", now);
  return page(visit, place->name, "cold", main + more_about(visit, visit.part));
}

WebAnswer reading_page(Visit& visit) {
  if (visit.request.method == "POST") visit.part = visit.typed("about");
  const auto& places = visit.records().state().places;
  const auto place = places.find(PlaceId{visit.part});
  const bool batch = visit.records().state().batches.contains(BatchId{visit.part});
  if (place == places.end() && !batch) return not_there(visit, "Nothing of this name can be measured.");
  const std::string name = batch ? visit.part : place->second.value.name;
  std::string hanging;
  for (const auto& [id, probe] : visit.records().state().probes) {
    if (!batch && probe.value.hangs_in == place->first) hanging = id.text();
  }
  return page(visit, "A temperature", "cold",
              el("h1", {}, "Temperature of " + name) + reading_form(visit, "place-reading", visit.part, hanging, batch) +
                  more_about(visit, visit.part));
}

Scale scale_of(const Session& session, const std::string& thermometer) {
  const auto probe = session.state().probes.find(ProbeId{thermometer});
  return probe == session.state().probes.end() ? Scale::celsius : probe->second.value.scale;
}

std::optional<Booked> temperature(Visit& visit) {
  ReadingTyped typed;
  typed.probe = visit.typed("thermometer");
  typed.about = visit.typed("about");
  typed.purpose = visit.typed("for");
  typed.mark = visit.typed("mark");
  typed.at = visit.typed("at");
  typed.read = visit.degrees("reading", scale_of(visit.records(), typed.probe), true);
  if (!visit.wrong.empty()) return std::nullopt;
  return visit.record([&](Session& session) { return type_reading(session, typed); });
}

WebAnswer move_page(Visit& visit) {
  if (visit.request.method == "POST") visit.part = visit.typed("what");
  std::string name = visit.part;
  for (const auto& kept : kept_now(visit.records(), visit.now)) {
    if (kept.id == visit.part) name = fmt::format("{} ({})", kept.name, kept.id);
  }
  return page(visit, "Move it", "cold", el("h1", {}, "Where does it go? " + name) + put_form(visit, "move", visit.part));
}

std::optional<Booked> put_down(Visit& visit) {
  return visit.record([&](Session& session) {
    return put(session, visit.typed("what"), visit.typed("in"), visit.typed("at"),
               {visit.typed("for"), visit.typed("marked"), visit.typed("procedure")});
  });
}

WebAnswer check_page(Visit& visit) {
  if (visit.request.method == "POST") visit.part = visit.typed("thermometer");
  const auto probe = visit.records().state().probes.find(ProbeId{visit.part});
  if (probe == visit.records().state().probes.end()) return not_there(visit, "No thermometer of this name is on record.");
  Html last;
  for (auto check = visit.records().state().checks.rbegin(); check != visit.records().state().checks.rend(); ++check) {
    if (check->value.probe != probe->first) continue;
    if (const auto told = check_told(visit.records(), check->sequence))
      last = el("p", {},
                fmt::format("Last check, {}: {}, {}.", moment_in_words(visit.records(), check->happened), told->words,
                            told->good ? "good" : "not good"));
    break;
  }
  FormView form{visit, "/cold/check", "check"};
  form.hidden("thermometer", visit.part)
      .tiles("in", "Held in", {{"ice", "ice and water"}, {"boiling", "boiling water"}}, {.needed = true})
      .number("reading", "It shows", {.unit = probe->second.value.scale == Scale::celsius ? "°C" : "°F", .needed = true}, true)
      .number("pressure", "Air pressure here",
              {.hint = "In boiling water, if a barometer in the kitchen shows it: hPa, not the forecast's.", .unit = "hPa"});
  add_when(form);
  return page(visit, "Check a thermometer", "cold",
              el("h1", {}, "Check of the " + probe->second.value.name) + last + form.kept_without_server().finish("Book the check") +
                  more_about(visit, visit.part));
}

std::optional<Booked> check(Visit& visit) {
  ProbeChecking checking;
  checking.probe = visit.typed("thermometer");
  checking.method = visit.typed("in");
  checking.at = visit.typed("at");
  checking.read = visit.degrees("reading", scale_of(visit.records(), checking.probe), true);
  if (const std::string pressure{trimmed(visit.typed("pressure"))}; !pressure.empty()) {
    const auto hectopascals = parse_decimal(pressure);
    if (!hectopascals || *hectopascals < 500 || *hectopascals > 1100 || denominator(Share{*hectopascals * 100}) != 1)
      visit.refuse("pressure", fmt::format("\"{}\" cannot be used", pressure),
                   "write the station pressure in hPa, from 500 to 1100, such as 1004.3");
    else
      checking.pressure_pa = static_cast<std::int64_t>(numerator(Share{*hectopascals * 100}));
  }
  if (!visit.wrong.empty()) return std::nullopt;
  return visit.record([&](Session& session) { return check_probe(session, checking); });
}

WebAnswer new_place_page(Visit& visit) {
  return page(
      visit, "A new place", "cold",
      el("h1", {}, "A new place") + FormView{visit, "/cold/new", "new-place"}
                                        .text("name", "What is it called?", {.hint = "cake fridge, shelf by the door", .needed = true})
                                        .tiles("kind", "It is",
                                               {{"fridge", "a fridge"},
                                                {"freezer", "a freezer"},
                                                {"display", "a chilled display"},
                                                {"van", "a chilled van"},
                                                {"room", "a room or shelf"},
                                                {"out", "outside the kitchen"}},
                                               {.needed = true})
                                        .finish("Keep it"));
}

std::optional<Booked> new_place(Visit& visit) {
  const std::string name{trimmed(visit.typed("name"))};
  const std::string id =
      short_name(name, [&](const std::string& taken) { return visit.records().state().places.contains(PlaceId{taken}); });
  return visit.record([&](Session& session) { return add_place(session, id, {name, visit.typed("kind")}); });
}

WebAnswer new_thermometer_page(Visit& visit) {
  return page(visit, "A new thermometer", "cold",
              el("h1", {}, "A new thermometer") +
                  FormView{visit, "/cold/thermometer", "new-thermometer"}
                      .text("name", "What is it called?", {.hint = "fork thermometer, fridge logger", .needed = true})
                      .tiles("measures", "It measures", {{"food", "food: it is put into it"}, {"air", "air: it hangs in a place"}},
                             {.needed = true})
                      .tiles("scale", "It shows", {{"C", "°C"}, {"F", "°F"}}, {.value = "C", .needed = true})
                      .number("accuracy", "It may be off by", {.hint = "As its sheet says, plus or minus.", .unit = "°", .needed = true})
                      .number("step", "Smallest step of its display", {.value = "0.1", .unit = "°", .needed = true})
                      .pick("hangs-in", "It hangs in", places_of(visit.records()), {.hint = "Left empty: it goes from hand to hand."})
                      .finish("Keep it"));
}

std::optional<Booked> new_thermometer(Visit& visit) {
  const std::string name{trimmed(visit.typed("name"))};
  const auto hundredths = [&](const char* field) -> std::int64_t {
    const auto number = parse_decimal(visit.typed(field));
    if (number && *number >= 0 && *number <= 20 && denominator(Share{*number * 100}) == 1)
      return static_cast<std::int64_t>(numerator(Share{*number * 100}));
    visit.refuse(field, fmt::format("\"{}\" cannot be used", visit.typed(field)),
                 "write degrees from 0 to 20 with at most two places, such as 0.5");
    return 0;
  };
  Probe probe;
  probe.name = name;
  probe.scale = visit.typed("scale") == "F" ? Scale::fahrenheit : Scale::celsius;
  probe.accuracy_hundredths = hundredths("accuracy");
  probe.resolution_hundredths = hundredths("step");
  probe.measures = visit.typed("measures");
  probe.hangs_in = PlaceId{visit.typed("hangs-in")};
  if (!visit.wrong.empty()) return std::nullopt;
  const std::string id =
      short_name(name, [&](const std::string& taken) { return visit.records().state().probes.contains(ProbeId{taken}); });
  return visit.record([&](Session& session) { return add_probe(session, id, probe); });
}

std::string after_reading(const Visit& visit, const Booked&) {
  const std::string& about = visit.typed("about");
  return about.starts_with("batch-") ? "/bench/batch/" + about : "/cold";
}

}  // namespace

Html reading_form(Visit& visit, const std::string& id, const std::string& about, const std::string& thermometer, bool of_batch) {
  const Choices thermometers = thermometers_of(visit.records());
  if (thermometers.empty()) return nothing_yet("No thermometer is on record yet.", "/cold/thermometer", "A new thermometer");
  FormView form{visit, "/cold/temperature", id};
  form.hidden("about", about)
      .number("reading", "It shows", {.hint = "4.5 or 4,5", .unit = "°", .needed = true}, true)
      .tiles("thermometer", "Thermometer", thermometers,
             {.value = !thermometer.empty()       ? thermometer
                       : thermometers.size() == 1 ? thermometers.front().value
                                                  : "",
              .needed = true});
  if (of_batch)
    form.tiles("for", "While",
               {{"heat step", "heating egg"},
                {"syrup", "boiling syrup"},
                {"cooling", "cooling down"},
                {"reheating", "heating it again"},
                {"chilled", "keeping it cold"}},
               {.needed = true})
        .tiles("mark", "This reading is", {{"start", "the first"}, {"now", "on the way"}, {"done", "the last"}});
  add_when(form);
  return form.kept_without_server().finish("Book the temperature");
}

Html put_form(Visit& visit, const std::string& id, const std::string& what) {
  const Choices places = places_of(visit.records());
  if (places.empty()) return nothing_yet("No place is on record yet.", "/cold/new", "A new place");
  FormView form{visit, "/cold/put", id};
  form.hidden("what", what).tiles("in", "Into", places, {.needed = true});
  form.fold_begin("What it is out for");
  form.tiles("for", "What for",
             {{"keeping", "keeping it"},
              {"handling", "working on it"},
              {"transfer", "moving it"},
              {"service or display", "serving or showing it"},
              {"time as the control", "time alone controls it"}})
      .text("marked", "Used or thrown away by", {.hint = "Where time alone controls it: the time that is marked on it"})
      .text("procedure", "Where the procedure stands", {.hint = "that was written before"});
  form.fold_end();
  add_when(form);
  return form.kept_without_server().finish("Put it there");
}

std::vector<Route> cold_routes() {
  return {{"GET", "/cold", For::reader, cold_page},
          {"GET", "/cold/place/*", For::reader, place_page},
          {"GET", "/cold/read/*", For::recorder, reading_page},
          {"GET", "/cold/move/*", For::recorder, move_page},
          {"GET", "/cold/check/*", For::recorder, check_page},
          {"GET", "/cold/new", For::recorder, new_place_page},
          {"GET", "/cold/thermometer", For::recorder, new_thermometer_page}};
}

std::vector<Deed> cold_deeds() {
  return {{"/cold/temperature",
           For::recorder,
           "What a thermometer showed.",
           {{"thermometer", "short name", true},
            {"reading", "what it showed, in its own scale", true},
            {"about", "place, batch or cake that it is of", true},
            {"for", "heat step, syrup, cooling, reheating or chilled"},
            {"mark", "start, now or done"},
            {"at", "when; empty: now"}},
           temperature,
           after_reading,
           reading_page},
          {"/cold/put",
           For::recorder,
           "A batch or cake was put somewhere.",
           {{"what", "its number", true},
            {"in", "short name of the place", true},
            {"for", "keeping, handling, transfer, service or display, or time as the control"},
            {"marked", "by when it is used or thrown away"},
            {"procedure", "where the procedure stands"},
            {"at", "when; empty: now"}},
           put_down,
           [](const Visit& visit, const Booked&) {
             return visit.typed("what").starts_with("batch-") ? "/bench/batch/" + visit.typed("what") : std::string{"/cold"};
           },
           move_page},
          {"/cold/check",
           For::recorder,
           "A thermometer was checked.",
           {{"thermometer", "short name", true},
            {"in", "ice or boiling", true},
            {"reading", "what it showed, in its own scale", true},
            {"pressure", "station pressure, hPa"},
            {"at", "when; empty: now"}},
           check,
           to("/cold"),
           check_page},
          {"/cold/new",
           For::recorder,
           "A place.",
           {{"name", "what it is called", true}, {"kind", "fridge, freezer, display, van, room or out", true}},
           new_place,
           to("/cold"),
           new_place_page},
          {"/cold/thermometer",
           For::recorder,
           "A thermometer.",
           {{"name", "what it is called", true},
            {"measures", "food or air", true},
            {"scale", "C or F", true},
            {"accuracy", "degrees that it may be off by", true},
            {"step", "smallest step of its display, degrees", true},
            {"hangs-in", "short name of a place"}},
           new_thermometer,
           to("/cold"),
           new_thermometer_page}};
}

}  // namespace tierproof::web
