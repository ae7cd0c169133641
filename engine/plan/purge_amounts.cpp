#include "plan/purge_amounts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "plan/extra_draw.hpp"
#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using network::Network;

constexpr double smooth_pe = 1.5e-6;  ///< m: drawn tubing, Moody 1944 (from memory)

double area_of(Length bore) { return std::numbers::pi / 4.0 * bore.si() * bore.si(); }

gas::Base base_of(const Network& network) {
  return {network.base_pressure, network.base_temperature};
}

/// Volume of a standard amount of gas at nought gauge.
StdVolume at_nought(const PurgePathQuestion& q, double m3) {
  const Network& network = q.model.network();
  return StdVolume::from_si(m3 * (network.barometer.si() / network.base_pressure.si()) *
                            (network.base_temperature.si() / q.model.conditions().ground.si()));
}

/// Variance of the front's gas volume at the end of a leg.
double variance(const PurgePathQuestion& q, const PurgeLeg& leg) {
  const auto flowing = gas::flowing(q.model.conditions().gas, q.model.conditions().ground);
  const double viscosity =
      flowing.viscosity_pa_s / flowing.density(q.model.network().barometer.si());
  double sum = 0.0;
  for (const PurgeRun& run : leg.runs) {
    const Length length = Length::from_si(std::abs((run.to - run.from).si()));
    if (!(length.si() > 0.0)) continue;
    const double area = area_of(run.bore);
    const auto mixed = restore::mixing({run.bore, length, Speed::from_si(leg.flow_m3_per_s / area),
                                        Length::from_si(smooth_pe), viscosity});
    sum += std::pow(mixed.sigma.si() * area, 2);
  }
  return sum;
}

void find_flow(const PurgePathQuestion& q, PurgeLeg& leg) {
  for (const PurgeRun& run : leg.runs) {
    const Length length = Length::from_si(std::abs((run.to - run.from).si()));
    leg.length = leg.length + length;
    leg.volume = leg.volume + volume_of(run.bore, length);
    leg.widest = std::max(leg.widest, run.bore);
  }
  leg.speed = q.speed ? q.speed
                      : restore::least_purge_speed(leg.widest, q.model.conditions().gas, q.profile);
  if (leg.speed) leg.flow_m3_per_s = leg.speed->si() * area_of(leg.widest);
}

void find_pressures(const PurgePathQuestion& q, PurgeLeg& leg) {
  if (!q.stack) return;
  const AbsolutePressure barometer = q.model.network().barometer;
  const auto heavy = restore::air(q.model.conditions().ground);
  leg.foot = restore::at_foot(*q.stack, heavy, leg.flow_m3_per_s, barometer);
  if (!leg.foot) return;
  GaugePressure end = *leg.foot;
  for (auto run = leg.runs.rbegin(); run != leg.runs.rend(); ++run)
    end = restore::at_feed(run->bore, Length::from_si(std::abs((run->to - run->from).si())),
                           Length::from_si(smooth_pe), heavy, leg.flow_m3_per_s, end, barometer);
  leg.inlet = end;
}

void find_leg(const PurgePathQuestion& q, std::optional<double> volumes, PurgeLeg& leg) {
  find_flow(q, leg);
  if (!(leg.flow_m3_per_s > 0.0) || !std::isfinite(leg.volume.si())) return;
  leg.time = Duration::from_si(leg.volume.si() / leg.flow_m3_per_s);
  const double sigma_m3 = std::sqrt(variance(q, leg));
  restore::Mixing mixed;
  mixed.sigma = Length::from_si(sigma_m3 / area_of(leg.runs.back().bore));
  leg.mixing = mixed.one_to_99();
  leg.flammable = mixed.flammable();
  leg.slug_gas = at_nought(q, leg.mixing->si() * area_of(leg.runs.back().bore));
  if (volumes) {
    leg.time_planned = *leg.time * *volumes;
    leg.gas_used = at_nought(q, *volumes * leg.volume.si());
    leg.gas_lost = at_nought(q, std::max(*volumes - 1.0, 0.0) * leg.volume.si());
  }
  find_pressures(q, leg);
}

}  // namespace

Volume volume_of(Length bore, Length length) {
  return Volume::from_si(area_of(bore) * length.si());
}

void find_amounts(const PurgePathQuestion& q, PurgePath& path) {
  const auto volumes = q.profile.ruling("purge.volumes", {}).number();
  for (PurgeLeg& leg : path.legs) find_leg(q, volumes, leg);
  if (path.legs.empty()) return;
  const bool timed = std::ranges::all_of(
      path.legs, [](const PurgeLeg& leg) { return leg.time_planned.has_value(); });
  if (timed)
    path.time_planned =
        std::accumulate(path.legs.begin(), path.legs.end(), Duration(),
                        [](Duration sum, const PurgeLeg& leg) { return sum + *leg.time_planned; });
  const PurgeLeg& widest = *std::ranges::max_element(path.legs, {}, &PurgeLeg::widest);
  const auto ruling = q.profile.ruling("purge.speed_least", {});
  if (!widest.speed)
    path.findings.push_back(procedure::not_set(
        ruling, {std::string(ruling.rule->asks), std::nullopt, "speed", "", ""}, q.system));
  if (!widest.speed || !(widest.length.si() > 0.0)) return;
  // The whole way as one main of the widest bore: what the profile leaves open, said once.
  const auto plain = restore::purge({.bore = widest.widest,
                                     .length = widest.length,
                                     .speed = widest.speed,
                                     .roughness = Length::from_si(smooth_pe),
                                     .stack = q.stack,
                                     .gas = q.model.conditions().gas,
                                     .temperature = q.model.conditions().ground,
                                     .barometer = q.model.network().barometer,
                                     .base = base_of(q.model.network())},
                                    q.profile, q.system);
  if (!plain) return;  // a bore that cannot be: the network's own check says so
  for (const Finding& finding : plain->findings)
    if (finding.rule != "purge.inlet") path.findings.push_back(finding);
  path.cautions = plain->cautions;
}

Result<bool> hold_of(const PurgePathQuestion& q, const network::Scenario& shut,
                     const network::SteadyState& before, network::Index pipe, Length station,
                     PurgeLeg& leg) {
  const Network& network = q.model.network();
  const double pressure =
      network.barometer.si() + leg.inlet.value_or(GaugePressure::from_si(0.0)).si();
  const double std_flow = leg.flow_m3_per_s * pressure / network.base_pressure.si() *
                          (network.base_temperature.si() / q.model.conditions().ground.si());
  const auto with = with_draw(network, {"purge", pipe, station, StdFlow::from_si(std_flow),
                                        leg.inlet.value_or(GaugePressure())});
  BELLHOLE_TRY(model, network::Model::prepare(*with, q.model.conditions()));
  network::Scenario scenario = shut;
  scenario.without_load.push_back(0);
  BELLHOLE_TRY(state, model.solve(scenario));
  leg.purging = state.customer_pressure.back();
  for (const network::Index c : state.customers_short)
    if (static_cast<std::size_t>(c) < network.customers.size() &&
        !std::ranges::binary_search(before.customers_short, c))
      leg.short_of_gas.push_back(c);
  return true;
}

}  // namespace bellhole::plan
