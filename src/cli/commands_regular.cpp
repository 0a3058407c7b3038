#include <fmt/format.h>

#include <algorithm>

#include "door.h"
#include "tierproof/app/regular.h"

namespace tierproof::cli {
namespace {

Json lines_json(const std::vector<std::string>& lines) {
  Json::Array list;
  for (const auto& line : lines) list.emplace_back(line);
  return Json{std::move(list)};
}

Json note_or_null(const std::optional<std::uint64_t>& note) { return note ? Json{static_cast<std::int64_t>(*note)} : Json{}; }
Json day_or_null(const std::optional<Date>& day) { return day ? Json{format_date(*day)} : Json{}; }

Json json_of(const std::vector<DueItem>& items) {
  Json::Array list;
  for (const auto& item : items)
    list.push_back(Json{Json::Object{{"sort", Json{item.sort}},
                                     {"name", Json{item.name}},
                                     {"rule", Json{item.rule}},
                                     {"who", Json{item.who}},
                                     {"day_by_rule", Json{format_date(item.day.by_rule)}},
                                     {"due", day_or_null(item.day.due)},
                                     {"state", Json{term_of(item.state)}},
                                     {"note", note_or_null(item.note)},
                                     {"done_on", day_or_null(item.done_on)},
                                     {"typed_late", Json{item.typed_late}},
                                     {"not_fine", lines_json(item.wanting)},
                                     {"not_fine_answered_by", Json{item.answered}},
                                     {"missed_note", note_or_null(item.missed)},
                                     {"because", Json{item.because}},
                                     {"not_worked_note", note_or_null(item.not_worked)},
                                     {"waiting_for", lines_json(item.waiting)},
                                     {"counted_notes", Json{item.told_by}}}});
  return Json{std::move(list)};
}

Json json_of(const std::vector<NotFine>& records) {
  Json::Array list;
  for (const auto& one : records)
    list.push_back(Json{Json::Object{{"sort", Json{one.sort}},
                                     {"name", Json{one.name}},
                                     {"note", Json{static_cast<std::int64_t>(one.note)}},
                                     {"done_on", Json{format_date(one.day)}},
                                     {"not_fine", lines_json(one.wanting)}}});
  return Json{std::move(list)};
}

Json json_of(const DueView& view) {
  Json::Array whenever;
  for (const auto& one : view.whenever)
    whenever.push_back(Json{Json::Object{{"sort", Json{one.sort}},
                                         {"name", Json{one.name}},
                                         {"counted_notes", Json{one.told_by}},
                                         {"last_note", note_or_null(one.note)},
                                         {"last_day", day_or_null(one.day)}}});
  return Json{Json::Object{{"schema", Json{"tierproof/due/1"}},
                           {"on", Json{format_date(view.on)}},
                           {"working", Json{view.working}},
                           {"not_working", Json{view.not_working}},
                           {"due", json_of(view.due)},
                           {"open", json_of(view.open)},
                           {"not_fine", json_of(view.not_fine)},
                           {"when_it_happens", Json{std::move(whenever)}},
                           {"missed_in_the_28_days_before", Json{static_cast<std::int64_t>(view.missed_lately)}}}};
}

std::string how_it_stands(const DueItem& item) {
  std::string words;
  if (item.note) {
    words = fmt::format("note {}", *item.note);
    if (item.done_on && item.done_on != item.day.due) words += fmt::format(", on {}", format_date_long(*item.done_on));
    if (item.typed_late) words += ", written later";
  } else {
    words = item.rule + (item.who.empty() ? "" : fmt::format("; {}", item.who));
  }
  if (item.day.due && *item.day.due != item.day.by_rule) words += fmt::format("; moved from {}", format_date_long(item.day.by_rule));
  if (item.not_worked) words += fmt::format("; told afterwards that nobody worked, note {}", *item.not_worked);
  if (item.missed) words += fmt::format("; missed by note {}: {}", *item.missed, item.because);
  return words;
}

void say_items(const std::vector<DueItem>& items, bool with_day) {
  for (const auto& item : items) {
    const std::string day = with_day ? fmt::format(" of {}", format_date_long(item.day.due.value_or(item.day.by_rule))) : "";
    Door::say(fmt::format("  {:22} {}{} ({})  {}", words_of(item.state), item.name, day, item.sort, how_it_stands(item)));
    for (const auto& words : item.wanting)
      Door::say(fmt::format("  {:22} NOT AS IT SHOULD BE  {}{}", "", words,
                            item.answered.empty() ? "" : fmt::format("; since then {}", item.answered)));
    if (!item.waiting.empty() && !item.note)
      Door::say(fmt::format("  {:22} still without its note: {}", "", fmt::join(item.waiting, ", ")));
  }
}

int say_due(Door& door, const Session& session, const DueView& view) {
  const int exit = view.wanting() ? exit_status::found_wanting : exit_status::done;
  if (door.json) {
    door.print(json_of(view), session.kitchen().demo);
    return exit;
  }
  Door::mark_demo(session.kitchen().demo);
  Door::say(fmt::format(
      "{}{}", format_date_long(view.on),
      view.working ? (view.not_working.empty() ? "" : ": " + view.not_working) : ": not a working day (" + view.not_working + ")"));
  if (view.due.empty()) {
    Door::say(session.state().regular_sorts.empty()
                  ? "  no sort of regular record is taken over yet, so nothing is asked for: `tierproof regular` shows the starting set"
                  : "  nothing is due");
  }
  say_items(view.due, false);
  if (!view.open.empty() || !view.not_fine.empty()) Door::say("from before:");
  say_items(view.open, true);
  for (const auto& one : view.not_fine) {
    Door::say(
        fmt::format("  {:22} {} of {} ({})  note {}", "NOT AS IT SHOULD BE", one.name, format_date_long(one.day), one.sort, one.note));
    for (const auto& words : one.wanting) Door::say(fmt::format("  {:22} {}", "", words));
  }
  const bool unanswered =
      std::any_of(view.due.begin(), view.due.end(), [](const DueItem& item) { return !item.wanting.empty() && item.answered.empty(); });
  if (unanswered || !view.not_fine.empty())
    Door::say(
        "what is not as it should be stays open until `tierproof done` says that it is so again, or `tierproof went-wrong --about SORT` "
        "tells of it");
  if (view.missed_lately > 0) Door::say(fmt::format("missed in the four weeks before: {}", view.missed_lately));
  if (!view.whenever.empty()) Door::say("when it happens:");
  for (const auto& one : view.whenever)
    Door::say(
        fmt::format("  {} ({})  {}", one.name, one.sort,
                    one.note ? fmt::format("last on {}, note {}", format_date_long(*one.day), *one.note) : std::string{"no record yet"}));
  const bool ready = std::any_of(view.due.begin(), view.due.end(), [](const DueItem& item) { return item.state == DueState::today; });
  if (ready)
    Door::say(
        "all as it should be? `tierproof all-fine`, at the end of work `tierproof all-fine --end`; one by itself: "
        "`tierproof done SORT NAME=ANSWER`");
  return exit;
}

void say_offered(const std::vector<SortOffered>& offered, const State& state) {
  for (const auto& one : offered) {
    const bool has = state.regular_sorts.contains(RegularSortId{one.id});
    Door::say(fmt::format("  {} {:22} {}", has ? "[x]" : "[ ]", one.id, one.sort.name));
  }
}

}  // namespace

void regular_options(CLI::App& app, Door& door) {
  struct Options {
    std::vector<std::string> files, take_over;
    std::string from;
  };
  auto options = std::make_shared<Options>();
  app.add_option("file", options->files, "a sort of your own, or a changed one: a JSON file as in reference/plan/regular-records.json");
  app.add_option("--take-over", options->take_over, "short names of the starting set to take over, or all; without any, the set is shown");
  app.add_option("--from", options->from, "with --take-over: the first day; else today");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const auto from = maybe_date("--from", options->from);
      if (!options->files.empty()) {
        if (!options->take_over.empty() || from) bad_option("--take-over", "", "take over and add your own one after the other");
        std::vector<GivenDocument> documents;
        for (const auto& file : options->files) documents.push_back(document_of(file));
        return d.record([&](Session& session) { return add_sorts(session, documents, load_regular_sorts(d.data())); });
      }
      if (!options->take_over.empty())
        return d.record([&](Session& session) { return take_over_sorts(session, load_regular_sorts(d.data()), options->take_over, from); });
      return d.read([&](Session& session) {
        const auto offered = load_regular_sorts(d.data());
        if (d.json) {
          Json::Array list;
          for (const auto& one : offered)
            list.push_back(Json{Json::Object{{"sort", Json{one.id}},
                                             {"name", Json{one.sort.name}},
                                             {"taken_over", Json{session.state().regular_sorts.contains(RegularSortId{one.id})}}}});
          d.print(Json{Json::Object{{"schema", Json{"tierproof/regular/1"}}, {"sorts", Json{std::move(list)}}}}, session.kitchen().demo);
          return exit_status::done;
        }
        Door::mark_demo(session.kitchen().demo);
        Door::say("A starting point: take over what fits your work, change it in a file of your own, add what is missing.");
        say_offered(offered, session.state());
        return exit_status::done;
      });
    };
  });
}

