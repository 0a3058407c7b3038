#include "tierproof/imports/pack_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <utility>

#include "pack_letters.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr std::size_t deepest = 20;

bool is_opening(char c) { return c == '(' || c == '[' || c == '{'; }
bool is_closing(char c) { return c == ')' || c == ']' || c == '}'; }
char closing_of(char c) { return c == '(' ? ')' : c == '[' ? ']' : '}'; }

class ListReader {
 public:
  ListReader(const PackLetters& letters, const PackTextWords& words, const std::string& file)
      : letters_{letters}, words_{words}, file_{file} {}

  PackText take() {
    PackText text;
    skip_heading(text);
    text.parts = list(0, '\0');
    if (text.parts.empty() && refusals_.empty())
      refuse(at_, "there is no ingredient in it", "paste the list of ingredients as the pack prints it");
    while (at_ < letters_.size() && refusals_.empty()) sentence(text);
    return text;
  }
  Refusals& refusals() { return refusals_; }

 private:
  char now() const { return letters_[at_]; }

  void refuse(std::size_t at, std::string message, std::string remedy) {
    refusals_.push_back({file_, letters_.line(at), "", std::move(message), std::move(remedy)});
  }
  /// What stands around a place, for a message.
  std::string near(std::size_t at) const {
    const std::size_t from = at > 24 ? at - 24 : 0;
    return std::string{trimmed(letters_.whole_characters(from, std::min(letters_.size(), at + 1)))};
  }

  /// Passes over a heading; what stands before it is no part of the list.
  void skip_heading(PackText& text) {
    const std::string small = ascii_lower(letters_.text());
    std::size_t best = std::string::npos;
    std::size_t after = 0;
    for (const auto& heading : words_.headings) {
      for (auto found = small.find(heading); !heading.empty() && found != std::string::npos; found = small.find(heading, found + 1)) {
        const bool begins = found == 0 || !is_letter(small[found - 1]);
        std::size_t end = found + heading.size();
        while (end < small.size() && small[end] == ' ') ++end;
        const bool headed = end < small.size() && (small[end] == ':' || trimmed(small.substr(0, found)).empty());
        const bool whole = found + heading.size() == small.size() || !is_letter(small[found + heading.size()]);
        if (!begins || !headed || !whole || found >= best) continue;
        best = found;
        after = small[end] == ':' ? end + 1 : end;
      }
    }
    if (best == std::string::npos) return;
    if (const auto before = trimmed(std::string_view{letters_.text()}.substr(0, best)); !before.empty()) text.other.emplace_back(before);
    at_ = after;
  }

  static bool is_letter(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0 || static_cast<unsigned char>(c) >= 0x80; }

  /// Whether a comma or point at `at` stands inside a percentage.
  bool in_number(std::size_t at) const {
    const auto digit = [&](std::size_t i) { return i < letters_.size() && std::isdigit(static_cast<unsigned char>(letters_[i])) != 0; };
    if (at == 0 || !digit(at - 1) || !digit(at + 1)) return false;
    std::size_t end = at + 1;
    while (digit(end)) ++end;
    while (end < letters_.size() && letters_[end] == ' ') ++end;
    return end < letters_.size() && letters_[end] == '%';
  }
  /// Whether the point at `at` ends the list: nothing follows, or a new sentence does.
  bool ends_sentence(std::size_t at) const {
    std::size_t next = at + 1;
    if (next == letters_.size()) return true;
    if (letters_[next] != ' ') return false;
    while (next < letters_.size() && letters_[next] == ' ') ++next;
    if (next == letters_.size()) return true;
    const char c = letters_[next];
    return std::isupper(static_cast<unsigned char>(c)) != 0 || static_cast<unsigned char>(c) >= 0x80;
  }

  /// The class title that `name` is, as the rules spell it; empty when it is none.
  std::string class_of(std::string_view name) const {
    const std::string small = ascii_lower(trimmed(name));
    for (const auto& title : words_.class_titles) {
      if (small == title || small == title + "s") return title;
      if (title.ends_with('y') && small == title.substr(0, title.size() - 1) + "ies") return title;
    }
    return "";
  }

