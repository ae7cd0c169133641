#include "network/steady.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "network/balance.hpp"
#include "network/descent.hpp"

namespace bellhole::network {
namespace {

constexpr int most_steps = 60;
/// What the slow way has to reach for its own end to be taken, where Newton cannot better it.
constexpr double near_flow = 1e-6;
constexpr double near_pressure_pa = 0.1;
/// Most that regulators are let give (SteadyState::regulators_give), of the set point's potential.
constexpr double most_give = 1.0001e-3;
/// A pressure within this of a limit is at the limit: the springs of regulators give by less.
constexpr double at_limit_pa = 1.0;

const double unknown = std::numeric_limits<double>::quiet_NaN();

Result<bool> in_table(Index index, std::size_t size, std::string_view what) {
  if (index >= 0 && at(index) < size) return true;
  return trouble(Code::unknown_element, std::string(what), fmt::format("{}", index),
                 fmt::format("this network has {}", size));
}

Result<bool> elements_known(const Network& network, const Scenario& scenario) {
  for (const Closure& closure : scenario.closures) {
    BELLHOLE_TRY(known, in_table(closure.pipe, network.pipes.size(), "closure, pipe"));
    (void)known;
    const double length = network.pipes.length[at(closure.pipe)].si();
    if (!(closure.station.si() >= 0.0 && closure.station.si() <= length + Points::same_place_m)) {
      return trouble(Code::out_of_range, "closure on pipe " + network.pipes.id[at(closure.pipe)],
                     fmt::format("station {} m", closure.station.si()),
                     fmt::format("the pipe is {:.3f} m long", length));
    }
  }
  for (const ValveSetting& setting : scenario.valves) {
    BELLHOLE_TRY(known, in_table(setting.valve, network.valves.size(), "valve setting"));
    (void)known;
  }
  for (Index r : scenario.regulators_shut) {
    BELLHOLE_TRY(known, in_table(r, network.regulators.size(), "regulator to shut"));
    (void)known;
  }
  for (Index s : scenario.sources_shut) {
    BELLHOLE_TRY(known, in_table(s, network.sources.size(), "source to shut"));
    (void)known;
  }
  if (!scenario.without_load.empty() && scenario.without_load.size() != network.customers.size()) {
    return trouble(Code::bad_network, "customers without load",
                   fmt::format("{} entries", scenario.without_load.size()),
                   fmt::format("one for each of the {} customers", network.customers.size()));
  }
  return true;
}

Result<bool> usable(const Network& network, const Scenario& scenario) {
  if (!(scenario.hour >= 0.0 && scenario.hour < 24.0)) {
    return trouble(Code::out_of_range, "hour", fmt::format("{}", scenario.hour),
                   "give an hour of the day, 0 up to 24");
  }
  if (!(scenario.air.si() > 183.0 && scenario.air.si() < 333.16)) {
    return trouble(Code::out_of_range, "air temperature", fmt::format("{} K", scenario.air.si()),
                   "give a temperature from -90 to +60 degC");
  }
  return elements_known(network, scenario);
}

/// Turns a settled balance into what people ask for.
class Report {
 public:
  Report(const Model::Prepared& prepared, const Scenario& scenario, const Case& laid,
         const Balance& balance)
      : prepared_(prepared),
        network_(*prepared.network),
        scenario_(scenario),
        laid_(laid),
        balance_(balance) {
    auto settled = std::make_shared<Settled>(balance.settled());
    rest_idle_parts(prepared, laid, *settled);
    settled_ = settled.get();
    state_.settled = std::move(settled);
    state_.law = prepared.conditions.law;
    nodes();
    pipes();
    regulators();
    sources();
    customers();
    tiers();
    state_.outcome = state_.customers_short.empty() ? Outcome::solved : Outcome::cannot_carry;
    state_.iterations = balance.iterations();
    state_.mass_imbalance = balance.mass_imbalance() / laid.scale;
    state_.pressure_residual_pa = balance.potential_residual() / highest_absolute();
  }

