#include <fmt/format.h>

#include <algorithm>

#include "charts.h"
#include "checking.h"
#include "life.h"
#include "out_of_fridge.h"
#include "parts.h"
#include "tierproof/app/confirming.h"
#include "tierproof/app/keeping.h"
#include "tierproof/app/planning.h"
#include "where_now.h"

namespace tierproof {
namespace {

std::string place_in_words(const std::string& storage) {
  if (storage == "fridge") return "in the fridge";
  return storage == "freezer" ? "in the freezer" : "not recorded, so in the fridge";
}

std::string days_in_words(std::int64_t days) { return days == 1 ? "1 day" : fmt::format("{} days", days); }

/// What a word on standing without a fridge rests on.
std::string rests_on(const Standing& food) {
  std::vector<std::string> on;
  const auto add = [&](bool there, const char* what) {
    if (there && std::find(on.begin(), on.end(), what) == on.end()) on.emplace_back(what);
  };
  add(!food.advice.empty() || !food.against.empty(), "what is written and on file");
  add(!food.whole.empty(), "measured");
  for (const auto& part : food.parts) {
    add(!part.advice.empty() || !part.against.empty(), "what is written and on file");
    add(!part.measured.empty(), "measured");
    add(part.measured.empty() && part.estimate.has_value(), "computed, which shows nothing");
  }
  return on.empty() ? "nothing on file: the maker's decision alone" : fmt::format("{}", fmt::join(on, "; "));
}

class KeepsTelling {
 public:
  KeepsTelling(const Session& session, ZonedInstant at) : session_{session}, state_{session.state()}, at_{at} {}

  HowItKeeps keeps;

  void say(std::string about, std::string says, std::string on = {}) {
    keeps.lines.push_back({std::move(about), std::move(says), std::move(on)});
  }

  /// Where it is meant to be kept, without a fridge, and whether that is shown.
  void standing(const Standing& food, const std::string& why) {
    const Finding finding = judge_out_of_fridge(food, open_food_table(session_, day_of(at_.at, at_.offset)));
    const bool shown = finding.verdict == Verdict::shown;
    say("where",
        shown ? "in a cool dry place, without a fridge" : "meant for a cool dry place; not shown, so it counts as needing the fridge", why);
    say("without a fridge", fmt::format("{}: {}", words_of(finding.verdict), finding.message), rests_on(food));
    if (food.parts.size() > 1) {
      for (const auto& path : finding.paths) say("", path);
    }
    if (shown) return;
    keeps.answered = false;
    say("", "to do: " + finding.remedy);
  }

  void until(const ShelfLife& life) {
    say("until", life.date ? fmt::format("{} {}", life.kind, format_date_long(*life.date)) : "not known", life.why);
    for (const auto& missing : life.not_known) say("", "not known: " + missing);
    if (!life.date || !life.not_known.empty()) keeps.answered = false;
  }

  /// How long the rules let what needs the fridge be out of it.
  void out_of_the_cold(const TemperatureTerms& terms) {
    const auto only_once = [](bool limited) { return limited ? "once, " : ""; };
    bool any = false;
    const auto row = [&](const std::string& words, const Cited& cited) {
      say(any ? "" : "out of the fridge", words, cite(cited));
      any = true;
    };
    for (const auto& allowance : terms.allowances)
      row(fmt::format("{}for {}: less than {}", only_once(allowance.once), allowance.use, format_span(allowance.less_than)),
          allowance.cited);
    if (const auto& total = terms.warm_total) {
      row(fmt::format("in all, over its whole life, between {} and {}: less than {} to go back into the cold, thrown away from {}",
                      in_celsius_words(total->above), in_celsius_words(total->below), format_span(total->back_before),
                      format_span(total->discard_from)),
          total->cited);
    }
    for (const auto& control : terms.time_controls) {
      row(fmt::format("with time as the control: {} at most, cold when it is taken out, {}marked and thrown away then",
                      format_span(control.within),
                      control.ceiling ? fmt::format("never above {}, ", in_celsius_words(*control.ceiling)) : ""),
          control.cited);
    }
    if (const auto* none = terms.no_number("time out of the cold")) row(none->words, none->cited);
    if (!any) row("these rules allow no time out of the cold", Cited{terms.title, "", false});
  }

