#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>

#include "additives_present.h"
#include "declaration_check.h"
#include "label_runs.h"
#include "tierproof/sums/additive_text.h"

namespace tierproof {
namespace {

std::string called(const AdditiveFound& additive) {
  if (additive.number.empty()) return additive.name;
  return same_words(additive.name, additive.number) ? additive.number : fmt::format("{} ({})", additive.name, additive.number);
}

/// What a misspelt number or name may have meant.
std::string perhaps(const LabelTerms& terms, const AdditiveFound& additive) {
  const std::vector<std::string> near = near_additives(terms, additive.number.empty() ? additive.name : additive.number);
  return near.empty() ? "" : fmt::format("; perhaps {}", fmt::join(near, " or "));
}

Finding additive_finding(const AdditiveFound& additive, const Composition& made, std::string message, std::string remedy) {
  Finding finding =
      not_shown("additives-permitted", additive.number.empty() ? additive.name : additive.number, std::move(message), std::move(remedy));
  finding.limit = "additives permitted in this food, with their class";
  finding.evidence = "what the packs' specifications say";
  for (const std::size_t amount : additive.amounts) append_paths(finding.paths, made, amount);
  std::sort(finding.paths.begin(), finding.paths.end());
  return finding;
}

/// Whether an additive may be in the cake, as far as the table knows.
std::optional<Finding> judge_standing(const AdditiveFound& additive, const Composition& made, const LabelTerms& terms) {
  if (additive.number.empty()) {
    return additive_finding(
        additive, made,
        fmt::format("{} is given as {}, without its number{}", additive.name, additive.class_title, perhaps(terms, additive)),
        "read the E number from the pack or ask the supplier");
  }
  const AdditiveTerm* row = find_additive_by_text(terms, additive.number.empty() ? additive.name : additive.number);
  if (row == nullptr) {
    return additive_finding(additive, made,
                            fmt::format("{} is not in the table of these rules{}", called(additive), perhaps(terms, additive)),
                            "look it up in the law's list before this cake leaves");
  }
  if (row->status == "permitted") return std::nullopt;
  const std::string why = row->note.empty() ? "" : ": " + row->note;
  Finding finding = additive_finding(additive, made, "", "");
  finding.result = row->status;
  finding.source = cite(row->cited);
  if (row->status == "not permitted") {
    finding.message = fmt::format("{} is not permitted here{}{}", called(additive), why, doubt(row->cited));
    finding.remedy = "confirm it with the food authority and record who told you, or remake it without the packs that bring it";
    if (row->cited.firm()) {
      finding.verdict = Verdict::not_met;
      finding.stop = Stop::no_override;
      finding.remedy = "do not hand it over; remake it without the packs that bring it";
    }
  } else if (row->status == "restricted") {
    finding.message = fmt::format("{} is permitted in some foods only{}", called(additive), why);
    finding.remedy = "confirm that this use is one of them";
  } else if (row->status == "decoration only") {
    finding.message = fmt::format("{} is permitted for outside decoration only{}", called(additive), why);
    finding.remedy = "confirm that it is used as outside decoration only";
  } else {
    finding.message = fmt::format("whether {} is permitted here has not been judged{}", called(additive), why);
    finding.remedy = "look it up in the law's list before this cake leaves";
  }
  return finding;
}

/// Colours and sweeteners are lists of their own in every law: one that these rules know as something else may not be used as such.
std::optional<Finding> judge_closed_class(const AdditiveFound& additive, const Composition& made, const LabelTerms& terms) {
  constexpr std::array<std::string_view, 2> closed = {"colour", "sweetener"};
  const AdditiveTerm* row = find_additive_by_text(terms, additive.number.empty() ? additive.name : additive.number);
  const auto is_title = [&](std::string_view title) { return same_words(title, additive.class_title); };
  if (row == nullptr || row->status == "not permitted" || std::none_of(closed.begin(), closed.end(), is_title) ||
      std::any_of(row->classes.begin(), row->classes.end(), is_title))
    return std::nullopt;
  Finding finding = additive_finding(additive, made,
                                     fmt::format("{} is used as {}, and the table knows it as {} alone", called(additive),
                                                 additive.class_title, fmt::join(row->classes, ", ")),
                                     "read the class from the pack again; if it is right, confirm that this use is permitted");
  finding.source = cite(row->cited);
  return finding;
}

std::optional<Finding> judge_class(const AdditiveFound& additive, const Composition& made, const LabelTerms& terms) {
  if (additive.class_title.empty()) {
    const AdditiveTerm* row = find_additive_by_text(terms, additive.number.empty() ? additive.name : additive.number);
    const bool usual = row != nullptr && !row->classes.empty();
    return additive_finding(
        additive, made,
        usual ? fmt::format("what {} does is not recorded; its usual class, {}, is printed", called(additive), row->classes.front())
              : fmt::format("what {} does is not recorded, so it is printed without a class", called(additive)),
        "read the class from the pack");
  }
  const bool known =
      terms.class_titles.empty() || std::any_of(terms.class_titles.begin(), terms.class_titles.end(),
                                                [&](const std::string& title) { return same_words(title, additive.class_title); });
  if (known) return judge_closed_class(additive, made, terms);
  return additive_finding(additive, made,
                          fmt::format("{} is no class title of the law's list ({})", additive.class_title, called(additive)),
                          "read the class from the pack");
}

}  // namespace

void check_additives(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  const std::vector<AdditiveFound> additives = additives_present(parts, made, terms);
  std::set<std::string> judged;  // the standing once, whatever its classes
  bool fine = true;
  for (const AdditiveFound& additive : additives) {
    std::vector<std::optional<Finding>> found;
    if (judged.insert(additive.number.empty() ? additive.name : additive.number).second) {
      AdditiveFound all = additive;
      for (const AdditiveFound& other : additives) {
        if (other.number != additive.number || other.class_title == additive.class_title || additive.number.empty()) continue;
        all.amounts.insert(all.amounts.end(), other.amounts.begin(), other.amounts.end());
      }
      std::sort(all.amounts.begin(), all.amounts.end());
      all.amounts.erase(std::unique(all.amounts.begin(), all.amounts.end()), all.amounts.end());
      found.push_back(judge_standing(all, made, terms));
    }
    found.push_back(judge_class(additive, made, terms));
    for (std::optional<Finding>& one : found) {
      if (!one) continue;
      fine = false;
      findings.push_back(std::move(*one));
    }
  }
  for (const AdditiveFound& open : additives_left_open(parts, made, terms)) {
    fine = false;
    findings.push_back(
        additive_finding(open, made,
                         same_words(open.name, open.class_title)
                             ? fmt::format("{} speaks of an additive, and not which one{}", open.name, perhaps(terms, open))
                             : fmt::format("{} speaks of an additive, and {} is none that these rules know", open.name, open.class_title),
                         "read the pack again, and record the additive with its number and its class"));
  }
  if (!fine) return;
  Finding finding =
      shown("additives-permitted", made.cake.text(),
            additives.empty() ? "no pack lists an additive" : fmt::format("all {} additives are permitted by the table", judged.size()));
  finding.limit = "additives permitted in this food, with their class";
  finding.result = fmt::format("{} additives", judged.size());
  finding.evidence = "what the packs' specifications say";
  if (!additives.empty()) finding.source = cite(find_additive_by_text(terms, additives.front().number)->cited);
  findings.push_back(std::move(finding));
}

}  // namespace tierproof
