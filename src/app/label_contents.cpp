#include "label_contents.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>

#include "coding.h"
#include "parts.h"
#include "tierproof/app/issuing.h"
#include "tierproof/papers/allergen_sheet.h"
#include "tierproof/sums/languages.h"
#include "tierproof/sums/statements.h"
#include "tierproof/sums/type_size.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

std::string wording(const LabelTerms& terms, std::string_view key) {
  const auto* found = terms.wording(key);
  return found == nullptr ? std::string{} : found->text;
}

/// `Because of: pastry cream, buttercream.`: the parts that must be kept so; empty where the rules have no words for it.
std::string storage_reason(const Judgement& judgement, const LabelTerms& terms) {
  const std::string because = wording(terms, "storage because");
  if (!judgement.life || because.empty()) return {};
  std::vector<std::string> names;
  for (const auto& batch : judgement.parts.batches) {
    const auto& parts = judgement.life->storage_for;
    const bool needs = std::find(parts.begin(), parts.end(), fmt::format("{} ({})", batch.name, batch.id.text())) != parts.end();
    if (needs && std::find(names.begin(), names.end(), batch.name) == names.end()) names.push_back(batch.name);
  }
  return names.empty() ? std::string{} : fmt::format("{} {}.", because, fmt::join(names, ", "));
}

std::size_t tier_count(const State& state, const CakeId& cake) {
  return static_cast<std::size_t>(
      std::count_if(state.tiers.begin(), state.tiers.end(), [&](const auto& tier) { return tier.value.cake == cake; }));
}

/// What suppliers say may be in it, and what a person of the kitchen decided to tell, in the law's form, without what is declared or not
/// known. Traces from shared kit are told on the record; a `may contain` for them needs such a decision.
std::string may_contain_line(const Declaration& declared, const LabelTerms& terms) {
  std::vector<std::string> words;
  for (const auto& key : declared.may_contain) {
    const auto* term = terms.allergen(key);
    words.push_back(term == nullptr ? key : term->word);
  }
  if (words.empty()) return "";
  const std::string form = wording(terms, "may contain");
  const std::string names = fmt::format("{}", fmt::join(words, ", "));
  return form.find("{names}") == std::string::npos ? fmt::format("{} {}.", form, names) : with_names(form, names);
}

/// `1 cake, 2 tiers`, in the words of the rules.
std::string tiers_in_words(const LabelTerms& terms, std::size_t tiers) {
  std::string words = wording(terms, tiers == 1 ? "cake of one tier" : "cake of tiers");
  constexpr std::string_view mark = "{limit}";
  if (const auto at = words.find(mark); at != std::string::npos) words.replace(at, mark.size(), std::to_string(tiers));
  return words;
}

std::string as_sentence(std::string words) {
  if (words.front() >= 'a' && words.front() <= 'z') words.front() = static_cast<char>(words.front() - 'a' + 'A');
  return words + ".";
}

/// What the label says of the food by one declaration.
LabelWords label_words(const State& state, const Judgement& judgement, const Cake& cake, const Declaration& declared,
                       const LabelTerms& terms) {
  LabelWords words;
  words.language = declared.language;
  words.name = name_in(cake, declared.language);
  words.heading = declared.heading;
  if (!words.heading.empty()) {  // a list and a `Contains:` line never stand together but where the law's form has a summary
    for (const auto& ingredient : declared.ingredients) words.ingredients.push_back(ingredient.runs);
    words.summary = declared.summary;
  }
  words.allergen_line = declared.allergen_line;
  for (const auto& statement : declared.statements) {
    auto& where = statement.placed == "name"         ? words.name_statements
                  : statement.placed == "after list" ? words.after_list
                                                     : words.statements;
    where.push_back(statement.text);
  }
  if (judgement.route) {
    for (const auto& key : judgement.route->statements) words.statements.push_back(wording(terms, key));
  }
  if (auto line = may_contain_line(declared, terms); !line.empty()) words.may_contain.push_back(std::move(line));
  words.order = terms.form.after_list;
  if (judgement.life) words.storage = storage_line(judgement, terms);
  const auto inedible = inedible_lines(state, judgement.cake);
  if (!inedible.empty()) words.remove = fmt::format("{} {}", wording(terms, "remove before eating"), fmt::join(inedible, ", "));
  return words;
}

