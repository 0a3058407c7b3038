#include "tierproof/app/explaining.h"

#include <algorithm>
#include <map>

#include "checking.h"
#include "contents.h"
#include "label_contents.h"
#include "parts.h"
#include "tierproof/app/issuing.h"
#include "tierproof/app/judging.h"
#include "tierproof/sums/languages.h"
#include "tierproof/sums/why.h"

namespace tierproof {
namespace {

constexpr std::string_view arrow = " → ";

std::vector<std::string> split_way(const std::string& way) {
  std::vector<std::string> steps;
  std::size_t from = 0;
  for (auto at = way.find(arrow); at != std::string::npos; at = way.find(arrow, from)) {
    steps.push_back(way.substr(from, at - from));
    from = at + arrow.size();
  }
  steps.push_back(way.substr(from));
  return steps;
}

class Explaining {
 public:
  Explaining(const Session& session, const Judgement& judgement)
      : session_{session}, judgement_{judgement}, cake_{session.state().cakes.at(judgement.cake)} {
    const auto rows = session.packs().rows_told(judgement.label.jurisdiction, "label", judgement.label.on);
    if (!rows) return;
    for (const auto& row : *rows) told_.insert_or_assign(row.id, row);
  }

  std::vector<WordExplained> all() {
    const LabelContent label = label_content(session_, judgement_, 1);
    add_stop(label);
    each_language(label, [&](const LabelWords& words, const LabelTerms&, const std::string& in) {
      WordExplained& name = add(words.name, "name" + in);
      name.because = "as the order names it";
      name.ways = {{judgement_.cake.text(), {{cake_.sequence, "the order"}}}};
    });
    if (judgement_.declared && judgement_.made) add_declaration(*judgement_.declared);
    for (const auto& other : judgement_.particulars.languages) add_declaration(other);
    add_route_sentences(label);
    add_may_contain(label);
    const LabelParticulars& told = judgement_.particulars;
    if (!label.quantities.empty()) {
      WordExplained& quantities = add(label.quantities, "quantities");
      quantities.because = "its name or the label's words bring these out";
      cite_text(quantities, told.quantities_source);
    }
    add_storage(label);
    if (!label.storage_reason.empty()) {
      WordExplained& reason = add(label.storage_reason, "why it is kept so");
      reason.because = judgement_.life->storage_why;
      if (const auto* wording = judgement_.label.wording("storage because")) cite_row(reason, wording->cited);
      reason.ways = batches();
    }
    if (!label.date.empty()) {
      WordExplained& date = add(label.date, "date");
      date.because = told.date_why;
      cite_text(date, told.date_source);
      date.ways = batches();
    }
    WordExplained& quantity = add(label.quantity, "net quantity");
    if (!told.net_quantity.empty()) cite_text(quantity, told.net_quantity_source);
    quantity.because = "by the tiers as they were weighed";
    quantity.ways = tiers();
    if (!label.lot.empty()) {
      WordExplained& lot = add(label.lot, "lot");
      lot.because = told.lot_why;
      cite_text(lot, told.lot_source);
    }
    each_language(label, [&](const LabelWords& words, const LabelTerms& terms, const std::string& in) {
      if (words.remove.empty()) return;
      WordExplained& remove = add(words.remove, "parts that are not food" + in);
      if (const auto* wording = terms.wording("remove before eating")) cite_row(remove, wording->cited);
      remove.ways = tiers();
    });
    add_business(label);
    for (const auto& text : label.cautions) {
      if (text.empty()) continue;
      WordExplained& caution = add(text, "caution");
      if (const auto* wording = judgement_.label.wording("caution")) cite_row(caution, wording->cited);
    }
    return std::move(words_);
  }

 private:
  WordExplained& add(std::string text, std::string what) {
    WordExplained& word = words_.emplace_back();
    word.words = std::move(text);
    word.what = std::move(what);
    return word;
  }

  /// Shows `see` the label's words in each of its languages, the kitchen's own first, with the terms in it and what to add to a heading.
  template <class See>
  void each_language(const LabelContent& label, const See& see) const {
    see(label, judgement_.label, std::string{});
    for (const LabelWords& words : label.languages) see(words, in_language(judgement_.label, words.language), ", " + words.language);
  }

