#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command flow_command() {
  return {.name = "flow",
          .help = "pressures and flows of the whole network, with anything shut that you name",
          .network = true,
          .flags = together(
              {Flags{{"--temperature", "temperature", Takes::text, "of the air: 20degF"},
                     {"--hour", "hour", Takes::number, "of the day, 0 to 23"},
                     {"--load", "load", Takes::text, "low, expected or high"},
                     {"--close", "close", Takes::texts,
                      "shut a valve, regulator, source, main or ID@STATION; may be given again"}},
               gas_flags()})};
}

}  // namespace bellhole::cli
