#pragma once

#include <sqlite3.h>

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "tierproof/units/result.h"

namespace tierproof::sqlite {

/// One prepared statement. Every value is bound; columns and parameters count from 0 and 1 as in SQLite.
class Statement {
 public:
  Statement(sqlite3* database, std::string_view sql);

  Statement& bind(int at, std::int64_t value);
  Statement& bind(int at, std::uint64_t value) { return bind(at, static_cast<std::int64_t>(value)); }
  Statement& bind(int at, int value) { return bind(at, std::int64_t{value}); }
  Statement& bind_text(int at, std::string_view text);
  Statement& bind_blob(int at, std::string_view bytes);
  Statement& bind_null(int at);

  /// True when there is a row to read. @throws Fault
  bool step();
  /// Runs a statement that gives no rows, and makes it ready for other values.
  void run();
  /// Ready to be run again; bound values stay.
  void reset();

  bool is_null(int column) const;
  std::int64_t integer(int column) const;
  std::uint64_t sequence(int column) const { return static_cast<std::uint64_t>(integer(column)); }
  /// The bytes of a text or a blob, copied.
  std::string bytes(int column) const;
  /// SQLITE_INTEGER, SQLITE_TEXT, ... as stored.
  int type(int column) const;
  int columns() const;

 private:
  struct Finalize {
    void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
  };
  sqlite3* database_;
  std::unique_ptr<sqlite3_stmt, Finalize> statement_;
};

enum class Access { read_only, read_write };

/// A write was cut off by a crash, and a reader may not put it right: open the file for writing once.
class CutOffWrite : public Fault {
 public:
  using Fault::Fault;
};

/// One connection, set up for durability and against being misused, with an authorizer that denies to change or delete what is in the
/// log. @throws Fault 74 disk, 75 locked for too long, 77 not permitted, 78 damaged, not a database, or a setting was refused
class Database {
 public:
  /// @param path     a file that exists
  /// @param patience milliseconds to wait for another connection's lock
  Database(const std::string& path, Access access, int patience = 5000);
  Database(const Database&) = delete;
  Database& operator=(const Database&) = delete;

  Statement prepare(std::string_view sql) const { return Statement{handle_.get(), sql}; }
  /// Runs one statement or several that give no rows.
  void run(const char* sql) const;
  /// The first column of the first row of `sql` as text; nothing when there is no row.
  std::optional<std::string> answer(std::string_view sql) const;
  Access access() const { return access_; }

  /// Writes the whole file anew (VACUUM), in memory in between. @pre no transaction is open
  void write_anew();

  /// While one lives, sealed texts and kept papers may be deleted; nothing else of the log ever.
  class Erasing {
   public:
    explicit Erasing(Database& database) : erasing_{database.erasing_} { erasing_ = true; }
    ~Erasing() { erasing_ = false; }
    Erasing(const Erasing&) = delete;
    Erasing& operator=(const Erasing&) = delete;

   private:
    bool& erasing_;
  };

 private:
  friend class Erasing;
  static int authorize(void* self, int action, const char* first, const char* second, const char* database, const char* trigger);
  void set_up() const;
  void demand(const char* set, const char* ask, std::string_view expected) const;

  struct Close {
    void operator()(sqlite3* database) const { sqlite3_close_v2(database); }
  };
  std::unique_ptr<sqlite3, Close> handle_;
  Access access_;
  bool erasing_ = false;
  bool writing_anew_ = false;
};

/// A transaction that rolls back unless it was committed.
class Transaction {
 public:
  enum class Kind { read, write };
  /// A write begins IMMEDIATE, so that what it reads cannot change before it commits.
  Transaction(const Database& database, Kind kind);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  void commit();

 private:
  const Database& database_;
  bool open_ = true;
};

}  // namespace tierproof::sqlite
