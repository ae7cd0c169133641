#include "tests/support/eight_nodes.hpp"

#include <cmath>
#include <numbers>

#include "network/steady.hpp"
#include "tests/support/town.hpp"

namespace bellhole::support {

using network::Index;

namespace {

constexpr double kelvin = 288.706, squared_sound_speed = 138138.909;  // m2/s2
constexpr double barometer = 101325.0;
constexpr double ratio_1_to_6 = 1.257963995, ratio_2_to_7 = 1.271773611, ratio_4_to_8 = 1.219272584;
constexpr double slack_pa = 3447378.645, at_3 = 150.0, at_5 = 124.9999828;

/// An ideal gas: critical pressure beyond all bounds.
gas::Gas ideal_gas() {
  return {.gravity = 0.6,
          .kg_per_mol = gas::molar_gas_constant * kelvin / squared_sound_speed,
          .critical_k = 1.0,
          .critical_pa = 1e300,
          .acentric = 0.0};
}

/// Relative roughness times bore with which Colebrook's equation has this factor at this flow.
double roughness(double factor, double bore, double kg_per_s) {
  const double viscosity = gas::viscosity(Temperature::from_si(kelvin)).si();
  const double re = 4.0 * kg_per_s / (std::numbers::pi * bore * viscosity),
               root = std::sqrt(factor);
  return 3.7 * bore * (std::pow(10.0, -0.5 / root) - 2.51 / (re * root));
}

class Pieces {
 public:
  Pieces() {
    town_.net.barometer = AbsolutePressure::from_si(barometer);
    kg_per_std_m3_ =
        gas::base_density(ideal_gas(), {town_.net.base_pressure, town_.net.base_temperature}).si();
    const Index tier = town_.tier("transmission", 1e8, unknown);
    for (int i = 0; i <= 8; ++i)
      node_[static_cast<std::size_t>(i)] = town_.node(std::to_string(i), tier);
    const Index p62 = main(6, 2, 0.9144, 20'000, 0.010, 275.0),
                p73 = main(7, 3, 0.9144, 70'000, 0.010, 226.98124042);
    p34_ = main(3, 4, 0.9144, 10'000, 0.010, 76.98124042);
    p24_ = main(2, 4, 0.6350, 60'000, 0.015, 48.01874238);
    const Index p85 = main(8, 5, 0.9144, 80'000, 0.010, at_5);
    p73_ = p73;
    feed(6, slack_pa * ratio_1_to_6);
    feed(7, slack_pa);
    feed(8, slack_pa);
    at_2_ = draw(p62, 227.0);
    draw(p73, at_3);
    draw(p34_, at_5);
    draw(p85, at_5);
  }

  EightNodes solve() {
    double through = 227.0, p7 = slack_pa * 1.3, p8 = slack_pa;
    network::SteadyState state;
    for (int i = 0; i < 400; ++i) {
      set_source(1, p7);
      set_source(2, p8);
      town_.net.customers.base[static_cast<std::size_t>(at_2_)] =
          StdFlow::from_si(through / kg_per_std_m3_);
      const auto model = network::Model::prepare(
          town_.net, {.gas = ideal_gas(), .ground = Temperature::from_si(kelvin)});
      state = *model->solve({.air = Temperature::from_si(kelvin)});
      through += 0.3 * (state.sources[1].flow.si() - through);
      p7 += 0.3 * (ratio_2_to_7 * absolute(state, 2) - p7);
      p8 = ratio_4_to_8 * absolute(state, 4);
    }
    EightNodes found;
    for (std::size_t i = 2; i <= 8; ++i) found.pa_abs[i] = absolute(state, i);
    const auto flow = [&](Index pipe) {
      return state.pipes[static_cast<std::size_t>(pipe)].at_from.si();
    };
    found.kg_per_s_7_to_3 = flow(p73_);
    found.kg_per_s_3_to_4 = flow(p34_);
    found.kg_per_s_2_to_4 = flow(p24_);
    return found;
  }

 private:
  Index main(std::size_t from, std::size_t to, double bore, double length, double factor,
             double published_flow) {
    const Index pipe = town_.pipe(std::to_string(from) + "-" + std::to_string(to), node_[from],
                                  node_[to], length, bore);
    town_.net.pipes.roughness[static_cast<std::size_t>(pipe)] =
        Length::from_si(roughness(factor, bore, published_flow));
    return pipe;
  }
  void feed(std::size_t node, double pa_abs) {
    town_.source("S" + std::to_string(node), node_[node], pa_abs - barometer);
  }
  void set_source(std::size_t source, double pa_abs) {
    town_.net.sources.pressure[source] = GaugePressure::from_si(pa_abs - barometer);
  }
  Index draw(Index pipe, double kg_per_s) {
    const double end = town_.net.pipes.length[static_cast<std::size_t>(pipe)].si();
    return town_.customer("at the end of " + std::to_string(pipe), pipe, end,
                          kg_per_s / kg_per_std_m3_);
  }
  [[nodiscard]] double absolute(const network::SteadyState& state, std::size_t node) const {
    return state.node_pressure[static_cast<std::size_t>(node_[node])].si() + barometer;
  }

  Town town_;
  std::array<Index, 9> node_{};
  Index p73_ = 0, p34_ = 0, p24_ = 0, at_2_ = 0;
  double kg_per_std_m3_ = 0.0;
};

}  // namespace

EightNodes solve_eight_nodes() { return Pieces().solve(); }

}  // namespace bellhole::support
