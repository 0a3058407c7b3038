#include "checking.h"
#include "egg.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/scaling.h"
#include "tierproof/app/stores.h"
#include "tierproof/app/weighings.h"
#include "tierproof/sums/shelf_life.h"

namespace tierproof {
namespace {

/// A pack or batch that could go in, with what is left of it.
struct Source {
  std::string id;
  bool batch = false;
  std::int64_t left_mg = 0;
  Date before{};  ///< earliest of its dates; batches: the day made
  Instant came{};
  TubId tub{};         ///< that the pack was poured into, or empty
  bool unfit = false;  ///< withdrawn or past its date by then: never proposed; if it went in all the same, it is named and the cake stops
};

bool earlier(const Source& a, const Source& b) { return std::tie(a.before, a.came, a.id) < std::tie(b.before, b.came, b.id); }

std::vector<Source> packs_of(const State& state, const std::string& ingredient, Instant at, Date on) {
  std::vector<Source> sources;
  constexpr Date never{std::chrono::year{9999}, std::chrono::month{12}, std::chrono::day{31}};
  for (const auto& [id, lot] : state.lots) {
    if (lot.value.ingredient.text() != ingredient || lot.happened > at) continue;
    const auto by_then = [&, pack = id](const auto& withdrawal) { return withdrawal.value.lot == pack && withdrawal.happened <= at; };
    const bool unfit =
        std::any_of(state.withdrawals.begin(), state.withdrawals.end(), by_then) || (lot.value.use_by && *lot.value.use_by < on);
    const auto in_tub = poured(state, id, at);
    if (in_tub && in_tub->gone) continue;
    const Date before = lot.value.use_by.value_or(lot.value.best_before.value_or(never));
    sources.push_back({id.text(), false, remaining_mg(state, id.text()), before, in_tub ? in_tub->when : lot.happened,
                       in_tub ? in_tub->tub : TubId{}, unfit});
  }
  // A tub goes by its earliest date, and its packs by when they were poured in.
  for (auto& source : sources) {
    if (source.tub.empty()) continue;
    for (const auto& other : sources) {
      if (other.tub == source.tub) source.before = std::min(source.before, other.before);
    }
  }
  std::sort(sources.begin(), sources.end(), earlier);
  return sources;
}

/// Whether a batch that was never frozen is older than its recipe says that it keeps.
bool past_its_life(const State& state, const Recorded<Batch>& batch, Date on) {
  const auto recipe = state.recipe_versions.find(batch.value.recipe_version);
  if (recipe == state.recipe_versions.end()) return false;
  const auto in_freezer = [&](const Recorded<Stay>& stay) {
    const auto place = state.places.find(stay.value.place);
    return stay.value.what == batch.subject && place != state.places.end() && place->second.value.kind == "freezer";
  };
  if (std::any_of(state.stays.begin(), state.stays.end(), in_freezer)) return false;  // `check` judges it with its days frozen
  PartLife part;
  part.storage = recipe->second.value.storage;
  part.made = day_of(batch.happened, batch.offset);
  part.life_days = static_cast<int>(recipe->second.value.life_days);
  const auto last = shelf_life({&part, 1}, {}).date;
  return last && *last < on;
}

std::vector<Source> batches_of(const State& state, const std::string& recipe, Instant at, Date on) {
  std::vector<Source> sources;
  for (const auto& [id, batch] : state.batches) {
    if (batch.value.recipe.text() != recipe || batch.happened > at) continue;
    sources.push_back({id.text(),
                       true,
                       remaining_mg(state, id.text()),
                       day_of(batch.happened, batch.offset),
                       batch.happened,
                       {},
                       past_its_life(state, batch, on)});
  }
  std::sort(sources.begin(), sources.end(), earlier);
  return sources;
}

/// Fills `needed` from `sources` in their order, splitting where one does not hold enough. What could not be filled is returned.
/// What `uses` took already, for the same food named twice, is not there any more.
Mass fill(std::vector<BatchUse>& uses, const std::vector<Source>& sources, Mass needed, bool suggested) {
  std::int64_t open = needed.to_milligrams();
  for (const auto& source : sources) {
    if (open == 0) break;
    std::int64_t left = source.left_mg;
    for (const auto& use : uses) {
      if (use.of == source.id) left -= use.mass.to_milligrams();
    }
    const std::int64_t taken = std::min(open, std::max<std::int64_t>(left, 0));
    if (taken == 0) continue;
    uses.push_back({source.id, source.batch, Mass::milligrams(taken), suggested, source.tub});
    open -= taken;
  }
  return Mass::milligrams(open);
}

/// What an item needs and where it may come from.
class Filling {
 public:
  Filling(const State& state, const Making& making, ZonedInstant at, Checking& checking)
      : state_{state}, making_{making}, at_{at.at}, on_{day_of(at.at, at.offset)}, checking_{checking} {}

