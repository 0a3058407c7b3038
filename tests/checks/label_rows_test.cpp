// Every row of every label pack does something: without it, a label case of a pack that reads it comes out otherwise. Some rows no pack
// can do without: those are told otherwise, one parameter after the other, until a case comes out otherwise.
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <sstream>
#include <tuple>

#include "../rules/reference_files.h"
#include "label_case.h"

namespace tierproof::label_cases {
namespace {

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

/// A label file's text in place of what is shipped, and a table's where that is changed too.
struct Changed {
  std::string jurisdiction;
  std::string text;
  std::string table;
  std::string table_text;
};

/// The files that one pack is read from, with what is changed in them.
std::vector<PackFile> files_of(const std::string& code, const Changed& changed = {}) {
  auto files = shipped().others;
  for (const auto& each : chain_of(code)) {
    const auto& label = shipped().labels.at(each);
    files.push_back(each == changed.jurisdiction ? PackFile{label.file.path, changed.text} : label.file);
    for (const auto& table : label.tables) {
      if (table == changed.table) {
        files.push_back({table, changed.table_text});
      } else if (shipped().tables.contains(table)) {  // under names/ they are no tables of a pack
        files.push_back(shipped().tables.at(table));
      }
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

Changed without(const LabelFile& label, std::size_t row) {
  auto json = label.json;
  auto& rows = json["rows"].array();
  rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(row));
  return {label.jurisdiction, write_canonical(json), "", ""};
}

/// Members that every row has: they decide nothing about a cake by themselves.
bool is_of_every_row(const std::string& member) {
  static const std::set<std::string> members{"id", "mechanism", "order", "from", "to", "source", "clause", "basis", "note"};
  return members.contains(member);
}

/// The parameters of a row with the member that they stand under, each text, number and flag by itself, to be looked at or told
/// otherwise.
void each_value(Json& json, const std::function<void(const std::string&, Json&)>& see, const std::string& under = "") {
  if (json.is_array()) {
    for (auto& each : json.array()) each_value(each, see, under);
  } else if (json.is_object()) {
    for (auto& [member, each] : json.object()) {
      if (!is_of_every_row(member)) each_value(each, see, member);
    }
  } else if (!json.is_null()) {
    see(under, json);
  }
}

/// What rows of a mechanism say under a member in any pack, where they choose between a few words.
const std::set<std::string>& choices(const std::string& mechanism, const std::string& member) {
  static const auto all = [] {
    std::map<std::pair<std::string, std::string>, std::set<std::string>> said;
    for (const auto& [code, label] : shipped().labels) {
      auto json = label.json;
      for (auto& row : json["rows"].array()) {
        each_value(row, [&](const std::string& under, Json& value) {
          if (value.is_text()) said[{row.find("mechanism")->text(), under}].insert(value.text());
        });
      }
    }
    return said;
  }();
  static const std::set<std::string> none;
  constexpr std::size_t few = 6;
  const auto found = all.find({mechanism, member});
  return found == all.end() || found->second.size() > few ? none : found->second;
}

std::vector<Json> otherwise(const Json& value, const std::set<std::string>& choices) {
  if (value.is_bool()) return {Json{!value.boolean()}};
  if (value.is_integer()) return {Json{value.integer() + 1}};
  const auto& text = value.text();
  const bool figure = !text.empty() && std::isdigit(static_cast<unsigned char>(text.front())) != 0;
  std::vector<Json> others{Json{figure ? "1" + text : text + " otherwise"}};
  for (const auto& choice : choices) {
    if (choice != text) others.emplace_back(choice);
  }
  return others;
}

/// A row told otherwise, in every way that is one parameter; of a table, without the lines that no row of the pack names.
std::vector<Changed> told_otherwise(const LabelFile& label, std::size_t row) {
  std::vector<Changed> all;
  auto json = label.json;
  auto& there = json["rows"].array()[row];
  each_value(there, [&](const std::string& under, Json& value) {
    const auto was = value;
    for (const auto& other : otherwise(was, choices(there.find("mechanism")->text(), under))) {
      value = other;
      all.push_back({label.jurisdiction, write_canonical(json), "", ""});
    }
    value = was;
  });
  const auto* table = there.find("table");
  if (table == nullptr) return all;
  Changed shorter{label.jurisdiction, label.file.text, label.jurisdiction + "/" + table->text(), ""};
  std::istringstream lines{shipped().tables.at(shorter.table).text};
  for (std::string line; std::getline(lines, line);) {
    const auto number = line.substr(0, line.find('\t'));
    const bool head = line.starts_with('#') || number == "number";
    if (head || label.file.text.find('"' + number + '"') != std::string::npos) shorter.table_text += line + "\n";
  }
  all.push_back(std::move(shorter));
  return all;
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
    auto packs = RulePacks::read(files_of(pack));
    if (!packs) throw std::runtime_error{told(packs.error())};
    place = known.try_emplace(pack, std::move(packs).value(), std::map<const LabelCase*, bool>{}).first;
  }
  auto& [packs, cases] = place->second;
  const auto [found, fresh] = cases.try_emplace(&one, false);
  if (fresh) found->second = CaseJudge{packs}.judge(one, pack).wrong.empty();
  return found->second;
}

/// The cases of a pack, those first that are likely to notice a row: they speak of what it says, in words that few other cases have;
/// and among equals those that cost little. Any case that notices is enough.
std::vector<const LabelCase*> likely_first(Json row, const std::string& pack) {
  static const std::set<std::string> costly{"additives", "cake", "classes", "levels", "one food"};
  std::vector<const LabelCase*> cases;
  for (const auto& one : label_cases()) {
    if (std::find(one.packs.begin(), one.packs.end(), pack) != one.packs.end()) cases.push_back(&one);
  }
  std::map<const LabelCase*, double> promise;
  const auto look_for = [&](std::string text, double weight) {
    for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    std::vector<const LabelCase*> with;
    for (const auto* one : cases) {
      if (one->told.find(text) != std::string::npos) with.push_back(one);
    }
    for (const auto* one : with) promise[one] += weight / static_cast<double>(with.size());
  };
  each_value(row, [&](const std::string&, Json& value) {
    if (value.is_text() && value.text().size() > 1) look_for(value.text(), 1);
  });
  look_for("\n" + row.find("id")->text() + "\n", 2);
  std::stable_sort(cases.begin(), cases.end(), [&](const auto* l, const auto* r) {
    return std::tuple{-promise[l], costly.contains(l->kind)} < std::tuple{-promise[r], costly.contains(r->kind)};
  });
  return cases;
}

enum class Noticed { yes, no, unusable };  ///< unusable: no case notices, and on the day of some the rules cannot be used

/// Whether one of `cases` comes out otherwise in `pack` with the rules `left` that are changed.
Noticed noticed(const Changed& changed, const std::string& pack, const std::string& left, const std::vector<const LabelCase*>& cases) {
  const auto packs = RulePacks::read(left == pack ? files_of(pack, changed) : files_of(left));
  if (!packs) return Noticed::unusable;
  CaseJudge judge{*packs};
  auto worst = Noticed::no;
  for (const auto* one : cases) {
    const auto judged = judge.judge(*one, left);
    if (!judged.usable) {
      worst = Noticed::unusable;
    } else if (!judged.wrong.empty() && holds(*one, pack)) {
      return Noticed::yes;
    }
  }
  return worst;
}

/// Whether a case notices in any pack that reads the row: that it is gone, or, where the pack cannot do without it, that it is told
/// otherwise.
bool is_noticed(const LabelFile& label, std::size_t row) {
  const auto& json = label.json.find("rows")->array()[row];
  const auto gone = without(label, row);
  std::optional<std::vector<Changed>> others;
  for (const auto& pack : packs_on(label.jurisdiction)) {
    const auto cases = likely_first(json, pack);
    const auto left = left_of(label, pack);
    const auto found = noticed(gone, pack, left, cases);
    if (found == Noticed::yes) return true;
    if (found == Noticed::no) continue;
    if (!others) others = told_otherwise(label, row);
    for (const auto& changed : *others) {
      if (noticed(changed, pack, pack, cases) == Noticed::yes) return true;
    }
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
  for (std::size_t i = 0; i < rows.size(); ++i) {
    EXPECT_TRUE(is_noticed(label, i)) << "reference/" << label.file.path << ":" << rows[i].line() << ": " << rows[i].find("id")->text()
                                      << " (" << rows[i].find("mechanism")->text() << ", from " << rows[i].find("from")->text()
                                      << "): no label case notices when it is gone or told otherwise";
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
    const auto packs = RulePacks::read(files_of(code));
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
