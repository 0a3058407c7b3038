#include "tierproof/app/confirming.h"

#include <set>

#include "checking.h"
#include "tierproof/log/hash.h"

namespace tierproof {
namespace {

std::string confirmed_in_words(const Recorded<RuleConfirmed>& confirmed) {
  return fmt::format("{}, recorded by {} on {}, note {}", confirmed.value.body, confirmed.person.text(),
                     format_date_long(day_of(confirmed.happened, confirmed.offset)), confirmed.sequence);
}

/// The sets of rules that the kitchen chose, each with its code, and the label rules that its cakes are sold under.
std::vector<std::pair<std::string, std::string>> chosen_sets(const Session& session) {
  const Kitchen& kitchen = session.kitchen();
  std::vector<std::pair<std::string, std::string>> sets{
      {"label", kitchen.label_rules}, {"temperature", kitchen.temperature_rules}, {"retention", kitchen.retention_rules}};
  std::set<std::string> elsewhere;
  for (const auto& [id, cake] : session.state().cakes) {
    if (!cake.value.label_rules.empty() && cake.value.label_rules != kitchen.label_rules) elsewhere.insert(cake.value.label_rules);
  }
  std::size_t at = 1;
  for (const auto& code : elsewhere) sets.insert(sets.begin() + static_cast<std::ptrdiff_t>(at++), {"label", code});
  return sets;
}

}  // namespace

Confirmations confirmations_of(const Session& session) {
  Confirmations all;
  for (const auto& confirmed : session.state().confirmed) {
    const RuleConfirmed& row = confirmed.value;
    Confirmation what{row.clause, confirmed_in_words(confirmed), ""};  // no row says nothing, so what nobody finds confirms none
    for (const auto& says : session.packs().sayings_of(row.row)) {
      if (to_hex(sha256(says)) == row.says_sha256) what.says = says;
    }
    all.insert_or_assign({row.jurisdiction, row.row}, std::move(what));
  }
  return all;
}

Result<Booked> confirm_rule(Session& session, const RuleConfirming& confirming) {
  Checking checking{session};
  checking.person();
  checking.words("--body", confirming.body);
  if (confirming.told_by.empty())
    checking.refuse("--told-by", "who told you is missing", "write the person's name; it is kept apart, so that it can be erased");
  const ZonedInstant at = checking.moment(confirming.at);
  std::vector<std::pair<std::string, std::string>> sets;
  if (confirming.code.empty()) {
    sets = chosen_sets(session);
  } else {
    for (const auto& set : session.packs().sets_of(confirming.code)) sets.emplace_back(set, confirming.code);
    if (sets.empty())
      checking.refuse("--of", fmt::format("there are no rules called \"{}\"", confirming.code), "`tierproof rules` lists them");
  }
  std::optional<RowTold> found;
  std::string code;
  for (const auto& [set, of] : sets) {
    const auto rows = session.packs().rows_told(of, set, session.today());
    if (!rows) continue;
    const auto row = std::find_if(rows->begin(), rows->end(), [&](const RowTold& told) { return told.id == confirming.row; });
    if (row == rows->end() || found) continue;
    found = *row;
    code = of;
  }
  if (!sets.empty() && !found) {
    checking.refuse("row", fmt::format("no row \"{}\" is in force in these rules today", confirming.row),
                    "`tierproof list rules-from-memory` names the rows that can be confirmed; name other rules with --of CODE");
  } else if (found && !found->from_memory) {
    checking.refuse("row", fmt::format("\"{}\" was read in its source ({}: {})", found->id, found->source_title, found->clause),
                    "nothing has to be confirmed");
  }
  if (!checking.good()) return checking.refusals();
  RuleConfirmed confirmed{found->id, code, found->clause, confirming.body, session.seal(confirming.told_by), to_hex(sha256(found->says))};
  return book_one(session, checking, confirmed, found->id, at);
}

std::vector<RowFromMemory> rows_from_memory(const Session& session, Date on) {
  const Confirmations known = confirmations_of(session);
  std::vector<RowFromMemory> all;
  std::set<std::pair<std::string, std::string>> looked;
  for (const auto& [set, code] : chosen_sets(session)) {
    if (!looked.insert({set, code}).second) continue;
    const auto rows = session.packs().rows_told(code, set, on);
    if (!rows) continue;
    for (const auto& row : *rows) {
      if (!row.from_memory) continue;
      RowFromMemory from{row, set, code, "", false};
      for (const auto& of : {row.jurisdiction, code}) {  // that of the chosen rules counts before that of the pack beneath
        const auto found = known.find({of, row.id});
        if (found == known.end()) continue;
        if (found->second.clause == row.clause && found->second.says == row.says) from.confirmed = found->second.words;
        from.changed = from.confirmed.empty();
      }
      all.push_back(std::move(from));
    }
  }
  return all;
}

}  // namespace tierproof
