#include "plan/standoff.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using network::Point;

double apart(Point p, Point a, Point b) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double square = dx * dx + dy * dy;
  const double t =
      square > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
  return std::hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

}  // namespace

Standoff::Standoff(const network::Network& network, const Work& work, const procedure::Case& in,
                   const procedure::Profile& profile)
    : network_(network),
      ruling_(profile.ruling("plan.standoff", in)),
      distance_(ruling_.as<kinds::Length>()) {
  for (const Piece& piece : work.pieces)
    lines_.push_back(network::line_between(network, piece.pipe, piece.begin, piece.end));
}

Length Standoff::away(network::Index pipe, Length station) const {
  const Point p = network::point_on(network_, pipe, station);
  double least = std::numeric_limits<double>::infinity();
  for (const auto& line : lines_) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
      least = std::min(least, apart(p, line[i], line[i + 1]));
  }
  return Length::from_si(least);
}

std::vector<squeeze::Window> Standoff::outside(network::Index pipe,
                                               const squeeze::Window& window) const {
  if (!distance_) return {window};
  constexpr double finest =
      0.05;  // metres; the distance changes by at most as much as the station does
  const double reach = distance_->si();
  const double length = (window.second - window.first).si();
  if (away(pipe, window.first).si() - length >= reach) return {window};
  std::vector<squeeze::Window> parts;
  double begin = window.first.si();
  bool open = false;
  double s = begin;
  const auto close = [&](double end) {
    if (open && end >= begin) parts.push_back({Length::from_si(begin), Length::from_si(end)});
    open = false;
  };
  double last_clear = s;
  for (;;) {
    const double spare = away(pipe, Length::from_si(s)).si() - reach;
    if (spare >= 0.0) {
      if (!open) begin = s, open = true;
      last_clear = s;
    } else {
      close(last_clear);
    }
    if (s >= window.second.si()) break;
    s = std::min(window.second.si(), s + std::max(finest, std::abs(spare)));
  }
  close(last_clear);
  return parts;
}

Findings Standoff::findings(units::System system) const {
  const procedure::Held held{
      .quantity = "stand-off of a squeeze from the work",
      .about = "the work",
      .action =
          "set it in the company's profile; where gas is blowing nobody works within reach of it"};
  if (!distance_) return {procedure::not_set(ruling_, held, system)};
  return procedure::caveats(ruling_, held.about, system);
}

}  // namespace bellhole::plan
