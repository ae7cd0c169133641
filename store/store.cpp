#include "store/store.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "store/schema.hpp"

namespace bellhole::store {
namespace {

/// The name under which this store enters events itself. Two stores never share one, so their
/// chains stay apart.
Result<std::string> device_of(Database& database, const Machine& machine) {
  if (!machine.device.empty()) return machine.device;
  BELLHOLE_TRY(read, database.prepare("SELECT value FROM about WHERE name = 'device'"));
  BELLHOLE_TRY(there, read.step());
  if (there) return read.text(0);
  std::string name = "desk-";
  const auto random = machine.random();
  for (std::size_t i = 0; i < 4; ++i) name += fmt::format("{:02x}", random[i]);
  BELLHOLE_TRY(write, database.prepare("INSERT INTO about (name, value) VALUES ('device', ?)"));
  BELLHOLE_TRY(done, write.bind(name).run());
  static_cast<void>(done);
  return name;
}

/// The lines of a text with where each stands; empty lines are passed over.
std::vector<std::pair<std::string, std::string>> split(std::string_view text,
                                                       std::string_view name) {
  std::vector<std::pair<std::string, std::string>> lines;
  for (std::size_t number = 1; !text.empty(); ++number) {
    const auto end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (line.ends_with('\r')) line.remove_suffix(1);
    if (line.find_first_not_of(" \t") != std::string_view::npos)
      lines.emplace_back(fmt::format("{}, line {}", name, number), line);
  }
  return lines;
}

Result<job::Event> sealed_event(const std::string& line, const std::string& where,
                                const std::string& job) {
  BELLHOLE_TRY(event, wire::read_event(line, where));
  if (!event.sealed)
    return trouble(Code::contradiction, where, event.hash,
                   "the seal does not hold: the line was edited after it was sealed");
  if (!job.empty() && event.job != job)
    return trouble(Code::contradiction, where, event.job, "this event belongs to another job");
  return event;
}

struct Chain {
  job::Head own;
  std::vector<job::Hash> others;
};

Result<Chain> chain_of(Database& database, const std::string& job, const std::string& device) {
  Chain chain;
  BELLHOLE_TRY(
      heads,
      database.prepare("SELECT device, sequence, hash FROM heads WHERE job = ? ORDER BY device"));
  heads.bind(job);
  while (true) {
    BELLHOLE_TRY(more, heads.step());
    if (!more) break;
    if (heads.text(0) == device)
      chain.own = {device, heads.number(1), heads.text(2)};
    else
      chain.others.push_back(heads.text(2));
  }
  return chain;
}

}  // namespace

Result<Store> Store::open(const std::string& path, const std::string& vfs) {
  BELLHOLE_TRY(database, Database::open(path, vfs));
  BELLHOLE_TRY(forward, bring_forward(database));
  static_cast<void>(forward);
  return Store(std::move(database));
}

Result<bool> Store::add(const std::string& line, const job::Event& event, Taken& taken) {
  BELLHOLE_TRY(known, database_.prepare("SELECT bytes FROM events WHERE hash = ?"));
  BELLHOLE_TRY(there, known.bind(event.hash).step());
  if (there) {
    ++taken.known;
    return true;
  }
  BELLHOLE_TRY(insert, database_.prepare("INSERT INTO events (hash, job, bytes) VALUES (?, ?, ?)"));
  BELLHOLE_TRY(inserted, insert.bind(event.hash).bind(event.job).bind(line).run());
  static_cast<void>(inserted);
  ++taken.added;
  if (std::ranges::find(taken.jobs, event.job) == taken.jobs.end()) taken.jobs.push_back(event.job);
  return note(event);
}

Result<bool> Store::note(const job::Event& event) {
  BELLHOLE_TRY(head, database_.prepare(
                         "INSERT INTO heads (job, device, sequence, hash) VALUES (?, ?, ?, ?) "
                         "ON CONFLICT (job, device) DO UPDATE SET sequence = excluded.sequence, "
                         "hash = excluded.hash WHERE excluded.sequence > heads.sequence OR "
                         "(excluded.sequence = heads.sequence AND excluded.hash > heads.hash)"));
  BELLHOLE_TRY(headed,
               head.bind(event.job).bind(event.device).bind(event.sequence).bind(event.hash).run());
  static_cast<void>(headed);
  BELLHOLE_TRY(stale,
               database_.prepare("INSERT INTO jobs (job, title, work, opened_at, events, stale) "
                                 "VALUES (?, '', '', '', 1, 1) ON CONFLICT (job) DO UPDATE SET "
                                 "events = jobs.events + 1, stale = 1"));
  return stale.bind(event.job).run();
}

Result<Taken> Store::take(std::string_view text, std::string_view name, const std::string& job) {
  Taken taken;
  BELLHOLE_TRY(change, Change::begin(database_));
  for (const auto& [where, line] : split(text, name)) {
    BELLHOLE_TRY(event, sealed_event(line, where, job));
    BELLHOLE_TRY(added, add(line, event, taken));
    static_cast<void>(added);
  }
  BELLHOLE_TRY(done, change.commit());
  static_cast<void>(done);
  return taken;
}

Result<Taken> Store::enter(const std::string& job, const std::vector<wire::Json>& drafts,
                           std::string_view name, const Machine& machine) {
  std::string lines;
  for (const wire::Json& draft : drafts)
    lines += draft.dump(-1, ' ', false, wire::Json::error_handler_t::replace) + "\n";
  return enter(job, lines, name, machine);
}

Result<Taken> Store::enter(const std::string& job, std::string_view text, std::string_view name,
                           const Machine& machine) {
  Taken taken;
  BELLHOLE_TRY(change, Change::begin(database_));
  for (const auto& [where, given] : split(text, name)) {
    std::string line = given;
    const auto json = wire::parse_json(line, where, wire::event_cap);
    if (!json) return std::unexpected(json.error());
    if (wire::is_draft(*json)) {
      BELLHOLE_TRY(device, device_of(database_, machine));
      BELLHOLE_TRY(chain, chain_of(database_, job, device));
      BELLHOLE_TRY(sealed, wire::enter(*json,
                                       {.job = job,
                                        .device = device,
                                        .boot = machine.boot,
                                        .sequence = chain.own.sequence + 1,
                                        .previous = chain.own.hash,
                                        .seen = chain.others,
                                        .entered_at = machine.now(),
                                        .monotonic = machine.monotonic(),
                                        .random = machine.random()},
                                       where));
      line = sealed;
    }
    BELLHOLE_TRY(event, sealed_event(line, where, job));
    BELLHOLE_TRY(added, add(line, event, taken));
    static_cast<void>(added);
  }
  BELLHOLE_TRY(done, change.commit());
  static_cast<void>(done);
  return taken;
}

Result<std::string> Store::log(const std::string& job) {
  BELLHOLE_TRY(select, database_.prepare("SELECT hash, bytes FROM events WHERE job = ?"));
  select.bind(job);
  std::map<std::string, std::string> bytes;
  std::vector<job::Event> events;
  while (true) {
    BELLHOLE_TRY(more, select.step());
    if (!more) break;
    BELLHOLE_TRY(event, wire::read_event(select.text(1), database_.path()));
    bytes[event.hash] = select.text(1);
    events.push_back(std::move(event));
  }
  if (events.empty())
    return trouble(Code::unknown_element, database_.path(), job,
                   "no job of that name is in this store");
  std::string text;
  const job::Log log = job::Log::of(std::move(events));
  for (const job::Event& event : log.events()) text += bytes[event.hash] + "\n";
  return text;
}

Result<std::vector<JobLine>> Store::jobs() {
  BELLHOLE_TRY(fresh, refresh());
  static_cast<void>(fresh);
  std::vector<JobLine> lines;
  BELLHOLE_TRY(select, database_.prepare(
                           "SELECT job, title, work, opened_at, events FROM jobs ORDER BY job"));
  while (true) {
    BELLHOLE_TRY(more, select.step());
    if (!more) break;
    lines.push_back(
        {select.text(0), select.text(1), select.text(2), select.text(3), select.number(4)});
  }
  return lines;
}

}  // namespace bellhole::store
