#include "tierproof/app/lists.h"

#include <regex>
#include <set>

#include "app/app_for_tests.h"
#include "tierproof/app/erasing.h"
#include "tierproof/text/csv.h"

namespace tierproof {
namespace {

DataTable listed(const Session& session, const std::string& name) {
  const KitchenList* list = find_list(name);
  EXPECT_NE(list, nullptr) << name;
  return list == nullptr ? DataTable{} : table_of(*list, session);
}
DataTable listed(TestKitchen& kitchen, const std::string& name) {
  const Session session = kitchen.open(true);
  return listed(session, name);
}

/// What the row that has `id` in its first column says under `heading`.
std::string said(const DataTable& table, const std::string& id, const std::string& heading) {
  const auto column = std::find(table.headings.begin(), table.headings.end(), heading);
  EXPECT_NE(column, table.headings.end()) << heading;
  for (const auto& row : table.rows) {
    if (column != table.headings.end() && text_of(row[0]) == id)
      return text_of(row[static_cast<std::size_t>(column - table.headings.begin())]);
  }
  ADD_FAILURE() << "no row of " << id;
  return "";
}
/// Every text of a column.
Strings column(const DataTable& table, const std::string& heading) {
  const auto found = std::find(table.headings.begin(), table.headings.end(), heading);
  EXPECT_NE(found, table.headings.end()) << heading;
  Strings texts;
  for (const auto& row : table.rows) {
    if (found != table.headings.end()) texts.push_back(text_of(row[static_cast<std::size_t>(found - table.headings.begin())]));
  }
  return texts;
}

TEST(Lists, ShowEveryKindOfNote) {
  std::set<std::string> shown;
  for (const auto& list : kitchen_lists()) shown.insert(list.kinds.begin(), list.kinds.end());
  const std::string header = load_file(TIERPROOF_SOURCE_DIR "/include/tierproof/kitchen/bodies.h");
  const std::regex kind{"TIERPROOF_KIND\\([A-Za-z]+, \"([a-z-]+/[0-9]+)\"\\)"};
  int kinds = 0;
  for (std::sregex_iterator found{header.begin(), header.end(), kind}, end; found != end; ++found, ++kinds)
    EXPECT_TRUE(shown.contains((*found)[1])) << (*found)[1] << " stands in no list";
  EXPECT_GE(kinds, 37);
}

TEST(Lists, HaveFixedHeadingsInOneFormAndNamesThatFitASheet) {
  const std::regex heading{"[a-z0-9]+(_[a-z0-9]+)*"};
  const std::regex name{"[a-z]+(-[a-z]+)*"};
  std::set<std::string> names;
  for (const auto& list : kitchen_lists()) {
    EXPECT_TRUE(std::regex_match(list.name, name)) << list.name;
    EXPECT_LE(list.name.size(), 28u) << "a sheet's name has at most 31 letters, and may end with a number";
    EXPECT_TRUE(names.insert(list.name).second) << list.name;
    EXPECT_FALSE(list.holds.empty()) << list.name;
    std::set<std::string> once;
    for (const auto& text : list.headings) {
      EXPECT_TRUE(std::regex_match(text, heading)) << list.name << " " << text;
      EXPECT_TRUE(once.insert(text).second) << list.name << ": two columns " << text;
      EXPECT_NE(text, "demo") << list.name;
    }
    if (list.name == "notes") continue;
    const auto tail = list.headings.end() - static_cast<std::ptrdiff_t>(record_headings().size());
    EXPECT_TRUE(std::equal(tail, list.headings.end(), record_headings().begin())) << list.name;
  }
  EXPECT_EQ(find_list("cupcakes"), nullptr);
}

TEST(Lists, HaveACellForEachHeadingInEveryRow) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  cake_of(kitchen, {{sponge, grams(200)}});
  kitchen.put_in(sponge, "fridge");
  kitchen.readings("logger", "fridge", "2026-05-01T08:00+01:00", "2026-05-01T08:00+01:00", "4.0");
  const Session session = kitchen.open(true);
  std::size_t filled = 0;
  for (const auto& list : kitchen_lists()) {
    const DataTable table = table_of(list, session);
    EXPECT_EQ(table.name, list.name);
    filled += table.rows.empty() ? 0 : 1;
    for (const auto& row : table.rows) EXPECT_EQ(row.size(), table.headings.size()) << list.name;
  }
  EXPECT_GE(filled, 18u);
}

TEST(Lists, GiveTheLastRowsOfTheWholeList) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T12:00+01:00");
  const std::string sponge = kitchen.make("sponge", grams(270));
  cake_of(kitchen, {{sponge, grams(200)}});
  kitchen.readings("logger", "fridge", "2026-05-01T08:00+01:00", "2026-05-01T09:00+01:00", "4.0");
  kitchen.readings("logger", "fridge", "2026-05-01T09:15+01:00", "2026-05-01T10:00+01:00", "3.0");
  correct_note(kitchen, kitchen.open(true).state().equipment.at(EquipmentId{"bowl"}).sequence, {{"name", Json{"big bowl"}}});
  const Session session = kitchen.open(true);
  std::size_t cut = 0;
  for (const auto& list : kitchen_lists()) {
    const DataTable whole = table_of(list, session);
    for (const std::size_t newest : {1u, 2u, 3u, 5u, 201u}) {
      const std::size_t wanted = std::min(newest, whole.rows.size());
      const DataTable last = table_of(list, session, newest);
      ASSERT_EQ(last.rows.size(), wanted) << list.name;
      cut += wanted < whole.rows.size() ? 1 : 0;
      for (std::size_t i = 0; i < wanted; ++i) {
        for (std::size_t cell = 0; cell < whole.headings.size(); ++cell)
          EXPECT_EQ(text_of(last.rows[i][cell]), text_of(whole.rows[whole.rows.size() - wanted + i][cell]))
              << list.name << ", the last " << newest;
      }
    }
  }
  EXPECT_GE(cut, 20u);
}

