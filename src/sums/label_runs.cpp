#include "label_runs.h"

#include <algorithm>
#include <cctype>
#include <optional>

#include "tierproof/sums/additive_text.h"
#include "words.h"

namespace tierproof {
namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
char upper(char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; }
/// Bytes of a letter outside ASCII count as letters, so that a word is never cut inside one.
bool in_word(char c) { return static_cast<unsigned char>(c) >= 0x80 || std::isalnum(static_cast<unsigned char>(c)) != 0; }

bool stands_at(std::string_view text, std::size_t at, std::string_view word) {
  if (word.empty() || text.size() - at < word.size() || !same_words(text.substr(at, word.size()), word)) return false;
  const bool starts = at == 0 || !in_word(text[at - 1]);
  const std::size_t end = at + word.size();
  return starts && (end == text.size() || !in_word(text[end]));
}

/// Length of the longest of the allergen's names that stands at `at` as whole words; 0 when none does.
std::size_t name_at(std::string_view text, std::size_t at, const AllergenTerm& allergen) {
  std::size_t longest = 0;
  for (const std::string& name : allergen.names) {
    if (name.size() > longest && stands_at(text, at, name)) longest = name.size();
  }
  if (allergen.word.size() > longest && stands_at(text, at, allergen.word)) longest = allergen.word.size();
  return longest;
}

bool names(std::string_view text, const AllergenTerm& allergen) {
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (name_at(text, at, allergen) > 0) return true;
  }
  return false;
}

bool is_additive(const DeclaredPart& part) { return !part.additive.empty() || !part.additive_class.empty(); }

bool brings(const DeclaredPart& part, const AllergenTerm& allergen) {
  return std::find(part.allergens.begin(), part.allergens.end(), allergen.key) != part.allergens.end();
}

const std::string& printed_name(const DeclaredPart& part) { return part.name.empty() ? part.additive : part.name; }

/// Whether the part or one below it shows the allergen once printed.
bool shows(const DeclaredPart& part, const AllergenTerm& allergen) {
  return brings(part, allergen) || names(printed_name(part), allergen) ||
         std::any_of(part.parts.begin(), part.parts.end(), [&](const DeclaredPart& below) { return shows(below, allergen); });
}
bool shows_any(const DeclaredPart& part, const std::vector<const AllergenTerm*>& allergens) {
  return std::any_of(allergens.begin(), allergens.end(), [&](const AllergenTerm* allergen) { return shows(part, *allergen); });
}

/// Whether a species is printed with some part: by its name, or behind a part that brings the allergen.
bool species_stands_in(const std::vector<DeclaredPart>& parts, const AllergenTerm& allergen, const std::string& species) {
  return std::any_of(parts.begin(), parts.end(), [&](const DeclaredPart& part) {
    return brings(part, allergen) || has_words(printed_name(part), species) || species_stands_in(part.parts, allergen, species);
  });
}

/// Without processing aids and additives that were carried over and do nothing in the cake, unless they show an allergen.
std::vector<DeclaredPart> working(const std::vector<DeclaredPart>& parts, const PrintTerms& ask) {
  std::vector<DeclaredPart> kept;
  for (const DeclaredPart& part : parts) {
    const bool idle = part.processing_aid || (is_additive(part) && !part.works_in_cake);
    if (idle && !shows_any(part, ask.allergens)) continue;
    kept.push_back(part);
    kept.back().parts = working(part.parts, ask);
  }
  return kept;
}

/// Whether a part is an additive, or its name alone says so and nobody decided that it does nothing in the cake.
bool acts_as_additive(const DeclaredPart& part, const LabelTerms& terms) {
  if (is_additive(part)) return true;
  if (!part.works_in_cake) return false;
  const AdditiveText text = read_additive_text(terms, part.name);
  return !text.found.empty() || !text.open.empty();
}

/// Whether the law has a word behind the name of a part.
bool has_mark(const DeclaredPart& part, const LabelTerms& terms) {
  return std::any_of(terms.mark_wordings.begin(), terms.mark_wordings.end(), [&](const MarkWording& row) {
    return row.placed == "ingredient" && std::find(part.marks.begin(), part.marks.end(), row.mark) != part.marks.end();
  });
}

