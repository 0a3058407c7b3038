#include "tierproof/rules/name_hint_file.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <set>

namespace tierproof {
namespace {

enum class Needs { keys, maybe_keys, no_keys };
struct Meaning {
  std::string_view term;
  Needs needs;
  bool process;  ///< whether it names what a law exempts
};
constexpr std::array meanings{Meaning{"contains", Needs::keys, false},
                              Meaning{"usually", Needs::keys, false},
                              Meaning{"ask", Needs::maybe_keys, false},
                              Meaning{"source", Needs::keys, false},
                              Meaning{"exempt", Needs::keys, true},
                              Meaning{"exempts", Needs::keys, true},
                              Meaning{"softens", Needs::keys, false},
                              Meaning{"harmless", Needs::no_keys, false},
                              Meaning{"neutral", Needs::no_keys, false},
                              Meaning{"claim", Needs::maybe_keys, false},
                              Meaning{"doubts before", Needs::no_keys, false},
                              Meaning{"doubts after", Needs::no_keys, false},
                              Meaning{"otherwise", Needs::keys, false}};

std::vector<std::string> split(std::string_view text, char at) {
  std::vector<std::string> pieces;
  for (;;) {
    const auto end = text.find(at);
    pieces.emplace_back(text.substr(0, end));
    if (end == std::string_view::npos) return pieces;
    text.remove_prefix(end + 1);
  }
}

bool is_key(std::string_view text) {
  return !text.empty() && text.front() != ':' && text.back() != ':' &&
         std::all_of(text.begin(), text.end(), [](char c) { return (c >= 'a' && c <= 'z') || c == ':' || c == '-'; });
}

bool is_phrase(std::string_view text) {
  const bool number = text.size() > 3 && text.front() == 'E' && text[1] >= '1' && text[1] <= '9';
  if (number) text.remove_prefix(1);
  return !text.empty() && text.front() != ' ' && text.back() != ' ' &&
         std::none_of(text.begin(), text.end(), [](char c) { return (c >= 'A' && c <= 'Z') || c == ','; });
}

class LineReader {
 public:
  explicit LineReader(const std::string& file) : file_{file} {}

  void take(const std::string& text, int line) {
    const auto cells = split(text, '\t');
    if (cells.size() != headings.size()) {
      return refuse(line, "", fmt::format("has {} columns", cells.size()), "write phrase, meaning, keys, process and note, parted by tabs");
    }
    if (!headed_) {
      headed_ = true;
      if (!std::equal(cells.begin(), cells.end(), headings.begin()))
        refuse(line, "", "has other headings", fmt::format("write {}, parted by tabs", fmt::join(headings, ", ")));
      return;
    }
    NameHintRow row{cells[0], cells[1], {}, cells[3], cells[4], file_, line};
    if (!cells[2].empty()) row.keys = split(cells[2], ';');
    check(row);
    rows_.push_back(std::move(row));
  }

  Result<std::vector<NameHintRow>> done() {
    if (!headed_) refuse(0, "", "has nothing in it", "write the headings and at least one line");
    if (!refusals_.empty()) return refusals_;
    return std::move(rows_);
  }

 private:
  static constexpr std::array<std::string_view, 5> headings{"phrase", "meaning", "keys", "process", "note"};

  void refuse(int line, const std::string& field, std::string message, std::string remedy) {
    refusals_.push_back({file_, line, field, std::move(message), std::move(remedy)});
  }
  void check(const NameHintRow& row) {
    if (!is_phrase(row.phrase)) refuse(row.line, "phrase", fmt::format("\"{}\" is no phrase", row.phrase), "write words in small letters");
    if (!phrases_.insert(row.phrase).second)
      refuse(row.line, "phrase", fmt::format("\"{}\" stands there twice", row.phrase), "keep one of the two lines");
    for (const auto& key : row.keys) {
      if (!is_key(key))
        refuse(row.line, "keys", fmt::format("\"{}\" is no allergen's key", key), "write keys such as nuts:almond, parted by ;");
    }
    const auto meaning = std::find_if(meanings.begin(), meanings.end(), [&](const Meaning& known) { return known.term == row.meaning; });
    if (meaning == meanings.end()) {
      std::vector<std::string_view> terms;
      for (const auto& known : meanings) terms.push_back(known.term);
      return refuse(row.line, "meaning", fmt::format("\"{}\" is not known", row.meaning),
                    fmt::format("write one of: {}", fmt::join(terms, ", ")));
    }
    if (meaning->needs == Needs::keys && row.keys.empty())
      refuse(row.line, "keys", fmt::format("is empty, and \"{}\" needs to know of what", row.meaning), "name the allergens");
    if (meaning->needs == Needs::no_keys && !row.keys.empty())
      refuse(row.line, "keys", fmt::format("names allergens, and \"{}\" has none", row.meaning), "leave it empty");
    if (meaning->process == row.process.empty()) {
      refuse(row.line, "process", meaning->process ? "is empty, and what is exempt has to be named" : "stands where nothing is exempt",
             meaning->process ? "name it as a specification does" : "leave it empty");
    }
  }

  std::string file_;
  std::vector<NameHintRow> rows_;
  std::set<std::string, std::less<>> phrases_;
  Refusals refusals_;
  bool headed_ = false;
};

}  // namespace

Result<std::vector<NameHintRow>> read_name_hint_file(std::string_view text, const std::string& file) {
  LineReader reader{file};
  int line = 0;
  for (const auto& whole : split(text, '\n')) {
    ++line;
    if (!whole.empty() && whole.front() != '#') reader.take(whole, line);
  }
  return reader.done();
}

}  // namespace tierproof
