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
  std::vector<Stretch> moves;
  for (const auto& stay : state.stays) {
    if (stay.value.what == what && stay.happened < to)
      moves.push_back({stay.value.place, stay.happened, to, stay.value.use, stay.value.marked, stay.value.procedure});
  }
  // In the order in which it was moved, whatever the order of the notes: of the moves before `from` the last one counts.
  std::stable_sort(moves.begin(), moves.end(), [](const auto& a, const auto& b) { return a.from < b.from; });
  for (auto& move : moves) move.from = std::max(move.from, from);
  moves.insert(moves.begin(), Stretch{PlaceId{}, from, to});
  std::vector<Stretch> stretches;
  for (std::size_t i = 0; i < moves.size(); ++i) {
    if (i + 1 < moves.size()) moves[i].to = moves[i + 1].from;
    if (moves[i].to > moves[i].from) stretches.push_back(moves[i]);
  }
  return stretches;
}

namespace {

/// What is known of everything that went into a food before: how long any of it was out of the cold, and what for.
struct Before {
  Span warm{};           ///< at the most: out of the cold, or by readings too warm in it
  Span unread{};         ///< in the cold, and no reading vouches for it
  bool served = false;   ///< kept for service or display
  bool perhaps = false;  ///< out, and nobody recorded what for
  void add(const Before& other) {
    const Span most = std::max(warm + unread, other.warm + other.unread);
    warm = std::max(warm, other.warm);
    unread = most - warm;
    served = served || other.served;
    perhaps = perhaps || other.perhaps;
  }
};
constexpr const char* service = "service or display";
constexpr const char* by_time = "time as the control";

bool is_cold_for(const State& state, const PlaceId& id, const std::string& storage) {
  const auto place = state.places.find(id);
  if (place == state.places.end()) return false;
  return place->second.value.kind == "freezer" || (storage != "freezer" && is_chilled(place->second.value));
}

/// Whether the thermometer of `series` had its good checks around `part` of a stretch.
Trust trust_within(const Session& session, const Series& series, const std::vector<Reading>& part, const Stretch& stretch,
                   const TemperatureTerms& terms, Offset offset) {
  if (part.empty()) return Trust{false, "no reading at that time"};
  const Instant first = std::max(stretch.from, part.front().at);
  return trust_of(session, series, first, std::max(first, std::min(stretch.to, part.back().at)), terms, offset);
}

/// How much of a stretch counts towards a total of time too warm over the whole life of `what`, where the rules have one: by readings of
/// the food itself and, in a place that is cold, of its air.
CountedWarm counted_of(const Session& session, const TemperatureTerms& terms, const std::string& what, const Stretch& stretch,
                       bool in_the_cold, Offset offset) {
  std::vector<Watch> watches;
  const auto add = [&](const Series& series, bool food) {
    Watch watch{around(series.readings, stretch.from, stretch.to), series.error, false, food};
    watch.reliable = trust_within(session, series, watch.readings, stretch, terms, offset).good;
    if (!watch.readings.empty()) watches.push_back(std::move(watch));
  };
  for (const auto& series : series_of(session, what, "chilled")) {
    if (series.measures_food || in_the_cold) add(series, series.measures_food);
  }
  if (in_the_cold) {
    for (const auto& series : series_of(session, stretch.place.text(), "chilled")) add(series, false);
  }
  return counted_warm(watches, stretch.from, stretch.to, *terms.warm_total, terms.longest_step("chilled hold"));
}

class ColdJudging {
 public:
  ColdJudging(const Session& session, Judgement& judgement, std::vector<ProbeTrust>& used)
      : session_{session}, judgement_{judgement}, used_{used} {}