/// What the label of a row of heights says in its own words: the sentence of that key, in each language.
std::vector<std::string> sentences_of(const LabelTerms& terms, const LabelContent& content, const std::string& key) {
  std::vector<std::string> sentences;
  if (terms.wording(key) != nullptr) sentences.push_back(wording(terms, key));
  for (const LabelWords& words : content.languages) {
    if (auto text = wording(in_language(terms, words.language), key); !text.empty()) sentences.push_back(std::move(text));
  }
  return sentences;
}

/// The least heights by the rows that hold for this box. No e-mark is ever printed, so its rows do not count; a row of words that the
/// label does not know holds for all of them.
std::vector<LeastHeight> least_heights(const LabelTerms& terms, const LabelContent& content, const Cake& cake) {
  constexpr std::int64_t mm2_per_cm2 = 100;
  const auto surface_mm2 = cake.surface_cm2 ? std::optional{*cake.surface_cm2 * mm2_per_cm2} : std::nullopt;
  static constexpr std::array<std::string_view, 5> known{"text", "ingredient list", "contains statement", "net quantity",
                                                         "warning statement"};
  static constexpr std::array<std::string_view, 2> of_an_e_mark{"net quantity e-mark", "e symbol"};
  std::vector<std::string> kinds;
  for (const TypeSizeTerm& row : terms.type_sizes) {
    const bool told = std::find(kinds.begin(), kinds.end(), row.what) != kinds.end();
    if (!told && std::find(of_an_e_mark.begin(), of_an_e_mark.end(), row.what) == of_an_e_mark.end()) kinds.push_back(row.what);
  }
  std::vector<LeastHeight> heights;
  for (const std::string& what : kinds) {
    const bool is_known = std::find(known.begin(), known.end(), what) != known.end();
    std::vector<std::string> sentences = is_known ? std::vector<std::string>{} : sentences_of(terms, content, what);
    const std::string kind = is_known || !sentences.empty() ? what : "text";
    if (sentences.empty()) sentences.emplace_back();  // all words of that kind
    for (const MinimumHeight& least : minimum_heights(terms.type_sizes, what, cake.largest_face_cm2 * mm2_per_cm2, {}, surface_mm2)) {
      for (const std::string& words : sentences) heights.push_back({kind, least.measured, least.micrometres, cite(least.cited), words});
    }
  }
  return heights;
}

}  // namespace

std::string stop_line(const Judgement& judgement) {
  std::vector<std::string> why;
  for (const auto& finding : judgement.findings) {
    if (finding.stop == Stop::no_override) why.push_back(finding.message);
  }
  if (why.empty()) return "";
  const std::string more = why.size() == 1 ? "" : fmt::format("; and {} more, on its record", why.size() - 1);
  return fmt::format("DO NOT HAND OVER: {}{}.", why.front(), more);
}

std::string told_storage(const Judgement& judgement) { return judgement.counts_as_chilled ? "fridge" : judgement.life->storage; }

std::string told_storage_why(const Judgement& judgement) {
  if (!judgement.counts_as_chilled) return judgement.life->storage_why;
  return fmt::format("{}, and nothing on file shows that the cake does, so it counts as needing the fridge", judgement.life->storage_why);
}

std::string storage_line(const Judgement& judgement, const LabelTerms& terms) {
  const std::string storage = told_storage(judgement);
  return wording(terms, storage == "fridge" ? "storage chilled" : storage == "freezer" ? "storage frozen" : "storage room");
}

std::string sold_in_words(const Judgement& judgement) {
  if (!judgement.route) return "The rules in force do not say what this way of selling needs.";
  std::string words = judgement.route->words;
  if (!judgement.route->told.empty()) words += fmt::format(" To be told: {}.", fmt::join(judgement.route->told, "; "));
  return words;
}

