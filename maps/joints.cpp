#include "maps/joints.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <set>
#include <tuple>

namespace bellhole::maps {
namespace {

struct End {
  std::size_t main;
  bool last;
  XY at;
  network::Index tier;
};

/// Ends drawn at exactly one place in one tier: the smallest thing that is joined to others.
struct Spot {
  XY at;
  network::Index tier = network::none;
  std::vector<std::size_t> ends;
  const MapNode* node = nullptr;
  bool passed = false;  ///< another main of its tier passes through the very place
};

/// Spots that became one joint.
struct Cluster {
  std::vector<std::size_t> spots;
  XY low, high;
  std::set<std::size_t> mains;
  bool has_node = false;
};

class Joiner {
 public:
  Joiner(std::vector<Main>& mains, const std::vector<MapNode>& nodes, double snap, Report& report)
      : mains_(mains), nodes_(nodes), snap_(snap), report_(report) {
    for (std::size_t n = 0; n < nodes.size(); ++n) node_by_id_.emplace(nodes[n].id, n);
    for (Main& main : mains_) check_direction(main);
    gather();
    add_nodes();
  }

  Joined run() {
    find_passed();
    start_clusters();
    for (const auto& [apart, a, b] : pairs()) unite(a, b, apart);
    return settle();
  }

 private:
  /// The map's own node of this name, if it lies where the line ends.
  const MapNode* named(const std::string& id, XY at) const {
    const auto found = node_by_id_.find(id);
    if (found == node_by_id_.end() || distance(nodes_[found->second].at, at) > snap_)
      return nullptr;
    return &nodes_[found->second];
  }
  /// A line that was drawn from its `to` node to its `from` node is turned round.
  void check_direction(Main& main) {
    if (main.from_node.empty() && main.to_node.empty()) return;
    const XY first = main.line.front(), last = main.line.back();
    if (named(main.from_node, first) != nullptr && named(main.to_node, last) != nullptr) return;
    const bool turned =
        named(main.from_node, last) != nullptr && named(main.to_node, first) != nullptr;
    if (turned) std::ranges::reverse(main.line);
    report_.add({turned ? "import.reversed" : "import.other_nodes",
                 turned ? Grade::info : Grade::undecided, main.layer, main.label, "from_node",
                 fmt::format("{} to {}", main.from_node, main.to_node),
                 turned ? "the line was drawn the other way and was turned round"
                        : "the line does not end at these nodes; the line was believed",
                 "pipe " + main.id, false});
  }

