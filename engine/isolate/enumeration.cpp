#include "isolate/enumeration.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

namespace bellhole::isolate {

namespace {

constexpr std::int64_t tick_every = 64;  ///< subproblems between two looks at the Watch
constexpr std::size_t settled_at_most =
    64;  ///< open subproblems turned into cuts when the limit is reached

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

bool before(const Cut& a, const Cut& b) {
  const std::size_t shut_a = a.shut.size() + a.supplies_shut.size();
  const std::size_t shut_b = b.shut.size() + b.supplies_shut.size();
  return std::tie(a.cost, shut_a, a.shut, a.supplies_shut) <
         std::tie(b.cost, shut_b, b.shut, b.supplies_shut);
}

}  // namespace

Enumeration::Enumeration(const Graph& graph, const Query& query, Prices prices, Scratch& scratch,
                         Watch& watch)
    : graph_(&graph),
      layout_(graph.layout()),
      prices_(std::move(prices)),
      scratch_(scratch),
      watch_(watch),
      limit_(query.limit),
      tie_limit_(std::max<std::int64_t>(query.tie_limit, 1)),
      cut_(layout_, prices_, scratch_),
      border_(layout_, cut_, scratch_) {
  for (const Vertex v : query.work) {
    if (graph.fed(v)) {
      work_.push_back(layout_.place_of[at(v)]);
    } else {
      off_.push_back(v);
    }
  }
  std::sort(off_.begin(), off_.end());
  off_.erase(std::unique(off_.begin(), off_.end()), off_.end());
  if (work_.empty()) {
    ready_.emplace_back();  // nothing need be shut
    return;
  }
  labels_.begin();
  for (const Place place : work_) labels_.add(place, true);
  push(0, labels_.take(Labels::none));
}

bool Enumeration::later(const Entry& a, const Entry& b) {
  return std::pair(a.bound, a.number) > std::pair(b.bound, b.number);
}

void Enumeration::push(Cost bound, Labels::Step step) {
  heap_.push_back({bound, made_++, step});
  std::push_heap(heap_.begin(), heap_.end(), later);
}

std::optional<Cut> Enumeration::next(Cost below) {
  if (ready_.empty() && proof_.ended == Ended::not_yet) gather(below);
  if (ready_.empty() || ready_.back().cost >= below) return std::nullopt;
  Cut cut = std::move(ready_.back());
  ready_.pop_back();
  given_.push_back({cut.shut, cut.supplies_shut});
  if (limit_bound_ && cut.cost > *limit_bound_) proof_.optimal = false;
  return cut;
}

Cost Enumeration::next_bound() const { return heap_.empty() ? forbidden : heap_.front().bound; }

Proof Enumeration::proof() const {
  Proof proof = proof_;
  proof.touched = cut_.touched();
  proof.bound = limit_bound_ ? *limit_bound_ : ready_.empty() ? next_bound() : ready_.back().cost;
  return proof;
}

/// Finds the cuts of the next cost. They are ready when no open subproblem can hold another of that
/// cost, and none is looked for once all open subproblems cost `below` or more.
void Enumeration::gather(Cost below) {
  const auto full = [&] {
    return !ready_.empty() && (next_bound() > ready_.front().cost ||
                               static_cast<std::int64_t>(ready_.size()) >= tie_limit_);
  };
  const auto wanted = [&] { return next_bound() < below || !ready_.empty(); };
  while (!heap_.empty() && wanted() && !full()) {
    if (proof_.examined >= limit_) {
      if (ready_.empty()) settle();
      break;
    }
    if (proof_.examined % tick_every == 0 &&
        !watch_.tick(static_cast<double>(proof_.examined) / static_cast<double>(limit_))) {
      proof_.ended = Ended::cancelled;
      break;
    }
    std::pop_heap(heap_.begin(), heap_.end(), later);
    const Entry entry = heap_.back();
    heap_.pop_back();
    open(entry);
  }
  std::sort(ready_.begin(), ready_.end(), [](const Cut& a, const Cut& b) { return before(b, a); });
  if (!ready_.empty() || !heap_.empty() || proof_.ended != Ended::not_yet) return;
  proof_.ended = Ended::all_given;
  if (given_.empty()) explain();
}

/// Solves one subproblem. Where its cost turns out to lie beyond what is to be looked at first, it
/// waits with that as its bound and is solved again when its turn comes: cheaper than to keep every
/// zone.
void Enumeration::open(const Entry& entry) {
  ++proof_.examined;
  labels_.apply(entry.step, scratch_);
  if (!cut_.seed()) return;
  cut_.flow();
  const Cost value = cut_.value();
  const Cost ahead = std::min(next_bound(), ready_.empty() ? forbidden : ready_.front().cost);
  if (value > ahead) return push(value, entry.step);
  border_.trace();
  switch (border_.find_pocket()) {
    case Pocket::hanging:
      ++proof_.pockets;
      return split_at_hanging(entry, value);
    case Pocket::sealed:
      ++proof_.pockets;
      return split_at_sealed(entry, value);
    case Pocket::none:
      ready_.push_back(cut_of_zone());
      split_at_cut(entry, value);
  }
}

/// Either the vertex before the pocket is served, or it is lost and all that hangs on it too.
void Enumeration::split_at_hanging(const Entry& entry, Cost value) {
  labels_.begin();
  push(value, labels_.take(entry.step, border_.behind(), false));
  push(value, labels_.take(entry.step, border_.behind(), true));
}

/// Either one of the vertices that seal the pocket (or that join those to the work) is served, or
/// all are lost and the pocket too.
void Enumeration::split_at_sealed(const Entry& entry, Cost value) {
  labels_.begin();
  border_.tree(border_.shore());
  split_along_tree(entry, value);
  Cost sure = 0;
  for (const Place place : border_.pocket()) {
    labels_.add(place, true);
    if (scratch_.marks[at(place)].role == Role::served) return;
    cut_.each_lost_run(
        place, [&](Place first, Place past) { sure = plus(sure, prices_.within(first, past)); });
  }
  if (sure < forbidden) push(std::max(value, sure), labels_.take(entry.step));
}

/// Every other cut of this subproblem serves a vertex on the inner side of the border (or one that
/// joins these to the work), or else loses the whole zone and a vertex on its outer side.
void Enumeration::split_at_cut(const Entry& entry, Cost value) {
  labels_.begin();
  border_.tree(border_.inner());
  split_along_tree(entry, value);
  for (const Place place : cut_.zone()) {
    if (scratch_.marks[at(place)].role != Role::source) labels_.add(place, true);
  }
  for (const Place place : border_.outer()) {
    Mark& mark = scratch_.marks[at(place)];
    if (mark.role == Role::served) continue;
    const Cost more = cost_of_losing(place);
    if (more < forbidden) push(value + more, labels_.take(entry.step, place, true));
    labels_.add(place, false);
    mark.role = Role::served;
    mark.rest = forbidden;
  }
}

/// For each vertex of the tree in turn: all before it lost, it served. Leaves the list with all of
/// them lost.
void Enumeration::split_along_tree(const Entry& entry, Cost value) {
  for (const Place place : scratch_.tree) {
    const Cost more = cost_of_serving(place);
    if (more < forbidden) push(value + more, labels_.take(entry.step, place, false));
    labels_.add(place, true);
    scratch_.marks[at(place)].role = Role::source;
  }
}

/// Least that the cost rises when a vertex of the zone must be served: flow that can still run into
/// it.
Cost Enumeration::cost_of_serving(Place place) const {
  Cost direct = 0;
  cut_.each_arc(place, [&](const Arc& arc) {
    if (scratch_.marks[at(arc.to)].solve != scratch_.marks[at(place)].solve) return true;
    if (scratch_.marks[at(arc.to)].role != Role::source) return true;
    Arc back = arc;
    back.to = place;
    direct = plus(direct, cut_.residual(arc.to, back));
    return true;
  });
  return std::max(direct, scratch_.marks[at(place)].slack);
}

/// Least that the cost rises when a vertex next to the zone is lost too: flow that can still run
/// out of it.
Cost Enumeration::cost_of_losing(Place place) {
  Cost direct = scratch_.marks[at(place)].rest;
  cut_.each_arc(place, [&](const Arc& arc) {
    if (!cut_.in_zone(arc.to) && cut_.touch(arc.to).role == Role::served) {
      direct = plus(direct, cut_.residual(place, arc));
    }
    return true;
  });
  return direct > 0 ? direct : cut_.probe(place);
}

Cut Enumeration::cut_of_zone() const {
  Cut cut;
  const auto edges = static_cast<EdgeIndex>(graph_->edges());
  for (const Place place : cut_.zone()) {
    cut_.each_arc(place, [&](const Arc& arc) {
      if (cut_.in_zone(arc.to)) return true;
      cut.cost += prices_.shut(arc);
      if (arc.edge < edges) {
        cut.shut.push_back(arc.edge);
      } else {
        cut.supplies_shut.push_back(arc.edge - edges);
      }
      return true;
    });
    cut_.each_lost_run(place, [&](Place first, Place past) {
      cut.cost += prices_.within(first, past);
      for (Place p = first; p < past; ++p) cut.lost.push_back(layout_.vertex_at[at(p)]);
    });
  }
  std::sort(cut.shut.begin(), cut.shut.end());
  std::sort(cut.supplies_shut.begin(), cut.supplies_shut.end());
  std::sort(cut.lost.begin(), cut.lost.end());
  return cut;
}

/// Makes the zone of `lost` and of all that is lost with it: what edges that may not be shut join
/// to it, and every pocket. False: that would lose what may not be lost.
bool Enumeration::close_zone(std::vector<Place> lost) {
  for (;;) {
    scratch_.lost = lost;
    scratch_.served.clear();
    if (!cut_.seed()) return false;
    border_.trace();
    switch (border_.find_pocket()) {
      case Pocket::none:
        return true;
      case Pocket::hanging:
        lost.push_back(border_.behind());
        break;
      case Pocket::sealed:
        lost.insert(lost.end(), border_.pocket().begin(), border_.pocket().end());
        break;
    }
  }
}

/// The limit is reached: turns the most promising open subproblems into cuts by losing their
/// pockets. These are good cuts at their exact cost, but dearer or cheaper ones may be missing from
/// the list.
void Enumeration::settle() {
  proof_.ended = Ended::limit;
  limit_bound_ = next_bound();
  for (std::size_t i = 0; i < settled_at_most && !heap_.empty(); ++i) {
    std::pop_heap(heap_.begin(), heap_.end(), later);
    labels_.apply(heap_.back().step, scratch_);
    heap_.pop_back();
    ++proof_.examined;
    if (!cut_.seed()) continue;
    cut_.flow();
    if (close_zone(cut_.zone())) ready_.push_back(cut_of_zone());
  }
  const auto known = [&](const Cut& cut) {
    return std::find(given_.begin(), given_.end(), Shut{cut.shut, cut.supplies_shut}) !=
           given_.end();
  };
  std::erase_if(ready_, known);
  std::sort(ready_.begin(), ready_.end(), before);
  const auto same = [](const Cut& a, const Cut& b) {
    return a.shut == b.shut && a.supplies_shut == b.supplies_shut;
  };
  ready_.erase(std::unique(ready_.begin(), ready_.end(), same), ready_.end());
}

/// There is no cut, so the zone that the work drags with it must hold what may not be lost: says
/// what.
void Enumeration::explain() {
  if (close_zone(work_)) return;
  if (cut_.blocked_edge() >= 0) {
    blocked_ = {Blocked::By::supply, cut_.blocked_edge() - static_cast<EdgeIndex>(graph_->edges())};
    return;
  }
  const Place place = cut_.blocked_place();
  const Place lost = prices_.forbidden_within(place, layout_.spots[at(place)].past);
  blocked_ = {Blocked::By::vertex, layout_.vertex_at[at(lost)]};
}

}  // namespace bellhole::isolate