  /// @param storage  `freezer`: only a freezer will do; else anything that is chilled
  /// @param before   of what went into it
  void item(const std::string& what, const std::string& words, const std::string& storage, const std::vector<Stretch>& stretches,
            const Before& before, Offset offset) {
    const State& state = session_.state();
    std::vector<TimeOut> out;
    Before so_far = before;
    FoodLife life;
    life.warm_before = before.warm;
    life.unread = before.unread;
    std::string warnings;    // of readings of the food while it was out
    std::string cold_until;  // the last stretch in the cold, when it is shown
    for (const auto& stretch : stretches) {
      const auto place = state.places.find(stretch.place);
      const bool known = place != state.places.end();
      if (is_cold_for(state, stretch.place, storage)) {
        const Verdict verdict = stay(what, words, stretch, place->second.value, so_far, offset);
        cold_until = verdict == Verdict::shown ? fmt::format("in the {} until then, as recorded", place->second.value.name) : "";
        life.cold_after = life.cold_after || !out.empty();
        if (judgement_.temperature.warm_total) {
          const CountedWarm counted = counted_of(session_, judgement_.temperature, what, stretch, true, offset);
          life.warm_in_cold += counted.warm;
          life.unread += counted.unread;
        }
      } else if (measured_cold(what, words, stretch, known ? place->second.value.name : "no place recorded", offset, warnings)) {
        cold_until = "measured in the food itself";
      } else {
        if (out.empty()) {
          life.served_before = so_far.served;
          life.perhaps_served_before = so_far.perhaps;
          life.cold_at_removal = cold_until;
          read_while_out(what, stretch, life, offset);
        }
        out.push_back({stretch.from, stretch.to, known ? place->second.value.name : "no place recorded", stretch.use, stretch.marked,
                       stretch.procedure});
        so_far.perhaps = so_far.perhaps || stretch.use.empty();
        cold_until.clear();
      }
      so_far.served = so_far.served || stretch.use == service;
    }
    if (auto finding = judge_time_out(words, out, judgement_.temperature, offset, &life)) {
      finding->evidence += warnings;
      judgement_.findings.push_back(std::move(*finding));
    }
  }

 private:
  static ChilledStay asked_of(const std::string& words, const std::string& where, const Stretch& stretch, Offset offset) {
    ChilledStay asked;
    asked.subject = words;
    asked.where = where;
    asked.from = stretch.from;
    asked.to = stretch.to;
    asked.offset = offset;
    asked.use = stretch.use;
    return asked;
  }

  /// Readings of the food itself between two moments, by the thermometer that vouches best.
  void read_while_out(const std::string& what, const Stretch& stretch, FoodLife& life, Offset offset) const {
    for (const auto& series : series_of(session_, what, "chilled")) {
      if (!series.measures_food) continue;
      auto part = around(series.readings, stretch.from, stretch.to);
      const auto inside = [&](const Reading& reading) { return reading.at >= stretch.from && reading.at <= stretch.to; };
      if (std::none_of(part.begin(), part.end(), inside)) continue;
      life.reliable = trust_of(session_, series, part.front().at, part.back().at, judgement_.temperature, offset).good;
      life.error = series.error;
      life.food = std::move(part);
      return;
    }
  }

  /// Whether readings of the food itself show that it was cold all the time in a place that is not: then it was not out of the cold. Adds
  /// the finding where they show that it was too warm, and what they warn of to `warnings`.
  bool measured_cold(const std::string& what, const std::string& words, const Stretch& stretch, const std::string& where, Offset offset,
                     std::string& warnings) {
    freezer_ = false;
    ChilledStay asked = asked_of(words, where, stretch, offset);
    asked.measured_food = true;
    std::vector<FoodFinding> all;
    for (const auto& series : series_of(session_, what, "chilled")) {
      const auto part = around(series.readings, stretch.from, stretch.to);
      if (!series.measures_food || part.empty()) continue;
      const Trust trust = trust_of(session_, series, part.front().at, part.back().at, judgement_.temperature, offset);
      Finding finding = judge(asked, part, series.error, trust.good, fmt::format("{}, {}; {}", series.name, series.how, trust.words));
      const bool too_warm = found_too_warm(asked, part, series.error, judgement_.temperature);
      all.push_back({std::move(finding), too_warm});
      const StayTold& told = tell(asked, series, part, trust.good);
      if (const std::string warning = warning_of_growth(told.growth, true); !warning.empty()) warnings += "; " + warning;
      used_.push_back({series.name, trust});
    }
    if (all.empty()) return false;
    Finding stands = gravest_of_stay({}, all);
    const bool warm = std::any_of(all.begin(), all.end(), [](const FoodFinding& food) { return food.too_warm; });
    const bool cold = stands.verdict == Verdict::shown && !warm;
    if (cold || (stands.verdict == Verdict::not_met && stretch.use != by_time)) judgement_.findings.push_back(std::move(stands));
    return cold;
  }

