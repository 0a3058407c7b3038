#pragma once

#include <string>

#include "tierproof/papers/allergen_sheet.h"
#include "tierproof/papers/content.h"
#include "tierproof/papers/counter_list.h"
#include "tierproof/papers/font.h"
#include "tierproof/papers/hand_over_note.h"
#include "tierproof/papers/small_labels.h"
#include "tierproof/papers/venue_card.h"

namespace tierproof::testdata {

/// The fonts of the project, loaded once.
const Fonts& fonts();

/// A wedding cake's label: invented food, invented business, test data throughout.
LabelContent a_label();
/// The same with a shorter list, for small stocks.
LabelContent a_short_label();

Stock a_sheet_label();    ///< 99.1 × 139 mm
Stock a_die_cut_label();  ///< 62 × 100 mm
Stock a_roll();           ///< 62 mm, up to 300 mm

/// A chart of a fridge over a morning: readings every five minutes, one gap, one fault.
Chart a_chart_with_a_gap();
/// A chart of a fridge from an evening to the next morning: the clocks go back, four stays (one from before it and one past its end), a
/// limit with an allowance that is used, a gap and a fault.
Chart a_chart_of_the_night_the_clocks_went_back();
/// A chart of a heat step: readings every 15 s, 70 °C wanted for 2 min, held at the second attempt.
Chart a_chart_of_a_heat_step();
/// The record of an invented cake: 26 allergen lines, six controls, two overrides, handed over.
CakeRecordContent a_record();
/// The same cake held back: an allergen is not known, nothing was released against or handed over.
CakeRecordContent a_held_record();

/// Papers of an invented cake: its allergens on a sheet, its card of so many tiers, the note for whoever takes it, a list for the counter.
AllergenSheetContent an_allergen_sheet();
VenueCardContent a_venue_card(std::size_t tiers = 3);
HandOverNoteContent a_hand_over_note();
CounterListContent a_counter_list(std::size_t cakes);
/// A tub of buttercream.
SmallLabelContent a_tub();

/// Every word of `text`, white space (no-break spaces too) as single spaces.
std::string words_of_text(std::string_view text);

/// What a command prints; the test fails if it cannot be run.
std::string output_of(const std::string& command);
/// Writes a whole file; the test fails if it cannot be written.
void write_whole(const std::string& path, const std::string& bytes);
/// A folder of this run of the program alone, with a slash at its end, gone with it: several flavours and shards run at once.
const std::string& own_folder();
/// Writes `bytes` to a file of own_folder() and returns its path.
std::string kept(const std::string& name, const std::string& bytes);

}  // namespace tierproof::testdata
