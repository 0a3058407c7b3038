#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/issuing.h"
#include "tierproof/papers/inspection_record.h"
#include "tierproof/text/table_figure.h"

namespace tierproof {

/// A period of whole local days, both included.
struct InspectionRequest {
  std::optional<Date> from;   ///< nothing: 27 days before the last
  std::optional<Date> until;  ///< nothing, or later than today: today
};

/// A figure of the record, with how it comes out of the tables beside it.
struct InspectionFigure {
  std::string id;  ///< `days-worked`
  std::string of;  ///< what it is about: `cake-fridge`; or empty
  std::int64_t value = 0;
  FigureRule rule;
};

/// What the records say of a period: for a person, and the full data that every figure can be counted again from.
struct Inspection {
  Date from{};
  Date until{};
  InspectionContent content;
  std::vector<DataTable> tables;  ///< of a demo, each row says so
  std::vector<InspectionFigure> figures;
};

/// Looks through the records of a period as of `at`. A cake belongs to it by its event, its release or its hand-over; one that left is
/// judged as it left. Refused: a period that ends before it begins, that begins later than today, or that is longer than 366 days; no
/// rules in force.
Result<Inspection> inspect(const Session& session, const InspectionRequest& request, ZonedInstant at);

Json json_of(const Inspection& inspection);

struct InspectionIssued {
  Issued issued;
  std::vector<DataTable> tables;  ///< to be saved beside it
};
/// Draws, keeps and books the inspection record of a period: PDF, picture of page one, JSON with the full data, which the PDF holds too.
Result<InspectionIssued> issue_inspection(Session& session, const InspectionRequest& request, const DataRoot& data);

}  // namespace tierproof
