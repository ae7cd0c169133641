#include "plan/repressurise.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "gas/flattened.hpp"
#include "gas/halving.hpp"
#include "network/added.hpp"
#include "network/bore.hpp"
#include "plan/repressurise_course.hpp"
#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// Two gauges read alike within this share of the live one. No dial reads so fine: what is left is
/// let through at once when the end is opened, and must be less than a surge.
constexpr double alike_share = 0.002;
constexpr Duration least_looked = Duration::from_si(7200.0);  ///< for gauges to read alike
constexpr double fill_looked = 8.0;  ///< and times what the gas alone would take to fill the part
constexpr Duration settles = Duration::from_si(300.0);  ///< looked at after the last movement
constexpr int most_tries = 5;                           ///< halvings of what goes in

class Refiller {
 public:
  /// `q` is `asked` on a copy of the network with a node at each work, at the high load.
  Refiller(const RefillQuestion& asked, const RefillQuestion& q, Watch& watch)
      : asked_(asked),
        q_(q),
        network_(q.model.network()),
        watch_(watch),
        shut_(shut_scenario(network_, q.part, q.conditions)),
        regions_(network_, shut_) {
    for (const PartEnd& end : q.part.ends) {
      out_.points.push_back(end.letter + ", side with gas");
      out_.points.push_back(end.letter + ", side of the part");
    }
    opening_.order = q.part.opening;
    if (opening_.order.empty()) {
      opening_.order.resize(q.part.ends.size());
      std::iota(opening_.order.begin(), opening_.order.end(), std::size_t{0});
    }
  }

  Result<Refill> answer() {
    find_limit();
    BELLHOLE_TRY(before, q_.model.solve(shut_));
    before_ = std::move(before);
    watched_ = gauges_of(network_, q_.part, {shut_, regions_, before_});
    meets_ = meetings(network_, q_.part, {shut_, regions_, before_}, opening_.order);
    for (int tries = 0; tries < most_tries; ++tries) {
      set_throttles();
      BELLHOLE_TRY(run, follow_all());
      run_ = std::move(run);
      find_short();
      find_rise();
      const bool too_fast = out_.rise_most && out_.rise > *out_.rise_most;
      const bool throttled =
          std::ranges::any_of(planned_, [](const auto& t) { return t.has_value(); });
      if ((out_.short_of_gas.empty() && !too_fast) || !throttled) break;
      if (tries + 1 < most_tries) share_ *= less(too_fast);
    }
    write_steps();
    list_valves();
    say_refill({asked_, q_, run_, opening_.order, meets_, not_alike_}, out_);
    return std::move(out_);
  }

 private:
  /// How much less to try: by the rise where that is what was too much, at least half as much less.
  [[nodiscard]] double less(bool too_fast) const {
    constexpr double half = 0.5, spare = 0.9, least = 0.1;
    if (!too_fast || !out_.short_of_gas.empty()) return half;
    return std::clamp(spare * out_.rise_most->si() / out_.rise.si(), least, half);
  }

  // The limit, and what it lets in.

  template <class Kind>
  std::optional<Quantity<Kind>> used(std::string_view rule) {
    const auto ruling = q_.profile.ruling(rule, {});
    const auto value = ruling.template as<Kind>();
    append(out_.findings,
           value ? procedure::caveats(ruling, "excess-flow valves", q_.system)
                 : Findings{procedure::not_set(
                       ruling,
                       {std::string(ruling.rule->asks), std::nullopt, "excess-flow valves", "", ""},
                       q_.system)});
    return value;
  }

  void find_limit() {
    const auto trip = used<kinds::StdFlow>("repressurise.valve_trip");
    const auto length = used<kinds::Length>("repressurise.service_length");
    const auto bore = used<kinds::Length>("repressurise.service_bore");
    if (!trip || !length || !bore) return;
    const double service = std::numbers::pi / 4.0 * bore->si() * bore->si() * length->si();
    if (!(service > 0.0)) return;
    out_.rise_most =
        PressureRate::from_si(trip->si() * network_.base_pressure.si() * warm() / service);
  }

