#include "change_effects.h"

#include <fmt/format.h>

#include <algorithm>

#include "erased.h"
#include "life.h"
#include "parts.h"
#include "supposing.h"
#include "tierproof/app/issuing.h"
#include "tierproof/app/judging.h"
#include "tierproof/app/stores.h"
#include "troubles.h"

namespace tierproof {
namespace {

bool holds_any(const CakeParts& parts, const std::set<LotId>& packs) {
  return std::any_of(parts.lots.begin(), parts.lots.end(), [&](const LotFacts& lot) { return packs.contains(lot.id); });
}

/// What stands out on a label, in its order: an emphasis that is lost is a change.
std::string standing_out(const LabelWords& words) {
  std::vector<std::string> texts;
  const auto add = [&](const std::vector<Run>& runs) {
    for (const Run& run : runs) {
      if (run.emphasised) texts.push_back(run.text);
    }
  };
  for (const auto& runs : words.ingredients) add(runs);
  add(words.allergen_line);
  add(words.summary);
  return fmt::format("{}", fmt::join(texts, ", "));
}

std::string list_of_runs(const std::vector<std::vector<Run>>& entries) {
  std::vector<std::string> texts;
  for (const auto& runs : entries) texts.push_back(text_of(runs));
  return fmt::format("{}", fmt::join(texts, ", "));
}

using Lines = std::vector<std::pair<std::string, std::string>>;

void add_words(Lines& lines, const LabelWords& words) {
  const std::string in = words.language.empty() ? "" : fmt::format(" ({})", words.language);
  const auto add = [&](const std::string& what, const std::string& text) { lines.emplace_back(what + in, text); };
  add("words beside the name", fmt::format("{}", fmt::join(words.name_statements, " ")));
  add("quantities", words.quantities);
  add("list of ingredients", words.heading.empty() ? "" : text_of(words.heading) + " " + list_of_runs(words.ingredients));
  add("line of allergens", text_of(words.allergen_line));
  add("summary of allergens", text_of(words.summary));
  add("words that stand out", standing_out(words));
  std::vector<std::string> sentences = words.after_list;
  sentences.insert(sentences.end(), words.statements.begin(), words.statements.end());
  add("prescribed sentences", fmt::format("{}", fmt::join(sentences, " ")));
  add("may contain", fmt::format("{}", fmt::join(words.may_contain, " ")));
  add("storage", words.storage);
}

/// What a label prints of the food, a line each under its name.
Lines lines_of(const LabelContent& content) {
  Lines lines{{"stop on the label", content.stop}};
  add_words(lines, content);
  for (const auto& words : content.languages) add_words(lines, words);
  lines.emplace_back("quantity", content.quantity);
  lines.emplace_back("date", content.date);
  lines.emplace_back("lot", content.lot);
  return lines;
}

std::vector<Difference> differing(const Lines& before, const Lines& after) {
  std::vector<Difference> changed;
  const auto text_in = [](const Lines& lines, const std::string& what) {
    const auto found = std::find_if(lines.begin(), lines.end(), [&](const auto& line) { return line.first == what; });
    return found == lines.end() ? std::string{} : found->second;
  };
  for (const auto& [what, text] : before) {
    if (text_in(after, what) != text) changed.push_back({what, text, text_in(after, what)});
  }
  for (const auto& [what, text] : after) {
    const bool seen = std::any_of(before.begin(), before.end(), [&, name = what](const auto& line) { return line.first == name; });
    if (!seen && !text.empty()) changed.push_back({what, "", text});
  }
  return changed;
}

/// The gravest verdict of each control and subject, and its sentence.
std::map<std::pair<std::string, std::string>, const Finding*> gravest_of(const std::vector<Finding>& findings) {
  std::map<std::pair<std::string, std::string>, const Finding*> all;
  for (const auto& finding : findings) {
    const Finding*& held = all[{finding.control, finding.subject}];
    if (held == nullptr || gravity(held->verdict) < gravity(finding.verdict) || held->stop < finding.stop) held = &finding;
  }
  return all;
}

std::vector<Difference> verdicts_changed(const Session& session, const Judgement& before, const Judgement& after) {
  std::vector<Difference> changed;
  const auto was = gravest_of(before.findings);
  const auto is = gravest_of(after.findings);
  const auto heading = [&](const std::string& control, const std::string& subject) {
    const auto* row = plan_row(session, after.plan, control);
    return fmt::format("{}: {}", row == nullptr ? control : row->words, subject);
  };
  const auto told = [](const Finding& finding) { return fmt::format("{}: {}", words_of(finding.verdict), finding.message); };
  for (const auto& finding : after.findings) {  // in the order of the plan
    const auto key = std::pair{finding.control, finding.subject};
    if (is.at(key) != &finding || finding.control == "mixed-records") continue;  // labels are told apart
    const auto found = was.find(key);
    const bool new_stop = found == was.end() && finding.verdict != Verdict::shown;
    const bool changes = found != was.end() && (found->second->verdict != finding.verdict || found->second->stop != finding.stop ||
                                                (finding.verdict != Verdict::shown && found->second->message != finding.message));
    if (new_stop || changes)
      changed.push_back({heading(finding.control, finding.subject), found == was.end() ? "" : told(*found->second), told(finding)});
  }
  for (const auto& finding : before.findings) {
    const auto key = std::pair{finding.control, finding.subject};
    if (finding.verdict != Verdict::shown && finding.control != "mixed-records" && was.at(key) == &finding && !is.contains(key))
      changed.push_back({heading(finding.control, finding.subject), told(finding), ""});
  }
  return changed;
}

/// The last label of each box that said what the records say, and says no longer what they would.
std::vector<LabelVoided> labels_voided(const State& state, const CakeId& cake, const std::string& says, const std::string& would_say) {
  std::map<std::int64_t, const Recorded<PaperIssued>*> last;
  for (const auto& paper : state.papers) {
    if (paper.value.cake == cake && paper.value.paper == "label") last[paper.value.box] = &paper;
  }
  std::vector<LabelVoided> voided;
  for (const auto& [box, paper] : last) {
    if (paper->value.says == says && says != would_say) voided.push_back({paper->sequence, box});
  }
  return voided;
}

void add_customer(CakeChange& change, const State& state, const Recorded<Cake>& cake, const Judgement& judgement) {
  std::vector<std::string> who;
  for (const Words* words : {&cake.value.customer, &cake.value.contact}) {
    if (words->given()) who.push_back(words->text.value_or("(erased)"));
  }
  change.customer = fmt::format("{}", fmt::join(who, ", "));
  for (const auto& told : state.told) {
    if (told.value.cake == change.cake) change.told.push_back(fmt::format("note {}: {}", told.sequence, words_or(told.value.words, "")));
  }
  if (const auto* gone = state.hand_over(change.cake))
    change.told.push_back(fmt::format("note {}, when it left: {}", gone->sequence, words_or(gone->value.told, "nothing was written down")));
  if (judgement.life) change.keeps_until = judgement.life->date;
}

/// The gravest of what packs of every supplier say of each allergen of the foods in a recipe; nothing on file is unknown.
class RecipePresence {
 public:
  RecipePresence(const State& state, Date on, const std::string& allergen) : state_{state}, on_{on}, allergen_{allergen} {}

