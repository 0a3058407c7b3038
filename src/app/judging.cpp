#include "tierproof/app/judging.h"

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <tuple>

#include "answers.h"
#include "charts.h"
#include "checking.h"
#include "cold.h"
#include "cooling.h"
#include "declaring.h"
#include "egg.h"
#include "erased.h"
#include "kit.h"
#include "life.h"
#include "out_of_fridge.h"
#include "parts.h"
#include "precautions.h"
#include "reheating.h"
#include "series.h"
#include "tierproof/app/adopting.h"
#include "tierproof/app/advising.h"
#include "tierproof/app/before_cooking.h"
#include "tierproof/app/confirming.h"
#include "tierproof/app/ordering.h"
#include "tierproof/app/selling.h"
#include "tierproof/sums/cross_contact.h"
#include "tierproof/sums/egg_mix.h"
#include "tierproof/sums/plain_checks.h"
#include "troubles.h"

namespace tierproof {
namespace {

/// Judges what one batch was put through: its egg step and its syrup.
class BatchJudging {
 public:
  BatchJudging(const Session& session, Judgement& judgement, std::vector<ProbeTrust>& used)
      : session_{session}, judgement_{judgement}, used_{used} {}

  void batch(const BatchId& id) {
    const auto batch = session_.state().batches.find(id);
    if (batch == session_.state().batches.end()) return;
    const auto recipe = session_.state().recipe_versions.find(batch->second.value.recipe_version);
    if (recipe == session_.state().recipe_versions.end()) {
      judgement_.findings.push_back(judge_recipe_void(id.text()));
      return;
    }
    if (!batch->second.value.left_over.empty()) return;  // what it was kept from is judged by itself
    egg(batch->second, recipe->second.value);
    if (recipe->second.value.syrup_target) syrup(batch->second, recipe->second.value);
  }

 private:
  void egg(const Recorded<Batch>& batch, const Recipe& recipe) {
    const std::string subject = fmt::format("{} ({})", batch.subject, recipe.name);
    const bool raw_unsaid = recipe.egg == "none" || recipe.egg.ends_with("pasteurised");
    if (const auto raw = raw_egg_in(session_.state(), batch.value); raw && raw_unsaid) {
      judgement_.findings.push_back(judge_raw_egg_unsaid(subject, pack_in_words(session_.state(), *raw), recipe.egg));
      return;
    }
    const TemperatureTerms& terms = judgement_.temperature;
    std::optional<EggStep> egg;
    if (recipe.egg != "none") egg = egg_step_of(session_, batch, recipe, terms);
    if (const auto core = core_step_of(session_.state(), batch, recipe)) {
      if (egg) {
        if (auto finding = judge_egg_step(*egg, {}, {}, false, "", terms)) judgement_.findings.push_back(std::move(*finding));
      }
      heated(
          batch, subject,
          [&](const auto& readings, TemperatureSpan error, bool good, const std::string& evidence) {
            return std::optional{judge_core_step(*core, readings, error, good, evidence, terms)};
          },
          [&](const auto& readings, TemperatureSpan error) { return core_build_up(*core, readings, error, terms); });
    } else if (egg) {
      heated(
          batch, subject,
          [&](const auto& readings, TemperatureSpan error, bool good, const std::string& evidence) {
            auto finding = judge_egg_step(*egg, readings, error, good, evidence, terms);
            if (finding && finding->verdict != Verdict::shown) {
              for (auto& line : egg_beforehand(session_, batch, recipe, terms).lines) finding->paths.push_back(std::move(line));
            }
            return finding;
          },
          [&](const auto& readings, TemperatureSpan error) { return heat_build_up(*egg, readings, error, terms); });
    }
  }

