#include "out_of_fridge.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "tierproof/app/weighings.h"
#include "tierproof/sums/water_activity.h"
#include "tierproof/units/share.h"
#include "where_now.h"

namespace tierproof {
namespace {

using Versions = std::set<std::uint64_t>;

Versions versions_of(const std::vector<RecipeAsStood>& recipes) {
  Versions versions;
  for (const auto& recipe : recipes) versions.insert(recipe.recipe_version);
  return versions;
}

/// Whether every recipe that a note is of is still known, and was not corrected since.
bool still_speaks(const State& state, const Recorded<Keeping>& note) {
  const auto stands = [&](const RecipeAsStood& as_stood) {
    const auto recipe = state.recipe_versions.find(as_stood.recipe_version);
    return recipe != state.recipe_versions.end() && recipe->second.sequence < note.sequence;
  };
  return std::all_of(note.value.of.begin(), note.value.of.end(), stands) &&
         std::all_of(note.value.within.begin(), note.value.within.end(), stands);
}

template <class Speaks>
OnFile those_that(const State& state, const Speaks& speaks) {
  OnFile found;
  for (const auto& note : state.keepings) {
    if (still_speaks(state, note) && speaks(note)) found.push_back(&note);
  }
  return found;
}

Share in_milligrams(Mass mass) { return Share{mass.to_milligrams()}; }

/// What a use is in its recipe: the short name of the ingredient, or of the recipe.
std::string item_of(const State& state, const BatchUse& use) {
  if (use.batch) {
    const auto batch = state.batches.find(BatchId{use.of});
    return batch == state.batches.end() ? std::string{} : batch->second.value.recipe.text();
  }
  const auto lot = state.lots.find(LotId{use.of});
  return lot == state.lots.end() ? std::string{} : lot->second.value.ingredient.text();
}

bool made_by_its_figures(const State& state, const Batch& batch, const Recipe& recipe) {
  const Share off{1, 200}, wetter{2, 100};
  std::map<std::string, Share> written, used;
  Share all_written = 0, all_used = 0;
  for (const auto& item : recipe.items) {
    written[item.of] += in_milligrams(item.mass);
    all_written += in_milligrams(item.mass);
  }
  for (const auto& use : batch.uses) {
    used[item_of(state, use)] += in_milligrams(use.mass);
    all_used += in_milligrams(use.mass);
  }
  if (all_written == 0 || all_used == 0) return false;
  for (const auto& [of, mass] : used) {
    if (!written.contains(of)) return false;
  }
  for (const auto& [of, mass] : written) {
    const Share share = mass / all_written;
    if (abs(used[of] / all_used - share) > std::min<Share>(off, share / 5)) return false;  // a little acid left out is another food
  }
  return in_milligrams(came_out(batch)) / all_used <= in_milligrams(recipe.yield) / all_written + wetter;
}

/// Batches that were looked at, with what came of it; one that is in itself finds nothing.
using Looked = std::map<std::pair<BatchId, std::optional<std::uint64_t>>, bool>;

/// Whether a batch is of the recipe version `of` (nothing: of any in `within`), made of recipes in `within`, all by their figures.
bool is_of(const State& state, const BatchId& id, const std::optional<std::uint64_t>& of, const Versions& within, bool by_figures,
           Looked& looked) {
  const auto [known, first] = looked.try_emplace({id, of}, false);
  if (!first) return known->second;
  const auto found = state.batches.find(id);
  if (found == state.batches.end()) return false;
  const Batch& batch = found->second.value;
  const auto recipe = state.recipe_versions.find(batch.recipe_version);
  if (recipe == state.recipe_versions.end()) return false;
  if (of ? batch.recipe_version != *of : !within.contains(batch.recipe_version)) return false;
  const bool left_over = !batch.left_over.empty();
  if (by_figures && !left_over && !made_by_its_figures(state, batch, recipe->second.value)) return false;
  return known->second = std::all_of(batch.uses.begin(), batch.uses.end(), [&](const BatchUse& use) {
           if (!use.batch) return !left_over;
           return is_of(state, BatchId{use.of}, left_over ? of : std::nullopt, within, by_figures, looked);
         });
}

/// The newest note of what `batch` is made of, and of the batch itself.
std::uint64_t last_note_of(const State& state, const BatchId& id, std::set<BatchId>& seen) {
  const auto batch = state.batches.find(id);
  if (batch == state.batches.end() || !seen.insert(id).second) return 0;
  std::uint64_t last = batch->second.sequence;
  for (const auto& use : batch->second.value.uses) {
    if (use.batch) last = std::max(last, last_note_of(state, BatchId{use.of}, seen));
  }
  return last;
}

bool is_of_cake(const State& state, const Recorded<Keeping>& note, const CakeId& cake, const std::map<BatchId, Mass>& put_in) {
  std::map<std::uint64_t, Share> measured, here;
  Share all_measured = 0, all_here = 0;
  for (const auto& recipe : note.value.of) {
    if (!recipe.mass) return false;
    measured[recipe.recipe_version] += in_milligrams(*recipe.mass);
    all_measured += in_milligrams(*recipe.mass);
  }
  std::uint64_t last = 0;
  std::set<BatchId> seen;
  for (const auto& tier : state.tiers) {
    if (tier.value.cake == cake) last = std::max(last, tier.sequence);
  }
  for (const auto& [id, mass] : put_in) {
    const auto batch = state.batches.find(id);
    if (batch == state.batches.end()) return false;
    here[batch->second.value.recipe_version] += in_milligrams(mass);
    all_here += in_milligrams(mass);
    last = std::max(last, last_note_of(state, id, seen));
  }
  if (all_measured == 0 || all_here == 0 || here.size() != measured.size()) return false;
  const bool the_same_cake = note.value.cake == cake && last < note.sequence;
  const Share off{5, 100};
  for (const auto& [version, mass] : here) {
    const auto found = measured.find(version);
    if (found == measured.end() || abs(mass / all_here - found->second / all_measured) > off) return false;
  }
  Looked looked;
  return std::all_of(put_in.begin(), put_in.end(), [&](const auto& each) {
    const auto& of = state.batches.at(each.first).value.recipe_version;
    return is_of(state, each.first, of, versions_of(note.value.within), !the_same_cake, looked);
  });
}

void gather_within(const State& state, const Recipe& recipe, Versions& into) {
  for (const auto& item : recipe.items) {
    const auto inner = item.recipe ? state.recipes.find(RecipeId{item.of}) : state.recipes.end();
    if (inner != state.recipes.end() && into.insert(inner->second.place).second) gather_within(state, inner->second.value, into);
  }
}

/// `0.86` of 8600 ten-thousandths
std::string number(const std::optional<std::int64_t>& scaled, std::int64_t one, int places) {
  return short_decimal(format_decimal(share_of(scaled.value_or(0), one), places));
}

std::string day_and_note(const Recorded<Keeping>& note) {
  return fmt::format("{}{}, note {}", format_date_long(note.value.made), note.value.kept.empty() ? "" : ", kept: " + note.value.kept,
                     note.sequence);
}

bool advises(const Recorded<Keeping>& note, std::string_view place) { return note.value.from != "measured" && note.value.place == place; }

std::optional<ActivityMeasured> measured_by(const Recorded<Keeping>& note) {
  const Keeping& k = note.value;
  if (k.from != "measured") return std::nullopt;
  ActivityMeasured measured;
  measured.activity = k.water_activity_e4 ? share_of(*k.water_activity_e4, 10'000) : Share{1};
  measured.activity_error = share_of(k.water_activity_error_e4.value_or(0), 10'000);
  if (k.ph_hundredths) measured.ph = share_of(*k.ph_hundredths, 100);
  measured.ph_error = share_of(k.ph_error_hundredths.value_or(0), 100);
  measured.told = keeping_in_words(note);
  return measured;
}

/// What is on file of the recipe of `batch` and does not speak of it, in words; empty: nothing is.
std::string of_another(const State& state, const BatchId& id) {
  const auto batch = state.batches.find(id);
  std::vector<std::uint64_t> notes;
  for (const auto& note : state.keepings) {
    if (batch != state.batches.end() && note.value.cake == CakeId{} && note.value.of.front().recipe == batch->second.value.recipe)
      notes.push_back(note.sequence);
  }
  if (notes.empty()) return {};
  return fmt::format("what is on file (note {}) is of the recipe as it stood then, by its figures, and this is not",
                     fmt::join(notes, ", "));
}

struct WaterAndSugar {
  double water_g = 0;
  double sugar_g = 0;
};

/// Of the whole of a batch; nothing where some of it is not known, or a batch is in itself.
/// @param known  batches that were looked at
std::optional<WaterAndSugar> water_and_sugar(const State& state, const BatchId& id,
                                             std::map<BatchId, std::optional<WaterAndSugar>>& known) {
  const auto [told, first] = known.try_emplace(id);
  if (!first) return told->second;
  const auto found = state.batches.find(id);
  if (found == state.batches.end()) return std::nullopt;
  WaterAndSugar all;
  double went_in = 0;
  for (const auto& use : found->second.value.uses) {
    const double grams = use.mass.to_grams();
    went_in += grams;
    if (use.batch) {
      const auto inner = water_and_sugar(state, BatchId{use.of}, known);
      if (!inner) return std::nullopt;
      const double part = grams / came_out(state.batches.at(BatchId{use.of}).value).to_grams();
      all.water_g += inner->water_g * part;
      all.sugar_g += inner->sugar_g * part;
      continue;
    }
    const auto lot = state.lots.find(LotId{use.of});
    if (lot == state.lots.end()) return std::nullopt;
    const auto ingredient = state.ingredients.find(lot->second.value.ingredient);
    if (ingredient == state.ingredients.end()) return std::nullopt;
    const bool sugar = ingredient->second.value.sugar;
    const auto by_pack = water_of_pack(state, lot->first);
    if (!by_pack && !sugar) return std::nullopt;
    const double water = by_pack.value_or(0);
    all.water_g += grams * water;
    if (sugar) all.sugar_g += grams * (1 - water);
  }
  all.water_g -= std::max(0.0, went_in - came_out(found->second.value).to_grams());
  if (all.water_g < 0) return std::nullopt;
  return told->second = all;
}

}  // namespace

std::map<BatchId, Mass> put_in_cake(const State& state, const CakeId& cake) {
  std::map<BatchId, Mass> all;
  for (const auto& tier : state.tiers) {
    if (tier.value.cake != cake) continue;
    for (const auto& part : tier.value.parts) {
      Mass& mass = all.try_emplace(part.batch, Mass::milligrams(0)).first->second;
      mass = mass + part.mass;
    }
  }
  return all;
}

std::set<std::uint64_t> recipes_within(const State& state, const Recipe& recipe) {
  Versions within;
  gather_within(state, recipe, within);
  return within;
}

OnFile on_file_of(const State& state, const RecipeId& id) {
  const auto recipe = state.recipes.find(id);
  if (recipe == state.recipes.end()) return {};
  const Versions within = recipes_within(state, recipe->second.value);
  return those_that(state, [&](const Recorded<Keeping>& note) {
    return note.value.cake == CakeId{} && versions_of(note.value.of) == Versions{recipe->second.place} &&
           versions_of(note.value.within) == within;
  });
}

OnFile on_file_of(const State& state, const BatchId& id) {
  return those_that(state, [&](const Recorded<Keeping>& note) {
    Looked looked;
    return note.value.cake == CakeId{} && note.value.of.size() == 1 &&
           is_of(state, id, note.value.of.front().recipe_version, versions_of(note.value.within), true, looked);
  });
}

OnFile on_file_of(const State& state, const CakeId& id) {
  const auto put_in = put_in_cake(state, id);
  return those_that(state,
                    [&](const Recorded<Keeping>& note) { return note.value.cake != CakeId{} && is_of_cake(state, note, id, put_in); });
}

std::optional<AdvisedDays> advised_days(const OnFile& notes) {
  std::optional<AdvisedDays> shortest;
  for (const auto* note : notes) {
    if (!advises(*note, "room") || !note->value.days) continue;
    const int days = static_cast<int>(*note->value.days);
    if (!shortest || days < shortest->days) shortest = AdvisedDays{days, keeping_in_words(*note)};
  }
  return shortest;
}

std::string keeping_in_words(const Recorded<Keeping>& note) {
  const Keeping& k = note.value;
  if (k.from != "measured") {
    const char* what = k.from == "validation" ? "validation by" : "written advice of";
    return fmt::format("{} {} (“{}”), {}", what, k.by, k.says, day_and_note(note));
  }
  std::string told;
  if (k.water_activity_e4)
    told = fmt::format("water activity {} ± {}", number(k.water_activity_e4, 10'000, 4), number(k.water_activity_error_e4, 10'000, 4));
  if (k.ph_hundredths) {
    told +=
        fmt::format("{}pH {} ± {}", told.empty() ? "" : " and ", number(k.ph_hundredths, 100, 2), number(k.ph_error_hundredths, 100, 2));
  }
  return fmt::format("{} ({}), measured by {}, {}", told, k.method, k.by, day_and_note(note));
}

StandingPart standing_part(std::string name, const OnFile& notes) {
  StandingPart part{std::move(name)};
  const auto add = [](std::string& to, const Recorded<Keeping>& note) { to += (to.empty() ? "" : "; ") + keeping_in_words(note); };
  for (const auto* note : notes) {
    if (auto measured = measured_by(*note)) part.measured.push_back(std::move(*measured));
    if (advises(*note, "room")) add(part.advice, *note);
    if (advises(*note, "fridge")) add(part.against, *note);
  }
  return part;
}

std::optional<double> estimate_of_batch(const State& state, const BatchId& batch) {
  std::map<BatchId, std::optional<WaterAndSugar>> known;
  const auto all = water_and_sugar(state, batch, known);
  if (!all) return std::nullopt;
  const double grams = all->water_g + all->sugar_g;
  if (grams <= 0) return std::nullopt;
  const std::vector<ActivityPart> mix{{grams, all->water_g / grams, {{"sucrose", all->sugar_g / grams}}}};
  const auto estimate = estimate_activity(mix, 20);
  return estimate ? std::optional{estimate->with_margin} : std::nullopt;
}

ActivityTable open_food_table(const Session& session, Date on) {
  if (auto table = session.packs().shared_activity_table("open", on)) return std::move(*table);
  ActivityTable none;
  none.cited.row = "no table of activity and pH is in force";
  none.assessed = {{true}};
  return none;
}

Standing standing_of(const State& state, const CakeId& cake) {
  // Batches of one recipe of which the same is on file are one part.
  std::map<std::pair<std::string, OnFile>, std::vector<BatchId>> alike;
  const auto put_in = put_in_cake(state, cake);
  for (const auto& [id, mass] : put_in) alike[{name_of_batch(state, id), on_file_of(state, id)}].push_back(id);
  StandingPart whole = standing_part(cake.text(), on_file_of(state, cake));
  Standing food{cake.text(), {}, std::move(whole.measured), std::move(whole.advice), std::move(whole.against)};
  for (const auto& [key, batches] : alike) {
    std::vector<std::string> ids;
    for (const auto& id : batches) ids.push_back(id.text());
    StandingPart& part = food.parts.emplace_back(standing_part(fmt::format("{} ({})", key.first, fmt::join(ids, ", ")), key.second));
    for (const auto& id : batches) part.estimate = std::max(part.estimate, estimate_of_batch(state, id));
    if (key.second.empty()) part.of_another = of_another(state, batches.front());
  }
  return food;
}

void judge_standing(const Session& session, Judgement& judgement) {
  if (!judgement.life || judgement.life->storage != "cool dry place") return;
  const Date on = day_of(judgement.at.at, judgement.at.offset);
  Finding finding = judge_out_of_fridge(standing_of(session.state(), judgement.cake), open_food_table(session, on));
  const auto* release = session.state().release(judgement.cake);
  const auto answered_for = [&](const ReleasedAgainst& against) {
    return against.control == finding.control && against.verdict == term_of(finding.verdict);
  };
  const bool answered = release != nullptr && std::any_of(release->value.against.begin(), release->value.against.end(), answered_for);
  judgement.counts_as_chilled = finding.verdict == Verdict::not_met || (finding.verdict != Verdict::shown && !answered);
  judgement.findings.push_back(std::move(finding));
}

const Finding* standing_finding(const Judgement& judgement) {
  const auto found =
      std::find_if(judgement.findings.begin(), judgement.findings.end(), [](const Finding& f) { return f.control == "out-of-fridge"; });
  return found == judgement.findings.end() ? nullptr : &*found;
}

}  // namespace tierproof
