#include "plan/posts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "plan/main_facts.hpp"
#include "plan/regions.hpp"
#include "plan/shutoffs.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

double away_from_work(const Question& question, const Shutoff& shutoff) {
  return std::hypot(shutoff.point.x - question.work.centre.x,
                    shutoff.point.y - question.work.centre.y);
}

/// What the rule ranks by, the first closed having the least; nan: cannot be told.
double rank_of(const Question& question, const ShutoffPlan& plan, First rule, std::size_t i) {
  switch (rule) {
    case First::quickest:
      return plan.shutoffs[i].place.time_s;
    case First::farthest:
      return -away_from_work(question, plan.shutoffs[i]);
    default:
      return static_cast<double>(i);
  }
}

std::string because(const Question& question, const Shutoff& first, First rule) {
  switch (rule) {
    case First::quickest:
      return fmt::format(
          "{} first: it is shut soonest, {} from the order", first.letter,
          units::print(Duration::from_si(first.place.time_s), question.system, units::Toward::up));
    case First::farthest:
      return fmt::format("{} first: it is furthest from the work, {}", first.letter,
                         units::print(Length::from_si(away_from_work(question, first)),
                                      question.system, units::Toward::down));
    default:
      return fmt::format("{} first: the order says as lettered", first.letter);
  }
}

std::string station_name(const Network& network, Index regulator) {
  const std::string& name = network.regulators.station_name[at(regulator)];
  const std::string& id = network.regulators.id[at(regulator)];
  return name.empty() || name == id ? fmt::format("regulator {}", id)
                                    : fmt::format("regulator {} ({})", id, name);
}

bool is_shutoff(const ShutoffPlan& plan, Index regulator) {
  return std::ranges::any_of(plan.shutoffs, [&](const Shutoff& s) {
    return s.place.kind == ShutKind::regulator_outlet && s.place.element == regulator;
  });
}

bool stands_at_shut_main(const Network& network, const ShutoffPlan& plan, Index node) {
  return std::ranges::any_of(plan.shutoffs, [&](const Shutoff& s) {
    return s.place.pipe != network::none && (network.pipes.from[at(s.place.pipe)] == node ||
                                             network.pipes.to[at(s.place.pipe)] == node);
  });
}

/// Why somebody must stand at a station: what the map says of it, in the order of weight.
std::string why_stand(const Network& network, const ShutoffPlan& plan, Index regulator) {
  const auto& regulators = network.regulators;
  std::string why;
  for (const Equipment& item : plan.isolated.equipment) {
    if (item.id == regulators.id[at(regulator)] &&
        (item.kind == EquipmentKind::sensing_tap || item.kind == EquipmentKind::regulator_inlet ||
         item.kind == EquipmentKind::regulator_outlet))
      why += (why.empty() ? "" : "; ") + item.says;
  }
  if (regulators.sensing[at(regulator)] == network::Sensing::unknown)
    why += std::string(why.empty() ? "" : "; ") + "where it feels its pressure is not known";
  if (regulators.needs_reset[at(regulator)] == network::Ternary::yes)
    why += std::string(why.empty() ? "" : "; ") + "it has a device that a hand must reset";
  if (!why.empty()) return why;
  return stands_at_shut_main(network, plan, regulators.inlet[at(regulator)]) ||
                 stands_at_shut_main(network, plan, regulators.outlet[at(regulator)])
             ? "it stands at the end of a main that is shut"
             : "a closing changes what it gives or where it stands";
}

class Preparer {
 public:
  Preparer(const Question& question, const network::SteadyState& before, const ShutoffPlan& plan)
      : question_(question), network_(question.model.network()), before_(before), plan_(plan) {}