  void recipe(const Recorded<Recipe>& recorded) {
    const Recipe& recipe = recorded.value;
    keeps.name = recipe.name;
    const bool room = recipe.storage == "room";
    const OnFile notes = on_file_of(state_, RecipeId{recorded.subject});
    Standing food{recorded.subject, {standing_part(recipe.name, notes)}};
    if (notes.empty() &&
        std::any_of(state_.keepings.begin(), state_.keepings.end(), [&](const auto& note) { return note.subject == recorded.subject; }))
      food.parts.front().of_another = "what is on file is of the recipe as it stood before";
    if (room) {
      standing(food, "its recipe");
    } else {
      say("where", place_in_words(recipe.storage), "its recipe");
      for (const auto* note : notes) say("on file", keeping_in_words(*note));
    }
    say("until", fmt::format("{} after it was made", days_in_words(recipe.life_days)), recipe.life_reason);
    if (const auto advised = advised_days(notes); room && advised && advised->days < recipe.life_days)
      say("", fmt::format("but {} by what is on file, which counts", days_in_words(advised->days)), advised->by);
    if (recipe.frozen_days && recipe.thawed_days) {
      say("", fmt::format("frozen {}, and {} once thawed", days_in_words(*recipe.frozen_days), days_in_words(*recipe.thawed_days)),
          "its recipe");
    }
  }

  void batch(const BatchId& id, const TemperatureTerms& terms) {
    keeps.name = name_of_batch(state_, id);
    const ShelfLife life = life_of_batch(state_, id, parts_of_batch(state_, id), terms, at_);
    if (life.storage == "cool dry place") {
      Standing food{id.text(), {standing_part(fmt::format("{} ({})", keeps.name, id.text()), on_file_of(state_, id))}};
      food.parts.front().estimate = estimate_of_batch(state_, id);
      standing(food, life.storage_why);
    } else {
      say("where", place_in_words(life.storage), life.storage_why);
      out_of_the_cold(terms);
    }
    until(life);
  }

  void cake(const Judgement& judged) {
    const ShelfLife& life = *judged.life;
    keeps.name = state_.cakes.at(judged.cake).value.name;
    if (life.storage == "cool dry place") {
      standing(standing_of(state_, judged.cake), life.storage_why);
    } else {
      say("where", place_in_words(life.storage), life.storage_why);
      together_with_the_rest(judged.cake);
      out_of_the_cold(judged.temperature);
    }
    until(life);
  }

 private:
  /// Parts that would keep without a fridge by themselves, in a cake that does not.
  void together_with_the_rest(const CakeId& cake) {
    for (const auto& [id, mass] : put_in_cake(state_, cake)) {
      const auto batch = state_.batches.find(id);
      if (batch == state_.batches.end()) continue;
      const auto recipe = state_.recipe_versions.find(batch->second.value.recipe_version);
      if (recipe == state_.recipe_versions.end() || recipe->second.value.storage != "room") continue;
      say("", fmt::format("{} ({}) is for room temperature by its recipe; in this cake it goes where the strictest part has to",
                          recipe->second.value.name, id.text()));
    }
  }

  const Session& session_;
  const State& state_;
  ZonedInstant at_;
};

}  // namespace

HowItKeeps how_it_keeps(const Session& session, const Judgement& judged) {
  KeepsTelling telling{session, judged.at};
  telling.keeps.of = judged.cake.text();
  telling.cake(judged);
  return std::move(telling.keeps);
}

Result<HowItKeeps> how_it_keeps(const Session& session, const std::string& of, ZonedInstant at) {
  const State& state = session.state();
  KeepsTelling telling{session, at};
  telling.keeps.of = of;
  if (state.cakes.contains(CakeId{of})) {
    const auto judged = judge_cake(session, CakeId{of}, at);
    if (!judged) return judged.error();
    return how_it_keeps(session, *judged);
  }
  if (state.batches.contains(BatchId{of})) {
    const auto terms = temperature_terms_by(session, day_of(at.at, at.offset), plan_now(session));
    if (!terms) return terms.error();
    telling.batch(BatchId{of}, *terms);
    return std::move(telling.keeps);
  }
  Checking checking{session};
  const auto* recipe = checking.known("of", state.recipes, of, "recipe, batch or cake");
  if (recipe == nullptr) return checking.refusals();
  telling.recipe(*recipe);
  return std::move(telling.keeps);
}

}  // namespace tierproof
