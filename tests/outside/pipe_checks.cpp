// Pipe dimensions and ratings against printed tables and worked examples.
#include <cmath>

#include "pipe/rating.hpp"
#include "pipe/walls.hpp"
#include "tests/outside/ledger.hpp"

namespace bellhole {
namespace {

using pipe::read_size;
using pipe::walls_by_ratio;

double in(Length length) { return length.si() / 0.0254; }
double mm(Length length) { return length.si() * 1e3; }
double od_in(std::string_view size) { return in(read_size(size, "size")->od); }
double minimum_in(std::string_view size, double ratio) {
  return in(walls_by_ratio(*read_size(size, "size"), ratio, "dr")->minimum);
}
double minimum_mm(std::string_view size, double ratio) {
  return mm(walls_by_ratio(*read_size(size, "size"), ratio, "dr")->minimum);
}
double maximum_mm(std::string_view size, double ratio) {
  return mm(walls_by_ratio(*read_size(size, "size"), ratio, "dr")->maximum);
}

constexpr double psi_pa = 6894.757293168361;
Stress psi(double value) { return Stress::from_si(value * psi_pa); }
double us(double hdb, double ratio, double factor) {
  return pipe::design_pressure_us(psi(hdb), ratio, factor).si() / psi_pa;
}
double iso(double mrs, double ratio) {
  return pipe::design_pressure_iso(Stress::from_si(mrs * 1e6), ratio, 2.0).si() / 1e5;
}
double hdb(double at_73, double at_140, double degf) {
  return pipe::hdb_at(psi(at_73), psi(at_140), Temperature::from_si((degf + 459.67) * 5.0 / 9.0))
             ->si() /
         psi_pa;
}

constexpr const char* grade_v = "MS 1058-2:2005, ISO 4427 / ISO 11922-1 grade V";
constexpr const char* law_table = "49 CFR 192.121(c)(2)(iv), table of least walls";
constexpr const char* law_formula = "49 CFR 192.121, worked by hand";

}  // namespace

LEDGER(pipe) {
  using enum Evidence;
  const auto od = [&](const char* size, double expected) {
    ledger.check({.quantity = std::string("outside diameter, ") + size,
                  .expected = expected,
                  .tolerance = 1e-6,
                  .unit = "in",
                  .source = "ASTM D3035 / D2737 as quoted in a table of pipe sizes",
                  .evidence = seen,
                  .independent = false},
                 [=] { return od_in(size); });
  };
  od("IPS 2", 2.375);
  od("IPS 8", 8.625);
  od("IPS 12", 12.75);
  od("CTS 1/2", 0.625);
  od("CTS 1", 1.125);

  ledger.check({.quantity = "least wall, IPS 2 DR 11",
                .expected = 0.216,
                .tolerance = 5e-4,
                .unit = "in",
                .source = "printed table of ASTM D3035 walls",
                .evidence = seen},
               [] { return minimum_in("IPS 2", 11); });
  const auto law_wall = [&](const char* size, double ratio, double expected) {
    ledger.check({.quantity = std::string("least wall, ") + size + " SDR " +
                              std::to_string(ratio).substr(0, 4),
                  .expected = expected,
                  .tolerance = 5e-4,
                  .unit = "in",
                  .source = law_table,
                  .evidence = from_memory},
                 [=] { return minimum_in(size, ratio); });
  };
  law_wall("IPS 3/4", 11, 0.095);
  law_wall("IPS 1-1/4", 11, 0.151);
  law_wall("IPS 1-1/2", 11, 0.173);
  law_wall("IPS 3", 13.5, 0.259);
  law_wall("IPS 4", 17, 0.265);
  law_wall("IPS 6", 21, 0.315);
  law_wall("IPS 8", 21, 0.411);
  law_wall("IPS 10", 21, 0.512);
  law_wall("IPS 12", 21, 0.607);

  const auto e_max = [&](const char* size, double ratio, double least, double most) {
    ledger.check(
        {.quantity = std::string("e_min, ") + size + " SDR " + std::to_string(ratio).substr(0, 4),
         .expected = least,
         .tolerance = 1e-6,
         .unit = "mm",
         .source = grade_v,
         .evidence = seen,
         .independent = false},
        [=] { return minimum_mm(size, ratio); });
    ledger.check(
        {.quantity = std::string("e_max, ") + size + " SDR " + std::to_string(ratio).substr(0, 4),
         .expected = most,
         .tolerance = 1e-6,
         .unit = "mm",
         .source = grade_v,
         .evidence = seen},
        [=] { return maximum_mm(size, ratio); });
  };
  e_max("dn 63", 11, 5.8, 6.5);
  e_max("dn 110", 11, 10.0, 11.1);
  e_max("dn 125", 11, 11.4, 12.7);
  e_max("dn 180", 17, 10.7, 11.9);
  e_max("dn 250", 13.6, 18.4, 20.4);
  e_max("dn 315", 7.4, 43.1, 47.6);

  const auto rated = [&](const char* what, double s, double ratio, double factor, double expected) {
    ledger.check({.quantity = std::string("design pressure before caps, ") + what,
                  .expected = expected,
                  .tolerance = 0.05,
                  .unit = "psig",
                  .source = law_formula,
                  .evidence = derived,
                  .independent = false},
                 [=] { return us(s, ratio, factor); });
  };
  rated("PE2708 SDR 11, factor 0.32", 1250, 11, 0.32, 80.0);
  rated("PE2708 SDR 13.5, factor 0.32", 1250, 13.5, 0.32, 64.0);
  rated("PE4710 SDR 9.3, factor 0.32", 1600, 9.3, 0.32, 123.4);
  rated("PE4710 SDR 11, factor 0.32", 1600, 11, 0.32, 102.4);
  rated("PE4710 SDR 11.5, factor 0.40", 1600, 11.5, 0.40, 121.9);
  rated("PE4710 SDR 21, factor 0.40", 1600, 21, 0.40, 64.0);
  const auto strength = [&](double low, double high, double degf, double expected) {
    ledger.check({.quantity = "HDB between " + std::to_string(static_cast<int>(low)) + " and " +
                              std::to_string(static_cast<int>(high)) + " psi at " +
                              std::to_string(static_cast<int>(degf)) + " degF",
                  .expected = expected,
                  .tolerance = 0.6,
                  .unit = "psi",
                  .source = "PPI TR-3 part D.2, linear in 1/T, worked by hand",
                  .evidence = derived,
                  .independent = false},
                 [=] { return hdb(low, high, degf); });
  };
  strength(1250, 800, 80, 1198);
  strength(1250, 800, 100, 1056);
  strength(1250, 800, 120, 923);
  strength(1600, 1000, 100, 1341);
  strength(1600, 1000, 120, 1165);
  const auto metric = [&](double mrs, double ratio, double expected) {
    ledger.check({.quantity = "MOP, MRS " + std::to_string(static_cast<int>(mrs)) + " SDR " +
                              std::to_string(ratio).substr(0, 4) + ", C 2.0",
                  .expected = expected,
                  .tolerance = 0.005,
                  .unit = "bar",
                  .source = "EN 1555 / ISO 4437 form 20 MRS / (C (SDR - 1)), worked by hand",
                  .evidence = derived,
                  .independent = false},
                 [=] { return iso(mrs, ratio); });
  };
  metric(8, 11, 8.0);
  metric(8, 17.6, 4.82);
  metric(10, 11, 10.0);
  metric(10, 13.6, 7.94);
  metric(10, 17, 6.25);
}

}  // namespace bellhole
