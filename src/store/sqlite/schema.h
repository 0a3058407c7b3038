#pragma once

#include <memory>
#include <string>

#include "database.h"

namespace tierproof::sqlite {

/// Makes the log tables and the views in an empty file, and marks the file as ours.
void make_schema(const Database& database, const std::string& kitchen);
/// Makes the two view tables. @pre they are not there
void make_views(const Database& database);
/// Refuses a file that is not a kitchen file or that a newer program made. @throws Fault 78
/// @return the kitchen's UUID
std::string check_schema(const Database& database, const std::string& path);

}  // namespace tierproof::sqlite
