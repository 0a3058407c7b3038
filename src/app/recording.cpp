#include "tierproof/app/recording.h"

#include <set>

#include "checking.h"
#include "names_in_text.h"
#include "thermometer_checks.h"
#include "tierproof/app/tracing.h"
#include "tierproof/sums/gs1.h"
#include "tierproof/sums/gs1_scan.h"
#include "troubles.h"

namespace tierproof {
namespace {

/// Whether `what` is a batch or a cake, the two things that are put somewhere.
void known_batch_or_cake(Checking& checking, const State& state, const std::string& field, const std::string& what) {
  if (state.batches.contains(BatchId{what}) || state.cakes.contains(CakeId{what})) return;
  checking.refuse(field, fmt::format("there is no batch or cake called \"{}\"", what), "write its number, such as batch-2 or cake-1");
}

}  // namespace

std::vector<std::string> allergen_keys(const Session& session, Date on) {
  const auto terms = session.packs().label_terms(session.kitchen().label_rules, on);
  if (!terms) throw Fault{exit_status::configuration, describe(terms.error().front())};
  std::vector<std::string> keys;
  for (const auto& allergen : terms->allergens) keys.push_back(allergen.key);
  return keys;
}

AllergenKeys allergen_keys_on(const Session& session, Date on) {
  AllergenKeys keys{allergen_keys(session, on), {}};
  for (const auto& allergen : session.packs().known_allergens()) keys.known.push_back(allergen.key);
  return keys;
}

Result<Booked> add_person(Session& session, const std::string& id, const std::string& name, const std::string& role) {
  Checking checking{session};
  checking.person();
  checking.id("person", id);
  checking.unused("person", session.state().people, id);
  checking.words("--name", name);
  checking.choice("--role", role, {"owner", "helper"});
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, Person{session.seal(name), role}, id, checking.moment("now"));
}

Result<Booked> add_supplier(Session& session, const std::string& id, const Supplier& supplier) {
  Checking checking{session};
  checking.person();
  checking.id("supplier", id);
  checking.unused("supplier", session.state().suppliers, id);
  check_supplier(checking, supplier, "--");
  return book_one(session, checking, supplier, id, checking.moment("now"));
}

Result<Booked> add_ingredient(Session& session, const std::string& id, const Ingredient& ingredient) {
  Checking checking{session};
  checking.person();
  checking.id("ingredient", id);
  checking.unused("ingredient", session.state().ingredients, id);
  check_ingredient(checking, ingredient, "--");
  return book_one(session, checking, ingredient, id, checking.moment("now"));
}

Result<Booked> add_food(Session& session, const std::string& id, const Ingredient& ingredient, const std::optional<NewSupplier>& seller) {
  Checking checking{session};
  checking.person();
  checking.id("ingredient", id);
  checking.unused("ingredient", session.state().ingredients, id);
  check_ingredient(checking, ingredient, "--");
  if (seller) {
    checking.id("supplier", seller->id);
    checking.unused("supplier", session.state().suppliers, seller->id);
    check_supplier(checking, seller->supplier, "--supplier-");
  }
  const ZonedInstant at = checking.moment("now");
  if (!checking.good()) return checking.refusals();
  std::vector<Draft> drafts;
  if (seller) drafts.push_back(session.draft(seller->supplier, seller->id, at));
  drafts.push_back(session.draft(ingredient, id, at));
  return session.book(std::move(drafts));
}

Result<Booked> add_equipment(Session& session, const std::string& id, const std::string& name) {
  Checking checking{session};
  checking.person();
  checking.id("kit", id);
  checking.unused("kit", session.state().equipment, id);
  checking.no_sort_is_called("kit", id);
  checking.words("--name", name);
  return book_one(session, checking, Equipment{name}, id, checking.moment("now"));
}

Result<Booked> add_place(Session& session, const std::string& id, const Place& place) {
  Checking checking{session};
  checking.person();
  checking.id("place", id);
  checking.unused("place", session.state().places, id);
  checking.no_sort_is_called("place", id);
  checking.words("--name", place.name);
  checking.choice("--kind", place.kind, {"fridge", "freezer", "display", "van", "room", "out"});
  return book_one(session, checking, place, id, checking.moment("now"));
}

