// Gas through a hole into the air: how much, and whether it is choked.
//
// Adiabatic from rest to the throat, with a discharge coefficient C for what the edge does:
//
//   choked where p0 / pa >= ((k + 1) / 2)^(k / (k - 1)):
//     m = C A p0 sqrt(k / (Z R_s T) (2 / (k + 1))^((k + 1) / (k - 1)))
//   else
//     m = C A p0 sqrt(2 / (Z R_s T) k / (k - 1) ((pa / p0)^(2 / k) - (pa / p0)^((k + 1) / k)))
//
// The form of API 520 part I and of every text on accidental release. p0 is the pressure in the
// pipe at the hole while it blows, not before: a hole as wide as the main is limited by the main
// (network/escape.hpp). It says how much gas leaves; it says nothing of how far the gas reaches.
#pragma once

#include "gas/gas.hpp"
#include "units/quantity.hpp"

namespace bellhole::gas {

enum class Regime { none, subsonic, choked };

/// "no flow", "subsonic", "choked".
std::string_view name(Regime regime);

/// What a hole needs to know of the gas.
struct Blowing {
  double specific_constant = 0.0;  ///< R_s, J/(kg K)
  double temperature_k = 0.0;
  double z = 1.0;
  double k = 1.30;  ///< isentropic exponent; 1.30 to 1.31 for natural gas (AGA-8, 15 degC)
};

struct Hole {
  double area_m2 = 0.0;
  double coefficient = 1.0;  ///< of discharge, over 0 up to 1
};

struct Outflow {
  double kg_per_s = 0.0;
  Regime regime = Regime::none;
};

/// Ratio of inside to outside pressure from which the hole is choked: 1.832 for k = 1.30.
double choking_ratio(double k);

/// REQUIRES: inside > 0, outside > 0 (Pa absolute), k > 1. Nothing flows where inside <= outside.
/// Rising in `inside`, with no step at the change of regime.
Outflow through(const Hole& hole, const Blowing& gas, double inside_pa, double outside_pa);

/// Area of a round hole.
Area round_hole(Length diameter);

}  // namespace bellhole::gas
