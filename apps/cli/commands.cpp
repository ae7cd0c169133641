#include "apps/cli/command.hpp"

namespace bellhole::cli {

std::vector<Command> commands() {
  return {squeeze_command(), pace_command(), feeds_command(),
          flow_command(),    plan_command(), check_command()};
}

}  // namespace bellhole::cli
