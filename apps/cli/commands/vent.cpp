#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command vent_command() {
  return {
      .name = "vent",
      .help = "how long a shut section blows down through a vent stack",
      .flags = together(
          {Flags{{"--volume", "volume", Takes::text, "inside volume of the section, 390ft3"},
                 {"--bore", "bore", Takes::text, "or its bore …"},
                 {"--length", "length", Takes::text, "… and its length"},
                 {"--pressure", "pressure", Takes::text, "in the section at the start, 55psi"},
                 {"--down-to", "down_to", Takes::text, "where it counts as done, 1inWC"},
                 {"--stack-bore", "stack_bore", Takes::text, "bore of the stack, 2.07in"},
                 {"--stack-length", "stack_length", Takes::text, "its length, hose included, 14ft"},
                 {"--stack-height", "stack_height", Takes::text,
                  "how far its mouth stands above the section, 10ft"},
                 {"--loss", "loss", Takes::number,
                  "K of entrance, bends and valve; otherwise 0.5, the entrance"},
                 {"--roughness", "roughness", Takes::text, "inside of the stack; otherwise steel"},
                 {"--temperature", "temperature", Takes::text, "of the gas, 55degF"},
                 {"--gravity", "gravity", Takes::number, "of the gas, air = 1; otherwise 0.6"}},
           place_flags()})};
}

}  // namespace bellhole::cli
