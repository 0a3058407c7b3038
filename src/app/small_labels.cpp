#include "tierproof/app/small_labels.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "booking_papers.h"
#include "checking.h"
#include "kit.h"
#include "label_contents.h"
#include "life.h"
#include "parts.h"
#include "tierproof/app/confirming.h"
#include "tierproof/app/planning.h"
#include "tierproof/papers/label.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/sums/plain_checks.h"
#include "troubles.h"

namespace tierproof {
namespace fs = std::filesystem;
namespace {

/// Puts each allergen of the rules under what is known of it. @param presences  as many as the rules' allergens, in their order
void tell_allergens(SmallLabelContent& content, const LabelTerms& terms, const std::vector<Presence>& presences) {
  std::size_t absent = 0;
  for (std::size_t i = 0; i < presences.size(); ++i) {
    const std::string& word = terms.allergens[i].word;
    switch (presences[i]) {
      case Presence::contains:
        content.contains.push_back(word);
        break;
      case Presence::unknown:
        content.not_known.push_back(word);
        break;
      case Presence::may_contain:
        content.may_contain.push_back(word);
        break;
      case Presence::absent:
        ++absent;
        break;
    }
  }
  if (absent == presences.size()) content.no_allergen = "By its packs no allergen of the law is an ingredient.";
  constexpr std::size_t few = 3;
  if (absent == 0 && content.not_known.size() > few)
    content.not_known = {content.contains.empty() && content.may_contain.empty() ? "every allergen" : "every other allergen"};
}

std::string keep_words(const std::string& storage) {
  if (storage == "fridge") return "Keep in the fridge";
  if (storage == "freezer") return "Keep in the freezer";
  return "Keep in a cool, dry place";
}

/// `DO NOT USE: ...`, of what stands against it.
void stop_for(SmallLabelContent& content, std::vector<std::string> why) {
  if (why.empty()) return;
  const std::string more = why.size() == 1 ? "" : fmt::format("; and {} more", why.size() - 1);
  content.stop = fmt::format("DO NOT USE: {}{}.", why.front(), more);
  content.against = std::move(why);
}

constexpr const char* past_best = ", past: look at it and taste it first";

/// What stands against any use of a pack or batch: a use-by passed, thrown away, something open that went wrong with it.
std::vector<std::string> against_use(const Session& session, const TemperatureTerms& terms, const std::string& thing, const ShelfLife& life,
                                     ZonedInstant at) {
  std::vector<std::string> why;
  // Nobody is asked before a tub is used: so a use-by that rests on memory stops it as well.
  const Finding dated = judge_use_by(thing, life, day_of(at.at, at.offset));
  if (dated.verdict == Verdict::not_met && life.kind == "use by") why.push_back(dated.message);
  for (const auto& disposal : session.state().disposals) {
    if (disposal.value.what == thing && !disposal.value.mass) why.push_back(fmt::format("thrown away, note {}", disposal.sequence));
  }
  UnvouchedSince since;
  for (const auto& [id, trouble] : session.state().deviations) {
    if (session.state().closed(id) != nullptr) continue;
    const bool named = std::find(trouble.value.about.begin(), trouble.value.about.end(), thing) != trouble.value.about.end();
    const bool met =
        named || (session.state().batches.contains(BatchId{thing}) && !meets(session, terms, trouble, thing, at.at, since).ways.empty());
    if (met) why.push_back(fmt::format("{} is open: see open-matters", id.text()));
  }
  return why;
}

/// The rules that a small label is judged by.
struct SmallLabelTerms {
  LabelTerms label;
  TemperatureTerms temperature;
};
Result<SmallLabelTerms> terms_for_small(const Session& session, ZonedInstant at) {
  const Date on = day_of(at.at, at.offset);
  auto label = session.label_terms(on);
  if (!label) return label.error();
  auto temperature = temperature_terms_by(session, on, plan_now(session));
  if (!temperature) return temperature.error();
  return SmallLabelTerms{std::move(label).value(), std::move(temperature).value()};
}

/// How much each allergen of `terms` is in a batch; traces from kit count where the batch itself does not contain it.
std::vector<Presence> presences_in(const State& state, const CakeParts& parts, const LabelTerms& terms, Offset offset) {
  std::vector<std::string> keys;
  for (const auto& allergen : terms.allergens) keys.push_back(allergen.key);
  const auto made = compose(parts, keys);
  if (!made) return std::vector<Presence>(keys.size(), Presence::unknown);
  std::vector<Presence> presences;
  for (const auto& trace : made->allergens) presences.push_back(trace.presence);
  const auto ids = batch_ids(parts);
  for (const auto& contact : contacts(kit_uses(state, terms), offset)) {
    if (std::find(ids.begin(), ids.end(), contact.batch) == ids.end()) continue;
    const auto term =
        std::find_if(terms.allergens.begin(), terms.allergens.end(), [&](const auto& t) { return t.word == contact.allergen; });
    if (term == terms.allergens.end()) continue;
    Presence& presence = presences[static_cast<std::size_t>(term - terms.allergens.begin())];
    if (presence == Presence::contains) continue;
    if (!contact.cleaned) {
      presence = Presence::unknown;
    } else if (presence == Presence::absent) {
      presence = Presence::may_contain;
    }
  }
  return presences;
}

LabelledText date_line(const ShelfLife& life, Date today) {
  std::string kind = life.kind == "best before" ? "Best before" : "Use by";
  if (!life.date) return {std::move(kind), "not known"};
  std::string date = format_date_long(*life.date);
  if (!life.not_known.empty()) date += " at the latest: not all is known";
  if (life.kind == "best before" && *life.date < today) date += past_best;
  return {std::move(kind), std::move(date)};
}

SmallLabelContent begun_content(const Session& session, const std::string& reference) {
  SmallLabelContent content;
  content.demo = session.kitchen().demo;
  content.reference = reference;
  content.head = short_head(session);
  return content;
}

using ContentOf = Result<SmallLabelContent> (*)(const Session&, const std::string&, ZonedInstant);

Result<Issued> issue_small(Session& session, const SmallLabelRequest& request, const DataRoot& data, const std::string& paper,
                           const std::string& schema, ContentOf content_of) {
  Checking checking{session};
  checking.person();
  const ZonedInstant at = checking.moment("now");
  const auto content = content_of(session, request.of, at);
  if (!content) checking.take(content.error());
  const auto stocks = load_stocks(data);
  if (!stocks) checking.take(stocks.error());
  const Stock* stock = nullptr;
  std::vector<std::string> ids;
  if (stocks) {
    for (const auto& known : *stocks) {
      ids.push_back(known.id);
      if (known.id == request.stock) stock = &known;
    }
    if (stock == nullptr) checking.choice("--stock", request.stock, ids);
  }
  if (!checking.good()) return checking.refusals();
  const Fonts fonts = Fonts::load(fs::path{data.path} / "reports" / "fonts");
  const auto label = lay_out_small_label(*content, *stock, fonts, *stocks);
  if (!label) return label.error();
  const auto pages = fill_sheets(*label, *stock, request.placing);
  if (!pages) return pages.error();
  std::vector<PaperBytes> forms;
  forms.push_back({"pdf", write_pdf(*pages, fonts, info_of(session, fmt::format("{} {}", paper, request.of), at))});
  forms.push_back({"json", write_pretty(json_of(*content, schema))});
  PaperBooking booking;
  booking.paper = paper;
  booking.subject = request.of;
  booking.stock = request.stock;
  SmallLabelContent told = *content;
  told.head.clear();  // which the next note changes, whatever it is about
  booking.says = to_hex(sha256(write_canonical(json_of(told, schema))));
  Issued issued = book_papers(session, booking, at, std::move(forms));
  for (const std::string& why : content->against) issued.remarks.push_back(fmt::format("DO NOT USE {}: {}", request.of, why));
  return issued;
}

}  // namespace

Result<std::vector<Stock>> load_stocks(const DataRoot& data) {
  std::vector<StockFile> files;
  for (const auto& entry : fs::directory_iterator{fs::path{data.path} / "reports" / "stocks"}) {
    if (entry.path().extension() == ".json") files.push_back({entry.path().string(), load_file(entry.path().string())});
  }
  std::sort(files.begin(), files.end(), [](const StockFile& a, const StockFile& b) { return a.path < b.path; });
  return read_stocks(files);
}

Result<SmallLabelContent> tub_label_content(const Session& session, const std::string& id, ZonedInstant at) {
  const State& state = session.state();
  Checking checking{session};
  const auto* batch = checking.known("batch", state.batches, id, "batch");
  const auto terms = terms_for_small(session, at);
  if (!terms) checking.take(terms.error());
  if (!checking.good()) return checking.refusals();
  const CakeParts parts = parts_of_batch(state, BatchId{id});
  const ShelfLife life = life_of_batch(state, BatchId{id}, parts, terms->temperature, at);
  SmallLabelContent content = begun_content(session, id);
  const std::string& name = parts.batches[parts.placed.front().batch].name;
  content.name = batch->value.left_over.empty() ? name : fmt::format("{} ({})", name, batch->value.left_over);
  tell_allergens(content, terms->label, presences_in(state, parts, terms->label, at.offset));
  content.dates.push_back(date_line(life, day_of(at.at, at.offset)));
  content.lines.push_back({"Made", format_date_long(day_of(batch->happened, batch->offset))});
  content.to_write.push_back("Opened on");
  content.keep = keep_words(life.storage);
  std::vector<std::string> why;
  for (const auto& lot : parts.lots) {
    if (state.withdrawn(lot.id)) why.push_back(fmt::format("{} is withdrawn", pack_in_words(state, lot.id)));
  }
  for (auto& late : packs_used_late(state, parts)) why.push_back(std::move(late.message));
  for (auto& more : against_use(session, terms->temperature, id, life, at)) why.push_back(std::move(more));
  stop_for(content, std::move(why));
  return content;
}

Result<SmallLabelContent> shelf_label_content(const Session& session, const std::string& id, ZonedInstant at) {
  const State& state = session.state();
  Checking checking{session};
  const auto* pack = checking.known("pack", state.lots, id, "pack");
  const auto terms = terms_for_small(session, at);
  if (!terms) checking.take(terms.error());
  if (!checking.good()) return checking.refusals();
  const Lot& lot = pack->value;
  SmallLabelContent content = begun_content(session, id);
  const auto ingredient = state.ingredients.find(lot.ingredient);
  content.name = ingredient == state.ingredients.end() ? lot.ingredient.text() : ingredient->second.value.name;
  const auto specification = state.specifications.find(lot.specification);
  const bool told = ingredient != state.ingredients.end() && specification != state.specifications.end();
  std::vector<Presence> presences(terms->label.allergens.size(), Presence::unknown);
  if (told) {
    const IngredientFacts facts = ingredient_facts(ingredient->second.value, lot.ingredient, specification->second.value);
    for (std::size_t i = 0; i < presences.size(); ++i) presences[i] = pack_statement(facts, terms->label.allergens[i].key).presence;
  }
  tell_allergens(content, terms->label, presences);
  const LotLife dates = lot_life(state, LotId{id}, *pack);
  const ShelfLife life = shelf_life({}, std::vector{dates});
  if (life.date) content.dates.push_back({"Use by", format_date_long(*life.date)});
  if (lot.best_before) {
    const char* past = *lot.best_before < day_of(at.at, at.offset) ? past_best : "";
    content.dates.push_back({"Best before", format_date_long(*lot.best_before) + past});
  }
  if (content.dates.empty()) content.dates.push_back({"Use by", "not known"});
  if (dates.use_within_days && !dates.opened_on)
    content.lines.push_back(
        {"Once opened", fmt::format("use within {} day{}", *dates.use_within_days, *dates.use_within_days == 1 ? "" : "s")});
  const auto supplier = state.suppliers.find(lot.supplier);
  content.lines.push_back({"From", supplier == state.suppliers.end() ? lot.supplier.text() : supplier->second.value.firm.name});
  content.lines.push_back({"Lot", lot.code});
  content.lines.push_back({"Received", format_date_long(day_of(pack->happened, pack->offset))});
  if (dates.opened_on) {
    content.lines.push_back({"Opened", format_date_long(*dates.opened_on)});
  } else {
    content.to_write.push_back("Opened on");
  }
  if (specification != state.specifications.end()) content.keep = keep_words(specification->second.value.storage);
  std::vector<std::string> why;
  if (state.withdrawn(LotId{id})) why.push_back("it is withdrawn");
  for (auto& more : against_use(session, terms->temperature, id, life, at)) why.push_back(std::move(more));
  stop_for(content, std::move(why));
  return content;
}

Json json_of(const SmallLabelContent& content, const std::string& schema) {
  const auto texts = [](const std::vector<std::string>& words) {
    Json::Array list;
    for (const auto& one : words) list.emplace_back(one);
    return Json{std::move(list)};
  };
  const auto lines = [](const std::vector<LabelledText>& all) {
    Json::Array list;
    for (const auto& one : all) list.push_back(Json{Json::Object{{"label", Json{one.label}}, {"text", Json{one.text}}}});
    return Json{std::move(list)};
  };
  return Json{Json::Object{{"schema", Json{schema}},
                           {"demo", Json{content.demo}},
                           {"stop", Json{content.stop}},
                           {"against", texts(content.against)},
                           {"name", Json{content.name}},
                           {"contains", texts(content.contains)},
                           {"not_known", texts(content.not_known)},
                           {"may_contain", texts(content.may_contain)},
                           {"no_allergen", Json{content.no_allergen}},
                           {"dates", lines(content.dates)},
                           {"lines", lines(content.lines)},
                           {"to_write", texts(content.to_write)},
                           {"keep", Json{content.keep}},
                           {"reference", Json{content.reference}},
                           {"head", Json{content.head}}}};
}

Result<Issued> issue_tub_label(Session& session, const SmallLabelRequest& request, const DataRoot& data) {
  return issue_small(session, request, data, "tub label", "tierproof/tub-label/1", tub_label_content);
}

Result<Issued> issue_shelf_label(Session& session, const SmallLabelRequest& request, const DataRoot& data) {
  return issue_small(session, request, data, "shelf label", "tierproof/shelf-label/1", shelf_label_content);
}

Result<std::string> draw_ruler_page(const DataRoot& data, const std::string& name, int right, int down) {
  const auto stocks = load_stocks(data);
  if (!stocks) return stocks.error();
  const auto stock = std::find_if(stocks->begin(), stocks->end(), [&](const Stock& one) { return one.id == name; });
  if (stock == stocks->end()) {
    std::vector<std::string> ids;
    for (const auto& one : *stocks) ids.push_back(one.id);
    return Refusal{"", 0, "stock", fmt::format("there is no stock called \"{}\"", name),
                   fmt::format("write one of: {}", fmt::join(ids, "; "))};
  }
  const Fonts fonts = Fonts::load(fs::path{data.path} / "reports" / "fonts");
  const auto pages = lay_out_ruler_page(*stock, right, down, fonts);
  if (!pages) return pages.error();
  return write_pdf(*pages, fonts, {fmt::format("Ruler page of {}", name)});
}

}  // namespace tierproof
