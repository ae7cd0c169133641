// Pressure tests and purging against published figures and figures worked by hand.
#include <numbers>

#include "pipe/modulus.hpp"
#include "pipe/walls.hpp"
#include "restore/join.hpp"
#include "restore/pressure_test.hpp"
#include "restore/purge.hpp"
#include "tests/outside/ledger.hpp"
#include "units/parse.hpp"
#include "wire/profile.hpp"

namespace bellhole {
namespace {

constexpr double psi_pa = 6894.757293168361;

template <class Kind>
Quantity<Kind> read(const char* text) {
  return units::parse<Kind>(text, "ledger")->value;
}

restore::TestQuestion test_of(const char* size, double ratio, const char* material,
                              const char* start, const char* start_at, const char* end,
                              const char* end_at) {
  restore::TestQuestion q;
  q.pipe.size = *pipe::read_size(size, "size");
  q.pipe.ratio = ratio;
  q.pipe.material = *pipe::read_material(material, "material");
  q.mop = read<kinds::GaugePressure>("60psig");
  q.ends = {restore::End::blank, restore::End::blank};
  q.start = {read<kinds::GaugePressure>(start), read<kinds::Temperature>(start_at), {}};
  q.end = {read<kinds::GaugePressure>(end), read<kinds::Temperature>(end_at), {}};
  q.barometer = read<kinds::AbsolutePressure>("14.7psia");
  q.base = gas::us_base;
  return q;
}

restore::Tested tested(const restore::TestQuestion& q) {
  return *restore::pressure_test(q, *wire::built_in_profile("us"), units::System::us);
}

double expected_psig(const char* start, const char* start_at, const char* end_at) {
  const auto q = test_of("IPS 4", 11, "PE4710", start, start_at, start, end_at);
  return tested(q).expected_end->si() / psi_pa;
}

/// Pressure lost to creep between two load times, the high end of the band.
double creep_psi(const char* size, double ratio, const char* material, const char* pressure,
                 const char* from, const char* to) {
  auto q = test_of(size, ratio, material, pressure, "73.4degF", pressure, "73.4degF");
  q.loaded_before = read<kinds::Duration>(from);
  q.duration = read<kinds::Duration>(to) - *q.loaded_before;
  return tested(q).creep->high.si() / psi_pa;
}

double leak_scfh(const char* volume, const char* step, const char* time) {
  auto q = test_of("IPS 6", 11.5, "PE2708", "90psig", "60degF", "90psig", "60degF");
  q.volume = read<kinds::Volume>(volume);
  q.gauge_step = read<kinds::PressureDifference>(step);
  q.duration = read<kinds::Duration>(time);
  // The profile asks for two steps; the figures are of one.
  return tested(q).gauge_leak->si() / 2.0 / read<kinds::StdFlow>("1scfh").si();
}

restore::Mixing mixed(double bore, double speed, double length) {
  return restore::mixing({Length::from_si(bore), Length::from_si(length), Speed::from_si(speed),
                          Length::from_si(1.5e-6), 1.6e-5});
}

/// Gauge pressure for 75 psi between the faces, on the thinnest wall.
double fusion_psig(const char* size, double ratio, const char* piston, const char* drag) {
  procedure::ProfileDraft draft{.id = "company", .title = "company"};
  procedure::RowDraft faces;
  faces.rule = "join.interfacial_most";
  faces.value = 75.0;
  faces.unit = "psi";
  faces.source = "test";
  faces.evidence = Evidence::company;
  draft.rows.push_back(faces);
  restore::JoinQuestion q;
  q.pipe.size = *pipe::read_size(size, "size");
  q.pipe.ratio = ratio;
  q.piston = read<kinds::Area>(piston);
  q.drag = read<kinds::PressureDifference>(drag);
  return restore::join(q, *procedure::compose(draft, nullptr), units::System::us)
             ->gauge_most->si() /
         psi_pa;
}

double least_speed(double bore_m) {
  return restore::least_purge_speed(Length::from_si(bore_m), *gas::from_gravity(0.5539),
                                    *wire::built_in_profile("us"))
      ->si();
}

constexpr const char* gas_law = "ideal gas law, worked by hand with 14.7 psia";
constexpr const char* ppi = "PPI Handbook ch. 3 table B.1.1 and dV/V = 1.6 s/E, worked by hand";
constexpr const char* hand = "worked by hand with 14.73 psia, 60 degF";
constexpr const char* taylor = "Taylor 1954, sigma = sqrt(2 K L/V), Haaland friction, by hand";

}  // namespace

LEDGER(restore) {
  using enum Evidence;
  const auto row = [&](std::string quantity, double expected, double tolerance, std::string unit,
                       std::string source, bool independent, std::function<double()> got) {
    ledger.check({.quantity = std::move(quantity),
                  .expected = expected,
                  .tolerance = tolerance,
                  .unit = std::move(unit),
                  .source = std::move(source),
                  .evidence = derived,
                  .independent = independent},
                 std::move(got));
  };
  row("100 psig of air, 60 to 50 degF", 97.79, 0.01, "psig", gas_law, false,
      [] { return expected_psig("100psig", "60degF", "50degF"); });
  row("50 psig of air, 60 to 50 degF", 48.75, 0.01, "psig", gas_law, false,
      [] { return expected_psig("50psig", "60degF", "50degF"); });
  row("94 psig of air, 84 to 72 degF", 91.6, 0.05, "psig", gas_law, false,
      [] { return expected_psig("94psig", "84degF", "72degF"); });
  row("leak of one gauge step: 36 ft3, 1 psi, 1 h", 2.44, 0.01, "scfh", hand, false,
      [] { return leak_scfh("36ft3", "1psi", "1h"); });
  row("the same in 4 h", 0.611, 0.002, "scfh", hand, false,
      [] { return leak_scfh("36ft3", "1psi", "4h"); });
  row("the same with a gauge of 0.1 psi, 1 h", 0.244, 0.001, "scfh", hand, false,
      [] { return leak_scfh("36ft3", "0.1psi", "1h"); });
  row("creep, PE4710 DR 11, 150 psig, 0.5 to 2 h", 0.26, 0.01, "psi", ppi, false,
      [] { return creep_psi("IPS 4", 11, "PE4710", "150psig", "0.5h", "2h"); });
  row("creep, PE4710 DR 11, 150 psig, 2 to 12 h", 0.47, 0.01, "psi", ppi, false,
      [] { return creep_psi("IPS 4", 11, "PE4710", "150psig", "2h", "12h"); });
  row("creep, PE2708 DR 11.5, 90 psig, 0.5 to 2 h", 0.11, 0.01, "psi", ppi, false,
      [] { return creep_psi("IPS 6", 11.5, "PE2708", "90psig", "0.5h", "2h"); });
  row("creep, PE2708 DR 11.5, 90 psig, 2 to 12 h", 0.26, 0.01, "psi", ppi, false,
      [] { return creep_psi("IPS 6", 11.5, "PE2708", "90psig", "2h", "12h"); });
  row("energy of 1 m3 of air at 90 psig", 775, 2, "kJ", "isentropic expansion, worked by hand",
      true, [] {
        auto q = test_of("IPS 6", 11.5, "PE2708", "90psig", "60degF", "90psig", "60degF");
        q.volume = Volume::from_si(1.0);
        q.mop = read<kinds::GaugePressure>("1psig");
        return *tested(q).energy_j / 1e3;
      });
  row("front after 500 m, bore 0.10 m, 5 m/s: sigma", 5.21, 0.06, "m", taylor, false,
      [] { return mixed(0.10, 5, 500).sigma.si(); });
  row("the same, 1 to 99 %", 24.2, 0.25, "m", taylor, false,
      [] { return mixed(0.10, 5, 500).one_to_99().si(); });
  row("the same, 5 to 15 %", 3.2, 0.04, "m", taylor, false,
      [] { return mixed(0.10, 5, 500).flammable().si(); });
  row("front after 1,000 m, bore 0.15 m, 3 m/s: sigma", 9.08, 0.1, "m", taylor, false,
      [] { return mixed(0.15, 3, 1000).sigma.si(); });
  row("front after 100 m, bore 0.05 m, 2 m/s: sigma", 1.83, 0.02, "m", taylor, false,
      [] { return mixed(0.05, 2, 100).sigma.si(); });
  row("laminar front after 50 m, bore 25 mm, 0.6 m/s: sigma", 2.98, 0.01, "m",
      "Taylor 1953, K = a2 V2 / 48 D, by hand", false,
      [] { return mixed(0.025, 0.6, 50).sigma.si(); });
  row("gas to pack 600 ft of bore 5.473 in from 0 to 58 psig", 10.93, 0.01, "std m3", hand, false,
      [] {
        restore::PurgeQuestion q;
        q.bore = read<kinds::Length>("5.473in");
        q.length = read<kinds::Length>("600ft");
        q.roughness = Length::from_si(1.5e-6);
        q.pack_to = read<kinds::GaugePressure>("58psig");
        q.gas = *gas::from_gravity(0.6);
        q.temperature = gas::us_base.temperature;
        q.barometer = read<kinds::AbsolutePressure>("14.7psia");
        q.base = gas::us_base;
        return restore::purge(q, *wire::built_in_profile("us"), units::System::us)->pack->si();
      });
  row("butt fusion, IPS 8 DR 11, 75 psi at the faces, 4.71 in2, drag 30 psi", 338, 1, "psig",
      "worked example in the manual of a maker of fusion machines, ring of OD / DR", false,
      [] { return fusion_psig("IPS 8", 11, "4.71in2", "30psi"); });
  row("butt fusion, IPS 4 DR 11, 75 psi at the faces, 4.0 in2, drag 20 psi", 118.6, 0.2, "psig",
      "balance of forces, worked by hand", false,
      [] { return fusion_psig("IPS 4", 11, "4.0in2", "20psi"); });
  row("butt fusion, IPS 6 DR 11.5, 75 psi at the faces, 4.0 in2, drag 25 psi", 230.3, 0.5, "psig",
      "balance of forces, worked by hand", false,
      [] { return fusion_psig("IPS 6", 11.5, "4.0in2", "25psi"); });
  row("least purge speed, bore 200 mm, methane", 0.69, 0.01, "m/s",
      "79 m3/h in the table of purge rates by bore, IGEM/UP/1 family (from memory)", false,
      [] { return least_speed(0.200); });
  row("least purge speed, bore 300 mm, methane", 0.85, 0.02, "m/s",
      "216 m3/h in the same table (from memory)", false, [] { return least_speed(0.300); });
  row("least purge speed, bore 400 mm, methane", 1.05, 0.08, "m/s",
      "473 m3/h in the same table (from memory)", false, [] { return least_speed(0.400); });
  row("air at 15 degC, 101,325 Pa", 1.225, 0.0005, "kg/m3", "U.S. Standard Atmosphere 1976", true,
      [] { return restore::air(Temperature::from_si(288.15)).density(101325.0); });
  row("viscosity of air at 15 degC", 1.7894, 0.001, "1e-5 Pa s", "U.S. Standard Atmosphere 1976",
      false, [] { return restore::air(Temperature::from_si(288.15)).viscosity_pa_s * 1e5; });
  row("pressure at the foot of a 50 mm stack, K 4.1 in all, 19 m/s of methane", 500, 10, "Pa",
      "v = sqrt(2 dp / (rho K)), worked by hand", false, [] {
        const auto methane = gas::flowing(*gas::from_gravity(0.5539), Temperature::from_si(288.15));
        const restore::PurgeStack stack{Length::from_si(0.05), Length::from_si(1e-6), 4.1};
        return restore::at_foot(stack, methane, 19.0 * std::numbers::pi / 4 * 0.05 * 0.05,
                                AbsolutePressure::from_si(101325.0))
            ->si();
      });
}

}  // namespace bellhole
