#include "deciding.h"

#include <set>

#include "checking.h"
#include "egg_record.h"
#include "tierproof/sums/hand_over.h"

namespace tierproof {
namespace {

bool covers(const AgainstReason& against, const Finding& finding) {
  return against.control == finding.control || against.control == fmt::format("{}:{}", finding.control, finding.subject);
}

/// Stops what was released by other records than there are now: made or ordered otherwise, or a finding released against that the
/// records, judged at the same moment, now tell in other words.
void stop_on_changes(const Session& session, const Judgement& judged, const Recorded<Release>& release, Checking& stops) {
  const auto changed = made_otherwise_since(session, judged, release.value);
  if (!changed.empty()) {
    stops.refuse("cake", fmt::format("since it was released, note {} changed what is recorded of it", fmt::join(changed, ", ")),
                 "look at it again, then release it again");
  }
  const auto then = judge_cake(session, judged.cake, {release.happened, release.offset});
  if (!then) return;
  for (const auto& finding : then->findings) {
    for (const auto& against : release.value.against) {
      if (against.control != finding.control || against.subject != finding.subject || against.verdict != term_of(finding.verdict)) continue;
      if (!against.finding.text) continue;  // erased: nothing to compare with
      const auto same = [&](const ReleasedAgainst& other) {
        return other.control == finding.control && other.subject == finding.subject && other.finding.text == finding.message;
      };
      if (std::any_of(release.value.against.begin(), release.value.against.end(), same)) continue;
      stops.refuse(finding.control,
                   fmt::format("it was released against \"{}\", and the records now say: {}", *against.finding.text, finding.message),
                   "release it again, with a reason");
      break;
    }
  }
}

void stop_for_good(Checking& stops, const Finding& finding) {
  stops.refuse(finding.control, fmt::format("{}: nobody can release against this", finding.message), finding.remedy);
}

}  // namespace

std::vector<Finding> unanswered(const Release& release, const std::vector<Finding>& findings) {
  std::vector<ReleasedAgainst> reasons = release.against;
  std::vector<Finding> open;
  for (const auto& finding : findings) {
    if (finding.stop == Stop::none) continue;
    const auto reason = std::find_if(reasons.begin(), reasons.end(), [&](const ReleasedAgainst& against) {
      return against.control == finding.control && against.subject == finding.subject && against.verdict == term_of(finding.verdict);
    });
    if (reason == reasons.end()) {
      open.push_back(finding);
    } else {
      reasons.erase(reason);
    }
  }
  return open;
}

std::vector<std::uint64_t> made_otherwise_since(const Session& session, const Judgement& judgement, const Release& release) {
  const State& state = session.state();
  std::set<std::uint64_t> places;  // of the notes that say what the cake is
  for (const auto& tier : state.tiers) {
    if (tier.value.cake == judgement.cake) places.insert(tier.place);
  }
  for (const auto& facts : judgement.parts.batches) {
    const auto batch = state.batches.find(facts.id);
    if (batch == state.batches.end()) continue;
    places.insert({batch->second.place, batch->second.value.recipe_version});
  }
  for (const auto& facts : judgement.parts.lots) {
    const auto lot = state.lots.find(facts.id);
    if (lot == state.lots.end()) continue;
    places.insert({lot->second.place, lot->second.value.specification});
    const auto ingredient = state.ingredients.find(lot->second.value.ingredient);
    if (ingredient != state.ingredients.end()) places.insert(ingredient->second.place);
  }
  const std::set<std::string_view> of_the_cake{KindOf<Cake>::kind, KindOf<Tier>::kind, KindOf<AllergyAnswer>::kind,
                                               KindOf<Acceptance>::kind};
  std::vector<std::uint64_t> changed;
  for (const Note& note : session.notes()) {
    const bool about = places.contains(note.place) || (note.subject == judgement.cake.text() && of_the_cake.contains(note.kind));
    if (about && note.sequence > release.judged_at) changed.push_back(note.sequence);
  }
  std::sort(changed.begin(), changed.end());
  return changed;
}

Result<Decision> release_cake(Session& session, const std::string& cake, const std::vector<AgainstReason>& against) {
  Checking checking{session};
  Checking stops{session};
  checking.person();
  const ZonedInstant at = checking.moment("now");
  const auto judged = judge_cake(session, CakeId{cake}, at);
  if (!judged) checking.take(judged.error());
  if (!checking.good()) return checking.refusals();
  if (session.state().hand_over(CakeId{cake}) != nullptr)
    checking.refuse("cake", fmt::format("{} was handed over already", cake), "record what happened since instead");
  for (const auto& reason : against) {
    checking.free_words("--against", reason.reason);
    if (reason.reason.empty())
      checking.refuse("--against", fmt::format("no reason is given for {}", reason.control), "write it as egg-heat=\"why\"");
  }
  Release release;
  release.cake = CakeId{cake};
  release.judged_at = session.head().size;
  std::vector<bool> needed(against.size(), false);
  std::vector<std::pair<ReleasedAgainst, std::string>> reasons;
  for (const auto& finding : judged->findings) {
    if (finding.stop == Stop::none) continue;
    if (finding.stop == Stop::no_override) {
      stop_for_good(stops, finding);
      continue;
    }
    const auto reason = std::find_if(against.begin(), against.end(), [&](const AgainstReason& given) { return covers(given, finding); });
    if (reason == against.end()) {
      stops.refuse(finding.control, fmt::format("{} ({})", finding.message, words_of(finding.verdict)),
                   fmt::format("{}; or release against it with a reason: --against {}=\"why\"", finding.remedy, finding.control));
      continue;
    }
    needed[static_cast<std::size_t>(reason - against.begin())] = true;
    reasons.push_back(
        {{finding.control, finding.subject, std::string{term_of(finding.verdict)}, session.seal(finding.message), {}}, reason->reason});
  }
  for (std::size_t i = 0; i < against.size(); ++i) {
    if (!needed[i]) checking.refuse("--against", fmt::format("{} does not stop this cake", against[i].control), "leave it out");
  }
  if (!checking.good()) return checking.refusals();
  if (!stops.good()) return Decision{{}, stops.refusals()};
  for (auto& [released, reason] : reasons) {
    released.reason = session.seal(reason);
    release.against.push_back(std::move(released));
  }
  return Decision{session.book({session.draft(release, cake, at)}), {}};
}

Result<Decision> hand_over_cake(Session& session, const HandingOver& handing) {
  Checking checking{session};
  Checking stops{session};
  checking.person();
  const ZonedInstant at = checking.moment(handing.at);
  const auto judged = judge_cake(session, CakeId{handing.cake}, at);
  if (!judged) checking.take(judged.error());
  if (handing.to.empty()) checking.refuse("--to", "who took it is missing", "write who took it");
  if (handing.told.empty())
    checking.refuse("--told", "what was told is missing", "write the words told about allergens, keeping and parts to remove");
  checking.free_words("--told", handing.told);
  if (!checking.good()) return checking.refusals();
  if (session.state().hand_over(CakeId{handing.cake}) != nullptr)
    checking.refuse("cake", fmt::format("{} was handed over already", handing.cake), "nothing more to do");
  const auto* release = session.state().release(CakeId{handing.cake});
  if (handing.degrees && judged->life && judged->life->storage != "cool dry place") {
    const Finding warmth = judge_hand_over(handing.cake, handing.degrees->temperature(), judged->temperature);
    if (warmth.stop == Stop::no_override) stop_for_good(stops, warmth);
  }
  if (release != nullptr && release->happened > at.at) stops.refuse("--at", "lies before the cake was released", "check the time");
  if (release == nullptr) {
    stops.refuse("cake", fmt::format("{} has not been released", handing.cake), "check it, then release it");
  } else {
    for (const auto& finding : unanswered(release->value, judged->findings)) {
      if (finding.stop == Stop::no_override) {
        stop_for_good(stops, finding);
      } else {
        stops.refuse(finding.control, fmt::format("since it was released: {} ({})", finding.message, words_of(finding.verdict)),
                     "release it again, with a reason");
      }
    }
    stop_on_changes(session, *judged, *release, stops);
  }
  if (!checking.good()) return checking.refusals();
  if (!stops.good()) return Decision{{}, stops.refusals()};
  const HandOver made{CakeId{handing.cake}, session.seal(handing.to), session.seal(handing.told), handing.degrees};
  std::vector<std::string> egg_told = egg_advice(session.state(), *judged);
  return Decision{session.book({session.draft(made, handing.cake, at)}), {}, std::move(egg_told)};
}

}  // namespace tierproof
