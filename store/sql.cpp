#include "store/sql.hpp"

#include <sqlite3.h>

namespace bellhole::store {
namespace {

constexpr int busy_ms = 5000;  // another program that writes is waited for

/// What SQLite says, as trouble that tells what to do.
std::unexpected<Trouble> failed(sqlite3* database, const std::string& where) {
  const int code = database != nullptr ? sqlite3_errcode(database) & 0xFF : SQLITE_NOMEM;
  const std::string says = database != nullptr ? sqlite3_errmsg(database) : "out of memory";
  switch (code) {
    case SQLITE_FULL:
      return trouble(
          Code::unwritable_file, where, says,
          "the disk is full: nothing of this entry was kept; make room and enter it again");
    case SQLITE_READONLY:
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
      return trouble(Code::unwritable_file, where, says,
                     "the store cannot be written: check the file, its folder and the rights");
    case SQLITE_IOERR:
      return trouble(
          Code::unwritable_file, where, says,
          "the disk failed: nothing of this entry was kept; check it and enter it again");
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return trouble(Code::unwritable_file, where, says,
                     "another program is writing: enter it again when that is done");
    case SQLITE_NOTADB:
    case SQLITE_CORRUPT:
      return trouble(Code::unreadable_file, where, says,
                     "this is no whole store: fetch the logs from the devices and merge them anew");
    default:
      return trouble(Code::bug, where, says, "report it with what was done before");
  }
}

std::string pragma(Database& database, std::string_view name) {
  auto statement = database.prepare("PRAGMA " + std::string(name));
  if (!statement || !statement->step().value_or(false)) return {};
  return statement->text(0);
}

}  // namespace

void Statement::Close::operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
void Database::Close::operator()(sqlite3* database) const { sqlite3_close_v2(database); }

Statement::Statement(sqlite3* database, sqlite3_stmt* statement, std::string where)
    : statement_(statement), database_(database), where_(std::move(where)) {}

Statement& Statement::bind(std::string_view text) {
  sqlite3_bind_text64(statement_.get(), ++bound_, text.data(), text.size(), SQLITE_TRANSIENT,
                      SQLITE_UTF8);
  return *this;
}
Statement& Statement::bind(std::int64_t number) {
  sqlite3_bind_int64(statement_.get(), ++bound_, number);
  return *this;
}
Statement& Statement::bind(double number) {
  sqlite3_bind_double(statement_.get(), ++bound_, number);
  return *this;
}
Statement& Statement::bind_null() {
  sqlite3_bind_null(statement_.get(), ++bound_);
  return *this;
}

Result<bool> Statement::step() {
  const int code = sqlite3_step(statement_.get());
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  return failed(database_, where_);
}

Result<bool> Statement::run() {
  while (true) {
    BELLHOLE_TRY(more, step());
    if (!more) break;
  }
  sqlite3_reset(statement_.get());
  bound_ = 0;
  return true;
}

std::string Statement::text(int column) const {
  const auto* bytes = sqlite3_column_text(statement_.get(), column);
  const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column));
  return bytes == nullptr ? std::string() : std::string(reinterpret_cast<const char*>(bytes), size);
}
std::int64_t Statement::number(int column) const {
  return sqlite3_column_int64(statement_.get(), column);
}
double Statement::real(int column) const { return sqlite3_column_double(statement_.get(), column); }
bool Statement::null(int column) const {
  return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL;
}

Result<Database> Database::open(const std::string& path, const std::string& vfs) {
  sqlite3* raw = nullptr;
  const int code = sqlite3_open_v2(path.c_str(), &raw,
                                   SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX,
                                   vfs.empty() ? nullptr : vfs.c_str());
  Database database(std::unique_ptr<sqlite3, Close>(raw), path);
  if (code != SQLITE_OK) return failed(raw, path);
  sqlite3_busy_timeout(raw, busy_ms);
  // A rollback journal that is synced with its folder: an answered write has reached the disk.
  for (const char* sql :
       {"PRAGMA journal_mode = DELETE", "PRAGMA synchronous = EXTRA", "PRAGMA fullfsync = ON",
        "PRAGMA foreign_keys = ON", "PRAGMA trusted_schema = OFF"}) {
    BELLHOLE_TRY(set, database.run(sql));
    static_cast<void>(set);
  }
  BELLHOLE_TRY(durable, check_durable(database));
  static_cast<void>(durable);
  return database;
}

Result<bool> Database::run(std::string_view sql) {
  const std::string text(sql);
  if (sqlite3_exec(database_.get(), text.c_str(), nullptr, nullptr, nullptr) != SQLITE_OK)
    return failed(database_.get(), path_);
  return true;
}

Result<Statement> Database::prepare(std::string_view sql) {
  sqlite3_stmt* raw = nullptr;
  if (sqlite3_prepare_v2(database_.get(), sql.data(), static_cast<int>(sql.size()), &raw,
                         nullptr) != SQLITE_OK)
    return failed(database_.get(), path_);
  return Statement(database_.get(), raw, path_);
}

Result<bool> check_durable(Database& database) {
  const std::string synchronous = pragma(database, "synchronous"),
                    journal = pragma(database, "journal_mode");
  const bool synced = synchronous == "2" || synchronous == "3";  // FULL, EXTRA
  const bool kept = journal == "delete" || journal == "truncate" || journal == "persist";
  if (synced && kept) return true;
  return trouble(
      Code::unwritable_file, database.path(), "synchronous " + synchronous + ", journal " + journal,
      "a record is kept only where every write is synced: take a database with syncing on");
}

Result<Change> Change::begin(Database& database) {
  BELLHOLE_TRY(begun, database.run("BEGIN IMMEDIATE"));
  static_cast<void>(begun);
  return Change(database);
}

Result<bool> Change::commit() {
  BELLHOLE_TRY(done, database_->run("COMMIT"));
  static_cast<void>(done);
  database_ = nullptr;
  return true;
}

Change::~Change() {
  if (database_ != nullptr) static_cast<void>(database_->run("ROLLBACK"));
}

}  // namespace bellhole::store