  Result<StepList> prepare(const ClosingOrder& closing, Opened opened,
                           const std::vector<Index>& upset) {
    list_.closing = closing.order;
    list_.closing_because = closing.because;
    BELLHOLE_TRY(shut, state_with_all_shut());
    const Regions regions(network_, everything_shut());
    list_.opening = list_.closing;
    if (opened == Opened::reversed) std::ranges::reverse(list_.opening);
    const auto behind = [&](std::size_t i) { return pressure_behind(i, shut, regions); };
    if (opened == Opened::strongest_first && !list_.opening.empty()) {
      const auto most = std::ranges::max_element(list_.opening, {}, behind);
      std::rotate(list_.opening.begin(), most, std::next(most));
    }
    std::ranges::stable_partition(list_.opening,
                                  [&](std::size_t i) { return std::isfinite(behind(i)); });
    stages();
    for (const std::size_t i : list_.closing) shutoff(i);
    std::vector<Index> stations = stations_near(network_, plan_);
    for (const Index more : upset) {
      if (!is_shutoff(plan_, more)) stations.push_back(more);
    }
    std::ranges::sort(stations);
    const auto twice = std::ranges::unique(stations);
    stations.erase(twice.begin(), twice.end());
    for (const Index regulator : stations) station(regulator);
    low_points(stations, shut);
    return std::move(list_);
  }

 private:
  void stages() {
    std::vector<std::size_t> shut;
    list_.stages.push_back({});
    for (const std::size_t i : list_.closing) {
      shut.push_back(i);
      list_.stages.push_back({shut, i, false});
    }
    for (const std::size_t i : list_.opening) {
      std::erase(shut, i);
      list_.stages.push_back({shut, i, true});
    }
  }

  std::string new_post(PostKind kind, std::string role, std::string place, std::string element,
                       std::string why) {
    std::string id = fmt::format("P{}", list_.posts.size() + 1);
    list_.posts.push_back(
        {id, kind, std::move(role), std::move(place), std::move(element), std::move(why)});
    return id;
  }

  void shutoff(std::size_t i) {
    const Shutoff& shut = plan_.shutoffs[i];
    const Place& place = shut.place;
    const std::string where = where_of(question_, place);
    const std::string post =
        new_post(PostKind::shutoff, "gauge reader", fmt::format("{}, {}", shut.letter, where),
                 shut.letter, "both gauges of this shut-off are read here");
    GaugePoint live;
    live.id = fmt::format("{}-live", shut.letter);
    live.at = fmt::format("{}, gas side", shut.letter);
    live.shutoff = i;
    live.post = post;
    GaugePoint part = live;
    part.id = fmt::format("{}-part", shut.letter);
    part.kind = PointKind::part_side;
    part.at = fmt::format("{}, work side", shut.letter);
    if (place.kind == ShutKind::regulator_outlet) {
      live.node = network_.regulators.inlet[at(place.element)];
      part.node = network_.regulators.outlet[at(place.element)];
      live.tier = network_.nodes.tier[at(live.node)];
      part.tier = network_.nodes.tier[at(part.node)];
    } else if (place.kind == ShutKind::source_outlet) {
      part.node = network_.sources.node[at(place.element)];
      part.tier = network_.nodes.tier[at(part.node)];
    } else {
      const int side = part_side(network_, question_.work, plan_, i);
      live.pipe = part.pipe = place.pipe;
      live.station = part.station = place.station;
      live.toward = -side;
      part.toward = side;
      live.tier = part.tier = tier_of_main(network_, place.pipe);
    }
    // Behind the outlet of a source lies nothing of this network.
    if (place.kind != ShutKind::source_outlet) list_.points.push_back(live);
    list_.points.push_back(part);
  }

  void station(Index regulator) {
    const auto& regulators = network_.regulators;
    const std::string& id = regulators.id[at(regulator)];
    const std::string post =
        new_post(PostKind::regulator, "regulator watcher", station_name(network_, regulator), id,
                 why_stand(network_, plan_, regulator));
    GaugePoint inlet;
    inlet.id = fmt::format("{}-in", id);
    inlet.kind = PointKind::regulator_inlet;
    inlet.at = fmt::format("{}, inlet", id);
    inlet.regulator = regulator;
    inlet.node = regulators.inlet[at(regulator)];
    inlet.tier = network_.nodes.tier[at(inlet.node)];
    inlet.post = post;
    GaugePoint outlet = inlet;
    outlet.id = fmt::format("{}-out", id);
    outlet.kind = PointKind::regulator_outlet;
    outlet.at = fmt::format("{}, outlet", id);
    outlet.node = regulators.outlet[at(regulator)];
    outlet.tier = network_.nodes.tier[at(outlet.node)];
    list_.points.push_back(inlet);
    list_.points.push_back(outlet);
  }

