#include "tierproof/papers/codes.h"

#include <fmt/format.h>
#include <zint.h>

#include <algorithm>
#include <memory>
#include <new>

#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr int level_m = 2;  // zint's number for error correction level M of a QR Code
constexpr int utf_8 = 26;   // extended channel interpretation 000026 (AIM ITS/04-023, from memory)

struct SymbolEnd {
  void operator()(zint_symbol* symbol) const { ZBarcode_Delete(symbol); }
};
using Symbol = std::unique_ptr<zint_symbol, SymbolEnd>;

Symbol new_symbol(int symbology, int input_mode) {
  Symbol symbol{ZBarcode_Create()};
  if (!symbol) throw std::bad_alloc{};
  symbol->symbology = symbology;
  symbol->input_mode = input_mode;
  return symbol;
}

/// The encoder's own words without their number: `Error 252: Invalid ...`.
std::string complaint_of(const zint_symbol& symbol) {
  const std::string words = symbol.errtxt;
  const auto number = words.find(": ");
  return number == std::string::npos ? words : words.substr(number + 2);
}

/// Encodes `data`: nothing when all is well, else the encoder's answer. That a code names its character set is no fault of it.
/// @throws Fault if the encoder itself fails
std::optional<int> not_encoded(zint_symbol& symbol, std::string_view data) {
  const int answer =
      ZBarcode_Encode(&symbol, reinterpret_cast<const unsigned char*>(data.data()), static_cast<int>(data.size()));  // NOLINT
  if (answer == 0 || answer == ZINT_WARN_USES_ECI) return std::nullopt;
  if (answer == ZINT_ERROR_ENCODING_PROBLEM || answer == ZINT_ERROR_MEMORY)
    throw Fault{exit_status::cannot_create, fmt::format("the encoder of printed codes failed: {}", complaint_of(symbol))};
  return answer;
}

Code code_of(const zint_symbol& symbol, std::string kind, std::string told, int quiet) {
  Code code{std::move(kind), std::move(told), symbol.width, symbol.rows, {}, quiet};
  for (int y = 0; y < code.down; ++y) {
    for (int x = 0; x < code.across; ++x) code.dark.push_back(((symbol.encoded_data[y][x / 8] >> (x % 8)) & 1) != 0);
  }
  return code;
}

/// `[01]...[10]...` as it is printed under a code: application identifiers in round brackets, with spaces for lines to break at.
std::string told_of_elements(std::string_view elements) {
  std::string told;
  for (const char c : elements) {
    if (c == '[' && !told.empty()) told += ' ';
    told += c == '[' ? '(' : c == ']' ? ')' : c;
  }
  return told;
}

}  // namespace

Result<Code> qr_code(std::string_view text, std::string_view field) {
  const std::string where{field};
  if (text.empty()) return Refusal{"", 0, where, "says nothing that a QR Code could hold", "write what it says"};
  if (!to_nfc(text)) return Refusal{"", 0, where, "is not plain text (UTF-8)", "type it again"};
  const Symbol symbol = new_symbol(BARCODE_QRCODE, UNICODE_MODE);
  symbol->option_1 = level_m;
  const bool ascii = std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
  if (!ascii) symbol->eci = utf_8;  // else the encoder chooses one by the letters, and readers know few
  if (not_encoded(*symbol, text)) {
    return Refusal{"", 0, where, fmt::format("is too long for a QR Code ({} bytes): {}", text.size(), complaint_of(*symbol)), "write less"};
  }
  return code_of(*symbol, "QR Code", std::string{text}, 4);  // quiet zone: ISO/IEC 18004, 4 modules on every side (from memory)
}

Result<Code> gs1_data_matrix(std::string_view elements, std::string_view field) {
  const std::string where{field};
  const auto refuse = [&](const std::string& why) {
    return Refusal{"", 0, where, fmt::format("\"{}\" is no GS1 element string: {}", elements, why),
                   "write each application identifier in square brackets before its data, [01]09521234543213[10]L4"};
  };
  if (elements.empty() || elements.front() != '[') return refuse("it does not begin with an application identifier");
  const Symbol symbol = new_symbol(BARCODE_DATAMATRIX, GS1_MODE);
  symbol->option_3 = DM_SQUARE;
  if (not_encoded(*symbol, elements)) return refuse(complaint_of(*symbol));
  return code_of(*symbol, "GS1 DataMatrix", told_of_elements(elements), 1);  // quiet zone: GS1 General Specifications, 1X (from memory)
}

}  // namespace tierproof
