#include "apps/cli/command.hpp"

namespace bellhole::cli {

Command join_command() {
  return {.name = "join",
          .help = "a joint in the repair: gauge of the fusion machine, heat, bead and cooling",
          .flags = {
              {"--kind", "kind", Takes::text, "butt, electrofusion, mechanical; otherwise butt"},
              {"--size", "size", Takes::text, "IPS 6, CTS 1/2, dn 125"},
              {"--dr", "dr", Takes::text, "ratio of diameter to wall, as printed: 11, 13.5"},
              {"--sdr", "sdr", Takes::text, "the same under its other name"},
              {"--wall", "wall", Takes::texts,
               "measured wall, 11.4mm; give it again for every reading. It replaces the table's"},
              {"--material", "material", Takes::text,
               "PE2406, PE2708, PE3408, PE3608, PE4710, PE80, PE100, unknown"},
              {"--other-material", "other_material", Takes::text,
               "of the other end, where it is not the same"},
              {"--piston", "piston", Takes::text,
               "total effective piston area of the machine, 4.71in2"},
              {"--drag", "drag", Takes::text,
               "what its gauge reads while the carriage just moves the pipe, 30psi"},
              {"--heater", "heater", Takes::text, "read on the faces of the heater, 425degF"},
              {"--ambient", "ambient", Takes::text, "air around the joint, 70degF"},
              {"--procedure", "procedure", Takes::document,
               "us, metric or the file of the company's profile", "profile"},
          }};
}

}  // namespace bellhole::cli