  void cite_row(WordExplained& word, const Cited& cited) const {
    if (cited.row.empty()) return;
    const auto same = [&](const RuleOnWord& rule) { return rule.row == cited.row && rule.clause == cited.clause; };
    if (std::any_of(word.rules.begin(), word.rules.end(), same)) return;
    const auto found = told_.find(cited.row);
    const std::string title =
        found == told_.end() ? source_title_of(session_, judgement_, cited.row, cited.clause) : found->second.source_title;
    word.rules.push_back({cited.row, cited.clause, title, cited.from_memory ? "memory" : "read", cited.confirmed});
  }
  /// A row that is named as findings print it, `[row: clause]`.
  void cite_text(WordExplained& word, const std::string& source) const {
    const auto colon = source.find(": ");
    if (source.size() < 2 || source.front() != '[' || colon == std::string::npos) return;
    const auto found = told_.find(source.substr(1, colon - 1));
    if (found == told_.end()) {
      word.rules.push_back({source.substr(1, colon - 1), source.substr(colon + 2, source.size() - colon - 3), "",
                            source.find("(from memory") == std::string::npos ? "read" : "memory", ""});
      return;
    }
    Cited cited{found->second.id, found->second.clause, found->second.from_memory, ""};
    constexpr std::string_view confirmed = "confirmed: ";
    if (const auto at = source.find(confirmed); at != std::string::npos)
      cited.confirmed = source.substr(at + confirmed.size(), source.size() - at - confirmed.size() - 2);
    cite_row(word, cited);
  }

  /// The notes on a way as the sums tell it, by the numbers of things in it.
  WayOfWord way(const std::string& text) const {
    const State& state = session_.state();
    WayOfWord found{"", {}};
    for (const auto& step : split_way(text)) {
      const std::string id = step.substr(0, step.find(' '));
      std::string words = step;
      const auto batch = state.batches.find(BatchId{id});
      const auto lot = state.lots.find(LotId{id});
      if (batch != state.batches.end()) {
        if (found.notes.empty()) add_tiers(found, BatchId{id});
        found.notes.push_back({batch->second.sequence, id});
      } else if (lot != state.lots.end()) {
        words = step == id ? pack_in_words(state, lot->first) : step;
        found.notes.push_back({lot->second.sequence, id});
        const auto says = state.specifications.find(lot->second.value.specification);
        if (says != state.specifications.end()) found.notes.push_back({says->second.sequence, fmt::format("what {} says", id)});
      }
      found.words += (found.words.empty() ? "" : std::string{arrow}) + words;
    }
    return found;
  }
  void add_tiers(WayOfWord& way, const BatchId& batch) const {
    for (const auto& tier : session_.state().tiers) {
      const auto of = [&](const TierPart& part) { return part.batch == batch; };
      if (tier.value.cake == judgement_.cake && std::any_of(tier.value.parts.begin(), tier.value.parts.end(), of))
        way.notes.push_back({tier.sequence, fmt::format("{} tier", tier.value.tier)});
    }
  }
  std::vector<WayOfWord> tiers() const {
    std::vector<WayOfWord> all;
    for (const auto& tier : session_.state().tiers) {
      if (tier.value.cake == judgement_.cake)
        all.push_back({fmt::format("{}{}{} tier", judgement_.cake.text(), arrow, tier.value.tier),
                       {{tier.sequence, fmt::format("{} tier", tier.value.tier)}}});
    }
    return all;
  }
  /// What the date follows from: every batch with the recipe that says how long it keeps.
  std::vector<WayOfWord> batches() const {
    std::vector<WayOfWord> all;
    const State& state = session_.state();
    for (const auto& facts : judgement_.parts.batches) {
      const auto batch = state.batches.find(facts.id);
      if (batch == state.batches.end()) continue;
      WayOfWord one{fmt::format("{} ({})", facts.id.text(), facts.name), {{batch->second.sequence, facts.id.text()}}};
      const auto recipe = state.recipe_versions.find(batch->second.value.recipe_version);
      if (recipe != state.recipe_versions.end())
        one.notes.push_back({recipe->second.sequence, fmt::format("recipe {}", recipe->second.subject)});
      all.push_back(std::move(one));
    }
    return all;
  }

  void add_declaration(const Declaration& declared) {
    const std::string in = declared.language.empty() ? "" : fmt::format(", {}", declared.language);
    for (const auto& why : why_words(judgement_.parts, *judgement_.made, declared, judgement_.label)) {
      WordExplained& word = add(why.words, why.what + in);
      for (const auto& cited : why.rules) cite_row(word, cited);
      for (const auto& text : why.ways) word.ways.push_back(way(text));
    }
  }

