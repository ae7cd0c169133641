#include "plan/regions.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

class Joined {
 public:
  explicit Joined(std::size_t n) : up_(n) { std::iota(up_.begin(), up_.end(), 0); }
  std::int32_t root(std::int32_t i) {
    while (up_[plan::at(i)] != i) i = up_[plan::at(i)] = up_[plan::at(up_[plan::at(i)])];
    return i;
  }
  void join(std::int32_t a, std::int32_t b) { up_[plan::at(root(b))] = root(a); }

 private:
  std::vector<std::int32_t> up_;
};

bool stands_closed(const Network& network, const network::Scenario& scenario, std::size_t v) {
  network::Position position = network.valves.position[v];
  for (const auto& setting : scenario.valves)
    if (at(setting.valve) == v) position = setting.position;
  if (position == network::Position::unknown) position = network.valves.normal[v];
  return position == network::Position::closed;
}

}  // namespace

Regions::Regions(const Network& network, const network::Scenario& scenario) : network_(network) {
  std::vector<std::vector<Length>> shut(network.pipes.size());
  for (const auto& closure : scenario.closures)
    shut[plan::at(closure.pipe)].push_back(closure.station);
  for (std::size_t v = 0; v < network.valves.size(); ++v) {
    if (stands_closed(network, scenario, v))
      shut[plan::at(network.valves.pipe[v])].push_back(network.valves.station[v]);
  }
  for (std::size_t p = 0; p < network.pipes.size(); ++p) {
    first_piece_.push_back(pieces_.size());
    std::ranges::sort(shut[p]);
    Length begin;
    for (const Length station : shut[p]) {
      pieces_.push_back({{static_cast<Index>(p), begin, station}, 0});
      begin = station;
    }
    pieces_.push_back({{static_cast<Index>(p), begin, network.pipes.length[p]}, 0});
  }
  first_piece_.push_back(pieces_.size());

  const auto nodes = static_cast<std::int32_t>(network.nodes.size());
  Joined joined(network.nodes.size() + pieces_.size());
  for (std::size_t p = 0; p < network.pipes.size(); ++p) {
    joined.join(network.pipes.from[p], nodes + static_cast<std::int32_t>(first_piece_[p]));
    joined.join(network.pipes.to[p], nodes + static_cast<std::int32_t>(first_piece_[p + 1] - 1));
  }
  std::vector<std::int32_t> number(network.nodes.size() + pieces_.size(), -1);
  const auto region_of = [&](std::int32_t member) {
    auto& mine = number[plan::at(joined.root(member))];
    if (mine < 0) mine = static_cast<std::int32_t>(count_++);
    return mine;
  };
  for (std::int32_t n = 0; n < nodes; ++n) of_node_.push_back(region_of(n));
  for (std::size_t i = 0; i < pieces_.size(); ++i)
    pieces_[i].region = region_of(nodes + static_cast<std::int32_t>(i));
}

std::int32_t Regions::of_node(Index node) const { return of_node_[plan::at(node)]; }

const RegionPiece& Regions::piece_at(Index pipe, Length station, int toward) const {
  std::size_t i = first_piece_[plan::at(pipe)];
  const std::size_t last = first_piece_[plan::at(pipe) + 1] - 1;
  const auto beyond = [&](Length end) { return toward > 0 ? end <= station : end < station; };
  while (i < last && beyond(pieces_[i].piece.end)) ++i;
  return pieces_[i];
}

std::int32_t Regions::at(Index pipe, Length station, int toward) const {
  return piece_at(pipe, station, toward).region;
}

std::int32_t Regions::of_customer(Index customer) const {
  const auto& customers = network_.customers;
  return at(customers.pipe[plan::at(customer)], customers.station[plan::at(customer)]);
}

GaugePressure pressure_at(const Network& network, const Regions& regions,
                          const network::SteadyState& state, Index pipe, Length station,
                          int toward) {
  const Piece piece = regions.piece_at(pipe, station, toward).piece;
  const Length whole = network.pipes.length[at(pipe)];
  struct Known {
    double station = 0.0, pressure = 0.0;
  };
  std::optional<Known> before, behind;
  const auto look = [&](Length where, GaugePressure pressure) {
    const Known here{where.si(), pressure.si()};
    if (where <= station && (!before || here.station >= before->station)) before = here;
    if (where >= station && (!behind || here.station <= behind->station)) behind = here;
  };
  if (piece.begin == Length())
    look(Length(), state.node_pressure[at(network.pipes.from[at(pipe)])]);
  if (piece.end == whole) look(whole, state.node_pressure[at(network.pipes.to[at(pipe)])]);
  for (std::size_t c = 0; c < network.customers.size(); ++c) {
    if (network.customers.pipe[c] != pipe) continue;
    const Length here = network.customers.station[c];
    if (&regions.piece_at(pipe, here) != &regions.piece_at(pipe, station, toward)) continue;
    look(here, state.customer_pressure[c]);
  }
  if (!before && !behind) return GaugePressure::from_si(std::nan(""));
  if (!before || !behind)
    return GaugePressure::from_si(before ? before->pressure : behind->pressure);
  const double span = behind->station - before->station;
  if (span <= 0.0) return GaugePressure::from_si(before->pressure);
  const double barometer = network.barometer.si();
  const double a = before->pressure + barometer, b = behind->pressure + barometer;
  const double share = (station.si() - before->station) / span;
  return GaugePressure::from_si(std::sqrt(a * a + share * (b * b - a * a)) - barometer);
}

MassFlow flow_at(const Network& network, const Regions& regions, const network::SteadyState& state,
                 Index pipe, Length station, double kg_per_std_m3) {
  const auto& customers = network.customers;
  const bool from_begin = regions.piece_at(pipe, station).piece.begin == Length();
  double flow = from_begin ? state.pipes[at(pipe)].at_from.si() : state.pipes[at(pipe)].at_to.si();
  for (std::size_t c = 0; c < customers.size(); ++c) {
    if (customers.pipe[c] != pipe) continue;
    const double drawn = state.delivered[c].si() * kg_per_std_m3;
    if (from_begin && customers.station[c] <= station) flow -= drawn;
    if (!from_begin && customers.station[c] > station) flow += drawn;
  }
  return MassFlow::from_si(flow);
}

}  // namespace bellhole::plan
