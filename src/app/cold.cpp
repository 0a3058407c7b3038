#include "cold.h"

#include <fmt/format.h>

#include <algorithm>

#include "charts.h"
#include "series.h"
#include "tierproof/sums/freezing.h"
#include "tierproof/sums/stay.h"
#include "tierproof/sums/time_out.h"

namespace tierproof {
std::vector<Stretch> whereabouts(const State& state, const std::string& what, Instant from, Instant to) {
  std::vector<std::pair<Instant, PlaceId>> moves;
  for (const auto& stay : state.stays) {
    if (stay.value.what == what && stay.happened < to) moves.emplace_back(stay.happened, stay.value.place);
  }
  // In the order in which it was moved, whatever the order of the notes: of the moves before `from` the last one counts.
  std::stable_sort(moves.begin(), moves.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  for (auto& move : moves) move.first = std::max(move.first, from);
  moves.insert(moves.begin(), {from, PlaceId{}});
  std::vector<Stretch> stretches;
  for (std::size_t i = 0; i < moves.size(); ++i) {
    const Instant end = i + 1 < moves.size() ? moves[i + 1].first : to;
    if (end > moves[i].first) stretches.push_back({moves[i].second, moves[i].first, end});
  }
  return stretches;
}

namespace {

class ColdJudging {
 public:
  ColdJudging(const Session& session, Judgement& judgement, std::vector<ProbeTrust>& used)
      : session_{session}, judgement_{judgement}, used_{used} {}

  /// @param storage  `freezer`: only a freezer will do; else anything that is chilled
  void item(const std::string& what, const std::string& words, const std::string& storage, const std::vector<Stretch>& stretches,
            Offset offset) {
    std::vector<TimeOut> out;
    for (const auto& stretch : stretches) {
      const auto place = session_.state().places.find(stretch.place);
      const bool known = place != session_.state().places.end();
      const bool cold = known && (place->second.value.kind == "freezer" || (storage != "freezer" && is_chilled(place->second.value)));
      if (!cold) {
        out.push_back({stretch.from, stretch.to, known ? place->second.value.name : "no place recorded"});
      } else {
        stay(what, words, stretch, place->second.value, offset);
      }
    }
    if (auto finding = judge_time_out(words, out, judgement_.temperature, offset)) judgement_.findings.push_back(std::move(*finding));
  }

 private:
  void stay(const std::string& what, const std::string& words, const Stretch& stretch, const Place& place, Offset offset) {
    const std::string& where = place.name;
    freezer_ = place.kind == "freezer";
    ChilledStay asked;
    asked.subject = words;
    asked.where = where;
    asked.from = stretch.from;
    asked.to = stretch.to;
    asked.offset = offset;
    // Readings of the place tell its air, whatever hangs there; only a thermometer put into this very food tells the food.
    std::vector<Series> all = series_of(session_, stretch.place.text(), "chilled");
    for (auto& series : all) series.measures_food = false;
    const std::size_t of_place = all.size();
    for (auto& own : series_of(session_, what, "chilled")) all.push_back(std::move(own));
    std::vector<ProbeId> watching;
    for (const auto& series : all) watching.push_back(series.probe);
    const std::string missed = told_as_missed(what, stretch, watching, offset);
    if (all.empty()) {
      add(judge(asked, {}, TemperatureSpan{}, false, "no temperature recorded"), missed);
      return;
    }
    std::vector<Finding> of_air;
    std::vector<FoodFinding> of_food;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const Series& series = all[i];
      const auto part = around(series.readings, stretch.from, stretch.to);
      const Trust trust = part.empty() ? Trust{false, "no reading at that time"}
                                       : trust_of(session_, series, std::max(stretch.from, part.front().at),
                                                  std::max(std::max(stretch.from, part.front().at), std::min(stretch.to, part.back().at)),
                                                  judgement_.temperature, offset);
      used_.push_back({series.name, trust});
      asked.measured_food = i >= of_place && series.measures_food;
      if (part.empty() && i >= of_place) continue;  // not measured while it was here
      Finding finding = judge(asked, part, series.error, trust.good, fmt::format("{}, {}; {}", series.name, series.how, trust.words));
      if (asked.measured_food) {
        of_food.push_back({std::move(finding), found_too_warm(asked, part, series.error, judgement_.temperature)});
      } else {
        of_air.push_back(std::move(finding));
      }
      chart(series, part, trust, stretch, words,
            i < of_place ? where + ", air" : fmt::format("{}, {} of {}", where, series.measures_food ? "food" : "air", words), offset);
    }
    if (of_air.empty() && of_food.empty()) {
      add(judge(asked, {}, TemperatureSpan{}, false, "no temperature recorded"), missed);
      return;
    }
    add(gravest_of_stay(of_air, of_food), missed);
  }

  Finding judge(const ChilledStay& asked, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                const std::string& evidence) const {
    Finding finding = judge_chilled_stay(asked, readings, error, reliable, evidence, judgement_.temperature);
    return freezer_ ? judge_freezer_stay(asked, readings, std::move(finding)) : finding;
  }

  /// A check told as missed changes no verdict; it is named beside what was recorded.
  void add(Finding finding, const std::string& missed) {
    if (!missed.empty()) finding.evidence += (finding.evidence.empty() ? "" : "; ") + missed;
    judgement_.findings.push_back(std::move(finding));
  }

  /// `check told as missed on 2 May 2026: forgotten (note 12)`, for the days of the stay: of the place, of what stood in it, or of a
  /// thermometer that hangs there or was used.
  std::string told_as_missed(const std::string& what, const Stretch& stretch, const std::vector<ProbeId>& watching, Offset offset) const {
    const State& state = session_.state();
    std::string words;
    for (const auto& missed : state.missed) {
      const std::string& about = missed.value.about;
      const auto probe = state.probes.find(ProbeId{about});
      const bool watches = probe != state.probes.end() && (probe->second.value.hangs_in == stretch.place ||
                                                           std::find(watching.begin(), watching.end(), probe->first) != watching.end());
      if (about != what && about != stretch.place.text() && !watches) continue;
      if (missed.value.day < day_of(stretch.from, offset) || missed.value.day > day_of(stretch.to, offset)) continue;
      words += fmt::format("{}check of {} told as missed on {}: {} (note {})", words.empty() ? "" : "; ", about,
                           format_date_long(missed.value.day), missed.value.because, missed.sequence);
    }
    return words;
  }

  void chart(const Series& series, const std::vector<Reading>& part, const Trust& trust, const Stretch& stretch, const std::string& what,
             const std::string& watched, Offset offset) {
    SeriesUsed used;
    used.watched = watched;
    used.probe = series.name;
    used.trust = trust.words;
    used.error = series.error;
    used.longest_step = longest_gap(judgement_.temperature, "chilled hold");
    for (const auto& chill : judgement_.temperature.chill) {
      if (freezer_ || (chill.advice && used.limit)) continue;
      used.limit = chill.limit;
      used.limit_words = fmt::format("{} {} ({})", chill.advice ? "advice" : "limit", in_celsius_words(chill.limit), chill.measured_in);
      if (chill.advice) continue;
      used.allowance = allowance();
      break;
    }
    used.from = stretch.from;
    used.to = stretch.to;
    used.offset = offset;
    used.stays = {{what, stretch.from, stretch.to}};
    used.readings = part;
    add_watched(judgement_.series, std::move(used));
    for (auto& drawn : judgement_.series) {  // with what it was put together with, it is longer
      if (drawn.probe == series.name && drawn.watched == watched && drawn.from <= stretch.from && drawn.to >= stretch.to)
        drawn.readings = around(series.readings, drawn.from, drawn.to);
    }
  }

  /// What the law allows above its limit, in words: it names a time, and no second temperature.
  std::optional<ChartAllowance> allowance() const {
    std::string words;
    for (const auto& row : judgement_.temperature.allowances) {
      words += fmt::format("{}warmer for less than {}{}: {}", words.empty() ? "" : "; ", format_span(row.less_than),
                           row.once ? ", once" : "", row.use);
    }
    if (words.empty()) return std::nullopt;
    return ChartAllowance{std::move(words), std::nullopt};
  }

  const Session& session_;
  Judgement& judgement_;
  std::vector<ProbeTrust>& used_;
  bool freezer_ = false;  ///< the stay that is being judged is one in a freezer
};

}  // namespace

Instant used_up(const State& state, const CakeParts& parts, const BatchId& id, Instant otherwise) {
  std::optional<Instant> last;
  for (const auto& batch : parts.batches) {
    const auto recorded = state.batches.find(batch.id);
    if (recorded == state.batches.end()) continue;
    for (const auto& use : recorded->second.value.uses) {
      if (use.of == id.text()) last = std::max(last.value_or(recorded->second.happened), recorded->second.happened);
    }
  }
  for (const auto& tier : state.tiers) {
    if (tier.value.cake != parts.cake) continue;
    for (const auto& part : tier.value.parts) {
      if (part.batch == id) last = std::max(last.value_or(tier.happened), tier.happened);
    }
  }
  return last.value_or(otherwise);
}

bool is_chilled(const Place& place) {
  return place.kind == "fridge" || place.kind == "freezer" || place.kind == "display" || place.kind == "van";
}

void judge_cold(const Session& session, Judgement& judgement, const std::map<BatchId, CooledBetween>& cooled,
                std::vector<ProbeTrust>& used) {
  const State& state = session.state();
  ColdJudging judging{session, judgement, used};
  for (const auto& batch : judgement.parts.batches) {
    const auto recorded = state.batches.find(batch.id);
    if (recorded == state.batches.end()) continue;
    const auto recipe = state.recipe_versions.find(recorded->second.value.recipe_version);
    if (recipe != state.recipe_versions.end() && recipe->second.value.storage == "room") continue;
    const std::string storage = recipe == state.recipe_versions.end() ? "fridge" : recipe->second.value.storage;
    const Instant made = recorded->second.happened;
    const Instant last = used_up(state, judgement.parts, batch.id, judgement.at.at);
    std::vector<Stretch> stretches;
    if (const auto cooling = cooled.find(batch.id); cooling == cooled.end()) {
      stretches = whereabouts(state, batch.id.text(), made, last);
    } else {
      stretches = whereabouts(state, batch.id.text(), made, std::min(cooling->second.from, last));
      for (auto& stretch : whereabouts(state, batch.id.text(), std::max(made, cooling->second.to), last)) stretches.push_back(stretch);
    }
    judging.item(batch.id.text(), fmt::format("{} ({})", batch.id.text(), batch.name), storage, stretches, recorded->second.offset);
  }
  if (judgement.life && judgement.life->storage == "cool dry place") return;
  std::optional<Instant> built;
  Offset offset = judgement.at.offset;
  for (const auto& tier : state.tiers) {
    if (tier.value.cake != judgement.cake) continue;
    if (!built || tier.happened < *built) {  // the first tier stands while the others are built
      built = tier.happened;
      offset = tier.offset;
    }
  }
  if (!built) return;
  const auto* handed = state.hand_over(judgement.cake);
  const Instant until = handed == nullptr ? judgement.at.at : std::min(handed->happened, judgement.at.at);
  if (until > *built)
    judging.item(judgement.cake.text(), judgement.cake.text(), judgement.life ? judgement.life->storage : "fridge",
                 whereabouts(state, judgement.cake.text(), *built, until), offset);
}

}  // namespace tierproof
