#include "plan/shutoffs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "plan/hole.hpp"
#include "plan/main_facts.hpp"
#include "plan/schedule.hpp"
#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

// A crew tapes from at most two things, no further than two lengths of a long tape.
constexpr std::size_t offsets_shown = 2;
constexpr double taped_most = 60.0;

std::string compass(network::Point from, network::Point to) {
  constexpr std::array words{"N", "NE", "E", "SE", "S", "SW", "W", "NW"};
  const double turn =
      std::atan2(to.x - from.x, to.y - from.y) / (2.0 * std::numbers::pi);  // clockwise from north
  const auto eighth = static_cast<std::size_t>(std::lround(turn * 8.0 + 8.0)) % 8;
  return words[eighth];
}

/// Taped distances from the nearest things that stay, then along the main from its nearer end.
std::vector<Offset> offsets(const Network& network, const Place& place, network::Point point) {
  std::vector<Offset> list;
  const auto& fixed = network.fixed_points;
  for (std::size_t i = 0; i < fixed.size(); ++i) {
    const network::Point from{fixed.x[i], fixed.y[i]};
    const double distance = std::hypot(point.x - from.x, point.y - from.y);
    if (distance > taped_most) continue;
    const std::string name =
        fixed.says[i].empty() ? fixed.id[i] : fmt::format("{} {}", fixed.says[i], fixed.id[i]);
    list.push_back({name, Length::from_si(distance), compass(from, point), static_cast<Index>(i)});
  }
  const std::size_t shown = std::min(offsets_shown, list.size());
  std::ranges::partial_sort(list, list.begin() + static_cast<std::ptrdiff_t>(shown), {},
                            &Offset::distance);
  list.resize(shown);
  if (place.pipe == network::none) return list;
  const auto& pipes = network.pipes;
  const Length back = pipes.length[at(place.pipe)] - place.station;
  const bool from_begin = place.station <= back;
  const Index node = from_begin ? pipes.from[at(place.pipe)] : pipes.to[at(place.pipe)];
  list.push_back({fmt::format("node {}, along the main", network.nodes.id[at(node)]),
                  from_begin ? place.station : back, "", network::none});
  return list;
}

std::vector<Nearby> nearby(const Question& question, const Place& place, network::Point point) {
  const auto& network = question.model.network();
  const auto reach = question.profile.ruling("plan.dig_reach", case_of_main(network, place.pipe))
                         .as<kinds::Length>();
  std::vector<Nearby> list;
  if (!reach) return list;
  for (const network::OnPipe& other : network::within(network, point, *reach)) {
    if (other.pipe != place.pipe) list.push_back({other.pipe, other.away});
  }
  return list;
}

/// The next best cut that does not use this place, the others being shut already.
Result<Fallback> fallback(const Places& places, const isolate::Cut& cut, std::size_t failed,
                          Watch& watch) {
  Fallback fallback;
  const Place& place = places.places[failed];
  if (place.kind == ShutKind::squeeze) {
    // Laid out from the work outward: the spare place first where there is one.
    const auto laid = lay_out(place, toward_part(places, cut, place));
    const std::size_t squeezes = place.squeezes == Squeezes::two ? 2 : 1;
    if (laid.size() > squeezes) fallback.spare_station = laid.front();
  }
  isolate::Query query;
  query.work = places.work;
  const auto edges = static_cast<std::size_t>(places.graph.edges());
  for (const std::size_t i : places_of(places, cut)) {
    const isolate::Cost cost = i == failed ? isolate::forbidden : 0;
    if (i < edges)
      query.edges.push_back({static_cast<isolate::EdgeIndex>(i), cost});
    else
      query.supplies.push_back({static_cast<std::int32_t>(i - edges), cost});
  }
  isolate::Scratch scratch;
  BELLHOLE_TRY(cuts, isolate::Cuts::start(places.graph, query, scratch, watch));
  const auto other = cuts.next();
  if (!other) return fallback;
  fallback.exists = true;
  const auto now = places_of(places, cut);
  for (const std::size_t i : places_of(places, *other)) {
    if (std::ranges::find(now, i) == now.end()) fallback.places.push_back(i);
  }
  const auto lost = [&](const isolate::Cut& c) {
    return std::ranges::count_if(places.part_of_customer, [&](isolate::Vertex v) {
      return std::ranges::binary_search(c.lost, v);
    });
  };
  fallback.adds_customers = lost(*other) - lost(cut);
  return fallback;
}

