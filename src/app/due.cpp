// What is due, by the records.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "regular_rules.h"
#include "tierproof/app/regular.h"
#include "tierproof/log/hash.h"
#include "tierproof/sums/date_mark.h"
#include "tierproof/text/icalendar.h"

namespace tierproof {
namespace {

/// A note that may count for a due day of a sort.
struct Made {
  DoneOn done;
  std::uint64_t sequence = 0;
  bool typed_late = false;
  const RegularDone* record = nullptr;  ///< of a note of this program's regular records
};

/// A version of a sort with the days that it holds for.
struct SortVersion {
  const Recorded<RegularSort>* sort = nullptr;
  std::optional<Date> end{};  ///< the day before the next version; nothing: the newest
};

std::map<std::string, std::vector<SortVersion>> versions_of(const State& state) {
  std::map<std::string, std::vector<SortVersion>> all;
  for (const auto& [place, sort] : state.regular_sort_versions) {
    auto& versions = all[sort.subject];
    const Date before = add_days(sort.value.from, -1);
    for (auto& version : versions) version.end = version.end ? std::min(*version.end, before) : before;
    versions.push_back({&sort, {}});
  }
  return all;
}

bool counts(const RegularSort& sort, const Note& note) {
  return !note.body.is_null() && std::find(sort.counts.begin(), sort.counts.end(), note.kind) != sort.counts.end();
}

/// The notes that are records of a sort, of `about` alone where that is not empty, in the order of time.
std::vector<Made> made_of(const Session& session, const Recorded<RegularSort>& sort, const std::string& about) {
  std::vector<Made> made;
  if (sort.value.counts.empty()) {
    for (const auto& done : session.state().regular_done) {
      if (done.value.sort.text() == sort.subject)
        made.push_back({{day_of(done), done.value.due}, done.sequence, done.how == "typed_late", &done.value});
    }
  } else {
    for (const Note& note : session.notes()) {
      if (counts(sort.value, note) && (about.empty() || note.subject == about))
        made.push_back({{day_of(note.happened, note.offset), {}}, note.sequence, note.how == "typed_late", nullptr});
    }
  }
  std::stable_sort(made.begin(), made.end(), [](const Made& a, const Made& b) { return a.done.day < b.done.day; });
  return made;
}

/// For each of `days` of a version the record that counts for it, or nothing. What is due after its `end`, since a closed day moved it
/// there, may still be recorded then.
/// @param used  notes that count for another version, with which two versions of a sort meet; those that are taken here are added
std::vector<const Made*> counted(const DueRule& rule, const std::vector<DueDay>& days, const std::vector<Made>& made, Date first,
                                 std::optional<Date> end, std::set<std::uint64_t>& used) {
  std::vector<const Made*> within;
  std::vector<DoneOn> done;
  for (const auto& day : days) {
    if (end && day.due && *day.due > *end) end = day.due;
  }
  for (const Made& one : made) {
    const Date by = one.done.due.value_or(one.done.day);
    if (used.contains(one.sequence) || by < add_days(first, -rule.early_days) || (end && by > *end)) continue;
    within.push_back(&one);
    done.push_back(one.done);
  }
  std::vector<const Made*> found(days.size(), nullptr);
  const auto which = counts_for(rule, days, done);
  for (std::size_t i = 0; i < which.size(); ++i) {
    if (!which[i]) continue;
    found[*which[i]] = within[i];
    used.insert(within[i]->sequence);
  }
  return found;
}

class DueOfVersion {
 public:
  /// @param used  notes that count for an earlier version; those that count for this one are added
  DueOfVersion(const Session& session, const SortVersion& version, const ClosingDays& closing, Date until, std::set<std::uint64_t>& used)
      : session_{session}, sort_{*version.sort}, rule_{due_rule_of(sort_.value)}, end_{version.end}, used_{used} {
    Date last = until;
    for (const auto& bound : {version.end, sort_.value.until}) {
      if (bound) last = std::min(last, *bound);
    }
    if (last < sort_.value.from) return;
    days_ = due_days(rule_, sort_.value.from, last, closing);
    if (days_.empty()) return;
    if (sort_.value.each == "thermometer") {
      each_thermometer();
    } else {
      one_is_enough();
    }
  }
  std::vector<DueItem> items;

