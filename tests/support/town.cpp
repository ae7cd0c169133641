#include "tests/support/town.hpp"

namespace bellhole::support {

using network::Index;
using network::none;
using network::Ternary;

namespace {
template <class Column>
Index row(const Column& ids) {
  return static_cast<Index>(ids.size()) - 1;
}
}  // namespace

Town::Town() {
  net.name = "test town";
  net.crs = "EPSG:32630";
  net.base_pressure = AbsolutePressure::from_si(101559.7749);
  net.base_temperature = Temperature::from_si(288.70555555555556);
  net.barometer = AbsolutePressure::from_si(101325.0);
  net.pipes.first.push_back(0);
  auto& shapes = net.shapes;
  shapes.id.push_back("home");
  shapes.reference.push_back(Temperature::from_si(291.15));
  shapes.hour_factor.emplace_back();
  shapes.hour_factor.back().fill(1.0);
  shapes.low.push_back(0.8);
  shapes.high.push_back(1.2);
}

Index Town::tier(std::string id, double maop_pa, double least_pa) {
  net.tiers.id.push_back(std::move(id));
  net.tiers.maop.push_back(GaugePressure::from_si(maop_pa));
  net.tiers.least.push_back(GaugePressure::from_si(least_pa));
  return row(net.tiers.id);
}

Index Town::node(std::string id, Index tier, double x, double y, double height) {
  auto& nodes = net.nodes;
  nodes.id.push_back(std::move(id));
  nodes.x.push_back(x);
  nodes.y.push_back(y);
  nodes.lon.push_back(-30.0 + x / 100'000.0);
  nodes.lat.push_back(40.0 + y / 100'000.0);
  nodes.elevation.push_back(Length::from_si(height));
  nodes.tier.push_back(tier);
  return row(nodes.id);
}

Index Town::pipe(std::string id, Index from, Index to, double length_m, double bore_m) {
  auto& pipes = net.pipes;
  pipes.id.push_back(std::move(id));
  pipes.from.push_back(from);
  pipes.to.push_back(to);
  pipes.length.push_back(Length::from_si(length_m));
  pipes.bore.push_back(Length::from_si(bore_m));
  pipes.roughness.push_back(Length::from_si(1.5e-6));
  pipes.material.push_back(network::Material::pe);
  pipes.grade.emplace_back("PE2708");
  pipes.nominal_size.emplace_back();
  pipes.ratio.push_back(unknown);
  pipes.year.push_back(2000);
  pipes.lining.push_back({Ternary::no, Ternary::no, Ternary::no, Ternary::no});
  pipes.street.emplace_back();
  pipes.surface.emplace_back();
  pipes.depth.push_back(Length::from_si(unknown));
  for (Index end : {from, to}) {
    pipes.vx.push_back(net.nodes.x[static_cast<std::size_t>(end)]);
    pipes.vy.push_back(net.nodes.y[static_cast<std::size_t>(end)]);
  }
  pipes.first.push_back(static_cast<Index>(pipes.vx.size()));
  return row(pipes.id);
}

Index Town::customer(std::string id, Index pipe, double station_m, double base, double per_k,
                     double least_pa) {
  auto& customers = net.customers;
  customers.id.push_back(std::move(id));
  customers.pipe.push_back(pipe);
  customers.station.push_back(Length::from_si(station_m));
  customers.shape.push_back(0);
  customers.base.push_back(StdFlow::from_si(base));
  customers.per_k.push_back(per_k);
  customers.least.push_back(GaugePressure::from_si(least_pa));
  customers.must_not_lose.push_back(0);
  customers.why_not.emplace_back();
  customers.street.emplace_back();
  customers.excess_flow_valve.push_back(Ternary::no);
  return row(customers.id);
}

Index Town::source(std::string id, Index node, double pressure_pa, double capacity) {
  auto& sources = net.sources;
  sources.id.push_back(std::move(id));
  sources.node.push_back(node);
  sources.pressure.push_back(GaugePressure::from_si(pressure_pa));
  sources.capacity.push_back(StdFlow::from_si(capacity));
  return row(sources.id);
}

Index Town::regulator(std::string id, Index inlet, Index outlet, double set_pa, double capacity) {
  auto& regulators = net.regulators;
  regulators.station_name.push_back("station " + id);
  regulators.id.push_back(std::move(id));
  regulators.inlet.push_back(inlet);
  regulators.outlet.push_back(outlet);
  regulators.sensing.push_back(network::Sensing::own_outlet);
  regulators.tap_pipe.push_back(none);
  regulators.tap_station.push_back(Length::from_si(unknown));
  regulators.set_point.push_back(GaugePressure::from_si(set_pa));
  regulators.capacity.push_back(StdFlow::from_si(capacity));
  regulators.least_inlet.push_back(GaugePressure::from_si(unknown));
  regulators.lock_up.push_back(unknown);
  regulators.relief.push_back(GaugePressure::from_si(unknown));
  regulators.blocks_reverse.push_back(Ternary::unknown);
  regulators.needs_reset.push_back(Ternary::no);
  return row(regulators.id);
}

Index Town::valve(std::string id, Index pipe, double station_m, network::Position position) {
  auto& valves = net.valves;
  valves.id.push_back(std::move(id));
  valves.pipe.push_back(pipe);
  valves.station.push_back(Length::from_si(station_m));
  valves.position.push_back(position);
  valves.normal.push_back(position);
  valves.last_operated_year.push_back(2024.0);
  valves.operable.push_back(Ternary::yes);
  valves.reachable.push_back(Ternary::yes);
  return row(valves.id);
}

}  // namespace bellhole::support
