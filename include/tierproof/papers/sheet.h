#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/papers/document.h"

namespace tierproof {

/// A box or column to write in by hand.
struct SheetSpace {
  std::string label;
  std::string unit;                ///< `°C`, `g`: printed with the label, so that nobody writes another; or empty
  std::string hint;                ///< a few words in small type; or empty
  std::int64_t share = 1;          ///< of the width of the paper, against the spaces beside it
  std::vector<std::string> fills;  ///< what of a note it gives: `lot/1 code`; empty where it only helps whoever types it in
};

enum class SheetPartKind {
  text,       ///< a sentence or two to read
  boxes,      ///< boxes side by side, each with its label above the room to write
  ticks,      ///< answers to tick, none of them ticked
  allergens,  ///< one box to tick for every allergen of the label rules in force
  rows        ///< a table of empty rows
};

/// One part of a form.
struct SheetPart {
  SheetPartKind kind = SheetPartKind::text;
  std::string words;                 ///< printed above it; of `text` the text itself
  std::vector<SheetSpace> spaces;    ///< of `boxes` and `rows`
  std::vector<std::string> choices;  ///< of `ticks`
  std::vector<std::string> hints;    ///< of `ticks`: a few words in small type for each choice; or none at all
  std::vector<std::string> fills;    ///< of `ticks` and `allergens`
  int across = 1;                    ///< columns of `ticks` and `allergens`
  int rows = 0;                      ///< of `rows`, at least
  Micrometres height = 9000;         ///< of the room to write in: of a row, or below the label of a box
  bool fill = false;                 ///< of `rows`: as many rows more as the page has room for
};

/// A kind of note that a form is typed in as.
struct SheetNote {
  std::string kind;                     ///< `lot/1`
  std::vector<std::string> by_program;  ///< members that the program writes by itself
};

/// A form to fill in by hand while the program cannot be used, and to type in later.
struct SheetForm {
  std::string id;  ///< `deliveries`
  std::int64_t order = 0;
  std::string title;
  std::string purpose;  ///< what it is for and when it is filled in
  bool landscape = false;
  std::vector<SheetPart> parts;
  std::vector<SheetNote> notes;
  std::vector<std::string> type_in;  ///< commands as they are typed, with an example's values
};

/// One file: its name, for refusals, and its text.
struct SheetFile {
  std::string path;
  std::string text;
};

/// Reads forms, one JSON object a file, and returns them by `order`, then `id`. Lengths are whole millimetres.
///
/// Refuses, all together: unknown and missing members, a row or box with less than 9 mm to write in, two forms of one id, a part without
/// anything to write in or to read, `fills` of a kind that the form does not name under `notes`, and a form that fills nothing.
Result<std::vector<SheetForm>> read_sheets(std::span<const SheetFile> files);

struct SheetAllergen {
  std::string word;  ///< as labels print it, `almonds`
  std::string key;   ///< as it is typed in, `nuts:almond`
};

/// What is printed on a form that is not the form's own.
struct SheetFacts {
  std::string business;  ///< empty: left blank to be written in
  bool demo = false;
  std::vector<SheetAllergen> allergens;  ///< of the label rules in force, in their order; empty: room to write them in is left
  std::vector<std::string> ask_again;    ///< words of customers that leave open which allergen is meant
};

enum class SheetPaper { a4, letter };

/// Lays out `pages` copies of a form, one page each, numbered. Refused: words that cannot be set, a form that is higher than its page.
/// @pre pages from 1 to 200
Result<Pages> lay_out_sheet(const SheetForm& form, const SheetFacts& facts, SheetPaper paper, int pages, const Fonts& fonts);

}  // namespace tierproof
