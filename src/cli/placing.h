#pragma once

#include <string>

#include "door.h"
#include "tierproof/papers/label_sheets.h"

namespace tierproof::cli {

/// How labels go through the printer, as it was typed.
struct PlacingTexts {
  int begin_at = 1;
  int copies = 1;
  std::string right, down;
};
/// Adds --begin-at, --copies, --right and --down.
void placing_options(CLI::App& app, PlacingTexts& texts);
/// Adds --right and --down alone.
void offset_options(CLI::App& app, PlacingTexts& texts);
/// @throws a usage error for an offset that is no length
LabelPlacing placing_of(const PlacingTexts& texts);

}  // namespace tierproof::cli
