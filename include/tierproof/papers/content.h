#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/sums/declaration.h"
#include "tierproof/sums/heat.h"
#include "tierproof/sums/warm_times.h"
#include "tierproof/units/finding.h"

namespace tierproof {

/// Places of labels on a sheet, in tenths of a millimetre.
struct StockGrid {
  int paper_width = 0;
  int paper_height = 0;
  int columns = 1;
  int rows = 1;
  int left = 0;  ///< from the edge of the paper to the first label
  int top = 0;
  int across = 0;  ///< from one label's left edge to the next one's
  int down = 0;
  friend bool operator==(const StockGrid&, const StockGrid&) = default;
};

/// A label stock, in tenths of a millimetre.
struct Stock {
  std::string id;     ///< file name, `sheet-99x139`
  std::string words;  ///< `label 99.1 × 139 mm`
  int width = 0;
  int height = 0;  ///< the most, on a continuous roll
  int margin = 0;  ///< unprinted on every side
  int dots_per_inch = 300;
  bool roll = false;                ///< cut to length
  int corner = 0;                   ///< radius of round corners
  std::optional<StockGrid> grid{};  ///< of labels that come on a sheet; none: one label after the other
};

/// What a label says of the food in one language.
struct LabelWords {
  std::string language;                       ///< `fr`; empty: the kitchen's own
  std::string name;                           ///< name of the food
  std::vector<std::string> name_statements;   ///< prescribed words beside the name, `with sweetener(s)`
  std::string quantities;                     ///< `Dark chocolate 12 %, orange 9 %.`; empty when none are asked for
  std::vector<Run> heading;                   ///< `Ingredients:`; empty when there is no list
  std::vector<std::vector<Run>> ingredients;  ///< one entry an ingredient, printed with commas between and a full stop at the end
  std::vector<Run> allergen_line;             ///< `Contains: ...`; empty when there is a list
  std::vector<std::string> after_list;        ///< prescribed sentences that stand right behind the list
  std::vector<Run> summary;                   ///< `Contains: Wheat, Milk` beside a list; empty where the law's form has none
  std::vector<std::string> statements;        ///< prescribed sentences
  std::vector<std::string> may_contain;       ///< `May contain hazelnuts.`
  std::vector<std::string> order;             ///< of `statements`, `summary`, `may contain`: those named come first, in this order
  std::string storage;                        ///< `Keep in the fridge ...`
  std::string date;                           ///< `Use by 4 May 2026`
  std::string remove;                         ///< `Remove before eating: 6 dowels (bottom, middle), 1 wire flower (top).`; may be empty
};

/// The least height of the letters of some words.
struct LeastHeight {
  std::string what;      ///< `text` (every word), `ingredient list`, `contains statement`, `net quantity`, `warning statement`
  std::string measured;  ///< `x-height`, `letter height` (of a capital, or of the small o in mixed case), `figure height`
  std::int64_t micrometres = 0;
  std::string source;   ///< clause
  std::string words{};  ///< the one sentence of the label that it is for; empty: all that `what` names
};

/// What one label says. Every word is decided before it comes here.
struct LabelContent : LabelWords {
  bool demo = false;
  std::string stop;                   ///< `DO NOT HAND OVER: ...`, large, above everything; empty when nothing stops it
  std::vector<LabelWords> languages;  ///< the same in further languages, below each other
  std::string storage_reason;         ///< `Because of: pastry cream.`, below `storage`; left out where it has no room
  std::string quantity;               ///< `1 cake, 3 tiers`, `1 cake, 1 tier, NET WT 24 OZ (1 LB 8 OZ) 680 g`
  std::string net_quantity;           ///< the end of `quantity` that is the net quantity of the law; empty where there is none
  std::string lot;                    ///< `L 41-cake-1`; empty where none is asked for
  std::string box;                    ///< `Box 1 of 3`; may be empty
  std::vector<std::string> business;  ///< name and address lines
  std::string reference;              ///< `cake-1`
  std::vector<std::string> cautions;  ///< local law and advice prevail; printed small but never below the legal height
  std::string head;                   ///< short head, `41:5dc9…`
  std::string code;                   ///< what its QR Code says, `cake-1 41:5dc9…`; empty: none is printed
  std::string gs1_elements;           ///< `[01]…[10]…`: of a kitchen that has a GS1 number, printed as a GS1 DataMatrix; empty: none
  std::vector<LeastHeight> heights;   ///< by the law; those of `text` hold for every word, the others besides
};

struct LabelledText {
  std::string label;
  std::string text;
};

/// One allergen of the jurisdiction with its word; none is left blank.
struct AllergenLine {
  std::string name;  ///< `almonds`
  std::string word;  ///< `contains`, `may contain`, `not known`, `not an ingredient`
  std::string why;   ///< path or evidence, in words; may be empty
};

/// A change of the clocks: which offset holds from a moment on.
struct ClockChange {
  Instant at{};
  Offset offset;
};

/// What stood in the place of a chart, and when.
struct ChartStay {
  std::string name;  ///< `cake-1`
  Instant from{};
  Instant to{};
};

/// What a limit allows beyond it for a while.
struct ChartAllowance {
  std::string words;                   ///< `warmer for less than 4 h, once: service or display`
  std::optional<Temperature> up_to{};  ///< nothing: the rule names no second temperature
};

/// How the lower bound of a heat step built up, as the sums give it.
struct ChartBound {
  std::string unit_words;         ///< what the minutes are: `at least so long at or above 70 °C, unbroken`
  std::vector<ShownSoFar> shown;  ///< in time order
  Span wanted{};
  std::string wanted_words;  ///< `2 min wanted`
  std::string told;          ///< what the finding says of it, in full
};

/// One temperature chart.
struct Chart {
  std::string title;  ///< `Cake fridge, air, 1 to 3 May 2026`
  std::vector<Reading> readings;
  std::vector<Gap> gaps;
  std::optional<Temperature> limit;
  std::string limit_words;       ///< `limit 8 °C (food)`
  bool limit_is_ceiling = true;  ///< false: must be reached
  Instant from{};
  Instant to{};
  Offset offset;
  Scale scale = Scale::celsius;              ///< of the axis
  std::string note;                          ///< thermometer, its error and last check
  std::vector<ClockChange> clock_changes{};  ///< after `from`, in time order; `offset` holds before the first
  std::vector<ChartStay> stays{};
  std::optional<ChartAllowance> allowance{};
  std::optional<ChartBound> bound{};  ///< of a heat step
};

/// One row of the table of packs.
struct PackRow {
  std::string ingredient;
  std::string code;  ///< lot code as typed
  std::string supplier;
  std::string dates;  ///< `use by 9 May 2026`
  std::string mass;   ///< mass in this cake, `412.5 g`
  std::string how;    ///< `weighed`, `estimated`; `suggested and accepted`
};

/// One batch on the record.
struct BatchRow {
  std::string batch;  ///< `batch-4`
  std::string name;
  std::string made;  ///< when, by whom
  std::string mass;  ///< in this cake
  std::string tier;
  std::string how;
};

/// What is recorded of the egg in one batch. What nobody recorded says `not recorded`; what does not apply is empty.
struct EggLine {
  std::string batch;      ///< `batch-4 (buttercream)`
  std::string egg;        ///< its packs, `pack-5 (free-range eggs, code E12), shell egg`
  std::string source;     ///< of shell egg: whose hens and by which scheme
  std::string date;       ///< day of lay, use-by or best-before, against the day it was used
  std::string cracked;    ///< of shell egg: when, where it was kept, how warm, how long before it was used
  std::string opened;     ///< of a carton: when it was opened, and its days
  std::string treatment;  ///< what was done to it, by the recipe
  std::string verdict;    ///< of its egg step, in words
};

struct Override {
  std::string control;  ///< words of the plan row
  std::string finding;  ///< the finding's message
  std::string reason;   ///< the person's, in full, or `reason erased`
  std::string by;       ///< who and when
};

/// What the record of one cake says, in the order of the design: page one first.
struct CakeRecordContent {
  bool demo = false;
  std::vector<std::string> business;
  std::string title;      ///< `Cake record`
  std::string reference;  ///< `cake-1`
  std::string name;
  std::string event;     ///< `For 2 May 2026`
  std::string sold;      ///< how it is sold, in words
  std::string sold_why;  ///< rule and clause
  std::string outcome;   ///< one sentence
  bool released = false;
  std::vector<Override> overrides;           ///< in full, on page one
  std::vector<LabelledText> allergy;         ///< asked when, of whom, answer, words told
  std::vector<AllergenLine> allergens;       ///< every allergen of the jurisdiction
  std::vector<Finding> findings;             ///< all, in stable order
  std::vector<std::string> finding_words;    ///< heading of each finding (plan row), same order
  std::string plan;                          ///< version of the hazard plan whose rows they name, `plan of 3 May 2026, note 41`
  std::uint64_t plan_note = 0;               ///< of that version; 0: the starting plan
  std::vector<std::string> brief_controls;   ///< controls that page one only names when they are met; further on they stand in full
  std::vector<LabelledText> keep;            ///< keep and eat by, and why
  std::vector<LabelledText> handed_over;     ///< to whom (by id), when, how warm
  std::vector<std::string> after_hand_over;  ///< entries made after hand-over
  std::string own_record;                    ///< `This is the business's own record ...`
  std::string head;                          ///< short head on page one
  // further pages
  std::vector<std::vector<Run>> ingredients;
  std::vector<std::string> statements;
  std::vector<PackRow> packs;
  std::vector<BatchRow> batches;
  std::vector<EggLine> eggs;           ///< one a batch that has egg in it
  std::vector<std::string> egg_told;   ///< what the customer is told of the egg; empty when its steps call for nothing
  std::vector<LabelledText> inedible;  ///< what, count and tier
  std::vector<LabelledText> timeline;  ///< from when to when, what and where
  std::vector<Chart> charts;
  std::vector<StayTold> stays;        ///< in numbers, for the JSON twin; the findings tell them in words
  std::vector<LabelledText> paths;    ///< allergen → path
  std::vector<LabelledText> sums;     ///< number → formula and inputs
  std::vector<LabelledText> entries;  ///< notes that the record rests on: number → what
  std::vector<LabelledText> sources;  ///< row id → clause
  std::vector<std::string> cautions;
  std::string full_head;
  std::string program;  ///< program version and rule-pack digests
  std::string drawn;    ///< when, as of which note
};

}  // namespace tierproof
