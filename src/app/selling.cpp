#include "tierproof/app/selling.h"

#include <algorithm>
#include <functional>

#include "tierproof/sums/small_package.h"

namespace tierproof {
namespace {

bool fits(const std::string& asked, const std::string& answer) { return asked.empty() || asked == answer; }

/// The row that answers lead to, as a number; one past the last: none.
std::size_t row_for(const SellingAnswers& answers, const LabelTerms& terms) {
  const auto found = std::find_if(terms.routes.begin(), terms.routes.end(), [&](const RouteTerm& route) {
    return fits(route.boxed, answers.boxed) && fits(route.seller, answers.seller) && fits(route.ordered, answers.ordered) &&
           fits(route.where, answers.where);
  });
  return static_cast<std::size_t>(found - terms.routes.begin());
}

/// Calls `each` with every way of answering what `answers` leaves open.
void every_way(const SellingAnswers& answers, const std::function<void(const SellingAnswers&)>& each, std::size_t from = 0) {
  const auto& questions = selling_questions();
  if (from == questions.size()) return each(answers);
  const SellingQuestion& question = questions[from];
  if (!(answers.*question.answer).empty()) return every_way(answers, each, from + 1);
  for (const auto& answer : question.answers) {
    SellingAnswers one = answers;
    one.*question.answer = answer.meant;
    every_way(one, each, from + 1);
  }
}

/// Whether the answer to `question` can still change which row it is.
bool matters(const SellingQuestion& question, const SellingAnswers& answers, const LabelTerms& terms) {
  bool differs = false;
  SellingAnswers rest = answers;
  rest.*question.answer = question.answers.front().meant;
  every_way(rest, [&](const SellingAnswers& one) {
    for (const auto& answer : question.answers) {
      SellingAnswers other = one;
      other.*question.answer = answer.meant;
      differs = differs || row_for(other, terms) != row_for(one, terms);
    }
  });
  return differs;
}

}  // namespace

const std::vector<SellingQuestion>& selling_questions() {
  static const std::vector<SellingQuestion> questions{
      {"--boxed",
       &SellingAnswers::boxed,
       "When is the cake put into its box?",
       {{"before", "before it was chosen", "before the customer chooses it"},
        {"after", "after it was ordered", "after the customer ordered it"},
        {"not", "not boxed", "it is not boxed"}}},
      {"--sold-by",
       &SellingAnswers::seller,
       "Who sells it to the person who eats it?",
       {{"maker", "the maker", "you, who made it"}, {"other", "another business", "another business, such as a shop or a café"}}},
      {"--ordered",
       &SellingAnswers::ordered,
       "How is it bought?",
       {{"face-to-face", "face to face", "face to face"}, {"distance", "at a distance", "by telephone, message or web"}}},
      {"--where",
       &SellingAnswers::where,
       "Where does the customer get it?",
       {{"here", "where it is made", "where it is made"},
        {"elsewhere", "somewhere else", "somewhere else, such as a market stall"},
        {"delivered", "delivered", "it is delivered to them"}}}};
  return questions;
}

std::optional<std::string> selling_answer(std::string_view option, std::string_view typed) {
  for (const auto& question : selling_questions()) {
    if (question.option != option) continue;
    for (const auto& answer : question.answers) {
      if (answer.typed == typed) return answer.meant;
    }
  }
  return std::nullopt;
}

std::optional<RouteTerm> route_for(const SellingAnswers& answers, const LabelTerms& terms) {
  const std::size_t row = row_for(answers, terms);
  return row < terms.routes.size() ? std::optional{for_package(terms.routes[row], {answers.face_cm2, answers.surface_cm2}, terms)}
                                   : std::nullopt;
}

HowSold how_it_is_sold(const SellingAnswers& answers, const LabelTerms& terms) {
  HowSold sold;
  sold.answers = answers;
  sold.code = terms.jurisdiction;
  sold.title = terms.title;
  sold.on = terms.on;
  for (const auto& question : selling_questions()) {
    if ((answers.*question.answer).empty() && matters(question, answers, terms)) sold.open.push_back(question);
  }
  if (!sold.open.empty()) return sold;
  every_way(answers, [&](const SellingAnswers& one) {
    if (!sold.route) sold.route = route_for(one, terms);  // they all lead to the same
  });
  if (!sold.route) return sold;
  for (const auto& key : sold.route->statements) {
    if (const auto* wording = terms.wording(key)) sold.sentences.push_back(wording->text);
  }
  return sold;
}

}  // namespace tierproof