void done_options(CLI::App& app, Door& door) {
  struct Options {
    std::string sort, due, note, at;
    std::vector<std::string> values;
  };
  auto options = std::make_shared<Options>();
  app.add_option("sort", options->sort, "short name of the sort")->required();
  app.add_option("answers", options->values, "NAME=ANSWER for each field, seen=no");
  app.add_option("--for", options->due, "the due day it is for, where that is not told by when it was done");
  app.add_option("--note", options->note, "what else there is to say; needed when something is not as it should be");
  app.add_option("--at", options->at, "when it was done; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      RegularMade made{options->sort, {}, maybe_date("--for", options->due), options->note, options->at};
      for (const auto& value : options->values) made.values.push_back(pair_of("answers", value, "NAME=ANSWER, such as seen=no"));
      return d.record([&](Session& session) { return record_regular(session, made); },
                      [&](const Session& session, const Booked& booked) {
                        if (session.state().regular_sorts.at(RegularSortId{made.sort}).value.due.every == "when it happens") return;
                        const Date far = add_days(session.today(), 400);
                        const auto items = due_between(session, add_days(session.today(), -800), far);
                        const auto item = std::find_if(items.begin(), items.end(), [&](const DueItem& one) {
                          return one.sort == made.sort && one.note == booked.sequences.front();
                        });
                        Door::say(item == items.end()
                                      ? std::string{"  counts for no due day: `tierproof due` tells what is open"}
                                      : fmt::format("  counts for {}: {}", format_date_long(*item->day.due), words_of(item->state)));
                      });
    };
  });
}

