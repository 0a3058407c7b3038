#include "tierproof/sums/gs1_scan.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "tierproof/sums/gs1.h"

namespace tierproof {
namespace {

constexpr char separator = '\x1d';  // FNC1 as a scanner gives it

bool all_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// Length of identifier and value together where it is fixed by the first two figures. GS1 General Specifications 7.8.5.
std::optional<std::size_t> fixed_length(std::string_view two) {
  static constexpr std::array<std::pair<std::string_view, std::size_t>, 22> lengths{
      {{"00", 20}, {"01", 16}, {"02", 16}, {"03", 16}, {"04", 18}, {"11", 8},  {"12", 8},  {"13", 8},  {"14", 8},  {"15", 8},  {"16", 8},
       {"17", 8},  {"18", 8},  {"19", 8},  {"20", 4},  {"31", 10}, {"32", 10}, {"33", 10}, {"34", 10}, {"35", 10}, {"36", 10}, {"41", 16}}};
  for (const auto& [begins, length] : lengths) {
    if (two == begins) return length;
  }
  return std::nullopt;
}

/// How many figures an identifier has, by its first two; of those that are read here, and of the common others (from memory).
std::size_t identifier_length(std::string_view two) {
  if (two == "31" || two == "32" || two == "33" || two == "34" || two == "35" || two == "36" || two == "39" || two == "70" || two == "80" ||
      two == "43" || two == "72" || two == "81" || two == "82")
    return 4;
  if (two == "23" || two == "24" || two == "25" || two == "40" || two == "41" || two == "42" || two == "71") return 3;
  return 2;
}

using ScannedPart = std::pair<std::string, std::string>;  // identifier, value

class ScanReading {
 public:
  ScanReading(int this_year, std::string_view field) : this_year_{this_year}, field_{field} {}

  Result<ScannedPack> read(std::string_view text) {
    for (const std::string_view symbology : {"]C1", "]d2", "]Q3", "]e0"}) {
      if (text.starts_with(symbology)) text.remove_prefix(symbology.size());
    }
    if (text.starts_with("https://") || text.starts_with("http://")) {
      link(text);
    } else if (text.starts_with('(') || text.starts_with('[')) {
      bracketed(text);
    } else {
      plain(text);
    }
    for (const auto& [identifier, value] : parts_) take(identifier, value);
    if (scan_.gtin.empty() && (!scan_.lot.empty() || scan_.best_before || scan_.use_by) && refusals_.empty())
      refuse("a lot or a date stands there without the number of the goods (01)",
             "scan the whole code, or type lot and date by themselves");
    if (parts_.empty() && refusals_.empty())
      refuse("nothing of a GS1 code stands there", "scan it again, or type lot and date by themselves");
    if (!refusals_.empty()) return refusals_;
    return std::move(scan_);
  }

 private:
  void refuse(std::string message, std::string remedy) { refusals_.push_back({"", 0, field_, std::move(message), std::move(remedy)}); }

  void plain(std::string_view text) {
    while (!text.empty()) {
      if (text.front() == separator) {
        text.remove_prefix(1);
        continue;
      }
      const std::string_view two = text.substr(0, 2);
      if (two.size() < 2 || !all_digits(two))
        return refuse(fmt::format("\"{}\" begins with no application identifier", text), "scan it again");
      const std::size_t of_identifier = identifier_length(two);
      std::size_t length = fixed_length(two).value_or(0);
      if (length == 0) length = std::min(text.find(separator), text.size());
      if (text.size() < length || length < of_identifier)
        return refuse(fmt::format("({}) is cut short: {} characters are missing", text.substr(0, std::min(of_identifier, text.size())),
                                  std::max(length, of_identifier) - text.size()),
                      "scan it again, the whole code");
      const std::string_view value = text.substr(of_identifier, length - of_identifier);
      if (const auto broken = value.find(separator); broken != std::string_view::npos)
        return refuse(fmt::format("({}) is cut short: a separator stands after {} characters", text.substr(0, of_identifier), broken),
                      "scan it again, the whole code");
      parts_.emplace_back(text.substr(0, of_identifier), value);
      text.remove_prefix(length);
    }
  }

