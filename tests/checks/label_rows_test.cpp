// Every row of every label pack does something: without it, a label case of a pack that reads it comes out otherwise.
#include <map>
#include <set>

#include "../rules/reference_files.h"
#include "label_case.h"

namespace tierproof::label_cases {
namespace {

/// Mechanisms whose rows change nothing that a label case could see, each with the reason.
const std::map<std::string, std::string> changes_nothing_by_itself{};

struct LabelFile {
  PackFile file;
  Json json;
  std::string jurisdiction;
  std::string beneath;
  bool base = false;
  std::vector<std::string> tables;
};

/// The label packs by jurisdiction, and the files that every reading needs.
struct Shipped {
  std::map<std::string, LabelFile> labels;
  std::map<std::string, PackFile> tables;
  std::vector<PackFile> others;  ///< claim words and plan
};

const Shipped& shipped() {
  static const Shipped read = [] {
    Shipped found;
    for (auto& file : reference_files()) {
      if (file.path.ends_with("/label.json")) {
        auto json = parse_json(file.text, file.path).value();
        LabelFile label{std::move(file), std::move(json), "", "", false, {}};
        label.jurisdiction = label.json.find("jurisdiction")->text();
        if (!label.json.find("extends")->is_null()) label.beneath = label.json.find("extends")->text();
        label.base = label.json.find("base") != nullptr;
        for (const auto& row : label.json.find("rows")->array()) {
          if (const auto* table = row.find("table")) label.tables.push_back(label.jurisdiction + "/" + table->text());
        }
        const auto code = label.jurisdiction;
        found.labels.emplace(code, std::move(label));
      } else if (file.path.ends_with("/additives.tsv")) {
        const auto path = file.path;
        found.tables.emplace(path, std::move(file));
      } else if (file.path == "claims.json" || file.path.starts_with("plan/")) {
        found.others.push_back(std::move(file));
      }
    }
    return found;
  }();
  return read;
}

/// `code` and all that it leans on.
std::vector<std::string> chain_of(const std::string& code) {
  std::vector<std::string> chain;
  for (auto at = code; !at.empty(); at = shipped().labels.at(at).beneath) chain.push_back(at);
  return chain;
}

/// The files that one pack is read from, with one label file's text replaced.
std::vector<PackFile> files_of(const std::string& code, const std::string& replaced, const std::string& text) {
  auto files = shipped().others;
  for (const auto& each : chain_of(code)) {
    const auto& label = shipped().labels.at(each);
    files.push_back(each == replaced ? PackFile{label.file.path, text} : label.file);
    for (const auto& table : label.tables) {
      if (shipped().tables.contains(table)) files.push_back(shipped().tables.at(table));  // under names/ they are no tables of a pack
    }
  }
  return files;
}

std::vector<std::string> packs_on(const std::string& code) {
  std::vector<std::string> packs;
  for (const auto& [each, label] : shipped().labels) {
    const auto chain = chain_of(each);
    if (!label.base && std::find(chain.begin(), chain.end(), code) != chain.end()) packs.push_back(each);
  }
  std::stable_sort(packs.begin(), packs.end(), [&](const auto& l, const auto& r) { return (l == code) > (r == code); });
  return packs;
}

std::string text_without(const LabelFile& label, std::size_t row) {
  auto json = label.json;
  auto& rows = json["rows"].array();
  rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(row));
  return write_canonical(json);
}

/// The pack whose terms are left for `pack` without a row of `label`: a layer of one row is gone with it.
std::string left_of(const LabelFile& label, const std::string& pack) {
  const bool gone = label.json.find("rows")->array().size() == 1 && label.jurisdiction == pack;
  return gone ? label.beneath : pack;
}

/// Whether a case holds while all rows are there: one that does not would notice anything.
bool holds(const LabelCase& one, const std::string& pack) {
  static std::map<std::string, std::pair<RulePacks, std::map<const LabelCase*, bool>>> known;
  auto place = known.find(pack);
  if (place == known.end()) {
    auto packs = RulePacks::read(files_of(pack, "", ""));
    if (!packs) throw std::runtime_error{told(packs.error())};
    place = known.try_emplace(pack, std::move(packs).value(), std::map<const LabelCase*, bool>{}).first;
  }
  auto& [packs, cases] = place->second;
  const auto [found, fresh] = cases.try_emplace(&one, false);
  if (fresh) found->second = CaseJudge{packs}.judge(one, pack).wrong.empty();
  return found->second;
}

/// Whether a case of `pack` comes out otherwise without a row of `label`. `likely` are cases that noticed rows of the same mechanism: they
/// are asked first, since any case that notices is enough.
bool is_noticed(const LabelFile& label, std::size_t row, const std::string& pack, std::vector<const LabelCase*>& likely) {
  const auto left = left_of(label, pack);
  const auto packs = RulePacks::read(left == pack ? files_of(pack, label.jurisdiction, text_without(label, row)) : files_of(left, "", ""));
  if (!packs) return true;  // the rest is refused without it
  CaseJudge without{*packs};
  const auto notices = [&](const LabelCase& one) {
    return std::find(one.packs.begin(), one.packs.end(), pack) != one.packs.end() && !without.judge(one, left).wrong.empty() &&
           holds(one, pack);
  };
  for (const auto* one : likely) {
    if (notices(*one)) return true;
  }
  for (const auto& one : label_cases()) {
    if (std::find(likely.begin(), likely.end(), &one) != likely.end() || !notices(one)) continue;
    likely.insert(likely.begin(), &one);
    return true;
  }
  return false;
}

std::vector<std::string> codes() {
  std::vector<std::string> all;
  for (const auto& [code, label] : shipped().labels) all.push_back(code);
  return all;
}

class RowsOfAPack : public testing::TestWithParam<std::string> {};
TEST_P(RowsOfAPack, AreEachNoticedByACaseWhenTheyAreGone) {
  const auto& label = shipped().labels.at(GetParam());
  const auto& rows = label.json.find("rows")->array();
  std::map<std::string, std::vector<const LabelCase*>> likely;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto mechanism = rows[i].find("mechanism")->text();
    if (changes_nothing_by_itself.contains(mechanism)) continue;
    bool noticed = false;
    for (const auto& pack : packs_on(label.jurisdiction)) {
      noticed = is_noticed(label, i, pack, likely[mechanism]);
      if (noticed) break;
    }
    EXPECT_TRUE(noticed) << "reference/" << label.file.path << ":" << rows[i].line() << ": " << rows[i].find("id")->text() << " ("
                         << mechanism << ", from " << rows[i].find("from")->text() << "): no label case notices when it is gone";
  }
}
INSTANTIATE_TEST_SUITE_P(Shipped, RowsOfAPack, testing::ValuesIn(codes()), [](const auto& code) {
  auto name = code.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

TEST(RowsTakenAway, LeaveTheCasesOfEveryPackInOrderWhileAllAreThere) {
  for (const auto& [code, label] : shipped().labels) {
    if (label.base) continue;
    const auto packs = RulePacks::read(files_of(code, "", ""));
    ASSERT_TRUE(packs.has_value()) << code << ": " << told(packs.error());
    CaseJudge whole{*packs};
    for (const auto& one : label_cases()) {
      if (std::find(one.packs.begin(), one.packs.end(), code) == one.packs.end()) continue;
      for (const auto& wrong : whole.judge(one, code).wrong) ADD_FAILURE() << code << ": " << one.id << ": " << wrong;
    }
  }
}

}  // namespace
}  // namespace tierproof::label_cases
