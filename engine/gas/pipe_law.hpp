// The law of a pipe: what potential a mass flow loses along it.
//
// `general`, the default, is the isothermal general flow equation in mass flow and absolute
// pressure:
//
//   potential(p1) - potential(p2) = (8 R_s T / (pi^2 D^5)) f(Re) m|m| L,   potential = integral of
//   p/Z dp,
//
// which for Z = 1 is p1^2 - p2^2 = (16 R_s T / (pi^2 D^5)) f m|m| L. Darcy friction as in
// friction.hpp. One law from inches of water to 10 bar; nothing is special about low pressure. The
// kinetic term (2 ln p1/p2) is left out: it matters at a break, not in a main.
//
// `fuel_gas_code` is the smooth-wall form behind the pipe tables of the International Fuel Gas Code
// 2018, chapter 4, and of NFPA 54 (Appendix A.4; constants from memory, proven against 104 cells of
// the tables):
//
//   below 1.5 psi:  Q = 2313 D^2.623 (dH / (Cr L))^0.541
//   from 1.5 psi:   Q = 2237 D^2.623 ((P1^2 - P2^2) Y / (Cr L))^0.541,    Cr = 0.00354 G T
//   (mu/G)^0.152
//
// Q cfh at 60 degF and 30 inHg, D in, L ft, dH inH2O, P psia, T degR, mu cP. Its exponents are
// fixed: it knows neither roughness nor laminar flow.
#pragma once

#include <string_view>

#include "gas/gas.hpp"
#include "units/quantity.hpp"

namespace bellhole::gas {

enum class Law { general, fuel_gas_code };

/// "general flow equation, Colebrook 1939" …: as results print it.
std::string_view name(Law law);

/// A loss and how fast it rises with the flow. Both in Pa2.
struct Loss {
  double value = 0.0;  ///< odd in the flow
  double slope = 0.0;  ///< d value / d flow, > 0
};

/// A length of pipe, ready for many evaluations.
class PipeLaw {
 public:
  /// `supply` is the highest pressure that this pipe may see: it decides between the two
  /// fuel-gas-code forms and is not used by `general`. REQUIRES length, bore > 0, roughness >= 0.
  PipeLaw(Law law, const Flowing& gas, Length bore, Length roughness, AbsolutePressure supply,
          AbsolutePressure barometer);

  /// Loss along `length_m` at a mass flow in kg/s.
  [[nodiscard]] Loss loss(double kg_per_s, double length_m) const;

  /// The other way round: the flow that a loss drives, and how fast it rises with the loss.
  /// Explicit but for the blend between laminar and turbulent: Colebrook's equation gives Re from
  /// f Re^2, which is the loss.
  struct Driven {
    double flow = 0.0;   ///< kg/s
    double slope = 0.0;  ///< d flow / d loss
  };
  [[nodiscard]] Driven driven(double loss_pa2, double length_m) const;

  [[nodiscard]] double reynolds(double kg_per_s) const;  ///< of |flow|

  bool operator==(const PipeLaw&) const = default;

 private:
  Law law_ = Law::general;
  double per_metre_ = 0.0;  ///< loss per metre = per_metre f m|m|, or per_metre |m|^exponent
  double re_per_flow_ = 0.0;
  double relative_roughness_ = 0.0;
  double blend_below_ = 0.0;     ///< fuel gas code: flow under which the power law is made linear
  double turbulent_root_ = 0.0;  ///< sqrt f x Re where the turbulent law takes over

  [[nodiscard]] Driven driven_blend(double loss_pa2, double length_m) const;
};

/// Flow at base conditions that the fuel-gas-code form lets through a pipe: the question its tables
/// answer. `inlet` decides the form (1.5 psi). The gas of the tables is G 0.60, 60 degF, 0.012 cP.
StdFlow fuel_gas_code_capacity(Length bore, Length length, GaugePressure inlet,
                               PressureDifference drop, AbsolutePressure barometer, double gravity,
                               Temperature temperature, Viscosity viscosity);

}  // namespace bellhole::gas
