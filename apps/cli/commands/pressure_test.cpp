#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command pressure_test_command() {
  return {
      .name = "pressure-test",
      .help =
          "pressure test of a repair: between which pressures, how long, what the readings mean",
      .flags = together(
          {pipe_flags(),
           Flags{
               {"--hdb-140", "hdb_140", Takes::text,
                "strength at 140 degF from the pipe's own listing, 1000psi"},
               {"--year", "year", Takes::text, "year in which the pipe was made"},
               {"--made", "made", Takes::text, "making date: 2015-06-01, 2015-06"},
               {"--pipe-temperature", "pipe_temperature", Takes::text,
                "warmest that the pipe is in the test, where no reading says it"},
               {"--mop", "mop", Takes::text, "maximum operating pressure after the repair, 60psi"},
               {"--volume", "volume", Takes::text, "inside volume under test, 98ft3"},
               {"--bore", "bore", Takes::text, "or its bore, 5.47in …"},
               {"--length", "length", Takes::text, "… and its length, 600ft"},
               {"--ends", "ends", Takes::text,
                "what closes each end: blank, cap, valve, live_valve, squeeze; blank,cap"},
               {"--part", "parts", Takes::texts,
                "a part and its rating, \"gauge hose@150psig\"; may be given again"},
               {"--pretested", "pretested", Takes::texts,
                "the other way: pipe tested before it goes in, by its id and record, "
                "\"P-118@95psig "
                "1h\"; may be given again"},
               {"--tie-in", "tie_ins", Takes::texts,
                "a joint that no test reaches, J-1, and once soaped what was seen: \"J-1@58psig no "
                "bubbles\", \"J-1@58psig bubbles\"; may be given again"},
               {"--line-pressure", "line_pressure", Takes::text,
                "while the tie-ins are soaped, 58psi; otherwise the maximum operating pressure"},
               {"--start", "start", Takes::text,
                "first reading: gauge, temperature of the gas, barometer if read: \"94psi "
                "84degF\""},
               {"--end", "end", Takes::text, "last reading, the same way"},
               {"--duration", "duration", Takes::text, "between the two, 2h"},
               {"--loaded-before", "loaded_before", Takes::text,
                "how long the pressure had stood before the first reading, 1h"},
               {"--gauge-step", "gauge_step", Takes::text,
                "smallest division that is read, 0.5psi"},
               {"--temperature-step", "temperature_step", Takes::text,
                "how well the gas's temperature is known, 1degF"},
               {"--leak", "leak", Takes::text, "smallest leak that must be found, 0.5scfh"}},
           place_flags(), procedure_flag()}),
      .paper = true};
}

}  // namespace bellhole::cli
