#include "tierproof/app/stores.h"

#include "checking.h"
#include "tierproof/app/recording.h"

namespace tierproof {
Result<Booked> open_pack(Session& session, const std::string& lot, const std::string& at) {
  Checking checking{session};
  checking.person();
  const auto* known = checking.known("pack", session.state().lots, lot, "pack");
  const ZonedInstant moment = checking.moment(at);
  if (known != nullptr && known->happened > moment.at) checking.refuse("--at", fmt::format("{} came in after this", lot), "check the time");
  for (const auto& opened : session.state().opened) {
    if (opened.value.lot.text() != lot) continue;
    checking.refuse("pack",
                    fmt::format("{} was opened on {} already, by note {}", lot, format_date_long(day_of(opened.happened, opened.offset)),
                                opened.sequence),
                    fmt::format("if that is wrong, void note {} first", opened.sequence));
  }
  return book_one(session, checking, Opened{LotId{lot}}, lot, moment);
}

Result<Booked> add_tub(Session& session, const std::string& id, const Tub& tub) {
  Checking checking{session};
  checking.person();
  checking.id("tub", id);
  checking.unused("tub", session.state().tubs, id);
  checking.no_sort_is_called("tub", id);
  checking.words("--name", tub.name);
  checking.known("--of", session.state().ingredients, tub.ingredient.text(), "ingredient");
  return book_one(session, checking, tub, id, checking.moment("now"));
}

std::vector<LotId> packs_in_tub(const State& state, const TubId& tub, Instant at) { return Tubs{state}.packs_in(tub, at); }

std::optional<Poured> poured(const State& state, const LotId& lot, Instant at) { return Tubs{state}.poured(lot, at); }

std::vector<PossibleUse> possible_in(const State& state, const Recorded<Batch>& batch) {
  return Tubs{state}.possible_in(batch.value.uses, batch.happened);
}

Result<Booked> top_up(Session& session, const std::string& tub, const std::string& lot, const std::string& at) {
  Checking checking{session};
  checking.person();
  const State& state = session.state();
  const auto* known = checking.known("tub", state.tubs, tub, "tub");
  const auto* pack = checking.known("pack", state.lots, lot, "pack");
  const ZonedInstant moment = checking.moment(at);
  if (known != nullptr && pack != nullptr && known->value.ingredient != pack->value.ingredient) {
    checking.refuse("pack",
                    fmt::format("{} is {}, and {} holds {}", lot, pack->value.ingredient.text(), tub, known->value.ingredient.text()),
                    "name a pack of the same ingredient, or another tub");
  }
  if (pack != nullptr && pack->happened > moment.at) checking.refuse("--at", fmt::format("{} came in after this", lot), "check the time");
  const auto withdrawn_by_then = [&](const auto& withdrawal) {
    return withdrawal.value.lot.text() == lot && withdrawal.happened <= moment.at;
  };
  if (pack != nullptr && std::any_of(state.withdrawals.begin(), state.withdrawals.end(), withdrawn_by_then))
    checking.refuse("pack", fmt::format("{} was withdrawn", lot), "keep it apart: what it is poured onto would be lost too");
  const auto in_tubs = Tubs{state}.tubs_with(LotId{lot}, moment.at);
  if (std::find(in_tubs.begin(), in_tubs.end(), TubId{tub}) != in_tubs.end()) {
    checking.refuse("pack", fmt::format("{} was poured into {} already and is in it", lot, tub), "nothing is left to do");
  }
  return book_one(session, checking, TopUp{TubId{tub}, LotId{lot}}, tub, moment);
}

Result<Booked> empty_tub(Session& session, const std::string& tub, const std::string& at) {
  Checking checking{session};
  checking.person();
  checking.known("tub", session.state().tubs, tub, "tub");
  const ZonedInstant moment = checking.moment(at);
  for (const auto& [batch_id, batch] : session.state().batches) {
    const auto from_tub = [&](const BatchUse& use) { return use.tub.text() == tub; };
    if (batch.happened >= moment.at && std::any_of(batch.value.uses.begin(), batch.value.uses.end(), from_tub)) {
      checking.refuse("--at", fmt::format("{} was made from it after this, by what was in it before", batch_id.text()),
                      "record the emptying before the batches that follow it, or correct those batches");
    }
  }
  return book_one(session, checking, Emptied{TubId{tub}}, tub, moment);
}

Result<Booked> keep_left_over(Session& session, const KeepingLeftOver& keeping) {
  Checking checking{session};
  checking.person();
  const auto* source = checking.known("batch", session.state().batches, keeping.batch, "batch");
  const ZonedInstant at = checking.moment(keeping.at);
  for (const auto& kit : keeping.kit) checking.known("--kit", session.state().equipment, kit, "piece of kit");
  if (source == nullptr) return checking.refusals();
  const std::int64_t left = remaining_mg(session.state(), keeping.batch);
  const std::int64_t kept = keeping.mass ? keeping.mass->to_milligrams() : left;
  if (source->happened > at.at) checking.refuse("--at", fmt::format("{} was made after this", keeping.batch), "check the time");
  if (left <= 0) {
    checking.refuse("batch", fmt::format("nothing is left of {} by the records", keeping.batch),
                    "correct what was taken from it, or its yield, first");
  } else if (kept > left) {
    checking.refuse("--mass",
                    fmt::format("{} is more than the {} that is left of {}", format_mass(Mass::milligrams(kept)),
                                format_mass(Mass::milligrams(left)), keeping.batch),
                    "weigh again, or correct the batch's yield");
  }
  if (!checking.good()) return checking.refusals();
  Batch batch;
  batch.recipe = source->value.recipe;
  batch.recipe_version = source->value.recipe_version;
  batch.uses.push_back({keeping.batch, true, Mass::milligrams(kept), false});
  batch.yield = Mass::milligrams(kept);
  batch.weighed = keeping.mass.has_value();
  batch.left_over = keeping.off_cuts ? "off-cuts" : "left-over";
  for (const auto& kit : keeping.kit) batch.kit.emplace_back(kit);
  return book_one(session, checking, batch, session.next<Batch>("batch"), at);
}

}  // namespace tierproof
