#include <Poco/Exception.h>
#include <Poco/JSON/Handler.h>
#include <Poco/JSON/Parser.h>
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>
#include <utility>
#include <vector>

#include "tierproof/text/json.h"
#include "tierproof/text/json_fractions.h"
#include "tierproof/text/number.h"
#include "utf8.h"

// Two passes. The first reads the bytes lexically and notes every token with its line: it sees what a JSON library no longer
// shows (how a number was written, which escapes a text used). What it refuses it overwrites in a copy, byte for byte, so that
// the second pass, Poco's parser, can judge the grammar of the whole document and report the remaining refusals with it.
// The values of numbers come from the first pass; Poco only ever sees zeros.

namespace tierproof {
namespace {

constexpr std::int64_t largest_integer = 9007199254740991;  // 2^53 - 1, RFC 7493 section 2.2
constexpr std::size_t deepest = 64;

struct Complaint {
  std::string message;
  std::string remedy;
};

enum class TokenKind { open_object, close_object, open_array, close_array, comma, colon, text, number, literal };

struct Token {
  TokenKind kind = TokenKind::literal;
  int line = 0;
  std::int64_t number = 0;
  std::string fraction{};  ///< a number that is not whole, as it was written, where these are kept
  std::vector<Complaint> complaints{};
};

enum class Fractions { refused, kept, marked };

/// The one member of a marked fraction. The gate refuses it as a key, so no document holds it.
constexpr std::string_view fraction_mark = "\x01";

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_space(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }
bool is_structure(char c) { return std::string_view{"{}[],:"}.find(c) != std::string_view::npos; }

/// What of a number token `text` is: RFC 8259 section 6, split into its parts.
struct NumberShape {
  bool valid = false;
  bool whole = false;  ///< neither a fraction nor an exponent
};
NumberShape shape_of(std::string_view text) {
  std::size_t at = 0;
  const auto digits = [&] {
    const auto begin = at;
    while (at < text.size() && is_digit(text[at])) ++at;
    return at > begin;
  };
  if (at < text.size() && text[at] == '-') ++at;
  const auto first = at;
  if (!digits() || (text[first] == '0' && at - first > 1)) return {};
  if (at == text.size()) return {true, true};
  if (text[at] == '.') {
    ++at;
    if (!digits()) return {};
  }
  if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
    ++at;
    if (at < text.size() && (text[at] == '+' || text[at] == '-')) ++at;
    if (!digits()) return {};
  }
  return {at == text.size(), false};
}

bool starts_character(char c) { return (static_cast<unsigned char>(c) & 0xc0) != 0x80; }

/// `text` for a message: shortened, and without control characters, which a terminal would obey.
std::string shown(std::string_view text) {
  constexpr std::size_t most = 40;
  std::size_t cut = std::min(most, text.size());
  while (cut > 0 && cut < text.size() && !starts_character(text[cut])) --cut;
  std::string out{text.substr(0, cut)};
  std::replace_if(
      out.begin(), out.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }, '?');
  return cut < text.size() ? out + "…" : out;
}

/// The first pass.
class Scanner {
 public:
  Scanner(std::string_view text, Fractions fractions) : text_{text}, clean_{text}, fractions_{fractions} {}

