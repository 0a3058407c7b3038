#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/issuing.h"
#include "tierproof/papers/inspection_record.h"
#include "tierproof/text/table_figure.h"

namespace tierproof {

constexpr int days_inspected = 28;  ///< four weeks, where nobody says (a choice)

/// A period of whole local days, both included.
struct InspectionRequest {
  std::optional<Date> from;   ///< nothing: 27 days before the last
  std::optional<Date> until;  ///< nothing, or later than today: today
  bool review = false;        ///< a review of the records instead of an inspection record
};

/// A time that somebody looked through the records, as the regular record `records-review` tells it. What the kitchen's own sort of that
/// record does not ask for, and what was erased, is empty.
struct RecordsLook {
  std::uint64_t note = 0;
  ZonedInstant made;
  std::string person;              ///< id of who looked
  std::string name;                ///< of who looked
  std::string looked;              ///< `yes`: at all of it
  std::string found;               ///< and what is done about it
  std::string alone;               ///< `yes`: they say that they made the records too
  std::int64_t made_by_them = 0;   ///< notes of the period that this person recorded, papers and looks aside
  bool signed_by_recorder = true;  ///< who looked is who recorded the look
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
  std::vector<RecordsLook> looks{};  ///< of a review
  std::int64_t notes_of_period = 0;  ///< of a review: notes that were recorded in it, papers and looks aside
};

/// Looks through the records of a period as of `at`. A cake belongs to it by its event, its release or its hand-over; one that left is
/// judged as it left. Refused: a period that ends before it begins, that begins later than today, or that is longer than 366 days; no
/// rules in force.
Result<Inspection> inspect(const Session& session, const InspectionRequest& request, ZonedInstant at);

/// The same for whoever looks through the records: who looked since the first day of the period, when, what was found and whether they made
/// the records, as they say and as the log tells; what is wanting; warm spells; the reasons given to release; and those sections of the
/// inspection record that are reviewed. Wanting besides: that nobody looked, that the last look was before the period was over, one that
/// was not at all of it, one that says that somebody else made the records where the log tells otherwise. Refused as `inspect` is.
Result<Inspection> review_records(const Session& session, const InspectionRequest& request, ZonedInstant at);

Json json_of(const Inspection& inspection);
Json json_of(const std::vector<RecordsLook>& looks);

struct InspectionIssued {
  Issued issued;
  std::vector<DataTable> tables;  ///< to be saved beside it
};
/// Draws, keeps and books the inspection record of a period, or its review: PDF, picture of page one, JSON with the full data, which the
/// PDF holds too.
Result<InspectionIssued> issue_inspection(Session& session, const InspectionRequest& request, const DataRoot& data);

}  // namespace tierproof
