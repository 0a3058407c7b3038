#include "inspection_sections.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <map>
#include <set>

#include "charts.h"
#include "series.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/thermometers.h"
#include "tierproof/sums/due.h"
#include "tierproof/sums/probe.h"

namespace tierproof {
namespace {

/// Tables up to so many rows are told whole; of longer ones the rows with nothing wanting in them are counted by month (a choice).
constexpr std::size_t told_whole = 40;

struct ShownColumn {
  std::string heading;
  std::string words;
};

/// `May 2026`
std::string month_of(const DataCell& cell) {
  constexpr const char* months[] = {"January", "February", "March",     "April",   "May",      "June",
                                    "July",    "August",   "September", "October", "November", "December"};
  Date day{};
  if (const auto* date = std::get_if<Date>(&cell)) day = *date;
  if (const auto* moment = std::get_if<ZonedInstant>(&cell)) day = day_of(moment->at, moment->offset);
  if (!day.ok()) return "without a day";
  return fmt::format("{} {}", months[static_cast<unsigned>(day.month()) - 1], static_cast<int>(day.year()));
}

/// The rows of a table that `takes` asks for, with what is wanting marked.
/// @param when  heading of the day by which what is left out is counted; empty: every row is told, however many
InspectionTable shown(const DataTable& table, const std::vector<ShownColumn>& columns, const std::string& when,
                      const std::function<bool(const RowOf&)>& takes, const std::function<bool(const RowOf&)>& wanting) {
  InspectionTable shown;
  for (const auto& column : columns) shown.heads.push_back(column.words);
  std::vector<const DataRow*> rows;
  for (const auto& row : table.rows) {
    if (takes(RowOf{table, row})) rows.push_back(&row);
  }
  std::vector<std::pair<std::string, std::size_t>> months;
  for (const auto* row : rows) {
    const RowOf of{table, *row};
    const bool marked = wanting(of);
    if (!marked && rows.size() > told_whole && !when.empty()) {
      const std::string month = month_of(of.cell(when));
      if (months.empty() || months.back().first != month) months.emplace_back(month, 0);
      ++months.back().second;
      continue;
    }
    InspectionRow told{{}, marked};
    for (const auto& column : columns) told.cells.push_back(of[column.heading]);
    shown.rows.push_back(std::move(told));
  }
  if (!months.empty()) {
    std::vector<std::string> words;
    for (const auto& [month, count] : months) words.push_back(fmt::format("{} {}", month, count));
    shown.left_out =
        fmt::format("Not told one by one, since nothing in them is marked: {}. Each stands in {}.csv.", fmt::join(words, ", "), table.name);
  }
  return shown;
}

bool always(const RowOf&) { return true; }
bool never(const RowOf&) { return false; }

class Sections {
 public:
  Sections(const Session& session, const InspectedPeriod& period, const std::vector<InspectedPlace>& places, const TemperatureTerms& terms,
           InspectionFigures& figures)
      : session_{session}, period_{period}, places_{places}, terms_{terms}, figures_{figures} {}

  std::vector<InspectionSection> all() {
    plan();
    advice();
    people();
    suppliers();
    for (const auto& place : places_) cold(place);
    eggs();
    thermometers();
    allergens();
    cleaning();
    regular();
    troubles();
    cakes();
    controls();
    exercise();
    return std::move(sections_);
  }

 private:
  InspectionSection& begin(std::string name, std::vector<std::string> data) {
    sections_.push_back({std::move(name), {}, {}, {}, {}, std::move(data)});
    return sections_.back();
  }
  const DataTable& table(const std::string& name) const { return figures_.table(name); }

