// Regular records made, days off, and what a scheduler books.
#include "tierproof/app/regular.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "checking.h"
#include "regular_rules.h"

namespace tierproof {
namespace {

/// A number as it is kept: `-1.5` for `−1,5 °C`; nothing when it is none or has another unit.
std::optional<std::string> number_of(std::string_view text, const std::string& unit) {
  std::string_view number = trimmed(text);
  if (!unit.empty() && number.ends_with(unit)) number = trimmed(number.substr(0, number.size() - unit.size()));
  if (!parse_decimal(number)) return std::nullopt;
  std::string plain{number};
  for (std::size_t at; (at = plain.find("\u2212")) != std::string::npos;) plain.replace(at, 3, "-");
  std::replace(plain.begin(), plain.end(), ',', '.');
  return plain;
}

/// The answer as it is kept; what is wrong with it is refused.
std::string answer_of(Checking& checking, const State& state, const RegularField& field, const std::string& text) {
  const std::string& type = field.type;
  if (type == "number") {
    const auto number = number_of(text, field.unit);
    if (!number)
      checking.refuse(field.id, fmt::format("\"{}\" is not a number{}", text, field.unit.empty() ? "" : fmt::format(" of {}", field.unit)),
                      "write it in digits, such as 4 or 2.5");
    return number.value_or("");
  }
  if (type == "yes or no") checking.choice(field.id, text, {"yes", "no"});
  if (type == "one of") checking.choice(field.id, text, field.choices);
  if (type == "date" && !parse_date(text)) checking.refuse(field.id, fmt::format("\"{}\" is not a day", text), "write it as 2026-05-01");
  if (type == "person") checking.known(field.id, state.people, text, "person");
  if (type == "kit") checking.known(field.id, state.equipment, text, "piece of kit");
  if (type == "supplier") checking.known(field.id, state.suppliers, text, "supplier");
  if (type == "text") checking.words(field.id, text);
  return text;
}

bool kept_apart(const RegularField& field) { return field.sealed || field.type == "text" || field.type == "person"; }

/// One answer, checked: the field and what was answered.
using Answers = std::vector<std::pair<const RegularField*, std::string>>;

Answers answers_to(Checking& checking, const State& state, const RegularSort& sort,
                   const std::vector<std::pair<std::string, std::string>>& values) {
  Answers answers;
  std::vector<std::string> ids;
  for (const auto& field : sort.fields) ids.push_back(field.id);
  std::set<std::string> seen;
  for (const auto& [id, text] : values) {
    if (std::find(ids.begin(), ids.end(), id) == ids.end())
      checking.refuse(id, "is no field of this sort",
                      ids.empty() ? "it has none: leave it out" : fmt::format("write one of: {}", fmt::join(ids, ", ")));
    if (!seen.insert(id).second) checking.refuse(id, "is answered twice", "answer it once");
  }
  for (const auto& field : sort.fields) {
    const auto given = std::find_if(values.begin(), values.end(), [&](const auto& one) { return one.first == field.id; });
    if (given != values.end()) {
      answers.emplace_back(&field, answer_of(checking, state, field, given->second));
    } else if (field.needed) {
      checking.refuse(field.id, fmt::format("is missing: {}", field.words), fmt::format("write {}=…", field.id));
    }
  }
  return answers;
}

/// The body of a record; sealed words are sealed here, once everything was checked.
RegularDone record_of(Session& session, const std::string& sort, const Answers& answers, std::optional<Date> due, const std::string& note) {
  RegularDone done{RegularSortId{sort}, due};
  for (const auto& [field, answer] : answers) {
    RegularValue value{field->id};
    if (kept_apart(*field)) {
      value.words = session.seal(answer);
    } else {
      value.value = answer;
    }
    done.values.push_back(std::move(value));
  }
  if (!note.empty()) done.note = session.seal(note);
  return done;
}

std::string how_counted(const RegularSort& sort) {
  for (const auto& [kind, command] : {std::pair{"probe-check/1", "thermometer-check"},
                                      {"cleaning/1", "clean"},
                                      {"disposal/1", "throw-away"},
                                      {"plan-review/1", "plan-review"}}) {
    if (std::find(sort.counts.begin(), sort.counts.end(), kind) != sort.counts.end())
      return fmt::format("record it with `tierproof {}`: that counts", command);
  }
  return fmt::format("record it as the note that it is ({}): that counts", fmt::join(sort.counts, ", "));
}

void check_due_day(Checking& checking, const Session& session, const std::string& sort, Date due) {
  const auto items = due_between(session, due, due);
  auto item = items.end();
  for (auto one = items.begin(); one != items.end(); ++one) {  // a changed sort may be due twice on a day
    if (one->sort == sort && one->day.due == due && (item == items.end() || !one->note)) item = one;
  }
  if (item == items.end())
    return checking.refuse("--for", fmt::format("{} is not due on {}", sort, format_date_long(due)),
                           "see `tierproof due`, or leave it out");
  if (item->note)
    checking.refuse("--for", fmt::format("{} of {} is recorded already, as note {}", sort, format_date_long(due), *item->note),
                    fmt::format("correct note {}, or leave --for out", *item->note));
}

}  // namespace

Result<Booked> record_regular(Session& session, const RegularMade& made) {
  const State& state = session.state();
  Checking checking{session};
  checking.person();
  const auto at = checking.moment(made.at);
  const Date day = day_of(at.at, at.offset);
  const bool known = checking.known("sort", state.regular_sorts, made.sort, "sort of regular record") != nullptr;
  checking.free_words("--note", made.note);
  if (!known) return checking.refusals();
  const RegularSort& sort = version_on(state, made.sort, day)->value;
  if (!sort.counts.empty()) {
    checking.refuse("sort", fmt::format("{} is recorded by notes of its own kind, so that nothing stands there twice", made.sort),
                    how_counted(sort));
    return checking.refusals();
  }
  if (add_days(day, static_cast<int>(sort.due.early_days.value_or(0))) < sort.from)
    checking.refuse("--at", fmt::format("is before {}, the first day of {}", format_date_long(sort.from), made.sort),
                    "record it from that day on");
  const Answers answers = answers_to(checking, state, sort, made.values);
  if (made.due) {
    check_due_day(checking, session, made.sort, *made.due);
    if (*made.due > add_days(day, due_rule_of(sort).early_days))
      checking.refuse("--for", fmt::format("{} is too far ahead", format_date_long(*made.due)), "record it on the day");
  }
  for (const auto& [field, answer] : answers) {
    if (!field->fine.empty() && answer != field->fine && made.note.empty())
      checking.refuse("--note", fmt::format("is missing, and \"{}\" is not as it should be: {}", field->words, answer),
                      "write what you found and what was done; `tierproof went-wrong` too where food may be touched");
  }
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, record_of(session, made.sort, answers, made.due, made.note), made.sort, at);
}

