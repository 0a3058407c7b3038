// What the temperature laws say, as cases from outside (tests/data/temperature-rule-cases.tsv), and that every row of them decides one.
#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <map>
#include <set>

#include "../rules/reference_files.h"
#include "../sums/readings.h"
#include "table.h"
#include "tierproof/sums/activity_table.h"
#include "tierproof/sums/reheating.h"
#include "tierproof/sums/screening.h"
#include "tierproof/sums/shelf_life.h"
#include "tierproof/sums/stay.h"
#include "tierproof/sums/time_out.h"
#include "tierproof/text/csv.h"
#include "tierproof/text/json.h"
#include "tierproof/text/number.h"
#include "tierproof/units/share.h"

namespace tierproof::temperature_rows {
namespace {

const Date on_this_day = day(2026, 12, 1);

struct RuleCase {
  std::string id, pack, kind, given, expected, source;
};

/// `text` up to `mark`, which goes with it.
std::string take(std::string& text, std::string_view mark) {
  const auto at = std::min(text.find(mark), text.size());
  auto head = text.substr(0, at);
  text.erase(0, at + mark.size());
  return head;
}

int whole(const std::string& text) {
  int value = 0;
  const auto [end, wrong] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (wrong != std::errc{} || end != text.data() + text.size()) throw std::runtime_error{"not a whole number: " + text};
  return value;
}

Temperature degrees_of(const std::string& text) {
  const auto read = parse_degrees(text);
  if (!read) throw std::runtime_error{"not a temperature: " + text};
  return read->temperature();
}

std::vector<RuleCase> read_cases() {
  std::string text;
  std::istringstream lines{text_of(source_dir() / "tests/data/temperature-rule-cases.tsv")};
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with('#')) text += line + "\n";
  }
  const auto rows = parse_csv(text, '\t', "temperature-rule-cases.tsv");
  if (!rows) throw std::runtime_error{told(rows.error())};
  std::vector<RuleCase> cases;
  for (std::size_t i = 1; i < rows->size(); ++i) {
    const auto& cells = (*rows)[i].cells;
    if (cells.size() != 6) throw std::runtime_error{"not six cells: " + cells.front()};
    cases.push_back({cells[0], cells[1], cells[2], cells[3], cells[4], cells[5]});
  }
  return cases;
}

const std::vector<RuleCase>& cases() {
  static const auto all = read_cases();
  return all;
}

/// Readings of one temperature over `length` of time, `step` apart.
std::vector<Reading> held(Temperature t, Span length, Span step) {
  std::vector<Reading> series;
  for (Span at{}; at <= length; at += step) series.push_back({test::minute(0) + at, t});
  if (series.back().at < test::minute(0) + length) series.push_back({test::minute(0) + length, t});
  return series;
}

Finding cold(std::string given, bool food, const TemperatureTerms& terms) {
  const auto t = degrees_of(take(given, " step "));
  const Span step = std::chrono::minutes{given.empty() ? 15 : whole(given)};
  ChilledStay stay;
  stay.subject = "cake-1";
  stay.where = "cake fridge";
  stay.from = test::minute(0);
  stay.to = test::minute(124);
  stay.measured_food = food;
  stay.use = food ? "" : "storage";
  return judge_chilled_stay(stay, held(t, stay.to - stay.from, step), {}, true, "", terms);
}

Finding egg(std::string given, const TemperatureTerms& terms) {
  EggStep step;
  step.subject = "batch-1";
  step.egg = "raw, heated here";
  step.food = take(given, "; ");
  const auto t = degrees_of(take(given, "; "));
  const Span hold = std::chrono::seconds{whole(take(given, "; "))};
  step.sugar_of_mix = parse_percent(take(given, " step "));
  const Span apart = std::chrono::seconds{given.empty() ? 10 : whole(given)};
  return *judge_egg_step(step, held(t, hold, apart), {}, true, "", terms);
}

/// Egg white and sugar, by the reference that the plan adopts where there is one.
Finding adopted(std::string given, const TemperatureTerms& terms) {
  EggStep step;
  step.subject = "batch-1";
  step.egg = "raw, heated here";
  step.only_egg_and_sugar = true;
  if (!terms.references.empty()) step.adopted = AdoptedReference{terms.references.front(), "ada"};
  const auto t = degrees_of(take(given, "; "));
  const Span hold = std::chrono::seconds{whole(take(given, "; "))};
  step.sugar_of_mix = parse_percent(given);
  return *judge_egg_step(step, held(t, hold, std::chrono::seconds{10}), {}, true, "", terms);
}