/// What must stay by a relief: parts that show an allergen or a mark, and additives that do something in the cake unless it frees them too.
std::vector<DeclaredPart> relieved(const std::vector<DeclaredPart>& parts, const PrintTerms& ask) {
  std::vector<DeclaredPart> kept;
  for (const DeclaredPart& part : parts) {
    const bool works = !ask.relief->additives_too && acts_as_additive(part, *ask.terms);
    if (works || has_mark(part, *ask.terms) || shows_any(part, ask.allergens)) {
      kept.push_back(part);
      continue;
    }
    for (DeclaredPart& below : relieved(part.parts, ask)) kept.push_back(std::move(below));
  }
  return kept;
}

/// Name that an additive is printed by: the law's where it has one of its own; where additives go by name and the pack gives none, that
/// of the table; else the pack's, and always the pack's when it shows an allergen of `allergens` that the other would not. Where the row is
/// flagged `lake`, that word of the pack's name stays behind the law's.
std::string additive_name(const std::string& number, const std::string& name, const std::vector<const AllergenTerm*>& allergens,
                          const LabelTerms& terms) {
  const AdditiveTerm* row = find_additive(terms, number, name);
  if (row == nullptr) return name;
  const bool only_a_number = terms.additive_form.form == "name" && (name.empty() || read_additive_number(name));
  const std::string& printed = !row->print.empty() ? row->print : only_a_number ? row->name : name;
  const bool hides = std::any_of(allergens.begin(), allergens.end(),
                                 [&](const AllergenTerm* allergen) { return names(name, *allergen) && !names(printed, *allergen); });
  if (hides || printed.empty()) return name;
  const bool keeps_lake = has_flag(row, "lake");
  return keeps_lake && has_words(name, "lake") && !has_words(printed, "lake") ? printed + " Lake" : printed;
}

/// Class title: that of the pack, else the usual one of the table, else none. With a small first letter, but for one in another language
/// that the rules write otherwise.
std::string class_title(const std::string& title, const std::string& number, const std::string& name, const LabelTerms& terms) {
  std::string words = title;
  if (words.empty()) {
    const AdditiveTerm* row = find_additive(terms, number, name);
    if (row == nullptr || row->classes.empty()) return {};
    words = row->classes.front();
  }
  for (const ClassTitleTerm& known : terms.class_words) {
    for (const auto& [language, other] : known.other_titles) {
      if (same_words(other, words)) return other;
    }
  }
  words.front() = lower(words.front());
  return words;
}

/// ` (preservative)` where additives go by name and the law wants this class behind it; else nothing.
std::string class_behind(const std::string& title, const LabelTerms& terms) {
  const auto& wanted = terms.additive_form.with_class;
  const bool told = terms.additive_form.form == "name" && !title.empty() &&
                    std::any_of(wanted.begin(), wanted.end(), [&](const std::string& each) { return same_words(each, title); });
  return told ? " (" + title + ")" : std::string{};
}

/// `raising agents` of `raising agent`, in whichever language the title is; one that the rules do not know stays.
std::string several(const std::string& title, const LabelTerms& terms) {
  for (const ClassTitleTerm& words : terms.class_words) {
    if (same_words(words.title, title)) return words.plural;
    for (const auto& [language, other] : words.other_titles) {
      if (same_words(other, title)) return words.other_plurals.at(language);
    }
  }
  return title;
}

class Printer {
 public:
  explicit Printer(const PrintTerms& ask) : ask_{ask} {}

  /// Name, sub-list, and the words of those of `bring` that neither shows.
  void item(const std::string& name, const std::vector<DeclaredPart>& parts, const std::vector<const AllergenTerm*>& bring,
            const std::vector<std::string>& marks) {
    std::vector<const AllergenTerm*> here;  // tied to this name, since no part of it shows them
    for (const AllergenTerm* allergen : ask_.allergens) {
      if (std::none_of(parts.begin(), parts.end(), [&](const DeclaredPart& part) { return shows(part, *allergen); }))
        here.push_back(allergen);
    }
    emphasised_name(name, here);
    marked(marks);
    if (!parts.empty()) {
      out_.plain(" (");
      sub_list(parts);
      out_.plain(")");
    }
    bool open = false;
    for (const AllergenTerm* allergen : bring) {
      if (std::find(ask_.without_words.begin(), ask_.without_words.end(), allergen) != ask_.without_words.end()) continue;
      const std::vector<std::string> species = species_of(*allergen, ask_.foods);
      if (species.empty() && (std::find(here.begin(), here.end(), allergen) == here.end() || names(name, *allergen))) continue;
      for (const std::string& word : species.empty() ? std::vector<std::string>{allergen->word} : species) {
        if (!species.empty() && (has_words(name, word) || species_stands_in(parts, *allergen, word))) continue;
        out_.plain(open ? ", " : " (");
        emphasised(word);
        open = true;
      }
    }
    if (open) out_.plain(")");
  }