  void item(const RecipeItem& item, std::vector<BatchUse>& uses) {
    std::vector<Source> sources = item.recipe ? batches_of(state_, item.of, at_, on_) : packs_of(state_, item.of, at_, on_);
    const auto chosen = chosen_for(item.of);
    if (!chosen.empty()) {
      std::vector<Source> named;
      for (const auto& id : chosen) {
        const auto is_it = [&](const Source& source) { return source.id == id || (!source.tub.empty() && source.tub.text() == id); };
        const auto found = std::find_if(sources.begin(), sources.end(), is_it);
        if (found == sources.end()) {
          checking_.refuse("--use",
                           fmt::format("\"{}\" is not a {} of {} that can be used: another food, withdrawn, past its date or not there yet",
                                       id, item.recipe ? "batch" : "pack", item.of),
                           name_one(sources));
        } else {
          std::copy_if(found, sources.end(), std::back_inserter(named), is_it);  // of a tub: all its packs
        }
      }
      if (!std::all_of(chosen.begin(), chosen.end(), [&](const std::string& id) {
            return std::any_of(named.begin(), named.end(),
                               [&](const Source& source) { return source.id == id || source.tub.text() == id; });
          }))
        return;
      sources = std::move(named);
    }
    if (chosen.empty()) std::erase_if(sources, [](const Source& source) { return source.unfit; });
    const Mass needed = amount_of(item);
    const std::size_t before = uses.size();
    const Mass open = fill(uses, sources, needed, chosen.empty());
    for (std::size_t i = before; i < uses.size(); ++i) {
      uses[i].remains_ppm = item.remains_ppm;
      uses[i].reconstituted = item.reconstituted;
    }
    if (open > Mass{}) {
      checking_.refuse(item.of,
                       fmt::format("{} are needed and {} of it {} left", format_mass(needed), format_mass(needed - open),
                                   item.recipe ? "made and" : "received and"),
                       item.recipe ? "make more of it, or write what was really used (--weighed)"
                                   : "record the pack that it came from, or write what was really used (--weighed)");
    }
  }

 private:
  std::vector<std::string> chosen_for(const std::string& of) const {
    std::vector<std::string> ids;
    for (const auto& [item, id] : making_.use) {
      if (item == of) ids.push_back(id);
    }
    return ids;
  }
  Mass amount_of(const RecipeItem& item) const {
    for (const auto& [of, mass] : making_.weighed) {
      if (of == item.of) return mass;
    }
    return times(item.mass, making_.times);
  }
  static std::string name_one(const std::vector<Source>& sources) {
    std::vector<std::string> ids;
    for (const auto& source : sources) ids.push_back(source.id);
    return ids.empty() ? "record it first" : fmt::format("name one of {}", fmt::join(ids, ", "));
  }

