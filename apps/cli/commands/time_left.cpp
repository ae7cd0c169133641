#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command time_left_command() {
  return {
      .name = "time-left",
      .help = "how long each customer has gas after something is shut, first out first",
      .network = true,
      .flags = together(
          {Flags{
               {"--close", "close", Takes::texts,
                "what is shut: a valve, regulator, source, main or ID@STATION; may be given "
                "again"},
               {"--plan", "plan", Takes::document,
                "or a plan, the reply of plan --json: its closings, at their pace", "plan"},
               {"--rank", "rank", Takes::whole, "which of its plans; otherwise the first"},
               {"--start", "start", Takes::text,
                "with --plan: clock when its first step begins, 07:30; otherwise the plan's hour"},
               {"--takes", "takes", Takes::texts, "with --plan: time of a step, \"cut=2h\""},
               {"--over", "over", Takes::text,
                "time that the shutting takes, 3min; otherwise at once"},
               {"--temperature", "temperature", Takes::text, "of the air: 20degF"},
               {"--hour", "hour", Takes::number, "of the day when it is shut, 0 to 23"},
               {"--horizon", "horizon", Takes::text, "how far to look, 24h"},
               {"--reading", "readings", Takes::texts,
                "what a gauge reads after the shutting, \"12 N-4 40psig\" (minutes) or "
                "\"08:12 N-4 40psig\"; may be given again"},
               {"--until", "until", Takes::text,
                "also: how cold may it get until then, 16:00, with nobody short who stays on"}},
           found_flag(), gas_flags(), procedure_flag()})};
}

}  // namespace bellhole::cli