GaugePressure pressure_at(const Network& network, const network::SteadyState& before,
                          const Place& place) {
  const auto node_pressure = [&](Index node) { return before.node_pressure[at(node)]; };
  switch (place.kind) {
    case ShutKind::regulator_outlet:
      return node_pressure(network.regulators.outlet[at(place.element)]);
    case ShutKind::source_outlet:
      return node_pressure(network.sources.node[at(place.element)]);
    default:
      break;
  }
  // Between the ends the pressure lies between theirs; the higher is the unsafe end for shutting.
  const double a = node_pressure(network.pipes.from[at(place.pipe)]).si();
  const double b = node_pressure(network.pipes.to[at(place.pipe)]).si();
  return GaugePressure::from_si(std::fmax(a, b));
}

network::Point point_of(const Network& network, const Place& place) {
  const auto node_point = [&](Index node) {
    return network::Point{network.nodes.x[at(node)], network.nodes.y[at(node)]};
  };
  switch (place.kind) {
    case ShutKind::regulator_outlet:
      return node_point(network.regulators.outlet[at(place.element)]);
    case ShutKind::source_outlet:
      return node_point(network.sources.node[at(place.element)]);
    default:
      return network::point_on(network, place.pipe, place.station);
  }
}

Finding found(std::string rule, Grade grade, std::string says, std::string action,
              std::string about) {
  return {.rule = std::move(rule),
          .grade = grade,
          .says = std::move(says),
          .quantity = "shut-off",
          .source = "network as imported",
          .evidence = Evidence::derived,
          .action = std::move(action),
          .about = std::move(about)};
}

/// Bellhole places none of these and knows none of them: a person does.
Findings placed_findings(const Question& question, const HandPlaced& hand, GaugePressure now) {
  const auto& network = question.model.network();
  const std::string name =
      fmt::format("{} on main {}", word(hand.means), network.pipes.id[at(hand.pipe)]);
  Findings findings{found(
      "plan.placed", Grade::undecided,
      fmt::format("the {} is placed by a qualified person: whether this main takes it, its "
                  "fitting, its hold and its let-by are not looked at here",
                  name),
      "the engineer decides the means and its fitting; who places it says that it holds", name)};
  const Index tier = tier_of_main(network, hand.pipe);
  const GaugePressure maop = tier == network::none ? now : network.tiers.maop[at(tier)];
  const GaugePressure line = std::isfinite(maop.si()) ? maop : now;
  Finding rated = found("plan.placed_pressure", Grade::undecided, "",
                        "read its plate or its maker's record", name);
  rated.quantity = "line pressure";
  rated.unit_si = kinds::GaugePressure::symbol;
  if (std::isfinite(line.si())) rated.value_si = line.si();
  if (!hand.pressure_most) {
    rated.says = fmt::format("the pressure that the {} is rated for is not given", name);
    findings.push_back(std::move(rated));
  } else if (!std::isfinite(line.si())) {
    rated.says = fmt::format("the pressure that the {} meets is not known", name);
    rated.limit_si = hand.pressure_most->si();
    findings.push_back(std::move(rated));
  } else if (line > *hand.pressure_most) {
    rated.grade = Grade::halt;
    rated.says =
        fmt::format("the {} is rated for {}; the line may see {}", name,
                    units::print(*hand.pressure_most, question.system, units::Toward::down),
                    units::print(line, question.system, units::Toward::up));
    rated.limit_si = hand.pressure_most->si();
    rated.action = "use one that is rated for it, or lower the pressure";
    findings.push_back(std::move(rated));
  }
  return findings;
}