  void plan() {
    auto& section = begin("Hazard plan", {"plan-reviews"});
    const PlanVersion version = plan_now(session_);
    const HazardPlan& plan = plan_of(session_, version);
    const PlanReviewDue due = plan_review_due(session_);
    section.facts = {{"In force", fmt::format("{}: {}", plan.title, version.words)},
                     {"Last looked at", due.last.empty() ? "nobody has yet" : due.last},
                     {"Next review by", due.taken ? format_date_long(due.due) : "not taken over yet, so nobody answers for it"}};
    if (!due.since.empty())
      section.facts.push_back(
          {"Changed since", fmt::format("{}; a review is due for {}", counted(std::int64_t(due.since.size()), "thing", "things"),
                                        due.since.size() == 1 ? "it" : "them")});
    InspectionTable rows{{"Step", "What could go wrong", "Limit, and what it rests on"}, {}, ""};
    for (const PlanRow& row : plan.rows) {
      if (row.point == "ghp") continue;
      rows.rows.push_back({{row.words, row.hazard, fmt::format("{} ({})", row.limit, plan.source_of(row))}, false});
    }
    section.says.push_back(
        fmt::format("{} of its {} rows need more than good hygiene; they are told here, and the others, with how each is checked and what "
                    "is done when it "
                    "is missed, by `tierproof plan`.",
                    rows.rows.size(), plan.rows.size()));
    section.tables.push_back(std::move(rows));
    if (!table("plan-reviews").rows.empty())
      section.tables.push_back(shown(table("plan-reviews"),
                                     {{"happened_local", "Reviewed"}, {"changed", "Changed"}, {"what", "What"}, {"note", "Note"}}, "",
                                     always, never));
  }

  void advice() {
    if (table("advice").rows.empty()) return;
    begin("What officers said", {"advice"})
        .tables.push_back(shown(table("advice"),
                                {{"on", "On"}, {"office", "From"}, {"topic", "About"}, {"words", "What was said"}, {"note", "Note"}}, "",
                                always, never));
  }

  void people() {
    auto& section = begin("Who works here", {"people", "training"});
    section.tables.push_back(
        shown(table("people"), {{"person", "Short name"}, {"name", "Name"}, {"role", "Role"}, {"note", "Note"}}, "", always, never));
    if (table("training").rows.empty()) {
      section.says.emplace_back("No training is recorded in this period.");
    } else {
      section.tables.push_back(
          shown(table("training"), {{"made_local", "Trained"}, {"answers", "What"}, {"note", "Note"}}, "", always, never));
    }
  }

  void suppliers() {
    auto& section = begin("Suppliers and deliveries", {"suppliers", "packs", "to-look-at"});
    InspectionTable rows{{"Supplier", "Address", "Packs in this period", "Note"}, {}, ""};
    for (const auto& row : table("suppliers").rows) {
      const RowOf of{table("suppliers"), row};
      const std::int64_t packs = figures_.rows("packs-received", of["supplier"], "packs", {{"supplier", of["supplier"]}});
      rows.rows.push_back({{of["name"], of["address"], fmt::format("{}", packs), of["note"]}, false});
    }
    section.tables.push_back(std::move(rows));
    const auto too_old = [](const RowOf& row) { return row["overdue"] == "yes"; };
    InspectionTable old = shown(table("to-look-at"),
                                {{"ingredient", "What packs say of"},
                                 {"supplier", "From"},
                                 {"last_looked", "Last looked at"},
                                 {"days_left", "Days left"},
                                 {"packs", "Packs with something left"},
                                 {"note", "Note"}},
                                "last_looked", too_old, too_old);
    section.says.push_back(old.rows.empty() ? "Everything on file of what packs say was looked at in time, as far as a time is set."
                                            : "To be compared with the pack again, since nobody has looked for too long:");
    if (!old.rows.empty()) section.tables.push_back(std::move(old));
  }

