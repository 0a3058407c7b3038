#include "tierproof/app/changing.h"

#include "change_effects.h"
#include "checking.h"
#include "parts.h"
#include "troubles.h"

namespace tierproof {
namespace {

void check_parts(Checking& checking, const std::vector<SpecifiedPart>& parts) {
  for (const auto& part : parts) {
    checking.words("parts", part.name);
    checking.free_words("class", part.additive_class);
    checking.free_words("why", part.why_idle);
    check_parts(checking, part.parts);
  }
}

/// What is wrong with a reading that could be read.
void check_reading(Checking& checking, const Session& session, const Specification& reading, const LabelTerms& terms) {
  const State& state = session.state();
  checking.known("ingredient", state.ingredients, reading.ingredient.text(), "ingredient");
  checking.known("supplier", state.suppliers, reading.supplier.text(), "supplier");
  checking.words("label_name", reading.label_name);
  checking.words("checked_against", reading.checked_against);
  check_parts(checking, reading.parts);
  for (const auto& other : reading.other_languages) {
    checking.words("other_languages", other.label_name);
    check_parts(checking, other.parts);
  }
  checking.free_words("limit_food", reading.limit_food);
  checking.free_words("substitutes", reading.substitutes);
  for (const auto& allergen : reading.allergens) {
    checking.free_words("evidence", allergen.evidence);
    checking.free_words("process", allergen.process);
    checking.free_words("species", allergen.species);
  }
  if (reading.checked > session.today()) checking.refuse("checked", "is a day that has not come yet", "write the day the pack was read");
  std::vector<std::string> foods;  // a misspelt one would be held to no limit at all
  for (const auto& limit : terms.level_limits) {
    if (limit.food != "cake" && std::find(foods.begin(), foods.end(), limit.food) == foods.end()) foods.push_back(limit.food);
  }
  const bool limited = std::find(foods.begin(), foods.end(), reading.limit_food) != foods.end();
  if (!reading.limit_food.empty() && !foods.empty() && !limited) {
    checking.refuse("limit_food", fmt::format("the rules in force have no limit for \"{}\"", reading.limit_food),
                    fmt::format("write one of {}, or leave it out", fmt::join(foods, ", ")));
  }
}

LabelTerms terms_today(const Session& session) {
  auto terms = session.label_terms(session.today());
  if (!terms) throw Fault{exit_status::configuration, describe(terms.error().front())};
  return std::move(terms).value();
}

/// The readings in the documents, one for each that could be read.
std::vector<Specification> readings_in(Checking& checking, const Session& session, const std::vector<GivenDocument>& documents,
                                       const LabelTerms& terms) {
  const AllergenKeys keys = allergen_keys_on(session, session.today());
  std::vector<Specification> readings;
  for (const auto& document : documents) {
    checking.in_file(document.name);
    auto reading = read_specification(document, keys);
    if (!reading) {
      checking.take(reading.error());
      continue;
    }
    check_reading(checking, session, *reading, terms);
    checking.take(check_body(std::string{KindOf<Specification>::kind}, body_of(*reading), document.name));
    readings.push_back(std::move(reading).value());
  }
  checking.in_file("");
  return readings;
}

constexpr const char* every_pack = "all-in-house";

/// The packs that a person said are made as one of the readings says, each with the place that the reading will have.
std::map<LotId, std::uint64_t> packs_named(Checking& checking, const Session& session, const SpecificationTaking& taking,
                                           const std::vector<SpecificationChange>& changes,
                                           const std::map<std::string, std::uint64_t>& places) {
  std::map<LotId, std::uint64_t> named;
  const State& state = session.state();
  for (const auto& pack : taking.packs) {
    if (pack == every_pack) {
      for (const auto& change : changes) {
        for (const auto& id : change.here) named.emplace(id, places.at(change.document));
      }
      if (taking.packs.size() > 1) checking.refuse("--packs", "names packs and all of them", "write one or the other");
      if (named.empty()) checking.refuse("--packs", "no pack in the house is of it", "leave it out");
      continue;
    }
    const auto* lot = checking.known("--packs", state.lots, pack, "pack");
    if (lot == nullptr) continue;
    const auto of = std::find_if(changes.begin(), changes.end(), [&](const SpecificationChange& change) {
      return change.ingredient == lot->value.ingredient && change.supplier == lot->value.supplier;
    });
    if (of == changes.end()) {
      checking.refuse(
          "--packs",
          fmt::format("{} is {} from {}, of which nothing changes here", pack, lot->value.ingredient.text(), lot->value.supplier.text()),
          "name packs of what is read anew");
    } else {
      named.insert_or_assign(LotId{pack}, places.at(of->document));
    }
  }
  return named;
}

/// Notes that say of each pack that it stands under another reading.
std::vector<Draft> corrections(Session& session, const std::map<LotId, std::uint64_t>& packs, const std::string& why) {
  std::vector<Draft> drafts;
  for (const auto& [id, place] : packs) {
    const auto& lot = session.state().lots.at(id);
    Lot corrected = lot.value;
    corrected.specification = place;
    Draft draft = session.draft(corrected, id.text(), {lot.happened, lot.offset});
    draft.supersedes = lot.sequence;
    draft.why = sealed_json(session.seal(why));
    drafts.push_back(std::move(draft));
  }
  return drafts;
}

/// Works out what each change does, first of all its readings together.
void add_effects(Session& session, std::vector<SpecificationChange>& changes, const std::map<std::uint64_t, Specification>& readings,
                 const std::map<LotId, std::uint64_t>& named, const LabelTerms& terms, ZonedInstant at) {
  const State before = session.state();
  std::map<LotId, std::uint64_t> restated = named;
  if (named.empty()) {
    for (const auto& change : changes) {
      for (const auto& [place, reading] : readings) {
        if (reading.ingredient != change.ingredient || reading.supplier != change.supplier) continue;
        for (const auto& id : change.packs) restated.insert_or_assign(id, place);
      }
    }
  }
  const State on_file = with_readings(session, readings, {});
  const State made_so = with_readings(session, readings, restated);
  for (auto& change : changes) {
    if (!named.empty()) std::erase_if(change.packs, [&](const LotId& id) { return !named.contains(id); });
    const std::set<LotId> asked{change.packs.begin(), change.packs.end()};
    std::set<LotId> all;
    for (const auto& [id, lot] : before.lots) {
      if (lot.value.ingredient == change.ingredient && lot.value.supplier == change.supplier) all.insert(id);
    }
    change.recipes = recipes_changed(before, on_file, change.ingredient, terms, day_of(at.at, at.offset));
    change.batches = batches_touched(before, asked);
    if (!named.empty()) {  // what was decided is told as one thing
      change.if_made_so = cakes_changed(session, made_so, all, at);
      continue;
    }
    change.in_any_case = cakes_changed(session, on_file, all, at);
    change.if_made_so = asked.empty() ? std::vector<CakeChange>{} : cakes_changed(session, made_so, asked, at);
  }
}

}  // namespace

Result<TakenSpecifications> take_specifications(Session& session, const SpecificationTaking& taking) {
  Checking checking{session};
  checking.person();
  const ZonedInstant at = checking.moment("now");
  const LabelTerms terms = terms_today(session);
  const std::vector<Specification> read = readings_in(checking, session, taking.documents, terms);
  if (!checking.good()) return checking.refusals();

  const State& state = session.state();
  TakenSpecifications taken;
  std::vector<Draft> drafts;
  std::map<std::uint64_t, Specification> readings;  // by the place that each will have
  std::map<std::string, std::uint64_t> places;      // by document
  for (std::size_t i = 0; i < read.size(); ++i) {
    const std::uint64_t place = session.head().size + 1 + i;
    const std::string& document = taking.documents[i].name;
    drafts.push_back(session.draft(read[i], read[i].ingredient.text(), at));
    readings.emplace(place, read[i]);
    const auto& ingredient = state.ingredients.at(read[i].ingredient).value;
    const IngredientFacts facts = ingredient_facts(ingredient, read[i].ingredient, read[i]);
    for (auto& line : hint_complaints(name_with_parts(facts), facts.allergens, name_hints(), terms))
      taken.against_names.push_back(std::move(line));
    const auto* before = state.specification(read[i].ingredient, read[i].supplier, session.today());
    if (before == nullptr) continue;
    SpecificationChange change;
    change.document = document;
    change.ingredient = read[i].ingredient;
    change.supplier = read[i].supplier;
    change.name = state.ingredients.at(read[i].ingredient).value.name;
    change.before = before->place;
    change.checked_before = state.last_looked(before->place);
    change.older = read[i].checked < before->value.checked;
    change.says = differences_between(before->value, read[i], terms);
    if (change.says.empty()) continue;
    change.packs = packs_in_question(state, change.ingredient, change.supplier, before->place);
    change.here = in_house(state, change.packs);
    places.emplace(document, place);
    taken.changes.push_back(std::move(change));
  }
  if (!taking.packs.empty() && taken.changes.empty())
    checking.refuse("--packs", "nothing changes that a pack could be made by already", "leave it out");
  const auto named = packs_named(checking, session, taking, taken.changes, places);
  for (const auto& [id, place] : named) {
    const Note* tip = tip_of(session.notes(), state.lots.at(id).place);
    if (taking.accept && tip != nullptr) refuse_while_complained(checking, session, *tip);
  }
  if (taking.accept && !named.empty() && taking.why.empty())
    checking.refuse("--why", "is missing: these packs were recorded under another reading", "write how you know that they are made so");
  if (!taking.packs.empty() && !taking.accept && !taking.why.empty()) checking.free_words("--why", taking.why);
  if (!checking.good()) return checking.refusals();

  if (!taken.changes.empty()) add_effects(session, taken.changes, readings, named, terms, at);
  const bool touches = std::any_of(taken.changes.begin(), taken.changes.end(), [](const auto& change) { return change.touches(); });
  if (touches && !taking.accept) return taken;
  for (auto& draft : corrections(session, named, taking.why)) drafts.push_back(std::move(draft));
  taken.booked = session.book(std::move(drafts));
  return taken;
}

Result<Booked> add_specifications(Session& session, const std::vector<GivenDocument>& documents) {
  SpecificationTaking taking;
  taking.documents = documents;
  taking.accept = true;
  auto taken = take_specifications(session, taking);
  if (!taken) return taken.error();
  return std::move(taken).value().booked.value();
}

}  // namespace tierproof
