#include <array>
#include <limits>

#include "units/unit.hpp"

// Factors: NIST Special Publication 811 (2008), appendix B, unless noted.

namespace bellhole::units {
namespace {

constexpr double foot = 0.3048;
constexpr double pound_force = 4.4482216152605;
constexpr double inch_mercury = 3386.389;
constexpr std::string_view as_gauge = "read as gauge";

constexpr std::array fractions{Unit{"1"}, Unit{"fraction"}, Unit{"%", 0.01}, Unit{"percent", 0.01}};

constexpr std::array lengths{
    Unit{"m"},          Unit{"mm", 1e-3},     Unit{"cm", 1e-2},       Unit{"km", 1e3},
    Unit{"in", inch_m}, Unit{"inch", inch_m}, Unit{"inches", inch_m}, Unit{"\"", inch_m},
    Unit{"ft", foot},   Unit{"foot", foot},   Unit{"feet", foot},     Unit{"'", foot},
    Unit{"yd", 0.9144}, Unit{"mi", 1609.344}, Unit{"mile", 1609.344}, Unit{"miles", 1609.344}};

constexpr std::array areas{Unit{"m2"},
                           Unit{"mm2", 1e-6},
                           Unit{"cm2", 1e-4},
                           Unit{"in2", inch_m* inch_m},
                           Unit{"ft2", foot* foot},
                           Unit{"sqin", inch_m* inch_m}};

constexpr std::array volumes{Unit{"m3"},
                             Unit{"L", 1e-3},
                             Unit{"ft3", cubic_foot_m3},
                             Unit{"cf", cubic_foot_m3},
                             Unit{"in3", inch_m* inch_m* inch_m},
                             Unit{"gal", 3.785411784e-3}};

constexpr std::array durations{Unit{"s"},           Unit{"sec", 1},     Unit{"ms", 1e-3},
                               Unit{"min", 60},     Unit{"h", 3600},    Unit{"hr", 3600},
                               Unit{"hours", 3600}, Unit{"hour", 3600}, Unit{"d", 86400},
                               Unit{"day", 86400},  Unit{"days", 86400}};

constexpr std::array speeds{Unit{"m/s"},
                            Unit{"mm/s", 1e-3},
                            Unit{"mm/min", 1e-3 / 60},
                            Unit{"m/min", 1.0 / 60},
                            Unit{"ft/s", foot},
                            Unit{"ft/min", foot / 60},
                            Unit{"in/min", inch_m / 60},
                            Unit{"in/s", inch_m}};

constexpr std::array masses{Unit{"kg"}, Unit{"g", 1e-3}, Unit{"t", 1e3}, Unit{"lb", 0.45359237}};

constexpr std::array mass_flows{Unit{"kg/s"}, Unit{"kg/h", 1.0 / 3600},
                                Unit{"lb/h", 0.45359237 / 3600}};

constexpr std::array densities{Unit{"kg/m3"}, Unit{"lb/ft3", 0.45359237 / cubic_foot_m3}};

constexpr std::array viscosities{Unit{"Pa s"}, Unit{"cP", 1e-3},
                                 Unit{"lb/(ft s)", 0.45359237 / foot}};

constexpr std::array std_volumes{Unit{"std m3"}, Unit{"stdm3", 1}, Unit{"scf", cubic_foot_m3},
                                 Unit{"Mscf", 1e3 * cubic_foot_m3},
                                 Unit{"MMscf", 1e6 * cubic_foot_m3}};

constexpr std::array std_flows{
    Unit{"std m3/s"},
    Unit{"std m3/h", 1.0 / 3600},
    Unit{"scfh", cubic_foot_m3 / 3600},
    Unit{"cfh", cubic_foot_m3 / 3600, 0, "read as standard cubic feet an hour"},
    Unit{"scfm", cubic_foot_m3 / 60},
    Unit{"scfd", cubic_foot_m3 / 86400},
    Unit{"Mscfh", 1e3 * cubic_foot_m3 / 3600},
    Unit{"Mscfd", 1e3 * cubic_foot_m3 / 86400}};

constexpr std::array forces{Unit{"N"}, Unit{"kN", 1e3}, Unit{"lbf", pound_force},
                            Unit{"klbf", 1e3 * pound_force}, Unit{"tonf", 2e3 * pound_force}};

constexpr std::array stresses{
    Unit{"Pa"},       Unit{"kPa", 1e3},    Unit{"MPa", 1e6},         Unit{"GPa", 1e9},
    Unit{"bar", 1e5}, Unit{"psi", psi_pa}, Unit{"ksi", 1e3 * psi_pa}};

constexpr std::array differences{Unit{"Pa"},
                                 Unit{"hPa", 100},
                                 Unit{"kPa", 1e3},
                                 Unit{"MPa", 1e6},
                                 Unit{"mbar", 100},
                                 Unit{"bar", 1e5},
                                 Unit{"psi", psi_pa},
                                 Unit{"inWC", inch_water_pa},
                                 Unit{"inH2O", inch_water_pa},
                                 Unit{"inHg", inch_mercury}};

constexpr double hour = 3600.0, minute = 60.0;
constexpr std::array pressure_rates{Unit{"Pa/s"},
                                    Unit{"Pa/min", 1 / minute},
                                    Unit{"kPa/h", 1e3 / hour},
                                    Unit{"hPa/h", 100 / hour},
                                    Unit{"mbar/h", 100 / hour},
                                    Unit{"mbar/min", 100 / minute},
                                    Unit{"bar/h", 1e5 / hour},
                                    Unit{"bar/min", 1e5 / minute},
                                    Unit{"psi/h", psi_pa / hour},
                                    Unit{"psi/min", psi_pa / minute},
                                    Unit{"inWC/h", inch_water_pa / hour},
                                    Unit{"inWC/min", inch_water_pa / minute},
                                    Unit{"inHg/h", inch_mercury / hour}};

constexpr std::array gauges{Unit{"Pa(g)"},
                            Unit{"Pa(gauge)"},
                            Unit{"psig", psi_pa},
                            Unit{"psi(g)", psi_pa},
                            Unit{"psi", psi_pa, 0, as_gauge},
                            Unit{"bar(g)", 1e5},
                            Unit{"barg", 1e5},
                            Unit{"bar", 1e5, 0, as_gauge},
                            Unit{"mbar(g)", 100},
                            Unit{"mbarg", 100},
                            Unit{"mbar", 100, 0, as_gauge},
                            Unit{"kPa(g)", 1e3},
                            Unit{"kPag", 1e3},
                            Unit{"kPa", 1e3, 0, as_gauge},
                            Unit{"MPa(g)", 1e6},
                            Unit{"MPa", 1e6, 0, as_gauge},
                            Unit{"Pa", 1, 0, as_gauge},
                            Unit{"inWC", inch_water_pa},
                            Unit{"inH2O", inch_water_pa},
                            Unit{"in w.c.", inch_water_pa},
                            Unit{"mmWC", 9.80665}};

constexpr std::array absolutes{
    Unit{"Pa(a)"},       Unit{"Pa(abs)"},     Unit{"psia", psi_pa}, Unit{"psi(a)", psi_pa},
    Unit{"bar(a)", 1e5}, Unit{"bara", 1e5},   Unit{"mbar(a)", 100}, Unit{"mbara", 100},
    Unit{"hPa(a)", 100}, Unit{"kPa(a)", 1e3}, Unit{"kPaa", 1e3},    Unit{"inHg", inch_mercury},
    Unit{"atm", 101325}};

constexpr std::array temperatures{Unit{"K"}, Unit{"degC", 1, 273.15}, Unit{"C", 1, 273.15},
                                  Unit{"degF", 5.0 / 9, 459.67 * 5 / 9},
                                  Unit{"F", 5.0 / 9, 459.67 * 5 / 9}};

constexpr std::array temperature_differences{Unit{"K"}, Unit{"degC", 1}, Unit{"C", 1},
                                             Unit{"degF", 5.0 / 9}, Unit{"F", 5.0 / 9}};

}  // namespace

template <>
std::span<const Unit> table<kinds::Fraction>() {
  return fractions;
}
template <>
std::span<const Unit> table<kinds::Length>() {
  return lengths;
}
template <>
std::span<const Unit> table<kinds::Area>() {
  return areas;
}
template <>
std::span<const Unit> table<kinds::Volume>() {
  return volumes;
}
template <>
std::span<const Unit> table<kinds::Duration>() {
  return durations;
}
template <>
std::span<const Unit> table<kinds::Speed>() {
  return speeds;
}
template <>
std::span<const Unit> table<kinds::Mass>() {
  return masses;
}
template <>
std::span<const Unit> table<kinds::MassFlow>() {
  return mass_flows;
}
template <>
std::span<const Unit> table<kinds::Density>() {
  return densities;
}
template <>
std::span<const Unit> table<kinds::Viscosity>() {
  return viscosities;
}
template <>
std::span<const Unit> table<kinds::StdVolume>() {
  return std_volumes;
}
template <>
std::span<const Unit> table<kinds::StdFlow>() {
  return std_flows;
}
template <>
std::span<const Unit> table<kinds::Force>() {
  return forces;
}
template <>
std::span<const Unit> table<kinds::Stress>() {
  return stresses;
}
template <>
std::span<const Unit> table<kinds::PressureDifference>() {
  return differences;
}
template <>
std::span<const Unit> table<kinds::TemperatureDifference>() {
  return temperature_differences;
}
template <>
std::span<const Unit> table<kinds::PressureRate>() {
  return pressure_rates;
}
template <>
std::span<const Unit> table<kinds::GaugePressure>() {
  return gauges;
}
template <>
std::span<const Unit> table<kinds::AbsolutePressure>() {
  return absolutes;
}
template <>
std::span<const Unit> table<kinds::Temperature>() {
  return temperatures;
}

}  // namespace bellhole::units
