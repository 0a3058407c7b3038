#include "kit.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "answers.h"

namespace tierproof {
namespace {

/// Whether a key, or its group, is one of `keys`.
bool covers(const std::vector<std::string>& keys, const std::string& key) {
  if (key != "sulphites" && std::find(keys.begin(), keys.end(), "protein") != keys.end()) return true;  // sulphites are no protein
  return std::any_of(keys.begin(), keys.end(), [&](const std::string& one) { return one == key || one == key.substr(0, key.find(':')); });
}

/// Whether a recipe had a newer version than the one of note `version` at a moment.
bool changed_by(const State& state, const RecipeId& recipe, std::uint64_t version, Instant at) {
  return std::any_of(state.recipe_versions.begin(), state.recipe_versions.end(), [&](const auto& one) {
    const bool newer = one.first > version || one.second.sequence != version;  // corrected in its place counts too
    return one.second.subject == recipe.text() && one.first >= version && newer && one.second.happened <= at;
  });
}

/// Which allergens validations in force clear: of one way of cleaning all that its validations cover; where several ways are on file, what
/// each of them clears, since a cleaning does not say which it was.
Clearing validated_clearing(const State& state, const Recorded<Cleaning>& cleaning) {
  bool any = false, kit_changed = false, recipe_changed = false;
  std::map<std::string, std::set<std::string>> by_method;
  for (const auto& validation : state.cleanings_validated) {
    const CleaningValidated& v = validation.value;
    if (v.equipment != cleaning.value.equipment || validation.happened > cleaning.happened) continue;
    any = true;
    const bool changed = std::any_of(state.equipment_changes.begin(), state.equipment_changes.end(), [&](const auto& change) {
      return change.value.equipment == v.equipment && day_of(change.happened, change.offset) >= v.made &&
             change.happened <= cleaning.happened;
    });
    const bool recipe = changed_by(state, v.recipe, v.recipe_version, cleaning.happened);
    kit_changed = kit_changed || changed;
    recipe_changed = recipe_changed || recipe;
    if (!changed && !recipe) by_method[v.method].insert(v.allergens.begin(), v.allergens.end());
  }
  Clearing clearing;
  if (!by_method.empty()) {
    for (const auto& key : by_method.begin()->second) {
      const auto clears = [&](const auto& method) { return method.second.contains(key); };
      if (std::all_of(by_method.begin(), by_method.end(), clears)) clearing.keys.push_back(key);
    }
  }
  if (!clearing.keys.empty()) {
    clearing.words = fmt::format("validated for {} only", fmt::join(clearing.keys, ", "));
  } else if (!by_method.empty()) {
    clearing.words = "cleaned as validated, but not said by which of several methods";
  } else if (!any) {
    clearing.words = "cleaned as validated, but no validation is on file";
  } else {
    clearing.words = kit_changed ? "cleaned as validated, but the kit changed since its validation"
                                 : "cleaned as validated, but the recipe of its worst case changed since";
  }
  return clearing;
}

/// What a batch, or a tier of a cake, brings on to kit.
struct Brought {
  std::vector<std::string> allergens, untold;
};
Brought brought_by(const CakeParts& parts, const std::vector<std::string>& keys, const LabelTerms& terms) {
  auto made = compose(parts, keys);
  if (made) made = with_exemptions(std::move(made).value(), parts, terms);
  Brought brought;
  for (std::size_t i = 0; i < terms.allergens.size(); ++i) {
    const AllergenTerm& term = terms.allergens[i];
    const bool contains = made && made->allergens[i].presence == Presence::contains;
    if (!made || contains || made->allergens[i].presence == Presence::unknown) brought.allergens.push_back(term.word);
    const bool exempt = contains && made->allergens[i].exempt.size() >= made->allergens[i].contains.size();
    if (exempt || (contains && term.above_mg_per_kg)) brought.untold.push_back(term.word);
  }
  return brought;
}

class Uses {
 public:
  Uses(const State& state, const LabelTerms& terms) : state_{state}, terms_{terms} {
    for (const auto& allergen : terms.allergens) keys_.push_back(allergen.key);
  }

  std::vector<KitUse> all() {
    for (const auto& [id, batch] : state_.batches) {
      if (batch.value.kit.empty()) continue;
      const CakeParts parts = parts_of_batch(state_, id);
      add(batch.value.kit, batch.happened, id.text(), parts.batches.front().name, brought_by(parts, keys_, terms_));
    }
    for (const auto& cleaning : state_.cleanings) add(cleaning);
    add_tiers();
    std::stable_sort(uses_.begin(), uses_.end(), [](const KitUse& a, const KitUse& b) { return a.at < b.at; });
    return std::move(uses_);
  }