TEST(Lists, SayWhatIsLeftOfAPackAndABatch) {
  TestKitchen kitchen;
  const std::string sponge = kitchen.make("sponge", grams(270));
  cake_of(kitchen, {{sponge, grams(200)}});
  const DataTable packs = listed(kitchen, "packs");
  EXPECT_EQ(said(packs, "pack-1", "ingredient"), "flour");
  EXPECT_EQ(said(packs, "pack-1", "mass_g"), "2000");
  EXPECT_EQ(said(packs, "pack-1", "left_g"), "1900");
  EXPECT_EQ(said(packs, "pack-3", "left_g"), "2000");
  EXPECT_EQ(said(packs, "pack-1", "withdrawn"), "no");
  EXPECT_EQ(said(packs, "pack-1", "use_by"), "2026-06-30");
  kitchen.done([](Session& s) { return withdraw(s, "pack-1", "recalled"); });
  EXPECT_EQ(said(listed(kitchen, "packs"), "pack-1", "withdrawn"), "yes");
  EXPECT_EQ(said(listed(kitchen, "withdrawals"), "pack-1", "why"), "recalled");
  EXPECT_EQ(said(listed(kitchen, "batches"), sponge, "left_g"), "70");
  EXPECT_EQ(column(listed(kitchen, "batch-uses"), "used"), (Strings{"pack-1", "pack-2", "pack-4"}));
  EXPECT_EQ(column(listed(kitchen, "batch-uses"), "mass_g"), (Strings{"100", "100", "100"}));
}

TEST(Lists, ShowEveryReadingWithItsFaultsAndBothClocks) {
  TestKitchen kitchen;
  kitchen.at("2026-05-01T12:00+01:00");
  kitchen.done([](Session& s) {
    return import_csv(s, "logger", "fridge", "chilled",
                      "2026-05-01T10:00:00+01:00,-18.4\n2026-05-01T10:05:00+01:00,ERR\n2026-05-01T10:10:00+01:00,4\n");
  });
  kitchen.done([](Session& s) {
    return type_reading(s, {"fork", Degrees{7125, Scale::celsius}, "fridge", "chilled", "2026-05-01T11:00+01:00"});
  });
  const DataTable readings = listed(kitchen, "temperatures");
  EXPECT_EQ(column(readings, "at_utc"),
            (Strings{"2026-05-01T09:00:00+00:00", "2026-05-01T09:05:00+00:00", "2026-05-01T09:10:00+00:00", "2026-05-01T10:00:00+00:00"}));
  EXPECT_EQ(column(readings, "at_local"),
            (Strings{"2026-05-01T10:00:00+01:00", "2026-05-01T10:05:00+01:00", "2026-05-01T10:10:00+01:00", "2026-05-01T11:00:00+01:00"}));
  EXPECT_EQ(column(readings, "value"), (Strings{"-18.4", "", "4", "71.25"}));
  EXPECT_EQ(column(readings, "unit"), (Strings{"C", "", "C", "C"}));
  EXPECT_EQ(column(readings, "fault"), (Strings{"", "ERR", "", ""}));
  EXPECT_EQ(column(readings, "thermometer"), (Strings{"logger", "logger", "logger", "fork"}));
  EXPECT_EQ(column(readings, "about"), (Strings{"fridge", "fridge", "fridge", "fridge"}));
  EXPECT_EQ(column(readings, "purpose"), (Strings{"chilled", "chilled", "chilled", "chilled"}));
  EXPECT_TRUE(is_number(readings.rows[0][2]));
  EXPECT_EQ(column(listed(kitchen, "temperature-files"), "readings"), (Strings{"3", "1"}));
}

