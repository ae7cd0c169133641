// What the built-in profiles say, against the texts that they were taken from. These are
// transcriptions: they catch a slip of the pen in a profile, and prove nothing about the source.
#include "tests/outside/ledger.hpp"
#include "units/unit.hpp"
#include "wire/profile.hpp"

namespace bellhole {
namespace {

double value(const char* profile, const char* rule, double od_m) {
  procedure::Case in;
  in[procedure::Ranged::od] = procedure::Between{od_m, od_m};
  return wire::built_in_profile(profile)->ruling(rule, in).number().value_or(-1.0);
}

constexpr double inch = units::inch_m;

}  // namespace

LEDGER(procedure) {
  using enum Evidence;
  const auto radius = [&](const char* size, double od_in, double round_in, double flat_in) {
    for (const auto& [rule, bar, expected] :
         {std::tuple("tool.bar_radius_round", "round bar", round_in),
          std::tuple("tool.bar_radius_flat_edge", "flat bar's edge", flat_in)}) {
      const std::string id = rule;
      ledger.check({.quantity = std::string("least radius of a ") + bar + ", " + size,
                    .expected = expected,
                    .tolerance = 1e-6,
                    .unit = "in",
                    .source = "ASTM F1563-01, table 1",
                    .evidence = seen,
                    .independent = false},
                   [=] { return value("us", id.c_str(), od_in * inch) / inch; });
    }
  };
  radius("3/4 in", 1.050, 0.50, 0.25);
  radius("1 in", 1.315, 0.62, 0.31);
  radius("1-1/2 in", 1.900, 0.62, 0.31);
  radius("4 in", 4.500, 0.75, 0.38);
  radius("6 in", 6.625, 1.00, 0.50);
  radius("12 in", 12.750, 1.00, 0.50);
  radius("16 in", 16.000, 1.25, 0.62);

  ledger.check({.quantity = "most compression, dn 250, metric",
                .expected = 20,
                .tolerance = 1e-6,
                .unit = "%",
                .source = "UK operative assessment sheet DN 17B",
                .evidence = seen,
                .independent = false},
               [] { return 100 * value("metric", "squeeze.compression", 0.250); });
  ledger.check({.quantity = "most compression, dn 315, metric",
                .expected = 10,
                .tolerance = 1e-6,
                .unit = "%",
                .source = "UK operative assessment sheet DN 17B",
                .evidence = seen,
                .independent = false},
               [] { return 100 * value("metric", "squeeze.compression", 0.315); });
  ledger.check({.quantity = "most compression, us",
                .expected = 30,
                .tolerance = 1e-6,
                .unit = "%",
                .source = "ASTM F1734, text before 2019, 5.3",
                .evidence = seen,
                .independent = false},
               [] { return 100 * value("us", "squeeze.compression", 0.1); });
  ledger.check({.quantity = "fastest opening, us",
                .expected = 12.7,
                .tolerance = 0.01,
                .unit = "mm/min",
                .source = "ASTM F1563-01, 5.4",
                .evidence = seen,
                .independent = false},
               [] { return 60e3 * value("us", "squeeze.opening_speed", 0.1); });
  ledger.check({.quantity = "design factor, us",
                .expected = 0.32,
                .tolerance = 1e-9,
                .unit = "1",
                .source = "49 CFR 192.121(a)",
                .evidence = seen,
                .independent = false},
               [] { return value("us", "pipe.design_factor", 0.1); });
}

}  // namespace bellhole
