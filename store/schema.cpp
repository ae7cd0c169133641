#include "store/schema.hpp"

#include <array>
#include <string>

namespace bellhole::store {
namespace {

// Forward only; a migration that has shipped is never edited. tests/upgrade/ holds a store of every
// version.
constexpr std::array<std::string_view, 1> migrations{// 1: events, registers, projections.
                                                     R"(
CREATE TABLE about (name TEXT PRIMARY KEY, value TEXT NOT NULL);

CREATE TABLE events (
  hash TEXT PRIMARY KEY,
  job TEXT NOT NULL,
  bytes TEXT NOT NULL
);
CREATE INDEX events_of_job ON events (job);
CREATE TRIGGER events_stay BEFORE UPDATE ON events
  BEGIN SELECT RAISE(ABORT, 'events are never changed'); END;
CREATE TRIGGER events_are_kept BEFORE DELETE ON events
  BEGIN SELECT RAISE(ABORT, 'events are never removed'); END;

CREATE TABLE registers (
  kind TEXT NOT NULL,
  id TEXT NOT NULL,
  version INTEGER NOT NULL,
  entered_at TEXT NOT NULL,
  document TEXT NOT NULL,
  PRIMARY KEY (kind, id, version)
);

-- Projections: made anew from the events by rebuild().
CREATE TABLE jobs (
  job TEXT PRIMARY KEY,
  title TEXT NOT NULL,
  work TEXT NOT NULL,
  opened_at TEXT NOT NULL,
  events INTEGER NOT NULL,
  stale INTEGER NOT NULL
);
CREATE TABLE heads (
  job TEXT NOT NULL,
  device TEXT NOT NULL,
  sequence INTEGER NOT NULL,
  hash TEXT NOT NULL,
  PRIMARY KEY (job, device)
);
CREATE TABLE squeezes (
  job TEXT NOT NULL,
  about TEXT NOT NULL,
  element TEXT NOT NULL,
  station_m REAL,
  lon REAL,
  lat REAL,
  pipe TEXT NOT NULL,
  at TEXT NOT NULL,
  marked TEXT NOT NULL,
  event TEXT NOT NULL
);
)"};

Result<std::int64_t> version_of(Database& database) {
  BELLHOLE_TRY(statement, database.prepare("PRAGMA user_version"));
  BELLHOLE_TRY(row, statement.step());
  static_cast<void>(row);
  return statement.number(0);
}

}  // namespace

Result<bool> bring_forward(Database& database) {
  BELLHOLE_TRY(version, version_of(database));
  const auto newest = static_cast<std::int64_t>(migrations.size());
  if (version > newest)
    return trouble(Code::unreadable_file, database.path(), "version " + std::to_string(version),
                   "this store is of a later version of Bellhole: open it with that one");
  if (version == newest) return true;
  BELLHOLE_TRY(change, Change::begin(database));
  // Another program may have brought it forward while this one waited.
  BELLHOLE_TRY(now, version_of(database));
  for (std::int64_t next = now; next < newest; ++next) {
    BELLHOLE_TRY(done, database.run(migrations[static_cast<std::size_t>(next)]));
    static_cast<void>(done);
  }
  BELLHOLE_TRY(set, database.run("PRAGMA user_version = " + std::to_string(newest)));
  static_cast<void>(set);
  return change.commit();
}

}  // namespace bellhole::store