Result<Booked> add_probe(Session& session, const std::string& id, const Probe& probe) {
  Checking checking{session};
  checking.person();
  checking.id("thermometer", id);
  checking.unused("thermometer", session.state().probes, id);
  checking.no_sort_is_called("thermometer", id);
  checking.words("--name", probe.name);
  checking.choice("--measures", probe.measures, {"food", "air"});
  if (probe.accuracy_hundredths <= 0)
    checking.refuse("--error", "the thermometer's error is not known", "write what its maker says, such as 0.5C");
  if (probe.resolution_hundredths <= 0) checking.refuse("--step", "the smallest step it shows is not known", "write it, such as 0.1C");
  if (!probe.hangs_in.empty()) checking.known("--in", session.state().places, probe.hangs_in.text(), "place");
  return book_one(session, checking, probe, id, checking.moment("now"));
}

Result<Booked> add_recipes(Session& session, const std::vector<GivenDocument>& documents) {
  Checking checking{session};
  checking.person();
  const ZonedInstant at = checking.moment("now");
  std::vector<Draft> drafts;
  std::vector<std::string> together;  // recipes of the same call may name each other in this order
  for (const auto& document : documents) {
    checking.in_file(document.name);
    const auto named = read_recipe(document);
    if (!named) {
      checking.take(named.error());
      continue;
    }
    const Recipe& recipe = named->recipe;
    check_recipe(checking, session.state(), named->id, recipe, together);
    together.push_back(named->id);
    drafts.push_back(session.draft(recipe, named->id, at));
    checking.take(check_body(drafts.back().kind, drafts.back().body, document.name));
  }
  if (!checking.good()) return checking.refusals();
  return session.book(std::move(drafts));
}

namespace {

/// `given`, with what is left open filled in as of the last delivery of the same ingredient, and of the same supplier when one is named.
Delivery as_last_time(Checking& checking, const State& state, const Delivery& given) {
  if (!given.again) return given;
  const Recorded<Lot>* last = nullptr;
  for (const auto& [id, lot] : state.lots) {
    if (lot.value.ingredient.text() != given.ingredient) continue;
    if (!given.supplier.empty() && lot.value.supplier.text() != given.supplier) continue;
    if (last == nullptr || lot.happened >= last->happened) last = &lot;
  }
  Delivery delivery = given;
  if (last == nullptr) {
    checking.refuse("--again", fmt::format("no earlier delivery of {} is recorded", given.ingredient),
                    "record the first one in full: --from, --code, --mass and its date");
    return delivery;
  }
  if (delivery.supplier.empty()) delivery.supplier = last->value.supplier.text();
  if (delivery.description.empty()) delivery.description = last->value.description;
  if (!delivery.mass) delivery.mass = last->value.mass;
  return delivery;
}

/// Whose hens laid the eggs of `lot`, by which scheme, and when.
void take_eggs(Checking& checking, const Delivery& delivery, const Ingredient& ingredient, Date on, Lot& lot) {
  lot.egg_source = delivery.egg_source;
  lot.egg_scheme = delivery.egg_scheme;
  lot.laid = delivery.laid;
  if (ingredient.egg != "shell") {
    if (!lot.egg_source.empty() || !lot.egg_scheme.empty() || lot.laid)
      checking.refuse("--egg-source", fmt::format("{} is not recorded as shell eggs", delivery.ingredient),
                      "leave out --egg-source, --scheme and --laid, or record the ingredient with --egg shell");
    return;
  }
  if (!lot.egg_source.empty()) checking.choice("--egg-source", lot.egg_source, {"own hens", "assured scheme", "no scheme"});
  if (lot.egg_source == "assured scheme") {
    checking.words("--scheme", lot.egg_scheme);
  } else if (!lot.egg_scheme.empty()) {
    checking.refuse("--scheme", "belongs to eggs of an assured scheme", "add --egg-source \"assured scheme\", or leave it out");
  }
  if (!lot.laid) return;
  if (*lot.laid > on)
    checking.refuse("--laid", "lies after the day they came", "copy the day of lay from the box, or write when you collected them");
  for (const auto& last : {lot.use_by, lot.best_before}) {
    if (last && *lot.laid > *last) checking.refuse("--laid", "lies after the date on the box", "check both dates");
  }
}

}  // namespace

