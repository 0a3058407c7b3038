#include "tierproof/app/recalling.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <span>
#include <utility>

#include "checking.h"
#include "recall_notes.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/stores.h"
#include "troubles.h"
#include "where_now.h"

namespace tierproof {
namespace {

/// When it was recalled, and which of two notes of one moment came first.
using RecalledSince = std::pair<Instant, std::uint64_t>;

/// What says that a thing is recalled, and since when: since the last of it, so that what was told before is told again.
struct Reason {
  RecalledSince since{};
  std::vector<std::string> words;
};

/// @param id  a pack, batch or cake, or a trouble
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
    if (trouble.text() != id && std::find(about.begin(), about.end(), id) == about.end()) continue;
    auto& last = state.closed(trouble) == nullptr ? since : once;
    last = std::max(last, std::optional{RecalledSince{deviation.happened, deviation.place}});
    reason.words.push_back(fmt::format("{} went wrong with {}, {}: {}", trouble.text(), fmt::join(about, ", "), who_and_when(deviation),
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
  Recalling(const State& state, Instant at, RecallTold& told) : state_{state}, at_{at}, told_{told} {
    for (const auto& tick : state.recall_ticks) {
      if (tick.value.recall.text() == told.id) ticks_[tick.value.what].push_back(&tick);
    }
    for (auto& [what, ticks] : ticks_) {  // by when they were made, not by when somebody wrote them down
      std::stable_sort(ticks.begin(), ticks.end(), [](const auto* a, const auto* b) { return a->happened < b->happened; });
    }
  }

  /// @param since  when it was recalled; nothing in a drill, where nothing counts as done
  void add(const TracedTold& food, std::optional<RecalledSince> since) {
    if (state_.cakes.contains(CakeId{food.id})) {
      cake(food, since);
    } else {
      stock(food);
    }
  }

  /// Whoever has to be told besides: of a begun recall.
  void add_others() {
    for (const auto& [id, words] : recall_others) {
      RecallStep step;
      step.food = {std::string{id}, std::string{words}, true, 0, "", "", {}};
      tick_off(step, told_.drill ? std::span<const std::string_view>{found_} : std::span<const std::string_view>{others_});
      if ((id == "authority" && !told_.drill) || !step.tries.empty()) told_.others.push_back(std::move(step));
    }
  }

  void begun_at(Instant begun) { begun_ = begun; }
  /// When the last step was made.
  std::optional<Instant> last_step() const { return last_; }

 private:
  /// Writes every step about it down. The last of them counts: what was set aside and cannot be found any more is not set aside.
  /// Only one of `done` makes it done: what was set aside and then left is told to nobody.
  void tick_off(RecallStep& step, std::span<const std::string_view> done) {
    const auto found = ticks_.find(step.food.id);
    if (found == ticks_.end()) return;
    for (const auto* tick : found->second) {
      const RecallTick& said = tick->value;
      step.tries.push_back(in_words(*tick));
      step.made.push_back(made_in_words(*tick));
      if (said.did == "taken out") continue;
      step.done = std::find(done.begin(), done.end(), said.did) != done.end();
      step.done_words = step.done ? step.tries.back() : "";
      if (step.done) done_at(tick->happened);
    }
  }

  void done_at(Instant when) { last_ = std::max(last_.value_or(when), when); }

  void cake(const TracedTold& food, std::optional<RecalledSince> since) {
    const CakeId id{food.id};
    RecallStep step;
    step.food = food;
    const std::int64_t boxes = state_.cakes.at(id).value.boxes;
    if (boxes > 1)
      step.food.where += fmt::format(", in {} boxes: which of them hold it cannot be told by the records, so all of them", boxes);
    const auto* handed = state_.hand_over(id);
    if (handed == nullptr) {
      if (thrown_away(state_, id)) return put_with_gone(std::move(step));
      tick_off(step, held());
      told_.hold.push_back(std::move(step));
      return;
    }
    const Cake& ordered = state_.cakes.at(id).value;
    const auto words = [](const Words& sealed) { return sealed.given() ? sealed.text.value_or("(erased)") : std::string{}; };
    step.customer = words(ordered.customer).empty() ? "a customer whose name is not recorded" : words(ordered.customer);
    step.customer += words(ordered.contact).empty() ? ", no telephone or address recorded" : ", " + words(ordered.contact);
    step.left = "handed over " + format_moment(handed->happened, handed->offset);
    step.reachable = ordered.customer.text.has_value() || ordered.contact.text.has_value();
    tick_off(step, told_.drill ? std::span<const std::string_view>{found_} : std::span<const std::string_view>{told_words_});
    for (const auto& one : state_.told) {
      if (told_.drill || one.value.cake != id || one.value.when != "after it was handed over" || !may_tell_of_recall(one.value)) continue;
      if (!since || RecalledSince{one.happened, one.place} < *since) continue;
      const bool own_words = one.value.text.empty();
      if (own_words && begun_) {  // of what was spoken can only a step of the recall tell
        step.tries.push_back(fmt::format("a message {}: {}; `recall-tick {} {} told` if it told of this", who_and_when(one),
                                         one.value.words.text.value_or("(erased)"), told_.id, food.id));
        continue;
      }
      step.done = true;
      done_at(one.happened);
      step.made.push_back("told " + who_and_when(one));
      step.done_words =
          "told " + who_and_when(one) + (one.value.text.empty() ? ": " + one.value.words.text.value_or("(erased)") : ", by the ready text");
    }
    told_.contact.push_back(std::move(step));
  }

  void stock(const TracedTold& food) {
    RecallStep step;
    step.food = food;
    const std::int64_t left = remaining_mg(state_, food.id);
    if (state_.lots.contains(LotId{food.id})) {
      step.food.where = left > 0 ? fmt::format("{} left by the records, with the packs", format_mass(Mass::milligrams(left))) : "used up";
      if (const auto tubs = tubs_with(food.id); !tubs.empty()) {
        step.food.where = fmt::format("poured into {}: empty it, wash it, and set aside what was in it", fmt::join(tubs, ", and into "));
        tick_off(step, held());
        told_.hold.push_back(std::move(step));
        return;
      }
    }
    if (left > 0 || (!state_.lots.contains(LotId{food.id}) && !state_.batches.contains(BatchId{food.id}))) {
      tick_off(step, held());
      told_.hold.push_back(std::move(step));
      return;
    }
    put_with_gone(std::move(step));
  }

  void put_with_gone(RecallStep step) {
    tick_off(step, {});
    step.done = true;
    step.done_words = binned(step.food.id);
    if (!step.done_words.empty()) step.made.push_back(step.done_words);
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

  std::string binned(const std::string& id) {
    std::string words;
    for (const auto& disposal : state_.disposals) {
      if (disposal.value.what != id) continue;
      words += fmt::format("{}thrown away{} {}", words.empty() ? "" : "; ",
                           disposal.value.mass ? " (" + format_mass(*disposal.value.mass) + ")" : "", who_and_when(disposal));
      if (begun_ && disposal.happened >= *begun_) done_at(disposal.happened);
    }
    return words;
  }
  std::span<const std::string_view> held() const {
    return told_.drill ? std::span<const std::string_view>{found_} : std::span<const std::string_view>{held_};
  }

  static constexpr std::array<std::string_view, 1> found_{"found"};
  static constexpr std::array<std::string_view, 1> told_words_{"told"};
  static constexpr std::array<std::string_view, 2> held_{"set aside", "given back"};
  static constexpr std::array<std::string_view, 2> others_{"told", "not needed"};
  const State& state_;
  Instant at_;
  RecallTold& told_;
  std::map<std::string, std::vector<const Recorded<RecallTick>*>> ticks_;
  std::optional<Instant> begun_, last_;
};

/// What is recalled, and since when it is known to be wrong.
struct Beginning {
  std::string id;
  std::optional<RecalledSince> since;
};

/// Everything that a trouble touches: what it names, and batches and cakes that met it.
Result<std::vector<std::string>> touched_by(const Session& session, const Recorded<Deviation>& trouble, ZonedInstant at) {
  const State& state = session.state();
  const auto terms = session.packs().temperature_terms(session.kitchen().temperature_rules, day_of(at.at, at.offset));
  if (!terms) return terms.error();
  std::vector<std::string> touched;
  for (const auto& about : trouble.value.about) {
    if (state.lots.contains(LotId{about})) touched.push_back(about);
  }
  UnvouchedSince since;
  const auto look = [&](const std::string& thing) {
    if (!meets(session, *terms, trouble, thing, at.at, since).ways.empty()) touched.push_back(thing);
  };
  for (const auto& [id, batch] : state.batches) look(id.text());
  for (const auto& [id, cake] : state.cakes) look(id.text());
  return touched;
}

/// Finds out what a recall is about.
class FindingOut {
 public:
  FindingOut(const Session& session, Checking& checking, bool begun, ZonedInstant at)
      : session_{session}, checking_{checking}, begun_{begun}, at_{at} {}

  std::vector<Beginning> beginnings;

  void add(const std::string& thing, RecallTold& told) {
    const State& state = session_.state();
    if (const auto trouble = state.deviations.find(DeviationId{thing}); trouble != state.deviations.end()) {
      const auto reason = reason_for(state, thing);
      const auto touched = touched_by(session_, trouble->second, at_);
      if (!touched) return checking_.take(touched.error());
      if (touched->empty() && !begun_)
        checking_.refuse("thing", thing + " touches no pack, batch or cake by the records", "name what is recalled");
      told.because.insert(told.because.end(), reason->words.begin(), reason->words.end());
      for (const auto& one : *touched) beginnings.push_back({one, told.drill ? std::nullopt : std::optional{reason->since}});
      return;
    }
    if (begun_ && !state.lots.contains(LotId{thing}) && !state.batches.contains(BatchId{thing}) && !state.cakes.contains(CakeId{thing})) {
      told.because.push_back(fmt::format("no note in force says any longer what {} is: what it reached has to be looked at again", thing));
      return;
    }
    auto traced = trace(session_, thing, weighed(thing), at_);
    if (!traced) return checking_.take(traced.error());
    const std::string& id = traced->id;
    const auto reason = reason_for(state, id);
    if (!reason && !told.drill && !begun_) return refuse_unfounded(*traced);
    beginnings.push_back({id, told.drill || !reason ? std::nullopt : std::optional{reason->since}});
    if (reason) told.because.insert(told.because.end(), reason->words.begin(), reason->words.end());
    if (!reason && begun_ && !told.drill)
      told.because.push_back(fmt::format("no note in force says any longer that {} is wrong", traced->words));
    told.of.push_back(std::move(traced).value());
  }

  void weighed_in(const std::string& recall) { recall_ = recall; }

 private:
  void refuse_unfounded(const TraceTold& traced) {
    const std::string& id = traced.id;
    const bool pack = session_.state().lots.contains(LotId{id});
    checking_.refuse(
        "thing", fmt::format("{} is not {} by the records", traced.words, pack ? "withdrawn" : "known to be wrong"),
        pack ? fmt::format("`tierproof withdraw {} --why …` first, which stops what holds it; or --drill for an exercise", id)
             : fmt::format("`tierproof went-wrong … --about {}` first, which stops what holds it; or --drill for an exercise", id));
  }

  /// What was left of it, as a step of the recall weighed it last.
  std::optional<Mass> weighed(const std::string& thing) const {
    std::optional<Mass> last;
    for (const auto& tick : session_.state().recall_ticks) {
      if (tick.value.recall.text() == recall_ && tick.value.what == thing && tick.value.weighed) last = tick.value.weighed;
    }
    return last;
  }

  const Session& session_;
  Checking& checking_;
  bool begun_;
  ZonedInstant at_;
  std::string recall_;
};

/// Each food once: certain where one of them makes it so, and told anew since the last of them was recalled.
Result<RecallTold> told_of(const Session& session, const std::vector<std::string>& things, RecallTold told,
                           const Recorded<RecallBegun>* begun, ZonedInstant at) {
  const State& state = session.state();
  Checking checking{session};
  if (things.empty()) checking.refuse("thing", "what is recalled is missing", "name a pack, its code, a batch or a cake");
  FindingOut found{session, checking, begun != nullptr, at};
  found.weighed_in(told.id);
  std::set<std::string> once;
  for (const auto& thing : things) {
    if (once.insert(thing).second) found.add(thing, told);
  }
  if (!checking.good()) return checking.refusals();
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
  std::vector<TraceTold> touched;  // what a trouble touches, followed on
  for (const auto& beginning : found.beginnings) {
    const auto known = std::find_if(told.of.begin(), told.of.end(), [&](const TraceTold& one) { return one.id == beginning.id; });
    if (known != told.of.end()) {
      touched.push_back(*known);
      continue;
    }
    auto traced = trace(session, beginning.id, {}, at);
    if (!traced) return traced.error();
    touched.push_back(std::move(traced).value());
  }
  for (std::size_t i = 0; i < touched.size(); ++i) {
    const std::string where = state.cakes.contains(CakeId{touched[i].id})      ? where_now(state, CakeId{touched[i].id}, at.at)
                              : state.batches.contains(BatchId{touched[i].id}) ? where_now(state, BatchId{touched[i].id}, at.at)
                                                                               : "";
    gather({touched[i].id, touched[i].words, true, 0, touched[i].id, where, {}}, found.beginnings[i].since);
  }
  for (const bool certain : {true, false}) {
    for (std::size_t i = 0; i < touched.size(); ++i) {
      for (const auto& food : touched[i].into) {
        if (food.certain == certain) gather(food, found.beginnings[i].since);
      }
    }
  }
  Recalling recalling{state, at.at, told};
  if (begun != nullptr) recalling.begun_at(begun->happened);
  for (auto& food : foods) {
    if (touched.size() > 1) food.mg.reset();  // of which of them it would be cannot be told in one figure
    recalling.add(food, latest[food.id]);
  }
  if (begun == nullptr) return told;
  recalling.add_others();
  told.taken_out = taken_out_of(session, *begun, told);
  if ((!told.open() || !told.closed.empty()) && recalling.last_step())
    told.took = std::max(Span{}, *recalling.last_step() - begun->happened);
  return told;
}

/// What is asked for as things, and in words.
Result<std::vector<std::string>> things_of(const Session& session, const RecallAsked& asked, std::string& words) {
  std::vector<std::string> things = asked.things;
  Checking checking{session};
  if (!asked.supplier.empty()) {
    const Date from = asked.from.value_or(std::chrono::year{1} / 1 / 1);
    const Date until = asked.until.value_or(session.today());
    const auto packs = packs_from(session, asked.supplier, from, until);
    if (!packs) return packs.error();
    things.insert(things.end(), packs->begin(), packs->end());
    words = fmt::format("every pack from {}{} until {}", asked.supplier, asked.from ? " from " + format_date_long(from) : "",
                        format_date_long(until));
  }
  if (asked.details != 0) {
    const Note* note = tip_of(session.notes(), asked.details);
    if (note == nullptr || !note->kind.starts_with("specification/")) {
      checking.refuse("--details", fmt::format("note {} does not tell what a pack says", asked.details),
                      "look at `tierproof list specifications`");
      return checking.refusals();
    }
    std::vector<std::string> packs;
    for (const auto& [id, lot] : session.state().lots) {
      if (lot.value.specification == note->place) packs.push_back(id.text());
    }
    if (packs.empty()) {
      checking.refuse("--details", fmt::format("no pack stands under note {}", asked.details), "nothing was made from it by the records");
      return checking.refusals();
    }
    things.insert(things.end(), packs.begin(), packs.end());
    words += fmt::format("{}every pack that stands under the pack details of note {}", words.empty() ? "" : "; ", asked.details);
  }
  return things;
}

}  // namespace

bool RecallTold::open() const {
  const auto waits = [](const auto& step) { return !step.done; };
  return std::any_of(contact.begin(), contact.end(), waits) || std::any_of(hold.begin(), hold.end(), waits) ||
         std::any_of(taken_out.begin(), taken_out.end(), waits) || (!drill && std::any_of(others.begin(), others.end(), waits));
}

std::vector<std::string> RecallTold::since_closed() const {
  std::vector<std::string> words;
  if (closed.empty()) return words;
  for (const auto* steps : {&contact, &hold}) {
    for (const auto& step : *steps) {
      if (!seen_to(step, drill)) words.push_back(step.food.words);
    }
  }
  for (const auto& one : taken_out) {
    if (!one.done) words.push_back(one.words + ", taken out");
  }
  return words;
}

Result<RecallTold> recall(const Session& session, const RecallAsked& asked, ZonedInstant at) {
  RecallTold told;
  told.drill = asked.drill;
  const auto things = things_of(session, asked, told.asked);
  if (!things) return things.error();
  return told_of(session, *things, std::move(told), nullptr, at);
}

Result<RecallTold> recall_of(const Session& session, const std::string& id, ZonedInstant at) {
  const State& state = session.state();
  Checking checking{session};
  const auto* begun = checking.known("recall", state.recalls, id, "recall");
  if (begun == nullptr) return checking.refusals();
  RecallTold told;
  told.id = id;
  told.drill = begun->value.drill;
  told.asked = begun->value.asked;
  told.begun = who_and_when(*begun) + ": " + begun->value.why.text.value_or("(erased)");
  if (const auto* closing = state.closed(RecallId{id})) told.closed = who_and_when(*closing);
  return told_of(session, begun->value.of, std::move(told), begun, at);
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
