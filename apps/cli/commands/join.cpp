#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command join_command() {
  return {
      .name = "join",
      .help = "a joint in the repair: gauge of the fusion machine, heat, bead and cooling",
      .flags = together(
          {pipe_flags(),
           Flags{
               {"--kind", "kind", Takes::text, "butt, electrofusion, mechanical; otherwise butt"},
               {"--wall", "wall", Takes::texts,
                "measured wall, 11.4mm; give it again for every reading. It replaces the table's"},
               {"--other-material", "other_material", Takes::text,
                "of the other end, where it is not the same"},
               {"--piston", "piston", Takes::text,
                "total effective piston area of the machine, 4.71in2"},
               {"--drag", "drag", Takes::text,
                "what its gauge reads while the carriage just moves the pipe, 30psi"},
               {"--heater", "heater", Takes::text, "read on the faces of the heater, 425degF"},
               {"--ambient", "ambient", Takes::text, "air around the joint, 70degF"}},
           procedure_flag()})};
}

}  // namespace bellhole::cli
