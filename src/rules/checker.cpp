// What a person asks about the rules themselves: what is in force, what is known, and what is wrong on a day.
#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>

#include "held.h"

namespace tierproof {
namespace {

const SourceRow* source_of(const Pack& pack, const RuleRow& row) {
  const auto found = std::find_if(pack.sources.begin(), pack.sources.end(), [&](const SourceRow& s) { return s.key == row.source; });
  return found == pack.sources.end() ? nullptr : &*found;
}

Refusals errors(const auto& result) { return result ? Refusals{} : result.error(); }

/// A review that is due, and a source that nobody read.
void judge_source(const std::string& file, const SourceRow& source, Date on, RulesChecked& checked) {
  if (std::chrono::sys_days{source.review_by} < std::chrono::sys_days{on}) {
    checked.faults.push_back({file, source.line, source.path + ".review_by",
                              fmt::format("source \"{}\" was due for review on {}", source.key, format_date(source.review_by)),
                              "read it again, correct the rows, and set read_on and review_by"});
  }
  if (!source.read_on) {
    checked.cautions.push_back({file, source.line, source.path + ".read_on",
                                fmt::format("source \"{}\" was never read: its rows are from memory", source.key),
                                "read it, correct the rows, and set read_on"});
  }
}

/// By file, line and words, each once.
void settle(Refusals& found) {
  const auto key = [](const Refusal& r) { return std::tie(r.file, r.line, r.field, r.message); };
  std::stable_sort(found.begin(), found.end(), [&](const Refusal& l, const Refusal& r) { return key(l) < key(r); });
  found.erase(std::unique(found.begin(), found.end()), found.end());
}

}  // namespace

Result<std::vector<RowTold>> RulePacks::rows_told(const std::string& jurisdiction, const std::string& set, Date on) const {
  const auto* top = held_->find(set, jurisdiction);
  if (top == nullptr) {
    std::set<std::string> codes;
    for (const auto& [key, pack] : held_->packs) codes.insert(pack.jurisdiction);
    return Refusal{"", 0, "jurisdiction", fmt::format("\"{}\" has no {} rules", jurisdiction, set),
                   fmt::format("choose one of: {}", fmt::join(codes, ", "))};
  }
  if (!on.ok()) return Refusal{"", 0, "on", "is not a day of the calendar", "give a date, \"2026-05-01\""};
  std::vector<RowTold> told;
  for (const auto& found : rows_in_force(held_->layers_of(*top), on)) {
    const auto& row = *found.row;
    const auto* source = source_of(*found.pack, row);
    RowTold one;
    one.id = row.id;
    one.mechanism = row.mechanism;
    one.clause = row.cited.clause;
    one.source_title = source != nullptr ? source->title : "";
    one.from_memory = row.cited.from_memory;
    one.note = row.note;
    one.jurisdiction = found.pack->jurisdiction;
    one.from = row.from;
    one.to = row.to;
    one.source = row.source;
    one.review_by = source != nullptr ? source->review_by : Date{};
    one.file = found.pack->path;
    one.line = row.line;
    one.says = told_of(*found.pack, row);
    told.push_back(std::move(one));
  }
  std::stable_sort(told.begin(), told.end(), [](const RowTold& l, const RowTold& r) { return l.mechanism < r.mechanism; });
  return told;
}

std::vector<std::string> RulePacks::sets_of(const std::string& jurisdiction) const {
  std::vector<std::string> sets;
  for (const auto& set : rule_sets()) {
    if (held_->find(set, jurisdiction) != nullptr) sets.push_back(set);
  }
  return sets;
}

std::vector<KnownAllergen> RulePacks::known_allergens() const {
  std::map<std::string, std::string> words;
  for (const auto& [key, pack] : held_->packs) {
    for (const auto& row : pack.rows) {
      if (const auto* allergen = std::get_if<AllergenTerm>(&row.says)) words.emplace(allergen->key, allergen->word);
    }
  }
  std::vector<KnownAllergen> known;
  for (const auto& [key, word] : words) known.push_back({key, word});
  return known;
}

RulesChecked RulePacks::check(Date on) const {
  RulesChecked checked;
  for (const auto& [file, source] : held_->plan_sources) judge_source(file, source, on, checked);
  for (const auto& [key, pack] : held_->packs) {
    for (const auto& source : pack.sources) judge_source(pack.path, source, on, checked);
    for (const auto& row : pack.rows) {
      if (!in_force_on(row, on)) {
        const bool over = row.to && std::chrono::sys_days{*row.to} < std::chrono::sys_days{on};
        checked.not_in_force.push_back({pack.path, row.line, row.path,
                                        over ? fmt::format("\"{}\" ended on {}", row.id, format_date(*row.to))
                                             : fmt::format("\"{}\" begins on {}", row.id, format_date(row.from)),
                                        ""});
        continue;
      }
      if (row.cited.from_memory) {
        checked.cautions.push_back({pack.path, row.line, row.path + ".basis",
                                    fmt::format("\"{}\" rests on memory ({})", row.id, row.cited.clause),
                                    "read the source, or have it confirmed by somebody who knows"});
      }
      if (const auto* spoken = std::get_if<LanguageTerm>(&row.says); spoken != nullptr && !spoken->words_from_memory.empty()) {
        checked.cautions.push_back({pack.path, row.line, row.path + ".words_from_memory",
                                    fmt::format("what the rules say in {} rests on memory", fmt::join(spoken->words_from_memory, " and ")),
                                    "have it read by somebody who speaks it, beside the law in that language"});
      }
    }
    if (pack.base) continue;
    if (pack.set == "temperature") {
      const auto wrong = errors(temperature_terms(pack.jurisdiction, on));
      checked.faults.insert(checked.faults.end(), wrong.begin(), wrong.end());
    }
    if (pack.set == "retention") {
      const auto wrong = errors(retention_terms(pack.jurisdiction, on));
      checked.faults.insert(checked.faults.end(), wrong.begin(), wrong.end());
    }
    if (pack.set != "label") continue;
    const auto terms = label_terms(pack.jurisdiction, on);
    if (!terms) {
      checked.faults.insert(checked.faults.end(), terms.error().begin(), terms.error().end());
      continue;
    }
    const auto rows = rows_in_force(held_->layers_of(pack), on);
    for (const auto& [id, what] : untranslated(*terms)) {
      const auto found = std::find_if(rows.begin(), rows.end(), [&, of = id](const InForce& one) { return one.row->id == of; });
      if (found == rows.end()) continue;
      checked.faults.push_back({found->pack->path, found->row->line, found->row->path,
                                fmt::format("there is no {}, which labels of {} are printed in", what, pack.jurisdiction),
                                "add the words of that language"});
    }
    const bool table =
        std::any_of(rows.begin(), rows.end(), [](const InForce& one) { return std::holds_alternative<AdditiveTableRow>(one.row->says); });
    for (const auto& found : rows) {
      if (table || !std::holds_alternative<AdditiveTerm>(found.row->says)) continue;
      checked.cautions.push_back(
          {found.pack->path, found.row->line, found.row->path,
           fmt::format("\"{}\" stands without a table of additives in the rules of {}", found.row->id, pack.jurisdiction),
           "add an additive-table row: every additive that no row names is unknown there"});
    }
  }
  settle(checked.faults);
  settle(checked.cautions);
  settle(checked.not_in_force);
  return checked;
}

}  // namespace tierproof
