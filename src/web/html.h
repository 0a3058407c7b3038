#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tierproof::web {

/// One attribute of an element. Its name is one of ours; its value may be anything.
struct Attribute {
  const char* name;
  std::string value;
  bool there = true;  ///< false: it is left out
};
using Attributes = std::vector<Attribute>;
/// An attribute that stands without a value, such as `required`.
Attribute flag(const char* name, bool there = true);

/// Markup that is well formed by the way it is made: words come in escaped, tags only by `el`. The one writer of HTML and inline SVG.
class Html {
 public:
  Html() = default;
  Html(std::string_view words);
  Html(const std::string& words) : Html{std::string_view{words}} {}
  Html(const char* words) : Html{std::string_view{words}} {}

  Html& operator+=(const Html& more) {
    markup_ += more.markup_;
    return *this;
  }
  friend Html operator+(Html first, const Html& second) { return first += second; }
  bool empty() const { return markup_.empty(); }
  const std::string& markup() const { return markup_; }

  friend Html element(const char* tag, const Attributes& attributes, const Html& inner);

 private:
  std::string markup_;
};

/// `<tag attributes>inner</tag>`; elements that HTML never closes have no end tag. @pre tag and attribute names are letters of ours
Html element(const char* tag, const Attributes& attributes, const Html& inner);

template <class... Inner>
Html el(const char* tag, const Attributes& attributes, const Inner&... inner) {
  Html all;
  (void)(all += ... += Html{inner});
  return element(tag, attributes, all);
}
inline Html el(const char* tag, const Attributes& attributes) { return element(tag, attributes, {}); }

/// A whole document in English; `head` and `body` are what stands in those elements.
std::string document(const Html& head, const Attributes& body_attributes, const Html& body);

/// `text` as one part of a path or a value of a query: everything but letters, digits, `-`, `_`, `.` and `~` as %XX.
std::string url_part(std::string_view text);

}  // namespace tierproof::web
