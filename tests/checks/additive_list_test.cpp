// Every additive of the European list stands in the tables of Great Britain and the Union by its number, name, classes and standing.
#include <map>
#include <set>

#include "../rules/reference_files.h"
#include "tierproof/sums/additive_text.h"
#include "tierproof/text/csv.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

/// A line of the list: written from Regulation (EC) No 1333/2008 and Regulation (EU) No 1169/2011, numbers and names cross-checked.
struct ListedAdditive {
  std::string number;
  std::string name;
  std::string classes;  ///< lower case, the usual first, parted by ;
  std::set<std::string> flags;
};

std::set<std::string> flags_of(const std::string& cell) {
  std::set<std::string> flags;
  std::istringstream in{cell};
  for (std::string flag; std::getline(in, flag, ';');) flags.insert(flag);
  return flags;
}

std::vector<ListedAdditive> the_list() {
  const auto rows = parse_csv(text_of(source_dir() / "tests/data/additives-eu.csv"), ',', "additives-eu.csv");
  if (!rows) throw std::runtime_error{told(rows.error())};
  std::vector<ListedAdditive> all;
  for (std::size_t i = 1; i < rows->size(); ++i) {
    const auto& cells = (*rows)[i].cells;
    all.push_back({cells[0], cells[1], ascii_lower(cells[2]), flags_of(cells[3])});
  }
  return all;
}

/// What each flag that speaks of a standing means in or on a cake.
std::string standing_of(const ListedAdditive& additive, bool in_the_union) {
  const std::set<std::string> cut{"E104", "E110", "E124"};  // Reg. (EU) No 232/2012: a person confirms the use
  const auto is = [&](const char* flag) { return additive.flags.contains(flag); };
  if (is("not-authorised")) return "not permitted";
  if (is("eu-withdrawn-2022")) return in_the_union ? "not permitted" : "permitted";  // Reg. (EU) 2022/63
  if (is("restricted") || is("sweetener") || is("polyol") || is("decoration-only") || cut.contains(additive.number)) return "restricted";
  return "permitted";
}

class AdditiveList : public testing::TestWithParam<std::string> {};
TEST_P(AdditiveList, StandsWholeInTheRules) {
  const auto packs = shipped_packs();
  const auto terms = packs.label_terms(GetParam(), day(2026, 12, 1)).value();
  const bool in_the_union = GetParam() != "gb" && !GetParam().starts_with("gb-");
  const std::set<std::string> of_standing{"restricted", "not-authorised", "decoration-only", "eu-withdrawn-2022", "warn"};
  const auto list = the_list();
  EXPECT_EQ(list.size(), 318u);
  const auto numbered = [](const AdditiveTerm& row) { return additive_number(row.number).has_value(); };
  EXPECT_EQ(static_cast<std::size_t>(std::count_if(terms.additives.begin(), terms.additives.end(), numbered)), list.size())
      << "none beside the list, but those that have no number";
  for (const auto& additive : list) {
    const auto* row = terms.additive(additive.number);
    ASSERT_NE(row, nullptr) << additive.number;
    EXPECT_EQ(row->name, additive.name) << additive.number;
    EXPECT_EQ(find_additive_by_text(terms, additive.name), row) << additive.number << " is found by its name";
    std::string classes;
    for (const auto& title : row->classes) classes += (classes.empty() ? "" : ";") + title;
    EXPECT_EQ(classes, additive.classes) << additive.number;
    EXPECT_EQ(row->status, standing_of(additive, in_the_union)) << additive.number;
    std::set<std::string> flags = additive.flags;
    std::erase_if(flags, [&](const std::string& flag) { return of_standing.contains(flag); });
    EXPECT_EQ((std::set<std::string>{row->flags.begin(), row->flags.end()}), flags) << additive.number;
    const bool warned = std::any_of(terms.additive_wordings.begin(), terms.additive_wordings.end(), [&](const AdditiveWording& wording) {
      return wording.numbers.size() == 6 &&
             std::find(wording.numbers.begin(), wording.numbers.end(), additive.number) != wording.numbers.end();
    });
    EXPECT_EQ(warned, additive.flags.contains("warn")) << additive.number << ": Reg. (EC) No 1333/2008 annex V";
  }
}
INSTANTIATE_TEST_SUITE_P(Shipped, AdditiveList, testing::Values("gb", "gb-wls", "eu", "ni", "eu-ie"), [](const auto& code) {
  auto name = code.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace tierproof
