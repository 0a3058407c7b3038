// Every file under reference/, as shipped: read whole, sorted, cited, dated, valid by its schema, and without an unanswered question.
#include <set>

#include "pack_for_tests.h"
#include "schema_for_tests.h"
#include "tierproof/text/csv.h"
#include "tierproof/text/json.h"

namespace tierproof {
namespace {

const Date look = day(2026, 12, 1);  // a fixed day: the command uses today's

bool is_pack(const PackFile& file) {
  return file.path.ends_with(".json") && !file.path.starts_with("schemas/") && !file.path.starts_with("plan/") &&
         file.path != "claims.json";
}

std::string schema_for(const std::string& path) {
  if (path == "claims.json") return "claims.schema.json";
  if (path == "plan/regular-records.json") return "regular-records.schema.json";
  return path.starts_with("plan/") ? "plan.schema.json" : "pack.schema.json";
}

/// What the schema finds wrong with the text, one complaint a line, the first of them; empty when it is valid. One wrong row fails
/// every alternative of the schema, so that all of them would be thousands of lines: the reader names the row.
std::string complaints(const std::string& text, const std::string& schema_file) {
  return schema_complaints(text, text_of(source_dir() / "reference/schemas" / schema_file)).substr(0, 600);
}

TEST(Reference, IsReadWithoutARefusal) {
  const auto packs = RulePacks::read(reference_files());
  ASSERT_TRUE(packs.has_value()) << told(packs.error());
  for (const char* code : {"anz", "ca", "eu", "gb", "ni", "us"}) {
    EXPECT_TRUE(std::ranges::count(packs->sets_of(code), "label") == 1) << code;
  }
  for (const char* code : {"gb-eng", "gb-sct", "gb-wls"}) EXPECT_EQ(std::ranges::count(packs->with_temperatures(), code), 1) << code;
  EXPECT_EQ(std::ranges::count(packs->with_retention(), "gb"), 1);
}

TEST(Reference, IsValidByItsSchema) {
  int looked_at = 0;
  for (const auto& file : reference_files()) {
    if (!file.path.ends_with(".json") || file.path.starts_with("schemas/")) continue;
    EXPECT_EQ(complaints(file.text, schema_for(file.path)), "") << file.path;
    ++looked_at;
  }
  EXPECT_GE(looked_at, 8);
}

TEST(Reference, HasASchemaThatRefusesWhatTheReaderRefuses) {
  const auto pack = text_of(source_dir() / "reference/gb-eng/temperature.json");
  const auto with = [&](const std::string& from, const std::string& to) {
    auto changed = pack;
    const auto at = changed.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return changed.replace(at, from.size(), to);
  };
  EXPECT_NE(complaints(with("\"limit\": \"8 C\"", "\"limit\": \"8\""), "pack.schema.json"), "");
  EXPECT_NE(complaints(with("\"limit\"", "\"limmit\""), "pack.schema.json"), "");
  EXPECT_NE(complaints(with("\"basis\": \"read\"", "\"basis\": \"guess\""), "pack.schema.json"), "");
  EXPECT_NE(complaints(with("\"mechanism\": \"chill\"", "\"mechanism\": \"route\""), "pack.schema.json"), "");
  EXPECT_NE(complaints(with("2013-12-31", "2013-12"), "pack.schema.json"), "");
  EXPECT_EQ(complaints(pack, "pack.schema.json"), "");
}

/// The words of a list in a sentence: `a, b or c`.
std::set<std::string> listed_in(std::string text) {
  if (const auto last = text.rfind(" or "); last != std::string::npos) text.replace(last, 4, ", ");
  std::set<std::string> words;
  for (std::size_t at = 0; at < text.size();) {
    const auto end = std::min(text.find(", ", at), text.size());
    words.insert(text.substr(at, end - at));
    at = end + 2;
  }
  return words;
}

/// What the reader says of a pack of `set` with one row, from `marker` on.
std::string remedy_for(const std::string& set, const std::string& a_row, const std::string& marker) {
  for (const auto& one : refused({pack("aa", set, "", {a_row})})) {
    if (const auto at = one.find(marker); at != std::string::npos) return one.substr(at + marker.size());
  }
  return "";
}

TEST(Reference, HasASchemaOfTheMechanismsAndParametersThatTheReaderKnows) {
  const auto json = parse_json(text_of(source_dir() / "reference/schemas/pack.schema.json"), "pack.schema.json");
  ASSERT_TRUE(json.has_value()) << told(json.error());
  const auto& definitions = *json->find("definitions");
  int looked_at = 0;
  for (const auto& set : json->find("oneOf")->array()) {
    const auto name = set.find("properties")->find("set")->find("enum")->array().at(0).text();
    std::set<std::string> in_schema;
    for (const auto& one : set.find("properties")->find("rows")->find("items")->find("oneOf")->array()) {
      const auto& ref = one.find("$ref")->text();
      in_schema.insert(ref.substr(ref.rfind('/') + 1));
    }
    EXPECT_EQ(in_schema, listed_in(remedy_for(name, row("a", "no-such-mechanism", ""), "write one of: "))) << name;
    for (const auto& mechanism : in_schema) {
      std::set<std::string> parameters;
      for (const auto& [key, value] : definitions.find(mechanism)->find("properties")->object()) parameters.insert(key);
      EXPECT_EQ(parameters, listed_in(remedy_for(name, row("a", mechanism, R"("no-such-parameter": 1)"), "members here: "))) << mechanism;
      ++looked_at;
    }
  }
  EXPECT_GE(looked_at, 48);
}

TEST(Reference, StandsSortedByIdAndThenByDay) {
  for (const auto& file : reference_files()) {
    if (!file.path.ends_with(".json") || file.path.starts_with("schemas/") || file.path == "claims.json") continue;
    const auto json = parse_json(file.text, file.path);
    ASSERT_TRUE(json.has_value()) << told(json.error());
    std::pair<std::string, std::string> before;
    for (const auto& row : json->find("rows")->array()) {
      const auto* from = row.find("from");
      const std::pair<std::string, std::string> here{row.find("id")->text(), from != nullptr ? from->text() : ""};
      EXPECT_LT(before, here) << file.path << ":" << row.line() << ": out of order";
      before = here;
    }
  }
}

TEST(Reference, UsesEverySourceThatItLists) {
  for (const auto& file : reference_files()) {
    if (!is_pack(file) && !file.path.starts_with("plan/")) continue;
    const auto json = parse_json(file.text, file.path);
    ASSERT_TRUE(json.has_value()) << told(json.error());
    std::set<std::string> used;
    for (const auto& row : json->find("rows")->array()) used.insert(row.find("source")->text());
    for (const auto& source : json->find("sources")->array()) {
      EXPECT_TRUE(used.contains(source.find("key")->text())) << file.path << ":" << source.line() << ": no row rests on it";
    }
  }
}

TEST(Reference, HasNoFaultThatTheCheckerFinds) {
  for (const auto& found : shipped_packs().check(look).faults) ADD_FAILURE() << describe(found);
}

TEST(Reference, TellsWhatWasNeverReadAndWhatIsOverdueLater) {
  const auto packs = shipped_packs();
  const auto now = packs.check(look).cautions;
  EXPECT_TRUE(std::any_of(now.begin(), now.end(), [](const Refusal& r) {
    return r.message.find("dir-76-211") != std::string::npos && r.field.ends_with(".read_on") && r.line > 0;
  }));
  const auto later = packs.check(day(2028, 1, 1)).faults;
  EXPECT_TRUE(std::any_of(later.begin(), later.end(),
                          [](const Refusal& r) { return r.field.ends_with(".review_by") && r.file == "gb-eng/temperature.json"; }));
}

/// The days on which something changes in the label rules of `code`, from the first on which they are complete.
std::vector<Date> days_of_change(const RulePacks& packs, const std::string& code) {
  std::set<std::chrono::sys_days> days{std::chrono::sys_days{look}};
  for (const auto& file : packs.files_of(code)) {
    if (!file.ends_with("/label.json")) continue;
    const auto json = parse_json(packs.text_of(file), file);
    for (const auto& row : json->find("rows")->array()) {
      days.insert(std::chrono::sys_days{*parse_date(row.find("from")->text())});
      if (row.find("to")->is_text()) days.insert(std::chrono::sys_days{*parse_date(row.find("to")->text())} + std::chrono::days{1});
    }
  }
  std::vector<Date> complete;
  for (const auto on : days) {
    const auto terms = packs.label_terms(code, Date{on});
    const auto early = [](const Refusal& r) { return r.message.starts_with("no row of "); };
    if (!terms && complete.empty() && std::all_of(terms.error().begin(), terms.error().end(), early)) continue;
    EXPECT_TRUE(terms.has_value()) << code << ": " << told(terms.error());
    if (terms) complete.emplace_back(on);
  }
  return complete;
}

TEST(Reference, HoldsTogetherOnEveryDayOnWhichSomethingChanges) {
  const auto packs = shipped_packs();
  for (const auto& code : packs.with_labels()) EXPECT_FALSE(days_of_change(packs, code).empty()) << code;
}

struct HowSold {
  std::string boxed, seller, ordered, where;
};
std::vector<HowSold> all_sales() {
  std::vector<HowSold> sales;
  for (const char* boxed : {"before it was chosen", "after it was ordered", "not boxed"}) {
    for (const char* seller : {"the maker", "another business"}) {
      for (const char* ordered : {"face to face", "at a distance"}) {
        for (const char* where : {"where it is made", "somewhere else", "delivered"}) sales.push_back({boxed, seller, ordered, where});
      }
    }
  }
  return sales;
}

// The first row that fits decides. Another one that fits too must say less of how the cake is sold: then the first is its exception.
TEST(Reference, AnswersEverySaleWithOneRouteThatSaysMoreThanAnyOther) {
  const auto packs = shipped_packs();
  for (const auto& code : packs.with_labels()) {
    for (const auto on : days_of_change(packs, code)) {
      const auto terms = packs.label_terms(code, on);
      ASSERT_TRUE(terms.has_value()) << told(terms.error());
      for (const auto& sale : all_sales()) {
        std::vector<int> said;  // by the rows that fit, in their order: how many answers they ask for
        for (const auto& route : terms->routes) {
          const std::vector<std::pair<std::string, std::string>> asked{
              {route.boxed, sale.boxed}, {route.seller, sale.seller}, {route.ordered, sale.ordered}, {route.where, sale.where}};
          const auto fits = [](const auto& one) { return one.first.empty() || one.first == one.second; };
          if (!std::all_of(asked.begin(), asked.end(), fits)) continue;
          said.push_back(static_cast<int>(std::count_if(asked.begin(), asked.end(), [](const auto& one) { return !one.first.empty(); })));
        }
        const auto place =
            fmt::format("{}: {}, {}, {}, {} on {}", code, sale.boxed, sale.seller, sale.ordered, sale.where, format_date(on));
        ASSERT_FALSE(said.empty()) << place;
        for (std::size_t i = 1; i < said.size(); ++i) EXPECT_LT(said[i], said[0]) << place;
      }
    }
  }
}

TEST(Reference, GivesEveryAdditiveAClassThatTheLawLists) {
  const auto packs = shipped_packs();
  for (const auto& code : packs.with_labels()) {
    const auto terms = packs.label_terms(code, look);
    ASSERT_TRUE(terms.has_value()) << told(terms.error());
    for (const auto& additive : terms->additives) {
      EXPECT_FALSE(additive.cited.row.empty()) << additive.number;
      if (terms->additive_form.form != "class and name") continue;
      for (const auto& title : additive.classes) {
        EXPECT_NE(std::find(terms->class_titles.begin(), terms->class_titles.end(), title), terms->class_titles.end())
            << code << ": " << additive.number << ": " << title;
      }
    }
    for (const auto& title : terms->additive_form.with_class) {
      const auto carries = [&](const AdditiveTerm& additive) { return std::ranges::count(additive.classes, title) > 0; };
      EXPECT_TRUE(std::any_of(terms->additives.begin(), terms->additives.end(), carries)) << code << ": no additive is a " << title;
    }
  }
  const auto terms = packs.label_terms("gb", look);
  ASSERT_TRUE(terms.has_value());
  EXPECT_EQ(terms->class_titles.size(), 24u);
  EXPECT_GE(terms->additives.size(), 318u);  // rows of the list that this was written from
}

TEST(Reference, NamesEveryAllergenThatMustBeNamed) {
  const auto packs = shipped_packs();
  const auto terms = packs.label_terms("gb", look);
  ASSERT_TRUE(terms.has_value()) << told(terms.error());
  const auto rows = parse_csv(text_of(source_dir() / "tests/data/allergen-codes.csv"), ',', "allergen-codes.csv");
  ASSERT_TRUE(rows.has_value()) << told(rows.error());
  std::set<std::string> to_be_named;
  for (std::size_t i = 1; i < rows->size(); ++i) to_be_named.insert((*rows)[i].cells[0]);
  to_be_named.erase("gluten");  // a heading: the cereal is named
  to_be_named.erase("nuts");    // a heading: the nut is named
  std::set<std::string> named;
  for (const auto& allergen : terms->allergens) EXPECT_TRUE(named.insert(allergen.key).second) << allergen.key;
  EXPECT_EQ(named, to_be_named);
  std::set<std::string> known;
  for (const auto& allergen : packs.known_allergens()) known.insert(allergen.key);
  EXPECT_TRUE(std::includes(known.begin(), known.end(), named.begin(), named.end())) << "a specification may speak of all of them";
}

TEST(Reference, NeverPutsAClaimOnPaper) {
  const auto packs = shipped_packs();
  std::vector<std::string> printed;
  for (const auto& code : packs.with_labels()) {
    const auto terms = packs.label_terms(code, look);
    ASSERT_TRUE(terms.has_value()) << told(terms.error());
    for (const auto& w : terms->wordings) {
      printed.push_back(w.text);
      for (const auto& [language, text] : w.other_texts) printed.push_back(text);
    }
    for (const auto& w : terms->additive_wordings) printed.push_back(w.wording);
    for (const auto& w : terms->share_wordings) printed.push_back(w.wording);
    for (const auto& w : terms->mark_wordings) printed.push_back(w.wording);
    for (const auto& w : terms->amount_wordings) printed.push_back(w.wording);
    for (const auto& c : terms->collectives) printed.push_back(c.words);
    for (const auto& r : terms->routes) {
      printed.push_back(r.words);
      printed.insert(printed.end(), r.told.begin(), r.told.end());
    }
  }
  for (const auto& row : packs.plan())
    printed.insert(printed.end(), {row.words, row.step, row.hazard, row.significance, row.point_because, row.control, row.limit, row.clause,
                                   row.checked, row.how_often, row.when_missed, row.who, row.note});
  EXPECT_GT(printed.size(), 40u);
  for (const auto& text : printed) {
    const auto* claim = claim_in(text, packs.claim_words());
    EXPECT_EQ(claim, nullptr) << "\"" << text << "\" holds \"" << (claim != nullptr ? claim->pattern : "") << "\"";
  }
}

TEST(Reference, HoldsAPlanRowForEveryControl) {
  const auto packs = shipped_packs();
  for (const char* id : {"additives-permitted", "allergens-known", "allergy-answer", "cold-hold", "cooling", "core-heat", "egg-heat",
                         "how-sold", "inedible-parts", "kit-recorded", "lot-withdrawn", "masses-weighed", "mixed-records", "shared-kit",
                         "specification-current", "sulphites", "syrup-heat", "thermometer", "use-by"}) {
    ASSERT_NE(packs.plan_row(id), nullptr) << id;
    EXPECT_FALSE(packs.plan_row(id)->words.empty()) << id;
  }
  EXPECT_EQ(packs.plan_row("no-such-control"), nullptr);
  EXPECT_EQ(packs.plan().front().id, "how-sold") << "papers begin with how the cake is sold";
}

// The stops that nobody may release against, by the project's second principle of release: unknown allergen, stated allergy, withdrawn
// lot, use-by passed, legal limit missed on measured food, additive not permitted, something unfit touching food.
TEST(Reference, LetsNobodyReleaseAgainstWhatHurtsPeople) {
  const auto packs = shipped_packs();
  for (const char* id : {"additives-permitted", "allergens-known", "allergy-answer", "cold-hold", "egg-heat", "inedible-parts",
                         "lot-withdrawn", "shared-kit", "use-by"}) {
    EXPECT_EQ(packs.plan_row(id)->not_met, "never") << id;
  }
  for (const char* id : {"allergens-known", "lot-withdrawn"}) EXPECT_EQ(packs.plan_row(id)->not_shown, "never") << id;
  // Shared kit without a washing stops for good by its sum; washed, and traces accepted in writing, is for a named person.
  EXPECT_EQ(packs.plan_row("shared-kit")->not_shown, "with a reason");
}

}  // namespace
}  // namespace tierproof