  Verdict stay(const std::string& what, const std::string& words, const Stretch& stretch, const Place& place, const Before& before,
               Offset offset) {
    const std::string& where = place.name;
    freezer_ = place.kind == "freezer";
    ChilledStay asked = asked_of(words, where, stretch, offset);
    asked.allowance_spent = before.served;
    asked.perhaps_spent = before.perhaps;
    // Readings of the place tell its air, whatever hangs there; only a thermometer put into this very food tells the food.
    std::vector<Series> all = series_of(session_, stretch.place.text(), "chilled");
    for (auto& series : all) series.measures_food = false;
    const std::size_t of_place = all.size();
    for (const auto& own : series_of(session_, what, "chilled")) all.push_back(own);
    std::vector<ProbeId> watching;
    for (const auto& series : all) watching.push_back(series.probe);
    const std::string missed = told_as_missed(what, stretch, watching, offset);
    if (all.empty()) return add(judge(asked, {}, TemperatureSpan{}, false, "no temperature recorded"), missed);
    std::vector<Finding> of_air;
    std::vector<FoodFinding> of_food;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const Series& series = all[i];
      const auto part = around(series.readings, stretch.from, stretch.to);
      const Trust trust = trust_within(session_, series, part, stretch, judgement_.temperature, offset);
      used_.push_back({series.name, trust});
      asked.measured_food = i >= of_place && series.measures_food;
      if (part.empty() && i >= of_place) continue;  // not measured while it was here
      Finding finding = judge(asked, part, series.error, trust.good, fmt::format("{}, {}; {}", series.name, series.how, trust.words));
      if (asked.measured_food) {
        of_food.push_back({std::move(finding), found_too_warm(asked, part, series.error, judgement_.temperature)});
      } else {
        of_air.push_back(std::move(finding));
      }
      if (!part.empty()) tell(asked, series, part, trust.good);
      chart(series, part, trust, stretch, words,
            i < of_place ? where + ", air" : fmt::format("{}, {} of {}", where, series.measures_food ? "food" : "air", words), offset);
    }
    if (of_air.empty() && of_food.empty()) return add(judge(asked, {}, TemperatureSpan{}, false, "no temperature recorded"), missed);
    return add(gravest_of_stay(of_air, of_food), missed);
  }

  Finding judge(const ChilledStay& asked, std::span<const Reading> readings, TemperatureSpan error, bool reliable,
                const std::string& evidence) const {
    Finding finding = judge_chilled_stay(asked, readings, error, reliable, evidence, judgement_.temperature);
    return freezer_ ? judge_freezer_stay(asked, readings, std::move(finding)) : finding;
  }

  /// Keeps what a thermometer tells of a stay in numbers.
  const StayTold& tell(const ChilledStay& asked, const Series& series, const std::vector<Reading>& part, bool reliable) {
    StayTold told = stay_told(asked, part, series.error, reliable, judgement_.temperature);
    told.thermometer = series.name;
    if (freezer_) {  // no rule in force sets a limit there
      told.limit.reset();
      told.limit_words.clear();
      told.warm.clear();
    }
    judgement_.stays.push_back(std::move(told));
    return judgement_.stays.back();
  }

  /// A check told as missed changes no verdict; it is named beside what was recorded.
  Verdict add(Finding finding, const std::string& missed) {
    if (!missed.empty()) finding.evidence += (finding.evidence.empty() ? "" : "; ") + missed;
    judgement_.findings.push_back(std::move(finding));
    return judgement_.findings.back().verdict;
  }

