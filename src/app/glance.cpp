// What a door shows at a glance: packs with something left, places as they were last read, cakes that have not left.
#include "tierproof/app/glance.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "answers.h"
#include "cold.h"
#include "contents.h"
#include "life.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/recording.h"
#include "troubles.h"

namespace tierproof {
namespace {

PackHere pack_of(const State& state, const LotId& id, const Recorded<Lot>& lot, Date on) {
  PackHere pack;
  pack.id = id;
  pack.ingredient = lot.value.ingredient;
  const auto ingredient = state.ingredients.find(lot.value.ingredient);
  pack.food = ingredient == state.ingredients.end() ? lot.value.ingredient.text() : ingredient->second.value.name;
  pack.code = lot.value.code;
  const LotLife life = lot_life(state, id, lot);
  pack.opened = life.opened_on;
  const auto dated = [&](Date day, const char* kind) {
    if (pack.last && *pack.last <= day) return;
    pack.last = day;
    pack.date_words = fmt::format("{} {}", kind, format_date_long(day));
  };
  if (life.use_by) dated(*life.use_by, "use by");
  if (life.best_before) dated(*life.best_before, "best before");
  if (life.opened_on && life.use_within_days) dated(add_days(*life.opened_on, *life.use_within_days), "opened, use by");
  if (state.withdrawn(id)) {
    pack.must_not_go = "withdrawn";
  } else if (life.use_by && *life.use_by < on) {
    pack.must_not_go = "past its use-by date";
  } else if (pack.last && *pack.last < on) {
    pack.must_not_go = pack.date_words.starts_with("opened") ? "opened for too long" : "past its best-before date";
  }
  return pack;
}

bool above_limit(const PlaceNow& place) { return place.limit && place.last && place.last->read + place.last->error > *place.limit; }

/// @param relied_on  the thermometer had its good check
ColdStanding standing_of(const PlaceNow& place, bool relied_on, Span longest_gap, Instant at) {
  if (!place.limit) return ColdStanding::no_limit;
  if (!place.last || at - place.last->at > longest_gap) return ColdStanding::not_read;
  if (!above_limit(place)) return relied_on ? ColdStanding::within : ColdStanding::not_relied_on;
  return place.last->read - place.last->error > *place.limit ? ColdStanding::above : ColdStanding::perhaps_above;
}

}  // namespace

std::vector<PackHere> packs_here(const Session& session, Date on) {
  std::vector<PackHere> packs;
  const auto left = remaining_of_all(session.state());
  for (const auto& [id, lot] : session.state().lots) {
    const Mass here = Mass::milligrams(left.at(id.text()));
    if (here <= Mass{}) continue;
    packs.push_back(pack_of(session.state(), id, lot, on));
    packs.back().left = here;
  }
  std::stable_sort(packs.begin(), packs.end(), [](const PackHere& a, const PackHere& b) {
    if (a.last.has_value() != b.last.has_value()) return a.last.has_value();
    return a.last && *a.last < *b.last;
  });
  return packs;
}

std::string_view words_of(ColdStanding standing) {
  switch (standing) {
    case ColdStanding::within:
      return "within its limit";
    case ColdStanding::perhaps_above:
      return "perhaps above its limit";
    case ColdStanding::above:
      return "above its limit";
    case ColdStanding::not_relied_on:
      return "its thermometer has no good check";
    case ColdStanding::not_read:
      return "not read lately";
    case ColdStanding::no_limit:
      return "no limit here";
  }
  return "";
}

Result<std::vector<PlaceNow>> places_now(const Session& session, ZonedInstant at) {
  const auto terms = temperature_terms_by(session, day_of(at.at, at.offset), plan_now(session));
  if (!terms) return terms.error();
  const Span longest_gap = terms->longest_step("chilled hold");
  const auto kept = kept_now(session, at.at);
  const auto checks = thermometers_now(session, *terms, at);  // none where the rules ask for none
  const auto relied_on = [&](const PlaceNow& place) {
    return !place.last || std::none_of(checks.begin(), checks.end(), [&](const CheckNow& check) {
      return check.thermometer == place.last->probe.text() && check.standing.is != CheckStanding::Is::good &&
             check.standing.is != CheckStanding::Is::due;
    });
  };
  std::vector<PlaceNow> places;
  for (const auto& [id, place] : session.state().places) {
    PlaceNow now;
    now.id = id;
    now.name = place.value.name;
    now.kind = place.value.kind;
    now.last = last_read_in(session, id, at.at, longest_gap);
    if (is_chilled(place.value) && now.kind != "freezer") {  // no rule has a number for a freezer
      for (const auto& row : terms->chill) {
        if (now.limit && *now.limit <= row.limit) continue;
        now.limit = row.limit;
        now.limit_source = cite(row.cited);
      }
    }
    now.standing = standing_of(now, relied_on(now), longest_gap, at.at);
    now.left_above = now.standing == ColdStanding::not_read && above_limit(now);
    std::copy_if(kept.begin(), kept.end(), std::back_inserter(now.kept), [&](const KeptNow& one) { return one.place == now.id; });
    places.push_back(std::move(now));
  }
  std::stable_sort(places.begin(), places.end(), [](const PlaceNow& a, const PlaceNow& b) { return a.name < b.name; });
  return places;
}

std::string allergy_in_words(const Session& session, const CakeId& cake, const LabelTerms& terms) {
  const auto* answer = session.state().answer(cake);
  if (answer == nullptr || answer->value.answer == "not asked") return "nobody asked";
  if (answer->value.answer == "none") return "none named";
  if (!answer->value.allergens.text) return "named, and erased since";
  return fmt::format("named: {}", fmt::join(words_of_keys(terms, split_keys(answer->value.allergens)), ", "));
}

std::vector<CakeToLeave> cakes_to_leave(const Session& session, ZonedInstant at) {
  const State& state = session.state();
  std::vector<CakeToLeave> cakes;
  for (const auto& [id, cake] : state.cakes) {
    if (state.hand_over(id) != nullptr || thrown_away(state, id)) continue;
    CakeToLeave leaving;
    leaving.id = id;
    leaving.name = cake.value.name;
    leaving.event = cake.value.event;
    leaving.boxes = cake.value.boxes;
    leaving.built = std::any_of(state.tiers.begin(), state.tiers.end(), [&, of = id](const auto& tier) { return tier.value.cake == of; });
    const auto judged = judge_cake(session, id, at);
    if (!judged) {
      leaving.cannot_tell = describe(judged.error().front());
      leaving.allergy = "not known";
      cakes.push_back(std::move(leaving));
      continue;
    }
    leaving.allergy = allergy_in_words(session, id, judged->label);
    leaving.outcome = outcome_of(session, *judged, leaving.released);
    leaving.against_findings = leaving.released && !session.state().release(id)->value.against.empty();
    leaving.nobody_may = gravest(judged->findings) == Stop::no_override;
    std::vector<const Finding*> stopping;
    for (const auto& finding : judged->findings) {
      if (finding.verdict != Verdict::shown && finding.stop != Stop::none) stopping.push_back(&finding);
    }
    std::stable_sort(stopping.begin(), stopping.end(), [](const Finding* a, const Finding* b) { return a->stop > b->stop; });
    for (const auto* finding : stopping) {
      const auto* row = plan_row(session, judged->plan, finding->control);
      const std::string words = row == nullptr ? finding->control : row->words;
      if (std::find(leaving.stopped.begin(), leaving.stopped.end(), words) == leaving.stopped.end()) leaving.stopped.push_back(words);
    }
    cakes.push_back(std::move(leaving));
  }
  std::stable_sort(cakes.begin(), cakes.end(), [](const CakeToLeave& a, const CakeToLeave& b) { return a.event < b.event; });
  return cakes;
}

}  // namespace tierproof
