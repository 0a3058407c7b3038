#include "tierproof/app/reading_packs.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>
#include <utility>

#include "checking.h"
#include "tierproof/sums/additive_text.h"
#include "tierproof/units/share.h"

namespace tierproof {
namespace {

/// `May contain {names}.` as a pack begins its sentence: `may contain`.
std::string beginning_of(std::string_view wording) {
  const auto end = std::min({wording.find('{'), wording.find(':'), wording.find('.'), wording.size()});
  return ascii_lower(trimmed(wording.substr(0, end)));
}

std::string percent_text(const Share& share) { return short_decimal(format_decimal(share * 100, 4)) + " %"; }

class Understanding {
 public:
  Understanding(const LabelTerms& terms, const NameHints& hints) : terms_{terms}, hints_{hints} {}

  Json::Array parts(const std::vector<PackPart>& all, std::size_t depth) {
    Json::Array documents;
    for (const auto& part : all) documents.push_back(one(part, depth));
    return documents;
  }

  /// The name of the whole, which its list may settle.
  void name(const std::string& label_name, const std::vector<PackPart>& all) {
    const NameHint with_list = hint_under(hint_of(label_name + " (" + inside(all) + ")", hints_), terms_);
    NameHint own = hint_under(hint_of(label_name, hints_), terms_);
    for (const auto& hinted : own.contains) {
      if (with_list.contains_key(hinted.allergen)) contain(hinted);
    }
    std::erase_if(own.ask, [&](const Hinted& one) { return !with_list.asks_for(one.allergen); });
    own.unknown_words.clear();  // the list says what it is
    ask_of(label_name, own);
  }
  void summary(const std::string& said) {
    const NameHint hint = hint_under(hint_of(said, hints_), terms_);
    for (const auto& hinted : hint.contains) contain(hinted);
    if (hint.contains.empty()) ask(fmt::format("the pack says that it contains \"{}\": which allergen is that?", said));
    ask_keys(hint.ask);
  }
  void traces(const std::string& said) {
    const NameHint hint = hint_under(hint_of(said, hints_), terms_);
    bool known = false;
    for (const auto* hinted : {&hint.contains, &hint.ask}) {
      for (const auto& one : *hinted) {
        for (const auto& key : members(one.allergen)) {
          may_.insert(key);
          known = true;
        }
      }
    }
    if (!known) ask(fmt::format("the pack says that it may contain \"{}\": which allergens are that?", said));
  }

  PackRead done() {
    for (const auto& term : terms_.allergens) {  // the gravest counts
      if (contains_.contains(term.key)) {
        read_.contains.push_back(term.key);
      } else if (unknown_.contains(term.key)) {
        read_.unknown.push_back(term.key);
      } else if (may_.contains(term.key)) {
        read_.may_contain.push_back(term.key);
      }
    }
    return std::move(read_);
  }
  const std::map<std::string, std::string>& exempt() const { return exempt_; }

 private:
  /// The keys of the rules that `key` is or is the heading of.
  std::vector<std::string> members(const std::string& key) const {
    std::vector<std::string> keys;
    for (const auto& term : terms_.allergens) {
      if (!key.empty() && (term.key == key || term.key.starts_with(key + ":"))) keys.push_back(term.key);
    }
    return keys;
  }
  std::string word(const std::string& key) const {
    const AllergenTerm* term = terms_.allergen(key);
    return term == nullptr ? key : term->word;
  }

  void ask(std::string sentence) {
    if (std::find(read_.to_ask.begin(), read_.to_ask.end(), sentence) == read_.to_ask.end()) read_.to_ask.push_back(std::move(sentence));
  }
  void ask_keys(const std::vector<Hinted>& hinted) {
    for (const auto& one : hinted) {
      for (auto& key : members(one.allergen)) unknown_.insert(std::move(key));
    }
  }
  /// A member by its key; of a heading it has to be asked which.
  void contain(const Hinted& hinted) {
    if (terms_.allergen(hinted.allergen) != nullptr) {
      contains_.insert(hinted.allergen);
      return;
    }
    for (auto& key : members(hinted.allergen)) unknown_.insert(std::move(key));
    ask(fmt::format("\"{}\" does not say which of the {} it is", hinted.words, hinted.allergen));
  }
  /// What a name leaves open, in words; empty when nothing.
  std::string ask_of(const std::string& of, const NameHint& hint) {
    std::vector<std::string> what;
    const auto add = [&](std::string words) {
      if (std::find(what.begin(), what.end(), words) == what.end()) what.push_back(std::move(words));
    };
    for (const auto& one : hint.ask) add(one.allergen.empty() ? "what it is made of" : "whether it brings " + word(one.allergen));
    if (!hint.unknown_words.empty()) add(fmt::format("what \"{}\" is", fmt::join(hint.unknown_words, " ")));
    ask_keys(hint.ask);
    if (what.empty()) return "";
    std::string words = fmt::format("{}", fmt::join(what, ", "));
    ask(fmt::format("\"{}\": ask {}", of, words));
    return words;
  }

