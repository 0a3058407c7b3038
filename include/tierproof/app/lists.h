#pragma once

#include <functional>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/text/data_table.h"

namespace tierproof {

/// One list of what is recorded: the things or events in force of one kind, a row each (or a row a part, where they have parts), in the
/// order in which they were first recorded.
///
/// Headings never change: whoever keeps a spreadsheet may rely on them. A heading says its unit (`mass_g`); `..._utc` and `..._local` are
/// moments, flags are `yes` or `no`, sealed words that were erased are `(erased)`, and what is not recorded is empty. Every list but
/// `notes` ends with `record_headings()`.
struct KitchenList {
  std::string name;                ///< `packs`
  std::string holds;               ///< in a few words, for the list of lists
  std::vector<std::string> kinds;  ///< kinds of notes that it shows
  std::vector<std::string> headings;
  /// At least the last `newest` rows, and only whole things: reading the last few of many does not take as long as reading all.
  std::function<std::vector<DataRow>(const Session&, std::size_t newest)> rows;
};

/// Every list, those of things before those of events.
const std::vector<KitchenList>& kitchen_lists();
/// The list called `name`, or nothing.
const KitchenList* find_list(std::string_view name);
/// How a row came into the records: `note`, `happened_utc`, `happened_local`, `recorded_utc`, `by`, `how`, `corrected`.
const std::vector<std::string>& record_headings();

constexpr std::size_t all_rows = std::numeric_limits<std::size_t>::max();
/// The list as a table, of the last `newest` rows. @throws Fault as reading the records does
DataTable table_of(const KitchenList& list, const Session& session, std::size_t newest = all_rows);
/// The same for a file that leaves the kitchen: of a demo, every row ends with `DEMO` under the heading `demo`.
DataTable table_to_save(const KitchenList& list, const Session& session);
/// `table` of this kitchen for a file: of a demo, every row ends with `DEMO` under the heading `demo`.
DataTable marked_demo(DataTable table, const Session& session);

}  // namespace tierproof
