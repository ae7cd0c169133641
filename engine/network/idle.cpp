#include <algorithm>
#include <cmath>
#include <vector>

#include "network/equipment.hpp"
#include "network/fold.hpp"
#include "network/sets.hpp"

namespace bellhole::network {
namespace {

class IdleParts {
 public:
  IdleParts(const Model::Prepared& prepared, const Case& laid, Settled& settled)
      : prepared_(prepared), laid_(laid), settled_(settled), parts_(prepared.points.size()) {}

  void rest() {
    if (!any_idle()) return;
    const Points& points = prepared_.points;
    for (std::size_t s = 0; s < points.segments(); ++s) {
      if (laid_.closed[s] == 0) parts_.join(points.a[s], points.b[s]);
    }
    moves_.assign(points.size(), 0);
    highest_.assign(points.size(), std::nan(""));
    look_at_flows();
    look_at_sources();
    for (int pass = 0; pass < most_tiers; ++pass) look_at_regulators();
    for (std::size_t i = 0; i < points.size(); ++i) {
      const auto point = static_cast<Index>(i);
      if (rests(point) && laid_.live[i] != 0) settled_.potential[i] = highest_[root(point)];
    }
    close_beside();
  }

 private:
  static constexpr int most_tiers = 6;

  [[nodiscard]] bool any_idle() const {
    const auto closed = static_cast<char>(ValveMode::closed);
    const auto idle = static_cast<char>(SourceMode::idle);
    return std::ranges::count(settled_.regulator_mode, closed) > 0 ||
           std::ranges::count(settled_.source_mode, idle) > 0;
  }

  std::size_t root(Index point) { return at(parts_.root(point)); }
  bool rests(Index point) { return moves_[root(point)] == 0 && !std::isnan(highest_[root(point)]); }

  /// A regulator on a part that rests passes nothing, whatever it was about to do.
  void close_beside() {
    const auto& regulators = prepared_.network->regulators;
    for (std::size_t r = 0; r < regulators.size(); ++r) {
      const bool beside = rests(regulators.inlet[r]) || rests(regulators.outlet[r]);
      if (!beside || std::abs(settled_.regulator_flow[r]) > nothing()) continue;
      settled_.regulator_flow[r] = 0.0;
      settled_.regulator_mode[r] = static_cast<char>(ValveMode::closed);
    }
  }

  [[nodiscard]] double nothing() const { return 1e-9 * laid_.scale; }

  /// A part in which customers draw or something passes a station moves.
  void look_at_flows() {
    const Network& network = *prepared_.network;
    for (std::size_t i = 0; i < laid_.load.size(); ++i) {
      if (laid_.load[i] > 0.0) moves_[root(static_cast<Index>(i))] = 1;
    }
    for (std::size_t s = 0; s < network.sources.size(); ++s) {
      if (std::abs(settled_.source_flow[s]) > nothing()) moves_[root(network.sources.node[s])] = 1;
    }
    for (std::size_t r = 0; r < network.regulators.size(); ++r) {
      if (std::abs(settled_.regulator_flow[r]) <= nothing()) continue;
      moves_[root(network.regulators.inlet[r])] = 1;
      moves_[root(network.regulators.outlet[r])] = 1;
    }
  }

  void raise(std::size_t part, double potential) {
    if (!(highest_[part] >= potential)) highest_[part] = potential;
  }

  void look_at_sources() {
    const auto& sources = prepared_.network->sources;
    for (std::size_t s = 0; s < sources.size(); ++s) {
      if (laid_.source_shut[s] != 0) continue;
      const double height = prepared_.points.height[at(sources.node[s])];
      raise(root(sources.node[s]), laid_.altitude.reduced(sources.pressure[s].si(), height));
    }
  }

  /// A regulator holds its set point, or what its inlet has where that is less.
  void look_at_regulators() {
    const auto& regulators = prepared_.network->regulators;
    for (std::size_t r = 0; r < regulators.size(); ++r) {
      if (laid_.regulator_shut[r] != 0 || laid_.live[at(regulators.inlet[r])] == 0) continue;
      const std::size_t above = root(regulators.inlet[r]);
      const double inlet =
          moves_[above] != 0 ? settled_.potential[at(regulators.inlet[r])] : highest_[above];
      if (std::isnan(inlet)) continue;
      const Index outlet = regulators.outlet[r];
      const Index felt = root(laid_.felt[r]) == root(outlet) ? laid_.felt[r] : outlet;
      const double height = prepared_.points.height[at(felt)];
      const double set = laid_.altitude.reduced(regulators.set_point[r].si(), height);
      raise(root(outlet), std::min(inlet, set));
    }
  }

  const Model::Prepared& prepared_;
  const Case& laid_;
  Settled& settled_;
  Sets parts_;
  std::vector<char> moves_;      ///< per root
  std::vector<double> highest_;  ///< per root; nan: nothing would hold a pressure there
};

}  // namespace

void rest_idle_parts(const Model::Prepared& prepared, const Case& laid, Settled& settled) {
  IdleParts(prepared, laid, settled).rest();
}

}  // namespace bellhole::network
