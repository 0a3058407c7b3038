// Whether the rows of one label set fit each other, and what of them reaches paper.
#include <fmt/format.h>

#include <algorithm>

#include "packs.h"

namespace tierproof {
namespace {

bool is_known(const LabelTerms& terms, const std::string& part) {
  return std::any_of(terms.allergens.begin(), terms.allergens.end(),
                     [&](const AllergenTerm& term) { return term.key == part || term.group == part; });
}

/// Of a base: a row that speaks of more allergens than a jurisdiction has is no fault of that jurisdiction.
bool may_name_more(const InForce& found, const GroupAnswerTerm& answer, const LabelTerms& terms) {
  if (!found.pack->base) return false;
  const bool none =
      std::none_of(answer.counts_as.begin(), answer.counts_as.end(), [&](const std::string& part) { return is_known(terms, part); });
  return none || answer.ask_which;  // a word that means all of several must not quietly mean fewer
}

class Misfits {
 public:
  Misfits(const LabelTerms& terms, Refusals& refusals) : terms_{terms}, refusals_{refusals} {}
  void row(const InForce& found) {
    found_ = &found;
    std::visit(*this, found.row->says);
  }

  void operator()(const GroupAnswerTerm& answer) {
    if (may_name_more(*found_, answer, terms_)) return;
    for (const auto& part : answer.counts_as) {
      if (is_known(terms_, part)) continue;
      refuse("counts_as", fmt::format("\"{}\" is neither an allergen nor a heading of the list in force on {}", part, day()),
             "name a key or a group of the allergen rows");
    }
  }
  void operator()(const ExemptionTerm& term) { allergen(term.allergen); }
  void operator()(const ReferenceDoseTerm& term) { allergen(term.allergen); }
  void operator()(const AdditiveWording& term) { numbers(term.numbers); }
  void operator()(const LevelLimitTerm& term) { numbers(term.numbers); }
  void operator()(const VaryingTerm&) {
    if (terms_.wording("varying proportions") != nullptr) return;
    refuse("group", fmt::format("no wording \"varying proportions\" is in force on {}", day()), "add a wording row of that key");
  }
  void operator()(const RouteTerm& term) {
    for (const auto& key : term.statements) {
      if (terms_.wording(key) != nullptr) continue;
      refuse("statements", fmt::format("no wording \"{}\" is in force on {}", key, day()), "add a wording row of that key");
    }
  }
  template <class Other>
  void operator()(const Other&) {}

 private:
  void allergen(const std::string& key) {
    if (found_->pack->base || terms_.allergen(key) != nullptr) return;
    refuse("allergen", fmt::format("\"{}\" is no allergen of the list in force on {}", key, day()), "name a key of the allergen rows");
  }
  void numbers(const std::vector<std::string>& numbers) {
    for (const auto& number : numbers) {
      if (terms_.additive(number) != nullptr) continue;
      refuse("numbers", fmt::format("{} is no additive in force on {}", number, day()), "add it to the table, or a row for it");
    }
  }
  std::string day() const { return format_date(terms_.on); }
  void refuse(const char* field, std::string message, std::string remedy) {
    refusals_.push_back(
        {found_->pack->path, found_->row->line, fmt::format("{}.{}", found_->row->path, field), std::move(message), std::move(remedy)});
  }

  const LabelTerms& terms_;
  Refusals& refusals_;
  const InForce* found_ = nullptr;
};

/// What of a row reaches paper, by parameter.
struct Printed {
  std::vector<std::pair<std::string, std::string>>& out;

  void add(const char* field, const std::string& text) const {
    if (!text.empty()) out.emplace_back(field, text);
  }
  void add(const char* field, const std::vector<std::string>& texts) const {
    for (const auto& text : texts) add(field, text);
  }
  void add(const char* field, const std::map<std::string, std::string>& texts) const {
    for (const auto& [language, text] : texts) add(field, text);
  }

