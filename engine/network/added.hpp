// A copy of a network with something laid on it for some hours: a bypass between two mains, a
// portable supply. The map itself is never edited (columns.hpp).
//
// A place on a main becomes a node by parting the main there: the pipe keeps its index and id up to
// the place, a new pipe of the same make runs on from there to the end. Everything recorded keeps
// its index but may stand on the new pipe; nodes and pipes are only appended, so states of the
// copy and of the original compare customer by customer and node by node.
#pragma once

#include <string>
#include <vector>

#include "findings/trouble.hpp"
#include "network/columns.hpp"
#include "network/steady.hpp"

namespace bellhole::network {

class WithAdded {
 public:
  /// `shut`: what is shut; its closures are moved along with the mains they stand on.
  /// REQUIRES: check_columns().
  WithAdded(Network network, Scenario shut);

  /// The node at a place of the map, made where none is. Places nearer than 1 mm to a node of the
  /// main are that node. Errors: unknown_element (no such pipe), out_of_range (beyond its length),
  /// contradiction (the main is shut at this very place: it is open on which side is meant).
  /// `where` names the field.
  Result<Index> node_at(Index pipe, Length station, std::string_view where);

  /// A main between two nodes. Answers its index.
  Index lay(std::string id, Index from, Index to, Length length, Length bore, Length roughness);

  /// Gas that enters at a node. Answers its index.
  Index supply(std::string id, Index node, GaugePressure pressure, StdFlow capacity);

  [[nodiscard]] const Network& network() const { return network_; }
  [[nodiscard]] const Scenario& shut() const { return shut_; }
  /// The pipe of the map that a pipe is a part of; none for one that was laid.
  [[nodiscard]] Index of_map(Index pipe) const { return map_pipe_[at_(pipe)]; }

 private:
  static std::size_t at_(Index i) { return static_cast<std::size_t>(i); }
  void part(Index pipe, double station, Index node);
  Index new_node(Index pipe, double station);
  Index copy_pipe(Index pipe);

  Network network_;
  Scenario shut_;
  std::vector<Index> map_pipe_;
  std::vector<double> offset_;  ///< station of the map at which each pipe begins
};

}  // namespace bellhole::network
