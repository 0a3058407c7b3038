#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "tierproof/app/permissions.h"
#include "tierproof/app/session.h"
#include "tierproof/text/number.h"

namespace tierproof {

/// Whether somebody works here on a day: until the last day that a note tells, that day included.
inline bool works_here(const Person& person, Date on) { return !person.left || on <= *person.left; }

/// Collects what is wrong with the input of one use case.
class Checking {
 public:
  explicit Checking(const Session& session) : session_{session} {}

  void refuse(std::string field, std::string message, std::string remedy) {
    refusals_.push_back({file_, line_, std::move(field), std::move(message), std::move(remedy)});
  }
  void take(const Refusals& refusals) { refusals_.insert(refusals_.end(), refusals.begin(), refusals.end()); }
  /// The document, and its line, that refusals from now on name.
  void in_file(std::string file, int line = 0) {
    file_ = std::move(file);
    line_ = line;
  }

  /// Words that reach paper: not empty, in NFC, one line, and no claim.
  void words(const std::string& field, const std::string& text) {
    if (text.empty()) return refuse(field, "is missing", "write it");
    free_words(field, text);
  }
  /// The same, but may be empty.
  void free_words(const std::string& field, const std::string& text) {
    const auto nfc = to_nfc(text);
    if (!nfc || *nfc != text) refuse(field, "is not plain text in the usual form (UTF-8, NFC)", "type it again");
    if (std::any_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; })) {
      refuse(field, "holds a line break or control character", "write it on one line");
    }
    if (const auto* claim = claim_in(text, session_.packs().claim_words())) {
      refuse(field, fmt::format("\"{}\" is a claim that this program does not print: {}", claim->pattern, claim->why),
             "say what it is, not what it is without");
    }
  }
  /// The short name that a thing goes by in commands.
  void id(const std::string& field, const std::string& text) {
    const auto fits = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; };
    if (text.empty() || text.size() > 40 || text.front() == '-' || !std::all_of(text.begin(), text.end(), fits)) {
      refuse(field, fmt::format("\"{}\" cannot be a short name", text),
             "use up to 40 lower-case letters, digits and hyphens, such as ground-almonds");
    }
  }
  template <class Key, class Thing>
  const Recorded<Thing>* known(const std::string& field, const std::map<Key, Recorded<Thing>>& things, const std::string& id,
                               std::string_view what) {
    const auto found = things.find(Key{id});
    if (found != things.end()) return &found->second;
    std::vector<std::string> names;
    for (const auto& [key, thing] : things) names.push_back(key.text());
    refuse(field, id.empty() ? fmt::format("no {} is named", what) : fmt::format("there is no {} called \"{}\"", what, id),
           names.empty() ? fmt::format("record the {} first", what) : fmt::format("name one of {}", fmt::join(names, ", ")));
    return nullptr;
  }
  template <class Key, class Thing>
  void unused(const std::string& field, const std::map<Key, Recorded<Thing>>& things, const std::string& id) {
    const auto found = things.find(Key{id});
    if (found != things.end()) {
      refuse(field, fmt::format("\"{}\" is recorded already, as note {}", id, found->second.sequence),
             fmt::format("choose another name, or correct note {}", found->second.sequence));
    }
  }
  /// What a check may be told of as missed, or what may go wrong, shares its short name with no sort of regular record.
  void no_sort_is_called(const std::string& field, const std::string& id) {
    const auto sort = session_.state().regular_sorts.find(RegularSortId{id});
    if (sort != session_.state().regular_sorts.end()) {
      refuse(field, fmt::format("\"{}\" is a sort of regular record, by note {}", id, sort->second.sequence),
             "choose another short name, so that a missed check of one is not taken for the other's");
    }
  }
  /// The recording person must be known; a sensor is none, and books what `permissions.h` says.
  void person() {
    require_recording(session_);
    if (!session_.entrance().sensor_of.empty()) return;
    const auto& person = session_.entrance().person;
    if (person.empty()) {
      refuse("--by", "nobody is named as recording this", "add --by with your short name, or set TIERPROOF_BY");
    } else {
      const auto* found = known("--by", session_.state().people, person, "person");
      if (found != nullptr && !works_here(found->value, session_.today()))
        refuse("--by",
               fmt::format("{} works here no more since {}, by note {}", person, format_date_long(*found->value.left), found->sequence),
               "name whoever records it; if they work here again, correct that note");
    }
  }
  ZonedInstant moment(const std::string& when, const std::string& field = "--at") {
    const auto found = session_.moment(when, field);
    if (found) return *found;
    take(found.error());
    return {session_.now(), session_.offset_at(session_.now())};
  }
  void choice(const std::string& field, const std::string& text, const std::vector<std::string>& choices) {
    if (std::find(choices.begin(), choices.end(), text) == choices.end()) {
      refuse(field, text.empty() ? "is missing" : fmt::format("\"{}\" is not one of the answers", text),
             fmt::format("write one of: {}", fmt::join(choices, "; ")));
    }
  }
  bool good() const { return refusals_.empty(); }
  const Refusals& refusals() const { return refusals_; }

 private:
  const Session& session_;
  std::string file_;
  int line_ = 0;
  Refusals refusals_;
};

/// A file's name as it may stand in a note and on the screen: in NFC, what is no text or a control character replaced by `?`.
std::string plain_name(const std::string& name);

/// Books one thing, once its checks are through and its body reads back.
template <class Thing>
Result<Booked> book_one(Session& session, const Checking& checking, const Thing& thing, const std::string& subject, ZonedInstant at) {
  if (!checking.good()) return checking.refusals();
  Draft draft = session.draft(thing, subject, at);
  if (auto refusals = check_body(draft.kind, draft.body, "what is recorded"); !refusals.empty()) return refusals;
  return session.book({std::move(draft)});
}

/// Sealed words as the reason of a note.
inline Json sealed_json(const Words& words) { return Json{Json::Object{{"sealed", Json{words.ref}}, {"hmac", Json{words.hmac}}}}; }

/// What is wrong with what a supplier or an ingredient is to be recorded as, but for its short name.
/// @param dashes  before the names of fields: `--` of a command's options, nothing of a table's columns
void check_supplier(Checking& checking, const Supplier& supplier, std::string_view dashes);
void check_ingredient(Checking& checking, const Ingredient& ingredient, std::string_view dashes);
/// The egg that goes in must fit what the recipe says of its egg: a raw egg is never called pasteurised, or none.
void check_egg(Checking& checking, const State& state, const Recipe& recipe);
/// What is wrong with a recipe that could be read.
/// @param together        recipes that are recorded with it, before it
/// @param items_numbered  whether refusals name the item, `items[2].of`, or `items` only
void check_recipe(Checking& checking, const State& state, const std::string& id, const Recipe& recipe,
                  const std::vector<std::string>& together, bool items_numbered = false);

/// What is wrong with the GTIN of a cake of `kitchen`; none is no fault.
void check_gtin(Checking& checking, const std::string& gtin, const Kitchen& kitchen, std::string_view field);

/// What is wrong with the zone and the rules that a kitchen chose, and with its GS1 Company Prefix.
Refusals check_choices(const Kitchen& kitchen, const RulePacks& packs);

/// Allergen keys of the label rules in force on `on`, in the law's order. @throws Fault 78 if there are no such rules that day
std::vector<std::string> allergen_keys(const Session& session, Date on);

}  // namespace tierproof
