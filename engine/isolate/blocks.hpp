// The block-cut tree of a graph seen from one vertex, by depth-first search (Hopcroft and Tarjan
// 1973, "Algorithm 447: efficient algorithms for graph manipulation"), and the numbering that it
// gives.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "isolate/layout.hpp"

namespace bellhole::isolate {

/// Neighbours of each vertex in one list: those of v are to[first[v] .. first[v + 1]).
struct Neighbours {
  std::vector<std::int32_t> first;
  std::vector<Vertex> to;
  std::vector<EdgeIndex> edge;
};

/// A block: the vertex at its top and its lower members, in the order in which the search met them.
struct Block {
  Vertex top = 0;
  std::int32_t first = 0, past = 0;  ///< lower members, as a run of Blocks::members
};

/// Blocks of the part that `from` reaches; a block stands before the one that it hangs on.
struct Blocks {
  std::vector<Block> blocks;
  std::vector<Vertex> members;
};

Blocks find_blocks(const Neighbours& neighbours, Vertex from);

/// Fills spots (past and block runs), vertex_at and place_of of the layout. `from` gets place 0.
void number_places(const Blocks& blocks, Vertex from, std::size_t vertices, Layout& layout);

}  // namespace bellhole::isolate
