#include "apps/cli/command.hpp"

namespace bellhole::cli {

Command flatten_command() {
  return {.name = "flatten",
          .help =
              "for engineers: a pipe closed, held and opened between round bars, computed in three "
              "dimensions",
          .flags =
              {
                  {"--size", "size", Takes::text, "IPS 8, CTS 1/2, dn 125"},
                  {"--dr", "dr", Takes::text, "ratio of diameter to wall: 11, 13.5"},
                  {"--wall", "wall", Takes::texts, "or a measured wall, 11.4mm"},
                  {"--material", "material", Takes::text,
                   "PE2406, PE2708, PE3408, PE3608, PE4710, PE80, PE100"},
                  {"--pipe-temperature", "pipe_temperature", Takes::text, "of the wall, 60degF"},
                  {"--pressure", "pressure", Takes::text, "of the gas in the pipe, 55psig"},
                  {"--gap", "gap", Takes::text, "of the stops, 1.098in"},
                  {"--bar-radius", "bar_radius", Takes::text, "of the squeeze bars, 1in"},
                  {"--close-in", "close_in", Takes::text, "from touch to the stops, 4min"},
                  {"--hold", "hold", Takes::text, "then held for, 15min"},
                  {"--open-in", "open_in", Takes::text, "then opened in, 10min"},
                  {"--friction", "friction", Takes::number,
                   "between pipe and bars, along the bars: 0 to 1, otherwise none"},
                  {"--rest", "rest", Takes::text, "then left alone for, 24h"},
                  {"--bricks", "bricks", Takes::text,
                   "draft (seconds), ordinary (a minute or more) or fine (a quarter of an hour)"},
              },
          .picture = "the section under the bars, unloaded, at the stops and at the end",
          .solid = true};
}

Command gauge_command() {
  return {
      .name = "gauge",
      .help = "which pipes would have read like this on the pump's gauge; never which one it is",
      .flags = {
          {"--size", "size", Takes::text, "IPS 8, CTS 1/2, dn 125"},
          {"--bar-radius", "bar_radius", Takes::text, "of the squeeze bars, 1in"},
          {"--ram-area", "ram_area", Takes::text, "of the tool's ram, 7.2in2"},
          {"--close-in", "close_in", Takes::text, "time from touch to the last reading, 4min"},
          {"--reading", "readings", Takes::texts,
           "gap and pump pressure while the bars moved, \"2.5in 1800psi\"; may be given again"},
          {"--read-to", "read_to", Takes::text, "how near the gauge is read, 50psi"},
          {"--pressure", "pressure", Takes::text, "of the gas in the pipe, 55psig"},
          {"--pipe-temperature", "pipe_temperature", Takes::text,
           "between which the wall lies, 50degF:70degF"},
          {"--map-dr", "map_dr", Takes::number, "what the map says"},
          {"--map-material", "map_material", Takes::text, "what the map says"},
      }};
}

Command refit_command() {
  return {
      .name = "refit",
      .help = "what the company's own squeezes say of the yield on record, from a table of them",
      .flags = {
          {"--log", "log", Takes::contents,
           "CSV with columns size, dr or wall, material, temperature, gap, pump, ram, bar "
           "radius, closing, and line pressure"},
      }};
}

}  // namespace bellhole::cli
