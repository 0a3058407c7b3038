#include "door.h"
#include "saving.h"
#include "tierproof/app/cake_papers.h"

namespace tierproof::cli {
namespace {

SheetPaper sheet_paper_of(const std::string& text) {
  if (text != "a4" && text != "letter") bad_option("--size", text, "write a4 or letter");
  return text == "a4" ? SheetPaper::a4 : SheetPaper::letter;
}

CardPaper card_paper_of(const std::string& text) {
  if (text == "a5") return CardPaper::a5;
  if (text == "a4") return CardPaper::a4;
  if (text == "half-letter") return CardPaper::half_letter;
  if (text == "letter") return CardPaper::letter;
  bad_option("--size", text, "write a5, half-letter, a4 or letter");
}

}  // namespace

void venue_card_options(CLI::App& app, Door& door) {
  struct Options {
    std::string cake, folder = ".", size = "a5";
  };
  auto options = std::make_shared<Options>();
  app.add_option("cake", options->cake, "its number, cake-1")->required();
  app.add_option("--into", options->folder, "folder for the PDF, a picture of it, and JSON");
  app.add_option("--size", options->size, "paper: a5, half-letter, a4 or letter; else a5");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const CardPaper paper = card_paper_of(options->size);
      make_folder(options->folder);
      return d.write<Issued>([&](Session& session) { return issue_venue_card(session, options->cake, paper, d.data()); },
                             [&](Session& session, const Issued& issued) {
                               return save_papers(d, session, issued, options->folder, options->cake + "-venue-card");
                             });
    };
  });
}

void hand_over_note_options(CLI::App& app, Door& door) {
  struct Options {
    std::string cake, folder = ".", size = "a4";
  };
  auto options = std::make_shared<Options>();
  app.add_option("cake", options->cake, "its number, cake-1")->required();
  app.add_option("--into", options->folder, "folder for the PDF, a picture of page one, and JSON");
  app.add_option("--size", options->size, "paper: a4 or letter; else a4");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const SheetPaper paper = sheet_paper_of(options->size);
      make_folder(options->folder);
      return d.write<Issued>([&](Session& session) { return issue_hand_over_note(session, options->cake, paper, d.data()); },
                             [&](Session& session, const Issued& issued) {
                               return save_papers(d, session, issued, options->folder, options->cake + "-hand-over-note");
                             });
    };
  });
}

void counter_list_options(CLI::App& app, Door& door) {
  struct Options {
    std::string from, until, folder = ".", size = "a4";
  };
  auto options = std::make_shared<Options>();
  app.add_option("--from", options->from, "cakes for this day and later; else those that are not handed over yet");
  app.add_option("--until", options->until, "cakes for this day and earlier");
  app.add_option("--into", options->folder, "folder for the PDF, a picture of page one, and JSON");
  app.add_option("--size", options->size, "paper: a4 or letter; else a4");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const CounterListRequest request{maybe_date("--from", options->from), maybe_date("--until", options->until),
                                       sheet_paper_of(options->size)};
      make_folder(options->folder);
      return d.write<Issued>(
          [&](Session& session) { return issue_counter_list(session, request, d.data()); },
          [&](Session& session, const Issued& issued) { return save_papers(d, session, issued, options->folder, "counter-list"); });
    };
  });
}

}  // namespace tierproof::cli
