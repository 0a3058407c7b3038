#include "tierproof/app/cake_papers.h"

namespace tierproof {
namespace {

template <class Items, class Make>
Json each_of(const Items& items, const Make& make) {
  Json::Array list;
  for (const auto& item : items) list.push_back(make(item));
  return Json{std::move(list)};
}
Json json_texts_of(const std::vector<std::string>& texts) {
  return each_of(texts, [](const std::string& text) { return Json{text}; });
}
Json json_lines_of(const std::vector<LabelledText>& lines) {
  return each_of(lines, [](const LabelledText& line) {
    return Json{Json::Object{{"label", Json{line.label}}, {"text", Json{line.text}}}};
  });
}

}  // namespace

Json json_of(const VenueCardContent& content) {
  const auto by_tier = each_of(content.by_tier, [&](const VenueAllergen& line) {
    Json::Array tiers;
    for (std::size_t i = 0; i < content.tiers.size(); ++i)
      tiers.push_back(Json{Json::Object{{"tier", Json{content.tiers[i]}}, {"word", Json{line.words[i]}}}});
    return Json{Json::Object{{"allergen", Json{line.name}}, {"tiers", Json{std::move(tiers)}}}};
  });
  return Json{Json::Object{{"schema", Json{"tierproof/venue-card/1"}},
                           {"demo", Json{content.demo}},
                           {"stop", Json{content.stop}},
                           {"business", json_texts_of(content.business)},
                           {"reference", Json{content.reference}},
                           {"name", Json{content.name}},
                           {"event", Json{content.event}},
                           {"together", Json{content.together}},
                           {"all", json_texts_of(content.all)},
                           {"may_contain", json_texts_of(content.may_contain)},
                           {"by_tier", by_tier},
                           {"not_an_ingredient", json_texts_of(content.not_an_ingredient)},
                           {"service", json_lines_of(content.service)},
                           {"cautions", json_texts_of(content.cautions)},
                           {"head", Json{content.head}},
                           {"drawn", Json{content.drawn}}}};
}

Json json_of(const HandOverNoteContent& content) {
  const auto overrides = each_of(content.overrides, [](const Override& one) {
    return Json{
        Json::Object{{"control", Json{one.control}}, {"finding", Json{one.finding}}, {"reason", Json{one.reason}}, {"by", Json{one.by}}}};
  });
  return Json{Json::Object{{"schema", Json{"tierproof/hand-over-note/1"}},
                           {"demo", Json{content.demo}},
                           {"stop", Json{content.stop}},
                           {"outcome", Json{content.outcome}},
                           {"released", Json{content.released}},
                           {"business", json_texts_of(content.business)},
                           {"reference", Json{content.reference}},
                           {"name", Json{content.name}},
                           {"event", Json{content.event}},
                           {"take_out", Json{content.take_out}},
                           {"keep", json_lines_of(content.keep)},
                           {"eggs", json_texts_of(content.eggs)},
                           {"allergens", json_lines_of(content.allergens)},
                           {"together", Json{content.together}},
                           {"told", json_lines_of(content.told)},
                           {"overrides", overrides},
                           {"transport", json_texts_of(content.transport)},
                           {"cautions", json_texts_of(content.cautions)},
                           {"head", Json{content.head}},
                           {"drawn", Json{content.drawn}}}};
}

Json json_of(const CounterListContent& content) {
  const auto groups = each_of(content.groups, [](const CounterGroup& group) {
    const auto cakes = each_of(group.cakes, [&](const CounterCake& cake) {
      Json::Array words;
      for (std::size_t i = 0; i < group.allergens.size(); ++i)
        words.push_back(Json{Json::Object{{"allergen", Json{group.allergens[i]}}, {"word", Json{cake.words[i]}}}});
      return Json{Json::Object{{"reference", Json{cake.reference}},
                               {"name", Json{cake.name}},
                               {"event", Json{cake.event}},
                               {"handed_over", Json{cake.handed_over}},
                               {"stopped", Json{cake.stopped}},
                               {"allergens", Json{std::move(words)}}}};
    });
    return Json{Json::Object{{"rules", Json{group.rules}}, {"cakes", cakes}}};
  });
  return Json{Json::Object{{"schema", Json{"tierproof/counter-list/1"}},
                           {"demo", Json{content.demo}},
                           {"business", json_texts_of(content.business)},
                           {"which", Json{content.which}},
                           {"groups", groups},
                           {"left_out", json_texts_of(content.left_out)},
                           {"valid", Json{content.valid}},
                           {"cautions", json_texts_of(content.cautions)},
                           {"head", Json{content.head}},
                           {"drawn", Json{content.drawn}}}};
}

}  // namespace tierproof
