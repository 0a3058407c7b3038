#pragma once

#include <optional>
#include <string>

#include "database.h"
#include "tierproof/store/record_store.h"

namespace tierproof::sqlite {

/// Checks everything in the file against the log, and the log against itself and `earlier`; complains of what does not hold.
/// @throws Fault only when the file cannot be read at all just now (74, 75)
Verification verify_file(const Database& database, const std::string& kitchen, const std::optional<Head>& earlier);

}  // namespace tierproof::sqlite