  network::Scenario everything_shut() const {
    network::Scenario base = question_.conditions;
    for (const Shutoff& shutoff : plan_.shutoffs) shut(base, shutoff.place);
    return base;
  }

  Result<network::SteadyState> state_with_all_shut() const {
    network::Scenario high = everything_shut();
    high.load = network::LoadCase::high;
    return question_.model.solve(high, &before_);
  }

  /// Pressure on the side of a shut-off that is not the part, with everything shut; minus infinity
  /// where there is no gas.
  double pressure_behind(std::size_t i, const network::SteadyState& shut,
                         const Regions& regions) const {
    const Place& place = plan_.shutoffs[i].place;
    GaugePressure pressure;
    switch (place.kind) {
      case ShutKind::source_outlet:
        pressure = network_.sources.pressure[at(place.element)];
        break;
      case ShutKind::regulator_outlet:
        pressure = shut.node_pressure[at(network_.regulators.inlet[at(place.element)])];
        break;
      default:
        pressure = pressure_at(network_, regions, shut, place.pipe, place.station,
                               -part_side(network_, question_.work, plan_, i));
    }
    return std::isfinite(pressure.si()) ? pressure.si() : -std::numeric_limits<double>::infinity();
  }

  /// Of each tier that a shut-off or a station near touches, the place with least to spare once
  /// everything is shut.
  void low_points(const std::vector<Index>& stations, const network::SteadyState& shut) {
    std::vector<std::uint8_t> touched(network_.tiers.size(), 0);
    const auto touch = [&](Index tier) {
      if (tier != network::none) touched[at(tier)] = 1;
    };
    for (const GaugePoint& point : list_.points) touch(point.tier);
    for (const Index regulator : stations) {
      touch(network_.nodes.tier[at(network_.regulators.inlet[at(regulator)])]);
      touch(network_.nodes.tier[at(network_.regulators.outlet[at(regulator)])]);
    }
    for (std::size_t tier = 0; tier < touched.size(); ++tier) {
      if (touched[tier] != 0 && shut.tiers[tier].lowest)
        low_point(*shut.tiers[tier].lowest, static_cast<Index>(tier));
    }
  }

  void low_point(const network::Extreme& lowest, Index tier) {
    const std::string& name = network_.tiers.id[at(tier)];
    GaugePoint point;
    point.id = fmt::format("low-{}", name);
    point.kind = PointKind::low_point;
    point.tier = tier;
    std::string element;
    if (lowest.customer != network::none) {
      point.customer = lowest.customer;
      point.pipe = network_.customers.pipe[at(lowest.customer)];
      point.station = network_.customers.station[at(lowest.customer)];
      element = network_.customers.id[at(lowest.customer)];
      point.at = fmt::format("customer {}, tier {}", element, name);
    } else {
      point.node = lowest.node;
      element = network_.nodes.id[at(lowest.node)];
      point.at = fmt::format("node {}, tier {}", element, name);
    }
    point.post = new_post(PostKind::low_point, "gauge reader", point.at, element,
                          fmt::format("tier {} has least to spare here", name));
    list_.points.push_back(point);
  }

  const Question& question_;
  const Network& network_;
  const network::SteadyState& before_;
  const ShutoffPlan& plan_;
  StepList list_;
};

}  // namespace

ClosingOrder closing_by(const Question& question, const ShutoffPlan& plan, First rule) {
  ClosingOrder closing;
  closing.order.resize(plan.shutoffs.size());
  std::iota(closing.order.begin(), closing.order.end(), std::size_t{0});
  if (closing.order.size() < 2) return closing;
  std::vector<double> ranks;
  for (const std::size_t i : closing.order) ranks.push_back(rank_of(question, plan, rule, i));
  if (!std::ranges::all_of(ranks, [](double r) { return std::isfinite(r); })) {
    closing.because =
        fmt::format("{} first, as lettered: the procedure does not set how long each takes",
                    plan.shutoffs.front().letter);
    return closing;
  }
  std::ranges::stable_sort(closing.order, {}, [&](std::size_t i) { return ranks[i]; });
  closing.because = because(question, plan.shutoffs[closing.order.front()], rule);
  return closing;
}

