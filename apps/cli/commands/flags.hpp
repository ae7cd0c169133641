// Flags that several commands have, with the same words everywhere.
#pragma once

#include <initializer_list>
#include <vector>

#include "apps/cli/command.hpp"

namespace bellhole::cli {

using Flags = std::vector<Flag>;

inline Flags together(std::initializer_list<Flags> groups) {
  Flags all;
  for (const Flags& group : groups) all.insert(all.end(), group.begin(), group.end());
  return all;
}

/// The company's limits.
inline Flags procedure_flag() {
  return {{"--procedure", "procedure", Takes::document,
           "us, metric or the file of the company's profile", "profile"}};
}

/// Pipes that a crew found where the map has others.
inline Flags found_flag() {
  return {{"--found", "found", Takes::texts,
           "what a crew found where the map has another pipe, may be given again: \"MAIN "
           "size=IPS 4, dr=11.5, material=PE2708\""}};
}

/// A plan that is gone on from.
inline Flags plan_flags() {
  return {{"--plan", "plan", Takes::document, "the reply of plan --json", "plan"},
          {"--rank", "rank", Takes::whole, "which of its plans; otherwise the first"}};
}

/// The gas in a network's mains.
inline Flags gas_flags() {
  return {{"--ground-temperature", "ground_temperature", Takes::text, "of the gas in the ground"},
          {"--gravity", "gravity", Takes::number, "of the gas, air = 1"},
          {"--law", "law", Takes::text, "pipe law: general or fuel_gas_code"}};
}

/// Where there is no network to say it.
inline Flags place_flags() {
  return {{"--barometer", "barometer", Takes::text, "of the place, 14.2psia"},
          {"--base-pressure", "base_pressure", Takes::text, "of standard volumes, 14.73psia"},
          {"--base-temperature", "base_temperature", Takes::text, "of standard volumes, 60degF"}};
}

/// What the print line says.
inline Flags pipe_flags() {
  return {{"--size", "size", Takes::text, "IPS 8, CTS 1/2, dn 125"},
          {"--dr", "dr", Takes::text, "ratio of diameter to wall, as printed: 11, 13.5"},
          {"--sdr", "sdr", Takes::text, "the same under its other name"},
          {"--material", "material", Takes::text,
           "PE2406, PE2708, PE3408, PE3608, PE4710, PE80, PE100, unknown"}};
}

}  // namespace bellhole::cli
