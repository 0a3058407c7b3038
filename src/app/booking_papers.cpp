#include "booking_papers.h"

#include "life.h"

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