  /// `check told as missed on 2 May 2026: forgotten (note 12)`, for the days of the stay: of the place, of what stood in it, or of a
  /// thermometer that hangs there or was used.
  std::string told_as_missed(const std::string& what, const Stretch& stretch, const std::vector<ProbeId>& watching, Offset offset) const {
    const State& state = session_.state();
    std::string words;
    for (const auto& missed : state.missed) {
      if (!missed.value.of.empty()) continue;  // a regular record that goes by the same name
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
    used.longest_step = judgement_.temperature.longest_step("chilled hold");
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
    if (const auto& total = judgement_.temperature.warm_total)
      words += fmt::format("{}warmer for less than {} in all its life", words.empty() ? "" : "; ", format_span(total->discard_from));
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

namespace {

/// The batches of one cake: where each was kept, and what that means for what it went into.
class KeptBatches {
 public:
  KeptBatches(const Session& session, const Judgement& judgement, const std::map<BatchId, CooledBetween>& cooled)
      : session_{session}, state_{session.state()}, judgement_{judgement}, cooled_{cooled} {}

  std::string storage(const Batch& batch) const {
    const auto recipe = state_.recipe_versions.find(batch.recipe_version);
    return recipe == state_.recipe_versions.end() ? "fridge" : recipe->second.value.storage;
  }
  /// Where it was from when it was made until it was used up, but for the time in which it cooled as its rule asks.
  std::vector<Stretch> stretches(const BatchId& id, const Recorded<Batch>& batch) const {
    const Instant last = used_up(state_, judgement_.parts, id, judgement_.at.at);
    const auto cooling = cooled_.find(id);
    if (cooling == cooled_.end()) return whereabouts(state_, id.text(), batch.happened, last);
    auto all = whereabouts(state_, id.text(), batch.happened, std::min(cooling->second.from, last));
    for (auto& stretch : whereabouts(state_, id.text(), std::max(batch.happened, cooling->second.to), last))
      all.push_back(std::move(stretch));
    return all;
  }
  /// Of everything that went into `batch`.
  Before before(const Batch& batch) const {
    Before all;
    for (const auto& use : batch.uses) {
      if (use.batch) all.add(of(BatchId{use.of}));
    }
    return all;
  }
  /// Of a batch itself with everything that went into it. Batches that went into each other in a circle are known of nothing.
  Before of(const BatchId& id) const {
    const auto [place, fresh] = known_.try_emplace(id, Before{Span{}, Span{}, false, true});
    const auto batch = state_.batches.find(id);
    if (!fresh || batch == state_.batches.end()) return place->second;
    Before all = before(batch->second.value);
    const std::string kept = storage(batch->second.value);
    if (kept != "room") {
      for (const auto& stretch : stretches(id, batch->second)) {
        all.served = all.served || stretch.use == service;
        const bool cold = is_cold_for(state_, stretch.place, kept);
        all.perhaps = all.perhaps || (!cold && stretch.use.empty());
        const auto& terms = judgement_.temperature;
        if (!terms.warm_total) continue;
        const CountedWarm counted = counted_of(session_, terms, id.text(), stretch, cold, batch->second.offset);
        all.warm += cold ? counted.warm : counted.warm + counted.unread;
        if (cold) all.unread += counted.unread;
      }
    }
    return known_[id] = all;
  }

 private:
  const Session& session_;
  const State& state_;
  const Judgement& judgement_;
  const std::map<BatchId, CooledBetween>& cooled_;
  mutable std::map<BatchId, Before> known_;
};

}  // namespace

void judge_cold(const Session& session, Judgement& judgement, const std::map<BatchId, CooledBetween>& cooled,
                std::vector<ProbeTrust>& used) {
  const State& state = session.state();
  ColdJudging judging{session, judgement, used};
  const KeptBatches kept{session, judgement, cooled};
  for (const auto& batch : judgement.parts.batches) {
    const auto recorded = state.batches.find(batch.id);
    if (recorded == state.batches.end()) continue;
    const std::string storage = kept.storage(recorded->second.value);
    if (storage == "room") continue;
    judging.item(batch.id.text(), fmt::format("{} ({})", batch.id.text(), batch.name), storage, kept.stretches(batch.id, recorded->second),
                 kept.before(recorded->second.value), recorded->second.offset);
  }
  if (judgement.life && judgement.life->storage == "cool dry place") return;
  std::optional<Instant> built;
  Before before;
  Offset offset = judgement.at.offset;
  for (const auto& tier : state.tiers) {
    if (tier.value.cake != judgement.cake) continue;
    for (const auto& part : tier.value.parts) before.add(kept.of(part.batch));
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
                 whereabouts(state, judgement.cake.text(), *built, until), before, offset);
}

}  // namespace tierproof
