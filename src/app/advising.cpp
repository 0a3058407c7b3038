#include "tierproof/app/advising.h"

#include <fmt/format.h>

#include <algorithm>

#include "checking.h"
#include "tierproof/app/planning.h"

namespace tierproof {
namespace {

/// Whether a row of that id is in the plan, or in force in the rules that the kitchen goes by.
bool is_a_row(const Session& session, const std::string& id) {
  if (plan_row(session, plan_now(session), id) != nullptr) return true;
  const Kitchen& kitchen = session.kitchen();
  for (const auto& [set, code] :
       {std::pair{"label", kitchen.label_rules}, {"temperature", kitchen.temperature_rules}, {"retention", kitchen.retention_rules}}) {
    const auto rows = session.packs().rows_told(code, set, session.today());
    if (rows && std::any_of(rows->begin(), rows->end(), [&](const RowTold& row) { return row.id == id; })) return true;
  }
  return false;
}

std::string in_words(const Recorded<Advice>& advice) {
  return fmt::format("{}, {} (note {}), {}: {}. One officer's word on one day; another may see it otherwise.",
                     format_date_long(advice.value.on), advice.value.office, advice.sequence, advice.value.topic,
                     advice.value.words.text.value_or("(erased)"));
}

}  // namespace

Result<Booked> note_advice(Session& session, const Advising& advising) {
  Checking checking{session};
  checking.person();
  checking.words("--who", advising.said_by);
  checking.words("--from", advising.office);
  checking.words("--topic", advising.topic);
  checking.words("--words", advising.words);
  if (advising.on > session.today())
    checking.refuse("--on", fmt::format("{} is still to come", format_date_long(advising.on)), "write the day on which it was said");
  if (!advising.about.empty() && !is_a_row(session, advising.about))
    checking.refuse("--about", fmt::format("no row \"{}\" is in the hazard plan or in the rules of this kitchen", advising.about),
                    "`tierproof plan` and `tierproof rules CODE` list them; or leave it out");
  if (!checking.good()) return checking.refusals();
  const Advice advice{session.seal(advising.said_by), advising.office, advising.on, advising.topic, advising.about,
                      session.seal(advising.words)};
  return book_one(session, checking, advice, "advice", {session.now(), session.offset_at(session.now())});
}

std::vector<std::string> advice_about(const Session& session, std::string_view row) {
  std::vector<std::string> lines;
  for (const auto& advice : session.state().advice) {
    if (!row.empty() && advice.value.about == row) lines.push_back(in_words(advice));
  }
  return lines;
}

std::vector<std::string> advice_on(const Session& session, const Finding& finding) {
  std::vector<std::string> lines;
  for (const auto& advice : session.state().advice) {
    const std::string& about = advice.value.about;
    const bool its_row = finding.source.find("[" + about + ":") != std::string::npos;  // as `cite` writes it
    if (!about.empty() && (about == finding.control || its_row)) lines.push_back(in_words(advice));
  }
  return lines;
}

}  // namespace tierproof
