#pragma once

#include <string>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/papers/sheet.h"

namespace tierproof {

/// Every form below `reports/sheets`, in the order of lists. @throws Fault 78 naming every bad member
std::vector<SheetForm> load_sheets(const DataRoot& data);

/// What the records put on a form: name of the business, whether it is a demo, the allergens of the label rules in force today.
/// @throws Fault 78 if no label rules are in force today
SheetFacts sheet_facts(const Session& session);

/// Draws `pages` pages of a form, for handwriting. Nothing is booked: an empty form is no record.
/// @param moment  the PDF's date of making
/// Refused: no form of that name, what `lay_out_sheet` refuses.
Result<std::string> draw_sheet(const DataRoot& data, const std::string& name, const SheetFacts& facts, SheetPaper paper, int pages,
                               Instant moment);

}  // namespace tierproof
