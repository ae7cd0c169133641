// The store of jobs: events as they were received, in one SQLite file, and blobs beside it.
//
// Truth is the table of events (append-only: exact bytes as text) and the blobs. Every other table
// that speaks of jobs is a projection and can be made anew from the events. Names, addresses and
// dates of people, tools and instruments are kept in registers, since they change and must be
// erasable; the log holds ids.
#pragma once

#include <array>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/log.hpp"
#include "store/sql.hpp"
#include "wire/event.hpp"

namespace bellhole::store {

/// What the door reads from the machine, since nothing below it does.
struct Machine {
  std::string device, boot;
  std::function<job::Moment()> now;
  std::function<Duration()> monotonic;
  std::function<std::array<std::uint8_t, 10>()> random;
};

/// What became of events that were handed in.
struct Taken {
  std::size_t added = 0;
  std::size_t known = 0;  ///< was there already, byte for byte
  std::vector<std::string> jobs;
};

struct JobLine {
  std::string job, title, work, opened_at;
  std::int64_t events = 0;
};

class Store {
 public:
  /// Opens a store, creates it where there is none, brings an older one forward. Errors: those of
  /// Database; unreadable_file for a store of a later version.
  static Result<Store> open(const std::string& path, const std::string& vfs = {});

  /// Takes sealed lines in: all of them, or on trouble none. Errors, naming the line: those of
  /// read_event; contradiction where a seal does not hold, or where `job` is given and the line
  /// belongs to another; those of Database.
  Result<Taken> take(std::string_view lines, std::string_view name, const std::string& job = {});

  /// Enters drafts into a job, sealed on this machine, after whatever else is in the log; sealed
  /// lines between them are taken as they are. Errors: as take().
  Result<Taken> enter(const std::string& job, std::string_view lines, std::string_view name,
                      const Machine& machine);
  Result<Taken> enter(const std::string& job, const std::vector<wire::Json>& drafts,
                      std::string_view name, const Machine& machine);

  /// The log of a job as lines, in the log's order, byte for byte as received.
  /// Errors: unknown_element for a job that is not here.
  Result<std::string> log(const std::string& job);
  Result<std::vector<JobLine>> jobs();

  /// Makes every projection anew from the events.
  Result<bool> rebuild();

  /// Blobs: photographs, plan documents. Answers the hash. Written, synced, renamed: whole or not
  /// there. Errors: unwritable_file.
  Result<job::Hash> keep(std::string_view bytes);
  /// Errors: unreadable_file (not there, or its bytes are not those of its name).
  Result<std::string> blob(const job::Hash& hash);

  // Registers: documents by kind and id, every version kept until it is forgotten.
  Result<bool> enroll(const std::string& kind, const std::string& id, std::string_view document,
                      const std::string& entered_at);
  struct Entry {
    std::string id, entered_at, document;
    std::int64_t version = 1;
  };
  /// The latest version of each entry of a kind, by id.
  Result<std::vector<Entry>> entries(const std::string& kind);
  /// Erases every version of one entry: people have a right to it. The log keeps only the id.
  Result<bool> forget(const std::string& kind, const std::string& id);

  /// A squeeze that was made.
  struct Squeeze {
    std::string job, about, element, pipe, at, marked, event;
    std::optional<Length> station;
    std::optional<double> lon, lat;
    std::optional<Length> away;  ///< from the place that was asked about
  };
  /// Every squeeze ever made on an element within a distance of a station, nearest first. One on it
  /// whose station is not known is listed too, last: it may be there.
  Result<std::vector<Squeeze>> squeezes_on(const std::string& element, Length station,
                                           Length within);
  /// The same around a place in degrees, by great-circle distance; those without a place last.
  Result<std::vector<Squeeze>> squeezes_near(double lon, double lat, Length within);
  Result<std::vector<Squeeze>> squeezes();

  Database& database() { return database_; }

 private:
  explicit Store(Database database) : database_(std::move(database)) {}
  Result<bool> add(const std::string& line, const job::Event& event, Taken& taken);
  /// Puts an event into the projections that are kept with every entry: heads, and which jobs are
  /// to be read anew.
  Result<bool> note(const job::Event& event);
  Result<bool> project(const std::string& job);
  Result<bool> refresh();
  Database database_;
};

}  // namespace bellhole::store
