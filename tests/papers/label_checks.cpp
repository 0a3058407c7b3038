#include "label_checks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sample.h"

namespace tierproof::testdata {
namespace {

struct Extent {
  Micrometres left, top, right, bottom;
  std::string what;
  bool is_text;
};

Extent extent_of(const PlacedText& text) {
  return {text.x,
          text.baseline - fonts().capital_height(text.face, text.size),
          text.x + text.width,
          text.baseline + text.size.to_micrometres() * 236 / 1000,
          "`" + text.text + "`",
          true};
}

std::vector<Extent> extents_of(const Page& page) {
  std::vector<Extent> all;
  for (const PlacedText& text : page.marks.texts) all.push_back(extent_of(text));
  for (const Fill& fill : page.marks.fills) all.push_back({fill.x, fill.y, fill.x + fill.width, fill.y + fill.height, "a fill", false});
  for (const Stroke& stroke : page.marks.strokes) {
    for (const Point& point : stroke.points) all.push_back({point.x, point.y, point.x, point.y, "a stroke", false});
  }
  return all;
}

/// Whether a point lies outside the paper as it is cut, round corners and all, or nearer to its edge than `margin`.
bool off_paper(const Page& page, const Stock& stock, Micrometres x, Micrometres y) {
  const Micrometres margin = Micrometres{stock.margin} * 100;
  if (x < margin || y < margin || x > page.width - margin || y > page.height - margin) return true;
  const Micrometres radius = Micrometres{stock.corner} * 100;
  const Micrometres across = std::max(radius - x, x - (page.width - radius));
  const Micrometres down = std::max(radius - y, y - (page.height - radius));
  if (radius <= margin || across <= 0 || down <= 0) return false;
  return std::hypot(static_cast<double>(across), static_cast<double>(down)) > static_cast<double>(radius - margin);
}

bool meet(const Extent& a, const Extent& b) { return a.left + 1 < b.right && b.left + 1 < a.right && a.top < b.bottom && b.top < a.bottom; }

void add_words(std::vector<std::string>& texts, const LabelWords& words) {
  const auto add_runs = [&](const std::vector<Run>& runs) {
    for (const Run& run : runs) texts.push_back(run.text);
  };
  texts.insert(texts.end(), {words.name, words.quantities, words.storage, words.date, words.remove});
  for (const auto* list : {&words.name_statements, &words.after_list, &words.statements, &words.may_contain})
    texts.insert(texts.end(), list->begin(), list->end());
  add_runs(words.heading);
  for (const auto& entry : words.ingredients) add_runs(entry);
  add_runs(words.allergen_line);
  add_runs(words.summary);
}

LabelContent in_two_languages() {
  LabelContent label = a_label();
  label.summary = {{"Contains: ", true}, {"Wheat, Milk, Eggs, Almonds, Soy", true}};
  LabelWords french;
  french.language = "fr";
  french.name = "Gâteau aux amandes à trois étages";
  french.heading = {{"Ingrédients :", true}};
  french.ingredients = {{{"Sucre", false}}, {{"Beurre", false}}, {{"Farine de blé", false}}, {{"Œufs", false}}, {{"Amandes", false}}};
  french.summary = {{"Contient : ", true}, {"Blé, Lait, Œufs, Amandes, Soja", true}};
  french.may_contain = {"Peut contenir : Noisettes."};
  french.storage = "Garder au réfrigérateur.";
  label.languages = {french};
  label.heights = {{"text", "x-height", 1600, "test rule"}};
  return label;
}

}  // namespace

std::vector<std::string> faults_of(const Page& page, const Stock& stock) {
  std::vector<std::string> faults;
  const std::vector<Extent> all = extents_of(page);
  for (const Extent& one : all) {
    for (const auto& [x, y] : {Point{one.left, one.top}, {one.right, one.top}, {one.left, one.bottom}, {one.right, one.bottom}}) {
      if (off_paper(page, stock, x, y)) {
        faults.push_back(fmt::format("{} reaches {}, {} µm of {} × {}", one.what, x, y, page.width, page.height));
        break;
      }
    }
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t j = i + 1; j < all.size(); ++j) {
      if ((all[i].is_text || all[j].is_text) && meet(all[i], all[j]))
        faults.push_back(fmt::format("{} and {} lie over each other", all[i].what, all[j].what));
    }
  }
  return faults;
}

std::string letters_of(std::string_view text) {
  std::string letters = words_of_text(text);
  std::erase(letters, ' ');
  return letters;
}

std::vector<std::string> printed_texts(const LabelContent& content) {
  std::vector<std::string> texts{content.stop, content.quantity, content.lot, content.box, content.reference, content.head};
  add_words(texts, content);
  for (const LabelWords& words : content.languages) add_words(texts, words);
  texts.insert(texts.end(), content.business.begin(), content.business.end());
  texts.insert(texts.end(), content.cautions.begin(), content.cautions.end());
  return texts;
}

std::vector<LabelContent> twelve_labels() {
  std::vector<LabelContent> labels(12, a_label());
  labels[1] = a_short_label();
  labels[2].demo = true;
  labels[3].stop = "DO NOT HAND OVER: nobody can rule out sesame; and 3 more, on its record.";
  labels[4] = in_two_languages();
  labels[5] = a_short_label();
  labels[5].ingredients.clear();
  labels[5].heading.clear();
  labels[5].allergen_line = {{"Contains: ", false}, {"WHEAT", true}, {", ", false}, {"EGG", true}, {", ", false}, {"MILK", true}};
  labels[6].net_quantity = "NET WT 64 OZ (4 LB) 1.814 kg";
  labels[6].quantity += ", " + labels[6].net_quantity;
  labels[6].heights = {{"text", "x-height", 1588, "test rule"}, {"net quantity", "letter height", 6350, "test rule 2"}};
  labels[7].code = "cake-1 41:5dc9a1e0";
  labels[8].code = "cake-1 41:5dc9a1e0 1/2";
  labels[8].gs1_elements = "[01]09521234543213[10]cake-1";
  labels[9].statements = {"This product contains royal jelly which has been reported to cause severe allergic reactions."};
  labels[9].heights.push_back({"warning statement", "letter height", 3000, "test rule 3"});
  const auto list = labels[10].ingredients;
  for (int i = 0; i < 2; ++i) labels[10].ingredients.insert(labels[10].ingredients.end(), list.begin(), list.end());
  labels[11] = labels[8];
  labels[11].demo = true;
  labels[11].stop = labels[3].stop;
  labels[11].lot = "L 41-cake-1";
  labels[11].heights = {{"text", "x-height", 900, "test rule"}};
  return labels;
}

}  // namespace tierproof::testdata
