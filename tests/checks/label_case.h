#pragma once

#include <functional>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "tierproof/rules/rule_pack.h"
#include "tierproof/text/fields.h"

/// Label cases as data: `tests/data/label-cases/README.md` tells the format.
namespace tierproof::label_cases {

/// What came of one case under one set of rules.
struct Judged {
  std::vector<std::string> wrong;    ///< one sentence each; empty when all is as expected
  std::vector<std::string> printed;  ///< every text that a label or paper would carry, emphasis left out
  bool usable = true;                ///< false: the rules cannot be used on the day of the case, so nothing was judged
};

/// One case as read: it can be judged by any terms.
struct LabelCase {
  std::string file;
  int line = 0;
  std::string id;
  std::string title;
  std::string kind;
  std::vector<std::string> packs;
  Date on{};
  std::string clause;
  std::string source;
  std::string wording;                 ///< id of the prescribed wording that it prints; may be empty
  std::vector<std::string> confirmed;  ///< rows from memory that count as confirmed
  std::string told;                    ///< all its texts, and those of the foods and cakes that it names, in small letters
  std::function<Judged(const LabelTerms&)> judge_by;
};

/// Every case of the folder. @throws std::runtime_error that names every fault of the files
const std::vector<LabelCase>& label_cases();

/// Judges cases by one reading of the rules: the terms of a pack and a day are drawn up once.
class CaseJudge {
 public:
  explicit CaseJudge(const RulePacks& packs) : packs_{packs} {}
  /// Judges a case in one pack; rules that cannot be used on that day are what is wrong.
  Judged judge(const LabelCase& one, const std::string& pack);

 private:
  const RulePacks& packs_;
  std::map<std::pair<std::string, std::chrono::sys_days>, Result<LabelTerms>> drawn_up_;  ///< without confirmations
};

/// The cakes of which a file can speak by name, and what makes a food answer for every allergen.
struct Pantry {
  Json::Object foods;
  Json::Object cakes;
  std::vector<std::string> allergens;  ///< keys that any shipped pack knows
};

/// The judge of one case. Its members are asked of `fields`, which refuses what is ill-written.
using Kind = std::function<Judged(const LabelTerms&)> (*)(Fields& fields, const Pantry& pantry, Refusals& refusals);
Kind kind_of(const std::string& name);  ///< null for one that nobody knows

}  // namespace tierproof::label_cases