  void cold(const InspectedPlace& place) {
    auto& section = begin(fmt::format("{}, day by day", place.name), {"place-days", "warm-times", "temperatures"});
    section.reviewed = true;
    const std::string id = place.id.text();
    section.charts = place.charts;
    for (const auto& stay : place.watched) {
      std::string words = stay.warm.empty() ? (stay.limit ? "no time above the limit is recorded" : "no limit applies")
                                            : fmt::format("above {} {}", stay.limit_words, bounds_in_words(together(stay.warm)));
      if (!stay.reliable) words += "; the thermometer cannot be relied on for the whole period, see its checks";
      section.facts.push_back({stay.thermometer, fmt::format("{}: {}", stay.measured_food ? "in the food" : "air", words)});
    }
    if (place.watched.empty()) {
      section.says.emplace_back("No thermometer was read here in this period, so nothing shows how cold it was on any day.");
      return;
    }
    const auto here = [&](const RowOf& row) { return row["place"] == id; };
    section.tables.push_back(shown(table("place-days"),
                                   {{"day", "Day"},
                                    {"worked", "Worked"},
                                    {"readings", "Readings"},
                                    {"typed_late", "Typed late"},
                                    {"lowest_c", "Lowest °C"},
                                    {"highest_c", "Highest °C"},
                                    {"longest_unread_min", "Longest unread"},
                                    {"above_limit", "Read above the limit"},
                                    {"notes", "Notes"}},
                                   "day", here, [](const RowOf& row) {
                                     return row["missing"] == "yes" || row["typed_late"] != "0" || row["faults"] != "0" ||
                                            row["above_limit"] == "yes" || row["above_limit"] == "perhaps" || row["unreliable"] == "yes" ||
                                            (row["above_limit"] == "not known" && row["worked"] == "yes");
                                   }));
    InspectionTable warm = shown(table("warm-times"),
                                 {{"from_local", "From"},
                                  {"to_local", "To"},
                                  {"thermometer", "Thermometer"},
                                  {"measured_in", "In"},
                                  {"at_least_s", "For at least"},
                                  {"at_most_s", "At most"},
                                  {"highest_c", "Warmest °C"}},
                                 "from_local", here, always);
    if (!warm.rows.empty()) section.tables.push_back(std::move(warm));
  }

  void eggs() {
    auto& section = begin("Egg steps", {"egg-steps"});
    if (table("egg-steps").rows.empty())
      section.says.emplace_back("No cake of this period has a part with an egg step to judge.");
    else
      section.tables.push_back(shown(table("egg-steps"),
                                     {{"about", "Batch"},
                                      {"recipe", "Recipe"},
                                      {"made_local", "Made"},
                                      {"verdict", "Verdict"},
                                      {"cakes", "In"},
                                      {"note", "Note"},
                                      {"says", "What the records show"}},
                                     "made_local", always,
                                     [](const RowOf& row) { return text_of(row.cell("verdict")) != term_of(Verdict::shown); }));
  }

  void thermometers() {
    auto& section = begin("Thermometers", {"thermometer-checks"});
    section.reviewed = true;
    drift(section);
    InspectionTable standing{{"Thermometer", "How it stands now"}, {}, ""};
    for (const CheckNow& now : thermometers_now(session_, terms_, period_.at))
      standing.rows.push_back(
          {{now.name, now.standing.words}, now.standing.is != CheckStanding::Is::good && now.standing.is != CheckStanding::Is::due});
    section.tables.push_back(std::move(standing));
    section.tables.push_back(shown(table("thermometer-checks"),
                                   {{"at_local", "Checked"},
                                    {"name", "Thermometer"},
                                    {"in", "In"},
                                    {"read_c", "Read °C"},
                                    {"should_read_c", "Should be °C"},
                                    {"off_by_c", "Off by K"},
                                    {"good", "Good"},
                                    {"note", "Note"}},
                                   "at_local", always, [](const RowOf& row) { return row["good"] != "yes"; }));
  }

  /// How far off each thermometer was at the first and the last check of each method, and at most.
  void drift(InspectionSection& section) const {
    const auto kelvins_of = [](TemperatureSpan off) { return fmt::format("{:.2f}", off.to_kelvins()); };
    InspectionTable rows{{"Thermometer", "In", "Checks", "Off at the first, K", "At the last, K", "At most, K"}, {}, ""};
    for (const auto& [id, probe] : session_.state().probes) {
      auto checks = checks_of(session_.state(), id);
      std::erase_if(checks, [&](const ProbeCheck& check) { return !period_.holds(check.at); });
      for (const Drift& one : drift_of(checks))
        rows.rows.push_back({{probe.value.name, one.method, fmt::format("{}", one.checks), kelvins_of(one.first), kelvins_of(one.last),
                              kelvins_of(one.most)},
                             false});
    }
    if (!rows.rows.empty()) section.tables.push_back(std::move(rows));
  }

