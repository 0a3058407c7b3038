#pragma once

#include <string>
#include <vector>

#include "tierproof/app/tracing.h"
#include "tierproof/text/json.h"

// How commands tell of a trace, in words and as JSON.
namespace tierproof::cli {

/// `125.3 g`, `less than 0.1 g`
std::string mass_words(const Share& mg);

Json json_of(const TracedTold& one);
Json json_of(const std::vector<TracedTold>& all);
Json json_of(const TraceTold& told);

/// Where all of `of` went. `mark` begins every line: `DRILL  ` of an exercise.
void say_balance(const std::string& of, const MassBalance& balance, const std::string& mark);
/// What was recorded once and taken back, and what came next on the same kit.
void say_apart(const TraceTold& told, const std::string& mark);

}  // namespace tierproof::cli