  bool is_number_of_additive(std::string_view name) const {
    const std::string small = ascii_lower(trimmed(name));
    return std::any_of(words_.number_marks.begin(), words_.number_marks.end(), [&](const std::string& mark) {
      if (mark.empty() || !small.starts_with(mark) || small.size() == mark.size()) return false;
      const std::string rest = small.substr(mark.size());
      return std::isdigit(
                 static_cast<unsigned char>(small.back() >= 'a' && small.back() <= 'k' ? small[small.size() - 2] : small.back())) != 0 &&
             std::all_of(rest.begin(), rest.end() - 1,
                         [](char c) { return c == ' ' || c == '-' || std::isdigit(static_cast<unsigned char>(c)) != 0; });
    });
  }

  /// The roman number in brackets that begins at `at_`, with its brackets; empty when it is none.
  std::string roman_here() const {
    std::string roman = "(";
    for (std::size_t i = at_ + 1; i < letters_.size() && roman.size() < 6; ++i) {
      const char c = static_cast<char>(std::tolower(static_cast<unsigned char>(letters_[i])));
      if (c == ')') return roman.size() > 1 ? roman + ")" : "";
      if (c != 'i' && c != 'v' && c != 'x') return "";
      roman += c;
    }
    return "";
  }

  /// The parts up to `close`, which is passed over; at the top up to the point that ends the list.
  std::vector<PackPart> list(std::size_t depth, char close, std::optional<Share>* of_head = nullptr, const std::string& head_class = {}) {
    std::vector<PackPart> parts;
    std::string title = head_class;
    const std::size_t opened = at_;
    bool more = false;  // a comma stands before this part
    while (refusals_.empty()) {
      const std::size_t from = at_;
      Piece piece = part(depth, title);
      if (!refusals_.empty()) break;
      const bool end = at_ >= letters_.size();
      const char stop = end ? '\0' : now();
      if (stop == ':') {
        title = class_of(piece.part.name);
        if (title.empty() || !piece.part.parts.empty() || piece.part.share) {
          refuse(at_, fmt::format("\"{}:\" is neither a heading nor the class of an additive", piece.part.name),
                 "put what belongs to it in brackets behind it, or leave the heading away");
          break;
        }
        ++at_;
        continue;
      }
      if (piece.part.name.empty() && piece.part.share && of_head != nullptr && !*of_head && piece.flat.empty()) {
        *of_head = piece.part.share;  // (12 %, roasted): the figure belongs to what stands before the bracket
      } else if (!piece.flat.empty()) {
        parts.insert(parts.end(), piece.flat.begin(), piece.flat.end());
      } else if (!piece.part.name.empty()) {
        parts.push_back(std::move(piece.part));
      } else if (piece.part.share || !piece.part.parts.empty()) {
        refuse(from, fmt::format("nothing is named before \"{}\"", near(at_ > 0 ? at_ - 1 : 0)), "write what it is, as the pack does");
      } else if (more || stop == ',' || stop == ';' || depth > 0) {
        refuse(from, fmt::format("nothing stands where an ingredient should, near \"{}\"", near(end && at_ > 0 ? at_ - 1 : at_)),
               "look at the pack: something may be missing, or a comma is too many");
      }
      if (end) {
        if (depth > 0)
          refuse(opened == 0 ? 0 : opened - 1,
                 fmt::format("a bracket is opened after \"{}\" and never closed", near(opened == 0 ? 0 : opened - 1)),
                 "close it where the pack does");
        break;
      }
      if (is_closing(stop)) {
        if (depth == 0) {
          refuse(at_, fmt::format("a bracket is closed after \"{}\" that was never opened", near(at_)),
                 "open it where the pack does, or leave it away");
        } else if (stop != close) {
          refuse(at_, fmt::format("\"{}\" closes a bracket that \"{}\" would close, after \"{}\"", stop, close, near(at_)),
                 "use the brackets of the pack");
        }
        if (refusals_.empty()) ++at_;
        break;
      }
      ++at_;
      if (stop == '.') break;
      if (stop == ';') title = head_class;
      more = true;
    }
    check_sum(parts, opened);
    return parts;
  }

  struct Piece {
    PackPart part;
    std::vector<PackPart> flat;  ///< of a class title with its additives in brackets: they stand in this list
  };

