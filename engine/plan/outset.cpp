#include "plan/outset.hpp"

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

struct Outset::OpenEnd {
  std::unique_ptr<network::Network> network;  ///< with the open end as its last customer
  network::Model model;
};

Outset::Outset(const Question& question, const network::SteadyState& before)
    : question_(question), before_(before) {}
Outset::~Outset() = default;

Result<const StageState*> Outset::state() {
  if (state_) return state_.get();
  const network::Model& model = question_.model;
  network::Scenario at = question_.conditions;
  at.load = network::LoadCase::expected;
  BELLHOLE_TRY(expected, model.solve(at));
  at.load = network::LoadCase::low;
  BELLHOLE_TRY(low, model.solve(at));
  state_ = std::make_unique<StageState>(StageState{question_.conditions, std::move(expected),
                                                   before_, std::move(low),
                                                   Regions(model.network(), question_.conditions)});
  return state_.get();
}

Result<const Outset::OpenEnd*> Outset::open_end() {
  if (open_end_) return open_end_->get();
  const network::Network& town = question_.model.network();
  const Piece& piece = question_.work.pieces.front();
  const Length station = (piece.begin + piece.end) * 0.5;
  const Regions regions(town, question_.conditions);
  const double pressure = pressure_at(town, regions, before_, piece.pipe, station).si();
  const double bore = network::bores_of(town.pipes, town.nodes.size())[at(piece.pipe)].value.si();
  if (!std::isfinite(pressure) || pressure <= 0.0 || !std::isfinite(bore))
    return open_end_.emplace().get();

  const auto& conditions = question_.model.conditions();
  auto with =
      with_draw(town, {"open end", piece.pipe, station,
                       StdFlow::from_si(most_std_m3_per_s(town, conditions.gas, conditions.ground,
                                                          bore, pressure + town.barometer.si())),
                       GaugePressure::from_si(pressure)});
  BELLHOLE_TRY(model, network::Model::prepare(*with, conditions));
  open_end_ = std::make_unique<OpenEnd>(OpenEnd{std::move(with), std::move(model)});
  return open_end_->get();
}

Result<std::optional<StdFlow>> Outset::to_open_end(const network::Scenario& scenario) {
  BELLHOLE_TRY(end, open_end());
  if (end == nullptr) return std::optional<StdFlow>();
  network::Scenario with = scenario;
  with.load = network::LoadCase::expected;
  if (!with.without_load.empty()) with.without_load.push_back(0);
  BELLHOLE_TRY(state, end->model.solve(with));
  return std::optional(state.delivered.back());
}

Result<std::optional<StdFlow>> Outset::to_open_end() {
  if (!to_open_end_) {
    BELLHOLE_TRY(flow, to_open_end(question_.conditions));
    to_open_end_ = flow;
  }
  return to_open_end_;
}

}  // namespace bellhole::plan
