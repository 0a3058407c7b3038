#include "tierproof/app/sheets.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "tierproof/papers/pdf.h"

namespace tierproof {
namespace fs = std::filesystem;

std::vector<SheetForm> load_sheets(const DataRoot& data) {
  std::vector<SheetFile> files;
  const fs::path folder = fs::path{data.path} / "reports" / "sheets";
  std::error_code error;
  for (const auto& entry : fs::directory_iterator{folder, error}) {
    if (entry.path().extension() == ".json") files.push_back({entry.path().string(), load_file(entry.path().string())});
  }
  if (error || files.empty())
    throw Fault{exit_status::configuration, fmt::format("{}: no forms are there; install the program again", folder.string())};
  std::sort(files.begin(), files.end(), [](const SheetFile& a, const SheetFile& b) { return a.path < b.path; });
  auto forms = read_sheets(files);
  if (!forms) {
    std::string all = "the forms cannot be used:";
    for (const auto& refusal : forms.error()) all += "\n  " + describe(refusal);
    throw Fault{exit_status::configuration, all};
  }
  return std::move(forms).value();
}

SheetFacts sheet_facts(const Session& session) {
  SheetFacts facts;
  facts.business = session.kitchen().name;
  facts.demo = session.kitchen().demo;
  const auto terms = session.label_terms(session.today());
  if (!terms) throw Fault{exit_status::configuration, describe(terms.error().front())};
  for (const auto& allergen : terms->allergens) facts.allergens.push_back({allergen.word, allergen.key});
  for (const auto& answer : terms->group_answers) {
    if (answer.ask_which) facts.ask_again.push_back(answer.word);
  }
  return facts;
}

Result<std::string> draw_sheet(const DataRoot& data, const std::string& name, const SheetFacts& facts, SheetPaper paper, int pages,
                               Instant moment) {
  const auto forms = load_sheets(data);
  const auto form = std::find_if(forms.begin(), forms.end(), [&](const SheetForm& one) { return one.id == name; });
  if (form == forms.end()) {
    std::vector<std::string> names;
    for (const auto& one : forms) names.push_back(one.id);
    return Refusal{"", 0, "sheet", fmt::format("there is no sheet called \"{}\"", name),
                   fmt::format("write one of: {}", fmt::join(names, "; "))};
  }
  const Fonts fonts = Fonts::load(fs::path{data.path} / "reports" / "fonts");
  const auto laid = lay_out_sheet(*form, facts, paper, pages, fonts);
  if (!laid) return laid.error();
  return write_pdf(*laid, fonts, {form->title, moment});
}

}  // namespace tierproof