  void allergens() {
    auto& section = begin("Allergens of each cake", {"allergens"});
    struct Words {
      std::string contains, may_contain, not_known;
      static void add(std::string& to, const std::string& name) { to += (to.empty() ? "" : ", ") + name; }
    };
    std::map<std::string, Words> by_cake;
    std::vector<std::string> order;
    for (const auto& row : table("allergens").rows) {
      const RowOf of{table("allergens"), row};
      const auto [found, fresh] = by_cake.try_emplace(of["cake"]);
      if (fresh) order.push_back(of["cake"]);
      const std::string word = of["word"];
      if (word.starts_with("contains")) Words::add(found->second.contains, of["allergen"]);
      if (word.starts_with("exempt")) Words::add(found->second.contains, fmt::format("{} ({})", of["allergen"], word));
      if (word.starts_with("may contain")) Words::add(found->second.may_contain, of["allergen"]);
      if (word.starts_with("not known")) Words::add(found->second.not_known, of["allergen"]);
    }
    InspectionTable rows{{"Cake", "Contains", "May contain", "Not known"}, {}, ""};
    for (const auto& cake : order) {
      const Words& words = by_cake.at(cake);
      const auto name = session_.state().cakes.find(CakeId{cake});
      rows.rows.push_back({{fmt::format("{} ({})", cake, name == session_.state().cakes.end() ? "" : name->second.value.name),
                            words.contains, words.may_contain, words.not_known},
                           !words.not_known.empty()});
    }
    section.says.emplace_back(rows.rows.empty()
                                  ? "No cake of this period is built."
                                  : "By the packs that were used. What is not named here is not an ingredient; that is no promise.");
    if (!rows.rows.empty()) section.tables.push_back(std::move(rows));
  }

  void cleaning() {
    auto& section = begin("Cleaning of shared kit", {"cleanings"});
    std::set<std::string> kit;
    for (const auto& row : table("cleanings").rows) kit.insert(RowOf{table("cleanings"), row}["kit"]);
    InspectionTable rows{{"Kit", "Wiped", "Washed, looked clean", "Washed and tested", "Validated"}, {}, ""};
    for (const auto& one : kit) {
      InspectionRow row{{one}, false};
      for (const char* grade : {"wiped", "washed, looked clean", "washed and tested", "validated"})
        row.cells.push_back(fmt::format("{}", figures_.rows("cleanings", one, "cleanings", {{"kit", one}, {"cleaned", grade}})));
      rows.rows.push_back(std::move(row));
    }
    if (rows.rows.empty())
      section.says.emplace_back("No cleaning of kit between batches is recorded in this period.");
    else
      section.tables.push_back(std::move(rows));
  }

