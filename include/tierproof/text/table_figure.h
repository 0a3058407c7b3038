#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "tierproof/text/data_table.h"
#include "tierproof/text/json.h"

namespace tierproof {

/// How one figure of a summary comes out of a table, so that anybody can count it again: of the rows whose cells say all of `where`, how
/// many there are, how many different texts stand under `distinct`, or what the whole numbers under `sum` add up to.
struct FigureRule {
  std::string table;                                       ///< name of the table
  std::vector<std::pair<std::string, std::string>> where;  ///< heading, and what its cell says by `text_of`
  std::string sum{};                                       ///< heading of whole numbers; an empty cell adds nothing
  std::string distinct{};
};

/// The figure that `rule` gives of `table`.
/// @throws std::invalid_argument for a heading that the table has not got, a cell under `sum` that is no whole number, `sum` and
/// `distinct` together
std::int64_t figure_by(const DataTable& table, const FigureRule& rule);

/// `part` of `whole` in whole percent, halves up. @pre 0 <= part <= whole, whole > 0
std::int64_t percent_of(std::int64_t part, std::int64_t whole);
/// `13 %`; what is not none and not all is never told as that: `under 1 %`, `over 99 %`. @pre as `percent_of`
std::string percent_in_words(std::int64_t part, std::int64_t whole);

/// `{"table": …, "where": {…}, "sum": …}`
Json json_of(const FigureRule& rule);
/// `{"list": name, "headings": […], "rows": [{heading: cell}]}`; whole numbers as numbers, all else as `text_of`, nothing as null.
Json json_of(const DataTable& table);

}  // namespace tierproof
