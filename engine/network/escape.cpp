#include "network/escape.hpp"

#include <algorithm>

#include "gas/halving.hpp"

namespace bellhole::network {
namespace {

double most_held(const std::vector<gas::OpenLength>& sides) {
  double most = 0.0;
  for (const gas::OpenLength& side : sides) most = std::max(most, side.held.si());
  return most;
}

Escape broken_through(const std::vector<gas::OpenLength>& sides, const gas::Flowing& flowing,
                      AbsolutePressure air) {
  Escape out;
  out.at = air;
  double fastest = 0.0;
  for (const gas::OpenLength& side : sides) {
    const gas::OpenFlow flow =
        side.held > air ? gas::flow_into(side, flowing, air) : gas::OpenFlow{{}, air, false};
    out.sides.push_back(flow);
    out.flow = out.flow + flow.flow;
    if (!(flow.flow.si() > fastest)) continue;
    fastest = flow.flow.si();
    out.at = flow.exit;
    out.regime = flow.choked ? gas::Regime::choked : gas::Regime::subsonic;
  }
  out.unlimited = out.flow;
  return out;
}

}  // namespace

Escape escape(const std::vector<gas::OpenLength>& sides, const Opening& opening,
              const gas::Flowing& flowing, AbsolutePressure air) {
  const double most = most_held(sides);
  if (!opening.area || most <= air.si()) return broken_through(sides, flowing, air);
  const gas::Hole hole{opening.area->si(), opening.coefficient};
  const auto blows = [&](double inside) {
    return gas::through(
        hole, {flowing.specific_constant, flowing.temperature_k, flowing.z(inside), opening.k},
        inside, air.si());
  };
  const double inside = gas::falls_through(air.si(), most, [&](double pa) {
    double fed = 0.0;
    for (const gas::OpenLength& side : sides)
      fed += gas::flow_into(side, flowing, AbsolutePressure::from_si(pa)).flow.si();
    return fed - blows(pa).kg_per_s;
  });
  Escape out;
  out.at = AbsolutePressure::from_si(inside);
  for (const gas::OpenLength& side : sides) {
    out.sides.push_back(gas::flow_into(side, flowing, out.at));
    out.flow = out.flow + out.sides.back().flow;
  }
  out.regime = blows(inside).regime;
  out.unlimited = MassFlow::from_si(blows(most).kg_per_s);
  return out;
}

}  // namespace bellhole::network