  void regular() {
    auto& section = begin("Regular records", {"regular-due", "regular-records", "missed-checks", "records-review"});
    section.reviewed = true;
    if (!table("records-review").rows.empty())
      section.tables.push_back(shown(
          table("records-review"),
          {{"made_local", "Records looked through"}, {"by", "By"}, {"note", "Note"}, {"answers", "What was found"}}, "", always, never));
    std::vector<std::pair<std::string, std::string>> sorts;
    for (const auto& row : table("regular-due").rows) {
      const RowOf of{table("regular-due"), row};
      const std::pair<std::string, std::string> sort{of["sort"], of["name"]};
      if (std::find(sorts.begin(), sorts.end(), sort) == sorts.end()) sorts.push_back(sort);
    }
    InspectionTable rows{{"What", "Done", "Done late", "Missed or overdue", "Not due: nobody worked"}, {}, ""};
    for (const auto& [sort, name] : sorts) {
      const auto count = [&, of = sort](DueState state) {
        return figures_.rows(fmt::format("regular-{}", term_of(state)), of, "regular-due",
                             {{"sort", of}, {"state", std::string{term_of(state)}}});
      };
      const std::int64_t late = count(DueState::done_late);
      const std::int64_t missing = count(DueState::missed) + count(DueState::overdue);
      rows.rows.push_back({{name, fmt::format("{}", count(DueState::done)), fmt::format("{}", late), fmt::format("{}", missing),
                            fmt::format("{}", count(DueState::fallen_away))},
                           late + missing > 0});
    }
    if (rows.rows.empty())
      section.says.emplace_back("No regular record is kept that was due in this period.");
    else
      section.tables.push_back(std::move(rows));
    const auto wanting = [](const RowOf& row) {
      const std::string state = text_of(row.cell("state"));
      return state == term_of(DueState::missed) || state == term_of(DueState::overdue) || state == term_of(DueState::done_late) ||
             row["wanting"] == "yes";
    };
    const auto not_fine = [](const RowOf& row) { return row["as_it_should_be"] == "no"; };
    InspectionTable wrong = shown(table("regular-records"),
                                  {{"made_local", "Made"},
                                   {"name", "Not as it should be"},
                                   {"answered_by", "Answered for by"},
                                   {"open", "Open"},
                                   {"note", "Note"},
                                   {"answers", "What it says"}},
                                  "made_local", not_fine, not_fine);
    if (!wrong.rows.empty()) section.tables.push_back(std::move(wrong));
    const auto when_it_happens = [&](const RowOf& row) {
      return row["as_it_should_be"] == "yes" &&
             std::none_of(sorts.begin(), sorts.end(), [&](const auto& sort) { return sort.first == row["sort"]; });
    };
    InspectionTable happened =
        shown(table("regular-records"),
              {{"made_local", "Made"}, {"name", "What"}, {"note", "Note"}, {"answers", "What it says"}, {"remark", "Remark"}}, "made_local",
              when_it_happens, when_it_happens);
    if (!happened.rows.empty()) section.tables.push_back(std::move(happened));
    InspectionTable one_by_one = shown(table("regular-due"),
                                       {{"due", "Due"},
                                        {"name", "What"},
                                        {"state", "How it stands"},
                                        {"done_on", "Done on"},
                                        {"not_as_it_should_be", "Not as it should be"},
                                        {"missed_because", "Because"},
                                        {"note", "Note"}},
                                       "due", wanting, wanting);
    if (!one_by_one.rows.empty()) section.tables.push_back(std::move(one_by_one));
  }

  void troubles() {
    auto& section = begin("What went wrong, and what became of the food", {"troubles", "complaints", "recalls"});
    section.reviewed = true;
    const auto open = [](const RowOf& row) { return row["open"] == "yes"; };
    if (table("troubles").rows.empty())
      section.says.emplace_back("Nothing is recorded as gone wrong in this period.");
    else
      section.tables.push_back(shown(table("troubles"),
                                     {{"begun_local", "When"},
                                      {"trouble", "Which"},
                                      {"what", "What went wrong"},
                                      {"became_of_the_food", "What became of the food"},
                                      {"done", "What was done"},
                                      {"open", "Open"},
                                      {"note", "Note"},
                                      {"closing_note", "Closed by note"}},
                                     "begun_local", always, open));
    if (table("complaints").rows.empty())
      section.says.emplace_back("No complaint is recorded in this period.");
    else
      section.tables.push_back(shown(table("complaints"),
                                     {{"begun_local", "When"},
                                      {"complaint", "Which"},
                                      {"cake", "About"},
                                      {"of", "Of"},
                                      {"open", "Open"},
                                      {"note", "Note"},
                                      {"closing_note", "Closed by note"}},
                                     "begun_local", always, open));
    const auto real = [](const RowOf& row) { return row["exercise"] == "no"; };
    InspectionTable recalls = shown(table("recalls"),
                                    {{"begun_local", "When"},
                                     {"recall", "Recall"},
                                     {"of", "Of"},
                                     {"reached", "Foods reached"},
                                     {"steps", "Steps taken"},
                                     {"open", "Open"},
                                     {"note", "Note"},
                                     {"closing_note", "Closed by note"}},
                                    "begun_local", real, open);
    if (recalls.rows.empty())
      section.says.emplace_back("No recall is recorded in this period.");
    else
      section.tables.push_back(std::move(recalls));
  }

