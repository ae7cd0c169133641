#include "network/fold.hpp"

#include <cmath>

namespace bellhole::network {
namespace {

/// A chain, and where it is shut.
struct Links {
  const Skeleton& skeleton;
  std::size_t chain;
  Index begin, end;
  Index first_shut, last_shut;  ///< end and begin - 1 where none is

  Links(const Skeleton& s, const Case& laid, std::size_t c)
      : skeleton(s), chain(c), begin(s.first[c]), end(s.first[c + 1]) {
    const auto open = [&](Index k) { return laid.closed[at(s.link_segment[at(k)])] == 0; };
    first_shut = begin;
    while (first_shut < end && open(first_shut)) ++first_shut;
    last_shut = end - 1;
    while (last_shut >= begin && open(last_shut)) --last_shut;
  }
  [[nodiscard]] bool whole() const { return first_shut == end; }
  [[nodiscard]] Index segment(Index k) const { return skeleton.link_segment[at(k)]; }
  [[nodiscard]] Index behind(Index k) const { return skeleton.link_point[at(k)]; }
  [[nodiscard]] Index before(Index k) const {
    return k == begin ? skeleton.point[at(skeleton.a[chain])] : behind(k - 1);
  }
};

void hang_trees(const Skeleton& skeleton, const Case& laid, FoldedLoads& folded) {
  folded.hanging = laid.load;
  folded.tree_flow.assign(skeleton.leaf.size(), 0.0);
  for (std::size_t k = 0; k < skeleton.leaf.size(); ++k) {
    if (laid.closed[at(skeleton.leaf_segment[k])] != 0) continue;
    folded.tree_flow[k] = folded.hanging[at(skeleton.leaf[k])];
    folded.hanging[at(skeleton.leaf_root[k])] += folded.tree_flow[k];
  }
}

/// A whole chain carries its loads itself; of a parted one, what stands before the first shut link
/// hangs on a, what stands behind the last on b, and what lies between has no gas.
void fold_chain(const Links& links, const Case& laid, FoldedLoads& folded) {
  const std::size_t c = links.chain;
  const Index a = links.skeleton.a[c], b = links.skeleton.b[c];
  double drawn = 0.0;
  for (Index k = links.begin; k < links.first_shut; ++k) {
    folded.passed[at(k)] = drawn;
    if (k + 1 < links.end) drawn += folded.hanging[at(links.behind(k))];
  }
  if (links.whole()) {
    folded.active[c] = laid.live[at(links.skeleton.point[at(a)])];
    folded.drawn[c] = drawn;
    return;
  }
  folded.core[at(a)] += drawn;
  for (Index k = links.last_shut; k + 1 < links.end; ++k) {
    folded.core[at(b)] += folded.hanging[at(links.behind(k))];
  }
}

class Unfolder {
 public:
  Unfolder(const Model::Prepared& prepared, const Case& laid, const FoldedLoads& loads,
           Settled& settled)
      : prepared_(prepared), laid_(laid), loads_(loads), settled_(settled) {}

  void chain(const Links& links, double flow_at_a) {
    if (loads_.active[links.chain] != 0) {
      for (Index k = links.begin; k < links.end; ++k) {
        const double flow = flow_at_a - loads_.passed[at(k)];
        carry(links.segment(k), links.before(k), flow);
        if (k + 1 < links.end) fall(links.segment(k), links.before(k), links.behind(k), flow);
      }
    } else if (!links.whole()) {
      front(links);
      back(links);
    }
  }

  void tree(const Skeleton& skeleton, std::size_t k) {
    const Index leaf = skeleton.leaf[k], segment = skeleton.leaf_segment[k];
    if (laid_.live[at(leaf)] == 0 || laid_.closed[at(segment)] != 0) return;
    carry(segment, skeleton.leaf_root[k], loads_.tree_flow[k]);
    fall(segment, skeleton.leaf_root[k], leaf, loads_.tree_flow[k]);
  }

 private:
  void carry(Index segment, Index from, double flow) {
    settled_.flow[at(segment)] = prepared_.points.a[at(segment)] == from ? flow : -flow;
  }
  void fall(Index segment, Index from, Index to, double flow) {
    settled_.potential[at(to)] = settled_.potential[at(from)] - prepared_.loss(segment, flow).value;
  }

  void front(const Links& links) {
    const Index root = links.before(links.begin);
    if (laid_.live[at(root)] == 0) return;
    double flow = 0.0;
    for (Index k = links.begin; k < links.first_shut; ++k)
      flow += loads_.hanging[at(links.behind(k))];
    for (Index k = links.begin; k < links.first_shut; ++k) {
      carry(links.segment(k), links.before(k), flow);
      fall(links.segment(k), links.before(k), links.behind(k), flow);
      flow -= loads_.hanging[at(links.behind(k))];
    }
  }

  void back(const Links& links) {
    const Index root = links.behind(links.end - 1);
    if (laid_.live[at(root)] == 0) return;
    double flow = 0.0;
    for (Index k = links.last_shut; k + 1 < links.end; ++k)
      flow += loads_.hanging[at(links.behind(k))];
    for (Index k = links.end - 1; k > links.last_shut; --k) {
      carry(links.segment(k), links.behind(k), flow);
      fall(links.segment(k), links.behind(k), links.before(k), flow);
      flow -= loads_.hanging[at(links.before(k))];
    }
  }

  const Model::Prepared& prepared_;
  const Case& laid_;
  const FoldedLoads& loads_;
  Settled& settled_;
};

}  // namespace

FoldedLoads fold_loads(const Skeleton& skeleton, const Case& laid) {
  FoldedLoads folded;
  hang_trees(skeleton, laid, folded);
  folded.core.resize(skeleton.size());
  for (std::size_t i = 0; i < skeleton.size(); ++i) {
    folded.core[i] = folded.hanging[at(skeleton.point[i])];
  }
  folded.passed.assign(skeleton.link_segment.size(), 0.0);
  folded.drawn.assign(skeleton.chains(), 0.0);
  folded.active.assign(skeleton.chains(), 0);
  for (std::size_t c = 0; c < skeleton.chains(); ++c) {
    fold_chain(Links(skeleton, laid, c), laid, folded);
  }
  return folded;
}

void unfold(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid,
            const FoldedLoads& loads, const std::vector<double>& core_potential,
            const std::vector<double>& chain_flow, Settled& settled) {
  settled.potential.assign(prepared.points.size(), std::nan(""));
  settled.flow.assign(prepared.points.segments(), 0.0);
  for (std::size_t i = 0; i < skeleton.size(); ++i) {
    const Index point = skeleton.point[i];
    if (laid.live[at(point)] != 0) settled.potential[at(point)] = core_potential[i];
  }
  Unfolder unfolder(prepared, laid, loads, settled);
  for (std::size_t c = 0; c < skeleton.chains(); ++c) {
    unfolder.chain(Links(skeleton, laid, c), chain_flow[c]);
  }
  // Roots before leaves.
  for (std::size_t k = skeleton.leaf.size(); k-- > 0;) unfolder.tree(skeleton, k);
}

}  // namespace bellhole::network
