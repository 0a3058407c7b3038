#include "html.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>

namespace tierproof::web {
namespace {

/// The characters that could end a text or a value in double quotes. What no document may hold becomes a space.
void escape_into(std::string& markup, std::string_view words) {
  for (const char c : words) {
    switch (c) {
      case '&':
        markup += "&amp;";
        break;
      case '<':
        markup += "&lt;";
        break;
      case '>':
        markup += "&gt;";
        break;
      case '"':
        markup += "&quot;";
        break;
      case '\'':
        markup += "&#39;";
        break;
      default:
        markup += static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t' ? ' ' : c;
    }
  }
}

[[maybe_unused]] bool is_name(std::string_view name) {
  return !name.empty() && std::all_of(name.begin(), name.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
  });
}

bool never_closed(std::string_view tag) {
  constexpr std::array<std::string_view, 6> tags{"br", "hr", "img", "input", "link", "meta"};
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

}  // namespace

Attribute flag(const char* name, bool there) { return {name, "", there}; }

Html::Html(std::string_view words) { escape_into(markup_, words); }

Html element(const char* tag, const Attributes& attributes, const Html& inner) {
  assert(is_name(tag));
  Html made;
  std::string& markup = made.markup_;
  markup += '<';
  markup += tag;
  for (const auto& [name, value, there] : attributes) {
    assert(is_name(name));
    if (!there) continue;
    markup += ' ';
    markup += name;
    markup += "=\"";
    escape_into(markup, value);
    markup += '"';
  }
  markup += '>';
  if (never_closed(tag)) return made;
  markup += inner.markup_;
  markup += "</";
  markup += tag;
  markup += '>';
  return made;
}

std::string document(const Html& head, const Attributes& body_attributes, const Html& body) {
  return "<!DOCTYPE html>\n" + el("html", {{"lang", "en"}}, element("head", {}, head), element("body", body_attributes, body)).markup() +
         "\n";
}

std::string url_part(std::string_view text) {
  std::string part;
  for (const char c : text) {
    const bool plain =
        (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_' || c == '.' || c == '~';
    part += plain ? std::string(1, c) : fmt::format("%{:02X}", static_cast<unsigned char>(c));
  }
  return part;
}

}  // namespace tierproof::web