  SteadyState take() { return std::move(state_); }

 private:
  [[nodiscard]] GaugePressure gauge(Index point) const {
    const double potential = settled_->potential[at(point)];
    if (std::isnan(potential)) return GaugePressure::from_si(unknown);
    return GaugePressure::from_si(
        laid_.altitude.gauge(potential, prepared_.points.height[at(point)]));
  }

  void nodes() {
    for (std::size_t i = 0; i < network_.nodes.size(); ++i) {
      state_.node_pressure.push_back(gauge(static_cast<Index>(i)));
    }
  }

  void pipes() {
    for (std::size_t p = 0; p < network_.pipes.size(); ++p) {
      const auto pipe = static_cast<Index>(p);
      const Index begin = prepared_.points.first_segment(pipe);
      const Index end = begin + prepared_.points.segment_count(pipe);
      PipeFlow flow{MassFlow::from_si(settled_->flow[at(begin)]),
                    MassFlow::from_si(settled_->flow[at(end) - 1])};
      for (Index s = begin; s < end; ++s) flow.parted = flow.parted || laid_.closed[at(s)] != 0;
      state_.pipes.push_back(flow);
    }
  }

  void regulators() {
    const auto& table = network_.regulators;
    for (std::size_t r = 0; r < table.size(); ++r) {
      RegulatorState state;
      state.flow = MassFlow::from_si(settled_->regulator_flow[r]);
      state.inlet = gauge(table.inlet[r]);
      state.outlet = gauge(table.outlet[r]);
      state.sensed = gauge(prepared_.points.of_tap[r]);
      state.sensing_parted = laid_.tap_parted[r] != 0;
      const auto mode = static_cast<ValveMode>(settled_->regulator_mode[r]);
      if (laid_.regulator_shut[r] != 0) {
        state.mode = RegulatorMode::shut;
      } else if (std::isnan(state.inlet.si()) && std::isnan(state.outlet.si())) {
        state.mode = RegulatorMode::out;
      } else if (mode == ValveMode::controls) {
        state.mode = RegulatorMode::controls;
      } else if (mode == ValveMode::closed) {
        state.mode = RegulatorMode::closed;
      } else {
        state.mode = state.flow.si() < 0.0 ? RegulatorMode::reverse : RegulatorMode::wide_open;
      }
      state_.regulators.push_back(state);
    }
  }

  void sources() {
    double sum = 0.0;
    for (std::size_t s = 0; s < network_.sources.size(); ++s) {
      const double flow = settled_->source_flow[s];
      const bool limited =
          static_cast<SourceMode>(settled_->source_mode[s]) == SourceMode::at_capacity;
      state_.sources.push_back({MassFlow::from_si(flow), limited});
      sum += flow;
    }
    state_.into_network = MassFlow::from_si(sum);
  }

  void customers() {
    const auto& table = network_.customers;
    for (std::size_t c = 0; c < table.size(); ++c) {
      const auto customer = static_cast<Index>(c);
      const Index point = prepared_.points.of_customer[c];
      const GaugePressure pressure = gauge(point);
      const bool out = std::isnan(pressure.si());
      const double given = out ? 0.0 : balance_.delivered(c, settled_->potential[at(point)]);
      state_.customer_pressure.push_back(pressure);
      state_.customer_least.push_back(least_of_customer(network_, customer));
      state_.wanted.push_back(StdFlow::from_si(laid_.wanted[c] / prepared_.kg_per_std_m3));
      state_.delivered.push_back(StdFlow::from_si(given / prepared_.kg_per_std_m3));
      const bool draws = scenario_.without_load.empty() || scenario_.without_load[c] == 0;
      if (out) {
        state_.customers_out.push_back(customer);
      } else if (draws && pressure.si() < laid_.least[c] - at_limit_pa) {
        state_.customers_short.push_back(customer);
      }
    }
  }

