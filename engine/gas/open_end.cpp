#include "gas/open_end.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "gas/friction.hpp"
#include "gas/halving.hpp"

namespace bellhole::gas {
namespace {

double area_of(Length bore) { return std::numbers::pi / 4.0 * bore.si() * bore.si(); }

/// What is left of the potential of `from` after the length, ending at `to`, at mass flow m.
double left(const OpenLength& side, const Flowing& gas, double from, double to, double m) {
  const double area = area_of(side.bore);
  const double flux = m * m / (area * area) * gas.specific_constant * gas.temperature_k;
  const double re = 4.0 * m / (std::numbers::pi * side.bore.si() * gas.viscosity_pa_s);
  const double f = darcy(re, side.roughness / side.bore).factor;
  const double friction = f * side.length.si() / (2.0 * side.bore.si()) + 0.5 * side.loss;
  return gas.potential(from) - gas.potential(to) -
         flux * (friction + std::log(gas.density(from) / gas.density(to)));
}

/// REQUIRES: held > end.
OpenFlow downhill(const OpenLength& side, const Flowing& gas, AbsolutePressure end) {
  const double held = side.held.si(), area = area_of(side.bore);
  const double rt = gas.specific_constant * gas.temperature_k;
  const auto flux = [&](double m) { return m * m / (area * area) * rt; };
  // No length passes more than it would choke at with the whole pressure at its end.
  const double most = area * std::sqrt(choking_flux(gas, held) / rt);
  const double choke_at_end = choking_flux(gas, end.si());
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

}  // namespace

double choking_flux(const Flowing& gas, double pa) {
  const double packed = pa * (1.0 + gas.k_per_pa * pa);
  return packed * packed / (1.0 + 2.0 * gas.k_per_pa * pa);
}

double choked_at(const Flowing& gas, double flux) {
  // The gas is nearly ideal, so that a few rounds settle it.
  double pa = std::sqrt(flux);
  for (int round = 0; round < 8; ++round)
    pa = std::sqrt(flux * (1.0 + 2.0 * gas.k_per_pa * pa)) / (1.0 + gas.k_per_pa * pa);
  return pa;
}

OpenFlow flow_into(const OpenLength& side, const Flowing& gas, AbsolutePressure end) {
  if (side.held > end) return downhill(side, gas, end);
  if (side.held == end) return {MassFlow(), end, false};
  OpenLength back = side;
  back.held = end;
  return {-downhill(back, gas, side.held).flow, end, false};
}

}  // namespace bellhole::gas