std::vector<AllergenLine> allergen_lines(const Judgement& judgement) {
  std::vector<AllergenLine> lines;
  for (const auto& term : judgement.label.allergens) {
    AllergenLine line{term.word, "not known", "what the cake is made of is not recorded"};
    if (judgement.made) {
      const auto& all = judgement.made->allergens;
      const auto trace = std::find_if(all.begin(), all.end(), [&](const AllergenTrace& t) { return t.allergen == term.key; });
      const auto first = [](const std::vector<std::string>& paths) { return paths.empty() ? std::string{} : paths.front(); };
      const auto has = [](const std::vector<std::string>& keys, const std::string& key) {
        return std::find(keys.begin(), keys.end(), key) != keys.end();
      };
      const bool is_declared = has(judgement.declared->contains, term.key);
      switch (is_declared ? Presence::contains : trace->presence) {
        case Presence::contains:
          line.word = is_declared ? "contains" : "contains, under the amount that is declared";
          line.why = first(trace->contains);
          if (!is_declared && !trace->unknown.empty()) {
            line.word = "not known";
            line.why = first(trace->unknown);
          } else if (has(judgement.declared->exempt, term.key)) {
            line.word = "exempt product of it";
            line.why = first(trace->exempt);
          }
          break;
        case Presence::unknown:
          line.why = first(trace->unknown);
          break;
        case Presence::may_contain:
          line.word = "may contain";
          line.why = first(trace->may_contain.empty() ? trace->precaution : trace->may_contain);
          break;
        case Presence::absent:
          line.word = "not an ingredient";
          // One pack says nothing of the others.
          line.why = trace->absent_evidence.size() > 1 ? fmt::format("each of its {} packs says so", trace->absent_evidence.size())
                                                       : first(trace->absent_evidence);
          break;
      }
      if (!is_declared && !trace->cross_contact.empty()) {
        // Kit that was washed and looked clean leaves traces possible; without any washing nobody knows.
        const auto met = std::find_if(judgement.findings.begin(), judgement.findings.end(),
                                      [&](const Finding& f) { return f.control == "shared-kit" && f.subject == term.word; });
        const bool washed = met != judgement.findings.end() && met->verdict == Verdict::shown;
        if (!washed || line.word != "not known") line.word = washed ? "may contain" : "not known";
        line.why = met != judgement.findings.end() && !met->paths.empty() ? met->paths.front() : first(trace->cross_contact);
      }
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

std::string short_head(const Session& session) {
  const std::string head = format_head(session.head());
  return head.substr(0, head.find(':') + 9);
}

std::vector<std::string> business_lines(const Session& session) {
  std::vector<std::string> lines{session.kitchen().name};
  lines.insert(lines.end(), session.kitchen().address.begin(), session.kitchen().address.end());
  return lines;
}

std::string drawn_line(const Session& session, ZonedInstant at) {
  return fmt::format("drawn {} from {} notes", format_moment(at.at, at.offset), session.head().size);
}

std::string name_in(const Cake& cake, const std::string& language) {
  if (language.empty()) return cake.name;
  const auto named =
      std::find_if(cake.other_names.begin(), cake.other_names.end(), [&](const NameIn& n) { return n.language == language; });
  return named == cake.other_names.end() ? cake.name : named->name;
}

LabelContent label_content(const Session& session, const Judgement& judgement, std::int64_t box) {
  const State& state = session.state();
  const Cake& cake = state.cakes.at(judgement.cake).value;
  const LabelParticulars& particulars = judgement.particulars;
  LabelContent content;
  content.demo = session.kitchen().demo;
  content.stop = stop_line(judgement);
  content.name = cake.name;
  if (judgement.declared) {
    static_cast<LabelWords&>(content) = label_words(state, judgement, cake, *judgement.declared, judgement.label);
    for (const auto& declared : particulars.languages) {
      content.languages.push_back(label_words(state, judgement, cake, declared, in_language(judgement.label, declared.language)));
    }
  }
  if (!particulars.quantities.empty()) {
    content.quantities = as_sentence(particulars.quantities);
    for (const auto& other : particulars.quantities_in) {
      if (!other.empty()) content.quantities += " / " + as_sentence(other);
    }
  }
  content.storage_reason = storage_reason(judgement, judgement.label);
  content.date = particulars.date;
  content.lot = particulars.lot;
  content.quantity = tiers_in_words(judgement.label, tier_count(state, judgement.cake));
  for (const auto& declared : particulars.languages) {
    const std::string told = tiers_in_words(in_language(judgement.label, declared.language), tier_count(state, judgement.cake));
    if (content.quantity.find(told) == std::string::npos) content.quantity += " / " + told;
  }
  if (!particulars.net_quantity.empty() && particulars.net_quantity != "1 cake") {
    content.quantity += ", " + particulars.net_quantity;
    content.net_quantity = particulars.net_quantity;
  }
  if (cake.boxes > 1) content.box = fmt::format("Box {} of {}", box, cake.boxes);
  content.business = business_lines(session);
  content.reference = judgement.cake.text();
  content.cautions.push_back(wording(judgement.label, "caution"));
  content.head = short_head(session);
  const CodeTexts codes = code_texts(session, judgement, box);
  content.code = codes.code;
  content.gs1_elements = codes.gs1_elements;
  content.heights = least_heights(judgement.label, content, cake);
  return content;
}

AllergenSheetContent sheet_content(const Session& session, const Judgement& judgement) {
  const Cake& cake = session.state().cakes.at(judgement.cake).value;
  AllergenSheetContent content;
  content.demo = session.kitchen().demo;
  content.stop = stop_line(judgement);
  content.business = business_lines(session);
  content.reference = judgement.cake.text();
  content.name = cake.name;
  content.event = fmt::format("For {}", format_date_long(cake.event));
  content.sold = sold_in_words(judgement);
  const auto lines = allergen_lines(judgement);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::string& key = judgement.label.allergens[i].key;
    std::vector<std::string> tiers;
    if (judgement.made) {
      for (const auto& tier : judgement.made->tiers) {
        if (std::find(tier.allergens.begin(), tier.allergens.end(), key) != tier.allergens.end()) tiers.push_back(tier.tier);
      }
    }
    content.lines.push_back({lines[i], fmt::format("{}", fmt::join(tiers, ", "))});
    if (!judgement.made) continue;
    for (const auto& trace : judgement.made->allergens) {
      if (trace.allergen != key) continue;
      for (const auto& path : trace.may_contain) content.traces.push_back(fmt::format("{}, by the pack: {}", lines[i].name, path));
      for (const auto& path : trace.precaution) content.traces.push_back(fmt::format("{}, by the kitchen: {}", lines[i].name, path));
      for (const auto& path : trace.cross_contact) content.traces.push_back(fmt::format("{}, from shared kit: {}", lines[i].name, path));
    }
  }
  if (judgement.declared) {
    for (const auto& statement : judgement.declared->statements) content.statements.push_back(statement.text);
  }
  for (const auto& statement : judgement.particulars.to_tell) content.statements.push_back(statement.text);
  content.together = "The tiers are cut and served together: treat the whole cake as containing all of these.";
  content.cautions = {
      "Prepared from what was entered; check it against the packs that were really used.",
      fmt::format("Rules used: {}, as in force on {}. Laws change: ask your food authority.", judgement.label.title,
                  format_date_long(judgement.label.on)),
      "An allergen that is \"not an ingredient\" may still be present in traces. This is no promise that the cake is without anything.",
      "If the order changes, print this sheet again and destroy the old one."};
  content.head = short_head(session);
  content.drawn = fmt::format("drawn {} from {} notes", format_moment(judgement.at.at, judgement.at.offset), session.head().size);
  return content;
}

}  // namespace tierproof
