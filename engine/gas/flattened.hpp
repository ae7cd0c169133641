// What a squeeze leaves open: the bore of a flattened pipe against the gap between the bars, and
// what gas loses in passing it.
//
// Shape. The inner circumference of the pipe is kept and becomes a stadium: two flats and two half
// circles, `clear` apart. With the bore d and the share y = clear / d,
//
//   clear = gap - 2 wall,   width of a flat = pi (d - clear) / 2,
//   area  = pi d^2 / 4 x y (2 - y).
//
// By hand, 4 inch bore: half way down (y = 0.5) three quarters of the bore are still open; at nine
// tenths of the travel (y = 0.1) 19 %; at 99 % of it 2 %. Where the walls meet nothing is open.
//
// Loss. The squeeze is a short restriction: gas contracts into the slot and expands behind it. As a
// loss coefficient K on the velocity head of the full bore, with r the share of the bore left open
// and c the contraction behind the edge,
//
//   K = (1 / (c r) - 1)^2      (Borda and Carnot's expansion from c r to the full bore).
//
// Least loss: c = 1, the gas is led in without an edge, as bars lead a pipe wall. Most loss: a
// sharp edge, c = 0.63 + 0.37 r^3 (Weisbach 1855, from memory). The truth lies between. By hand: at
// y = 0.5 K is 0.11 to 0.48; at y = 0.1, 18 to 54, as much as 120 to 360 m of the same main; at
// y = 0.02, 588 to 1,527. So the flow hardly changes until the last tenth of the travel.
//
// Left out: friction along the slot, which only counts where the walls are within a few tenths of a
// millimetre of each other, and folds that do not close, which are let-by and not this law's.
// No published measurement of flow against gap is known to Bellhole: this is derived, not checked
// from outside.
#pragma once

#include "gas/gas.hpp"
#include "units/quantity.hpp"

namespace bellhole::gas {

struct Flattened {
  Length clear;        ///< between the inner walls; 0 where they meet or are pressed together
  Length flat;         ///< width of each flat part of the slot
  Area area;           ///< left open
  double share = 1.0;  ///< of the full bore, 0 to 1
};

/// `gap` is the clear distance between the bars. A gap at or above the outside diameter leaves the
/// pipe round. REQUIRES bore > 0, wall > 0, gap >= 0.
Flattened flattened(Length bore, Length wall, Length gap);

/// Share of the bore that is open at a share of the clear distance (1: round, 0: walls meet).
double open_share(double clear_share);

/// K on the velocity head of the full bore. Infinite where nothing is open, 0 where all is.
struct LossRange {
  double least = 0.0, most = 0.0;
};
LossRange squeeze_loss(double share_open);

/// What a coefficient K takes from the potential (gas.hpp) at 1 kg/s, in Pa2 / (kg/s)^2: the loss
/// is this times q|q|. K rho v^2 / 2 in terms of the potential has no pressure in it: K R_s T / (2
/// area^2).
double loss_per_flow_squared(const Flowing& gas, Length bore, double k);

/// Mass flow past a restriction of coefficient K between two pressures, never more than what chokes
/// in its vena contracta (bore / (1 + sqrt K), isentropic exponent 1.30). Positive from `from` to
/// `to`, which may be the higher one. REQUIRES k > 0 (infinite passes nothing).
MassFlow passes(const Flowing& gas, Length bore, double k, AbsolutePressure from,
                AbsolutePressure to);

}  // namespace bellhole::gas
