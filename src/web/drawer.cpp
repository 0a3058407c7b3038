// The drawer: what is due, what went wrong, records for the officer, people, devices.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "deeds.h"
#include "parts.h"
#include "signing_in.h"
#include "tierproof/app/at_the_door.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/inspecting.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/regular.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

WebAnswer drawer_page(Visit& visit) {
  const Session& records = visit.records();
  const auto due = due_on(records, visit.today());
  const auto matters = open_matters(records, visit.at());
  const auto review = plan_review_due(records);
  const auto waiting = std::count_if(due.due.begin(), due.due.end(), [](const DueItem& item) { return item.state == DueState::today; });
  const auto tile = [](const char* href, const std::string& name, const std::string& says) {
    return el("li", {}, el("a", {{"class", "button tall"}, {"href", href}}, el("b", {}, name), el("small", {}, says)));
  };
  Html tiles =
      tile("/drawer/due", "Regular records",
           waiting == 0 ? fmt::format("nothing more today; {} open from before", due.open.size()) : fmt::format("{} to do today", waiting));
  tiles +=
      tile("/drawer/wrong", "What went wrong", matters && !matters->empty() ? fmt::format("{} open", matters->size()) : "nothing open");
  tiles += tile("/drawer/officer", "For the officer", "the inspection record of any time");
  tiles += tile("/drawer/plan", "Plan", review.is_due() ? "has to be reviewed" : "up to date");
  tiles += tile("/drawer/notes", "All notes", fmt::format("{} notes; look, correct, take back", records.head().size));
  tiles += tile("/drawer/lists", "Lists", "everything as tables");
  if (visit.is_owner()) {
    tiles += tile("/drawer/kept", "Until when it is kept", "what has to stay, what may go, and erasing it");
    tiles += tile("/drawer/people", "People", "who works here, and their PINs");
    tiles += tile("/drawer/devices", "Devices", "tablets, telephones, sensors");
  }
  Html main = el("h1", {}, "Drawer") + el("ul", {{"class", "grid"}}, tiles);
  if (visit.is_owner())
    main += el("h2", {}, "An officer is at the door") +
            el("p", {}, "This hands the tablet over for reading only. To go on working, sign in again.") +
            button_form(visit, "/for-officer", "Show the records, reading only", {}, "main");
  return page(visit, "Drawer", "drawer", main);
}

/// Its fields, with the answers for when all is well.
Html regular_form(Visit& visit, const std::string& id, const RegularSort& sort, const std::string& due) {
  FormView form{visit, "/drawer/done", "done-" + id};
  form.hidden("sort", id).hidden("due", due);
  for (const auto& field : sort.fields) {
    const std::string name = "field-" + field.id;
    const FieldSaid said{.value = field.type == "person" && visit.who ? visit.who->person : "", .unit = field.unit, .needed = field.needed};
    if (field.type == "yes or no") {
      form.tiles(name.c_str(), field.words, {{"yes", "yes"}, {"no", "no"}}, said);
    } else if (field.type == "one of") {
      Choices choices;
      for (const auto& choice : field.choices) choices.push_back({choice, choice});
      form.tiles(name.c_str(), field.words, choices, said);
    } else if (field.type == "number") {
      form.number(name.c_str(), field.words, said, true);
    } else if (field.type == "date") {
      form.day(name.c_str(), field.words, said);
    } else if (field.type == "person") {
      Choices people;
      for (const auto& [person, one] : visit.records().state().people)
        people.push_back({person.text(), one.value.name.text.value_or(person.text())});
      form.pick(name.c_str(), field.words, people, said);
    } else if (field.type == "kit") {
      form.pick(name.c_str(), field.words, kit_of(visit.records()), said);
    } else if (field.type == "supplier") {
      form.pick(name.c_str(), field.words, suppliers_of(visit.records()), said);
    } else {
      form.text(name.c_str(), field.words, said);
    }
  }
  form.text("note", "What else there is to say", {.hint = "Of something that is not as it should be: what was done"});
  return form.kept_without_server().finish("Book it");
}

