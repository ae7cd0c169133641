#include "apps/cli/commands/job.hpp"

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <nlohmann/json.hpp>

#include "apps/cli/files.hpp"
#include "apps/cli/lanes.hpp"
#include "apps/cli/machine.hpp"
#include "apps/cli/maps.hpp"
#include "apps/cli/refuse.hpp"
#include "ask/ask.hpp"
#include "sheets/record_sheet.hpp"
#include "sheets/record_table.hpp"
#include "sheets/terminal/terminal.hpp"
#include "store/desk.hpp"

namespace bellhole::cli {
namespace {

using store::Store;
using wire::Json;

int shown(const Result<Json>& reply, bool json, const std::string& units) {
  if (!reply) return refuse(reply.error(), json);
  const auto system = units == "metric" ? units::System::metric : units::System::us;
  fmt::print("{}\n", json ? wire::text_of(*reply) : sheets::terminal_text(*reply, system));
  const std::string verdict = reply->at("verdict").get<std::string>();
  return verdict == "halt" || verdict == "undecided" ? 1 : 0;
}

Result<Json> begin(Store& store, const JobFlags& flags) {
  std::string plan;
  if (!flags.plan.empty()) {
    BELLHOLE_TRY(bytes, read_file(flags.plan));
    plan = bytes;
  }
  Json opened = Json::object();
  for (const auto& [key, value] :
       {std::pair("title", &flags.title), std::pair("work", &flags.work),
        std::pair("place", &flags.place), std::pair("work_order", &flags.work_order)})
    if (!value->empty()) opened[key] = *value;
  if (!opened.contains("title"))
    opened["title"] = flags.plan.empty() ? "job" : "job of plan " + flags.plan;
  if (flags.plan.empty() && !opened.contains("work")) opened["work"] = "planned";
  return store::begin_job(store, opened, plan, flags.plan, flags.rank, flags.by,
                          this_machine(flags.device));
}

Result<Json> enter(Store& store, const JobFlags& flags) {
  BELLHOLE_TRY(bytes, read_file(flags.file));
  BELLHOLE_TRY(there, store.log(flags.job));
  static_cast<void>(there);
  for (const std::string& photo : flags.files) {
    BELLHOLE_TRY(picture, read_file(photo));
    BELLHOLE_TRY(kept, store.keep(picture));
    static_cast<void>(kept);
  }
  BELLHOLE_TRY(taken, store.enter(flags.job, bytes, flags.file, this_machine(flags.device)));
  return store::taken_reply(store, "job-event", taken, flags.job);
}

Result<Json> merge(Store& store, const JobFlags& flags) {
  store::Taken all;
  for (const std::string& file : flags.files) {
    BELLHOLE_TRY(bytes, read_file(file));
    BELLHOLE_TRY(taken, store.take(bytes, file));
    all.added += taken.added;
    all.known += taken.known;
    all.jobs.insert(all.jobs.end(), taken.jobs.begin(), taken.jobs.end());
  }
  return store::taken_reply(store, "job-merge", all, "");
}

Result<Json> export_log(Store& store, const JobFlags& flags) {
  BELLHOLE_TRY(log, store.log(flags.job));
  BELLHOLE_TRY(heads, store::head_lines(store, flags.job));
  BELLHOLE_TRY(written, write_file(flags.out, log));
  BELLHOLE_TRY(written_heads, write_file(flags.out + ".heads", heads));
  static_cast<void>(written);
  static_cast<void>(written_heads);
  return store::taken_reply(store, "job-export", {}, flags.job);
}

Result<Json> asked(const Json& request, ask::Library& library, const char* name) {
  ProgressLine progress(name);
  Threads threads;
  const ask::Reply reply = ask::ask(wire::text_of(request), {library, progress, threads});
  Json document = Json::parse(reply.document);
  if (!document.contains("trouble")) return document;
  const Json& trouble = document.at("trouble");
  const auto code = static_cast<Code>(trouble.at("number").get<int>());
  return std::unexpected(
      Trouble{code, trouble.at("where"), trouble.at("value"), trouble.at("fix")});
}

/// A question about the log of a job in the store.
Result<Json> about(Store& store, const JobFlags& flags, const char* question) {
  BELLHOLE_TRY(log, store.log(flags.job));
  ask::Library library;
  BELLHOLE_TRY(hash, library.load("log", log, "job " + flags.job));
  Json request = {{"question", question}, {"log", hash}};
  if (!flags.units.empty()) request["units"] = flags.units;
  if (std::string_view(question) == "job-audit" && !flags.procedure.empty()) {
    request["procedure"] = flags.procedure;
    if (is_file(flags.procedure)) {
      BELLHOLE_TRY(bytes, read_file(flags.procedure));
      BELLHOLE_TRY(profile, library.load("profile", bytes, flags.procedure));
      request["procedure"] = profile;
    }
  }
  if (!flags.about.empty()) request["about"] = flags.about;
  if (!flags.heard.empty()) {
    request["code"] = flags.heard;
    request["heard_at"] = job::print_utc(this_machine(flags.device).now().at);
  }
  return asked(request, library, question);
}

Result<Json> verify(const JobFlags& flags) {
  BELLHOLE_TRY(log, read_file(flags.file));
  Json request = {{"question", "job-verify"}, {"log", ""}, {"name", flags.file}};
  std::vector<std::string> heads = flags.heads;
  if (is_file(flags.file + ".heads")) {
    BELLHOLE_TRY(beside, read_file(flags.file + ".heads"));
    for (std::size_t from = 0; from < beside.size();) {
      const auto end = std::min(beside.find('\n', from), beside.size());
      if (end > from) heads.push_back(beside.substr(from, end - from));
      from = end + 1;
    }
  }
  request["heads"] = heads;
  ask::Library library;
  BELLHOLE_TRY(hash, library.load("log", log, flags.file));
  request["log"] = hash;
  return asked(request, library, "job verify");
}

Result<Json> record(Store& store, const JobFlags& flags) {
  BELLHOLE_TRY(state, about(store, flags, "job-state"));
  BELLHOLE_TRY(audit, about(store, flags, "job-audit"));
  BELLHOLE_TRY(handover, about(store, flags, "job-handover"));
  const bool metric = flags.units == "metric";
  const auto system = metric ? units::System::metric : units::System::us;
  BELLHOLE_TRY(paper, sheets::paper_from(!flags.paper.empty() ? flags.paper
                                         : metric             ? "a4"
                                                              : "letter"));
  if (!flags.pdf.empty()) {
    BELLHOLE_TRY(bytes,
                 sheets::record_sheet({state, audit, handover}, flags.sheet, {paper, system}));
    BELLHOLE_TRY(written, write_file(flags.pdf, bytes));
    static_cast<void>(written);
  }
  if (!flags.csv.empty()) {
    BELLHOLE_TRY(table, sheets::record_csv({state, audit, handover}, flags.sheet));
    BELLHOLE_TRY(written, write_file(flags.csv, table));
    static_cast<void>(written);
  }
  if (!flags.geography.empty()) {
    BELLHOLE_TRY(written, export_plan(flags.geography, state.dump()));
    static_cast<void>(written);
  }
  return audit;
}

void add_store(CLI::App& app, std::string& store, bool& json, std::string& units) {
  app.add_option("--store", store, "the store: one SQLite file (bellhole.sqlite)");
  app.add_flag("--json", json, "print the reply document");
  app.add_option("--units", units, "us or metric: units of what is printed")
      ->check(CLI::IsMember({"us", "metric"}));
}

CLI::App* part(CLI::App& job, JobFlags& flags, const char* name, const char* help) {
  CLI::App* app = job.add_subcommand(name, help);
  add_store(*app, flags.store, flags.json, flags.units);
  return app;
}

CLI::App* part_of_job(CLI::App& job, JobFlags& flags, const char* name, const char* help) {
  CLI::App* app = part(job, flags, name, help);
  app->add_option("JOB", flags.job, "id of the job")->required();
  return app;
}

void add_entering(CLI::App& app, JobFlags& flags) {
  app.add_option("--device", flags.device,
                 "name under which events are entered; otherwise the store's own");
}

void add_record(CLI::App& app, JobFlags& flags) {
  app.add_option("--procedure", flags.procedure, "us, metric or the file of the company's profile");
  auto* pdf = app.add_option("--pdf", flags.pdf, "write the sheet to this file");
  app.add_option("--sheet", flags.sheet,
                 "record, squeeze, test, purge, outage, as-laid or handover (record)")
      ->check(
          CLI::IsMember({"record", "squeeze", "test", "purge", "outage", "as-laid", "handover"}));
  app.add_option("--paper", flags.paper, "a4 or letter")
      ->check(CLI::IsMember({"a4", "letter"}))
      ->needs(pdf);
  app.add_option("--csv", flags.csv, "write the table of that sheet to this file");
  app.add_option("--export", flags.geography,
                 "write what lies in the ground as FILE.gpkg or FILE.geojson");
}

}  // namespace

CLI::App* add_job(CLI::App& app, JobFlags& flags) {
  CLI::App* job = app.add_subcommand("job", "the log of a job: what was done, by whom, when");
  job->require_subcommand(1);
  CLI::App* fresh = part(*job, flags, "new", "begin a job, with or without a plan");
  fresh->add_option("--plan", flags.plan, "reply of plan --json");
  fresh->add_option("--rank", flags.rank, "which of its plans (1)");
  fresh->add_option("--title", flags.title, "what it is called");
  fresh->add_option("--work", flags.work, "planned, emergency or drill; otherwise as the plan says")
      ->check(CLI::IsMember({"planned", "emergency", "drill"}));
  fresh->add_option("--place", flags.place, "where, in words");
  fresh->add_option("--work-order", flags.work_order, "its number");
  fresh->add_option("--by", flags.by, "id of the person who opens it");
  add_entering(*fresh, flags);
  CLI::App* event = part_of_job(*job, flags, "event",
                                "enter events, one a line: drafts, or sealed ones as they are");
  event->add_option("--file", flags.file, "the events")->required();
  event->add_option("--photo", flags.files, "keep this file by its hash; may be given again")
      ->take_all()
      ->allow_extra_args(false);
  add_entering(*event, flags);
  part_of_job(*job, flags, "state", "steps, gates, shut-offs, people: what the log says now");
  part_of_job(*job, flags, "handover", "what somebody who takes over must know, in 90 seconds");
  CLI::App* radio = part_of_job(
      *job, flags, "radio", "a shut-off's state as 12 characters for the radio, or what was heard");
  radio->add_option("--about", flags.about, "letter of the shut-off: gives its code");
  radio->add_option("--heard", flags.heard, "a code that was heard now: says what it means");
  CLI::App* audit = part_of_job(*job, flags, "audit",
                                "every deviation with value, limit, source, time and person");
  audit->add_option("--procedure", flags.procedure,
                    "us, metric or the file of the company's profile");
  add_record(*part_of_job(*job, flags, "record", "the record on paper, as a table, as a map"),
             flags);
  CLI::App* check = job->add_subcommand(
      "verify", "whether a log file is as it was written; names the first event that is not");
  check->add_option("FILE", flags.file, "log file, as `job export` wrote it")->required();
  check
      ->add_option("--head", flags.heads,
                   "\"DEVICE NUMBER HASH\" from a paper; may be given again. FILE.heads is read "
                   "where it is there")
      ->take_all()
      ->allow_extra_args(false);
  check->add_flag("--json", flags.json, "print the reply document");
  CLI::App* merged =
      part(*job, flags, "merge", "take the logs of devices that were apart into the store");
  merged->add_option("FILES", flags.files, "log files")->required();
  CLI::App* out =
      part_of_job(*job, flags, "export",
                  "write the log, one event a line exactly as received, and its heads beside it");
  out->add_option("--out", flags.out, "log file")->required();
  part(*job, flags, "list", "the jobs of a store");
  return job;
}

int run_job(const CLI::App& app, const JobFlags& flags) {
  const std::string name = app.get_subcommands().front()->get_name();
  if (name == "verify") return shown(verify(flags), flags.json, flags.units);
  if (name != "new" && name != "merge" && !is_file(flags.store))
    return refuse({Code::unreadable_file, flags.store, "no such store", "name it: --store FILE"},
                  flags.json);
  auto store = Store::open(flags.store);
  if (!store) return refuse(store.error(), flags.json);
  const auto show = [&](const Result<Json>& reply) {
    return shown(reply, flags.json, flags.units);
  };
  if (name == "new") return show(begin(*store, flags));
  if (name == "event") return show(enter(*store, flags));
  if (name == "merge") return show(merge(*store, flags));
  if (name == "export") return show(export_log(*store, flags));
  if (name == "record") return show(record(*store, flags));
  if (name == "list") {
    const auto jobs = store->jobs();
    return jobs ? show(store::jobs_reply(*jobs)) : refuse(jobs.error(), flags.json);
  }
  return show(about(*store, flags,
                    name == "state"      ? "job-state"
                    : name == "handover" ? "job-handover"
                    : name == "radio"    ? "job-radio"
                                         : "job-audit"));
}

}  // namespace bellhole::cli
