#include "declaring.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "tierproof/app/looking.h"
#include "tierproof/sums/address.h"
#include "tierproof/sums/date_mark.h"
#include "tierproof/sums/languages.h"
#include "tierproof/sums/levels.h"
#include "tierproof/sums/named_quantities.h"
#include "tierproof/sums/net_quantity.h"
#include "tierproof/sums/nutrition_need.h"
#include "tierproof/sums/plain_checks.h"
#include "tierproof/sums/statements.h"

namespace tierproof {
namespace {

/// Whether the whole cake, not only a part of it, came out of a freezer.
bool was_frozen_whole(const State& state, const CakeId& cake) {
  return std::any_of(state.stays.begin(), state.stays.end(), [&](const Recorded<Stay>& stay) {
    const auto place = state.places.find(stay.value.place);
    return stay.value.what == cake.text() && place != state.places.end() && place->second.value.kind == "freezer";
  });
}

DeclareAs ways_of(const State& state, const Judgement& judgement, const Cake& cake) {
  DeclareAs as{"merged", cake.name, cake.marks, cake.varying};
  const std::string thawed = "defrosted";
  const bool told = std::find(as.marks.begin(), as.marks.end(), thawed) != as.marks.end();
  if (!told && was_frozen_whole(state, judgement.cake)) as.marks.push_back(thawed);
  return as;
}

Finding finding_of(std::string control, const Judgement& judgement, std::string message, std::string remedy) {
  Finding finding;
  finding.control = std::move(control);
  finding.subject = judgement.cake.text();
  finding.verdict = Verdict::not_shown;
  finding.stop = Stop::needs_person;
  finding.message = std::move(message);
  finding.remedy = std::move(remedy);
  return finding;
}

bool asked_on_pack(const Judgement& judgement, std::string_view particular) {
  return judgement.route &&
         std::find(judgement.route->on_pack.begin(), judgement.route->on_pack.end(), particular) != judgement.route->on_pack.end();
}

/// The figures again in each further language of the label, and what has no words there.
void add_quantities_in_languages(Judgement& judgement, const Cake& cake, const NamedQuantities& named) {
  const auto& languages = judgement.label.language.languages;
  for (std::size_t i = 1; i < languages.size(); ++i) {
    std::vector<std::pair<std::string, std::string>> words;
    for (const WordIn& given : cake.shows_in) {
      if (given.language == languages[i]) words.emplace_back(given.word, given.there);
    }
    const QuantitiesIn told = quantities_in(named, judgement.parts, judgement.label, languages[i], words);
    judgement.particulars.quantities_in.push_back(told.missing.empty() ? fmt::format("{}", fmt::join(told.texts, ", ")) : "");
    if (told.missing.empty() || !asked_on_pack(judgement, "quantity of named ingredients")) continue;
    Finding finding = finding_of("label-languages", judgement,
                                 fmt::format("the label has to be in {} too, and there are no words for the quantity of: {}", languages[i],
                                             fmt::join(told.missing, "; ")),
                                 "record the name in that language (other_languages of what the pack says, or --shows-in of the cake)");
    finding.source = cite(judgement.label.language.cited);
    judgement.findings.push_back(std::move(finding));
  }
}

/// Figures stand where the pack must carry them, and wherever somebody asked for them.
void add_quantities(Judgement& judgement, const Cake& cake) {
  const bool asked = asked_on_pack(judgement, "quantity of named ingredients");
  if (!asked && cake.shows.empty()) return;
  const auto named = named_quantities(judgement.parts, *judgement.made, *judgement.declared, judgement.label, cake.name, cake.shows);
  LabelParticulars& particulars = judgement.particulars;
  if (!named) {
    for (const auto& refusal : named.error()) particulars.cautions.push_back(describe(refusal));
    if (asked)
      judgement.findings.push_back(finding_of(
          "named-quantities", judgement, "the quantities that its name asks for cannot be worked out: " + describe(named.error().front()),
          "weigh its parts, and look again"));
    return;
  }
  for (const auto& shown : named->shown)
    particulars.quantities += fmt::format("{}{} {}", particulars.quantities.empty() ? "" : ", ", shown.name, shown.text);
  if (named->cited) particulars.quantities_source = cite(*named->cited);
  add_quantities_in_languages(judgement, cake, *named);
  if (named->cautions.empty() || !asked) {
    particulars.cautions.insert(particulars.cautions.end(), named->cautions.begin(), named->cautions.end());
    return;
  }
  for (const auto& caution : named->cautions) {
    Finding finding =
        finding_of("named-quantities", judgement, caution, "look at the name and the label's words, and at what the packs say");
    finding.source = particulars.quantities_source;
    judgement.findings.push_back(std::move(finding));
  }
}

void add_net_quantity(Judgement& judgement, const Cake& cake) {
  if (!judgement.label.net_quantity) return;
  const Share milligrams = judgement.made->finished_mg / cake.boxes;
  const auto mass = Mass::milligrams(static_cast<std::int64_t>(numerator(milligrams) / denominator(milligrams)));
  const auto net = net_quantity(mass, 1, judgement.label);
  if (!net) {
    judgement.particulars.cautions.push_back(describe(net.error().front()));
    return;
  }
  // A cake whose tiers leave in several boxes has one mass a box only when they were weighed apart.
  judgement.particulars.net_quantity = cake.boxes == 1 ? net->text : net->instead;
  judgement.particulars.net_quantity_source = cite(net->cited);
}

void add_date(Judgement& judgement) {
  if (!judgement.life || !judgement.life->date) return;
  LabelParticulars& particulars = judgement.particulars;
  const bool dangerous = judgement.life->kind == "use by";
  const Date on = day_of(judgement.at.at, judgement.at.offset);
  const auto days = (std::chrono::sys_days{*judgement.life->date} - std::chrono::sys_days{on}).count();
  particulars.date_why = judgement.life->why;
  constexpr std::int64_t hours_a_day = 24;
  const auto hours = days <= 0 ? std::optional<std::int64_t>{hours_a_day} : std::nullopt;
  const auto life = days > 0 ? std::optional{Life{0, static_cast<int>(days)}} : std::nullopt;
  const DateNeed need = judge_date_need(dangerous, hours, on, life, judgement.label);
  if (!need.needed) particulars.cautions.push_back(fmt::format("No date is asked for: {} {}", need.why, need.source));
  if (!need.confirm.empty()) particulars.cautions.push_back("The date may not be asked for: " + need.confirm);
  const auto marks = days > 0 ? date_marks(on, {0, static_cast<int>(days)}, dangerous, judgement.label.date_marks)
                              : Result<DateMarks>{Refusal{"", 0, "date", "has passed", "look at the cake"}};
  if (marks) {
    particulars.date = marks->allowed.front().text;
    particulars.date_source = cite(marks->allowed.front().cited);
    return;
  }
  const Wording* words = judgement.label.wording(judgement.life->kind);
  if (words == nullptr) words = judgement.label.wording("best before");
  if (words == nullptr) return;
  particulars.date = fmt::format("{} {}", words->text, format_date_long(*judgement.life->date));
  particulars.date_source = cite(words->cited);
}

void add_lot(Judgement& judgement, const Cake& cake) {
  if (!judgement.label.lot_mark) return;
  const std::string form = judgement.particulars.date.empty() ? "" : "day month year";
  const bool year_first = std::any_of(judgement.label.date_marks.begin(), judgement.label.date_marks.end(), [&](const DateMarkTerm& term) {
    return judgement.life && term.kind == judgement.life->kind && term.year_first;
  });
  const LotMark mark =
      judge_lot_mark(judgement.label, judgement.route, cake.largest_face_cm2 * 100, form, judgement.cake.text(), year_first);
  judgement.particulars.lot = mark.due ? mark.text : "";
  judgement.particulars.lot_why = mark.why;
  judgement.particulars.lot_source = mark.source;
}

/// Whether the pack must carry a nutrition table: the program prints none, so a small maker's exemption has to be shown.
void judge_nutrition(const Session& session, const Cake& cake, Judgement& judgement, std::vector<std::string>& printed) {
  const Kitchen& kitchen = session.kitchen();
  if (!asked_on_pack(judgement, "nutrition")) return;
  NutritionAsk ask;
  ask.staff = kitchen.staff;
  ask.turnover = kitchen.turnover;
  if (!kitchen.sells.empty()) ask.all_direct_or_local = kitchen.sells == "direct or local";
  ask.units_a_year = kitchen.units_a_year;
  std::string told = fmt::format("{}\n{}", cake.name, fmt::join(cake.shows, "\n"));
  for (const auto& other : cake.other_names) told += "\n" + other.name;
  ask.claim_made = claim_in(told, session.packs().nutrition_words()) != nullptr;
  const NutritionNeed need = judge_nutrition_need(ask, judgement.label.nutrition_exemptions);
  if (!need.needed) {
    printed.emplace_back("nutrition");
    judgement.particulars.cautions.push_back(fmt::format("No nutrition table: {} {}", need.why, need.source));
    return;
  }
  Finding finding =
      finding_of("nutrition", judgement, fmt::format("a nutrition table is asked for, which the label does not print: {}", need.why),
                 "add the table to the pack by hand, or record what shows the exemption (kitchen: people, turnover, where it sells)");
  finding.source = need.source;
  judgement.findings.push_back(std::move(finding));
  printed.emplace_back("nutrition");  // told by its own finding
}

/// Whether what the packs say was looked at lately enough.
void judge_age(const Session& session, Judgement& judgement) {
  const auto limit = specification_age_limit(session.state(), judgement.label);
  if (!limit) return;
  const Date on = day_of(judgement.at.at, judgement.at.offset);
  const auto stale = stale_specifications(session.state(), judgement.parts, judgement.label, on);
  Finding finding = finding_of("specification-current", judgement, "", "");
  finding.limit = fmt::format("what packs say is looked at again within {} days", limit->days);
  finding.source = limit->source;
  if (stale.empty()) {
    finding.verdict = Verdict::shown;
    finding.stop = Stop::none;
    finding.message = "what the packs say was looked at in time";
    judgement.findings.push_back(std::move(finding));
    return;
  }
  for (const auto& old : stale) {
    finding.subject = old.ingredient.text();
    finding.message = fmt::format("what the pack of {} says was last looked at on {}, {} days ago", old.name,
                                  format_date_long(old.last_looked), old.days_old);
    finding.remedy = fmt::format("compare it with the pack: tierproof looked {} --from {}, or record what changed", old.ingredient.text(),
                                 old.supplier.text());
    judgement.findings.push_back(finding);
  }
}

/// Groups that may stand as one and that nobody asked for, and those that were asked for and may not.
void tell_of_varying_proportions(Judgement& judgement, const DeclareAs& as) {
  const auto& ingredients = judgement.declared->ingredients;
  for (const VaryingTerm& term : judgement.label.varying) {
    const bool stands = std::any_of(ingredients.begin(), ingredients.end(), [&](const ListedIngredient& entry) {
      return std::find(entry.rules.begin(), entry.rules.end(), term.cited) != entry.rules.end();
    });
    if (stands || std::find(as.varying.begin(), as.varying.end(), term.group) != as.varying.end()) continue;
    if (why_not_varying(judgement.parts, *judgement.declared, term.group, judgement.label).empty())
      judgement.particulars.cautions.push_back(
          fmt::format("The {} may stand as one in the list where the proportions vary: say so with the order (--varying {}) {}", term.group,
                      term.group, cite(term.cited)));
  }
  for (const std::string& group : as.varying) {
    const VaryingTerm* term = judgement.label.varying_group(group);
    const bool stands = term != nullptr && std::any_of(ingredients.begin(), ingredients.end(), [&](const ListedIngredient& entry) {
                          return std::find(entry.rules.begin(), entry.rules.end(), term->cited) != entry.rules.end();
                        });
    if (stands) continue;
    for (const auto& why : why_not_varying(judgement.parts, *judgement.declared, group, judgement.label))
      judgement.particulars.cautions.push_back(fmt::format("Not listed as a mixture in varying proportions: {}", why.message));
  }
}

}  // namespace

void declare_cake(const Session& session, Judgement& judgement) {
  const Cake& cake = session.state().cakes.at(judgement.cake).value;
  const std::string kind = judgement.route ? judgement.route->declaration : "ingredient list";
  DeclareAs as = ways_of(session.state(), judgement, cake);
  if (cake.list.empty()) {
    judgement.declared = shorter_list(judgement.parts, *judgement.made, judgement.label, kind, as);
  } else {
    const std::string why_not = cake.list == "by part" ? why_not_by_part(judgement.parts) : "";
    as.list = why_not.empty() ? cake.list : "merged";
    if (!why_not.empty()) judgement.particulars.cautions.push_back("Listed over the whole cake: " + why_not);
    judgement.declared = declare(judgement.parts, *judgement.made, judgement.label, kind, as);
  }
  for (auto& finding : check(judgement.parts, *judgement.made, *judgement.declared, judgement.label))
    judgement.findings.push_back(std::move(finding));
  for (auto& finding : judge_names(judgement.parts, *judgement.made, judgement.label, name_hints()))
    judgement.findings.push_back(std::move(finding));
  judge_age(session, judgement);
  tell_of_varying_proportions(judgement, as);
  for (auto& line : level_readings(judgement.parts, *judgement.made, judgement.label).not_checked)
    judgement.particulars.cautions.push_back("Amount not checked, since no figure is on file: " + std::move(line));
  judgement.particulars.to_tell = things_to_tell(judgement.parts, *judgement.made, judgement.label, as);

  const auto& languages = judgement.label.language.languages;
  for (std::size_t i = 1; i < languages.size(); ++i) {
    DeclareAs in = as;
    in.list = judgement.declared->list;
    const auto name =
        std::find_if(cake.other_names.begin(), cake.other_names.end(), [&](const NameIn& n) { return n.language == languages[i]; });
    std::vector<std::string> missing =
        missing_in_language(judgement.parts, *judgement.made, *judgement.declared, judgement.label, languages[i]);
    if (name == cake.other_names.end()) {
      missing.insert(missing.begin(), "the name of the cake");
    } else {
      in.name = name->name;
    }
    Declaration told =
        declare(in_language(judgement.parts, languages[i]), *judgement.made, in_language(judgement.label, languages[i]), kind, in);
    told.language = languages[i];
    judgement.particulars.languages.push_back(std::move(told));
    const auto& remembered = judgement.label.language.words_from_memory;
    if (std::find(remembered.begin(), remembered.end(), languages[i]) != remembered.end())
      judgement.particulars.cautions.push_back(
          fmt::format("What the rules say in {} was written down from memory: have somebody read the label who speaks it {}", languages[i],
                      cite(judgement.label.language.cited)));
    if (missing.empty() || !judgement.route || judgement.route->on_pack.empty()) continue;
    Finding finding =
        finding_of("label-languages", judgement,
                   fmt::format("the label has to be in {} too, and there are no words for: {}", languages[i], fmt::join(missing, "; ")),
                   "record them (other_languages of what the pack says, other names of recipe and cake)");
    finding.source = cite(judgement.label.language.cited);
    judgement.findings.push_back(std::move(finding));
  }
}

void declare_particulars(const Session& session, Judgement& judgement) {
  const Cake& cake = session.state().cakes.at(judgement.cake).value;
  std::vector<std::string> printed{"name", "ingredients", "allergens", "date", "storage", "business"};
  if (judgement.route && judgement.route->small_package)
    judgement.particulars.cautions.push_back("Less on a small package: " + cite(*judgement.route->small_package));
  if (judgement.made) {
    add_quantities(judgement, cake);
    add_net_quantity(judgement, cake);
  }
  add_date(judgement);
  add_lot(judgement, cake);
  printed.emplace_back("quantity of named ingredients");
  printed.emplace_back("lot");  // or spared, as the row says
  if (!judgement.particulars.net_quantity.empty()) printed.emplace_back("net quantity");
  judge_nutrition(session, cake, judgement, printed);
  if (auto finding = judge_address(judgement.cake.text(), session.kitchen().country, judgement.route, judgement.label))
    judgement.findings.push_back(std::move(*finding));
  judgement.findings.push_back(judge_particulars(judgement.cake.text(), judgement.route, printed));
}

}  // namespace tierproof