  /// The row of an additive: by its number, or where the pack prints a class by its name or last words (`soya lecithin`). A name with no
  /// class is an ingredient: the chalk of flour is no colour.
  const AdditiveTerm* additive_of(const PackPart& part) const {
    if (part.class_title.empty() && !read_additive_number(part.name)) return nullptr;
    if (const auto* row = find_additive_by_text(terms_, part.name)) return row;
    for (auto space = part.name.find(' '); space != std::string::npos; space = part.name.find(' ', space + 1)) {
      if (const auto* row = find_additive_by_text(terms_, part.name.substr(space + 1))) return row;
    }
    return nullptr;
  }

  std::string additive_words(const PackPart& part, const AdditiveTerm* row, const std::string& title) {
    if (row != nullptr) {
      std::string words = fmt::format("{}, {}{}: {}", row->number, title.empty() ? "no class known" : title,
                                      part.class_title.empty() ? " (usual, not printed)" : "", row->status);
      if (part.class_title.empty())
        ask(fmt::format("\"{}\" is printed without the class that it has in this food: is it {}?", part.name, title));
      if (!row->note.empty()) words += ", " + row->note;
      return words;
    }
    if (part.class_title.empty() && !read_additive_number(part.name)) {
      const auto* like = find_additive_by_text(terms_, part.name);
      return like == nullptr ? "" : fmt::format("named like {}, without a class: read as an ingredient", like->number);
    }
    const auto near = near_additives(terms_, part.name);
    ask(fmt::format("\"{}\" is printed as an additive and is none that the rules in force know{}", part.name,
                    near.empty() ? "" : fmt::format("; near to it: {}", fmt::join(near, ", "))));
    return "not known";
  }

  Json one(const PackPart& part, std::size_t depth) {
    const AdditiveTerm* row = additive_of(part);
    const std::string title = !part.class_title.empty() || row == nullptr || row->classes.empty() ? part.class_title : row->classes.front();
    std::string spoken = part.name;  // with what its bracket says of it
    if (!part.parts.empty()) spoken += " (" + inside(part.parts) + ")";
    const NameHint hint = hint_under(hint_of(spoken, hints_), terms_);
    const NameHint own = part.parts.empty() ? hint : hint_under(hint_of(part.name, hints_), terms_);

    PackLine line;
    line.depth = depth;
    line.name = part.name;
    if (part.share) line.share = percent_text(*part.share);
    line.additive = additive_words(part, row, title);
    std::vector<std::string> brought;
    std::vector<std::string> told;
    const bool keep_parts = row == nullptr;  // what an additive was made from stays in its name
    for (const auto& hinted : keep_parts ? own.contains : hint.contains) {
      if (!hint.contains_key(hinted.allergen)) continue;  // a list in its bracket says otherwise
      told.push_back(fmt::format("{} ({})", word(hinted.allergen), hinted.words));
      contain(hinted);
      if (terms_.allergen(hinted.allergen) != nullptr) brought.push_back(hinted.allergen);
    }
    for (const auto& marked : part.marked) {
      const NameHint by_mark = hint_under(hint_of(marked, hints_), terms_);
      for (const auto& hinted : by_mark.contains) {
        if (std::find(brought.begin(), brought.end(), hinted.allergen) != brought.end()) continue;
        told.push_back(fmt::format("{} (the pack makes \"{}\" stand out)", word(hinted.allergen), marked));
        contain(hinted);
        if (terms_.allergen(hinted.allergen) != nullptr) brought.push_back(hinted.allergen);
      }
    }
    for (const auto& hinted : hint.exempt) {
      told.push_back(fmt::format("made from {} ({}): exempt, {}", word(hinted.allergen), hinted.words, hinted.process));
      for (const auto& key : members(hinted.allergen)) exempt_.emplace(key, hinted.process);
    }
    line.contains = fmt::format("{}", fmt::join(told, "; "));
    // What the bracket leaves open is asked beneath it, part by part.
    NameHint left = hint;
    if (keep_parts && !part.parts.empty()) {
      left.ask.clear();
      left.unknown_words.clear();
      for (const auto& asked : hint.ask) {
        if (std::find(own.ask.begin(), own.ask.end(), asked) != own.ask.end()) left.ask.push_back(asked);
      }
      left.unknown_words = own.unknown_words;
    }
    line.ask = ask_of(part.name, left);
    read_.lines.push_back(std::move(line));
    return document(part, row, title, brought, keep_parts ? parts(part.parts, depth + 1) : Json::Array{});
  }

  static std::string inside(const std::vector<PackPart>& all) {
    std::string text;
    for (const auto& part : all) {
      text += (text.empty() ? "" : ", ") + part.name;
      if (!part.parts.empty()) text += " (" + inside(part.parts) + ")";
    }
    return text;
  }