  Piece part(std::size_t depth, const std::string& title) {
    Piece piece;
    PackLetters name;
    const bool first = std::exchange(first_, false);
    int line = 0;
    while (at_ < letters_.size() && refusals_.empty()) {
      const char c = now();
      if (is_opening(c)) {
        bracket(depth, name, piece);
        continue;
      }
      if (is_closing(c) || c == ';' || c == ':' || (c == ',' && !in_number(at_)) ||
          (c == '.' && depth == 0 && !in_number(at_) && ends_sentence(at_)))
        break;
      if (line == 0 && c != ' ') line = letters_.line(at_);
      name.take(letters_, at_);
      ++at_;
    }
    if (!refusals_.empty()) return piece;
    percentage(name, piece.part.share);
    name.squeeze();
    if (first) name.small_first();
    piece.part.marked = name.take_marks(letters_.all_capitals());
    piece.part.name = name.text();
    piece.part.line = line;
    piece.part.class_title = title;
    if (!piece.flat.empty() && !piece.part.name.empty() && class_of(piece.part.name).empty())
      refuse(at_ > 0 ? at_ - 1 : 0, fmt::format("\"{}\" stands behind the bracket of a class title", piece.part.name),
             "part the two by a comma");
    return piece;
  }

  void bracket(std::size_t depth, PackLetters& name, Piece& piece) {
    const std::size_t at = at_;
    if (depth >= deepest) return refuse(at, fmt::format("more than {} brackets stand in each other", deepest), "look at the pack again");
    if (is_number_of_additive(name.text())) {
      if (const auto roman = roman_here(); !roman.empty()) {
        name.trim();
        name.add(roman, letters_.line(at));
        at_ += roman.size();
        return;
      }
    }
    const std::string title = class_of(name.text());
    const char close = closing_of(now());
    ++at_;
    std::optional<Share> share;
    auto inside = list(depth + 1, close, &share, title);
    if (!refusals_.empty()) return;
    if (share && piece.part.share)
      return refuse(at, fmt::format("two percentages stand with \"{}\"", trimmed(name.text())), "keep the one of the pack");
    if (share) piece.part.share = share;
    auto& to = title.empty() ? piece.part.parts : piece.flat;
    to.insert(to.end(), inside.begin(), inside.end());
    name.add(" ", letters_.line(at));
  }

  /// Takes the percentage out of a name.
  void percentage(PackLetters& name, std::optional<Share>& share) {
    for (;;) {
      const std::string text = name.text();
      const auto sign = text.find('%');
      if (sign == std::string::npos) return;
      std::size_t from = sign;
      while (from > 0 && text[from - 1] == ' ') --from;
      while (from > 0 && (std::isdigit(static_cast<unsigned char>(text[from - 1])) != 0 || text[from - 1] == '.' || text[from - 1] == ','))
        --from;
      const std::string figure = text.substr(from, sign + 1 - from);
      const auto read = parse_percent(figure);
      const std::size_t at = at_ > 0 ? at_ - 1 : 0;
      if (!read)
        return refuse(at, fmt::format("\"{}\" is no percentage up to 100", trimmed(figure)), "write it as the pack does: 12 % or 12.5 %");
      if (share) return refuse(at, fmt::format("two percentages stand with \"{}\"", trimmed(text)), "keep the one of the pack");
      share = read;
      name.cut(from, sign + 1);
    }
  }

  void check_sum(const std::vector<PackPart>& parts, std::size_t at) {
    Share sum = 0;
    for (const auto& part : parts) sum += part.share.value_or(Share{0});
    if (sum > 1 && refusals_.empty()) {
      refuse(at, fmt::format("the percentages of one list come to {} %", format_decimal(sum * 100, 1)),
             "check them against the pack: the brackets may be wrong");
    }
  }

  /// One sentence behind the list.
  void sentence(PackText& text) {
    const std::size_t from = at_;
    while (at_ < letters_.size() && !(now() == '.' && !in_number(at_) && ends_sentence(at_))) ++at_;
    std::string whole{trimmed(std::string_view{letters_.text()}.substr(from, at_ - from))};
    if (at_ < letters_.size()) ++at_;
    if (whole.empty()) return;
    const auto begins = [&](const std::vector<std::string>& starts) -> std::size_t {
      const std::string small = ascii_lower(whole);
      std::size_t longest = 0;
      for (const auto& start : starts) {
        const bool ends = small.size() == start.size() || (small.size() > start.size() && !is_letter(small[start.size()]));
        if (small.starts_with(start) && ends) longest = std::max(longest, start.size());
      }
      return longest;
    };
    if (const auto start = begins(words_.may_contain); start > 0) return items(whole.substr(start), text.may_contain);
    if (const auto start = begins(words_.contains); start > 0) return items(whole.substr(start), text.contains);
    text.other.push_back(std::move(whole));
  }

