#pragma once

#include <string>
#include <variant>
#include <vector>

#include "tierproof/papers/codes.h"
#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof {

/// Words in one face and size within a paragraph. A line feed ends the line.
struct TextRun {
  std::string text;
  Face face = Face::condensed;
  PointSize size;
  Ink ink = 0;
  /// Where a reader goes from here: an address that begins with `https://` or `http://` (anything else is refused), or `#` and the
  /// `anchor` of a paragraph of the same paper (one that is not there is our bug); empty: nowhere.
  std::string link{};
};

enum class Align { left, centre, right };

/// Words set into lines where Unicode Standard Annex 14 allows it, and there only at spaces and after a hyphen, dash or slash between
/// words: never within a word, nor between a number and its unit or what it counts, the thousands of a number, a day and its month, or a
/// comparison sign and its number. A no-break space binds. Ragged, and no first or last line stands alone on a page.
struct Paragraph {
  std::vector<TextRun> runs;
  std::string field;  ///< what refusals call this text
  Align align = Align::left;
  int leading = 135;       ///< line height in hundredths of the largest size on the line
  Micrometres before = 0;  ///< space; of two neighbouring spaces the larger counts, and none at the top of a page
  Micrometres after = 0;
  Micrometres indent = 0;  ///< of the second and later lines
  bool keep_with_next = false;
  int bookmark = 0;      ///< level of the reader's bookmark that leads here, from 1 (its words are those of the paragraph); 0: none
  std::string anchor{};  ///< what links call it, once a paper; empty: none
};

/// A table cell; `columns` is how many columns it spans.
struct Cell {
  std::vector<Paragraph> paragraphs;
  int columns = 1;
};

struct Row {
  std::vector<Cell> cells;  ///< their spans add up to the columns of the table
  bool rule_below = true;   ///< a hairline
  bool keep_with_next = false;
  Micrometres least = 0;  ///< at least this high
};

/// A column: as wide as its cells need, or less where there is no room, but never narrower than its widest word.
struct Column {
  Micrometres least = 0;  ///< at least this wide
  bool fill = false;      ///< takes the width that the others leave
  Micrometres most = 0;   ///< asks for no more than this, unless a word is wider; 0: for as much as its lines are long
};

/// Rows are never split over pages; the head is repeated on each.
struct Table {
  std::vector<Column> columns;
  std::vector<Row> head;
  std::vector<Row> rows;
  Micrometres gap = 3500;     ///< between columns
  Micrometres padding = 700;  ///< above and below the text of a row
  Micrometres before = 0;
  Micrometres after = 0;
  bool rules = true;  ///< false: no hairlines at all
  bool grid = false;  ///< upright hairlines too, between and around the columns, and one on top: boxes to write in
};

/// A line across the paper.
struct Rule {
  Micrometres thickness = 100;
  Micrometres before = 0;
  Micrometres after = 0;
  Ink ink = 0;
  bool keep_with_next = false;
};

/// Lines to write on, side by side, each with its words in small type below.
struct Blanks {
  std::vector<TextRun> labels;
  Micrometres height = 9000;  ///< room for the pen above the line
  std::string field;
};

/// Empty height. A spring takes a share of whatever its page leaves over, and is at least `height` high.
struct Space {
  Micrometres height = 0;
  bool spring = false;
};

/// A temperature chart, drawn to the width of the paper. Its title, table, note and list of gaps are blocks of their own.
struct ChartBlock {
  Chart chart;
  Micrometres height = 48000;  ///< of the plot with its axes; strips of stays, clock changes and a heat step's second plot add to it
  TextRun type;                ///< face and size of its words; the text is not used
  std::string field;
};

/// Marks that were placed beforehand, from the left of the column and their own top. Never split.
struct DrawingBlock {
  Marks marks;
  Micrometres height = 0;
  std::string field;
};

struct Block;

/// Blocks that stay on one page, if one page can hold them.
struct Together {
  std::vector<Block> blocks;
};

/// Blocks set in behind an upright bar.
struct Barred {
  std::vector<Block> blocks;
  Micrometres thickness = 900;
  Micrometres gap = 3000;
};

struct PageBreak {};

/// A printed code at whole printer dots a module, counted from the page's left and top edges, with its quiet zone around it. Never scaled
/// to a room: one that is too wide is refused with the width that it needs.
struct CodeBlock {
  Code code;
  int dots_per_inch = 300;
  Micrometres least_module = 330;  ///< the module is the fewest whole dots that are at least this wide
  Align align = Align::left;
  std::string field;
};

/// Blocks with a printed code at their right, level with the top. Stays on one page; a page break in it is our bug.
struct Beside {
  std::vector<Block> blocks;
  CodeBlock code;
  Micrometres gap = 1500;  ///< between the blocks and the quiet zone
};

/// Columns of equal width side by side, each with blocks of its own, level at the top. Stays on one page; a page break in it is our bug.
struct Columns {
  std::vector<std::vector<Block>> columns;
  Micrometres gap = 4000;
};

/// One line for each bookmark of the document up to a level, with its page and a link to it.
struct Contents {
  TextRun type;  ///< face and size of its words; the text is not used
  int levels = 1;
  std::string field = "contents";
  int columns = 1;  ///< of equal width, read one after the other; with more than one it stays on one page
};

struct Block {
  std::variant<Paragraph, Table, Rule, Blanks, Space, ChartBlock, Together, Barred, PageBreak, CodeBlock, Beside, Columns, Contents,
               DrawingBlock>
      held;
  template <class T>
  Block(T block) : held{std::move(block)} {}
};

/// What a paper says, before anything has a place.
struct Document {
  Micrometres width = 0;
  Micrometres height = 0;
  Micrometres left = 0;  ///< margins; header and footer lie inside them
  Micrometres top = 0;
  Micrometres right = 0;
  Micrometres bottom = 0;
  bool cut_to_length = false;   ///< one page, as long as what is on it; `height` is the most
  std::string demo;             ///< printed large at the top of every page, clear of all text; empty for real records
  TextRun demo_type;            ///< face and size of it
  std::vector<TextRun> footer;  ///< at the foot of every page, left
  bool numbered = false;        ///< `page 1 of 3` at the foot of every page, right, in the type of the footer
  std::vector<Block> blocks;
};

/// Gives everything its place. Refuses text that cannot be set (`check_text`), a link to what is no address of the web, a word or code
/// wider than its room, a table row, chart or anything else that is never split higher than a page, and a document cut to length that
/// is longer than the most.
/// @throws Fault (70) if a link leads to an anchor that no paragraph has, two paragraphs have the same, or a code has no modules
Result<Pages> lay_out(const Document& document, const Fonts& fonts);

/// The height that `document` takes on one endless page, margins included; refusals as `lay_out`, except for height. Links may lead out
/// of it: what is measured may be a part of a paper.
Result<Micrometres> height_needed(const Document& document, const Fonts& fonts);

}  // namespace tierproof
