// Relighting and gas lost against published figures.
#include "plan/timeline.hpp"
#include "restore/relight.hpp"
#include "tests/outside/ledger.hpp"
#include "units/parse.hpp"

namespace bellhole {
namespace {

double hours(double meters, double revisits, std::int64_t technicians, double per_hour) {
  return restore::time_of_visits(meters, revisits, technicians, per_hour).si() / 3600.0;
}

/// kg of methane in so many cubic feet at 60 degF and 14.7 psia.
double methane(const char* gas, double share) {
  return plan::methane_kg(units::parse<kinds::StdVolume>(gas, "ledger")->value, share,
                          {units::parse<kinds::AbsolutePressure>("14.7psia", "ledger")->value,
                           units::parse<kinds::Temperature>("60degF", "ledger")->value});
}

LEDGER(relight) {
  ledger.check(
      {.quantity = "relight of 500 meters, 15 % visited twice, 20 technicians, 0.5 an hour",
       .expected = 57.5,
       .tolerance = 1e-9,
       .unit = "h",
       .source = "N (1 + a) / (n r), worked by hand",
       .evidence = Evidence::derived,
       .independent = false},
      [] { return hours(500, 0.15, 20, 0.5); });
  ledger.check(
      {.quantity = "Aspen 2020, 2,000 lit by 170 technicians on the first day, at the rate "
                   "of the whole of it",
       .expected = 20.0,
       .tolerance = 4.0,
       .unit = "h",
       .source = "Aspen, Colorado, December 2020, the operator's releases: the first day's "
                 "2,000 against a rate from all 3,395 in 39 h",
       .evidence = Evidence::seen,
       .independent = true},
      [] { return hours(2000, 0.0, 170, 3395.0 / (170.0 * 39.0)); });
  ledger.check({.quantity = "methane in a standard cubic foot",
                .expected = 0.0192,
                .tolerance = 0.0001,
                .unit = "kg",
                .source = "density of methane in 40 CFR 98 subpart W, at 60 degF and 14.7 psia",
                .evidence = Evidence::from_memory,
                .independent = true},
               [] { return methane("1scf", 1.0); });
  ledger.check({.quantity = "methane in 184.7 scf of gas that is 95 % methane, times 28",
                .expected = 94.0,
                .tolerance = 0.5,
                .unit = "kg CO2e",
                .source = "36 ft3 let down from 60 psig at 55 degF, by 40 CFR 98.233(i), worked by "
                          "hand with 0.0192 kg/scf",
                .evidence = Evidence::derived,
                .independent = true},
               [] { return 28.0 * methane("184.7scf", 0.95); });
}

}  // namespace
}  // namespace bellhole
