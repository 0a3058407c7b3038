#include "database.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstring>

namespace tierproof::sqlite {
namespace {

/// Tables whose rows are never changed, and never deleted but for those of `erasable`, while erasing.
constexpr std::array<std::string_view, 5> log_tables{"kitchen", "entry", "block", "sealed", "paper"};
constexpr std::array<std::string_view, 2> erasable{"sealed", "paper"};

/// SQLite's error as the status that this program ends with.
int status_of(int code) {
  switch (code & 0xff) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return exit_status::try_later;
    case SQLITE_IOERR:
    case SQLITE_FULL:
    case SQLITE_CANTOPEN:
    case SQLITE_NOMEM:
      return exit_status::io;
    case SQLITE_PERM:
    case SQLITE_READONLY:
    case SQLITE_AUTH:
      return exit_status::not_permitted;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      return exit_status::configuration;
    default:
      return exit_status::our_bug;
  }
}

/// What people call the file: the records, or who may come in beside them.
std::string_view word_for(std::string_view path) { return path.ends_with(".access") ? "the file of who may come in" : "the kitchen file"; }

[[noreturn]] void fail(sqlite3* database, std::string_view doing) {
  const int code = database ? sqlite3_extended_errcode(database) : SQLITE_NOMEM;
  const char* filename = database ? sqlite3_db_filename(database, "main") : nullptr;
  const std::string_view name = filename ? filename : "";
  if ((code & 0xff) == SQLITE_NOTADB) {
    if (name.ends_with(".access"))
      throw Fault{exit_status::configuration, fmt::format("{} does not hold who may come in; move it away, or restore it from a backup", name)};
    throw Fault{exit_status::configuration,
                fmt::format("{} is not a kitchen file of tierproof; name the right one with --kitchen, or restore it from a backup",
                            name.empty() ? "the file" : name)};
  }
  const char* said = database ? sqlite3_errmsg(database) : "out of memory";
  const auto what = fmt::format("{}: {} ({}, SQLite code {})", word_for(name), doing, said, code);
  if (code == SQLITE_READONLY_ROLLBACK) throw CutOffWrite{exit_status::try_later, what};
  throw Fault{status_of(code), what};
}

}  // namespace

Statement::Statement(sqlite3* database, std::string_view sql) : database_{database} {
  sqlite3_stmt* statement = nullptr;
  const int code = sqlite3_prepare_v2(database, sql.data(), static_cast<int>(sql.size()), &statement, nullptr);
  statement_.reset(statement);
  if (code != SQLITE_OK) fail(database_, fmt::format("cannot prepare \"{}\"", sql));
}

Statement& Statement::bind(int at, std::int64_t value) {
  if (sqlite3_bind_int64(statement_.get(), at, value) != SQLITE_OK) fail(database_, "cannot bind a number");
  return *this;
}

Statement& Statement::bind_text(int at, std::string_view text) {
  const auto* data = text.data() ? text.data() : "";
  const int code = sqlite3_bind_text64(statement_.get(), at, data, text.size(), SQLITE_TRANSIENT, SQLITE_UTF8);
  if (code != SQLITE_OK) fail(database_, "cannot bind a text");
  return *this;
}

Statement& Statement::bind_blob(int at, std::string_view bytes) {
  const auto* data = bytes.data() ? bytes.data() : "";
  if (sqlite3_bind_blob64(statement_.get(), at, data, bytes.size(), SQLITE_TRANSIENT) != SQLITE_OK) fail(database_, "cannot bind bytes");
  return *this;
}

Statement& Statement::bind_null(int at) {
  if (sqlite3_bind_null(statement_.get(), at) != SQLITE_OK) fail(database_, "cannot bind a null");
  return *this;
}

bool Statement::step() {
  const int code = sqlite3_step(statement_.get());
  if (code == SQLITE_ROW) return true;
  if (code != SQLITE_DONE) fail(database_, fmt::format("cannot run \"{}\"", sqlite3_sql(statement_.get())));
  return false;
}

void Statement::run() {
  while (step()) {
  }
  reset();
}

void Statement::reset() { sqlite3_reset(statement_.get()); }

bool Statement::is_null(int column) const { return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL; }
std::int64_t Statement::integer(int column) const { return sqlite3_column_int64(statement_.get(), column); }
int Statement::type(int column) const { return sqlite3_column_type(statement_.get(), column); }
int Statement::columns() const { return sqlite3_column_count(statement_.get()); }

std::string Statement::bytes(int column) const {
  const auto* data = static_cast<const char*>(sqlite3_column_blob(statement_.get(), column));
  const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column));
  return data ? std::string{data, size} : std::string{};
}

Database::Database(const std::string& path, Access access, int patience) : access_{access} {
  sqlite3* handle = nullptr;
  const int flags =
      (access == Access::read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE) | SQLITE_OPEN_FULLMUTEX | SQLITE_OPEN_EXRESCODE;
  const int code = sqlite3_open_v2(path.c_str(), &handle, flags, nullptr);
  handle_.reset(handle);
  if (code != SQLITE_OK) fail(handle, fmt::format("cannot open {}", path));
  if (access == Access::read_write && sqlite3_db_readonly(handle, "main") == 1) {
    throw Fault{exit_status::not_permitted, fmt::format("the kitchen file: {} may be read but not written", path)};
  }
  sqlite3_busy_timeout(handle, patience);
  set_up();
}