  void bracketed(std::string_view text) {
    const char close = text.front() == '(' ? ')' : ']';
    const char open = text.front();
    while (!text.empty()) {
      const auto end = text.find(close);
      if (text.front() != open || end == std::string_view::npos || !all_digits(text.substr(1, end - 1)))
        return refuse(fmt::format("\"{}\" begins with no application identifier in brackets", text), "write it like (01)…(17)…(10)…");
      const std::string identifier{text.substr(1, end - 1)};
      text.remove_prefix(end + 1);
      // A lot may hold a bracket itself: the next part begins where a bracket with figures closes.
      std::size_t next = text.find(open);
      while (next != std::string_view::npos) {
        const auto closing = text.find(close, next);
        const bool identifies = closing != std::string_view::npos && closing - next >= 3 && closing - next <= 5 &&
                                all_digits(text.substr(next + 1, closing - next - 1));
        if (identifies) break;
        next = text.find(open, next + 1);
      }
      parts_.emplace_back(identifier, text.substr(0, next));
      text.remove_prefix(std::min(next, text.size()));
    }
  }

  void link(std::string_view text) {
    text = text.substr(0, text.find('#'));
    const auto question = text.find('?');
    std::vector<std::string> steps = split(text.substr(0, question), '/');
    // Pairs are read from the first 01 of the path on: what stands before belongs to the address.
    auto step = std::find(steps.begin() + std::min<std::ptrdiff_t>(3, std::ssize(steps)), steps.end(), "01");
    if (step == steps.end()) return refuse("the address names no goods (/01/…)", "scan the code of the goods, or type lot and date");
    for (; step != steps.end() && step + 1 != steps.end(); step += 2) parts_.emplace_back(*step, decoded(*(step + 1)));
    if (step != steps.end()) refuse(fmt::format("the address ends with ({}) and no value", *step), "scan it again");
    if (question == std::string_view::npos) return;
    for (const auto& pair : split(text.substr(question + 1), '&')) {
      const auto equals = pair.find('=');
      const std::string key = pair.substr(0, equals);
      if (equals != std::string::npos && all_digits(key)) parts_.emplace_back(key, decoded(pair.substr(equals + 1)));
    }
  }

  static std::vector<std::string> split(std::string_view text, char by) {
    std::vector<std::string> parts;
    while (true) {
      const auto end = text.find(by);
      parts.emplace_back(text.substr(0, end));
      if (end == std::string_view::npos) return parts;
      text.remove_prefix(end + 1);
    }
  }

  std::string decoded(std::string_view text) {
    const auto value_of = [](char c) {
      if (c >= '0' && c <= '9') return c - '0';
      if (c >= 'a' && c <= 'f') return c - 'a' + 10;
      if (c >= 'A' && c <= 'F') return c - 'A' + 10;
      return -1;
    };
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
      if (text[i] != '%') {
        out += text[i];
        continue;
      }
      const int high = i + 2 < text.size() ? value_of(text[i + 1]) : -1;
      const int low = i + 2 < text.size() ? value_of(text[i + 2]) : -1;
      if (high < 0 || low < 0) {
        refuse(fmt::format("\"{}\" is not encoded as an address is", text), "scan it again");
        return out;
      }
      out += static_cast<char>(high * 16 + low);
      i += 2;
    }
    return out;
  }

