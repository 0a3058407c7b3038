#pragma once

#include <string>
#include <vector>

#include "forms.h"
#include "tierproof/app/glance.h"
#include "tierproof/units/finding.h"

namespace tierproof::web {

// Pieces that several pages show.

/// A verdict by shape and word.
Html verdict_mark(Verdict verdict);
/// Whether a cake may leave, by shape and word.
Html leaving_mark(bool nobody_may, bool released, bool against_findings);
/// How a place stands, by shape and word.
Html standing_mark(ColdStanding standing);
/// One judged control: its heading, what the records show, the limit, and what to do.
Html finding_card(const std::string& heading, const Finding& finding);
/// Name and value, one under the other.
Html facts(const std::vector<std::pair<std::string, Html>>& pairs);
/// A table with its heading row; `caption` says what it holds.
Html table(const std::string& caption, const std::vector<std::string>& headings, const std::vector<std::vector<Html>>& rows);
/// What tells of now: the script brings it up to date where it stands. It holds no field that somebody may be typing into.
/// @param id  unique on its page
Html live(const char* id, const Html& inside);
/// A link that looks like a button.
Html link_button(const std::string& href, const std::string& words, const char* kind = "plain");
/// What stands on an empty page: what is missing, and where it is done.
Html nothing_yet(const std::string& words, const std::string& href, const std::string& action);

/// Where pictures and papers of a thing or of a note are, with how many there are.
Html pictures_of(Visit& visit, const std::string& about);
/// Below what a page tells of a thing: its pictures, and its notes, to look at one and put it right.
Html more_about(Visit& visit, const std::string& id);

std::string degrees_in_words(Temperature temperature);  ///< `4.5 °C`
/// `1 May 2026, 08:10` as the kitchen's clock showed it.
std::string moment_in_words(const Session& session, Instant at);

/// Links to the PDFs of `paper` that were issued, each with when and its note: of a paper that is no cake's own.
Html issued_papers(const Session& session, std::string_view paper);

Choices places_of(const Session& session);
Choices thermometers_of(const Session& session);
Choices foods_of(const Session& session);
Choices suppliers_of(const Session& session);
Choices recipes_of(const Session& session);
Choices kit_of(const Session& session);
/// Allergens of the kitchen's label rules in force today, in the law's order.
Choices allergens_of(const Session& session);
/// Where a moment is asked for, for a note that is typed later than it happened.
void add_when(FormView& form);
/// The days `from` and `until` that a page is asked for, in its address or its form.
struct DaysAsked {
  std::string from_typed, until_typed;
  std::optional<Date> from, until;
  Refusals wrong;  ///< what was typed and is no day
};
DaysAsked days_asked(const Visit& visit);
/// Terms of the log without what only it needs: `probe-check/1` as `probe check`, `typed_late` as `typed late`.
std::string in_plain_words(std::string terms);
/// What a person typed as a name, as a short name that nothing in `taken` has: `ground-almonds`, `ground-almonds-2`.
std::string short_name(const std::string& name, const std::function<bool(const std::string&)>& taken);

}  // namespace tierproof::web
