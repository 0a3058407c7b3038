#include "tierproof/app/looking.h"

#include <map>

#include "checking.h"
#include "tierproof/app/recording.h"

namespace tierproof {
namespace {

std::int64_t days_between(Date from, Date to) { return (std::chrono::sys_days{to} - std::chrono::sys_days{from}).count(); }

/// The specification that is meant, or nothing once that was refused.
const Recorded<Specification>* meant_by(Checking& checking, const State& state, const Looking& looking, Date on) {
  if (looking.pack.empty()) {
    const auto* ingredient = checking.known("ingredient", state.ingredients, looking.ingredient, "ingredient");
    const auto* supplier = checking.known("--from", state.suppliers, looking.supplier, "supplier");
    if (ingredient == nullptr || supplier == nullptr) return nullptr;
    const auto* newest = state.specification(IngredientId{looking.ingredient}, SupplierId{looking.supplier}, on);
    if (newest == nullptr) {
      checking.refuse("ingredient",
                      fmt::format("nothing is on file by {} of what the pack of {} from {} says", format_date_long(on), looking.ingredient,
                                  looking.supplier),
                      "record what the pack says (specification)");
    }
    return newest;
  }
  const auto* lot = checking.known("--pack", state.lots, looking.pack, "pack");
  if (lot == nullptr) return nullptr;
  if (!looking.ingredient.empty() && lot->value.ingredient.text() != looking.ingredient)
    checking.refuse("--pack", fmt::format("{} is {}", looking.pack, lot->value.ingredient.text()), "name a pack of this ingredient");
  if (!looking.supplier.empty() && lot->value.supplier.text() != looking.supplier)
    checking.refuse("--from", fmt::format("{} came from {}", looking.pack, lot->value.supplier.text()),
                    "name its supplier, or leave it out");
  const auto found = state.specifications.find(lot->value.specification);
  if (found != state.specifications.end()) return &found->second;
  checking.refuse("--pack", fmt::format("what {} says is not on file any more", looking.pack), "record what the pack says (specification)");
  return nullptr;
}

}  // namespace

Result<Booked> look_again(Session& session, const Looking& looking) {
  Checking checking{session};
  checking.person();
  checking.words("--against", looking.against);
  const Date on = looking.on.value_or(session.today());
  if (on > session.today()) checking.refuse("--on", "is a day that has not come yet", "write the day on which the pack was read");
  const auto* specification = meant_by(checking, session.state(), looking, on);
  if (specification != nullptr && on < specification->value.checked) {
    checking.refuse("--on", fmt::format("lies before {}, when what is on file was read", format_date_long(specification->value.checked)),
                    "write the day on which it was compared again");
  }
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, SpecificationLooked{specification->place, on, looking.against}, specification->subject,
                  checking.moment("now"));
}

std::optional<SpecificationAgeLimit> specification_age_limit(const State& state, const LabelTerms& terms) {
  if (state.kitchen && state.kitchen->value.specification_days)
    return SpecificationAgeLimit{*state.kitchen->value.specification_days,
                                 fmt::format("[the kitchen's own limit, note {}]", state.kitchen->sequence)};
  if (terms.specification_age) return SpecificationAgeLimit{terms.specification_age->days, cite(terms.specification_age->cited)};
  return std::nullopt;
}

std::vector<StaleSpecification> stale_specifications(const State& state, const CakeParts& parts, const LabelTerms& terms, Date on) {
  std::vector<StaleSpecification> stale;
  const auto limit = specification_age_limit(state, terms);
  if (!limit) return stale;
  std::map<std::uint64_t, std::vector<LotId>> packs;
  for (const auto& facts : parts.lots) {
    const auto lot = state.lots.find(facts.id);
    if (lot != state.lots.end() && state.specifications.contains(lot->second.value.specification))
      packs[lot->second.value.specification].push_back(facts.id);
  }
  for (auto& [place, lots] : packs) {
    const Date last = state.last_looked(place);
    const std::int64_t age = days_between(last, on);
    if (age <= limit->days) continue;
    const Specification& specification = state.specifications.at(place).value;
    const auto ingredient = state.ingredients.find(specification.ingredient);
    std::sort(lots.begin(), lots.end());
    stale.push_back({place, specification.ingredient, specification.supplier,
                     ingredient == state.ingredients.end() ? specification.ingredient.text() : ingredient->second.value.name,
                     std::move(lots), last, age, limit->days, limit->source});
  }
  return stale;
}

std::vector<ToLookAt> specifications_to_look_at(const Session& session, Date on) {
  const State& state = session.state();
  std::map<std::uint64_t, std::vector<LotId>> packs;
  for (const auto& [place, specification] : state.specifications) {
    const auto* newest = state.specification(specification.value.ingredient, specification.value.supplier, on);
    if (newest != nullptr && newest->place == place) packs[place];
  }
  const auto left = remaining_of_all(state);
  for (const auto& [id, lot] : state.lots) {
    if (left.at(id.text()) > 0 && state.specifications.contains(lot.value.specification)) packs[lot.value.specification].push_back(id);
  }
  const auto terms = session.label_terms(on);
  const auto limit = terms ? specification_age_limit(state, *terms) : std::nullopt;
  std::vector<ToLookAt> all;
  for (auto& [place, lots] : packs) {
    std::sort(lots.begin(), lots.end());
    const Date last = state.last_looked(place);
    const std::int64_t age = days_between(last, on);
    all.push_back({place, std::move(lots), last, age, limit ? std::optional{limit->days - age} : std::nullopt});
  }
  return all;
}

}  // namespace tierproof
