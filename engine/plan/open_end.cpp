#include "plan/open_end.hpp"

#include <cmath>
#include <numbers>
#include <utility>

#include "network/bore.hpp"
#include "plan/extra_draw.hpp"
#include "plan/regions.hpp"

namespace bellhole::plan {
namespace {

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

/// Mass flow through a bore at the speed of sound, per area, pressure and root of 1 / (R_s T), for
/// a gas with a ratio of specific heats of 1.3: sqrt(k) (2 / (k + 1))^((k + 1) / (2 (k - 1))).
constexpr double sonic = 0.667;

/// As much as two full bores let out, at base conditions.
double most_std_m3_per_s(const network::Network& network, const gas::Gas& gas, Temperature ground,
                         double bore_m, double pressure_abs) {
  const auto base = gas::base_density(gas, {network.base_pressure, network.base_temperature}).si();
  const double gas_constant = network.base_pressure.si() / (base * network.base_temperature.si());
  const double area = std::numbers::pi / 4.0 * bore_m * bore_m;
  return 2.0 * sonic * area * pressure_abs / std::sqrt(gas_constant * ground.si()) / base;
}

}  // namespace

Result<std::optional<OpenEnd>> OpenEnd::at_work(const Question& question,
                                                const network::SteadyState& before) {
  const network::Network& town = question.model.network();
  const Piece& piece = question.work.pieces.front();
  const Length station = (piece.begin + piece.end) * 0.5;
  const Regions regions(town, question.conditions);
  const double pressure = pressure_at(town, regions, before, piece.pipe, station).si();
  const double bore = network::bores_of(town.pipes, town.nodes.size())[at(piece.pipe)].value.si();
  if (!std::isfinite(pressure) || pressure <= 0.0 || !std::isfinite(bore))
    return std::optional<OpenEnd>();

  const auto& conditions = question.model.conditions();
  auto with =
      with_draw(town, {"open end", piece.pipe, station,
                       StdFlow::from_si(most_std_m3_per_s(town, conditions.gas, conditions.ground,
                                                          bore, pressure + town.barometer.si())),
                       GaugePressure::from_si(pressure)});
  BELLHOLE_TRY(model, network::Model::prepare(*with, conditions));
  return std::optional<OpenEnd>(OpenEnd(std::move(with), std::move(model)));
}

Result<StdFlow> OpenEnd::flow(network::Scenario scenario) const {
  scenario.load = network::LoadCase::expected;
  if (!scenario.without_load.empty()) scenario.without_load.push_back(0);
  BELLHOLE_TRY(state, model_.solve(scenario));
  return state.delivered.back();
}

}  // namespace bellhole::plan
