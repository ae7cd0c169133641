#include "network/opening.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellhole::network {
namespace {

/// How far from a break the draw of its `to` side stands: a customer at the very station of a shut
/// place, or within a centimetre of it, counts as before it.
constexpr double beside_m = 0.02;
/// Pressure down to which the opening draws in full; under it the air's is as good as reached.
constexpr auto hardly_any = GaugePressure::from_si(1.0);

/// The network with the opening's draws added; the map itself stays as it is.
class Open {
 public:
  Open(const Network& network, const Conditions& conditions, const Closure& place,
       const Opening& opening)
      : network_(network), place_(place), opening_(opening) {
    flowing_ = gas::flowing(conditions.gas, conditions.ground);
    density_ = gas::base_density(conditions.gas, {network.base_pressure, network.base_temperature});
    first_ = network_.customers.size();
    const std::size_t draws = opening.area ? 1 : 2;
    for (std::size_t i = 0; i < draws; ++i)
      add_draw(i == 0 ? place.station : place.station + Length::from_si(beside_m));
  }

  Result<bool> prepare(const Conditions& conditions) {
    BELLHOLE_TRY(model, Model::prepare(network_, conditions));
    model_.emplace(std::move(model));
    return true;
  }

  Result<OpeningState> solve(Scenario scenario) {
    if (!scenario.without_load.empty()) scenario.without_load.resize(network_.customers.size(), 0);
    OpeningState out;
    last_.reset();
    set({0.0, 0.0});
    BELLHOLE_TRY(closed, model_->solve(scenario));
    out.before = closed.customer_pressure[first_];
    if (!opening_.area) scenario.closures.push_back(place_);
    return opening_.area ? through_hole(scenario, out) : broken(scenario, out);
  }

 private:
  void add_draw(Length station) {
    Customers& all = network_.customers;
    all.id.emplace_back("opening");
    all.pipe.push_back(place_.pipe);
    all.station.push_back(station);
    all.shape.push_back(none);
    all.base.emplace_back();
    all.per_k.push_back(0.0);
    all.least.push_back(hardly_any);
    all.must_not_lose.push_back(0);
    all.why_not.emplace_back();
    all.street.emplace_back();
    all.excess_flow_valve.push_back(Ternary::no);
  }

  /// What leaves, in kg/s; model_ reads the loads from network_ at each solve.
  void set(std::array<double, 2> kg_per_s) {
    for (std::size_t i = first_; i < network_.customers.size(); ++i)
      network_.customers.base[i] = StdFlow::from_si(kg_per_s[i - first_] / density_.si());
  }

  [[nodiscard]] double pa_abs(GaugePressure p) const {
    return absolute(p, network_.barometer).si();
  }
  [[nodiscard]] double air() const { return network_.barometer.si(); }

  Result<SteadyState> state(const Scenario& scenario, std::array<double, 2> kg_per_s) {
    set(kg_per_s);
    BELLHOLE_TRY(now, model_->solve(scenario, last_ ? &*last_ : nullptr));
    last_ = now;
    return now;
  }

  /// The zero of `left(m)`, which falls, between nought and `most`: false position, halved where it
  /// clings to one end.
  template <class F>
  Result<double> balance(double most, const F& left) {
    constexpr int rounds = 60;
    constexpr double close = 1e-7;
    double low = 0.0, high = most;
    BELLHOLE_TRY(at_low, left(low));
    BELLHOLE_TRY(at_high, left(high));
    double f_low = at_low, f_high = at_high;
    if (f_low <= 0.0) return 0.0;
    if (f_high >= 0.0) return high;
    int side = 0;
    for (int i = 0; i < rounds && high - low > close * high; ++i) {
      const double middle = (low * f_high - high * f_low) / (f_high - f_low);
      BELLHOLE_TRY(f, left(middle));
      if (std::abs(f) <= close * at_low) return middle;
      if (f > 0.0) {
        low = middle;
        f_low = f;
        if (side == 1) f_high *= 0.5;
        side = 1;
      } else {
        high = middle;
        f_high = f;
        if (side == -1) f_low *= 0.5;
        side = -1;
      }
    }
    return 0.5 * (low + high);
  }

  [[nodiscard]] gas::Outflow blows(double inside_pa) const {
    return gas::through(
        {opening_.area->si(), opening_.coefficient},
        {flowing_.specific_constant, flowing_.temperature_k, flowing_.z(inside_pa), opening_.k},
        inside_pa, air());
  }

  void finish(const SteadyState& state, OpeningState& out) const {
    for (const Index customer : state.customers_short)
      if (static_cast<std::size_t>(customer) < first_) ++out.customers_short;
  }

  Result<OpeningState> through_hole(const Scenario& scenario, OpeningState out) {
    out.fed = std::isfinite(out.before.si());
    out.escape.at = AbsolutePressure::from_si(air());
    if (!out.fed) return out;
    const double most = blows(pa_abs(out.before)).kg_per_s;
    out.escape.unlimited = MassFlow::from_si(most);
    BELLHOLE_TRY(m, balance(most, [&](double flow) -> Result<double> {
                   BELLHOLE_TRY(now, state(scenario, {flow, 0.0}));
                   return blows(pa_abs(now.customer_pressure[first_])).kg_per_s - flow;
                 }));
    BELLHOLE_TRY(now, state(scenario, {m, 0.0}));
    const double inside = pa_abs(now.customer_pressure[first_]);
    out.escape.flow = MassFlow::from_si(m);
    out.escape.at = AbsolutePressure::from_si(inside);
    out.escape.regime = blows(inside).regime;
    finish(now, out);
    return out;
  }

