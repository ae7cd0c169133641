#include "network/opening.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "gas/halving.hpp"
#include "network/stand_in.hpp"

namespace bellhole::network {
namespace {

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
      stand_in(network_.customers, place.pipe,
               i == 0 ? place.station : place.station + Length::from_si(beside_m));
  }

  Result<bool> prepare(const Conditions& conditions) {
    BELLHOLE_TRY(model, Model::prepare(network_, conditions));
    model_.emplace(std::move(model));
    return true;
  }

  /// One state for each coefficient: they share what the network answers to a draw.
  Result<std::vector<OpeningState>> solve(Scenario scenario,
                                          const std::vector<double>& coefficients) {
    if (!scenario.without_load.empty()) scenario.without_load.resize(network_.customers.size(), 0);
    set({0.0, 0.0});
    BELLHOLE_TRY(closed, model_->solve(scenario, last_ ? &*last_ : nullptr));
    last_ = closed;
    if (!opening_.area) scenario.closures.push_back(place_);
    BELLHOLE_TRY(still, opening_.area ? Result<SteadyState>(closed) : state(scenario, {0.0, 0.0}));
    learned_.reset();
    std::vector<OpeningState> states;
    for (const double coefficient : coefficients) {
      opening_.coefficient = coefficient;
      OpeningState out;
      out.before = closed.customer_pressure[first_];
      BELLHOLE_TRY(blown, blow(scenario, still, out));
      states.push_back(std::move(blown));
    }
    last_ = closed;
    return states;
  }

