#include "apps/cli/command.hpp"

namespace bellhole::cli {

Command repressurise_command() {
  return {
      .name = "repressurise",
      .help = "gas back into the part of a plan without a surge, and what every gauge then reads",
      .network = true,
      .flags = {
          {"--plan", "plan", Takes::document, "the reply of plan --json", "plan"},
          {"--rank", "rank", Takes::whole, "which of its plans; otherwise the first"},
          {"--rider", "rider", Takes::texts,
           "letter of a shut-off that has a valve past it; may be given again"},
          {"--temperature", "temperature", Takes::text, "of the air: 20degF"},
          {"--hour", "hour", Takes::number, "of the day when gas goes back, 0 to 23"},
          {"--procedure", "procedure", Takes::document,
           "us, metric or the file of the company's profile", "profile"},
          {"--ground-temperature", "ground_temperature", Takes::text, "of the gas in the ground"},
          {"--gravity", "gravity", Takes::number, "of the gas, air = 1"},
          {"--law", "law", Takes::text, "pipe law: general or fuel_gas_code"}}};
}

}  // namespace bellhole::cli