  void plain(std::string_view text) { out_.plain(text); }
  std::vector<Run> take() { return out_.take(); }

 private:
  void emphasised(std::string_view word) {
    if (ask_.terms->emphasis == "none") {
      out_.plain(word);
    } else {
      out_.emphasised(emphasised_word(word, ask_.terms->emphasis));
    }
  }

  /// The words that the law has behind the name of what is marked: `(nano)`.
  void marked(const std::vector<std::string>& marks) {
    for (const MarkWording& row : ask_.terms->mark_wordings) {
      if (row.placed != "ingredient" || std::find(marks.begin(), marks.end(), row.mark) == marks.end()) continue;
      out_.plain(row.wording.starts_with('(') ? " " + row.wording : " (" + row.wording + ")");
    }
  }

  void emphasised_name(const std::string& name, const std::vector<const AllergenTerm*>& allergens) {
    std::size_t plain_from = 0;
    for (std::size_t at = 0; at < name.size();) {
      std::size_t longest = 0;
      for (const AllergenTerm* allergen : allergens) longest = std::max(longest, name_at(name, at, *allergen));
      if (longest == 0) {
        ++at;
        continue;
      }
      out_.plain(std::string_view{name}.substr(plain_from, at - plain_from));
      emphasised(std::string_view{name}.substr(at, longest));
      at += longest;
      plain_from = at;
    }
    out_.plain(std::string_view{name}.substr(plain_from));
  }

  void part(const DeclaredPart& part) {
    std::vector<const AllergenTerm*> bring;
    for (const AllergenTerm* allergen : ask_.allergens) {
      if (brings(part, *allergen)) bring.push_back(allergen);
    }
    const std::string name =
        is_additive(part) ? additive_name(part.additive, printed_name(part), ask_.allergens, *ask_.terms) : printed_name(part);
    item(name, part.parts, bring, part.marks);
    if (is_additive(part)) plain(class_behind(class_title(part.additive_class, part.additive, part.name, *ask_.terms), *ask_.terms));
  }

  std::string title_of(const DeclaredPart& part) const {
    if (!is_additive(part) || ask_.terms->additive_form.form == "name") return {};
    return class_title(part.additive_class, part.additive, part.name, *ask_.terms);
  }

  void sub_list(const std::vector<DeclaredPart>& parts) {
    bool after_class = false;
    for (std::size_t i = 0; i < parts.size();) {
      if (i > 0) out_.plain(after_class ? "; " : ", ");
      const std::string title = title_of(parts[i]);
      std::size_t end = i + 1;
      while (!title.empty() && end < parts.size() && same_words(title_of(parts[end]), title)) ++end;
      after_class = !title.empty();
      if (after_class && !(end == i + 1 && same_words(printed_name(parts[i]), title)))
        out_.plain((end > i + 1 ? several(title, *ask_.terms) : title) + ": ");
      for (std::size_t each = i; each < end; ++each) {
        if (each > i) out_.plain(", ");
        part(parts[each]);
      }
      i = end;
    }
  }

  const PrintTerms& ask_;
  RunBuilder out_;
};

}  // namespace

void RunBuilder::add(std::string_view text, bool emphasised) {
  if (text.empty()) return;
  if (!runs_.empty() && runs_.back().emphasised == emphasised) {
    runs_.back().text += text;
  } else {
    runs_.push_back(Run{std::string{text}, emphasised});
  }
}

void RunBuilder::runs(const std::vector<Run>& more) {
  for (const Run& run : more) add(run.text, run.emphasised);
}

std::string text_of(const std::vector<Run>& runs) {
  std::string text;
  for (const Run& run : runs) text += run.text;
  return text;
}

bool same_words(std::string_view one, std::string_view other) {
  return std::equal(one.begin(), one.end(), other.begin(), other.end(), [](char a, char b) { return lower(a) == lower(b); });
}

const std::string& printed_name(const IngredientFacts& food) { return food.label_name.empty() ? food.id.text() : food.label_name; }

namespace {

/// The capital of a letter from U+00E0 to U+017F that has one of its own there; else the letter itself.
unsigned capital_of(unsigned letter) {
  if (letter >= 0xE0 && letter <= 0xFE) return letter == 0xF7 ? letter : letter - 0x20;  // but the division sign
  if (letter == 0xFF) return 0x178;
  if (letter == 0x131 || letter == 0x138 || letter == 0x149 || letter < 0x100 || letter > 0x17E) return letter;
  const bool even_is_small = (letter >= 0x139 && letter <= 0x148) || letter >= 0x179;
  return (letter % 2 == 0) == even_is_small ? letter - 1 : letter;
}

}  // namespace

