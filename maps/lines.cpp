#include "maps/lines.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace bellhole::maps {
namespace {

/// Whether the feature can be used at all; says why not.
bool usable(const RawFeature& feature, Shape wanted, Cells& cells) {
  if (feature.parts.empty()) {
    cells.say("import.no_geometry", Grade::undecided, "geometry", "empty",
              "left out: the map does not say where it is");
    return false;
  }
  if (feature.broken) {
    cells.say("import.bad_coordinates", Grade::undecided, "geometry",
              "not a number, or outside the coordinate system",
              "left out: its place cannot be computed");
    return false;
  }
  if (feature.shape != wanted) {
    cells.say("import.wrong_shape", Grade::undecided, "geometry",
              feature.shape == Shape::point  ? "point"
              : feature.shape == Shape::line ? "line"
              : feature.shape == Shape::area ? "area"
                                             : "mixed",
              wanted == Shape::line ? "left out: a line is wanted here"
                                    : "left out: a point is wanted here");
    return false;
  }
  return true;
}

/// Strings parts together whose ends meet, turning a part round where it must be.
std::vector<Line> strung(std::vector<Line> parts, double snap, std::size_t& joined,
                         std::size_t& turned) {
  std::vector<Line> out;
  for (Line& part : parts) {
    bool done = false;
    for (Line& line : out) {
      Line reversed(part.rbegin(), part.rend());
      if (distance(line.back(), part.front()) <= snap) {
        line.insert(line.end(), part.begin(), part.end());
        done = true;
      } else if (distance(part.back(), line.front()) <= snap) {
        line.insert(line.begin(), part.begin(), part.end());
        done = true;
      } else if (distance(line.back(), reversed.front()) <= snap) {
        line.insert(line.end(), reversed.begin(), reversed.end());
        done = true;
        ++turned;
      } else if (distance(reversed.back(), line.front()) <= snap) {
        line.insert(line.begin(), reversed.begin(), reversed.end());
        done = true;
        ++turned;
      }
      if (done) break;
    }
    if (done) {
      ++joined;
    } else {
      out.push_back(std::move(part));
    }
  }
  return out;
}

/// Stringing goes on until nothing more meets: a part in the middle may come last.
std::vector<Line> string_all(std::vector<Line> parts, double snap, std::size_t& joined,
                             std::size_t& turned) {
  std::size_t before = 0;
  do {
    before = parts.size();
    parts = strung(std::move(parts), snap, joined, turned);
  } while (parts.size() < before);
  return parts;
}

}  // namespace

std::size_t drop_repeats(Line& line) {
  const auto before = line.size();
  line.erase(std::ranges::unique(line).begin(), line.end());
  return before - line.size();
}

std::vector<Line> clean_lines(const RawFeature& feature, double snap, Cells& cells) {
  if (!usable(feature, Shape::line, cells)) return {};
  if (feature.curved) {
    cells.say("import.curved", Grade::info, "geometry", "arc",
              "arcs were drawn as short straight pieces");
  }
  std::vector<Line> parts = feature.parts;
  std::size_t repeats = 0;
  for (Line& part : parts) repeats += drop_repeats(part);
  if (parts.size() > 1) {
    std::size_t joined = 0, turned = 0;
    const auto count = parts.size();
    parts = string_all(std::move(parts), snap, joined, turned);
    for (Line& part : parts) drop_repeats(part);
    cells.say("import.parts", parts.size() == 1 ? Grade::warn : Grade::undecided, "geometry",
              fmt::format("{} parts", count),
              parts.size() == 1
                  ? fmt::format("the parts meet and were strung into one line{}",
                                turned > 0 ? ", some turned round" : "")
                  : fmt::format("the parts lie apart and became {} mains", parts.size()));
  }
  if (repeats > 0) {
    cells.say("import.repeated_points", Grade::info, "geometry", fmt::format("{} points", repeats),
              "repeated points were taken out");
  }
  const auto flat = std::ranges::count_if(parts, [](const Line& part) { return part.size() < 2; });
  if (flat > 0) {
    cells.say("import.zero_length", Grade::warn, "geometry", "no length",
              "left out: the line has no length");
    std::erase_if(parts, [](const Line& part) { return part.size() < 2; });
  }
  return parts;
}

std::optional<XY> clean_point(const RawFeature& feature, Cells& cells) {
  if (!usable(feature, Shape::point, cells)) return std::nullopt;
  if (feature.parts.size() > 1) {
    cells.say("import.parts", Grade::undecided, "geometry",
              fmt::format("{} points", feature.parts.size()), "the first point was taken");
  }
  return feature.parts[0][0];
}

}  // namespace bellhole::maps