  /// False if no further reading makes sense; the last token, or `loose`, then says why.
  bool scan() {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (is_space(c)) {
        if (c == '\n') ++line_;
        ++at_;
      } else if (c == '"') {
        if (!scan_text()) return false;
      } else if (is_structure(c)) {
        if (!scan_structure(c)) return false;
      } else if (c == '/' && at_ + 1 < text_.size() && (text_[at_ + 1] == '/' || text_[at_ + 1] == '*')) {
        scan_comment();
      } else {
        scan_bare();
      }
    }
    return true;
  }

  const std::vector<Token>& tokens() const { return tokens_; }
  const std::string& clean() const { return clean_; }
  /// Refusals that belong to no token, each with its line.
  const std::vector<std::pair<int, Complaint>>& loose() const { return loose_; }
  int last_line() const { return line_; }

 private:
  Token& add(TokenKind kind) {
    Token token;
    token.kind = kind;
    token.line = line_;
    tokens_.push_back(std::move(token));
    return tokens_.back();
  }

  bool scan_structure(char c) {
    switch (c) {
      case '{':
        add(TokenKind::open_object);
        ++depth_;
        break;
      case '[':
        add(TokenKind::open_array);
        ++depth_;
        break;
      case '}':
        add(TokenKind::close_object);
        depth_ -= depth_ > 0;
        break;
      case ']':
        add(TokenKind::close_array);
        depth_ -= depth_ > 0;
        break;
      case ',':
        add(TokenKind::comma);
        break;
      default:
        add(TokenKind::colon);
        break;
    }
    ++at_;
    if (depth_ <= deepest) return true;
    loose_.emplace_back(line_, Complaint{"nested deeper than 64", "flatten it to at most 64 levels of objects and lists"});
    return false;
  }

  bool scan_text() {
    auto& token = add(TokenKind::text);
    const auto complain = [&](std::string message, std::string remedy) {
      token.complaints.push_back({std::move(message), std::move(remedy)});
    };
    for (++at_; at_ < text_.size(); ++at_) {
      const char c = text_[at_];
      if (c == '"') {
        ++at_;
        return true;
      }
      if (c == '\n') break;
      if (c == '\\') {
        if (at_ + 1 < text_.size() && text_[at_ + 1] == '\n') break;
        scan_escape(complain);
      } else if (static_cast<unsigned char>(c) < 0x20) {
        clean_[at_] = ' ';
        if (c == '\0') {
          complain("holds the character U+0000", "leave it out");
        } else {
          complain(fmt::format("holds the control character U+{:04X} as it is", static_cast<unsigned>(c)),
                   fmt::format("write \\u{:04x}, or leave it out", static_cast<unsigned>(c)));
        }
      }
    }
    complain("a text is not closed on its line", "write \" at its end, and \\n for a line break inside it");
    return false;
  }

  /// Reads the escape at the backslash `at_` and leaves `at_` on its last byte.
  template <class Complain>
  void scan_escape(const Complain& complain) {
    auto escape = text_.substr(at_, 2);
    if (escape.size() == 2 && std::string_view{"\"\\/bfnrt"}.find(escape[1]) != std::string_view::npos) {
      ++at_;
      return;
    }
    const auto unit = code_unit(at_);
    if (!unit) {
      while (at_ + escape.size() < text_.size() && !starts_character(text_[at_ + escape.size()]))
        escape = text_.substr(at_, escape.size() + 1);
      complain(fmt::format("'{}' is not an escape", shown(escape)), "write \\\\ for a backslash");
      clean_[at_] = ' ';
      return;
    }
    const auto blank = [&] { std::fill_n(clean_.begin() + static_cast<std::ptrdiff_t>(at_), 6, ' '); };
    if (*unit == 0) {
      complain("holds the character U+0000", "leave it out");
      blank();
    } else if (*unit >= 0xd800 && *unit <= 0xdfff) {
      const auto low = *unit <= 0xdbff ? code_unit(at_ + 6) : std::nullopt;
      if (low && *low >= 0xdc00 && *low <= 0xdfff) {
        at_ += 6;
      } else {
        complain(fmt::format("{} is half of a surrogate pair", text_.substr(at_, 6)),
                 "write both halves, or the character itself in UTF-8");
        blank();
      }
    }
    at_ += 5;
  }

  /// The four hexadecimal digits of `\uXXXX` at `from`.
  std::optional<unsigned> code_unit(std::size_t from) const {
    if (from > text_.size() || text_.substr(from, 2) != "\\u") return std::nullopt;
    const auto digits = text_.substr(from + 2, 4);
    unsigned unit = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), unit, 16);
    if (digits.size() != 4 || error != std::errc{} || end != digits.data() + 4) return std::nullopt;
    return unit;
  }

  void scan_comment() {
    loose_.emplace_back(line_, Complaint{"a comment", "take it out: JSON has none; put a note in a member of its own"});
    const bool to_line_end = text_[at_ + 1] == '/';
    const auto found = text_.find(to_line_end ? "\n" : "*/", at_ + 2);
    const auto end = found == std::string_view::npos ? text_.size() : found + (to_line_end ? 0 : 2);
    for (; at_ < end; ++at_) {
      if (text_[at_] == '\n') {
        ++line_;
      } else {
        clean_[at_] = ' ';
      }
    }
  }

  /// A number, a literal, or something that is neither.
  void scan_bare() {
    const auto begin = at_;
    while (at_ < text_.size() && !is_space(text_[at_]) && !is_structure(text_[at_]) && text_[at_] != '"') ++at_;
    const auto word = text_.substr(begin, at_ - begin);
    if (word == "true" || word == "false" || word == "null") {
      add(TokenKind::literal);
      return;
    }
    auto& token = add(TokenKind::number);
    std::fill_n(clean_.begin() + static_cast<std::ptrdiff_t>(begin), word.size(), ' ');
    clean_[begin] = '0';
    const auto shape = shape_of(word);
    if (!shape.valid) {
      token.complaints.push_back(complaint_about(word));
    } else if (!shape.whole && fractions_ != Fractions::refused) {
      token.fraction = word;
    } else if (!shape.whole) {
      token.complaints.push_back({fmt::format("{} is not a whole number", shown(word)),
                                  "write a whole number in a smaller unit, or a text with its unit, \"4.5 g\""});
    } else if (word == "-0") {
      token.complaints.push_back({"-0 is not a number that tierproof keeps", "write 0"});
    } else {
      const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), token.number);
      if (error != std::errc{} || end != word.data() + word.size() || token.number > largest_integer || token.number < -largest_integer) {
        token.complaints.push_back({fmt::format("{} is beyond ±9007199254740991", shown(word)), "write it as a text, or in a larger unit"});
      }
    }
  }

  static Complaint complaint_about(std::string_view word) {
    const auto small = ascii_lower(word);
    if (small == "true" || small == "false" || small == "null") return {fmt::format("{} is not JSON", word), "write " + small};
    if (small == "nan" || small == "infinity" || small == "-infinity" || small == "inf" || small == "-inf") {
      return {fmt::format("{} is not a number", word), "write null where there is no value"};
    }
    if (is_digit(word[0]) || ((word[0] == '-' || word[0] == '+' || word[0] == '.') && word.size() > 1)) {
      return {fmt::format("{} is not a number as JSON writes it", shown(word)),
              "write digits only, without leading zeros, a plus or a unit"};
    }
    return {fmt::format("'{}' is not a JSON value", shown(word)), "write texts in double quotes"};
  }

  std::string_view text_;
  std::string clean_;
  Fractions fractions_;
  std::size_t at_ = 0;
  int line_ = 1;
  std::size_t depth_ = 0;
  std::vector<Token> tokens_;
  std::vector<std::pair<int, Complaint>> loose_;
};