  /// Ends at one place in one tier are one spot; ends that name a node of the map are that node's.
  void gather() {
    for (std::size_t m = 0; m < mains_.size(); ++m) {
      for (const bool last : {false, true}) {
        const XY at = last ? mains_[m].line.back() : mains_[m].line.front();
        const MapNode* node = named(last ? mains_[m].to_node : mains_[m].from_node, at);
        const std::size_t spot =
            node != nullptr ? spot_of(*node, mains_[m].tier) : spot_at(at, mains_[m].tier);
        spots_[spot].ends.push_back(ends_.size());
        spot_of_end_.push_back(spot);
        ends_.push_back({m, last, at, mains_[m].tier});
      }
    }
  }
  std::size_t spot_at(XY at, network::Index tier) {
    const auto [found, fresh] = spot_at_.try_emplace({at.x, at.y, tier}, spots_.size());
    if (fresh) spots_.push_back({.at = at, .tier = tier, .ends = {}});
    return found->second;
  }
  std::size_t spot_of(const MapNode& node, network::Index tier) {
    const auto [found, fresh] = spot_of_node_.try_emplace(&node, spots_.size());
    if (fresh) spots_.push_back({.at = node.at, .tier = tier, .ends = {}, .node = &node});
    return found->second;
  }
  /// A node of the map that no main names draws the spots of its tier, or of every tier when it
  /// does not say.
  void add_nodes() {
    for (const MapNode& node : nodes_) {
      if (spot_of_node_.contains(&node)) continue;
      auto found = node.tier == network::none
                       ? spot_at_.lower_bound({node.at.x, node.at.y, network::none})
                       : spot_at_.find({node.at.x, node.at.y, node.tier});
      while (found != spot_at_.end() && here(found->first, node) &&
             spots_[found->second].node != nullptr)
        ++found;
      if (found != spot_at_.end() && here(found->first, node)) {
        spots_[found->second].node = &node;
      } else {
        spots_.push_back({.at = node.at, .tier = node.tier, .ends = {}, .node = &node});
      }
    }
  }
  using Place = std::tuple<double, double, network::Index>;
  static bool here(const Place& place, const MapNode& node) {
    return std::get<0>(place) == node.at.x && std::get<1>(place) == node.at.y &&
           (node.tier == network::none || std::get<2>(place) == node.tier);
  }
  /// A spot on the middle of another main is where the joint is, whatever other ends lie near.
  void find_passed() {
    SegmentIndex index(50.0);
    for (std::size_t m = 0; m < mains_.size(); ++m) index.add(m, mains_[m].line);
    for (Spot& spot : spots_) {
      for (const auto* segment : index.near(spot.at, spot.at, exact_m)) {
        const Main& main = mains_[segment->line];
        if (main.tier != spot.tier || spot.at == main.line.front() || spot.at == main.line.back())
          continue;
        const std::array<XY, 2> piece{segment->a, segment->b};
        spot.passed = spot.passed || foot_on(piece, spot.at).away <= exact_m;
      }
    }
  }
  void start_clusters() {
    cluster_of_.resize(spots_.size());
    std::iota(cluster_of_.begin(), cluster_of_.end(), std::size_t{0});
    for (std::size_t s = 0; s < spots_.size(); ++s) {
      Cluster cluster{.spots = {s},
                      .low = spots_[s].at,
                      .high = spots_[s].at,
                      .mains = {},
                      .has_node = spots_[s].node != nullptr};
      for (const auto e : spots_[s].ends) cluster.mains.insert(ends_[e].main);
      clusters_.push_back(std::move(cluster));
    }
  }
  /// Pairs of spots within the tolerance, nearest first.
  std::vector<std::tuple<double, std::size_t, std::size_t>> pairs() const {
    PointIndex index(std::max(snap_, 1.0));
    for (std::size_t s = 0; s < spots_.size(); ++s) index.add(s, spots_[s].at);
    std::vector<std::tuple<double, std::size_t, std::size_t>> out;
    for (std::size_t s = 0; s < spots_.size(); ++s) {
      for (const auto t : index.near(spots_[s].at, snap_)) {
        const bool same_tier = spots_[s].tier == spots_[t].tier || no_tier(s) || no_tier(t);
        if (t > s && same_tier) out.emplace_back(distance(spots_[s].at, spots_[t].at), s, t);
      }
    }
    std::ranges::sort(out);
    return out;
  }
  /// A node of the map that does not say its tier.
  [[nodiscard]] bool no_tier(std::size_t s) const {
    return spots_[s].node != nullptr && spots_[s].node->tier == network::none &&
           spots_[s].ends.empty();
  }

  std::size_t root(std::size_t s) {
    while (cluster_of_[s] != s) s = cluster_of_[s] = cluster_of_[cluster_of_[s]];
    return s;
  }
  void unite(std::size_t a, std::size_t b, double apart) {
    a = root(a);
    b = root(b);
    if (a == b) return;
    Cluster& into = clusters_[a];
    const Cluster& from = clusters_[b];
    const bool two_nodes = into.has_node && from.has_node;
    const bool own_ends =
        std::ranges::any_of(from.mains, [&](std::size_t m) { return into.mains.contains(m); });
    const XY low{std::min(into.low.x, from.low.x), std::min(into.low.y, from.low.y)};
    const XY high{std::max(into.high.x, from.high.x), std::max(into.high.y, from.high.y)};
    if (two_nodes || distance(low, high) > 2.0 * snap_ || mixed(a, b)) return;
    if (own_ends) return say_not_joined(from, into, apart);
    into.spots.insert(into.spots.end(), from.spots.begin(), from.spots.end());
    into.low = low;
    into.high = high;
    into.mains.insert(from.mains.begin(), from.mains.end());
    into.has_node = into.has_node || from.has_node;
    cluster_of_[b] = a;
  }
  /// Whether the two clusters hold mains of different tiers (a node without tier may have been
  /// between).
  bool mixed(std::size_t a, std::size_t b) const {
    network::Index tier = network::none;
    bool any = false;
    for (const std::size_t c : {a, b}) {
      for (const auto s : clusters_[c].spots) {
        if (spots_[s].ends.empty()) continue;
        if (any && spots_[s].tier != tier) return true;
        tier = spots_[s].tier;
        any = true;
      }
    }
    return false;
  }
  void say_not_joined(const Cluster& from, const Cluster& into, double apart) {
    for (const auto m : from.mains) {
      if (!into.mains.contains(m)) continue;
      const Main& main = mains_[m];
      if (length(main.line) > 2.0 * snap_ && distance(main.line.front(), main.line.back()) > snap_)
        continue;
      report_.add({"import.short", Grade::info, main.layer, main.label, "geometry",
                   fmt::format("ends {:.2f} m apart", apart),
                   "its two ends lie within the snap tolerance; they were kept apart",
                   "pipe " + main.id, false});
      return;
    }
  }

