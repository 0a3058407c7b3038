#include "what_holds.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {

std::string counted_in_words(const KeepUntil& kept) {
  const std::string& event = kept.from.event;
  const std::string from = event == "hand over"  ? "its hand-over"
                           : event == "recorded" ? "the last record"
                           : event == "left"     ? "their last day"
                                                 : (event == "last delivery" ? "the " : "its ") + event;
  return fmt::format("counted from {} on {} {}", from, format_date_long(kept.from.day), cite(kept.cited));
}

std::optional<Date> CustomerNeeded::last() const {
  if (!order || !reachable) return order ? order : reachable;
  return std::max(*order, *reachable);
}

std::string CustomerNeeded::why() const {
  if (order && (!reachable || *order >= *reachable)) return "it has not been handed over";
  if (!kept) return "as long as it may be eaten";
  return counted_in_words(*kept);
}

std::vector<KeptFrom> days_of_cake(const State& state, const CakeId& id, const Recorded<Cake>* cake,
                                   const std::optional<Judgement>& judgement) {
  const auto* handed = state.hand_over(id);
  const bool built = std::any_of(state.tiers.begin(), state.tiers.end(), [&](const auto& tier) { return tier.value.cake == id; });
  std::vector<KeptFrom> known;
  if (handed != nullptr) known.push_back({"hand over", day_of(handed->happened, handed->offset)});
  if (handed == nullptr && built && cake != nullptr) known.push_back({"hand over", cake->value.event});
  if (!known.empty() && judgement && judgement->life && judgement->life->date) {
    const auto& life = *judgement->life;
    known.push_back({life.kind, std::max(*life.date, life.at_latest.value_or(*life.date))});
  }
  return known;
}

CustomerNeeded customer_needed(const State& state, const CakeId& id, const Recorded<Cake>* cake, const std::optional<Judgement>& judgement,
                               const RetentionTerms& terms, Date today) {
  CustomerNeeded needed;
  if (cake != nullptr && state.hand_over(id) == nullptr && today <= cake->value.event) needed.order = cake->value.event;
  const auto known = days_of_cake(state, id, cake, judgement);
  if (known.empty()) return needed;
  needed.kept = keep_until(terms.rows, "personal data", known);
  Date last = known.front().day;
  for (const auto& from : known) last = std::max(last, from.day);
  if (needed.kept) last = std::max(last, needed.kept->last);
  needed.reachable = last;
  return needed;
}

Holds::Holds(const Session& session)
    : session_{session},
      now_{session.now(), session.offset_at(session.now())},
      terms_{session.packs().temperature_terms(session.kitchen().temperature_rules, day_of(now_.at, now_.offset))} {
  for (const auto& [recall, begun] : session.state().recalls) {
    if (begun.value.drill || session.state().closed(recall) != nullptr) continue;
    recalls_.emplace(recall, recall_of(session, recall.text(), now_));
  }
}

std::vector<Held> Holds::of(const CakeId& id, const std::optional<Judgement>& judgement) {
  std::vector<Held> held;
  if (const auto* complaint = session_.state().open_complaint(id)) {
    held.push_back({complaint->subject, fmt::format("{} about {} is open", complaint->subject, id.text()),
                    fmt::format("close {} first; what it says is needed until then", complaint->subject)});
  }
  for (const auto& [recall, told] : recalls_) {
    const auto about = [&](const RecallStep& step) { return step.food.id == id.text(); };
    // One that cannot be worked out may reach it.
    if (told && std::none_of(told->contact.begin(), told->contact.end(), about) &&
        std::none_of(told->hold.begin(), told->hold.end(), about))
      continue;
    held.push_back({recall.text(), fmt::format("{} reaches {} and is open", recall.text(), id.text()),
                    fmt::format("close {} first; its customer may have to be told until then", recall.text())});
  }
  if (judgement && session_.state().hand_over(id) != nullptr) withdrawn(id, *judgement, held);
  if (session_.state().cakes.contains(id)) troubles(id, held);
  return held;
}

void Holds::withdrawn(const CakeId& id, const Judgement& judgement, std::vector<Held>& held) const {
  const State& state = session_.state();
  for (const auto& withdrawal : state.withdrawals) {
    const auto& lots = judgement.parts.lots;
    const bool in_it = std::any_of(lots.begin(), lots.end(), [&](const LotFacts& lot) { return lot.id == withdrawal.value.lot; });
    const bool told = std::any_of(state.told.begin(), state.told.end(), [&](const auto& one) {
      return one.value.cake == id && one.value.when == "after it was handed over" && one.sequence > withdrawal.sequence;
    });
    const bool told_in_a_recall = std::any_of(state.recall_ticks.begin(), state.recall_ticks.end(), [&](const auto& tick) {
      return tick.value.what == id.text() && tick.value.did == "told" && tick.sequence > withdrawal.sequence;
    });
    if (!in_it || told || told_in_a_recall) continue;
    held.push_back(
        {withdrawal.value.lot.text(),
         fmt::format("{} in it was withdrawn on {} (note {}), and nobody is recorded as having told the customer",
                     withdrawal.value.lot.text(), format_date_long(day_of(withdrawal.happened, withdrawal.offset)), withdrawal.sequence),
         "tell the customer and record it with `told`, then erase"});
  }
}

void Holds::troubles(const CakeId& id, std::vector<Held>& held) {
  const State& state = session_.state();
  for (const auto& [trouble, recorded] : state.deviations) {
    if (state.closed(trouble) != nullptr) continue;
    if (terms_ && meets(session_, *terms_, recorded, id.text(), now_.at, since_).ways.empty()) continue;
    held.push_back({trouble.text(), fmt::format("{} touches {} and is open", trouble.text(), id.text()),
                    fmt::format("close {} with `put-right` first; its customer may have to be told until then", trouble.text())});
  }
}

}  // namespace tierproof