 private:
  void one_is_enough() {
    const auto made = made_of(session_, sort_, "");
    const auto found = counted(rule_, days_, made, sort_.value.from, end_, used_);
    for (std::size_t i = 0; i < days_.size(); ++i) add(days_[i], found[i], {});
  }

  /// Done once each thermometer that there was on the due day has its own note; the last of them tells when.
  void each_thermometer() {
    std::vector<std::pair<const Recorded<Probe>*, std::vector<Made>>> notes;
    for (const auto& [id, probe] : session_.state().probes) notes.emplace_back(&probe, made_of(session_, sort_, id.text()));
    std::vector<std::vector<const Made*>> found;
    for (const auto& [probe, made] : notes) found.push_back(counted(rule_, days_, made, sort_.value.from, end_, used_));
    for (std::size_t i = 0; i < days_.size(); ++i) {
      const Made* last = nullptr;
      std::vector<std::string> waiting;
      for (std::size_t p = 0; p < notes.size(); ++p) {
        if (!days_[i].due || day_of(*notes[p].first) > *days_[i].due) continue;
        const Made* one = found[p][i];
        if (one == nullptr) {
          waiting.push_back(notes[p].first->subject);
        } else if (last == nullptr || one->done.day > last->done.day) {
          last = one;
        }
      }
      add(days_[i], waiting.empty() ? last : nullptr, waiting);
    }
  }

  void add(const DueDay& day, const Made* made, std::vector<std::string> waiting) {
    DueItem item;
    item.sort = sort_.subject;
    item.name = sort_.value.name;
    item.rule = words_of(rule_);
    if (!sort_.value.part_of_day.empty()) item.rule += fmt::format(", at the {}", sort_.value.part_of_day);
    item.who = sort_.value.who;
    item.told_by = fmt::format("{}", fmt::join(sort_.value.counts, ", "));
    item.day = day;
    if (made != nullptr) {
      item.note = made->sequence;
      item.done_on = made->done.day;
      item.typed_late = made->typed_late;
      if (made->record != nullptr) item.wanting = wanting_of(sort_.value, *made->record);
    } else {
      item.waiting = std::move(waiting);
    }
    for (const auto& missed : session_.state().missed) {
      if (missed.value.of.empty() || missed.value.about != sort_.subject || missed.value.day != day.due) continue;
      item.missed = missed.sequence;
      item.because = missed.value.because;
    }
    if (day.due) {
      if (const auto* off = told_afterwards(session_.state(), *day.due)) item.not_worked = off->sequence;
    }
    item.state = state_of(day, item.done_on, item.missed.has_value(), session_.today());
    items.push_back(std::move(item));
  }

