// The one place that knows SQLite: a connection and a statement. SQL is kept to what other
// databases speak too.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "findings/trouble.hpp"

struct sqlite3;
struct sqlite3_stmt;

namespace bellhole::store {

class Statement {
 public:
  Statement& bind(std::string_view text);
  Statement& bind(std::int64_t number);
  Statement& bind(double number);
  Statement& bind_null();
  /// Goes on to the next row: true where there is one. Errors: those of Database.
  Result<bool> step();
  /// Runs to the end and is ready for new values.
  Result<bool> run();
  [[nodiscard]] std::string text(int column) const;
  [[nodiscard]] std::int64_t number(int column) const;
  [[nodiscard]] double real(int column) const;
  [[nodiscard]] bool null(int column) const;

 private:
  friend class Database;
  struct Close {
    void operator()(sqlite3_stmt* statement) const;
  };
  Statement(sqlite3* database, sqlite3_stmt* statement, std::string where);
  std::unique_ptr<sqlite3_stmt, Close> statement_;
  sqlite3* database_;
  std::string where_;
  int bound_ = 0;
};

class Database {
 public:
  /// Opens or creates a file with durability on. `vfs` names the way to the disk, empty: the
  /// system's. Errors: unreadable_file (no database, newer than this program knows, broken),
  /// unwritable_file (no right, no space).
  static Result<Database> open(const std::string& path, const std::string& vfs = {});

  Result<bool> run(std::string_view sql);
  Result<Statement> prepare(std::string_view sql);
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  struct Close {
    void operator()(sqlite3* database) const;
  };
  Database(std::unique_ptr<sqlite3, Close> database, std::string path)
      : database_(std::move(database)), path_(std::move(path)) {}
  std::unique_ptr<sqlite3, Close> database_;
  std::string path_;
};

/// Refuses a connection whose writes are not synced before they count. Errors: unwritable_file.
Result<bool> check_durable(Database& database);

/// A transaction: what is not committed is undone.
class Change {
 public:
  static Result<Change> begin(Database& database);
  Result<bool> commit();
  Change(Change&& other) noexcept : database_(other.database_) { other.database_ = nullptr; }
  Change& operator=(Change&&) = delete;
  Change(const Change&) = delete;
  Change& operator=(const Change&) = delete;
  ~Change();

 private:
  explicit Change(Database& database) : database_(&database) {}
  Database* database_;
};

}  // namespace bellhole::store
