#include "coding.h"

#include <fmt/format.h>

#include "label_contents.h"
#include "tierproof/sums/gs1.h"

namespace tierproof {
namespace {

/// The element string of a cake of a kitchen with GS1 numbers, or empty.
std::string elements_of(const Session& session, const Judgement& judgement, const Cake& cake, std::int64_t box) {
  const auto gtin = read_own_gtin(cake.gtin, session.kitchen().gs1_prefix, "gtin");
  if (!gtin || gravest(judgement.findings) == Stop::no_override) return "";
  Gs1Goods goods;
  goods.gtin = *gtin;
  goods.lot = judgement.cake.text();
  if (cake.boxes > 1) {
    goods.piece = static_cast<int>(box);
    goods.pieces = static_cast<int>(cake.boxes);
  }
  if (judgement.life && judgement.life->date && !judgement.particulars.date.empty())
    (judgement.life->kind == "use by" ? goods.use_by : goods.best_before) = judgement.life->date;
  const auto elements = gs1_element_string(goods, "GS1 code");
  return elements ? *elements : "";
}

}  // namespace

CodeTexts code_texts(const Session& session, const Judgement& judgement, std::int64_t box) {
  const Cake& cake = session.state().cakes.at(judgement.cake).value;
  CodeTexts texts;
  texts.code = fmt::format("{} {}", judgement.cake.text(), short_head(session));
  if (cake.boxes > 1) texts.code += fmt::format(" {}/{}", box, cake.boxes);
  if (!cake.gtin.empty()) texts.gs1_elements = elements_of(session, judgement, cake, box);
  return texts;
}

}  // namespace tierproof
