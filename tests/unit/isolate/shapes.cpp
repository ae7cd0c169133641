#include "shapes.hpp"

#include <algorithm>
#include <cstddef>

namespace bellhole::isolate::test {

namespace {

void join(Sketch& sketch, int a, int b) {
  if (sketch.edges.size() < 10) sketch.edges.push_back({a, b, 0});
}

void draw_any(Sketch& sketch, std::mt19937& random) {
  const int n = pick(random, 0, 4) == 0 ? pick(random, 1, 4) : pick(random, 5, 7);
  sketch.lost.resize(static_cast<std::size_t>(n));
  for (int e = pick(random, n - 1, 10); e > 0; --e)
    join(sketch, pick(random, 0, n - 1), pick(random, 0, n - 1));
}

void draw_ladder(Sketch& sketch, std::mt19937& random) {
  const int rungs = pick(random, 2, 3);
  sketch.lost.resize(static_cast<std::size_t>(2 * rungs + 1));
  for (int i = 0; i < rungs; ++i) {
    join(sketch, 2 * i, 2 * i + 1);
    if (i > 0) join(sketch, 2 * i - 2, 2 * i);
    if (i > 0) join(sketch, 2 * i - 1, 2 * i + 1);
  }
  join(sketch, pick(random, 0, 2 * rungs - 1), 2 * rungs);
  if (pick(random, 0, 1) == 1) join(sketch, pick(random, 0, 2 * rungs - 1), 2 * rungs);
}

void draw_twin_mains(Sketch& sketch, std::mt19937& random) {
  sketch.lost.resize(7);
  join(sketch, 0, 1);
  join(sketch, 1, 2);
  join(sketch, 0, 3);
  join(sketch, 3, 2);
  if (pick(random, 0, 1) == 1) join(sketch, 0, 2);
  for (int v = 4; v < 7; ++v) {
    join(sketch, pick(random, 0, v - 1), v);
    if (pick(random, 0, 2) > 0) join(sketch, pick(random, 0, v - 1), v);
  }
}

void draw_loops(Sketch& sketch, std::mt19937& random) {
  sketch.lost.resize(7);
  const int first = pick(random, 0, 1), second = pick(random, 0, 4);
  join(sketch, 0, 1);
  join(sketch, first, 2);
  join(sketch, 2, 3);
  join(sketch, 3, 4);
  join(sketch, 4, first);
  join(sketch, second, 5);
  join(sketch, 5, 6);
  join(sketch, 6, second);
  while (pick(random, 0, 1) == 1) join(sketch, pick(random, 0, 6), pick(random, 0, 6));
}

void draw_village(Sketch& sketch, std::mt19937& random) {
  sketch.lost.resize(7);
  join(sketch, 0, 1);
  for (int v = 2; v < 7; ++v) join(sketch, pick(random, 1, v - 1), v);
  while (sketch.edges.size() < 10 && pick(random, 0, 5) > 0)
    join(sketch, pick(random, 1, 6), pick(random, 1, 6));
}

/// Few different costs make many ties; some are zero and some forbidden.
Cost draw_cost(std::mt19937& random, int most, int forbidden_in_hundred) {
  if (pick(random, 1, 100) <= forbidden_in_hundred) return forbidden;
  return pick(random, 0, most);
}

void set_costs(Sketch& sketch, std::mt19937& random) {
  const int dear = pick(random, 0, 3) == 0 ? 1'000'000 : pick(random, 1, 12);
  const int dearest = pick(random, 0, 3) == 0 ? 0 : pick(random, 1, 6);
  const int unshuttable = pick(random, 0, 3) == 0 ? 25 : pick(random, 0, 1) * 8;
  for (Edge& edge : sketch.edges) edge.shut = draw_cost(random, dear, unshuttable);
  for (Cost& cost : sketch.lost) cost = draw_cost(random, dearest, pick(random, 0, 2) == 0 ? 6 : 0);
}

/// Numbers must not follow the shape: the search meets vertices and edges in their order.
void rename(Sketch& sketch, std::mt19937& random) {
  std::vector<Vertex> name(sketch.lost.size());
  for (std::size_t v = 0; v < name.size(); ++v) name[v] = static_cast<Vertex>(v);
  for (std::size_t v = name.size(); v-- > 1;) std::swap(name[v], name[random() % (v + 1)]);
  for (Edge& edge : sketch.edges) {
    edge.a = name[static_cast<std::size_t>(edge.a)];
    edge.b = name[static_cast<std::size_t>(edge.b)];
  }
  for (Supply& supply : sketch.supplies) supply.at = name[static_cast<std::size_t>(supply.at)];
  for (std::size_t e = sketch.edges.size(); e-- > 1;)
    std::swap(sketch.edges[e], sketch.edges[random() % (e + 1)]);
}

}  // namespace

int pick(std::mt19937& random, int least, int most) {
  return least + static_cast<int>(random() % static_cast<unsigned>(most - least + 1));
}

Sketch draw_grid(std::mt19937& random) {
  Sketch sketch;
  const int wide = pick(random, 3, 4), crossings = 3 * wide;
  sketch.lost.resize(static_cast<std::size_t>(crossings + pick(random, 0, 13 - crossings)));
  const auto street = [&](int a, int b) {
    if (pick(random, 0, 4) > 0) sketch.edges.push_back({a, b, 0});
    if (pick(random, 0, 14) == 0) sketch.edges.push_back({a, b, 0});
  };
  for (int v = 0; v < crossings; ++v) {
    if (v % wide > 0) street(v - 1, v);
    if (v >= wide) street(v - wide, v);
  }
  for (int v = crossings; v < static_cast<int>(sketch.lost.size()); ++v) {
    sketch.edges.push_back({pick(random, 0, v - 1), v, 0});
  }
  set_costs(sketch, random);
  for (int s = pick(random, 1, 2); s > 0; --s) {
    sketch.supplies.push_back({pick(random, 0, crossings - 1), draw_cost(random, 9, 70)});
  }
  rename(sketch, random);
  return sketch;
}

Sketch draw(Shape shape, std::mt19937& random) {
  Sketch sketch;
  switch (shape) {
    case Shape::any:
      draw_any(sketch, random);
      break;
    case Shape::ladder:
      draw_ladder(sketch, random);
      break;
    case Shape::twin_mains:
      draw_twin_mains(sketch, random);
      break;
    case Shape::loops:
      draw_loops(sketch, random);
      break;
    case Shape::village:
      draw_village(sketch, random);
      break;
  }
  set_costs(sketch, random);
  const int last = static_cast<int>(sketch.lost.size()) - 1;
  const bool one = shape == Shape::village;  // at its feed
  for (int s = one ? 1 : pick(random, 0, 9) == 0 ? 0 : pick(random, 1, 3); s > 0; --s) {
    sketch.supplies.push_back({one ? 0 : pick(random, 0, last), draw_cost(random, 9, 70)});
  }
  rename(sketch, random);
  return sketch;
}

std::vector<Vertex> draw_work(const Sketch& sketch, std::mt19937& random) {
  std::vector<Vertex> work;
  for (int i = pick(random, 0, 3) < 2 ? 1 : pick(random, 2, 3); i > 0; --i) {
    work.push_back(pick(random, 0, static_cast<int>(sketch.lost.size()) - 1));
  }
  return work;
}

void draw_costs(const Sketch& sketch, std::mt19937& random, Query& query) {
  for (std::size_t e = 0; e < sketch.edges.size(); ++e) {
    if (pick(random, 0, 4) == 0)
      query.edges.push_back({static_cast<EdgeIndex>(e), draw_cost(random, 10, 30)});
  }
  for (std::size_t v = 0; v < sketch.lost.size(); ++v) {
    if (pick(random, 0, 4) == 0)
      query.vertices.push_back({static_cast<Vertex>(v), draw_cost(random, 5, 20)});
  }
  for (std::size_t s = 0; s < sketch.supplies.size(); ++s) {
    if (pick(random, 0, 2) == 0)
      query.supplies.push_back({static_cast<std::int32_t>(s), draw_cost(random, 9, 40)});
  }
}

}  // namespace bellhole::isolate::test