  /// Of the gas as it stands in the mains against the base's.
  [[nodiscard]] double warm() const {
    return q_.model.conditions().ground.si() / network_.base_temperature.si();
  }

  void set_throttles() {
    planned_.assign(opening_.order.size(), std::nullopt);
    for (std::size_t i = 0; i < planned_.size(); ++i)
      if (out_.rise_most && meets_[i].fills) planned_[i] = throttle_of(i);
  }

  /// The slot that passes what the excess-flow valves stand from the live side into empty mains,
  /// with its least loss. None where gas is let in by other means than a place on a main.
  [[nodiscard]] std::optional<Throttle> throttle_of(std::size_t i) const {
    const PartEnd& end = q_.part.ends[opening_.order[i]];
    const double volume = meets_[i].volume;
    if (end.pipe == network::none || !(volume > 0.0)) return std::nullopt;
    const Length bore =
        network::bores_of(network_.pipes, network_.nodes.size())[at(end.pipe)].value;
    const auto gas = gas::flowing(q_.model.conditions().gas, q_.model.conditions().ground);
    const StdFlow flow = StdFlow::from_si(share_ * out_.rise_most->si() * volume /
                                          (network_.base_pressure.si() * warm()));
    const double wanted =
        flow.si() * gas::base_density(q_.model.conditions().gas,
                                      {network_.base_pressure, network_.base_temperature})
                        .si();
    const AbsolutePressure live = absolute(feeding(i), network_.barometer);
    const auto spare = [&](double clear) {
      const double k = gas::squeeze_loss(gas::open_share(clear)).least;
      if (!(k > 0.0)) return -1.0;
      return wanted - gas::passes(gas, bore, k, live, network_.barometer).si();
    };
    const std::optional<double> share = gas::falls_through(0.0, 1.0, spare);
    if (!share) return std::nullopt;
    return Throttle{*share, flow, Duration()};
  }

  /// What feeds an end that fills: where its own live side had no gas before, the highest of all
  /// ends stands for it (the unsafe side).
  [[nodiscard]] GaugePressure feeding(std::size_t i) const {
    const auto live = [&](std::size_t end) {
      const auto& gauge = watched_[2 * end];
      const PartEnd& place = q_.part.ends[end];
      return place.pipe == network::none ? before_.node_pressure[at(gauge.node)]
                                         : pressure_at(network_, regions_, before_, place.pipe,
                                                       place.station, gauge.toward);
    };
    const GaugePressure own = live(opening_.order[i]);
    if (!std::isnan(own.si())) return own;
    GaugePressure most;
    for (std::size_t end = 0; end < q_.part.ends.size(); ++end)
      if (!std::isnan(live(end).si())) most = std::max(most, live(end));
    return most;
  }

  /// How long gauges are waited for: a filling end's by what the gas alone would take.
  [[nodiscard]] Duration looks(std::size_t i) const {
    if (!planned_[i]) return least_looked;
    const double fill_s =
        meets_[i].volume * feeding(i).si() / network_.base_pressure.si() / planned_[i]->flow.si();
    return std::max(least_looked, Duration::from_si(fill_looked * fill_s));
  }

  // Through time.

  Result<network::Transient> follow(Duration lasts) {
    opening_.lasts = lasts;
    return q_.model.follow(course_of(q_, shut_, watched_, opening_), watch_);
  }

  /// How much the gauge on the side with gas reads more than that on the part's.
  static double apart(const network::Transient& run, std::size_t end, std::size_t sample) {
    return run.pressures[2 * end][sample].si() - run.pressures[2 * end + 1][sample].si();
  }

  /// First moment from `from` on at which both gauges of an end read alike.
  [[nodiscard]] std::optional<Duration> alike(const network::Transient& run, std::size_t end,
                                              Duration from) const {
    for (std::size_t i = 0; i < run.sampled.size(); ++i)
      if (run.sampled[i] >= from && std::abs(apart(run, end, i)) <= hair(run, end, i))
        return run.sampled[i];
    return std::nullopt;
  }