Result<AllFine> record_all_fine(Session& session, const std::vector<std::string>& except, const std::string& when, bool end_of_work) {
  const State& state = session.state();
  Checking checking{session};
  checking.person();
  const auto at = checking.moment(when);
  const Date today = day_of(at.at, at.offset);
  for (const auto& sort : except) checking.known("--except", state.regular_sorts, sort, "sort of regular record");
  if (!checking.good()) return checking.refusals();
  AllFine told;
  std::vector<Draft> drafts;
  const auto before = records_not_fine(session);
  for (const auto& item : due_between(session, today, today)) {
    if (item.day.due != today || item.note) continue;
    if (std::find(except.begin(), except.end(), item.sort) != except.end()) continue;
    const RegularSort& sort = version_on(state, item.sort, today)->value;
    Answers answers;
    std::vector<std::string> open;
    for (const auto& field : sort.fields) {
      if (!field.fine.empty()) answers.emplace_back(&field, field.fine);
      if (field.fine.empty() && field.needed) open.push_back(field.id + "=…");
    }
    std::string by_itself;
    const auto last_time =
        std::find_if(before.begin(), before.end(), [&](const NotFine& one) { return one.sort == item.sort && one.answered.empty(); });
    if (!sort.counts.empty()) {
      by_itself = how_counted(sort);
    } else if (last_time != before.end()) {
      by_itself = fmt::format("it was not as it should be on {}, note {}: `tierproof done {} …` tells how it is now",
                              format_date_long(last_time->day), last_time->note, item.sort);
    } else if (!open.empty()) {
      by_itself = fmt::format("`tierproof done {} {}`", item.sort, fmt::join(open, " "));
    } else if ((sort.part_of_day == "end of work") != end_of_work) {
      by_itself = end_of_work ? "`tierproof all-fine`" : "at the end of work `tierproof all-fine --end`";
    }
    if (!by_itself.empty()) {
      told.left.push_back(item.sort);
      told.left_words.push_back(std::move(by_itself));
      continue;
    }
    drafts.push_back(session.draft(record_of(session, item.sort, answers, today, ""), item.sort, at));
  }
  if (!drafts.empty()) told.booked = session.book(std::move(drafts));
  return told;
}