  static Json document(const PackPart& part, const AdditiveTerm* row, const std::string& title, const std::vector<std::string>& brought,
                       Json::Array parts) {
    std::string name = part.name;
    if (row != nullptr) {
      if (read_additive_number(name)) {
        name = row->name;
        const bool one_capital = std::none_of(name.begin() + 1, name.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
        if (one_capital) name = ascii_lower(name.substr(0, 1)) + name.substr(1);
      }
      if (!part.parts.empty()) name += " (" + inside(part.parts) + ")";
    }
    const bool plain = row == nullptr && brought.empty() && parts.empty() && !part.share && !name.ends_with('%');
    if (plain) return Json{name};
    Json::Object object{{"name", Json{name}}};
    if (part.share) object.emplace("share", Json{percent_text(*part.share)});
    if (row != nullptr) {
      object.emplace("additive", Json{row->number});
      if (!title.empty()) object.emplace("class", Json{title});
    }
    if (!brought.empty()) object.emplace("brings", Json{Json::Array{brought.begin(), brought.end()}});
    if (!parts.empty()) object.emplace("parts", Json{std::move(parts)});
    return Json{std::move(object)};
  }

  const LabelTerms& terms_;
  const NameHints& hints_;
  PackRead read_;
  std::set<std::string> contains_, unknown_, may_;
  std::map<std::string, std::string> exempt_;  ///< key and process
};

Json texts_of(const std::vector<std::string>& all) { return Json{Json::Array{all.begin(), all.end()}}; }

}  // namespace

Result<PackRead> read_pack(const Session& session, const PackToRead& asked, const NameHints& hints) {
  Checking checking{session};
  const auto* ingredient = checking.known("ingredient", session.state().ingredients, asked.ingredient, "ingredient");
  checking.known("supplier", session.state().suppliers, asked.supplier, "supplier");
  std::string checked = asked.checked.empty() ? format_date(session.today()) : asked.checked;
  if (!parse_date(checked)) checking.refuse("--checked", fmt::format("\"{}\" is not a day", checked), "write it as 2026-05-01");
  if (!asked.storage.empty() || asked.draft) checking.choice("--storage", asked.storage, {"room", "fridge", "freezer"});
  if (asked.draft && asked.checked_against.empty())
    checking.refuse("--checked-against", "is missing", "say what the text was compared with, such as \"the pack\"");
  const auto found = session.label_terms(session.today());
  if (!found) checking.take(found.error());
  if (!checking.good()) return checking.refusals();
  const LabelTerms& terms = *found;

  PackTextWords words;
  words.class_titles = terms.class_titles;
  words.number_marks = {"e", "ins"};
  words.headings = asked.headings;
  words.may_contain = asked.traces;
  const auto from_rules = [&](std::string_view key, std::vector<std::string>& into) {
    const Wording* wording = terms.wording(key);
    if (wording != nullptr) into.insert(into.begin(), beginning_of(wording->text));
  };
  from_rules("ingredients heading", words.headings);
  from_rules("may contain", words.may_contain);
  from_rules("contains", words.contains);
  for (auto* all : {&words.headings, &words.may_contain}) {
    for (auto& one : *all) one = ascii_lower(trimmed(one));
    std::erase(*all, "");
  }
  const auto text = read_pack_text(asked.text.text, words, asked.text.name);
  if (!text) return text.error();

  Understanding understanding{terms, hints};
  const std::string label_name = asked.label_name.empty() ? ingredient->value.name : asked.label_name;
  Json::Array parts = understanding.parts(text->parts, 0);
  understanding.name(label_name, text->parts);
  for (const auto& said : text->contains) understanding.summary(said);
  for (const auto& said : text->may_contain) understanding.traces(said);
  const auto exempt = understanding.exempt();
  PackRead read = understanding.done();
  read.other = text->other;
  if (!asked.draft) return read;

  Json::Array contains;
  for (const auto& key : read.contains) contains.emplace_back(key);
  const auto says = [](const std::vector<std::string>& keys, const std::string& key) {
    return std::find(keys.begin(), keys.end(), key) != keys.end();
  };
  for (const auto& [key, process] : exempt) {
    // A specification says one thing of an allergen: what is graver than a product that may be exempt.
    if (says(read.contains, key) || says(read.unknown, key) || says(read.may_contain, key)) continue;
    contains.emplace_back(Json::Object{{"allergen", Json{key}}, {"process", Json{process}}});
  }
  Json::Object document{{"ingredient", Json{asked.ingredient}}, {"supplier", Json{asked.supplier}},
                        {"label_name", Json{label_name}},       {"checked", Json{checked}},
                        {"storage", Json{asked.storage}},       {"checked_against", Json{asked.checked_against}},
                        {"parts", Json{std::move(parts)}},      {"contains", Json{std::move(contains)}}};
  if (!read.may_contain.empty()) document.emplace("may_contain", texts_of(read.may_contain));
  if (!read.unknown.empty()) document.emplace("unknown", texts_of(read.unknown));
  read.document = Json{std::move(document)};
  return read;
}

}  // namespace tierproof
