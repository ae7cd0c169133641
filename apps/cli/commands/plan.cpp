#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command plan_command() {
  return {
      .name = "plan",
      .help = "where to shut off around a place of work, who loses gas, and whether the rest holds",
      .network = true,
      .flags = together(
          {Flags{{"--at", "at", Takes::text, "place of work as LON,LAT in degrees"},
                 {"--reach", "reach", Takes::text, "how far from a main --at may point (30 m)"},
                 {"--pipe", "pipe", Takes::text,
                  "place of work on a main: ID@STATION, or ID@FROM:TO for a stretch"},
                 {"--node", "node", Takes::text, "place of work at a node"},
                 {"--polygon", "polygon", Takes::text,
                  "every main inside: \"LON,LAT LON,LAT LON,LAT …\""},
                 {"--kind", "kind", Takes::text, "planned or emergency"},
                 {"--temperature", "temperature", Takes::text, "of the air: 20degF"},
                 {"--hour", "hour", Takes::number, "of the day, 0 to 23"},
                 {"--pipe-temperature", "pipe_temperature", Takes::text,
                  "of the pipe's wall, for the squeezes"},
                 {"--tools", "tools", Takes::document, "the company's squeeze tools and stops",
                  "tools"},
                 {"--shut-off", "shut_offs", Takes::texts,
                  "a plug, bag or cap that a person places, may be given again: \"plug "
                  "PIPE@STATION cost=4h time=90min pressure_most=60psig\""},
                 {"--order", "order", Takes::document,
                  "the company's order of the steps, instead of the base order", "order"},
                 {"--bypass", "bypass", Takes::text,
                  "yes or no: whether a bypass is made; left out, as the order says"},
                 {"--date", "date", Takes::text, "of the work, for the age of valves: 2026-11-25"},
                 {"--plans", "plans", Takes::whole, "how many plans (3)"},
                 {"--crews", "crews", Takes::whole, "working at the same time (1)"},
                 {"--asked-at", "asked_at", Takes::text, "time of asking, for paper (RFC 3339)"}},
           found_flag(), gas_flags(), procedure_flag()}),
      .paper = true,
      .geography = true,
      .picture = "the map of the best plan"};
}

}  // namespace bellhole::cli
