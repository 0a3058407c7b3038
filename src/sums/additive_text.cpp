#include "tierproof/sums/additive_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <memory>
#include <mutex>
#include <unordered_map>
#include <utility>

#include "words.h"

namespace tierproof {

struct AdditiveNames {
  /// A name that a row answers to.
  struct Name {
    std::string plain;
    std::vector<std::string> telling;
    bool says_colour;
  };

  std::once_flag asked;
  std::vector<std::vector<Name>> rows;                   ///< of each row, in the order of the rows
  std::unordered_map<std::string, std::size_t> by_name;  ///< the first row that answers to a plain name
};

namespace {

constexpr int first_number = 100;
constexpr int last_number = 1599;
constexpr std::array<std::string_view, 12> roman = {"i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"};

/// Takes a blank or a hyphen, as they stand between the parts of a number.
void skip(std::string_view& text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '-')) text.remove_prefix(1);
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// The names that a row answers to, plain.
///
/// Several names of one additive stand behind each other with commas; a name that enumerates (`white and yellow`) is one name. What
/// stands in brackets at the end is another.
std::vector<std::string> plain_names(const AdditiveTerm& row) {
  std::vector<std::string> names;
  const auto add = [&](std::string_view name) {
    if (std::string plain = plain_words(name); !plain.empty()) names.push_back(std::move(plain));
  };
  for (const std::string* name : {&row.name, &row.print}) {
    add(*name);
    const std::size_t open = name->rfind('(');
    if (open != std::string::npos && open > 0 && name->ends_with(")")) {
      add(std::string_view{*name}.substr(0, open));
      add(std::string_view{*name}.substr(open + 1, name->size() - open - 2));
    }
    if (name->find(" and ") != std::string::npos) continue;
    std::size_t from = 0;
    for (std::size_t at = name->find(", "); at != std::string::npos; at = name->find(", ", from)) {
      add(std::string_view{*name}.substr(from, at - from));
      from = at + 2;
    }
    if (from > 0) add(std::string_view{*name}.substr(from));
  }
  return names;
}

/// The words that tell one colour from another: without its certification (`FD&C`), `No.`, `lake`, the makers' letters behind it, and the
/// word colour itself.
std::vector<std::string> telling_words(std::string_view name) {
  constexpr std::array<std::string_view, 19> passed_over = {
      "ac",      "aluminium", "aluminum", "artificial", "color", "colored", "coloring", "colors", "colour", "colouring",
      "colours", "dye",       "fcf",      "fd",         "food",  "lake",    "lakes",    "no",     "number"};
  std::vector<std::string> words = words_of_name(name);
  for (std::size_t i = 0; i + 1 < words.size(); ++i) {
    if ((words[i] == "fd" || words[i] == "d") && words[i + 1] == "c") words.erase(words.begin() + static_cast<std::ptrdiff_t>(i) + 1);
  }
  std::erase_if(words, [&](const std::string& word) {
    return word == "d" || std::find(passed_over.begin(), passed_over.end(), word) != passed_over.end();
  });
  return words;
}

bool has_colour_word(std::string_view name) { return has_words(name, "colour") || has_words(name, "color"); }

std::vector<AdditiveNames::Name> names_of(const AdditiveTerm& row) {
  std::vector<AdditiveNames::Name> names;
  for (std::string& name : plain_names(row)) {
    AdditiveNames::Name one{{}, telling_words(name), has_colour_word(name)};
    one.plain = std::move(name);
    names.push_back(std::move(one));
  }
  return names;
}

void work_out(AdditiveNames& names, const std::vector<AdditiveTerm>& rows) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    names.rows.push_back(names_of(rows[i]));
    for (const AdditiveNames::Name& name : names.rows.back()) names.by_name.emplace(name.plain, i);
  }
}

std::shared_ptr<const AdditiveNames> names_in(const LabelTerms& terms) {
  if (terms.additive_names) {
    std::call_once(terms.additive_names->asked, [&] { work_out(*terms.additive_names, terms.additives); });
    if (terms.additive_names->rows.size() == terms.additives.size()) return terms.additive_names;
  }
  auto names = std::make_shared<AdditiveNames>();
  work_out(*names, terms.additives);
  return names;
}

}  // namespace

void keep_additive_names(LabelTerms& terms) { terms.additive_names = std::make_shared<AdditiveNames>(); }

