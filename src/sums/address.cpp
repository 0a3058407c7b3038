#include "tierproof/sums/address.h"

#include <fmt/format.h>

#include <algorithm>

#include "declaration_check.h"
#include "label_runs.h"

namespace tierproof {

std::optional<Finding> judge_address(const std::string& cake, const std::string& country, const std::optional<RouteTerm>& route,
                                     const LabelTerms& terms) {
  if (!terms.address) return std::nullopt;
  if (route && std::find(route->on_pack.begin(), route->on_pack.end(), "business") == route->on_pack.end()) return std::nullopt;
  const AddressTerm& term = *terms.address;
  const bool there = std::any_of(term.countries.begin(), term.countries.end(),
                                 [&](const std::string& each) { return !country.empty() && same_words(each, country); });
  Finding finding;
  if (there) {
    finding = shown("business-address", cake, fmt::format("the business is in {}, where the rules want it", country));
  } else if (country.empty()) {
    finding = not_shown("business-address", cake,
                        fmt::format("the country of the business is not recorded, and the pack needs {}{}", term.words, doubt(term.cited)),
                        "record the country of the kitchen");
  } else {
    finding = not_shown("business-address", cake,
                        fmt::format("the business is in {}, and the pack needs {}{}", country, term.words, doubt(term.cited)),
                        "put a name and address on the pack that the rules take, or ask the food authority");
    if (term.cited.firm()) finding.verdict = Verdict::not_met;
  }
  finding.limit = term.words;
  finding.result = country.empty() ? "not recorded" : country;
  finding.evidence = "the kitchen's own record";
  finding.source = cite(term.cited);
  return finding;
}

}  // namespace tierproof
