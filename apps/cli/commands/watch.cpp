#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command watch_command() {
  return {
      .name = "watch",
      .help =
          "how long a gauge must be watched before a steady needle means anything; no map needed",
      .flags = together(
          {Flags{
               {"--question", "asks", Takes::text,
                "what is asked: fed_elsewhere, shut_off_tight or all_meters_shut"},
               {"--volume", "volume", Takes::text, "inside volume that is closed in, 1738ft3"},
               {"--bore", "bore", Takes::text, "or its bore, 7.3in …"},
               {"--length", "length", Takes::text, "… and its length, 0.5mi"},
               {"--draw", "draw", Takes::text,
                "what is drawn, at the least and at the most: 112scfh:562scfh"},
               {"--let-by", "let_by", Takes::text,
                "shut_off_tight: let-by that must be seen, 2scfh; otherwise the profile's limit"},
               {"--pressure", "pressure", Takes::text, "on the gauge at the start, 58psi"},
               {"--floor", "floor", Takes::text, "least pressure that serves the customers, 10psi"},
               {"--gauge-step", "gauge_step", Takes::text, "smallest division that is read, 2psi"},
               {"--steps", "steps", Takes::whole, "divisions that must show; otherwise two"},
               {"--gauge-range", "gauge_range", Takes::text, "of the dial, 0psi:100psi"},
               {"--within", "within", Takes::text,
                "time that there is to watch, 30min: says what gauge it needs"},
               {"--barometer-drift", "barometer_drift", Takes::text,
                "what the barometer may change, 3mbar in all or 1mbar/h"},
               {"--temperature-drift", "temperature_drift", Takes::text,
                "what the gas's temperature may change, 2degF in all or 1degF/h"},
               {"--reading", "readings", Takes::texts,
                "time and gauge, \"12:00 58.0psi\"; give it again for every reading"},
               {"--readings", "readings_table", Takes::contents,
                "the same as a table, CSV with columns time and pressure (psi)"},
               {"--temperature", "temperature", Takes::text, "of the gas, 55degF"},
               {"--gravity", "gravity", Takes::number,
                "of the gas, air = 1; otherwise an ideal gas"}},
           place_flags(), procedure_flag()})};
}

}  // namespace bellhole::cli
