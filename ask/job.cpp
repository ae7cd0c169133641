// "job-state", "job-audit", "job-handover", "job-verify" and "job-plan": questions about the log of
// a job, and its first events from a plan. The log is a document like any other, so the phone asks
// them of the log that it holds.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "ask/job_read.hpp"
#include "wire/job.hpp"
#include "wire/recording.hpp"

namespace bellhole::ask {
namespace {

using wire::Json;

/// The bytes under "log": the hash of a loaded log, or its lines themselves.
Result<std::string> log_bytes(const Question& question) {
  BELLHOLE_TRY(given, question.request.need_text("log", "give the log of a job, one event a line"));
  if (given.find('{') != std::string::npos) return given;
  BELLHOLE_TRY(bytes, question.context.library.document("log", given));
  return std::string(bytes);
}

Result<units::System> system_of(const Question& question) {
  BELLHOLE_TRY(text, question.request.text("units"));
  if (!text) return units::System::us;
  BELLHOLE_TRY(which, wire::one_of(*text, {"us", "metric"}, question.request.at("units")));
  return which == 0 ? units::System::us : units::System::metric;
}

/// What makes a reader doubt the record itself, whatever is asked of it.
Findings doubts(const JobRead& read) {
  Findings found;
  for (const job::ChainFault& fault : job::check_log(read.log)) {
    const bool late = fault.how == job::Broken::removed;
    found.push_back({.rule = late ? "job.event_missing" : "job.record_broken",
                     .grade = late ? Grade::undecided : Grade::halt,
                     .says = fault.says,
                     .source = "the chain of the log itself",
                     .evidence = Evidence::derived,
                     .action = late ? "fetch the log of every device and merge it"
                                    : "the record does not stand: find out who changed it",
                     .about = "the record"});
  }
  for (const job::Conflict& conflict : read.state.conflicts)
    found.push_back(
        {.rule = "job.conflict",
         .grade = Grade::undecided,
         .says = fmt::format("devices that were apart say different things of {}; {} is "
                             "used, and nobody has chosen it",
                             conflict.about, conflict.used),
         .source = "the log of this job",
         .evidence = Evidence::entered,
         .action = "settle it by one more entry, by somebody who has seen both",
         .about = conflict.about});
  for (const job::Breach& breach : read.state.breaches)
    found.push_back({.rule = "job.gate",
                     .grade = Grade::halt,
                     .says = fmt::format("{} at {} although {} things stood against it, first: {}",
                                         job::to_string(breach.act.what.did),
                                         job::local_clock(breach.act.stamp.happened_at),
                                         breach.reasons.size(), breach.reasons.front().says),
                     .source = "the log of this job",
                     .evidence = Evidence::entered,
                     .action = "the person in charge answers for it",
                     .about = std::string(job::to_string(breach.gate))});
  return found;
}

}  // namespace

Result<JobRead> read_job(const Question& question) {
  BELLHOLE_TRY(bytes, log_bytes(question));
  BELLHOLE_TRY(system, system_of(question));
  BELLHOLE_TRY(log, wire::read_log(bytes, "log"));
  job::State state = job::fold(log);
  return JobRead{std::move(log), std::move(state), system};
}

void put_job_head(Json& reply, const char* name, const JobRead& read) {
  reply["question"] = name;
  reply["units"] = read.system == units::System::us ? "us" : "metric";
}

Answer job_state(const Question& question) {
  BELLHOLE_TRY(log, read_job(question));
  if (const auto done = question.request.done(); !done) return std::unexpected(done.error());
  Json reply = wire::state_json(log.log, log.state);
  put_job_head(reply, "job-state", log);
  wire::put_answer(reply, doubts(log), question.assumed);
  return reply;
}

Answer job_handover(const Question& question) {
  BELLHOLE_TRY(log, read_job(question));
  if (const auto done = question.request.done(); !done) return std::unexpected(done.error());
  Json reply = wire::handover_json(job::handover(log.state, log.system));
  put_job_head(reply, "job-handover", log);
  reply["job"] = log.state.job;
  wire::put_answer(reply, doubts(log), question.assumed);
  return reply;
}

Answer job_audit(const Question& question) {
  BELLHOLE_TRY(log, read_job(question));
  BELLHOLE_TRY(profile,
               profile_of(question, log.system == units::System::metric ? "metric" : "us"));
  BELLHOLE_TRY(read_to, question.request.quantity<kinds::Length>("gap_read_to"));
  if (const auto done = question.request.done(); !done) return std::unexpected(done.error());
  if (read_to && read_to->si() < 0.0)
    return trouble(Code::out_of_range, "gap_read_to", fmt::format("{:g} m", read_to->si()),
                   "give a length, nought or more");
  const Length gap = read_to.value_or(wire::gap_read_to(log.system));
  if (!read_to)
    question.assumed.push_back(fmt::format(
        "gaps are read to {}: bars that near their stop are on it", units::print(gap, log.system)));
  BELLHOLE_TRY(audit, job::audit(log.log, log.state, {profile, log.system, gap}));
  for (const job::JudgedSqueeze& squeeze : audit.squeezes)
    for (const std::string& line : squeeze.assumed)
      question.assumed.push_back("squeeze " + squeeze.letter + ": " + line);
  Json reply = wire::audit_json(audit);
  put_job_head(reply, "job-audit", log);
  reply["job"] = log.state.job;
  reply["title"] = log.state.opened ? Json(log.state.opened->what.title) : Json(nullptr);
  reply["events"] = log.state.events;
  reply["procedure"] = profile.id();
  reply["heads"] = wire::heads_json(log.log.heads());
  wire::put_answer(reply, audit.findings(), question.assumed);
  return reply;
}

Answer job_verify(const Question& question) {
  BELLHOLE_TRY(bytes, log_bytes(question));
  BELLHOLE_TRY(name, question.request.text("name"));
  BELLHOLE_TRY(texts, question.request.texts("heads"));
  BELLHOLE_TRY(heads, wire::read_heads(texts, "heads"));
  if (const auto done = question.request.done(); !done) return std::unexpected(done.error());
  const std::string file = name.value_or("log");
  BELLHOLE_TRY(lines, wire::read_lines(bytes, file));
  if (lines.empty())
    return trouble(Code::missing_value, file, "no event", "give a log: one event a line");
  if (heads.empty())
    question.assumed.push_back(
        "no heads were given: whether events are missing at the end of the log cannot be told");
  const auto faults = job::check_file(wire::log_lines(lines), heads);
  std::vector<job::Event> events;
  for (const wire::Line& line : lines)
    if (line.event) events.push_back(*line.event);
  Json reply;
  reply["question"] = "job-verify";
  reply["name"] = file;
  reply["lines"] = lines.size();
  reply["job"] = events.empty() ? Json(nullptr) : Json(events.front().job);
  reply["heads"] = wire::heads_json(job::Log::of(std::move(events)).heads());
  reply["faults"] = wire::faults_json(faults);
  wire::put_answer(reply, wire::faults_found(faults, file), question.assumed);
  return reply;
}

Answer job_plan(const Question& question) {
  BELLHOLE_TRY(bytes, plan_bytes_of(question, "plan"));
  BELLHOLE_TRY(rank, question.request.whole("rank"));
  BELLHOLE_TRY(title, question.request.need_text("title", "say what the job is called"));
  BELLHOLE_TRY(work, question.request.text("work"));
  if (work) {
    BELLHOLE_TRY(known, wire::one_of(*work, {"planned", "emergency", "drill"}, "work"));
    static_cast<void>(known);
  }
  if (const auto done = question.request.done(); !done) return std::unexpected(done.error());
  Json opened = {{"title", title}};
  if (work) opened["work"] = *work;
  BELLHOLE_TRY(drafts, wire::drafts_of_plan(bytes, "plan", rank.value_or(1), opened));
  if (!rank) question.assumed.push_back("the first plan of the document, since no rank was given");
  Json reply;
  reply["question"] = "job-plan";
  reply["drafts"] = drafts;
  wire::put_answer(reply, {}, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
