#include "apps/cli/maps.hpp"

#include <fmt/format.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <cstring>
#include <filesystem>
#include <vector>

#include "apps/cli/files.hpp"

extern char** environ;

namespace bellhole::cli {
namespace {

std::string maps_program() {
  std::error_code error;
  const auto here = std::filesystem::read_symlink("/proc/self/exe", error);
  const auto folder = here.parent_path();
  for (const auto& place :
       {folder / "bellhole-maps", folder / ".." / ".." / "maps" / "bellhole-maps"}) {
    if (std::filesystem::exists(place, error)) return place.string();
  }
  return "bellhole-maps";
}

/// Starts a program, waits for it and answers its exit code.
int run_program(std::vector<std::string> words) {
  std::vector<char*> arguments;
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  pid_t child = 0;
  if (const int error =
          ::posix_spawnp(&child, arguments[0], nullptr, nullptr, arguments.data(), environ);
      error != 0) {
    fmt::print(stderr, "Cannot start {}: {}. It is built beside this program.\n", words[0],
               std::strerror(error));
    return 3;
  }
  int status = 0;
  while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
  }
  return WIFEXITED(status) ? WEXITSTATUS(status) : 3;
}

}  // namespace

CLI::App* add_import(CLI::App& app, Import& import) {
  CLI::App* sub =
      app.add_subcommand("import", "read a map into a network file, and say what was found on it");
  sub->add_option("MAP", import.map, "vector map: GeoPackage, shapefile, GeoJSON, geodatabase …")
      ->required();
  sub->add_option("--mapping", import.mapping, "file that says which layers and columns mean what")
      ->required();
  sub->add_option("--out", import.out, "network file to write")->required();
  sub->add_option("--report", import.report, "also write what was found as a document");
  sub->add_option("--accept", import.accept,
                  "let the halts of this rule pass, and say so in the network");
  sub->add_flag("--json", import.json, "print what was found as a document");
  return sub;
}

int run_import(const Import& import) {
  std::vector<std::string> words{maps_program(), "import", import.map, "--mapping",
                                 import.mapping, "--out",  import.out};
  if (!import.report.empty()) words.insert(words.end(), {"--report", import.report});
  for (const std::string& rule : import.accept) words.insert(words.end(), {"--accept", rule});
  if (import.json) words.emplace_back("--json");
  return run_program(words);
}

Result<bool> export_plan(const std::string& out, std::string_view reply) {
  const std::string between = out + ".plan-" + std::to_string(::getpid()) + ".json";
  BELLHOLE_TRY(written, write_file(between, reply));
  static_cast<void>(written);
  const int status = run_program({maps_program(), "export", between, "--out", out});
  ::unlink(between.c_str());
  if (status == 0) return true;
  return trouble(
      Code::unwritable_file, out, fmt::format("the maps program answered {}", status),
      "see what it said above; the reply itself is not lost: ask again without --export");
}

}  // namespace bellhole::cli