/// The second pass: Poco's events in document order, step by step with the tokens of the first.
class Builder : public Poco::JSON::Handler {
 public:
  Builder(const std::vector<Token>& tokens, Fractions fractions, std::string file, Refusals& refusals)
      : tokens_{tokens}, fractions_{fractions}, file_{std::move(file)}, refusals_{refusals} {}

  void reset() override {}
  void startObject() override { open(TokenKind::open_object, Json{Json::Object{}}); }
  void startArray() override { open(TokenKind::open_array, Json{Json::Array{}}); }
  void endObject() override { close(TokenKind::close_object); }
  void endArray() override { close(TokenKind::close_array); }

  void key(const std::string& name) override {
    const auto& token = next(TokenKind::text);
    auto& level = levels_.back();
    level.key = name;
    level.has_key = true;
    after_ = After::key;
    report(token);
    if (!std::all_of(name.begin(), name.end(), [](char c) { return c >= 0x20 && c < 0x7f; })) {
      refuse(token.line, fmt::format("the key \"{}\" is not plain ASCII", shown(name)), "write keys in plain ASCII letters and digits");
    }
    if (level.value.find(name)) {
      refuse(token.line, fmt::format("the key \"{}\" stands twice in one object", shown(name)), "keep one of the two");
    }
  }