  /// What a sentence names: parted by commas, `and`, `or`.
  static void items(const std::string& text, std::vector<std::string>& into) {
    std::string item;
    const auto close = [&] {
      std::string small = ascii_lower(trimmed(item));
      while (small.starts_with(':') || small.starts_with('-')) small = std::string{trimmed(std::string_view{small}.substr(1))};
      for (const std::string_view word : {"and ", "or "}) {
        if (small.starts_with(word)) small = std::string{trimmed(std::string_view{small}.substr(word.size()))};
      }
      if (!small.empty()) into.push_back(small);
      item.clear();
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
      const std::string rest = ascii_lower(std::string_view{text}.substr(i, 5));
      if (text[i] == ',' || text[i] == ';' || text[i] == '&' || text[i] == '/') {
        close();
      } else if (rest == " and " || rest.starts_with(" or ")) {
        close();
        i += rest == " and " ? 3 : 2;
      } else {
        item += text[i];
      }
    }
    close();
  }

  const PackLetters& letters_;
  const PackTextWords& words_;
  std::string file_;
  std::size_t at_ = 0;
  bool first_ = true;
  Refusals refusals_;
};

std::string write_parts(const std::vector<PackPart>& parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const PackPart& part = parts[i];
    if (i > 0) text += parts[i - 1].class_title.empty() ? ", " : "; ";
    if (!part.class_title.empty()) text += part.class_title + ": ";
    std::string name;
    std::size_t from = 0;
    for (const auto& mark : part.marked) {
      const auto letter = [&](std::size_t place) {
        return place < part.name.size() &&
               (std::isalpha(static_cast<unsigned char>(part.name[place])) != 0 || static_cast<unsigned char>(part.name[place]) >= 0x80);
      };
      auto at = part.name.find(mark, from);  // as whole words
      while (at != std::string::npos && ((at > 0 && letter(at - 1)) || letter(at + mark.size()))) at = part.name.find(mark, at + 1);
      if (at == std::string::npos) continue;
      name += part.name.substr(from, at - from) + "**" + mark + "**";
      from = at + mark.size();
    }
    text += name + part.name.substr(from);
    if (part.share) {
      std::string figure = format_decimal(*part.share * 100, 9);
      if (figure.find('.') != std::string::npos) {
        figure.erase(figure.find_last_not_of('0') + 1);
        if (figure.ends_with('.')) figure.pop_back();
      }
      text += " " + figure + " %";
    }
    if (!part.parts.empty()) text += " (" + write_parts(part.parts) + ")";
  }
  return text;
}

std::string sentence_of(const std::vector<std::string>& starts, const std::vector<std::string>& items) {
  if (starts.empty() || items.empty()) return "";
  std::string start = starts.front();
  start.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(start.front())));
  std::string text = " " + start;
  for (std::size_t i = 0; i < items.size(); ++i) text += (i > 0 ? ", " : " ") + items[i];
  return text + ".";
}

}  // namespace

Result<PackText> read_pack_text(std::string_view text, const PackTextWords& words, const std::string& file) {
  const auto plain = to_nfc(text);
  if (!plain) return Refusal{file, 0, "", "is not plain text (UTF-8)", "save it as plain text"};
  std::vector<std::string> starts = words.may_contain;
  starts.insert(starts.end(), words.contains.begin(), words.contains.end());
  const PackLetters letters = PackLetters::of(*plain, starts);
  ListReader reader{letters, words, file};
  PackText read = reader.take();
  if (!reader.refusals().empty()) return reader.refusals();
  return read;
}

std::string write_pack_text(const PackText& text, const PackTextWords& words) {
  std::string written = write_parts(text.parts) + ".";
  written += sentence_of(words.may_contain, text.may_contain) + sentence_of(words.contains, text.contains);
  for (const auto& sentence : text.other) written += " " + sentence + ".";
  return written;
}

}  // namespace tierproof
