// A temporary pipe with fittings against capacities and pressures by hand.
#include <fmt/format.h>

#include <algorithm>
#include <string>

#include "gas/fittings.hpp"
#include "gas/gas.hpp"
#include "tests/outside/ledger.hpp"
#include "tests/support/town.hpp"

namespace bellhole {
namespace {

using support::cubic_foot_per_hour, support::foot, support::inch, support::inch_of_water,
    support::psi;

constexpr double sea_level_pa = 101325.0;

/// Standard cubic feet an hour through 60 ft with K = 4 between two gauge pressures.
double capacity(double bore_in, double from_pa, double to_pa) {
  const auto gas = *gas::from_gravity(0.6);
  const auto barometer = AbsolutePressure::from_si(sea_level_pa);
  const gas::FittedPipe pipe{Length::from_si(60 * foot), Length::from_si(bore_in * inch),
                             Length::from_si(1.5e-6), 4.0};
  const auto flow = gas::flow_between(pipe, gas::flowing(gas, gas::us_base.temperature),
                                      absolute(GaugePressure::from_si(from_pa), barometer),
                                      absolute(GaugePressure::from_si(to_pa), barometer));
  return flow.si() / gas::base_density(gas, gas::us_base).si() / cubic_foot_per_hour;
}

/// Gauge pressure in psi after 10 m with K = 6 from 60 psig.
double after(double bore_m, double std_m3_per_s) {
  const auto gas = *gas::from_gravity(0.6);
  const auto barometer = AbsolutePressure::from_si(sea_level_pa);
  const gas::FittedPipe pipe{Length::from_si(10.0), Length::from_si(bore_m),
                             Length::from_si(1.5e-6), 6.0};
  const auto end = gas::pressure_after(
      pipe, gas::flowing(gas, gas::metric_base.temperature),
      absolute(GaugePressure::from_si(60 * psi), barometer),
      MassFlow::from_si(std_m3_per_s * gas::base_density(gas, gas::metric_base).si()));
  return (end.si() - sea_level_pa) / psi;
}

LEDGER(bypass) {
  struct Line {
    double bore_in, high_cfh, low_cfh;
  };
  const std::string by_hand =
      "p1^2 - p2^2 = (f L / D + K) G^2 R T, friction by Colebrook 1939, solved outside the "
      "program; Z at the mean pressure";
  for (const Line& line : {Line{1.077, 5209, 266}, Line{1.554, 12771, 686},
                           Line{1.943, 21758, 1203}, Line{2.864, 53535, 3106}}) {
    const double bore = line.bore_in;
    ledger.check({.quantity = fmt::format("60 ft of bore {} in with K = 4, 45 to 44 psig", bore),
                  .expected = line.high_cfh,
                  .tolerance = 0.01 * line.high_cfh,
                  .unit = "scfh",
                  .source = by_hand,
                  .evidence = Evidence::derived,
                  .independent = false},
                 [bore] { return capacity(bore, 45 * psi, 44 * psi); });
    ledger.check({.quantity = fmt::format("60 ft of bore {} in with K = 4, 7 to 6.5 inWC", bore),
                  .expected = line.low_cfh,
                  .tolerance = 0.01 * line.low_cfh,
                  .unit = "scfh",
                  .source = by_hand,
                  .evidence = Evidence::derived,
                  .independent = false},
                 [bore] { return capacity(bore, 7 * inch_of_water, 6.5 * inch_of_water); });
  }
  struct Point {
    double bore_m, flow, psig;
  };
  for (const Point& point : {Point{0.0493, 0.1, 59.73}, Point{0.0493, 0.5, 53.60},
                             Point{0.0935, 0.1, 59.98}, Point{0.0935, 0.5, 59.59}}) {
    ledger.check(
        {.quantity = fmt::format("60 psig after 10 m of bore {} mm with K = 6 at {} std m3/s",
                                 1000 * point.bore_m, point.flow),
         .expected = point.psig,
         // A drop of 1 %, or the last digit that is given.
         .tolerance = std::max(0.01 * (60.0 - point.psig), 0.006),
         .unit = "psig",
         .source = "p1^2 - p2^2 = (f L / D + K) G^2 R T, gravity 0.6, 15 degC, roughness 1.5 um",
         .evidence = Evidence::derived,
         .independent = false},
        [point] { return after(point.bore_m, point.flow); });
  }
}

}  // namespace
}  // namespace bellhole
