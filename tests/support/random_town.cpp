#include "tests/support/random_town.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace bellhole::support {

using network::Index;
using network::none;
using network::Position;
using network::Sensing;
using network::Ternary;

std::uint64_t Dice::bits() {
  std::uint64_t z = (state_ += 0x9E3779B97F4A7C15u);
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
  return z ^ (z >> 31);
}
double Dice::unit() { return static_cast<double>(bits() >> 11) * 0x1.0p-53; }
int Dice::whole(int low, int high) { return low + static_cast<int>(unit() * (high - low + 1)); }

namespace {

class OddTown {
 public:
  OddTown(std::uint64_t seed, const Oddities& odd) : dice_(seed), odd_(odd) {}

  Town make() {
    const int tiers = odd_.regulators ? dice_.whole(1, 3) : 1;
    static constexpr std::array levels{60 * psi, 10 * psi, 9 * inch_of_water};
    static constexpr std::array least{20 * psi, 2 * psi, 5 * inch_of_water};
    const int first = tiers == 3 ? 0 : dice_.whole(0, 3 - tiers);
    for (int t = 0; t < tiers; ++t) {
      const auto k = static_cast<std::size_t>(first + t);
      town_.tier("T" + std::to_string(t), levels[k] * 1.2, dice_.chance(0.1) ? unknown : least[k]);
      add_tier(t, levels[k]);
    }
    add_sources(levels[static_cast<std::size_t>(first)]);
    for (int t = 1; t < tiers; ++t) add_regulators(t, levels[static_cast<std::size_t>(first + t)]);
    if (odd_.regulators && dice_.chance(0.1)) cross_feed();
    return std::move(town_);
  }

 private:
  [[nodiscard]] Index any_of(int tier) {
    const auto& nodes = nodes_[static_cast<std::size_t>(tier)];
    return nodes[static_cast<std::size_t>(dice_.whole(0, static_cast<int>(nodes.size()) - 1))];
  }
  [[nodiscard]] Index any_pipe(int tier) {
    const auto& pipes = pipes_[static_cast<std::size_t>(tier)];
    if (pipes.empty()) return none;
    return pipes[static_cast<std::size_t>(dice_.whole(0, static_cast<int>(pipes.size()) - 1))];
  }

  double any_length() {
    return !odd_.any_size || dice_.chance(0.8) ? dice_.between(20, 400)
                                               : std::pow(10, dice_.between(-1, 4.3));
  }
  double any_bore() {
    static constexpr std::array usual{0.027, 0.0493, 0.0935, 0.1377, 0.1793};
    return !odd_.any_size || dice_.chance(0.85) ? usual[static_cast<std::size_t>(dice_.whole(0, 4))]
                                                : std::pow(10, dice_.between(-2, 0));
  }

  void add_main(int tier, Index from, Index to) {
    const Index pipe = town_.pipe("M" + std::to_string(town_.net.pipes.size()), from, to,
                                  any_length(), any_bore());
    pipes_[static_cast<std::size_t>(tier)].push_back(pipe);
    const double length = town_.net.pipes.length[static_cast<std::size_t>(pipe)].si();
    if (odd_.valves && dice_.chance(0.1)) {
      town_.valve("V" + std::to_string(town_.net.valves.size()), pipe, dice_.between(0, length),
                  dice_.chance(0.3)   ? Position::closed
                  : dice_.chance(0.1) ? Position::unknown
                                      : Position::open);
    }
    const int customers = dice_.chance(0.3) ? 0 : dice_.whole(1, 4);
    for (int c = 0; c < customers; ++c) add_customer(pipe, length, tier);
  }

  void add_customer(Index pipe, double length, int tier) {
    double load = size_ * dice_.between(0.2, 1.0);
    if (dice_.chance(0.1)) load = 0.0;
    if (odd_.starved && dice_.chance(0.01)) load *= 1000.0;
    const double station =
        dice_.chance(0.1) ? (dice_.chance(0.5) ? 0.0 : length) : dice_.between(0, length);
    const double least =
        dice_.chance(0.05) ? dice_.between(0.0, tier == 0 ? 30 * psi : psi) : unknown;
    town_.customer("C" + std::to_string(town_.net.customers.size()), pipe, station, load,
                   load * 0.03, least);
  }