  void take(const std::string& identifier, const std::string& value) {
    const auto [before, is_new] = seen_.emplace(identifier, value);
    if (!is_new) {
      if (before->second != value)
        refuse(fmt::format("({}) stands there twice, as {} and {}", identifier, before->second, value), "scan one code at a time");
      return;
    }
    if (identifier == "01" || identifier == "02") return goods(identifier, value);
    if (identifier == "10") return words(identifier, "lot", value, scan_.lot);
    if (identifier == "21") return words(identifier, "serial number", value, scan_.serial);
    if (identifier == "11") return day(identifier, value, scan_.made);
    if (identifier == "13") return day(identifier, value, scan_.packed);
    if (identifier == "15") return day(identifier, value, scan_.best_before);
    if (identifier == "16") return day(identifier, value, scan_.sell_by);
    if (identifier == "17") return day(identifier, value, scan_.use_by);
    if (identifier.size() == 4 && identifier.starts_with("310")) return mass(identifier, value);
    scan_.unread.push_back(fmt::format("({}){}", identifier, value));
  }

  void goods(const std::string& identifier, const std::string& value) {
    if (value.size() != 14) return refuse(fmt::format("({}) has 14 digits, not {}", identifier, value.size()), "scan it again");
    const auto gtin = read_gtin(value, field_);
    if (!gtin) {
      refusals_.insert(refusals_.end(), gtin.error().begin(), gtin.error().end());
    } else if (!scan_.gtin.empty() && scan_.gtin != *gtin) {
      refuse("two kinds of goods stand in one code", "scan the pack, not the case");
    } else {
      scan_.gtin = *gtin;
    }
  }

  void words(const std::string& identifier, std::string_view what, const std::string& value, std::string& into) {
    if (value.empty() || value.size() > 20)
      return refuse(fmt::format("({}) is a {} of {} characters; it has 1 to 20", identifier, what, value.size()),
                    "scan it again, or type it as it stands there");
    if (const auto bad = std::find_if_not(value.begin(), value.end(), gs1_encodable); bad != value.end())
      return refuse(fmt::format("({}) holds a character that GS1 codes do not carry", identifier),
                    "scan it again, or type it as it stands there");
    into = value;
  }

  void day(const std::string& identifier, const std::string& value, std::optional<Date>& into) {
    const auto not_a_date = [&] {
      refuse(fmt::format("({}) \"{}\" is not a date of six figures, year, month, day", identifier, value), "scan it again");
    };
    if (value.size() != 6 || !all_digits(value)) return not_a_date();
    const auto two = [&](std::size_t at) { return (value[at] - '0') * 10 + value[at + 1] - '0'; };
    const int ahead = two(0) - this_year_ % 100;
    const int century = this_year_ / 100 * 100 + (ahead >= 51 ? -100 : ahead <= -50 ? 100 : 0);
    const std::chrono::year_month month{std::chrono::year{century + two(0)}, std::chrono::month{static_cast<unsigned>(two(2))}};
    const Date date = two(4) == 0 ? Date{month / std::chrono::last} : Date{month / std::chrono::day{static_cast<unsigned>(two(4))}};
    if (!month.ok() || !date.ok()) return not_a_date();
    into = date;
  }

  void mass(const std::string& identifier, const std::string& value) {
    const int decimals = identifier[3] - '0';
    if (value.size() != 6 || !all_digits(value))
      return refuse(fmt::format("({}) \"{}\" is not a mass of six figures", identifier, value), "scan it again");
    if (decimals > 6) return refuse(fmt::format("({}) has too many decimals for kilograms to the milligram", identifier), "type the mass");
    std::int64_t mg = 0;
    for (const char c : value) mg = mg * 10 + (c - '0');
    for (int i = decimals; i < 6; ++i) mg *= 10;
    scan_.net = Mass::milligrams(mg);
  }

  int this_year_;
  std::string field_;
  std::vector<ScannedPart> parts_;
  std::map<std::string, std::string> seen_;
  ScannedPack scan_;
  Refusals refusals_;
};

}  // namespace

Result<ScannedPack> read_gs1_scan(std::string_view text, int this_year, std::string_view field) {
  return ScanReading{this_year, field}.read(text);
}

}  // namespace tierproof
