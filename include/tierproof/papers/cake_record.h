#pragma once

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof {

/// Lays out the record of one cake on A4.
///
/// Page one holds, in this order: business, cake, event, how it is sold and why; the outcome with every override in full; the
/// allergy question; every allergen with its word; each control with its limit, result and how it was recorded; keep and eat by;
/// handed over; entries made after hand-over; a line to sign on; the short head. Only more overrides or longer answers than a
/// page holds push its end on to the next page. What the numbers rest on follows.
Result<Pages> lay_out_cake_record(const CakeRecordContent& content, const Fonts& fonts);

}  // namespace tierproof
