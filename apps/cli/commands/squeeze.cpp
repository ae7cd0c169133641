#include "apps/cli/command.hpp"

namespace bellhole::cli {
namespace {

/// What is told of the pipe, the tool and the procedure, whatever is asked about them.
std::vector<Flag> pipe_flags() {
  return {
      {"--size", "size", Takes::text, "IPS 8, CTS 1/2, dn 125"},
      {"--dr", "dr", Takes::text, "ratio of diameter to wall, as printed: 11, 13.5"},
      {"--sdr", "sdr", Takes::text, "the same under its other name"},
      {"--wall", "wall", Takes::texts,
       "measured wall, 11.4mm; give it again for every reading. It replaces the table's"},
      {"--material", "material", Takes::text,
       "PE2406, PE2708, PE3408, PE3608, PE4710, PE80, PE100, unknown"},
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
      {"--procedure", "procedure", Takes::document,
       "us, metric or the file of the company's profile", "profile"},
      {"--tool", "tool", Takes::document, "tools file, FILE or FILE#ID", "tools"},
      {"--stops", "stops", Takes::document, "file with the company's stops, instead of the tool's",
       "tools"},
      {"--stop", "stop", Takes::texts, "one stop, S-8-11@1.098in; may be given again"},
      {"--double", "double", Takes::yes, "two squeezes with a vent between"},
  };
}

}  // namespace

Command squeeze_command() {
  Command command{
      "squeeze",
      "the sheet for one squeeze: may it be, where, to what gap, how fast; no map needed",
      false,
      pipe_flags(),
      true,
      false};
  command.flags.push_back(
      {"--exposed", "exposed", Takes::text, "exposed length, from end to end: 0in:84in"});
  command.flags.push_back(
      {"--feature", "features", Takes::texts,
       "what to keep clear of: joint@8in, fitting@66in:78in, squeeze@33in; may be given again"});
  command.flags.push_back({"--tool-half-width", "tool_half_width", Takes::text,
                           "along the pipe, from the bars' centreline to the tool's edge, 3in"});
  command.flags.push_back({"--every", "every", Takes::text, "marks of the timetables, 0.5in"});
  return command;
}

Command pace_command() {
  Command command{"pace", "timetable of closing, waiting and opening; judges a recording of it",
                  false,  pipe_flags(),
                  false,  false};
  command.flags.push_back({"--recording", "recording", Takes::contents,
                           "table of what was done, CSV with columns time, gap (in), pump (psi)"});
  command.flags.push_back({"--point", "points", Takes::texts,
                           "or typed, \"30s 3.50in 2200psi\"; give it again for every point"});
  command.flags.push_back({"--gap-read-to", "gap_read_to", Takes::text,
                           "how near the gap is read: bars that near their stop are on it"});
  command.flags.push_back({"--still-within", "still_within", Takes::text,
                           "movements under this are noise; otherwise every difference moves"});
  command.flags.push_back({"--every", "every", Takes::text, "marks of the timetables, 0.5in"});
  return command;
}

}  // namespace bellhole::cli