  /// Keeps `seen` where it is nearer to its limit than what is kept; a limit that is set comes
  /// before none.
  static void keep(std::optional<Extreme>& kept, const Extreme& seen, double towards) {
    if (!kept) {
      kept = seen;
      return;
    }
    const auto margin = [&](const Extreme& e) {
      return towards * (e.pressure.si() - e.limit.si());
    };
    const double now = margin(seen), before = margin(*kept);
    const bool nearer = std::isnan(now) ? std::isnan(before) && towards * seen.pressure.si() <
                                                                    towards * kept->pressure.si()
                        : std::isnan(before) ? true
                                             : now < before;
    if (nearer) kept = seen;
  }

  void tiers() {
    state_.tiers.resize(network_.tiers.size());
    for (std::size_t i = 0; i < network_.nodes.size(); ++i) {
      const Index tier = network_.nodes.tier[i];
      const GaugePressure pressure = state_.node_pressure[i];
      if (tier == none || std::isnan(pressure.si())) continue;
      const Extreme here{.node = static_cast<Index>(i), .pressure = pressure};
      Extreme low = here, high = here;
      low.limit = network_.tiers.least[at(tier)];
      high.limit = network_.tiers.maop[at(tier)];
      keep(state_.tiers[at(tier)].lowest, low, 1.0);
      keep(state_.tiers[at(tier)].highest, high, -1.0);
    }
    for (std::size_t c = 0; c < network_.customers.size(); ++c) {
      const Index tier = tier_of_pipe(network_, network_.customers.pipe[c]);
      const GaugePressure pressure = state_.customer_pressure[c];
      if (tier == none || std::isnan(pressure.si())) continue;
      keep(state_.tiers[at(tier)].lowest,
           {.customer = static_cast<Index>(c),
            .pressure = pressure,
            .limit = state_.customer_least[c]},
           1.0);
    }
  }

  [[nodiscard]] double highest_absolute() const {
    double highest = prepared_.barometer.si();
    for (const auto& pressure : network_.sources.pressure) {
      highest = std::max(highest, pressure.si() + prepared_.barometer.si());
    }
    return highest;
  }

