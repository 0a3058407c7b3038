#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tierproof/units/result.h"

namespace tierproof {

/// A printed code as a field of squares.
struct Code {
  std::string kind;  ///< `QR Code`, `GS1 DataMatrix`
  std::string told;  ///< what it says, as it is printed under it: `cake-1 41:5dc9da79`, `(01)09501234567893 (10)L4`
  int across = 0;    ///< modules
  int down = 0;
  std::vector<bool> dark;  ///< row by row, `across` × `down`
  int quiet = 0;           ///< modules that stay empty on every side
  bool is_dark(int x, int y) const {
    return dark[static_cast<std::size_t>(y) * static_cast<std::size_t>(across) + static_cast<std::size_t>(x)];
  }
  friend bool operator==(const Code&, const Code&) = default;
};

/// `text` as a QR Code (ISO/IEC 18004), error correction level M, quiet zone 4 modules. The smallest version that holds it.
/// Refuses an empty text, one that is not UTF-8, and one longer than a code holds.
/// @param field  what refusals call the text
Result<Code> qr_code(std::string_view text, std::string_view field);

/// A GS1 element string as a GS1 DataMatrix (ISO/IEC 16022, ECC 200, with FNC1 first), quiet zone 1 module.
/// Refuses whatever the encoder warns of: nothing that is doubtful is printed.
/// @param elements  with the application identifiers in square brackets, `[01]09501234567893[10]L4`
Result<Code> gs1_data_matrix(std::string_view elements, std::string_view field);

}  // namespace tierproof
