#pragma once

#include "database.h"
#include "tierproof/store/access_store.h"

namespace tierproof::sqlite {

/// Makes the tables in a file that is empty yet and marks it as ours; whoever else makes them at the same moment comes before or after.
/// @throws Fault 78 if it is another file or a newer program's
void make_access_schema(const Database& database, const std::string& path);

}  // namespace tierproof::sqlite
