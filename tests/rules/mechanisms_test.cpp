// What each mechanism of a label says, and what its reader refuses: always with the file, the line and the parameter.
#include <gmock/gmock.h>

#include <set>

#include "pack_for_tests.h"

namespace tierproof {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

const Date year_2022 = day(2022, 1, 1);

/// The terms of a made-up place with these rows beside those that every set must have.
LabelTerms terms_with(const std::vector<std::string>& more, const std::vector<PackFile>& others = {}) {
  auto files = others;
  files.push_back(label_pack(more));
  const auto packs = read(files);
  if (!packs) throw std::runtime_error{told(packs.error())};
  auto terms = packs->label_terms("aa", year_2022);
  if (!terms) throw std::runtime_error{told(terms.error())};
  return std::move(terms).value();
}

struct Refused {
  const char* id;
  const char* mechanism;
  const char* parameters;
  const char* expected;  ///< field and message, from the parameter on
};
void PrintTo(const Refused& refused, std::ostream* out) { *out << refused.mechanism << " " << refused.parameters; }

class RowOfALabel : public testing::TestWithParam<Refused> {};
TEST_P(RowOfALabel, IsRefusedWithItsLineAndParameter) {
  const auto& wrong = GetParam();
  const auto told_why = refused({label_pack({row("x", wrong.mechanism, wrong.parameters)})});
  EXPECT_THAT(told_why, Contains(StartsWith(std::string{"aa/label.json:16: rows[11]."} + wrong.expected)));
}

INSTANTIATE_TEST_SUITE_P(
    Reader, RowOfALabel,
    testing::Values(
        Refused{"allergenNames", "allergen", R"("key": "k", "group": "g", "word": "w", "names": ["Milk"])", "names: \"Milk\" has capitals"},
        Refused{"allergenAtNothing", "allergen", R"("key": "k", "group": "g", "word": "w", "names": ["w"], "at_threshold": true)",
                "at_threshold: has no threshold"},
        Refused{"allergenSummary", "allergen",
                R"("key": "k", "group": "g", "word": "w", "names": ["w"], "in_summary": false, "summary_words": ["w"])",
                "summary_words: are given though"},
        Refused{"allergenLanguage", "allergen", R"("key": "k", "group": "g", "word": "w", "names": ["w"], "other_words": {"french": "x"})",
                "other_words: \"french\" is not a language"},
        Refused{"allergenOtherNames", "allergen", R"("key": "k", "group": "g", "word": "w", "names": ["w"], "other_names": {"fr": "lait"})",
                "other_names: \"fr\" has no list of texts"},
        Refused{"exemptionWords", "allergen-exemption", R"("allergen": "milk", "process": "p")", "words: is missing"},
        Refused{"formChoice", "allergen-form", R"("in_list": "all", "summary": "forbidden", "after_list": ["statements", "may contain"])",
                "in_list: \"all\" is not one of the choices"},
        Refused{"formOrder", "allergen-form", R"("in_list": "each", "summary": "required", "after_list": ["statements", "may contain"])",
                "after_list: \"summary\" has no place"},
        Refused{"formMayContain", "allergen-form", R"("in_list": "each", "summary": "forbidden", "after_list": ["statements"])",
                "after_list: \"may contain\" has no place"},
        Refused{"formTwice", "allergen-form",
                R"("in_list": "each", "summary": "forbidden", "after_list": ["statements", "statements", "may contain"])",
                "after_list: \"statements\" stands there twice"},
        Refused{"formForbidden", "allergen-form",
                R"("in_list": "each", "summary": "forbidden", "summary_emphasised": true, "after_list": ["statements", "may contain"])",
                "summary: is forbidden and emphasised"},
        Refused{"formNowhere", "allergen-form", R"("in_list": "none", "summary": "forbidden", "after_list": ["statements", "may contain"])",
                "in_list: shows allergens neither"},
        Refused{"emphasis", "emphasis", R"("style": "underlined")", "style: \"underlined\" is not one of the choices"},
        Refused{"waterRanked", "added-water", R"("ranked": "by guess")", "ranked: \"by guess\" is not one of the choices"},
        Refused{"anyOrderBoth", "any-order-below", R"("below": "2 %", "up_to": "2 %")", "up_to: is given beside below"},
        Refused{"anyOrderNothing", "any-order-below", "", "below: is missing"},
        Refused{"anyOrderNone", "any-order-below", R"("below": "0 %", "kinds": ["spice"])", "below: is nothing"},
        Refused{"anyOrderKinds", "any-order-below", R"("kinds": ["spices"])", "kinds: \"spices\" is not one of the choices"},
        Refused{"anyOrderNames", "any-order-below", R"("up_to": "2 %", "wording": "Contains little")",
                "wording: \"Contains little\" has no place for the names"},
        Refused{"anyOrderWording", "any-order-below", R"("kinds": ["salt"], "wording": "little {names}")",
                "wording: stands without a share"},
        Refused{"collectiveKind", "collective-name", R"("kind": "oil", "words": "oils", "members": "listed")",
                "kind: \"oil\" is not one of the choices"},
        Refused{"collectiveMembers", "collective-name", R"("kind": "spice", "words": "spices", "members": "named")",
                "members: \"named\" is not one of the choices"},
        Refused{"collectiveUpTo", "collective-name", R"("kind": "spice", "words": "spices", "members": "listed", "up_to": "2")",
                "up_to: \"2\" is not a share"},
        Refused{"andOr", "and-or", R"("below": "2 %", "wording": "contains", "joint": "and/or")",
                "wording: \"contains\" has no place for the names"},
        Refused{"relief", "compound-relief", R"("below": "2 %")", "compositions: has nothing in it"},
        Refused{"reliefOld", "compound-relief", R"("below": "2 %", "compositions": ["jam"], "fixed_by_law": ["jam"])",
                "fixed_by_law: is not a member that belongs here"},
        Refused{"statutory", "statutory-parts", R"("composition": "wheat flour", "parts": ["Iron"])", "parts: \"Iron\" has capitals"},
        Refused{"markUnknown", "mark-wording", R"("mark": "organic", "wording": "w", "placed": "name")",
                "mark: \"organic\" is not one of the choices"},
        Refused{"markPlaced", "mark-wording", R"("mark": "nano", "wording": "[nano]", "placed": "back")",
                "placed: \"back\" is not one of the choices"},
        Refused{"amountOf", "amount-wording", R"("of": "salt", "from_mg_per_kg": "1", "wording": "w", "placed": "statement")",
                "of: \"salt\" is not one of the choices"},
        Refused{"amountNumber", "amount-wording", R"("of": "sulphites", "from_mg_per_kg": 100, "wording": "w", "placed": "statement")",
                "from_mg_per_kg: is a number"},
        Refused{"amountNegative", "amount-wording", R"("of": "sulphites", "from_mg_per_kg": "-1", "wording": "w", "placed": "statement")",
                "from_mg_per_kg: \"-1\" is not an amount"},
        Refused{"amountBand", "amount-wording",
                R"("of": "sulphites", "from_mg_per_kg": "10", "below_mg_per_kg": "10", "wording": "w", "placed": "statement")",
                "below_mg_per_kg: is not above from_mg_per_kg"},
        Refused{"levelNumbers", "level-limit", R"("of": "sorbates", "food": "cake", "up_to_mg_per_kg": "2000")", "numbers: is missing"},
        Refused{"levelSulphites", "level-limit", R"("of": "sulphites", "numbers": ["E220"], "food": "cake", "up_to_mg_per_kg": "50")",
                "numbers: are given for sulphites"},
        Refused{"quantities", "named-quantities", R"("per_100g_above": "100", "one_decimal_below": "5 %")",
                "per_100g_above: \"100\" is not a share"},
        Refused{"quantityKinds", "named-quantities",
                R"("per_100g_above": "100 %", "one_decimal_below": "5 %", "flavour_kinds": ["vanilla"])",
                "flavour_kinds: \"vanilla\" is not one of the choices"},
        Refused{"classWithoutPlural", "additive-class", R"("title": "colour")", "plural: is missing"},
        Refused{"classWithoutOtherPlural", "additive-class",
                R"("title": "colour", "plural": "colours", "other_titles": {"de": "Farbstoff"})",
                "other_plurals: are not in the languages of other_titles"},
        Refused{"additiveOfNoNumber", "additive", R"("number": "X1", "name": "n", "classes": ["colour"], "status": "permitted")",
                "number: \"X1\" is not an additive's number"},
        Refused{"smallPackage", "small-package", R"("face_below_cm2": 10, "without": [], "words": "w")", "without: has nothing in it"},
        Refused{"smallPackageOfNoSize", "small-package", R"("without": ["lot"], "words": "w")", "face_below_cm2: is missing"},
        Refused{"smallPackageOfTwoSizes", "small-package",
                R"("face_below_cm2": 10, "surface_below_cm2": 100, "without": ["lot"], "words": "w")",
                "face_below_cm2: is given beside surface_below_cm2"},
        Refused{"additiveForm", "additive-form", R"("form": "class and name", "with_class": ["colour"])", "with_class: is given though"},
        Refused{"additiveShownBy", "additive-wording", R"("numbers": ["E102"], "wording": "w", "shown_by": "class")",
                "shown_by: \"class\" is not one of the choices"},
        Refused{"sharePlaced", "share-wording", R"("of": "polyols", "above": "10 %", "wording": "w", "placed": "after list")",
                "placed: \"after list\" is not one of the choices"},
        Refused{"lot", "lot-mark", R"("not_below_face_cm2": 10)", "prefix: is missing"},
        Refused{"netQuantity", "net-quantity", R"("form": "imperial")", "form: \"imperial\" is not one of the choices"},
        Refused{"country", "business-address", R"("countries": ["Xland"], "words": "w")", "countries: \"Xland\" is not a country"},
        Refused{"dateExemption", "date-exemption", R"("kind": "best before", "life_up_to_hours": 0, "words": "w")",
                "life_up_to_hours: 0 is out of range"},
        Refused{"months", "date-mark", R"("kind": "use by", "form": "day month", "wording": "w", "months": ["JA"])", "months: has 1 names"},
        Refused{"language", "language", R"("languages": ["english"])", "languages: \"english\" is not a language"},
        Refused{"languageTwice", "language", R"("languages": ["en", "en"])", "languages: \"en\" stands there twice"},
        Refused{"languageOfMark", "language", R"("languages": ["en"], "decimal_marks": {"fr": ","})",
                "decimal_marks: \"fr\" is no language"},
        Refused{"languageFromMemory", "language", R"("languages": ["en"], "words_from_memory": ["fr"])",
                "words_from_memory: \"fr\" is no language"},
        Refused{"age", "specification-age", R"("days": 0)", "days: 0 is out of range"},
        Refused{"doseStatus", "reference-dose", R"("allergen": "milk", "mg_protein": "2", "status": "law")",
                "status: \"law\" is not one of the choices"},
        Refused{"doseMissing", "reference-dose", R"("allergen": "milk", "status": "recommended")", "mg_protein: is missing"},
        Refused{"doseNoneSet", "reference-dose", R"("allergen": "milk", "mg_protein": "2", "status": "none set")",
                "mg_protein: is given though none is set"},
        Refused{"currency", "nutrition-exemption", R"("turnover_up_to": 2000000)", "currency: is missing"},
        Refused{"currencyForm", "nutrition-exemption", R"("turnover_up_to": 2000000, "currency": "euro")",
                "currency: \"euro\" is not a currency"},
        Refused{"exemptionOfAll", "nutrition-exemption", R"("direct_or_local": false)", "direct_or_local: is false and nothing else"},
        Refused{"energy", "energy-factor", R"("component": "sugar", "kj_per_g": "17", "kcal_per_g": "4")",
                "component: \"sugar\" is not one of the choices"},
        Refused{"roundingStart", "nutrition-rounding",
                R"("nutrient": "fat", "above": "0", "at_or_above": "0", "nearest": "1", "unit": "g")",
                "at_or_above: is given beside above"},
        Refused{"roundingBand", "nutrition-rounding", R"("nutrient": "fat", "above": "5", "up_to": "5", "nearest": "1", "unit": "g")",
                "up_to: lies under where the band starts"},
        Refused{"roundingNothing", "nutrition-rounding", R"("nutrient": "fat", "unit": "g")", "nearest: is missing"},
        Refused{"roundingBoth", "nutrition-rounding", R"("nutrient": "fat", "nearest": "1", "words": "0", "unit": "g")",
                "nearest: is given beside words"},
        Refused{
            "routeWhere", "route",
            R"("boxed": "any", "seller": "any", "ordered": "any", "where": "abroad", "route": "r", "words": "w", "declaration": "allergens")",
            "where: \"abroad\" is not one of the choices"},
        Refused{"typeSize", "type-size",
                R"("what": "quantity", "measured": "letter height", "face_above_mm2": 100, "face_up_to_mm2": 100, "minimum_um": 1600)",
                "face_up_to_mm2: is not above face_above_mm2"},
        Refused{"typeSizeSurface", "type-size",
                R"("what": "quantity", "measured": "letter height", "surface_from_cm2": 100, "surface_below_cm2": 100, "minimum_um": 1600)",
                "surface_below_cm2: is not above surface_from_cm2"},
        Refused{"wordingBraces", "wording", R"("key": "k", "text": "Contains {name}")", "text: \"Contains {name}\" has braces"},
        Refused{"wordingHalfBrace", "wording", R"("key": "k", "text": "Contains {names")", "text: \"Contains {names\" has braces"},
        Refused{"wordingOther", "wording", R"("key": "k", "text": "w", "other_texts": {"fr": ""})", "other_texts: \"fr\" has no text"},
        Refused{"wordingClaim", "wording", R"("key": "k", "text": "a vegan cake")", "text: \"a vegan cake\" holds the claim \"vegan\""},
        Refused{"claimElsewhere", "mark-wording", R"("mark": "nano", "wording": "vegan", "placed": "name")",
                "wording: \"vegan\" holds the claim"}),
    [](const auto& check) { return std::string{check.param.id}; });

TEST(Reader, RefusesTwoAnswersToOneQuestionOfALabel) {
  const std::vector<std::pair<std::string, std::string>> twice{
      {"allergen-exemption", R"("allergen": "milk", "process": "p", "words": "w")"},
      {"collective-name", R"("kind": "spice", "words": "spices", "members": "listed")"},
      {"and-or", R"("below": "2 %", "wording": "{names}", "joint": "or")"},
      {"mark-wording", R"("mark": "nano", "wording": "[nano]", "placed": "ingredient")"},
      {"amount-wording", R"("of": "sulphites", "from_mg_per_kg": "10", "wording": "w", "placed": "told")"},
      {"named-quantities", R"("per_100g_above": "100 %", "one_decimal_below": "5 %")"},
      {"additive-form", R"("form": "name")"},
      {"level-limit", R"("of": "sulphites", "food": "cake", "up_to_mg_per_kg": "50")"},
      {"lot-mark", R"("prefix": "L")"},
      {"net-quantity", R"("form": "metric")"},
      {"business-address", R"("countries": ["XA"], "words": "w")"},
      {"language", R"("languages": ["en"])"},
      {"specification-age", R"("days": 365)"},
      {"reference-dose", R"("allergen": "milk", "status": "none set")"},
      {"energy-factor", R"("component": "fat", "kj_per_g": "37", "kcal_per_g": "9")"},
      {"nutrition-rounding", R"("nutrient": "fat", "nearest": "1", "unit": "g")"}};
  for (const auto& [mechanism, parameters] : twice) {
    EXPECT_THAT(refused({label_pack({row("x", mechanism, parameters), row("y", mechanism, parameters)})}),
                Contains(HasSubstr("\"y\" answers the same question as \"x\" on 2020-01-01")))
        << mechanism;
  }
  EXPECT_THAT(refused({label_pack({row("other-form", "allergen-form",
                                       R"("in_list": "each", "summary": "forbidden", "after_list": ["statements", "may contain"])")})}),
              Contains(HasSubstr("answers the same question as \"form\" on 2020-01-01")));
  const std::vector<std::pair<std::string, std::string>> any_number{
      {"compound-relief", R"("compositions": ["any"], "below": "2 %")"},
      {"statutory-parts", R"("composition": "wheat flour", "parts": ["iron"])"},
      {"date-exemption", R"("kind": "best before", "life_up_to_hours": 24, "words": "w")"},
      {"nutrition-exemption", R"("staff_below": 10)"}};
  for (const auto& [mechanism, parameters] : any_number) {
    EXPECT_THAT(refused({label_pack({row("x", mechanism, parameters), row("y", mechanism, parameters)})}), IsEmpty()) << mechanism;
  }
}

TEST(Terms, OfALabelHoldWhatEachRowSays) {
  const auto terms = terms_with({
      row("a1", "allergen-exemption", R"("allergen": "gluten:wheat", "process": "wheat glucose syrup", "words": "glucose syrup")"),
      row("a2", "reference-dose", R"("allergen": "milk", "mg_protein": "2.0", "status": "recommended")"),
      row("a3", "reference-dose", R"("allergen": "gluten:wheat", "status": "none set")"),
      row("b1", "any-order-below", R"("up_to": "2 %", "wording": "Contains {limit} or less of {names}", "kinds": ["salt"])"),
      row("b2", "collective-name",
          R"("kind": "spice", "words": "spices", "members": "left out", "up_to": "2 %", "other_words": {"fr": "épices"})"),
      row("b3", "and-or", R"("below": "2 %", "wording": "contains {names}", "joint": "and/or")"),
      row("b4", "compound-relief", R"("compositions": ["chocolate", "jam"], "below": "2 %")"),
      row("b5", "compound-relief", R"("compositions": ["any"])"),
      row("b6", "statutory-parts", R"("composition": "wheat flour", "parts": ["calcium carbonate", "iron"], "unless": "it is wholemeal")"),
      row("c1", "mark-wording", R"("mark": "irradiated", "wording": "irradiated", "placed": "ingredient")"),
      row("c2", "amount-wording",
          R"("of": "glycyrrhizinic acid", "from_mg_per_kg": "100", "below_mg_per_kg": "4000", "wording": "contains liquorice", "placed": "after list", "unless_named": "liquorice")"),
      row("c3", "share-wording", R"("of": "sweeteners", "above": "0 %", "wording": "with sweeteners", "placed": "name")"),
      row("d1", "additive-form", R"("form": "name", "with_class": ["colour"])"),
      row("d2", "additive", R"("number": "E102", "name": "Tartrazine", "classes": ["colour"], "status": "permitted", "print": "Yellow 5")"),
      row("d2b", "additive",
          R"("name": "Gardenia blue, Genipin blue", "classes": ["colour"], "status": "not judged", "why": "nobody looked")"),
      row("d2c", "small-package", R"("face_below_cm2": 10, "without": ["lot"], "told": ["t"], "words": "w")"),
      row("d2d", "small-package", R"("surface_below_cm2": 100, "routes": ["r"], "without": ["lot"], "words": "w")"),
      row("d3", "additive-wording",
          R"("numbers": ["E102"], "foods": ["bleached"], "wording": "{names}: look", "shown_by": "number", "suspended": "a court did")"),
      row("d4", "level-limit", R"("of": "tartrazine", "numbers": ["E102"], "food": "cake", "up_to_mg_per_kg": "16.5")"),
      row("e1", "named-quantities",
          R"("per_100g_above": "100 %", "one_decimal_below": "5 %", "flavour_kinds": ["spice", "herb"], "per_100g": "g in 100 g", "other_per_100g": {"fr": "g pour 100 g"})"),
      row("e2", "lot-mark", R"("prefix": "L", "not_with_day_and_month": true, "not_below_face_cm2": 10)"),
      row("e3", "net-quantity", R"("form": "metric and avoirdupois", "words": "NET WT", "by_number": true)"),
      row("e4", "business-address", R"("countries": ["XA", "XB"], "words": "an address here")"),
      row("e5", "date-exemption", R"("kind": "best before", "life_up_to_hours": 24, "words": "eaten within a day")"),
      row("e6", "date-mark",
          R"("kind": "best before", "form": "day month year", "wording": "Best before", "year_first": true, "months": ["JA", "FE", "MR", "AL", "MA", "JN", "JL", "AU", "SE", "OC", "NO", "DE"])"),
      row("e7", "language", R"("languages": ["en", "fr"], "decimal_marks": {"fr": ","}, "words_from_memory": ["fr"])"),
      row("e8", "specification-age", R"("days": 365)"),
      row("f1", "nutrition-exemption",
          R"("staff_below": 10, "turnover_up_to": 2000000, "currency": "EUR", "local": "the same county", "units_a_year_below": 10000, "units_a_week_up_to": 50, "direct_or_local": false)"),
      row("f2", "energy-factor", R"("component": "polyols", "kj_per_g": "10", "kcal_per_g": "2.4")"),
      row("f3", "nutrition-rounding", R"("nutrient": "fat", "at_or_above": "0.5", "up_to": "5", "nearest": "0.5", "unit": "g")"),
      row("g1", "route",
          R"("boxed": "not boxed", "seller": "any", "ordered": "any", "where": "delivered", "route": "r", "words": "w", "declaration": "allergens", "statements": ["caution"])"),
      row("g2", "type-size",
          R"("what": "quantity", "measured": "letter height", "face_above_mm2": 1000, "face_up_to_mm2": 2500, "surface_from_cm2": 10, "surface_below_cm2": 20, "minimum_um": 1600)"),
      row("g3", "wording", R"("key": "home kitchen", "text": "Made at home", "other_texts": {"fr": "Fait maison"})"),
      row("g4", "varying-proportions", R"("group": "fruit", "other_words": {"fr": "fruits"})"),
      row("g5", "wording", R"("key": "varying proportions", "text": "as it comes")"),
      row("h1", "allergen",
          R"("key": "fish", "group": "fish", "word": "fish", "names": ["fish"], "summary_words": ["fish"], "in_summary": true, "name_species": true, "other_words": {"fr": "poisson"}, "other_names": {"fr": ["poisson", "poissons"]})"),
  });
  ASSERT_EQ(terms.exemptions.size(), 1u);
  EXPECT_EQ(terms.exemptions[0].process, "wheat glucose syrup");
  EXPECT_EQ(cite(terms.exemptions[0].cited), "[a1: s. 1]");
  ASSERT_EQ(terms.reference_doses.size(), 2u);
  EXPECT_EQ(terms.reference_doses[0].mg_protein, Share{2});
  EXPECT_FALSE(terms.reference_doses[1].mg_protein.has_value());
  EXPECT_EQ(terms.any_order_below.limit, share_of(2, 100));
  EXPECT_TRUE(terms.any_order_below.inclusive);
  EXPECT_EQ(terms.any_order_below.wording, "Contains {limit} or less of {names}");
  EXPECT_THAT(terms.any_order_below.kinds, ElementsAre("salt"));
  EXPECT_EQ(terms.any_order_below.cited.row, "b1");
  ASSERT_EQ(terms.collectives.size(), 1u);
  EXPECT_EQ(terms.collectives[0].other_words.at("fr"), "épices");
  EXPECT_EQ(terms.collectives[0].up_to, share_of(2, 100));
  EXPECT_EQ(terms.and_or->joint, "and/or");
  ASSERT_EQ(terms.reliefs.size(), 2u);
  EXPECT_EQ(terms.reliefs[0].below, share_of(2, 100));
  EXPECT_FALSE(terms.reliefs[1].below.has_value());
  EXPECT_EQ(terms.statutory_parts[0].unless, "it is wholemeal");
  EXPECT_EQ(terms.mark_wordings[0].placed, "ingredient");
  EXPECT_EQ(terms.amount_wordings[0].below_mg_per_kg, Share{4000});
  EXPECT_EQ(terms.amount_wordings[0].unless_named, "liquorice");
  EXPECT_EQ(terms.share_wordings[0].placed, "name");
  EXPECT_EQ(terms.additive_form.form, "name");
  EXPECT_THAT(terms.additive_form.with_class, ElementsAre("colour"));
  EXPECT_EQ(terms.additive("E102")->print, "Yellow 5");
  ASSERT_NE(terms.additive("Gardenia blue"), nullptr) << "known by its name";
  EXPECT_EQ(terms.additive("Gardenia blue")->status, "not judged");
  ASSERT_EQ(terms.small_packages.size(), 2U);
  EXPECT_EQ(terms.small_packages[1].surface_below_cm2, 100);
  EXPECT_THAT(terms.small_packages[1].routes, ElementsAre("r"));
  EXPECT_EQ(terms.small_packages[0].face_below_cm2, 10);
  EXPECT_THAT(terms.small_packages[0].without, ElementsAre("lot"));
  EXPECT_EQ(terms.additive_wordings[0].shown_by, "number");
  EXPECT_EQ(terms.additive_wordings[0].suspended, "a court did");
  EXPECT_THAT(terms.additive_wordings[0].foods, ElementsAre("bleached"));
  EXPECT_EQ(terms.level_limits[0].up_to_mg_per_kg, share_of(33, 2));
  EXPECT_THAT(terms.level_limits[0].numbers, ElementsAre("E102"));
  EXPECT_EQ(terms.named_quantities->per_100g_above, Share{1});
  EXPECT_EQ(terms.named_quantities->one_decimal_below, share_of(5, 100));
  EXPECT_THAT(terms.named_quantities->flavour_kinds, ElementsAre("spice", "herb"));
  EXPECT_EQ(terms.named_quantities->per_100g, "g in 100 g");
  EXPECT_EQ(terms.named_quantities->other_per_100g.at("fr"), "g pour 100 g");
  EXPECT_EQ(terms.lot_mark->prefix, "L");
  EXPECT_TRUE(terms.lot_mark->not_with_day_and_month);
  EXPECT_EQ(terms.lot_mark->not_below_face_cm2, 10);
  EXPECT_EQ(terms.net_quantity->form, "metric and avoirdupois");
  EXPECT_EQ(terms.net_quantity->words, "NET WT");
  EXPECT_TRUE(terms.net_quantity->by_number);
  EXPECT_THAT(terms.address->countries, ElementsAre("XA", "XB"));
  EXPECT_EQ(terms.date_exemptions[0].life_up_to_hours, 24);
  EXPECT_TRUE(terms.date_marks[0].year_first);
  EXPECT_EQ(terms.date_marks[0].months.at(3), "AL");
  EXPECT_THAT(terms.language.languages, ElementsAre("en", "fr"));
  EXPECT_EQ(terms.language.cited.row, "e7");
  EXPECT_EQ(terms.language.decimal_marks.at("fr"), ",");
  EXPECT_THAT(terms.language.words_from_memory, ElementsAre("fr"));
  EXPECT_EQ(terms.specification_age->days, 365);
  const auto& small = terms.nutrition_exemptions.at(0);
  EXPECT_EQ(small.staff_below, 10);
  EXPECT_EQ(small.turnover_up_to, 2'000'000);
  EXPECT_EQ(small.currency, "EUR");
  EXPECT_EQ(small.local, "the same county");
  EXPECT_EQ(small.units_a_year_below, 10'000);
  EXPECT_EQ(small.units_a_week_up_to, 50);
  EXPECT_FALSE(small.direct_or_local);
  EXPECT_EQ(terms.energy_factors[0].kcal_per_g, share_of(12, 5));
  EXPECT_EQ(terms.rounding[0].from, share_of(1, 2)) << "`from` of a row is its first day";
  EXPECT_FALSE(terms.rounding[0].above.has_value());
  EXPECT_EQ(terms.rounding[0].nearest, share_of(1, 2));
  EXPECT_EQ(terms.routes.at(0).where, "delivered");
  EXPECT_THAT(terms.routes.at(0).statements, ElementsAre("caution"));
  EXPECT_EQ(terms.type_sizes.at(0).face_up_to_mm2, 2500);
  EXPECT_EQ(terms.type_sizes.at(0).face_above_mm2, 1000);
  EXPECT_EQ(terms.type_sizes.at(0).surface_from_cm2, 10);
  EXPECT_EQ(terms.type_sizes.at(0).surface_below_cm2, 20);
  EXPECT_EQ(terms.wording("home kitchen")->other_texts.at("fr"), "Fait maison");
  ASSERT_NE(terms.varying_group("fruit"), nullptr);
  EXPECT_EQ(terms.varying_group("fruit")->words, "fruit");
  EXPECT_EQ(terms.varying_group("fruit")->other_words.at("fr"), "fruits");
  const auto* fish = terms.allergen("fish");
  ASSERT_NE(fish, nullptr);
  EXPECT_TRUE(fish->name_species);
  EXPECT_THAT(fish->summary_words, ElementsAre("fish"));
  EXPECT_THAT(fish->other_names.at("fr"), ElementsAre("poisson", "poissons"));
}

TEST(Terms, OfALabelWithoutTheOptionalRowsSayNothingOfThem) {
  const auto terms = terms_with({});
  EXPECT_FALSE(terms.and_or || terms.named_quantities || terms.lot_mark || terms.net_quantity || terms.address || terms.specification_age);
  EXPECT_TRUE(terms.reliefs.empty() && terms.date_marks.empty() && terms.additives.empty());
  EXPECT_EQ(terms.any_order_below.limit, Share{0}) << "nothing may come last out of order";
  EXPECT_EQ(terms.additive_form.form, "class and name");
  EXPECT_THAT(terms.language.languages, ElementsAre("en"));
  EXPECT_FALSE(terms.water_ranked_as_used);
}

TEST(Terms, RankWaterAsUsedWhereTheRuleSaysSo) {
  auto rows = label_rows();
  rows[4] = row("water", "added-water", R"("ranked": "as used")");
  const auto packs = read({pack("aa", "label", "", rows)});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto terms = packs->label_terms("aa", year_2022);
  ASSERT_TRUE(terms.has_value()) << told(terms.error());
  EXPECT_TRUE(terms->water_ranked_as_used);
  EXPECT_EQ(terms->water_ignored_up_to.limit, Share{0}) << "no share of it may be left out";
}

// ---- rows that must fit each other ----------------------------------------------------------------------------------------------

/// What `label_terms` refuses of a made-up place with these rows more.
std::vector<std::string> misfits_of(const std::vector<std::string>& more, const std::vector<PackFile>& others = {},
                                    const std::string& extends = "") {
  auto files = others;
  files.push_back(label_pack(more, "aa", extends));
  const auto packs = read(files);
  if (!packs) throw std::runtime_error{told(packs.error())};
  const auto terms = packs->label_terms("aa", year_2022);
  std::vector<std::string> out;
  if (terms) return out;
  for (const auto& refusal : terms.error()) out.push_back(describe(refusal));
  return out;
}

TEST(Terms, RefuseARowThatNamesAnAllergenWhichIsNotInForce) {
  EXPECT_THAT(misfits_of({row("x", "allergen-exemption", R"("allergen": "fish", "process": "p", "words": "w")")}),
              ElementsAre(StartsWith("aa/label.json:16: rows[11].allergen: \"fish\" is no allergen of the list in force on 2022-01-01")));
  EXPECT_THAT(misfits_of({row("x", "reference-dose", R"("allergen": "fish", "status": "none set")")}),
              ElementsAre(StartsWith("aa/label.json:16: rows[11].allergen: \"fish\"")));
  EXPECT_THAT(misfits_of({row("x", "group-answer", R"("word": "seafood", "names": [], "counts_as": ["fish", "milk"])")}),
              ElementsAre(StartsWith("aa/label.json:16: rows[11].counts_as: \"fish\" is neither an allergen nor a heading")));
}

TEST(Terms, RefuseAWordingOrAnAdditiveThatNoRowHas) {
  EXPECT_THAT(misfits_of({row("x", "additive-wording", R"("numbers": ["E102"], "wording": "w")")}),
              ElementsAre(StartsWith("aa/label.json:16: rows[11].numbers: E102 is no additive in force")));
  EXPECT_THAT(misfits_of({row("x", "level-limit", R"("of": "dyes", "numbers": ["E102"], "food": "cake", "up_to_mg_per_kg": "200")")}),
              ElementsAre(StartsWith("aa/label.json:16: rows[11].numbers: E102 is no additive in force")));
  const auto route =
      R"("boxed": "not boxed", "seller": "any", "ordered": "any", "route": "r", "words": "w", "declaration": "allergens", "statements": ["home kitchen"])";
  EXPECT_THAT(misfits_of({row("x", "route", route)}),
              ElementsAre(StartsWith("aa/label.json:16: rows[11].statements: no wording \"home kitchen\" is in force on 2022-01-01")));
  EXPECT_THAT(misfits_of({row("x", "route", route), a_wording("home kitchen", "Made at home")}), IsEmpty());
  const auto varying = row("x", "varying-proportions", R"("group": "fruit")");
  EXPECT_THAT(misfits_of({varying}), ElementsAre(StartsWith("aa/label.json:16: rows[11].group: no wording \"varying proportions\" is in")));
  EXPECT_THAT(misfits_of({varying, a_wording("varying proportions", "as it comes")}), IsEmpty());
}

TEST(Terms, OfALabelNeedWhatEveryLabelMustHave) {
  const auto all = label_rows();
  const std::vector<std::string> needed{"allergen-form",
                                        "emphasis",
                                        "added-water",
                                        "route",
                                        "type-size for \"text\"",
                                        "wording \"ingredients heading\"",
                                        "wording \"contains\"",
                                        "wording \"may contain\"",
                                        "wording \"caution\""};
  for (std::size_t i = 2; i < all.size(); ++i) {  // of the two allergens one is enough
    auto rows = all;
    rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(i));
    const auto packs = read({pack("aa", "label", "", rows)});
    ASSERT_TRUE(packs.has_value()) << told(packs.error());
    const auto terms = packs->label_terms("aa", year_2022);
    ASSERT_FALSE(terms.has_value()) << all[i];
    ASSERT_EQ(terms.error().size(), 1u);
    EXPECT_THAT(describe(terms.error()[0]), HasSubstr("no row of " + needed.at(i - 2) + " is in force on 2022-01-01"));
  }
}

PackFile a_base(const std::vector<std::string>& rows) {
  auto base = pack("common", "label", "", rows);
  base.text = with(base.text, "\"set\": \"label\",", "\"set\": \"label\", \"base\": true,");
  return base;
}

TEST(Terms, LeaveOutWhatABaseSaysOfAllergensThatAPlaceDoesNotList) {
  const auto base = a_base({row("d1", "reference-dose", R"("allergen": "fish", "mg_protein": "5", "status": "recommended")"),
                            row("d2", "reference-dose", R"("allergen": "milk", "mg_protein": "2", "status": "recommended")"),
                            row("g1", "group-answer", R"("word": "seafood", "names": [], "counts_as": ["fish", "molluscs"])"),
                            row("g2", "group-answer", R"("word": "mixed", "names": [], "counts_as": ["fish", "milk"])")});
  EXPECT_THAT(misfits_of({}, {base}, "common"), IsEmpty());
  const auto packs = read({base, label_pack({}, "aa", "common")});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto terms = packs->label_terms("aa", year_2022);
  ASSERT_TRUE(terms.has_value()) << told(terms.error());
  ASSERT_EQ(terms->reference_doses.size(), 1u);
  EXPECT_EQ(terms->reference_doses[0].allergen, "milk");
  EXPECT_EQ(terms->group_answer("seafood"), nullptr) << "it would count as nothing: the customer has to be asked";
  ASSERT_NE(terms->group_answer("mixed"), nullptr);
  EXPECT_THAT(terms->keys_of(*terms->group_answer("mixed")), ElementsAre("milk"));
}

TEST(Terms, NeverLetAWordThatMeansAllOfSeveralQuietlyMeanFewer) {
  const auto base =
      a_base({row("g", "group-answer", R"("word": "mixed", "names": [], "counts_as": ["fish", "milk"], "ask_which": false)")});
  EXPECT_THAT(misfits_of({}, {base}, "common"),
              ElementsAre(StartsWith("common/label.json:5: rows[0].counts_as: \"fish\" is neither an allergen nor a heading")));
}

// ---- days -----------------------------------------------------------------------------------------------------------------------

TEST(Terms, OfALabelAreThoseOfItsDay) {
  const auto packs = read(
      {label_pack({row("relief", "compound-relief", R"("compositions": ["jam"], "below": "5 %")", "2020-01-01", "2021-12-31"),
                   row("relief", "compound-relief", R"("compositions": ["jam"], "below": "2 %")", "2022-01-01"),
                   row("lot", "lot-mark", R"("prefix": "L")", "2021-06-01", "2022-05-31"),
                   row("exempt", "allergen-exemption", R"("allergen": "milk", "process": "whey spirit", "words": "w")", "2023-01-01"),
                   row("mark", "mark-wording", R"("mark": "nano", "wording": "nano", "placed": "ingredient")", "2020-01-01", "2022-02-28"),
                   row("mark-2", "mark-wording", R"("mark": "nano", "wording": "[nano]", "placed": "ingredient")", "2022-03-01")})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto on = [&](Date date) { return packs->label_terms("aa", date).value(); };
  EXPECT_EQ(on(day(2021, 12, 31)).reliefs.at(0).below, share_of(5, 100));
  EXPECT_EQ(on(day(2022, 1, 1)).reliefs.at(0).below, share_of(2, 100));
  EXPECT_FALSE(on(day(2021, 5, 31)).lot_mark.has_value());
  EXPECT_TRUE(on(day(2021, 6, 1)).lot_mark.has_value());
  EXPECT_TRUE(on(day(2022, 5, 31)).lot_mark.has_value()) << "the last day counts";
  EXPECT_FALSE(on(day(2022, 6, 1)).lot_mark.has_value());
  EXPECT_TRUE(on(day(2022, 12, 31)).exemptions.empty());
  EXPECT_EQ(on(day(2023, 1, 1)).exemptions.size(), 1u);
  EXPECT_EQ(on(day(2022, 2, 28)).mark_wordings.at(0).wording, "nano");
  EXPECT_EQ(on(day(2022, 3, 1)).mark_wordings.at(0).wording, "[nano]");
}

// ---- confirmations --------------------------------------------------------------------------------------------------------------

const std::string confirmed_words = "confirmed on 2026-11-01 by Ash: the food office of the town";

TEST(Confirmations, StandInTheCitationOfARowFromMemory) {
  const auto packs = read(
      {label_pack({from_memory(row("exempt", "allergen-exemption", R"("allergen": "milk", "process": "p", "words": "w")")),
                   from_memory(row("any", "any-order-below", R"("below": "2 %")")),
                   from_memory(row("additives", "additive-table", R"("table": "list.tsv")")), row("lot", "lot-mark", R"("prefix": "L")")}),
       {"aa/list.tsv", "number\tname\tclasses\tstatus\tflags\twhy\nE100\tCurcumin\tcolour\tpermitted\t\t\n"}});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto bare = packs->label_terms("aa", year_2022).value();
  EXPECT_FALSE(bare.exemptions[0].cited.firm());
  EXPECT_FALSE(bare.any_order_below.cited.firm());
  EXPECT_FALSE(bare.additive("E100")->cited.firm());
  EXPECT_TRUE(bare.lot_mark->cited.firm());

  const Confirmations confirmed{{{"aa", "exempt"}, {"s. 1", confirmed_words, packs->sayings_of("exempt").front()}},
                                {{"aa", "any"}, {"s. 1", confirmed_words, packs->sayings_of("any").front()}},
                                {{"aa", "additives"}, {"s. 1", confirmed_words, packs->sayings_of("additives").front()}},
                                {{"aa", "lot"}, {"s. 1", confirmed_words, packs->sayings_of("lot").front()}},
                                {{"bb", "milk"}, {"s. 1", confirmed_words, packs->sayings_of("milk").front()}}};
  const auto terms = packs->label_terms("aa", year_2022, confirmed).value();
  EXPECT_EQ(terms.exemptions[0].cited.confirmed, confirmed_words);
  EXPECT_TRUE(terms.exemptions[0].cited.firm());
  EXPECT_EQ(cite(terms.exemptions[0].cited), "[exempt: s. 1 (from memory, confirmed: " + confirmed_words + ")]");
  EXPECT_EQ(terms.any_order_below.cited.confirmed, confirmed_words);
  EXPECT_EQ(terms.additive("E100")->cited.confirmed, confirmed_words) << "a line of a table goes by the row of the table";
  EXPECT_EQ(terms.additive("E100")->cited.row, "additives");
  EXPECT_EQ(terms.lot_mark->cited.confirmed, "") << "what was read needs nobody's word";
}

TEST(Confirmations, HoldOnlyWhileTheClauseIsTheConfirmedOne) {
  const auto packs =
      read({label_pack({with(from_memory(row("lot", "lot-mark", R"("prefix": "L")", "2020-01-01", "2022-12-31")), "s. 1", "s. 4"),
                        with(from_memory(row("lot", "lot-mark", R"("prefix": "L")", "2023-01-01")), "s. 1", "s. 5")})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const Confirmations confirmed{{{"aa", "lot"}, {"s. 4", confirmed_words, packs->sayings_of("lot").front()}}};
  EXPECT_EQ(packs->label_terms("aa", year_2022, confirmed)->lot_mark->cited.confirmed, confirmed_words);
  EXPECT_EQ(packs->label_terms("aa", day(2023, 1, 1), confirmed)->lot_mark->cited.confirmed, "");
  EXPECT_FALSE(packs->label_terms("aa", day(2023, 1, 1), confirmed)->lot_mark->cited.firm());
}

TEST(Confirmations, HoldOnlyWhileTheRowSaysWhatWasConfirmed) {
  const auto table = [](const std::string& name) {
    return std::vector<PackFile>{label_pack({from_memory(row("lot", "lot-mark", R"("prefix": "L")", "2020-01-01", "2022-12-31")),
                                             from_memory(row("lot", "lot-mark", R"("prefix": "Lot")", "2023-01-01")),
                                             from_memory(row("additives", "additive-table", R"("table": "list.tsv")"))}),
                                 {"aa/list.tsv", "number\tname\tclasses\tstatus\tflags\twhy\nE100\t" + name + "\tcolour\tpermitted\t\t\n"}};
  };
  const auto packs = read(table("Curcumin"));
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  EXPECT_EQ(packs->sayings_of("lot"),
            (std::vector<std::string>{R"({"mechanism":"lot-mark","prefix":"L"})", R"({"mechanism":"lot-mark","prefix":"Lot"})"}));
  const Confirmations confirmed{{{"aa", "lot"}, {"s. 1", confirmed_words, packs->sayings_of("lot").front()}},
                                {{"aa", "additives"}, {"s. 1", confirmed_words, packs->sayings_of("additives").front()}}};
  EXPECT_EQ(packs->label_terms("aa", year_2022, confirmed)->lot_mark->cited.confirmed, confirmed_words);
  EXPECT_EQ(packs->label_terms("aa", day(2023, 1, 1), confirmed)->lot_mark->cited.confirmed, "") << "the same clause with other words";
  EXPECT_EQ(packs->label_terms("aa", year_2022, confirmed)->additive("E100")->cited.confirmed, confirmed_words);
  const auto changed = read(table("Turmeric yellow"));
  ASSERT_TRUE(changed.has_value()) << told(changed.error());
  EXPECT_EQ(changed->label_terms("aa", year_2022, confirmed)->additive("E100")->cited.confirmed, "") << "a line of its table is another";
  const Confirmations untold{{{"aa", "lot"}, {"s. 1", confirmed_words, ""}}};
  EXPECT_EQ(packs->label_terms("aa", year_2022, untold)->lot_mark->cited.confirmed, "") << "nobody knows what was confirmed";
}

TEST(Confirmations, GoByThePackOfTheRowOrByTheRulesThatWereChosen) {
  const auto packs = read({label_pack({from_memory(row("lot", "lot-mark", R"("prefix": "L")"))}),
                           pack("bb", "label", "aa", {row("age", "specification-age", R"("days": 90)")}),
                           pack("cc", "label", "aa", {row("age", "specification-age", R"("days": 90)")})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const auto lot = [&](const std::string& code, const Confirmations& confirmed) {
    return packs->label_terms(code, year_2022, confirmed)->lot_mark->cited.confirmed;
  };
  const Confirmations of_the_pack{{{"aa", "lot"}, {"s. 1", confirmed_words, packs->sayings_of("lot").front()}}};
  const Confirmations of_the_chosen{{{"bb", "lot"}, {"s. 1", confirmed_words, packs->sayings_of("lot").front()}}};
  EXPECT_EQ(lot("bb", of_the_pack), confirmed_words);
  EXPECT_EQ(lot("cc", of_the_pack), confirmed_words);
  EXPECT_EQ(lot("bb", of_the_chosen), confirmed_words);
  EXPECT_EQ(lot("cc", of_the_chosen), "") << "what holds there was confirmed for another place";
  const Confirmations both{{{"aa", "lot"}, {"s. 1", "of the pack", packs->sayings_of("lot").front()}},
                           {{"bb", "lot"}, {"s. 1", "of the chosen", packs->sayings_of("lot").front()}}};
  EXPECT_EQ(lot("bb", both), "of the chosen");
}

TEST(Confirmations, ReachTemperaturesAndRetentionToo) {
  const std::vector<std::string> heat{row("a", "heat-hold", R"("food": "f", "at": "70 C", "hold_seconds": 120)"),
                                      row("b", "egg-mix", R"("sugar_up_to": "12 %")"),
                                      row("c", "probe-check", R"("band": "1 C", "days_between": 7)"),
                                      row("d", "gap", R"("use": "heat step", "longest_seconds": 60)"),
                                      row("e", "gap", R"("use": "chilled hold", "longest_seconds": 1800)"),
                                      from_memory(row("f", "chill", R"("limit": "5 C", "measured_in": "food")"))};
  const auto packs = read({pack("aa", "temperature", "", heat), pack("aa", "retention", "", {from_memory(keep("k", 12))})});
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  const Confirmations confirmed{{{"aa", "f"}, {"s. 1", confirmed_words, packs->sayings_of("f").front()}},
                                {{"aa", "k"}, {"s. 1", confirmed_words, packs->sayings_of("k").front()}}};
  EXPECT_EQ(packs->temperature_terms("aa", year_2022, confirmed)->chill.at(0).cited.confirmed, confirmed_words);
  EXPECT_EQ(packs->temperature_terms("aa", year_2022)->chill.at(0).cited.confirmed, "");
  EXPECT_EQ(packs->retention_terms("aa", year_2022, confirmed)->rows.at(0).cited.confirmed, confirmed_words);
}

}  // namespace
}  // namespace tierproof
