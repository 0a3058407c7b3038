#include "booking_papers.h"

#include "life.h"
#include "tierproof/papers/png.h"

namespace tierproof {

PaperBooking booking_of_cake(const Session& session, const Judgement& judgement, const std::string& paper) {
  PaperBooking booking;
  booking.paper = paper;
  booking.subject = judgement.cake.text();
  booking.cake = judgement.cake;
  booking.label_rules = judgement.label.jurisdiction;
  booking.says = says_of(session.state(), judgement);
  return booking;
}

PdfInfo info_of(const Session& session, std::string title, ZonedInstant at) {
  return {std::move(title), at.at, session.kitchen().name, "en", {}};
}

std::vector<PaperBytes> forms_of(const Pages& pages, const Fonts& fonts, PdfInfo info, const Json& json, const std::string& twin) {
  constexpr int dots_per_inch = 110;
  const std::string text = write_pretty(json);
  if (!twin.empty()) info.attachments.push_back({twin, text});
  std::vector<PaperBytes> forms;
  forms.push_back({"pdf", write_pdf(pages, fonts, info)});
  forms.push_back({"png", write_png(forms.front().bytes, dots_per_inch)});
  forms.push_back({"json", text});
  return forms;
}

std::vector<const Finding*> old_details(const Judgement& judgement) {
  std::vector<const Finding*> found;
  for (const auto& finding : judgement.findings) {
    if (finding.control == "specification-current" && finding.verdict != Verdict::shown) found.push_back(&finding);
  }
  return found;
}

void refuse_old_details(Checking& checking, const Judgement& judgement) {
  for (const Finding* finding : old_details(judgement)) checking.refuse(finding->subject, finding->message, finding->remedy);
}

Issued book_papers(Session& session, const PaperBooking& booking, ZonedInstant at, std::vector<PaperBytes> forms) {
  std::vector<Draft> drafts;
  std::vector<KeptPaper> kept;
  for (const auto& form : forms) {
    const Digest digest = sha256(form.bytes);
    PaperIssued issued;
    issued.cake = booking.cake;
    issued.paper = booking.paper;
    issued.form = form.form;
    issued.stock = booking.stock;
    issued.box = form.box;
    issued.head = format_head(session.head());
    issued.rules = program_and_rules(session, booking.label_rules);
    issued.program = "tierproof " TIERPROOF_VERSION;
    issued.says = booking.says;
    issued.sha256 = to_hex(digest);
    drafts.push_back(session.draft(issued, booking.subject, at));
    const char* media = form.form == "pdf" ? "application/pdf" : form.form == "png" ? "image/png" : "application/json";
    kept.push_back({digest, media, form.bytes});
  }
  Issued issued{std::move(forms), {}};
  issued.booked = session.book(std::move(drafts), std::move(kept));
  if (!issued.booked.already) return issued;
  // A retry: what was issued then is what comes back, byte for byte.
  const std::uint64_t first = issued.booked.sequences.front();
  issued.booked.sequences.clear();
  for (std::size_t i = 0; i < issued.papers.size(); ++i) {
    auto kept_before = reprint(session, first + i);
    if (!kept_before) throw Fault{exit_status::usage, "the key given with --once was used by another command before; choose another"};
    issued.papers[i] = std::move(*kept_before);
    issued.booked.sequences.push_back(first + i);
  }
  return issued;
}

}  // namespace tierproof