 private:
  void add(const std::vector<EquipmentId>& kit, Instant at, const std::string& id, const std::string& name, const Brought& brought) {
    for (const auto& one : kit) uses_.push_back({kit_in_words(state_, one), at, id, name, brought.allergens, "", brought.untold});
  }

  void add(const Recorded<Cleaning>& cleaning) {
    const Clearing clearing = clearing_of(state_, cleaning);
    KitUse use{kit_in_words(state_, cleaning.value.equipment), cleaning.happened, "", "", {}, clearing.words};
    use.washed = cleaning.value.grade != "wiped" && cleaning.value.found != "something";
    for (const auto& term : terms_.allergens) {
      if (covers(clearing.keys, term.key)) use.clears.push_back(term.word);
    }
    uses_.push_back(std::move(use));
  }

  /// What a batch met without a washing between goes on to whatever its cake is put together with.
  void add_tiers() {
    const bool none = std::all_of(state_.tiers.begin(), state_.tiers.end(), [](const auto& tier) { return tier.value.kit.empty(); });
    if (none) return;
    const auto met = contacts(uses_, Offset{});
    for (const auto& tier : state_.tiers) {
      if (tier.value.kit.empty()) continue;
      for (const auto& [name, parts] : parts_of_tiers(state_, tier.value.cake)) {
        if (name != tier.value.tier) continue;
        Brought brought = brought_by(parts, keys_, terms_);
        std::vector<std::string> traces;
        for (const auto& batch : batch_ids(parts)) {
          for (const auto& contact : met) {
            if (contact.batch == batch) (contact.cleaned ? traces : brought.allergens).push_back(contact.allergen);
          }
        }
        const auto cake = state_.cakes.find(tier.value.cake);
        const std::string words = fmt::format("{}, {} tier", cake == state_.cakes.end() ? "cake" : cake->second.value.name, name);
        const std::size_t first = uses_.size();
        add(tier.value.kit, tier.happened, tier.value.cake.text(), words, brought);
        for (std::size_t i = first; i < uses_.size(); ++i) uses_[i].traces = traces;
      }
    }
  }

  const State& state_;
  const LabelTerms& terms_;
  std::vector<std::string> keys_;
  std::vector<KitUse> uses_;
};

}  // namespace

Clearing clearing_of(const State& state, const Recorded<Cleaning>& cleaning) {
  const Cleaning& c = cleaning.value;
  if (c.grade == "validated") return validated_clearing(state, cleaning);
  Clearing clearing{{}, c.grade};
  if (c.grade != "washed and tested") return clearing;
  if (c.found == "something") {
    clearing.words = "tested, and something was found";
  } else if (c.tested.empty() || c.clears.empty() || c.found != "nothing") {
    clearing.words += ", but not told what was tested and what was found";
  } else {
    clearing.keys = c.clears;
    clearing.words = fmt::format("washed and tested for {}", fmt::join(c.clears, ", "));
  }
  return clearing;
}

std::vector<KitUse> kit_uses(const State& state, const LabelTerms& terms) { return Uses{state, terms}.all(); }

const std::vector<KitUse>& kit_uses_by(const Session& session, const LabelTerms& terms) {
  return session.worked_out<std::vector<KitUse>>(fmt::format("kit {} {}", terms.jurisdiction, format_date(terms.on)),
                                                 [&] { return kit_uses(session.state(), terms); });
}

const std::vector<Contact>& contacts_by(const Session& session, const LabelTerms& terms, Offset offset) {
  return session.worked_out<std::vector<Contact>>(
      fmt::format("contacts {} {} {}", terms.jurisdiction, format_date(terms.on), offset.minutes),
      [&] { return contacts(kit_uses_by(session, terms), offset); });
}

std::string kit_in_words(const State& state, const EquipmentId& id) {
  const auto found = state.equipment.find(id);
  if (found == state.equipment.end()) return id.text();
  const auto same = [&](const auto& other) { return other.first != id && other.second.value.name == found->second.value.name; };
  const bool shared = std::any_of(state.equipment.begin(), state.equipment.end(), same);  // cleaning one does not clean its namesake
  return shared ? fmt::format("{} ({})", found->second.value.name, id.text()) : found->second.value.name;
}

std::vector<std::string> kit_ids(const CakeParts& parts) {
  auto ids = batch_ids(parts);
  ids.push_back(parts.cake.text());
  return ids;
}

}  // namespace tierproof