int part_side(const Network& network, const Work& work, const ShutoffPlan& plan,
              std::size_t shutoff) {
  const Place& place = plan.shutoffs[shutoff].place;
  if (place.pipe == network::none) return 0;
  for (const Piece& piece : plan.isolated.pieces) {
    if (piece.pipe != place.pipe) continue;
    if (piece.begin == place.station && piece.end > place.station) return 1;
    if (piece.end == place.station && piece.begin < place.station) return -1;
  }
  // Both sides lose their gas: what lies beyond hangs on the part. The work is on the nearer side.
  const auto far = [&](Index node) {
    return std::hypot(network.nodes.x[at(node)] - work.centre.x,
                      network.nodes.y[at(node)] - work.centre.y);
  };
  for (const Piece& piece : work.pieces) {
    if (piece.pipe == place.pipe) return piece.begin < place.station ? -1 : 1;
  }
  return far(network.pipes.from[at(place.pipe)]) < far(network.pipes.to[at(place.pipe)]) ? -1 : 1;
}

std::vector<Index> stations_near(const Network& network, const ShutoffPlan& plan) {
  const auto& regulators = network.regulators;
  std::vector<std::uint8_t> tier_of_part(network.tiers.size(), 0);
  for (const Piece& piece : plan.isolated.pieces) {
    const Index tier = tier_of_main(network, piece.pipe);
    if (tier != network::none) tier_of_part[at(tier)] = 1;
  }
  std::vector<Index> near;
  for (std::size_t r = 0; r < regulators.size(); ++r) {
    const auto index = static_cast<Index>(r);
    if (is_shutoff(plan, index)) continue;
    const bool on_part = std::ranges::any_of(plan.isolated.equipment, [&](const Equipment& item) {
      return (item.kind == EquipmentKind::regulator_inlet ||
              item.kind == EquipmentKind::regulator_outlet ||
              item.kind == EquipmentKind::sensing_tap) &&
             item.id == regulators.id[r];
    });
    const Index tier = network.nodes.tier[at(regulators.outlet[r])];
    const bool may_feel_part = regulators.sensing[r] == network::Sensing::unknown &&
                               (tier == network::none || tier_of_part[at(tier)] != 0);
    if (on_part || may_feel_part || stands_at_shut_main(network, plan, regulators.inlet[r]) ||
        stands_at_shut_main(network, plan, regulators.outlet[r]))
      near.push_back(index);
  }
  return near;
}

Result<StepList> prepare_steps(const Question& question, const network::SteadyState& before,
                               const ShutoffPlan& plan, const ClosingOrder& closing, Opened opened,
                               const std::vector<Index>& upset) {
  return Preparer(question, before, plan).prepare(closing, opened, upset);
}

std::string where_of(const Question& question, const Place& place) {
  const Network& network = question.model.network();
  const auto on_main = [&] {
    return fmt::format(
        "main {} at {}", network.pipes.id[at(place.pipe)],
        units::print_in(place.station, question.system == units::System::us ? "ft" : "m", 1));
  };
  switch (place.kind) {
    case ShutKind::squeeze:
      return on_main();
    case ShutKind::placed:
      return fmt::format("{} on {}", word(place.means), on_main());
    case ShutKind::valve:
      return fmt::format("valve {} on main {}", network.valves.id[at(place.element)],
                         network.pipes.id[at(place.pipe)]);
    case ShutKind::regulator_outlet:
      return fmt::format("outlet of {}", station_name(network, place.element));
    case ShutKind::source_outlet:
      return fmt::format("outlet of source {}", network.sources.id[at(place.element)]);
  }
  return "";
}

}  // namespace bellhole::plan