  const Session& session_;
  const Recorded<RegularSort>& sort_;
  DueRule rule_;
  std::optional<Date> end_;
  std::set<std::uint64_t>& used_;
  std::vector<DueDay> days_;
};

Date stands_under(const DueItem& item) { return item.day.due.value_or(item.day.by_rule); }

/// Which note says that nobody works on `day`; empty where none does.
std::string not_working_words(const State& state, Date day) {
  const Recorded<DayOff>* by = told_afterwards(state, day);
  for (const auto& off : state.days_off) {
    ClosingDays alone;
    State one;
    one.days_off.push_back(off);
    if (closing_days_of(one).closed(day)) by = &off;
  }
  if (by == nullptr) return "";
  const Date told = day_of(by->written, by->offset);
  return fmt::format("{}, note {}{}", by->value.weekly ? "closed each week on this day" : "nobody works", by->sequence,
                     told > day ? fmt::format(", told on {}, afterwards", format_date_long(told)) : "");
}

}  // namespace

std::vector<DueItem> due_between(const Session& session, Date from, Date until) {
  const ClosingDays closing = closing_days_of(session.state());
  std::vector<DueItem> found;
  for (const auto& [id, versions] : versions_of(session.state())) {
    std::vector<DueItem> of_sort;
    std::set<std::uint64_t> used;
    // A due day may be moved by a closing that lies ahead, so the periods are worked out a little further than they are asked for.
    for (const auto& version : versions) {
      auto items = DueOfVersion{session, version, closing, add_days(until, 62), used}.items;
      of_sort.insert(of_sort.end(), std::make_move_iterator(items.begin()), std::make_move_iterator(items.end()));
    }
    DueItem* last = nullptr;
    for (auto& item : of_sort) {
      if (item.day.due && *item.day.due < session.today()) last = &item;
    }
    if (last != nullptr) last->last = true;
    for (auto& item : of_sort) {
      if (stands_under(item) >= from && stands_under(item) <= until) found.push_back(std::move(item));
    }
  }
  std::stable_sort(found.begin(), found.end(), [](const DueItem& a, const DueItem& b) { return stands_under(a) < stands_under(b); });
  return found;
}

bool DueView::wanting() const {
  return !open.empty() || !not_fine.empty() ||
         std::any_of(due.begin(), due.end(), [](const DueItem& item) { return !item.wanting.empty() && item.answered.empty(); });
}

DueView due_on(const Session& session, Date day) {
  const State& state = session.state();
  DueView view;
  view.on = day;
  view.working = !closing_days_of(state).closed(day);
  view.not_working = not_working_words(state, day);
  for (auto& item : due_between(session, Date{std::chrono::year{1}, std::chrono::January, std::chrono::day{1}}, day)) {
    const Date due = stands_under(item);
    const auto& sort = state.regular_sorts.at(RegularSortId{item.sort}).value;
    if (due >= add_days(day, -28) && due < day && item.state == DueState::missed) ++view.missed_lately;
    if (due == day) {
      view.due.push_back(std::move(item));
    } else if (item.state == DueState::overdue ||
               (item.state == DueState::missed && item.last && due_rule_of(sort).every != DueEvery::working_day)) {
      view.open.push_back(std::move(item));
    }
  }
  for (auto& one : records_not_fine(session)) {
    const auto shown = std::find_if(view.due.begin(), view.due.end(), [&](const DueItem& item) { return item.note == one.note; });
    if (shown != view.due.end()) {
      shown->answered = one.answered;
    } else if (one.answered.empty() && one.day <= day) {
      view.not_fine.push_back(std::move(one));
    }
  }
  for (const auto& [id, sort] : state.regular_sorts) {
    if (sort.value.due.every != "when it happens" || sort.value.from > day || (sort.value.until && *sort.value.until < day)) continue;
    WhenItHappens one{id.text(), sort.value.name, fmt::format("{}", fmt::join(sort.value.counts, ", "))};
    for (const Made& made : made_of(session, sort, "")) {
      if (made.done.day > day) continue;
      one.note = made.sequence;
      one.day = made.done.day;
    }
    view.whenever.push_back(std::move(one));
  }
  return view;
}

std::string due_calendar(const Session& session, int months, bool daily) {
  const State& state = session.state();
  const Date today = session.today();
  const Date until = add_months(today, months);
  const std::string kitchen = session.store().entries(1, 1).front().kitchen;
  std::vector<CalendarDay> days;
  for (const auto& item : due_between(session, today, until)) {
    if (item.state != DueState::today && item.state != DueState::to_come) continue;
    const auto& sort = state.regular_sorts.at(RegularSortId{item.sort}).value;
    if (!daily && due_rule_of(sort).every == DueEvery::working_day) continue;
    // UUID version 8 (RFC 9562): stable for the kitchen, the sort and the period, and nothing can be read off it.
    std::string hex = to_hex(sha256(fmt::format("due {} {} {}", kitchen, item.sort, format_date(item.day.by_rule)))).substr(0, 32);
    hex[12] = '8';
    hex[16] = "89ab"[static_cast<unsigned char>(hex[16]) % 4];
    const std::string uid =
        fmt::format("{}-{}-{}-{}-{}", hex.substr(0, 8), hex.substr(8, 4), hex.substr(12, 4), hex.substr(16, 4), hex.substr(20));
    days.push_back({uid, *item.day.due, session.kitchen().demo ? "DEMO " + item.name : item.name, sort.what});
  }
  return write_icalendar(days, session.now());
}

}  // namespace tierproof
