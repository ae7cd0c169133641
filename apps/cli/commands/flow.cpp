#include "apps/cli/command.hpp"

namespace bellhole::cli {

Command flow_command() {
  return {.name = "flow",
          .help = "pressures and flows of the whole network, with anything shut that you name",
          .network = true,
          .flags = {{"--temperature", "temperature", Takes::text, "of the air: 20degF"},
                    {"--hour", "hour", Takes::number, "of the day, 0 to 23"},
                    {"--load", "load", Takes::text, "low, expected or high"},
                    {"--close", "close", Takes::texts,
                     "shut a valve, regulator, source, main or ID@STATION; may be given again"},
                    {"--ground-temperature", "ground_temperature", Takes::text,
                     "of the gas in the ground"},
                    {"--gravity", "gravity", Takes::number, "of the gas, air = 1"},
                    {"--law", "law", Takes::text, "pipe law: general or fuel_gas_code"}}};
}

}  // namespace bellhole::cli