Html due_card(Visit& visit, const DueItem& item) {
  Html inside = el("h3", {}, item.name) +
                el("p", {{"class", "hint"}}, fmt::format("{} · {}", item.rule, format_date_long(item.day.due.value_or(item.day.by_rule))));
  if (item.note) {
    inside += el("p", {{"class", "date"}}, fmt::format("done, note {}{}", *item.note, item.typed_late ? ", typed late" : ""));
    if (!item.wanting.empty())
      inside += el("p", {{"class", "stop"}},
                   fmt::format("not as it should be: {}{}", fmt::join(item.wanting, "; "),
                               item.answered.empty() ? "" : "; answered by " + item.answered));
    return el("li", {{"class", "card"}}, inside);
  }
  if (item.missed) inside += el("p", {{"class", "stop"}}, "missed: " + item.because);
  if (item.state == DueState::fallen_away) return el("li", {{"class", "card"}}, inside, el("p", {}, "falls away: nobody works that day"));
  const auto sort = visit.records().state().regular_sorts.find(RegularSortId{item.sort});
  if (!item.told_by.empty()) {
    inside += el("p", {}, "It counts as done by another note: " + in_plain_words(item.told_by));
    for (const auto& waiting : item.waiting) inside += el("p", {}, link_button("/cold/check/" + url_part(waiting), "Check " + waiting));
  } else if (visit.may_record() && sort != visit.records().state().regular_sorts.end()) {
    const bool again = visit.typed("form") == "done-" + item.sort && !visit.wrong.empty();
    inside += el("details", {{"class", "fold"}, flag("open", again)}, el("summary", {}, "Do it now"),
                 regular_form(visit, item.sort, sort->second.value, format_date(item.day.due.value_or(item.day.by_rule))));
  }
  return el("li", {{"class", "card"}}, inside);
}

WebAnswer due_page(Visit& visit) {
  const Session& records = visit.records();
  Html main = el("h1", {}, "Regular records");
  if (records.state().regular_sorts.empty()) {
    main += el(
        "p", {},
        "No regular record is kept yet: cleaning, pests, fitness to work, thermometers. The starting set can be taken over and changed.");
    if (visit.is_owner()) main += button_form(visit, "/drawer/take-over", "Take over the starting set", {}, "main");
    return page(visit, "Regular records", "drawer", main);
  }
  const auto due = due_on(records, visit.today());
  if (!due.working) main += el("p", {{"class", "date"}}, "Nobody works today: " + due.not_working);
  if (visit.may_record()) {
    main +=
        el("div", {{"class", "actions"}}, button_form(visit, "/drawer/all-fine", "Start of work: all as it should be", {}, "main", true),
           button_form(visit, "/drawer/all-fine", "End of work: all as it should be", {{"end", "yes"}}, "plain", true),
           button_form(visit, "/drawer/day-off", "Not working today", {}));
  }
  Html today, before;
  for (const auto& item : due.due) today += due_card(visit, item);
  for (const auto& item : due.open) before += due_card(visit, item);
  main += el("h2", {}, "Today") + (today.empty() ? el("p", {}, "Nothing is due today.") : el("ul", {{"class", "cards"}}, today));
  if (!before.empty()) main += el("h2", {}, "Open from before") + el("ul", {{"class", "cards"}}, before);
  Html open;
  for (const auto& wanting : due.not_fine)
    open += el(
        "li", {},
        fmt::format("{}, note {} of {}: {}", wanting.name, wanting.note, format_date_long(wanting.day), fmt::join(wanting.wanting, "; ")));
  if (!open.empty()) main += el("h2", {}, "Not as it should be, and not answered") + el("ul", {}, open);
  return page(visit, "Regular records", "drawer", main);
}

