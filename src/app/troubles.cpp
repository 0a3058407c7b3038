#include "troubles.h"

#include <map>
#include <set>

#include "cold.h"
#include "freezing.h"
#include "kit.h"
#include "parts.h"
#include "series.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/stores.h"
#include "tierproof/sums/troubles.h"

namespace tierproof {
namespace {

/// A time that something of the thing stood somewhere.
struct Stood {
  std::string who;  ///< `batch-2 (icing)`
  Stretch stretch;
};

class Meets {
 public:
  Meets(const Session& session, const TemperatureTerms& terms, const Recorded<Deviation>& trouble, const std::string& thing, Instant until,
        UnvouchedSince& since)
      : session_{session}, state_{session.state()}, terms_{terms}, trouble_{trouble}, thing_{thing}, unvouched_{since} {
    const bool cake = state_.cakes.contains(CakeId{thing});
    parts_ = cake ? parts_of(state_, CakeId{thing}) : parts_of_batch(state_, BatchId{thing});
    if (const auto* closing = state_.closed(DeviationId{trouble.subject})) end_ = closing->happened;
    for (const auto& facts : parts_.batches) {
      const auto batch = state_.batches.find(facts.id);
      if (batch == state_.batches.end()) continue;
      const auto recipe = state_.recipe_versions.find(batch->second.value.recipe_version);
      const bool cold = recipe == state_.recipe_versions.end() || recipe->second.value.storage != "room";
      needs_cold_ = needs_cold_ || cold;
      follow(facts.id.text(), words(facts), cold, batch->second.happened, used_up(state_, parts_, facts.id, until));
    }
    if (!cake) return;
    std::optional<Instant> built;
    for (const auto& tier : state_.tiers) {
      if (tier.value.cake == CakeId{thing}) built = std::min(built.value_or(tier.happened), tier.happened);
    }
    if (built) follow(thing, thing, needs_cold_, *built, followed_until(state_, CakeId{thing}, until));
  }

  Meeting all() {
    for (const auto& about : trouble_.value.about) {
      // Whatever sort of thing it is: one that was voided since is still met by what names it.
      food(about);
      place(PlaceId{about});
      thermometer(ProbeId{about});
      kit(EquipmentId{about});
      tub(TubId{about});
    }
    return std::move(met_);
  }

 private:
  static std::string words(const BatchFacts& facts) { return fmt::format("{} ({})", facts.id.text(), facts.name); }

  void follow(const std::string& what, const std::string& words, bool cold, Instant from, Instant to) {
    const auto stretches = whereabouts(state_, what, from, to);
    for (const auto& stretch : stretches) {
      // Before it was put anywhere nobody knows where it was; the minutes until a note is typed are no stay.
      const bool unknown = stretch.place.empty() && cold && stretch.to - stretch.from > Session::late_after;
      if (!stretch.place.empty() || unknown) stood_.push_back({words, stretch});
    }
  }

  void way(std::string words) {
    if (std::find(met_.ways.begin(), met_.ways.end(), words) == met_.ways.end()) met_.ways.push_back(std::move(words));
  }

  void named(const std::string& subject, const std::string& words) {
    way("it is about " + words);
    met_.named_food.push_back(subject);
  }

  void food(const std::string& about) {
    if (about == thing_ && state_.cakes.contains(CakeId{about})) {
      met_.names_cake = true;
      way("it is about this cake");
    }
    bool found = false;
    for (const auto& facts : parts_.batches) {
      if (facts.id.text() == about) named(about, words(facts));
    }
    for (const auto& lot : parts_.lots) {
      if (lot.id.text() != about) continue;
      found = true;
      named(about, pack_in_words(state_, lot.id));
    }
    if (found) return;
    for (const auto& facts : parts_.batches) {
      const auto batch = state_.batches.find(facts.id);
      if (batch == state_.batches.end()) continue;
      for (const auto& possible : possible_in(state_, batch->second)) {
        if (possible.lot.text() == about)
          named(about,
                fmt::format("{}, which may be in {} from {}", pack_in_words(state_, LotId{about}), words(facts), possible.tub.text()));
      }
    }
  }