  void null() override { scalar(next(TokenKind::literal), Json{}); }
  void value(bool v) override { scalar(next(TokenKind::literal), Json{v}); }
  void value(int) override { number(); }
  void value(unsigned) override { number(); }
  void value(Poco::Int64) override { number(); }
  void value(Poco::UInt64) override { number(); }
  void value(double) override { number(); }
  void value(const std::string& text) override {
    const auto& token = next(TokenKind::text);
    scalar(token, Json{text});
  }

  Json take() { return std::move(root_); }

  /// The token that Poco stumbled over: the first one after the last event, and after the separator that may follow it. Nothing if it
  /// was the end of the text.
  const Token* trouble() const {
    auto at = at_;
    const bool skip = at < tokens_.size() && ((after_ == After::key && tokens_[at].kind == TokenKind::colon) ||
                                              (after_ == After::value && !levels_.empty() && tokens_[at].kind == TokenKind::comma));
    at += skip;
    return at < tokens_.size() ? &tokens_[at] : nullptr;
  }
  /// Tokens that no event has reached, for what they complain of.
  std::size_t reached() const { return at_; }

 private:
  enum class After { open, key, value };
  struct Level {
    Json value;
    std::string key;
    bool has_key = false;
  };

  const Token& next(TokenKind kind) {
    while (at_ < tokens_.size() && (tokens_[at_].kind == TokenKind::comma || tokens_[at_].kind == TokenKind::colon)) ++at_;
    if (at_ >= tokens_.size() || tokens_[at_].kind != kind) {
      throw Fault{exit_status::our_bug, fmt::format("{}: the two readings of the JSON text disagree", file_)};
    }
    return tokens_[at_++];
  }

  void number() {
    const auto& token = next(TokenKind::number);
    if (token.fraction.empty()) return scalar(token, Json{token.number});
    Json written{token.fraction};
    scalar(token,
           fractions_ == Fractions::marked ? Json{Json::Object{{std::string{fraction_mark}, std::move(written)}}} : std::move(written));
  }

  void scalar(const Token& token, Json value) {
    value.set_line(token.line);
    report(token);
    if (value.is_text() && token.complaints.empty() && !text::is_nfc(value.text())) {
      refuse(token.line, fmt::format("\"{}\" is not in Unicode form NFC", shown(value.text())),
             "write accented letters as single characters (form NFC)");
    }
    place(std::move(value));
  }

  void open(TokenKind kind, Json value) {
    value.set_line(next(kind).line);
    levels_.push_back({std::move(value), {}, false});
    after_ = After::open;
  }

  void close(TokenKind kind) {
    next(kind);
    auto value = std::move(levels_.back().value);
    levels_.pop_back();
    place(std::move(value));
  }

  void place(Json value) {
    after_ = After::value;
    if (levels_.empty()) {
      root_ = std::move(value);
      return;
    }
    auto& level = levels_.back();
    if (level.value.is_array()) {
      level.value.array().push_back(std::move(value));
    } else {
      level.value.object().emplace(level.key, std::move(value));
    }
  }

  void report(const Token& token) {
    for (const auto& complaint : token.complaints) refuse(token.line, complaint.message, complaint.remedy);
  }

  void refuse(int line, std::string message, std::string remedy) {
    refusals_.push_back({file_, line, path(), std::move(message), std::move(remedy)});
  }