std::optional<Booked> done(Visit& visit) {
  RegularMade made;
  made.sort = visit.typed("sort");
  made.note = visit.typed("note");
  made.at = visit.typed("at");
  made.due = visit.day("due", false);
  for (const auto& [name, value] : visit.request.form.all()) {
    if (name.starts_with("field-") && !trimmed(value).empty()) made.values.emplace_back(name.substr(6), value);
  }
  if (!visit.wrong.empty()) return std::nullopt;
  return visit.record([&](Session& session) { return record_regular(session, made); });
}

std::optional<Booked> all_fine(Visit& visit) {
  const auto told = visit.write<AllFine>([&](Session& session) -> Result<AllFine> {
    if (const auto before = session.booked_before()) return AllFine{*before, {}, {}};
    return record_all_fine(session, {}, visit.typed("at"), visit.typed("end") == "yes");
  });
  return told ? std::optional{told->booked} : std::nullopt;
}

std::optional<Booked> day_off(Visit& visit) {
  return visit.record([&](Session& session) { return tell_day_off(session, {}); });
}

std::optional<Booked> take_over(Visit& visit) {
  return visit.record(
      [&](Session& session) { return take_over_sorts(session, load_regular_sorts(visit.site.settings().data), {"all"}, {}); });
}

WebAnswer wrong_page(Visit& visit) {
  const Session& records = visit.records();
  Html main = el("h1", {}, "What went wrong");
  const auto matters = open_matters(records, visit.at());
  if (matters) {
    for (const auto& matter : *matters) {
      Html touches;
      for (const auto& one : matter.touches) touches += el("li", {}, one);
      main += el("article", {{"class", "finding"}}, el("h2", {}, matter.id),
                 el("p", {}, fmt::format("{} (since {})", matter.what, matter.since)), touches.empty() ? Html{} : el("ul", {}, touches),
                 matter.id.starts_with("trouble") ? pictures_of(visit, matter.id) : Html{},
                 visit.may_record() && matter.id.starts_with("trouble") ? FormView{visit, "/drawer/put-right", "right-" + matter.id}
                                                                              .hidden("trouble", matter.id)
                                                                              .tiles("food", "What became of the food",
                                                                                     {{"no food touched", "no food was touched"},
                                                                                      {"used", "it was used"},
                                                                                      {"remade", "it was made again"},
                                                                                      {"binned", "it was thrown away"}},
                                                                                     {.needed = true})
                                                                              .text("cause", "Why it happened", {.needed = true})
                                                                              .text("action", "What was done", {.needed = true})
                                                                              .finish("It is put right")
                                                                        : Html{});
    }
    if (matters->empty()) main += el("p", {}, "Nothing is open.");
  }
  if (visit.may_record()) {
    Choices about = places_of(records);
    for (auto& some : {thermometers_of(records), kit_of(records)}) about.insert(about.end(), some.begin(), some.end());
    for (const auto& kept : kept_now(records, visit.now)) about.push_back({kept.id, fmt::format("{} ({})", kept.name, kept.id)});
    FormView form{visit, "/drawer/wrong", "wrong"};
    form.text("what", "What happened", {.hint = "the fridge door stood open over night", .needed = true})
        .ticks("about", "What it is about", about)
        .tiles("from", "How it was noticed", {{"person", "somebody saw it"}, {"temperature", "a temperature showed it"}},
               {.value = "person", .needed = true})
        .text("at", "When it began", {.hint = "Or the earliest that it can have begun: 2026-05-01 08:10. Left empty: now."});
    main += el("h2", {}, "Something went wrong") + form.kept_without_server().finish("Book it", "grave");
  }
  return page(visit, "What went wrong", "drawer", main);
}

std::optional<Booked> went_wrong(Visit& visit) {
  GoingWrong wrong;
  wrong.about = visit.request.form.every("about");
  wrong.from = visit.typed("from");
  wrong.what = visit.typed("what");
  wrong.at = visit.typed("at");
  return visit.record([&](Session& session) { return tell_went_wrong(session, wrong); });
}

