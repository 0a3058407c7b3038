#include "tierproof/papers/svg.h"

#include <fmt/format.h>

#include <cassert>
#include <iterator>
#include <string_view>

#include "tierproof/units/share.h"

namespace tierproof {
namespace {

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

/// Micrometres as millimetres, exactly.
std::string mm(Micrometres length) {
  const Micrometres size = length < 0 ? -length : length;
  return short_decimal(fmt::format("{}{}.{:03}", length < 0 ? "-" : "", size / 1000, size % 1000));
}

std::string grey(Ink ink) { return fmt::format("#{0:02x}{0:02x}{0:02x}", ink); }

std::string_view face_attributes(Face face) {
  switch (face) {
    case Face::regular:
      return "font-family=\"'DejaVu Sans',sans-serif\"";
    case Face::bold:
      return "font-family=\"'DejaVu Sans',sans-serif\" font-weight=\"bold\"";
    case Face::condensed:
      return "font-family=\"'DejaVu Sans Condensed','DejaVu Sans',sans-serif\" font-stretch=\"semi-condensed\"";
    case Face::condensed_bold:
      return "font-family=\"'DejaVu Sans Condensed','DejaVu Sans',sans-serif\" font-stretch=\"semi-condensed\" font-weight=\"bold\"";
  }
  return {};
}

}  // namespace

std::string write_svg(const Pages& pages, std::size_t number) {
  assert(number < pages.pages.size());
  const Page& page = pages.pages[number];
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"page-{2}\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\">\n"
      "<rect width=\"{0}\" height=\"{1}\" fill=\"#ffffff\"/>\n",
      mm(page.width), mm(page.height), number + 1);
  auto out = std::back_inserter(svg);
  // Neighbours of one ink are one path, so that no seam shows between the modules of a code.
  for (std::size_t i = 0; i < page.marks.fills.size();) {
    const Ink ink = page.marks.fills[i].ink;
    fmt::format_to(out, "<path fill=\"{}\" d=\"", grey(ink));
    for (; i < page.marks.fills.size() && page.marks.fills[i].ink == ink; ++i) {
      const Fill& fill = page.marks.fills[i];
      fmt::format_to(out, "M{},{}h{}v{}h{}z", mm(fill.x), mm(fill.y), mm(fill.width), mm(fill.height), mm(-fill.width));
    }
    fmt::format_to(out, "\"/>\n");
  }
  for (const Stroke& stroke : page.marks.strokes) {
    std::string points;
    for (const Point& point : stroke.points) points += fmt::format("{}{},{}", points.empty() ? "" : " ", mm(point.x), mm(point.y));
    const std::string dashes = stroke.dash > 0 ? fmt::format(" stroke-dasharray=\"{}\"", mm(stroke.dash)) : "";
    fmt::format_to(out,
                   "<polyline class=\"{}\" points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\" stroke-linejoin=\"round\"{}/>\n",
                   escaped(stroke.role), points, grey(stroke.ink), mm(stroke.width), dashes);
  }
  for (const Dot& dot : page.marks.dots) {
    fmt::format_to(out, "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\"/>\n", mm(dot.centre.x), mm(dot.centre.y), mm(dot.radius),
                   grey(dot.ink));
  }
  for (const PlacedText& text : page.marks.texts) {
    fmt::format_to(out, "<text x=\"{}\" y=\"{}\" {} font-size=\"{}\" fill=\"{}\" textLength=\"{}\" xml:space=\"preserve\">{}</text>\n",
                   mm(text.x), mm(text.baseline), face_attributes(text.face), mm(text.size.to_micrometres()), grey(text.ink),
                   mm(text.width), escaped(text.text));
  }
  for (const Link& link : page.links) {
    const std::string to = link.address.empty() ? fmt::format("#page-{}", link.page + 1) : escaped(link.address);
    fmt::format_to(out, "<a href=\"{}\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"none\" pointer-events=\"all\"/></a>\n",
                   to, mm(link.x), mm(link.y), mm(link.width), mm(link.height));
  }
  svg += "</svg>\n";
  return svg;
}

}  // namespace tierproof
