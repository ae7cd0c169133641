#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command repressurise_command() {
  return {
      .name = "repressurise",
      .help = "gas back into the part of a plan without a surge, and what every gauge then reads",
      .network = true,
      .flags = together(
          {plan_flags(),
           Flags{{"--rider", "rider", Takes::texts,
                  "letter of a shut-off that has a valve past it; may be given again"},
                 {"--temperature", "temperature", Takes::text, "of the air: 20degF"},
                 {"--hour", "hour", Takes::number, "of the day when gas goes back, 0 to 23"}},
           gas_flags(), procedure_flag()})};
}

}  // namespace bellhole::cli