  /// `parts[2].share`: where the reading stands.
  std::string path() const {
    std::string out;
    for (const auto& level : levels_) {
      if (level.value.is_array()) {
        out += fmt::format("[{}]", level.value.array().size());
      } else if (level.has_key) {
        if (!out.empty()) out += '.';
        out += shown(level.key);
      }
    }
    return out;
  }

  const std::vector<Token>& tokens_;
  Fractions fractions_;
  std::string file_;
  Refusals& refusals_;
  std::size_t at_ = 0;
  After after_ = After::open;
  std::vector<Level> levels_;
  Json root_;
};

Refusal refusal_at(std::string_view file, int line, const Complaint& complaint) {
  return {std::string{file}, line, "", complaint.message, complaint.remedy};
}

/// Poco's own words, made to read as ours.
Complaint grammar_complaint(const std::string& said, bool at_end) {
  if (said.find("Excess characters") != std::string::npos)
    return {"something stands after the end of the value", "keep one value in the file"};
  if (at_end) return {"the text ends too early", "close every { with }, every [ with ]"};
  return {"not JSON: " + said, "check commas, colons and brackets just before"};
}

Result<Json> through_the_gate(std::string_view text, std::string_view file, Fractions fractions) {
  const std::string name{file};
  if (text.substr(0, 3) == "\xef\xbb\xbf") {
    return Refusal{name, 1, "", "starts with a byte order mark", "save it as UTF-8 without one"};
  }
  if (const auto bad = text::first_not_utf8(text)) {
    return Refusal{name, text::line_of(text, *bad), "", fmt::format("byte {} is not UTF-8", *bad + 1), "save the file as UTF-8"};
  }
  Refusals refusals;
  Scanner scanner{text, fractions};
  const bool whole = scanner.scan();
  for (const auto& [line, complaint] : scanner.loose()) refusals.push_back(refusal_at(name, line, complaint));
  std::optional<Refusal> grammar;
  std::size_t reached = 0;
  Json value;
  if (whole && scanner.tokens().empty()) {
    refusals.push_back({name, scanner.last_line(), "", "there is nothing in it", "write one JSON value"});
  } else if (whole) {
    Poco::SharedPtr<Builder> builder{new Builder{scanner.tokens(), fractions, name, refusals}};
    try {
      Poco::JSON::Parser parser{builder};
      parser.setAllowComments(false);
      parser.setDepth(deepest);
      parser.parse(scanner.clean());
      value = builder->take();
    } catch (const Poco::Exception& trouble) {
      const auto* token = builder->trouble();
      grammar = refusal_at(name, token ? token->line : scanner.last_line(), grammar_complaint(trouble.message(), token == nullptr));
    }
    reached = builder->reached();
  }
  for (; reached < scanner.tokens().size(); ++reached) {
    const auto& token = scanner.tokens()[reached];
    for (const auto& complaint : token.complaints) refusals.push_back(refusal_at(name, token.line, complaint));
  }
  if (grammar) refusals.push_back(*grammar);
  if (refusals.empty()) return value;
  std::stable_sort(refusals.begin(), refusals.end(), [](const Refusal& a, const Refusal& b) { return a.line < b.line; });
  return refusals;
}

}  // namespace

Result<Json> parse_json(std::string_view text, std::string_view file) { return through_the_gate(text, file, Fractions::refused); }

Result<Json> parse_json_with_fractions(std::string_view text, std::string_view file) {
  return through_the_gate(text, file, Fractions::kept);
}

Result<Json> parse_json_with_numbers(std::string_view text, std::string_view file) {
  return through_the_gate(text, file, Fractions::marked);
}

std::optional<double> number_of(const Json& value) {
  if (value.is_integer()) return static_cast<double>(value.integer());
  const Json* written = value.is_object() ? value.find(fraction_mark) : nullptr;
  return written == nullptr ? std::nullopt : parse_finite(written->text());
}

}  // namespace tierproof