Finding reheated(std::string given, const TemperatureTerms& terms) {
  std::vector<Reading> series;
  for (std::string pair = take(given, " "); !pair.empty(); pair = take(given, " ")) {
    const int minutes = whole(take(pair, "/"));
    series.push_back({test::minute(minutes), degrees_of(pair + " C")});
  }
  for (int second = 10; second <= 20; second += 10)
    series.push_back({series.back().at + std::chrono::seconds{10}, series.back().temperature});
  return judge_reheating({"batch-1 (custard)"}, series, {}, true, "", terms);
}

std::string last_day(int days, const TemperatureTerms& terms) {
  PartLife part{"custard (batch-1)", "fridge", on_this_day, days, "the maker"};
  part.cold_days = terms.cold_days;
  return format_date(shelf_life({&part, 1}, {}).date.value());
}

std::string told_of(const Finding& finding) {
  return fmt::format("{}: {}{} | {} | {}", term_of(finding.verdict), finding.message,
                     finding.paths.empty() ? "" : " | " + finding.paths.front(), finding.limit, finding.source);
}

std::string figure(Temperature t) {
  auto text = fmt::format("{:.2f}", t.to_celsius());
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

/// `60 to 21 in 120, to 5 in a further 240`, in °C and minutes.
std::string stages_of(const TemperatureTerms& terms) {
  if (!terms.cooling && terms.cooling_advice)
    return fmt::format("advice: {} min", std::chrono::duration_cast<std::chrono::minutes>(terms.cooling_advice->within).count());
  if (!terms.cooling) {
    const auto* none = terms.no_number("cooling");
    return none == nullptr ? "nothing" : "no number: " + none->words.substr(none->words.starts_with("it is to be cooled ") ? 19 : 0);
  }
  const auto minutes = [](Span span) { return std::chrono::duration_cast<std::chrono::minutes>(span).count(); };
  const auto& c = *terms.cooling;
  std::string text = figure(c.from);
  if (c.via) text += fmt::format(" to {} in {},", figure(*c.via), minutes(*c.first));
  text += fmt::format(" to {} in ", figure(c.to));
  return text + (c.second ? fmt::format("a further {}", minutes(*c.second)) : fmt::format("{} in all", minutes(*c.total)));
}

/// `open; 0.905; 4.8`: whether the table for that food asks for an assessment.
std::string by_activity(std::string given, const TemperatureTerms& terms) {
  const std::string food = take(given, "; ");
  const auto table =
      std::find_if(terms.activity_tables.begin(), terms.activity_tables.end(), [&](const ActivityTable& one) { return one.food == food; });
  if (table == terms.activity_tables.end()) return "no table";
  const Share activity = parse_decimal(take(given, "; ")).value();
  return is_to_be_assessed(*table, activity, parse_decimal(given).value()) ? "to be assessed" : "no control by it";
}

/// Thousandths of log10 an hour at a temperature by the first row of growth.
std::string growth_at(const std::string& given, const TemperatureTerms& terms) {
  if (terms.growth.empty()) return "no row";
  const GrowthTerm& row = terms.growth.front();
  return fmt::format("{:.3f} log an hour", SquareRootGrowth{row.b, row.t_min_c}.rate_at(degrees_of(given).to_celsius()));
}

/// What the rules say to a case: a verdict and its words, or a figure.
std::string answer(const RuleCase& one, const TemperatureTerms& terms) {
  if (one.kind == "food cold") return told_of(cold(one.given, true, terms));
  if (one.kind == "air cold") return told_of(cold(one.given, false, terms));
  if (one.kind == "egg") return told_of(egg(one.given, terms));
  if (one.kind == "adopted") return told_of(adopted(one.given, terms));
  if (one.kind == "out") {
    const TimeOut out{test::minute(0), test::minute(whole(one.given)), "worktop"};
    return told_of(*judge_time_out("cake-1", {{out}}, terms, Offset{}));
  }
  if (one.kind == "hot") {
    if (!terms.hot_hold) return "none";
    const auto expected = degrees_of(one.expected);
    return terms.hot_hold->limit == expected ? one.expected : fmt::format("{} °C", terms.hot_hold->limit.to_celsius());
  }
  if (one.kind == "probe") {
    if (!terms.probe) return "none";
    return fmt::format("{} C, {} days", terms.probe->band.to_kelvins(), terms.probe->days_between);
  }
  if (one.kind == "cooling") return stages_of(terms);
  if (one.kind == "reheat") return told_of(reheated(one.given, terms));
  if (one.kind == "cold days") return last_day(whole(one.given), terms);
  if (one.kind == "activity") return by_activity(one.given, terms);
  if (one.kind == "growth") return growth_at(one.given, terms);
  throw std::runtime_error{one.id + ": no such kind: " + one.kind};
}

/// Whether the answer is the verdict that is expected, with the words; `; nothing said of the federal row` asks that no row is cited.
bool fits(const RuleCase& one, const std::string& answer) {
  if (one.kind == "cooling") return answer.starts_with(one.expected) && (answer == one.expected || one.expected.starts_with("no number"));
  if (one.kind == "hot" || one.kind == "probe" || one.kind == "cold days" || one.kind == "activity" || one.kind == "growth")
    return answer == one.expected;
  std::string words = one.expected;
  if (!answer.starts_with(take(words, ": ") + ": ")) return false;
  const bool uncited = words.find("; nothing said") != std::string::npos;
  words = take(words, "; nothing said");
  return answer.find(words) != std::string::npos && (!uncited || answer.ends_with("| "));
}

class TemperatureRuleCase : public testing::TestWithParam<RuleCase> {};
TEST_P(TemperatureRuleCase, ComesOutAsTheLawHasIt) {
  const auto& one = GetParam();
  static const auto packs = shipped_packs();
  const auto terms = packs.temperature_terms(one.pack, on_this_day);
  ASSERT_TRUE(terms.has_value()) << told(terms.error());
  const auto answered = answer(one, *terms);
  EXPECT_TRUE(fits(one, answered)) << one.pack << ", " << one.kind << " " << one.given << "\n  is: " << answered
                                   << "\n  expected: " << one.expected << "\n  source: " << one.source;
}
INSTANTIATE_TEST_SUITE_P(Shipped, TemperatureRuleCase, testing::ValuesIn(cases()), [](const auto& one) {
  auto name = one.param.id;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

// ---- the published table of times and temperatures, row by row -----------------------------------------------------------------------

struct UsedHold {
  const char* published;
  const char* pack;  ///< nothing: no pack has it
  const char* row;   ///< or why no pack has it
};
constexpr UsedHold used_holds[] = {
    {"FC-egg-order", nullptr, "eaten at once: no cake"},
    {"FC-pooled-145", "us", "egg-145"},
    {"FC-pooled-150", "us", "egg-150"},
    {"FC-pooled-155", "us", "egg-155"},
    {"FC-pooled-155-old", nullptr, "15 s until 2017: superseded"},
    {"FC-pooled-158", nullptr, "not in the text read last"},
    {"FC-74", nullptr, "poultry and stuffed food"},
    {"FC-reheat", "us", "reheat"},
    {"FC-reheat-pack", nullptr, "out of a sealed pack: no batch"},
    {"UK-60", "gb-eng", "core-60"},
    {"UK-65", "gb-eng", "core-65"},
    {"UK-70", "gb-wls", "core-70"},
    {"UK-75", "gb-sct", "core-75"},
    {"UK-80", "ni", "core-80"},
    {"SCT-reheat", "gb-sct", "reheat"},
    {"ES-70", nullptr, "no layer: its life of 24 hours cannot be said"},
    {"ES-63", nullptr, "eaten at once: no cake"},
    {"ES-75-old", nullptr, "repealed"},
    {"VIC-75", "anz", "egg-75"},
    {"ON-74", "ca-on", "egg-74"},
    {"JP-68", nullptr, "no layer"},
    {"FR-anglaise", nullptr, "trade advice"},
    {"FR-patissiere", nullptr, "trade advice"},
};

TEST(PublishedHolds, StandInThePacksRowByRow) {
  const auto packs = shipped_packs();
  const auto rows = rows_of_table("time_temperature_equivalents.tsv");
  EXPECT_EQ(rows.size(), std::size(used_holds));
  for (const TableRow& row : rows) {
    const auto used =
        std::find_if(std::begin(used_holds), std::end(used_holds), [&](const UsedHold& one) { return row.at("rule_id") == one.published; });
    ASSERT_NE(used, std::end(used_holds)) << row.at("rule_id");
    if (used->pack == nullptr) continue;
    const auto terms = packs.temperature_terms(used->pack, on_this_day);
    ASSERT_TRUE(terms.has_value()) << used->pack;
    std::optional<HeatRow> kept;
    for (const auto& one : terms->heat_rows) {
      if (one.cited.row == used->row) kept = one;
    }
    if (terms->reheat && terms->reheat->cited.row == used->row) {
      kept = HeatRow{};
      kept->at = terms->reheat->at, kept->hold = terms->reheat->hold;
    }
    ASSERT_TRUE(kept.has_value()) << used->published;
    const auto hundredths = [&](const char* column) { return std::llround(tierproof::figure(row, column) * 100); };
    const bool two_columns = row.at("jurisdiction") != "UK" && row.at("jurisdiction") != "UK-SCT" && row.at("jurisdiction") != "AU-VIC";
    auto stricter = Temperature::hundredths_celsius(hundredths("temp_C"));
    if (two_columns) stricter = std::max(stricter, Temperature::hundredths_fahrenheit(hundredths("temp_F")));
    EXPECT_EQ(kept->at, stricter) << used->published << ": " << row.at("source");
    EXPECT_EQ(kept->hold, Span{std::llround(tierproof::figure(row, "hold_s") * 1000)}) << used->published << ": " << row.at("source");
  }
}

// ---- a row that is gone ---------------------------------------------------------------------------------------------------------

struct TemperatureFile {
  std::string code;
  Json json;
};

std::vector<TemperatureFile> temperature_files() {
  std::vector<TemperatureFile> found;
  for (const auto& file : reference_files()) {
    if (!file.path.ends_with("/temperature.json")) continue;
    found.push_back({file.path.substr(0, file.path.find('/')), parse_json(file.text, file.path).value()});
  }
  return found;
}

/// The file without rows that close `id` in the layer beneath, which would close nothing.
PackFile without_closing(const PackFile& file, const std::string& id) {
  if (!file.path.ends_with("/temperature.json")) return file;
  auto json = parse_json(file.text, file.path).value();
  const auto closes = [&](const Json& row) { return row.find("id")->text() == id && row.find("mechanism")->text() == "closed"; };
  std::erase_if(json["rows"].array(), closes);
  return {file.path, write_canonical(json)};
}

/// Whether a case notices that the row is gone; a set that cannot be used without it is noticed too.
bool notices(const TemperatureFile& of, std::size_t gone, const std::vector<PackFile>& all) {
  auto json = of.json;
  auto& rows = json["rows"].array();
  const auto id = rows[gone].find("id")->text();
  rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(gone));
  std::vector<PackFile> files;
  for (const auto& file : all) {
    const bool changed = file.path == of.code + "/temperature.json";
    if (changed && rows.empty()) continue;  // the pack is gone with its one row
    const bool kept = file.path.ends_with("/temperature.json") || file.path == "claims.json" || file.path.starts_with("plan/");
    if (kept) files.push_back(changed ? PackFile{file.path, write_canonical(json)} : without_closing(file, id));
  }
  const auto packs = RulePacks::read(files);
  if (!packs) throw std::runtime_error{told(packs.error())};
  for (const auto& one : cases()) {
    const auto terms = packs->temperature_terms(one.pack, on_this_day);
    if (!terms || !fits(one, answer(one, *terms))) return true;
  }
  return false;
}

TEST(TemperatureRows, AreEachNoticedByACaseWhenTheyAreGone) {
  const auto all = reference_files();
  for (const auto& file : temperature_files()) {
    const auto& rows = file.json.find("rows")->array();
    for (std::size_t i = 0; i < rows.size(); ++i) {
      EXPECT_TRUE(notices(file, i, all)) << "reference/" << file.code << "/temperature.json:" << rows[i].line() << ": "
                                         << rows[i].find("id")->text() << ": no case notices when it is gone";
    }
  }
}

TEST(TemperatureRows, HaveCasesForEveryPackThatCanBeChosen) {
  std::set<std::string> with_cases;
  for (const auto& one : cases()) with_cases.insert(one.pack);
  for (const auto& code : shipped_packs().with_temperatures()) EXPECT_TRUE(with_cases.contains(code)) << code;
}

}  // namespace
}  // namespace tierproof::temperature_rows
