// The relaxed subproblem: the cheapest zone that holds what must be lost and leaves out what must
// be served, found as a minimum cut that looks only at the neighbourhood of the work.
//
// Relaxed, because a zone may leave a pocket: vertices outside it with no way to gas. Its cost then
// counts too little, which makes it a bound. Whatever hangs on a vertex and holds no source is lost
// with it and is counted into that vertex, so it is never looked at.
//
// The flow starts in the sources, passes an edge up to its shut cost and ends in vertices up to
// their lost cost. Because nearly every vertex takes some of it up, it dies out after tens of
// vertices whatever the size of the town. Blocking flows on breadth-first levels (Dinic 1970).
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "isolate/layout.hpp"
#include "isolate/prices.hpp"
#include "isolate/scratch.hpp"

namespace bellhole::isolate {

class LocalCut {
 public:
  LocalCut(const Layout& layout, const Prices& prices, Scratch& scratch);

  /// Takes the labels in scratch.lost and scratch.served and adds to the sources all that edges
  /// which may not be shut join to them. False: no such zone. The zone is then the sources (see
  /// zone()).
  bool seed();
  /// After seed(): the cheapest zone. Of several the smallest, which all others contain.
  void flow();

  /// Cost of the zone: its vertices and the edges out of it.
  [[nodiscard]] Cost value() const { return value_; }
  [[nodiscard]] const std::vector<Place>& zone() const { return scratch_.queue; }
  [[nodiscard]] bool in_zone(Place place) const { return scratch_.marks[at(place)].zone == zone_; }
  [[nodiscard]] Stamp zone_stamp() const { return zone_; }

  /// After seed() said no: the supply edge or the place that stands in the way.
  [[nodiscard]] EdgeIndex blocked_edge() const { return blocked_edge_; }
  [[nodiscard]] Place blocked_place() const { return blocked_place_; }

  /// The mark of a place in this subproblem, made if it has none yet.
  Mark& touch(Place place) {
    Mark& mark = scratch_.marks[at(place)];
    if (mark.solve != solve_) make(place, mark);
    return mark;
  }
  /// Whether sources hang on the place, below it.
  [[nodiscard]] bool carries(Place place) const {
    return scratch_.marks[at(place)].last > layout_.spots[at(place)].below;
  }
  /// Calls visit(arc) for the arcs of a touched place, except into what hangs on it without a
  /// source, until one answers false.
  template <class Visit>
  void each_arc(Place place, Visit visit) const {
    const Spot& spot = layout_.spots[at(place)];
    for (std::int32_t i = spot.arcs; i < scratch_.marks[at(place)].last; ++i) {
      if (i >= spot.below && !open_block(layout_.arcs[at(i)].to)) continue;
      if (!visit(layout_.arcs[at(i)])) return;
    }
  }
  /// Calls visit(first, past) for the runs of places that are lost with a touched place: itself,
  /// and what hangs on it without a source.
  template <class Visit>
  void each_lost_run(Place place, Visit visit) const {
    const Spot& spot = layout_.spots[at(place)];
    if (!carries(place)) return visit(place, spot.past);
    visit(place, place + 1);
    for (Place first = place + 1; first < spot.past; first = layout_.spots[at(first)].block_past) {
      if (!open_block(first)) visit(first, layout_.spots[at(first)].block_past);
    }
  }
  /// Flow that `arc`, seen from `from`, could still take.
  [[nodiscard]] Cost residual(Place from, const Arc& arc) const;
  /// After flow(): some flow that could still run from a place outside the zone to where flow ends;
  /// 0 if none.
  Cost probe(Place from);

  /// Vertices touched since this was made.
  [[nodiscard]] std::int64_t touched() const { return touched_; }

 private:
  static std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

  void make(Place place, Mark& mark);
  bool reduce_labels();
  bool grow_sources();
  [[nodiscard]] bool sources_within(Place first, Place past) const;
  [[nodiscard]] bool open_block(Place member) const {
    const Spot& spot = layout_.spots[at(member)];
    return sources_within(spot.block_first, spot.block_past);
  }
  bool spread(std::int32_t reach);
  void block();
  bool advance(Place from);
  void push();
  void send(Place from, const Arc& arc, Cost amount);

  const Layout& layout_;
  const Prices& prices_;
  Scratch& scratch_;
  Stamp solve_ = 0, phase_ = 0, zone_ = 0;
  std::size_t sources_ = 0;  ///< the first so many of scratch.queue
  Cost value_ = 0;
  EdgeIndex blocked_edge_ = -1;
  Place blocked_place_ = nowhere;
  std::int64_t touched_ = 0;
};

}  // namespace bellhole::isolate