  void add_stop(const LabelContent& label) {
    if (label.stop.empty()) return;
    WordExplained& stop = add(label.stop, "stop");
    for (const auto& finding : judgement_.findings) {
      if (finding.stop != Stop::no_override) continue;
      if (stop.because.empty()) stop.because = finding.message;
      cite_text(stop, finding.source);
      for (const auto& path : finding.paths) stop.ways.push_back(way(path));
    }
  }

  void add_route_sentences(const LabelContent& label) {
    if (!judgement_.route) return;
    each_language(label, [&](const LabelWords&, const LabelTerms& terms, const std::string& in) {
      for (const auto& key : judgement_.route->statements) {
        const auto* wording = terms.wording(key);
        if (wording == nullptr) continue;
        WordExplained& word = add(wording->text, "statement" + in);
        word.because = "what is sold in this way carries it";
        cite_row(word, judgement_.route->cited);
        cite_row(word, wording->cited);
        word.ways = {{judgement_.cake.text(), {{cake_.sequence, "how it is sold"}}}};
      }
    });
  }

  void add_may_contain(const LabelContent& label) {
    each_language(label, [&](const LabelWords& words, const LabelTerms& terms, const std::string& in) {
      for (const auto& text : words.may_contain) {
        WordExplained& word = add(text, "may contain" + in);
        bool by_packs = false;
        bool by_kitchen = false;
        if (const auto* wording = terms.wording("may contain")) cite_row(word, wording->cited);
        for (const auto& key : judgement_.declared->may_contain) {
          if (const auto* term = terms.allergen(key)) cite_row(word, term->cited);
          for (const auto& trace : judgement_.made->allergens) {
            if (trace.allergen != key) continue;
            for (const auto& path : trace.may_contain) word.ways.push_back(way(path));
            for (const auto& path : trace.precaution) word.ways.push_back(way(path));
            by_packs = by_packs || !trace.may_contain.empty();
            by_kitchen = by_kitchen || !trace.precaution.empty();
          }
        }
        word.because = by_packs ? "suppliers say so on their packs" : "a person of the kitchen decided to tell it";
        if (by_packs && by_kitchen) word.because += ", and a person of the kitchen decided to tell more";
      }
    });
  }

  void add_storage(const LabelContent& label) {
    if (!judgement_.life) return;
    const std::string storage = told_storage(judgement_);
    const char* key = storage == "fridge" ? "storage chilled" : storage == "freezer" ? "storage frozen" : "storage room";
    each_language(label, [&](const LabelWords& words, const LabelTerms& terms, const std::string& in) {
      if (words.storage.empty()) return;
      WordExplained& word = add(words.storage, "storage" + in);
      word.because = judgement_.life->why;
      if (const auto* wording = terms.wording(key)) cite_row(word, wording->cited);
      word.ways = batches();
    });
  }

  void add_business(const LabelContent& label) {
    WordExplained& word = add(fmt::format("{}", fmt::join(label.business, ", ")), "business");
    word.because = "as the kitchen was recorded";
    if (judgement_.label.address) {
      word.because += fmt::format("; asked for: {}", judgement_.label.address->words);
      cite_row(word, judgement_.label.address->cited);
    }
    word.ways = {{"kitchen", {{session_.state().kitchen->sequence, "the kitchen"}}}};
  }

  const Session& session_;
  const Judgement& judgement_;
  const Recorded<Cake>& cake_;
  std::map<std::string, RowTold> told_;
  std::vector<WordExplained> words_;
};

bool holds_all(const std::string& text, const std::vector<std::string>& words) {
  const std::string lower = ascii_lower(text);
  return std::all_of(words.begin(), words.end(),
                     [&](const std::string& word) { return lower.find(ascii_lower(word)) != std::string::npos; });
}

}  // namespace

Result<LabelExplained> explain_label(const Session& session, const std::string& cake, const std::vector<std::string>& holding,
                                     ZonedInstant at) {
  const auto judgement = judge_cake(session, CakeId{cake}, at);
  if (!judgement) return judgement.error();
  LabelExplained explained;
  explained.cake = cake;
  explained.name = session.state().cakes.at(CakeId{cake}).value.name;
  explained.rules_title = fmt::format("{}, as in force on {}", judgement->label.title, format_date_long(judgement->label.on));
  explained.words = Explaining{session, *judgement}.all();
  std::erase_if(explained.words, [&](const WordExplained& word) { return !holds_all(word.words, holding); });
  if (explained.words.empty()) {
    return Refusal{"", 0, "word", fmt::format("nothing on the label of {} says \"{}\"", cake, fmt::join(holding, " ")),
                   fmt::format("`tierproof why {}` lists all that stands on it", cake)};
  }
  return explained;
}

}  // namespace tierproof