  void add_tier(int tier, double level) {
    nodes_.emplace_back();
    pipes_.emplace_back();
    size_ = dice_.chance(0.1) ? 0.0
                              : std::pow(10, dice_.between(-5, odd_.starved ? -1.5 : -3.5)) *
                                    std::sqrt(level / psi / 60);
    const int count = dice_.whole(2, 14);
    const bool hilly = odd_.hills && dice_.chance(0.5);
    for (int i = 0; i < count; ++i) {
      nodes_.back().push_back(town_.node("N" + std::to_string(town_.net.nodes.size()), tier,
                                         100.0 * i, 500.0 * tier,
                                         hilly ? dice_.between(-50, 150) : 0.0));
      const bool alone = odd_.islands && dice_.chance(0.05);
      if (i > 0 && !alone)
        add_main(tier, nodes_.back()[static_cast<std::size_t>(dice_.whole(0, i - 1))],
                 nodes_.back().back());
    }
    const int loops = dice_.whole(0, count);
    for (int i = 0; i < loops; ++i) add_main(tier, any_of(tier), any_of(tier));
  }

  void add_sources(double level) {
    const int count = dice_.whole(1, 3);
    for (int i = 0; i < count; ++i) {
      const double pressure = level * (dice_.chance(0.5) ? 1.0 : dice_.between(0.8, 1.2));
      const double capacity =
          odd_.capacities && dice_.chance(0.3) ? std::pow(10, dice_.between(-3, 0)) : unknown;
      town_.source("S" + std::to_string(i), any_of(0), pressure, capacity);
    }
  }

  void add_regulators(int tier, double level) {
    const int count = dice_.whole(1, 3);
    for (int i = 0; i < count; ++i) add_regulator(any_of(tier - 1), tier, level);
  }

  void add_regulator(Index inlet, int tier, double level) {
    auto& regulators = town_.net.regulators;
    const double set = level * (dice_.chance(0.4) ? 1.0 : dice_.between(0.8, 1.1));
    const double capacity =
        odd_.capacities && dice_.chance(0.5) ? std::pow(10, dice_.between(-3, 0)) : unknown;
    const Index r = town_.regulator("R" + std::to_string(regulators.size()), inlet, any_of(tier),
                                    set, capacity);
    const auto k = static_cast<std::size_t>(r);
    if (!odd_.reverse || dice_.chance(0.5)) regulators.blocks_reverse[k] = Ternary::yes;
    if (odd_.capacities && dice_.chance(0.3))
      regulators.least_inlet[k] = GaugePressure::from_si(level * dice_.between(1.1, 3));
    const Index pipe = any_pipe(tier);
    if (odd_.remote_sensing && pipe != none && dice_.chance(0.3)) {
      regulators.sensing[k] = Sensing::remote;
      regulators.tap_pipe[k] = pipe;
      regulators.tap_station[k] = Length::from_si(
          dice_.between(0, town_.net.pipes.length[static_cast<std::size_t>(pipe)].si()));
    }
  }

  /// A regulator inside one tier, or back up from a lower one.
  void cross_feed() {
    const int tiers = static_cast<int>(nodes_.size());
    const int from = dice_.whole(0, tiers - 1), to = dice_.whole(0, tiers - 1);
    const Index inlet = any_of(from), outlet = any_of(to);
    if (inlet == outlet) return;
    const Index r = town_.regulator("RX", inlet, outlet, std::pow(10, dice_.between(3, 5.5)));
    if (!odd_.reverse)
      town_.net.regulators.blocks_reverse[static_cast<std::size_t>(r)] = Ternary::yes;
  }

  Dice dice_;
  Oddities odd_;
  Town town_;
  std::vector<std::vector<Index>> nodes_, pipes_;
  double size_ = 0.0;
};

/// Streets every 90 m; every 32nd is 8 inch, every 16th 6 inch, every 8th 4 inch, the others 2
/// inch. Some blocks are parks, some streets are missing, many corners carry a dead-end court.
/// Under every crossing of 8-inch streets stands a station that feeds the town from a ring main of
/// its own.
class GridBuilder {
 public:
  explicit GridBuilder(const GridTown& wanted) : wanted_(wanted), dice_(wanted.seed) {}

