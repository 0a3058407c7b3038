#include "egg_record.h"

#include <fmt/format.h>

#include <algorithm>

#include "label_contents.h"
#include "life.h"
#include "tierproof/app/recording.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

/// Who is hit hardest by salmonella: infants and young children, pregnant women, people over 65, ill or with a weakened immune system
/// (Food Standards Agency, egg advice of October 2017).
constexpr const char* vulnerable =
    "Babies, young children, pregnant women, people over 65, and people who are ill or have a weak immune system should not eat it. Local "
    "advice comes first.";

std::string joined_told(const std::vector<std::string>& told) { return fmt::format("{}", fmt::join(told, "; ")); }

std::string source_told(const Lot& lot) {
  if (lot.egg_source.empty()) return "not recorded";
  if (lot.egg_source == "own hens") return "own hens";
  return lot.egg_source == "assured scheme" ? fmt::format("assured scheme: {}", lot.egg_scheme) : "by no assurance scheme";
}

/// `use by 4 May 2026, in date when used`
std::string date_told(std::string_view what, Date last, Date used) {
  return fmt::format("{} {}, {}", what, format_date_long(last), last < used ? "PAST when it was used" : "in date when it was used");
}

std::int64_t days_from(Date from, Date to) { return (std::chrono::sys_days{to} - std::chrono::sys_days{from}).count(); }

std::string days_told(std::int64_t days) { return days == 1 ? "1 day" : fmt::format("{} days", days); }

std::string dates_told(const Lot& lot, bool shell, Date used) {
  std::vector<std::string> told;
  if (lot.laid)
    told.push_back(fmt::format("laid {}, {} before it was used", format_date_long(*lot.laid), days_told(days_from(*lot.laid, used))));
  else if (shell)
    told.push_back("day of lay not recorded");
  if (lot.use_by) told.push_back(date_told("use by", *lot.use_by, used));
  if (lot.best_before) told.push_back(date_told("best before", *lot.best_before, used));
  if (!lot.use_by && !lot.best_before) told.push_back("no date recorded");
  return joined_told(told);
}

std::string opened_told(const LotLife& life, Date used) {
  std::string told = life.opened_on ? fmt::format("opened {}", format_date_long(*life.opened_on)) : "day of opening not recorded";
  if (!life.use_within_days) return told + "; its days once opened are not recorded";
  told += fmt::format("; keeps {} once opened", days_told(*life.use_within_days));
  if (!life.opened_on) return told;
  const Date last = add_days(*life.opened_on, *life.use_within_days);
  return fmt::format("{}, to {}; {}", told, format_date_long(last),
                     last < used ? "PAST when it was used" : fmt::format("{} left when it was used", days_told(days_from(used, last))));
}

std::string cracked_told(const State& state, const Recorded<Batch>& batch) {
  const Batch& made = batch.value;
  if (!made.cracked) return "not recorded";
  std::string told = format_moment(*made.cracked, batch.offset);
  const auto place = state.places.find(made.cracked_in);
  told += place == state.places.end() ? "; where it was kept is not recorded" : fmt::format("; kept in {}", place->second.value.name);
  told +=
      made.cracked_degrees ? fmt::format(", at {} when it was used", format_degrees(*made.cracked_degrees)) : ", how cold is not recorded";
  return fmt::format("{}; used {} later", told, format_span(batch.happened - *made.cracked));
}

std::string treatment_told(const std::string& egg) {
  if (egg == "none") return "the recipe says that it has no egg in it";
  if (egg.ends_with("pasteurised")) return fmt::format("bought in {}, not heated here", egg);
  return egg;
}

std::string verdict_told(const Judgement& judgement, const std::string& subject, const std::string& egg) {
  std::vector<std::string> told;
  for (const auto& finding : judgement.findings) {
    if (finding.control == "egg-heat" && finding.subject == subject)
      told.push_back(fmt::format("{}: {}", words_of(finding.verdict), finding.message));
  }
  if (!told.empty()) return joined_told(told);
  return egg == "baked through" ? "baked through by a person's check in the oven; no temperature of its core is recorded" : "not judged";
}

}  // namespace

