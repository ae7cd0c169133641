// The log of a job as the questions about it read it.
#pragma once

#include "ask/questions.hpp"
#include "job/state.hpp"
#include "units/print.hpp"

namespace bellhole::ask {

struct JobRead {
  job::Log log;
  job::State state;
  units::System system;
};

/// The log under "log" (a hash or its lines) and the units under "units".
Result<JobRead> read_job(const Question& question);

/// The keys question and units of a reply.
void put_job_head(wire::Json& reply, const char* name, const JobRead& read);

}  // namespace bellhole::ask
