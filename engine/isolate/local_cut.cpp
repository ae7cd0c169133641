#include "isolate/local_cut.hpp"

#include <algorithm>

namespace bellhole::isolate {

LocalCut::LocalCut(const Layout& layout, const Prices& prices, Scratch& scratch)
    : layout_(layout), prices_(prices), scratch_(scratch) {
  scratch_.fit(layout);
}

bool LocalCut::sources_within(Place first, Place past) const {
  const auto& sources = scratch_.lost;
  const auto found = std::lower_bound(sources.begin(), sources.end(), first);
  return found != sources.end() && *found < past;
}

void LocalCut::make(Place place, Mark& mark) {
  ++touched_;
  const Spot& spot = layout_.spots[at(place)];
  mark.solve = solve_;
  mark.role = Role::open;
  mark.last = spot.below;
  if (place == root) {
    mark.rest = forbidden;
    return;
  }
  mark.rest = prices_.within(place, spot.past);
  if (spot.past == place + 1 || !sources_within(place + 1, spot.past)) return;
  // Blocks that hold a source are looked at one vertex at a time; the others stay counted into this
  // one.
  mark.last = layout_.spots[at(place) + 1].arcs;
  mark.rest = 0;
  each_lost_run(place, [&](Place first, Place past) {
    mark.rest = plus(mark.rest, prices_.within(first, past));
  });
}

bool LocalCut::reduce_labels() {
  auto& lost = scratch_.lost;
  std::sort(lost.begin(), lost.end());
  std::size_t kept = 0;
  for (const Place place : lost) {
    if (kept > 0 && place < layout_.spots[at(lost[kept - 1])].past)
      continue;  // hangs on a lost one
    lost[kept++] = place;
  }
  lost.resize(kept);
  for (const Place place : scratch_.served) {
    const auto above = std::upper_bound(lost.begin(), lost.end(), place);
    if (above != lost.begin() && place < layout_.spots[at(*(above - 1))].past) return false;
    touch(place).role = Role::served;
    touch(place).rest = forbidden;
  }
  return true;
}

bool LocalCut::grow_sources() {
  auto& queue = scratch_.queue;
  queue.clear();
  value_ = 0;
  const auto add = [&](Place place) {
    Mark& mark = touch(place);
    if (mark.role == Role::source) return true;
    if (mark.rest == forbidden) {
      blocked_place_ = place;
      return false;
    }
    mark.role = Role::source;
    mark.zone = zone_;
    value_ += mark.rest;
    queue.push_back(place);
    return true;
  };
  for (const Place place : scratch_.lost) {
    if (!add(place)) return false;
  }
  bool free = true;
  for (std::size_t head = 0; free && head < queue.size(); ++head) {
    each_arc(queue[head], [&](const Arc& arc) {
      if (prices_.shut(arc) < forbidden) return true;
      if (arc.to == root) blocked_edge_ = arc.edge;
      return free = arc.to != root && add(arc.to);
    });
  }
  return free;
}

bool LocalCut::seed() {
  solve_ = ++scratch_.stamp;
  zone_ = ++scratch_.stamp;
  blocked_edge_ = -1;
  blocked_place_ = nowhere;
  if (!reduce_labels() || !grow_sources()) return false;
  sources_ = scratch_.queue.size();
  return true;
}

Cost LocalCut::residual(Place from, const Arc& arc) const {
  const Cost shut = prices_.shut(arc);
  if (shut == forbidden) return forbidden;  // takes any flow either way, so none is kept
  const Flow& flow = scratch_.flows[at(arc.edge)];
  if (flow.solve != solve_) return shut;
  return from < arc.to ? shut - flow.amount : shut + flow.amount;
}

void LocalCut::send(Place from, const Arc& arc, Cost amount) {
  Flow& flow = scratch_.flows[at(arc.edge)];
  if (flow.solve != solve_) flow = {solve_, 0};
  flow.amount += from < arc.to ? amount : -amount;
}

/// Levels from the sources to the places where flow can end, up to `reach` times as far as the
/// nearest. False: there is none, and all that was met is the zone.
bool LocalCut::spread(std::int32_t reach) {
  phase_ = ++scratch_.stamp;
  auto& queue = scratch_.queue;
  queue.resize(sources_);
  for (const Place place : queue) {
    Mark& mark = touch(place);
    mark.seen = phase_;
    mark.level = 0;
    mark.slack = forbidden;
    mark.next = layout_.spots[at(place)].arcs;
  }
  std::int32_t end = -1;  // level at which flow can end first
  for (std::size_t head = 0; head < queue.size(); ++head) {
    const Place from = queue[head];
    const std::int32_t level = scratch_.marks[at(from)].level + 1;
    const Cost slack = scratch_.marks[at(from)].slack;
    if (end >= 0 && level > reach * end) break;
    each_arc(from, [&](const Arc& arc) {
      if (scratch_.marks[at(arc.to)].seen == phase_) return true;
      const Cost room = residual(from, arc);
      if (room == 0) return true;
      Mark& mark = touch(arc.to);
      mark.seen = phase_;
      mark.level = level;
      mark.slack = std::min(slack, room);
      mark.next = layout_.spots[at(arc.to)].arcs;
      if (mark.rest > 0 && end < 0) end = level;
      queue.push_back(arc.to);
      return true;
    });
  }
  return end >= 0;
}

/// Goes one arc down a level from the end of the path. False: there is no way on.
bool LocalCut::advance(Place from) {
  const Spot& spot = layout_.spots[at(from)];
  Mark& mark = scratch_.marks[at(from)];
  for (; mark.next < mark.last; ++mark.next) {
    const Arc& arc = layout_.arcs[at(mark.next)];
    const Mark& to = scratch_.marks[at(arc.to)];
    if (to.seen != phase_ || to.level != mark.level + 1) continue;
    if (mark.next >= spot.below && !open_block(arc.to)) continue;
    if (residual(from, arc) == 0) continue;
    scratch_.path.push_back(arc.to);
    return true;
  }
  return false;
}

/// Sends what the path can take, and steps back to the first arc that is full.
void LocalCut::push() {
  auto& path = scratch_.path;
  const auto arc_from = [&](std::size_t i) -> const Arc& {
    return layout_.arcs[at(scratch_.marks[at(path[i])].next)];
  };
  Cost amount = scratch_.marks[at(path.back())].rest;
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    amount = std::min(amount, residual(path[i], arc_from(i)));
  }
  value_ += amount;
  Mark& end = scratch_.marks[at(path.back())];
  if (end.rest < forbidden) end.rest -= amount;
  std::size_t keep = path.size();
  for (std::size_t i = path.size() - 1; i-- > 0;) {
    if (prices_.shut(arc_from(i)) == forbidden) continue;
    send(path[i], arc_from(i), amount);
    if (residual(path[i], arc_from(i)) == 0) keep = i + 1;
  }
  path.resize(keep);
}

