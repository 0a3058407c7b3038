#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tierproof/sums/declaration.h"

namespace tierproof {

/// Builds runs, joining neighbours of one face.
class RunBuilder {
 public:
  void plain(std::string_view text) { add(text, false); }
  void emphasised(std::string_view text) { add(text, true); }
  void runs(const std::vector<Run>& more);
  std::vector<Run> take() { return std::move(runs_); }

 private:
  void add(std::string_view text, bool emphasised);
  std::vector<Run> runs_;
};

/// What decides how one entry of the list is printed, beside its food.
struct PrintTerms {
  std::vector<const AllergenTerm*> allergens;  ///< declared ones that the food brings, in the law's order
  const LabelTerms* terms = nullptr;
  const ReliefTerm* relief = nullptr;                ///< by which its parts may be left out
  std::vector<const AllergenTerm*> without_words{};  ///< of `allergens`, those whose word is not added behind: it stands elsewhere
  std::vector<const IngredientFacts*> foods{};       ///< all that the entry stands for, for their species
};

/// The species that `foods` give for an allergen where the law asks for them, each once.
std::vector<std::string> species_of(const AllergenTerm& allergen, const std::vector<const IngredientFacts*>& foods);
/// The words for an allergen of `foods`: each species where the law asks for it and a specification gives it, else the law's word.
std::vector<std::string> words_for(const AllergenTerm& allergen, const std::vector<const IngredientFacts*>& foods);
/// Whether a name of the allergen stands in `text` as whole words.
bool clear_reference(std::string_view text, const AllergenTerm& allergen);
/// Whether the printed name or a printed part of `food` shows the allergen by a clear reference; where its species have to be named,
/// whether all of `words` stand there.
bool shown_by_name(const IngredientFacts& food, const AllergenTerm& allergen, const std::vector<std::string>& words);

/// One entry of the ingredient list in runs: name, sub-list, emphasis.
std::vector<Run> print_ingredient(const IngredientFacts& food, const PrintTerms& ask);

/// `word` as it is emphasised: in capitals when `emphasis` says so (ASCII, Latin-1 and Latin Extended-A letters;
/// ß stays).
std::string emphasised_word(std::string_view word, const std::string& emphasis);

/// `E450`, `E150a`: blanks and hyphens out, capital E, small letter. For a number that cannot be read as one.
std::string plain_number(std::string_view number);
/// The row of an additive by its number, with or without a bracketed suffix (`E450(i)`), or without a number by its name, the
/// one additive that it tells of (`read_additive_text`); or nothing.
const AdditiveTerm* find_additive(const LabelTerms& terms, const std::string& number, const std::string& name);
bool has_flag(const AdditiveTerm* row, std::string_view flag);  ///< `soy-exempt`; never of no row
bool same_words(std::string_view one, std::string_view other);  ///< but for ASCII case

/// Name of a food as printed: its label name, or its id when it has none.
const std::string& printed_name(const IngredientFacts& food);

}  // namespace tierproof
