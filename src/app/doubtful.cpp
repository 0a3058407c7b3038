// Which food rests on the readings of a thermometer that failed its check.
#include <map>

#include "checking.h"
#include "cold.h"
#include "freezing.h"
#include "parts.h"
#include "series.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/thermometers.h"
#include "troubles.h"
#include "where_now.h"

namespace tierproof {
namespace {

class Doubting {
 public:
  Doubting(const Session& session, const ProbeId& probe, std::string name, DoubtedReadings doubted, Instant at)
      : state_{session.state()}, name_{std::move(name)}, doubted_{doubted}, at_{at} {
    for (const auto& block : state_.readings) {
      if (block.value.probe != probe) continue;
      const auto [found, fresh] =
          read_.emplace(std::pair{block.value.about, block.value.purpose}, Stretch{{}, block.value.first, block.value.last});
      if (fresh) continue;
      found->second.from = std::min(found->second.from, block.value.first);
      found->second.to = std::max(found->second.to, block.value.last);
    }
  }

  bool any() const { return !read_.empty(); }

  std::vector<std::string> ways_of_batch(const BatchId& id) {
    ways_.clear();
    batches(parts_of_batch(state_, id), id.text());
    return std::move(ways_);
  }

  std::vector<std::string> ways_of_cake(const CakeId& id) {
    ways_.clear();
    batches(parts_of(state_, id), "");
    std::optional<Instant> built;
    for (const auto& tier : state_.tiers) {
      if (tier.value.cake == id) built = std::min(built.value_or(tier.happened), tier.happened);
    }
    if (touches(id.text(), Instant::min(), at_)) way(fmt::format("{} measured it", name_));
    if (built) stood(id.text(), "it", *built, followed_until(state_, id, at_));
    return std::move(ways_);
  }

 private:
  /// @param whole  the batch itself, which is called "it"
  void batches(const CakeParts& parts, const std::string& whole) {
    for (const auto& facts : parts.batches) {
      const auto batch = state_.batches.find(facts.id);
      if (batch == state_.batches.end()) continue;
      const std::string& id = facts.id.text();
      const bool itself = id == whole;
      const std::string words = itself ? "it" : fmt::format("{} ({})", id, facts.name);
      if (touches(id, Instant::min(), at_)) way(fmt::format("{} measured {}", name_, words));
      stood(id, words, batch->second.happened, itself ? gone_by(state_, facts.id, at_) : used_up(state_, parts, facts.id, at_));
    }
  }

  void stood(const std::string& id, const std::string& words, Instant from, Instant to) {
    for (const auto& stretch : whereabouts(state_, id, from, to)) {
      const auto place = state_.places.find(stretch.place);
      if (!stretch.place.empty() && touches(stretch.place.text(), stretch.from, stretch.to))
        way(fmt::format("{} measured {} while {} stood there", name_,
                        place == state_.places.end() ? stretch.place.text() : place->second.value.name, words));
    }
  }

  /// Whether a doubtful reading of `about`, or the time between two of which one is, lies in `from`..`to`.
  bool touches(const std::string& about, Instant from, Instant to) const {
    for (const auto& [what, read] : read_) {
      if (what.first != about) continue;
      const Instant begins = std::max(from, read.from);
      const Instant ends = std::min(to, read.to);
      if (begins <= ends && ends >= doubted_.from && begins < doubted_.until) return true;
    }
    return false;
  }

  void way(std::string words) {
    if (std::find(ways_.begin(), ways_.end(), words) == ways_.end()) ways_.push_back(std::move(words));
  }

  const State& state_;
  std::string name_;
  DoubtedReadings doubted_;
  Instant at_;
  std::map<std::pair<std::string, std::string>, Stretch> read_;  ///< by what it is of and what for: from the first reading to the last
  std::vector<std::string> ways_;
};

}  // namespace

Result<std::vector<FailedCheck>> failed_checks(const Session& session, const std::string& thermometer, ZonedInstant at) {
  const State& state = session.state();
  Checking checking{session};
  if (!thermometer.empty()) checking.known("thermometer", state.probes, thermometer, "thermometer");
  const auto terms = session.packs().temperature_terms(session.kitchen().temperature_rules, day_of(at.at, at.offset));
  if (!terms) checking.take(terms.error());
  if (!checking.good()) return checking.refusals();
  std::vector<FailedCheck> failed;
  if (!terms->probe) return failed;
  std::map<ProbeId, std::vector<ProbeCheck>> of_probe;
  for (const auto& made : state.checks) {
    const ProbeId& id = made.value.probe;
    if (!thermometer.empty() && id.text() != thermometer) continue;
    const auto [found, fresh] = of_probe.try_emplace(id);
    if (fresh) found->second = checks_of(state, id);
    const auto& checks = found->second;
    const auto same = [&](const ProbeCheck& check) {
      return check.at == made.happened && check.method == made.value.method && check.read == made.value.read.temperature();
    };
    const auto check = std::find_if(checks.begin(), checks.end(), same);
    const ProbeTerm term = term_for(state, id, *terms->probe);
    if (check == checks.end() || is_good(*check, term)) continue;
    const auto doubted = doubted_by(static_cast<std::size_t>(check - checks.begin()), checks, term, made.offset);
    const auto moment = [&](Instant when) { return format_moment(when, session.offset_at(when)); };
    const auto probe = state.probes.find(id);
    FailedCheck one;
    one.note = made.sequence;
    one.thermometer = id.text();
    one.name = probe == state.probes.end() ? id.text() : probe->second.value.name;
    one.made = moment(made.happened);
    one.words = check_in_words(*check, term);
    if (doubted.from != Instant::min()) one.from = moment(doubted.from);
    if (doubted.until != Instant::max()) one.until = moment(doubted.until);
    Doubting doubting{session, id, one.name, doubted, at.at};
    for (const auto& [batch, recorded] : state.batches) {
      auto ways = doubting.any() ? doubting.ways_of_batch(batch) : std::vector<std::string>{};
      if (!ways.empty()) one.food.push_back({batch.text(), name_of_batch(state, batch), std::move(ways), where_now(state, batch, at.at)});
    }
    for (const auto& [cake, recorded] : state.cakes) {
      auto ways = doubting.any() ? doubting.ways_of_cake(cake) : std::vector<std::string>{};
      if (!ways.empty()) one.food.push_back({cake.text(), recorded.value.name, std::move(ways), where_now(state, cake, at.at)});
    }
    failed.push_back(std::move(one));
  }
  return failed;
}

}  // namespace tierproof
