// Every label case of tests/data/label-cases, in every pack that it holds in; and the prescribed wordings to the byte.
#include <map>
#include <set>

#include "../rules/reference_files.h"
#include "label_case.h"
#include "tierproof/text/csv.h"

namespace tierproof::label_cases {
namespace {

Judged judge(const LabelCase& one, const std::string& pack) {
  static const RulePacks packs = shipped_packs();
  static CaseJudge shipped{packs};
  return shipped.judge(one, pack);
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
  const auto judged = judge(*one, pack);
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
  std::vector<std::string> words;    ///< what the law prescribes; one of several is enough
  std::vector<std::string> printed;  ///< what the packs print, `{names}` where something is put in; none: a claim, never printed
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
    if (cells.size() < 8 || cells[0] == "id") continue;
    all.push_back({cells[0], parted(cells[1], " "), parted(cells[3], "  |  "), {}});
    if (!cells[7].empty()) all.back().printed = parted(cells[7], "  |  ");
  }
  return all;
}

/// Whether `text` is `printed` to the byte, with something where `{names}` stands.
bool fits(std::string_view printed, std::string_view text) {
  constexpr std::string_view mark = "{names}";
  const auto at = printed.find(mark);
  if (at == std::string_view::npos) return printed == text;
  if (!text.starts_with(printed.substr(0, at))) return false;
  const auto rest = printed.substr(at + mark.size());
  for (std::size_t from = at + 1; from <= text.size(); ++from) {
    if (fits(rest, text.substr(from))) return true;
  }
  return false;
}

std::string lower(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

/// The words of `text` in small letters, without what is put in and the signs around them.
std::vector<std::string> words_in(const std::string& text) {
  std::vector<std::string> words;
  for (const auto& piece : parted(lower(text), "{names}")) {
    std::string word;
    for (const char c : piece + " ") {
      if (std::string_view{" :\"()"}.find(c) == std::string_view::npos) {
        word += c;
      } else if (!word.empty()) {
        words.push_back(std::move(word));
        word.clear();
      }
    }
  }
  return words;
}

TEST(PrescribedWordings, AreTheWordsOfTheTable) {
  const auto all = prescribed();
  EXPECT_EQ(all.size(), 25u) << "W01 to W25";
  for (const auto& row : all) {
    if (row.printed.empty()) {
      EXPECT_TRUE(row.id == "W22" || row.id == "W23") << row.id << ": only claims are left out";
    }
    for (const auto& printed : row.printed) {
      bool found = false;
      for (const auto& words : row.words) {
        auto there = words;
        for (auto open = there.find('['); open != std::string::npos; open = there.find('['))
          there.replace(open, there.find(']', open) - open + 1, "{names}");
        if (there == printed) found = true;  // to the byte: the cell holds nothing but the words
        const auto inside = words_in(there);
        const auto ours = words_in(printed);
        bool all_inside = true;
        for (const auto& word : ours) {
          all_inside = all_inside && std::find(inside.begin(), inside.end(), word) != inside.end();
        }
        found = found || all_inside;  // the cell tells where they stand too
      }
      EXPECT_TRUE(found) << row.id << ": \"" << printed << "\" is not in the table";
    }
  }
}

TEST(PrescribedWordings, StandOnLabelsToTheByte) {
  for (const auto& row : prescribed()) {
    if (row.printed.empty()) continue;
    for (const auto& place : row.places) {
      const auto pack = lower(place);
      std::set<std::string> printed;
      for (const auto& one : label_cases()) {
        if (one.wording != row.id || std::find(one.packs.begin(), one.packs.end(), pack) == one.packs.end()) continue;
        bool prints = false;
        for (const auto& text : judge(one, pack).printed) {
          for (const auto& words : row.printed) {
            if (!fits(words, text)) continue;
            printed.insert(words);
            prints = true;
          }
        }
        EXPECT_TRUE(prints) << one.file << ":" << one.line << ": " << one.id << " does not print the words of " << row.id << " in " << pack;
      }
      EXPECT_EQ(printed.size(), row.printed.size()) << "no case of " << pack << " prints all words of " << row.id;
    }
  }
}

TEST(PrescribedWordings, LeaveTheClaimsOut) {
  for (const auto& one : label_cases()) {
    for (const auto& pack : one.packs) {
      for (const auto& text : judge(one, pack).printed) {
        EXPECT_EQ(lower(text).find("gluten-free"), std::string::npos) << one.id;
        EXPECT_EQ(lower(text).find("very low gluten"), std::string::npos) << one.id;
      }
    }
  }
}

}  // namespace
}  // namespace tierproof::label_cases
