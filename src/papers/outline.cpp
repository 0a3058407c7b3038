// What leads from one place of a paper to another: contents, links, bookmarks.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>

#include "layout.h"

namespace tierproof::papers {
namespace {

constexpr Micrometres step_in = 4000;  // of each further level of the contents
constexpr Micrometres column_gap = 8000;
constexpr Micrometres leader_space = 1200;  // between words, dots and number
constexpr Micrometres leader_dash = 350;    // one point, the least that the PDF library takes
constexpr Ink leader_ink = 110;

/// A place on a page.
struct Spot {
  std::size_t page = 0;
  Micrometres y = 0;
};

class Resolver {
 public:
  Resolver(std::vector<Layer> layers, Pages& pages, const Fonts& fonts) : layers_{std::move(layers)}, pages_{pages}, fonts_{fonts} {}

  void run() {
    for (std::size_t page = 0; page < layers_.size(); ++page) {
      for (const Target& target : layers_[page].targets) note(target, page);
    }
    for (std::size_t page = 0; page < layers_.size(); ++page) {
      Page& made = pages_.pages[page];
      made.marks = std::move(layers_[page].marks);
      for (const WaitingCode& code : layers_[page].codes) paint(code, made.marks);
      for (const Jump& jump : layers_[page].jumps) made.links.push_back(link_of(jump));
      for (const ContentsLine& line : layers_[page].contents) number(line, made);
    }
  }

 private:
  void note(const Target& target, std::size_t page) {
    if (target.level > 0) pages_.bookmarks.push_back({target.words, target.level, page, target.y});
    if (!target.anchor.empty() && !anchors_.emplace(target.anchor, Spot{page, target.y}).second)
      throw Fault{exit_status::our_bug, fmt::format("two paragraphs of one paper are called #{}", target.anchor)};
  }

  Link link_of(const Jump& jump) const {
    Link link{jump.x, jump.y, jump.width, jump.height, "", 0, 0};
    if (!jump.to.starts_with('#')) {
      link.address = jump.to;
      return link;
    }
    const auto found = anchors_.find(jump.to.substr(1));
    if (found == anchors_.end())
      throw Fault{exit_status::our_bug, fmt::format("a link leads to {}, and no paragraph is called so", jump.to)};
    link.page = found->second.page;
    link.to = found->second.y;
    return link;
  }

  void number(const ContentsLine& line, Page& page) const {
    const Bookmark& bookmark = pages_.bookmarks.at(line.bookmark);
    const std::string words = std::to_string(bookmark.page + 1);
    const Micrometres width = fonts_.width(words, line.type.face, line.type.size);
    page.marks.texts.push_back({line.x + line.width - width, line.baseline, width, words, line.type.face, line.type.size, line.type.ink});
    page.links.push_back({line.x, line.y, line.width, line.height, "", bookmark.page, bookmark.y});
  }

  std::vector<Layer> layers_;
  Pages& pages_;
  const Fonts& fonts_;
  std::map<std::string, Spot> anchors_;
};

/// One bookmark with dots up to where its page number will stand.
Slab contents_line(const Contents& contents, const Heading& heading, std::size_t bookmark, Micrometres width, TypeCase& type, Laid& laid) {
  const Micrometres number = type.fonts().width("9999", contents.type.face, contents.type.size);
  const Micrometres left = step_in * (heading.level - 1);
  Paragraph words;
  words.runs = {contents.type};
  words.runs.front().text = heading.words;
  words.field = contents.field;
  Laid lines;
  lay_block(words, width - left - number - leader_space, type, lines);
  add(laid.refusals, lines.refusals);
  Slab slab;
  if (lines.slabs.empty()) return slab;
  const Slab set = stacked(lines.slabs);
  add_moved(slab, set, left, 0);
  slab.height = set.height;
  slab.field = contents.field;
  const PlacedText& last = slab.marks.texts.back();
  const Micrometres from = last.x + last.width + leader_space;
  const Micrometres to = width - number - leader_space;
  if (from < to) slab.marks.strokes.push_back({{{from, last.baseline}, {to, last.baseline}}, 90, leader_ink, leader_dash, "leader"});
  slab.contents.push_back({0, 0, width, slab.height, last.baseline, bookmark, contents.type});
  return slab;
}

}  // namespace

void lay_contents(const Contents& contents, Micrometres width, TypeCase& type, Laid& laid) {
  laid.has_contents = true;
  const auto count = static_cast<std::size_t>(std::max(contents.columns, 1));
  const Micrometres wide = (width - column_gap * static_cast<Micrometres>(count - 1)) / static_cast<Micrometres>(count);
  std::vector<Slab> lines;
  for (std::size_t i = 0; i < laid.headings.size(); ++i) {
    if (laid.headings[i].level <= contents.levels) lines.push_back(contents_line(contents, laid.headings[i], i, wide, type, laid));
  }
  if (count == 1) {
    std::move(lines.begin(), lines.end(), std::back_inserter(laid.slabs));
    return;
  }
  const std::size_t down = (lines.size() + count - 1) / count;
  Slab all;
  all.field = contents.field;
  for (std::size_t column = 0; column * down < lines.size(); ++column) {
    const auto first = lines.begin() + static_cast<std::ptrdiff_t>(column * down);
    const auto last = lines.begin() + static_cast<std::ptrdiff_t>(std::min((column + 1) * down, lines.size()));
    const Slab set = stacked({first, last});
    add_moved(all, set, static_cast<Micrometres>(column) * (wide + column_gap), 0);
    all.height = std::max(all.height, set.height);
  }
  laid.slabs.push_back(std::move(all));
}

std::vector<Heading> headings_of(const std::vector<Slab>& slabs) {
  std::vector<Heading> headings;
  for (const Slab& slab : slabs) {
    for (const Target& target : slab.targets) {
      if (target.level > 0) headings.push_back({target.words, target.level});
    }
  }
  return headings;
}

void resolve(std::vector<Layer> layers, Pages& pages, const Fonts& fonts) { Resolver{std::move(layers), pages, fonts}.run(); }

}  // namespace tierproof::papers
