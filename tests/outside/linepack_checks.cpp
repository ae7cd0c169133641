// What a closed length holds and how it empties, against arithmetic by hand and closed forms.
#include <cmath>
#include <numbers>

#include "linepack/drain.hpp"
#include "linepack/vent.hpp"
#include "linepack/watch.hpp"
#include "tests/outside/ledger.hpp"

namespace bellhole {
namespace {

constexpr double inch = 0.0254, foot = 0.3048, psi = 6894.757293168361;
constexpr double cubic_foot = foot * foot * foot;

linepack::Closed closed(double cubic_feet) {
  return {Volume::from_si(cubic_feet * cubic_foot), gas::us_base.temperature,
          AbsolutePressure::from_si(101325.0), gas::us_base, 0.0};
}
GaugePressure psig(double value) { return GaugePressure::from_si(value * psi); }
StdFlow scfh(double value) { return StdFlow::from_si(value * cubic_foot / 3600.0); }

linepack::Watched capped_main() {
  linepack::WatchQuestion question;
  question.closed = closed(1738);
  question.pressure = psig(58);
  question.draw = linepack::Draw{scfh(112.5), scfh(562.5)};
  question.gauge = {PressureDifference::from_si(2 * psi), 1, true, std::nullopt};
  question.floor = psig(10);
  const auto profile = procedure::compose({"p", "P", {}}, nullptr);
  return *linepack::watch(question, *profile, units::System::us);
}

/// Blow-down through a stack of which only K 2 counts: choked, it empties as exp(-t / tau) with
/// tau = V r / (A sqrt(R_s T)), r^2 = 1 + K + 2 ln r.
constexpr double stack_bore = 0.05, stack_loss = 2.0, vented_m3 = 10.0;
gas::Flowing ideal() {
  return {.gravity = 0.6,
          .specific_constant = gas::molar_gas_constant / (0.6 * gas::air_kg_per_mol),
          .temperature_k = 288.15,
          .k_per_pa = 0.0,
          .viscosity_pa_s = 1.08e-5};
}
double choked_blow_down_s(double from_pa, double to_pa) {
  constexpr double r = 2.12255;  // of K 2, by hand
  const auto gas = ideal();
  const double area = std::numbers::pi / 4.0 * stack_bore * stack_bore;
  const double tau = vented_m3 * r / (area * std::sqrt(gas.specific_constant * gas.temperature_k));
  return tau * std::log(from_pa / to_pa);
}

LEDGER(linepack) {
  const std::string hand = "arithmetic by hand: volume x psi / 14.73 psia";
  ledger.check({.quantity = "gas in 1,000 ft of 3.682 in at 45 psig",
                .expected = 301.93,
                .tolerance = 0.5,
                .unit = "scf",
                .source = "arithmetic by hand with Z 0.9926",
                .evidence = Evidence::derived,
                .independent = false},
               [] {
                 auto main = closed(1.0);
                 main.k_per_pa = gas::flowing(*gas::from_gravity(0.6), main.temperature).k_per_pa;
                 main.volume = linepack::volume_of(Length::from_si(3.682 * inch),
                                                   Length::from_si(1000 * foot));
                 return linepack::held(main, psig(45)).si() / cubic_foot;
               });
  ledger.check({.quantity = "minutes from 45 to 10 psig at 2,000 scfh in the same main",
                .expected = 5.3,
                .tolerance = 0.05,
                .unit = "min",
                .source = hand,
                .evidence = Evidence::derived,
                .independent = false},
               [] {
                 auto main = closed(73.943);
                 const auto drained = linepack::drain(
                     {main, psig(45), psig(10), {scfh(2000), scfh(2000)}, std::nullopt});
                 return drained->shortest->si() / 60.0;
               });
  ledger.check({.quantity = "watch of a capped main: 2 psi of 1,738 ft3 at 112.5 scfh",
                .expected = 125.9,
                .tolerance = 0.1,
                .unit = "min",
                .source = hand,
                .evidence = Evidence::derived,
                .independent = false},
               [] { return capped_main().watch->si() / 60.0; });
  ledger.check({.quantity = "time left of the same main from 58 to 10 psig at 562.5 scfh",
                .expected = 10.07,
                .tolerance = 0.005,
                .unit = "h",
                .source = hand,
                .evidence = Evidence::derived,
                .independent = false},
               [] { return capped_main().left->shortest->si() / 3600.0; });
  constexpr double from_pa = 800e3, to_pa = 300e3;  // choked all the way
  ledger.check({"choked blow-down of 10 m3 from 8 to 3 bar(a) through 50 mm, K 2",
                choked_blow_down_s(from_pa, to_pa), 0.005, "s",
                "closed form of isothermal choked blow-down, against the sum over the pressure",
                Evidence::derived},
               [] {
                 linepack::VentQuestion question;
                 question.gas = ideal();
                 question.closed = {Volume::from_si(vented_m3), Temperature::from_si(288.15),
                                    AbsolutePressure::from_si(101325.0), gas::metric_base, 0.0};
                 question.from = GaugePressure::from_si(from_pa - 101325.0);
                 question.to = GaugePressure::from_si(to_pa - 101325.0);
                 question.stack = {Length::from_si(stack_bore), Length::from_si(1e-6), Length(),
                                   stack_loss, Length()};
                 return linepack::vent(question)->takes.si();
               });
}

}  // namespace
}  // namespace bellhole
