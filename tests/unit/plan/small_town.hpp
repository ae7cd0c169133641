// Small networks for the tests of plans, put together by hand.
#pragma once

#include <cmath>
#include <limits>
#include <string>

#include "network/columns.hpp"
#include "network/steady.hpp"
#include "procedure/profile.hpp"
#include "tests/support/invented_profile.hpp"

namespace bellhole::plan::test {

inline constexpr double psi = 6894.757293168361;
inline constexpr double scfh = 0.028316846592 / 3600.0;

/// Builds columns one element at a time. Nodes are 100 m apart unless placed; all mains are PE, IPS
/// 4 DR 11.
class Town {
 public:
  Town() {
    auto& n = network;
    n.name = "test town";
    n.crs = "EPSG:32630";
    n.base_pressure = AbsolutePressure::from_si(101560.0);
    n.base_temperature = Temperature::from_si(288.7);
    n.barometer = AbsolutePressure::from_si(101325.0);
    n.tiers.id = {"60"};
    n.tiers.maop = {GaugePressure::from_si(60 * psi)};
    n.tiers.least = {GaugePressure::from_si(20 * psi)};
    n.shapes.id = {"house"};
    n.shapes.reference = {Temperature::from_si(291.5)};
    n.shapes.hour_factor.emplace_back();
    n.shapes.hour_factor[0].fill(1.0);
    n.shapes.low = {0.6};
    n.shapes.high = {1.4};
    n.pipes.first = {0};
    n.backdrop.first = {0};
  }

  network::Index node(const std::string& id, double x, double y) {
    auto& nodes = network.nodes;
    nodes.id.push_back(id);
    nodes.x.push_back(500000.0 + x);
    nodes.y.push_back(4000000.0 + y);
    nodes.lon.push_back(-20.0 + x / 90000.0);
    nodes.lat.push_back(36.0 + y / 111000.0);
    nodes.elevation.push_back(Length());
    nodes.tier.push_back(0);
    return static_cast<network::Index>(nodes.size() - 1);
  }

  network::Index main(const std::string& id, network::Index a, network::Index b) {
    auto& p = network.pipes;
    const auto& n = network.nodes;
    const auto i = static_cast<std::size_t>(a), j = static_cast<std::size_t>(b);
    p.id.push_back(id);
    p.from.push_back(a);
    p.to.push_back(b);
    p.length.push_back(Length::from_si(std::hypot(n.x[j] - n.x[i], n.y[j] - n.y[i])));
    p.bore.push_back(Length::from_si(3.633 * 0.0254));
    p.roughness.push_back(Length::from_si(1.5e-6));
    p.material.push_back(network::Material::pe);
    p.grade.emplace_back("PE2708");
    p.nominal_size.emplace_back("IPS 4");
    p.ratio.push_back(11.0);
    p.year.push_back(2005);
    using network::Ternary;
    p.lining.push_back({Ternary::no, Ternary::no, Ternary::no, Ternary::no});
    p.street.emplace_back("Quay Street");
    p.surface.emplace_back("grass");
    p.depth.push_back(Length::from_si(0.9));
    p.vx.insert(p.vx.end(), {n.x[i], n.x[j]});
    p.vy.insert(p.vy.end(), {n.y[i], n.y[j]});
    p.first.push_back(static_cast<std::int32_t>(p.vx.size()));
    return static_cast<network::Index>(p.size() - 1);
  }

  network::Index customer(const std::string& id, network::Index pipe, double station,
                          double flow_scfh = 60.0, bool must = false) {
    auto& c = network.customers;
    c.id.push_back(id);
    c.pipe.push_back(pipe);
    c.station.push_back(Length::from_si(station));
    c.shape.push_back(0);
    c.base.push_back(StdFlow::from_si(flow_scfh * scfh));
    c.per_k.push_back(0.0);
    c.least.push_back(GaugePressure::from_si(std::numeric_limits<double>::quiet_NaN()));
    c.must_not_lose.push_back(must ? 1 : 0);
    c.why_not.emplace_back(must ? "hospital" : "");
    c.street.emplace_back("Quay Street");
    c.excess_flow_valve.push_back(network::Ternary::no);
    return static_cast<network::Index>(c.size() - 1);
  }

  network::Index valve(const std::string& id, network::Index pipe, double station,
                       double year = 2025.0, network::Position position = network::Position::open) {
    auto& v = network.valves;
    v.id.push_back(id);
    v.pipe.push_back(pipe);
    v.station.push_back(Length::from_si(station));
    v.position.push_back(position);
    v.normal.push_back(position);
    v.last_operated_year.push_back(year);
    v.operable.push_back(network::Ternary::yes);
    v.reachable.push_back(network::Ternary::yes);
    return static_cast<network::Index>(v.size() - 1);
  }

  void source(const std::string& id, network::Index node, double psig = 55.0) {
    auto& s = network.sources;
    s.id.push_back(id);
    s.node.push_back(node);
    s.pressure.push_back(GaugePressure::from_si(psig * psi));
    s.capacity.push_back(StdFlow::from_si(std::numeric_limits<double>::quiet_NaN()));
  }

  network::Index regulator(const std::string& id, network::Index inlet, network::Index outlet,
                           double set_psig) {
    auto& r = network.regulators;
    const double nan = std::numeric_limits<double>::quiet_NaN();
    r.id.push_back(id);
    r.station_name.push_back("station " + id);
    r.inlet.push_back(inlet);
    r.outlet.push_back(outlet);
    r.sensing.push_back(network::Sensing::own_outlet);
    r.tap_pipe.push_back(network::none);
    r.tap_station.push_back(Length());
    r.set_point.push_back(GaugePressure::from_si(set_psig * psi));
    r.capacity.push_back(StdFlow::from_si(nan));
    r.least_inlet.push_back(GaugePressure::from_si(nan));
    r.lock_up.push_back(nan);
    r.relief.push_back(GaugePressure::from_si(nan));
    r.blocks_reverse.push_back(network::Ternary::yes);
    r.needs_reset.push_back(network::Ternary::no);
    return static_cast<network::Index>(r.size() - 1);
  }

  network::Network network;
};

/// A company's profile with round costs: a squeeze 2 h, a valve 20 min, an outlet 1 h, a customer
/// 30 min.
inline procedure::Profile round_costs(const std::string& clearance_from = "centreline") {
  return support::invented({{"plan.cost_squeeze", 2.0, "h"},
                            {"plan.cost_valve", 20.0, "min"},
                            {"plan.cost_station_outlet", 1.0, "h"},
                            {"plan.cost_customer", 30.0, "min"},
                            {"plan.time_locate", 10.0, "min"},
                            {"plan.time_dig", 35.0, "min"},
                            {"plan.time_set", 10.0, "min"},
                            {"squeeze.closing_speed", 1.0, "in/min"},
                            {"plan.time_valve", 10.0, "min"},
                            {"plan.time_station_outlet", 15.0, "min"},
                            {"plan.standoff", 2.0, "m"},
                            {"plan.valve_trust", 1826.0, "d"},
                            {"plan.dig_reach", 3.0, "m"},
                            {"squeeze.clearance_diameters", 3.0, ""},
                            {"squeeze.clearance", 12.0, "in"},
                            {"squeeze.pressure_single", 100.0, "psig"},
                            {"squeeze.clearance_from", clearance_from}});
}

/// Ready to be solved: gas of gravity 0.6, 283 K in the ground.
inline network::Model model_of(const Town& town) {
  return *network::Model::prepare(
      town.network, {.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(283.0)});
}

}  // namespace bellhole::plan::test
