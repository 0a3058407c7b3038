#include "label_case.h"

#include <fmt/format.h>

#include <set>
#include <stdexcept>

#include "../rules/reference_files.h"
#include "shipped_hints.h"

namespace tierproof::label_cases {
namespace {

std::string small_letters(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

/// A file of cases, read and checked for its outer form.
struct CaseFile {
  std::string path;
  Json json;
};

std::vector<CaseFile> case_files(Refusals& refusals) {
  const auto folder = source_dir() / "tests/data/label-cases";
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator{folder}) {
    if (entry.path().extension() == ".json") paths.push_back(entry.path());
  }
  std::sort(paths.begin(), paths.end());
  std::vector<CaseFile> files;
  for (const auto& path : paths) {
    const auto name = "tests/data/label-cases/" + path.filename().string();
    auto json = parse_json(text_of(path), name);
    if (!json) {
      refusals.insert(refusals.end(), json.error().begin(), json.error().end());
      continue;
    }
    files.push_back({name, std::move(json).value()});
  }
  return files;
}

void stock(Pantry& pantry, Fields& top) {
  if (top.has("foods")) {
    for (const auto& [name, food] : top.object("foods").object()) {
      if (!pantry.foods.emplace(name, food).second) top.refuse("foods", fmt::format("\"{}\" is there twice", name), "give it another name");
    }
  }
  if (top.has("cakes")) {
    for (const auto& [name, cake] : top.object("cakes").object()) {
      if (!pantry.cakes.emplace(name, cake).second) top.refuse("cakes", fmt::format("\"{}\" is there twice", name), "give it another name");
    }
  }
}

/// Adds every text below `json`, and below each food and cake of the pantry that a text names.
void tell_all(const Json& json, const Pantry& pantry, std::string& told, std::set<std::string>& named) {
  if (json.is_array()) {
    for (const auto& each : json.array()) tell_all(each, pantry, told, named);
  } else if (json.is_object()) {
    for (const auto& [key, each] : json.object()) {
      told += small_letters(key) + "\n";
      tell_all(each, pantry, told, named);
    }
  } else if (json.is_text()) {
    told += small_letters(json.text()) + "\n";
    const auto blank = json.text().find(' ', json.text().find(' ') + 1);
    const auto used = blank == std::string::npos ? "" : json.text().substr(blank + 1);  // "400 g sugar"
    for (const auto& name : {json.text(), used}) {
      for (const auto* shelf : {&pantry.foods, &pantry.cakes}) {
        const auto found = shelf->find(name);
        if (found != shelf->end() && named.insert(name).second) tell_all(found->second, pantry, told, named);
      }
    }
  }
}

LabelCase read_case(const Json& json, const std::string& file, const std::string& path, const Pantry& pantry, Refusals& refusals) {
  Fields fields{json, file, path, refusals};
  LabelCase one;
  one.file = file;
  one.line = json.line();
  one.id = fields.text("id");
  one.title = fields.text("title");
  one.kind = fields.text("kind");
  one.packs = fields.texts("packs");
  if (one.packs.empty()) fields.refuse("packs", "has nothing in it", "name the packs that it holds in");
  one.on = fields.date("on");
  one.clause = fields.text("clause");
  one.source = fields.text("source");
  one.wording = fields.maybe_text("wording").value_or("");
  one.confirmed = fields.texts("confirmed");
  std::set<std::string> named;
  tell_all(json, pantry, one.told, named);
  const auto kind = kind_of(one.kind);
  if (kind == nullptr) {
    fields.refuse("kind", fmt::format("\"{}\" is no kind of case", one.kind), "look at the README beside the file");
    return one;
  }
  one.judge_by = kind(fields, pantry, refusals);
  fields.done();
  return one;
}

std::vector<LabelCase> read_all() {
  Refusals refusals;
  Pantry shared;
  for (const auto& known : shipped_packs().known_allergens()) shared.allergens.push_back(known.key);
  const auto files = case_files(refusals);
  for (const auto& file : files) {
    if (!file.path.ends_with("/pantry.json")) continue;
    Fields top{file.json, file.path, "", refusals};
    top.maybe_text("note");
    stock(shared, top);
    top.done();
  }
  std::vector<LabelCase> cases;
  std::set<std::string> ids;
  for (const auto& file : files) {
    if (file.path.ends_with("/pantry.json")) continue;
    Pantry pantry = shared;
    Fields top{file.json, file.path, "", refusals};
    top.maybe_text("note");
    stock(pantry, top);
    const auto& list = top.list("cases");
    top.done();
    for (std::size_t i = 0; i < list.size(); ++i) {
      cases.push_back(read_case(list[i], file.path, fmt::format("cases[{}]", i), pantry, refusals));
      for (const auto& pack : cases.back().packs) {
        if (!ids.insert(cases.back().id + " " + pack).second)
          refusals.push_back({file.path, cases.back().line, "id", fmt::format("\"{}\" stands twice for {}", cases.back().id, pack),
                              "give each case of a pack an id of its own"});
      }
    }
  }
  if (!refusals.empty()) throw std::runtime_error{"the label cases are refused:\n" + told(refusals)};
  return cases;
}

/// Confirms what the case wants confirmed.
Confirmations confirmations_of(const LabelCase& one, const std::string& pack, const RulePacks& packs) {
  Confirmations confirmed;
  if (one.confirmed.empty()) return confirmed;
  const auto rows = packs.rows_told(pack, "label", one.on);
  if (!rows) return confirmed;
  for (const auto& row : *rows) {
    if (std::find(one.confirmed.begin(), one.confirmed.end(), row.id) != one.confirmed.end())
      confirmed[{row.jurisdiction, row.id}] = {row.clause, "by the kitchen of the case", row.says};
  }
  return confirmed;
}

}  // namespace

const std::vector<LabelCase>& label_cases() {
  static const std::vector<LabelCase> all = read_all();
  return all;
}

Judged CaseJudge::judge(const LabelCase& one, const std::string& pack) {
  const auto by = [&](Result<LabelTerms> terms) {
    if (terms) terms->vocabulary = &shipped_hints();
    return terms ? one.judge_by(*terms) : Judged{{"the rules cannot be used: " + told(terms.error())}, {}, false};
  };
  if (!one.confirmed.empty()) return by(packs_.label_terms(pack, one.on, confirmations_of(one, pack, packs_)));
  const std::pair key{pack, std::chrono::sys_days{one.on}};
  const auto known = drawn_up_.find(key);
  return by(known != drawn_up_.end() ? known->second : drawn_up_.emplace(key, packs_.label_terms(pack, one.on)).first->second);
}

}  // namespace tierproof::label_cases
