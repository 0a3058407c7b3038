#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/text/json.h"
#include "tierproof/units/mass.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// Reads the members of one JSON object by name, collecting every refusal instead of stopping at the first.
///
/// A missing or ill-typed member is refused once and an empty value stands in, so reading goes on; the caller throws the result
/// away when `refusals` is not empty. `done()` refuses the members that nobody asked for.
class Fields {
 public:
  /// @param value     what should be an object
  /// @param file      file name for refusals
  /// @param path      where the object stands, `parts[2]`; empty at the top
  /// @param refusals  collects; must outlive this
  Fields(const Json& value, std::string file, std::string path, Refusals& refusals);

  bool has(std::string_view key) const;  ///< present and not null
  std::string text(std::string_view key);
  std::optional<std::string> maybe_text(std::string_view key);
  std::int64_t integer(std::string_view key, std::int64_t least, std::int64_t most);
  std::optional<std::int64_t> maybe_integer(std::string_view key, std::int64_t least, std::int64_t most);
  bool flag(std::string_view key, bool otherwise);
  Date date(std::string_view key);
  std::optional<Date> maybe_date(std::string_view key);
  /// A mass as text with its unit (`"450 g"`, `"1.5 kg"`, `"200 mg"`): a bare number is refused.
  Mass mass(std::string_view key);
  std::optional<Mass> maybe_mass(std::string_view key);
  /// One of `choices`; the refusal lists them.
  std::string choice(std::string_view key, const std::vector<std::string>& choices);
  /// Every text of a list; a missing list is empty.
  std::vector<std::string> texts(std::string_view key);
  /// The members of a list; a missing list is empty. Pair with `path_of(key, i)`.
  const Json::Array& list(std::string_view key);
  /// An object member; a missing one is refused and an empty object stands in.
  const Json& object(std::string_view key);
  /// Anything at all; null when missing.
  const Json& any(std::string_view key);
  std::string path_of(std::string_view key) const;
  std::string path_of(std::string_view key, std::size_t index) const;
  void refuse(std::string_view key, std::string message, std::string remedy);
  /// Refuses every member that was not asked for.
  void done();

  const std::string& file() const { return file_; }

 private:
  const Json* take(std::string_view key);
  const Json& value_;
  std::string file_;
  std::string path_;
  Refusals& refusals_;
  std::set<std::string, std::less<>> asked_;
};

}  // namespace tierproof
