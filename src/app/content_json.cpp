#include <fmt/format.h>

#include <cmath>

#include "tierproof/app/issuing.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

template <class Items, class Make>
Json list_of(const Items& items, const Make& make) {
  Json::Array list;
  for (const auto& item : items) list.push_back(make(item));
  return Json{std::move(list)};
}

Json json_of(const Run& run);
Json json_of(const std::vector<Run>& runs);
Json json_of(const LabelledText& line);
Json json_of(const AllergenLine& line);
Json json_of(const Override& override);
Json json_of(const PackRow& row);
Json json_of(const BatchRow& row);
Json json_of(const EggLine& line);
Json json_of(const Gap& gap);
Json json_of(const Reading& reading);
Json json_of(const ClockChange& change);
Json json_of(const ChartStay& stay);
Json json_of(const ChartAllowance& allowance);
Json json_of(const ShownSoFar& shown);
Json json_of(const ChartBound& bound);
Json json_of(const Chart& chart);
Json json_of(const GrowthTold& told);
Json json_of(const StayTold& told);
Json json_of(const std::string& text) { return Json{text}; }

template <class Items>
Json json_list(const Items& items) {
  return list_of(items, [](const auto& item) { return json_of(item); });
}

Json json_of(const Run& run) { return Json{Json::Object{{"text", Json{run.text}}, {"emphasised", Json{run.emphasised}}}}; }
Json json_of(const std::vector<Run>& runs) {
  return list_of(runs, [](const Run& run) { return json_of(run); });
}
Json json_of(const LabelledText& line) { return Json{Json::Object{{"label", Json{line.label}}, {"text", Json{line.text}}}}; }

Json json_of(const AllergenLine& line) {
  return Json{Json::Object{{"allergen", Json{line.name}}, {"word", Json{line.word}}, {"why", Json{line.why}}}};
}
Json json_of(const Override& override) {
  return Json{Json::Object{{"control", Json{override.control}},
                           {"finding", Json{override.finding}},
                           {"reason", Json{override.reason}},
                           {"by", Json{override.by}}}};
}
Json json_of(const PackRow& row) {
  return Json{Json::Object{{"ingredient", Json{row.ingredient}},
                           {"code", Json{row.code}},
                           {"supplier", Json{row.supplier}},
                           {"dates", Json{row.dates}},
                           {"mass", Json{row.mass}},
                           {"how", Json{row.how}}}};
}
Json json_of(const BatchRow& row) {
  return Json{Json::Object{{"batch", Json{row.batch}},
                           {"name", Json{row.name}},
                           {"made", Json{row.made}},
                           {"mass", Json{row.mass}},
                           {"tier", Json{row.tier}},
                           {"how", Json{row.how}}}};
}
Json json_of(const EggLine& line) {
  return Json{Json::Object{{"batch", Json{line.batch}},
                           {"egg", Json{line.egg}},
                           {"source", Json{line.source}},
                           {"date", Json{line.date}},
                           {"cracked", Json{line.cracked}},
                           {"opened", Json{line.opened}},
                           {"treatment", Json{line.treatment}},
                           {"verdict", Json{line.verdict}}}};
}
Json json_of(const Gap& gap) {
  return Json{
      Json::Object{{"from", Json{format_zoned(gap.from, Offset{})}}, {"to", Json{format_zoned(gap.to, Offset{})}}, {"why", Json{gap.why}}}};
}
/// Hundredths of a degree Celsius, rounded half away from zero: for reading, never for deciding.
std::int64_t hundredths_of(Temperature temperature) {
  const double hundredths = temperature.to_celsius() * 100.0;
  return static_cast<std::int64_t>(hundredths < 0 ? hundredths - 0.5 : hundredths + 0.5);
}
Json json_of(const Reading& reading) {
  return Json{Json::Object{{"at", Json{format_zoned(reading.at, Offset{})}},
                           {"celsius_hundredths", reading.temperature ? Json{hundredths_of(*reading.temperature)} : Json{}}}};
}
Json json_of(const ClockChange& change) {
  return Json{Json::Object{{"at", Json{format_zoned(change.at, Offset{})}}, {"offset", Json{std::int64_t{change.offset.minutes}}}}};
}
Json json_of(const ChartStay& stay) {
  return Json{Json::Object{
      {"what", Json{stay.name}}, {"from", Json{format_zoned(stay.from, Offset{})}}, {"to", Json{format_zoned(stay.to, Offset{})}}}};
}
Json json_of(const ChartAllowance& allowance) {
  return Json{Json::Object{{"words", Json{allowance.words}},
                           {"up_to_celsius_hundredths", allowance.up_to ? Json{hundredths_of(*allowance.up_to)} : Json{}}}};
}
/// In milliseconds, rounded down: for reading, never for deciding.
Json json_of(const ShownSoFar& shown) {
  return Json{Json::Object{{"at", Json{format_zoned(shown.at, Offset{})}},
                           {"shown_ms", Json{std::chrono::duration_cast<Span>(shown.lower).count()}}}};
}
Json json_of(const ChartBound& bound) {
  return Json{Json::Object{{"what", Json{bound.unit_words}},
                           {"shown", json_list(bound.shown)},
                           {"wanted_ms", Json{bound.wanted.count()}},
                           {"told", Json{bound.told}}}};
}
Json json_of(const Chart& chart) {
  return Json{Json::Object{{"title", Json{chart.title}},
                           {"readings", json_list(chart.readings)},
                           {"gaps", json_list(chart.gaps)},
                           {"limit_celsius_hundredths", chart.limit ? Json{hundredths_of(*chart.limit)} : Json{}},
                           {"limit", Json{chart.limit_words}},
                           {"limit_is_ceiling", Json{chart.limit_is_ceiling}},
                           {"allowance", chart.allowance ? json_of(*chart.allowance) : Json{}},
                           {"from", Json{format_zoned(chart.from, Offset{})}},
                           {"to", Json{format_zoned(chart.to, Offset{})}},
                           {"offset", Json{std::int64_t{chart.offset.minutes}}},
                           {"clock_changes", json_list(chart.clock_changes)},
                           {"stays", json_list(chart.stays)},
                           {"heat_step", chart.bound ? json_of(*chart.bound) : Json{}},
                           {"note", Json{chart.note}}}};
}

