// Gas through holes and open ends against the relief-valve standard, worked examples and a
// computation by other means.
#include <fmt/format.h>

#include <array>
#include <cmath>

#include "gas/open_end.hpp"
#include "gas/orifice.hpp"
#include "network/escape.hpp"
#include "tests/outside/ledger.hpp"

namespace bellhole {
namespace {

constexpr double inch = 0.0254, foot = 0.3048, psi = 6894.757293168361;
constexpr double air_pa = 101325.0;
constexpr double scfh_per_kg_per_s = 3600.0 / 0.028316846592 / 0.735280;  // 14.73 psia, 60 degF

/// Hydrocarbon vapour of the standard's examples: 51 g/mol, 348 K, Z 0.90, k 1.11.
constexpr gas::Blowing vapour{gas::molar_gas_constant / 51e-3, 348.0, 0.90, 1.11};

/// The gas of a computation that held Z at 0.992 all along.
gas::Flowing constant_z() {
  return {.gravity = 0.6,
          .specific_constant = 0.992 * gas::molar_gas_constant / (0.6 * gas::air_kg_per_mol),
          .temperature_k = 288.7055556,
          .k_per_pa = 0.0,
          .viscosity_pa_s = 1.08e-5};
}

gas::OpenLength two_inch(double psig, double feet) {
  return {AbsolutePressure::from_si(air_pa + psig * psi), Length::from_si(feet * foot),
          Length::from_si(1.943 * inch), Length::from_si(1.5e-6)};
}

/// A length whose only resistance is K: what a worked example states as f L / D.
gas::OpenLength by_loss(double pa, double bore, double loss) {
  return {AbsolutePressure::from_si(pa), Length::from_si(1e-9), Length::from_si(bore), Length(),
          loss};
}

void relief_valves(outside::Ledger& ledger) {
  const std::string api = "API 520 part I, worked example of gas relief, as restated in open texts";
  ledger.check(
      {"gas through a relief area of 3,699.05 mm2, critical", 24270.0, 5.0, "kg/h", api,
       Evidence::seen},
      [] { return 3600.0 * gas::through({3699.046e-6, 0.975}, vapour, 670e3, 100e3).kg_per_s; });
  ledger.check(
      {"gas through 4,248.36 mm2 against 532 kPa, subcritical", 24270.0, 60.0, "kg/h", api,
       Evidence::seen},
      [] { return 3600.0 * gas::through({4248.359e-6, 0.975}, vapour, 670e3, 532e3).kg_per_s; });
  ledger.check({"pressure at which a throat chokes, k 1.289, 1.4 MPa", 766812.9, 1.0, "Pa (abs)",
                "a textbook example of thermodynamics, Cengel and Boles", Evidence::seen},
               [] { return 1.4e6 / gas::choking_ratio(1.289); });
}

void open_ends(outside::Ledger& ledger) {
  const std::string text =
      "isothermal flow of gas in a pipe (Crane TP-410; Wilkes 2005), example with f L / D 3.7";
  const gas::Flowing dense{.gravity = 0.6,
                           .specific_constant = 1e6 / 11.3 / 300.0,
                           .temperature_k = 300.0,
                           .k_per_pa = 0.0,
                           .viscosity_pa_s = 1e-5};
  ledger.check({"flow from 1 MPa to 0.9 MPa, bore 0.5 m, 11.3 kg/m3", 145.4847572636031, 1e-4,
                "kg/s", text, Evidence::seen},
               [dense] {
                 return gas::flow_into(by_loss(1e6, 0.5, 3.7), dense,
                                       AbsolutePressure::from_si(9e5))
                     .flow.si();
               });
  ledger.check({"pressure at the open end where that pipe chokes", 389699.73, 1.0, "Pa (abs)", text,
                Evidence::seen},
               [dense] {
                 return gas::flow_into(by_loss(1e6, 0.5, 3.7), dense,
                                       AbsolutePressure::from_si(1e5))
                     .exit.si();
               });
  const gas::Flowing air{.gravity = 1.0,
                         .specific_constant = gas::molar_gas_constant / gas::air_kg_per_mol,
                         .temperature_k = 310.928,
                         .k_per_pa = 0.0,
                         .viscosity_pa_s = 1.9e-5};
  ledger.check(
      {"air at 19.3 psig through 10 ft of 1/2 in Schedule 80 into the open", 3762.0, 75.0, "scfh",
       "Crane TP-410 (2009), example 7.22, with its K 1 for the exit (expansion factors, not "
       "isothermal)",
       Evidence::seen},
      [air] {
        const gas::OpenLength pipe{AbsolutePressure::from_si((14.696 + 19.3) * psi),
                                   Length::from_si(10 * foot), Length::from_si(0.546 * inch),
                                   Length::from_si(0.0018 * inch), 1.0};
        const double m = gas::flow_into(pipe, air, AbsolutePressure::from_si(air_pa)).flow.si();
        return m / 1.22263 / 0.028316846592 * 3600.0;  // 60 degF, 14.696 psia
      });
}

void mains(outside::Ledger& ledger) {
  const std::string same =
      "the same law solved in another language with Z held at 0.992; not published";
  struct Row {
    double psig, feet, scfh;
  };
  for (const Row& row :
       {Row{60, 100, 143131}, Row{60, 500, 70163}, Row{60, 2000, 34361}, Row{30, 100, 83613},
        Row{30, 500, 39372}, Row{30, 2000, 18906}, Row{10, 100, 40106}, Row{10, 500, 17578},
        Row{10, 2000, 8254}, Row{0.25, 100, 4793}, Row{0.25, 500, 1940}, Row{0.25, 2000, 880}}) {
    ledger.check(
        {.quantity = fmt::format("full bore of 1.943 in, {} ft from {} psig", row.feet, row.psig),
         .expected = row.scfh,
         .tolerance = 0.003 * row.scfh,
         .unit = "scfh",
         .source = same,
         .evidence = Evidence::derived,
         .independent = false},
        [row] {
          return network::escape({two_inch(row.psig, row.feet)}, {}, constant_z(),
                                 AbsolutePressure::from_si(air_pa))
                     .flow.si() *
                 scfh_per_kg_per_s;
        });
  }
  struct Hole {
    double inches, scfh, psig;
  };
  for (const Hole& row :
       {Hole{0.25, 4309, 59.80}, Hole{0.5, 16729, 57.60}, Hole{1.0, 49941, 39.26}}) {
    const auto answer = [row] {
      return network::escape({two_inch(60, 500)},
                             {gas::round_hole(Length::from_si(row.inches * inch)), 0.85, 1.30},
                             constant_z(), AbsolutePressure::from_si(air_pa));
    };
    ledger.check({.quantity = fmt::format("hole of {} in after 500 ft of 1.943 in", row.inches),
                  .expected = row.scfh,
                  .tolerance = 0.004 * row.scfh,
                  .unit = "scfh",
                  .source = same,
                  .evidence = Evidence::derived,
                  .independent = false},
                 [answer] { return answer().flow.si() * scfh_per_kg_per_s; });
    ledger.check({.quantity = fmt::format("pressure at that hole of {} in", row.inches),
                  .expected = row.psig,
                  .tolerance = 0.1,
                  .unit = "psig",
                  .source = same,
                  .evidence = Evidence::derived,
                  .independent = false},
                 [answer] { return (answer().at.si() - air_pa) / psi; });
  }
}

LEDGER(escape) {
  relief_valves(ledger);
  open_ends(ledger);
  mains(ledger);
}

}  // namespace
}  // namespace bellhole
