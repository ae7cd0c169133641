#include "gas/pipe_law.hpp"

#include <cmath>
#include <numbers>

#include "gas/friction.hpp"

namespace bellhole::gas {
namespace {

constexpr double inch = 0.0254;
constexpr double foot = 0.3048;
constexpr double psi = 6894.757293168;
constexpr double inch_of_water = 249.08891;
constexpr double cubic_foot_per_hour = foot * foot * foot / 3600.0;
constexpr double centipoise = 1e-3;

// The fuel-gas-code form, in its own units.
constexpr double code_threshold_psi = 1.5;
constexpr double code_low = 2313.0;
constexpr double code_high = 2237.0;
constexpr double code_bore_power = 2.623;
constexpr double code_loss_power = 0.541;
constexpr double code_y_natural_gas = 0.9992;

double code_cr(double gravity, double temperature_k, double viscosity_pa_s) {
  return 0.00354 * gravity * (temperature_k * 1.8) *
         std::pow(viscosity_pa_s / centipoise / gravity, 0.152);
}

/// Loss of the code's form per metre at 1 kg/s: potential in Pa2.
double code_per_metre(const Flowing& gas, double bore_m, AbsolutePressure supply,
                      AbsolutePressure barometer) {
  const double gas_kg_per_std_m3 =
      us_base.pressure.si() / (gas.specific_constant * us_base.temperature.si());
  const double cfh = 1.0 / gas_kg_per_std_m3 / cubic_foot_per_hour;
  const double cr = code_cr(gas.gravity, gas.temperature_k, gas.viscosity_pa_s);
  const double shape = std::pow(bore_m / inch, code_bore_power);
  const bool low = (supply.si() - barometer.si()) / psi < code_threshold_psi;
  const double constant = low ? code_low : code_high;
  const double per_foot = cr * std::pow(cfh / (constant * shape), 1.0 / code_loss_power);
  const double potential = low ? per_foot * inch_of_water * supply.si()
                               : per_foot / code_y_natural_gas * psi * psi / 2.0;
  return potential / foot;
}

}  // namespace

std::string_view name(Law law) {
  return law == Law::general ? "general flow equation (isothermal), Colebrook 1939 friction"
                             : "fuel gas code smooth-wall form (IFGC 2018 A.4)";
}

PipeLaw::PipeLaw(Law law, const Flowing& gas, Length bore, Length roughness,
                 AbsolutePressure supply, AbsolutePressure barometer)
    : law_(law) {
  constexpr double pi = std::numbers::pi;
  const double d = bore.si();
  re_per_flow_ = 4.0 / (pi * d * gas.viscosity_pa_s);
  relative_roughness_ = roughness.si() / d;
  if (law == Law::general) {
    per_metre_ = 8.0 * gas.specific_constant * gas.temperature_k / (pi * pi * std::pow(d, 5));
    turbulent_root_ =
        std::sqrt(darcy(turbulent_begins, relative_roughness_).factor) * turbulent_begins;
  } else {
    per_metre_ = code_per_metre(gas, d, supply, barometer);
    blend_below_ = laminar_ends / re_per_flow_;
  }
}

double PipeLaw::reynolds(double kg_per_s) const { return std::abs(kg_per_s) * re_per_flow_; }

Loss PipeLaw::loss(double kg_per_s, double length_m) const {
  const double m = std::abs(kg_per_s);
  const double sign = kg_per_s < 0.0 ? -1.0 : 1.0;
  if (law_ == Law::general) {
    const double re = m * re_per_flow_;
    if (re <= laminar_ends) {
      const double slope = per_metre_ * length_m * 64.0 / re_per_flow_;
      return {slope * kg_per_s, slope};
    }
    const Friction f = darcy(re, relative_roughness_);
    const double per_flow = per_metre_ * length_m * f.factor * m;
    return {sign * per_flow * m, per_flow * (2.0 + f.slope)};
  }
  constexpr double power = 1.0 / code_loss_power;
  const double scale = per_metre_ * length_m;
  if (m >= blend_below_) {
    const double per_flow = scale * std::pow(m, power - 1.0);
    return {sign * per_flow * m, power * per_flow};
  }
  // a m + b m^3 with the value and slope of the power law where it takes over, so that a pipe
  // without flow still has a slope.
  const double per_flow = scale * std::pow(blend_below_, power - 1.0);
  const double b = per_flow * (power - 1.0) / 2.0 / (blend_below_ * blend_below_);
  const double a = per_flow - b * blend_below_ * blend_below_;
  return {kg_per_s * (a + b * m * m), a + 3.0 * b * m * m};
}

PipeLaw::Driven PipeLaw::driven(double loss_pa2, double length_m) const {
  if (law_ != Law::general) return driven_blend(loss_pa2, length_m);
  const double scale = per_metre_ * length_m;
  const double re2 = re_per_flow_ * re_per_flow_;
  const double laminar = re_per_flow_ / (64.0 * scale);
  const double size = std::abs(loss_pa2);
  if (laminar * size * re_per_flow_ <= laminar_ends) return {laminar * loss_pa2, laminar};
  const double root = std::sqrt(size * re2 / scale);  // sqrt f x Re
  if (root < turbulent_root_) return driven_blend(loss_pa2, length_m);
  // 1/sqrt f = -2 log10(rel/3.7 + 2.51/(Re sqrt f)), Re = root / sqrt f.
  constexpr double two_over_ln10 = 0.868588963806503655;
  const double inside = relative_roughness_ / 3.7 + 2.51 / root;
  const double inverse_root_f = -two_over_ln10 * std::log(inside);
  const double flow = root * inverse_root_f / re_per_flow_;
  const double per_root = inverse_root_f + two_over_ln10 * 2.51 / (root * inside);
  return {loss_pa2 < 0.0 ? -flow : flow, per_root * root / (2.0 * size * re_per_flow_)};
}

/// Newton's method held between bounds.
PipeLaw::Driven PipeLaw::driven_blend(double loss_pa2, double length_m) const {
  const double size = std::abs(loss_pa2);
  if (size == 0.0) return {0.0, 1.0 / loss(0.0, length_m).slope};
  double low = 0.0, high = HUGE_VAL;
  double flow = law_ == Law::general ? laminar_ends / re_per_flow_ : blend_below_;
  Loss now = loss(flow, length_m);
  constexpr int most = 60;
  for (int i = 0; i < most; ++i) {
    (now.value > size ? high : low) = flow;
    double next = flow - (now.value - size) / now.slope;
    if (!(next >= low && next <= high)) next = std::isinf(high) ? 2.0 * flow : 0.5 * (low + high);
    const bool done = std::abs(next - flow) <= 1e-14 * next;
    flow = next;
    now = loss(flow, length_m);
    if (done || next == 0.0) break;
  }
  return {loss_pa2 < 0.0 ? -flow : flow, 1.0 / now.slope};
}

StdFlow fuel_gas_code_capacity(Length bore, Length length, GaugePressure inlet,
                               PressureDifference drop, AbsolutePressure barometer, double gravity,
                               Temperature temperature, Viscosity viscosity) {
  const double cr = code_cr(gravity, temperature.si(), viscosity.si());
  const double shape = std::pow(bore.si() / inch, code_bore_power);
  const double feet = length.si() / foot;
  double cfh = 0.0;
  if (inlet.si() / psi < code_threshold_psi) {
    const double head = drop.si() / inch_of_water;
    cfh = code_low * shape * std::pow(head / (cr * feet), code_loss_power);
  } else {
    const double p1 = (inlet.si() + barometer.si()) / psi;
    const double p2 = p1 - drop.si() / psi;
    const double squares = (p1 - p2) * (p1 + p2);
    cfh = code_high * shape * std::pow(squares * code_y_natural_gas / (cr * feet), code_loss_power);
  }
  return StdFlow::from_si(cfh * cubic_foot_per_hour);
}

}  // namespace bellhole::gas
