#include "checking.h"
#include "tierproof/app/recording.h"

namespace tierproof {
namespace {

/// A pack or batch that could go in, with what is left of it.
struct Source {
  std::string id;
  bool batch = false;
  std::int64_t left_mg = 0;
  Date before{};  ///< earliest of its dates; batches: the day made
  Instant came{};
};

bool earlier(const Source& a, const Source& b) { return std::tie(a.before, a.came, a.id) < std::tie(b.before, b.came, b.id); }

std::vector<Source> packs_of(const State& state, const std::string& ingredient, Instant at, Date on) {
  std::vector<Source> sources;
  constexpr Date never{std::chrono::year{9999}, std::chrono::month{12}, std::chrono::day{31}};
  for (const auto& [id, lot] : state.lots) {
    if (lot.value.ingredient.text() != ingredient || state.withdrawn(id) || lot.happened > at) continue;
    if (lot.value.use_by && *lot.value.use_by < on) continue;
    const Date before = lot.value.use_by.value_or(lot.value.best_before.value_or(never));
    sources.push_back({id.text(), false, remaining_mg(state, id.text()), before, lot.happened});
  }
  std::sort(sources.begin(), sources.end(), earlier);
  return sources;
}

std::vector<Source> batches_of(const State& state, const std::string& recipe, Instant at) {
  std::vector<Source> sources;
  for (const auto& [id, batch] : state.batches) {
    if (batch.value.recipe.text() != recipe || batch.happened > at) continue;
    sources.push_back({id.text(), true, remaining_mg(state, id.text()), day_of(batch.happened, batch.offset), batch.happened});
  }
  std::sort(sources.begin(), sources.end(), earlier);
  return sources;
}

Mass times(Mass mass, const Share& factor) {
  const Share product = factor * mass.to_milligrams();
  const auto rounded = (numerator(product) * 2 + denominator(product)) / (denominator(product) * 2);
  return Mass::milligrams(static_cast<std::int64_t>(rounded));
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
    uses.push_back({source.id, source.batch, Mass::milligrams(taken), suggested});
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
    std::vector<Source> sources = item.recipe ? batches_of(state_, item.of, at_) : packs_of(state_, item.of, at_, on_);
    const auto chosen = chosen_for(item.of);
    if (!chosen.empty()) {
      std::vector<Source> named;
      for (const auto& id : chosen) {
        const auto found = std::find_if(sources.begin(), sources.end(), [&](const Source& source) { return source.id == id; });
        if (found == sources.end()) {
          checking_.refuse("--use",
                           fmt::format("\"{}\" is not a {} of {} that can be used: another food, withdrawn, past its date or not there yet",
                                       id, item.recipe ? "batch" : "pack", item.of),
                           name_one(sources));
        } else {
          named.push_back(*found);
        }
      }
      if (named.size() != chosen.size()) return;
      sources = std::move(named);
    }
    const Mass needed = amount_of(item);
    const Mass open = fill(uses, sources, needed, chosen.empty());
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

}  // namespace

std::int64_t remaining_mg(const State& state, const std::string& subject) {
  std::int64_t left = 0;
  if (const auto lot = state.lots.find(LotId{subject}); lot != state.lots.end()) left = lot->second.value.mass.to_milligrams();
  if (const auto batch = state.batches.find(BatchId{subject}); batch != state.batches.end())
    left = batch->second.value.yield.to_milligrams();
  for (const auto& [id, batch] : state.batches) {
    for (const auto& use : batch.value.uses) {
      if (use.of == subject) left -= use.mass.to_milligrams();
    }
  }
  for (const auto& tier : state.tiers) {
    for (const auto& part : tier.value.parts) {
      if (part.batch.text() == subject) left -= part.mass.to_milligrams();
    }
  }
  return left;
}

Result<Booked> make_batch(Session& session, const Making& making) {
  Checking checking{session};
  checking.person();
  const ZonedInstant at = checking.moment(making.at);
  const auto* recipe = checking.known("recipe", session.state().recipes, making.recipe, "recipe");
  if (making.times <= 0) checking.refuse("--times", "is not a multiple of the recipe", "write a number above 0, such as 1.5");
  if (recipe == nullptr) return checking.refusals();
  Batch batch;
  batch.recipe = RecipeId{making.recipe};
  batch.recipe_version = recipe->place;
  batch.kit = recipe->value.kit;
  batch.weighed = making.yield.has_value();
  batch.yield = making.yield.value_or(times(recipe->value.yield, making.times));
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
  std::int64_t ingoing = 0;
  for (const auto& use : batch.uses) ingoing += use.mass.to_milligrams();
  if (checking.good() && batch.yield.to_milligrams() > ingoing) {
    checking.refuse("--yield",
                    fmt::format("{} came of {}: more than went in", format_mass(batch.yield), format_mass(Mass::milligrams(ingoing))),
                    "weigh again, or record everything that went in, water too");
  }
  if (!checking.good()) return checking.refusals();
  Draft draft = session.draft(batch, session.next<Batch>("batch"), at);
  const bool all_suggested = std::all_of(batch.uses.begin(), batch.uses.end(), [](const BatchUse& use) { return use.suggested; });
  if (all_suggested && draft.how == Arrival::typed_then) draft.how = Arrival::suggested_accepted;
  return session.book({std::move(draft)});
}

}  // namespace tierproof
