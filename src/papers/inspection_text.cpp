// The inspection record on a screen.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "tierproof/papers/inspection_record.h"

namespace tierproof {
namespace {

std::size_t letters(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

class Screen {
 public:
  explicit Screen(std::size_t width) : width_{width} {}

  void heading(const std::string& words) { text_ += fmt::format("\n{}\n", words); }
  /// Words broken at spaces; the second and later lines are set in.
  void words(const std::string& before, const std::string& text) {
    std::string line = before;
    const std::string indent(std::min<std::size_t>(letters(before), 6), ' ');
    bool begun = false;
    for (std::size_t from = 0; from <= text.size();) {
      const std::size_t space = std::min(text.find(' ', from), text.size());
      const std::string word = text.substr(from, space - from);
      if (begun && letters(line) + 1 + letters(word) > width_) {
        text_ += line + "\n";
        line = indent + word;
      } else {
        line += (begun ? " " : "") + word;
      }
      begun = true;
      from = space + 1;
    }
    text_ += line + "\n";
  }
  void facts(const std::vector<LabelledText>& rows) {
    for (const auto& row : rows) words(fmt::format("  {}: ", row.label), row.text);
  }
  /// A line a row, each cell behind its head, since tables are wider than a screen.
  void table(const InspectionTable& table) {
    for (const auto& row : table.rows) {
      std::vector<std::string> told;
      for (std::size_t i = 0; i < row.cells.size(); ++i) {
        if (!row.cells[i].empty()) told.push_back(i == 0 ? row.cells[i] : fmt::format("{} {}", table.heads[i], row.cells[i]));
      }
      words(row.wanting ? "! " : "  ", fmt::format("{}", fmt::join(told, " | ")));
    }
    if (!table.left_out.empty()) words("  ", table.left_out);
  }
  std::string take() { return std::move(text_); }

 private:
  std::size_t width_;
  std::string text_;
};

}  // namespace

std::string inspection_text(const InspectionContent& content, bool whole, std::size_t width) {
  Screen screen{width};
  screen.words("", fmt::format("{} of {}, {}", content.review ? "Review of the records" : "Inspection record",
                               content.business.empty() ? "" : content.business.front(), content.period));
  if (content.review) {
    screen.heading("WHO LOOKED THROUGH THESE RECORDS");
    for (const auto& words : content.review->says) screen.words("  ", words);
    screen.table(content.review->looked);
  } else {
    screen.facts(content.kitchen);
  }
  screen.heading("WHAT IS OPEN, LATE, MISSED OR IN DOUBT");
  for (const auto& line : content.wanting) screen.words("! ", line);
  if (content.wanting.empty()) screen.words("  ", "Nothing of that is recorded in this period. What nobody recorded cannot show here.");
  if (!content.review) {
    screen.heading("WHAT WENT WRONG");
    screen.facts(content.matters);
  }
  screen.heading("COLD");
  screen.table(content.cold);
  if (content.review) {
    screen.heading("REASONS GIVEN TO RELEASE AGAINST A CONTROL");
    screen.table(content.review->reasons);
    if (content.review->reasons.rows.empty()) screen.words("  ", "none");
  } else {
    screen.heading("THERMOMETERS, EGG, ALLERGIES");
    screen.facts(content.controls);
    screen.heading("PACK DETAILS, PLAN, TRAINING");
    screen.facts(content.keeping);
  }
  for (const auto& section : content.sections) {
    if (!whole) break;
    screen.heading(section.name);
    for (const auto& words : section.says) screen.words("  ", words);
    screen.facts(section.facts);
    for (const auto& chart : section.charts) screen.words("  ", fmt::format("{}: {}", chart.title, chart.note));
    for (const auto& table : section.tables) screen.table(table);
  }
  screen.heading("");
  for (const auto& caution : content.cautions) screen.words("", caution);
  screen.words("", fmt::format("Records' fingerprint: {}", content.full_head));
  return screen.take();
}

}  // namespace tierproof
