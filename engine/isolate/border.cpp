#include "isolate/border.hpp"

#include <algorithm>

namespace bellhole::isolate {

void Border::trace() {
  scratch_.inner.clear();
  scratch_.outer.clear();
  for (const Place place : cut_.zone()) {
    bool borders = false;
    cut_.each_arc(place, [&](const Arc& arc) {
      if (cut_.in_zone(arc.to)) return true;
      borders = true;
      Mark& mark = cut_.touch(arc.to);
      if (arc.to != root && mark.border != cut_.zone_stamp()) {
        mark.border = cut_.zone_stamp();
        scratch_.outer.push_back(arc.to);
      }
      return true;
    });
    if (borders) scratch_.inner.push_back(place);
  }
}

Pocket Border::find_pocket() {
  if (find_hanging()) return Pocket::hanging;
  gather_runs();
  fed_ = ++scratch_.stamp;
  for (const Place place : outer()) {
    if (has_clear_way(place) || reaches_gas(place)) continue;
    find_shore();
    return Pocket::sealed;
  }
  return Pocket::none;
}

/// The zone is joined together and the rest of what hangs on a vertex of it touches it, so a look
/// at the outer side finds every pocket of this kind.
bool Border::find_hanging() {
  for (const Place place : cut_.zone()) {
    if (!cut_.carries(place)) continue;
    for (const Place out : outer()) {
      if (out > place && out < layout_.spots[at(place)].past) {
        behind_ = place;
        return true;
      }
    }
  }
  return false;
}

/// Where the zone stands in the way of the shortest-path tree, as runs that do not meet.
void Border::gather_runs() {
  auto& runs = scratch_.runs;
  runs.clear();
  for (const Place place : cut_.zone()) {
    runs.emplace_back(layout_.spots[at(place)].tour_first, layout_.spots[at(place)].tour_past);
  }
  std::sort(runs.begin(), runs.end());
  std::size_t kept = 0;
  for (const auto& run : runs) {
    if (kept == 0 || run.first >= runs[kept - 1].second) runs[kept++] = run;
  }
  runs.resize(kept);
}

/// Whether the tree's own way from the place to gas passes clear of the zone.
bool Border::has_clear_way(Place place) const {
  const Place number = layout_.spots[at(place)].tour_first;
  const auto& runs = scratch_.runs;
  const auto after = std::upper_bound(runs.begin(), runs.end(), number,
                                      [](Place n, const auto& run) { return n < run.first; });
  return after == runs.begin() || number >= (after - 1)->second;
}

/// Looks for another way round. If there is none, scratch.pocket holds all that was met.
bool Border::reaches_gas(Place from) {
  if (scratch_.marks[at(from)].seen == fed_) return true;
  const Stamp search = ++scratch_.stamp;
  auto& met = scratch_.pocket;
  met.assign(1, from);
  scratch_.marks[at(from)].seen = search;
  bool fed = false;
  for (std::size_t head = 0; !fed && head < met.size(); ++head) {
    cut_.each_arc(met[head], [&](const Arc& arc) {
      if (cut_.in_zone(arc.to)) return true;
      Mark& mark = cut_.touch(arc.to);
      if (mark.seen == search) return true;
      if (mark.seen == fed_ || has_clear_way(arc.to)) {
        fed = true;
        return false;
      }
      mark.seen = search;
      met.push_back(arc.to);
      return true;
    });
  }
  if (fed) {
    for (const Place place : met) scratch_.marks[at(place)].seen = fed_;
  }
  return fed;
}

void Border::find_shore() {
  const Stamp search = ++scratch_.stamp;
  scratch_.shore.clear();
  for (const Place place : pocket()) {
    cut_.each_arc(place, [&](const Arc& arc) {
      Mark& mark = scratch_.marks[at(arc.to)];
      if (cut_.in_zone(arc.to) && mark.seen != search) {
        mark.seen = search;
        scratch_.shore.push_back(arc.to);
      }
      return true;
    });
  }
}

const std::vector<Place>& Border::tree(const std::vector<Place>& targets) {
  const Stamp wanted = ++scratch_.stamp;
  const Stamp search = ++scratch_.stamp;
  std::size_t missing = 0;
  for (const Place place : targets) {
    Mark& mark = scratch_.marks[at(place)];
    if (mark.role == Role::source) continue;
    mark.border = wanted;
    ++missing;
  }
  auto& queue = scratch_.path;
  auto& tree = scratch_.tree;
  queue.clear();
  tree.clear();
  if (missing == 0) return tree;
  for (const Place place : cut_.zone()) {
    Mark& mark = scratch_.marks[at(place)];
    if (mark.role != Role::source) break;  // the zone begins with its sources
    mark.seen = search;
    mark.parent = nowhere;
    queue.push_back(place);
  }
  const auto join = [&](Place place) {
    const auto first = tree.size();
    for (Place p = place; p != nowhere; p = scratch_.marks[at(p)].parent) {
      Mark& mark = scratch_.marks[at(p)];
      if (mark.role == Role::source || mark.border == search) break;
      mark.border = search;  // in the tree now
      tree.push_back(p);
    }
    std::reverse(tree.begin() + static_cast<std::ptrdiff_t>(first), tree.end());
  };
  for (std::size_t head = 0; missing > 0 && head < queue.size(); ++head) {
    cut_.each_arc(queue[head], [&](const Arc& arc) {
      if (!cut_.in_zone(arc.to)) return true;
      Mark& mark = scratch_.marks[at(arc.to)];
      if (mark.seen == search) return true;
      const bool target = mark.border == wanted;
      mark.seen = search;
      mark.parent = queue[head];
      queue.push_back(arc.to);
      if (target) {
        join(arc.to);
        --missing;
      }
      return true;
    });
  }
  return tree;
}

}  // namespace bellhole::isolate