  /// First moment from `from` on after which they stay as far apart as they are, for `settles`.
  [[nodiscard]] std::optional<Duration> still(const network::Transient& run, std::size_t end,
                                              Duration from) const {
    std::optional<std::size_t> since;
    for (std::size_t i = 0; i < run.sampled.size(); ++i) {
      if (run.sampled[i] < from) continue;
      const bool moved =
          since && std::abs(apart(run, end, i) - apart(run, end, *since)) > hair(run, end, i);
      if (!since || moved) since = i;
      if (run.sampled[i] - run.sampled[*since] >= settles) return run.sampled[i];
    }
    return std::nullopt;
  }

  static double hair(const network::Transient& run, std::size_t end, std::size_t sample) {
    return alike_share * std::abs(run.pressures[2 * end][sample].si());
  }

  [[nodiscard]] Duration travel_of(std::size_t end) const {
    const auto travel = opens(q_, q_.part.ends[end]).travel;
    return travel.empty() ? Duration() : travel.back().at;
  }

  /// When an end may begin: its gauges read alike, or, unless it still fills the part, stand still
  /// apart; at last in any case.
  Result<Duration> ready_to_open(std::size_t i, Duration from) {
    const std::size_t end = opening_.order[i];
    const bool fills = meets_[i].fills;
    const Duration most = looks(i);
    for (const Duration look : {settles * 3.0, most}) {
      BELLHOLE_TRY(so_far, follow(from + look));
      const auto found = alike(so_far, end, from);
      const auto halted = fills ? std::nullopt : still(so_far, end, from);
      if (found && (!halted || *found <= *halted)) return *found;
      if (!halted && look < most) continue;
      not_alike_.push_back(
          {end, PressureDifference::from_si(apart(so_far, end, so_far.sampled.size() - 1))});
      return halted.value_or(from + look);
    }
    return from;
  }

  /// End by end, each when it is ready: one that fills mains when they are full, one with gas on
  /// both sides when its gauges say so.
  Result<network::Transient> follow_all() {
    opening_.begins.clear();
    opening_.throttle.clear();
    not_alike_.clear();
    Duration ready;
    for (std::size_t i = 0; i < opening_.order.size(); ++i) {
      opening_.throttle.push_back(planned_[i]);
      if (planned_[i]) opening_.throttle.back()->from = ready;
      if (planned_[i] || meets_[i].gas) {
        BELLHOLE_TRY(begins, ready_to_open(i, ready));
        ready = begins;
      }
      opening_.begins.push_back(ready);
      ready = ready + travel_of(opening_.order[i]) + settles;
    }
    return follow(ready);
  }

  /// Customers who stay on and fall short in the course but not before it.
  void find_short() {
    out_.short_of_gas.clear();
    for (std::size_t c = 0; c < network_.customers.size(); ++c) {
      const auto index = static_cast<Index>(c);
      if (!run_.customers[c].first_short || shut_.without_load[c] != 0) continue;
      const bool already = std::ranges::binary_search(before_.customers_short, index) ||
                           std::ranges::binary_search(before_.customers_out, index);
      if (!already) out_.short_of_gas.push_back(index);
    }
  }

  /// The fastest rise on the part: beside the throttle it is faster than all along.
  void find_rise() {
    out_.rise = PressureRate();
    for (std::size_t e = 0; e < q_.part.ends.size(); ++e) {
      const auto& part = run_.pressures[2 * e + 1];
      for (std::size_t i = 1; i < part.size(); ++i) {
        const Duration between = run_.sampled[i] - run_.sampled[i - 1];
        if (between.si() > 0.0) out_.rise = std::max(out_.rise, (part[i] - part[i - 1]) / between);
      }
    }
  }

  // What it comes to.

  [[nodiscard]] RefillStep step_of(std::size_t end, bool fills, Duration begins, Duration done) {
    RefillStep step{.end = end, .fills = fills, .begins = begins, .done = done};
    for (const auto& pressures : run_.pressures) {
      RefillReading reading{pressures.front(), GaugePressure::from_si(HUGE_VAL),
                            GaugePressure::from_si(-HUGE_VAL)};
      for (std::size_t i = 0; i < run_.sampled.size(); ++i) {
        if (run_.sampled[i] <= done) reading.ends = pressures[i];
        if (run_.sampled[i] < begins || run_.sampled[i] > done) continue;
        reading.lowest = std::min(reading.lowest, pressures[i]);
        reading.highest = std::max(reading.highest, pressures[i]);
      }
      step.readings.push_back(reading);
    }
    return step;
  }