  /// Judges and draws every series of the heat step; the gravest finding counts, so the coldest spot does.
  template <class Judge, class BuildUp>
  void heated(const Recorded<Batch>& batch, const std::string& subject, Judge judge, BuildUp build_up) {
    const OfFood of_food = food_series(batch, "heat step");
    std::optional<Finding> gravest;
    if (of_food.series.empty()) gravest = judge(std::vector<Reading>{}, TemperatureSpan{}, false, of_food.none_words);
    for (const auto& series : of_food.series) {
      const auto trust = trusted(series, series.readings.front().at, series.readings.back().at, batch.offset);
      const std::string evidence = fmt::format("{}, {}; {}", series.name, series.how, trust.words);
      auto finding = judge(series.readings, series.error, trust.good, evidence);
      if (finding && (!gravest || gravity(gravest->verdict) < gravity(finding->verdict))) gravest = std::move(finding);
      const std::optional<HeatBuildUp> built = build_up(series.readings, series.error);
      SeriesUsed& drawn =
          chart(series, trust, fmt::format("{}, heat step", subject), built ? std::optional{built->at} : std::nullopt, batch.offset);
      if (built) drawn.limit_words = "wanted: " + built->limit;
      if (built && built->wanted > Span{}) drawn.bound = bound_of(*built);
    }
    if (gravest) judgement_.findings.push_back(std::move(*gravest));
  }

  void syrup(const Recorded<Batch>& batch, const Recipe& recipe) {
    const std::string subject = fmt::format("{} ({})", batch.subject, recipe.name);
    const auto [all, none_words] = food_series(batch, "syrup");
    const SyrupTarget target = syrup_target_of(session_.kitchen(), recipe);
    if (all.empty()) judgement_.findings.push_back(judge_syrup(subject, {}, target.at, TemperatureSpan{}, false, none_words + target.told));
    for (const auto& series : all) {
      Trust trust = trusted(series, series.readings.front().at, series.readings.back().at, batch.offset);
      std::string told = target.told;
      if (!target.known) trust.good = false;
      if (target.lowered && series.corrected) {
        trust.good = false;
        told += ", and the readings are corrected: one of the two may be done, never both";
      }
      judgement_.findings.push_back(judge_syrup(subject, series.readings, target.at, series.error, trust.good,
                                                fmt::format("{}, {}; {}{}", series.name, series.how, trust.words, told)));
      chart(series, trust, fmt::format("{}, syrup", subject), target.at, batch.offset);
    }
  }

  struct OfFood {
    std::vector<Series> series;
    std::string none_words;  ///< why there may be none
  };
  /// What was read for `purpose` in the batch itself until it went into something: later readings cannot be of it, and air is not food.
  OfFood food_series(const Recorded<Batch>& batch, std::string_view purpose) const {
    const Instant last = used_up(session_.state(), judgement_.parts, BatchId{batch.subject}, Instant::max());
    OfFood of_food{series_of(session_, batch.subject, purpose), "no temperature recorded"};
    for (auto& series : of_food.series) {
      std::erase_if(series.readings, [&](const Reading& reading) { return reading.at > last; });
      if (!series.measures_food && !series.readings.empty())
        of_food.none_words = fmt::format("only the air was measured, by {}, and not the food", series.name);
    }
    std::erase_if(of_food.series, [](const Series& series) { return series.readings.empty() || !series.measures_food; });
    return of_food;
  }

  Trust trusted(const Series& series, Instant from, Instant to, Offset offset) {
    const Trust trust = trust_of(session_, series, from, to, judgement_.temperature, offset);
    used_.push_back({series.name, trust});
    return trust;
  }

  SeriesUsed& chart(const Series& series, const Trust& trust, std::string title, std::optional<Temperature> limit, Offset offset) {
    SeriesUsed used;
    used.title = std::move(title);
    used.probe = series.name;
    used.trust = trust.words;
    used.error = series.error;
    used.readings = series.readings;
    used.longest_step = judgement_.temperature.longest_step("heat step");
    used.limit = limit;
    if (limit) used.limit_words = fmt::format("wanted: {}", in_celsius_words(*limit));
    used.limit_is_ceiling = false;
    used.from = series.readings.front().at;
    used.to = series.readings.back().at;
    used.offset = offset;
    judgement_.series.push_back(std::move(used));
    return judgement_.series.back();
  }

  static ChartBound bound_of(const HeatBuildUp& built) {
    ChartBound bound;
    bound.unit_words = built.held ? fmt::format("time without a break at or above {}, at least", in_celsius_words(built.at))
                                  : fmt::format("worth so much time at {}, at least", in_celsius_words(built.at));
    bound.shown = built.shown;
    bound.wanted = built.wanted;
    bound.wanted_words = fmt::format("{} wanted", format_span(built.wanted));
    bound.told = built.told;
    return bound;
  }

