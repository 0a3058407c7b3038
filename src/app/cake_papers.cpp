#include "tierproof/app/cake_papers.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "answers.h"
#include "booking_papers.h"
#include "checking.h"
#include "contents.h"
#include "egg_record.h"
#include "erased.h"
#include "kit.h"
#include "label_contents.h"
#include "life.h"
#include "parts.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/papers/png.h"
#include "tierproof/sums/cross_contact.h"
#include "troubles.h"

namespace tierproof {
namespace fs = std::filesystem;
namespace {

// ---- allergens, tier by tier ------------------------------------------------------------------------------------------------

struct AllergensOfCake {
  std::vector<AllergenLine> whole;
  std::vector<std::string> tiers;                  ///< their names
  std::vector<std::vector<AllergenLine>> by_tier;  ///< as many lines as `whole`, in its order
};

/// Judges what shared kit may have brought as for somebody of whom nothing is known: what the customer named or accepted must not show
/// through on a paper that others read. @pre no finding of it is there yet
void judge_kit_for_anybody(Judgement& judgement, const std::vector<Contact>& met) {
  const auto contained = judgement.declared ? judgement.declared->contains : std::vector<std::string>{};
  const auto words = words_of_keys(judgement.label, contained);
  for (auto& finding : judge_shared_kit(judgement.cake.text(), met, kit_ids(judgement.parts), words, {}, {}))
    judgement.findings.push_back(std::move(finding));
}

std::vector<std::string> contained_in(const Composition& made) {
  std::vector<std::string> keys;
  for (const auto& trace : made.allergens) {
    if (trace.presence == Presence::contains) keys.push_back(trace.allergen);
  }
  return keys;
}

std::vector<std::string> in_both(const std::vector<std::string>& some, const std::vector<std::string>& others) {
  std::vector<std::string> both;
  for (const auto& one : some) {
    if (std::find(others.begin(), others.end(), one) != others.end()) both.push_back(one);
  }
  return both;
}

/// What one tier holds, judged by itself. What cannot be composed is not known.
std::vector<AllergenLine> lines_of_tier(const Judgement& cake, CakeParts parts, const std::vector<Contact>& met) {
  for (auto& batch : parts.batches) {
    for (const auto& whole : cake.parts.batches) {
      if (whole.id == batch.id) batch.cross_contact = whole.cross_contact;
    }
  }
  Judgement tier;
  tier.cake = cake.cake;
  tier.label = cake.label;
  std::vector<std::string> keys;
  for (const auto& term : cake.label.allergens) keys.push_back(term.key);
  if (auto made = compose(parts, keys)) {
    tier.made = with_exemptions(std::move(made).value(), parts, cake.label);
    const auto contained = contained_in(*tier.made);
    tier.declared.emplace();
    if (cake.declared) {
      tier.declared->contains = in_both(cake.declared->contains, contained);
      tier.declared->exempt = in_both(cake.declared->exempt, contained);
    }
    tier.parts = std::move(parts);
    judge_kit_for_anybody(tier, met);
  }
  return allergen_lines(tier);
}

AllergensOfCake allergens_of(const Session& session, const Judgement& judgement) {
  const auto& met = contacts_by(session, judgement.label, judgement.at.offset);
  AllergensOfCake allergens;
  Judgement whole;
  whole.cake = judgement.cake;
  whole.label = judgement.label;
  whole.parts = judgement.parts;
  whole.made = judgement.made;
  whole.declared = judgement.declared;
  judge_kit_for_anybody(whole, met);
  allergens.whole = allergen_lines(whole);
  for (auto& [name, parts] : parts_of_tiers(session.state(), judgement.cake)) {
    allergens.tiers.push_back(name);
    allergens.by_tier.push_back(lines_of_tier(judgement, std::move(parts), met));
  }
  return allergens;
}

/// Names of allergens, each where its gravest word puts it.
struct ServedTogether {
  std::vector<std::string> all;
  std::vector<std::string> may_contain;
  std::vector<std::string> not_an_ingredient;
};

ServedTogether together_of(const AllergensOfCake& allergens) {
  ServedTogether together;
  for (std::size_t i = 0; i < allergens.whole.size(); ++i) {
    std::vector<std::string> words{allergens.whole[i].word};
    for (const auto& tier : allergens.by_tier) words.push_back(tier[i].word);
    const auto any = [&](std::string_view word) { return std::find(words.begin(), words.end(), word) != words.end(); };
    const auto begins = [&](std::string_view word) {
      return std::find_if(words.begin(), words.end(), [&](const std::string& one) { return one.starts_with(word); });
    };
    const std::string& name = allergens.whole[i].name;
    if (any("contains")) {
      together.all.push_back(name);
    } else if (const auto some = begins("contains"); some != words.end()) {
      together.all.push_back(fmt::format("{} ({})", name, *some));
    } else if (any("not known")) {
      together.all.push_back(name + " (not known: treat as contained)");
    } else if (any("may contain")) {
      together.may_contain.push_back(name);
    } else if (std::all_of(words.begin(), words.end(), [](const std::string& word) { return word == "not an ingredient"; })) {
      together.not_an_ingredient.push_back(name);
    } else {  // a product that the law exempts from being named on a label
      together.all.push_back(fmt::format("{} ({})", name, *begins("exempt")));
    }
  }
  return together;
}

// ---- what papers of a cake say alike ----------------------------------------------------------------------------------------

/// `4 dowels`; a name of several words is not bent: `4 × wire in the flowers`.
std::string counted(std::int64_t count, const std::string& what) {
  const bool one_word = std::all_of(what.begin(), what.end(), [](char c) { return c >= 'a' && c <= 'z'; });
  if (count == 1) return fmt::format("1 {}", what);
  return one_word && !what.ends_with('s') ? fmt::format("{} {}s", count, what) : fmt::format("{} × {}", count, what);
}

std::vector<std::string> inedible_of(const State& state, const CakeId& cake) {
  std::vector<std::string> things;
  for (const auto& tier : state.tiers) {
    if (tier.value.cake != cake) continue;
    for (const auto& thing : tier.value.inedible)
      things.push_back(fmt::format("{} ({} tier)", counted(thing.count, thing.what), tier.value.tier));
  }
  return things;
}

std::string eat_by_line(const Judgement& judgement, bool with_reason) {
  if (!judgement.life || !judgement.life->date) return "not known: ask the maker";
  const ShelfLife& life = *judgement.life;
  std::string words = fmt::format("{} {}", life.kind, format_date_long(*life.date));
  if (with_reason) words += fmt::format(". Why: {}", life.why);
  if (!life.not_known.empty())
    words += fmt::format("{} not sure, since it is not recorded {}", with_reason ? ". This is" : ";", fmt::join(life.not_known, ", "));
  return words;
}

std::string caution_of(const LabelTerms& terms) {
  const auto* found = terms.wording("caution");
  return found == nullptr ? "Local law and the advice of the food authority come first." : found->text;
}

std::string rules_line(const LabelTerms& terms) {
  return fmt::format("Rules used: {}, as in force on {}. Laws change: ask your food authority.", terms.title, format_date_long(terms.on));
}

constexpr const char* traces_line =
    "An allergen that is \"not an ingredient\" may still be present in traces. This is no promise that the cake is without anything.";

/// The moment that a cake is judged at: what left is judged as it left.
ZonedInstant moment_of(const State& state, const CakeId& cake, ZonedInstant now) {
  const auto* handed = state.hand_over(cake);
  return handed == nullptr ? now : ZonedInstant{handed->happened, handed->offset};
}

bool is_built(const State& state, const CakeId& cake) {
  return std::any_of(state.tiers.begin(), state.tiers.end(), [&](const auto& tier) { return tier.value.cake == cake; });
}

Fonts fonts_of(const DataRoot& data) { return Fonts::load(fs::path{data.path} / "reports" / "fonts"); }

/// Judges a cake for one of its papers. Refused: nobody is named as recording, no such cake, nothing recorded of what it is made of.
Result<Judgement> judge_for_paper(const Session& session, const std::string& cake, ZonedInstant& now) {
  Checking checking{session};
  checking.person();
  now = checking.moment("now");
  auto judged = judge_cake(session, CakeId{cake}, moment_of(session.state(), CakeId{cake}, now));
  if (!judged) checking.take(judged.error());
  if (checking.good() && !judged->made) checking.refuse("cake", "what it is made of is not recorded", "record its tiers first");
  if (judged) refuse_old_details(checking, *judged);
  if (!checking.good()) return checking.refusals();
  return judged;
}

}  // namespace

VenueCardContent venue_card_content(const Session& session, const Judgement& judgement) {
  const State& state = session.state();
  const Cake& cake = state.cakes.at(judgement.cake).value;
  const AllergensOfCake allergens = allergens_of(session, judgement);
  ServedTogether together = together_of(allergens);
  VenueCardContent content;
  content.demo = session.kitchen().demo;
  if (gravest(judgement.findings) == Stop::no_override)  // why may tell of the customer
    content.stop = fmt::format("DO NOT HAND OVER. Why stands on the record of {}.", judgement.cake.text());
  content.business = business_lines(session);
  content.reference = judgement.cake.text();
  content.name = cake.name;
  content.event = fmt::format("For {}", format_date_long(cake.event));
  content.together = allergens.tiers.size() == 1 ? "Treat the whole cake as containing all of these:"
                                                 : "Tiers are cut and served together: treat the whole cake as containing all of these:";
  content.tiers = allergens.tiers;
  for (std::size_t i = 0; i < allergens.whole.size(); ++i) {
    const auto& none = together.not_an_ingredient;
    if (std::find(none.begin(), none.end(), allergens.whole[i].name) != none.end()) continue;
    VenueAllergen line{allergens.whole[i].name, {}};
    for (const auto& tier : allergens.by_tier) line.words.push_back(tier[i].word);
    content.by_tier.push_back(std::move(line));
  }
  content.all = std::move(together.all);
  content.may_contain = std::move(together.may_contain);
  content.not_an_ingredient = std::move(together.not_an_ingredient);
  const auto inedible = inedible_of(state, judgement.cake);
  content.service.push_back(
      {"Take out before cutting", inedible.empty() ? "nothing that is not food is recorded in it" : in_one_sentence(inedible)});
  content.service.push_back({"Keep", judgement.life ? storage_line(judgement, judgement.label) : "not known: ask the maker"});
  content.service.push_back({"Eat by", eat_by_line(judgement, false)});
  for (auto& advice : egg_advice(state, judgement)) content.service.push_back({"Egg", std::move(advice)});
  content.service.push_back({"Questions", fmt::format("ask the maker: {}", fmt::join(content.business, ", "))});
  content.cautions = {traces_line, caution_of(judgement.label), rules_line(judgement.label)};
  content.head = short_head(session);
  content.drawn = drawn_line(session, {session.now(), session.offset_at(session.now())});
  return content;
}

HandOverNoteContent hand_over_note_content(const Session& session, const Judgement& judgement, ZonedInstant drawn_at) {
  const State& state = session.state();
  const Cake& cake = state.cakes.at(judgement.cake).value;
  const AllergensOfCake allergens = allergens_of(session, judgement);
  const ServedTogether together = together_of(allergens);
  HandOverNoteContent content;
  content.demo = session.kitchen().demo;
  content.stop = stop_line(judgement);
  const auto* handed = state.hand_over(judgement.cake);
  content.outcome = outcome_of(session, judgement, content.released);
  if (!content.stop.empty()) {  // which says it already, or came up since
    content.outcome = handed == nullptr ? ""
                                        : fmt::format(
                                              "Handed over on {}. What the records show now would have stopped it: tell the "
                                              "customer, and ask for advice.",
                                              format_moment(handed->happened, handed->offset));
  }
  content.outcome += erased_sentence(state, judgement.cake);
  content.business = business_lines(session);
  content.reference = judgement.cake.text();
  content.name = cake.name;
  content.event = fmt::format("For {}", format_date_long(cake.event));
  const auto inedible = inedible_of(state, judgement.cake);
  content.take_out = inedible.empty() ? "Nothing that is not food is recorded in it. Look before you cut all the same."
                                      : fmt::format("Remove {} before cutting, and count them.", in_one_sentence(inedible));
  if (judgement.life) {
    content.keep.push_back({"Keep", fmt::format("{} Why: {}", storage_line(judgement, judgement.label), told_storage_why(judgement))});
  } else {
    content.keep.push_back({"Keep", "not known: ask the maker"});
  }
  content.keep.push_back({"Eat by", eat_by_line(judgement, true)});
  content.eggs = egg_advice(state, judgement);
  const auto names = [](const std::vector<std::string>& list) {
    return list.empty() ? std::string{"none of the law's list, by the records"} : fmt::format("{}", fmt::join(list, ", "));
  };
  content.allergens = {{"Contains", names(together.all)}, {"May contain", names(together.may_contain)}};
  content.together =
      allergens.tiers.size() == 1 ? "" : "The tiers are cut and served together: treat the whole cake as containing all of these.";
  for (auto& line : allergy_lines(state, judgement.cake, judgement.label)) {
    if (line.label != "Of whom") content.told.push_back(std::move(line));
  }
  if (handed != nullptr) {
    content.told.push_back({"Handed over", format_moment(handed->happened, handed->offset)});
    content.told.push_back({"Words told", words_or(handed->value.told, "nothing recorded")});
  }
  content.overrides = overrides_of(session, judgement.cake);
  content.transport = {// common practice, no source
                       "Stand the box on a level floor, never on a seat or a lap, with nothing on it and nothing that can slide into it.",
                       "Cool the car first, keep the sun off the box, drive gently, and go straight there.",
                       "Carry it from below with both hands."};
  content.cautions = {
      "This note tells what the customer said about allergies: it is for the person who takes the cake, and for nobody else.", traces_line,
      caution_of(judgement.label), rules_line(judgement.label)};
  content.head = short_head(session);
  content.drawn = drawn_line(session, drawn_at);
  return content;
}

std::vector<AllergenLine> allergens_for_anybody(const Session& session, const Judgement& judgement) {
  return allergens_of(session, judgement).whole;
}

Result<CounterList> counter_list_of(const Session& session, const CounterListRequest& request, ZonedInstant at) {
  const State& state = session.state();
  Checking checking{session};
  if (request.from && request.until && *request.until < *request.from)
    checking.refuse("--until", fmt::format("{} is before {}", format_date(*request.until), format_date(*request.from)),
                    "write the earlier day with --from");
  CounterList list;
  CounterListContent& content = list.content;
  std::string says;
  for (const auto& [id, cake] : state.cakes) {
    const bool asked_for_days = request.from || request.until;
    if (thrown_away(state, id) || (!asked_for_days && state.hand_over(id) != nullptr)) continue;
    if ((request.from && cake.value.event < *request.from) || (request.until && *request.until < cake.value.event)) continue;
    if (!is_built(state, id)) {
      content.left_out.push_back(fmt::format("{} ({}): what it is made of is not recorded", id.text(), cake.value.name));
      continue;
    }
    const auto judged = judge_cake(session, id, moment_of(state, id, at));
    if (!judged) {
      checking.take(judged.error());
      continue;
    }
    if (const auto old = old_details(*judged); !old.empty()) {
      content.left_out.push_back(fmt::format("{} ({}): {}; {}", id.text(), cake.value.name, old.front()->message, old.front()->remedy));
      continue;
    }
    CounterCake one{id.text(),
                    cake.value.name,
                    fmt::format("for {}", format_date_long(cake.value.event)),
                    state.hand_over(id) != nullptr,
                    gravest(judged->findings) == Stop::no_override,
                    {}};
    CounterGroup group{judged->label.title, {}, {}};
    for (const auto& line : allergens_of(session, *judged).whole) {
      group.allergens.push_back(line.name);
      one.words.push_back(line.word);
    }
    const auto same = std::find_if(content.groups.begin(), content.groups.end(), [&](const CounterGroup& other) {
      return other.rules == group.rules && other.allergens == group.allergens;
    });
    (same == content.groups.end() ? content.groups.emplace_back(std::move(group)) : *same).cakes.push_back(std::move(one));
    says += says_of(state, *judged) + '\n';
  }
  if (checking.good() && content.groups.empty())
    checking.refuse("cakes", "there is none to list that is built", "record the tiers of a cake, or name other days");
  if (!checking.good()) return checking.refusals();
  content.demo = session.kitchen().demo;
  content.business = business_lines(session);
  const auto day = [](const std::optional<Date>& on) { return format_date_long(*on); };
  content.which = request.from && request.until ? fmt::format("Cakes for {} to {}", day(request.from), day(request.until))
                  : request.from                ? fmt::format("Cakes for {} and later", day(request.from))
                  : request.until               ? fmt::format("Cakes for {} and earlier", day(request.until))
                                                : "Cakes that are not handed over yet";
  content.valid = fmt::format(
      "Valid for the cakes named here only, as they are recorded on {}. If a cake or a pack changes, print the list again and destroy this "
      "one.",
      format_date_long(day_of(at.at, at.offset)));
  content.cautions = {traces_line, "Prepared from what was entered; check it against the packs that were really used."};
  for (const auto& group : content.groups)
    content.cautions.push_back(fmt::format("Rules used: {}. Laws change: ask your food authority.", group.rules));
  content.head = short_head(session);
  content.drawn = drawn_line(session, at);
  list.says = to_hex(sha256(says));
  return list;
}

Result<Issued> issue_venue_card(Session& session, const std::string& cake, CardPaper paper, const DataRoot& data) {
  ZonedInstant now;
  const auto judged = judge_for_paper(session, cake, now);
  if (!judged) return judged.error();
  const VenueCardContent content = venue_card_content(session, *judged);
  const Fonts fonts = fonts_of(data);
  const auto pages = lay_out_venue_card(content, paper, fonts);
  if (!pages) return pages.error();
  return book_papers(session, booking_of_cake(session, *judged, "venue card"), now,
                     forms_of(*pages, fonts, info_of(session, fmt::format("Card of {}", cake), now), json_of(content)));
}

Result<Issued> issue_hand_over_note(Session& session, const std::string& cake, SheetPaper paper, const DataRoot& data) {
  ZonedInstant now;
  const auto judged = judge_for_paper(session, cake, now);
  if (!judged) return judged.error();
  const HandOverNoteContent content = hand_over_note_content(session, *judged, now);
  const Fonts fonts = fonts_of(data);
  const auto pages = lay_out_hand_over_note(content, paper, fonts);
  if (!pages) return pages.error();
  return book_papers(session, booking_of_cake(session, *judged, "hand-over note"), now,
                     forms_of(*pages, fonts, info_of(session, fmt::format("Hand-over note of {}", cake), now), json_of(content)));
}

Result<Issued> issue_counter_list(Session& session, const CounterListRequest& request, const DataRoot& data) {
  Checking checking{session};
  checking.person();
  const ZonedInstant now = checking.moment("now");
  const auto list = counter_list_of(session, request, now);
  if (!list) checking.take(list.error());
  if (!checking.good()) return checking.refusals();
  const Fonts fonts = fonts_of(data);
  const auto pages = lay_out_counter_list(list->content, request.paper, fonts);
  if (!pages) return pages.error();
  PaperBooking booking;
  booking.paper = "counter list";
  booking.subject = "counter-list";
  booking.says = list->says;
  return book_papers(session, booking, now,
                     forms_of(*pages, fonts, info_of(session, "Counter list of allergens", now), json_of(list->content)));
}

}  // namespace tierproof