namespace {

/// What stands in the scanned code where it was not typed; refused where it was typed otherwise.
Delivery with_scanned(Checking& checking, const Session& session, Delivery delivery) {
  if (delivery.scanned.empty()) return delivery;
  const auto scan = read_gs1_scan(delivery.scanned, int{session.today().year()}, "--scanned");
  if (!scan) {
    checking.take(scan.error());
    return delivery;
  }
  const auto take = [&](const char* option, auto& typed, const auto& found, bool is_typed, bool is_found) {
    if (!is_found) return;
    if (is_typed && typed != found)
      checking.refuse(option, "says something else than the scanned code", "look at the pack: leave out what is wrong");
    if (!is_typed) typed = found;
  };
  take("--code", delivery.code, scan->lot, !delivery.code.empty(), !scan->lot.empty());
  take("--use-by", delivery.use_by, scan->use_by, delivery.use_by.has_value(), scan->use_by.has_value());
  take("--best-before", delivery.best_before, scan->best_before, delivery.best_before.has_value(), scan->best_before.has_value());
  if (!delivery.mass && scan->net) delivery.mass = scan->net;  // several packs of one code may have come: a typed mass is theirs
  return delivery;
}

}  // namespace

Result<Booked> receive(Session& session, const Delivery& typed) {
  Checking checking{session};
  checking.person();
  const Delivery given = with_scanned(checking, session, typed);
  const Delivery delivery = as_last_time(checking, session.state(), given);
  if (!checking.good()) return checking.refusals();
  const ZonedInstant at = checking.moment(delivery.at);
  const Date on = day_of(at.at, at.offset);
  const auto* ingredient = checking.known("ingredient", session.state().ingredients, delivery.ingredient, "ingredient");
  const auto* supplier = checking.known("--from", session.state().suppliers, delivery.supplier, "supplier");
  Lot lot{IngredientId{delivery.ingredient},
          SupplierId{delivery.supplier},
          0,
          delivery.code,
          delivery.description,
          delivery.mass.value_or(Mass{}),
          delivery.dispatched,
          delivery.use_by,
          delivery.best_before,
          {}};
  if (ingredient != nullptr && supplier != nullptr) {
    const auto* specification = session.state().specification(lot.ingredient, lot.supplier, on);
    if (specification == nullptr) {
      checking.refuse("ingredient",
                      fmt::format("nothing is recorded of what the pack of {} from {} says", delivery.ingredient, delivery.supplier),
                      "record what the pack says first (specification)");
    } else {
      lot.specification = specification->place;
    }
    if (lot.description.empty()) lot.description = ingredient->value.name;
  }
  if (ingredient != nullptr) take_eggs(checking, delivery, ingredient->value, on, lot);
  checking.words("--code", lot.code);
  checking.free_words("--as", lot.description);
  if (!delivery.mass || *delivery.mass <= Mass{})
    checking.refuse("--mass", "how much came is not given", "write it with its unit, such as 1.5kg");
  if (ingredient != nullptr && ingredient->value.animal_origin && !lot.dispatched) {
    checking.refuse("--dispatched", "food of animal origin is received with the day it was sent",
                    "copy the dispatch date from the delivery note");
  }
  if (lot.dispatched && *lot.dispatched > on) checking.refuse("--dispatched", "lies after the day it came", "check the delivery note");
  const bool of_own_hens = lot.egg_source == "own hens" && lot.laid;  // nobody printed a date on them
  if (!lot.use_by && !lot.best_before && !of_own_hens && ingredient != nullptr && !ingredient->value.added_water) {
    checking.refuse("--use-by", "no date is given", "copy the use-by or best-before date from the pack (--use-by or --best-before)");
  }
  if (lot.use_by && *lot.use_by < on) checking.refuse("--use-by", "had passed when it came", "refuse the delivery, or check the date");
  if (!checking.good()) return checking.refusals();
  Draft draft = session.draft(lot, session.next<Lot>("pack"), at);
  if (auto refusals = check_body(draft.kind, draft.body, "what is recorded"); !refusals.empty()) return refusals;
  const bool by_the_code = typed.code.empty() && !delivery.scanned.empty();
  if (by_the_code && draft.how == Arrival::typed_then) draft.how = Arrival::scanned;
  return session.book({std::move(draft)});
}