  void cakes() {
    auto& section = begin("Cakes", {"cakes", "overrides"});
    if (table("cakes").rows.empty()) {
      section.says.emplace_back("No cake belongs to this period.");
      return;
    }
    section.tables.push_back(shown(table("cakes"),
                                   {{"cake", "Cake"},
                                    {"name", "Name"},
                                    {"event", "For"},
                                    {"state", "Stands"},
                                    {"not_shown", "Not shown"},
                                    {"not_met", "Not met"},
                                    {"order_note", "Note"},
                                    {"outcome", "Outcome"}},
                                   "event", always, [](const RowOf& row) {
                                     const auto some = [&](const char* heading) { return !row[heading].empty() && row[heading] != "0"; };
                                     return some("not_shown") || some("not_met") || some("outside_the_model") || some("released_against") ||
                                            row["judged"] != "yes" || row["left_unanswered"] == "yes" || row["allergy"] == "not asked" ||
                                            row["allergy"] == "nothing recorded";
                                   }));
    if (!table("overrides").rows.empty())
      section.tables.push_back(shown(table("overrides"),
                                     {{"cake", "Cake"},
                                      {"words", "Released against"},
                                      {"verdict", "Verdict"},
                                      {"by", "By"},
                                      {"at_local", "When"},
                                      {"note", "Note"},
                                      {"reason", "Reason given"}},
                                     "at_local", always, always));
  }

  void controls() {
    auto& section = begin("Controls of those cakes", {"controls"});
    section.reviewed = true;
    std::vector<std::pair<std::string, std::string>> all;
    for (const auto& row : table("controls").rows) {
      const RowOf of{table("controls"), row};
      const std::pair<std::string, std::string> control{of["control"], of["words"]};
      const auto same = [&](const auto& other) { return other.first == control.first; };
      if (std::none_of(all.begin(), all.end(), same)) all.push_back(control);
    }
    InspectionTable rows{
        {"Control", "Met as recorded", "Not recorded well enough", "Missed", "Sum does not fit", "Not met as recorded"}, {}, ""};
    for (const auto& [control, words] : all) {
      const auto count = [&, of = control](Verdict verdict) {
        return figures_.rows(fmt::format("findings-{}", term_of(verdict)), of, "controls",
                             {{"control", of}, {"verdict", std::string{term_of(verdict)}}});
      };
      const std::int64_t good = count(Verdict::shown), not_shown = count(Verdict::not_shown), missed = count(Verdict::not_met),
                         outside = count(Verdict::outside_model);
      const std::int64_t every = good + not_shown + missed + outside;
      rows.rows.push_back({{words, fmt::format("{}", good), fmt::format("{}", not_shown), fmt::format("{}", missed),
                            fmt::format("{}", outside), percent_in_words(every - good, every)},
                           good < every});
    }
    if (rows.rows.empty())
      section.says.emplace_back("No cake of this period was judged.");
    else
      section.tables.push_back(std::move(rows));
  }

  void exercise() {
    auto& section = begin("Exercise in tracing", {"recalls"});
    const auto drill = [](const RowOf& row) { return row["exercise"] == "yes"; };
    InspectionTable rows = shown(table("recalls"),
                                 {{"begun_local", "When"},
                                  {"recall", "Exercise"},
                                  {"of", "Of"},
                                  {"reached", "Foods reached"},
                                  {"steps", "Steps taken"},
                                  {"closed_local", "Closed"},
                                  {"note", "Note"}},
                                 "begun_local", drill, [](const RowOf& row) { return row["open"] == "yes"; });
    section.says.emplace_back(rows.rows.empty()
                                  ? "No exercise was held in this period. One can be held now: name a pack, and `tierproof trace` "
                                    "lists everything that it went into."
                                  : "The report of each has its mass balance: `tierproof recall-report`.");
    if (!rows.rows.empty()) section.tables.push_back(std::move(rows));
  }

  const Session& session_;
  const InspectedPeriod& period_;
  const std::vector<InspectedPlace>& places_;
  const TemperatureTerms& terms_;
  InspectionFigures& figures_;
  std::vector<InspectionSection> sections_;
};

}  // namespace

std::vector<InspectionSection> inspection_sections(const Session& session, const InspectedPeriod& period,
                                                   const std::vector<InspectedPlace>& places, const TemperatureTerms& terms,
                                                   InspectionFigures& figures) {
  return Sections{session, period, places, terms, figures}.all();
}

}  // namespace tierproof
