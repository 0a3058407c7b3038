// Tables of water activity and pH.
#include <fmt/format.h>

#include <array>

#include "parameters.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

using namespace parameter;

/// The ends of the bands of `key`, `below 0.88` or `up to 0.90` each, rising.
std::vector<BandEnd> band_ends(Fields& row, std::string_view key) {
  std::vector<BandEnd> ends;
  for (const std::string& text : needed_texts(row, key)) {
    const bool below = text.starts_with("below ");
    const auto number = below ? parse_decimal(text.substr(6)) : text.starts_with("up to ") ? parse_decimal(text.substr(6)) : std::nullopt;
    if (!number || (!ends.empty() && *number <= ends.back().at)) {
      row.refuse(key, fmt::format("\"{}\" ends no band above the one before", text),
                 "write where each band ends, rising: \"below 0.88\", \"up to 0.90\"");
      return {};
    }
    ends.push_back({*number, !below});
  }
  return ends;
}

/// `to be assessed: no no yes yes`: a line for each band of water activity, a word for each of pH.
std::vector<std::vector<bool>> assessed_cells(Fields& row, std::size_t lines, std::size_t words) {
  std::vector<std::vector<bool>> cells;
  for (const std::string& text : needed_texts(row, "assessed")) {
    std::vector<bool>& line = cells.emplace_back();
    for (std::size_t at = 0; at < text.size();) {
      const std::size_t end = std::min(text.find(' ', at), text.size());
      const std::string word = text.substr(at, end - at);
      if (word != "no" && word != "yes")
        row.refuse("assessed", fmt::format("\"{}\" is neither yes nor no", word), "write yes or no for each band of pH");
      line.push_back(word == "yes");
      at = end + 1;
    }
    if (line.size() != words)
      row.refuse("assessed", fmt::format("\"{}\" has {} words, not {}", text, line.size(), words),
                 "write one for each band of pH, the last included");
  }
  if (cells.size() != lines)
    row.refuse("assessed", fmt::format("has {} lines, not {}", cells.size(), lines),
               "write one for each band of water activity, the last included");
  return cells;
}

RowSays read_activity_table(Fields& row, const RowContext&) {
  ActivityTable table;
  table.food = row.choice("food", {"open", "packed after heating"});
  table.activity = band_ends(row, "activity");
  table.ph = band_ends(row, "ph");
  table.assessed = assessed_cells(row, table.activity.size() + 1, table.ph.size() + 1);
  return table;
}

constexpr std::array<Mechanism, 1> of_activity{{{"temperature", "activity-and-ph", read_activity_table}}};

}  // namespace

std::span<const Mechanism> activity_mechanisms() { return of_activity; }

}  // namespace tierproof
