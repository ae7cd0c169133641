#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command relight_command() {
  return {
      .name = "relight",
      .help =
          "which meters are shut and lit again, in which order, how long, and why gas may not go "
          "back yet",
      .network = true,
      .flags = together(
          {plan_flags(),
           Flags{
               {"--time-left", "time_left", Takes::document,
                "a reply of time-left --json: who falls short in it is out too", "time-left"},
               {"--shut", "shut", Takes::contents,
                "list of shut meters, as --csv writes it: meter, how (not yet, meter, curb, "
                "locked, relit), time, by"},
               {"--walked", "walked", Takes::texts,
                "a street walked for meters that no list has; may be given again"},
               {"--found", "found", Takes::texts,
                "a meter found there, METER@STREET; may be given again"},
               {"--sector", "sector", Takes::texts,
                "only this main or street; may be given again; otherwise everything that is out"},
               {"--technicians", "technicians", Takes::whole, "on shift"},
               {"--rate", "rate", Takes::text,
                "visits per technician and hour, 0.5 or 0.4:0.6; otherwise the profile's"},
               {"--revisits", "revisits", Takes::text,
                "share that nobody opens to at first, 15%; otherwise the profile's"},
               {"--pressure", "pressure", Takes::text,
                "of the sector with all meters shut, before gas goes back"},
               {"--gauge-step", "gauge_step", Takes::text, "smallest division that is read there"},
               {"--gauge-range", "gauge_range", Takes::text, "of that gauge, 0psig:30psig"},
               {"--draw", "draw", Takes::text, "what one appliance left open draws, 1scfh:5scfh"},
               {"--reading", "readings", Takes::texts,
                "of that gauge, \"12:00 10.0psig\"; may be given again"},
               {"--volume", "volume", Takes::text,
                "that is watched; otherwise of the sector's mains"},
               {"--temperature", "temperature", Takes::text,
                "of the air: 20degF; otherwise the plan's"},
               {"--hour", "hour", Takes::number, "of the day; otherwise the plan's"}},
           gas_flags(), procedure_flag()}),
      .paper = true,
      .table = true};
}

}  // namespace bellhole::cli
