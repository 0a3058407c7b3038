#include "tierproof/sums/net_quantity.h"

#include <fmt/format.h>

#include <cstdint>
#include <set>

#include "tierproof/sums/quantity.h"
#include "tierproof/units/share.h"

namespace tierproof {
namespace {

constexpr std::int64_t mg_in_a_gram = 1000;
constexpr std::int64_t mg_in_a_kilogram = 1'000'000;
constexpr std::int64_t ten_micrograms_in_a_pound = 45'359'237;  // 453.59237 g, exact by definition
constexpr int ounces_in_a_pound = 16;
constexpr int pounds_without_ounces = 4;

Share whole_part(const Share& value) { return Share{numerator(value) / denominator(value)}; }

/// Half up at `places` decimals, never negative.
Share rounded(const Share& value, int places) {
  Share scale = 1;
  for (int i = 0; i < places; ++i) scale *= 10;
  return whole_part(value * scale + share_of(1, 2)) / scale;
}

/// Cut off after `places` decimals.
Share cut(const Share& value, int places) {
  Share scale = 1;
  for (int i = 0; i < places; ++i) scale *= 10;
  return whole_part(value * scale) / scale;
}

/// Decimals without zeros at their end.
std::string trimmed(const Share& value, int places) { return short_decimal(format_decimal(value, places)); }

std::string metric(Mass mass) {
  const std::int64_t mg = mass.to_milligrams();
  if (mg < mg_in_a_kilogram) return fmt::format("{} g", mg / mg_in_a_gram);
  return trimmed(cut(share_of(mg, mg_in_a_kilogram), 3), 3) + " kg";
}

std::string three_figures(Mass mass) {
  const std::int64_t mg = mass.to_milligrams();
  const bool heavy = mg >= mg_in_a_kilogram;
  const Share value = share_of(mg, heavy ? mg_in_a_kilogram : mg_in_a_gram);
  const int figures = !heavy && value < 100 ? 2 : 3;
  int before = 1;  // figures before the point
  for (Share edge = 10; value >= edge; edge *= 10) ++before;
  std::string text;
  if (before <= figures) {
    text = trimmed(cut(value, figures - before), figures - before);
  } else {  // a thousand kilograms and more
    Share unit = 1;
    for (int i = figures; i < before; ++i) unit *= 10;
    text = format_decimal(whole_part(value / unit) * unit, 0);
  }
  return text + (heavy ? " kg" : " g");
}

std::string avoirdupois(Mass mass) {
  const Share pounds = share_of(mass.to_milligrams() * 100, ten_micrograms_in_a_pound);
  const Share ounces = rounded(pounds * ounces_in_a_pound, 1);
  if (ounces >= ounces_in_a_pound * pounds_without_ounces) return trimmed(rounded(pounds, 2), 2) + " LB";
  const std::string text = trimmed(ounces, 1) + " OZ";
  if (ounces < ounces_in_a_pound) return text;
  const Share whole = whole_part(ounces / ounces_in_a_pound);
  const Share rest = ounces - whole * ounces_in_a_pound;
  const std::string and_ounces = rest == 0 ? "" : fmt::format(" {} OZ", trimmed(rest, 1));
  return fmt::format("{} ({} LB{})", text, format_decimal(whole, 0), and_ounces);
}

}  // namespace

Result<NetQuantity> net_quantity(Mass mass, std::optional<int> number, const LabelTerms& terms) {
  Refusals refusals;
  if (mass < grams(1)) refusals.push_back({"", 0, "mass", "the food weighs less than a gram", "weigh it"});
  if (number && *number < 1) refusals.push_back({"", 0, "number", "there is no cake in the box", "count them"});
  if (!terms.net_quantity) refusals.push_back({"", 0, "net quantity", "these rules have no row for it", "mend the rule pack"});
  if (!refusals.empty()) return refusals;
  const NetQuantityTerm& term = *terms.net_quantity;
  if (term.form != "metric" && term.form != "metric, three figures" && term.form != "metric and avoirdupois")
    return Refusal{"", 0, "net quantity", fmt::format("{} is no form of it", term.form), "mend the rule pack"};
  NetQuantity written{term.words.empty() ? "" : term.words + " ", "", term.cited};
  if (term.form == "metric, three figures") {
    written.text += three_figures(mass);
  } else if (term.form == "metric") {
    written.text += metric(mass);
  } else {
    written.text += avoirdupois(mass) + " " + metric(mass);
  }
  const std::string own = written.text;
  std::set<std::string> told{own};
  for (const std::string& language : terms.language.languages) {
    const auto mark = terms.language.decimal_marks.find(language);
    const std::string there = mark == terms.language.decimal_marks.end() ? own : with_decimal_mark(own, mark->second);
    if (told.insert(there).second) written.text += " / " + there;
  }
  if (term.by_number && number) written.instead = fmt::format("{} {}", *number, *number == 1 ? "cake" : "cakes");
  return written;
}

}  // namespace tierproof
