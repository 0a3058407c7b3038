#pragma once

#include "visit.h"

namespace tierproof::web {

/// Everything of one cake, whether it is still here or left.
WebAnswer cake_page(Visit& visit);
/// The papers that were issued of a cake, with buttons for new ones.
Html papers_of_cake(Visit& visit, const CakeId& cake);

}  // namespace tierproof::web
