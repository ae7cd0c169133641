#include "linepack/vent.hpp"

#include <fmt/format.h>

#include <cmath>
#include <functional>

namespace bellhole::linepack {
namespace {

/// Intervals of Simpson's rule, and every how many of them a point of the course is kept.
constexpr int intervals = 192, kept = 12;

Result<bool> check(const VentQuestion& question) {
  const Stack& stack = question.stack;
  const bool sizes = stack.bore.si() > 0.0 && stack.length.si() > 0.0 && stack.loss >= 0.0 &&
                     question.closed.volume.si() > 0.0 && std::isfinite(stack.length.si());
  if (!sizes) {
    return trouble(Code::out_of_range, "stack",
                   fmt::format("{:g} m by {:g} m", stack.bore.si(), stack.length.si()),
                   "give bore and length of the stack, and the volume that it vents");
  }
  if (stack.height.si() < 0.0 || stack.height > stack.length) {
    return trouble(Code::out_of_range, "height", fmt::format("{:g} m", stack.height.si()),
                   "the mouth stands at most the stack's length above the section");
  }
  if (!(question.to < question.from)) {
    return trouble(Code::contradiction, "down_to", fmt::format("{:g} Pa (gauge)", question.to.si()),
                   "the pressure to vent down to is under the one at the start");
  }
  return true;
}

/// Pressure at the foot of the stack at which nothing flows.
AbsolutePressure rest(const VentQuestion& question) {
  const double height = question.stack.height.si();
  const AbsolutePressure mouth = gas::barometer_higher(
      question.closed.barometer, height, Temperature::from_si(question.gas.temperature_k));
  return AbsolutePressure::from_si(question.gas.at_rest_higher(mouth.si(), -height));
}

gas::OpenFlow out(const VentQuestion& question, AbsolutePressure inside, AbsolutePressure rest) {
  const Stack& stack = question.stack;
  return gas::flow_into({inside, stack.length, stack.bore, stack.roughness, stack.loss},
                        question.gas, rest);
}

struct Way {
  AbsolutePressure from, to, still;  ///< still: where nothing flows
};
using Moment = std::function<void(Duration, AbsolutePressure, const gas::OpenFlow&, bool keep)>;

/// Simpson's rule over the root of what is left above rest; every even point is told to `at`.
template <class Flow>
Duration blow_down(const Closed& closed, const gas::Flowing& gas, const Way& way, const Flow& flow,
                   const Moment& at) {
  const double per_rt = closed.volume.si() / (gas.specific_constant * gas.temperature_k);
  const double first = std::sqrt((way.from - way.still).si());
  const double h = (first - std::sqrt((way.to - way.still).si())) / intervals;
  double clock = 0.0, before = 0.0, middle = 0.0;
  for (int i = 0; i <= intervals; ++i) {
    const double root = first - h * i;
    const auto inside = AbsolutePressure::from_si(way.still.si() + root * root);
    const gas::OpenFlow out = flow(inside);
    const double slope =
        per_rt * (1.0 + 2.0 * gas.k_per_pa * inside.si()) * 2.0 * root / out.flow.si();
    if (i % 2 == 1) {
      middle = slope;
      continue;
    }
    if (i > 0) clock += h / 3.0 * (before + 4.0 * middle + slope);
    before = slope;
    at(Duration::from_si(clock), inside, out, i % kept == 0);
  }
  return Duration::from_si(clock);
}

}  // namespace

std::optional<Duration> empties(const Closed& closed, const gas::Flowing& gas, GaugePressure from,
                                GaugePressure to, const gas::Hole& hole, double k) {
  const double air = closed.barometer.si();
  if (!(from > to) || !(to.si() > 0.0) || !(hole.area_m2 > 0.0)) return std::nullopt;
  return blow_down(
      closed, gas,
      {absolute(from, closed.barometer), absolute(to, closed.barometer), closed.barometer},
      [&](AbsolutePressure inside) {
        const gas::Blowing blowing{gas.specific_constant, gas.temperature_k, gas.z(inside.si()), k};
        return gas::OpenFlow{
            MassFlow::from_si(gas::through(hole, blowing, inside.si(), air).kg_per_s),
            closed.barometer, false};
      },
      [](Duration, AbsolutePressure, const gas::OpenFlow&, bool) {});
}

Result<Vented> vent(const VentQuestion& question) {
  BELLHOLE_TRY(good, check(question));
  static_cast<void>(good);
  const AbsolutePressure still = rest(question);
  const AbsolutePressure from = absolute(question.from, question.closed.barometer);
  const AbsolutePressure to = absolute(question.to, question.closed.barometer);
  if (!(to > still)) {
    return trouble(Code::contradiction, "down_to", fmt::format("{:g} Pa (gauge)", question.to.si()),
                   "a vent comes as near to the air's pressure as is wished, but not to it: give a "
                   "little more, such as one inch of water");
  }
  Vented vented;
  const Moment at = [&](Duration when, AbsolutePressure inside, const gas::OpenFlow& flow,
                        bool keep) {
    if (flow.choked) vented.choked_until = when;
    if (keep)
      vented.course.push_back(
          {when, gauge(inside, question.closed.barometer), flow.flow, flow.choked});
  };
  vented.takes = blow_down(
      question.closed, question.gas, {from, to, still},
      [&](AbsolutePressure inside) { return out(question, inside, still); }, at);
  vented.rests_at = gauge(still, question.closed.barometer);
  vented.gas = held(question.closed, question.from) - held(question.closed, question.to);
  vented.mass = Mass::from_si(question.closed.volume.si() *
                              (question.gas.density(from.si()) - question.gas.density(to.si())));
  return vented;
}

}  // namespace bellhole::linepack
