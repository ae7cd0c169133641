#include "apps/cli/command.hpp"

namespace bellhole::cli {

Command purge_command() {
  return {
      "purge",
      "purging a main: how fast at least, how much, how long, and what ends it; no map needed",
      false,
      {
          {"--bore", "bore", Takes::text, "inside diameter, 5.473in"},
          {"--length", "length", Takes::text, "from the feed to the vent, 600ft"},
          {"--speed", "speed", Takes::text, "of the gas in the main, 3ft/s; otherwise the least"},
          {"--pack-to", "pack_to", Takes::text, "pressure that the main is packed to after, 58psi"},
          {"--reading", "readings", Takes::texts,
           "at the vent, in order: 93%gas; give it again for every reading"},
          {"--roughness", "roughness", Takes::text, "of the wall, 0.0015mm"},
          {"--gravity", "gravity", Takes::number, "of the gas, air = 1; otherwise 0.6"},
          {"--temperature", "temperature", Takes::text, "of the gas, 55degF"},
          {"--barometer", "barometer", Takes::text, "of the place, 14.2psia"},
          {"--base-pressure", "base_pressure", Takes::text, "of standard volumes, 14.73psia"},
          {"--base-temperature", "base_temperature", Takes::text, "of standard volumes, 60degF"},
          {"--procedure", "procedure", Takes::document,
           "us, metric or the file of the company's profile", "profile"},
      },
      false,
      false};
}

}  // namespace bellhole::cli
