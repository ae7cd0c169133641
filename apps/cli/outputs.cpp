#include "apps/cli/outputs.hpp"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "apps/cli/files.hpp"

namespace bellhole::cli {

void add_outputs(CLI::App&, const Command&, Outputs&) {}

Result<bool> write_outputs(const Outputs&, const nlohmann::json&, units::System) { return true; }

}  // namespace bellhole::cli
