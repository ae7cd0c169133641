// Tables that are read from the events: what jobs there are, and every squeeze ever made.
#include <cmath>

#include "job/state.hpp"
#include "store/store.hpp"
#include "wire/job.hpp"

namespace bellhole::store {
namespace {

void bind_maybe(Statement& statement, std::optional<double> value) {
  if (value && std::isfinite(*value))
    statement.bind(*value);
  else
    statement.bind_null();
}

/// A squeeze that was made: where the as-laid record has it, else where the plan has it.
struct Made {
  std::string about, element, pipe, at, marked, event;
  std::optional<double> station_m, lon, lat;
};

std::vector<Made> squeezes_of(const job::State& state) {
  std::vector<Made> all;
  for (const job::ShutoffState& shutoff : state.shutoffs) {
    const bool squeeze = shutoff.found || !shutoff.bars.empty() ||
                         (shutoff.planned && shutoff.planned->kind == "squeeze");
    if (!squeeze || (shutoff.acts.empty() && shutoff.bars.empty())) continue;
    const job::Stamp& stamp =
        shutoff.acts.empty() ? shutoff.bars.front().stamp : shutoff.acts.front().stamp;
    Made made{.about = shutoff.letter,
              .at = job::print_moment(stamp.happened_at),
              .marked = "unknown",
              .event = stamp.event};
    if (shutoff.planned) {
      made.element = shutoff.planned->element;
      made.station_m = shutoff.planned->station.si();
      made.lon = shutoff.planned->lon;
      made.lat = shutoff.planned->lat;
      if (shutoff.planned->mapped) made.pipe = job::pipe_words(*shutoff.planned->mapped);
    }
    if (shutoff.found) made.pipe = job::pipe_words(shutoff.found->what.found);
    for (const auto& [laid, at] : state.laid) {
      if (laid.what != "squeeze" || laid.about != shutoff.letter) continue;
      if (!laid.element.empty()) made.element = laid.element;
      if (laid.station) made.station_m = laid.station->si();
      if (laid.lon) made.lon = laid.lon;
      if (laid.lat) made.lat = laid.lat;
      made.marked = std::string(job::to_string(laid.marked));
    }
    all.push_back(std::move(made));
  }
  return all;
}

}  // namespace

Result<bool> Store::project(const std::string& job) {
  BELLHOLE_TRY(text, log(job));
  BELLHOLE_TRY(events, wire::read_log(text, database_.path()));
  const job::State state = job::fold(events);
  BELLHOLE_TRY(update, database_.prepare("UPDATE jobs SET title = ?, work = ?, opened_at = ?, "
                                         "events = ?, stale = 0 WHERE job = ?"));
  if (state.opened)
    update.bind(state.opened->what.title)
        .bind(job::to_string(state.opened->what.work))
        .bind(job::print_moment(state.opened->stamp.happened_at));
  else
    update.bind("").bind("").bind("");
  BELLHOLE_TRY(updated, update.bind(static_cast<std::int64_t>(state.events)).bind(job).run());
  static_cast<void>(updated);
  BELLHOLE_TRY(clear, database_.prepare("DELETE FROM squeezes WHERE job = ?"));
  BELLHOLE_TRY(cleared, clear.bind(job).run());
  static_cast<void>(cleared);
  BELLHOLE_TRY(insert,
               database_.prepare("INSERT INTO squeezes (job, about, element, station_m, lon, "
                                 "lat, pipe, at, marked, event) "
                                 "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"));
  for (const Made& made : squeezes_of(state)) {
    insert.bind(job).bind(made.about).bind(made.element);
    for (const auto& value : {made.station_m, made.lon, made.lat}) bind_maybe(insert, value);
    BELLHOLE_TRY(inserted,
                 insert.bind(made.pipe).bind(made.at).bind(made.marked).bind(made.event).run());
    static_cast<void>(inserted);
  }
  return true;
}

Result<bool> Store::refresh() {
  std::vector<std::string> stale;
  {
    BELLHOLE_TRY(select, database_.prepare("SELECT job FROM jobs WHERE stale = 1 ORDER BY job"));
    while (true) {
      BELLHOLE_TRY(more, select.step());
      if (!more) break;
      stale.push_back(select.text(0));
    }
  }
  if (stale.empty()) return true;
  BELLHOLE_TRY(change, Change::begin(database_));
  for (const std::string& job : stale) {
    BELLHOLE_TRY(done, project(job));
    static_cast<void>(done);
  }
  return change.commit();
}

Result<bool> Store::rebuild() {
  BELLHOLE_TRY(change, Change::begin(database_));
  for (const char* sql : {"DELETE FROM squeezes", "DELETE FROM heads", "DELETE FROM jobs"}) {
    BELLHOLE_TRY(done, database_.run(sql));
    static_cast<void>(done);
  }
  std::vector<std::string> lines;
  {
    BELLHOLE_TRY(select, database_.prepare("SELECT bytes FROM events ORDER BY hash"));
    while (true) {
      BELLHOLE_TRY(more, select.step());
      if (!more) break;
      lines.push_back(select.text(0));
    }
  }
  for (const std::string& line : lines) {
    BELLHOLE_TRY(event, wire::read_event(line, database_.path()));
    BELLHOLE_TRY(done, note(event));
    static_cast<void>(done);
  }
  BELLHOLE_TRY(done, change.commit());
  static_cast<void>(done);
  return refresh();
}

}  // namespace bellhole::store