  /// What is left of the potential at one end of a break when `flow` leaves there: at nought the
  /// end passes just that.
  [[nodiscard]] double left_at_end(const SteadyState& now, std::size_t side, double flow) const {
    const Pipes& pipes = network_.pipes;
    const auto pipe = static_cast<std::size_t>(place_.pipe);
    const Index node = side == 0 ? pipes.from[pipe] : pipes.to[pipe];
    const double begins = pa_abs(now.node_pressure[static_cast<std::size_t>(node)]);
    const double ends = pa_abs(now.customer_pressure[first_ + side]);
    if (!std::isfinite(ends) || ends <= air()) return -flowing_.potential(air()) - flow;
    const double flux = flux_of(flow), exit = exit_of(flow);
    const double kinetic =
        flux * std::log(std::max(1.0, flowing_.density(begins) / flowing_.density(exit)));
    return flowing_.potential(ends) - flowing_.potential(exit) - kinetic;
  }
  [[nodiscard]] double flux_of(double flow) const {
    const double bore = network_.pipes.bore[static_cast<std::size_t>(place_.pipe)].si();
    const double g = flow / (std::numbers::pi / 4.0 * bore * bore);
    return g * g * flowing_.specific_constant * flowing_.temperature_k;
  }
  /// Pressure at the open end: the air's, or that at which the flow chokes.
  [[nodiscard]] double exit_of(double flow) const {
    return std::max(air(), gas::choked_at(flowing_, flux_of(flow)));
  }

  Result<OpeningState> broken(const Scenario& scenario, OpeningState out) {
    constexpr int rounds = 30;
    constexpr double close = 1e-6;
    std::array<double, 2> flow{};
    out.escape.at = AbsolutePressure::from_si(air());
    BELLHOLE_TRY(still, state(scenario, flow));
    std::array<double, 2> most{};
    for (std::size_t side = 0; side < 2; ++side) {
      const GaugePressure p = still.customer_pressure[first_ + side];
      if (!std::isfinite(p.si())) continue;
      out.fed = true;
      const double choke = std::sqrt(gas::choking_flux(flowing_, pa_abs(p)) / flux_of(1.0));
      most[side] = choke;
    }
    for (int round = 0; round < rounds; ++round) {
      const std::array<double, 2> before = flow;
      for (std::size_t side = 0; side < 2; ++side) {
        if (!(most[side] > 0.0)) continue;
        BELLHOLE_TRY(m, balance(most[side], [&](double trial) -> Result<double> {
                       auto both = flow;
                       both[side] = trial;
                       BELLHOLE_TRY(now, state(scenario, both));
                       return left_at_end(now, side, trial);
                     }));
        flow[side] = m;
      }
      const double moved = std::abs(flow[0] - before[0]) + std::abs(flow[1] - before[1]);
      if (moved <= close * (flow[0] + flow[1])) break;
    }
    BELLHOLE_TRY(now, state(scenario, flow));
    describe_ends(flow, out);
    finish(now, out);
    return out;
  }

  void describe_ends(const std::array<double, 2>& flow, OpeningState& out) const {
    double fastest = 0.0;
    for (const double m : flow) {
      const double exit = exit_of(m);
      out.escape.sides.push_back(
          {MassFlow::from_si(m), AbsolutePressure::from_si(exit), exit > air()});
      out.escape.flow = out.escape.flow + MassFlow::from_si(m);
      if (!(m > fastest)) continue;
      fastest = m;
      out.escape.at = AbsolutePressure::from_si(exit);
      out.escape.regime = exit > air() ? gas::Regime::choked : gas::Regime::subsonic;
    }
    out.escape.unlimited = out.escape.flow;
  }

  Network network_;
  Closure place_;
  Opening opening_;
  gas::Flowing flowing_;
  Density density_;
  std::size_t first_ = 0;
  std::optional<Model> model_;
  std::optional<SteadyState> last_;  ///< of the same scenario, with another draw
};

}  // namespace

Result<std::vector<OpeningState>> open_at(const Network& network, const Conditions& conditions,
                                          const Closure& place, const Opening& opening,
                                          const std::vector<Scenario>& scenarios) {
  const Length length = network.pipes.length[static_cast<std::size_t>(place.pipe)];
  const bool at_end =
      !(place.station.si() > beside_m) || !(place.station.si() < length.si() - beside_m);
  if (!opening.area && at_end) {
    return trouble(Code::out_of_range, "pipe", fmt::format("{:g} m", place.station.si()),
                   "a main is broken through somewhere along it: name a place between its ends");
  }
  Open open(network, conditions, place, opening);
  BELLHOLE_TRY(ready, open.prepare(conditions));
  static_cast<void>(ready);
  std::vector<OpeningState> states;
  for (const Scenario& scenario : scenarios) {
    BELLHOLE_TRY(state, open.solve(scenario));
    states.push_back(state);
  }
  return states;
}

}  // namespace bellhole::network