std::optional<Booked> right(Visit& visit) {
  return visit.record([&](Session& session) {
    return put_right(session,
                     {visit.typed("trouble"), visit.typed("food"), visit.typed("cause"), visit.typed("action"), visit.typed("at")});
  });
}

Html inspection_rows(const std::string& caption, const InspectionTable& given) {
  std::vector<std::vector<Html>> rows;
  for (const auto& row : given.rows) {
    std::vector<Html> cells;
    for (const auto& cell : row.cells) cells.push_back(row.wanting && cells.empty() ? el("b", {}, "! " + cell) : Html{cell});
    rows.push_back(std::move(cells));
  }
  return table(caption, given.heads, rows) + (given.left_out.empty() ? Html{} : el("p", {{"class", "hint"}}, given.left_out));
}

Html labelled(const std::vector<LabelledText>& lines) {
  std::vector<std::pair<std::string, Html>> pairs;
  for (const auto& line : lines) pairs.push_back({line.label, line.text});
  return pairs.empty() ? Html{} : facts(pairs);
}

WebAnswer officer_page(Visit& visit) {
  const DaysAsked days = days_asked(visit);
  const auto& query = visit.request.query;
  const bool asked = visit.request.method == "POST" || query.has("from") || query.has("until");
  const std::string from = days.from_typed.empty() ? format_date(add_days(visit.today(), 1 - days_inspected)) : days.from_typed;
  const std::string until = days.until_typed.empty() ? format_date(visit.today()) : days.until_typed;
  Html main = el("h1", {}, "For the officer");
  main += el("form", {{"method", "get"}, {"class", "inline"}}, el("label", {{"for", "from"}}, "From"),
             el("input", {{"id", "from"}, {"name", "from"}, {"type", "date"}, {"value", from}}), el("label", {{"for", "until"}}, "until"),
             el("input", {{"id", "until"}, {"name", "until"}, {"type", "date"}, {"value", until}}),
             el("button", {{"type", "submit"}, {"class", "plain"}}, "Show it"));
  if (!asked) {
    main += el("p", {},
               "What the records say of these days: what is open, late, missed or was released against, fridges, controls, and what else "
               "is asked for.");
    return page(visit, "For the officer", "drawer", main + issued_papers(visit.records(), "inspection record"));
  }
  const auto found = days.wrong.empty() ? inspect(visit.records(), {days.from, days.until}, visit.at()) : Result<Inspection>{days.wrong};
  if (!found) {
    for (const auto& refusal : found.error()) main += el("p", {{"class", "warn"}}, told_here(refusal));
    return page(visit, "For the officer", "drawer", main);
  }
  const InspectionContent& content = found->content;
  main += el("p", {{"class", "date"}}, content.period);
  Html wanting;
  for (const auto& line : content.wanting) wanting += el("li", {}, line);
  main += el("h2", {}, "What is open, late, missed or was released against") +
          (wanting.empty() ? el("p", {}, "Nothing, by the records.") : el("ul", {}, wanting));
  main += el("h2", {}, "The kitchen") + labelled(content.kitchen) + el("h2", {}, "What went wrong, and what was decided") +
          labelled(content.matters) + el("h2", {}, "Cold") + inspection_rows("Fridges and freezers", content.cold) +
          el("h2", {}, "Controls") + labelled(content.controls) + labelled(content.keeping);
  for (const auto& section : content.sections) {
    Html inside;
    for (const auto& words : section.says) inside += el("p", {}, words);
    inside += labelled(section.facts);
    for (const auto& one : section.tables) inside += inspection_rows(section.name, one);
    main += el("details", {{"class", "fold"}}, el("summary", {}, section.name), inside);
  }
  for (const auto& caution : content.cautions) main += el("p", {{"class", "hint"}}, caution);
  if (visit.may_record()) {
    FormView form{visit, "/drawer/officer", "print-inspection"};
    form.hidden("from", format_date(found->from)).hidden("until", format_date(found->until));
    main += el("h2", {}, "On paper") + form.finish("Issue it as a PDF");
  }
  main += issued_papers(visit.records(), "inspection record");
  return page(visit, "For the officer", "drawer", main);
}

