// Gas and pipe law against published tables, reference equations of state and worked examples.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "gas/friction.hpp"
#include "gas/gas.hpp"
#include "gas/pipe_law.hpp"
#include "tests/outside/ledger.hpp"

namespace bellhole {
namespace {

constexpr double inch = 0.0254, foot = 0.3048, psi = 6894.757293168361, inch_of_water = 249.08891;
constexpr double cubic_foot_per_hour = foot * foot * foot / 3600.0;
constexpr double sea_level_pa = 101325.0;

/// One of the three tables for PE pipe and natural gas of gravity 0.60: cells in cubic feet an
/// hour.
struct Table {
  std::string name;
  double inlet_pa, drop_pa;
  std::vector<double> lengths_ft;
  std::vector<std::array<double, 8>> cells;
};

constexpr std::array<double, 8> bores_in{0.660, 0.860, 1.077, 1.328, 1.554, 1.943, 2.864, 3.682};
constexpr std::array<std::string_view, 8> sizes{"1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "3", "4"};

const std::vector<Table>& tables() {
  static const std::vector<Table> all{{"402.4(20), under 2 psi, drop 0.3 inWC",
                                       7 * inch_of_water,
                                       0.3 * inch_of_water,
                                       {10, 20, 50, 80},
                                       {{153, 305, 551, 955, 1440, 2590, 7170, 13900},
                                        {105, 210, 379, 656, 991, 1780, 4920, 9520},
                                        {64, 128, 231, 400, 604, 1080, 3000, 5800},
                                        {50, 99, 179, 310, 468, 841, 2330, 4500}}},
                                      {"402.4(21), under 2 psi, drop 0.5 inWC",
                                       7 * inch_of_water,
                                       0.5 * inch_of_water,
                                       {10, 20, 30, 50, 80},
                                       {{201, 403, 726, 1260, 1900, 3410, 9450, 18260},
                                        {138, 277, 499, 865, 1310, 2350, 6490, 12550},
                                        {111, 222, 401, 695, 1050, 1880, 5210, 10080},
                                        {84, 169, 304, 527, 796, 1430, 3950, 7640},
                                        {65, 131, 236, 409, 617, 1110, 3070, 5930}}},
                                      {"402.4(22), 2.0 psi, drop 1.0 psi",
                                       2 * psi,
                                       1 * psi,
                                       {10, 20, 50, 80},
                                       {{1860, 3720, 6710, 11600, 17600, 31600, 87300, 169000},
                                        {1280, 2560, 4610, 7990, 12100, 21700, 60000, 116000},
                                        {778, 1560, 2810, 4870, 7350, 13200, 36600, 70700},
                                        {603, 1210, 2180, 3780, 5700, 10200, 28300, 54800}}}};
  return all;
}

double capacity_cfh(const Table& table, double bore_in, double length_ft) {
  const StdFlow q = gas::fuel_gas_code_capacity(
      Length::from_si(bore_in * inch), Length::from_si(length_ft * foot),
      GaugePressure::from_si(table.inlet_pa), PressureDifference::from_si(table.drop_pa),
      AbsolutePressure::from_si(14.7 * psi), 0.60, Temperature::from_si(520.0 / 1.8),
      Viscosity::from_si(0.012e-3));
  return q.si() / cubic_foot_per_hour;
}

gas::Flowing methane(double celsius) {
  const std::array shares{gas::Share{"CH4", 1.0}};
  return gas::flowing(*gas::from_composition(shares), Temperature::from_si(celsius + 273.15));
}

gas::Flowing gulf_coast(double celsius) {
  const std::array shares{gas::Share{"CH4", .965222},  gas::Share{"N2", .002595},
                          gas::Share{"CO2", .005956},  gas::Share{"C2H6", .018186},
                          gas::Share{"C3H8", .004596}, gas::Share{"iC4", .000977},
                          gas::Share{"nC4", .001007},  gas::Share{"iC5", .000473},
                          gas::Share{"nC5", .000324},  gas::Share{"C6", .000664}};
  return gas::flowing(*gas::from_composition(shares), Temperature::from_si(celsius + 273.15));
}

/// Mass flow at which a length of pipe loses from one pressure to another, by bisection on the
/// public law.
double flow_between(const gas::PipeLaw& law, const gas::Flowing& gas, double length_m, double p1,
                    double p2) {
  const double wanted = gas.potential(p1) - gas.potential(p2);
  double low = 0.0, high = 1e4;
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    (law.loss(middle, length_m).value < wanted ? low : high) = middle;
  }
  return low;
}

LEDGER(gas) {
  // Friction.
  const auto friction = [&](std::string quantity, double expected, double tolerance,
                            std::string source, Evidence evidence, bool independent,
                            std::function<double()> got) {
    ledger.check({.quantity = std::move(quantity),
                  .expected = expected,
                  .tolerance = tolerance,
                  .unit = "1",
                  .source = std::move(source),
                  .evidence = evidence,
                  .independent = independent},
                 std::move(got));
  };
  friction("Darcy friction, Re 1e5, e/D 1e-4", 0.0185138661, 1e-9,
           "Colebrook 1939, iterated to convergence elsewhere", Evidence::derived, true,
           [] { return gas::colebrook(1e5, 1e-4).factor; });
  friction(
      "Darcy friction, Re 1e5, e/D 1e-4, another solution of the same equation",
      0.01851358983180063, 5e-7,
      "Serghides 1984 (within 0.003 % of Colebrook), as printed in the docstrings of fluids 1.x",
      Evidence::seen, true, [] { return gas::colebrook(1e5, 1e-4).factor; });
  friction("Darcy friction of a smooth pipe, Re 1e7", 0.008102669430, 1e-9,
           "Prandtl-Karman, as printed in the docstrings of fluids 1.x", Evidence::seen, true,
           [] { return gas::colebrook(1e7, 0.0).factor; });
  friction("laminar friction, Re 128", 0.5, 1e-12, "64/Re, Hagen-Poiseuille", Evidence::seen, false,
           [] { return gas::laminar(128).factor; });
  friction("Darcy friction of smooth plastic, Re 100600", 0.0179, 1e-4,
           "Crane TP-410 (2009), example 7.1", Evidence::seen, true,
           [] { return gas::darcy(100600, 0.0).factor; });

  // Compressibility and density against AGA-8.
  const std::string detail =
      "AGA Report 8 (2017) Part 1 DETAIL, computed with the NIST reference code";
  struct Z {
    double bar, z;
  };
  for (const Z& row : {Z{1.01325, 0.998024}, Z{2, 0.996101}, Z{4, 0.992207}, Z{5, 0.990261},
                       Z{7, 0.986374}, Z{10, 0.980555}}) {
    ledger.check({.quantity = fmt::format("Z of methane, 15 degC, {} bar(a)", row.bar),
                  .expected = row.z,
                  .tolerance = row.bar > 8 ? 1e-3 : 5e-4,
                  .unit = "1",
                  .source = detail,
                  .evidence = Evidence::derived},
                 [row] { return methane(15).z(row.bar * 1e5); });
  }
  ledger.check({.quantity = "Z of methane, 0 degC, 10 bar(a)",
                .expected = 0.976471,
                .tolerance = 1e-3,
                .unit = "1",
                .source = detail,
                .evidence = Evidence::derived},
               [] { return methane(0).z(1e6); });
  ledger.check({.quantity = "Z of methane, 25 degC, 10 bar(a)",
                .expected = 0.982848,
                .tolerance = 1e-3,
                .unit = "1",
                .source = detail,
                .evidence = Evidence::derived},
               [] { return methane(25).z(1e6); });
  ledger.check({.quantity = "density of methane, 15 degC, 5 bar(a)",
                .expected = 3.38104,
                .tolerance = 0.002,
                .unit = "kg/m3",
                .source = detail,
                .evidence = Evidence::derived},
               [] { return methane(15).density(5e5); });
  ledger.check({.quantity = "Z of Gulf Coast gas, 15 degC, 5 bar(a)",
                .expected = 0.989386,
                .tolerance = 5e-4,
                .unit = "1",
                .source = detail,
                .evidence = Evidence::derived},
               [] { return gulf_coast(15).z(5e5); });
  ledger.check({.quantity = "density of Gulf Coast gas, 15 degC, 10 bar(a)",
                .expected = 7.16391,
                .tolerance = 0.01,
                .unit = "kg/m3",
                .source = detail,
                .evidence = Evidence::derived},
               [] { return gulf_coast(15).density(1e6); });

  // Viscosity.
  const std::string dippr = "Perry 8th ed., table 2-312, methane (DIPPR 102), evaluated elsewhere";
  for (const auto& [celsius, expected] :
       {std::pair(0.0, 1.0378e-5), std::pair(15.0, 1.0869e-5), std::pair(25.0, 1.1191e-5)}) {
    ledger.check({.quantity = fmt::format("viscosity of methane, {} degC", celsius),
                  .expected = expected,
                  .tolerance = 5e-9,
                  .unit = "Pa s",
                  .source = dippr,
                  .evidence = Evidence::seen},
                 [t = celsius] { return gas::viscosity(Temperature::from_si(t + 273.15)).si(); });
  }
  ledger.check({.quantity = "viscosity of natural gas at room temperature",
                .expected = 1.057e-5,
                .tolerance = 4e-7,
                .unit = "Pa s",
                .source = "rule of gas engineers: 7.1e-6 lb/(ft s) below 100 psig",
                .evidence = Evidence::seen},
               [] { return gas::viscosity(Temperature::from_si(288.7)).si(); });

  // Base density.
  ledger.check({.quantity = "density of gas of gravity 0.6 at 60 degF, 14.73 psia",
                .expected = 0.735280,
                .tolerance = 1e-5,
                .unit = "kg/m3",
                .source = "ideal gas of 0.6 x 28.9647 g/mol, by hand",
                .evidence = Evidence::derived},
               [] { return gas::base_density(*gas::from_gravity(0.6), gas::us_base).si(); });
  ledger.check({.quantity = "density of gas of gravity 0.6 at 15 degC, 1.01325 bar",
                .expected = 0.734994,
                .tolerance = 1e-5,
                .unit = "kg/m3",
                .source = "ideal gas of 0.6 x 28.9647 g/mol, by hand",
                .evidence = Evidence::derived},
               [] { return gas::base_density(*gas::from_gravity(0.6), gas::metric_base).si(); });

  // Elevation at low pressure.
  ledger.check({.quantity = "rise of gauge pressure 100 ft up, gravity 0.6, 15 degC",
                .expected = 0.588,
                .tolerance = 0.005,
                .unit = "inWC",
                .source = "weight of the air less that of the gas, by hand",
                .evidence = Evidence::derived},
               [] {
                 const auto flowing =
                     gas::flowing(*gas::from_gravity(0.6), Temperature::from_si(288.15));
                 const double rise = 100 * foot;
                 const double air = gas::barometer_higher(AbsolutePressure::from_si(sea_level_pa),
                                                          rise, Temperature::from_si(288.15))
                                        .si();
                 return (flowing.at_rest_higher(sea_level_pa, rise) - air) / inch_of_water;
               });

  // The general law with a friction factor given: from the density form for an ideal gas at
  // constant temperature.
  ledger.check(
      {.quantity = "flow of gas, 4.000 in, 1 mile, 74.7 to 64.7 psia, e 0.0015 mm",
       .expected = 66502,
       .tolerance = 350,
       .unit = "scfh",
       .source = "general flow equation, Colebrook, Z 0.991, mu 1.08e-5 Pa s, solved elsewhere",
       .evidence = Evidence::derived},
      [] {
        const auto flowing = gas::flowing(*gas::from_gravity(0.6), Temperature::from_si(288.70556));
        const gas::PipeLaw law(gas::Law::general, flowing, Length::from_si(4 * inch),
                               Length::from_si(1.5e-6), AbsolutePressure::from_si(74.7 * psi),
                               AbsolutePressure::from_si(14.7 * psi));
        const double m = flow_between(law, flowing, 5280 * foot, 74.7 * psi, 64.7 * psi);
        const double rho =
            gas::base_density(*gas::from_gravity(0.6), {AbsolutePressure::from_si(14.7 * psi),
                                                        Temperature::from_si(288.70556)})
                .si();
        return m / rho / cubic_foot_per_hour;
      });

  // Crane's worked example of a long gas line, gas taken as ideal.
  ledger.check(
      {.quantity = "flow of gas, NPS 14 Sch 20, 100 miles, 1300 to 300 psia",
       .expected = 107.8,
       .tolerance = 1.1,
       .unit = "million scf a day",
       .source = "Crane TP-410 (2009), example 7.18, simplified isothermal flow, Z = 1",
       .evidence = Evidence::seen},
      [] {
        const gas::Gas ideal{.gravity = 0.693,
                             .kg_per_mol = 0.693 * gas::air_kg_per_mol,
                             .critical_k = 1.0,
                             .critical_pa = 1e300};
        const auto flowing = gas::flowing(ideal, Temperature::from_si(277.594));
        const gas::PipeLaw law(gas::Law::general, flowing, Length::from_si(13.376 * inch),
                               Length::from_si(0.0018 * inch),
                               AbsolutePressure::from_si(1300 * psi),
                               AbsolutePressure::from_si(14.7 * psi));
        const double m = flow_between(law, flowing, 100 * 5280 * foot, 1300 * psi, 300 * psi);
        const double rho = gas::base_density(ideal, {AbsolutePressure::from_si(sea_level_pa),
                                                     Temperature::from_si(288.70556)})
                               .si();
        return m / rho / cubic_foot_per_hour * 24.0 / 1e6;
      });

  // Fuel gas code: every cell of the three tables.
  for (const Table& table : tables()) {
    for (std::size_t row = 0; row < table.lengths_ft.size(); ++row) {
      for (std::size_t column = 0; column < bores_in.size(); ++column) {
        const double cell = table.cells[row][column], length = table.lengths_ft[row],
                     bore = bores_in[column];
        ledger.check(
            {.quantity = fmt::format("{}: {} in, {} ft", table.name, sizes[column], length),
             .expected = cell,
             .tolerance =
                 std::max(0.01 * cell, 1.0) /* 1 %, or 1 in the last digit of a small cell */,
             .unit = "cfh",
             .source = "International Fuel Gas Code 2018, table " + table.name.substr(0, 9),
             .evidence = Evidence::seen},
            [&table, bore, length] { return capacity_cfh(table, bore, length); });
      }
    }
  }
}

}  // namespace
}  // namespace bellhole
