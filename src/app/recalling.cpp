#include "tierproof/app/recalling.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "checking.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/stores.h"
#include "troubles.h"

namespace tierproof {
namespace {

template <class Thing>
std::string who_and_when(const Recorded<Thing>& note) {
  return fmt::format("{}, by {} (note {})", format_moment(note.happened, note.offset), note.person.text(), note.sequence);
}

/// When it was recalled, and which of two notes of one moment came first.
using RecalledSince = std::pair<Instant, std::uint64_t>;

/// What says that a thing is recalled, and since when: since the last of it, so that what was told before is told again.
struct Reason {
  RecalledSince since{};
  std::vector<std::string> words;
};

std::optional<Reason> reason_for(const State& state, const std::string& id) {
  std::optional<RecalledSince> since, once;  // once: put right since
  Reason reason;
  for (const auto& withdrawal : state.withdrawals) {
    if (withdrawal.value.lot.text() != id) continue;
    since = std::max(since, std::optional{RecalledSince{withdrawal.happened, withdrawal.place}});
    reason.words.push_back(fmt::format("{} withdrawn {}: {}", pack_in_words(state, withdrawal.value.lot), who_and_when(withdrawal),
                                       withdrawal.value.why.text.value_or("(erased)")));
  }
  for (const auto& [trouble, deviation] : state.deviations) {
    const auto& about = deviation.value.about;
    if (std::find(about.begin(), about.end(), id) == about.end()) continue;
    auto& last = state.closed(trouble) == nullptr ? since : once;
    last = std::max(last, std::optional{RecalledSince{deviation.happened, deviation.place}});
    reason.words.push_back(fmt::format("{} went wrong with {}, {}: {}", trouble.text(), id, who_and_when(deviation),
                                       deviation.value.what.text.value_or("(erased)")));
  }
  if (!since && !once) return std::nullopt;
  reason.since = since ? *since : *once;
  return reason;
}

/// Whether somebody was told of a recall by it: by the ready-made text, or in words of their own, which are then printed.
bool may_tell_of_recall(const Told& told) { return told.text.empty() || told.text == "recalled"; }

class Recalling {
 public:
  Recalling(const State& state, Instant at, RecallTold& told) : state_{state}, at_{at}, told_{told} {}

  /// @param since  when it was recalled; nothing in a drill, where nothing counts as done
  void add(const TracedTold& food, std::optional<RecalledSince> since) {
    if (state_.cakes.contains(CakeId{food.id})) {
      cake(food, since);
    } else {
      stock(food);
    }
  }

 private:
  void cake(const TracedTold& food, std::optional<RecalledSince> since) {
    const CakeId id{food.id};
    RecallStep step{food, "", false, ""};
    const auto* handed = state_.hand_over(id);
    if (handed == nullptr) {
      if (thrown_away(state_, id)) step.done = true, step.done_words = binned(food.id);
      (step.done ? told_.gone : told_.hold).push_back(std::move(step));
      return;
    }
    const Cake& ordered = state_.cakes.at(id).value;
    const auto words = [](const Words& sealed) { return sealed.given() ? sealed.text.value_or("(erased)") : std::string{}; };
    step.customer = words(ordered.customer).empty() ? "a customer whose name is not recorded" : words(ordered.customer);
    step.customer += words(ordered.contact).empty() ? ", no telephone or address recorded" : ", " + words(ordered.contact);
    for (const auto& one : state_.told) {
      if (one.value.cake != id || one.value.when != "after it was handed over" || !may_tell_of_recall(one.value)) continue;
      if (!since || RecalledSince{one.happened, one.place} < *since) continue;
      step.done = true;
      step.done_words =
          "told " + who_and_when(one) + (one.value.text.empty() ? ": " + one.value.words.text.value_or("(erased)") : ", by the ready text");
    }
    told_.contact.push_back(std::move(step));
  }

  void stock(const TracedTold& food) {
    RecallStep step{food, "", false, ""};
    const std::int64_t left = remaining_mg(state_, food.id);
    if (state_.lots.contains(LotId{food.id})) {
      step.food.where = left > 0 ? fmt::format("{} left by the records, with the packs", format_mass(Mass::milligrams(left))) : "used up";
      if (const auto tubs = tubs_with(food.id); !tubs.empty()) {
        step.food.where = fmt::format("poured into {}: empty it, wash it, and set aside what was in it", fmt::join(tubs, ", and into "));
        told_.hold.push_back(std::move(step));
        return;
      }
    }
    if (left > 0 || (!state_.lots.contains(LotId{food.id}) && !state_.batches.contains(BatchId{food.id}))) {
      told_.hold.push_back(std::move(step));
      return;
    }
    step.done = true;
    step.done_words = binned(food.id);
    told_.gone.push_back(std::move(step));
  }

