// What a plan reply says about the map, in metres of its projection, and the window of it that is
// shown.
#pragma once

#include <string>
#include <vector>

#include "sheets/polyline.hpp"
#include "sheets/reply.hpp"

namespace bellhole::sheets {

struct MapLine {
  std::string pipe, size, material, street;
  double weight = 1.0;  ///< points, for its size
  Polyline line;
  double length_m = 0;  ///< as recorded; the drawn line may be a little longer or shorter
};

enum class Sign {
  regulator,
  sensing_tap,
  source,
  valve,
  earlier_squeeze,
  must_not_lose,
  must_not_lose_out,
  customer_out,
  fixed,
  other
};

struct MapPoint {
  Sign sign = Sign::other;
  std::string says;
  Point at;
  Point direction{1, 0};  ///< along the nearest main
};

struct MapShutoff {
  std::string letter, kind;
  Point at;
  Point direction;  ///< along its main
};

struct MapShapes {
  std::vector<MapLine> backdrop;  ///< `material` holds its kind: coast, street, building, water
  std::vector<MapLine> lines;
  std::vector<MapLine> isolated;  ///< parts of mains
  std::vector<MapPoint> points;
  std::vector<MapShutoff> shutoffs;
  std::vector<Point> work;  ///< one point, or the two ends of a stretch
  [[nodiscard]] bool empty() const { return lines.empty(); }
};

/// Weight of the line for a size in the words of the trade: "IPS 8", "dn 125", "NPS 6".
double weight_for(const std::string& size);

MapShapes shapes_of(const Reply& reply, std::size_t plan);

/// From metres to paper: north up, the job in the middle.
class View {
 public:
  /// Shows the job (work, shut-offs, isolated mains, customers out) with room around it.
  View(const MapShapes& shapes, const Box& box);
  [[nodiscard]] Point on_paper(Point metres) const;
  [[nodiscard]] Polyline on_paper(const Polyline& metres) const;
  [[nodiscard]] double points_per_metre() const { return scale_; }

 private:
  double scale_ = 1;
  Point middle_, centre_;
};

}  // namespace bellhole::sheets
