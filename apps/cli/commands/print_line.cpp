#include "apps/cli/command.hpp"

namespace bellhole::cli {

Command print_line_command() {
  return {
      .name = "print-line",
      .help = "what a pipe's print line and component code say for sure",
      .flags = {{"--text", "text", Takes::text, "the line as it stands on the pipe"},
                {"--code", "code", Takes::text, "the 16-character component code (ASTM F2897)"}}};
}

}  // namespace bellhole::cli
