#include "tierproof/kitchen/state.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

namespace tierproof {
namespace {

template <class Thing>
Recorded<Thing> recorded(const Note& note, Thing thing) {
  return {std::move(thing), note.subject, note.sequence, note.place, note.happened, note.written, note.offset, note.person, note.how};
}

struct Folding {
  State& state;
  const Unseal& unseal;
  Refusals& refusals;
  std::string where;  ///< for refusals; empty: the note's own number and kind
};

/// Reads the body of `note` and hands the thing to `keep`.
template <class Thing, class Keep>
void fold_one(const Note& note, Folding& folding, const Keep& keep) {
  const std::string where = folding.where.empty() ? fmt::format("note {} ({})", note.sequence, note.kind) : folding.where;
  auto thing = read_body<Thing>(note.body, where, folding.unseal);
  if (!thing) {
    folding.refusals.insert(folding.refusals.end(), thing.error().begin(), thing.error().end());
    return;
  }
  keep(recorded(note, std::move(thing).value()));
}

struct Fold {
  bool a_thing = false;  ///< others are events about a thing: voiding them does not take the thing away
  std::function<void(const Note&, Folding&)> run;
};

template <class Thing, class Key>
std::pair<std::string, Fold> into_map(std::map<Key, Recorded<Thing>> State::*map) {
  return {std::string{KindOf<Thing>::kind}, {true, [map](const Note& note, Folding& folding) {
                                               fold_one<Thing>(note, folding, [&](Recorded<Thing> thing) {
                                                 (folding.state.*map).insert_or_assign(Key{note.subject}, std::move(thing));
                                               });
                                             }}};
}

template <class Thing>
std::pair<std::string, Fold> into_list(std::vector<Recorded<Thing>> State::*list) {
  return {std::string{KindOf<Thing>::kind},
          {false, [list](const Note& note, Folding& folding) {
             fold_one<Thing>(note, folding, [&](Recorded<Thing> thing) { (folding.state.*list).push_back(std::move(thing)); });
           }}};
}

const std::map<std::string, Fold>& folds() {
  static const std::map<std::string, Fold> table{
      into_map(&State::people),
      into_map(&State::suppliers),
      into_map(&State::ingredients),
      into_map(&State::lots),
      into_map(&State::equipment),
      into_map(&State::places),
      into_map(&State::probes),
      into_map(&State::batches),
      into_map(&State::cakes),
      into_list(&State::withdrawals),
      into_list(&State::checks),
      into_list(&State::readings),
      into_list(&State::stays),
      into_list(&State::answers),
      into_list(&State::acceptances),
      into_list(&State::tiers),
      into_list(&State::cleanings),
      into_list(&State::validations),
      into_list(&State::cleanings_validated),
      into_list(&State::equipment_changes),
      into_list(&State::adopted),
      into_list(&State::keepings),
      into_list(&State::releases),
      into_list(&State::hand_overs),
      into_list(&State::papers),
      into_map(&State::tubs),
      into_map(&State::column_maps),
      into_map(&State::deviations),
      into_map(&State::complaints),
      into_list(&State::top_ups),
      into_list(&State::emptied),
      into_list(&State::opened),
      into_list(&State::told),
      into_list(&State::deviations_closed),
      into_list(&State::complaints_closed),
      into_list(&State::disposals),
      into_map(&State::recalls),
      into_list(&State::recall_ticks),
      into_list(&State::recalls_closed),
      into_list(&State::missed),
      into_list(&State::regular_done),
      into_list(&State::days_off),
      into_list(&State::precautions),
      into_list(&State::erasures),
      into_list(&State::looked),
      into_list(&State::confirmed),
      into_list(&State::plans),
      into_list(&State::plan_reviews),
      into_list(&State::advice),
      into_list(&State::evidence),
      {std::string{KindOf<Kitchen>::kind},
       {false,
        [](const Note& note, Folding& folding) {
          fold_one<Kitchen>(note, folding, [&](Recorded<Kitchen> kitchen) { folding.state.kitchen = std::move(kitchen); });
        }}},
      {std::string{KindOf<RegularSort>::kind},
       {false,
        [](const Note& note, Folding& folding) {
          fold_one<RegularSort>(note, folding, [&](Recorded<RegularSort> sort) {
            folding.state.regular_sort_versions.insert_or_assign(note.place, sort);
            folding.state.regular_sorts.insert_or_assign(RegularSortId{note.subject}, std::move(sort));
          });
        }}},
      {std::string{KindOf<Specification>::kind},
       {false,
        [](const Note& note, Folding& folding) {
          fold_one<Specification>(note, folding, [&](Recorded<Specification> specification) {
            folding.state.specifications.insert_or_assign(note.place, std::move(specification));
          });
        }}},
      {std::string{KindOf<Recipe>::kind}, {false, [](const Note& note, Folding& folding) {
                                             fold_one<Recipe>(note, folding, [&](Recorded<Recipe> recipe) {
                                               folding.state.recipe_versions.insert_or_assign(note.place, recipe);
                                               folding.state.recipes.insert_or_assign(RecipeId{note.subject}, std::move(recipe));
                                             });
                                           }}}};
  return table;
}

template <class Thing>
const Recorded<Thing>* last_of(const std::vector<Recorded<Thing>>& things, const CakeId& cake) {
  const Recorded<Thing>* found = nullptr;
  for (const auto& thing : things) {
    if (thing.value.cake == cake) found = &thing;
  }
  return found;
}

}  // namespace

const Recorded<Specification>* State::specification(const IngredientId& ingredient, const SupplierId& supplier, Date on) const {
  const Recorded<Specification>* newest = nullptr;
  for (const auto& [place, specification] : specifications) {
    const auto& value = specification.value;
    if (value.ingredient != ingredient || value.supplier != supplier || value.checked > on) continue;
    if (newest == nullptr || value.checked >= newest->value.checked) newest = &specification;
  }
  return newest;
}

Date State::last_looked(std::uint64_t place) const {
  const auto specification = specifications.find(place);
  Date last = specification == specifications.end() ? Date{} : specification->second.value.checked;
  for (const auto& look : looked) {
    if (look.value.specification == place) last = std::max(last, look.value.checked);
  }
  return last;
}

const Recorded<AllergyAnswer>* State::answer(const CakeId& cake) const { return last_of(answers, cake); }
const Recorded<Release>* State::release(const CakeId& cake) const { return last_of(releases, cake); }
const Recorded<HandOver>* State::hand_over(const CakeId& cake) const { return last_of(hand_overs, cake); }

bool State::answered_before(const CakeId& cake) const {
  const auto begun_for = answers_begun.find(cake.text());
  return begun_for != answers_begun.end() && begun_for->second > 1;
}

bool State::withdrawn(const LotId& lot) const {
  return std::any_of(withdrawals.begin(), withdrawals.end(), [&](const auto& withdrawal) { return withdrawal.value.lot == lot; });
}

const Recorded<DeviationClosed>* State::closed(const DeviationId& deviation) const {
  const auto found = std::find_if(deviations_closed.begin(), deviations_closed.end(),
                                  [&](const auto& closing) { return closing.value.deviation == deviation; });
  return found == deviations_closed.end() ? nullptr : &*found;
}

const Recorded<RecallClosed>* State::closed(const RecallId& recall) const {
  const auto found =
      std::find_if(recalls_closed.begin(), recalls_closed.end(), [&](const auto& closing) { return closing.value.recall == recall; });
  return found == recalls_closed.end() ? nullptr : &*found;
}

const Recorded<ComplaintClosed>* State::closed(const ComplaintId& complaint) const {
  const auto found = std::find_if(complaints_closed.begin(), complaints_closed.end(),
                                  [&](const auto& closing) { return closing.value.complaint == complaint; });
  return found == complaints_closed.end() ? nullptr : &*found;
}

const Recorded<Complaint>* State::open_complaint(const CakeId& cake) const {
  for (const auto& [id, complaint] : complaints) {
    if (complaint.value.cake == cake && closed(id) == nullptr) return &complaint;
  }
  return nullptr;
}

Result<State> fold(std::span<const Note> notes, std::uint64_t size, const Unseal& unseal) {
  State state;
  state.size = size;
  Refusals refusals;
  Folding folding{state, unseal, refusals, ""};
  for (const Note& note : notes) {
    const auto fold_of_kind = folds().find(note.kind);
    if (fold_of_kind == folds().end()) {
      refusals.push_back({fmt::format("note {}", note.sequence), 0, "kind",
                          fmt::format("\"{}\" is not a kind of note that this program knows", note.kind),
                          "open the records with the program version that made them, or a newer one"});
      continue;
    }
    ++state.begun[note.kind];
    if (note.kind == KindOf<AllergyAnswer>::kind) ++state.answers_begun[note.subject];
    if (note.body.is_null()) {
      if (fold_of_kind->second.a_thing) state.voided.insert(note.subject);
      continue;
    }
    fold_of_kind->second.run(note, folding);
  }
  if (!refusals.empty()) return refusals;
  return state;
}

bool is_kind(const std::string& kind) { return folds().contains(kind); }

Refusals check_body(const std::string& kind, const Json& body, const std::string& where) {
  const auto fold_of_kind = folds().find(kind);
  if (fold_of_kind == folds().end())
    return {{where, 0, "kind", fmt::format("\"{}\" is not a kind of note", kind), "name a note that can be corrected"}};
  State scratch;
  Refusals refusals;
  const Unseal unseal;
  Folding folding{scratch, unseal, refusals, where};
  Note note;
  note.kind = kind;
  note.body = body;
  fold_of_kind->second.run(note, folding);
  return refusals;
}

}  // namespace tierproof
