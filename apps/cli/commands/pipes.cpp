#include "apps/cli/command.hpp"

namespace bellhole::cli {

Command pipes_command() {
  return {.name = "pipes", .help = "the sizes, ratios and materials on record", .flags = {}};
}

}  // namespace bellhole::cli
