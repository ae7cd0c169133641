#include "town.hpp"

#include <cstddef>
#include <random>

#include "shapes.hpp"

namespace bellhole::isolate::test {

namespace {

constexpr Cost squeeze_in_units[] = {10, 25, 60, 100};  // 2, 4, 6, 8 in
constexpr Cost valve_in_units = 2;
constexpr int metres_per_customer = 17;

enum Size : std::uint8_t { two, four, six, eight };

class Builder {
 public:
  Builder(unsigned seed, Cost unit, bool halves) : random(seed), unit_(unit), halves_(halves) {}

  Vertex node() {
    town.sketch.lost.push_back(0);
    return static_cast<Vertex>(town.sketch.lost.size() - 1);
  }

  bool chance(int in_thousand) { return pick(random, 1, 1000) <= in_thousand; }

  void pipe(Vertex a, Vertex b, Size size, int metres) {
    const int customers =
        metres / metres_per_customer + (chance(1000 * (metres % 17) / 17) ? 1 : 0);
    const bool valve = chance(size == two ? 0 : size == four ? 50 : 200);
    const Cost shut = unit_ * (valve ? valve_in_units : squeeze_in_units[size]);
    if (halves_) {
      const Vertex middle = node();
      lose(middle, customers);
      town.sketch.edges.push_back({a, middle, shut});
      town.sketch.edges.push_back({middle, b, unit_ * squeeze_in_units[size]});
      town.work.push_back({middle});
    } else {
      lose(a, customers / 2);
      lose(b, customers - customers / 2);
      town.sketch.edges.push_back({a, b, shut});
      town.work.push_back({a, b});
    }
  }

  /// One to three pipes in a row.
  void stretch(Vertex a, Vertex b, Size size, int metres) {
    const int parts = pick(random, 1, 3);
    for (int i = 1; i < parts; ++i) {
      const Vertex next = node();
      pipe(a, next, size, metres / parts);
      a = next;
    }
    pipe(a, b, size, metres / parts);
  }

  void court(Vertex at) {
    for (int i = pick(random, 1, 3); i > 0; --i) {
      const Vertex next = node();
      pipe(at, next, two, 50);
      at = next;
    }
  }

  void courts(int in_thousand) {
    const auto nodes = static_cast<Vertex>(town.sketch.lost.size());
    for (Vertex v = 0; v < nodes; ++v) {
      if (chance(in_thousand)) court(v);
    }
  }

  void supply(Vertex at) { town.sketch.supplies.push_back({at, unit_ * station_in_units}); }

  Town town;
  std::mt19937 random;

 private:
  static constexpr Cost station_in_units = 200;

  void lose(Vertex v, Cost customers) {
    town.sketch.lost[static_cast<std::size_t>(v)] += unit_ * customers;
  }

  Cost unit_;
  bool halves_;
};

Size size_of(int street) {
  return street % 32 == 0 ? eight : street % 16 == 0 ? six : street % 8 == 0 ? four : two;
}

}  // namespace

Town grid_town(const TownPlan& plan) {
  Builder builder(plan.seed, plan.unit, plan.halves);
  const int n = plan.streets;
  std::vector<Vertex> crossing;
  for (int i = 0; i < n * n; ++i) crossing.push_back(builder.node());
  const int quarters = n / 4 + 1;
  std::vector<bool> park;
  for (int i = 0; i < quarters * quarters; ++i) park.push_back(builder.chance(100));
  for (int y = 0; y < n; ++y) {
    for (int x = 0; x < n; ++x) {
      const Vertex here = crossing[static_cast<std::size_t>(y * n + x)];
      const bool green = park[static_cast<std::size_t>(y / 4 * quarters + x / 4)];
      const auto lay = [&](int street, int to) {
        const Size size = size_of(street);
        if (size == two && (green || builder.chance(250))) return;
        if (size == four && builder.chance(50)) return;
        builder.stretch(here, crossing[static_cast<std::size_t>(to)], size, 90);
      };
      if (x + 1 < n) lay(y, y * n + x + 1);
      if (y + 1 < n) lay(x, (y + 1) * n + x);
      if (x % 32 == 0 && y % 32 == 0 && builder.chance(900)) builder.supply(here);
    }
  }
  builder.courts(280);
  if (builder.town.sketch.supplies.empty()) builder.supply(crossing[0]);
  if (plan.must_not_lose > 0) {
    for (Cost& cost : builder.town.sketch.lost) {
      if (pick(builder.random, 1, plan.must_not_lose) == 1) cost += Cost{1} << 40;
    }
  }
  return std::move(builder.town);
}

Town pocket_town(int villages, unsigned seed, Cost unit) {
  Builder builder(seed, unit, false);
  Vertex left = builder.node(), right = builder.node();
  builder.supply(left);
  for (int i = 0; i < villages; ++i) {
    // A bay of the twin mains, with a rung now and then.
    const Vertex next_left = builder.node(), next_right = builder.node();
    builder.stretch(left, next_left, builder.chance(500) ? six : four,
                    pick(builder.random, 1, 3) * 60);
    builder.stretch(right, next_right, builder.chance(500) ? six : four,
                    pick(builder.random, 1, 3) * 60);
    if (i == 0 || builder.chance(400)) builder.pipe(left, right, four, 20);
    // A village of 2 to 4 by 3 crossings on it.
    const int wide = pick(builder.random, 2, 4);
    std::vector<Vertex> green;
    for (int v = 0; v < 3 * wide; ++v) {
      green.push_back(builder.node());
      const auto here = static_cast<std::size_t>(v);
      const auto up = static_cast<std::size_t>(v - wide);
      if (v % wide > 0 && builder.chance(850))
        builder.pipe(green[here - 1], green[here], two, pick(builder.random, 1, 5) * 20);
      if (v >= wide && builder.chance(850))
        builder.pipe(green[up], green[here], two, pick(builder.random, 1, 5) * 20);
    }
    builder.stretch(next_left, green[0], four, 40);
    if (builder.chance(500))
      builder.pipe(builder.chance(500) ? next_left : next_right, green.back(), two, 40);
    // A cul-de-sac loop on one of its crossings.
    const Vertex mouth = green[static_cast<std::size_t>(pick(builder.random, 0, 3 * wide - 1))];
    const Vertex one = builder.node(), other = builder.node();
    builder.pipe(mouth, one, two, 60);
    builder.pipe(one, other, two, 60);
    builder.pipe(other, mouth, two, 60);
    left = next_left;
    right = next_right;
  }
  if (builder.chance(700)) builder.supply(right);
  builder.courts(150);
  return std::move(builder.town);
}

}  // namespace bellhole::isolate::test