namespace {

/// Whether a note tells of work in the kitchen on the day it happened: not by a logger or a scheduler.
bool tells_of_work(const Note& note) {
  static const std::set<std::string, std::less<>> work{"lot/1",         "batch/1",    "tier/1",    "cleaning/1",    "readings/1",
                                                       "probe-check/1", "stay/1",     "top-up/1",  "hand-over/1",   "opened/1",
                                                       "emptied/1",     "disposal/1", "release/1", "regular-done/1"};
  return !note.body.is_null() && note.how != "logger" && note.how != "scheduled" && work.contains(note.kind);
}

}  // namespace

Result<Booked> tell_day_off(Session& session, const DayOffTold& told) {
  const State& state = session.state();
  Checking checking{session};
  checking.person();
  DayOff off;
  off.from = told.from.value_or(session.today());
  const bool each_day_open = told.weekdays == std::vector<std::string>{"none"};
  off.weekly = !told.weekdays.empty();
  const auto closing = closing_days_of(state);
  if (off.weekly) {
    if (told.until) checking.refuse("--until", "does not go with --each-week", "tell it anew when the closing days change");
    if (off.from < session.today())
      checking.refuse("day", "is past", "closing days of the week hold from today or a later day; tell past days one by one");
    for (const auto& day : told.weekdays) {
      if (!each_day_open) checking.choice("--each-week", day, weekday_words());
    }
    for (const auto& day : weekday_words()) {  // in their order, each once
      if (std::find(told.weekdays.begin(), told.weekdays.end(), day) != told.weekdays.end()) off.weekdays.push_back(day);
    }
    if (off.weekdays.size() == weekday_words().size())
      checking.refuse("--each-week", "leaves no working day", "tell a time away with a day and --until");
  } else {
    off.until = told.until.value_or(off.from);
    if (*off.until < off.from) checking.refuse("--until", "is before the first day", "write the last day off");
    if (*off.until > add_days(off.from, 366)) checking.refuse("--until", "is more than a year away", "tell a shorter time");
    bool news = false;
    for (Date day = off.from; day <= *off.until; day = add_days(day, 1))
      news = news || (!closing.closed(day) && !told_afterwards(state, day));
    if (!news)
      checking.refuse(
          "day", fmt::format("nobody works from {} to {} by the records already", format_date_long(off.from), format_date_long(*off.until)),
          "nothing more to do");
  }
  for (const Note& note : session.notes()) {
    if (!tells_of_work(note)) continue;
    const Date day = day_of(note.happened, note.offset);
    const auto weekday = weekday_words().at((std::chrono::weekday{std::chrono::sys_days{day}}.c_encoding() + 6) % 7);
    const bool closes = off.weekly ? day >= off.from && std::find(off.weekdays.begin(), off.weekdays.end(), weekday) != off.weekdays.end()
                                   : day >= off.from && day <= *off.until;
    if (closes)
      checking.refuse("day", fmt::format("somebody worked on {}: {}, note {}", format_date_long(day), note.subject, note.sequence),
                      "leave that day out, or correct the note");
  }
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, off, "kitchen", checking.moment("now"));
}

Result<Booked> book_missed(Session& session) {
  Booked all;
  all.head = session.head();
  for (;;) {
    const Date yesterday = add_days(session.today(), -1);
    const ZonedInstant now{session.now(), session.offset_at(session.now())};
    std::vector<Draft> drafts;
    for (const auto& item : due_between(session, Date{std::chrono::year{1}, std::chrono::January, std::chrono::day{1}}, yesterday)) {
      if (item.state != DueState::overdue) continue;
      // Its own key: whoever else books it now books the same. One that was taken back is not booked again.
      std::string key = fmt::format("missed/{}/{}", item.sort, format_date(*item.day.due));
      if (session.store().booked_under(key)) continue;
      Missed missed;
      missed.about = item.sort;
      missed.day = *item.day.due;
      missed.because = item.not_worked ? "nobody worked" : "nobody said";
      missed.of = "regular record";
      Draft draft = session.draft(missed, item.sort, now);
      draft.how = Arrival::scheduled;
      draft.client_key = std::move(key);
      drafts.push_back(std::move(draft));
    }
    if (drafts.empty()) return all;
    const Booked booked = session.book(std::move(drafts));
    all.head = booked.head;
    if (booked.already) continue;  // another scheduler was faster: what is left, if anything?
    all.sequences.insert(all.sequences.end(), booked.sequences.begin(), booked.sequences.end());
    all.subjects.insert(all.subjects.end(), booked.subjects.begin(), booked.subjects.end());
    return all;
  }
}

}  // namespace tierproof