  template <class Key, class Thing>
  static std::string name_of(const std::map<Key, Recorded<Thing>>& things, const Key& id) {
    const auto found = things.find(id);
    return found == things.end() ? id.text() : found->second.value.name;
  }

  /// Since when nobody can vouch: the last moment of `good` at or before the trouble's, or ever.
  Instant since(const std::vector<Instant>& good) const {
    Instant last = Instant::min();
    for (const Instant at : good) {
      if (at <= trouble_.happened) last = std::max(last, at);
    }
    return last;
  }

  /// When a reading of a chilled place kept the limit for chilled food with its error added.
  std::vector<Instant> good_readings(const PlaceId& id) const {
    std::optional<Temperature> limit;
    for (const auto& row : terms_.chill) limit = std::min(limit.value_or(row.limit), row.limit);
    std::vector<Instant> good;
    for (const auto& series : series_of(session_, id.text(), "chilled")) {
      for (const auto& reading : series.readings) {
        if (!reading.temperature) continue;
        if (limit && *reading.temperature + series.error <= *limit) good.push_back(reading.at);
      }
    }
    return good;
  }

  void place(const PlaceId& id) {
    const auto recorded = state_.places.find(id);
    const bool known = recorded != state_.places.end();
    const bool cold = known && is_chilled(recorded->second.value);
    const std::string name = name_of(state_.places, id);
    const bool there = std::any_of(stood_.begin(), stood_.end(), [&](const Stood& stood) {
      return stood.stretch.from <= end_ && (stood.stretch.place == id || (stood.stretch.place.empty() && cold));
    });
    if (!there) return;
    const auto [at, fresh] = unvouched_.try_emplace({trouble_.subject, id}, trouble_.happened);
    if (fresh && (cold || !known)) at->second = since(good_readings(id));
    const Instant from = at->second;
    for (const auto& [who, stretch] : stood_) {
      if (stretch.from > end_ || stretch.to <= from) continue;
      if (stretch.place == id) {
        way(fmt::format("{} stood in {} from {}", who, name, format_moment(stretch.from, trouble_.offset)));
      } else if (stretch.place.empty() && cold) {
        way(fmt::format("nobody recorded where {} was, so it may have stood in {}", who, name));
      }
    }
  }

  void thermometer(const ProbeId& id) {
    std::vector<Instant> good;
    for (const auto& check : checks_of(state_, id)) {
      if (terms_.probe && is_good(check, *terms_.probe)) good.push_back(check.at);
    }
    const Instant from = since(good);
    for (const auto& block : state_.readings) {
      if (block.value.probe != id || block.value.last < from || block.value.first > end_) continue;
      const std::string& about = block.value.about;
      const std::string name = name_of(state_.probes, id);
      if (about == thing_) way(fmt::format("{} measured it", name));
      for (const auto& facts : parts_.batches) {
        if (facts.id.text() == about) way(fmt::format("{} measured {}", name, words(facts)));
      }
      for (const auto& [who, stretch] : stood_) {
        const bool then = block.value.first <= stretch.to && block.value.last >= stretch.from;
        if (then && stretch.place.text() == about) way(fmt::format("{} measured {} while {} stood there", name, about, who));
      }
    }
  }

  void kit(const EquipmentId& id) {
    std::vector<Instant> cleaned;
    for (const auto& cleaning : state_.cleanings) {
      if (cleaning.value.equipment == id && covers_protein(clearing_of(state_, cleaning))) cleaned.push_back(cleaning.happened);
    }
    const Instant from = since(cleaned);
    for (const auto& facts : parts_.batches) {
      const auto batch = state_.batches.find(facts.id);
      if (batch == state_.batches.end() || batch->second.happened < from || batch->second.happened > end_) continue;
      const auto& used = batch->second.value.kit;
      if (std::find(used.begin(), used.end(), id) != used.end())
        way(fmt::format("{} was made on {}", words(facts), name_of(state_.equipment, id)));
    }
  }

