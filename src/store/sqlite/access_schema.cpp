#include <fmt/format.h>

#include "access_rows.h"

namespace tierproof::sqlite {
namespace {

constexpr int access_application = 0x54507263;  // "TPrc", at offset 68 of the file
constexpr int access_version = 1;               // at offset 60

// Instants are milliseconds UTC. Every secret is a hash of it.
constexpr const char* access_tables = R"sql(
CREATE TABLE door (
  one         INTEGER NOT NULL PRIMARY KEY CHECK (one = 1),
  pepper_mark BLOB CHECK (length(pepper_mark) = 32),  -- HMAC-SHA-256 under the pepper: tells another pepper from the right one
  code        BLOB CHECK (length(code) = 32),         -- HMAC-SHA-256 of the open code under the pepper, or null
  code_until  INTEGER,
  code_wrong  INTEGER
) STRICT;
INSERT INTO door (one) VALUES (1);

CREATE TABLE device (
  number    INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
  name      TEXT NOT NULL,
  key       BLOB NOT NULL UNIQUE CHECK (length(key) = 32),  -- SHA-256 of what it shows
  let_in    INTEGER NOT NULL,
  last_seen INTEGER NOT NULL,
  shut_out  INTEGER                                         -- null while it is let in
) STRICT;

CREATE TABLE pin (
  person     TEXT NOT NULL PRIMARY KEY,               -- id in the records
  salt       BLOB NOT NULL CHECK (length(salt) = 16),
  hash       BLOB NOT NULL CHECK (length(hash) = 32), -- Argon2id of the HMAC-SHA-256 of person and PIN under the pepper
  passes     INTEGER NOT NULL,                        -- t of Argon2id
  memory_kib INTEGER NOT NULL,                        -- m of Argon2id
  set_at     INTEGER NOT NULL
) STRICT;

CREATE TABLE miss (
  of         TEXT NOT NULL PRIMARY KEY,               -- "person anna", "device 3"
  in_a_row   INTEGER NOT NULL,
  not_before INTEGER NOT NULL                         -- no try counts earlier
) STRICT;

CREATE TABLE sign_in (
  token     BLOB NOT NULL PRIMARY KEY CHECK (length(token) = 32),  -- SHA-256 of what the device shows
  device    INTEGER NOT NULL REFERENCES device,
  person    TEXT NOT NULL,                            -- empty: a view that only reads
  authority TEXT NOT NULL,                            -- owner, helper, officer
  since     INTEGER NOT NULL,
  last_page INTEGER NOT NULL
) STRICT;

CREATE TABLE sensor (
  number  INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
  name    TEXT NOT NULL,
  probe   TEXT NOT NULL,                              -- its thermometer in the records
  about   TEXT NOT NULL,                              -- the place that it reads
  token   BLOB NOT NULL UNIQUE CHECK (length(token) = 32),  -- SHA-256 of what it shows
  since   INTEGER NOT NULL,
  revoked INTEGER                                     -- null while it may post
) STRICT;

CREATE TABLE happening (
  number INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
  at     INTEGER NOT NULL,
  what   TEXT NOT NULL,
  device TEXT NOT NULL,
  person TEXT NOT NULL,
  detail TEXT NOT NULL
) STRICT;
)sql";

std::string pragma(const Database& database, const char* name) { return database.answer(fmt::format("PRAGMA {}", name)).value_or(""); }

}  // namespace

void make_access_schema(const Database& database, const std::string& path) {
  Transaction writing{database, Transaction::Kind::write};
  const bool empty = database.answer("SELECT count(*) FROM sqlite_schema") == "0";
  if (empty && pragma(database, "application_id") == "0") {
    database.run(fmt::format("PRAGMA application_id = {}", access_application).c_str());
    database.run(fmt::format("PRAGMA user_version = {}", access_version).c_str());
    database.run(access_tables);
    writing.commit();
    return;
  }
  if (pragma(database, "application_id") != std::to_string(access_application)) {
    throw Fault{exit_status::configuration,
                fmt::format("{} does not hold who may come in; move it away, or restore it from a backup", path)};
  }
  if (const auto version = pragma(database, "user_version"); version != std::to_string(access_version)) {
    throw Fault{exit_status::configuration, fmt::format("{} was made by another tierproof (version {} of the file, this program knows {}); "
                                                        "install the newer program",
                                                        path, version, access_version)};
  }
  if (const auto planted = database.answer("SELECT type || ' ' || name FROM sqlite_schema WHERE type IN ('trigger', 'view')")) {
    throw Fault{exit_status::configuration,
                fmt::format("{} holds the {}, which no tierproof ever made; restore it from a backup", path, *planted)};
  }
}

}  // namespace tierproof::sqlite
