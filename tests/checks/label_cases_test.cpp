// Every label case of tests/data/label-cases, in every pack that it holds in; and the prescribed wordings to the byte.
#include <map>
#include <set>

#include "../rules/reference_files.h"
#include "label_case.h"
#include "tierproof/text/csv.h"

namespace tierproof::label_cases {
namespace {

const RulePacks& shipped() {
  static const RulePacks packs = shipped_packs();
  return packs;
}

/// One case in one pack.
struct InPack {
  const LabelCase* one = nullptr;
  std::string pack;
};

std::vector<InPack> all_in_their_packs() {
  std::vector<InPack> all;
  for (const auto& one : label_cases()) {
    for (const auto& pack : one.packs) all.push_back({&one, pack});
  }
  return all;
}

std::string name_of(const testing::TestParamInfo<InPack>& info) {
  std::string name = info.param.pack + "_" + info.param.one->id;
  for (char& c : name) {
    if (std::isalnum(static_cast<unsigned char>(c)) == 0) c = '_';
  }
  return name;
}

class LabelCases : public testing::TestWithParam<InPack> {};
TEST_P(LabelCases, ComeOutAsTheLawSays) {
  const auto& [one, pack] = GetParam();
  const auto judged = judge(*one, pack, shipped());
  for (const auto& wrong : judged.wrong)
    ADD_FAILURE() << one->file << ":" << one->line << ": " << one->id << " in " << pack << ": " << wrong << "\n  " << one->title << "; "
                  << one->clause << "; " << one->source;
}
INSTANTIATE_TEST_SUITE_P(Shipped, LabelCases, testing::ValuesIn(all_in_their_packs()), name_of);

TEST(LabelCaseFiles, HoldEveryOpenCase) {
  std::set<std::string> ids;
  for (const auto& one : label_cases()) ids.insert(one.id.substr(0, 3));
  for (int i = 1; i <= 22; ++i) EXPECT_TRUE(ids.contains(fmt::format("L{:02}", i))) << "L" << i;
}

/// A line of the table of prescribed wordings.
struct PrescribedWording {
  std::string id;
  std::vector<std::string> places;
  std::vector<std::string> words;  ///< what the law prescribes; one of several is enough
  std::string printed;             ///< what the packs print, `{names}` where something is put in; empty: never printed
};

std::vector<std::string> parted(const std::string& text, const std::string& by) {
  std::vector<std::string> parts;
  for (std::size_t from = 0; from <= text.size();) {
    const auto end = std::min(text.find(by, from), text.size());
    parts.push_back(text.substr(from, end - from));
    from = end + by.size();
  }
  return parts;
}

std::vector<PrescribedWording> prescribed() {
  auto text = text_of(source_dir() / "tests/data/prescribed-wordings.tsv");
  while (text.starts_with('#')) text.erase(0, text.find('\n') + 1);
  std::vector<PrescribedWording> all;
  for (const auto& line : parted(text, "\n")) {
    const auto cells = parted(line, "\t");
    if (cells.size() < 9 || cells[0] == "id") continue;
    all.push_back({cells[0], parted(cells[1], " "), parted(cells[3], "  |  "), cells[8]});
  }
  return all;
}

/// Whether `printed` is what a label carries: to the byte, with anything where `{names}` stands.
bool is_printed(const std::string& printed, const std::vector<std::string>& texts) {
  const auto at = std::min(printed.find("{names}"), printed.size());
  const auto before = printed.substr(0, at);
  const auto after = at == printed.size() ? std::string{} : printed.substr(at + 7);
  const bool put_in = at != printed.size();
  return std::any_of(texts.begin(), texts.end(), [&](const std::string& text) {
    if (!put_in) return text == printed;
    return text.size() > before.size() + after.size() && text.starts_with(before) && text.ends_with(after);
  });
}

std::string lower(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

TEST(PrescribedWordings, AreTheWordsOfTheTable) {
  const auto all = prescribed();
  EXPECT_EQ(all.size(), 25u) << "W01 to W25";
  for (const auto& row : all) {
    if (row.printed.empty()) {
      EXPECT_TRUE(row.id == "W22" || row.id == "W23") << row.id << ": only claims are left out";
      continue;
    }
    // What is no name, date or code stands in the table's cell as it is printed.
    bool found = false;
    for (const auto& words : row.words) {
      auto plain = words;
      for (auto open = plain.find('['); open != std::string::npos; open = plain.find('[')) {
        const auto close = plain.find(']', open);
        plain.replace(open, close - open + 1, "{names}");
      }
      found = found || plain == row.printed;
    }
    if (found) continue;
    for (const auto& piece : parted(row.printed, "{names}")) {
      for (const auto& word : parted(piece, " ")) {
        auto bare = lower(word);
        while (!bare.empty() && bare.back() == ':') bare.pop_back();
        EXPECT_NE(lower(row.words.front()).find(bare), std::string::npos) << row.id << ": " << word;
      }
    }
  }
}

TEST(PrescribedWordings, StandOnLabelsToTheByte) {
  for (const auto& row : prescribed()) {
    if (row.printed.empty()) continue;
    for (const auto& place : row.places) {
      const auto pack = lower(place);
      int printing = 0;
      for (const auto& one : label_cases()) {
        if (one.wording != row.id || std::find(one.packs.begin(), one.packs.end(), pack) == one.packs.end()) continue;
        ++printing;
        EXPECT_TRUE(is_printed(row.printed, judge(one, pack, shipped()).printed))
            << one.file << ":" << one.line << ": " << one.id << " in " << pack << " does not print \"" << row.printed << "\"";
      }
      EXPECT_GT(printing, 0) << "no case of " << pack << " prints " << row.id << ", " << row.printed;
    }
  }
}

TEST(PrescribedWordings, LeaveTheClaimsOut) {
  for (const auto& one : label_cases()) {
    for (const auto& pack : one.packs) {
      for (const auto& text : judge(one, pack, shipped()).printed) {
        EXPECT_EQ(lower(text).find("gluten-free"), std::string::npos) << one.id;
        EXPECT_EQ(lower(text).find("very low gluten"), std::string::npos) << one.id;
      }
    }
  }
}

}  // namespace
}  // namespace tierproof::label_cases