  Town make() {
    feeder_ = town_.tier("feeder", 100 * psi, 30 * psi);
    street_ = town_.tier("street", 66 * psi, 15 * psi);
    // A crossing carries about 2.9 mains: its two streets with what is missing, blocks in two, and
    // courts.
    side_ = std::max(2, static_cast<int>(std::lround(std::sqrt(wanted_.pipes / 2.9))));
    for (int y = 0; y < side_; ++y) {
      for (int x = 0; x < side_; ++x)
        corner_.push_back(town_.node(fmt_id("N", x, y), street_, 90.0 * x, 90.0 * y));
    }
    park_.resize(static_cast<std::size_t>((side_ / 4 + 1) * (side_ / 4 + 1)));
    for (std::size_t i = 0; i < park_.size(); ++i) park_[i] = dice_.chance(0.1);
    for (int y = 0; y < side_; ++y) {
      for (int x = 0; x < side_; ++x) {
        if (x + 1 < side_) street(x, y, x + 1, y, rank(y));
        if (y + 1 < side_) street(x, y, x, y + 1, rank(x));
        if (dice_.chance(0.28)) court(x, y);
      }
    }
    stations();
    return std::move(town_);
  }

 private:
  static std::string fmt_id(const char* letter, int x, int y) {
    return letter + std::to_string(x) + "/" + std::to_string(y);
  }
  [[nodiscard]] Index corner(int x, int y) const {
    return corner_[static_cast<std::size_t>(y * side_ + x)];
  }
  /// 0: 2 inch … 3: 8 inch. The middle street of a small town is a large one.
  [[nodiscard]] int rank(int line) const {
    const int k = line + 32 - side_ / 2 % 32;
    return k % 32 == 0 ? 3 : k % 16 == 0 ? 2 : k % 8 == 0 ? 1 : 0;
  }

  void main(Index from, Index to, double length, int size) {
    static constexpr std::array bore{0.0493, 0.0935, 0.1377, 0.1793};
    const Index pipe = town_.pipe("M" + std::to_string(town_.net.pipes.size()), from, to, length,
                                  bore[static_cast<std::size_t>(size)]);
    const int homes = static_cast<int>(std::lround(length / 17.0));
    for (int h = 0; h < homes; ++h) {
      // 60 scfh on the design day, three quarters of it heating, for 30 K under the reference.
      const double load = wanted_.load * 60.0 * cubic_foot_per_hour * dice_.between(0.7, 1.3);
      const double along = wanted_.customers_along ? length * (h + dice_.between(0.2, 0.8)) / homes
                                                   : (h % 2 == 0 ? 0.0 : length);
      town_.customer("C" + std::to_string(town_.net.customers.size()), pipe, along, 0.25 * load,
                     0.75 * load / 30.0);
    }
  }

  /// One to three mains one behind the other.
  void row(Index from, Index to, double length, int size) {
    const int parts = dice_.whole(1, 3);
    Index here = from;
    for (int k = 1; k <= parts; ++k) {
      const auto a = static_cast<std::size_t>(here);
      const Index next = k == parts && to != none
                             ? to
                             : town_.node("J" + std::to_string(town_.net.nodes.size()), street_,
                                          town_.net.nodes.x[a] + 7.0, town_.net.nodes.y[a] + 3.0);
      main(here, next, length / parts, size);
      here = next;
    }
  }

  void street(int x1, int y1, int x2, int y2, int size) {
    const bool in_park = park_[static_cast<std::size_t>((y1 / 4) * (side_ / 4 + 1) + x1 / 4)];
    if (size == 0 && (in_park || dice_.chance(0.25))) return;
    if (size == 1 && dice_.chance(0.05)) return;
    row(corner(x1, y1), corner(x2, y2), 90.0, size);
  }

  void court(int x, int y) { row(corner(x, y), none, 50.0 * dice_.whole(1, 3), 0); }