 private:
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
  static Result<double> balance(double most, const F& left) {
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

  [[nodiscard]] double flux_of(double flow) const {
    const double bore = network_.pipes.bore[static_cast<std::size_t>(place_.pipe)].si();
    const double g = flow / (std::numbers::pi / 4.0 * bore * bore);
    return g * g * flowing_.specific_constant * flowing_.temperature_k;
  }
  /// Pressure at the open end: the air's, or that at which the flow chokes.
  [[nodiscard]] double exit_of(double flow) const {
    return std::max(air(), gas::choked_at(flowing_, flux_of(flow)));
  }

  // What leaves. `Pair` holds one value for a hole, one for each end of a break.

  using Pair = std::array<double, 2>;

  /// Where the network stands at a draw.
  struct Answer {
    Pair flow{}, potential{};
    Pair begins{};  ///< pressure where the broken main begins, each side
  };
  /// potential(flow) as a plane in the squares of the flows, which it nearly is: friction grows
  /// with the square. The slopes are learned from one answer to the next (Broyden 1965).
  struct Learned {
    Answer at;
    std::array<Pair, 2> slope{};  ///< [side whose potential][side that draws]
  };

  [[nodiscard]] std::size_t sides() const { return opening_.area ? 1 : 2; }

  /// Falls in `flow`; nought where the opening passes just that flow at that potential.
  [[nodiscard]] double left(double potential, double begins, double flow) const {
    if (opening_.area) return blows(flowing_.pressure(std::max(potential, 0.0))).kg_per_s - flow;
    const double inside = flowing_.pressure(std::max(potential, 0.0));
    if (inside <= air()) return -flowing_.potential(air()) - flow;
    const double flux = flux_of(flow), exit = exit_of(flow);
    const double kinetic =
        flux * std::log(std::max(1.0, flowing_.density(begins) / flowing_.density(exit)));
    return potential - flowing_.potential(exit) - kinetic;
  }

  /// Nothing where the opening's draw is not met in full: it is more than the mains can bring.
  Result<std::optional<Answer>> answer(const Scenario& scenario, const Pair& flow) {
    constexpr double in_full = 1.0 - 1e-6;
    BELLHOLE_TRY(now, state(scenario, flow));
    Answer here{.flow = flow};
    for (std::size_t side = 0; side < sides(); ++side) {
      const double wanted = now.wanted[first_ + side].si();
      if (now.delivered[first_ + side].si() < in_full * wanted) return std::optional<Answer>();
      read(now, side, here);
    }
    return std::optional(here);
  }
  void read(const SteadyState& now, std::size_t side, Answer& into) const {
    const GaugePressure pressure = now.customer_pressure[first_ + side];
    if (!std::isfinite(pressure.si())) return;
    into.potential[side] = flowing_.potential(pa_abs(pressure));
    if (opening_.area) return;
    const auto pipe = static_cast<std::size_t>(place_.pipe);
    const Index node = side == 0 ? network_.pipes.from[pipe] : network_.pipes.to[pipe];
    into.begins[side] = pa_abs(now.node_pressure[static_cast<std::size_t>(node)]);
  }

  static double square(double flow) { return flow * flow; }

  /// The flows that the plane leads to, one side after the other until none moves.
  [[nodiscard]] Pair foretold(const Learned& plane, const Pair& most) const {
    constexpr int rounds = 40;
    Pair flow = plane.at.flow;
    for (int round = 0; round < rounds; ++round) {
      double moved = 0.0;
      for (std::size_t side = 0; side < sides(); ++side) {
        if (!(most[side] > 0.0)) continue;
        const double m = gas::falls_through(0.0, most[side], [&](double trial) {
          Pair both = flow;
          both[side] = trial;
          double potential = plane.at.potential[side];
          for (std::size_t j = 0; j < sides(); ++j)
            potential += plane.slope[side][j] * (square(both[j]) - square(plane.at.flow[j]));
          return left(potential, plane.at.begins[side], trial);
        });
        moved = std::max(moved, std::abs(m - flow[side]) / most[side]);
        flow[side] = m;
      }
      if (moved <= 0.1 * close_enough) break;
    }
    return flow;
  }

  void learn(const Answer& now, Learned& plane) const {
    Pair moved{};
    double length = 0.0;
    for (std::size_t j = 0; j < sides(); ++j) {
      moved[j] = square(now.flow[j]) - square(plane.at.flow[j]);
      length += moved[j] * moved[j];
    }
    for (std::size_t i = 0; i < sides() && length > 0.0; ++i) {
      double off = now.potential[i] - plane.at.potential[i];
      for (std::size_t j = 0; j < sides(); ++j) off -= plane.slope[i][j] * moved[j];
      for (std::size_t j = 0; j < sides(); ++j) plane.slope[i][j] += off * moved[j] / length;
    }
    plane.at = now;
  }

  /// A first plane, from a draw that the mains can bring.
  Result<std::optional<Learned>> first_plane(const Scenario& scenario, const Answer& still,
                                             const Pair& most) {
    constexpr double first_share = 1.0 / 16.0;
    constexpr int tries = 12;
    Pair flow{first_share * most[0], first_share * most[1]};
    for (int i = 0; i < tries; ++i, flow = {0.5 * flow[0], 0.5 * flow[1]}) {
      BELLHOLE_TRY(now, answer(scenario, flow));
      if (!now) continue;
      Learned plane{.at = *now};
      for (std::size_t side = 0; side < sides(); ++side)
        if (flow[side] > 0.0)
          plane.slope[side][side] =
              (now->potential[side] - still.potential[side]) / square(flow[side]);
      return std::optional(plane);
    }
    return std::optional<Learned>();
  }

  /// Nothing where the plane does not settle: then it is searched for between bounds.
  Result<std::optional<Pair>> by_plane(const Scenario& scenario, const Answer& still,
                                       const Pair& most) {
    constexpr int rounds = 24;
    if (!learned_) {
      BELLHOLE_TRY(first, first_plane(scenario, still, most));
      learned_ = first;
    }
    for (int round = 0; learned_ && round < rounds; ++round) {
      const Pair before = learned_->at.flow;
      Pair flow = not_too_far(foretold(*learned_, most), before);
      if (near_enough(flow, before, most)) return std::optional(flow);
      BELLHOLE_TRY(now, answer(scenario, flow));
      if (!now) {
        flow = {0.5 * (flow[0] + before[0]), 0.5 * (flow[1] + before[1])};
        BELLHOLE_TRY(shorter, answer(scenario, flow));
        now = shorter;
      }
      if (!now) break;
      learn(*now, *learned_);
    }
    return std::optional<Pair>();
  }

  /// A plane learned from small draws promises too much, and a draw that the mains cannot bring is
  /// solved the slow way.
  Pair not_too_far(Pair flow, const Pair& from) const {
    constexpr double most_growth = 1.5;
    for (std::size_t side = 0; side < sides(); ++side)
      if (from[side] > 0.0) flow[side] = std::min(flow[side], most_growth * from[side]);
    return flow;
  }

  static constexpr double close_enough = 1e-6;  ///< of the most that an opening could pass
  bool near_enough(const Pair& a, const Pair& b, const Pair& most) const {
    for (std::size_t side = 0; side < sides(); ++side)
      if (std::abs(a[side] - b[side]) > close_enough * most[side]) return false;
    return true;
  }

  /// One side after the other, each between nought and the most, until none moves.
  Result<Pair> between_bounds(const Scenario& scenario, const Pair& most) {
    constexpr int rounds = 30;
    Pair flow{};
    for (int round = 0; round < rounds; ++round) {
      const Pair before = flow;
      for (std::size_t side = 0; side < sides(); ++side) {
        if (!(most[side] > 0.0)) continue;
        BELLHOLE_TRY(m, balance(most[side], [&](double trial) -> Result<double> {
                       Pair both = flow;
                       both[side] = trial;
                       BELLHOLE_TRY(now, state(scenario, both));
                       Answer here;
                       read(now, side, here);
                       return left(here.potential[side], here.begins[side], trial);
                     }));
        flow[side] = m;
      }
      if (sides() == 1 || near_enough(flow, before, most)) break;
    }
    return flow;
  }

  /// The most that each side could pass: the hole at the pressure before, an end at its choke.
  [[nodiscard]] Pair most_of(const SteadyState& still) const {
    Pair most{};
    for (std::size_t side = 0; side < sides(); ++side) {
      const GaugePressure p = still.customer_pressure[first_ + side];
      if (!std::isfinite(p.si()) || pa_abs(p) <= air()) continue;
      most[side] = opening_.area ? blows(pa_abs(p)).kg_per_s
                                 : std::sqrt(gas::choking_flux(flowing_, pa_abs(p)) / flux_of(1.0));
    }
    return most;
  }

  Result<OpeningState> blow(const Scenario& scenario, const SteadyState& still, OpeningState out) {
    for (std::size_t side = 0; side < sides(); ++side)
      out.fed |= std::isfinite(still.customer_pressure[first_ + side].si());
    out.escape.at = AbsolutePressure::from_si(air());
    if (!out.fed) {
      if (!opening_.area) describe_ends({}, out);
      return out;
    }
    const Pair most = most_of(still);
    Answer nothing_drawn;
    for (std::size_t side = 0; side < sides(); ++side) read(still, side, nothing_drawn);
    BELLHOLE_TRY(quick, by_plane(scenario, nothing_drawn, most));
    Pair flow{};
    if (quick) {
      flow = *quick;
    } else {
      BELLHOLE_TRY(slow, between_bounds(scenario, most));
      flow = slow;
    }
    BELLHOLE_TRY(now, state(scenario, flow));
    if (opening_.area)
      describe_hole(now, flow[0], most[0], out);
    else
      describe_ends(flow, out);
    finish(now, out);
    return out;
  }

  void describe_hole(const SteadyState& now, double flow, double most, OpeningState& out) const {
    const double inside = pa_abs(now.customer_pressure[first_]);
    out.escape.unlimited = MassFlow::from_si(most);
    out.escape.flow = MassFlow::from_si(flow);
    out.escape.at = AbsolutePressure::from_si(inside);
    out.escape.regime = blows(inside).regime;
  }

  void describe_ends(const Pair& flow, OpeningState& out) const {
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
  std::optional<SteadyState> last_;  ///< solved last: where the next one starts from
  std::optional<Learned> learned_;   ///< of this scenario
};

}  // namespace

Result<std::vector<std::vector<OpeningState>>> open_at(const Network& network,
                                                       const Conditions& conditions,
                                                       const Closure& place, const Opening& opening,
                                                       const std::vector<double>& coefficients,
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
  std::vector<std::vector<OpeningState>> states(coefficients.size());
  for (const Scenario& scenario : scenarios) {
    BELLHOLE_TRY(each, open.solve(scenario, coefficients));
    for (std::size_t i = 0; i < each.size(); ++i) states[i].push_back(std::move(each[i]));
  }
  return states;
}

Result<std::vector<OpeningState>> open_at(const Network& network, const Conditions& conditions,
                                          const Closure& place, const Opening& opening,
                                          const std::vector<Scenario>& scenarios) {
  BELLHOLE_TRY(states,
               open_at(network, conditions, place, opening, {opening.coefficient}, scenarios));
  return std::move(states.front());
}

}  // namespace bellhole::network