/// Every setting is asked back: one that silently did not take would only show at the next power cut.
void Database::set_up() const {
  const auto configure = [&](int option, int on, const char* name) {
    int now = -1;
    if (sqlite3_db_config(handle_.get(), option, on, &now) != SQLITE_OK || now != on) {
      throw Fault{exit_status::configuration, fmt::format("the kitchen file: SQLite does not set {} to {}", name, on)};
    }
  };
  configure(SQLITE_DBCONFIG_DEFENSIVE, 1, "DEFENSIVE");
  configure(SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0, "LOAD_EXTENSION");
  configure(SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, "TRUSTED_SCHEMA");
  sqlite3_limit(handle_.get(), SQLITE_LIMIT_ATTACHED, 0);
  if (access_ == Access::read_write) {
    demand("PRAGMA journal_mode=DELETE", nullptr, "delete");
    demand("PRAGMA synchronous=EXTRA", "PRAGMA synchronous", "3");
    demand("PRAGMA secure_delete=ON", nullptr, "1");
  } else {
    demand("PRAGMA journal_mode", nullptr, "delete");
    demand("PRAGMA query_only=ON", "PRAGMA query_only", "1");
  }
  demand("PRAGMA foreign_keys=ON", "PRAGMA foreign_keys", "1");
  demand("PRAGMA trusted_schema=OFF", "PRAGMA trusted_schema", "0");
  demand("PRAGMA recursive_triggers=ON", "PRAGMA recursive_triggers", "1");
  demand("PRAGMA cell_size_check=ON", "PRAGMA cell_size_check", "1");
  demand("PRAGMA mmap_size=0", "PRAGMA mmap_size", "0");
  if (sqlite3_set_authorizer(handle_.get(), &Database::authorize, const_cast<Database*>(this)) != SQLITE_OK) {
    fail(handle_.get(), "cannot set the authorizer");
  }
}

void Database::demand(const char* set, const char* ask, std::string_view expected) const {
  auto got = answer(set);
  if (ask) got = answer(ask);
  if (got != expected) {
    throw Fault{exit_status::configuration,
                fmt::format("the kitchen file: \"{}\" was answered \"{}\", not \"{}\"", set, got.value_or("nothing"), expected)};
  }
}

int Database::authorize(void* self, int action, const char* first, const char* second, const char*, const char*) {
  const auto& database = *static_cast<const Database*>(self);
  const auto among = [](const auto& tables, const char* table) {
    return table != nullptr && std::find(tables.begin(), tables.end(), table) != tables.end();
  };
  const auto in_log = [&](const char* table) { return among(log_tables, table); };
  switch (action) {
    case SQLITE_DELETE:
      if (database.erasing_ && among(erasable, first)) return SQLITE_OK;
      return in_log(first) ? SQLITE_DENY : SQLITE_OK;
    case SQLITE_UPDATE:
    case SQLITE_DROP_TABLE:
      return in_log(first) ? SQLITE_DENY : SQLITE_OK;
    case SQLITE_ALTER_TABLE:
      return in_log(second) ? SQLITE_DENY : SQLITE_OK;
    case SQLITE_ATTACH:
      return database.writing_anew_ ? SQLITE_OK : SQLITE_DENY;
    case SQLITE_CREATE_TRIGGER:
    case SQLITE_CREATE_TEMP_TRIGGER:
      return SQLITE_DENY;
    default:
      return SQLITE_OK;
  }
}

void Database::run(const char* sql) const {
  if (sqlite3_exec(handle_.get(), sql, nullptr, nullptr, nullptr) == SQLITE_OK) return;
  fail(handle_.get(), fmt::format("cannot run \"{}\"", std::string_view{sql}.substr(0, 60)));
}

void Database::write_anew() {
  struct Allowed {  // VACUUM attaches a database of its own
    Database& database;
    explicit Allowed(Database& d) : database{d} {
      sqlite3_limit(database.handle_.get(), SQLITE_LIMIT_ATTACHED, 1);
      database.writing_anew_ = true;
    }
    ~Allowed() {
      database.writing_anew_ = false;
      sqlite3_limit(database.handle_.get(), SQLITE_LIMIT_ATTACHED, 0);
    }
    Allowed(const Allowed&) = delete;
    Allowed& operator=(const Allowed&) = delete;
  };
  demand("PRAGMA temp_store=MEMORY", "PRAGMA temp_store", "2");
  const Allowed allowed{*this};
  run("VACUUM");
}

std::optional<std::string> Database::answer(std::string_view sql) const {
  auto statement = prepare(sql);
  if (!statement.step()) return std::nullopt;
  return statement.bytes(0);
}

Transaction::Transaction(const Database& database, Kind kind) : database_{database} {
  database_.run(kind == Kind::write ? "BEGIN IMMEDIATE" : "BEGIN");
}

Transaction::~Transaction() {
  if (!open_) return;
  try {
    database_.run("ROLLBACK");
  } catch (const Fault&) {
    // Some errors have rolled back already; the one that brought us here is what is reported.
  }
}

void Transaction::commit() {
  database_.run("COMMIT");
  open_ = false;
}

}  // namespace tierproof::sqlite
