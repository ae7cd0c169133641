// Typed quantities. Inside Bellhole every value is SI; a unit exists only where a person types or
// reads.
//
// A kind says what a number measures. Two kinds never mix: a gauge pressure cannot be added to an
// absolute one, nor a length given where a wall compression is asked. The document suffix of a kind
// lives here, so the name of a key and the type of its value cannot disagree.
#pragma once

#include <compare>
#include <string_view>

namespace bellhole {

/// A value of one kind, held in SI. Linear kinds add, subtract and scale; points (a temperature, a
/// gauge or an absolute pressure) only differ, and their difference is another kind.
template <class Kind>
class Quantity {
 public:
  using kind = Kind;

  constexpr Quantity() = default;
  static constexpr Quantity from_si(double value) { return Quantity(value); }
  [[nodiscard]] constexpr double si() const { return value_; }

  friend constexpr auto operator<=>(Quantity, Quantity) = default;

 private:
  explicit constexpr Quantity(double value) : value_(value) {}
  double value_ = 0.0;
};

namespace kinds {

struct Linear {
  static constexpr bool linear = true;
};
/// A point on a scale; `Difference` is the kind of the distance between two points.
template <class DifferenceKind>
struct Point {
  static constexpr bool linear = false;
  using Difference = DifferenceKind;
};

// name: what a message calls it; suffix: how a document's key ends; symbol: its SI unit.
struct Fraction : Linear {
  static constexpr std::string_view name = "fraction", suffix = "", symbol = "1";
};
struct Length : Linear {
  static constexpr std::string_view name = "length", suffix = "_m", symbol = "m";
};
struct Area : Linear {
  static constexpr std::string_view name = "area", suffix = "_m2", symbol = "m2";
};
struct Volume : Linear {
  static constexpr std::string_view name = "volume", suffix = "_m3", symbol = "m3";
};
struct Duration : Linear {
  static constexpr std::string_view name = "duration", suffix = "_s", symbol = "s";
};
struct Speed : Linear {
  static constexpr std::string_view name = "speed", suffix = "_m_per_s", symbol = "m/s";
};
struct Mass : Linear {
  static constexpr std::string_view name = "mass", suffix = "_kg", symbol = "kg";
};
struct MassFlow : Linear {
  static constexpr std::string_view name = "mass flow", suffix = "_kg_per_s", symbol = "kg/s";
};
struct Density : Linear {
  static constexpr std::string_view name = "density", suffix = "_kg_per_m3", symbol = "kg/m3";
};
struct Viscosity : Linear {
  static constexpr std::string_view name = "dynamic viscosity", suffix = "_pa_s", symbol = "Pa s";
};
/// Gas counted at base conditions; a document that uses it names the base.
struct StdVolume : Linear {
  static constexpr std::string_view name = "volume of gas", suffix = "_std_m3", symbol = "std m3";
};
struct StdFlow : Linear {
  static constexpr std::string_view name = "flow of gas", suffix = "_std_m3_per_s",
                                    symbol = "std m3/s";
};
struct Force : Linear {
  static constexpr std::string_view name = "force", suffix = "_n", symbol = "N";
};
/// Strength of a material: HDB, MRS, yield. Never a gas pressure.
struct Stress : Linear {
  static constexpr std::string_view name = "stress", suffix = "_pa", symbol = "Pa";
};
struct PressureDifference : Linear {
  static constexpr std::string_view name = "pressure difference", suffix = "_pa_diff",
                                    symbol = "Pa";
};
/// How fast a pressure changes; gauge and absolute change alike.
struct PressureRate : Linear {
  static constexpr std::string_view name = "rate of pressure", suffix = "_pa_per_s",
                                    symbol = "Pa/s";
};
struct TemperatureDifference : Linear {
  static constexpr std::string_view name = "temperature difference", suffix = "_k_diff",
                                    symbol = "K";
};
struct GaugePressure : Point<PressureDifference> {
  static constexpr std::string_view name = "gauge pressure", suffix = "_pa_gauge",
                                    symbol = "Pa (gauge)";
};
struct AbsolutePressure : Point<PressureDifference> {
  static constexpr std::string_view name = "absolute pressure", suffix = "_pa_abs",
                                    symbol = "Pa (abs)";
};
/// Thermodynamic temperature.
struct Temperature : Point<TemperatureDifference> {
  static constexpr std::string_view name = "temperature", suffix = "_k", symbol = "K";
};

}  // namespace kinds

using Fraction = Quantity<kinds::Fraction>;
using Length = Quantity<kinds::Length>;
using Area = Quantity<kinds::Area>;
using Volume = Quantity<kinds::Volume>;
using Duration = Quantity<kinds::Duration>;
using Speed = Quantity<kinds::Speed>;
using Mass = Quantity<kinds::Mass>;
using MassFlow = Quantity<kinds::MassFlow>;
using Density = Quantity<kinds::Density>;
using Viscosity = Quantity<kinds::Viscosity>;
using StdVolume = Quantity<kinds::StdVolume>;
using StdFlow = Quantity<kinds::StdFlow>;
using Force = Quantity<kinds::Force>;
using Stress = Quantity<kinds::Stress>;
using PressureDifference = Quantity<kinds::PressureDifference>;
using PressureRate = Quantity<kinds::PressureRate>;
using TemperatureDifference = Quantity<kinds::TemperatureDifference>;
using GaugePressure = Quantity<kinds::GaugePressure>;
using AbsolutePressure = Quantity<kinds::AbsolutePressure>;
using Temperature = Quantity<kinds::Temperature>;

template <class K>
concept LinearKind = K::linear;
template <class K>
concept PointKind = !K::linear;

template <LinearKind K>
constexpr Quantity<K> operator+(Quantity<K> a, Quantity<K> b) {
  return Quantity<K>::from_si(a.si() + b.si());
}
template <LinearKind K>
constexpr Quantity<K> operator-(Quantity<K> a, Quantity<K> b) {
  return Quantity<K>::from_si(a.si() - b.si());
}
template <LinearKind K>
constexpr Quantity<K> operator-(Quantity<K> a) {
  return Quantity<K>::from_si(-a.si());
}
template <LinearKind K>
constexpr Quantity<K> operator*(Quantity<K> a, double factor) {
  return Quantity<K>::from_si(a.si() * factor);
}
template <LinearKind K>
constexpr Quantity<K> operator*(double factor, Quantity<K> a) {
  return a * factor;
}
template <LinearKind K>
constexpr Quantity<K> operator/(Quantity<K> a, double divisor) {
  return Quantity<K>::from_si(a.si() / divisor);
}
template <LinearKind K>
constexpr double operator/(Quantity<K> a, Quantity<K> b) {
  return a.si() / b.si();
}

template <PointKind K>
constexpr Quantity<typename K::Difference> operator-(Quantity<K> a, Quantity<K> b) {
  return Quantity<typename K::Difference>::from_si(a.si() - b.si());
}
template <PointKind K>
constexpr Quantity<K> operator+(Quantity<K> a, Quantity<typename K::Difference> d) {
  return Quantity<K>::from_si(a.si() + d.si());
}
template <PointKind K>
constexpr Quantity<K> operator-(Quantity<K> a, Quantity<typename K::Difference> d) {
  return Quantity<K>::from_si(a.si() - d.si());
}

// The few products of kinds that the trade uses.
constexpr Area operator*(Length a, Length b) { return Area::from_si(a.si() * b.si()); }
constexpr Volume operator*(Area a, Length b) { return Volume::from_si(a.si() * b.si()); }
constexpr Duration operator/(Length s, Speed v) { return Duration::from_si(s.si() / v.si()); }
constexpr Length operator*(Speed v, Duration t) { return Length::from_si(v.si() * t.si()); }
constexpr Speed operator/(Length s, Duration t) { return Speed::from_si(s.si() / t.si()); }
constexpr Mass operator*(MassFlow m, Duration t) { return Mass::from_si(m.si() * t.si()); }
constexpr PressureDifference operator*(PressureRate r, Duration t) {
  return PressureDifference::from_si(r.si() * t.si());
}
constexpr PressureRate operator/(PressureDifference p, Duration t) {
  return PressureRate::from_si(p.si() / t.si());
}
constexpr Duration operator/(PressureDifference p, PressureRate r) {
  return Duration::from_si(p.si() / r.si());
}
constexpr StdVolume operator*(StdFlow q, Duration t) { return StdVolume::from_si(q.si() * t.si()); }

/// Gauge to absolute and back, by the barometer of the place. There is no other way between the
/// two.
constexpr AbsolutePressure absolute(GaugePressure p, AbsolutePressure barometer) {
  return AbsolutePressure::from_si(p.si() + barometer.si());
}
constexpr GaugePressure gauge(AbsolutePressure p, AbsolutePressure barometer) {
  return GaugePressure::from_si(p.si() - barometer.si());
}

}  // namespace bellhole
