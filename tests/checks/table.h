#pragma once

#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace tierproof {

using TableRow = std::map<std::string, std::string>;

/// The rows of a table of tests/data by heading.
inline std::vector<TableRow> rows_of_table(const std::string& name) {
  std::ifstream in{TIERPROOF_SOURCE_DIR "/tests/data/" + name};
  std::vector<TableRow> rows;
  std::vector<std::string> headings;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    std::vector<std::string> cells;
    std::istringstream text{line};
    for (std::string cell; std::getline(text, cell, '\t');) cells.push_back(cell);
    if (headings.empty()) {
      headings = cells;
      continue;
    }
    TableRow row;
    for (std::size_t i = 0; i < headings.size(); ++i) row[headings[i]] = i < cells.size() ? cells[i] : "";
    rows.push_back(row);
  }
  if (rows.empty()) throw std::runtime_error{"no rows were read from " + name};
  return rows;
}

inline double figure(const TableRow& row, const char* heading) { return std::stod(row.at(heading)); }

}  // namespace tierproof
