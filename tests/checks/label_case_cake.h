#pragma once

#include <string>

#include "label_case.h"
#include "tierproof/sums/composition.h"

namespace tierproof::label_cases {

/// A decimal, refused when it is none.
Share share_in(Fields& fields, std::string_view key, const Share& otherwise = 0);
std::optional<Share> maybe_share(Fields& fields, std::string_view key);
/// A share with its percent sign.
std::optional<Share> maybe_percent(Fields& fields, std::string_view key);

/// A food by its name in the pantry, or told in place (then `name` is its label name unless it gives one).
IngredientFacts read_food(const Json& told, const std::string& name, const std::string& file, const std::string& path, const Pantry& pantry,
                          Refusals& refusals);
/// A cake by its name in the pantry, or told in place.
CakeParts read_cake(const Json& told, const std::string& file, const std::string& path, const Pantry& pantry, Refusals& refusals);
/// 100 g of one food and nothing else.
CakeParts nothing_but(IngredientFacts food);

}  // namespace tierproof::label_cases
