#include "schema.h"

#include <fmt/format.h>

namespace tierproof::sqlite {
namespace {

constexpr int application = 0x54507266;  // "TPrf", at offset 68 of the file
constexpr int schema_version = 2;        // at offset 60; 1 had other views, and the same log

// The log. Rows are added and never changed; only rows of `sealed` and `paper` may be deleted, when a person's data is erased.
constexpr const char* log_tables = R"sql(
CREATE TABLE kitchen (
  kitchen TEXT NOT NULL PRIMARY KEY            -- UUID of the one kitchen whose records these are
) STRICT;

CREATE TABLE entry (
  kitchen    TEXT NOT NULL REFERENCES kitchen, -- UUID of the kitchen
  seq        INTEGER NOT NULL CHECK (seq > 0), -- 1, 2, 3 ...: the order of the log
  leaf       TEXT NOT NULL,                    -- the whole entry as canonical JSON (RFC 8785): what is hashed
  leaf_hash  BLOB NOT NULL CHECK (length(leaf_hash) = 32),  -- SHA-256(0x00 || leaf), RFC 9162 section 2.1.1
  client_key TEXT NOT NULL,                    -- the entry's own, unique: a retry books once
  head_root  BLOB NOT NULL CHECK (length(head_root) = 32),  -- Merkle root of entries 1..seq
  frontier   BLOB NOT NULL,                    -- roots of the full subtrees of 1..seq, largest first, 32 bytes each
  PRIMARY KEY (kitchen, seq),
  UNIQUE (kitchen, client_key)
) STRICT;

CREATE TABLE block (
  kitchen TEXT NOT NULL,                       -- UUID of the kitchen
  seq     INTEGER NOT NULL,                    -- the entry that seals the block by its SHA-256
  bytes   BLOB NOT NULL,                       -- the readings as they came
  PRIMARY KEY (kitchen, seq),
  FOREIGN KEY (kitchen, seq) REFERENCES entry
) STRICT;

CREATE TABLE sealed (
  kitchen TEXT NOT NULL REFERENCES kitchen,    -- UUID of the kitchen
  ref     TEXT NOT NULL,                       -- the name by which entries call the text
  key     BLOB NOT NULL CHECK (length(key) = 32),  -- key of the HMAC-SHA-256 that the entries hold
  text    TEXT NOT NULL,                       -- personal data or free words, erasable
  PRIMARY KEY (kitchen, ref)
) STRICT;

CREATE TABLE paper (
  kitchen    TEXT NOT NULL REFERENCES kitchen, -- UUID of the kitchen
  digest     BLOB NOT NULL CHECK (length(digest) = 32),  -- SHA-256 of the bytes; an entry names it
  media_type TEXT NOT NULL,                    -- as in application/pdf
  bytes      BLOB NOT NULL,                    -- the paper as it was issued
  PRIMARY KEY (kitchen, digest)
) STRICT;
)sql";

// The views: a cache of the log, dropped and made again from it.
constexpr const char* view_tables = R"sql(
CREATE TABLE view_note (
  kitchen    TEXT NOT NULL,                    -- UUID of the kitchen
  place      INTEGER NOT NULL,                 -- first note of the chain of corrections
  seq        INTEGER NOT NULL,                 -- its last note, the one in force
  replaced   TEXT NOT NULL,                    -- JSON list of the notes before it in the chain
  written    INTEGER NOT NULL,                 -- ms UTC
  happened   INTEGER NOT NULL,                 -- ms UTC
  offset_min INTEGER NOT NULL,                 -- minutes east of UTC
  person     TEXT NOT NULL,                    -- who recorded it
  kind       TEXT NOT NULL,                    -- kind and version of the body
  subject    TEXT NOT NULL,                    -- what it is about
  supersedes INTEGER,                          -- the note that it corrects or voids
  how        TEXT NOT NULL,                    -- how it arrived
  body       TEXT NOT NULL,                    -- canonical JSON; null for a void
  why        TEXT NOT NULL,                    -- canonical JSON
  PRIMARY KEY (kitchen, place)
) STRICT;
CREATE UNIQUE INDEX view_note_by_seq ON view_note (kitchen, seq);

CREATE INDEX view_note_by_kind ON view_note (kitchen, kind, happened);

CREATE TABLE view_thing (
  thing   INTEGER PRIMARY KEY,                 -- number of a pack, batch or cake, in this file alone
  kitchen TEXT NOT NULL,                       -- UUID of the kitchen
  name    TEXT NOT NULL,                       -- as in pack-3
  code    TEXT NOT NULL,                       -- of a pack in force, its supplier's code as typed; else empty
  words   TEXT NOT NULL,                       -- ingredient, recipe or name of the cake in force; else empty
  UNIQUE (kitchen, name)
) STRICT;
CREATE INDEX view_thing_by_code ON view_thing (kitchen, code);

CREATE TABLE view_edge (                       -- its kitchen is that of its things
  parent  INTEGER NOT NULL,                    -- what went in: pack or batch
  child   INTEGER NOT NULL,                    -- what it went into: batch or cake
  seq     INTEGER NOT NULL,                    -- the note in force that says so
  certain INTEGER NOT NULL CHECK (certain IN (0, 1)),  -- 0: it may have gone in
  PRIMARY KEY (parent, child, seq)
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX view_edge_by_child ON view_edge (child, parent, seq, certain);
)sql";

int number(const Database& database, const char* pragma) {
  auto statement = database.prepare(pragma);
  return statement.step() ? static_cast<int>(statement.integer(0)) : -1;
}

}  // namespace