Result<Booked> withdraw(Session& session, const std::string& lot, const std::string& why) {
  Checking checking{session};
  checking.person();
  checking.known("pack", session.state().lots, lot, "pack");
  checking.free_words("--why", why);
  if (why.empty()) checking.refuse("--why", "is missing", "write what the supplier or you found");
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, Withdrawal{LotId{lot}, session.seal(why)}, lot, checking.moment("now"));
}

Result<Booked> put(Session& session, const std::string& what, const std::string& place, const std::string& at, const PutFor& purpose) {
  Checking checking{session};
  checking.person();
  known_batch_or_cake(checking, session.state(), "what", what);
  checking.known("--in", session.state().places, place, "place");
  Stay stay{what, PlaceId{place}, purpose.use, {}, purpose.procedure};
  if (!purpose.use.empty())
    checking.choice("--for", purpose.use, {"keeping", "handling", "transfer", "service or display", "time as the control"});
  if (!purpose.procedure.empty()) checking.words("--procedure", purpose.procedure);
  for (const auto& [option, text] : {std::pair{"--marked", &purpose.marked}, std::pair{"--procedure", &purpose.procedure}}) {
    if (!text->empty() && purpose.use != "time as the control")
      checking.refuse(option, "belongs to time as the control", "add --for \"time as the control\", or leave it out");
  }
  const ZonedInstant moved = checking.moment(at);
  if (!purpose.marked.empty()) {
    if (const auto marked = session.time_of(purpose.marked, "--marked"); !marked) {
      checking.take(marked.error());
    } else if (marked->at <= moved.at) {
      checking.refuse("--marked", "is not later than when it was taken out", "write the time by which it is used or thrown away");
    } else {
      stay.marked = marked->at;
    }
  }
  return book_one(session, checking, stay, what, moved);
}

Result<Booked> file_validation(Session& session, const Validation& validation) {
  Checking checking{session};
  checking.person();
  const auto* recipe = checking.known("recipe", session.state().recipes, validation.recipe.text(), "recipe");
  checking.words("--made-by", validation.by);
  checking.words("--kept", validation.kept);
  if (validation.hold_ms <= 0) checking.refuse("--hold", "how long the mix is held is missing", "write it in minutes, such as 4");
  if (validation.made > session.today()) checking.refuse("--on", "is a day that has not come yet", "write the day of the report");
  Validation filed = validation;
  if (recipe != nullptr) filed.recipe_version = recipe->place;
  return book_one(session, checking, filed, validation.recipe.text(), checking.moment("now"));
}