std::optional<Booked> print_inspection(Visit& visit) {
  const InspectionRequest request{visit.day("from", false), visit.day("until", false)};
  if (!visit.wrong.empty()) return std::nullopt;
  const auto issued = visit.write<InspectionIssued>([&](Session& session) -> Result<InspectionIssued> {
    if (const auto before = session.booked_before()) return InspectionIssued{{{}, *before, {}}, {}};
    return issue_inspection(session, request, visit.site.settings().data);
  });
  if (!issued) return std::nullopt;
  Booked booked = issued->issued.booked;
  booked.sequences.resize(std::min<std::size_t>(booked.sequences.size(), 1));
  return booked;
}

WebAnswer people_page(Visit& visit) {
  std::vector<std::vector<Html>> rows;
  Choices people;
  for (const auto& [id, person] : visit.records().state().people) {
    const std::string name = person.value.name.text.value_or("(erased)");
    const Access& access = visit.site.access();
    rows.push_back(
        {name, person.value.role, person.value.left ? "left " + format_date_long(*person.value.left) : "works here",
         access.is_locked(id.text()) ? "locked after ten misses"
         : access.has_pin(id.text()) ? "has a PIN"
                                     : "no PIN yet",
         access.is_locked(id.text()) ? button_form(visit, "/drawer/unlock", "Let them try again", {{"person", id.text()}}) : Html{}});
    if (!person.value.left) people.push_back({id.text(), name});
  }
  Html main = el("h1", {}, "People") + table("Who works here", {"Name", "Role", "Since", "PIN", ""}, rows);
  main += el("h2", {}, "A PIN") + FormView{visit, "/drawer/pin", "pin"}
                                      .tiles("person", "Whose", people, {.needed = true})
                                      .secret("new-pin", "The new PIN, six digits", "Typed by the person; not a date, no row of digits.")
                                      .pin("Your own PIN")
                                      .finish("Set it");
  main += el("h2", {}, "Somebody left") +
          FormView{visit, "/drawer/person-left", "person-left"}
              .tiles("person", "Who", people, {.needed = true})
              .day("on", "Their last day here", {.hint = "Left empty: today. How long their name is kept counts from that day."})
              .pin("Your PIN")
              .finish("They work here no more", "grave");
  main += el("h2", {}, "Somebody new") + FormView{visit, "/drawer/people", "person"}
                                             .text("name", "Name", {.hint = "Kept apart, so that it can be erased.", .needed = true})
                                             .tiles("role", "They are", {{"helper", "a helper"}, {"owner", "an owner"}}, {.needed = true})
                                             .pin("Your PIN")
                                             .finish("Add them");
  return page(visit, "People", "drawer", main);
}

std::optional<Booked> new_person(Visit& visit) {
  if (!confirmed_by_pin(visit)) return std::nullopt;
  const std::string name{trimmed(visit.typed("name"))};
  const std::string id = short_name(name.substr(0, name.find(' ')),
                                    [&](const std::string& taken) { return visit.records().state().people.contains(PersonId{taken}); });
  return visit.record([&](Session& session) { return add_person(session, id, name, visit.typed("role")); });
}

std::optional<Booked> left(Visit& visit) {
  const auto on = visit.day("on", false);
  if (!visit.wrong.empty() || !confirmed_by_pin(visit)) return std::nullopt;
  return visit.record([&](Session& session) { return person_left(session, visit.typed("person"), on); });
}

/// A use case at the door, which asks the records who asks for it. Nothing where it was refused, and `visit.wrong` says why.
template <class Done>
std::optional<Done> at_the_door(Visit& visit, const std::function<Result<Done>(const Session&, Access&)>& act) {
  return visit.write<Done>([&](Session& session) { return act(session, visit.site.access()); });
}
Result<bool> done_or(Refusals refusals) { return refusals.empty() ? Result<bool>{true} : Result<bool>{std::move(refusals)}; }