void make_schema(const Database& database, const std::string& kitchen) {
  Transaction writing{database, Transaction::Kind::write};
  database.run(fmt::format("PRAGMA application_id = {}", application).c_str());
  mark_schema(database);
  database.run(log_tables);
  make_views(database);
  database.prepare("INSERT INTO kitchen (kitchen) VALUES (?1)").bind_text(1, kitchen).run();
  writing.commit();
}

void make_views(const Database& database) { database.run(view_tables); }

void drop_views(const Database& database) {
  for (const char* view : {"view_note", "view_edge", "view_thing"}) database.run(fmt::format("DROP TABLE IF EXISTS {}", view).c_str());
}

void mark_schema(const Database& database) { database.run(fmt::format("PRAGMA user_version = {}", schema_version).c_str()); }

bool of_earlier_schema(const Database& database) { return number(database, "PRAGMA user_version") < schema_version; }

SchemaFound check_schema(const Database& database, const std::string& path) {
  Transaction reading{database, Transaction::Kind::read};
  if (number(database, "PRAGMA application_id") != application) {
    throw Fault{exit_status::configuration, fmt::format("{} is not a kitchen file of tierproof", path)};
  }
  const int version = number(database, "PRAGMA user_version");
  if (version > schema_version) {
    throw Fault{exit_status::configuration, fmt::format("{} was made by a newer tierproof (version {} of the file, this program knows "
                                                        "{}); install the newer program",
                                                        path, version, schema_version)};
  }
  if (version < 1) {
    throw Fault{exit_status::configuration,
                fmt::format("{} says version {}, which no tierproof ever wrote; restore it from a backup", path, version)};
  }
  if (const auto planted = database.answer("SELECT type || ' ' || name FROM sqlite_schema WHERE type IN ('trigger', 'view')")) {
    throw Fault{exit_status::configuration,
                fmt::format("{} holds the {}, which no tierproof ever made; restore it from a backup", path, *planted)};
  }
  const auto kitchen = database.answer("SELECT kitchen FROM kitchen");
  if (!kitchen || kitchen->empty()) {
    throw Fault{exit_status::configuration, fmt::format("{} does not name its kitchen; restore it from a backup", path)};
  }
  return {*kitchen, version < schema_version};
}

}  // namespace tierproof::sqlite
