#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/kitchen/entities.h"

namespace tierproof {

/// One thing that a regular record says.
struct RegularField {
  std::string id;                      ///< `seen`
  std::string words;                   ///< `Signs of pests seen?`
  std::string type;                    ///< of `regular_field_types()`
  std::string unit{};                  ///< of a number: `°C`, `pieces`
  std::vector<std::string> choices{};  ///< of `one of`
  bool needed = false;                 ///< it must be filled
  bool sealed = false;                 ///< personal, as health: kept apart. Texts and persons always are
  std::string fine{};                  ///< the answer when all is well; empty: somebody has to look each time
};
/// `text`, `number`, `yes or no`, `one of`, `date`, `person`, `kit`, `supplier`
const std::vector<std::string>& regular_field_types();

/// When it is due (see `DueRule` in sums): words for `every` are those of `regular_due_words()`.
struct RegularDue {
  std::string every;                         ///< `week`
  std::optional<std::int64_t> count{};       ///< of `working days`, `months`, `years`
  std::string on{};                          ///< of `week`: `monday`
  std::optional<std::int64_t> day{};         ///< of `month`: 1 to 31
  std::optional<Date> counted_from{};        ///< of `months`, `years`; nothing: from the first day of the sort
  std::string closed{};                      ///< `next working day`, `working day before`, `falls away`; empty: a working day anyway
  std::optional<std::int64_t> early_days{};  ///< so many days before it may be done
};
/// `working day`, `working days`, `week`, `month`, `months`, `years`, `when it happens`
const std::vector<std::string>& regular_due_words();
/// `monday` to `sunday`
const std::vector<std::string>& weekday_words();

/// `regular/1`: one sort of regular record, by its short name, as it is from a day on.
struct RegularSort {
  std::string name;                  ///< in plain words: `Pests`
  std::string what{};                ///< what is looked at or done
  std::vector<RegularField> fields;  ///< none: that it was done is all there is to say
  RegularDue due;
  std::string who{};                  ///< a role, no name: `whoever locks up`
  std::string plan{};                 ///< id of the row of the plan that it serves, or empty
  std::vector<std::string> counts{};  ///< kinds of notes that are this record, `probe-check/1`: nothing is recorded beside them
  std::string each{};                 ///< of `counts`: `thermometer`, when each has to have a note; empty: one note is enough
  std::string source{};               ///< what it rests on
  Date from{};                        ///< first day
  std::optional<Date> until{};        ///< last day, once it is not kept any more
  std::string part_of_day{};          ///< when in the day it is done, of `parts_of_day()`; empty: at any time of it
};
/// `start of work`, `end of work`
const std::vector<std::string>& parts_of_day();

/// What a record says under one field: in the open, or kept apart.
struct RegularValue {
  std::string field;
  std::string value{};  ///< a number without its unit, a day as 2026-05-01, an id
  Words words{};        ///< of a sealed field
};

/// `regular-done/1`: one regular record.
struct RegularDone {
  RegularSortId sort;
  std::optional<Date> due{};           ///< the due day that it was made for, as told; nothing: the day tells
  std::vector<RegularValue> values{};  ///< in the order of the fields
  Words note{};                        ///< what else there is to say, as what was done about it
};

/// `day-off/1`: nobody works in the kitchen on these days.
struct DayOff {
  Date from{};
  std::optional<Date> until{};          ///< of a range, the last day; of closing days of the week always nothing
  bool weekly = false;                  ///< `weekdays` are closed each week from `from` on, in the place of those told before
  std::vector<std::string> weekdays{};  ///< none: open each day
};

}  // namespace tierproof
