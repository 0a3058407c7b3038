#include "tierproof/papers/trace_picture.h"

#include <fmt/format.h>

#include <filesystem>

#include "booking_papers.h"
#include "label_contents.h"
#include "tierproof/app/tracing.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/papers/svg.h"

namespace tierproof {
namespace {

PicturedThing pictured(const State& state, const TracedTold& one) {
  PicturedThing thing;
  thing.id = one.id;
  thing.name = one.words.size() > one.id.size() ? one.words.substr(one.id.size() + 1) : "";
  thing.where = one.where;
  if (state.withdrawn(LotId{one.id})) {
    thing.withdrawn = true;
    constexpr std::string_view said = ", WITHDRAWN";  // the box has it as its mark
    if (thing.where.ends_with(said)) thing.where.resize(thing.where.size() - said.size());
  }
  // A file that is not kept cannot be erased, so it names nobody.
  if (const auto* handed = state.hand_over(CakeId{one.id}))
    thing.where = fmt::format("handed over {}", format_moment(handed->happened, handed->offset));
  thing.voided = !state.lots.contains(LotId{one.id}) && !state.batches.contains(BatchId{one.id}) && !state.cakes.contains(CakeId{one.id});
  if (thing.voided) thing.name.clear();
  return thing;
}

TracePictureContent trace_picture_content(const Session& session, const TracedGraph& traced, ZonedInstant at) {
  TracePictureContent content;
  content.demo = session.kitchen().demo;
  content.business = business_lines(session);
  for (const TracedTold& one : traced.things) content.things.push_back(pictured(session.state(), one));
  content.things.front().asked = true;
  content.graph = traced.graph;
  content.reference = "trace of " + traced.id;
  content.title = fmt::format("{}: what went into it, and what it went into", traced.things.front().words);
  content.cautions = {
      "This drawing tells what was recorded, not that nothing was missed. What kit passed on, and what was corrected, is told by the trace "
      "in "
      "words alone.",
      "Local law and the food authority come first: in many places they must be told at once when food that may hurt somebody has left."};
  content.head = short_head(session);
  content.drawn = fmt::format("drawn {} from {} notes", format_moment(at.at, at.offset), session.head().size);
  return content;
}

}  // namespace

Result<std::string> draw_trace(const Session& session, const std::string& thing, PictureForm form, const DataRoot& data, ZonedInstant at) {
  const auto traced = traced_graph(session, thing, at);
  if (!traced) return traced.error();
  const TracePictureContent content = trace_picture_content(session, *traced, at);
  const Fonts fonts = Fonts::load(std::filesystem::path{data.path} / "reports" / "fonts");
  const auto pages = lay_out_trace_picture(content, fonts);
  if (!pages) return pages.error();
  switch (form) {
    case PictureForm::svg:
      return write_svg(*pages, 0);
    case PictureForm::pdf:
      return write_pdf(*pages, fonts, info_of(session, content.title, at));
  }
  return std::string{};
}

}  // namespace tierproof
