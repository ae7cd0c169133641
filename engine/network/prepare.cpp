#include <fmt/format.h>

#include <cmath>

#include "network/bore.hpp"
#include "network/check.hpp"
#include "network/prepared.hpp"
#include "network/roughness.hpp"

namespace bellhole::network {
namespace {

/// Up to this many points the model keeps a second skeleton with nothing folded, for scenarios in
/// which customers fall short; beyond, ordering it again is cheap against solving with it.
constexpr std::size_t keep_unfolded_up_to = 50'000;

constexpr double sea_level_pa = 101325.0;
constexpr double standard_air_k = 288.15;

/// Where the map gives no barometer: by its altitude in standard air; without an altitude, sea
/// level. Lower than true would flatter nobody: a lower barometer makes the same gauge pressure
/// carry less.
AbsolutePressure barometer_of(const Network& network) {
  if (network.barometer.si() > 0.0) return network.barometer;
  const double altitude = network.datum_altitude.si();
  return gas::barometer_higher(AbsolutePressure::from_si(sea_level_pa),
                               std::isnan(altitude) ? 0.0 : altitude,
                               Temperature::from_si(standard_air_k));
}

Result<bool> usable(bool good, std::string_view table, const std::string& id, std::string_view what,
                    double value, std::string_view fix) {
  if (good) return true;
  const std::string where = fmt::format("{} {}, {}", table, id, what);
  const Code code = std::isnan(value) ? Code::missing_value : Code::bad_network;
  return trouble(code, where, std::isnan(value) ? "not known" : fmt::format("{}", value),
                 std::string(fix));
}

bool positive(double value) { return std::isfinite(value) && value > 0.0; }

Result<bool> usable_pipes(const Network& network) {
  const auto& pipes = network.pipes;
  const std::vector<Bore> bores = bores_of(pipes, network.nodes.size());
  for (std::size_t p = 0; p < pipes.size(); ++p) {
    const double length = pipes.length[p].si(), bore = bores[p].value.si();
    BELLHOLE_TRY(long_enough, usable(positive(length), "pipe", pipes.id[p], "length", length,
                                     "a main needs a length above nought"));
    BELLHOLE_TRY(wide_enough,
                 usable(positive(bore), "pipe", pipes.id[p], "bore", bore,
                        "give its size and DR or its bore: without it no flow is known"));
    (void)long_enough;
    (void)wide_enough;
  }
  return true;
}

Result<bool> usable_stations(const Network& network) {
  const auto within = [&](std::string_view table, const std::string& id, Index pipe,
                          double station) {
    const double length = network.pipes.length[at(pipe)].si();
    return usable(station >= 0.0 && station <= length + 1e-6, table, id, "station", station,
                  fmt::format("pipe {} is {:.3f} m long", network.pipes.id[at(pipe)], length));
  };
  const auto& customers = network.customers;
  for (std::size_t c = 0; c < customers.size(); ++c) {
    BELLHOLE_TRY(good,
                 within("customer", customers.id[c], customers.pipe[c], customers.station[c].si()));
    (void)good;
  }
  const auto& valves = network.valves;
  for (std::size_t v = 0; v < valves.size(); ++v) {
    BELLHOLE_TRY(good, within("valve", valves.id[v], valves.pipe[v], valves.station[v].si()));
    (void)good;
  }
  const auto& regulators = network.regulators;
  for (std::size_t r = 0; r < regulators.size(); ++r) {
    if (regulators.sensing[r] != Sensing::remote || regulators.tap_pipe[r] == none) continue;
    BELLHOLE_TRY(good, within("regulator", regulators.id[r], regulators.tap_pipe[r],
                              regulators.tap_station[r].si()));
    (void)good;
  }
  return true;
}

Result<bool> usable_equipment(const Network& network) {
  const auto& regulators = network.regulators;
  for (std::size_t r = 0; r < regulators.size(); ++r) {
    const double set = regulators.set_point[r].si();
    BELLHOLE_TRY(good, usable(positive(set), "regulator", regulators.id[r], "set point", set,
                              "give its set point: without it nothing behind it is known"));
    (void)good;
    if (regulators.inlet[r] == regulators.outlet[r]) {
      return trouble(Code::bad_network, "regulator " + regulators.id[r], "inlet is outlet",
                     "give it two nodes");
    }
  }
  const auto& sources = network.sources;
  if (sources.size() == 0) {
    return trouble(Code::no_source, network.name, "no source",
                   "say where gas enters, and at what pressure");
  }
  for (std::size_t s = 0; s < sources.size(); ++s) {
    const double pressure = sources.pressure[s].si();
    BELLHOLE_TRY(good, usable(positive(pressure), "source", sources.id[s], "pressure", pressure,
                              "give the pressure that it holds"));
    (void)good;
  }
  return true;
}

Result<bool> usable_conditions(const Network& network, const Conditions& conditions) {
  const double ground = conditions.ground.si();
  if (!(ground > 233.0 && ground < 323.0)) {
    return trouble(Code::out_of_range, "ground temperature", fmt::format("{} K", ground),
                   "give the temperature of the flowing gas, -40 to +50 degC");
  }
  if (!(conditions.falls_off_without_limit.si() > 0.0)) {
    return trouble(Code::out_of_range, "falls off without limit",
                   fmt::format("{} Pa", conditions.falls_off_without_limit.si()),
                   "give a pressure above nought");
  }
  return usable(positive(network.base_pressure.si()) && positive(network.base_temperature.si()),
                "network", network.name, "base conditions", network.base_pressure.si(),
                "say at what pressure and temperature standard volumes are counted");
}

/// Mean along a segment of (reduced / true density)^2, z linear along it. Exactly it is
/// exp(2 h) ((1 + k p_reduced)/(1 + k p))^4 with h = g z / (R_s T); to first order in k that is
/// exp(2 h (1 + 2 k p)), taken at the supply pressure.
double lift_of(const gas::Flowing& gas, double supply_pa, double low, double high) {
  const double per_metre = 2.0 * gas::standard_gravity /
                           (gas.specific_constant * gas.temperature_k) *
                           (1.0 + 2.0 * gas.k_per_pa * supply_pa);
  const double a = per_metre * low, b = per_metre * high;
  return std::abs(b - a) < 1e-6 ? std::exp(0.5 * (a + b)) : (std::exp(b) - std::exp(a)) / (b - a);
}

void prepare_laws(Model::Prepared& prepared) {
  const Network& network = *prepared.network;
  const Supply supply = highest_supply(network);
  prepared.supply = supply.regulator_inlet;
  const double barometer = prepared.barometer.si();
  const std::vector<Bore> bores = bores_of(network.pipes, network.nodes.size());
  for (std::size_t p = 0; p < network.pipes.size(); ++p) {
    prepared.law.emplace_back(prepared.conditions.law, prepared.gas, bores[p].value,
                              roughness_of(network.pipes, static_cast<Index>(p)).value,
                              AbsolutePressure::from_si(supply.pipe[p] + barometer),
                              prepared.barometer);
  }
  const Points& points = prepared.points;
  for (std::size_t s = 0; s < points.segments(); ++s) {
    prepared.lift.push_back(lift_of(prepared.gas, supply.pipe[at(points.pipe[s])] + barometer,
                                    points.height[at(points.a[s])],
                                    points.height[at(points.b[s])]));
  }
}

void prepare_equipment(Model::Prepared& prepared) {
  const Network& network = *prepared.network;
  prepared.kept = network.sources.node;
  for (std::size_t r = 0; r < network.regulators.size(); ++r) {
    const Index inlet = network.regulators.inlet[r], outlet = network.regulators.outlet[r];
    prepared.kept.insert(prepared.kept.end(), {inlet, outlet, prepared.points.of_tap[r]});
    prepared.pairs.emplace_back(inlet, outlet);
  }
}

}  // namespace

Result<Model> Model::prepare(const Network& network, const Conditions& conditions) {
  BELLHOLE_TRY(fits, check_columns(network));
  BELLHOLE_TRY(pipes, usable_pipes(network));
  BELLHOLE_TRY(stations, usable_stations(network));
  BELLHOLE_TRY(equipment, usable_equipment(network));
  BELLHOLE_TRY(stated, usable_conditions(network, conditions));
  (void)fits, (void)pipes, (void)stations, (void)equipment, (void)stated;
  auto prepared = std::make_shared<Prepared>();
  prepared->network = &network;
  prepared->conditions = conditions;
  prepared->gas = gas::flowing(conditions.gas, conditions.ground);
  prepared->barometer = barometer_of(network);
  prepared->kg_per_std_m3 =
      gas::base_density(conditions.gas, {network.base_pressure, network.base_temperature}).si();
  prepared->points = make_points(network);
  prepare_laws(*prepared);
  prepare_equipment(*prepared);
  prepared->folded =
      make_skeleton(prepared->points, prepared->kept, prepared->pairs, Fold::trees_and_chains);
  if (prepared->points.size() <= keep_unfolded_up_to) {
    prepared->unfolded = std::make_shared<const Skeleton>(
        make_skeleton(prepared->points, prepared->kept, prepared->pairs, Fold::nothing));
  }
  return Model(std::move(prepared));
}

const Network& Model::network() const { return *prepared_->network; }
const Conditions& Model::conditions() const { return prepared_->conditions; }

}  // namespace bellhole::network