TEST(Lists, SayErasedWhereSealedWordsAreGone) {
  TestKitchen kitchen;
  const std::string cake = kitchen
                               .done([](Session& s) {
                                 return order_cake(s, {"Plain cake", parse_date("2026-05-02"), "Cora Customer", "before it was chosen",
                                                       "the maker", "face to face", 1, 900});
                               })
                               .subjects.front();
  EXPECT_EQ(said(listed(kitchen, "cakes"), cake, "customer"), "Cora Customer");
  EXPECT_EQ(said(listed(kitchen, "cakes"), cake, "contact"), "") << "never given is not erased";
  kitchen.at("2036-05-02T08:00+01:00");
  {
    Session session = kitchen.open();
    const auto erased = erase_customer(session, {cake, "not needed any more"});
    ASSERT_TRUE(erased.has_value()) << describe(erased.error().front());
  }
  EXPECT_EQ(said(listed(kitchen, "cakes"), cake, "customer"), "(erased)");
  EXPECT_EQ(said(listed(kitchen, "erasures"), cake, "texts_erased"), "1");
  EXPECT_EQ(said(listed(kitchen, "people"), "ada", "name"), "Ada Sample");
}

TEST(Lists, ShowEachThingAsItIsAndTheNotesAsTheyCame) {
  TestKitchen kitchen;
  const auto sequence = kitchen.open(true).state().equipment.at(EquipmentId{"bowl"}).sequence;
  correct_note(kitchen, sequence, {{"name", Json{"big bowl"}}});
  const DataTable kit = listed(kitchen, "kit");
  EXPECT_EQ(said(kit, "bowl", "name"), "big bowl");
  EXPECT_EQ(said(kit, "bowl", "corrected"), "yes");
  EXPECT_EQ(said(kit, "whisk", "corrected"), "no");
  const DataTable notes = listed(kitchen, "notes");
  EXPECT_EQ(notes.rows.size(), kitchen.open(true).head().size);
  EXPECT_EQ(said(notes, std::to_string(sequence), "in_force"), "no");
  EXPECT_EQ(column(notes, "corrects").back(), std::to_string(sequence));
  EXPECT_EQ(column(notes, "reason").back(), "it was written wrong");
  EXPECT_EQ(column(notes, "in_force").back(), "yes");
  kitchen.done([&](Session& s) { return void_note(s, s.head().size, "it was never there"); });
  EXPECT_EQ(column(listed(kitchen, "kit"), "kit"), (Strings{"whisk", "tin"}));
  EXPECT_EQ(column(listed(kitchen, "notes"), "taken_back").back(), "yes");
}

TEST(Lists, SayDemoInEveryRowOfAFileOfADemo) {
  TestKitchen kitchen;
  const Session session = kitchen.open(true);
  for (const auto& list : kitchen_lists()) {
    const DataTable saved = table_to_save(list, session);
    ASSERT_EQ(saved.headings.back(), "demo") << list.name;
    for (const auto& row : saved.rows) EXPECT_EQ(text_of(row.back()), "DEMO") << list.name;
    const auto read = parse_csv(write_csv(saved), ',', list.name);
    ASSERT_TRUE(read.has_value()) << list.name;
    EXPECT_EQ(read->size(), saved.rows.size() + 1) << list.name;
    EXPECT_EQ(read->front().cells, saved.headings) << list.name;
  }
}

TEST(Lists, ShowWhatThePacksSayOfEveryAllergen) {
  TestKitchen kitchen;
  const DataTable packs = listed(kitchen, "specifications");
  EXPECT_EQ(said(packs, "flour", "contains"), "gluten:wheat");
  EXPECT_EQ(said(packs, "flour", "not_known"), "");
  kitchen.food("sprinkles", "none", {}, {"milk"});
  EXPECT_EQ(said(listed(kitchen, "specifications"), "sprinkles", "not_known"), "milk");
  const DataTable each = listed(kitchen, "specification-allergens");
  const auto words = column(each, "presence");
  EXPECT_EQ(std::count(words.begin(), words.end(), "unknown"), 1);
  EXPECT_EQ(std::count(words.begin(), words.end(), "contains"), 4);
}

}  // namespace
}  // namespace tierproof
