#include "network/transient.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "network/fold.hpp"
#include "network/stand_in.hpp"
#include "network/transient_record.hpp"

namespace bellhole::network {
namespace {

/// s, after anything jumps. Without inertia nothing shorter means anything: in this time sound
/// comes 4 m far.
constexpr double settling_step = 0.01;
constexpr double sliver = 1e-5;         // s: no step for so little
constexpr double shortest_step = 1e-7;  // s: less is a fault
constexpr int most_refused = 3000;      // then stations hunt, and are let give more
constexpr std::array gives{1e-5, 1e-3,
                           3e-2};  // shares of a set point's potential, one after the other

Result<bool> ascending(const std::vector<Travel>& travel, const std::string& where) {
  double before = -HUGE_VAL;
  for (const Travel& point : travel) {
    const bool possible = point.clear >= 0.0 && point.clear <= 1.0 && point.at.si() > before;
    if (!possible) {
      return trouble(Code::out_of_range, where,
                     fmt::format("clear share {} at {} s", point.clear, point.at.si()),
                     "give ascending times and clear shares from 0 (shut) to 1 (round)");
    }
    before = point.at.si();
  }
  return true;
}

Result<bool> known(Index index, std::size_t size, const char* what) {
  if (index >= 0 && at(index) < size) return true;
  return trouble(Code::unknown_element, what, fmt::format("{}", index),
                 fmt::format("this network has {}", size));
}

Result<bool> movers_usable(const Network& network, const Course& course) {
  for (const Mover& mover : course.movers) {
    BELLHOLE_TRY(there, mover.valve != none
                            ? known(mover.valve, network.valves.size(), "valve that moves")
                            : known(mover.place.pipe, network.pipes.size(), "shut-off, pipe"));
    (void)there;
    const std::string where = mover.valve != none
                                  ? "valve " + network.valves.id[at(mover.valve)]
                                  : "shut-off on pipe " + network.pipes.id[at(mover.place.pipe)];
    BELLHOLE_TRY(good, ascending(mover.travel, where));
    (void)good;
    if (mover.valve != none) continue;
    const double length = network.pipes.length[at(mover.place.pipe)].si();
    const double station = mover.place.station.si();
    if (!(station >= 0.0 && station <= length + Points::same_place_m)) {
      return trouble(Code::out_of_range, where, fmt::format("station {} m", station),
                     fmt::format("the pipe is {:.3f} m long", length));
    }
  }
  return true;
}

Result<bool> switches_usable(const Network& network, const Course& course) {
  for (const Switch& change : course.switches) {
    const std::size_t size = change.kind == SwitchKind::meter    ? network.customers.size()
                             : change.kind == SwitchKind::source ? network.sources.size()
                                                                 : network.regulators.size();
    BELLHOLE_TRY(there, known(change.element, size, "what is shut or opened by hand"));
    (void)there;
  }
  for (const Watched& watched : course.watched) {
    BELLHOLE_TRY(there, watched.node != none
                            ? known(watched.node, network.nodes.size(), "watched node")
                        : watched.customer != none
                            ? known(watched.customer, network.customers.size(), "watched customer")
                            : known(watched.pipe, network.pipes.size(), "watched pipe"));
    (void)there;
  }
  return true;
}

Result<bool> leaks_usable(const Network& network, const Course& course) {
  for (const Leak& leak : course.leaks) {
    BELLHOLE_TRY(there, known(leak.place.pipe, network.pipes.size(), "opening, pipe"));
    (void)there;
    const std::string where = "opening in pipe " + network.pipes.id[at(leak.place.pipe)];
    const double length = network.pipes.length[at(leak.place.pipe)].si();
    const double station = leak.place.station.si(), end = leak.opening.area ? 0.0 : beside_m;
    if (!(station >= end && station <= length - end)) {
      return trouble(Code::out_of_range, where, fmt::format("station {:g} m", station),
                     fmt::format("name a place along it, {:g} to {:g} m", end, length - end));
    }
    const Opening& opening = leak.opening;
    const bool passes = !opening.area || (opening.area->si() > 0.0 && opening.coefficient > 0.0 &&
                                          opening.coefficient <= 1.0);
    if (!passes || !(opening.k > 1.0) || !(leak.from.si() >= 0.0 && leak.until > leak.from)) {
      return trouble(Code::out_of_range, where,
                     fmt::format("area {} m2, coefficient {}, k {}, from {} to {} s",
                                 opening.area ? opening.area->si() : 0.0, opening.coefficient,
                                 opening.k, leak.from.si(), leak.until.si()),
                     "give an area above nought, a coefficient over 0 up to 1, k above 1, and a "
                     "time that ends after it begins");
    }
  }
  return true;
}

Result<bool> usable(const Network& network, const Course& course) {
  BELLHOLE_TRY(movers, movers_usable(network, course));
  BELLHOLE_TRY(switches, switches_usable(network, course));
  BELLHOLE_TRY(leaks, leaks_usable(network, course));
  (void)movers, (void)switches, (void)leaks;
  if (!(course.lasts.si() > 0.0 && std::isfinite(course.lasts.si()))) {
    return trouble(Code::out_of_range, "how long", fmt::format("{} s", course.lasts.si()),
                   "give a time above nought");
  }
  if (!(course.tolerance > 0.0 && course.draw_factor >= 0.0)) {
    return trouble(Code::out_of_range, "tolerance or draw factor",
                   fmt::format("{}, {}", course.tolerance, course.draw_factor),
                   "give a tolerance above nought and a factor from nought");
  }
  return true;
}

/// Parts that were out hold air at no pressure.
Beginning beginning(const Model::Prepared& prepared, const Parts& parts, const Order& order,
                    const Settled& settled) {
  Beginning begins{std::vector<double>(order.row.size()), {}};
  for (std::size_t i = 0; i < order.row.size(); ++i) {
    const double potential = settled.potential[i];
    const double reduced = std::isnan(potential)
                               ? parts.laid.altitude.reduced(0.0, prepared.points.height[i])
                               : potential;
    begins.pressure[at(order.row[i])] = prepared.gas.pressure(reduced);
  }
  for (const Index segment : order.segment) begins.flow.push_back(settled.flow[at(segment)]);
  return begins;
}

class Run {
 public:
  Run(const Model::Prepared& prepared, const Course& course, const Order& order,
      std::span<const Index> leaks_at, const Settled& settled, double give)
      : course_(course),
        parts_(prepared, course, order, leaks_at, give),
        lumps_(prepared, parts_.shut_places, order.row),
        rates_(prepared, parts_, lumps_, order),
        stepper_(lumps_, parts_, rates_, beginning(prepared, parts_, order, settled),
                 course.tolerance, prepared.gas.pressure(parts_.laid.altitude.reduced(0.0, 0.0))),
        record_(prepared, course, parts_, order) {}

