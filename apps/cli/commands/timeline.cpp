#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command timeline_command() {
  return {
      .name = "timeline",
      .help =
          "a plan from the first dig to the last customer back: crews, hold points, who is out how "
          "long",
      .network = true,
      .flags = together(
          {plan_flags(),
           Flags{
               {"--crews", "crews", Takes::whole, "at work on the main; otherwise the plan's"},
               {"--technicians", "technicians", Takes::whole, "who shut and light meters"},
               {"--rate", "rate", Takes::text,
                "relight visits per technician and hour, 0.5 or 0.4:0.6; otherwise the profile's"},
               {"--revisits", "revisits", Takes::text,
                "share that nobody opens to at first, 15%; otherwise the profile's"},
               {"--authority", "authority", Takes::text,
                "who is to be told of an outage, as the profile names it: \"New Hampshire\""},
               {"--temperature", "temperature", Takes::text,
                "of the air: 20degF; otherwise the plan's"},
               {"--hour", "hour", Takes::number, "of the day; otherwise the plan's"}},
           gas_flags(), procedure_flag()}),
      .paper = true,
      .picture = "the chart"};
}

}  // namespace bellhole::cli
