#pragma once

#include <map>
#include <string>
#include <vector>

#include "tierproof/text/json.h"

// Counts the figures of an inspection record again from the data beside it, by other code than the program's.
namespace tierproof::demo {

/// A table as rows of texts by heading.
using PlainTable = std::vector<std::map<std::string, std::string>>;

/// A CSV file of RFC 4180: quotes, doubled quotes and line ends within them.
inline PlainTable plain_csv(const std::string& text) {
  std::vector<std::vector<std::string>> lines{{""}};
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
      lines.back().back() += c;
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (!quoted && c == ',') {
      lines.back().emplace_back();
    } else if (!quoted && c == '\n') {
      lines.push_back({""});
    } else if (quoted || c != '\r') {
      lines.back().back() += c;
    }
  }
  PlainTable table;
  for (std::size_t i = 1; i < lines.size(); ++i) {
    if (lines[i].size() != lines[0].size()) continue;
    for (std::size_t k = 0; k < lines[0].size(); ++k) {
      if (k == 0) table.emplace_back();
      table.back()[lines[0][k]] = lines[i][k];
    }
  }
  return table;
}

/// A list of the record's JSON.
inline PlainTable plain_list(const Json& list) {
  PlainTable table;
  for (const Json& row : list.find("rows")->array()) {
    table.emplace_back();
    for (const auto& [heading, cell] : row.object())
      table.back()[heading] = cell.is_null() ? "" : cell.is_text() ? cell.text() : std::to_string(cell.integer());
  }
  return table;
}

/// What `rule` (as a figure's `counted`) gives of `table`.
inline std::int64_t counted_again(const PlainTable& table, const Json& rule) {
  std::int64_t rows = 0, sum = 0;
  std::map<std::string, int> different;
  for (const auto& row : table) {
    bool all = true;
    for (const auto& [heading, says] : rule.find("where")->object()) all = all && row.at(heading) == says.text();
    if (!all) continue;
    ++rows;
    if (const Json* under = rule.find("sum"); under != nullptr && !row.at(under->text()).empty()) sum += std::stoll(row.at(under->text()));
    if (const Json* under = rule.find("distinct")) ++different[row.at(under->text())];
  }
  if (rule.find("distinct") != nullptr) return static_cast<std::int64_t>(different.size());
  return rule.find("sum") != nullptr ? sum : rows;
}

}  // namespace tierproof::demo
