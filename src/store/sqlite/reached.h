#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "database.h"
#include "tierproof/store/record_store.h"

namespace tierproof::sqlite {

std::vector<StoredThing> things_called(const Database& database, const std::string& kitchen, std::string_view name);

/// Walks `view_edge` by number alone, and looks up the words of what it reached afterwards. @pre inside a transaction
std::vector<StoredThing> reached(const Database& database, const std::string& kitchen, const std::vector<std::string>& names, Reach way);

}  // namespace tierproof::sqlite
