#include <utility>

#include "apps/cli/commands/flags.hpp"

namespace bellhole::cli {
namespace {

/// What is told of the pipe, the tool and the procedure, whatever is asked about them.
Flags squeeze_flags(Flags own) {
  return together(
      {pipe_flags(),
       Flags{
           {"--wall", "wall", Takes::texts,
            "measured wall, 11.4mm; give it again for every reading. It replaces the table's"},
           {"--hdb-140", "hdb_140", Takes::text,
            "strength at 140 degF from the pipe's own listing, 1000psi"},
           {"--year", "year", Takes::text, "year in which the pipe was made"},
           {"--made", "made", Takes::text, "making date: 2015-06-01, 2015-06"},
           {"--inserted", "inserted", Takes::text, "inside an old pipe: yes, no, unknown"},
           {"--cased", "cased", Takes::text, "inside a casing: yes, no, unknown"},
           {"--layered", "layered", Takes::text, "with a skin or barrier layer: yes, no, unknown"},
           {"--lined", "lined", Takes::text, "with a liner: yes, no, unknown"},
           {"--pressure", "pressure", Takes::text, "in the pipe, 55psig"},
           {"--maop", "maop", Takes::text, "of the main"},
           {"--pipe-temperature", "pipe_temperature", Takes::text, "of the pipe's wall, 60degF"},
           {"--tool", "tool", Takes::document, "tools file, FILE or FILE#ID", "tools"},
           {"--stops", "stops", Takes::document,
            "file with the company's stops, instead of the tool's", "tools"},
           {"--stop", "stop", Takes::texts, "one stop, S-8-11@1.098in; may be given again"},
           {"--double", "double", Takes::yes, "two squeezes with a vent between"}},
       std::move(own), procedure_flag()});
}

}  // namespace

Command squeeze_command() {
  return {
      .name = "squeeze",
      .help = "the sheet for one squeeze: may it be, where, to what gap, how fast; no map needed",
      .flags = squeeze_flags(
          {{"--exposed", "exposed", Takes::text, "exposed length, from end to end: 0in:84in"},
           {"--feature", "features", Takes::texts,
            "what to keep clear of: joint@8in, fitting@66in:78in, squeeze@33in; may be given "
            "again"},
           {"--tool-half-width", "tool_half_width", Takes::text,
            "along the pipe, from the bars' centreline to the tool's edge, 3in"},
           {"--every", "every", Takes::text, "marks of the timetables, 0.5in"},
           {"--yield-scale", "yield_scale", Takes::number,
            "what the company's own pump log makes of the yield: see refit"},
           {"--full", "full", Takes::yes,
            "compute the force in three dimensions: a minute or more of both processors"}}),
      .paper = true};
}

Command pace_command() {
  return {.name = "pace",
          .help = "timetable of closing, waiting and opening; judges a recording of it",
          .flags = squeeze_flags(
              {{"--recording", "recording", Takes::contents,
                "table of what was done, CSV with columns time, gap (in), pump (psi)"},
               {"--point", "points", Takes::texts,
                "or typed, \"30s 3.50in 2200psi\"; give it again for every point"},
               {"--gap-read-to", "gap_read_to", Takes::text,
                "how near the gap is read: bars that near their stop are on it"},
               {"--still-within", "still_within", Takes::text,
                "movements under this are noise; otherwise every difference moves"},
               {"--every", "every", Takes::text, "marks of the timetables, 0.5in"}})};
}

}  // namespace bellhole::cli