/// To the nearest.
Json hundredths_json(double value) { return Json{std::int64_t{std::llround(value * 100)}}; }
Json thousandths_json(double value) { return Json{std::int64_t{std::llround(value * 1000)}}; }

Json json_of(const WarmTime& time, TemperatureSpan error) {
  return Json{Json::Object{{"from", Json{format_zoned(time.from, Offset{})}},
                           {"to", Json{format_zoned(time.to, Offset{})}},
                           {"at_least_ms", Json{time.least.count()}},
                           {"estimate_ms", Json{std::chrono::duration_cast<Span>(time.estimate).count()}},
                           {"at_most_ms", time.most ? Json{time.most->count()} : Json{}},
                           {"peak_celsius_hundredths", Json{hundredths_of(time.peak)}},
                           {"peak_at_least_celsius_hundredths", Json{hundredths_of(time.peak - error)}},
                           {"peak_at_most_celsius_hundredths", Json{hundredths_of(time.peak + error)}},
                           {"over_limit_celsius_minutes_hundredths", hundredths_json(time.estimated_over)},
                           {"over_limit_at_least_celsius_minutes_hundredths", hundredths_json(time.least_over)},
                           {"over_limit_at_most_celsius_minutes_hundredths", hundredths_json(time.most_over)}}};
}
Json json_of(const GrowthTold& told) {
  return Json{Json::Object{{"of", Json{told.by.of}},
                           {"estimate_log10_thousandths", thousandths_json(told.estimate)},
                           {"at_most_log10_thousandths", thousandths_json(told.at_most)},
                           {"warns_from_log10_thousandths", thousandths_json(told.by.warn_from)},
                           {"warns", Json{told.warns}},
                           {"source", Json{cite(told.by.cited)}},
                           {"caution", Json{"a screening estimate of the readings, without a lag; it lifts no limit"}}}};
}
Json json_of(const StayTold& told) {
  Json::Array warm;
  for (const WarmTime& time : told.warm) warm.push_back(json_of(time, told.error));
  const auto degrees = [](const std::optional<Temperature>& t) { return t ? Json{hundredths_of(*t)} : Json{}; };
  return Json{Json::Object{{"subject", Json{told.subject}},
                           {"where", Json{told.where}},
                           {"thermometer", Json{told.thermometer}},
                           {"measured", Json{told.measured_food ? "food" : "air"}},
                           {"thermometer_good", Json{told.reliable}},
                           {"from", Json{format_zoned(told.from, Offset{})}},
                           {"to", Json{format_zoned(told.to, Offset{})}},
                           {"error_celsius_hundredths", Json{hundredths_of(Temperature{} + told.error)}},
                           {"limit_celsius_hundredths", degrees(told.limit)},
                           {"limit", Json{told.limit_words}},
                           {"coldest_celsius_hundredths", degrees(told.coldest)},
                           {"warmest_celsius_hundredths", degrees(told.warmest)},
                           {"too_warm", Json{std::move(warm)}},
                           {"gaps", json_list(told.gaps)},
                           {"growth", json_list(told.growth)}}};
}

}  // namespace

