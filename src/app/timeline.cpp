#include "timeline.h"

#include <fmt/format.h>

#include <algorithm>

#include "cold.h"
#include "where_now.h"

namespace tierproof {
namespace {

struct Line {
  Instant from{};
  LabelledText told;
};

class TimelineOf {
 public:
  TimelineOf(const State& state, const Judgement& judgement) : state_{state}, judgement_{judgement} {}

  std::vector<LabelledText> lines() {
    for (const auto& facts : judgement_.parts.batches) {
      const auto batch = state_.batches.find(facts.id);
      if (batch == state_.batches.end()) continue;
      const std::string words = fmt::format("{} ({})", facts.id.text(), name_of_batch(state_, facts.id));
      event(batch->second.happened, batch->second.offset, words + ": made");
      stood(facts.id.text(), words, batch->second.happened, used_up(state_, judgement_.parts, facts.id, judgement_.at.at),
            batch->second.offset);
    }
    cake();
    std::stable_sort(lines_.begin(), lines_.end(), [](const Line& a, const Line& b) { return a.from < b.from; });
    std::vector<LabelledText> told;
    for (auto& line : lines_) told.push_back(std::move(line.told));
    return told;
  }

 private:
  void cake() {
    const Recorded<Tier>* first = nullptr;
    for (const auto& tier : state_.tiers) {
      if (tier.value.cake == judgement_.cake && (first == nullptr || tier.happened < first->happened)) first = &tier;
    }
    if (first == nullptr) return;
    event(first->happened, first->offset, judgement_.cake.text() + ": first tier built");
    const auto* handed = state_.hand_over(judgement_.cake);
    const Instant until = handed == nullptr ? judgement_.at.at : std::min(handed->happened, judgement_.at.at);
    stood(judgement_.cake.text(), judgement_.cake.text(), first->happened, until, first->offset);
    if (handed != nullptr && handed->happened <= judgement_.at.at)
      event(handed->happened, handed->offset, judgement_.cake.text() + ": handed over");
  }

  void event(Instant at, Offset offset, std::string words) { lines_.push_back({at, {format_moment(at, offset), std::move(words)}}); }

  void stood(const std::string& id, const std::string& words, Instant from, Instant to, Offset offset) {
    for (const auto& stretch : whereabouts(state_, id, from, to)) {
      const auto place = state_.places.find(stretch.place);
      std::string told = fmt::format("{}: {}", words, place == state_.places.end() ? "no place recorded" : place->second.value.name);
      if (!stretch.use.empty()) told += ", for " + stretch.use;
      for (const StayTold& stay : judgement_.stays) {
        if (stay.subject.substr(0, stay.subject.find(' ')) != id || stay.from < stretch.from || stay.to > stretch.to || !stay.warmest)
          continue;
        told += fmt::format("; warmest {:.1f} °C {}, by {}", stay.warmest->to_celsius(), stay.measured_food ? "in the food" : "in the air",
                            stay.thermometer);
      }
      const std::string time = day_of(stretch.from, offset) == day_of(stretch.to, offset)
                                   ? fmt::format("{} to {}", format_moment(stretch.from, offset), format_clock(stretch.to, offset))
                                   : fmt::format("{} to {}", format_moment(stretch.from, offset), format_moment(stretch.to, offset));
      lines_.push_back({stretch.from, {time, std::move(told)}});
    }
  }

  const State& state_;
  const Judgement& judgement_;
  std::vector<Line> lines_;
};

}  // namespace

std::vector<LabelledText> timeline_of(const Session& session, const Judgement& judgement) {
  return TimelineOf{session.state(), judgement}.lines();
}

}  // namespace tierproof
