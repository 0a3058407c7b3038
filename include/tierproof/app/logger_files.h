#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/recording.h"
#include "tierproof/imports/logger_file.h"

namespace tierproof {

/// A file that is read piece by piece, and more than once: each `open` begins at its first byte.
struct PiecewiseFile {
  std::string name;
  std::function<NextPiece()> open;
};
/// The file at `path`, in pieces of 64 KiB. Reading it throws Fault 66 if it cannot be read, 74 if reading fails.
PiecewiseFile file_in_pieces(const std::string& path);
/// A text at hand, as one piece.
PiecewiseFile text_in_one_piece(const GivenDocument& document);

/// What is asked of a logger's file.
struct LoggerFile {
  std::string probe;
  std::string about;
  std::string purpose;  ///< empty: as in `ReadingTyped`
  PiecewiseFile file;
  GivenDocument column_map;
  std::string format;  ///< name of the column map
  std::string column;  ///< of the temperatures, where the map is not to choose it; may be empty
};

/// What became of a logger's file, or would.
struct FileReport {
  std::string file;  ///< its name, without folders
  std::string sha256;
  std::int64_t bytes = 0;
  std::string format;
  std::string column;
  std::string zone;  ///< that its local times were told by; empty if it has none
  FileSeen seen;
  LoggedReading first;  ///< of the file, in time order
  LoggedReading last;
  std::vector<LoggedReading> head;  ///< the first three in time order
  std::vector<LoggedReading> tail;  ///< the last three that are not in `head`
  std::int64_t fresh = 0;           ///< not recorded before
  std::int64_t recorded = 0;        ///< recorded before, value and all
  std::int64_t repeated = 0;        ///< rows that say again what another row of the file says
  std::int64_t disputed = 0;        ///< fresh, with another value for an instant that has one: neither will count
  std::int64_t twice = 0;           ///< in an hour that came twice: the order of the rows decided
  std::optional<Date> twice_on;     ///< the first day of these
  std::int64_t shifted = 0;         ///< in an hour that the clocks went forward over
  std::int64_t other_scale = 0;     ///< readings in another scale than the thermometer shows: the column map may be the wrong one
};

/// Reads a logger's file and says what booking it would do. Books nothing. Refused as `import_logger_file` is, but that a file
/// without news is no fault.
Result<FileReport> preview_logger_file(const Session& session, const LoggerFile& asked);

struct FileBooked {
  Booked booked;
  FileReport report;
};
/// Books the readings of a logger's file that are not recorded already (the same thermometer, thing, purpose, instant and value), in
/// blocks of at most `readings_in_block`, all or nothing. The file is read twice, piece by piece: once to check it, once to book
/// it; refused if it changed in between. An instant that has another value keeps both.
Result<FileBooked> import_logger_file(Session& session, const LoggerFile& asked);

inline constexpr std::size_t readings_in_block = 20'000;

/// Keeps a column map under a name. A name that is kept already gets a note that takes the place of its last.
Result<Booked> keep_column_map(Session& session, const std::string& name, const GivenDocument& map);

struct FoundColumnMap {
  GivenDocument map;
  std::uint64_t note = 0;  ///< that keeps it; 0: it came with the program
  bool hides_shipped = false;
};
/// The column map called `name`: one that the kitchen keeps, else the one under `root` that came with the program.
Result<FoundColumnMap> column_map_named(const Session& session, const DataRoot& root, const std::string& name);

}  // namespace tierproof
