#include "tierproof/app/issuing.h"

#include <filesystem>

#include "booking_papers.h"
#include "checking.h"
#include "erased.h"
#include "old_words.h"
#include "tierproof/app/small_labels.h"
#include "tierproof/papers/cake_record.h"
#include "tierproof/papers/label.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/papers/png.h"

namespace tierproof {
namespace fs = std::filesystem;
namespace {

constexpr int label_dots_per_inch = 203;  // the coarsest printer that labels are made for

/// What else the law allows where no label fits: only where nothing has to be on the pack.
std::string instead_of_label(const Judgement& judgement) {
  if (!judgement.route || !judgement.route->on_pack.empty()) return "";
  return fmt::format("; or give its allergen sheet along (allergen-sheet {}): sold like this, nothing has to stand on the box {}",
                     judgement.cake.text(), cite(judgement.route->cited));
}

/// Draws the labels that are asked for, all of them before one is booked.
/// @pre the cake is made of something, and has the boxes
Result<Issued> issue_labels(Session& session, const Judgement& judgement, ZonedInstant at, const LabelRequest& request, const Stock& stock,
                            std::span<const Stock> stocks, const DataRoot& data) {
  const Fonts fonts = Fonts::load(fs::path{data.path} / "reports" / "fonts");
  const std::int64_t boxes = session.state().cakes.at(judgement.cake).value.boxes;
  std::vector<PaperBytes> forms;
  std::vector<std::string> remarks;
  LabelPlacing placing = request.placing;
  for (std::int64_t box = request.every_box ? 1 : request.box; box <= (request.every_box ? boxes : request.box); ++box) {
    const LabelContent content = label_content(session, judgement, box);
    const auto label = lay_out_label(content, stock, fonts, stocks);
    if (!label) {
      Refusals refusals = label.error();
      for (Refusal& refusal : refusals) {
        if (refusal.field == "stock") refusal.remedy += instead_of_label(judgement);
      }
      return refusals;
    }
    const auto placed = fill_sheets(*label, stock, placing);
    if (!placed) return placed.error();
    if (stock.grid) placing.begin_at = (placing.begin_at - 1 + placing.copies) % places_on_sheet(stock) + 1;  // the next box goes on there
    const std::string of_box = boxes == 1 ? "" : fmt::format(", box {} of {}", box, boxes);
    Json::Array left_out;
    for (const std::string& code : label->codes_left_out) {
      left_out.push_back(Json{code});
      remarks.push_back(
          fmt::format("the {} of {}{} has no room on this stock: the label is printed without it", code, judgement.cake.text(), of_box));
    }
    Json json = json_of(content);
    json["codes_left_out"] = Json{std::move(left_out)};
    const PdfInfo info = info_of(session, fmt::format("Label of {}{}", judgement.cake.text(), of_box), at);
    forms.push_back({"pdf", write_pdf(*placed, fonts, info), box});
    // The picture is of the label, not of the sheet that it is on.
    forms.push_back({"png", write_png(stock.grid ? write_pdf(*label, fonts, info) : forms.back().bytes, label_dots_per_inch), box});
    forms.push_back({"json", write_pretty(json), box});
  }
  PaperBooking booking = booking_of_cake(session, judgement, "label");
  booking.stock = stock.id;
  Issued issued = book_papers(session, booking, at, std::move(forms));
  issued.remarks = std::move(remarks);
  return issued;
}

}  // namespace

std::string program_and_rules(const Session& session, const std::string& label_rules) {
  std::string text = "tierproof " TIERPROOF_VERSION "; rules";
  std::vector<std::string> files = session.packs().files_of(label_rules.empty() ? session.kitchen().label_rules : label_rules);
  for (const auto& code : {session.kitchen().temperature_rules, session.kitchen().retention_rules}) {
    for (auto& file : session.packs().files_of(code)) {
      if (std::find(files.begin(), files.end(), file) == files.end()) files.push_back(std::move(file));
    }
  }
  std::string separator = " ";
  for (const auto& file : files) {
    text += fmt::format("{}{} {}", separator, file, to_hex(sha256(session.packs().text_of(file))).substr(0, 16));
    separator = ", ";
  }
  return text;
}

namespace {

/// A cake that was judged and the stock that its label is asked for on.
struct LabelAsked {
  ZonedInstant at;
  Judgement judgement;
  std::vector<Stock> stocks;
  std::size_t stock = 0;
};
Result<LabelAsked> label_asked(Checking& checking, const Session& session, const LabelRequest& request, const DataRoot& data) {
  const ZonedInstant at = checking.moment("now");
  auto judged = judge_cake(session, CakeId{request.cake}, at);
  if (!judged) checking.take(judged.error());
  auto stocks = load_stocks(data);
  if (!stocks) checking.take(stocks.error());
  if (!checking.good()) return checking.refusals();
  std::vector<std::string> ids;
  for (const auto& known : *stocks) ids.push_back(known.id);
  const auto stock = std::find(ids.begin(), ids.end(), request.stock);
  if (stock == ids.end()) checking.choice("--stock", request.stock, ids);
  const std::int64_t boxes = session.state().cakes.at(CakeId{request.cake}).value.boxes;
  if (!request.every_box && (request.box < 1 || request.box > boxes))
    checking.refuse("--box", fmt::format("there is no box {}", request.box), fmt::format("write a number from 1 to {}", boxes));
  if (!judged->made) checking.refuse("cake", "what it is made of is not recorded", "record its tiers first");
  refuse_old_details(checking, *judged);
  if (!checking.good()) return checking.refusals();
  return LabelAsked{at, std::move(*judged), std::move(*stocks), static_cast<std::size_t>(stock - ids.begin())};
}

}  // namespace

Result<Issued> issue_label(Session& session, const LabelRequest& request, const DataRoot& data) {
  Checking checking{session};
  checking.person();
  const auto asked = label_asked(checking, session, request, data);
  if (!asked) return asked.error();
  return issue_labels(session, asked->judgement, asked->at, request, asked->stocks[asked->stock], asked->stocks, data);
}

Result<std::string> preview_label(const Session& session, const LabelRequest& request, const DataRoot& data) {
  Checking checking{session};
  const auto asked = label_asked(checking, session, request, data);
  if (!asked) return asked.error();
  const Fonts fonts = Fonts::load(fs::path{data.path} / "reports" / "fonts");
  const auto label =
      lay_out_label(label_content(session, asked->judgement, request.box), asked->stocks[asked->stock], fonts, asked->stocks);
  if (!label) return label.error();
  return write_png(write_pdf(*label, fonts, info_of(session, "Label, not printed", asked->at)), label_dots_per_inch);
}

Result<Issued> issue_allergen_sheet(Session& session, const std::string& cake, const DataRoot& data) {
  Checking checking{session};
  checking.person();
  const ZonedInstant at = checking.moment("now");
  const auto judged = judge_cake(session, CakeId{cake}, at);
  if (!judged) checking.take(judged.error());
  if (!checking.good()) return checking.refusals();
  if (!judged->made) checking.refuse("cake", "what it is made of is not recorded", "record its tiers first");
  refuse_old_details(checking, *judged);
  if (!checking.good()) return checking.refusals();
  const AllergenSheetContent content = sheet_content(session, *judged);
  const Fonts fonts = Fonts::load(fs::path{data.path} / "reports" / "fonts");
  auto pages = lay_out_allergen_sheet(content, fonts);
  if (!pages) return pages.error();
  return book_papers(session, booking_of_cake(session, *judged, "allergen sheet"), at,
                     forms_of(*pages, fonts, info_of(session, fmt::format("Allergen sheet of {}", cake), at), json_of(content)));
}

Result<Issued> issue_record(Session& session, const std::string& cake, const DataRoot& data) {
  Checking checking{session};
  checking.person();
  const ZonedInstant at = checking.moment("now");
  // What left is judged as it left; what came in since is listed apart.
  const auto* handed = session.state().hand_over(CakeId{cake});
  const auto judged = judge_cake(session, CakeId{cake}, handed == nullptr ? at : ZonedInstant{handed->happened, handed->offset});
  if (!judged) checking.take(judged.error());
  if (!checking.good()) return checking.refusals();
  CakeRecordContent content = record_content(session, *judged, program_and_rules(session, judged->label.jurisdiction));
  content.drawn = fmt::format("{} from {} notes", format_moment(at.at, at.offset), session.head().size);
  const Fonts fonts = Fonts::load(fs::path{data.path} / "reports" / "fonts");
  auto pages = lay_out_cake_record(content, fonts);
  if (!pages) return pages.error();
  return book_papers(session, booking_of_cake(session, *judged, "record"), at,
                     forms_of(*pages, fonts, info_of(session, fmt::format("Record of {}", cake), at), json_of(content),
                              fmt::format("{}-record.json", cake)));
}

Result<PaperBytes> reprint(const Session& session, std::uint64_t sequence) {
  for (const auto& paper : session.state().papers) {
    if (paper.sequence != sequence) continue;
    const auto digest = digest_from_hex(paper.value.sha256);
    const auto kept = digest ? session.store().paper(*digest) : std::nullopt;
    if (kept && to_hex(sha256(kept->bytes)) != paper.value.sha256) {
      throw Fault{exit_status::configuration,
                  fmt::format("the kept bytes of note {} are not those that were issued; run verify", sequence)};
    }
    if (const auto* erasure = kept ? nullptr : erasure_of_paper(session.state(), paper.value.sha256)) {
      throw Fault{exit_status::no_input,
                  fmt::format("the paper of note {} was erased on {} by note {}, since it may tell {}; note {} itself stays", sequence,
                              format_date_long(day_of(erasure->happened, erasure->offset)), erasure->sequence,
                              erasure->value.what.empty()        ? "of the customer"
                              : erasure->value.what == of_people ? "the name of somebody who left"
                                                                 : "what a regular record kept apart",
                              sequence)};
    }
    if (!kept) throw Fault{exit_status::configuration, fmt::format("the kept bytes of note {} are missing; run verify", sequence)};
    return PaperBytes{paper.value.form, kept->bytes, paper.value.box};
  }
  return Refusal{"", 0, "note", fmt::format("note {} is not a paper", sequence), "list the papers of a cake with: notes --about cake-1"};
}

}  // namespace tierproof
