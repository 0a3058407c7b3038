#include "list_rows.h"
#include "tierproof/app/looking.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/stores.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

DataCell name_of_firm(const std::optional<Firm>& firm) { return firm ? cell_of(firm->name) : DataCell{}; }
DataCell address_of_firm(const std::optional<Firm>& firm) { return firm ? cell_of(firm->address) : DataCell{}; }

/// The allergens of which the pack says `presence`, in the law's order.
DataCell allergens_with(const Specification& specification, std::string_view presence) {
  std::vector<std::string> keys;
  for (const auto& allergen : specification.allergens) {
    if (allergen.presence == presence) keys.push_back(allergen.allergen);
  }
  return cell_of(keys);
}

DataCell languages_of(const Specification& specification) {
  std::vector<std::string> languages;
  for (const auto& in : specification.other_languages) languages.push_back(in.language);
  return cell_of(languages);
}

/// What has to be looked at again some day, with how long ago somebody last did.
std::vector<DataRow> to_look_at(const Session& session, const Recorded<Specification>& r) {
  for (const auto& one : specifications_to_look_at(session, session.today())) {
    if (one.place != r.place) continue;
    return {cells(r.value.ingredient, r.value.supplier, one.last_looked, one.days_old, one.days_left, one.packs)};
  }
  return {};
}

/// A row a part of what a pack is made of; a part of a part says what it is in: `chocolate > sugar`.
void parts_of_pack(std::vector<DataRow>& rows, const Specification& specification, const std::vector<SpecifiedPart>& parts,
                   const std::string& within) {
  for (const auto& part : parts) {
    const std::string name = within + part.name;
    rows.push_back(cells(specification.ingredient, specification.supplier, specification.checked, name, scaled_cell(part.share_ppm, 4),
                         part.additive, part.additive_class, part.works_in_cake, part.brings, part.marks, part.processing_aid,
                         part.why_idle, scaled_cell(part.ug_per_kg, 3)));
    parts_of_pack(rows, specification, part.parts, name + " > ");
  }
}

/// When a pack was opened by the records: its own day, or that of the first note that says so.
DataCell day_opened(const State& state, const Recorded<Lot>& lot) {
  if (lot.value.opened) return cell_of(*lot.value.opened);
  std::optional<Date> first;
  for (const auto& opened : state.opened) {
    if (opened.value.lot.text() != lot.subject) continue;
    const Date day = day_of(opened.happened, opened.offset);
    if (!first || day < *first) first = day;
  }
  return cell_of(first);
}

DataCell left_of(const Session& session, const std::string& subject) {
  return DataCell{ExactDecimal{remaining_mg(session.state(), subject), 3}};
}

