#include "tests/support/judge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "gas/friction.hpp"
#include "tests/support/town.hpp"

namespace bellhole::support {

using network::Index;
using network::Network;
using network::none;
using network::Position;
using network::RegulatorMode;
using network::SteadyState;
using network::Ternary;

namespace {

std::size_t at(Index i) { return static_cast<std::size_t>(i); }

class Judge {
 public:
  Judge(const network::Model& model, const network::Scenario& scenario, const SteadyState& state,
        double pressure_pa)
      : n_(model.network()),
        conditions_(model.conditions()),
        scenario_(scenario),
        state_(state),
        apart_(pressure_pa),
        gas_(gas::flowing(conditions_.gas, conditions_.ground)),
        kg_per_std_m3_(
            gas::base_density(conditions_.gas, {n_.base_pressure, n_.base_temperature}).si()) {
    for (const StdFlow& flow : network::loads(n_, scenario)) whole_ += flow.si() * kg_per_std_m3_;
    whole_ = std::max(whole_, 1e-6);
  }

  std::vector<std::string> run() {
    balance_.assign(n_.nodes.size(), 0.0);
    for (std::size_t p = 0; p < n_.pipes.size(); ++p) main(static_cast<Index>(p));
    sources();
    regulators();
    customers();
    for (std::size_t i = 0; i < balance_.size(); ++i) {
      if (std::abs(balance_[i]) > 1e-6 * whole_)
        wrong("node {}: {} kg/s too much", n_.nodes.id[i], balance_[i]);
    }
    return std::move(wrong_);
  }

 private:
  template <class... Args>
  void wrong(fmt::format_string<Args...> text, Args&&... args) {
    wrong_.push_back(fmt::format(text, std::forward<Args>(args)...));
  }

  [[nodiscard]] double height(Index node) const { return n_.nodes.elevation[at(node)].si(); }
  [[nodiscard]] double barometer(double z) const {
    return gas::barometer_higher(n_.barometer, z, scenario_.air).si();
  }
  [[nodiscard]] double given(Index c) const {
    return state_.delivered[at(c)].si() * kg_per_std_m3_;
  }

  [[nodiscard]] bool level(Index pipe) const {
    return height(n_.pipes.from[at(pipe)]) == height(n_.pipes.to[at(pipe)]);
  }

  /// Stations at which a main is shut.
  [[nodiscard]] std::vector<double> shut(Index pipe) const {
    std::vector<double> stations;
    for (const auto& closure : scenario_.closures) {
      if (closure.pipe == pipe) stations.push_back(closure.station.si());
    }
    for (std::size_t v = 0; v < n_.valves.size(); ++v) {
      if (n_.valves.pipe[v] != pipe) continue;
      Position position = n_.valves.position[v];
      for (const auto& setting : scenario_.valves) {
        if (at(setting.valve) == v) position = setting.position;
      }
      if (position == Position::unknown) position = n_.valves.normal[v];
      if (position == Position::closed) stations.push_back(n_.valves.station[v].si());
    }
    std::ranges::sort(stations);
    return stations;
  }

  /// Gauge pressure at the end of a length of main that begins at `gauge`, with the flow along it.
  [[nodiscard]] double march(Index pipe, double begin, double end, double gauge,
                             double flow) const {
    const double length = n_.pipes.length[at(pipe)].si(), bore = n_.pipes.bore[at(pipe)].si();
    const double low = height(n_.pipes.from[at(pipe)]), high = height(n_.pipes.to[at(pipe)]);
    const double slope = (high - low) / length;
    const double area = std::numbers::pi / 4 * bore * bore, per_area = flow / area;
    const double re = std::abs(flow) * bore / (area * gas_.viscosity_pa_s);
    const double f = re > 0 ? gas::darcy(re, n_.pipes.roughness[at(pipe)].si() / bore).factor : 0.0;
    const auto falls = [&](double p) {
      const double density = gas_.density(p);
      return -f * per_area * std::abs(per_area) / (2 * bore * density) -
             density * gas::standard_gravity * slope;
    };
    double p = gauge + barometer(low + slope * begin);
    constexpr int steps = 256;
    const double dx = (end - begin) / steps;
    for (int i = 0; i < steps; ++i) {  // Runge-Kutta, fourth order
      const double a = falls(p), b = falls(p + 0.5 * dx * a), c = falls(p + 0.5 * dx * b),
                   d = falls(p + dx * c);
      p += dx / 6 * (a + 2 * b + 2 * c + d);
    }
    return p - barometer(low + slope * end);
  }

