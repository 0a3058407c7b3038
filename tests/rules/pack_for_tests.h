#pragma once

#include <string>
#include <vector>

#include "reference_files.h"

namespace tierproof {

inline const char* const law =
    R"({"key": "law", "title": "The Law", "publisher": "Office", "edition": "1", "link": null, "read_on": "2026-01-15", "review_by": "2027-01-15"})";
inline const char* const old_book =
    R"({"key": "book", "title": "A Book", "publisher": "Press", "edition": "2", "read_on": null, "review_by": "2026-06-30"})";

/// A pack whose rows stand one a line from line 5 on.
inline PackFile pack(const std::string& code, const std::string& set, const std::string& extends, const std::vector<std::string>& rows) {
  std::string text = fmt::format(
      "{{\"jurisdiction\": \"{}\", \"title\": \"{}\", \"set\": \"{}\",\n \"extends\": {},\n \"sources\": [{}, {}],\n \"rows\": [\n", code,
      code, set, extends.empty() ? "null" : "\"" + extends + "\"", law, old_book);
  for (std::size_t i = 0; i < rows.size(); ++i) text += rows[i] + (i + 1 < rows.size() ? ",\n" : "\n");
  return {code + "/" + set + ".json", text + "]}\n"};
}

/// `rest` holds the parameters: `"counts_from": "use by", "months": 12`.
inline std::string row(const std::string& id, const std::string& mechanism, const std::string& rest, const std::string& from = "2020-01-01",
                       const std::string& to = "") {
  return fmt::format(R"({{"id": "{}", "mechanism": "{}", {}{}"from": "{}", "to": {}, "source": "law", "clause": "s. 1", "basis": "read"}})",
                     id, mechanism, rest, rest.empty() ? "" : ", ", from, to.empty() ? "null" : "\"" + to + "\"");
}
inline std::string keep(const std::string& id, int months, const std::string& from = "2020-01-01", const std::string& to = "",
                        const std::string& of = "use by") {
  return row(id, "keep", fmt::format(R"("counts_from": "{}", "months": {})", of, months), from, to);
}

inline const PackFile a_claims_file{"claims.json", R"({"title": "Claims", "words": [{"pattern": "vegan", "why": "it cannot be shown"}]})"};
/// A plan with one row; `rest` has the members that every row needs besides the ones that a test looks at.
inline const char* const rest_of_plan_row =
    R"("words": "Use-by dates", "step": "s", "sorts": ["biological"], "hazard": "h", "likelihood": "seldom", "severity": "serious", "significance": "s", "point": "ccp", "point_because": "p", "control": "c", "limit": "l", "checked": "c", "how_often": "o", "when_missed": "m", "who": "w", "records": ["pack"])";
inline PackFile plan_file(const std::string& rows) {
  return {
      "plan/work.json",
      fmt::format(
          R"({{"title": "Plan", "note": "a start", "scope": "s", "users": "u", "flow": "f", "verified": "v", "review_months": 12, "sources": [{}], "rows": [
{}]}})",
          law, rows)};
}
inline const PackFile a_plan_file = plan_file(fmt::format(
    R"({{"id": "use-by", "order": 1, {}, "not_met": "never", "not_shown": "with a reason", "source": "law", "clause": "s. 2"}})",
    rest_of_plan_row));

inline Result<RulePacks> read(std::vector<PackFile> files) {
  files.push_back(a_claims_file);
  files.push_back(a_plan_file);
  return RulePacks::read(files);
}

inline std::vector<std::string> refused(const std::vector<PackFile>& files) {
  const auto packs = read(files);
  std::vector<std::string> out;
  if (packs) return out;
  for (const auto& refusal : packs.error()) out.push_back(describe(refusal));
  return out;
}

/// `row` with other texts in it: `with(row(...), "\"basis\": \"read\"", "\"basis\": \"memory\"")`.
inline std::string with(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}
inline std::string from_memory(const std::string& text) { return with(text, R"("basis": "read")", R"("basis": "memory")"); }

inline std::string a_wording(const std::string& key, const std::string& text) {
  auto id = "words-" + key;
  std::replace(id.begin(), id.end(), ' ', '-');
  return row(id, "wording", fmt::format(R"("key": "{}", "text": "{}")", key, text));
}

/// The least that a label set of a made-up place must have; `more` stands behind it, from line 15 of the file on.
inline std::vector<std::string> label_rows(const std::vector<std::string>& more = {}) {
  std::vector<std::string> rows{
      row("milk", "allergen", R"("key": "milk", "group": "milk", "word": "milk", "names": ["milk"])"),
      row("wheat", "allergen", R"("key": "gluten:wheat", "group": "cereals", "word": "wheat", "names": ["wheat"])"),
      row("form", "allergen-form", R"("in_list": "each", "summary": "forbidden", "after_list": ["statements", "may contain"])"),
      row("emphasis", "emphasis", R"("style": "bold")"),
      row("water", "added-water", R"("ignored_up_to": "5 %")"),
      row("route", "route",
          R"("boxed": "any", "seller": "any", "ordered": "any", "route": "sold", "words": "sold", "declaration": "ingredient list")"),
      row("size", "type-size", R"("what": "text", "measured": "x-height", "minimum_um": 1200)"),
      a_wording("ingredients heading", "Ingredients:"),
      a_wording("contains", "Contains:"),
      a_wording("may contain", "May contain"),
  };
  rows.push_back(a_wording("caution", "Caution:"));
  rows.insert(rows.end(), more.begin(), more.end());
  return rows;
}
inline PackFile label_pack(const std::vector<std::string>& more, const std::string& code = "aa", const std::string& extends = "") {
  return pack(code, "label", extends, label_rows(more));
}

}  // namespace tierproof
