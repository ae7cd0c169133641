#include "network/transient_leaks.hpp"

#include <algorithm>
#include <cmath>

#include "gas/halving.hpp"
#include "network/stand_in.hpp"

namespace bellhole::network {
namespace {

/// Pa over the air's. What leaves goes with the root of it in the end; nearer to the air than this
/// it is taken to go with the pressure itself, and below the air's something comes in, so that a
/// main that has emptied stands at the air's pressure.
constexpr double last_pascals = 10.0;
/// s in which a main that breaks is parted.
constexpr double parts_in = 0.01;

double through_hole(const LeakPart& part, const gas::Flowing& gas, double inside) {
  const Opening& opening = part.leak->opening;
  return gas::through({opening.area->si(), opening.coefficient},
                      {gas.specific_constant, gas.temperature_k, gas.z(inside), opening.k}, inside,
                      part.air)
      .kg_per_s;
}

/// The kinetic term from the end node of the main to the break, and the choke there: what is left
/// of the potential beside the break when that much leaves.
double out_of_end(const LeakPart& part, const gas::Flowing& gas, double inside, double at_node) {
  const double rt = gas.specific_constant * gas.temperature_k;
  const auto flux = [&](double m) { return m * m / (part.section * part.section) * rt; };
  const double most = part.section * std::sqrt(gas::choking_flux(gas, inside) / rt);
  return gas::falls_through(0.0, most, [&](double m) {
    const double exit = std::max(part.air, gas::choked_at(gas, flux(m)));
    const double faster = std::max(1.0, gas.density(at_node) / gas.density(exit));
    return gas.potential(inside) - gas.potential(exit) - flux(m) * std::log(faster);
  });
}

double passes(const LeakPart& part, const gas::Flowing& gas, double inside, double at_node) {
  return part.node == none ? through_hole(part, gas, inside)
                           : out_of_end(part, gas, inside, at_node);
}

double leaves_at(const LeakPart& part, const gas::Flowing& gas, double inside, double at_node) {
  const double over = inside - part.air;
  if (over >= last_pascals) return passes(part, gas, inside, at_node);
  return over / last_pascals * passes(part, gas, part.air + last_pascals, at_node);
}

}  // namespace

Leaking::Leaking(const Network& map, const Course& asked) : network(map), course(asked) {
  for (const Leak& leak : asked.leaks) {
    at.push_back(stand_in(network.customers, leak.place.pipe, leak.place.station));
    if (leak.opening.area) continue;
    stand_in(network.customers, leak.place.pipe, leak.place.station + Length::from_si(beside_m));
    course.movers.push_back(
        {.place = leak.place,
         .travel = {{leak.from, 1.0}, {leak.from + Duration::from_si(parts_in), 0.0}}});
  }
  auto& without = course.begins.without_load;
  if (!without.empty()) without.resize(network.customers.size(), 0);
}

Leaving leaves(const LeakPart& part, const gas::Flowing& gas, double potential,
               double node_potential) {
  const auto inside = [&](double reduced, double height) {
    return gas.at_rest_higher(gas.pressure(reduced), height);
  };
  const double at_node = part.node == none ? 0.0 : inside(node_potential, part.node_height);
  constexpr double aside = 1e-6;
  const double flow = leaves_at(part, gas, inside(potential, part.height), at_node);
  const double more = leaves_at(part, gas, inside(potential * (1.0 + aside), part.height), at_node);
  return {flow, (more - flow) / (aside * potential)};
}

}  // namespace bellhole::network