  void main(Index pipe) {
    std::vector<Index> along;
    for (std::size_t c = 0; c < n_.customers.size(); ++c) {
      if (n_.customers.pipe[c] == pipe) along.push_back(static_cast<Index>(c));
    }
    std::ranges::stable_sort(along, {}, [&](Index c) { return n_.customers.station[at(c)].si(); });
    const double length = n_.pipes.length[at(pipe)].si();
    const std::vector<double> shut_at = shut(pipe);
    const auto& flow = state_.pipes[at(pipe)];
    const Index from = n_.pipes.from[at(pipe)], to = n_.pipes.to[at(pipe)];
    balance_[at(from)] += flow.at_from.si();
    balance_[at(to)] -= flow.at_to.si();
    if (flow.parted == shut_at.empty())
      wrong("pipe {}: parted is not what it is", n_.pipes.id[at(pipe)]);
    // From `from` to the first shut place, and from the last one to `to`; in between nothing is
    // checked but that nobody gets gas.
    const double first = shut_at.empty() ? HUGE_VAL : shut_at.front();
    const double last = shut_at.empty() ? -HUGE_VAL : shut_at.back();
    stretch(pipe, along, flow.at_from.si(), first, length);
    if (!shut_at.empty()) back_stretch(pipe, along, flow.at_to.si(), last, length);
    for (Index c : along) {
      const double s = n_.customers.station[at(c)].si();
      const bool at_an_end = s <= 1e-3 || s >= length - 1e-3;
      if (!at_an_end && s > first && s <= last && given(c) > 0)
        wrong("customer {} between shut places gets gas", n_.customers.id[at(c)]);
    }
  }

  [[nodiscard]] double of_node(Index node) const { return state_.node_pressure[at(node)].si(); }

  /// `fall`: how far the pressure fell up to here along a main that climbs or dips; nan along a
  /// level one. The solver holds the ratio of true to reduced density along a climbing main to
  /// first order only.
  void same(const std::string& what, double seen, double wanted, double fall = unknown) {
    const double climbing =
        std::isnan(fall) ? 0.0 : 1e-4 * (std::abs(wanted) + 1e5) + 5e-4 * std::abs(fall);
    if (std::abs(seen - wanted) > apart_ + 2e-6 * std::abs(wanted) + climbing)
      wrong("{}: {} Pa, not {} Pa", what, seen, wanted);
  }

  void stretch(Index pipe, const std::vector<Index>& along, double flow, double until,
               double length) {
    const std::string& id = n_.pipes.id[at(pipe)];
    double pressure = of_node(n_.pipes.from[at(pipe)]), here = 0.0;
    const double begin = pressure;
    const auto fell = [&](double now) { return level(pipe) ? unknown : begin - now; };
    if (std::isnan(pressure)) return dead(id, flow, pipe, along, -HUGE_VAL, until);
    for (Index c : along) {
      const double s = n_.customers.station[at(c)].si();
      if (s > until) break;
      if (s >= length - 1e-3) {  // stands at the end node
        balance_[at(n_.pipes.to[at(pipe)])] += given(c);
        same("customer " + n_.customers.id[at(c)], state_.customer_pressure[at(c)].si(),
             of_node(n_.pipes.to[at(pipe)]));
        continue;
      }
      if (s <= 1e-3) {
        balance_[at(n_.pipes.from[at(pipe)])] += given(c);
        same("customer " + n_.customers.id[at(c)], state_.customer_pressure[at(c)].si(), pressure);
        continue;
      }
      pressure = march(pipe, here, s, pressure, flow);
      here = s;
      same("customer " + n_.customers.id[at(c)], state_.customer_pressure[at(c)].si(), pressure,
           fell(pressure));
      flow -= given(c);
    }
    const bool whole = until > length;
    const double wanted = whole ? state_.pipes[at(pipe)].at_to.si() : 0.0;
    if (std::abs(flow - wanted) > 1e-6 * whole_)
      wrong("pipe {}: {} kg/s is lost on the way", id, flow - wanted);
    if (!whole) return;
    pressure = march(pipe, here, length, pressure, flow);
    same("pipe " + id, of_node(n_.pipes.to[at(pipe)]), pressure, fell(pressure));
  }

