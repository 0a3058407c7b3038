#pragma once

#include <string>
#include <vector>

#include "tierproof/app/judging.h"
#include "tierproof/papers/allergen_sheet.h"
#include "tierproof/papers/content.h"
#include "tierproof/papers/label_sheets.h"
#include "tierproof/text/json.h"

namespace tierproof {

/// What the label of one box says. @pre judged of the same session
LabelContent label_content(const Session& session, const Judgement& judgement, std::int64_t box);
/// What the record of the cake says.
CakeRecordContent record_content(const Session& session, const Judgement& judgement, const std::string& program);

/// What the allergen sheet of the cake says.
AllergenSheetContent sheet_content(const Session& session, const Judgement& judgement);

Json json_of(const LabelContent& content);
Json json_of(const AllergenSheetContent& content);
Json json_of(const CakeRecordContent& content);
Json json_of(const Finding& finding);
/// Which version of the hazard plan something goes by, and its row; `row` may be empty. @param note  0: the starting plan, told as null
Json plan_json(const std::string& words, std::uint64_t note, const std::string& row);

/// A paper in one form, with its bytes.
struct PaperBytes {
  std::string form;  ///< `pdf`, `png`, `json`
  std::string bytes;
  std::int64_t box = 0;  ///< of a label: which box
};
struct Issued {
  std::vector<PaperBytes> papers;
  Booked booked;
  std::vector<std::string> remarks{};  ///< for whoever prints them: what has no room, in words
};

struct LabelRequest {
  std::string cake;
  std::string stock;
  std::int64_t box = 1;
  bool every_box = false;  ///< the labels of all its boxes, each a paper of its own; `box` is not used then
  LabelPlacing placing{};  ///< of the box, or of the first; each further box begins where the one before ended
};
/// Draws, keeps and books the label of one box, or of each. Refused: no such stock, it does not fit, a character that no face has.
Result<Issued> issue_label(Session& session, const LabelRequest& request, const DataRoot& data);
/// A picture (PNG) of the label of one box as it would be now. Nothing is kept or booked, so it is no label. Refused as `issue_label`.
Result<std::string> preview_label(const Session& session, const LabelRequest& request, const DataRoot& data);
/// Draws, keeps and books the allergen sheet of a cake, however it is sold.
Result<Issued> issue_allergen_sheet(Session& session, const std::string& cake, const DataRoot& data);
/// Draws, keeps and books the record of a cake.
Result<Issued> issue_record(Session& session, const std::string& cake, const DataRoot& data);
/// The kept bytes of the paper of a note. Refused: no such note, not a paper.
Result<PaperBytes> reprint(const Session& session, std::uint64_t sequence);

/// `tierproof 0.1.0; rules gb/label.json 5dc9da79…, ...`: what judged and drew, by SHA-256.
/// @param label_rules  of the cake; empty: the kitchen's
std::string program_and_rules(const Session& session, const std::string& label_rules = {});

}  // namespace tierproof
