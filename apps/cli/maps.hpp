// `bellhole import` starts the maps program, which alone knows map files.
#pragma once

#include <string>
#include <vector>

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

/// Runs bellhole-maps, looked for beside this program and then on the PATH, and answers its exit code.
int run_import(const Import& import, const std::string& self);

}  // namespace bellhole::cli
