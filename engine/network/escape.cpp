#include "network/escape.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "gas/friction.hpp"

namespace bellhole::network {
namespace {

double area_of(Length bore) { return std::numbers::pi / 4.0 * bore.si() * bore.si(); }

/// A zero of a falling function between two ends, to the last bits.
template <class F>
double falls_through(double low, double high, const F& f) {
  constexpr int halvings = 100;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    if (!(middle > low && middle < high)) break;
    (f(middle) > 0.0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// G^2 R_s T at which the length chokes where it ends at `pa`.
double choking(const gas::Flowing& gas, double pa) {
  const double packed = pa * (1.0 + gas.k_per_pa * pa);
  return packed * packed / (1.0 + 2.0 * gas.k_per_pa * pa);
}

/// The pressure at which a flow of this G^2 R_s T chokes. The gas is nearly ideal, so that a few
/// rounds settle it.
double choked_at(const gas::Flowing& gas, double flux) {
  double pa = std::sqrt(flux);
  for (int round = 0; round < 8; ++round)
    pa = std::sqrt(flux * (1.0 + 2.0 * gas.k_per_pa * pa)) / (1.0 + gas.k_per_pa * pa);
  return pa;
}

/// What is left of the potential of `from` after the length, ending at `to`, at mass flow m.
double left(const Side& side, const gas::Flowing& gas, double from, double to, double m) {
  const double area = area_of(side.bore);
  const double flux = m * m / (area * area) * gas.specific_constant * gas.temperature_k;
  const double re = 4.0 * m / (std::numbers::pi * side.bore.si() * gas.viscosity_pa_s);
  const double f = gas::darcy(re, side.roughness / side.bore).factor;
  const double friction = f * side.length.si() / (2.0 * side.bore.si());
  return gas.potential(from) - gas.potential(to) -
         flux * (friction + std::log(gas.density(from) / gas.density(to)));
}

/// REQUIRES: held > end.
SideFlow downhill(const Side& side, const gas::Flowing& gas, AbsolutePressure end) {
  const double held = side.held.si(), area = area_of(side.bore);
  const double rt = gas.specific_constant * gas.temperature_k;
  const auto flux = [&](double m) { return m * m / (area * area) * rt; };
  // No length passes more than it would choke at with the whole pressure at its end.
  const double most = area * std::sqrt(choking(gas, held) / rt);
  const double choke_at_end = choking(gas, end.si());
  const auto exit_at = [&](double m) {
    return flux(m) > choke_at_end ? std::max(end.si(), choked_at(gas, flux(m))) : end.si();
  };
  const double m = falls_through(0.0, most, [&](double flow) {
    const double exit = exit_at(flow);
    return exit >= held ? -1.0 : left(side, gas, held, exit, flow);
  });
  const double exit = exit_at(m);
  return {MassFlow::from_si(m), AbsolutePressure::from_si(exit), exit > end.si()};
}

double most_held(const std::vector<Side>& sides) {
  double most = 0.0;
  for (const Side& side : sides) most = std::max(most, side.held.si());
  return most;
}

Escape broken_through(const std::vector<Side>& sides, const gas::Flowing& gas,
                      AbsolutePressure air) {
  Escape out;
  out.at = air;
  double fastest = 0.0;
  for (const Side& side : sides) {
    const SideFlow flow = side.held > air ? downhill(side, gas, air) : SideFlow{{}, air, false};
    out.sides.push_back(flow);
    out.flow = out.flow + flow.flow;
    if (!(flow.flow.si() > fastest)) continue;
    fastest = flow.flow.si();
    out.at = flow.exit;
    out.regime = flow.choked ? gas::Regime::choked : gas::Regime::subsonic;
  }
  out.unlimited = out.flow;
  return out;
}

}  // namespace

SideFlow along(const Side& side, const gas::Flowing& gas, AbsolutePressure end) {
  if (side.held > end) return downhill(side, gas, end);
  if (side.held == end) return {MassFlow(), end, false};
  Side back = side;
  back.held = end;
  return {-downhill(back, gas, side.held).flow, end, false};
}

Escape escape(const std::vector<Side>& sides, const Opening& opening, const gas::Flowing& gas,
              AbsolutePressure air) {
  const double most = most_held(sides);
  if (!opening.area || most <= air.si()) return broken_through(sides, gas, air);
  const gas::Hole hole{opening.area->si(), opening.coefficient};
  const auto blows = [&](double inside) {
    return gas::through(hole, {gas.specific_constant, gas.temperature_k, gas.z(inside), opening.k},
                        inside, air.si());
  };
  const double inside = falls_through(air.si(), most, [&](double pa) {
    double fed = 0.0;
    for (const Side& side : sides) fed += along(side, gas, AbsolutePressure::from_si(pa)).flow.si();
    return fed - blows(pa).kg_per_s;
  });
  Escape out;
  out.at = AbsolutePressure::from_si(inside);
  for (const Side& side : sides) {
    out.sides.push_back(along(side, gas, out.at));
    out.flow = out.flow + out.sides.back().flow;
  }
  out.regime = blows(inside).regime;
  out.unlimited = MassFlow::from_si(blows(most).kg_per_s);
  return out;
}

}  // namespace bellhole::network
