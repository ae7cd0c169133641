#include "linepack/drain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bellhole::linepack {
namespace {

std::optional<Duration> lasts(StdVolume usable, StdFlow draw) {
  if (!(draw.si() > 0.0)) return std::nullopt;
  return Duration::from_si(usable.si() / draw.si());
}

Result<bool> can_be(const DrainQuestion& question) {
  const Closed& closed = question.closed;
  if (!(closed.volume.si() > 0.0) || !std::isfinite(closed.volume.si())) {
    return trouble(Code::out_of_range, "volume", fmt::format("{:g} m3", closed.volume.si()),
                   "give the inside volume of the closed length");
  }
  if (!(closed.temperature.si() > 0.0) || !(closed.barometer.si() > 0.0)) {
    return trouble(
        Code::out_of_range, "temperature or barometer",
        fmt::format("{:g} K, {:g} Pa (abs)", closed.temperature.si(), closed.barometer.si()),
        "neither can be nought or less");
  }
  const Draw& draw = question.draw;
  if (!(draw.low.si() >= 0.0) || !std::isfinite(draw.high.si())) {
    return trouble(Code::out_of_range, "draw", fmt::format("{:g} std m3/s", draw.low.si()),
                   "a draw is nought or more: gas that comes in is no draw");
  }
  if (draw.low > draw.high) {
    return trouble(Code::contradiction, "draw", fmt::format("{:g} std m3/s", draw.low.si()),
                   "give the lower draw first");
  }
  return true;
}

}  // namespace

Result<Drained> drain(const DrainQuestion& question) {
  BELLHOLE_TRY(good, can_be(question));
  static_cast<void>(good);
  Drained drained;
  if (question.from > question.floor)
    drained.usable = held(question.closed, question.from) - held(question.closed, question.floor);
  const bool low = question.low_pressure && question.from <= *question.low_pressure;
  drained.at_once = low || question.from <= question.floor;
  drained.shortest = lasts(drained.usable, question.draw.high);
  drained.longest = lasts(drained.usable, question.draw.low);
  if (drained.at_once && drained.shortest) drained.shortest = Duration();
  if (drained.at_once && drained.longest) drained.longest = Duration();
  return drained;
}

}  // namespace bellhole::linepack
