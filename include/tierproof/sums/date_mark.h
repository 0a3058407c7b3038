#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/sums/label_terms.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// How long a food keeps from the day it was made: months first, then days.
struct Life {
  int months = 0;
  int days = 0;
};

/// `date` moved by calendar months; a day that the month does not have becomes its last (31 January and a month: 28 February).
Date add_months(Date date, int months);

/// One lawful way to write the date.
struct DateMark {
  std::string form;        ///< `day month year`, `day month`, `month year`, `year`
  std::string text;        ///< `Best before end October 2027`
  Date reaches{};          ///< last day that the text grants
  int days_past_life = 0;  ///< how far that is beyond the last day of the life: 0 but for a month that the life ends within
  Cited cited;
};

struct DateMarks {
  std::string kind;               ///< `use by`, `best before`
  Date last{};                    ///< last day of the life
  bool storage_needed = false;    ///< the conditions of storage must stand with it
  std::vector<DateMark> allowed;  ///< the fullest first: that one never grants a day beyond the life
};

/// The ways to write the date of a food made on `made`.
///
/// A food that is soon dangerous gets a use-by date, which always names its day. Else the rows of `best before` say up to which life a
/// form is enough; fuller forms stay allowed. Day and month together may always carry the year, which the first way does. A month
/// is the one in which the life ends; a year alone is the last full year inside the life. Names of months are the row's own; a row
/// with the year first writes year, month, and the day in two figures. Rules that know no use-by date have a best-before date for such
/// a food too, with the storage beside it.
/// @param soon_dangerous  highly perishable microbiologically, and so soon a danger to health: the maker's decision
/// @return refused: a life that is not positive, terms without a row for the kind
/// @source Reg (EU) 1169/2011 art. 24, Annex X
Result<DateMarks> date_marks(Date made, Life life, bool soon_dangerous, std::span<const DateMarkTerm> terms);

/// Whether a date stands on the label, which one, and why.
struct DateNeed {
  bool needed = true;
  std::string kind;       ///< `use by`, `best before`; empty when these rules have neither
  std::string why;        ///< one sentence
  std::string source;     ///< of the row that asks for it or spares it; may be empty
  std::string confirm{};  ///< not empty: a row from memory might spare it, once somebody has confirmed that row
};
/// A use-by date replaces best before where food is soon dangerous, and is never spared. A best-before date is spared by an exemption
/// whose life is not passed, and by a life that all rows leave behind. A life that is not known spares nothing; nor does an exemption
/// from memory that nobody confirmed.
/// @param life_hours  how long it keeps from when it was made, in hours
/// @param life        the same in months and days, for rows that go by months; `made` is where it counts from
DateNeed judge_date_need(bool soon_dangerous, std::optional<std::int64_t> life_hours, Date made, std::optional<Life> life,
                         const LabelTerms& terms);

/// Whether the pack must carry a lot mark.
struct LotMark {
  bool due = false;
  std::string text;    ///< prefix and code, `L7`; also where none is due, since it may always stand there
  std::string why;     ///< one sentence
  std::string source;  ///< may be empty
};
/// @param route      the way of selling; nothing: not known, so a mark is due wherever the rules have one
/// @param face_mm2   largest face; nothing: not known, which never spares the mark
/// @param date_form  form of the date that stands on the pack (`DateMark::form`); empty: none
/// A day and a month spare the mark only in that order, so not where the row of the date writes the year first.
LotMark judge_lot_mark(const LabelTerms& terms, const std::optional<RouteTerm>& route, std::optional<std::int64_t> face_mm2,
                       std::string_view date_form, std::string_view code, bool year_first = false);

}  // namespace tierproof
