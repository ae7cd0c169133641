#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command rehearse_command() {
  return {
      .name = "rehearse",
      .help =
          "a plan's steps through time: what gauges read, what goes wrong and when, until when "
          "it can be undone",
      .network = true,
      .flags = together(
          {plan_flags(),
           Flags{
               {"--start", "start", Takes::text,
                "clock when the first step begins, 07:30; otherwise the plan's hour"},
               {"--temperature", "temperature", Takes::text,
                "of the air at the start, 20degF; otherwise the plan's"},
               {"--temperature-course", "temperature_course", Takes::texts,
                "of the air from a time on, \"09:00 24degF\"; may be given again"},
               {"--takes", "takes", Takes::texts,
                "time of a step, by its id or kind, \"cut=2h\"; may be given again. Otherwise "
                "the profile's"},
               {"--look-ahead", "look_ahead", Takes::text,
                "how long each closing is looked at as if nobody went on, 24h"},
               {"--until", "until", Takes::text,
                "also: how cold may it get until then, 16:00, with nobody short who stays on"},
               {"--hole", "hole", Takes::text,
                "a hole blows at the work, 2in: gauges with it, and the gas lost"},
               {"--hole-area", "hole_area", Takes::text, "or its area, 8in2"},
               {"--full-bore", "full_bore", Takes::yes, "or the main is broken through"},
               {"--cd", "cd", Takes::text, "discharge coefficient; otherwise the profile's range"},
               {"--k", "k", Takes::number, "isentropic exponent; otherwise 1.30"}},
           gas_flags(), procedure_flag()}),
      .paper = true,
      .picture = "the gauges through time"};
}

}  // namespace bellhole::cli
