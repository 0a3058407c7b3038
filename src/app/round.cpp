// What needs somebody now: food out of the cold, places that nobody measures, checks that are due.
#include <algorithm>
#include <map>

#include "checking.h"
#include "cold.h"
#include "parts.h"
#include "series.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/thermometers.h"
#include "troubles.h"
#include "where_now.h"

namespace tierproof {
namespace {

/// Something that is kept, with where it was since it was made or built.
struct KeptFood {
  std::string id;
  std::string name;
  std::string storage;  ///< `fridge`, `freezer`, `room`
  std::vector<Stretch> stretches;
};

std::string storage_of(const State& state, const BatchId& id) {
  const auto batch = state.batches.find(id);
  if (batch == state.batches.end()) return "fridge";
  const auto recipe = state.recipe_versions.find(batch->second.value.recipe_version);
  return recipe == state.recipe_versions.end() ? "fridge" : recipe->second.value.storage;
}

std::vector<KeptFood> all_kept(const State& state, Instant at) {
  const Instant until = at + Span{1};  // a move at this very moment has happened
  std::vector<KeptFood> all;
  const auto left = remaining_of_all(state);
  for (const auto& [id, batch] : state.batches) {
    if (left.at(id.text()) <= 0 || batch.happened > at) continue;
    all.push_back({id.text(), name_of_batch(state, id), storage_of(state, id), whereabouts(state, id.text(), batch.happened, until)});
  }
  for (const auto& [id, cake] : state.cakes) {
    if (state.hand_over(id) != nullptr || thrown_away(state, id)) continue;
    std::optional<Instant> built;
    for (const auto& tier : state.tiers) {
      if (tier.value.cake == id) built = std::min(built.value_or(tier.happened), tier.happened);
    }
    if (!built || *built > at) continue;
    std::string storage = "room";
    for (const auto& facts : parts_of(state, id).batches) {
      if (storage_of(state, facts.id) != "room") storage = "fridge";
    }
    all.push_back({id.text(), cake.value.name, storage, whereabouts(state, id.text(), *built, until)});
  }
  return all;
}

bool is_cold_enough(const State& state, const PlaceId& id, const std::string& storage) {
  const auto place = state.places.find(id);
  if (place == state.places.end()) return false;
  return storage == "freezer" ? place->second.value.kind == "freezer"
                              : place->second.value.kind != "room" && place->second.value.kind != "out";
}

std::string left_of_time(Span allowed, Span spent) {
  return spent < allowed ? fmt::format("{} left", format_span(allowed - spent)) : std::string{"it is over"};
}

/// What the law allows of a stretch of `out`, of `total` in all, told for `use`; every row where nobody said what it is out for.
std::vector<std::string> allowances_for(const TemperatureTerms& terms, const std::string& use, Span out, Span total) {
  std::vector<std::string> lines;
  for (const auto& row : terms.allowances) {
    if (!use.empty() && row.use != use) continue;
    lines.push_back(fmt::format("{}: less than {}{}; {} {}", row.use, format_span(row.less_than), row.once ? ", once" : "",
                                left_of_time(row.less_than, out), cite(row.cited)));
  }
  for (const auto& row : terms.time_controls) {
    if (!use.empty() && row.use != use) continue;
    lines.push_back(fmt::format("{}: used or thrown away within {}; {} {}", row.use, format_span(row.within),
                                left_of_time(row.within + Span{1}, out), cite(row.cited)));
  }
  if (terms.warm_total) {
    const WarmTotal& row = *terms.warm_total;
    lines.push_back(
        fmt::format("in all its life, {} so far as recorded, and more if what went into it was out too or the cold was too warm: "
                    "back into the cold before {} ({}), thrown away from {} on {}",
                    format_span(total), format_span(row.back_before), left_of_time(row.back_before, total), format_span(row.discard_from),
                    cite(row.cited)));
  }
  if (!lines.empty()) return lines;
  if (const auto* none = terms.no_number("time out of the cold")) return {none->words + " " + cite(none->cited)};
  return {"the rules in force allow no time out of the cold" + (use.empty() ? std::string{} : " for " + use)};
}

/// What the last note of where it was put says that it was put there for.
std::string use_now(const State& state, const std::string& what, Instant at) {
  const Recorded<Stay>* last = nullptr;
  for (const auto& stay : state.stays) {
    if (stay.value.what == what && stay.happened <= at && (last == nullptr || stay.happened >= last->happened)) last = &stay;
  }
  return last == nullptr ? "" : last->value.use;
}

std::optional<OutNow> out_now(const State& state, const TemperatureTerms& terms, const KeptFood& kept, Instant at) {
  if (kept.storage == "room" || kept.stretches.empty()) return std::nullopt;
  if (is_cold_enough(state, kept.stretches.back().place, kept.storage)) return std::nullopt;
  OutNow out{kept.id, kept.name, "nobody recorded where", kept.stretches.back().from, {}, {}};
  const auto place = state.places.find(kept.stretches.back().place);
  if (place != state.places.end()) out.where = place->second.value.name;
  Span total{};
  bool unbroken = true;
  for (auto stretch = kept.stretches.rbegin(); stretch != kept.stretches.rend(); ++stretch) {
    const bool cold = is_cold_enough(state, stretch->place, kept.storage);
    unbroken = unbroken && !cold;
    if (unbroken) out.since = stretch->from;
    if (!cold) total += std::min(stretch->to, at) - stretch->from;
  }
  out.out = at - out.since;
  out.allowances = allowances_for(terms, use_now(state, kept.id, at), out.out, total);
  return out;
}

/// The last temperature of `place` by `probe`, up to `at`.
std::optional<Instant> last_read(const Session& session, const PlaceId& place, const ProbeId& probe, Instant at) {
  std::vector<const Recorded<ReadingsBlock>*> blocks;
  for (const auto& block : session.state().readings) {
    if (block.value.about == place.text() && block.value.probe == probe && block.value.first <= at) blocks.push_back(&block);
  }
  std::sort(blocks.begin(), blocks.end(), [](const auto* a, const auto* b) { return a->value.last > b->value.last; });
  std::optional<Instant> last;
  for (const auto* block : blocks) {
    if (last && *last >= block->value.last) break;
    for (const auto& reading : session.readings(*block)) {
      if (reading.degrees && reading.at <= at) last = std::max(last.value_or(reading.at), reading.at);
    }
  }
  return last;
}

/// Every thermometer that hangs in `place`; where none does, that which was read there last.
std::vector<std::pair<ProbeId, std::optional<Instant>>> watchers_of(const Session& session, const PlaceId& place, Instant at) {
  const State& state = session.state();
  std::vector<std::pair<ProbeId, std::optional<Instant>>> hanging;
  std::optional<std::pair<ProbeId, std::optional<Instant>>> newest;
  for (const auto& [id, probe] : state.probes) {
    const auto last = last_read(session, place, id, at);
    if (probe.value.hangs_in == place) hanging.emplace_back(id, last);
    if (last && (!newest || *last > *newest->second)) newest.emplace(id, last);
  }
  if (hanging.empty() && newest) hanging.push_back(*newest);
  return hanging;
}

}  // namespace

std::vector<CheckNow> thermometers_now(const Session& session, const TemperatureTerms& terms, ZonedInstant at) {
  const State& state = session.state();
  std::vector<CheckNow> all;
  for (const auto& [id, probe] : state.probes) {
    if (!terms.probe) break;
    all.push_back({id.text(), probe.value.name, standing_at(at.at, checks_of(state, id), term_for(state, id, *terms.probe), at.offset)});
  }
  return all;
}

bool RoundNow::wanting() const {
  return !out.empty() || !silent.empty() ||
         std::any_of(checks.begin(), checks.end(), [](const CheckNow& check) { return check.standing.is != CheckStanding::Is::good; });
}

std::vector<KeptNow> kept_now(const Session& session, Instant at) {
  std::vector<KeptNow> all;
  for (const auto& kept : all_kept(session.state(), at)) {
    if (!kept.stretches.empty()) all.push_back({kept.id, kept.name, kept.storage, kept.stretches.back().place, kept.stretches.back().from});
  }
  return all;
}

std::optional<LastRead> last_read_in(const Session& session, const PlaceId& place, Instant at, Span within) {
  std::optional<LastRead> told;
  for (const auto& series : series_of(session, place.text(), "chilled")) {
    const auto last = std::find_if(series.readings.rbegin(), series.readings.rend(),
                                   [&](const Reading& reading) { return reading.at <= at && reading.temperature; });
    if (last == series.readings.rend()) continue;
    const LastRead read{series.probe, series.name, last->at, *last->temperature, series.error};
    const bool fresh = at - read.at <= within;
    const bool told_fresh = told && at - told->at <= within;
    const bool warmer = told && read.read + read.error > told->read + told->error;
    if (!told || (fresh && (!told_fresh || warmer)) || (!fresh && !told_fresh && read.at > told->at)) told = read;
  }
  return told;
}

Result<RoundNow> look_round(const Session& session, ZonedInstant at) {
  const State& state = session.state();
  const auto terms = temperature_terms_by(session, day_of(at.at, at.offset), plan_now(session));
  if (!terms) return terms.error();
  RoundNow now;
  now.longest_gap = terms->longest_step("chilled hold");
  std::map<PlaceId, std::vector<std::string>> filled;
  for (const auto& kept : all_kept(state, at.at)) {
    if (auto out = out_now(state, *terms, kept, at.at)) now.out.push_back(std::move(*out));
    if (kept.stretches.empty()) continue;
    const PlaceId& last = kept.stretches.back().place;
    if (is_cold_enough(state, last, "fridge")) filled[last].push_back(kept.id);
  }
  for (const auto& [place, kept] : filled) {
    const std::string& name = state.places.at(place).value.name;
    const auto probes = watchers_of(session, place, at.at);
    if (probes.empty()) now.silent.push_back({place.text(), "", fmt::format("no thermometer in {}", name), {}, {}, kept});
    for (const auto& [probe, last] : probes) {
      if (last && at.at - *last <= now.longest_gap) continue;
      SilentNow silent{place.text(), probe.text(), fmt::format("{} in {}", state.probes.at(probe).value.name, name), last, {}, kept};
      if (last) silent.silent = at.at - *last;
      now.silent.push_back(std::move(silent));
    }
  }
  now.checks = thermometers_now(session, *terms, at);
  return now;
}

}  // namespace tierproof
