#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command escape_command() {
  return {
      .name = "escape",
      .help = "how much gas leaves through a hole or a broken main; never how far it reaches",
      .network = true,
      .flags = together(
          {Flags{
               {"--hole", "hole", Takes::text, "diameter of a round hole, 40mm"},
               {"--hole-area", "hole_area", Takes::text, "or its area, 8in2"},
               {"--full-bore", "full_bore", Takes::yes, "or the main is broken through"},
               {"--pressure", "pressure", Takes::text,
                "in the main at the hole, or where --main begins, 1.2bar"},
               {"--main", "mains", Takes::texts,
                "bore and length back to where the pressure is held, \"1.943in 500ft\", with its "
                "own pressure where it differs; again for the other end"},
               {"--pipe", "pipe", Takes::text, "with a NETWORK: the place, ID@STATION"},
               {"--close", "close", Takes::texts,
                "with a NETWORK: what is shut in turn, as in flow; may be given again"},
               {"--plan", "plan", Takes::document,
                "with a NETWORK: a plan, the reply of plan --json: before and after each of its "
                "closings",
                "plan"},
               {"--rank", "rank", Takes::whole, "which of its plans; otherwise the first"},
               {"--start", "start", Takes::text,
                "with --plan: clock when its first step begins, 07:30"},
               {"--takes", "takes", Takes::texts, "with --plan: time of a step, \"dig=1h\""},
               {"--hour", "hour", Takes::number, "with a NETWORK: hour of the day"},
               {"--load", "load", Takes::text,
                "with a NETWORK: low, expected or high; otherwise low, which leaves most pressure"},
               {"--ground-temperature", "ground_temperature", Takes::text,
                "with a NETWORK: of the gas in the ground"},
               {"--cd", "cd", Takes::text,
                "discharge coefficient, 0.85 or 0.62:0.85; otherwise the profile's range"},
               {"--duration", "duration", Takes::text, "how long it blows, 65min"},
               {"--temperature", "temperature", Takes::text,
                "of the gas, 10degC; with a NETWORK of the air"},
               {"--gravity", "gravity", Takes::number, "of the gas, air = 1; otherwise 0.6"},
               {"--k", "k", Takes::number, "isentropic exponent; otherwise 1.30"},
               {"--z", "z", Takes::number, "compressibility at the hole; otherwise 1"}},
           place_flags(), procedure_flag()}),
      .network_may_miss = true};
}

}  // namespace bellhole::cli
