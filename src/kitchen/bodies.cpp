#include "tierproof/kitchen/bodies.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "members.h"

namespace tierproof {

// clang-format off
template <class V, Describes<Kitchen> T> void describe_members(V& v, T& k) {
  v.needed("name", k.name); v.texts("address", k.address); v.needed("zone", k.zone);
  v.integer("altitude_m", k.altitude_m, -500, 5000); v.integer("pressure_pa", k.pressure_pa, 50'000, 110'000);
  v.needed("label_rules", k.label_rules); v.needed("temperature_rules", k.temperature_rules); v.needed("retention_rules", k.retention_rules);
  v.text("country", k.country); v.integer("specification_days", k.specification_days, 1, 3650); v.integer("staff", k.staff, 1, 100'000);
  v.integer("turnover", k.turnover, 0, 1'000'000'000); v.maybe_one_of("sells", k.sells, {"direct or local", "further"});
  v.integer("units_a_year", k.units_a_year, 0, 10'000'000); v.text("gs1_prefix", k.gs1_prefix); v.flag("demo", k.demo); v.text("seed", k.seed);
}
template <class V, Describes<Person> T> void describe_members(V& v, T& p) {
  v.words("name", p.name); v.one_of("role", p.role, {"owner", "helper"}); v.date("left", p.left);
}
template <class V, Describes<Firm> T> void describe_members(V& v, T& f) { v.needed("name", f.name); v.text("address", f.address); }
template <class V, Describes<Supplier> T> void describe_members(V& v, T& s) {
  v.one("firm", s.firm); v.one("consignor", s.consignor); v.one("consignee", s.consignee);
}
template <class V, Describes<Ingredient> T> void describe_members(V& v, T& i) {
  v.needed("name", i.name); v.flag("added_water", i.added_water); v.flag("sugar", i.sugar); v.flag("animal_origin", i.animal_origin);
  v.one_of("egg", i.egg, {"none", "shell", "pasteurised", "dried pasteurised"});
  v.maybe_one_of("boiled_as", i.boiled_as, {"glucose", "invert sugar", "acid", "none of these"});
}
template <class V, Describes<SpecifiedPart> T> void describe_members(V& v, T& p) {
  v.needed("name", p.name); v.integer("share_ppm", p.share_ppm, 1, 1'000'000); v.text("additive", p.additive);
  v.text("additive_class", p.additive_class); v.flag("works_in_cake", p.works_in_cake);
  v.texts("brings", p.brings); v.each("parts", p.parts); v.texts("marks", p.marks); v.text("why_idle", p.why_idle);
  v.flag("processing_aid", p.processing_aid); v.integer("ug_per_kg", p.ug_per_kg, 0, 1'000'000'000'000);
}
template <class V, Describes<SpecifiedAllergen> T> void describe_members(V& v, T& a) {
  v.needed("allergen", a.allergen); v.one_of("presence", a.presence, {"contains", "may contain", "absent", "unknown"}); v.text("evidence", a.evidence);
  v.text("process", a.process); v.text("species", a.species); v.flag("by_itself", a.by_itself);
}
template <class V, Describes<SpecifiedIn> T> void describe_members(V& v, T& s) {
  v.needed("language", s.language); v.needed("label_name", s.label_name); v.each("parts", s.parts);
}
template <class V, Describes<WordIn> T> void describe_members(V& v, T& w) {
  v.needed("language", w.language); v.needed("word", w.word); v.needed("there", w.there);
}
template <class V, Describes<NameIn> T> void describe_members(V& v, T& n) { v.needed("language", n.language); v.needed("name", n.name); }
template <class V, Describes<Specification> T> void describe_members(V& v, T& s) {
  v.id("ingredient", s.ingredient); v.id("supplier", s.supplier); v.needed("label_name", s.label_name); v.each("parts", s.parts);
  v.each("allergens", s.allergens); v.text("additive", s.additive); v.text("additive_class", s.additive_class);
  v.text("fixed_by_law", s.fixed_by_law); v.text("varying_group", s.varying_group); v.text("sweetening", s.sweetening);
  v.integer("polyols_ppm", s.polyols_ppm, 0, 1'000'000); v.integer("sulphites_ug_per_kg", s.sulphites_ug_per_kg, 0, 100'000'000'000);
  v.one_of("storage", s.storage, {"room", "fridge", "freezer"}); v.integer("use_within_days", s.use_within_days, 0, 3650);
  v.integer("water_ppm", s.water_ppm, 0, 1'000'000); v.integer("ph_hundredths", s.ph_hundredths, 0, 1400);
  v.integer("water_activity_e4", s.water_activity_e4, 0, 10'000); v.date("checked", s.checked); v.needed("checked_against", s.checked_against);
  v.text("kind", s.kind); v.texts("marks", s.marks); v.integer("glycyrrhizinic_ug_per_kg", s.glycyrrhizinic_ug_per_kg, 0, 1'000'000'000'000);
  v.text("limit_food", s.limit_food); v.text("substitutes", s.substitutes); v.integer("dried_thousandths", s.dried_thousandths, 1000, 1'000'000);
  v.maybe_one_of("sold_as", s.sold_as, {"food", "for parts removed before eating", "not for food", "not said"});
  v.each("other_languages", s.other_languages); v.integer("density_mg_per_ml", s.density_mg_per_ml, 1, 30'000); v.text("density_by", s.density_by);
}
template <class V, Describes<SpecificationLooked> T> void describe_members(V& v, T& l) {
  v.sequence("specification", l.specification); v.date("checked", l.checked); v.needed("checked_against", l.checked_against);
}
template <class V, Describes<RuleConfirmed> T> void describe_members(V& v, T& r) {
  v.needed("row", r.row); v.needed("jurisdiction", r.jurisdiction); v.needed("clause", r.clause); v.needed("body", r.body); v.words("told_by", r.told_by);
  v.text("says_sha256", r.says_sha256);
}
template <class V, Describes<Lot> T> void describe_members(V& v, T& l) {
  v.id("ingredient", l.ingredient); v.id("supplier", l.supplier); v.sequence("specification", l.specification); v.needed("code", l.code);
  v.text("description", l.description); v.mass("mass_mg", l.mass); v.date("dispatched", l.dispatched); v.date("use_by", l.use_by);
  v.date("best_before", l.best_before); v.date("opened", l.opened);
  v.maybe_one_of("egg_source", l.egg_source, {"own hens", "assured scheme", "no scheme"}); v.text("egg_scheme", l.egg_scheme); v.date("laid", l.laid);
}
template <class V, Describes<Withdrawal> T> void describe_members(V& v, T& w) { v.id("lot", w.lot); v.words("why", w.why); }
template <class V, Describes<Equipment> T> void describe_members(V& v, T& e) { v.needed("name", e.name); }
template <class V, Describes<Place> T> void describe_members(V& v, T& p) {
  v.needed("name", p.name); v.one_of("kind", p.kind, {"fridge", "freezer", "display", "van", "room", "out"});
}
template <class V, Describes<Probe> T> void describe_members(V& v, T& p) {
  v.needed("name", p.name); v.scale("scale", p.scale); v.integer("accuracy_hundredths", p.accuracy_hundredths, 0, 2'000);
  v.integer("resolution_hundredths", p.resolution_hundredths, 1, 500); v.one_of("measures", p.measures, {"food", "air"}); v.maybe_id("hangs_in", p.hangs_in);
  v.integer("check_days", p.check_days, 1, 3660);
}
template <class V, Describes<ProbeCheckMade> T> void describe_members(V& v, T& c) {
  v.id("probe", c.probe); v.one_of("method", c.method, {"ice", "boiling"}); v.degrees("read", c.read);
  v.integer("pressure_pa", c.pressure_pa, 50'000, 110'000); v.maybe_one_of("correction", c.correction, {"two-point"});
}
template <class V, Describes<RecipeItem> T> void describe_members(V& v, T& i) { 
  v.needed("of", i.of); v.flag("recipe", i.recipe); v.mass("mass_mg", i.mass); v.integer("remains_ppm", i.remains_ppm, 0, 1'000'000);
  v.text("why_remains", i.why_remains); v.flag("reconstituted", i.reconstituted);
}
template <class V, Describes<RecipeTin> T> void describe_members(V& v, T& t) {
  v.one_of("shape", t.shape, {"round", "square"}); v.integer("across", t.across, 1, 50'000); v.integer("depth", t.depth, 1, 50'000);
  v.integer("count", t.count, 1, 1000);
}
template <class V, Describes<MixingBowl> T> void describe_members(V& v, T& b) {
  v.mass("mass_mg", b.mass); v.one_of("of", b.of, {"steel", "glass", "copper", "aluminium"});
}
template <class V, Describes<Recipe> T> void describe_members(V& v, T& r) {
  v.needed("name", r.name); v.one_of("part", r.part, {"sponge", "filling", "icing", "decoration", "syrup"}); v.some("items", r.items);
  v.mass("yield_mg", r.yield); v.ids("kit", r.kit);
  v.one_of("egg", r.egg, {"none", "baked through", "pasteurised", "dried pasteurised", "raw, heated here", "raw, not heated"});
  v.ids("heated_together", r.heated_together); v.text("heat_food", r.heat_food); v.degrees("syrup_target", r.syrup_target);
  v.maybe_one_of("syrup_target_at", r.syrup_target_at, {"sea level"});
  v.one_of("storage", r.storage, {"room", "fridge", "freezer"}); v.integer("life_days", r.life_days, 0, 3650); v.needed("life_reason", r.life_reason);
  v.integer("frozen_days", r.frozen_days, 1, 3650); v.integer("thawed_days", r.thawed_days, 0, 3650);
  v.text("label_name", r.label_name); v.each("other_names", r.other_names); v.texts("varying", r.varying);
  v.maybe_one_of("heated", r.heated, {"heated", "not heated"});
  v.ids("boiled_together", r.boiled_together); v.one("bowl", r.bowl); v.degrees("white_degrees", r.white_degrees);
  v.degrees("bowl_degrees", r.bowl_degrees); v.one("tin", r.tin); v.integer("portions", r.portions, 1, 10'000);
}
template <class V, Describes<BatchUse> T> void describe_members(V& v, T& u) {
  v.needed("of", u.of); v.flag("batch", u.batch); v.mass("mass_mg", u.mass); v.flag("suggested", u.suggested); v.maybe_id("tub", u.tub);
  v.integer("remains_ppm", u.remains_ppm, 0, 1'000'000); v.flag("reconstituted", u.reconstituted);
}
template <class V, Describes<Batch> T> void describe_members(V& v, T& b) {
  v.id("recipe", b.recipe); v.sequence("recipe_version", b.recipe_version); v.some("uses", b.uses); v.mass("yield_mg", b.yield);
  v.flag("weighed", b.weighed); v.ids("kit", b.kit); v.maybe_one_of("left_over", b.left_over, {"left-over", "off-cuts"});
  v.moment("cracked", b.cracked); v.maybe_id("cracked_in", b.cracked_in); v.degrees("cracked_degrees", b.cracked_degrees);
  v.mass("left_behind_mg", b.left_behind);
}
template <class V, Describes<Tub> T> void describe_members(V& v, T& t) { v.needed("name", t.name); v.id("ingredient", t.ingredient); }
template <class V, Describes<TopUp> T> void describe_members(V& v, T& t) { v.id("tub", t.tub); v.id("lot", t.lot); }
template <class V, Describes<Emptied> T> void describe_members(V& v, T& e) { v.id("tub", e.tub); }
template <class V, Describes<Opened> T> void describe_members(V& v, T& o) { v.id("lot", o.lot); }
template <class V, Describes<ColumnMapKept> T> void describe_members(V& v, T& c) { v.needed("text", c.text); }
template <class V, Describes<ReadingsBlock> T> void describe_members(V& v, T& b) {
  v.id("probe", b.probe); v.needed("about", b.about); v.one_of("purpose", b.purpose, {"heat step", "syrup", "cooling", "chilled", "reheating"});
  v.integer("count", b.count, 1, 100'000'000); v.moment("first", b.first); v.moment("last", b.last); v.needed("sha256", b.sha256); v.text("file", b.file);
  v.text("file_sha256", b.file_sha256); v.integer("file_bytes", b.file_bytes, 0, largest_in_body); v.text("format", b.format);
  v.maybe_one_of("mark", b.mark, {"start", "now", "done"});
}
template <class V, Describes<Stay> T> void describe_members(V& v, T& s) {
  v.needed("what", s.what); v.id("place", s.place);
  v.maybe_one_of("use", s.use, {"keeping", "handling", "transfer", "service or display", "time as the control"});
  v.moment("marked", s.marked); v.text("procedure", s.procedure);
}
template <class V, Describes<Cake> T> void describe_members(V& v, T& c) {
  v.needed("name", c.name); v.date("event", c.event); v.words("customer", c.customer);
  v.one_of("boxed", c.boxed, {"before it was chosen", "after it was ordered", "not boxed"});
  v.one_of("seller", c.seller, {"the maker", "another business"}); v.one_of("ordered", c.ordered, {"face to face", "at a distance"});
  v.integer("boxes", c.boxes, 1, 100); v.integer("largest_face_cm2", c.largest_face_cm2, 1, 100'000);
  v.words("contact", c.contact); v.integer("pieces", c.pieces, 1, 10'000); v.ids("planned", c.planned);
  v.maybe_one_of("where", c.where, {"where it is made", "somewhere else", "delivered"}); v.text("label_rules", c.label_rules);
  v.texts("shows", c.shows); v.texts("marks", c.marks); v.maybe_one_of("list", c.list, {"merged", "by part"}); v.each("other_names", c.other_names);
  v.text("gtin", c.gtin); v.integer("surface_cm2", c.surface_cm2, 1, 1'000'000); v.texts("varying", c.varying); v.each("shows_in", c.shows_in);
}
template <class V, Describes<AllergyAnswer> T> void describe_members(V& v, T& a) {
  v.id("cake", a.cake); v.one_of("answer", a.answer, {"none", "named", "not asked"}); v.words("allergens", a.allergens);
  v.words("of_whom", a.of_whom); v.words("told", a.told);
}
template <class V, Describes<Acceptance> T> void describe_members(V& v, T& a) {
  v.id("cake", a.cake); v.words("allergens", a.allergens); v.words("written", a.written);
}
template <class V, Describes<Told> T> void describe_members(V& v, T& t) {
  v.id("cake", t.cake); v.one_of("when", t.when, {"before the order", "before it was handed over", "after it was handed over"});
  v.words("to", t.to); v.words("words", t.words); v.text("text", t.text);
}
template <class V, Describes<Deviation> T> void describe_members(V& v, T& d) {
  v.some_texts("about", d.about); v.one_of("from", d.from, {"control", "temperature", "person"}); v.text("control", d.control); v.words("what", d.what);
}
template <class V, Describes<DeviationClosed> T> void describe_members(V& v, T& c) {
  v.id("deviation", c.deviation); v.one_of("food", c.food, {"used", "remade", "binned", "no food touched"}); v.words("cause", c.cause); v.words("action", c.action);
}
template <class V, Describes<Complaint> T> void describe_members(V& v, T& c) {
  v.id("cake", c.cake); v.one_of("of", c.of, {"illness", "allergic reaction", "something in it", "spoiled", "damaged", "other"});
  v.words("from", c.from); v.words("what", c.what);
}
template <class V, Describes<ComplaintClosed> T> void describe_members(V& v, T& c) { v.id("complaint", c.complaint); v.words("outcome", c.outcome); }
template <class V, Describes<Disposal> T> void describe_members(V& v, T& d) { v.needed("what", d.what); v.mass("mass_mg", d.mass); v.words("why", d.why); }
template <class V, Describes<RecallBegun> T> void describe_members(V& v, T& r) {
  v.some_texts("of", r.of); v.flag("drill", r.drill); v.text("asked", r.asked); v.words("why", r.why);
  v.texts("reached", r.reached);
}
template <class V, Describes<RecallTick> T> void describe_members(V& v, T& t) {
  v.id("recall", t.recall); v.needed("what", t.what);
  v.one_of("did", t.did, {"told", "not reached", "set aside", "given back", "found", "not found", "taken out", "not needed"}); v.words("note", t.note);
  v.mass("weighed_mg", t.weighed);
}
template <class V, Describes<RecallClosed> T> void describe_members(V& v, T& c) { v.id("recall", c.recall); v.words("cause", c.cause); v.words("learned", c.learned); }
template <class V, Describes<Missed> T> void describe_members(V& v, T& m) {
  v.needed("about", m.about); v.date("day", m.day); v.words("note", m.note);
  v.one_of("because", m.because, {"forgotten", "nobody worked", "no thermometer", "other", "nobody said"}); v.maybe_one_of("of", m.of, {"regular record"});
}
template <class V, Describes<PrecautionDecided> T> void describe_members(V& v, T& p) {
  v.needed("about", p.about); v.needed("allergen", p.allergen); v.one_of("decision", p.decision, {"told", "not needed"}); v.needed("why", p.why);
  v.text("what", p.what); v.mass("amount_mg", p.amount); v.integer("protein_ppm", p.protein_ppm, 0, 1'000'000); v.mass("slice_mg", p.slice);
  v.flag("pieces", p.pieces);
}
template <class V, Describes<Erasure> T> void describe_members(V& v, T& e) {
  v.maybe_one_of("what", e.what, {"people who work here", "regular records"});
  if (e.what.empty()) v.id("cake", e.cake);
  v.one_of("because", e.because, {"the customer asked", "not needed any more"}); v.integer("texts", e.texts, 0, 1'000'000); v.texts("papers", e.papers);
  v.texts("files", e.files); v.texts("files_gone", e.files_gone);
}
template <class V, Describes<TierPart> T> void describe_members(V& v, T& p) {
  v.id("batch", p.batch); v.mass("mass_mg", p.mass); v.flag("weighed", p.weighed);
}
template <class V, Describes<Inedible> T> void describe_members(V& v, T& i) { v.needed("what", i.what); v.integer("count", i.count, 1, 1000); }
template <class V, Describes<Tier> T> void describe_members(V& v, T& t) {
  v.id("cake", t.cake); v.needed("tier", t.tier); v.some("parts", t.parts); v.each("inedible", t.inedible);
  v.ids("kit", t.kit);
}
template <class V, Describes<Cleaning> T> void describe_members(V& v, T& c) {
  v.id("equipment", c.equipment); v.one_of("grade", c.grade, {"wiped", "washed, looked clean", "washed and tested", "validated"});
  v.text("tested", c.tested); v.texts("clears", c.clears); v.maybe_one_of("found", c.found, {"nothing", "something"});
}
template <class V, Describes<CleaningValidated> T> void describe_members(V& v, T& x) {
  v.id("equipment", x.equipment); v.needed("method", x.method); v.some_texts("allergens", x.allergens); v.id("recipe", x.recipe);
  v.sequence("recipe_version", x.recipe_version); v.needed("by", x.by); v.needed("kept", x.kept); v.date("made", x.made);
}
template <class V, Describes<EquipmentChanged> T> void describe_members(V& v, T& x) { v.id("equipment", x.equipment); v.needed("what", x.what); }
template <class V, Describes<Validation> T> void describe_members(V& v, T& x) {
  v.id("recipe", x.recipe); v.sequence("recipe_version", x.recipe_version); v.degrees("at", x.at); v.integer("hold_ms", x.hold_ms, 0, 1'000'000'000); v.needed("by", x.by); v.needed("kept", x.kept);
  v.date("made", x.made);
}
template <class V, Describes<Adopted> T> void describe_members(V& v, T& a) {
  v.id("recipe", a.recipe); v.sequence("recipe_version", a.recipe_version); v.needed("row", a.row); v.needed("clause", a.clause);
  v.needed("says_sha256", a.says_sha256); v.integer("water_activity_millionths", a.water_activity_millionths, 1, 1'000'000); v.text("measured", a.measured);
  v.needed("why", a.why);
}
template <class V, Describes<RecipeAsStood> T> void describe_members(V& v, T& r) {
  v.id("recipe", r.recipe); v.sequence("recipe_version", r.recipe_version); v.mass("mass_mg", r.mass);
}
template <class V, Describes<Keeping> T> void describe_members(V& v, T& k) {
  v.some("of", k.of); v.each("within", k.within); v.maybe_id("cake", k.cake); v.one_of("from", k.from, {"measured", "written advice", "validation"});
  v.integer("water_activity_e4", k.water_activity_e4, 1, 10'000); v.integer("water_activity_error_e4", k.water_activity_error_e4, 0, 10'000);
  v.integer("ph_hundredths", k.ph_hundredths, 0, 1'400); v.integer("ph_error_hundredths", k.ph_error_hundredths, 0, 1'400);
  v.text("method", k.method); v.needed("by", k.by); v.date("made", k.made); v.text("kept", k.kept); v.maybe_one_of("place", k.place, {"room", "fridge"});
  v.integer("days", k.days, 1, 3650); v.text("says", k.says);
}
template <class V, Describes<ReleasedAgainst> T> void describe_members(V& v, T& a) {
  v.needed("control", a.control); v.needed("subject", a.subject); v.needed("verdict", a.verdict); v.words("finding", a.finding); v.words("reason", a.reason);
}
template <class V, Describes<Release> T> void describe_members(V& v, T& r) {
  v.id("cake", r.cake); v.sequence("judged_at", r.judged_at); v.each("against", r.against);
}
template <class V, Describes<HandOver> T> void describe_members(V& v, T& h) {
  v.id("cake", h.cake); v.words("to", h.to); v.words("told", h.told); v.degrees("degrees", h.degrees);
}
/// Of several cakes, or of a batch or pack: its note is about that.
static bool of_no_one_cake(std::string_view paper) {
  return paper == "counter list" || paper == "tub label" || paper == "shelf label" || paper == "recall report" || paper == "inspection record" ||
         paper == "records review";
}
template <class V, Describes<PaperIssued> T> void describe_members(V& v, T& p) {
  v.one_of("paper", p.paper, {"label", "record", "allergen sheet", "venue card", "hand-over note", "counter list", "tub label", "shelf label", "recall report", "inspection record", "records review"});
  if (!of_no_one_cake(p.paper)) v.id("cake", p.cake);
  v.one_of("form", p.form, {"pdf", "png", "json"}); v.text("stock", p.stock); v.integer("box", p.box, 0, 100);
  v.needed("head", p.head); v.needed("rules", p.rules); v.needed("program", p.program);
  v.needed("says", p.says); v.needed("sha256", p.sha256);
}
// clang-format on

TIERPROOF_BODY(Kitchen);
TIERPROOF_BODY(Person);
TIERPROOF_BODY(Supplier);
TIERPROOF_BODY(Ingredient);
TIERPROOF_BODY(Specification);
TIERPROOF_BODY(Lot);
TIERPROOF_BODY(Withdrawal);
TIERPROOF_BODY(Equipment);
TIERPROOF_BODY(Place);
TIERPROOF_BODY(Probe);
TIERPROOF_BODY(ProbeCheckMade);
TIERPROOF_BODY(Recipe);
TIERPROOF_BODY(Batch);
TIERPROOF_BODY(ReadingsBlock);
TIERPROOF_BODY(Stay);
TIERPROOF_BODY(Cake);
TIERPROOF_BODY(AllergyAnswer);
TIERPROOF_BODY(Acceptance);
TIERPROOF_BODY(Tier);
TIERPROOF_BODY(Cleaning);
TIERPROOF_BODY(Validation);
TIERPROOF_BODY(CleaningValidated);
TIERPROOF_BODY(EquipmentChanged);
TIERPROOF_BODY(Adopted);
TIERPROOF_BODY(Keeping);
TIERPROOF_BODY(Release);
TIERPROOF_BODY(HandOver);
TIERPROOF_BODY(PaperIssued);
TIERPROOF_BODY(Tub);
TIERPROOF_BODY(TopUp);
TIERPROOF_BODY(Emptied);
TIERPROOF_BODY(Opened);
TIERPROOF_BODY(ColumnMapKept);
TIERPROOF_BODY(Told);
TIERPROOF_BODY(Deviation);
TIERPROOF_BODY(DeviationClosed);
TIERPROOF_BODY(Complaint);
TIERPROOF_BODY(ComplaintClosed);
TIERPROOF_BODY(Disposal);
TIERPROOF_BODY(RecallBegun);
TIERPROOF_BODY(RecallTick);
TIERPROOF_BODY(RecallClosed);
TIERPROOF_BODY(Missed);
TIERPROOF_BODY(PrecautionDecided);
TIERPROOF_BODY(Erasure);
TIERPROOF_BODY(SpecificationLooked);
TIERPROOF_BODY(RuleConfirmed);

std::string write_block(const std::vector<LoggedReading>& readings) {
  std::string bytes;
  for (const auto& reading : readings) {
    const auto at = reading.at.time_since_epoch().count();
    if (reading.degrees) {
      bytes += fmt::format("{} {} {}\n", at, reading.degrees->hundredths, reading.degrees->scale == Scale::celsius ? 'C' : 'F');
    } else {
      std::string fault = reading.fault;  // one line a reading, whatever the thermometer wrote
      std::replace_if(
          fault.begin(), fault.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; }, ' ');
      bytes += fmt::format("{} fault {}\n", at, fault);
    }
  }
  return bytes;
}

Result<std::vector<LoggedReading>> read_block(std::string_view bytes) {
  std::vector<LoggedReading> readings;
  int line = 0;
  while (!bytes.empty()) {
    ++line;
    const auto refuse = [&] {
      return Refusal{"readings", line, "", "this line is not a reading",
                     "restore the kitchen file from a backup; verify names the note that sealed it"};
    };
    const auto end = bytes.find('\n');
    if (end == std::string_view::npos) return refuse();
    std::string_view row = bytes.substr(0, end);
    bytes.remove_prefix(end + 1);
    const auto take_number = [&row]() -> std::optional<std::int64_t> {
      std::int64_t value = 0;
      const auto [stop, error] = std::from_chars(row.data(), row.data() + row.size(), value);
      if (error != std::errc{} || stop == row.data() + row.size() || *stop != ' ') return std::nullopt;
      row.remove_prefix(static_cast<std::size_t>(stop - row.data()) + 1);
      return value;
    };
    const auto at = take_number();
    if (!at) return refuse();
    LoggedReading reading;
    reading.at = Instant{std::chrono::milliseconds{*at}};
    if (row.substr(0, 6) == "fault ") {
      reading.fault = row.substr(6);
    } else {
      const auto hundredths = take_number();
      if (!hundredths || (row != "C" && row != "F")) return refuse();
      reading.degrees = Degrees{*hundredths, row == "C" ? Scale::celsius : Scale::fahrenheit};
    }
    readings.push_back(std::move(reading));
  }
  return readings;
}

}  // namespace tierproof
