#include "apps/cli/command.hpp"

namespace bellhole::cli {

Command check_command() {
  return {.name = "check",
          .help = "what in a network contradicts itself, cannot be, or is not known",
          .network = true};
}

}  // namespace bellhole::cli
