#include "ask/escaping.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "linepack/vent.hpp"
#include "plan/regions.hpp"
#include "procedure/judge.hpp"

namespace bellhole::ask {
namespace {

/// What a part that no source feeds any more still holds, and how long a hole lets it out.
struct Held {
  Volume volume;
  StdVolume gas;
  std::optional<Duration> empties;  ///< through a hole, at the low coefficient
};

/// Volume of everything that hangs together with a place.
Volume volume_around(const network::Network& network, const network::Scenario& scenario,
                     const network::Closure& place) {
  const plan::Regions regions(network, scenario);
  const std::int32_t here = regions.at(place.pipe, place.station);
  double volume = 0.0;
  for (const plan::RegionPiece& piece : regions.pieces()) {
    if (piece.region != here) continue;
    const auto pipe = static_cast<std::size_t>(piece.piece.pipe);
    volume +=
        linepack::volume_of(network.pipes.bore[pipe], piece.piece.end - piece.piece.begin).si();
  }
  return Volume::from_si(volume);
}

/// `from`: pressure at the place before it was cut off, without the opening: the most that it held.
Held held_of(const network::Network& network, const network::Conditions& conditions,
             const network::Scenario& scenario, const network::Closure& place,
             const wire::Blow& blow, double coefficient, GaugePressure from) {
  constexpr auto nearly_empty = GaugePressure::from_si(250.0);  // an inch of water
  const auto flowing = gas::flowing(conditions.gas, conditions.ground);
  const linepack::Closed closed{volume_around(network, scenario, place),
                                conditions.ground,
                                network.barometer,
                                {network.base_pressure, network.base_temperature},
                                flowing.k_per_pa};
  Held held{closed.volume, {}, std::nullopt};
  if (!std::isfinite(from.si())) return held;
  held.gas = linepack::held(closed, from) - linepack::held(closed, GaugePressure());
  if (blow.area)
    held.empties = linepack::empties(closed, flowing, from, nearly_empty,
                                     {blow.area->si(), coefficient}, blow.k);
  return held;
}

Finding not_fed(const std::string& after, const Held& held, units::System system) {
  Finding finding = no_distance_finding();
  finding.rule = "escape.drains";
  finding.says = fmt::format(
      "with {} shut no source reaches the opening: up to {} that the part still holds go on leaving"
      "{}",
      after, units::print(held.gas, system, units::Toward::up),
      held.empties ? fmt::format(", for {} or longer",
                                 units::print(*held.empties, system, units::Toward::up))
                   : std::string());
  finding.quantity = "gas that the part still holds";
  finding.value_si = held.gas.si();
  finding.unit_si = "std m3";
  finding.action = "keep away until an instrument says that nothing leaves";
  finding.about = after;
  return finding;
}

wire::Json stage_json(const EscapeStage& stage, const network::OpeningState& low,
                      const network::OpeningState& high, const Held* held) {
  wire::Json json;
  json["after"] = stage.after;
  json["fed"] = high.fed;
  wire::put(json, "pressure_before", high.before);
  json["kg_per_s"] = high.escape.flow.si();
  json["kg_per_s_low"] = low.escape.flow.si();
  json["regime"] = gas::name(high.escape.regime);
  json["customers_short"] = high.customers_short;
  wire::put(json, "begins", stage.begins);
  wire::put(json, "ends", stage.ends);
  wire::put(json, "volume",
            held != nullptr ? std::optional(held->volume) : std::optional<Volume>());
  wire::put(json, "holds", held != nullptr ? std::optional(held->gas) : std::optional<StdVolume>());
  wire::put(json, "empties", held != nullptr ? held->empties : std::optional<Duration>());
  return json;
}

/// What left by the time that the last shut-off is shut, and what the part then still holds.
wire::Json lost_json(const EscapeAsked& asked, const Escaped& made,
                     const std::optional<StdVolume>& left) {
  if (!asked.stages.front().begins) return nullptr;
  double least = 0.0, most = 0.0;
  for (std::size_t i = 0; i < asked.stages.size(); ++i) {
    const EscapeStage& stage = asked.stages[i];
    if (!stage.begins || !stage.ends) continue;
    const Duration takes = *stage.ends - *stage.begins;
    least += (made.low[i].escape.flow * takes).si();
    most += (made.high[i].escape.flow * takes).si();
  }
  const double density = gas::base_density(asked.conditions.gas, {asked.network.base_pressure,
                                                                  asked.network.base_temperature})
                             .si();
  wire::Json json;
  wire::put(json, "kg", most);
  wire::put(json, "kg_low", least);
  wire::put(json, "gas", StdVolume::from_si(most / density));
  wire::put(json, "gas_low", StdVolume::from_si(least / density));
  wire::put(json, "until", asked.stages.back().begins);
  wire::put(json, "still_held", left);
  json["goes_on"] = made.high.back().fed;
  return json;
}

Finding still_fed(const EscapeStage& last) {
  Finding finding = no_distance_finding();
  finding.rule = "escape.still_fed";
  finding.grade = Grade::halt;
  finding.says = fmt::format(
      "with {} shut, the last of them, a source still reaches the opening: it goes on blowing",
      last.after);
  finding.action = "find what still feeds it, and shut that too";
  finding.about = last.after;
  return finding;
}

}  // namespace

Result<Escaped> escaped(const EscapeAsked& asked) {
  std::vector<network::Scenario> scenarios;
  for (const EscapeStage& stage : asked.stages) scenarios.push_back(stage.scenario);
  const auto [low, high] = asked.coefficients;
  std::vector<double> coefficients{high};
  if (low < high) coefficients.push_back(low);
  BELLHOLE_TRY(states,
               network::open_at(asked.network, asked.conditions, asked.place,
                                {asked.blow.area, high, asked.blow.k}, coefficients, scenarios));
  Escaped made;
  made.high = states.front();
  made.low = std::move(states.back());
  made.stages = wire::Json::array();
  auto last_fed = GaugePressure::from_si(std::nan(""));
  std::optional<StdVolume> left;  // after the last
  for (std::size_t i = 0; i < asked.stages.size(); ++i) {
    left = std::nullopt;
    if (made.high[i].fed) {
      last_fed = made.high[i].before;
      made.stages.push_back(stage_json(asked.stages[i], made.low[i], made.high[i], nullptr));
      continue;
    }
    const Held held = held_of(asked.network, asked.conditions, scenarios[i], asked.place,
                              asked.blow, low, last_fed);
    left = held.gas;
    made.findings.push_back(not_fed(asked.stages[i].after, held, asked.system));
    made.stages.push_back(stage_json(asked.stages[i], made.low[i], made.high[i], &held));
  }
  made.lost = lost_json(asked, made, left);
  if (asked.stages.size() > 1 && made.high.back().fed)
    made.findings.push_back(still_fed(asked.stages.back()));
  return made;
}

const std::string_view no_distance =
    "This is how much gas leaves, not how far it reaches: wind, ground, drains and buildings "
    "decide "
    "that. No distance to keep follows from it; keep the one of the procedure and measure with an "
    "instrument.";

Finding no_distance_finding() {
  Finding finding;
  finding.rule = "escape.no_distance";
  finding.grade = Grade::warn;
  finding.says = no_distance;
  finding.action = "keep people and sparks away by the procedure and by instrument";
  finding.source = "what this arithmetic does not hold";
  finding.about = "escape";
  return finding;
}

std::vector<EscapeStage> stages_of_plan(const plan::Script& script, const plan::Clock& clock,
                                        const network::Scenario& begins) {
  std::vector<EscapeStage> stages{{"nothing shut", begins, Duration{}, std::nullopt}};
  for (std::size_t k = 0; k < clock.closing.size(); ++k) {
    const std::size_t step = clock.closing[k];
    const Duration shut = clock.steps[step].ends;
    stages.back().ends = shut;
    stages.push_back({script.shutoffs[*plan::shutoff_of(script, script.steps[step])].letter,
                      plan::shut_after(script, clock, begins, k + 1), shut, std::nullopt});
  }
  return stages;
}

std::pair<double, double> coefficients(const wire::Blow& blow, const procedure::Profile& profile,
                                       units::System system, std::vector<std::string>& assumed,
                                       Findings& findings) {
  if (!blow.area) return {1.0, 1.0};
  if (blow.coefficient) return *blow.coefficient;
  const auto one = [&](std::string_view rule) {
    const auto ruling = profile.ruling(rule, {});
    if (!ruling.number()) {
      findings.push_back(procedure::not_set(
          ruling, {std::string(ruling.rule->asks), std::nullopt, "cd", "", ""}, system));
      return 1.0;  // no hole passes more than a nozzle without loss
    }
    append(findings, procedure::caveats(ruling, "cd", system));
    assumed.push_back(fmt::format("{}: {:g} ({}; {})", ruling.rule->asks, *ruling.number(),
                                  ruling.used()->source, to_string(ruling.used()->evidence)));
    return *ruling.number();
  };
  const double low = one("escape.coefficient_low"), high = one("escape.coefficient_high");
  return {std::min(low, high), std::max(low, high)};
}

}  // namespace bellhole::ask
