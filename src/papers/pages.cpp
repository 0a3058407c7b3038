#include "tierproof/papers/pages.h"

#include <algorithm>

namespace tierproof {

void add_moved(Marks& marks, const Marks& more, Micrometres right, Micrometres down) {
  for (Fill fill : more.fills) {
    fill.x += right;
    fill.y += down;
    marks.fills.push_back(fill);
  }
  for (Stroke stroke : more.strokes) {
    for (Point& point : stroke.points) point = {point.x + right, point.y + down};
    marks.strokes.push_back(std::move(stroke));
  }
  for (Dot dot : more.dots) {
    dot.centre = {dot.centre.x + right, dot.centre.y + down};
    marks.dots.push_back(dot);
  }
  for (PlacedText text : more.texts) {
    text.x += right;
    text.baseline += down;
    marks.texts.push_back(std::move(text));
  }
}

std::string text_of(const Page& page) {
  std::vector<const PlacedText*> texts;
  for (const PlacedText& text : page.marks.texts) texts.push_back(&text);
  std::stable_sort(texts.begin(), texts.end(), [](const PlacedText* a, const PlacedText* b) {
    return a->baseline != b->baseline ? a->baseline < b->baseline : a->x < b->x;
  });
  std::string words;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    if (i > 0 && texts[i]->baseline != texts[i - 1]->baseline) {
      words += '\n';
    } else if (i > 0 && texts[i]->x > texts[i - 1]->x + texts[i - 1]->width + 500) {
      words += ' ';
    }
    words += texts[i]->text;
  }
  return words;
}

}  // namespace tierproof
