#include "restore/purge_stack.hpp"

#include <cmath>

#include "gas/fittings.hpp"
#include "gas/halving.hpp"
#include "gas/open_end.hpp"

namespace bellhole::restore {
namespace {

/// Beyond this a stack is choked for good: what it passes and what comes to it rise alike.
constexpr double highest_pa = 20e5;

}  // namespace

gas::Flowing air(Temperature temperature) {
  const double t = temperature.si();
  return {1.0, gas::molar_gas_constant / gas::air_kg_per_mol, t, 0.0,
          1.458e-6 * std::pow(t, 1.5) / (t + 110.4)};
}

std::optional<GaugePressure> at_foot(const PurgeStack& stack, const gas::Flowing& gas,
                                     double m3_per_s, AbsolutePressure barometer) {
  const auto lacks = [&](double gauge_pa) {
    const auto held = AbsolutePressure::from_si(barometer.si() + gauge_pa);
    const auto out = gas::flow_into({held, stack.height, stack.bore, stack.roughness, stack.loss},
                                    gas, barometer);
    return m3_per_s * gas.density(held.si()) - out.flow.si();
  };
  if (lacks(highest_pa) > 0.0) return std::nullopt;
  return GaugePressure::from_si(gas::falls_through(0.0, highest_pa, lacks));
}

GaugePressure at_feed(Length bore, Length length, Length roughness, const gas::Flowing& gas,
                      double m3_per_s, GaugePressure end, AbsolutePressure barometer) {
  const double wanted = end.si() + barometer.si();
  const auto flow = MassFlow::from_si(m3_per_s * gas.density(wanted));
  const double feed = gas::falls_through(wanted, wanted + highest_pa, [&](double from) {
    const double left = gas::pressure_after({length, bore, roughness, 0.0}, gas,
                                            AbsolutePressure::from_si(from), flow)
                            .si();
    return left >= wanted ? wanted - left : 1.0;  // nan, where it passes no such flow, is too low
  });
  return GaugePressure::from_si(feed - barometer.si());
}

}  // namespace bellhole::restore