Findings place_findings(const Question& question, const Place& place, GaugePressure pressure) {
  const auto& network = question.model.network();
  Findings findings;
  if (place.kind == ShutKind::valve) {
    const auto& valves = network.valves;
    const std::string name = "valve " + valves.id[at(place.element)];
    const procedure::Ruling trust =
        question.profile.ruling("plan.valve_trust", case_of_main(network, place.pipe));
    if (!trust.number()) {
      findings.push_back(
          procedure::not_set(trust,
                             {.quantity = "age of the last operation of " + name,
                              .about = name,
                              .action = "decide whether this valve is trusted; turn it and watch a "
                                        "gauge before it is relied on"},
                             question.system));
    }
    if (valves.operable[at(place.element)] == network::Ternary::unknown) {
      findings.push_back(found("plan.valve_operable", Grade::undecided,
                               fmt::format("nobody recorded that {} turns and holds", name),
                               "turn it and watch a gauge before the plan relies on it", name));
    }
    if (valves.reachable[at(place.element)] == network::Ternary::unknown) {
      findings.push_back(found("plan.valve_reachable", Grade::warn,
                               fmt::format("nobody recorded whether {} can be reached", name),
                               "find and uncover it before the day", name));
    }
    if (valves.position[at(place.element)] == network::Position::unknown) {
      findings.push_back(found("plan.valve_position", Grade::undecided,
                               fmt::format("whether {} stands open is not recorded", name),
                               "look before the day; the network was solved with it open", name));
    }
  }
  if (place.kind == ShutKind::squeeze) {
    const network::Lining& lining = network.pipes.lining[at(place.pipe)];
    std::string unknown;
    for (const auto& [state, word] :
         {std::pair(lining.inserted, "inserted"), std::pair(lining.cased, "cased"),
          std::pair(lining.layered, "layered"), std::pair(lining.lined, "lined")}) {
      if (state == network::Ternary::unknown)
        unknown += (unknown.empty() ? "" : ", ") + std::string(word);
    }
    const std::string name = "main " + network.pipes.id[at(place.pipe)];
    if (!unknown.empty()) {
      findings.push_back(found("plan.pipe_kind", Grade::undecided,
                               fmt::format("whether {} is {} is not recorded", name, unknown),
                               "expose it and look before the plan relies on a squeeze here",
                               name));
    }
  }
  if (place.kind == ShutKind::placed)
    append(findings, placed_findings(question, question.placed[at(place.element)], pressure));
  return findings;
}

}  // namespace

std::string describe(const Network& network, const Place& place, units::System system) {
  const auto station = [&] {
    return units::print_in(place.station, system == units::System::us ? "ft" : "m", 1);
  };
  switch (place.kind) {
    case ShutKind::placed:
      return fmt::format("place the {} in main {} at {}", word(place.means),
                         network.pipes.id[at(place.pipe)], station());
    case ShutKind::squeeze:
      return fmt::format("squeeze main {} at {}", network.pipes.id[at(place.element)], station());
    case ShutKind::valve:
      return fmt::format("shut valve {} on main {}", network.valves.id[at(place.element)],
                         network.pipes.id[at(place.pipe)]);
    case ShutKind::regulator_outlet:
      return fmt::format("shut the outlet of regulator {}",
                         network.regulators.id[at(place.element)]);
    case ShutKind::source_outlet:
      return fmt::format("shut the outlet of source {}", network.sources.id[at(place.element)]);
  }
  return "";
}

Result<std::vector<Shutoff>> shutoffs_of(const Question& question, const Places& places,
                                         const isolate::Cut& cut,
                                         const network::SteadyState& before, Watch& watch) {
  const auto& network = question.model.network();
  std::vector<Shutoff> list;
  for (const std::size_t i : places_of(places, cut)) {
    Shutoff shutoff;
    shutoff.place = places.places[i];
    shutoff.point = point_of(network, shutoff.place);
    const auto degrees = network::unproject(network, shutoff.point);
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    shutoff.degrees = degrees ? *degrees : network::Degrees{nan, nan};
    shutoff.pressure_now = pressure_at(network, before, shutoff.place);
    shutoff.offsets = offsets(network, shutoff.place, shutoff.point);
    if (shutoff.place.pipe != network::none)
      shutoff.nearby = nearby(question, shutoff.place, shutoff.point);
    BELLHOLE_TRY(other, fallback(places, cut, i, watch));
    shutoff.fallback = std::move(other);
    shutoff.findings = place_findings(question, shutoff.place, shutoff.pressure_now);
    list.push_back(std::move(shutoff));
  }
  std::ranges::stable_sort(list, {}, [](const Shutoff& s) {
    return std::pair(s.place.kind == ShutKind::squeeze || s.place.kind == ShutKind::placed,
                     std::isfinite(s.place.time_s) ? s.place.time_s : 0.0);
  });
  for (std::size_t i = 0; i < list.size(); ++i) {
    list[i].letter =
        i < 26 ? std::string(1, static_cast<char>('A' + i)) : fmt::format("A{}", i - 25);
  }
  return list;
}

std::optional<Duration> time_to_stop(const std::vector<Shutoff>& shutoffs, std::int64_t crews) {
  std::vector<double> times;
  for (const Shutoff& shutoff : shutoffs) {
    if (!std::isfinite(shutoff.place.time_s)) return std::nullopt;
    times.push_back(shutoff.place.time_s);
  }
  return Crews(crews).give(std::move(times));
}

}  // namespace bellhole::plan