  const Model::Prepared& prepared_;
  const Network& network_;
  const Scenario& scenario_;
  const Case& laid_;
  const Balance& balance_;
  const Settled* settled_ = nullptr;
  SteadyState state_;
};

/// The slow way: down to the neighbourhood, then Newton; with regulators that give more where they
/// must.
std::optional<SteadyState> settle(const Model::Prepared& prepared, const Skeleton& unfolded,
                                  const Scenario& scenario, const Case& laid) {
  Descent descent(prepared, unfolded, laid);
  const bool down = descent.run();
  const Settled near = descent.settled();
  for (double give = regulator_gives; give <= most_give; give *= 10.0) {
    Balance finish(prepared, unfolded, laid, Delivery::falls_off, give);
    finish.start_from(near);
    if (!finish.run(most_steps)) continue;
    SteadyState state = Report(prepared, scenario, laid, finish).take();
    state.regulators_give = give > regulator_gives ? 0.5 * give : 0.0;
    return state;
  }
  Balance as_it_is(prepared, unfolded, laid, Delivery::falls_off, Descent::gives);
  as_it_is.start_from(near);
  if (!down || !as_it_is.is_near(near_flow, near_pressure_pa)) return std::nullopt;
  SteadyState state = Report(prepared, scenario, laid, as_it_is).take();
  state.regulators_give = 0.5 * Descent::gives;
  return state;
}

}  // namespace

Index tier_of_pipe(const Network& network, Index pipe) {
  const Index from = network.nodes.tier[at(network.pipes.from[at(pipe)])];
  return from != none ? from : network.nodes.tier[at(network.pipes.to[at(pipe)])];
}

GaugePressure least_of_customer(const Network& network, Index customer) {
  const GaugePressure own = network.customers.least[at(customer)];
  if (!std::isnan(own.si())) return own;
  const Index tier = tier_of_pipe(network, network.customers.pipe[at(customer)]);
  return tier == none ? own : network.tiers.least[at(tier)];
}

namespace {

/// The state with full delivery, whether somebody is under his least pressure in it or not; nothing
/// where there is none or Newton does not find it.
std::optional<SteadyState> deliver_in_full(const Model::Prepared& prepared,
                                           const Scenario& scenario, const Case& laid,
                                           const SteadyState* near) {
  Balance full(prepared, prepared.folded, laid, Delivery::full);
  if (near != nullptr) full.start_from(*near->settled);
  if (!full.run(most_steps)) return std::nullopt;
  return Report(prepared, scenario, laid, full).take();
}

/// Whether any regulator stands otherwise than in another state of the same network.
bool stations_moved(const SteadyState& state, const SteadyState& other) {
  return !std::ranges::equal(state.regulators, other.regulators, {}, &RegulatorState::mode,
                             &RegulatorState::mode);
}

/// The state with delivery that falls off under the least pressures.
Result<SteadyState> deliver_what_comes(const Model::Prepared& prepared, const Scenario& scenario,
                                       Case& laid) {
  const std::shared_ptr<const Skeleton> unfolded =
      prepared.unfolded != nullptr
          ? prepared.unfolded
          : std::make_shared<const Skeleton>(
                make_skeleton(prepared.points, prepared.kept, prepared.pairs, Fold::nothing));
  Balance falling(prepared, *unfolded, laid, Delivery::falls_off);
  if (falling.run(most_steps)) return Report(prepared, scenario, laid, falling).take();
  if (auto state = settle(prepared, *unfolded, scenario, laid)) return std::move(*state);
  for (std::size_t r = 0; r < laid.felt.size(); ++r) {
    if (laid.tap_parted[r] == 0) laid.felt[r] = prepared.network->regulators.outlet[r];
  }
  if (auto state = settle(prepared, *unfolded, scenario, laid)) {
    state->held_to_own_outlets = true;
    return std::move(*state);
  }
  return trouble(Code::bug, "steady state", "not solved",
                 "this is a fault of Bellhole: please report it with the network and the scenario");
}

}  // namespace

Result<SteadyState> Model::solve(const Scenario& scenario, const SteadyState* near) const {
  BELLHOLE_TRY(good, usable(*prepared_->network, scenario));
  (void)good;
  Case laid = lay_over(*prepared_, scenario);
  auto full = deliver_in_full(*prepared_, scenario, laid, near);
  // Regulators that feel each other's work can stand in more than one state. From near by, they
  // keep the one that they were in; where any of them has moved, what counts is where they come to
  // from nothing, so that the answer does not hang on what was asked before.
  if (full && near != nullptr && stations_moved(*full, *near))
    full = deliver_in_full(*prepared_, scenario, laid, nullptr);
  if (full && full->outcome == Outcome::solved) return std::move(*full);
  return deliver_what_comes(*prepared_, scenario, laid);
}

Result<std::vector<char>> Model::reached(const Scenario& scenario) const {
  BELLHOLE_TRY(good, usable(*prepared_->network, scenario));
  (void)good;
  const Case laid = lay_over(*prepared_, scenario);
  std::vector<char> reached;
  for (const Index point : prepared_->points.of_customer) reached.push_back(laid.live[at(point)]);
  return reached;
}

Result<std::optional<SteadyState>> Model::solve_if_carried(const Scenario& scenario,
                                                           const SteadyState* near) const {
  BELLHOLE_TRY(good, usable(*prepared_->network, scenario));
  (void)good;
  Case laid = lay_over(*prepared_, scenario);
  auto state = deliver_in_full(*prepared_, scenario, laid, near);
  if (!state) {
    BELLHOLE_TRY(found, deliver_what_comes(*prepared_, scenario, laid));
    state = std::move(found);
  }
  if (state->outcome == Outcome::solved) return state;
  return std::optional<SteadyState>{};
}

}  // namespace bellhole::network