std::optional<AdditiveNumber> read_additive_number(std::string_view text) {
  const std::string plain = plain_words(text);
  std::string_view rest{plain};
  if (rest.starts_with("ins")) {
    rest.remove_prefix(3);
  } else if (rest.starts_with("e")) {
    rest.remove_prefix(1);
  } else {
    return std::nullopt;
  }
  skip(rest);
  std::size_t digits = 0;
  int number = 0;
  while (digits < rest.size() && digits < 5 && is_digit(rest[digits])) number = number * 10 + (rest[digits++] - '0');
  if (digits < 3 || digits > 4 || rest.front() == '0' || number < first_number || number > last_number) return std::nullopt;
  AdditiveNumber read{fmt::format("E{}", number), ""};
  rest.remove_prefix(digits);
  skip(rest);
  if (!rest.empty() && rest.front() >= 'a' && rest.front() <= 'k') {
    read.number += rest.front();
    rest.remove_prefix(1);
    skip(rest);
  }
  if (rest.empty()) return read;
  if (rest.front() != '(' || rest.back() != ')') return std::nullopt;
  const std::string_view inside = rest.substr(1, rest.size() - 2);
  if (std::find(roman.begin(), roman.end(), inside) == roman.end()) return std::nullopt;
  read.suffix = rest;
  return read;
}

std::optional<std::string> additive_number(std::string_view text) {
  const std::optional<AdditiveNumber> read = read_additive_number(text);
  return read ? std::optional{read->number} : std::nullopt;
}

const AdditiveTerm* find_additive_by_text(const LabelTerms& terms, std::string_view text) {
  if (const std::optional<AdditiveNumber> read = read_additive_number(text)) {
    if (const AdditiveTerm* row = terms.additive(read->number + read->suffix)) return row;
    return terms.additive(read->number);
  }
  const std::string plain = plain_words(text);
  if (plain.empty()) return nullptr;
  const auto names = names_in(terms);
  if (const auto exact = names->by_name.find(plain); exact != names->by_name.end()) return &terms.additives[exact->second];
  for (std::size_t i = 0; i < names->rows.size(); ++i) {  // `sodium carbonate` is a row of its own beside `sodium carbonates`
    const auto& row = names->rows[i];
    if (std::any_of(row.begin(), row.end(), [&](const AdditiveNames::Name& name) { return same_but_for_number(plain, name.plain); }))
      return &terms.additives[i];
  }
  return nullptr;
}

std::vector<std::string> near_additives(const LabelTerms& terms, std::string_view text) {
  constexpr std::size_t most_shown = 3;
  const std::string plain = plain_words(text);
  if (plain.empty()) return {};
  // A number allows one slip, a name one in five letters: more would suggest what nobody meant.
  const bool numeric = std::any_of(plain.begin(), plain.end(), is_digit) && plain.size() <= 9;
  const std::size_t most = numeric ? 1 : std::max<std::size_t>(1, plain.size() / 5);
  std::string digits = plain;
  std::erase_if(digits, [](char c) { return c == ' ' || c == '-'; });
  std::vector<std::pair<std::size_t, std::string>> near;
  const auto names = names_in(terms);
  for (std::size_t i = 0; i < names->rows.size(); ++i) {
    const AdditiveTerm& row = terms.additives[i];
    std::size_t edits = most + 1;
    const std::string number = plain_words(row.number);
    if (numeric && read_additive_number(row.number))
      edits = std::min(edits, digits == number.substr(1) ? 0 : edits_between(digits, number, most));
    for (const AdditiveNames::Name& name : names->rows[i]) {
      if (!numeric) edits = std::min(edits, edits_between(plain, name.plain, most));
    }
    if (edits <= most) near.emplace_back(edits, read_additive_number(row.number) ? fmt::format("{} ({})", row.number, row.name) : row.name);
  }
  std::sort(near.begin(), near.end());
  std::vector<std::string> shown;
  for (const auto& [edits, words] : near) {
    if (shown.size() < most_shown) shown.push_back(words);
  }
  return shown;
}