void all_fine_options(CLI::App& app, Door& door) {
  struct Options {
    std::vector<std::string> except;
    std::string at;
    bool end = false;
  };
  auto options = std::make_shared<Options>();
  app.add_option("--except", options->except, "short names of sorts that are not, or not looked at yet");
  app.add_option("--at", options->at, "when it was done; else now");
  app.add_flag("--end", options->end, "those that are done at the end of work; without it those at its start or at any time");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.write<AllFine>([&](Session& session) { return record_all_fine(session, options->except, options->at, options->end); },
                              [&](const Session& session, const AllFine& told) {
                                if (d.json) {
                                  Booked booked = told.booked;
                                  if (booked.sequences.empty()) booked.head = session.head();
                                  return d.print_booked(session, booked, Json::Object{{"left", lines_json(told.left)}});
                                }
                                d.print_booked(session, told.booked);
                                if (told.booked.sequences.empty()) Door::mark_demo(session.kitchen().demo);
                                if (told.booked.sequences.empty()) Door::say("nothing was left that \"all fine\" can tell");
                                for (std::size_t i = 0; i < told.left.size(); ++i)
                                  Door::say(fmt::format("  still to do: {}  {}", told.left[i], told.left_words[i]));
                                return exit_status::done;
                              });
    };
  });
}

void day_off_options(CLI::App& app, Door& door) {
  struct Options {
    std::string from, until;
    std::vector<std::string> weekdays;
  };
  auto options = std::make_shared<Options>();
  app.add_option("day", options->from, "the day, or the first of several; else today");
  app.add_option("--until", options->until, "the last day off");
  app.add_option("--each-week", options->weekdays,
                 "days of the week on which the kitchen is closed from that day on, in the place of those told before; none");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const DayOffTold told{maybe_date("day", options->from), maybe_date("--until", options->until), options->weekdays};
      return d.record([&](Session& session) { return tell_day_off(session, told); });
    };
  });
}

void due_options(CLI::App& app, Door& door) {
  struct Options {
    std::string on, calendar;
    int months = 3;
    bool not_daily = false;
  };
  auto options = std::make_shared<Options>();
  app.add_option("--on", options->on, "the day; else today");
  app.add_option("--calendar", options->calendar, "write what is due as a calendar file (iCalendar) instead");
  app.add_option("--months", options->months, "of the calendar: how many months ahead; else 3")->check(whole_number(1, 36));
  app.add_flag("--not-daily", options->not_daily, "of the calendar: leave out what is due each working day");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.read([&](Session& session) {
        if (options->calendar.empty())
          return say_due(d, session, due_on(session, maybe_date("--on", options->on).value_or(session.today())));
        if (!options->on.empty()) bad_option("--on", options->on, "leave it out: a calendar begins today");
        const std::string text = due_calendar(session, options->months, !options->not_daily);
        save_file(options->calendar, text);
        std::int64_t events = 0;
        for (auto at = text.find("BEGIN:VEVENT"); at != std::string::npos; at = text.find("BEGIN:VEVENT", at + 1)) ++events;
        if (d.json) {
          d.print(
              Json{Json::Object{{"schema", Json{"tierproof/due-calendar/1"}}, {"file", Json{options->calendar}}, {"days", Json{events}}}},
              session.kitchen().demo);
          return exit_status::done;
        }
        Door::mark_demo(session.kitchen().demo);
        Door::say(fmt::format("{}: {} due days of the {} ahead", options->calendar, events,
                              options->months == 1 ? "month" : fmt::format("{} months", options->months)));
        return exit_status::done;
      });
    };
  });
}

void book_missed_options(CLI::App& app, Door& door) {
  app.callback([&door] {
    door.action = [](Door& d) {
      return d.write<Booked>([](Session& session) { return book_missed(session); },
                             [&](const Session& session, const Booked& booked) {
                               if (d.json) return d.print_booked(session, booked);
                               Door::mark_demo(session.kitchen().demo);
                               if (booked.sequences.empty()) Door::say("nothing was missed that is not recorded");
                               for (const auto& missed : session.state().missed) {
                                 if (std::find(booked.sequences.begin(), booked.sequences.end(), missed.sequence) == booked.sequences.end())
                                   continue;
                                 Door::say(fmt::format("{} of {} was missed: recorded as note {}", missed.value.about,
                                                       format_date_long(missed.value.day), missed.sequence));
                               }
                               return exit_status::done;
                             });
    };
  });
}

}  // namespace tierproof::cli
