#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command purge_command() {
  return {
      .name = "purge",
      .help =
          "purging a main, or the part of a plan: its way, how fast, how much, how long, what ends "
          "it",
      .network = true,
      .flags = together(
          {Flags{{"--plan", "plan", Takes::document,
                  "with NETWORK: the reply of plan --json; legs, vents and services of its part",
                  "plan"},
                 {"--rank", "rank", Takes::whole, "which plan of it; otherwise the first"},
                 {"--rider", "rider", Takes::texts,
                  "letter of a shut-off that has a valve past it; may be given again"},
                 {"--hour", "hour", Takes::number, "with --plan: of the day"},
                 {"--bore", "bore", Takes::text, "inside diameter, 5.473in"},
                 {"--length", "length", Takes::text, "from the feed to the vent, 600ft"},
                 {"--speed", "speed", Takes::text,
                  "of the gas in the main, 3ft/s; otherwise the least"},
                 {"--pack-to", "pack_to", Takes::text,
                  "pressure that the main is packed to after, 58psi"},
                 {"--reading", "readings", Takes::texts,
                  "at the vent, in order: 93%gas; give it again for every reading"},
                 {"--instrument", "instrument", Takes::text,
                  "that reads at the vent: catalytic, thermal_conductivity, infrared"},
                 {"--stack-bore", "stack_bore", Takes::text,
                  "inside diameter of the vent stack, 1in"},
                 {"--stack-height", "stack_height", Takes::text,
                  "of its mouth above the ground, 8ft"},
                 {"--stack-loss", "stack_loss", Takes::number,
                  "velocity heads that its valve and bends lose; otherwise 4.1"},
                 {"--line-pressure", "line_pressure", Takes::text, "that the feed has, 55psig"},
                 {"--roughness", "roughness", Takes::text, "of the wall, 0.0015mm"},
                 {"--gravity", "gravity", Takes::number, "of the gas, air = 1; otherwise 0.6"},
                 {"--temperature", "temperature", Takes::text,
                  "of the gas, 55degF; with --plan of the air"}},
           place_flags(), procedure_flag()}),
      .paper = true,
      .network_may_miss = true};
}

}  // namespace bellhole::cli
