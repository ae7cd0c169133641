// The closed form of the squeeze force against finite-element runs and textbook limits.
#include "flatten/closed_form.hpp"
#include "flatten/strength.hpp"
#include "tests/outside/ledger.hpp"
#include "tests/unit/flatten/rings.hpp"

namespace bellhole {
namespace {

constexpr const char* calculix =
    "CalculiX 2.20, quadratic bricks, 3-D eighth model of IPS 8, bar radius 25.4 mm, yield 25 MPa; "
    "an unpublished run";
constexpr const char* explicit_runs =
    "explicit 3-D finite elements of IPS 8, bar radius 25.4 mm, yield 25 MPa; an unpublished run";

double kn(double ratio, double gap_over_two_walls, double bar_m = 0.0254, double pressure = 0.0) {
  const double od = 0.21908, wall = od / ratio;
  const flatten::Jaws jaws{Length::from_si(od),    Length::from_si(wall),
                           Length::from_si(bar_m), Stress::from_si(25e6),
                           Stress::from_si(1e9),   GaugePressure::from_si(pressure)};
  return flatten::force_at(jaws, Length::from_si(2.0 * wall * gap_over_two_walls)).si() / 1e3;
}

}  // namespace

LEDGER(flatten) {
  using enum Evidence;
  const auto row = [&](std::string quantity, double expected, double share, std::string source,
                       bool independent, std::function<double()> got) {
    ledger.check({.quantity = std::move(quantity),
                  .expected = expected,
                  .tolerance = expected * share,
                  .unit = "kN",
                  .source = std::move(source),
                  .evidence = derived,
                  .independent = independent},
                 std::move(got));
  };
  // The constants were fitted to runs of this family, so these rows are no independent check.
  row("force, DR 11, gap 3.39 x two walls", 37.9, 0.13, calculix, false,
      [] { return kn(11, 3.39); });
  row("force, DR 11, gap 1.95 x two walls", 61.2, 0.13, calculix, false,
      [] { return kn(11, 1.95); });
  row("force, DR 11, gap 1.23 x two walls", 85.7, 0.13, calculix, false,
      [] { return kn(11, 1.23); });
  row("force, DR 17, gap 3 x two walls", 20.6, 0.13, calculix, false, [] { return kn(17, 3.0); });
  row("force, DR 17, gap 1.2 x two walls", 39.8, 0.13, calculix, false, [] { return kn(17, 1.2); });
  row("force at the stops (30 %), DR 9", 345, 0.13, explicit_runs, false,
      [] { return kn(9, 0.7); });
  row("force at the stops (30 %), DR 11", 314, 0.13, explicit_runs, false,
      [] { return kn(11, 0.7); });
  row("force at the stops (30 %), DR 17", 243, 0.13, explicit_runs, false,
      [] { return kn(17, 0.7); });
  row("force at the stops (30 %), DR 11, bar radius 15.9 mm", 241, 0.13, explicit_runs, false,
      [] { return kn(11, 0.7, 0.0159); });
  row("force at the stops (30 %), DR 11, 60 psig in the pipe", 325, 0.13, explicit_runs, false,
      [] { return kn(11, 0.7, 0.0254, 414000.0); });
  ledger.check({.quantity = "share of the force left after 900 s, closed in 120 s",
                .expected = 0.687,
                .tolerance = 0.01,
                .unit = "1",
                .source = explicit_runs,
                .evidence = derived,
                .independent = false},
               [] { return flatten::held_share(Duration::from_si(900), Duration::from_si(120)); });
  ledger.check(
      {.quantity = "yield of PE100 at -10 degC against +70 degC",
       .expected = 32.0 / 9.0,
       .tolerance = 0.2,
       .unit = "1",
       .source = "Merah, Saghir, Khan, Bazoune, Plastics, Rubber and Composites 35 (2006) 226",
       .evidence = seen,
       .independent = true},
      [] {
        const auto at = [](double k) {
          return flatten::strength_of("PE100", Temperature::from_si(k), Duration::from_si(50))
              ->yield.si();
        };
        return at(263.15) / at(343.15);
      });
  ledger.check({.quantity = "elastic ring between plates in bricks, DR 11, over the thin ring",
                .expected = 0.924,
                .tolerance = 0.0092,
                .unit = "1",
                .source = "Roark's Formulas for Stress and Strain, circular rings, case 1, with "
                          "normal force and shear; from memory",
                .evidence = from_memory,
                .independent = true},
               [] {
                 const flatten::Press ring = flatten::elastic_ring(11, 8, 48);
                 return flatten::ring_slope(ring) / flatten::thin_ring(ring);
               });
}

}  // namespace bellhole
