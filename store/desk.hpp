// What the doors do with a store, as reply documents: begin a job, enter events, merge logs,
// export, look into a register.
#pragma once

#include "store/store.hpp"

namespace bellhole::store {

/// Begins a job: an opened event and, with the bytes of a plan document, a planned one (the
/// document is kept as a blob). `opened` holds the keys of the fact "opened". Reply: job, plan,
/// added.
Result<wire::Json> begin_job(Store& store, const wire::Json& opened, std::string_view plan,
                             std::string_view plan_name, std::int64_t rank, const std::string& by,
                             const Machine& machine);

/// Reply of entering or merging: job or jobs, added, known, heads of each job.
Result<wire::Json> taken_reply(Store& store, const char* question, const Taken& taken,
                               const std::string& job);

/// The heads of a job, one a line, for a file beside an export.
Result<std::string> head_lines(Store& store, const std::string& job);

wire::Json jobs_reply(const std::vector<JobLine>& jobs);

/// What `register` is asked.
struct Search {
  std::string near, pipe, station, within;  ///< as typed; all empty: every squeeze
};
/// Squeezes ever made, found before anybody digs. Errors: those of the values, missing_value for a
/// place without a distance.
Result<wire::Json> squeezes_reply(Store& store, const Search& search, units::System system);

/// The kinds of a register that are entered by hand: people, instruments, tools, stops, customers,
/// networks.
bool is_register(std::string_view kind);
/// Enters documents: a list of objects with an id each, one object, or a network (by its hash, with
/// what changed against the one of that name before).
Result<wire::Json> enroll_reply(Store& store, const std::string& kind, std::string_view bytes,
                                std::string_view name, const std::string& entered_at);
Result<wire::Json> register_reply(Store& store, const std::string& kind);

}  // namespace bellhole::store