  const Session& session_;
  Judgement& judgement_;
  std::vector<ProbeTrust>& used_;
};

void judge_lots(const State& state, Judgement& judgement) {
  std::vector<std::string> withdrawn;
  for (const auto& lot : judgement.parts.lots) {
    if (state.withdrawn(lot.id)) withdrawn.push_back(pack_in_words(state, lot.id));
  }
  const auto& lots = judgement.parts.lots;
  const bool all_known =
      !lots.empty() && std::all_of(lots.begin(), lots.end(), [&](const LotFacts& lot) { return state.lots.contains(lot.id); });
  if (withdrawn.empty() && !all_known) {
    judgement.findings.push_back(judge_packs_not_known(judgement.cake.text()));
    return;
  }
  for (auto& finding : judge_withdrawn(judgement.cake.text(), withdrawn, judgement.parts.lots.size()))
    judgement.findings.push_back(std::move(finding));
}

/// What a pack said was read again by the day it came, and that reading was recorded only after it was received: the pack stands under
/// the older one, and nobody said which is right.
void judge_specifications(const State& state, Judgement& judgement) {
  for (const auto& facts : judgement.parts.lots) {
    const auto lot = state.lots.find(facts.id);
    if (lot == state.lots.end()) continue;
    const auto* newer =
        state.specification(lot->second.value.ingredient, lot->second.value.supplier, day_of(lot->second.happened, lot->second.offset));
    if (newer == nullptr || newer->place == lot->second.value.specification || newer->sequence < lot->second.sequence) continue;
    judgement.findings.push_back(judge_pack_read_again(facts.id.text(), pack_in_words(state, facts.id), newer->value.checked,
                                                       newer->sequence, lot->second.sequence));
  }
}

/// Shared equipment: whether it is recorded at all, and what it may have brought.
void judge_kit(const State& state, Judgement& judgement, const std::vector<Contact>& contacts, const std::vector<KitUse>& kit,
               const std::vector<std::string>& contained, const std::vector<std::string>& named) {
  const auto accepted = accepted_allergens(state, judgement.cake);
  const auto ids = batch_ids(judgement.parts);
  const auto words = [&](const std::vector<std::string>& keys) { return words_of_keys(judgement.label, keys); };
  auto found = judge_shared_kit(judgement.cake.text(), contacts, kit_ids(judgement.parts), words(contained), words(named), words(accepted));
  if (answer_erased(state, judgement.cake)) doubt_after_erased_answer(found);
  std::vector<std::string> made = ids;  // a left-over that met no kit of its own stands by the batch it came from
  std::erase_if(made, [&](const std::string& id) {
    const auto batch = state.batches.find(BatchId{id});
    return batch != state.batches.end() && !batch->second.value.left_over.empty() && batch->second.value.kit.empty();
  });
  const Finding recorded = judge_kit_recorded(judgement.cake.text(), kit, made);
  if (found.empty()) {
    if (auto none = judge_no_contact(judgement.cake.text(), recorded)) found.push_back(std::move(*none));
  }
  for (auto& finding : found) judgement.findings.push_back(std::move(finding));
  judgement.findings.push_back(recorded);
}

/// Labels that went out and tell something else than the records do now, by the last one of each box.
void judge_papers(const State& state, Judgement& judgement, const std::string& says_now) {
  std::map<std::int64_t, const Recorded<PaperIssued>*> last;
  for (const auto& paper : state.papers) {
    if (paper.value.cake == judgement.cake && paper.value.paper == "label") last[paper.value.box] = &paper;
  }
  std::vector<std::string> right{says_now};
  if (answer_erased(state, judgement.cake)) {
    for (auto& says : says_without_answer(state, judgement)) right.push_back(std::move(says));
  }
  const auto before_answer = labels_before_answer(state, judgement.cake);
  if (auto finding = judge_labels_void(judgement.cake.text(), before_answer)) judgement.findings.push_back(std::move(*finding));
  std::vector<std::uint64_t> changed;
  for (const auto& [box, paper] : last) {
    const bool told = std::find(before_answer.begin(), before_answer.end(), paper->sequence) != before_answer.end();
    if (!told && std::find(right.begin(), right.end(), paper->value.says) == right.end()) changed.push_back(paper->sequence);
  }
  if (auto finding = judge_labels_issued(judgement.cake.text(), changed)) judgement.findings.push_back(std::move(*finding));
}

/// The plan may make a stop graver than the sum did, never lighter. The starting plan is asked too, since the program may hold a later one
/// than the kitchen took over: whichever of the two is graver decides.
void tighten_by_plan(const HazardPlan& plan, const HazardPlan& starting, std::vector<Finding>& findings) {
  for (auto& finding : findings) {
    if (finding.verdict == Verdict::shown) continue;
    for (const auto* row : {plan.row(finding.control), starting.row(finding.control)}) {
      if (row == nullptr || !row->on_cakes()) continue;
      const std::string& policy = finding.verdict == Verdict::not_met ? row->not_met : row->not_shown;
      finding.stop = std::max(finding.stop, policy == "never" ? Stop::no_override : Stop::needs_person);
    }
  }
}

/// By the rows' order and id, as the rows of a plan are; findings without a row come last.
void in_plan_order(const Session& session, const PlanVersion& version, std::vector<Finding>& findings) {
  const auto rank = [&](const Finding& finding) {
    const PlanRow* row = plan_row(session, version, finding.control);
    return std::tuple{row == nullptr, row == nullptr ? 0 : row->order, row == nullptr ? std::string_view{} : std::string_view{row->id}};
  };
  std::stable_sort(findings.begin(), findings.end(), [&](const Finding& a, const Finding& b) { return rank(a) < rank(b); });
}

}  // namespace

Result<Judgement> judge_cake(const Session& session, const CakeId& id, ZonedInstant at) {
  const State& state = session.state();
  Checking checking{session};
  const auto* cake = checking.known("cake", state.cakes, id.text(), "cake");
  if (cake == nullptr) return checking.refusals();
  const Date on = day_of(at.at, at.offset);
  auto label = session.label_terms(on, cake->value.label_rules);
  const PlanVersion plan = plan_for(session, id);
  auto temperature = temperature_terms_by(session, on, plan);
  if (!label) checking.take(label.error());
  if (!temperature) checking.take(temperature.error());
  if (!checking.good()) return checking.refusals();

  Judgement judgement;
  judgement.cake = id;
  judgement.at = at;
  judgement.plan = plan;
  judgement.label = std::move(label).value();
  judgement.temperature = std::move(temperature).value();
  const Cake& sold = cake->value;
  judgement.route =
      route_for({sold.boxed, sold.seller, sold.ordered, sold.where, sold.largest_face_cm2, sold.surface_cm2.value_or(0)}, judgement.label);
  judgement.parts = parts_of(state, id);
  std::vector<std::string> keys;
  for (const auto& allergen : judgement.label.allergens) keys.push_back(allergen.key);

  // Contacts are told in the words of the label; everything else goes by key.
  const auto& kit = kit_uses_by(session, judgement.label);
  const auto& all_contacts = contacts_by(session, judgement.label, at.offset);
  for (auto& batch : judgement.parts.batches) {
    for (const auto& contact : all_contacts) {
      // what the cake met when it was put together may be on any of its parts
      if (contact.batch == batch.id.text() || contact.batch == id.text())
        batch.cross_contact.push_back(key_of(judgement.label, contact.allergen));
    }
  }
  add_precautions(state, judgement.parts, at.at);
  auto made = compose(judgement.parts, keys);
  if (!made) {
    for (const auto& refusal : made.error()) {
      judgement.findings.push_back(judge_not_composed(id.text(), describe(refusal)));
    }
  } else {
    judgement.made = with_exemptions(std::move(made).value(), judgement.parts, judgement.label);
    declare_cake(session, judgement);
  }
  const std::vector<std::string> contained = judgement.declared ? judgement.declared->contains : std::vector<std::string>{};
  const auto named = named_allergens(state, id, judgement.label);
  judge_kit(state, judgement, all_contacts, kit, contained, named);
  judge_precautions(state, judgement, all_contacts);
  judge_lots(state, judgement);
  judge_troubles(session, judgement);
  judge_specifications(state, judgement);
  judge_answer(state, judgement, all_contacts);
  for (auto& finding : judge_planned(session, id, on)) judgement.findings.push_back(std::move(finding));
  std::vector<ProbeTrust> used;
  BatchJudging batches{session, judgement, used};
  for (const auto& batch : judgement.parts.batches) batches.batch(batch.id);
  judge_life(session, judgement);
  judge_standing(session, judgement);
  declare_particulars(session, judgement);
  judge_reheatings(session, judgement, used);
  judge_cold(session, judgement, judge_coolings(session, judgement, used), used);
  std::vector<ProbeTrust> once;
  for (auto& probe : used) {
    const auto same = [&](const ProbeTrust& other) { return other.name == probe.name && other.trust.words == probe.trust.words; };
    if (std::none_of(once.begin(), once.end(), same)) once.push_back(std::move(probe));
  }
  used = std::move(once);
  if (judgement.temperature.probe && !used.empty())
    judgement.findings.push_back(judge_thermometers(id.text(), used, *judgement.temperature.probe));
  judgement.findings.push_back(judge_inedible(id.text(), inedible_lines(state, id)));
  tighten_by_plan(plan_of(session, plan), session.packs().starting_plan(), judgement.findings);
  judge_papers(state, judgement, says_of(state, judgement));
  in_plan_order(session, plan, judgement.findings);
  for (auto& finding : judgement.findings) finding.advice = advice_on(session, finding);
  return judgement;
}

std::string says_of(const State& state, const Judgement& judgement) {
  const Cake& cake = state.cakes.at(judgement.cake).value;
  std::string words = fmt::format("{}\n{} boxes\n{}\n", cake.name, cake.boxes, state.kitchen->value.name);
  for (const auto& line : state.kitchen->value.address) words += line + '\n';
  for (const auto& tier : state.tiers) {
    if (tier.value.cake != judgement.cake) continue;
    words += tier.value.tier + '\n';
    for (const auto& thing : tier.value.inedible) words += fmt::format("{} {}\n", thing.count, thing.what);
  }
  // What stops it for good, not its sentence: that tells durations which grow by themselves.
  std::set<std::string> stops;
  for (const auto& finding : judgement.findings) {
    if (finding.stop == Stop::no_override)
      stops.insert(fmt::format("{} {} {}\n", finding.control, finding.subject, term_of(finding.verdict)));
  }
  for (const auto& stop : stops) words += stop;
  if (judgement.declared) {
    const Declaration& declared = *judgement.declared;
    const auto add = [&](const std::vector<Run>& runs) {
      for (const auto& run : runs) words += fmt::format("{}{}", run.emphasised ? "*" : "", run.text);
      words += '\n';
    };
    for (const auto& ingredient : declared.ingredients) add(ingredient.runs);
    add(declared.allergen_line);
    for (const auto& statement : declared.statements) words += statement.text + '\n';
    add(declared.summary);
    for (const auto& other : judgement.particulars.languages) {
      for (const auto& ingredient : other.ingredients) add(ingredient.runs);
      add(other.allergen_line);
      add(other.summary);
      for (const auto& statement : other.statements) words += statement.text + '\n';
    }
    for (const auto& other : cake.other_names) words += fmt::format("{} {}\n", other.language, other.name);
    words += judgement.particulars.quantities + '\n' + judgement.particulars.net_quantity + '\n';
    for (const auto& other : judgement.particulars.quantities_in) words += other.empty() ? "" : other + '\n';
    for (const auto& key : declared.may_contain) words += key + '\n';
    for (const auto& key : declared.unknown) words += key + '\n';
  }
  if (judgement.life) words += life_in_words(*judgement.life);
  if (judgement.counts_as_chilled) words += "; told to be kept in the fridge";
  return to_hex(sha256(words));
}

bool all_shown(const std::vector<Finding>& findings) {
  return std::all_of(findings.begin(), findings.end(), [](const Finding& finding) { return finding.verdict == Verdict::shown; });
}

Stop gravest(const std::vector<Finding>& findings) {
  Stop stop = Stop::none;
  for (const auto& finding : findings) stop = std::max(stop, finding.stop);
  return stop;
}

}  // namespace tierproof
