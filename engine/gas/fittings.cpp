#include "gas/fittings.hpp"

#include <cmath>
#include <limits>
#include <numbers>

#include "gas/friction.hpp"
#include "gas/halving.hpp"

namespace bellhole::gas {
namespace {

constexpr double entrance = 0.5, exit_into_main = 1.0;
constexpr double branch_times = 60.0, valve_times = 3.0;
constexpr double steel_roughness_m = 0.0018 * 0.0254;

double area_of(Length bore) { return std::numbers::pi / 4.0 * bore.si() * bore.si(); }

double reynolds(Length bore, const Flowing& gas, double flow) {
  return 4.0 * std::fabs(flow) / (std::numbers::pi * bore.si() * gas.viscosity_pa_s);
}

/// Potential lost at a flow > 0.
double lost(const FittedPipe& pipe, const Flowing& gas, double flow) {
  const double flux = flow / area_of(pipe.bore);
  const double f = darcy(reynolds(pipe.bore, gas, flow), pipe.roughness / pipe.bore).factor;
  return 0.5 * flux * flux * gas.specific_constant * gas.temperature_k *
         (f * (pipe.length / pipe.bore) + pipe.loss);
}

/// The flow that loses a potential > 0.
double driven(const FittedPipe& pipe, const Flowing& gas, double potential) {
  double most = 1e-6;
  while (lost(pipe, gas, most) < potential) most *= 2.0;
  return falls_through(0.0, most, [&](double flow) {
    return flow > 0.0 ? potential - lost(pipe, gas, flow) : potential;
  });
}

}  // namespace

double usual_loss(Length bore) {
  // von Karman, fully rough.
  const double root = -2.0 * std::log10(steel_roughness_m / bore.si() / 3.7);
  const double turbulent = 1.0 / (root * root);
  return entrance + exit_into_main + 2.0 * (branch_times + valve_times) * turbulent;
}

Length length_of_fittings(const FittedPipe& pipe, const Flowing& gas, MassFlow flow) {
  const double re = reynolds(pipe.bore, gas, flow.si());
  if (!(re > 0.0)) return Length();
  return Length::from_si(pipe.loss * pipe.bore.si() / darcy(re, pipe.roughness / pipe.bore).factor);
}

MassFlow flow_between(const FittedPipe& pipe, const Flowing& gas, AbsolutePressure from,
                      AbsolutePressure to) {
  const double drop = gas.potential(from.si()) - gas.potential(to.si());
  if (drop == 0.0) return MassFlow();
  return MassFlow::from_si(std::copysign(driven(pipe, gas, std::fabs(drop)), drop));
}

AbsolutePressure pressure_after(const FittedPipe& pipe, const Flowing& gas, AbsolutePressure from,
                                MassFlow flow) {
  const double m = flow.si();
  if (m == 0.0) return from;
  const double left = gas.potential(from.si()) - std::copysign(lost(pipe, gas, std::fabs(m)), m);
  return AbsolutePressure::from_si(left > 0.0 ? gas.pressure(left)
                                              : std::numeric_limits<double>::quiet_NaN());
}

Speed speed_in(Length bore, const Flowing& gas, AbsolutePressure at, MassFlow flow) {
  return Speed::from_si(std::fabs(flow.si()) / (area_of(bore) * gas.density(at.si())));
}

}  // namespace bellhole::gas
