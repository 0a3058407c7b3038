#include "tierproof/app/specimens.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "booking_papers.h"
#include "checking.h"
#include "supposing.h"
#include "tierproof/app/issuing.h"
#include "tierproof/app/judging.h"
#include "tierproof/app/small_labels.h"
#include "tierproof/papers/label.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/papers/specimens.h"

namespace tierproof {
namespace fs = std::filesystem;
namespace {

/// The records as if `cake` had been ordered under `rules` and no label of it were printed yet.
State under_rules(State state, const CakeId& cake, const std::string& rules) {
  state.cakes.at(cake).value.label_rules = rules;
  std::erase_if(state.papers, [&](const auto& paper) { return paper.value.cake == cake; });
  return state;
}

struct DrawnSpecimen {
  LabelPages label;
  std::string title;  ///< of the rules
  bool old_details = false;
};

Result<DrawnSpecimen> draw_one(Session& session, const CakeId& cake, const std::string& rules, const Stock& stock,
                               std::span<const Stock> stocks, const Fonts& fonts) {
  const Supposing supposing{session, under_rules(session.state(), cake, rules)};
  const auto* handed = session.state().hand_over(cake);
  const Instant now = session.now();
  const auto judged = judge_cake(
      session, cake, handed == nullptr ? ZonedInstant{now, session.offset_at(now)} : ZonedInstant{handed->happened, handed->offset});
  if (!judged) return judged.error();
  Checking checking{session};
  if (!judged->made) checking.refuse("cake", "what it is made of is not recorded", "record its tiers first");
  if (!checking.good()) return checking.refusals();
  auto label = lay_out_label(label_content(session, *judged, 1), stock, fonts, stocks);
  if (!label) return label.error();
  return DrawnSpecimen{std::move(*label), judged->label.title, !old_details(*judged).empty()};
}

}  // namespace

Result<Specimens> draw_specimens(Session& session, const SpecimenRequest& request, const DataRoot& data) {
  Checking checking{session};
  const std::vector<std::string> known = session.packs().with_labels();
  if (request.cakes.empty()) checking.refuse("cake", "no cake is named", "name one or more, cake-1");
  for (const auto& cake : request.cakes) checking.known("cake", session.state().cakes, cake, "cake");
  for (const auto& rules : request.rules) checking.choice("--by-rules", rules, known);
  const auto stocks = load_stocks(data);
  if (!stocks) {
    checking.take(stocks.error());
    return checking.refusals();
  }
  std::vector<std::string> ids;
  for (const auto& stock : *stocks) ids.push_back(stock.id);
  checking.choice("--stock", request.stock, ids);
  if (!checking.good()) return checking.refusals();

  const Stock& stock = *std::find_if(stocks->begin(), stocks->end(), [&](const Stock& one) { return one.id == request.stock; });
  const Fonts fonts = Fonts::load(fs::path{data.path} / "reports" / "fonts");
  Specimens specimens;
  std::vector<Specimen> drawn;
  for (const auto& cake : request.cakes) {
    for (const auto& rules : request.rules.empty() ? known : request.rules) {
      SpecimenTold& told = specimens.told.emplace_back(SpecimenTold{cake, rules});
      auto one = draw_one(session, CakeId{cake}, rules, stock, *stocks, fonts);
      if (!one) {
        told.why_not = one.error();
        continue;
      }
      told.codes_left_out = one->label.codes_left_out;
      told.old_details = one->old_details;
      drawn.push_back({fmt::format("{} by the label rules {} ({}), on {}{}", cake, rules, one->title, stock.id,
                                   one->old_details ? "; made from pack details that are not up to date" : ""),
                       std::move(one->label.pages.front())});
    }
  }
  if (drawn.empty()) return specimens;
  const Instant now = session.now();
  const ZonedInstant at{now, session.offset_at(now)};
  const auto sheets = lay_out_specimens(drawn, fmt::format("{}, {}", session.kitchen().name, format_moment(at.at, at.offset)), fonts);
  if (!sheets) return sheets.error();
  specimens.sheets = sheets->pages.size();
  specimens.pdf = write_pdf(*sheets, fonts, {"Specimens of labels, not for use", now, session.kitchen().name, "", {}});
  return specimens;
}

}  // namespace tierproof
