#include "lines.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cstdint>
#include <iterator>
#include <string_view>

namespace tierproof::papers {
namespace {

/// Only what leads to a page of the web; a reader must never be made to run anything.
bool is_web_address(std::string_view address) {
  // RFC 3986, section 2: these and letters and figures are all that an address is written with.
  constexpr std::string_view marks = "-._~:/?#[]@!$&'()*+,;=%";
  return (address.starts_with("https://") || address.starts_with("http://")) && std::all_of(address.begin(), address.end(), [&](char c) {
           return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || marks.find(c) != marks.npos;
         });
}

Micrometres up(std::int64_t nanometres) { return (nanometres + 999) / 1000; }

bool same_type(const TextRun& a, const TextRun& b) { return a.face == b.face && a.size == b.size && a.ink == b.ink && a.link == b.link; }

/// A paragraph broken into lines: characters [first, last) of each.
struct Broken {
  const Shape& shape;
  std::vector<std::int64_t> along;  ///< nanometres that the characters before each advance, and all of them
  std::vector<std::pair<std::size_t, std::size_t>> lines;

  std::int64_t advance(std::size_t first, std::size_t last) const { return along[last] - along[first]; }
};

std::vector<std::int64_t> advances_along(const Paragraph& paragraph, const Shape& shape, const Fonts& fonts) {
  std::vector<std::int64_t> along(shape.characters.size() + 1);
  std::size_t i = 0;
  for (std::size_t run = 0; run < paragraph.runs.size(); ++run) {
    const Advances advances{fonts, paragraph.runs[run].face, paragraph.runs[run].size};
    for (; i < shape.ends[run]; ++i) {
      const char32_t character = shape.characters[i];
      along[i + 1] = along[i] + (character == U'\n' ? 0 : advances.nanometres(character));
    }
  }
  return along;
}

/// The run that a character belongs to.
std::size_t run_of(const Shape& shape, std::size_t character) {
  const auto end = std::upper_bound(shape.ends.begin(), shape.ends.end(), character);
  return static_cast<std::size_t>(end - shape.ends.begin());
}

Line line_of(const Paragraph& paragraph, const Broken& broken, std::size_t first, std::size_t last) {
  Line line;
  std::int64_t at = 0;
  std::size_t run = run_of(broken.shape, first);
  for (std::size_t i = first; i < last;) {
    const TextRun& type = paragraph.runs[run];
    std::u32string characters;
    std::int64_t wide = 0;
    bool was_space = false;
    while (i < last && same_type(paragraph.runs[run], type)) {
      const bool space = broken.shape.characters[i] == U' ';
      if (!space || !was_space) {  // or else typed twice
        characters.push_back(broken.shape.characters[i]);
        wide += broken.advance(i, i + 1);
      }
      was_space = space;
      ++i;
      while (i < last && i == broken.shape.ends[run]) ++run;
    }
    line.texts.push_back({at / 1000, 0, up(wide), utf8_of(characters), type.face, type.size, type.ink});
    if (!type.link.empty()) line.jumps.push_back({at / 1000, 0, up(wide), 0, type.link});
    at += wide;
  }
  line.width = up(at);
  return line;
}

Micrometres indent_of(const Paragraph& paragraph, std::size_t line) { return line == 0 ? 0 : paragraph.indent; }

Result<Broken> broken(const Paragraph& paragraph, const Shape& shape, Micrometres width, const Fonts& fonts) {
  assert(shape.settable);
  Broken made{shape, advances_along(paragraph, shape, fonts), {}};
  const std::vector<Atom>& atoms = shape.atoms;
  Refusals refusals;
  for (std::size_t i = 0; i < atoms.size(); ++i) {
    const Micrometres room = width - indent_of(paragraph, made.lines.size());
    const std::size_t first = atoms[i].first;
    std::size_t last = atoms[i].last;
    if (up(made.advance(first, last)) > room) {
      const std::u32string_view word = std::u32string_view{shape.characters}.substr(first, last - first);
      refusals.push_back(
          Refusal{"", 0, paragraph.field,
                  fmt::format("`{}` is {:.1f} mm wide and its line {:.1f} mm", utf8_of(word),
                              static_cast<double>(up(made.advance(first, last))) / 1000.0, static_cast<double>(room) / 1000.0),
                  "write it shorter, put a space or a hyphen in it, or take a wider paper"});
    }
    while (!atoms[i].ends_line && i + 1 < atoms.size() && up(made.advance(first, atoms[i + 1].last)) <= room) last = atoms[++i].last;
    made.lines.emplace_back(first, last);
  }
  if (!refusals.empty()) return refusals;
  return made;
}

PointSize largest_of(const Paragraph& paragraph, const Broken& broken, std::size_t line) {
  const auto [first, last] = broken.lines[line];
  if (first == last && !paragraph.runs.empty()) return paragraph.runs.front().size;
  PointSize largest;
  for (std::size_t i = first, run = run_of(broken.shape, first); i < last; i = broken.shape.ends[run++])
    largest = std::max(largest, paragraph.runs[run].size);
  return largest;
}

}  // namespace

Result<std::vector<Line>> break_lines(const Paragraph& paragraph, const Shape& shape, Micrometres width, const Fonts& fonts) {
  const auto made = broken(paragraph, shape, width, fonts);
  if (!made) return made.error();
  std::vector<Line> lines;
  lines.reserve(made->lines.size());
  for (std::size_t i = 0; i < made->lines.size(); ++i) {
    const auto [first, last] = made->lines[i];
    const Micrometres indent = indent_of(paragraph, i);
    Line line = line_of(paragraph, *made, first, last);
    line.largest = largest_of(paragraph, *made, i);
    const Micrometres room = width - indent;
    const Micrometres shift = paragraph.align == Align::left     ? indent
                              : paragraph.align == Align::centre ? indent + (room - line.width) / 2
                                                                 : indent + room - line.width;
    for (PlacedText& text : line.texts) text.x += shift;
    for (Jump& jump : line.jumps) jump.x += shift;
    lines.push_back(std::move(line));
  }
  return lines;
}

Result<std::vector<PointSize>> sizes_of_lines(const Paragraph& paragraph, const Shape& shape, Micrometres width, const Fonts& fonts) {
  const auto made = broken(paragraph, shape, width, fonts);
  if (!made) return made.error();
  std::vector<PointSize> sizes;
  sizes.reserve(made->lines.size());
  for (std::size_t i = 0; i < made->lines.size(); ++i) sizes.push_back(largest_of(paragraph, *made, i));
  return sizes;
}

Extent extent_of(const Paragraph& paragraph, const Shape& shape, const Fonts& fonts) {
  assert(shape.settable);
  const std::vector<std::int64_t> along = advances_along(paragraph, shape, fonts);
  Extent extent;
  std::size_t start = 0;
  for (const Atom& atom : shape.atoms) {
    extent.least = std::max(extent.least, paragraph.indent + up(along[atom.last] - along[atom.first]));
    extent.whole = std::max(extent.whole, up(along[atom.last] - along[start]));
    if (atom.ends_line) start = atom.next;
  }
  return extent;
}

Refusals check_paragraph(const Paragraph& paragraph, const Shape& shape, const Fonts& fonts) {
  Refusals all;
  for (const TextRun& run : paragraph.runs) {
    if (!shape.settable) {
      Refusals found = check_text(run.text, run.face, fonts, paragraph.field);
      all.insert(all.end(), std::make_move_iterator(found.begin()), std::make_move_iterator(found.end()));
    }
    if (!run.link.empty() && !run.link.starts_with('#') && !is_web_address(run.link)) {
      all.push_back(Refusal{"", 0, paragraph.field, fmt::format("`{}` is not an address of the web", run.link),
                            "begin it with https:// and write it without spaces"});
    }
  }
  // A character outside NFC may straddle two runs only as a combining accent, which is refused by itself.
  return all;
}

}  // namespace tierproof::papers