  void write_steps() {
    for (std::size_t i = 0; i < opening_.order.size(); ++i) {
      if (opening_.throttle[i]) {
        out_.steps.push_back(
            step_of(opening_.order[i], true, opening_.throttle[i]->from, opening_.begins[i]));
        out_.steps.back().flow_most = opening_.throttle[i]->flow;
        out_.steps.back().throttle = opening_.throttle[i]->share;
      }
      const bool last = i + 1 == opening_.begins.size();
      const Duration done = last                       ? run_.ended
                            : opening_.throttle[i + 1] ? opening_.throttle[i + 1]->from
                                                       : opening_.begins[i + 1];
      out_.steps.push_back(step_of(opening_.order[i], false, opening_.begins[i], done));
    }
  }

  void list_valves() {
    const std::vector<char> gas = regions_with_gas({shut_, regions_, before_});
    for (std::size_t c = 0; c < network_.customers.size(); ++c) {
      const auto index = static_cast<Index>(c);
      if (gas[static_cast<std::size_t>(regions_.of_customer(index))] != 0) continue;
      if (network_.customers.excess_flow_valve[c] == network::Ternary::yes)
        out_.valves.push_back(index);
      if (network_.customers.excess_flow_valve[c] == network::Ternary::unknown)
        out_.not_known.push_back(index);
    }
  }

  const RefillQuestion& asked_;
  const RefillQuestion& q_;
  const Network& network_;
  Watch& watch_;
  network::Scenario shut_;  ///< all ends, at the high load
  Regions regions_;         ///< of it
  std::vector<network::Watched> watched_;
  Openings opening_;
  std::vector<Meets> meets_;                      ///< in the order of opening
  std::vector<std::optional<Throttle>> planned_;  ///< the same
  network::SteadyState before_;
  network::Transient run_;
  std::vector<StillApart> not_alike_;
  double share_ = 1.0;  ///< of what the excess-flow valves stand, that is let in
  Refill out_;
};

/// The part with its ends where they stand once a node is at the work. `with` was given the part's
/// closures, in the order of its ends, and nothing else.
Part moved(const Part& part, const network::WithAdded& with) {
  Part moved = part;
  std::size_t closure = 0;
  for (PartEnd& end : moved.ends) {
    if (end.kind == ShutKind::valve) {
      end.pipe = with.network().valves.pipe[at(end.element)];
      end.station = with.network().valves.station[at(end.element)];
    } else if (end.pipe != network::none) {
      end.pipe = with.shut().closures[closure].pipe;
      end.station = with.shut().closures[closure++].station;
    }
  }
  return moved;
}

}  // namespace

Result<Refill> repressurise(const RefillQuestion& question, Watch& watch) {
  // Gas is held at nodes and customers: a part between two shut-offs of one main has neither.
  network::Scenario ends;
  for (const PartEnd& end : question.part.ends)
    if (end.pipe != network::none && end.kind != ShutKind::valve)
      ends.closures.push_back({end.pipe, end.station});
  network::WithAdded with(question.model.network(), ends);
  for (const Piece& work : question.part.work) {
    BELLHOLE_TRY(node, with.node_at(work.pipe, (work.begin + work.end) * 0.5, "work"));
    static_cast<void>(node);
  }
  BELLHOLE_TRY(model, network::Model::prepare(with.network(), question.model.conditions()));
  const Part part = moved(question.part, with);
  network::Scenario high = question.conditions;
  high.load = network::LoadCase::high;
  return Refiller(question,
                  {.model = model,
                   .profile = question.profile,
                   .conditions = std::move(high),
                   .part = part,
                   .system = question.system},
                  watch)
      .answer();
}

}  // namespace bellhole::plan
