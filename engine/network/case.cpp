#include <algorithm>
#include <cmath>

#include "network/prepared.hpp"
#include "network/sets.hpp"

namespace bellhole::network {
namespace {

/// A valve of unknown position stands as it is meant to; where that is not known either, open (and
/// said).
bool stands_closed(const Valves& valves, std::size_t v, const Scenario& scenario) {
  Position position = valves.position[v];
  for (const ValveSetting& setting : scenario.valves) {
    if (at(setting.valve) == v) position = setting.position;
  }
  if (position == Position::unknown) position = valves.normal[v];
  return position == Position::closed;
}

void shut(const Model::Prepared& prepared, const Scenario& scenario, Case& laid) {
  const Network& network = *prepared.network;
  laid.closed.assign(prepared.points.segments(), 0);
  const auto part = [&](Index pipe, Length station) {
    laid.closed[at(prepared.points.segment_at(pipe, station.si()))] = 1;
  };
  for (const Closure& closure : scenario.closures) part(closure.pipe, closure.station);
  for (std::size_t v = 0; v < network.valves.size(); ++v) {
    if (stands_closed(network.valves, v, scenario)) {
      part(network.valves.pipe[v], network.valves.station[v]);
    }
  }
  laid.regulator_shut.assign(network.regulators.size(), 0);
  laid.source_shut.assign(network.sources.size(), 0);
  for (Index r : scenario.regulators_shut) laid.regulator_shut[at(r)] = 1;
  for (Index s : scenario.sources_shut) laid.source_shut[at(s)] = 1;
}

void reach(const Model::Prepared& prepared, Case& laid) {
  const Network& network = *prepared.network;
  const Points& points = prepared.points;
  const auto& regulators = network.regulators;
  Sets sets(points.size());
  for (std::size_t s = 0; s < points.segments(); ++s) {
    if (laid.closed[s] == 0) sets.join(points.a[s], points.b[s]);
  }
  std::vector<char> live(points.size(), 0);  // of roots
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    if (laid.source_shut[s] == 0) live[at(sets.root(network.sources.node[s]))] = 1;
  }
  for (bool more = true; more;) {
    more = false;
    for (std::size_t r = 0; r < regulators.size(); ++r) {
      if (laid.regulator_shut[r] != 0) continue;
      char& inlet = live[at(sets.root(regulators.inlet[r]))];
      char& outlet = live[at(sets.root(regulators.outlet[r]))];
      const bool back = regulators.blocks_reverse[r] != Ternary::yes;
      if ((inlet != 0 && outlet == 0) || (outlet != 0 && inlet == 0 && back)) {
        inlet = outlet = 1;
        more = true;
      }
    }
  }
  laid.live.resize(points.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    laid.live[i] = live[at(sets.root(static_cast<Index>(i)))];
  }
  laid.felt = points.of_tap;
  laid.tap_parted.resize(regulators.size());
  for (std::size_t r = 0; r < regulators.size(); ++r) {
    laid.tap_parted[r] = sets.root(points.of_tap[r]) != sets.root(regulators.outlet[r]);
  }
}

void draw(const Model::Prepared& prepared, const Scenario& scenario, Case& laid) {
  const Network& network = *prepared.network;
  const auto& customers = network.customers;
  const std::vector<StdFlow> flows = loads(network, scenario);
  laid.wanted.resize(customers.size());
  laid.least.resize(customers.size());
  laid.load.assign(prepared.points.size(), 0.0);
  double sum = 0.0;
  for (std::size_t c = 0; c < customers.size(); ++c) {
    laid.wanted[c] = flows[c].si() * prepared.kg_per_std_m3;
    const Index point = prepared.points.of_customer[c];
    if (laid.live[at(point)] == 0) continue;
    laid.load[at(point)] += laid.wanted[c];
    sum += laid.wanted[c];
  }
  laid.scale = std::max(sum, 1e-6);
}

}  // namespace

double Altitude::reduced(double gauge_pa, double height) const {
  const double local = gauge_pa + gas::barometer_higher(barometer, height, air).si();
  return gas.potential(gas.at_rest_higher(local, -height));
}

double Altitude::gauge(double reduced_pa2, double height) const {
  const double local = gas.at_rest_higher(gas.pressure(reduced_pa2), height);
  return local - gas::barometer_higher(barometer, height, air).si();
}

std::vector<StdFlow> loads(const Network& network, const Scenario& scenario) {
  const auto& customers = network.customers;
  const auto& shapes = network.shapes;
  const auto hour = std::min<std::size_t>(23, static_cast<std::size_t>(scenario.hour));
  std::vector<StdFlow> flows(customers.size());
  for (std::size_t c = 0; c < customers.size(); ++c) {
    if (!scenario.without_load.empty() && scenario.without_load[c] != 0) continue;
    double flow = std::isnan(customers.base[c].si()) ? 0.0 : customers.base[c].si();
    if (customers.shape[c] != none) {
      const std::size_t shape = at(customers.shape[c]);
      const double colder = std::max(0.0, shapes.reference[shape].si() - scenario.air.si());
      if (!std::isnan(customers.per_k[c])) flow += customers.per_k[c] * colder;
      flow *= shapes.hour_factor[shape][hour];
      if (scenario.load == LoadCase::low) flow *= shapes.low[shape];
      if (scenario.load == LoadCase::high) flow *= shapes.high[shape];
    }
    flows[c] = StdFlow::from_si(flow);
  }
  return flows;
}

Case lay_over(const Model::Prepared& prepared, const Scenario& scenario) {
  const Network& network = *prepared.network;
  Case laid;
  laid.altitude = {prepared.gas, prepared.barometer, scenario.air};
  shut(prepared, scenario, laid);
  reach(prepared, laid);
  draw(prepared, scenario, laid);
  const double floor = prepared.conditions.falls_off_without_limit.si();
  for (std::size_t c = 0; c < network.customers.size(); ++c) {
    const double least = least_of_customer(network, static_cast<Index>(c)).si();
    laid.least[c] = least > 0.0 ? least : floor;  // nan and nought: nothing to fall below
  }
  return laid;
}

Supply highest_supply(const Network& network) {
  Sets sets(network.nodes.size());
  for (std::size_t p = 0; p < network.pipes.size(); ++p) {
    sets.join(network.pipes.from[p], network.pipes.to[p]);
  }
  std::vector<double> highest(network.nodes.size(), 0.0);  // of roots
  const auto of = [&](Index node) -> double& { return highest[at(sets.root(node))]; };
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    double& here = of(network.sources.node[s]);
    here = std::max(here, network.sources.pressure[s].si());
  }
  const auto& regulators = network.regulators;
  for (bool more = true; more;) {
    more = false;
    for (std::size_t r = 0; r < regulators.size(); ++r) {
      const double passes = std::min(of(regulators.inlet[r]), regulators.set_point[r].si());
      if (passes <= of(regulators.outlet[r])) continue;
      of(regulators.outlet[r]) = passes;
      more = true;
    }
  }
  Supply supply;
  for (Index inlet : regulators.inlet) supply.regulator_inlet.push_back(of(inlet));
  for (Index from : network.pipes.from) supply.pipe.push_back(of(from));
  return supply;
}

}  // namespace bellhole::network