  Result<Transient> go(Watch& watch) {
    record_.made.account.begun = Mass::from_si(stepper_.held());
    double seconds = 0.0;
    for (const double moment : parts_.moments()) {
      parts_.set_moment(seconds);
      stepper_.restart(seconds);
      record_.moment(stepper_, seconds);
      if (seconds == 0.0) record_.begin(stepper_, rates_);
      BELLHOLE_TRY(settled, settle(moment, seconds, settling_step));
      seconds = settled;
      BELLHOLE_TRY(done, go_to(moment, seconds, watch));
      (void)done;
      seconds = moment;
    }
    return finish(seconds);
  }

 private:
  /// How far the next step goes: to the end where that is near, and no sliver left over; not past
  /// the first bend.
  [[nodiscard]] double cut(double h, double left) const {
    if (course_.fixed_step) return std::min(course_.fixed_step->si(), left);
    constexpr double worth_it = 0.01;
    const double bend = stepper_.first_bend();
    if (bend > worth_it * h) h = std::min(h, bend);
    return h >= left ? left : h > 0.5 * left ? 0.5 * left : h;
  }

  static std::unexpected<Trouble> not_solved(double seconds) {
    return trouble(
        Code::bug, "course through time", fmt::format("not solved at {} s", seconds),
        "this is a fault of Bellhole: please report it with the network and the question");
  }

  void take(double seconds, double h) {
    record_.step(stepper_, rates_, seconds, h);
    fed_ += stepper_.passed().fed;
    delivered_ += stepper_.passed().delivered;
    escaped_ += stepper_.passed().escaped;
    stepper_.accept();
    ++record_.made.steps;
  }

