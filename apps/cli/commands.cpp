#include "apps/cli/command.hpp"

namespace bellhole::cli {

std::vector<Command> commands() { return {}; }

}  // namespace bellhole::cli
