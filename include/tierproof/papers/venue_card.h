#pragma once

#include <string>
#include <vector>

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"

namespace tierproof {

/// One allergen with its word in each tier; none is left blank.
struct VenueAllergen {
  std::string name;                ///< `almonds`
  std::vector<std::string> words;  ///< as of `AllergenLine::word`, one a tier, in the order of `VenueCardContent::tiers`
};

/// What the card says that stands beside the whole cake at the venue. It holds nothing of the customer.
struct VenueCardContent {
  bool demo = false;
  std::string stop;                      ///< `DO NOT HAND OVER. Why stands on ...`; empty when nothing stops it
  std::vector<std::string> business;     ///< name and address lines
  std::string reference;                 ///< `cake-1`
  std::string name;                      ///< of the cake
  std::string event;                     ///< `For 2 May 2026`
  std::string together;                  ///< `Tiers are cut and served together: treat the whole cake as containing all of these:`
  std::vector<std::string> all;          ///< what any tier contains, or may for all anyone knows: `almonds (not known: treat as contained)`
  std::vector<std::string> may_contain;  ///< of the rest, what any tier may contain
  std::vector<std::string> tiers;        ///< their names, in the order that they were built
  std::vector<VenueAllergen> by_tier;    ///< of `all` and `may_contain`
  std::vector<std::string> not_an_ingredient;  ///< every other allergen of the rules
  std::vector<LabelledText> service;           ///< what to take out before cutting, keep and eat by, egg, whom to ask
  std::vector<std::string> cautions;
  std::string head;   ///< short head
  std::string drawn;  ///< when, from how many notes
};

/// Paper that the card is cut to, or printed on.
enum class CardPaper { a5, a4, half_letter, letter };

/// Lays out the card, upright, on one page, in the largest type that fits: letters of its table at least 2 mm high (capitals).
/// Refused: words that cannot be set, more than one page holds even so; the next larger paper is named.
Result<Pages> lay_out_venue_card(const VenueCardContent& content, CardPaper paper, const Fonts& fonts);

}  // namespace tierproof
