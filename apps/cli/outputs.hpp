// Files that a command writes beside what it prints.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "apps/cli/command.hpp"
#include "findings/trouble.hpp"
#include "units/print.hpp"

namespace CLI {
class App;
}

namespace bellhole::cli {

struct Outputs {
  std::string pdf, paper, svg, csv, geography, vtk;
};

/// Adds the flags of the files that this command can write.
void add_outputs(CLI::App& app, const Command& command, Outputs& outputs);

/// Writes what was asked for. Errors: unwritable_file; nothing is half-written.
Result<bool> write_outputs(const Outputs& outputs, const nlohmann::json& reply,
                           units::System system);

}  // namespace bellhole::cli