  void operator()(const AllergenTerm& t) const {
    add("word", t.word);
    add("summary_words", t.summary_words);
    add("other_words", t.other_words);
  }
  void operator()(const ExemptionTerm& t) const { add("words", t.words); }
  void operator()(const GroupAnswerTerm& t) const { add("word", t.word); }
  void operator()(const AnyOrderRow& t) const { add("wording", t.wording); }
  void operator()(const CollectiveTerm& t) const {
    add("words", t.words);
    add("other_words", t.other_words);
  }
  void operator()(const VaryingTerm& t) const {
    add("group", t.group);
    add("other_words", t.other_words);
  }
  void operator()(const NamedQuantityTerm& t) const {
    add("per_100g", t.per_100g);
    add("other_per_100g", t.other_per_100g);
  }
  void operator()(const AndOrTerm& t) const { add("wording", t.wording), add("joint", t.joint); }
  void operator()(const StatutoryPartsTerm& t) const { add("parts", t.parts), add("unless", t.unless); }
  void operator()(const MarkWording& t) const { add("wording", t.wording); }
  void operator()(const AmountWording& t) const { add("wording", t.wording); }
  void operator()(const ShareWording& t) const { add("wording", t.wording); }
  void operator()(const AdditiveTerm& t) const { add("name", t.name), add("print", t.print), add("why", t.note); }
  void operator()(const ClassTitleTerm& t) const {
    add("title", t.title), add("plural", t.plural);
    add("other_titles", t.other_titles), add("other_plurals", t.other_plurals);
  }
  void operator()(const AdditiveWording& t) const { add("wording", t.wording), add("suspended", t.suspended); }
  void operator()(const RouteTerm& t) const {
    add("route", t.route);
    add("words", t.words);
    add("told", t.told);
  }
  void operator()(const SmallPackageTerm& t) const {
    add("told", t.told);
    add("words", t.words);
  }
  void operator()(const DateMarkTerm& t) const { add("wording", t.wording); }
  void operator()(const DateExemptionTerm& t) const { add("words", t.words); }
  void operator()(const LotMarkTerm& t) const { add("prefix", t.prefix); }
  void operator()(const NetQuantityTerm& t) const { add("words", t.words); }
  void operator()(const AddressTerm& t) const { add("words", t.words); }
  void operator()(const Wording& t) const {
    add("text", t.text);
    add("other_texts", t.other_texts);
  }
  void operator()(const NutritionExemptionTerm& t) const { add("local", t.local); }
  void operator()(const RoundingBandTerm& t) const { add("words", t.words); }
  void operator()(const ColdPlaceTerm& t) const { add("words", t.words); }
  void operator()(const NoNumberTerm& t) const { add("words", t.words); }
  template <class Other>
  void operator()(const Other&) const {}
};

}  // namespace

Refusals misfits(const std::vector<InForce>& rows, const LabelTerms& terms) {
  Refusals refusals;
  Misfits look{terms, refusals};
  for (const auto& found : rows) look.row(found);
  return refusals;
}

void drop_what_no_row_knows(const std::vector<InForce>& rows, LabelTerms& terms) {
  const auto of_a_base = [&](const Cited& cited) {
    return std::any_of(rows.begin(), rows.end(), [&](const InForce& found) { return found.row->id == cited.row && found.pack->base; });
  };
  const auto unlisted = [&](const auto& term) { return of_a_base(term.cited) && terms.allergen(term.allergen) == nullptr; };
  std::erase_if(terms.exemptions, unlisted);
  std::erase_if(terms.reference_doses, unlisted);
  std::erase_if(terms.group_answers, [&](GroupAnswerTerm& answer) {
    if (!of_a_base(answer.cited)) return false;
    std::erase_if(answer.counts_as, [&](const std::string& part) { return !is_known(terms, part); });
    return answer.counts_as.empty();
  });
}

std::vector<std::pair<std::string, std::string>> printed_texts(const RowSays& says) {
  std::vector<std::pair<std::string, std::string>> out;
  std::visit(Printed{out}, says);
  return out;
}

std::vector<std::pair<std::string, std::string>> untranslated(const LabelTerms& terms) {
  std::vector<std::pair<std::string, std::string>> out;
  for (std::size_t i = 1; i < terms.language.languages.size(); ++i) {
    const auto& language = terms.language.languages[i];
    const auto look = [&](const Cited& cited, const auto& words, const std::string& what) {
      if (!words.contains(language)) out.emplace_back(cited.row, fmt::format("{} in {}", what, language));
    };
    for (const auto& term : terms.allergens) look(term.cited, term.other_words, fmt::format("allergen \"{}\"", term.key));
    for (const auto& term : terms.collectives) look(term.cited, term.other_words, fmt::format("collective name \"{}\"", term.kind));
    for (const auto& term : terms.varying) look(term.cited, term.other_words, fmt::format("varying group \"{}\"", term.group));
    if (terms.named_quantities) look(terms.named_quantities->cited, terms.named_quantities->other_per_100g, "words behind a quantity");
    for (const auto& term : terms.wordings) look(term.cited, term.other_texts, fmt::format("wording \"{}\"", term.key));
  }
  return out;
}

}  // namespace tierproof
