// What leads from one place of a paper to another: contents, links, bookmarks.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "layout.h"

namespace tierproof::papers {
namespace {

constexpr Micrometres step_in = 4000;       // of each further level of the contents
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
  Resolver(const std::vector<Layer>& layers, Pages& pages, const Fonts& fonts) : layers_{layers}, pages_{pages}, fonts_{fonts} {}

  void run() {
    for (std::size_t page = 0; page < layers_.size(); ++page) {
      for (const Target& target : layers_[page].targets) note(target, page);
    }
    for (std::size_t page = 0; page < layers_.size(); ++page) {
      Page& made = pages_.pages[page];
      made.marks = layers_[page].marks;
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

  const std::vector<Layer>& layers_;
  Pages& pages_;
  const Fonts& fonts_;
  std::map<std::string, Spot> anchors_;
};

}  // namespace

void lay_contents(const Contents& contents, Micrometres width, const Fonts& fonts, Laid& laid) {
  laid.has_contents = true;
  const Micrometres number = fonts.width("9999", contents.type.face, contents.type.size);
  for (std::size_t i = 0; i < laid.headings.size(); ++i) {
    const Heading& heading = laid.headings[i];
    if (heading.level > contents.levels) continue;
    const Micrometres left = step_in * (heading.level - 1);
    Paragraph words;
    words.runs = {contents.type};
    words.runs.front().text = heading.words;
    words.field = contents.field;
    Laid lines;
    lay_block(words, width - left - number - leader_space, fonts, lines);
    add(laid.refusals, lines.refusals);
    if (lines.slabs.empty()) continue;
    const Slab set = stacked(lines.slabs);
    Slab slab;
    add_moved(slab, set, left, 0);
    slab.height = set.height;
    slab.field = contents.field;
    const PlacedText& last = slab.marks.texts.back();
    const Micrometres from = last.x + last.width + leader_space;
    const Micrometres to = width - number - leader_space;
    if (from < to) slab.marks.strokes.push_back({{{from, last.baseline}, {to, last.baseline}}, 90, leader_ink, leader_dash, "rule"});
    slab.contents.push_back({0, 0, width, slab.height, last.baseline, i, contents.type});
    laid.slabs.push_back(std::move(slab));
  }
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

void resolve(const std::vector<Layer>& layers, Pages& pages, const Fonts& fonts) { Resolver{layers, pages, fonts}.run(); }

}  // namespace tierproof::papers