  void back_stretch(Index pipe, const std::vector<Index>& along, double flow, double from,
                    double length) {
    const std::string& id = n_.pipes.id[at(pipe)];
    double pressure = of_node(n_.pipes.to[at(pipe)]), here = length;
    const double begin = pressure;
    const auto fell = [&](double now) { return level(pipe) ? unknown : begin - now; };
    if (std::isnan(pressure)) return dead(id, flow, pipe, along, from, HUGE_VAL);
    for (auto it = along.rbegin(); it != along.rend(); ++it) {
      const Index c = *it;
      const double s = n_.customers.station[at(c)].si();
      if (s >= length - 1e-3) {
        balance_[at(n_.pipes.to[at(pipe)])] += given(c);
        continue;
      }
      if (s <= from || s <= 1e-3) break;
      pressure = march(pipe, here, s, pressure, flow);
      here = s;
      same("customer " + n_.customers.id[at(c)], state_.customer_pressure[at(c)].si(), pressure,
           fell(pressure));
      flow += given(c);
    }
    if (std::abs(flow) > 1e-6 * whole_) wrong("pipe {}: {} kg/s out of a shut end", id, flow);
  }

  void dead(const std::string& id, double flow, Index pipe, const std::vector<Index>& along,
            double low, double high) {
    if (flow != 0.0) wrong("pipe {}: flow without gas", id);
    for (Index c : along) {
      const double s = n_.customers.station[at(c)].si();
      const bool here = n_.customers.pipe[at(c)] == pipe && s > low && s <= high;
      const double length = n_.pipes.length[at(pipe)].si();
      if (here && s > 1e-3 && s < length - 1e-3 && given(c) != 0.0)
        wrong("customer {} gets gas from nowhere", n_.customers.id[at(c)]);
    }
  }

  [[nodiscard]] bool listed(const std::vector<Index>& list, std::size_t i) const {
    return std::ranges::find(list, static_cast<Index>(i)) != list.end();
  }

  void sources() {
    for (std::size_t s = 0; s < n_.sources.size(); ++s) {
      const double flow = state_.sources[s].flow.si(), pressure = of_node(n_.sources.node[s]);
      const std::string what = "source " + n_.sources.id[s];
      balance_[at(n_.sources.node[s])] -= flow;
      if (flow < -1e-7 * whole_) wrong("{} swallows gas", what);
      if (listed(scenario_.sources_shut, s)) {
        if (flow != 0.0) wrong("{} is shut and gives gas", what);
        continue;
      }
      const double capacity = n_.sources.capacity[s].si() * kg_per_std_m3_;
      if (state_.sources[s].at_capacity) {
        if (flow < capacity * (1 - 1e-6) || flow > capacity * 1.011 + 1.1e-6 * whole_)
          wrong("{}: {} kg/s at a capacity of {}", what, flow, capacity);
        if (pressure > n_.sources.pressure[s].si() + apart_)
          wrong("{}: above its pressure at capacity", what);
      } else if (flow > 1e-7 * whole_) {
        same(what, pressure, n_.sources.pressure[s].si());
        if (flow > capacity * (1 + 1e-6)) wrong("{}: more than its capacity", what);
      } else if (pressure < n_.sources.pressure[s].si() - apart_) {
        wrong("{} idles at a pressure below its own", what);
      }
    }
  }

  void regulators() {
    for (std::size_t r = 0; r < n_.regulators.size(); ++r) {
      const auto& now = state_.regulators[r];
      const double flow = now.flow.si();
      balance_[at(n_.regulators.inlet[r])] += flow;
      balance_[at(n_.regulators.outlet[r])] -= flow;
      regulator(r, now, "regulator " + n_.regulators.id[r]);
    }
  }

