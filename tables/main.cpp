// Makes the table of the squeeze force from full runs, one after another on one processor. Each run
// is kept in FOLDER as soon as it is done, so that what was broken off goes on where it stopped.
//
//   bellhole-table FOLDER COMMIT > engine/flatten/table_data.cpp
#include <fmt/format.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include "tables/points.hpp"

namespace bellhole::tables {
namespace {

namespace fs = std::filesystem;

/// A line a sample, gap in m and force in N, with all digits.
Curve read(const fs::path& path) {
  std::ifstream in(path);
  Curve curve;
  for (double gap = 0.0, force = 0.0; in >> gap >> force;)
    curve.push_back({0, Duration(), Length::from_si(gap), Force::from_si(force)});
  if (curve.empty()) throw std::runtime_error(path.string() + " has no samples: remove it");
  return curve;
}

Curve compute(const Point& p) {
  Unwatched unwatched;
  OneLane lane;
  const Length stop = flatten::walls_meet(p.jaws.wall) * (1.0 - pressed.back() - 0.01);
  const auto done = flatten::run({.od = p.jaws.od,
                                  .wall = p.jaws.wall,
                                  .bar_radius = p.jaws.bar_radius,
                                  .gap = stop,
                                  .share = p.share,
                                  .pressure = p.jaws.pressure,
                                  .closing = p.closing,
                                  .bricks = p.bricks,
                                  .samples = 240},
                                 unwatched, lane);
  if (!done) throw std::runtime_error(p.name + ": " + done.error().where + " " + done.error().fix);
  return done->pressed.samples;
}

/// As on disk, computed first where it is not there yet.
Curve curve_of(const fs::path& folder, const Point& p) {
  const fs::path path = folder / (p.name + ".txt"), part = path.string() + ".part";
  if (!fs::exists(path)) {
    const std::clock_t begun = std::clock();
    const Curve curve = compute(p);
    std::ofstream out(part);
    for (const auto& sample : curve)
      out << fmt::format("{} {}\n", sample.gap.si(), sample.force.si());
    out.close();
    if (!out) throw std::runtime_error(part.string() + " cannot be written");
    fs::rename(part, path);
    fmt::print(stderr, "{}: {:.1f} s of the processor\n", p.name,
               static_cast<double>(std::clock() - begun) / CLOCKS_PER_SEC);
  }
  return read(path);
}

std::vector<Curve> curves(const fs::path& folder, const std::vector<Point>& points) {
  std::vector<Curve> list;
  for (const Point& p : points) list.push_back(curve_of(folder, p));
  return list;
}

int make(const fs::path& folder, const char* commit) {
  fs::create_directories(folder);
  const Runs runs{.nodes = curves(folder, nodes()),
                  .between_gas = curves(folder, between_gas()),
                  .held_out = curves(folder, held_out()),
                  .ordinary = curves(folder, ordinary())};
  fmt::print("{}", table_source(commit, runs));
  return 0;
}

}  // namespace
}  // namespace bellhole::tables

int main(int argc, char** argv) {
  if (argc != 3) {
    fmt::print(stderr, "bellhole-table FOLDER COMMIT\n");
    return 2;
  }
  try {
    return bellhole::tables::make(argv[1], argv[2]);
  } catch (const std::exception& error) {
    fmt::print(stderr, "bellhole-table: {}\n", error.what());
    return 3;
  }
}
