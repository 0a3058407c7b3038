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

std::string_view month_name(const DateMarkTerm& term, Date date) {
  const std::size_t month = unsigned{date.month()} - 1;
  return term.months.size() == month_names.size() ? std::string_view{term.months[month]} : month_names.at(month);
}

/// Day, month and year in the order of the row; a part that is not asked is left out.
std::string written(const DateMarkTerm& term, Date date, bool with_day, bool with_year) {
  const std::string year = with_year ? fmt::format("{}", int{date.year()}) : "";
  const std::string day = !with_day ? "" : fmt::format("{:0{}}", unsigned{date.day()}, term.year_first ? 2 : 1);
  const std::string month{month_name(term, date)};
  std::string text;
  for (const std::string& each : {term.year_first ? year : day, month, term.year_first ? day : year}) {
    if (!each.empty()) text += (text.empty() ? "" : " ") + each;
  }
  return text;
}

/// How full a form is: a form is enough for every life that a less full one is enough for.
int fullness(std::string_view form) {
  if (form == "day month") return 2;
  if (form == "month year") return 1;
  return 0;
}

int days_between(Date from, Date to) { return static_cast<int>((std::chrono::sys_days{to} - std::chrono::sys_days{from}).count()); }

DateMark mark(const DateMarkTerm& term, std::string_view form, Date last) {
  DateMark made{std::string{form}, "", last, 0, term.cited};
  if (form == "day month year") made.text = term.wording + " " + written(term, last, true, true);
  if (form == "day month") made.text = term.wording + " " + written(term, last, true, false);
  if (form == "month year") {
    made.text = term.wording + " " + written(term, last, false, true);
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

/// Use by for what is soon dangerous, where the rules know it; else best before.
std::string kind_of(bool soon_dangerous, std::span<const DateMarkTerm> terms) {
  const bool known = std::any_of(terms.begin(), terms.end(), [](const DateMarkTerm& term) { return term.kind == "use by"; });
  return soon_dangerous && known ? "use by" : "best before";
}

}  // namespace

Date add_months(Date date, int months) {
  const std::chrono::year_month month = std::chrono::year_month{date.year(), date.month()} + std::chrono::months{months};
  const Date moved = month / date.day();
  return moved.ok() ? moved : Date{month / std::chrono::last};
}

Result<DateMarks> date_marks(Date made, Life life, bool soon_dangerous, std::span<const DateMarkTerm> terms) {
  const std::string kind = kind_of(soon_dangerous, terms);
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

DateNeed judge_date_need(bool soon_dangerous, std::optional<std::int64_t> life_hours, Date made, std::optional<Life> life,
                         const LabelTerms& terms) {
  if (terms.date_marks.empty()) return {false, "", "these rules ask for no date", "", {}};
  const std::string kind = kind_of(soon_dangerous, terms.date_marks);
  const auto first =
      std::find_if(terms.date_marks.begin(), terms.date_marks.end(), [&](const DateMarkTerm& term) { return term.kind == kind; });
  if (first == terms.date_marks.end()) return {false, "", fmt::format("these rules ask for no {} date", kind), "", {}};
  if (soon_dangerous) {
    return {true,
            kind,
            kind == "use by" ? "it is highly perishable and soon dangerous, so the date is a use-by date"
                             : "it is highly perishable and soon dangerous; these rules know no use-by date, so its storage stands beside "
                               "the best-before date",
            cite(first->cited),
            {}};
  }
  DateNeed need{true, kind, "it is not soon dangerous, so the date is a best-before date", cite(first->cited), {}};
  for (const DateExemptionTerm& row : terms.date_exemptions) {
    if (row.kind != kind || !life_hours || *life_hours > row.life_up_to_hours) continue;
    const std::string words = fmt::format("it keeps no longer than {} hours: {}", row.life_up_to_hours, row.words);
    if (row.cited.firm()) return {false, kind, words, cite(row.cited), {}};
    need.confirm = fmt::format("{} {}; from memory: confirm it with the food authority", words, cite(row.cited));
  }
  if (!life || (life->months == 0 && life->days == 0)) return need;
  const std::chrono::sys_days last = std::chrono::sys_days{add_months(made, life->months)} + std::chrono::days{life->days};
  const DateMarkTerm* longest = nullptr;
  for (const DateMarkTerm& term : terms.date_marks) {
    if (term.kind != kind) continue;
    if (!term.life_up_to_months) return need;
    if (longest == nullptr || *term.life_up_to_months > *longest->life_up_to_months) longest = &term;
  }
  if (last <= std::chrono::sys_days{add_months(made, *longest->life_up_to_months)}) return need;
  const std::string words = fmt::format("it keeps longer than {} months", *longest->life_up_to_months);
  if (longest->cited.firm()) return {false, kind, words, cite(longest->cited), {}};
  need.confirm = fmt::format("{} {}; from memory: confirm it with the food authority", words, cite(longest->cited));
  return need;
}

LotMark judge_lot_mark(const LabelTerms& terms, const std::optional<RouteTerm>& route, std::optional<std::int64_t> face_mm2,
                       std::string_view date_form, std::string_view code, bool year_first) {
  constexpr std::int64_t mm2_per_cm2 = 100;
  if (!terms.lot_mark) return {false, std::string{code}, "these rules ask for no lot mark", ""};
  const LotMarkTerm& term = *terms.lot_mark;
  LotMark mark{false, fmt::format("{}{}{}", term.prefix, term.prefix.size() > 1 ? " " : "", code), "", cite(term.cited)};
  if (route && std::find(route->on_pack.begin(), route->on_pack.end(), "lot") == route->on_pack.end()) {
    mark.why = "sold in this way, the pack needs no lot mark";
    mark.source = cite(route->cited);
  } else if (term.not_below_face_cm2 && face_mm2 && *face_mm2 < *term.not_below_face_cm2 * mm2_per_cm2) {
    mark.why = fmt::format("the largest face is under {} cm²", *term.not_below_face_cm2);
  } else if (term.not_with_day_and_month && !year_first && (date_form == "day month" || date_form == "day month year")) {
    mark.why = "a date with day and month, in that order, stands for it";
  } else {
    mark.due = true;
    mark.why = date_form.empty() ? "no date stands on the pack" : "the date that stands on the pack does not stand for it";
    if (!term.not_with_day_and_month) mark.why = "the law asks for it";
  }
  return mark;
}

}  // namespace tierproof
