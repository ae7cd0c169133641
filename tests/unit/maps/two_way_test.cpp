#include "maps/two_way.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

namespace bellhole::maps {
namespace {

using network::Index;

/// What two-way means, tried out: cut the pipe, and both its ends still reach a source.
Feed by_hand(const network::Network& net, std::size_t pipe) {
  const auto reach = [&](bool with_pipe) {
    std::vector<bool> fed(net.nodes.size(), false);
    for (const Index source : net.sources.node) fed[static_cast<std::size_t>(source)] = true;
    for (bool grown = true; grown;) {
      grown = false;
      for (std::size_t p = 0; p < net.pipes.size(); ++p) {
        bool open = with_pipe || p != pipe;
        for (std::size_t v = 0; v < net.valves.size(); ++v) {
          if (net.valves.pipe[v] == static_cast<Index>(p) &&
              net.valves.position[v] == network::Position::closed)
            open = false;
        }
        const auto a = static_cast<std::size_t>(net.pipes.from[p]),
                   b = static_cast<std::size_t>(net.pipes.to[p]);
        if (open && fed[a] != fed[b]) fed[a] = fed[b] = grown = true;
      }
      for (std::size_t r = 0; r < net.regulators.size(); ++r) {
        const auto a = static_cast<std::size_t>(net.regulators.inlet[r]),
                   b = static_cast<std::size_t>(net.regulators.outlet[r]);
        if (fed[a] != fed[b]) fed[a] = fed[b] = grown = true;
      }
    }
    return fed;
  };
  const auto from = static_cast<std::size_t>(net.pipes.from[pipe]),
             to = static_cast<std::size_t>(net.pipes.to[pipe]);
  const auto whole = reach(true), without = reach(false);
  if (!whole[from] && !whole[to]) return Feed::none;
  for (std::size_t v = 0; v < net.valves.size(); ++v) {
    if (net.valves.pipe[v] == static_cast<Index>(pipe) &&
        net.valves.position[v] == network::Position::closed)
      return Feed::one_way;
  }
  return without[from] && without[to] ? Feed::two_way : Feed::one_way;
}

TEST(TwoWay, IsWhatCuttingThePipeShows) {
  rc::check([] {
    network::Network net;
    const int nodes = *rc::gen::inRange(2, 9);
    net.nodes.id.resize(static_cast<std::size_t>(nodes));
    const auto node = [&] { return static_cast<Index>(*rc::gen::inRange(0, nodes)); };
    const int pipes = *rc::gen::inRange(1, 14);
    for (int i = 0; i < pipes; ++i) {
      net.pipes.id.push_back("p");
      net.pipes.from.push_back(node());
      net.pipes.to.push_back(node());
    }
    for (int i = *rc::gen::inRange(0, 3); i > 0; --i) {
      net.valves.id.push_back("v");
      net.valves.pipe.push_back(static_cast<Index>(*rc::gen::inRange(0, pipes)));
      net.valves.position.push_back(
          *rc::gen::element(network::Position::open, network::Position::closed));
    }
    for (int i = *rc::gen::inRange(0, 3); i > 0; --i) {
      net.regulators.id.push_back("r");
      net.regulators.inlet.push_back(node());
      net.regulators.outlet.push_back(node());
    }
    for (int i = *rc::gen::inRange(0, 3); i > 0; --i) {
      net.sources.id.push_back("s");
      net.sources.node.push_back(node());
    }
    const auto feeds = feeds_of(net);
    for (std::size_t p = 0; p < net.pipes.size(); ++p) RC_ASSERT(feeds[p] == by_hand(net, p));
  });
}

}  // namespace
}  // namespace bellhole::maps