  Presence recipe(const RecipeId& id) {
    if (!seen_.insert(id).second) return Presence::absent;
    const auto found = state_.recipes.find(id);
    if (found == state_.recipes.end()) return Presence::unknown;
    Presence gravest = Presence::absent;
    for (const auto& item : found->second.value.items)
      gravest = graver(gravest, item.recipe ? recipe(RecipeId{item.of}) : food(IngredientId{item.of}));
    return gravest;
  }

 private:
  static Presence graver(Presence a, Presence b) {
    const auto rank = [](Presence presence) {
      switch (presence) {
        case Presence::contains:
          return 3;
        case Presence::unknown:
          return 2;
        case Presence::may_contain:
          return 1;
        case Presence::absent:
          return 0;
      }
      return 3;
    };
    return rank(a) < rank(b) ? b : a;
  }
  Presence food(const IngredientId& id) const {
    const auto ingredient = state_.ingredients.find(id);
    std::optional<Presence> gravest;
    for (const auto& [supplier, card] : state_.suppliers) {
      const auto* said = state_.specification(id, supplier, on_);
      if (said == nullptr || ingredient == state_.ingredients.end()) continue;
      const Presence here = pack_statement(ingredient_facts(ingredient->second.value, id, said->value), allergen_).presence;
      gravest = gravest ? graver(*gravest, here) : here;
    }
    return gravest.value_or(Presence::unknown);
  }
  const State& state_;
  Date on_;
  const std::string& allergen_;
  std::set<RecipeId> seen_;
};

std::string presence_in_words(Presence presence) {
  switch (presence) {
    case Presence::contains:
      return "contains";
    case Presence::may_contain:
      return "may contain";
    case Presence::absent:
      return "not an ingredient";
    case Presence::unknown:
      return "not known";
  }
  return "not known";
}

bool takes(const State& state, const Recipe& recipe, const IngredientId& ingredient, std::set<std::string>& seen) {
  return std::any_of(recipe.items.begin(), recipe.items.end(), [&](const RecipeItem& item) {
    if (!item.recipe) return item.of == ingredient.text();
    const auto inner = state.recipes.find(RecipeId{item.of});
    return inner != state.recipes.end() && seen.insert(item.of).second && takes(state, inner->second.value, ingredient, seen);
  });
}

}  // namespace

std::vector<LotId> packs_in_question(const State& state, const IngredientId& ingredient, const SupplierId& supplier,
                                     std::uint64_t compared) {
  std::vector<LotId> packs;
  for (const auto& [id, lot] : state.lots) {
    if (lot.value.ingredient != ingredient || lot.value.supplier != supplier) continue;
    if (lot.value.specification == compared || remaining_mg(state, id.text()) > 0) packs.push_back(id);
  }
  return packs;
}

std::vector<LotId> in_house(const State& state, const std::vector<LotId>& packs) {
  std::set<LotId> here;
  for (const auto& id : packs) {
    if (remaining_mg(state, id.text()) > 0) here.insert(id);
  }
  const std::set<LotId> asked{packs.begin(), packs.end()};
  const auto add = [&](const CakeParts& parts) {
    for (const auto& lot : parts.lots) {
      if (asked.contains(lot.id)) here.insert(lot.id);
    }
  };
  for (const auto& [id, batch] : state.batches) {
    if (remaining_mg(state, id.text()) > 0) add(parts_of_batch(state, id));
  }
  for (const auto& [id, cake] : state.cakes) {
    if (state.hand_over(id) == nullptr && !thrown_away(state, id)) add(parts_of(state, id));
  }
  return {here.begin(), here.end()};
}

State with_readings(const Session& session, const std::map<std::uint64_t, Specification>& readings,
                    const std::map<LotId, std::uint64_t>& packs) {
  State state = session.state();
  std::uint64_t sequence = session.head().size + readings.size();
  for (const auto& [place, reading] : readings) {
    Recorded<Specification> recorded;
    recorded.value = reading;
    recorded.subject = reading.ingredient.text();
    recorded.sequence = place;
    recorded.place = place;
    recorded.happened = session.now();
    recorded.written = session.now();
    recorded.offset = session.offset_at(session.now());
    recorded.person = PersonId{session.entrance().person};
    state.specifications.insert_or_assign(place, std::move(recorded));
  }
  for (const auto& [id, place] : packs) {
    auto& lot = state.lots.at(id);
    lot.value.specification = place;
    lot.sequence = ++sequence;
  }
  return state;
}

Presence presence_in_recipe(const State& state, Date on, const RecipeId& recipe, const std::string& allergen) {
  return RecipePresence{state, on, allergen}.recipe(recipe);
}

std::vector<RecipeChange> recipes_changed(const State& before, const State& after, const IngredientId& ingredient, const LabelTerms& terms,
                                          Date on) {
  std::vector<RecipeChange> changes;
  for (const auto& [id, recipe] : before.recipes) {
    std::set<std::string> seen;
    if (!takes(before, recipe.value, ingredient, seen)) continue;
    RecipeChange change{id, recipe.value.name, {}, {}};
    for (const auto& term : terms.allergens) {
      const Presence was = presence_in_recipe(before, on, id, term.key);
      const Presence is = presence_in_recipe(after, on, id, term.key);
      if (was != is) change.allergens.push_back({term.word, presence_in_words(was), presence_in_words(is)});
    }
    for (const auto& [cake, order] : before.cakes) {
      const auto& planned = order.value.planned;
      const auto built = [&, of = cake](const auto& tier) { return tier.value.cake == of; };
      if (std::find(planned.begin(), planned.end(), id) != planned.end() && before.hand_over(cake) == nullptr &&
          std::none_of(before.tiers.begin(), before.tiers.end(), built))
        change.planned.push_back(cake);
    }
    changes.push_back(std::move(change));
  }
  return changes;
}

std::vector<BatchTouched> batches_touched(const State& state, const std::set<LotId>& packs) {
  std::vector<BatchTouched> touched;
  for (const auto& [id, batch] : state.batches) {
    const std::int64_t left = remaining_mg(state, id.text());
    if (left <= 0 || !holds_any(parts_of_batch(state, id), packs)) continue;
    const auto binned = [&, what = id.text()](const auto& disposal) { return disposal.value.what == what && !disposal.value.mass; };
    if (std::any_of(state.disposals.begin(), state.disposals.end(), binned)) continue;
    const auto recipe = state.recipe_versions.find(batch.value.recipe_version);
    BatchTouched one{id, recipe == state.recipe_versions.end() ? batch.value.recipe.text() : recipe->second.value.name,
                     Mass::milligrams(left), ""};
    const Recorded<Stay>* last = nullptr;
    for (const auto& stay : state.stays) {
      if (stay.value.what == id.text() && (last == nullptr || stay.happened >= last->happened)) last = &stay;
    }
    if (last != nullptr) {
      const auto place = state.places.find(last->value.place);
      one.place = place == state.places.end() ? last->value.place.text() : place->second.value.name;
    }
    touched.push_back(std::move(one));
  }
  return touched;
}

std::vector<CakeChange> cakes_changed(Session& session, const State& after, const std::set<LotId>& packs, ZonedInstant at) {
  std::vector<CakeChange> changes;
  struct Before {
    CakeId cake;
    Judgement judgement;
    Lines lines;
    std::string says;
  };
  std::vector<Before> all;
  for (const auto& [id, cake] : session.state().cakes) {
    if (thrown_away(session.state(), id) || !holds_any(parts_of(session.state(), id), packs)) continue;
    auto judgement = judge_cake(session, id, at);
    if (!judgement) continue;  // no rules in force: nothing of it is printed or released either
    Lines lines = lines_of(label_content(session, *judgement, 1));
    std::string says = says_of(session.state(), *judgement);
    all.push_back({id, std::move(judgement).value(), std::move(lines), std::move(says)});
  }
  const Supposing supposing{session, after};
  const State& state = session.state();
  for (const auto& before : all) {
    const auto judgement = judge_cake(session, before.cake, at);
    if (!judgement) continue;
    const auto& cake = state.cakes.at(before.cake);
    CakeChange change;
    change.cake = before.cake;
    change.name = cake.value.name;
    change.event = cake.value.event;
    change.out = state.hand_over(before.cake) != nullptr;
    for (const auto& lot : before.judgement.parts.lots) {
      if (packs.contains(lot.id)) change.packs.push_back(pack_in_words(state, lot.id));
    }
    change.words = differing(before.lines, lines_of(label_content(session, *judgement, 1)));
    change.verdicts = verdicts_changed(session, before.judgement, *judgement);
    change.labels = labels_voided(state, before.cake, before.says, says_of(state, *judgement));
    if (change.out) add_customer(change, state, cake, *judgement);
    if (!change.words.empty() || !change.verdicts.empty() || !change.labels.empty()) changes.push_back(std::move(change));
  }
  return changes;
}

}  // namespace tierproof