std::vector<KitchenList> lists_about_food() {
  return {
      list_of<Supplier>("suppliers", "whom food is bought from", &State::suppliers,
                        {"supplier", "name", "address", "owner_of_food", "owner_of_food_address", "received_for", "received_for_address"},
                        [](const Session&, const Recorded<Supplier>& r) {
                          return cells(r.subject, r.value.firm.name, r.value.firm.address, name_of_firm(r.value.consignor),
                                       address_of_firm(r.value.consignor), name_of_firm(r.value.consignee),
                                       address_of_firm(r.value.consignee));
                        }),
      list_of<Ingredient>("ingredients", "foods that are bought in", &State::ingredients,
                          {"ingredient", "name", "added_water", "sugar", "animal_origin", "egg"},
                          [](const Session&, const Recorded<Ingredient>& r) {
                            const Ingredient& i = r.value;
                            return cells(r.subject, i.name, i.added_water, i.sugar, i.animal_origin, i.egg);
                          }),
      list_of<Specification>("specifications", "what packs say, with their allergens", &State::specifications,
                             {"ingredient",
                              "supplier",
                              "label_name",
                              "contains",
                              "may_contain",
                              "not_known",
                              "not_an_ingredient",
                              "storage",
                              "use_within_days",
                              "additive",
                              "additive_class",
                              "fixed_by_law",
                              "varying_group",
                              "sweetening",
                              "polyols_percent",
                              "sulphites_mg_per_kg",
                              "water_percent",
                              "ph",
                              "water_activity",
                              "checked",
                              "checked_against",
                              "last_looked",
                              "kind",
                              "marks",
                              "glycyrrhizinic_mg_per_kg",
                              "limit_food",
                              "substitutes",
                              "dried_times",
                              "sold_as",
                              "languages"},
                             [](const Session& session, const Recorded<Specification>& r) {
                               const Specification& s = r.value;
                               return cells(
                                   s.ingredient, s.supplier, s.label_name, allergens_with(s, "contains"), allergens_with(s, "may contain"),
                                   allergens_with(s, "unknown"), allergens_with(s, "absent"), s.storage, s.use_within_days, s.additive,
                                   s.additive_class, s.fixed_by_law, s.varying_group, s.sweetening, scaled_cell(s.polyols_ppm, 4),
                                   scaled_cell(s.sulphites_ug_per_kg, 3), scaled_cell(s.water_ppm, 4), scaled_cell(s.ph_hundredths, 2),
                                   scaled_cell(s.water_activity_e4, 4), s.checked, s.checked_against, session.state().last_looked(r.place),
                                   s.kind, s.marks, scaled_cell(s.glycyrrhizinic_ug_per_kg, 3), s.limit_food, s.substitutes,
                                   scaled_cell(s.dried_thousandths, 3), s.sold_as, languages_of(s));
                             }),
      list_of_parts<Specification>("specification-parts", "what packs say they are made of, a row a part", &State::specifications,
                                   {"ingredient", "supplier", "checked", "part", "share_percent", "additive", "additive_class",
                                    "works_in_cake", "brings", "marks", "processing_aid", "why_left_out", "mg_per_kg"},
                                   [](const Session&, const Recorded<Specification>& r) {
                                     std::vector<DataRow> rows;
                                     parts_of_pack(rows, r.value, r.value.parts, "");
                                     return rows;
                                   }),
      list_of_parts<Specification>("to-look-at", "what packs say, and when somebody has to look again; days_left below 0: too old",
                                   &State::specifications, {"ingredient", "supplier", "last_looked", "days_old", "days_left", "packs"},
                                   to_look_at),
      list_of_parts<Specification>("specification-allergens", "what packs say of each allergen, with the evidence", &State::specifications,
                                   {"ingredient", "supplier", "checked", "allergen", "presence", "evidence", "process", "species"},
                                   [](const Session&, const Recorded<Specification>& r) {
                                     std::vector<DataRow> rows;
                                     for (const auto& a : r.value.allergens)
                                       rows.push_back(cells(r.value.ingredient, r.value.supplier, r.value.checked, a.allergen, a.presence,
                                                            a.evidence, a.process, a.species));
                                     return rows;
                                   }),
      list_of<Lot>("packs", "packs that came in, and what is left of them", &State::lots,
                   {"pack", "ingredient", "supplier", "code", "description", "mass_g", "left_g", "dispatched", "use_by", "best_before",
                    "opened", "withdrawn", "specification_note"},
                   [](const Session& session, const Recorded<Lot>& r) {
                     const Lot& l = r.value;
                     return cells(r.subject, l.ingredient, l.supplier, l.code, l.description, l.mass, left_of(session, r.subject),
                                  l.dispatched, l.use_by, l.best_before, day_opened(session.state(), r),
                                  session.state().withdrawn(LotId{r.subject}), l.specification);
                   }),
      list_of<Tub>("tubs", "tubs that packs are poured into", &State::tubs, {"tub", "name", "ingredient"},
                   [](const Session&, const Recorded<Tub>& r) { return cells(r.subject, r.value.name, r.value.ingredient); }),
      list_of_parts<Recipe>("recipes", "recipes as they are made now, a row an item", &State::recipes,
                            {"recipe",          "name",        "part",          "item",        "kind",           "mass_g",
                             "yield_g",         "egg",         "storage",       "life_days",   "life_reason",    "kit",
                             "heated_together", "heat_food",   "syrup_target",  "frozen_days", "thawed_days",    "label_name",
                             "remains_percent", "why_remains", "reconstituted", "heated",      "syrup_target_at"},
                            [](const Session&, const Recorded<Recipe>& r) {
                              const Recipe& recipe = r.value;
                              std::vector<DataRow> rows;
                              for (const auto& item : recipe.items)
                                rows.push_back(cells(r.subject, recipe.name, recipe.part, item.of, item.recipe ? "recipe" : "ingredient",
                                                     item.mass, recipe.yield, recipe.egg, recipe.storage, recipe.life_days,
                                                     recipe.life_reason, recipe.kit, recipe.heated_together, recipe.heat_food,
                                                     recipe.syrup_target ? format_degrees(*recipe.syrup_target) : "", recipe.frozen_days,
                                                     recipe.thawed_days, recipe.label_name, scaled_cell(item.remains_ppm, 4),
                                                     item.why_remains, item.reconstituted, recipe.heated, recipe.syrup_target_at));
                              return rows;
                            }),
      list_of<Batch>("batches", "what was made, and what is left of it", &State::batches,
                     {"batch", "recipe", "recipe_note", "yield_g", "weighed", "left_g", "left_over", "kit"},
                     [](const Session& session, const Recorded<Batch>& r) {
                       const Batch& b = r.value;
                       return cells(r.subject, b.recipe, b.recipe_version, b.yield, b.weighed, left_of(session, r.subject), b.left_over,
                                    b.kit);
                     }),
      list_of_parts<Batch>(
          "batch-uses", "what went into each batch, a row a pack or batch; certain = no: it may be in it, by way of a tub", &State::batches,
          {"batch", "used", "kind", "certain", "mass_g", "as_proposed", "tub", "remains_percent", "reconstituted"},
          [](const Session& session, const Recorded<Batch>& r) {
            std::vector<DataRow> rows;
            for (const auto& use : r.value.uses)
              rows.push_back(cells(r.subject, use.of, use.batch ? "batch" : "pack", true, use.mass, use.suggested, use.tub,
                                   scaled_cell(use.remains_ppm, 4), use.reconstituted));
            for (const auto& use : possible_in(session.state(), r))
              rows.push_back(cells(r.subject, use.lot, "pack", false, DataCell{}, DataCell{}, use.tub, DataCell{}, DataCell{}));
            return rows;
          }),
  };
}