WebAnswer set_pin(Visit& visit) {
  if (confirmed_by_pin(visit)) {
    const auto set = at_the_door<bool>(visit, [&](const Session& session, Access& access) {
      return done_or(set_pin_of(session, access, visit.typed("person"), visit.typed("new-pin")));
    });
    for (auto& refusal : visit.wrong) refusal.field = refusal.field == "pin" ? "new-pin" : refusal.field;
    if (set) return redirect("/drawer/people");
  }
  return people_page(visit);
}

WebAnswer unlock(Visit& visit) {
  const auto open = at_the_door<bool>(
      visit, [&](const Session& session, Access& access) { return done_or(unlock_person(session, access, visit.typed("person"))); });
  return open ? redirect("/drawer/people") : people_page(visit);
}

WebAnswer devices_with(Visit& visit, const Html& told) {
  Access& access = visit.site.access();
  std::vector<std::vector<Html>> devices, sensors, events;
  for (const auto& device : access.devices())
    devices.push_back({device.name, moment_in_words(visit.records(), device.let_in), moment_in_words(visit.records(), device.last_seen),
                       device.id == visit.device->id
                           ? Html{"this one"}
                           : button_form(visit, "/drawer/shut-out", "Shut it out", {{"device", device.id}}, "grave")});
  for (const auto& sensor : access.sensors())
    sensors.push_back({sensor.name, sensor.probe, sensor.about,
                       sensor.revoked ? Html{"off since " + moment_in_words(visit.records(), *sensor.revoked)}
                                      : button_form(visit, "/drawer/sensor-off", "Turn it off", {{"sensor", sensor.id}}, "grave")});
  for (const auto& event : access.happened(30))
    events.push_back({moment_in_words(visit.records(), event.at), event.what, event.device, event.person, event.detail});
  Html wrong;
  if (visit.typed("form").empty()) {
    for (const auto& refusal : visit.wrong) wrong += el("p", {{"class", "stop"}, {"role", "alert"}}, told_here(refusal));
  }
  Html main = el("h1", {}, "Devices") + wrong + told + table("Devices that were let in", {"Device", "Let in", "Last seen", ""}, devices) +
              button_form(visit, "/drawer/let-in", "A code for another device", {}, "main");
  main += el("h2", {}, "Sensors that post by themselves") +
          (sensors.empty() ? el("p", {}, "None yet.") : table("Sensors", {"Sensor", "Thermometer", "Place", ""}, sensors));
  main += FormView{visit, "/drawer/sensor", "sensor"}
              .text("name", "What it is called", {.needed = true})
              .pick("probe", "Its thermometer", thermometers_of(visit.records()), {.needed = true})
              .pick("about", "Where it reads", places_of(visit.records()), {.needed = true})
              .finish("A token for it");
  main += el("h2", {}, "At the door") + table("Who came in, and who was refused", {"When", "What", "Device", "Who", ""}, events);
  return page(visit, "Devices", "drawer", main);
}