Json json_of(const Finding& finding) {
  const char* stop = finding.stop == Stop::none ? "none" : finding.stop == Stop::needs_person ? "needs a person" : "no override";
  return Json{Json::Object{{"control", Json{finding.control}},
                           {"verdict", Json{term_of(finding.verdict)}},
                           {"stop", Json{stop}},
                           {"subject", Json{finding.subject}},
                           {"message", Json{finding.message}},
                           {"remedy", Json{finding.remedy}},
                           {"limit", Json{finding.limit}},
                           {"result", Json{finding.result}},
                           {"evidence", Json{finding.evidence}},
                           {"source", Json{finding.source}},
                           {"paths", json_list(finding.paths)},
                           {"advice", json_list(finding.advice)}}};
}

namespace {

Json::Object members_of(const LabelWords& words) {
  return Json::Object{{"language", Json{words.language}},
                      {"name", Json{words.name}},
                      {"name_statements", json_list(words.name_statements)},
                      {"quantities", Json{words.quantities}},
                      {"heading", json_of(words.heading)},
                      {"ingredients", json_list(words.ingredients)},
                      {"after_list", json_list(words.after_list)},
                      {"allergen_line", json_of(words.allergen_line)},
                      {"summary", json_of(words.summary)},
                      {"statements", json_list(words.statements)},
                      {"may_contain", json_list(words.may_contain)},
                      {"order", json_list(words.order)},
                      {"storage", Json{words.storage}},
                      {"date", Json{words.date}},
                      {"remove", Json{words.remove}}};
}

}  // namespace

Json json_of(const LabelContent& content) {
  Json::Array languages;
  for (const LabelWords& words : content.languages) languages.push_back(Json{members_of(words)});
  Json json{members_of(content)};
  json["schema"] = Json{"tierproof/label/1"};
  json["demo"] = Json{content.demo};
  json["stop"] = Json{content.stop};
  json["languages"] = Json{std::move(languages)};
  json["storage_reason"] = Json{content.storage_reason};
  json["quantity"] = Json{content.quantity};
  json["lot"] = Json{content.lot};
  json["box"] = Json{content.box};
  json["business"] = json_list(content.business);
  json["reference"] = Json{content.reference};
  json["cautions"] = json_list(content.cautions);
  json["head"] = Json{content.head};
  json["net_quantity"] = Json{content.net_quantity};
  json["code"] = Json{content.code};
  json["gs1_elements"] = Json{content.gs1_elements};
  Json::Array heights;
  for (const LeastHeight& height : content.heights) {
    heights.push_back(Json{Json::Object{{"what", Json{height.what}},
                                        {"measured", Json{height.measured}},
                                        {"micrometres", Json{height.micrometres}},
                                        {"source", Json{height.source}},
                                        {"words", Json{height.words}}}});
  }
  json["heights"] = Json{std::move(heights)};
  return json;
}