std::string emphasised_word(std::string_view word, const std::string& emphasis) {
  std::string text{word};
  if (emphasis.find("capitals") == std::string::npos) return text;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto lead = static_cast<unsigned char>(text[i]);
    if (lead < 0xC3 || lead > 0xC5 || i + 1 == text.size()) {
      text[i] = upper(text[i]);
      continue;
    }
    const unsigned letter = capital_of((lead & 0x1FU) << 6U | (static_cast<unsigned char>(text[i + 1]) & 0x3FU));
    text[i] = static_cast<char>(0xC0U | letter >> 6U);
    text[++i] = static_cast<char>(0x80U | (letter & 0x3FU));
  }
  return text;
}

std::string plain_number(std::string_view number) {
  std::string plain;
  for (const char c : number) {
    if (c == ' ' || c == '-') continue;
    plain += plain.empty() ? upper(c) : lower(c);
  }
  return plain;
}

const AdditiveTerm* find_additive(const LabelTerms& terms, const std::string& number, const std::string& name) {
  if (const AdditiveTerm* row = find_additive_by_text(terms, number.empty() ? name : number)) return row;
  if (!number.empty()) return nullptr;
  const AdditiveText text = read_additive_text(terms, name);
  return text.found.size() == 1 ? find_additive_by_text(terms, text.found.front().number) : nullptr;
}

bool has_flag(const AdditiveTerm* row, std::string_view flag) {
  return row != nullptr && std::find(row->flags.begin(), row->flags.end(), flag) != row->flags.end();
}

std::vector<Run> print_ingredient(const IngredientFacts& food, const PrintTerms& ask) {
  const std::vector<DeclaredPart> parts = working(ask.relief != nullptr ? relieved(food.parts, ask) : food.parts, ask);
  Printer printer{ask};
  if (food.additive.empty() && food.additive_class.empty()) {
    printer.item(printed_name(food), parts, ask.allergens, food.marks);
    return printer.take();
  }
  const std::string title = class_title(food.additive_class, food.additive, food.label_name, *ask.terms);
  const bool by_class = ask.terms->additive_form.form != "name";
  if (by_class && !title.empty() && !same_words(title, printed_name(food))) printer.plain(title + ": ");
  printer.item(additive_name(food.additive, printed_name(food), ask.allergens, *ask.terms), parts, ask.allergens, food.marks);
  printer.plain(class_behind(title, *ask.terms));
  return printer.take();
}

std::vector<std::string> species_of(const AllergenTerm& allergen, const std::vector<const IngredientFacts*>& foods) {
  std::vector<std::string> species;
  if (!allergen.name_species) return species;
  for (const IngredientFacts* food : foods) {
    for (const AllergenStatement& said : food->allergens) {
      if (said.allergen == allergen.key && said.presence == Presence::contains && !said.species.empty()) species.push_back(said.species);
    }
  }
  std::sort(species.begin(), species.end());
  species.erase(std::unique(species.begin(), species.end()), species.end());
  return species;
}

std::vector<std::string> words_for(const AllergenTerm& allergen, const std::vector<const IngredientFacts*>& foods) {
  std::vector<std::string> species = species_of(allergen, foods);
  return species.empty() ? std::vector<std::string>{allergen.word} : species;
}

bool clear_reference(std::string_view text, const AllergenTerm& allergen) { return names(text, allergen); }

bool shown_by_name(const IngredientFacts& food, const AllergenTerm& allergen, const std::vector<std::string>& words) {
  const bool by_species = allergen.name_species && words != std::vector<std::string>{allergen.word};
  const auto shown = [&](const std::string& text, const std::string& word) {
    return by_species ? has_words(text, word) : names(text, allergen);
  };
  const auto in_any = [&](const auto& self, const std::vector<DeclaredPart>& parts, const std::string& word) -> bool {
    return std::any_of(parts.begin(), parts.end(),
                       [&](const DeclaredPart& part) { return shown(printed_name(part), word) || self(self, part.parts, word); });
  };
  return std::all_of(words.begin(), words.end(),
                     [&](const std::string& word) { return shown(printed_name(food), word) || in_any(in_any, food.parts, word); });
}

}  // namespace tierproof
