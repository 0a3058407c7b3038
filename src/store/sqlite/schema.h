#pragma once

#include <memory>
#include <string>

#include "database.h"

namespace tierproof::sqlite {

/// Makes the log tables and the views in an empty file, and marks the file as ours.
void make_schema(const Database& database, const std::string& kitchen);
/// Makes the view tables. @pre they are not there
void make_views(const Database& database);
/// Drops every view that this or an earlier schema had.
void drop_views(const Database& database);
/// Marks the file as one of this schema.
void mark_schema(const Database& database);

/// Whether the file, which is ours, is of an earlier schema: its log is the same, its views are to be made anew.
bool of_earlier_schema(const Database& database);

struct SchemaFound {
  std::string kitchen;         ///< its UUID
  bool earlier_views = false;  ///< `of_earlier_schema`
};
/// Refuses a file that is not a kitchen file or that a newer program made. @throws Fault 78
SchemaFound check_schema(const Database& database, const std::string& path);

}  // namespace tierproof::sqlite
