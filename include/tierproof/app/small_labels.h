#pragma once

#include <string>
#include <vector>

#include "tierproof/app/issuing.h"
#include "tierproof/papers/label_sheets.h"
#include "tierproof/papers/small_labels.h"

namespace tierproof {

/// Every stock below `reports/stocks`, by id. Refused: what `read_stocks` refuses.
Result<std::vector<Stock>> load_stocks(const DataRoot& data);

/// What the label of a tub that holds `batch` says at `at`.
///
/// An allergen is told as contained, not known or possible by the gravest of what went in, at whatever depth; traces from kit count as
/// for a cake: not known where no washing is recorded between, possible where it was washed and looked clean. What an exemption of the
/// law spares from a cake's label is told here: it is there. The dates are the life of the batch as if it were a cake.
/// A withdrawn pack in it, a use-by passed, food thrown away, or something that went wrong with it and is open, is a stop.
/// Refused: no such batch, no rules in force that day.
Result<SmallLabelContent> tub_label_content(const Session& session, const std::string& batch, ZonedInstant at);
/// What the label of a pack on the shelf says at `at`; allergens by its specification. Refused: no such pack, no rules in force that day.
Result<SmallLabelContent> shelf_label_content(const Session& session, const std::string& pack, ZonedInstant at);

/// @param schema  `tierproof/tub-label/1`
Json json_of(const SmallLabelContent& content, const std::string& schema);

struct SmallLabelRequest {
  std::string of;  ///< `batch-4`, `pack-7`
  std::string stock;
  LabelPlacing placing{};
};
/// Draws, keeps and books the label of a tub, a note a form (PDF, JSON), all about the batch. The kept PDF is what was printed.
/// Refused besides: no such stock, it does not fit, a character that no face has, a placing that its sheets do not have.
Result<Issued> issue_tub_label(Session& session, const SmallLabelRequest& request, const DataRoot& data);
/// The same of a pack.
Result<Issued> issue_shelf_label(Session& session, const SmallLabelRequest& request, const DataRoot& data);

/// The ruler page of a stock as a PDF without a date. Nothing is booked: it tells of no food and belongs to no kitchen.
Result<std::string> draw_ruler_page(const DataRoot& data, const std::string& stock, int right, int down);

}  // namespace tierproof
