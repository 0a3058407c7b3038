#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// The answer to the allergy question, as it is given.
struct Answering {
  std::string cake;
  std::string answer;                  ///< `none`, `named`, `not asked`
  std::vector<std::string> allergens;  ///< keys of the rules in force, a word that customers use for several (`nuts`),
                                       ///< or a food that the list does not have (`other:strawberry`)
  std::string of_whom;
  std::string told;
  std::string why;  ///< why an answer that is recorded already changes; empty for the first
  std::string at = "now";
};

/// An order, with the answer to the allergy question when it was given with it.
struct Ordering {
  std::string name;
  std::optional<Date> event;
  std::string customer;
  std::string boxed;
  std::string seller;
  std::string ordered;
  std::int64_t boxes = 1;
  std::int64_t largest_face_cm2 = 0;
  std::string contact{};
  std::optional<std::int64_t> pieces{};
  std::vector<std::string> planned{};  ///< recipes
  std::optional<Answering> allergy{};
  std::string where{};                        ///< `where it is made`, `somewhere else`, `delivered`; empty: not asked
  std::string label_rules{};                  ///< code of the rules of where it is sold; empty: the kitchen's
  std::vector<std::string> shows{};           ///< ingredients or sorts of them that its name, words or pictures bring out
  std::vector<std::string> marks{};           ///< of `food_marks`
  std::string list{};                         ///< `merged`, `by part`; empty: the shorter one
  std::vector<NameIn> other_names{};          ///< of the food, in further languages of the label
  std::string gtin{};                         ///< of the kitchen's own GS1 Company Prefix (`read_own_gtin`); empty: none
  std::optional<std::int64_t> surface_cm2{};  ///< whole surface of a box
  std::vector<std::string> varying{};         ///< groups of foods whose proportions vary: `fruit`
  std::vector<WordIn> shows_in{};             ///< words that quantities stand behind, in further languages of the label
};
Result<Booked> order_cake(Session& session, const Ordering& ordering);

/// Books the answer, or supersedes the one there is. A word for several allergens is kept as it was said where the rules want it asked
/// again (`LabelTerms::group_answers`), else spelt out.
Result<Booked> answer_allergy(Session& session, const Answering& answering);
Result<Booked> accept_in_writing(Session& session, const std::string& cake, const std::vector<std::string>& allergens,
                                 const std::string& written);

struct Telling {
  std::string cake;
  std::string when;  ///< `before the order`, `before it was handed over`, `after it was handed over`
  std::string to;
  std::string words;
  std::string text;  ///< name of the ready-made text that the words came from, or empty
  std::string at = "now";
};
/// Books what the customer was told, in the words told.
Result<Booked> tell_customer(Session& session, const Telling& telling);

/// What the answer to the allergy question meets in the recipes that are planned for `cake`, by what packs say today (control
/// `planned-allergy`): never a pass, since nothing is made yet. Empty when tiers are built, nothing is planned, or no allergy was named.
std::vector<Finding> judge_planned(const Session& session, const CakeId& cake, Date on);

/// The words for several allergens in the answer in force that were not asked again: `nuts`.
std::vector<std::string> vague_words(const Session& session, const CakeId& cake);

/// A ready-made text to send to a customer.
struct ReadyText {
  std::string name;   ///< `cannot-promise`
  std::string about;  ///< what it is for, in a few words
  std::string text;   ///< with its fields filled
};
/// The ready-made texts, one file `<name>.txt` each (first line: what it is for), in the order of `files`.
/// @param files  name and text
/// Refused: a field that is not known, with file and line.
Result<std::vector<ReadyText>> ready_texts(const Session& session, const CakeId& cake,
                                           const std::vector<std::pair<std::string, std::string>>& files, ZonedInstant at);

}  // namespace tierproof
