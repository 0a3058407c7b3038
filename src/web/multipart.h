#pragma once

#include "message.h"
#include "tierproof/units/result.h"

namespace tierproof::web {

/// What a form with a file came with.
struct FormWithFile {
  Pairs fields;
  std::optional<SentFile> file;  ///< nothing where none was chosen
};

/// Whether a request says that its body is `multipart/form-data`.
bool is_multipart(std::string_view content_type);

/// `multipart/form-data` as browsers post it (RFC 7578): texts in UTF-8, as `parse_urlencoded` takes them, and at most one file.
///
/// Refused: no boundary, or one that RFC 2046 does not allow; a body that does not begin with it or end with the last one (it was cut
/// short); a part without a name, or whose head cannot be read; a second file; a text that is not UTF-8 or holds U+0000; more than 40
/// parts, or more than 64 KB of text. A file field in which nothing was chosen is none.
Result<FormWithFile> parse_multipart(const std::string& content_type, const std::string& body);

}  // namespace tierproof::web
