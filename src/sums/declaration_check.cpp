#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "label_runs.h"
#include "label_shares.h"

namespace tierproof {
namespace {

Finding shown(std::string control, const std::string& subject, std::string message) {
  Finding finding;
  finding.control = std::move(control);
  finding.verdict = Verdict::shown;
  finding.stop = Stop::none;
  finding.subject = subject;
  finding.message = std::move(message);
  return finding;
}

Finding not_shown(std::string control, const std::string& subject, std::string message, std::string remedy) {
  Finding finding;
  finding.control = std::move(control);
  finding.verdict = Verdict::not_shown;
  finding.stop = Stop::needs_person;
  finding.subject = subject;
  finding.message = std::move(message);
  finding.remedy = std::move(remedy);
  return finding;
}

std::string percent(const Share& share) { return format_decimal(share * 100, 2) + " %"; }

/// The ways that one pack comes in, as `Composition` tells them.
void append_paths(std::vector<std::string>& paths, const Composition& made, std::size_t amount) {
  paths.insert(paths.end(), made.lots[amount].paths.begin(), made.lots[amount].paths.end());
}

// ---- allergens ------------------------------------------------------------------------------------------------------------

void check_allergens(std::vector<Finding>& findings, const Composition& made, const Declaration& declared, const LabelTerms& terms) {
  const std::string limit = "every allergen of the law declared, or answered for by every pack";
  for (const std::string& key : declared.unknown) {
    const AllergenTerm* term = terms.allergen(key);
    const AllergenTrace* trace = find_trace(made, key);
    const std::string& word = term->word;
    const std::size_t packs = trace == nullptr ? 0 : trace->unknown.size();
    Finding finding = not_shown(
        "allergens-known", key,
        trace == nullptr ? fmt::format("nobody can rule out {}: the packs were not asked about it", word)
                         : fmt::format("nobody can rule out {}: {} of the {} {} in it {} not say", word, packs, made.lots.size(),
                                       made.lots.size() == 1 ? "pack" : "packs", packs == 1 ? "does" : "do"),
        "do not hand it over; ask the supplier of each pack and record the answer with its evidence, or remake it without that pack");
    finding.stop = Stop::no_override;
    finding.limit = limit;
    finding.result = trace == nullptr ? "not traced" : fmt::format("not known for {} of {} packs", packs, made.lots.size());
    finding.evidence = "what the packs' specifications say";
    finding.source = cite(term->cited);
    if (trace != nullptr) finding.paths = trace->unknown;
    findings.push_back(std::move(finding));
  }
  if (!declared.unknown.empty()) return;
  if (terms.allergens.empty()) {  // without the law's list nothing was asked, so nothing is known
    Finding finding = not_shown("allergens-known", made.cake.text(), "the rules in force name no allergen, so none was asked for",
                                "do not hand it over; mend the rule pack");
    finding.stop = Stop::no_override;
    findings.push_back(std::move(finding));
    return;
  }
  Finding finding =
      shown("allergens-known", made.cake.text(),
            fmt::format("each of the {} allergens that the law names is declared, or every one of the {} packs answers for it",
                        terms.allergens.size(), made.lots.size()));
  finding.limit = limit;
  finding.result = fmt::format("{} declared, {} may be contained", declared.contains.size(), declared.may_contain.size());
  finding.evidence = "what the packs' specifications say";
  finding.source = cite(terms.allergens.front().cited);
  findings.push_back(std::move(finding));
}

// ---- additives ------------------------------------------------------------------------------------------------------------

std::string called(const AdditiveFound& additive) {
  if (additive.number.empty()) return additive.name;
  return same_words(additive.name, additive.number) ? additive.number : fmt::format("{} ({})", additive.name, additive.number);
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
    return additive_finding(additive, made, fmt::format("{} is given as {}, without its number", additive.name, additive.class_title),
                            "read the E number from the pack or ask the supplier");
  }
  const AdditiveTerm* row = find_additive(terms, additive.number, additive.name);
  if (row == nullptr) {
    return additive_finding(additive, made, fmt::format("{} is not in the table of these rules", called(additive)),
                            "look it up in the law's list before this cake leaves");
  }
  if (row->status == "permitted") return std::nullopt;
  const std::string why = row->note.empty() ? "" : ": " + row->note;
  Finding finding = additive_finding(additive, made, "", "");
  finding.result = row->status;
  finding.source = cite(row->cited);
  if (row->status == "not permitted") {
    finding.verdict = Verdict::not_met;
    finding.stop = Stop::no_override;
    finding.message = fmt::format("{} is not permitted here{}", called(additive), why);
    finding.remedy = "do not hand it over; remake it without the packs that bring it";
  } else if (row->status == "restricted") {
    finding.message = fmt::format("{} is permitted in some foods only{}", called(additive), why);
    finding.remedy = "confirm that this use is one of them";
  } else if (row->status == "decoration only") {
    finding.message = fmt::format("{} is permitted for outside decoration only{}", called(additive), why);
    finding.remedy = "confirm that it is used as outside decoration only";
  } else {
    finding.message =
        fmt::format("the standing of {} is not known ({}){}", called(additive), row->status.empty() ? "no word" : row->status, why);
    finding.remedy = "look it up in the law's list before this cake leaves";
  }
  return finding;
}

std::optional<Finding> judge_class(const AdditiveFound& additive, const Composition& made, const LabelTerms& terms) {
  if (additive.class_title.empty()) {
    const AdditiveTerm* row = find_additive(terms, additive.number, additive.name);
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
  if (known) return std::nullopt;
  return additive_finding(additive, made,
                          fmt::format("{} is no class title of the law's list ({})", additive.class_title, called(additive)),
                          "read the class from the pack");
}

void check_additives(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const LabelTerms& terms) {
  const std::vector<AdditiveFound> additives = additives_in(parts, made, terms);
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
  if (!fine) return;
  Finding finding =
      shown("additives-permitted", made.cake.text(),
            additives.empty() ? "no pack lists an additive" : fmt::format("all {} additives are permitted by the table", judged.size()));
  finding.limit = "additives permitted in this food, with their class";
  finding.result = fmt::format("{} additives", judged.size());
  finding.evidence = "what the packs' specifications say";
  if (!additives.empty()) finding.source = cite(find_additive(terms, additives.front().number, additives.front().name)->cited);
  findings.push_back(std::move(finding));
}

// ---- sulphites ------------------------------------------------------------------------------------------------------------

void check_sulphites(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const Declaration& declared,
                     const LabelTerms& terms) {
  const AllergenTerm* term = terms.allergen(sulphites_key);
  if (term == nullptr || !term->above_mg_per_kg) {
    findings.push_back(shown("sulphites", made.cake.text(), "these rules set no amount for sulphites"));
    return;
  }
  const std::string sum = format_decimal(declared.sulphites_mg_per_kg, 1) + " mg/kg";
  const std::string limit = fmt::format("declared {} {} mg/kg as SO2 in the finished cake", term->at_threshold ? "at or above" : "above",
                                        format_decimal(*term->above_mg_per_kg, 0));
  const std::vector<std::size_t> silent = sulphites_without_figure(parts, made);
  Finding finding;
  if (!silent.empty()) {
    finding = not_shown(
        "sulphites", made.cake.text(),
        fmt::format("{} with sulphites {} no figure, so they are declared as a caution",
                    silent.size() == 1 ? "one pack" : fmt::format("{} packs", silent.size()), silent.size() == 1 ? "gives" : "give"),
        "ask the supplier for the total as SO2 in mg/kg");
    for (const std::size_t amount : silent) append_paths(finding.paths, made, amount);
    std::sort(finding.paths.begin(), finding.paths.end());
    finding.result = "at least " + sum;
  } else {
    const bool declares = above_threshold(declared.sulphites_mg_per_kg, *term);
    finding = shown("sulphites", made.cake.text(),
                    declared.sulphites_mg_per_kg == 0
                        ? "no pack gives an amount of sulphites"
                        : fmt::format("sulphites come to {} of the finished cake and are {}", sum, declares ? "declared" : "not declared"));
    finding.result = sum;
  }
  finding.limit = limit;
  finding.evidence = "figures of the packs' specifications, over the finished mass";
  finding.source = cite(term->cited);
  findings.push_back(std::move(finding));
}

// ---- masses ---------------------------------------------------------------------------------------------------------------

/// Within a tenth of the limit, edges included.
bool is_close(const Share& share, const Share& limit) { return abs(share - limit) * 10 <= limit; }

/// What an estimated mass that is a little off could change.
std::vector<std::string> close_calls(const CakeParts& parts, const Composition& made, const Declaration& declared,
                                     const LabelTerms& terms) {
  std::vector<std::string> close;
  const std::vector<ListedIngredient>& list = declared.ingredients;
  for (std::size_t i = 1; i < list.size(); ++i) {
    if (list[i].any_order_at_end) break;
    if ((list[i - 1].ingoing_mg - list[i].ingoing_mg) * 10 < list[i - 1].ingoing_mg) {
      close.push_back(fmt::format("{} ({} g) before {} ({} g)", list[i - 1].name, format_decimal(list[i - 1].ingoing_mg / 1000, 1),
                                  list[i].name, format_decimal(list[i].ingoing_mg / 1000, 1)));
    }
  }
  const auto near = [&](const std::string& what, const Share& share, const Share& limit) {
    if (limit > 0 && is_close(share, limit)) close.push_back(fmt::format("{}: {}, limit {}", what, percent(share), percent(limit)));
  };
  const AddedWater water = added_water(parts, made);
  if (water.used) near("added water", water.of_finished, terms.water_ignored_up_to.limit);
  std::set<std::string> seen;
  for (const ListedIngredient& entry : list) {
    if (!seen.insert(entry.name).second) continue;
    near(entry.name, share_of_name(declared, entry.name), terms.any_order_below.limit);
    const bool fixed = std::any_of(entry.lots.begin(), entry.lots.end(),
                                   [&](std::size_t lot) { return !parts.lots[lot].ingredient.fixed_by_law.empty(); });
    if (fixed && terms.compound_relief_below.limit != terms.any_order_below.limit) {
      near(entry.name + " without its parts", share_of_name(declared, entry.name), terms.compound_relief_below.limit);
    }
  }
  for (const ShareWording& row : terms.share_wordings) {
    if (const auto share = share_for_wording(row.of, parts, made, terms)) near(row.of, *share, row.above);
  }
  const AllergenTerm* sulphites = terms.allergen(sulphites_key);
  if (sulphites != nullptr && sulphites->above_mg_per_kg && is_close(declared.sulphites_mg_per_kg, *sulphites->above_mg_per_kg)) {
    close.push_back(fmt::format("sulphites: {} mg/kg, limit {} mg/kg", format_decimal(declared.sulphites_mg_per_kg, 1),
                                format_decimal(*sulphites->above_mg_per_kg, 0)));
  }
  return close;
}

void check_masses(std::vector<Finding>& findings, const CakeParts& parts, const Composition& made, const Declaration& declared,
                  const LabelTerms& terms) {
  const std::vector<std::string> estimated = estimated_masses(parts);
  const std::vector<std::string> gained = batches_that_gained(parts);
  const std::vector<std::string> close = estimated.empty() ? std::vector<std::string>{} : close_calls(parts, made, declared, terms);
  std::string which;
  for (const std::string& one : estimated) which += (which.empty() ? "" : "; ") + one;

  Finding finding;
  if (!gained.empty()) {
    finding = not_shown("masses-weighed", made.cake.text(),
                        fmt::format("{}: something was not recorded, or a mass is wrong", fmt::join(gained, "; ")),
                        "record what is missing, or weigh again");
    finding.paths = gained;
  }
  if (!close.empty()) {
    const std::string message = fmt::format("a mass is estimated, and a little more or less could change the list ({})", which);
    if (gained.empty()) {
      finding =
          not_shown("masses-weighed", made.cake.text(), message, "weigh what is estimated, or confirm the order and shares by another way");
    } else {
      finding.message += "; " + message;
    }
    finding.paths.insert(finding.paths.end(), close.begin(), close.end());
  }
  if (gained.empty() && close.empty()) {
    finding =
        shown("masses-weighed", made.cake.text(),
              estimated.empty() ? "every mass on the way was weighed"
                                : fmt::format("estimated, and far enough from every limit and neighbour to change nothing: {}", which));
  }
  finding.limit = "masses weighed; an estimate only where a tenth more or less changes neither the order nor a limit";
  finding.result = estimated.empty() ? "all weighed" : fmt::format("{} estimated", estimated.size());
  finding.evidence = "masses as recorded";
  finding.source = cite(terms.any_order_below.cited);
  findings.push_back(std::move(finding));
}

}  // namespace

std::vector<Finding> check(const CakeParts& parts, const Composition& made, const Declaration& declared, const LabelTerms& terms) {
  std::vector<Finding> findings;
  check_allergens(findings, made, declared, terms);
  check_additives(findings, parts, made, terms);
  check_sulphites(findings, parts, made, declared, terms);
  check_masses(findings, parts, made, declared, terms);
  return findings;
}

}  // namespace tierproof