Json json_of(const AllergenSheetContent& content) {
  Json::Array lines;
  for (const auto& each : content.lines) {
    lines.push_back(Json{Json::Object{
        {"allergen", Json{each.line.name}}, {"word", Json{each.line.word}}, {"tiers", Json{each.tiers}}, {"why", Json{each.line.why}}}});
  }
  return Json{Json::Object{{"schema", Json{"tierproof/allergen-sheet/1"}},
                           {"demo", Json{content.demo}},
                           {"stop", Json{content.stop}},
                           {"business", json_list(content.business)},
                           {"reference", Json{content.reference}},
                           {"name", Json{content.name}},
                           {"event", Json{content.event}},
                           {"sold", Json{content.sold}},
                           {"allergens", Json{std::move(lines)}},
                           {"traces", json_list(content.traces)},
                           {"statements", json_list(content.statements)},
                           {"together", Json{content.together}},
                           {"cautions", json_list(content.cautions)},
                           {"head", Json{content.head}},
                           {"drawn", Json{content.drawn}}}};
}

Json plan_json(const std::string& words, std::uint64_t note, const std::string& row) {
  Json::Object plan{{"version", Json{words}}};
  plan.emplace("note", note == 0 ? Json{nullptr} : Json{static_cast<std::int64_t>(note)});
  if (!row.empty()) plan.emplace("row", Json{row});
  return Json{std::move(plan)};
}

Json json_of(const CakeRecordContent& content) {
  Json::Array findings;
  for (std::size_t i = 0; i < content.findings.size(); ++i) {
    Json finding = json_of(content.findings[i]);
    finding["heading"] = Json{content.finding_words[i]};
    finding["plan"] = plan_json(content.plan, content.plan_note, content.findings[i].control);
    findings.push_back(std::move(finding));
  }
  return Json{Json::Object{{"schema", Json{"tierproof/cake-record/1"}},
                           {"demo", Json{content.demo}},
                           {"business", json_list(content.business)},
                           {"title", Json{content.title}},
                           {"reference", Json{content.reference}},
                           {"name", Json{content.name}},
                           {"event", Json{content.event}},
                           {"sold", Json{content.sold}},
                           {"sold_why", Json{content.sold_why}},
                           {"outcome", Json{content.outcome}},
                           {"released", Json{content.released}},
                           {"overrides", json_list(content.overrides)},
                           {"allergy", json_list(content.allergy)},
                           {"allergens", json_list(content.allergens)},
                           {"findings", Json{std::move(findings)}},
                           {"plan", plan_json(content.plan, content.plan_note, "")},
                           {"keep", json_list(content.keep)},
                           {"handed_over", json_list(content.handed_over)},
                           {"after_hand_over", json_list(content.after_hand_over)},
                           {"own_record", Json{content.own_record}},
                           {"ingredients", json_list(content.ingredients)},
                           {"statements", json_list(content.statements)},
                           {"packs", json_list(content.packs)},
                           {"batches", json_list(content.batches)},
                           {"eggs", json_list(content.eggs)},
                           {"egg_told", json_list(content.egg_told)},
                           {"inedible", json_list(content.inedible)},
                           {"timeline", json_list(content.timeline)},
                           {"charts", json_list(content.charts)},
                           {"stays", json_list(content.stays)},
                           {"paths", json_list(content.paths)},
                           {"sums", json_list(content.sums)},
                           {"entries", json_list(content.entries)},
                           {"sources", json_list(content.sources)},
                           {"cautions", json_list(content.cautions)},
                           {"head", Json{content.full_head}},
                           {"program", Json{content.program}},
                           {"drawn", Json{content.drawn}}}};
}

}  // namespace tierproof