  void stations() {
    std::vector<Index> at;
    for (int y = 0; y < side_; ++y) {
      for (int x = 0; x < side_; ++x) {
        if (rank(x) == 3 && rank(y) == 3) at.push_back(corner(x, y));
      }
    }
    Index first = none, last = none;
    for (Index outlet : at) {
      if (wanted_.stations_feed) {
        town_.source("station " + std::to_string(outlet), outlet, 60 * psi);
        continue;
      }
      const auto o = static_cast<std::size_t>(outlet);
      const Index inlet = town_.node("F" + std::to_string(outlet), feeder_, town_.net.nodes.x[o],
                                     town_.net.nodes.y[o]);
      if (last != none) town_.pipe("FM" + std::to_string(outlet), last, inlet, 90.0 * 32, 0.5);
      if (first == none) first = inlet;
      last = inlet;
      const Index r = town_.regulator("R" + std::to_string(outlet), inlet, outlet, 60 * psi, 40.0);
      town_.net.regulators.blocks_reverse[static_cast<std::size_t>(r)] = Ternary::yes;
      if (town_.net.regulators.size() % 5 == 1)
        town_.source("gate " + std::to_string(outlet), inlet, 95 * psi);
    }
    if (at.size() > 2 && !wanted_.stations_feed)
      town_.pipe("FM close", last, first, 90.0 * 64, 0.5);
  }

  GridTown wanted_;
  Dice dice_;
  Town town_;
  Index feeder_ = none, street_ = none;
  int side_ = 0;
  std::vector<Index> corner_;
  std::vector<bool> park_;
};

}  // namespace

Town plain_town(std::uint64_t seed, bool starved) {
  Town town = odd_town(seed, {.regulators = false,
                              .remote_sensing = false,
                              .reverse = false,
                              .capacities = false,
                              .hills = false,
                              .starved = starved,
                              .islands = false,
                              .any_size = false,
                              .valves = false});
  for (auto& pressure : town.net.sources.pressure) pressure = town.net.sources.pressure.front();
  for (std::size_t c = 0; c < town.net.customers.size(); ++c) {
    const auto pipe = static_cast<std::size_t>(town.net.customers.pipe[c]);
    auto& station = town.net.customers.station[c];
    station = station < town.net.pipes.length[pipe] * 0.5 ? Length() : town.net.pipes.length[pipe];
  }
  return town;
}

Town grid_town(const GridTown& wanted) { return GridBuilder(wanted).make(); }

Town odd_town(std::uint64_t seed, const Oddities& oddities) {
  return OddTown(seed, oddities).make();
}

Town reached_part(const Town& town, const network::SteadyState& state) {
  const network::Network& n = town.net;
  Town part;
  for (std::size_t t = 0; t < n.tiers.size(); ++t) {
    part.tier(n.tiers.id[t], n.tiers.maop[t].si(), n.tiers.least[t].si());
  }
  std::vector<Index> node(n.nodes.size(), none), pipe(n.pipes.size(), none);
  for (std::size_t i = 0; i < n.nodes.size(); ++i) {
    if (std::isnan(state.node_pressure[i].si())) continue;
    node[i] = part.node(n.nodes.id[i], n.nodes.tier[i], n.nodes.x[i], n.nodes.y[i],
                        n.nodes.elevation[i].si());
  }
  const auto now = [&](Index i) { return node[static_cast<std::size_t>(i)]; };
  for (std::size_t p = 0; p < n.pipes.size(); ++p) {
    if (now(n.pipes.from[p]) == none) continue;
    pipe[p] = part.pipe(n.pipes.id[p], now(n.pipes.from[p]), now(n.pipes.to[p]),
                        n.pipes.length[p].si(), n.pipes.bore[p].si());
  }
  for (std::size_t c = 0; c < n.customers.size(); ++c) {
    const Index at = pipe[static_cast<std::size_t>(n.customers.pipe[c])];
    if (at == none) continue;
    part.customer(n.customers.id[c], at, n.customers.station[c].si(), n.customers.base[c].si(),
                  n.customers.per_k[c], n.customers.least[c].si());
  }
  for (std::size_t s = 0; s < n.sources.size(); ++s) {
    part.source(n.sources.id[s], now(n.sources.node[s]), n.sources.pressure[s].si(),
                n.sources.capacity[s].si());
  }
  return part;
}

}  // namespace bellhole::support