Result<Booked> build_tier(Session& session, const Tiering& tiering) {
  Checking checking{session};
  checking.person();
  checking.known("cake", session.state().cakes, tiering.cake, "cake");
  checking.words("tier", tiering.tier);
  const auto at = checking.moment(tiering.at);
  Tier tier{CakeId{tiering.cake}, tiering.tier, {}, {}, {}};
  for (const auto& [batch, weighed] : tiering.parts) {
    const auto* known = checking.known("--part", session.state().batches, batch, "batch");
    if (known == nullptr) continue;
    const std::int64_t left = remaining_mg(session.state(), batch);
    const Mass mass = weighed.value_or(Mass::milligrams(std::max<std::int64_t>(left, 0)));
    tier.parts.push_back({BatchId{batch}, mass, weighed && !tiering.estimated});
    if (!weighed && left <= 0)
      checking.refuse("--part", fmt::format("nothing is left of {} by the records", batch),
                      "write how much of it went in, or name another batch");
    if (std::count_if(tiering.parts.begin(), tiering.parts.end(), [&](const auto& part) { return part.first == batch; }) > 1) {
      checking.refuse("--part", fmt::format("{} is named twice", batch), "add the two masses together");
    }
    if (known->happened > at.at)
      checking.refuse("--part", fmt::format("{} was made after this", batch), "check the time, or name another batch");
    if (mass.to_milligrams() > left) {
      checking.refuse("--part",
                      fmt::format("{} of {} is more than the {} that is left of it", format_mass(mass), batch,
                                  format_mass(Mass::milligrams(std::max<std::int64_t>(left, 0)))),
                      "weigh again, or correct the batch's yield");
    }
  }
  for (const auto& kit : tiering.kit) {
    checking.known("--kit", session.state().equipment, kit, "piece of kit");
    tier.kit.emplace_back(kit);
  }
  if (tiering.parts.empty())
    checking.refuse("--part", "a tier is built of something", "write each batch with its mass, such as batch-2=900g");
  for (const auto& [what, count] : tiering.inedible) {
    checking.words("--not-food", what);
    tier.inedible.push_back({what, count});
  }
  for (const auto& other : session.state().tiers) {
    if (other.value.cake == tier.cake && other.value.tier == tier.tier) {
      checking.refuse("tier", fmt::format("the {} tier is recorded already, as note {}", tier.tier, other.sequence),
                      fmt::format("correct note {}, or name another tier", other.sequence));
    }
  }
  return book_one(session, checking, tier, tiering.cake, at);
}

const Note* newest_or_refuse(Session& session, Checking& checking, std::uint64_t sequence) {
  const Note* tip = tip_of(session.notes(), sequence);
  if (tip == nullptr) {
    checking.refuse("note", fmt::format("there is no note {}", sequence),
                    fmt::format("the records hold notes 1 to {}", session.head().size));
  } else if (tip->sequence != sequence) {
    checking.refuse("note", fmt::format("note {} was already corrected by note {}", sequence, tip->sequence),
                    fmt::format("correct note {}", tip->sequence));
  } else if (tip->body.is_null()) {
    checking.refuse("note", fmt::format("note {} is void", sequence), "record it anew");
  } else if (tip->kind == KindOf<Erasure>::kind) {
    checking.refuse("note", fmt::format("note {} tells what was erased", sequence),
                    "it stays as it is; what was erased does not come back");
  } else if (tip->kind == KindOf<PaperIssued>::kind || tip->kind == KindOf<Release>::kind || tip->kind == KindOf<HandOver>::kind) {
    checking.refuse("note", fmt::format("note {} tells of a decision or a paper that went out", sequence),
                    "record what happened next; it stays as it is");
  } else if (tip->kind == KindOf<HazardPlan>::kind) {
    checking.refuse("note", fmt::format("note {} is a version of the hazard plan, and cakes name it", sequence),
                    "take over a further version with plan-take; it stays as it is");
  } else if (tip->kind.starts_with("recall")) {
    checking.refuse("note", fmt::format("note {} is part of a recall", sequence),
                    "make a further step, which counts from then on, or close the recall; it stays as it is");
  } else {
    refuse_while_complained(checking, session, *tip);
    return tip;
  }
  return nullptr;
}

