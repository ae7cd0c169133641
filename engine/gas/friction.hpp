// Darcy friction: how much of its potential a flow loses to the wall of a round pipe.
#pragma once

namespace bellhole::gas {

/// Reynolds numbers between which neither laminar nor turbulent flow is certain. Customary; the
/// blend in between is cubic in Re, has the value and the slope of each side at its end, and keeps
/// f Re2 (the loss) strictly rising.
inline constexpr double laminar_ends = 2000.0;
inline constexpr double turbulent_begins = 4000.0;

struct Friction {
  double factor = 0.0;  ///< Darcy's, four times Fanning's
  double slope = 0.0;   ///< d ln factor / d ln Re
};

/// Colebrook 1939, the equation itself: 1/sqrt f = -2 log10(rel/3.7 + 2.51/(Re sqrt f)). Solved to
/// the last digits by two steps of Clamond, Ind. Eng. Chem. Res. 48 (2009) 3665. REQUIRES re >=
/// 1000, relative roughness in [0, 0.1].
Friction colebrook(double re, double relative_roughness);

/// Hagen-Poiseuille: 64/Re. REQUIRES re > 0.
Friction laminar(double re);

/// Laminar below 2000, Colebrook above 4000, blended between. REQUIRES re > 0.
Friction darcy(double re, double relative_roughness);

}  // namespace bellhole::gas