  /// Every tub that some of a pack is or may be in.
  std::vector<std::string> tubs_with(const std::string& pack) const {
    std::vector<std::string> tubs;
    for (const auto& [id, tub] : state_.tubs) {
      const auto packs = packs_in_tub(state_, id, at_);
      if (std::find(packs.begin(), packs.end(), LotId{pack}) != packs.end()) tubs.push_back(id.text());
    }
    return tubs;
  }

  std::string binned(const std::string& id) const {
    std::string words;
    for (const auto& disposal : state_.disposals) {
      if (disposal.value.what != id) continue;
      words += fmt::format("{}thrown away{} {}", words.empty() ? "" : "; ",
                           disposal.value.mass ? " (" + format_mass(*disposal.value.mass) + ")" : "", who_and_when(disposal));
    }
    return words;
  }

  const State& state_;
  Instant at_;
  RecallTold& told_;
};

}  // namespace

bool RecallTold::open() const {
  const auto waits = [](const RecallStep& step) { return !step.done; };
  return std::any_of(contact.begin(), contact.end(), waits) || !hold.empty();
}

Result<RecallTold> recall(const Session& session, const std::vector<std::string>& things, bool drill, ZonedInstant at) {
  const State& state = session.state();
  Checking checking{session};
  if (things.empty()) checking.refuse("thing", "what is recalled is missing", "name a pack, its code, or a batch");
  RecallTold told;
  told.drill = drill;
  std::vector<std::optional<RecalledSince>> since;
  for (const auto& thing : things) {
    auto traced = trace(session, thing, {}, at);
    if (!traced) {
      checking.take(traced.error());
      continue;
    }
    const std::string& id = traced->id;
    if (state.cakes.contains(CakeId{id})) {
      checking.refuse("thing", fmt::format("{} is a cake: it is not in anything else", id), "name a pack or a batch; or see `trace`");
      continue;
    }
    const auto reason = reason_for(state, id);
    if (!reason && !drill) {
      const bool pack = state.lots.contains(LotId{id});
      checking.refuse(
          "thing", fmt::format("{} is not {} by the records", traced->words, pack ? "withdrawn" : "known to be wrong"),
          pack ? fmt::format("`tierproof withdraw {} --why …` first, which stops what holds it; or --drill for an exercise", id)
               : fmt::format("`tierproof went-wrong … --about {}` first, which stops what holds it; or --drill for an exercise", id));
      continue;
    }
    since.push_back(drill || !reason ? std::nullopt : std::optional{reason->since});
    if (reason) told.because.insert(told.because.end(), reason->words.begin(), reason->words.end());
    told.of.push_back(std::move(traced).value());
  }
  if (!checking.good()) return checking.refusals();
  // Each food once: certain where one of them makes it so, and told anew since the last of them was recalled.
  std::vector<TracedTold> foods;
  std::map<std::string, std::optional<RecalledSince>> latest;
  const auto gather = [&](const TracedTold& food, const std::optional<RecalledSince>& from) {
    const auto [place, is_new] = latest.emplace(food.id, from);
    if (is_new) {
      foods.push_back(food);
    } else {
      place->second = std::max(place->second, from);
    }
  };
  for (std::size_t i = 0; i < told.of.size(); ++i) gather({told.of[i].id, told.of[i].words, true, 0, told.of[i].id, "", {}}, since[i]);
  for (const bool certain : {true, false}) {
    for (std::size_t i = 0; i < told.of.size(); ++i) {
      for (const auto& food : told.of[i].into) {
        if (food.certain == certain) gather(food, since[i]);
      }
    }
  }
  Recalling recalling{state, at.at, told};
  for (auto& food : foods) {
    if (told.of.size() > 1) food.mg.reset();  // of which of them it would be cannot be told in one figure
    recalling.add(food, latest[food.id]);
  }
  return told;
}

Result<std::vector<std::string>> packs_from(const Session& session, const std::string& supplier, Date from, Date until) {
  Checking checking{session};
  checking.known("--supplier", session.state().suppliers, supplier, "supplier");
  if (until < from) checking.refuse("--until", "is before --from", "write the earlier day first");
  std::vector<std::string> packs;
  for (const auto& [id, lot] : session.state().lots) {
    const Date day = day_of(lot.happened, lot.offset);
    if (lot.value.supplier.text() == supplier && from <= day && day <= until) packs.push_back(id.text());
  }
  if (checking.good() && packs.empty())
    checking.refuse("--supplier", fmt::format("no pack came from {} on those days", supplier), "look at `tierproof list packs`");
  if (!checking.good()) return checking.refusals();
  return packs;
}

}  // namespace tierproof