namespace {

/// Cakes that are still here keep a GTIN that begins with the kitchen's prefix, whatever becomes of it.
void check_gtins_of(Checking& checking, const State& state, const Kitchen& kitchen) {
  for (const auto& [id, cake] : state.cakes) {
    if (cake.value.gtin.empty() || state.hand_over(id) != nullptr) continue;
    if (read_own_gtin(cake.value.gtin, kitchen.gs1_prefix, "")) continue;
    checking.refuse("gs1_prefix", fmt::format("{} has the GTIN {}, which does not begin with it", id.text(), cake.value.gtin),
                    fmt::format("take the GTIN out of note {} first", cake.sequence));
  }
}

/// The day that something was seen, made or said lies ahead as little in a correction as at first: it would never be too old.
void check_days_past(Checking& checking, Date today, const std::string& kind, const Json& body) {
  static constexpr std::pair<std::string_view, const char*> days[] = {
      {"", "checked"}, {"", "made"}, {KindOf<Missed>::kind, "day"}, {KindOf<Advice>::kind, "on"}};
  for (const auto& [of, member] : days) {
    const Json* value = (of.empty() || kind == of) && body.is_object() ? body.find(member) : nullptr;
    const auto day = value != nullptr && value->is_text() ? parse_date(value->text()) : std::nullopt;
    if (day && *day > today)
      checking.refuse(member, fmt::format("{} has not come yet", format_date_long(*day)), "write the day that it was, up to today");
  }
}

/// What a correction may not do although its form is right: claim something, forge or exchange sealed words, or turn a real kitchen into
/// a demo and back.
void check_correction(Checking& checking, const State& state, const RulePacks& packs, const Json& now, const Json& before,
                      const std::string& kind) {
  std::set<std::string> sealed, texts;
  const auto collect = [&](const auto& self, const Json& value) -> void {
    if (value.is_text()) texts.insert(value.text());
    if (value.is_object()) {
      if (value.find("sealed") != nullptr) sealed.insert(write_canonical(value));
      for (const auto& [key, member] : value.object()) self(self, member);
    } else if (value.is_array()) {
      for (const auto& item : value.array()) self(self, item);
    }
  };
  collect(collect, before);
  const auto walk = [&](const auto& self, const Json& value, const std::string& key) -> void {
    if (value.is_object()) {
      if (value.find("sealed") != nullptr) {
        if (!sealed.contains(write_canonical(value)))
          checking.refuse(key, "sealed words cannot be exchanged by a correction", "void the note and record it anew");
        return;
      }
      for (const auto& [name, member] : value.object()) self(self, member, name);
    } else if (value.is_array()) {
      for (const auto& item : value.array()) self(self, item, key);
    } else if (value.is_text()) {
      checking.free_words(key, value.text());
      const bool of_sort = kind == KindOf<RegularSort>::kind && !texts.contains(value.text());
      if (const std::string part = of_sort ? part_of_a_name_in(state, value.text()) : std::string{}; !part.empty())
        checking.refuse(key, fmt::format("\"{}\" is part of the name of a recorded person, and this is kept for good", part),
                        "write the role, such as \"whoever locks up\"");
    }
  };
  walk(walk, now, "body");
  if (kind == KindOf<Recipe>::kind) {
    if (const auto recipe = read_body<Recipe>(now, "")) check_egg(checking, state, *recipe);
  }
  if (kind == KindOf<Cake>::kind) {
    if (const auto cake = read_body<Cake>(now, "")) check_gtin(checking, cake->gtin, state.kitchen->value, "gtin");
  }
  if (kind != KindOf<Kitchen>::kind) return;
  if (const auto kitchen = read_body<Kitchen>(now, "")) {
    checking.take(check_choices(*kitchen, packs));
    check_gtins_of(checking, state, *kitchen);
  }
  for (const char* fixed : {"demo", "seed"}) {
    const Json* was = before.find(fixed);
    const Json* is = now.find(fixed);
    if ((was == nullptr) != (is == nullptr) || (was != nullptr && !(*was == *is))) {
      checking.refuse(fixed, "a kitchen is a demo from its first note on, or never", "begin another kitchen");
    }
  }
}

Result<Booked> supersede(Session& session, const Note& tip, Json body, const std::string& why) {
  Draft draft;
  draft.kind = tip.kind;
  draft.subject = tip.subject;
  draft.body = std::move(body);
  draft.happened = tip.happened;
  draft.offset = tip.offset;
  draft.how = session.arrival_of(tip.happened);
  draft.supersedes = tip.sequence;
  draft.why = sealed_json(session.seal(why));
  return session.book({std::move(draft)});
}

}  // namespace

namespace {

/// A batch can't be made of something that it went into itself.
void check_no_loop(Checking& checking, const State& state, const std::string& subject, const Batch& batch, const std::string& file) {
  for (const BatchUse& use : batch.uses) {
    if (!use.batch || !goes_into(state, subject, use.of)) continue;
    checking.refuse(file, fmt::format("{} is made of {} by this, and {} went into {}", subject, use.of, subject, use.of),
                    "name the batch that was really used; or correct the other batch first");
  }
}

}  // namespace

