#include "gas/flattened.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellhole::gas {
namespace {

/// Weisbach 1855: contraction behind a sharp edge, by the share of the section that is open.
double sharp_contraction(double share) { return 0.63 + 0.37 * share * share * share; }

double expansion_loss(double share) {
  if (share <= 0.0) return std::numeric_limits<double>::infinity();
  const double narrower = 1.0 / share - 1.0;
  return narrower * narrower;
}

double section(Length bore) { return std::numbers::pi / 4.0 * bore.si() * bore.si(); }

/// Isentropic exponent of natural gas; only for what chokes.
constexpr double exponent = 1.30;

}  // namespace

double open_share(double clear_share) {
  const double y = std::clamp(clear_share, 0.0, 1.0);
  return y * (2.0 - y);
}

Flattened flattened(Length bore, Length wall, Length gap) {
  const double d = bore.si();
  const double clear = std::clamp(gap.si() - 2.0 * wall.si(), 0.0, d);
  Flattened made;
  made.clear = Length::from_si(clear);
  made.flat = Length::from_si(std::numbers::pi / 2.0 * (d - clear));
  made.share = open_share(clear / d);
  made.area = Area::from_si(section(bore) * made.share);
  return made;
}

LossRange squeeze_loss(double share_open) {
  const double share = std::clamp(share_open, 0.0, 1.0);
  return {expansion_loss(share), expansion_loss(share * sharp_contraction(share))};
}

double loss_per_flow_squared(const Flowing& gas, Length bore, double k) {
  const double area = section(bore);
  return k * gas.specific_constant * gas.temperature_k / (2.0 * area * area);
}

MassFlow passes(const Flowing& gas, Length bore, double k, AbsolutePressure from,
                AbsolutePressure to) {
  if (std::isinf(k)) return MassFlow{};
  const double high = std::max(from.si(), to.si());
  const double fall = std::abs(gas.potential(from.si()) - gas.potential(to.si()));
  const double driven = std::sqrt(fall / loss_per_flow_squared(gas, bore, k));
  const double contracted = section(bore) / (1.0 + std::sqrt(k));
  const double sonic =
      std::sqrt(exponent / (gas.z(high) * gas.specific_constant * gas.temperature_k));
  const double critical =
      std::pow(2.0 / (exponent + 1.0), (exponent + 1.0) / (exponent - 1.0) / 2.0);
  const double flow = std::min(driven, contracted * high * sonic * critical);
  return MassFlow::from_si(from.si() < to.si() ? -flow : flow);
}

}  // namespace bellhole::gas
