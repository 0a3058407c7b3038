#include <fmt/format.h>

#include <filesystem>

#include "placing.h"
#include "saving.h"
#include "tierproof/app/small_labels.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {
namespace {

constexpr int most_copies = 200;

/// `1.5mm`, `-0.5 mm` as tenths of a millimetre; nothing typed is none.
int tenths_of(const std::string& option, const std::string& text) {
  if (text.empty()) return 0;
  const char* remedy = "write millimetres to the tenth with their unit, 1.5mm or -0.5mm";
  if (!text.ends_with("mm")) bad_option(option, text, remedy);
  const auto number = parse_decimal(trimmed(std::string_view{text}.substr(0, text.size() - 2)));
  if (!number) bad_option(option, text, remedy);
  const Share tenths = *number * 10;
  if (denominator(tenths) != 1 || abs(tenths) > 10'000) bad_option(option, text, remedy);
  return static_cast<int>(numerator(tenths));
}

/// A label of one thing of the kitchen.
void small_label_options(CLI::App& app, Door& door, const char* of, const char* of_words, const std::string& name,
                         Result<Issued> (*issue)(Session&, const SmallLabelRequest&, const DataRoot&)) {
  struct Options {
    SmallLabelRequest request;
    PlacingTexts placing;
    std::string folder = ".";
  };
  auto options = std::make_shared<Options>();
  app.add_option(of, options->request.of, of_words)->required();
  app.add_option("--stock", options->request.stock, "label stock, a name in reports/stocks")->required();
  placing_options(app, options->placing);
  app.add_option("--into", options->folder, "folder for the PDF and JSON");
  app.callback([options, name, issue, &door] {
    door.action = [options, name, issue](Door& d) {
      options->request.placing = placing_of(options->placing);
      make_folder(options->folder);
      return d.write<Issued>([&](Session& session) { return issue(session, options->request, d.data()); },
                             [&](Session& session, const Issued& issued) {
                               return save_papers(d, session, issued, options->folder, options->request.of + "-" + name);
                             });
    };
  });
}

}  // namespace

void placing_options(CLI::App& app, PlacingTexts& texts) {
  app.add_option("--begin-at", texts.begin_at, "of a part-used sheet: the first label that is still there, counted along the rows; else 1")
      ->check(whole_number(1, 5000));
  app.add_option("--copies", texts.copies, "how many of each label; else 1")->check(whole_number(1, most_copies));
  offset_options(app, texts);
}

void offset_options(CLI::App& app, PlacingTexts& texts) {
  app.add_option("--right", texts.right, "print this much further right, 1.5mm; further left, -1.5mm (measure with ruler-page)");
  app.add_option("--down", texts.down, "print this much further down, 1.5mm; further up, -1.5mm");
}

LabelPlacing placing_of(const PlacingTexts& texts) {
  return {texts.begin_at, texts.copies, tenths_of("--right", texts.right), tenths_of("--down", texts.down)};
}

void tub_label_options(CLI::App& app, Door& door) {
  small_label_options(app, door, "batch", "its number, batch-4", "tub-label", issue_tub_label);
}

void shelf_label_options(CLI::App& app, Door& door) {
  small_label_options(app, door, "pack", "its number, pack-7", "shelf-label", issue_shelf_label);
}

void ruler_page_options(CLI::App& app, Door& door) {
  struct Options {
    std::string stock, folder = ".";
    PlacingTexts placing;
  };
  auto options = std::make_shared<Options>();
  app.add_option("stock", options->stock, "label stock, a name in reports/stocks")->required();
  offset_options(app, options->placing);
  app.add_option("--into", options->folder, "folder for the PDF; else this one");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const LabelPlacing placing = placing_of(options->placing);
      make_folder(options->folder);
      const auto pdf = draw_ruler_page(d.data(), options->stock, placing.right, placing.down);
      if (!pdf) return d.refuse(pdf.error());
      const std::string path = fmt::format("{}/ruler-{}.pdf", options->folder, options->stock);
      save_file(path, *pdf);
      if (d.json) {
        d.print(Json{Json::Object{{"schema", Json{"tierproof/ruler-page/1"}}, {"file", Json{path}}}}, false);
      } else {
        Door::say(fmt::format("{}: print it at actual size, on plain paper for a sheet of labels; it says how to measure.", path));
      }
      return exit_status::done;
    };
  });
}

}  // namespace tierproof::cli