/// A blocking flow on the levels of the last spread.
void LocalCut::block() {
  auto& path = scratch_.path;
  for (std::size_t s = 0; s < sources_; ++s) {
    path.assign(1, scratch_.queue[s]);
    while (!path.empty()) {
      const Mark& mark = scratch_.marks[at(path.back())];
      if (path.size() > 1 && mark.rest > 0) {
        push();
      } else if (!advance(path.back())) {
        path.pop_back();
        if (!path.empty()) ++scratch_.marks[at(path.back())].next;
      }
    }
  }
}

void LocalCut::flow() {
  // Most cuts are done in a phase or two and must not look far; one that takes many has far to go.
  constexpr std::int32_t farthest = 64;
  for (std::int32_t phase = 1; spread(std::clamp(phase / 2, 1, farthest)); ++phase) block();
  for (const Place place : scratch_.queue) scratch_.marks[at(place)].zone = zone_;
}

Cost LocalCut::probe(Place from) {
  const Stamp probe = ++scratch_.stamp;
  auto& queue = scratch_.path;
  queue.assign(1, from);
  touch(from).seen = probe;
  scratch_.marks[at(from)].slack = forbidden;
  Cost found = 0;
  for (std::size_t head = 0; found == 0 && head < queue.size(); ++head) {
    const Place u = queue[head];
    const Cost slack = scratch_.marks[at(u)].slack;
    each_arc(u, [&](const Arc& arc) {
      if (in_zone(arc.to) || scratch_.marks[at(arc.to)].seen == probe) return true;
      const Cost room = std::min(slack, residual(u, arc));
      if (room == 0) return true;
      Mark& mark = touch(arc.to);
      mark.seen = probe;
      mark.slack = room;
      queue.push_back(arc.to);
      found = std::min(room, mark.rest);
      return found == 0;
    });
  }
  return found;
}

}  // namespace bellhole::isolate
