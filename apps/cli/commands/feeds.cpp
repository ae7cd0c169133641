#include "apps/cli/command.hpp"

namespace bellhole::cli {

Command feeds_command() {
  return {.name = "feeds",
          .help = "what feeds a place: sources, regulators and valves on the way, from which sides",
          .network = true,
          .flags = {{"--at", "at", Takes::text, "place as LON,LAT in degrees"},
                    {"--reach", "reach", Takes::text, "how far from a main --at may point (30 m)"},
                    {"--pipe", "pipe", Takes::text, "place on a main: ID@STATION"},
                    {"--node", "node", Takes::text, "a node"}}};
}

}  // namespace bellhole::cli