  void tub(const TubId& id) {
    std::vector<Instant> emptied;
    for (const auto& one : state_.emptied) {
      if (one.value.tub == id) emptied.push_back(one.happened);
    }
    const Instant from = since(emptied);
    for (const auto& facts : parts_.batches) {
      const auto batch = state_.batches.find(facts.id);
      if (batch == state_.batches.end() || batch->second.happened < from || batch->second.happened > end_) continue;
      const Batch& value = batch->second.value;
      const auto possible = possible_in(state_, batch->second);
      const bool took = std::any_of(value.uses.begin(), value.uses.end(), [&](const BatchUse& use) { return use.tub == id; }) ||
                        std::any_of(possible.begin(), possible.end(), [&](const PossibleUse& use) { return use.tub == id; });
      if (took) way(fmt::format("{} took from {}", words(facts), name_of(state_.tubs, id)));
    }
  }

  const Session& session_;
  const State& state_;
  const TemperatureTerms& terms_;
  const Recorded<Deviation>& trouble_;
  const std::string& thing_;
  UnvouchedSince& unvouched_;
  CakeParts parts_;
  bool needs_cold_ = false;
  std::vector<Stood> stood_;
  Instant end_ = Instant::max();  ///< of what the trouble can touch
  Meeting met_;
};

std::string told(const Words& words) { return words.text.value_or("(erased)"); }

MetTrouble in_words(const State& state, const Recorded<Deviation>& trouble, Meeting meeting) {
  MetTrouble met;
  met.id = trouble.subject;
  met.since = format_moment(trouble.happened, trouble.offset);
  met.ways = std::move(meeting.ways);
  met.named_food = std::move(meeting.named_food);
  met.names_cake = meeting.names_cake;
  const Deviation& value = trouble.value;
  const std::string by = value.from == "control"       ? fmt::format("shown by the control {}", value.control)
                         : value.from == "temperature" ? "shown by a temperature"
                                                       : "seen by a person";
  met.told = fmt::format("told by {} as \"{}\", {}", trouble.person.text(), told(value.what), by);
  if (const auto* closing = state.closed(DeviationId{trouble.subject})) {
    met.food = closing->value.food;
    met.closed = fmt::format("{} by {}", format_moment(closing->happened, closing->offset), closing->person.text());
    met.action = fmt::format("cause: {}; done: {}", told(closing->value.cause), told(closing->value.action));
  }
  return met;
}

/// A pack or batch of the cake that more was taken of than there was, some of it to throw away.
void judge_overdrawn(const State& state, Judgement& judgement) {
  std::vector<std::pair<std::string, std::string>> subjects;
  for (const auto& facts : judgement.parts.batches)
    subjects.emplace_back(facts.id.text(), fmt::format("{} ({})", facts.id.text(), facts.name));
  for (const auto& lot : judgement.parts.lots) subjects.emplace_back(lot.id.text(), pack_in_words(state, lot.id));
  for (const auto& [subject, words] : subjects) {
    const auto of_it = [&subject = subject](const auto& disposal) { return disposal.value.what == subject; };
    if (std::none_of(state.disposals.begin(), state.disposals.end(), of_it)) continue;
    const std::int64_t left = remaining_mg(state, subject);
    if (left < 0) judgement.findings.push_back(judge_binned_and_used(judgement.cake.text(), words, format_mass(Mass::milligrams(-left))));
  }
}

/// What the file of a complained cake rests on.
struct FrozenFile {
  std::set<std::string> own;     ///< the cake, its batches, its packs, the complaint
  std::set<std::string> shared;  ///< what others use as well
};

FrozenFile file_of(const State& state, const Recorded<Complaint>& complaint) {
  FrozenFile file;
  const CakeParts parts = parts_of(state, complaint.value.cake);
  file.own = {complaint.value.cake.text(), complaint.subject};
  for (const auto& facts : parts.batches) {
    file.own.insert(facts.id.text());
    const auto batch = state.batches.find(facts.id);
    if (batch == state.batches.end()) continue;
    file.shared.insert(batch->second.value.recipe.text());
    for (const auto& kit : batch->second.value.kit) file.shared.insert(kit.text());
    for (const auto& use : batch->second.value.uses) {
      if (!use.tub.empty()) file.shared.insert(use.tub.text());
    }
    for (const auto& use : possible_in(state, batch->second)) file.own.insert(use.lot.text());
  }
  for (const auto& facts : parts.lots) {
    file.own.insert(facts.id.text());
    const auto lot = state.lots.find(facts.id);
    if (lot != state.lots.end()) file.shared.insert({lot->second.value.ingredient.text(), lot->second.value.supplier.text()});
  }
  for (const auto& stay : state.stays) {
    if (file.own.contains(stay.value.what)) file.shared.insert(stay.value.place.text());
  }
  for (const auto& block : state.readings) {
    if (file.own.contains(block.value.about) || file.shared.contains(block.value.about)) file.shared.insert(block.value.probe.text());
  }
  for (const auto& [id, trouble] : state.deviations) {
    const auto names = [&](const std::string& about) { return file.own.contains(about) || file.shared.contains(about); };
    if (std::any_of(trouble.value.about.begin(), trouble.value.about.end(), names)) file.shared.insert(id.text());
  }
  return file;
}

void refuse_for(Checking& checking, const Recorded<Complaint>& complaint) {
  checking.refuse("note",
                  fmt::format("{} is open about {} since {}, so its file stays as it is", complaint.subject, complaint.value.cake.text(),
                              format_moment(complaint.happened, complaint.offset)),
                  "add a note that tells what is so now, or close the complaint first");
}

}  // namespace

Meeting meets(const Session& session, const TemperatureTerms& terms, const Recorded<Deviation>& trouble, const std::string& thing,
              Instant until, UnvouchedSince& since) {
  return Meets{session, terms, trouble, thing, until, since}.all();
}

bool thrown_away(const State& state, const CakeId& cake) {
  return std::any_of(state.disposals.begin(), state.disposals.end(), [&](const auto& one) { return one.value.what == cake.text(); });
}

void judge_troubles(const Session& session, Judgement& judgement) {
  const State& state = session.state();
  const std::string& cake = judgement.cake.text();
  std::vector<MetTrouble> met;
  UnvouchedSince since;
  for (const auto& [id, trouble] : state.deviations) {
    Meeting meeting = meets(session, judgement.temperature, trouble, cake, judgement.at.at, since);
    if (!meeting.ways.empty()) met.push_back(in_words(state, trouble, std::move(meeting)));
  }
  for (auto& finding : judge_went_wrong(cake, met)) judgement.findings.push_back(std::move(finding));
  for (const auto& disposal : state.disposals) {
    if (disposal.value.what == cake)
      judgement.findings.push_back(judge_cake_binned(cake, format_moment(disposal.happened, disposal.offset), disposal.sequence));
  }
  judge_overdrawn(state, judgement);
  const auto ways = frozen_ways(state, cake, followed_until(state, judgement.cake, judgement.at.at));
  if (auto finding = judge_frozen_once(cake, ways)) judgement.findings.push_back(std::move(*finding));
}

void refuse_while_complained(Checking& checking, const Session& session, const Note& note) {
  const State& state = session.state();
  for (const auto& [id, complaint] : state.complaints) {
    if (state.closed(id) != nullptr) continue;
    const FrozenFile file = file_of(state, complaint);
    const bool before = note.happened <= std::max(complaint.happened, complaint.written);
    if (file.own.contains(note.subject) || (before && file.shared.contains(note.subject))) refuse_for(checking, complaint);
  }
}

void refuse_while_complained(Checking& checking, const State& state, const CakeId& cake) {
  if (const auto* complaint = state.open_complaint(cake)) refuse_for(checking, *complaint);
}

}  // namespace tierproof
