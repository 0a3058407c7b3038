#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/sums/label_terms.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// How a cake is sold, as far as it was answered; in the words of the records (`Cake`), empty: not answered.
struct SellingAnswers {
  std::string boxed;             ///< `before it was chosen`, `after it was ordered`, `not boxed`
  std::string seller;            ///< `the maker`, `another business`
  std::string ordered;           ///< `face to face`, `at a distance`
  std::string where;             ///< `where it is made`, `somewhere else`, `delivered`
  std::int64_t face_cm2 = 0;     ///< largest face of the package; 0: not said, which spares nothing
  std::int64_t surface_cm2 = 0;  ///< all of its surface; 0: not said, which spares nothing
};

/// One answer to choose from.
struct SellingAnswer {
  std::string typed;  ///< `before`
  std::string meant;  ///< in the words of the records
  std::string words;  ///< for a person to choose by
};
/// One plain question, with all of its answers.
struct SellingQuestion {
  std::string option;  ///< `--boxed`
  std::string SellingAnswers::*answer;
  std::string question;
  std::vector<SellingAnswer> answers;
};
/// Every question that rules may ask, in the order in which they are asked.
const std::vector<SellingQuestion>& selling_questions();
/// What is recorded for an answer as it is typed; nothing for one that the option does not have.
std::optional<std::string> selling_answer(std::string_view option, std::string_view typed);

/// The first row that fits how something is sold, as it is for a package of that size (`for_package`); an empty field of the row fits
/// anything, a missing answer only that.
std::optional<RouteTerm> route_for(const SellingAnswers& answers, const LabelTerms& terms);

/// What the rules say of a way of selling.
struct HowSold {
  SellingAnswers answers;
  std::vector<SellingQuestion> open;   ///< still to be answered: only those whose answer changes what the rules ask
  std::optional<RouteTerm> route;      ///< once nothing is open; nothing then: no row fits, so what is needed is unknown
  std::vector<std::string> sentences;  ///< that the pack must carry word for word, by the keys of the row
  std::string code;
  std::string title;  ///< of the set of rules
  Date on{};
};
/// Asks, or answers. Nothing is asked that makes no difference any more: every way of answering what is left leads to one row.
HowSold how_it_is_sold(const SellingAnswers& answers, const LabelTerms& terms);

}  // namespace tierproof
