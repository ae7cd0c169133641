#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {

Command bypass_command() {
  return {
      .name = "bypass",
      .help =
          "what keeps customers on while something is shut: a temporary pipe, a closed valve "
          "opened, a supply",
      .network = true,
      .flags = together(
          {Flags{
               {"--close", "close", Takes::texts,
                "what is shut: a valve, regulator, source, main or ID@STATION; may be given again"},
               {"--work", "work", Takes::texts,
                "what must stay without gas: ID@STATION or ID@FROM:TO; may be given again"},
               {"--from", "from", Takes::text, "where a temporary pipe begins: ID@STATION"},
               {"--to", "to", Takes::text, "where it ends: ID@STATION"},
               {"--size", "sizes", Takes::texts,
                "of temporary pipe, NAME@BORE or NAME@BORE@PRESSURE: \"2in hose@1.94in@100psig\"; "
                "may "
                "be given again"},
               {"--sizes", "size_list", Takes::contents, "a file of such sizes, one a line"},
               {"--length", "length", Takes::text,
                "of the temporary pipe; otherwise 1.5 times the straight line"},
               {"--loss", "loss", Takes::number,
                "K of all its fittings together, entrance and exit among it"},
               {"--roughness", "roughness", Takes::text, "of its wall; otherwise 0.0015mm"},
               {"--supply", "supplies", Takes::texts,
                "a portable supply, NODE@PRESSURE:CAPACITY: N-4@40psig:5000scfh; may be given "
                "again"},
               {"--temperature", "temperature", Takes::text, "of the air: 20degF"},
               {"--hour", "hour", Takes::number, "of the day, 0 to 23"}},
           gas_flags(), procedure_flag()})};
}

}  // namespace bellhole::cli
