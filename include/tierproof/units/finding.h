#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tierproof {

/// What the records say of one control. Only `shown` is a pass.
enum class Verdict { shown, not_shown, not_met, outside_model };

/// `shown`, `not shown`, `not met`, `outside the model`: the terms in exports.
std::string_view term_of(Verdict verdict);
/// `limit met as recorded`, `not recorded well enough`, `limit missed`, `this sum doesn't fit the mix`: the words on paper.
std::string_view words_of(Verdict verdict);

/// How grave a verdict is where several stand for one thing: shown 0, outside the model 1, not shown 2, not met 3.
int gravity(Verdict verdict);

/// What stands between a cake and the door.
enum class Stop {
  none,          ///< nothing
  needs_person,  ///< a named person may release against it with a reason
  no_override    ///< do not hand over; remake it or refuse the order
};

/// One judged control. Findings come back all together, in a stable order.
struct Finding {
  std::string control;  ///< id of its row in the hazard plan, `egg-heat`
  Verdict verdict = Verdict::not_shown;
  Stop stop = Stop::needs_person;
  std::string subject;             ///< what it is about: `cake-1`, `batch-3`, `milk`
  std::string message;             ///< one sentence: what the records show, with numbers and units
  std::string remedy;              ///< what to do; empty when the verdict is `shown`
  std::string limit;               ///< the limit in words with its unit; empty when there is none
  std::string result;              ///< what was recorded, with its unit; empty when there is none
  std::string evidence;            ///< how it was recorded, which thermometer and its last check; may be empty
  std::string source;              ///< row id and clause the limit comes from
  std::vector<std::string> paths;  ///< where it comes in, `almond: cake-1 → batch-4 → ...`; may be empty
  std::vector<std::string> advice{};  ///< what officers said of it, each with who, when and its note; never part of the verdict
  friend bool operator==(const Finding&, const Finding&) = default;
};

}  // namespace tierproof
