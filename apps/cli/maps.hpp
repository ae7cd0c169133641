// `bellhole import` and `--export` start the maps program, which alone knows map files.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "findings/trouble.hpp"

namespace CLI {
class App;
}

namespace bellhole::cli {

struct Import {
  std::string map, mapping, out, report;
  std::vector<std::string> accept;
  bool json = false;
};

/// Adds the command; answers it.
CLI::App* add_import(CLI::App& app, Import& import);

/// Writes a plan as a map: `reply` goes through a file beside `out`, which is gone again
/// afterwards. Errors: unwritable_file with what the maps program answered; what it says stands on
/// standard error.
Result<bool> export_plan(const std::string& out, std::string_view reply);

/// Runs bellhole-maps, looked for beside this program and then on the PATH, and answers its exit
/// code.
int run_import(const Import& import);

}  // namespace bellhole::cli
