#pragma once

#include <string>

#include "tierproof/app/before_cooking.h"

namespace tierproof::cli {

/// Prints what is known of raw egg before anybody cooks; nothing where there is nothing to tell.
void say_egg_beforehand(const EggBeforehand& egg);
/// @throws a usage error for what is no tin
RecipeTin tin_of(const std::string& option, const std::string& text);

}  // namespace tierproof::cli