WebAnswer devices_page(Visit& visit) { return devices_with(visit, {}); }
WebAnswer code_for_device(Visit& visit) {
  const auto given = at_the_door<CodeGiven>(visit, let_device_in);
  if (!given) return devices_page(visit);
  return devices_with(
      visit,
      el("div", {{"class", "big-figure"}, {"role", "status"}}, el("p", {{"class", "figure"}}, given->code),
         el("p", {}, fmt::format("Type this code on the other device, until {}.", format_clock(given->until.at, given->until.offset)))));
}
WebAnswer shut_out(Visit& visit) {
  const auto out = at_the_door<Device>(
      visit, [&](const Session& session, Access& access) { return shut_device_out(session, access, visit.typed("device")); });
  return out ? redirect("/drawer/devices") : devices_page(visit);
}
WebAnswer new_sensor(Visit& visit) {
  const SensorAsked asked{visit.typed("probe"), visit.typed("about"), visit.typed("name")};
  const auto made = at_the_door<Access::NewSensor>(
      visit, [&](const Session& session, Access& access) { return give_sensor_token(session, access, asked); });
  if (!made) return devices_page(visit);
  return devices_with(visit, el("div", {{"class", "big-figure"}, {"role", "status"}},
                                el("p", {}, "The token of this sensor, shown this once:"), el("p", {{"class", "token"}}, made->token)));
}
WebAnswer sensor_off(Visit& visit) {
  const auto off = at_the_door<Sensor>(
      visit, [&](const Session& session, Access& access) { return take_sensor_token_back(session, access, visit.typed("sensor")); });
  return off ? redirect("/drawer/devices") : devices_page(visit);
}

}  // namespace

std::vector<Route> drawer_routes() {
  return {{"GET", "/drawer", For::reader, drawer_page},
          {"GET", "/drawer/due", For::reader, due_page},
          {"GET", "/drawer/wrong", For::reader, wrong_page},
          {"GET", "/drawer/officer", For::reader, officer_page},
          {"GET", "/drawer/people", For::owner, people_page},
          {"POST", "/drawer/pin", For::owner, set_pin},
          {"POST", "/drawer/unlock", For::owner, unlock},
          {"GET", "/drawer/devices", For::owner, devices_page},
          {"POST", "/drawer/let-in", For::owner, code_for_device},
          {"POST", "/drawer/shut-out", For::owner, shut_out},
          {"POST", "/drawer/sensor", For::owner, new_sensor},
          {"POST", "/drawer/sensor-off", For::owner, sensor_off}};
}

std::vector<Deed> drawer_deeds() {
  const DeedField at{"at", "when, on the kitchen's clock; empty: now"};
  return {
      {"/drawer/done",
       For::recorder,
       "A regular record.",
       {{"sort", "short name of its sort", true},
        {"due", "the due day that it is for"},
        {"field-*", "the answer to a field of the sort"},
        {"note", "what else there is to say"},
        at},
       done,
       to("/drawer/due"),
       due_page},
      {"/drawer/all-fine",
       For::recorder,
       "Every regular record of this part of the day is as it should be.",
       {{"end", "yes: of the end of work"}, at},
       all_fine,
       to("/drawer/due"),
       due_page},
      {"/drawer/day-off", For::recorder, "Nobody works today.", {}, day_off, to("/drawer/due"), due_page},
      {"/drawer/take-over", For::owner, "The starting set of regular records is taken over.", {}, take_over, to("/drawer/due"), due_page},
      {"/drawer/wrong",
       For::recorder,
       "Something went wrong.",
       {{"what", "what happened", true}, {"about", "what it is about", true, true}, {"from", "person or temperature", true}, at},
       went_wrong,
       to("/drawer/wrong"),
       wrong_page},
      {"/drawer/put-right",
       For::recorder,
       "What went wrong was put right.",
       {{"trouble", "its number", true},
        {"food", "no food touched, used, remade or binned", true},
        {"cause", "why it happened", true},
        {"action", "what was done", true},
        at},
       right,
       to("/drawer/wrong"),
       wrong_page},
      {"/drawer/officer",
       For::recorder,
       "The inspection record of a time is issued.",
       {{"from", "first day"}, {"until", "last day"}},
       print_inspection,
       to("/drawer/officer"),
       officer_page},
      {"/drawer/people",
       For::owner,
       "Somebody new works here.",
       {{"name", "their name", true}, {"role", "owner or helper", true}},
       new_person,
       to("/drawer/people"),
       people_page},
      {"/drawer/person-left",
       For::owner,
       "Somebody works here no more.",
       {{"person", "short name", true}, {"on", "their last day here; empty: today"}},
       left,
       to("/drawer/people"),
       people_page}};
}

}  // namespace tierproof::web