namespace {

std::string trimmed_piece(std::string_view text) {
  const std::size_t from = text.find_first_not_of(" .*");
  if (from == std::string_view::npos) return {};
  return std::string{text.substr(from, text.find_last_not_of(" .*") + 1 - from)};
}

/// `text` cut where one of `marks` stands; a comma inside a number (`propane-1,2-diol`) cuts nothing.
std::vector<std::string> cut_at(std::string_view text, std::string_view marks) {
  std::vector<std::string> pieces;
  std::size_t from = 0;
  for (std::size_t i = 0; i <= text.size(); ++i) {
    const bool in_number = i > 0 && i + 1 < text.size() && text[i] == ',' && is_digit(text[i - 1]) && is_digit(text[i + 1]);
    if (i < text.size() && (in_number || marks.find(text[i]) == std::string_view::npos)) continue;
    if (std::string piece = trimmed_piece(text.substr(from, i - from)); !piece.empty()) pieces.push_back(std::move(piece));
    from = i + 1;
  }
  return pieces;
}

std::vector<std::string> cut_at_and(std::string_view text) {
  constexpr std::string_view joint = " and ";
  std::vector<std::string> pieces;
  std::size_t from = 0;
  const std::string plain = plain_words(text);
  for (std::size_t at = plain.find(joint); at != std::string::npos; at = plain.find(joint, from)) {
    pieces.push_back(plain.substr(from, at - from));
    from = at + joint.size();
  }
  if (from == 0) return {std::string{text}};
  pieces.push_back(plain.substr(from));
  return pieces;
}

/// The numbers that stand in a piece among other words: `colour E 102`. One that cannot be read is put into `open`.
std::vector<std::string> numbers_among(std::string_view piece, std::string& open) {
  const std::vector<std::string> words = words_of_name(piece);
  std::vector<std::string> numbers;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const bool mark_alone = (words[i] == "e" || words[i] == "ins") && i + 1 < words.size() && is_digit(words[i + 1].front());
    const std::string text = mark_alone ? words[i] + words[i + 1] : words[i];
    const std::size_t digits = text.starts_with("ins") ? 3 : 1;
    if (text.size() < digits + 3 || (!text.starts_with("ins") && !text.starts_with("e")) || !is_digit(text[digits]) ||
        !is_digit(text[digits + 1]) || !is_digit(text[digits + 2]))
      continue;
    if (const auto read = read_additive_number(text)) {
      numbers.push_back(read->number + read->suffix);
    } else {
      open = text;
    }
  }
  return numbers;
}

/// Reads a text from its largest pieces to its smallest.
class AdditiveReader {
 public:
  AdditiveReader(const LabelTerms& terms, AdditiveText& into) : terms_{terms}, into_{into} {}

  void read(std::string_view text) {
    if (whole(text)) return;
    for (const std::string& chunk : cut_at(text, "()[];:")) {
      if (whole(chunk)) continue;
      for (const std::string& piece : cut_at(chunk, ",/+")) {
        if (whole(piece)) continue;
        for (const std::string& last : cut_at_and(piece)) {
          if (!whole(last)) smallest(last);
        }
      }
    }
    const bool titled = !into_.class_title.empty() || colour_named_;
    if (into_.open.empty() && titled && (!unread_.empty() || !resolved_)) into_.open = unread_.empty() ? trimmed_piece(text) : unread_;
  }

 private:
  bool whole(std::string_view text) {
    const AdditiveTerm* row = find_additive_by_text(terms_, text);
    const std::optional<AdditiveNumber> read = read_additive_number(text);
    if (row == nullptr && !read) return false;
    found(read ? read->number + read->suffix : row->number, read ? "" : trimmed_piece(text));
    return true;
  }

  void found(const std::string& number, const std::string& words) {
    resolved_ = true;
    for (AdditiveInText& known : into_.found) {
      if (known.number.substr(0, known.number.find('(')) != number.substr(0, number.find('('))) continue;
      if (known.words.empty()) known.words = words;
      return;
    }
    into_.found.push_back({number, words});
  }

  void smallest(const std::string& piece) {
    if (std::find(roman.begin(), roman.end(), piece) != roman.end()) return;  // of `E471(i)`
    if (const std::string title = title_of(piece); !title.empty()) {
      if (into_.class_title.empty()) into_.class_title = title;
      return;
    }
    std::vector<std::string> numbers = numbers_among(piece, into_.open);
    for (const std::string& number : numbers) found(number, "");
    const std::vector<std::string> telling = telling_words(piece);
    if (telling.empty()) {
      colour_named_ = true;
      return;
    }
    const bool says_colour = words_of_name(piece).size() > telling.size();
    const auto names = names_in(terms_);
    for (std::size_t i = 0; i < names->rows.size(); ++i) {
      for (const AdditiveNames::Name& name : names->rows[i]) {
        if (name.telling != telling || (!says_colour && name.says_colour)) continue;  // `caramel` is no `caramel colour`
        found(terms_.additives[i].number, piece);
        return;
      }
    }
    const std::string plain = plain_words(piece);
    colour_named_ = colour_named_ || plain.starts_with("fd&c") || plain.starts_with("d&c");  // certified: a colour, whichever it is
    if (numbers.empty() && unread_.empty()) unread_ = piece;
  }

  /// The class title of the law that `piece` is, in singular or plural; else nothing.
  std::string title_of(std::string_view piece) const {
    const std::string plain = plain_words(piece);
    for (const std::string& title : terms_.class_titles) {
      if (same_but_for_number(plain_words(title), plain)) return title;
    }
    return {};
  }

  const LabelTerms& terms_;
  AdditiveText& into_;
  bool resolved_ = false;
  bool colour_named_ = false;  ///< a piece says that it is a colour, and not which
  std::string unread_;         ///< the first piece of which nothing is known
};

}  // namespace

AdditiveText read_additive_text(const LabelTerms& terms, std::string_view text) {
  AdditiveText read;
  AdditiveReader{terms, read}.read(text);
  return read;
}

}  // namespace tierproof
