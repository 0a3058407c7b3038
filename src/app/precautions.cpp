#include "precautions.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>

#include "answers.h"
#include "checking.h"
#include "kit.h"
#include "tierproof/app/precautions.h"
#include "tierproof/sums/reference_dose.h"

namespace tierproof {
namespace {

constexpr std::string_view whole_kitchen = "kitchen";
constexpr std::int64_t millionths = 1'000'000;

std::string decided_in_words(const Recorded<PrecautionDecided>& decided) {
  const PrecautionDecided& p = decided.value;
  return fmt::format("{} by {} on {} for {}: {} (note {})", p.decision == "told" ? "decided" : "judged not to be needed",
                     decided.person.text(), format_moment(decided.happened, decided.offset),
                     p.about == whole_kitchen ? "the whole kitchen" : p.about, p.why, decided.sequence);
}

std::string word_of(const LabelTerms& terms, const std::string& key) {
  const AllergenTerm* term = terms.allergen(key);
  return term == nullptr ? key : term->word;
}

/// Where `may contain` is told of half or more of what is not in it (a choice, no source): a customer learns nothing from that.
std::optional<std::string> blanket_in_words(const Judgement& judgement, const std::vector<const Recorded<PrecautionDecided>*>& decisions) {
  if (!judgement.made) return std::nullopt;
  std::size_t could = 0, told = 0;
  for (const AllergenTrace& trace : judgement.made->allergens) {
    if (trace.presence == Presence::contains) continue;
    ++could;
    const auto names_it = [&](const auto* decided) {
      return decided->value.decision == "told" && decided->value.allergen == trace.allergen;
    };
    if (std::any_of(decisions.begin(), decisions.end(), names_it)) ++told;
  }
  if (told < 2 || told * 2 < could) return std::nullopt;
  return fmt::format(
      "\"may contain\" is told of {} of the {} allergens that are not in it: a blanket answer, from which a customer learns nothing; "
      "look at each way in which one of them can get in",
      told, could);
}

/// Whether `decided` speaks of a trace that came to `contact`: a recipe's decision of its own batches only.
bool answers(const State& state, const CakeId& cake, const PrecautionDecided& decided, const Contact& contact) {
  if (decided.about == whole_kitchen || decided.about == cake.text()) return true;
  const auto batch = state.batches.find(BatchId{contact.batch});
  return batch != state.batches.end() && batch->second.value.recipe.text() == decided.about;
}

/// The traces by washed kit that nobody decided about, each with its way in words; nothing when there are none.
std::optional<std::string> undecided_in_words(const State& state, const Judgement& judgement, const std::vector<Contact>& met,
                                              const std::vector<const Recorded<PrecautionDecided>*>& decisions) {
  if (!judgement.declared) return std::nullopt;
  std::vector<Contact> unanswered;
  std::copy_if(met.begin(), met.end(), std::back_inserter(unanswered), [&](const Contact& contact) {
    return std::none_of(decisions.begin(), decisions.end(), [&](const auto* decided) {
      return word_of(judgement.label, decided->value.allergen) == contact.allergen && contact.cleaned &&
             answers(state, judgement.cake, decided->value, contact);
    });
  });
  const auto open = traces_to_decide(unanswered, kit_ids(judgement.parts), words_of_keys(judgement.label, judgement.declared->contains),
                                     words_of_keys(judgement.label, judgement.declared->may_contain));
  if (open.empty()) return std::nullopt;
  return fmt::format(
      "traces of {} may have come by kit that was washed and looked clean, and nobody has decided whether \"may contain\" is told of "
      "{}",
      fmt::join(open, ", "), open.size() == 1 ? "it" : "them");
}

}  // namespace

std::vector<const Recorded<PrecautionDecided>*> precautions_of(const State& state, const CakeParts& parts, Instant at) {
  std::set<std::string> scopes{std::string{whole_kitchen}, parts.cake.text()};
  for (const BatchFacts& batch : parts.batches) {
    if (const auto found = state.batches.find(batch.id); found != state.batches.end()) scopes.insert(found->second.value.recipe.text());
  }
  std::map<std::pair<std::string, std::string>, const Recorded<PrecautionDecided>*> newest;
  for (const auto& decided : state.precautions) {
    if (decided.happened > at || !scopes.contains(decided.value.about)) continue;
    newest[{decided.value.allergen, decided.value.about}] = &decided;
  }
  std::vector<const Recorded<PrecautionDecided>*> found;
  for (const auto& [key, decided] : newest) found.push_back(decided);
  std::sort(found.begin(), found.end(), [](const auto* a, const auto* b) { return a->place < b->place; });
  return found;
}

void add_precautions(const State& state, CakeParts& parts, Instant at) {
  for (const auto* decided : precautions_of(state, parts, at)) {
    if (decided->value.decision == "told") parts.precautions.push_back({decided->value.allergen, decided_in_words(*decided)});
  }
}

void judge_precautions(const State& state, Judgement& judgement, const std::vector<Contact>& met) {
  const auto decisions = precautions_of(state, judgement.parts, judgement.at.at);
  auto undecided = undecided_in_words(state, judgement, met, decisions);
  if (decisions.empty() && !undecided) return;
  Finding finding;
  finding.control = "precautions";
  finding.subject = judgement.cake.text();
  finding.verdict = Verdict::shown;
  finding.stop = Stop::none;
  finding.limit = "\"may contain\" is told where a person found a risk that cannot be taken away; what packs and kit tell stays";
  std::vector<std::string> told;
  std::vector<std::string> doubtful;
  if (undecided) doubtful.push_back(std::move(*undecided));
  for (const auto* decided : decisions) {
    const PrecautionDecided& p = decided->value;
    const std::string word = word_of(judgement.label, p.allergen);
    told.push_back(fmt::format("{}: {}", word, decided_in_words(*decided)));
    if (p.what.empty() || !judgement.made) continue;
    const Share protein = Share{p.protein_ppm.value_or(0)} / millionths;
    const auto whole =
        Mass::milligrams(static_cast<std::int64_t>(numerator(judgement.made->finished_mg) / denominator(judgement.made->finished_mg)));
    const auto sum = judge_precaution({p.allergen, p.what, Share{p.amount.value_or(Mass{}).to_milligrams()}, protein, p.pieces}, whole,
                                      p.slice.value_or(Mass{}), judgement.label.reference_doses);
    if (!sum) {
      doubtful.push_back(fmt::format("{}: its sum cannot be done: {}", word, describe(sum.error().front())));
      continue;
    }
    told.back() += "; " + sum->message;
    if (!sum->source.empty()) finding.source = sum->source;
    if (sum->indicated && p.decision != "told")
      doubtful.push_back(fmt::format("{} was judged not to be needed, and by its sum it is indicated", word));
  }
  if (auto words = blanket_in_words(judgement, decisions)) doubtful.push_back(std::move(*words));
  finding.evidence = fmt::format("{}", fmt::join(told, ". "));
  finding.result =
      decisions.empty() ? "no decision" : fmt::format("{} {}", decisions.size(), decisions.size() == 1 ? "decision" : "decisions");
  finding.message = finding.evidence;
  if (!doubtful.empty()) {
    finding.verdict = Verdict::not_shown;
    finding.stop = Stop::needs_person;
    finding.message = fmt::format("{}", fmt::join(doubtful, "; "));
    finding.remedy =
        "decide of each with a reason (tierproof precaution): tell it, or why it need not be told; take back what is no real risk; mend an "
        "estimate; or release with a reason";
  }
  judgement.findings.push_back(std::move(finding));
}

Result<Booked> decide_precaution(Session& session, const DecidingPrecaution& deciding) {
  Checking checking{session};
  checking.person();
  const State& state = session.state();
  const auto known = session.packs().known_allergens();
  if (std::none_of(known.begin(), known.end(), [&](const KnownAllergen& one) { return one.key == deciding.allergen; })) {
    std::vector<std::string> keys;
    for (const auto& one : known) keys.push_back(one.key);
    checking.refuse("allergen", fmt::format("\"{}\" is no allergen that rules know by itself", deciding.allergen),
                    fmt::format("name one of {}; of a group each that may get in", fmt::join(keys, ", ")));
  }
  const CakeId cake{deciding.about};
  if (state.cakes.contains(cake)) {
    if (state.hand_over(cake) != nullptr)
      checking.refuse("--about", fmt::format("{} has left already", deciding.about), "tell whoever has it, and record that");
  } else if (deciding.about != whole_kitchen && !state.recipes.contains(RecipeId{deciding.about})) {
    checking.refuse("--about",
                    deciding.about.empty() ? "is missing" : fmt::format("there is no recipe or cake called \"{}\"", deciding.about),
                    "name a cake, a recipe, or kitchen for all of them");
  }
  checking.words("--why", deciding.why);
  checking.free_words("--what", deciding.what);
  const bool some = !deciding.what.empty() || deciding.amount || deciding.protein || deciding.slice || deciding.pieces;
  const bool all = !deciding.what.empty() && deciding.amount && deciding.protein && deciding.slice;
  if (some && !all)
    checking.refuse("--amount", "is half an estimate", "give --what, --amount, --protein and --slice together, or none of them");
  PrecautionDecided decided{deciding.about, deciding.allergen, deciding.not_needed ? "not needed" : "told", deciding.why};
  if (some && all) {
    const Share ppm = *deciding.protein * millionths;
    if (*deciding.protein < 0 || *deciding.protein > 1) checking.refuse("--protein", "is not between none and all", "write it like 14%");
    if (denominator(ppm) != 1) checking.refuse("--protein", "is finer than a millionth", "round it, like 14.25%");
    if (*deciding.slice <= Mass{}) checking.refuse("--slice", "is nothing", "give the largest likely slice");
    decided.what = deciding.what;
    decided.amount = deciding.amount;
    decided.protein_ppm = static_cast<std::int64_t>(numerator(ppm) / denominator(ppm));
    decided.slice = deciding.slice;
    decided.pieces = deciding.pieces;
  }
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, decided, deciding.about, checking.moment("now"));
}

}  // namespace tierproof
