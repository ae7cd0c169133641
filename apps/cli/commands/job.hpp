// `bellhole job …` and `bellhole register …`: the commands that keep a store. They open it, hand
// over what was typed, and print the reply; what is asked of a log goes through ask like any other
// question.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace bellhole::cli {

struct JobFlags {
  std::string store = "bellhole.sqlite", device, job, file, out, plan, title, work, place,
              work_order, by, units, procedure, pdf, paper, sheet = "record", csv, geography, about,
              heard;
  std::vector<std::string> files, heads;
  std::int64_t rank = 1;
  bool json = false;
};

struct RegisterFlags {
  std::string store = "bellhole.sqlite", kind, file, id, near, pipe, station, within, units;
  bool json = false;
};

CLI::App* add_job(CLI::App& app, JobFlags& flags);
/// Runs the subcommand of `job` that was parsed; answers the exit code.
int run_job(const CLI::App& app, const JobFlags& flags);

CLI::App* add_register(CLI::App& app, RegisterFlags& flags);
int run_register(const CLI::App& app, const RegisterFlags& flags);

}  // namespace bellhole::cli