  /// The first step after a restart, and where stations hunt: how far it came.
  Result<double> settle(double end, double seconds, double wanted) {
    for (double h = std::min(wanted, 0.5 * (end - seconds)); h > shortest_step; h *= 0.1) {
      if (!stepper_.settle(seconds, h)) continue;
      take(seconds, h);
      return seconds + h;
    }
    return not_solved(seconds);
  }

  Result<bool> go_to(double end, double seconds, Watch& watch) {
    double h = 2.0 * settling_step;
    while (end - seconds > sliver) {
      h = cut(h, end - seconds);
      if (!watch.tick(seconds / course_.lasts.si())) {
        return trouble(Code::cancelled, "course through time", "cancelled", "ask again");
      }
      const std::optional<double> error = stepper_.attempt(seconds, h, !course_.fixed_step);
      const bool taken = error && (*error <= 1.0 || course_.fixed_step);
      if (!taken) {
        ++record_.made.refused_steps;
        if (++tries_ > most_refused) return not_solved(seconds);
        h *= error ? std::clamp(0.8 / std::sqrt(*error), 0.1, 0.8) : 0.25;
        if (h >= settling_step) continue;
        BELLHOLE_TRY(further, settle(end, seconds, settling_step));
        seconds = further;
        h = 2.0 * settling_step;
        continue;
      }
      take(seconds, h);
      seconds += h;
      h *= numerics::esdirk::stretch(*error);
    }
    return true;
  }

  Transient finish(double seconds) {
    record_.end(stepper_, rates_);
    Transient made = std::move(record_.made);
    made.ended = Duration::from_si(seconds);
    made.factors = stepper_.counts().factors;
    made.solves = stepper_.counts().solves;
    GasAccount& account = made.account;
    account.ended = Mass::from_si(stepper_.held());
    account.fed = Mass::from_si(fed_);
    account.delivered = Mass::from_si(delivered_);
    account.escaped = Mass::from_si(escaped_);
    const double all = account.begun.si() + fed_;
    account.imbalance = std::abs(all - account.ended.si() - delivered_ - escaped_) / all;
    return made;
  }

  const Course& course_;
  Parts parts_;
  Lumps lumps_;
  Rates rates_;
  Stepper stepper_;
  Record record_;
  double fed_ = 0.0, delivered_ = 0.0, escaped_ = 0.0;
  int tries_ = 0;
};

/// The state before anything moves: a mover that stands shut when time begins parts the main from
/// the beginning.
Result<SteadyState> settled_before(const Model& model, const Course& course) {
  Scenario before = course.begins;
  for (const Mover& mover : course.movers) {
    if (mover.travel.empty()) continue;
    const bool shut = mover.travel.front().clear == 0.0;
    if (mover.valve != none) {
      before.valves.push_back({mover.valve, shut ? Position::closed : Position::open});
    } else if (shut) {
      before.closures.push_back(mover.place);
    }
  }
  return model.solve(before);
}

Result<Transient> run(const Model& model, const Model::Prepared& prepared,
                      std::span<const Index> leaks_at, const Course& course, Watch& watch,
                      const SteadyState* settled) {
  std::optional<SteadyState> solved;
  if (settled == nullptr) {
    BELLHOLE_TRY(state, settled_before(model, course));
    solved = std::move(state);
    settled = &*solved;
  }
  const Order order(prepared);
  for (const double give : gives) {
    auto made = Run(prepared, course, order, leaks_at, *settled->settled, give).go(watch);
    const bool again = !made && made.error().code == Code::bug && give != gives.back();
    if (again) continue;
    if (made) made->regulators_give = 0.5 * give;
    return made;
  }
  return trouble(Code::bug, "course through time", "no run", "this is a fault of Bellhole");
}

}  // namespace

Result<Transient> Model::follow(const Course& course, Watch& watch,
                                const SteadyState* settled) const {
  BELLHOLE_TRY(good, usable(*prepared_->network, course));
  (void)good;
  if (course.leaks.empty()) return run(*this, *prepared_, {}, course, watch, settled);
  const Leaking leaking(*prepared_->network, course);
  BELLHOLE_TRY(model, prepare(leaking.network, prepared_->conditions));
  BELLHOLE_TRY(made, run(model, *model.prepared_, leaking.at, leaking.course, watch, nullptr));
  made.customers.resize(prepared_->network->customers.size());
  return made;
}

}  // namespace bellhole::network
