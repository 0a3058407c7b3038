#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "inspection_tables.h"
#include "tierproof/app/inspecting.h"

namespace tierproof {

/// The tables of one inspection, and the figures that were told from them: whoever asks for a figure leaves behind how it is counted.
class InspectionFigures {
 public:
  using Where = std::vector<std::pair<std::string, std::string>>;
  explicit InspectionFigures(const std::vector<DataTable>& tables) : tables_{tables} {}

  const DataTable& table(const std::string& name) const;
  /// Rows of `table` that say all of `where`.
  std::int64_t rows(const std::string& id, const std::string& of, const std::string& table, Where where) {
    return told(id, of, {table, std::move(where)});
  }
  /// The whole numbers under `sum` in those rows, added up.
  std::int64_t sum(const std::string& id, const std::string& of, const std::string& table, Where where, const std::string& sum) {
    return told(id, of, {table, std::move(where), sum});
  }
  std::int64_t distinct(const std::string& id, const std::string& of, const std::string& table, Where where, const std::string& heading) {
    return told(id, of, {table, std::move(where), "", heading});
  }
  /// ` (note 5)`, ` (notes 5, 7 to 9)`: the numbers under `heading` of the rows that say all of `where`; empty where there is none.
  std::string noted(const std::string& table, const Where& where, const std::string& heading = "note") const;
  const std::vector<InspectionFigure>& all() const { return all_; }

 private:
  std::int64_t told(const std::string& id, const std::string& of, FigureRule rule);
  const std::vector<DataTable>& tables_;
  std::vector<InspectionFigure> all_;
};

/// One row of a table by its headings.
class RowOf {
 public:
  RowOf(const DataTable& table, const DataRow& row) : table_{table}, row_{row} {}
  const DataCell& cell(const std::string& heading) const;
  /// For people: days, moments, lengths of time (under `..._s`, `..._min`) and verdicts as they are written on papers.
  std::string operator[](const std::string& heading) const;

 private:
  const DataTable& table_;
  const DataRow& row_;
};

/// `1 day`, `3 days`
std::string counted(std::int64_t count, const std::string& one, const std::string& more);

/// All that stands behind page one.
std::vector<InspectionSection> inspection_sections(const Session& session, const InspectedPeriod& period,
                                                   const std::vector<InspectedPlace>& places, const TemperatureTerms& terms,
                                                   InspectionFigures& figures);

/// What changed since `before`, a time of the same length.
InspectionSection compared_section(const InspectedPeriod& before, const InspectionFigures& then, const InspectionFigures& now);

}  // namespace tierproof