std::vector<KitchenList> lists_about_cakes() {
  return {
      list_of<Cake>("cakes", "orders, how they are sold, and when they left", &State::cakes,
                    {"cake",
                     "name",
                     "event_day",
                     "customer",
                     "contact",
                     "boxed",
                     "sold_by",
                     "ordered",
                     "boxes",
                     "pieces",
                     "largest_face_cm2",
                     "planned",
                     "released_utc",
                     "handed_over_utc",
                     "where",
                     "label_rules",
                     "shows",
                     "marks",
                     "list",
                     "gtin",
                     "surface_cm2",
                     "varying"},
                    [](const Session& session, const Recorded<Cake>& r) {
                      const Cake& c = r.value;
                      const auto* release = session.state().release(CakeId{r.subject});
                      const auto* gone = session.state().hand_over(CakeId{r.subject});
                      return cells(r.subject, c.name, c.event, c.customer, c.contact, c.boxed, c.seller, c.ordered, c.boxes, c.pieces,
                                   c.largest_face_cm2, c.planned, release == nullptr ? DataCell{} : utc(release->happened),
                                   gone == nullptr ? DataCell{} : utc(gone->happened), c.where, c.label_rules, c.shows, c.marks, c.list,
                                   c.gtin, c.surface_cm2, c.varying);
                    }),
      list_of_parts<Tier>("tiers", "what each tier is built of, a row a batch", &State::tiers,
                          {"cake", "tier", "batch", "mass_g", "weighed"},
                          [](const Session&, const Recorded<Tier>& r) {
                            std::vector<DataRow> rows;
                            for (const auto& part : r.value.parts)
                              rows.push_back(cells(r.value.cake, r.value.tier, part.batch, part.mass, part.weighed));
                            return rows;
                          }),
      list_of_parts<Tier>("not-food", "parts of tiers that are not food", &State::tiers, {"cake", "tier", "what", "count"},
                          [](const Session&, const Recorded<Tier>& r) {
                            std::vector<DataRow> rows;
                            for (const auto& part : r.value.inedible)
                              rows.push_back(cells(r.value.cake, r.value.tier, part.what, part.count));
                            return rows;
                          }),
  };
}

std::vector<KitchenList> lists_about_the_kitchen() {
  return {
      list_of<Kitchen>("kitchen", "the business and the rules it chose", &State::kitchen,
                       {"name", "address", "zone", "altitude_m", "pressure_hpa", "label_rules", "temperature_rules", "retention_rules",
                        "country", "specification_days", "staff", "turnover", "sells", "cakes_a_year", "gs1_prefix"},
                       [](const Session&, const Recorded<Kitchen>& r) {
                         const Kitchen& k = r.value;
                         return cells(k.name, k.address, k.zone, k.altitude_m, scaled_cell(k.pressure_pa, 2), k.label_rules,
                                      k.temperature_rules, k.retention_rules, k.country, k.specification_days, k.staff, k.turnover, k.sells,
                                      k.units_a_year, k.gs1_prefix);
                       }),
      list_of<Person>("people", "who works here", &State::people, {"person", "name", "role", "left"},
                      [](const Session&, const Recorded<Person>& r) { return cells(r.subject, r.value.name, r.value.role, r.value.left); }),
      list_of<Equipment>("kit", "pieces of kit", &State::equipment, {"kit", "name"},
                         [](const Session&, const Recorded<Equipment>& r) { return cells(r.subject, r.value.name); }),
      list_of<Place>("places", "fridges, freezers, displays, vans and rooms", &State::places, {"place", "name", "kind"},
                     [](const Session&, const Recorded<Place>& r) { return cells(r.subject, r.value.name, r.value.kind); }),
      list_of<Probe>("thermometers", "thermometers, with their error as their makers say", &State::probes,
                     {"thermometer", "name", "unit", "error", "step", "measures", "hangs_in", "check_every_days"},
                     [](const Session&, const Recorded<Probe>& r) {
                       const Probe& p = r.value;
                       return cells(r.subject, p.name, unit_cell(p.scale), ExactDecimal{p.accuracy_hundredths, 2},
                                    ExactDecimal{p.resolution_hundredths, 2}, p.measures, p.hangs_in, p.check_days);
                     }),
      list_of<ColumnMapKept>("column-maps", "how loggers write their files", &State::column_maps, {"column_map", "text"},
                             [](const Session&, const Recorded<ColumnMapKept>& r) { return cells(r.subject, r.value.text); }),
  };
}

}  // namespace

std::vector<KitchenList> lists_of_things() {
  std::vector<KitchenList> all = lists_about_the_kitchen();
  for (auto& list : lists_about_food()) all.push_back(std::move(list));
  for (auto& list : lists_about_cakes()) all.push_back(std::move(list));
  return all;
}

}  // namespace tierproof