std::vector<EggLine> egg_lines(const Session& session, const Judgement& judgement) {
  const State& state = session.state();
  std::vector<EggLine> lines;
  for (const auto& facts : judgement.parts.batches) {
    const auto batch = state.batches.find(facts.id);
    if (batch == state.batches.end()) {
      lines.push_back({});
      lines.back().batch = facts.id.text();
      lines.back().egg = "voided: the records no longer say whether egg is in it";
      continue;
    }
    if (!batch->second.value.left_over.empty()) continue;  // it stands with what it was kept from
    const auto recipe = state.recipe_versions.find(batch->second.value.recipe_version);
    const std::string egg = recipe == state.recipe_versions.end() ? "not recorded" : recipe->second.value.egg;
    const Date used = day_of(batch->second.happened, batch->second.offset);
    EggLine line;
    line.batch = fmt::format("{} ({})", facts.id.text(), facts.name);
    std::vector<std::string> packs, sources, dates, opened;
    bool shell_egg = false;
    for (const auto& id : packs_in(state, batch->second)) {
      const auto lot = state.lots.find(id);
      const auto ingredient = lot == state.lots.end() ? state.ingredients.end() : state.ingredients.find(lot->second.value.ingredient);
      if (ingredient == state.ingredients.end()) packs.push_back(id.text() + ", of which the records no longer say whether it is egg");
      if (ingredient == state.ingredients.end() || ingredient->second.value.egg == "none") continue;
      const std::string& kind = ingredient->second.value.egg;
      const bool shell = kind == "shell";
      shell_egg = shell_egg || shell;
      packs.push_back(fmt::format("{}, {}", pack_in_words(state, id), shell ? "shell egg" : kind + " egg"));
      dates.push_back(dates_told(lot->second.value, shell, used));
      if (shell) {
        sources.push_back(source_told(lot->second.value));
      } else {
        opened.push_back(opened_told(lot_life(state, id, lot->second), used));
      }
    }
    if (packs.empty() && egg == "none") continue;
    line.egg = packs.empty() ? "not recorded which pack" : joined_told(packs);
    line.source = joined_told(sources);
    line.date = joined_told(dates);
    line.opened = joined_told(opened);
    if (shell_egg) line.cracked = cracked_told(state, batch->second);
    line.treatment = treatment_told(egg);
    line.verdict = verdict_told(judgement, line.batch, egg);
    lines.push_back(std::move(line));
  }
  return lines;
}

std::string in_one_sentence(const std::vector<std::string>& things) {
  if (things.size() < 2) return things.empty() ? "" : things.front();
  return fmt::format("{} and {}", fmt::join(things.begin(), things.end() - 1, ", "), things.back());
}

std::vector<std::string> egg_advice(const State& state, const Judgement& judgement) {
  std::vector<std::string> advice;
  std::vector<std::string> not_shown;
  for (const auto& finding : judgement.findings) {
    if (finding.control == "egg-heat" && finding.verdict != Verdict::shown) not_shown.push_back(finding.subject);
  }
  if (!not_shown.empty())
    advice.push_back(
        fmt::format("The records do not show that the egg in it was heated enough: {}. {}", in_one_sentence(not_shown), vulnerable));
  std::vector<std::string> heated;
  for (const auto& facts : judgement.parts.batches) {
    const auto batch = state.batches.find(facts.id);
    const auto recipe =
        batch == state.batches.end() ? state.recipe_versions.end() : state.recipe_versions.find(batch->second.value.recipe_version);
    if (recipe == state.recipe_versions.end() || recipe->second.value.egg != "raw, heated here") continue;
    const std::string name = fmt::format("{} ({})", facts.id.text(), facts.name);
    const auto shows = [&](const Finding& f) { return f.control == "egg-heat" && f.subject == name && f.verdict == Verdict::shown; };
    if (std::any_of(judgement.findings.begin(), judgement.findings.end(), shows)) heated.push_back(name);
  }
  if (!heated.empty()) {
    advice.push_back(
        fmt::format("Lightly cooked egg: {} was heated as the rules ask, by the records, and not baked. Whoever was told to eat "
                    "no lightly cooked egg should not eat it.",
                    in_one_sentence(heated)));
  }
  return advice;
}

}  // namespace tierproof
