#include "units/print.hpp"

#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "units/unit.hpp"

namespace bellhole::units {
namespace {

/// How a kind is shown: the unit to use from a size (in SI) upward, and its decimals. The first row
/// whose `from` is not above the value's magnitude wins; rows run from large to small.
struct Show {
  double from;
  std::string_view unit;
  int decimals;
};

double rounded(double value, int decimals, Toward toward) {
  const double scale = std::pow(10.0, decimals);
  const double scaled = value * scale;
  // A value that is a round number but for the last bits of its conversion stays that number.
  const double near = std::nearbyint(scaled);
  if (std::abs(scaled - near) < 1e-6) return near / scale;
  switch (toward) {
    case Toward::down:
      return std::floor(scaled) / scale;
    case Toward::up:
      return std::ceil(scaled) / scale;
    case Toward::nearest:
      break;
  }
  return near / scale;
}

template <class Kind>
struct Shows;

#define BELLHOLE_SHOWS(Kind, US, METRIC)                   \
  template <>                                              \
  struct Shows<kinds::Kind> {                              \
    static constexpr Show us[] = BELLHOLE_LIST US;         \
    static constexpr Show metric[] = BELLHOLE_LIST METRIC; \
  };
#define BELLHOLE_LIST(...) {__VA_ARGS__}

BELLHOLE_SHOWS(Fraction, ({0, "%", 1}), ({0, "%", 1}))
BELLHOLE_SHOWS(Length,
               ({1609.344, "mi", 2}, {3.0, "ft", 0}, {0.9, "ft", 1}, {0.1, "in", 2}, {0, "in", 3}),
               ({1000, "km", 2}, {10, "m", 0}, {1, "m", 2}, {0.1, "mm", 0}, {0, "mm", 2}))
BELLHOLE_SHOWS(Area, ({0, "in2", 2}), ({0, "mm2", 0}))
BELLHOLE_SHOWS(Volume, ({0.3, "ft3", 0}, {0, "ft3", 2}),
               ({10, "m3", 0}, {0.1, "m3", 2}, {0, "L", 2}))
BELLHOLE_SHOWS(Duration, ({7200, "h", 1}, {120, "min", 1}, {0, "s", 1}),
               ({7200, "h", 1}, {120, "min", 1}, {0, "s", 1}))
BELLHOLE_SHOWS(Speed, ({0.1, "ft/s", 1}, {0.005, "ft/s", 2}, {0, "in/min", 2}),
               ({0.1, "m/s", 1}, {0.005, "m/s", 3}, {0, "mm/min", 1}))
BELLHOLE_SHOWS(Mass, ({0, "lb", 1}), ({1000, "t", 2}, {0, "kg", 1}))
BELLHOLE_SHOWS(MassFlow, ({0, "lb/h", 1}), ({0, "kg/s", 4}))
BELLHOLE_SHOWS(Density, ({0, "lb/ft3", 4}), ({0, "kg/m3", 3}))
BELLHOLE_SHOWS(Viscosity, ({0, "cP", 4}), ({0, "cP", 4}))
BELLHOLE_SHOWS(StdVolume, ({2831.0, "Mscf", 1}, {0, "scf", 0}),
               ({1, "std m3", 1}, {0, "std m3", 3}))
BELLHOLE_SHOWS(StdFlow, ({0, "scfh", 0}), ({0, "std m3/h", 1}))
BELLHOLE_SHOWS(Force, ({4448.0, "klbf", 1}, {0, "lbf", 0}), ({1000, "kN", 1}, {0, "N", 0}))
BELLHOLE_SHOWS(Stress, ({0, "psi", 0}), ({0, "MPa", 2}))
BELLHOLE_SHOWS(PressureDifference, ({3447.0, "psi", 2}, {0, "inWC", 2}),
               ({50000, "bar", 3}, {0, "mbar", 2}))
BELLHOLE_SHOWS(PressureRate, ({114.9, "psi/min", 1}, {0.19, "psi/h", 2}, {0, "inWC/h", 2}),
               ({1666.0, "bar/min", 2}, {2.7, "bar/h", 3}, {0, "mbar/h", 2}))
BELLHOLE_SHOWS(TemperatureDifference, ({0, "degF", 1}), ({0, "K", 1}))
BELLHOLE_SHOWS(GaugePressure, ({6895.0, "psig", 1}, {0, "inWC", 2}),
               ({20000, "bar(g)", 3}, {0, "mbar(g)", 1}))
BELLHOLE_SHOWS(AbsolutePressure, ({0, "psia", 2}), ({0, "bar(a)", 4}))
BELLHOLE_SHOWS(Temperature, ({0, "degF", 1}), ({0, "degC", 1}))

const Unit* unit_named(std::span<const Unit> table, std::string_view word) {
  for (const Unit& unit : table) {
    if (unit.word == word) return &unit;
  }
  return nullptr;
}

}  // namespace

template <class Kind>
double in_unit(Quantity<Kind> value, std::string_view word) {
  const Unit* unit = unit_named(table<Kind>(), word);
  if (unit == nullptr) return std::numeric_limits<double>::quiet_NaN();
  return (value.si() - unit->offset) / unit->factor;
}

template <class Kind>
std::string print_in(Quantity<Kind> value, std::string_view unit, int decimals, Toward toward) {
  const double number = in_unit(value, unit);
  if (!std::isfinite(number)) return "not known";
  const double shown = rounded(number, decimals, toward);
  return fmt::format("{:.{}f} {}", shown == 0.0 ? 0.0 : shown, decimals, unit);
}

template <class Kind>
std::string print(Quantity<Kind> value, System system, Toward toward) {
  if (!std::isfinite(value.si())) return "not known";
  const auto pick = [&](const auto& shows) {
    for (const Show& show : shows) {
      if (std::abs(value.si()) >= show.from)
        return print_in(value, show.unit, show.decimals, toward);
    }
    return std::string("not known");
  };
  return system == System::us ? pick(Shows<Kind>::us) : pick(Shows<Kind>::metric);
}

#define BELLHOLE_PRINTS(Kind)                                                              \
  template double in_unit<kinds::Kind>(Quantity<kinds::Kind>, std::string_view);           \
  template std::string print_in<kinds::Kind>(Quantity<kinds::Kind>, std::string_view, int, \
                                             Toward);                                      \
  template std::string print<kinds::Kind>(Quantity<kinds::Kind>, System, Toward);

BELLHOLE_PRINTS(Fraction)
BELLHOLE_PRINTS(Length)
BELLHOLE_PRINTS(Area)
BELLHOLE_PRINTS(Volume)
BELLHOLE_PRINTS(Duration)
BELLHOLE_PRINTS(Speed)
BELLHOLE_PRINTS(Mass)
BELLHOLE_PRINTS(MassFlow)
BELLHOLE_PRINTS(Density)
BELLHOLE_PRINTS(Viscosity)
BELLHOLE_PRINTS(StdVolume)
BELLHOLE_PRINTS(StdFlow)
BELLHOLE_PRINTS(Force)
BELLHOLE_PRINTS(Stress)
BELLHOLE_PRINTS(PressureDifference)
BELLHOLE_PRINTS(PressureRate)
BELLHOLE_PRINTS(TemperatureDifference)
BELLHOLE_PRINTS(GaugePressure)
BELLHOLE_PRINTS(AbsolutePressure)
BELLHOLE_PRINTS(Temperature)

}  // namespace bellhole::units
