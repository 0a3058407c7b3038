#include "checking.h"
#include "life.h"
#include "tierproof/app/judging.h"
#include "tierproof/sums/hand_over.h"

namespace tierproof {
namespace {

bool covers(const AgainstReason& against, const Finding& finding) {
  return against.control == finding.control || against.control == fmt::format("{}:{}", finding.control, finding.subject);
}

void stop_for_good(Checking& stops, const Finding& finding) {
  stops.refuse(finding.control, fmt::format("{}: nobody can release against this", finding.message), finding.remedy);
}

}  // namespace

bool is_covered(const Release& release, const Finding& finding) {
  return std::any_of(release.against.begin(), release.against.end(), [&](const ReleasedAgainst& against) {
    return against.control == finding.control && against.subject == finding.subject && against.verdict == term_of(finding.verdict);
  });
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
    for (const auto& finding : judged->findings) {
      if (finding.stop == Stop::no_override) {
        stop_for_good(stops, finding);
      } else if (finding.stop == Stop::needs_person && !is_covered(release->value, finding)) {
        stops.refuse(finding.control, fmt::format("since it was released: {} ({})", finding.message, words_of(finding.verdict)),
                     "release it again, with a reason");
      }
    }
  }
  if (!checking.good()) return checking.refusals();
  if (!stops.good()) return Decision{{}, stops.refusals()};
  const HandOver made{CakeId{handing.cake}, session.seal(handing.to), session.seal(handing.told), handing.degrees};
  return Decision{session.book({session.draft(made, handing.cake, at)}), {}};
}

}  // namespace tierproof
