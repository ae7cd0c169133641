// Where names go on a map, so that none lies on a sign, on another name or outside the frame.
#pragma once

#include <optional>
#include <vector>

#include "sheets/polyline.hpp"

namespace bellhole::sheets {

class Labels {
 public:
  explicit Labels(const Box& frame) : frame_(frame) {}

  /// Keeps names off a box, and (less strictly) off a line.
  void occupy(const Box& box) { taken_.push_back(box); }
  void pass_by(const Polyline& line) { lines_.push_back(line); }

  /// A place for a name of w by h beside a point, `off` points away from it: the least bad of
  /// sixteen, or nothing when all are taken and the name may be left out.
  std::optional<Point> beside(Point point, double off, double w, double h, bool may_be_left_out);

  /// A place for a name along a straight run, centred as near to its middle as it goes; `shift` is
  /// how far its centre stands off the line. Answers centre and angle.
  struct Slanted {
    Point centre;
    double angle = 0;
  };
  std::optional<Slanted> along(Point a, Point b, double w, double h, double shift);

 private:
  [[nodiscard]] bool is_free(const Box& box) const;
  [[nodiscard]] double crossings(const Box& box) const;
  Box frame_;
  std::vector<Box> taken_;
  std::vector<Polyline> lines_;
};

}  // namespace bellhole::sheets
