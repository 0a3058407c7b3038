#include "tierproof/sums/date_mark.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>

namespace tierproof {
namespace {

constexpr std::array<std::string_view, 12> month_names = {"January", "February", "March",     "April",   "May",      "June",
                                                          "July",    "August",   "September", "October", "November", "December"};

std::string_view month_name(Date date) { return month_names.at(unsigned{date.month()} - 1); }

/// How full a form is: a form is enough for every life that a less full one is enough for.
int fullness(std::string_view form) {
  if (form == "day month") return 2;
  if (form == "month year") return 1;
  return 0;
}

int days_between(Date from, Date to) { return static_cast<int>((std::chrono::sys_days{to} - std::chrono::sys_days{from}).count()); }

DateMark mark(const DateMarkTerm& term, std::string_view form, Date last) {
  DateMark made{std::string{form}, "", last, 0, term.cited};
  const unsigned day{last.day()};
  const int year{last.year()};
  if (form == "day month year") made.text = fmt::format("{} {} {} {}", term.wording, day, month_name(last), year);
  if (form == "day month") made.text = fmt::format("{} {} {}", term.wording, day, month_name(last));
  if (form == "month year") {
    made.text = fmt::format("{} {} {}", term.wording, month_name(last), year);
    made.reaches = Date{last.year() / last.month() / std::chrono::last};
  }
  if (form == "year") {
    const Date new_years_eve{last.year() / std::chrono::December / 31};
    made.reaches = last == new_years_eve ? last : Date{(last.year() - std::chrono::years{1}) / std::chrono::December / 31};
    made.text = fmt::format("{} {}", term.wording, int{made.reaches.year()});
  }
  made.days_past_life = std::max(0, days_between(last, made.reaches));
  return made;
}

}  // namespace

Date add_months(Date date, int months) {
  const std::chrono::year_month month = std::chrono::year_month{date.year(), date.month()} + std::chrono::months{months};
  const Date moved = month / date.day();
  return moved.ok() ? moved : Date{month / std::chrono::last};
}

Result<DateMarks> date_marks(Date made, Life life, bool soon_dangerous, std::span<const DateMarkTerm> terms) {
  const std::string kind = soon_dangerous ? "use by" : "best before";
  Refusals refusals;
  if (life.months < 0 || life.days < 0 || (life.months == 0 && life.days == 0)) {
    refusals.push_back({"", 0, "life", "it keeps for no time at all", "give a life of one day or more"});
  }
  std::vector<const DateMarkTerm*> rows;
  for (const DateMarkTerm& term : terms) {
    if (term.kind == kind) rows.push_back(&term);
  }
  if (rows.empty()) refusals.push_back({"", 0, "date mark", fmt::format("these rules have no row for {}", kind), "mend the rule pack"});
  if (!refusals.empty()) return refusals;

  DateMarks marks;
  marks.kind = kind;
  marks.last = Date{std::chrono::sys_days{add_months(made, life.months)} + std::chrono::days{life.days}};
  marks.storage_needed = soon_dangerous;
  const auto reaches = [&](const DateMarkTerm& term) {
    return !term.life_up_to_months || std::chrono::sys_days{marks.last} <= std::chrono::sys_days{add_months(made, *term.life_up_to_months)};
  };
  std::stable_sort(rows.begin(), rows.end(), [](const auto* a, const auto* b) { return fullness(a->form) > fullness(b->form); });
  for (const DateMarkTerm* row : rows) {
    if (row->form == "day month") {
      marks.allowed.push_back(mark(*row, "day month year", marks.last));
      if (reaches(*row)) marks.allowed.push_back(mark(*row, "day month", marks.last));
      continue;
    }
    // A less full form needs a life that every fuller form does not reach any more.
    const bool fuller_needed = std::any_of(rows.begin(), rows.end(), [&](const DateMarkTerm* other) {
      return fullness(other->form) > fullness(row->form) && reaches(*other);
    });
    if (!fuller_needed) {
      const DateMark less = mark(*row, row->form, marks.last);
      if (std::chrono::sys_days{less.reaches} > std::chrono::sys_days{made}) marks.allowed.push_back(less);
    }
  }
  if (marks.allowed.empty()) {
    return Refusal{"", 0, "date mark", fmt::format("these rules have no form of {} for this life", kind), "mend the rule pack"};
  }
  return marks;
}

}  // namespace tierproof