Result<Booked> correct(Session& session, std::uint64_t sequence, const GivenDocument& body, const std::string& why) {
  Checking checking{session};
  checking.person();
  if (why.empty()) checking.refuse("--why", "is missing", "write why the note was wrong");
  const Note* tip = newest_or_refuse(session, checking, sequence);
  const auto json = parse_json(body.text, body.name);
  if (!json) {
    checking.take(json.error());
  } else if (tip != nullptr) {
    checking.take(check_body(tip->kind, *json, body.name));
    check_correction(checking, session.state(), session.packs(), *json, tip->body, tip->kind);
    check_days_past(checking, session.today(), tip->kind, *json);
    if (tip->kind == KindOf<ProbeCheckMade>::kind) {
      if (const auto check = read_body<ProbeCheckMade>(*json, body.name))
        check_thermometer_check(checking, session, *check, {tip->happened, tip->offset}, sequence);
    }
    if (tip->kind == KindOf<Batch>::kind) {
      if (const auto batch = read_body<Batch>(*json, body.name)) check_no_loop(checking, session.state(), tip->subject, *batch, body.name);
    }
    if (*json == tip->body) checking.refuse(body.name, "says the same as the note does", "change what was wrong");
    if (tip->kind == KindOf<ReadingsBlock>::kind) {
      checking.refuse("note", "a block of readings is sealed as it came",
                      "of one that was typed give what the thermometer showed, 3.9C; of a file void the note and import the right one");
    }
    if (tip->kind == KindOf<Evidence>::kind) {
      checking.refuse("note", "what was attached is sealed as it came", "void it and attach the file again, to what it belongs to");
    }
  }
  if (!checking.good()) return checking.refusals();
  return supersede(session, *tip, *json, why);
}

Result<Booked> void_note(Session& session, std::uint64_t sequence, const std::string& why) {
  Checking checking{session};
  checking.person();
  if (why.empty()) checking.refuse("--why", "is missing", "write why the note should never have been made");
  const Note* tip = newest_or_refuse(session, checking, sequence);
  if (tip != nullptr && tip->kind == KindOf<Kitchen>::kind) checking.refuse("note", "the kitchen itself cannot be voided", "correct it");
  if (tip != nullptr && tip->kind == KindOf<Person>::kind && session.state().people.size() == 1)
    checking.refuse("note", "is the only person who can record anything here", "record somebody else first");
  if (tip != nullptr && tip->kind == KindOf<Cake>::kind && session.state().hand_over(CakeId{tip->subject}) != nullptr)
    checking.refuse("note", fmt::format("{} was handed over", tip->subject), "it happened: correct what is wrong in the order");
  if (!checking.good()) return checking.refusals();
  return supersede(session, *tip, nullptr, why);
}

Result<Booked> person_left(Session& session, const std::string& id, std::optional<Date> last) {
  Checking checking{session};
  checking.person();
  const auto* person = checking.known("person", session.state().people, id, "person");
  if (!last) last = session.today();
  if (*last > session.today()) checking.refuse("--on", "is a day that has not come yet", "tell it once they have left");
  if (!checking.good()) return checking.refusals();
  if (person->value.left == last)
    checking.refuse("person", fmt::format("{} left on {} by note {}", id, format_date_long(*last), person->sequence), "nothing more to do");
  const auto& people = session.state().people;
  if (std::none_of(people.begin(), people.end(), [&](const auto& one) { return one.first.text() != id && !one.second.value.left; }))
    checking.refuse("person", "is the only person who can record anything here", "record somebody else first");
  const Note* tip = newest_or_refuse(session, checking, person->sequence);
  if (!checking.good()) return checking.refusals();
  Json body = tip->body;
  body["left"] = Json{format_date(*last)};
  return supersede(session, *tip, std::move(body), "works here no more");
}

}  // namespace tierproof