  const State& state_;
  const Making& making_;
  Instant at_;
  Date on_;
  Checking& checking_;
};

/// Tells everything that was taken of a pack or batch: for another batch, for a cake, to be thrown away.
template <class Taken>
void each_taken(const State& state, const Taken& taken) {
  for (const auto& [id, batch] : state.batches) {
    for (const auto& use : batch.value.uses) taken(use.of, use.mass);
  }
  for (const auto& tier : state.tiers) {
    for (const auto& part : tier.value.parts) taken(part.batch.text(), part.mass);
  }
  for (const auto& disposal : state.disposals) {
    if (disposal.value.mass) taken(disposal.value.what, *disposal.value.mass);
  }
}

}  // namespace

std::int64_t remaining_mg(const State& state, const std::string& subject) {
  std::int64_t left = 0;
  if (const auto lot = state.lots.find(LotId{subject}); lot != state.lots.end()) left = lot->second.value.mass.to_milligrams();
  if (const auto batch = state.batches.find(BatchId{subject}); batch != state.batches.end())
    left = batch->second.value.yield.to_milligrams();
  each_taken(state, [&](const std::string& of, Mass mass) {
    if (of == subject) left -= mass.to_milligrams();
  });
  return left;
}

std::unordered_map<std::string, std::int64_t> remaining_of_all(const State& state) {
  std::unordered_map<std::string, std::int64_t> left;
  for (const auto& [id, lot] : state.lots) left[id.text()] = lot.value.mass.to_milligrams();
  for (const auto& [id, batch] : state.batches) left[id.text()] = batch.value.yield.to_milligrams();
  each_taken(state, [&](const std::string& of, Mass mass) { left[of] -= mass.to_milligrams(); });
  return left;
}

namespace {

/// A making with the masses that were left open filled in as of the last batch of the same recipe, and what that one weighed.
struct MakingAgain {
  Making making;
  std::optional<Mass> last_yield;
};
MakingAgain as_last_time(Checking& checking, const State& state, const Making& given) {
  if (!given.again) return {given, {}};
  const Recorded<Batch>* last = nullptr;
  for (const auto& [id, batch] : state.batches) {
    if (batch.value.recipe.text() != given.recipe || !batch.value.left_over.empty()) continue;
    if (last == nullptr || batch.happened >= last->happened) last = &batch;
  }
  Making making = given;
  if (last == nullptr) {
    checking.refuse("--again", fmt::format("no earlier batch of {} is recorded", given.recipe), "record the first one in full");
    return {making, {}};
  }
  if (given.times != 1) checking.refuse("--again", "is given together with --times", "write one of the two");
  std::map<std::string, std::int64_t> used;  // by ingredient or recipe, in the order of the name
  for (const auto& use : last->value.uses) {
    std::string of = use.of;
    if (use.batch) {
      const auto batch = state.batches.find(BatchId{use.of});
      if (batch != state.batches.end()) of = batch->second.value.recipe.text();
    } else {
      const auto lot = state.lots.find(LotId{use.of});
      if (lot != state.lots.end()) of = lot->second.value.ingredient.text();
    }
    used[of] += use.mass.to_milligrams();
  }
  for (const auto& [of, mass] : used) {
    const auto same = [&, name = of](const auto& weighed) { return weighed.first == name; };
    if (std::none_of(making.weighed.begin(), making.weighed.end(), same)) making.weighed.emplace_back(of, Mass::milligrams(mass));
  }
  return {making, last->value.yield};
}

/// A making for tins as so many times the recipe.
Making for_its_tins(Checking& checking, const State& state, Making making) {
  if (making.tins.empty()) return making;
  if (making.times != 1 || making.again) {
    checking.refuse("--tin", "is given together with --times or --again", "write one of them");
    return making;
  }
  const auto recipe = state.recipes.find(RecipeId{making.recipe});
  if (recipe == state.recipes.end()) return making;  // refused where it is looked for
  const auto scaled = scaled_recipe(recipe->second.value, making.tins);
  if (scaled) {
    making.times = scaled->factor;
  } else {
    checking.take(scaled.error());
  }
  return making;
}

/// When the shell eggs of `batch` were cracked, and how they were kept until then.
void take_cracking(Checking& checking, const State& state, const Making& making, ZonedInstant at, Batch& batch) {
  if (making.cracked.empty()) {
    if (!making.cracked_in.empty() || making.cracked_degrees)
      checking.refuse("--cracked", "is missing: how the cracked egg was kept counts from when it was cracked",
                      "write when, such as 2026-05-01T08:10");
    return;
  }
  if (checking.good() && !raw_egg_in(state, batch))
    checking.refuse("--cracked", "no shell egg is among what went in", "leave it out, or name the pack of shell eggs");
  const ZonedInstant cracked = checking.moment(making.cracked, "--cracked");
  if (cracked.at > at.at) checking.refuse("--cracked", "is later than the batch was made", "check both times");
  if (!making.cracked_in.empty()) checking.known("--cracked-in", state.places, making.cracked_in, "place");
  batch.cracked = cracked.at;
  batch.cracked_in = PlaceId{making.cracked_in};
  batch.cracked_degrees = making.cracked_degrees;
}

}  // namespace

Result<BatchProposed> propose_batch(const Session& session, const Making& asked) {
  Checking checking{session};
  const Making given = for_its_tins(checking, session.state(), asked);
  const auto [making, last_yield] = as_last_time(checking, session.state(), given);
  if (!checking.good()) return checking.refusals();
  const ZonedInstant at = checking.moment(making.at);
  const auto* recipe = checking.known("recipe", session.state().recipes, making.recipe, "recipe");
  if (making.times <= 0) checking.refuse("--times", "is not a multiple of the recipe", "write a number above 0, such as 1.5");
  if (recipe == nullptr) return checking.refusals();
  Batch batch;
  batch.recipe = RecipeId{making.recipe};
  batch.recipe_version = recipe->place;
  batch.kit = recipe->value.kit;
  for (const auto& kit : making.kit) {
    checking.known("--kit", session.state().equipment, kit, "piece of kit");
    if (std::find(batch.kit.begin(), batch.kit.end(), EquipmentId{kit}) == batch.kit.end()) batch.kit.emplace_back(kit);
  }
  batch.weighed = making.yield.has_value();
  batch.yield = making.yield.value_or(last_yield.value_or(times(recipe->value.yield, making.times)));
  Filling filling{session.state(), making, at, checking};
  for (const auto& item : recipe->value.items) filling.item(item, batch.uses);
  for (const auto& [of, mass] : making.weighed) {
    const auto names = [&](const RecipeItem& item) { return item.of == of; };
    if (std::none_of(recipe->value.items.begin(), recipe->value.items.end(), names)) {
      checking.refuse("--weighed", fmt::format("\"{}\" is not in {}", of, making.recipe), "name an ingredient or recipe of it");
    }
  }
  for (const auto& [of, id] : making.use) {
    const auto names = [&](const RecipeItem& item) { return item.of == of; };
    if (std::none_of(recipe->value.items.begin(), recipe->value.items.end(), names)) {
      checking.refuse("--use", fmt::format("\"{}\" is not in {}", of, making.recipe), "name an ingredient or recipe of it");
    }
  }
  take_cracking(checking, session.state(), making, at, batch);
  batch.left_behind = making.left_behind;
  if (batch.left_behind && !batch.weighed) checking.refuse("--left-behind", "is given without what the rest of it weighed", "add --yield");
  if (checking.good()) {
    if (const auto impossible = impossible_weighing(session.state(), batch)) checking.take({*impossible});
  }
  if (!checking.good()) return checking.refusals();
  return BatchProposed{std::move(batch), at};
}

Result<Booked> make_batch(Session& session, const Making& asked) {
  Checking checking{session};
  checking.person();
  const auto proposed = propose_batch(session, asked);
  if (!proposed) checking.take(proposed.error());
  if (!checking.good()) return checking.refusals();
  const Batch& batch = proposed->batch;
  Draft draft = session.draft(batch, session.next<Batch>("batch"), proposed->at);
  const bool all_suggested = std::all_of(batch.uses.begin(), batch.uses.end(), [](const BatchUse& use) { return use.suggested; });
  if (all_suggested && draft.how == Arrival::typed_then) draft.how = Arrival::suggested_accepted;
  return session.book({std::move(draft)});
}

}  // namespace tierproof