  Joined settle() {
    Joined out;
    out.ends.resize(mains_.size());
    std::vector<std::size_t> joint_of(spots_.size(), 0);
    for (std::size_t s = 0; s < spots_.size(); ++s) {
      if (root(s) != s) continue;
      const Cluster& cluster = clusters_[s];
      for (const auto member : cluster.spots) joint_of[member] = out.joints.size();
      out.joints.push_back(joint(cluster));
    }
    for (std::size_t e = 0; e < ends_.size(); ++e) {
      const std::size_t j = joint_of[spot_of_end_[e]];
      out.ends[ends_[e].main][ends_[e].last ? 1 : 0] = j;
      move(ends_[e], out.joints[j].at);
    }
    return out;
  }

  /// How many mains are drawn through one place.
  static std::size_t weight(const Spot& spot) { return spot.ends.size() + (spot.passed ? 1 : 0); }
  /// The joint stands where the map has a node, else where most mains are drawn, else where the
  /// first is.
  Joint joint(const Cluster& cluster) const {
    const Spot* best = nullptr;
    Joint joint;
    joint.elevation = Length::from_si(NAN);
    std::vector<std::size_t> spots = cluster.spots;
    std::ranges::sort(spots);
    for (const auto s : spots) {
      const Spot& spot = spots_[s];
      joint.ends += spot.ends.size();
      if (!spot.ends.empty()) joint.tier = spot.tier;
      const bool better = best == nullptr || (spot.node != nullptr && best->node == nullptr) ||
                          (best->node == nullptr && weight(spot) > weight(*best));
      if (better) best = &spot;
    }
    joint.at = best->at;
    joint.exact = weight(*best) > 1 || best->node != nullptr;
    if (best->node != nullptr) {
      joint.id = best->node->id;
      joint.map_order = static_cast<std::size_t>(best->node - nodes_.data()) + 1;
      joint.elevation = best->node->elevation;
      if (joint.ends == 0) joint.tier = best->node->tier;
    }
    return joint;
  }
  void move(const End& end, XY to) {
    Main& main = mains_[end.main];
    XY& point = end.last ? main.line.back() : main.line.front();
    const double moved = distance(point, to);
    point = to;
    if (moved <= exact_m) return;
    report_.add({"import.snapped", Grade::warn, main.layer, main.label, "geometry",
                 fmt::format("gap {:.2f} m", moved),
                 fmt::format("its {} was moved onto the joint", end.last ? "end" : "beginning"),
                 "pipe " + main.id, false});
  }

  std::vector<Main>& mains_;
  const std::vector<MapNode>& nodes_;
  double snap_;
  Report& report_;
  std::vector<End> ends_;
  std::vector<Spot> spots_;
  std::map<std::string, std::size_t, std::less<>> node_by_id_;
  std::map<Place, std::size_t> spot_at_;
  std::map<const MapNode*, std::size_t> spot_of_node_;
  std::vector<std::size_t> spot_of_end_;
  std::vector<std::size_t> cluster_of_;
  std::vector<Cluster> clusters_;
};

}  // namespace

Joined join_ends(std::vector<Main>& mains, const std::vector<MapNode>& nodes, double snap,
                 Report& report) {
  return Joiner(mains, nodes, snap, report).run();
}

}  // namespace bellhole::maps