  void regulator(std::size_t r, const network::RegulatorState& now, const std::string& what) {
    const double flow = now.flow.si(), set = n_.regulators.set_point[r].si();
    // Between two levels the gauge pressures of one gas differ; then only flows are looked at.
    const bool level =
        std::abs(height(n_.regulators.inlet[r]) - height(n_.regulators.outlet[r])) < 0.1;
    const double give = apart_ + state_.regulators_give * (set + n_.barometer.si()) * 1.01;
    if (flow < -1e-7 * whole_ && n_.regulators.blocks_reverse[r] == Ternary::yes)
      wrong("{} passes gas backwards", what);
    switch (now.mode) {
      case RegulatorMode::shut:
      case RegulatorMode::out:
      case RegulatorMode::closed:
        if (flow != 0.0) wrong("{} is closed and passes gas", what);
        // One that cannot open (nothing to pass, or only backwards) may feel less than its set
        // point.
        if (now.mode == RegulatorMode::closed && level && now.sensed.si() < set - give &&
            now.inlet.si() > now.outlet.si() + apart_) {
          wrong("{} stays closed at {} Pa", what, now.sensed.si());
        }
        break;
      case RegulatorMode::controls:
        if (flow < -1e-6 * whole_) wrong("{} controls backwards", what);
        if (std::abs(now.sensed.si() - set) > give)
          wrong("{} holds {} Pa, not {}", what, now.sensed.si(), set);
        if (level && flow > 1e-6 * whole_ && now.inlet.si() < now.outlet.si() - apart_)
          wrong("{} lifts gas uphill", what);
        break;
      case RegulatorMode::wide_open:
        if (now.sensed.si() > set + give && !now.sensing_parted)
          wrong("{} is wide open at {} Pa", what, now.sensed.si());
        if (level && now.inlet.si() < now.outlet.si() - apart_) wrong("{} lifts gas uphill", what);
        break;
      case RegulatorMode::reverse:
        if (level && now.inlet.si() > now.outlet.si() + apart_)
          wrong("{} lifts gas uphill, backwards", what);
        break;
    }
  }

  void customers() {
    for (std::size_t c = 0; c < n_.customers.size(); ++c) {
      const double pressure = state_.customer_pressure[c].si();
      const double wanted = state_.wanted[c].si(), got = state_.delivered[c].si();
      const bool out = listed(state_.customers_out, c), short_ = listed(state_.customers_short, c);
      const std::string what = "customer " + n_.customers.id[c];
      if (out != std::isnan(pressure)) wrong("{}: out is not what it is", what);
      if (out && got != 0.0) wrong("{}: out and gets gas", what);
      if (got < 0 || got > wanted * (1 + 1e-12)) wrong("{}: gets {} of {}", what, got, wanted);
      double least = network::least_of_customer(n_, static_cast<Index>(c)).si();
      if (!(least > 0)) least = conditions_.falls_off_without_limit.si();
      if (!out && !short_ && pressure < least - 1.0 - 1e-9) {
        const bool draws = scenario_.without_load.empty() || scenario_.without_load[c] == 0;
        if (draws) wrong("{} is under its least pressure and not said to be short", what);
      }
      if (!out && pressure >= least && got < wanted * (1 - 1e-9))
        wrong("{} has its pressure and gets less", what);
      if (short_ && state_.outcome == network::Outcome::solved)
        wrong("{}: short in a solved state", what);
    }
  }

  const Network& n_;
  const network::Conditions& conditions_;
  const network::Scenario& scenario_;
  const SteadyState& state_;
  double apart_;
  gas::Flowing gas_;
  double kg_per_std_m3_, whole_ = 0.0;
  std::vector<double> balance_;
  std::vector<std::string> wrong_;
};

}  // namespace

std::vector<std::string> judge(const network::Model& model, const network::Scenario& scenario,
                               const SteadyState& state, double pressure_pa) {
  return Judge(model, scenario, state, pressure_pa).run();
}

}  // namespace bellhole::support
