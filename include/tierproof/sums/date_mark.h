#pragma once

#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/terms.h"
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
/// is the one in which the life ends; a year alone is the last full year inside the life.
/// @param soon_dangerous  highly perishable microbiologically, and so soon a danger to health: the maker's decision
/// @return refused: a life that is not positive, terms without a row for the kind
/// @source Reg (EU) 1169/2011 art. 24, Annex X
Result<DateMarks> date_marks(Date made, Life life, bool soon_dangerous, std::span<const DateMarkTerm> terms);

}  // namespace tierproof
