#pragma once

#include <string>
#include <vector>

#include "tierproof/papers/content.h"
#include "tierproof/papers/pages.h"
#include "tierproof/papers/sheet.h"

namespace tierproof {

/// One cake of the list, with a word for every allergen of its group.
struct CounterCake {
  std::string reference;  ///< `cake-1`
  std::string name;       ///< of the cake
  std::string event;      ///< `for 2 May 2026`
  bool handed_over = false;
  bool stopped = false;            ///< nobody may release it as it is; why stands on its record, since it may tell of a customer
  std::vector<std::string> words;  ///< as of `AllergenLine::word`
};

/// Cakes that are judged by the same label rules.
struct CounterGroup {
  std::string rules;                   ///< their title
  std::vector<std::string> allergens;  ///< in the order of the law's list
  std::vector<CounterCake> cakes;
};

/// What the list says that lies on the counter. It holds nothing of a customer.
struct CounterListContent {
  bool demo = false;
  std::vector<std::string> business;  ///< name and address lines
  std::string which;                  ///< `cakes that are not handed over yet`, `cakes for 1 May 2026 to 7 May 2026`
  std::vector<CounterGroup> groups;
  std::vector<std::string> left_out;  ///< `cake-3 (Lemon cake): what it is made of is not recorded`
  std::string valid;                  ///< for which cakes, and since when
  std::vector<std::string> cautions;
  std::string head;   ///< short head
  std::string drawn;  ///< when, from how many notes
};

/// Lays out the list across the paper: allergens down, cakes across, as many a page as stay legible (letters of 2 mm and more, capitals),
/// with the legend and the names of the cakes on every page. Refused: words that cannot be set, a list without a cake.
Result<Pages> lay_out_counter_list(const CounterListContent& content, SheetPaper paper, const Fonts& fonts);

}  // namespace tierproof
